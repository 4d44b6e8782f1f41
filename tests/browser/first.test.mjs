// The first screen as it comes with the page: it is what the page itself shows once its solver has answered, in the same places;
// what is pressed on it is not lost; who has something else to see never sees it.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { LARGE_PHONE, SMALL_PHONE, openWorkshop } from './lib/workshop.mjs';

let workshop;
before(async () => { workshop = await openWorkshop(); });
after(() => workshop.close());

/** Somebody on whose way here the module waits: gives the person, and what lets it come. */
async function waiting(t, settings = {}) {
  const person = await workshop.visit({ at: 'no-such-page', ...SMALL_PHONE, serviceWorkers: 'block', ...settings });
  t.after(() => person.leave());
  let come;
  const comes = new Promise((done) => { come = done; });
  await person.page.route('**/*_bg.wasm', async (route) => {
    await comes;
    await route.continue();
  });
  return { person, come };
}

/** Every element of the first screen: what it is, what it says and where it stands. */
const standing = (which) => {
  const [head, main] = [document.querySelector(`${which} > header`), document.querySelector(`${which} > main`)];
  const upper = main.querySelector('.upper');
  return [head, ...head.querySelectorAll('*'), upper, ...upper.querySelectorAll('*')].map((each) => {
    const { x, y, width, height } = each.getBoundingClientRect();
    const attributes = [...each.attributes].filter(({ name }) => !['style', 'value', 'data-at'].includes(name)).map(({ name, value }) => `${name}=${value}`).toSorted();
    return {
      is: `${each.localName} ${attributes.join(' ')}`,
      says: each.value ?? [...each.childNodes].filter(({ nodeType }) => nodeType === Node.TEXT_NODE).map(({ data }) => data).join(''),
      place: [x, y, width, height].map((each) => Math.round(10 * each) / 10),
    };
  });
};

for (const [name, settings] of [['a small phone', SMALL_PHONE], ['a large phone', LARGE_PHONE], ['a wide screen', { viewport: { width: 1280, height: 800 } }]]) {
  test(`on ${name} the first screen is there before the module, and is what the solver then answers, at the same place`, async (t) => {
    const { person, come } = await waiting(t, settings);
    await person.page.goto(workshop.host.address);
    assert.match(await person.cutLength(), /^\d+ mm/);
    await person.page.getByRole('button', { name: 'Measure one hose' }).waitFor();
    const before = await person.page.evaluate(standing, '#first');
    come();
    await person.seeAnswer();
    const after = await person.page.evaluate(standing, 'body');
    assert.ok(before.length > 80, `${before.length} elements`);
    assert.deepEqual(before, after);
    assert.equal(await person.page.locator('#first').count(), 0);
    assert.deepEqual(person.complaints.filter((each) => !/404|blocked by Playwright/.test(each)), []);
  });
}

test('a button that is pressed before the page has started is pressed once it has', async (t) => {
  const { person, come } = await waiting(t);
  await person.page.goto(workshop.host.address);
  await person.tap('Measure one hose');
  await person.page.locator('#first button[aria-busy=true]').waitFor();
  come();
  await person.page.getByRole('heading', { level: 1, name: 'Spigot A' }).waitFor();
});

test('a link, and the cut bar, too; who steps through it by keys stays there', async (t) => {
  const { person, come } = await waiting(t);
  await person.page.goto(workshop.host.address);
  await person.tap('+ thing near it');
  come();
  await person.page.getByRole('heading', { level: 1, name: 'What is near the hose?' }).waitFor();

  const other = await waiting(t);
  await other.person.page.goto(workshop.host.address);
  const cut = Number.parseInt(await other.person.cutLength(), 10);
  await other.person.page.getByRole('slider').focus();
  await other.person.page.keyboard.press('ArrowRight');
  other.come();
  await other.person.seeCutLength(new RegExp(`^${cut + 1} mm`));
  await other.person.page.getByText('the length tried').waitFor();
  assert.equal(await other.person.page.evaluate(() => document.activeElement.type), 'range');
});

test('who has a run, follows a link or reads another language does not see the example first', async (t) => {
  const seen = async ({ page }, at = '') => {
    await page.route('**/boot-*.js', () => {}); // Nothing but what stands there before it has come.
    await page.goto(`${workshop.host.address}${at}`, { waitUntil: 'commit' });
    await page.locator('#late').waitFor({ state: 'attached' });
    return page.getByText('Example: ').isVisible();
  };
  const fresh = (settings) => workshop.visit({ at: 'no-such-page', ...SMALL_PHONE, serviceWorkers: 'block', ...settings });
  for (const [is, at, settings] of [[true, '', {}], [true, '', { locale: 'fr-FR' }], [false, '#near', {}], [false, '', { locale: 'de-DE' }]]) {
    const person = await fresh(settings);
    assert.equal(await seen(person, at), is, `${at} ${JSON.stringify(settings)}`);
    await person.leave();
  }
  const person = await fresh();
  t.after(() => person.leave());
  await person.page.goto(workshop.host.address);
  await person.seeAnswer();
  await person.tap('Measure one hose');
  await person.untilStored('runs');
  await person.page.goto('about:blank');
  assert.equal(await seen(person), false, 'a run of their own');
});
