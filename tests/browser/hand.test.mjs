// How the phone is held: by the left hand, in gloves; and how few taps it takes.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { walk } from './lib/screens.mjs';
import { SMALL_PHONE, openWorkshop } from './lib/workshop.mjs';

/** What a gloved finger hits, px of CSS: 11.7 mm on a phone that shows 360 across 70 mm; our choice. */
const GLOVED = 60;

let workshop;
before(async () => { workshop = await openWorkshop(); });
after(() => workshop.close());
const visit = (t, settings) => workshop.person(t, settings);

/** What can be pressed and is seen, with its place. A link within a sentence is read before it is pressed. */
const pressable = (page) => page.evaluate(() => [...document.querySelectorAll('main button, main a, main input:not([type=range]), main select, main summary')]
  .filter((each) => each.checkVisibility() && !each.closest('p:not(.row)'))
  .map((each) => ({ name: (each.getAttribute('aria-label') ?? each.textContent).trim(), ...each.getBoundingClientRect().toJSON() }))
  .filter(({ width }) => width > 0));

const SCREENS = ['#sheet', '#a', '#place', '#near-1', '#standing', '#piece', '#rocking', '#car', '#line-1', '#part-1', '#buy', '#fit', '#fill', '#cars'];
const SWITCH = (page, name) => page.getByRole('button', { name, exact: true });

async function throughScreens(page, look) {
  for (const hash of SCREENS) {
    await page.evaluate((hash) => { location.hash = hash; }, hash);
    await page.waitForTimeout(150);
    assert.ok(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth), `${hash} hangs out`);
    await look(hash);
  }
}

test('in gloves whatever is pressed is large, on every screen, and the phone remembers it', async (t) => {
  const person = await visit(t, SMALL_PHONE);
  const { page } = person;
  const gloves = SWITCH(page, 'Gloves');
  await gloves.scrollIntoViewIfNeeded();
  const before = await gloves.boundingBox();
  await person.press('Gloves');
  await page.locator('html.gloves').waitFor();
  const after = await gloves.boundingBox();
  assert.ok(after.height > before.height && Math.abs(after.y - before.y) < 2, `under the thumb: ${before.y}, then ${after.y}`);
  await page.reload();
  await person.seeAnswer();
  assert.equal(await SWITCH(page, 'Gloves').getAttribute('aria-pressed'), 'true');
  await throughScreens(page, async (hash) => {
    const small = (await pressable(page)).filter(({ height }) => height < GLOVED);
    assert.deepEqual(small.map(({ name, height }) => `${name} ${height}`), [], hash);
  });
  await page.evaluate(() => { location.hash = '#sheet'; });
  await person.press('Gloves');
  await page.reload();
  await person.seeAnswer();
  assert.equal(await SWITCH(page, 'Gloves').getAttribute('aria-pressed'), 'false');
  assert.deepEqual(person.complaints, []);
});

test('from below the first screen of a run of one\'s own it is one tap to what stands far below or elsewhere', async (t) => {
  const person = await visit(t, SMALL_PHONE);
  const { page } = person;
  await person.type('Spigot A', 'how far the hose goes on', '34.5');
  const ways = page.getByRole('navigation', { name: 'On this page' });
  for (const [name, heading] of [
    ['Measurements', 'Measurements'], ['Hand it on', 'Hand it on'], ['Left hand, gloves, language', 'In the hand'],
    ['I have a piece, or the old hose', 'How long is it?'], ['The whole car', 'The car'],
  ]) {
    await page.evaluate(() => { location.hash = '#sheet'; });
    await person.seeAnswer();
    await page.evaluate(() => scrollTo({ top: 0, behavior: 'instant' }));
    await ways.getByRole('link', { name }).click();
    await page.waitForFunction((heading) => {
      const found = [...document.querySelectorAll('h1, h2')].find((each) => each.textContent === heading);
      const { top, bottom } = found?.getBoundingClientRect() ?? {};
      return found && top >= 0 && bottom <= innerHeight;
    }, heading);
  }
  await page.evaluate(() => { location.hash = '#sheet'; });
  await person.seeAnswer();
  const { bottom, above } = await page.evaluate(() => ({
    bottom: document.querySelector('nav.halves').getBoundingClientRect().bottom + scrollY,
    above: document.querySelector('.upper').getBoundingClientRect().bottom + scrollY,
  }));
  assert.ok(bottom - above < 260, `right below the answer: ${above} to ${bottom}`);
  assert.deepEqual(person.complaints, []);
});

test('in the left hand the way back, where one stands and the ways of the keypad are on its side', async (t) => {
  const person = await visit(t, SMALL_PHONE);
  const { page } = person;
  const middle = async (role, name) => {
    const box = await page.getByRole(role, { name }).first().boundingBox();
    return box.x + box.width / 2;
  };
  const places = async () => {
    await page.evaluate(() => { location.hash = '#place'; });
    return { way: await middle('button', /^right/), digit: await middle('button', /^7$/), last: await middle('button', /^9$/), back: await middle('link', /^Back/) };
  };
  const right = await places();
  assert.ok(right.way > right.digit && right.back > 180, JSON.stringify(right));
  await page.evaluate(() => { location.hash = '#sheet'; });
  await person.press('Left hand');
  const left = await places();
  assert.ok(left.way < left.digit && left.back < 180 && left.digit < left.last, JSON.stringify(left));
  await page.evaluate(() => { location.hash = '#sheet'; scrollTo(0, 0); });
  await page.locator('.over .tag').first().waitFor();
  const covered = await page.evaluate(() => [...document.querySelectorAll('.over .tag')].map((tag) => {
    const { x, y, width, height } = tag.getBoundingClientRect();
    return [tag.textContent, tag.contains(document.elementFromPoint(x + width / 2, y + height / 2))];
  }));
  assert.ok(covered.length > 3 && covered.every(([, isFree]) => isFree), `nothing lies over what is pressed: ${JSON.stringify(covered)}`);
  await throughScreens(page, () => {});
  assert.deepEqual(person.complaints, []);
});

test('an open stub is closed with three taps at most, from the sheet', async (t) => {
  for (const end of ['pump, small stub', 'water rail, small spigot', 'expansion bottle, inlet']) {
    const person = await visit(t, SMALL_PHONE);
    const { page } = person;
    await person.tapAll(['The whole car', 'Begin with a plain car']);
    await person.say('bottle hose', ['missing', 'leave it out']);
    await page.evaluate(() => { location.hash = '#sheet'; });
    let taps = 0;
    const tap = async (target) => { await target.click(); taps += 1; };
    await tap(page.getByRole('link', { name: 'Fit', exact: true }));
    await tap(page.getByRole('button', { name: new RegExp(`^Close it so.*${end}: cap$`) }));
    const spigots = (await person.car()).parts.flatMap(({ name, spigots }) => spigots.map((each) => [`${name}, ${each.name}`, each.closed_by]));
    assert.deepEqual(spigots.filter(([name]) => name === end), [[end, 'cap']]);
    assert.ok(taps <= 3, `${taps} taps`);
  }
});

test('a run round a hot pipe takes 24 taps at most where the size was said for the run before', async (t) => {
  const person = await visit(t, SMALL_PHONE);
  const run = ['A points right', 'Now place B', ...walk(210, 'right'), ...walk(280, 'away'), ...walk(70, 'up'), 'B points to you',
    'Hot pipe near it', 'up–down', ...walk(50, 'right'), ...walk(165, 'away')];
  await person.tapAll(['Measure one hose', '16', ...run]);
  await person.seeAnswer();
  const taps = await person.tapAll(['Measure another hose', ...run]);
  await person.seeAnswer();
  assert.ok(taps <= 24, `${taps} taps`);
});

test('the home screen is offered after the first answer where the browser can, once, and not when it is there', async (t) => {
  const person = await visit(t, SMALL_PHONE);
  const { page } = person;
  const put = SWITCH(page, 'Put it on the home screen');
  assert.equal(await put.count(), 0, 'nothing is offered that cannot be done');
  const own = await page.evaluate(() => {
    const offer = new Event('beforeinstallprompt', { cancelable: true });
    offer.prompt = () => { globalThis.asked = (globalThis.asked ?? 0) + 1; };
    return !dispatchEvent(offer);
  });
  assert.ok(own, "the browser's own bar does not lie over the answer");
  await put.click();
  await put.waitFor({ state: 'detached' });
  assert.equal(await page.evaluate(() => globalThis.asked), 1);
  await page.evaluate(() => { dispatchEvent(new Event('beforeinstallprompt')); });
  await put.waitFor();
  await page.evaluate(() => { dispatchEvent(new Event('appinstalled')); });
  await put.waitFor({ state: 'detached' });
  await person.hear(/^Hosewright \d+\.\d+\.\d+ [0-9a-f]{8,16}$/);
  assert.deepEqual(person.complaints, []);
});

test('a phone whose home screen starts pages empty is told to save the car first', async (t) => {
  const person = await visit(t, SMALL_PHONE);
  const { page } = person;
  await page.addInitScript(() => { Object.defineProperty(Navigator.prototype, 'standalone', { get: () => false }); });
  await page.reload();
  await person.seeAnswer();
  await person.hear(/From there it starts empty: save your cars as a file first/);
  await page.getByRole('link', { name: 'Save the cars as a file' }).click();
  await page.getByRole('heading', { name: 'Cars kept on this phone' }).waitFor();
  assert.deepEqual(person.complaints, []);
});
