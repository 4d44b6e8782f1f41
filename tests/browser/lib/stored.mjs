// What the page has stored, seen from beside it; and the few deeds that have it store something.
import assert from 'node:assert/strict';

/** Works on the cars that are kept, from a file of the same host, where no script of the page runs. */
export async function atStored(person, deed, given) {
  const page = await person.page.context().newPage();
  await page.goto(new URL('hosewright.webmanifest', person.page.url()).href);
  try {
    return await page.evaluate(`(async () => {
      const wait = (request) => new Promise((done, failed) => {
        request.onsuccess = () => done(request.result);
        request.onerror = () => failed(request.error);
      });
      return (${deed})(wait, ${JSON.stringify(given) ?? 'undefined'});
    })()`);
  } finally {
    await page.close();
  }
}

/** All that is stored. */
export const stored = (person) => atStored(person, async (wait) => {
  const all = { texts: { ...localStorage } };
  if (!(await indexedDB.databases()).some(({ name }) => name === 'hosewright')) return all;
  const base = await wait(indexedDB.open('hosewright'));
  for (const name of base.objectStoreNames) {
    const store = base.transaction(name).objectStore(name);
    const [keys, values] = [await wait(store.getAllKeys()), await wait(store.getAll())];
    all[name] = Object.fromEntries(keys.map((key, i) => [key, values[i]]));
  }
  base.close();
  return all;
});

/** Waits until a car that is kept says this. */
export async function untilKept(person, words) {
  for (let i = 0; i < 60; i += 1) {
    if (JSON.stringify((await stored(person)).cars ?? {}).includes(words)) return;
    await person.page.waitForTimeout(100);
  }
  assert.fail(`no car with ${words}`);
}

/** Names the car at hand on its sheet. */
export async function callIt(person, name) {
  await person.page.evaluate(() => { location.hash = '#sheet'; });
  const field = person.page.getByLabel('the car', { exact: true });
  if (!await field.isVisible()) await person.page.getByText('The run', { exact: true }).click();
  await field.fill(name);
}

export const toCars = async (person) => {
  await person.page.evaluate(() => { location.hash = '#cars'; });
  await person.page.getByRole('heading', { name: 'Cars kept on this phone' }).waitFor();
};
