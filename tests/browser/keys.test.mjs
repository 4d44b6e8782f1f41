// By keys alone: a new screen begins at its head, and a run is measured. That every control is reached: access.test.mjs.
import assert from 'node:assert/strict';
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

