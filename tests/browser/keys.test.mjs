// By keys and by ear: a new screen begins at its head, a run is measured, nobody is lost where something goes, and what is said is
// so. That every control is reached: access.test.mjs.
import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { after, before, test } from 'node:test';
import { openWorkshop } from './lib/workshop.mjs';

let workshop;
before(async () => { workshop = await openWorkshop(); });
after(() => workshop.close());
const visit = (t, settings) => workshop.person(t, settings);

test('after a change of screen the keyboard stands at the head of the new one, forth and back', async (t) => {
  const person = await visit(t, {});
  const { page } = person;
  const head = async (words) => page.waitForFunction((words) => document.activeElement.matches('h1') && document.activeElement.textContent === words, words);
  await person.enter('Measure one hose');
  await head('Spigot A');
  await person.enter('A points right');
  await person.enter('16');
  await person.enter('Now place B');
  await head('Where is B?');
  await person.enter(/^Back/);
  await page.waitForFunction(() => location.hash === '#sheet' && document.activeElement.matches('h1') && document.activeElement.textContent !== 'Where is B?');
  await page.goBack();
  await head('Where is B?');
  await page.goBack();
  await head('Spigot A');
  await person.comeBack('#car');
  assert.equal(await page.evaluate(() => document.activeElement.localName), 'body', 'a page that is opened is read from its beginning');
});

test('a keyboard alone measures a straight run', async (t) => {
  const person = await visit(t, {});
  const { page } = person;
  /** Goes on with Tab until it stands on what has this name, and presses Enter there. */
  const enter = async (name) => {
    for (let i = 0; i < 120; i += 1) {
      await page.keyboard.press('Tab');
      const here = await page.evaluate(() => document.activeElement.getAttribute('aria-label') ?? document.activeElement.textContent.trim());
      if (here === name) { await page.keyboard.press('Enter'); return; }
    }
    assert.fail(`${name} is not reached`);
  };
  await enter('Measure one hose');
  for (const name of ['A points right', '16', 'Now place B', '2', '3', '0', 'straight on, facing A', 'Show the cut']) await enter(name);
  await person.seeCutLength(/^(29\d|30\d|31\d) mm/);
});


test('figures are taken wherever on their screen one stands; the step that they make is told, and one that is too long', async (t) => {
  const person = await visit(t, {});
  const { page } = person;
  for (const name of ['Measure one hose', 'A points right', '16', 'Now place B']) await person.enter(name);
  await page.waitForFunction(() => document.activeElement.textContent === 'Where is B?');
  await page.keyboard.type('240');
  await person.enter('right');
  const steps = page.locator('[aria-live=polite][aria-atomic=true]');
  await steps.filter({ hasText: '240 mm right' }).waitFor();
  await page.keyboard.type('99999');
  await person.enter('away');
  assert.equal(await person.seeAlert(), 'That is further away than any car is long.');
  assert.match(await page.title(), /^Where is B\? – Hosewright$/);
});

test('a size that no spigot has is refused beside its field, which says so', async (t) => {
  const person = await visit(t, {});
  const { page } = person;
  for (const name of ['Measure one hose', 'other']) await person.enter(name);
  const field = page.getByLabel('Outside diameter, mm');
  for (const [typed, isTaken] of [['999', false], ['17', true], ['-5', false], ['abc', false]]) {
    await field.fill(typed);
    await field.press('Enter');
    await page.locator(`#across${isTaken ? ':not([aria-invalid])' : '[aria-invalid=true]'}`).waitFor();
    assert.equal(await field.inputValue(), typed, 'nothing typed is lost');
    const wrong = await page.locator(`#${await field.getAttribute('aria-describedby')}`).textContent();
    assert.equal(wrong === '', isTaken, wrong);
  }
  assert.equal((await person.job()).runs[0].from.spigot_mm, 17);
});

test('who takes something small away stands at what brings it back, or where it was, and never takes two', async (t) => {
  const person = await visit(t, {});
  const { page } = person;
  await person.keepCar(JSON.parse(await readFile(join(import.meta.dirname, '../cases/car.json'), 'utf8')), '#part-1');
  const spigots = async () => (await person.car()).parts[0].spigots.map(({ name }) => name);
  const before = await spigots();
  const list = page.locator('section').filter({ has: page.getByRole('heading', { name: 'Spigots' }) });
  const first = list.locator('details').first();
  await first.locator('summary').click();
  const box = await first.getByRole('button', { name: 'Take it away' }).boundingBox();
  for (let tap = 0; tap < 2; tap += 1) await page.mouse.click(box.x + box.width / 2, box.y + box.height / 2);
  assert.deepEqual(await spigots(), before.slice(1));
  await person.enter('Undo');
  await page.waitForFunction(() => document.activeElement.localName === 'section');
  assert.deepEqual(await spigots(), before);
  await person.goTo('Fill');
  await page.getByLabel('what was done').fill('filled');
  await person.enter('Write it down');
  await person.stepTo('Take it away');
  await page.keyboard.press('Enter');
  await page.waitForFunction(() => document.activeElement.textContent === 'Undo');
  assert.deepEqual((await person.car()).system.log, []);
});

test('the pictures say of the hose what the verdict says', async (t) => {
  const person = await visit(t, {});
  const { page } = person;
  await person.seeAnswer();
  const said = async () => {
    const verdict = await page.locator('.answer .vd > span').first().textContent();
    const pictures = page.locator('.view svg');
    await pictures.nth(2).waitFor();
    for (const name of await pictures.evaluateAll((all) => all.map((one) => one.getAttribute('aria-label')))) {
      assert.ok(name.endsWith(` past exhaust pipe, battery tray. ${verdict}`), `${name}: ${verdict}`);
    }
    return verdict;
  };
  assert.match(await said(), /^Fits/);
  await page.getByLabel('Try a cut length').focus();
  await page.keyboard.press('End');
  await page.locator('.answer .vd').filter({ hasText: /^ *Does not fit: battery tray/ }).waitFor();
  await page.getByRole('status').filter({ hasText: /^Length now: \d+ mm/ }).waitFor({ state: 'attached' });
  await page.waitForFunction(() => !document.querySelector('[aria-busy]'));
  assert.match(await said(), /^Does not fit/);
});

test('with something that can be taken back at its foot, the answer still shows at its head', async (t) => {
  const person = await visit(t, {});
  const { page } = person;
  for (const name of ['Measure one hose', 'A points right', '16', 'Now place B', '2', '3', '0']) await person.enter(name);
  await person.enter(/^Back/);
  await person.enter('Start afresh');
  await page.waitForFunction(() => document.activeElement.textContent === 'Undo');
  for (const name of ['Measure one hose', 'A points right', '16', 'Now place B', '2', '3', '0', 'straight on, facing A', 'Show the cut']) await person.enter(name);
  await person.seeAnswer();
  await page.waitForFunction(() => !document.querySelector('[aria-busy]'));
  assert.deepEqual(await page.evaluate(() => [document.activeElement.localName, scrollY]), ['h1', 0]);
});

test('a plain car takes nothing of the example with it, and two spigots that no hose serves are told what helps', async (t) => {
  const person = await visit(t, {});
  const { page } = person;
  for (const name of ['The whole car', 'Begin with a plain car']) await person.enter(name);
  const car = await person.car();
  assert.deepEqual([car.car ?? '', car.conditions, car.runs.length, car.runs[0].from.spigot_mm], ['', {}, 1, null]);

  const pressed = (name) => page.getByRole('button', { name, exact: true }).click();
  await person.comeBack('#a');
  for (const name of ['16', 'A points right', 'other']) await pressed(name);
  await page.evaluate(() => { location.hash = '#b'; });
  await pressed('other');
  await page.getByLabel('Outside diameter, mm').fill('18');
  await page.getByLabel('Outside diameter, mm').press('Enter');
  await page.evaluate(() => { location.hash = '#place'; });
  for (const name of ['2', '4', '0', 'right', '9', '0', 'away', '6', '0', 'down']) await pressed(name);
  await page.evaluate(() => { location.hash = '#b'; });
  await pressed('B points up');
  await page.evaluate(() => { location.hash = '#sheet'; });
  await person.hear('No hose in the tables goes on both spigots.');
  await person.hear(/a reducer between two pieces of hose/);
  for (const [end, hash] of [['A', '#a'], ['B', '#b']]) {
    assert.equal(await page.getByRole('link', { name: `Spigot ${end} again` }).getAttribute('href'), hash);
  }
  assert.equal(await page.getByRole('heading', { name: 'Other hoses' }).count(), 0);
});
