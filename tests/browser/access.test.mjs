// Everyone can use it: axe-core finds nothing on any screen, a keyboard alone is enough, what is pressed is large enough.
import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { after, before, test } from 'node:test';
import { PHONES, SCREENS } from './lib/screens.mjs';
import { openWorkshop } from './lib/workshop.mjs';

const AXE = await readFile(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

let workshop;
before(async () => { workshop = await openWorkshop(); });
after(() => workshop.close());
const visit = (t, settings) => workshop.person(t, settings);

/** What axe-core finds: rule and place. */
async function found(page) {
  await page.evaluate(AXE);
  const { violations } = await page.evaluate(() => globalThis.axe.run(document));
  return violations.flatMap(({ id, nodes }) => nodes.map((node) => `${id}: ${node.target} ${node.html.slice(0, 120)} ${node.failureSummary}`));
}

/** Targets smaller than 48 px either way that are on the screen. */
const small = (page) => page.evaluate(() => [...document.querySelectorAll('button, a[href], summary, input:not([type=range]), select')]
  .filter((each) => each.checkVisibility() && !each.closest('.sr'))
  .map((each) => [each.textContent.trim() || each.getAttribute('aria-label') || each.id, each.getBoundingClientRect()])
  .filter(([, box]) => box.height < 47.5 || box.width < 47.5)
  .map(([name, box]) => `${name}: ${box.width.toFixed(0)} x ${box.height.toFixed(0)}`));

/** Pictures without a sentence that says what they say. */
const unnamed = (page) => page.evaluate(() => [...document.querySelectorAll('svg, canvas')]
  .filter((each) => each.checkVisibility() && each.getAttribute('aria-hidden') !== 'true' && !each.closest('[aria-hidden=true], [role=slider]')) // whose parts are read as one
  .filter((each) => each.getAttribute('role') !== 'img' || (each.getAttribute('aria-label') ?? '').length < 12)
  .map((each) => each.outerHTML.slice(0, 160)));

/** As narrow as a page must be read without going sideways (WCAG 2.2, 1.4.10). */
const NARROWEST = [320, 568];

for (const [name, goThere] of SCREENS) {
  test(`${name}: nothing found in light or dark, every target is 48 px, nothing hangs out at the side`, async (t) => {
    const person = await visit(t);
    await goThere(person);
    for (const colorScheme of ['light', 'dark']) {
      await person.page.emulateMedia({ colorScheme });
      assert.deepEqual(await found(person.page), [], colorScheme);
    }
    assert.deepEqual(await unnamed(person.page), []);
    for (const [wide, high] of [...PHONES.toReversed(), NARROWEST]) {
      await person.page.setViewportSize({ width: wide, height: high });
      assert.deepEqual(await small(person.page), [], `${wide} wide`);
      assert.equal(await person.page.evaluate(() => document.documentElement.scrollWidth), wide);
    }
    assert.deepEqual(person.complaints, []);
  });
}

test('axe-core would notice', async (t) => {
  const person = await visit(t, {});
  await person.page.evaluate(() => document.querySelector('main').append(document.createElement('button')));
  assert.match((await found(person.page)).join(), /button-name/);
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

test('a picture without a sentence would be noticed', async (t) => {
  const person = await visit(t, {});
  assert.deepEqual(await unnamed(person.page), []);
  await person.page.evaluate(() => document.querySelector('main').insertAdjacentHTML('beforeend', '<svg width="20" height="20"></svg>'));
  assert.equal((await unnamed(person.page)).length, 1);
});
