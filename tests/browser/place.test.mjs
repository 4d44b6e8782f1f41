// To the very place that is meant, and not judged while one still types there.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { openWorkshop } from './lib/workshop.mjs';

let workshop;
before(async () => { workshop = await openWorkshop(); });
after(() => workshop.close());
const visit = (t) => workshop.person(t);

/** Waits until the keyboard stands on something with these words that is seen as a whole. */
const standsOn = (page, words) => page.waitForFunction((words) => {
  const at = document.activeElement;
  const { top, bottom } = at.getBoundingClientRect();
  return at.textContent.startsWith(words) && top >= 0 && Math.min(bottom, top + 100) <= innerHeight;
}, words);

test('"Say what it holds" leads to the fields in which to say it, on the sheet and from the car', async (t) => {
  for (const begin of [[], ['The whole car', 'Begin with a plain car', 'Fill']]) {
    const person = await visit(t);
    const { page } = person;
    await person.tapAll(begin);
    await person.tap('Say what it holds');
    await standsOn(page, 'What to pour');
    await person.page.getByLabel('the cooling system holds').fill('7');
    assert.equal((await person.job()).conditions.refill.holds_l, 7);
    assert.deepEqual(person.complaints, []);
  }
});

test('"Close it" leads to the ways to close that end, and back', async (t) => {
  const person = await visit(t);
  const { page } = person;
  await person.tapAll(['The whole car', 'Begin with a plain car', 'Close it']);
  await standsOn(page, 'pump, small stub');
  await page.goBack();
  await page.getByText('pump, small stub: open. Close it, or put a line on it.').waitFor();
  await person.goTo('Fit');
  await page.getByRole('heading', { name: 'pump, small stub' }).waitFor();
  assert.equal(await page.evaluate(() => scrollY), 0, 'who goes there by the bar begins at its head');
  assert.deepEqual(person.complaints, []);
});

test('what is typed is judged once it rests or is left, and what was said stands until it is mended', async (t) => {
  const person = await visit(t);
  const { page } = person;
  await page.clock.install();
  await person.comeBack();
  await person.seeAnswer();
  await page.getByText(/^Spigot A/).last().click();
  const group = page.locator('details[open]').filter({ hasText: 'Spigot A' });
  const field = group.getByLabel('outside diameter');
  const judged = group.locator('.field', { has: page.getByLabel('outside diameter') }).locator('.err');
  await field.fill('');
  await page.clock.pauseAt(Date.now() + 3_600_000);
  // The clock goes on a little at a time, far less than somebody rests.
  const answers = async (is) => {
    const answer = page.getByText(/^Spigot A.*outside diameter: 1 is too small/);
    for (let i = 0; i < 10 && await answer.isVisible() !== is; i += 1) {
      await page.clock.runFor(100);
      await page.waitForTimeout(200);
    }
    assert.equal(await answer.isVisible(), is);
  };
  const press = async (key, isTooSmall) => {
    await field.press(key);
    await answers(isTooSmall);
  };

  await press('1', true);
  assert.equal(await judged.textContent(), '', 'still typing');
  await press('7', false);
  await page.clock.runFor(10_000);
  assert.equal(await judged.textContent(), '');

  await press('Backspace', true);
  assert.equal(await judged.textContent(), '');
  await page.clock.runFor(1_500);
  assert.match(await judged.textContent(), /^1 is too small/, 'at rest');
  await press('2', false);
  assert.equal(await judged.textContent(), '', 'mended');
  await press('Backspace', true);
  assert.equal(await judged.textContent(), '');
  await field.blur();
  assert.match(await judged.textContent(), /^1 is too small/, 'left');

  // What was said is not taken back over what is no better.
  await field.press('x');
  assert.match(await judged.textContent(), /./);
  assert.deepEqual(person.complaints, []);
});
