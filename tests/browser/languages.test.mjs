// Other languages: every sentence of every screen is said in German and Spanish and has room, numbers have their comma, what a
// person typed stays as it is, and a language that was chosen is there without a signal.
import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { resolve } from 'node:path';
import { after, before, test } from 'node:test';
import { pairs, speaker } from '../../web/public/words/words.js';
import { ownHost, publishNext } from './lib/own_host.mjs';
import { SCREENS } from './lib/screens.mjs';
import { openWorkshop } from './lib/workshop.mjs';

const LANGUAGES = { de: 'Deutsch', es: 'Español' };
const CALLED = ['English', ...Object.values(LANGUAGES)];
const read = (path) => readFile(resolve(import.meta.dirname, '../..', path), 'utf8');
const catalogue = async (language) => pairs(await read(`web/public/words/${language}.po`));

let workshop;
before(async () => { workshop = await openWorkshop(); });
after(() => workshop.close());

test('a sentence is found by what stands fast in it, and what was filled in stands in the other one', () => {
  const { say, missing } = speaker(new Map(Object.entries({
    'to the left': 'nach links',
    'the front': 'vorn',
    'wing': 'Kotflügel',
    'no hose': 'kein Schlauch',
    'it bows {1} by {2}': 'um {2} {1} gebogen',
    'From {1}': 'Von {1}',
    ', seen {1}': ', gesehen {1}',
    '{1} bore, {2}': 'innen {1}, {2}',
    '{1} {2} away': '{2}: {1} weg',
    'rests{1}': 'liegt an{1}',
    'up': 'nach oben',
  })));
  for (const [english, german] of [
    ['to the left', 'nach links'],
    ['To the left', 'Nach links'],
    ['it bows to the left by 12.5 mm', 'um 12,5 mm nach links gebogen'],
    [' From the front.\n', ' Von vorn.\n'],
    ['No hose; from the front: wing, to the left', 'Kein Schlauch; von vorn: Kotflügel, nach links'],
    ['no hose, seen to the left', 'kein Schlauch, gesehen nach links'],
    ['wing · 16.5 mm bore, no hose', 'Kotflügel · innen 16,5 mm, kein Schlauch'],
    ['rests', 'liegt an'],
    ['12.5 mm', '12,5 mm'],
    ['1 1/4 in bore, no hose', 'innen 1 1/4 in, kein Schlauch'],
    ['no hose 1 1/4 in', 'kein Schlauch 1 1/4 in'],
    ['to the left, 30° up', 'nach links, 30° nach oben'],
    ['1.2.3', '1.2.3'],
    ['480', '480'],
  ]) assert.equal(say(english), german);
  assert.deepEqual([...missing], []);
  assert.equal(say('it bows Ölwanne by 2 mm'), 'um 2 mm Ölwanne gebogen', 'a name that somebody typed');
  assert.equal(say('nothing of this'), 'nothing of this');
  assert.equal(say('280 mm wing'), '280 mm Kotflügel', 'a number keeps its unit');
  assert.deepEqual([...missing], ['Ölwanne', 'nothing of this']);
});

for (const language of Object.keys(LANGUAGES)) {
  test(`every sentence with something filled in finds its own words: ${language}`, async () => {
    const all = await catalogue(language);
    const { say } = speaker(all);
    const wrong = [];
    for (const [id, words] of all) {
      if (!id.includes('{1}')) continue;
      // Names that are in no catalogue.
      const fill = (text) => text.replace(/\{(\d+)\}/g, (_, number) => `Xyz${'qwertzui'[number]}`);
      if (say(fill(id)) !== fill(words)) wrong.push([fill(id), say(fill(id)), fill(words)]);
    }
    assert.deepEqual(wrong, []);
  });
}

/** What may stay as it is: the numbers of standards, and what was typed. */
const STAYS = /^(DIN|SAE|[0-9a-f]{12,16}$|miniature)|hoses renewed|^tee in the$/;

for (const [i, [name, goThere]] of SCREENS.entries()) {
  // Every screen in one of them; those that say most in both.
  for (const language of ['example', 'car', 'fit'].includes(name) ? Object.keys(LANGUAGES) : [Object.keys(LANGUAGES)[i % Object.keys(LANGUAGES).length]]) {
    test(`${name}: ${language}`, async (t) => {
      const person = await workshop.person(t);
      const { page } = person;
      await goThere(person);
      await page.evaluate((language) => localStorage.setItem('hosewright.language', language), language);
      await page.reload();
      await page.waitForFunction((language) => document.documentElement.lang === language && document.querySelector('main h2, main .bt'), language);
      await page.waitForFunction(() => !document.querySelector('[aria-busy=true]') && !globalThis.speaks.missing.has('Working it out …'));
      await page.waitForTimeout(300); // The list of a car is worked out in parts.
      await person.unfoldAll();
      const left = (await page.evaluate(() => [...globalThis.speaks.missing])).filter((text) => !STAYS.test(text) && !CALLED.includes(text));
      assert.deepEqual(left, [], 'said in no other words');
      const outside = await page.evaluate(() => [document.documentElement, ...document.querySelectorAll('button:not(.tick), a.bt, .tag-word')]
        .filter((each) => each.checkVisibility() && each.scrollWidth > each.clientWidth + 1)
        .map((each) => `${each.className || each.tagName}: ${each.textContent.slice(0, 40)}`));
      assert.deepEqual(outside, [], 'words that have no room');
    });
  }
}

test('a language is chosen by one tap, keeps what was typed, and is there without a signal', async (t) => {
  const { own, folder } = await ownHost(t);
  const person = await own.person(t);
  const { page } = person;
  const kept = (cache = '') => page.evaluate(async (cache) => {
    const names = (await caches.keys()).filter((name) => name.includes(cache));
    const all = await Promise.all(names.map(async (name) => (await (await caches.open(name)).keys()).map(({ url }) => url)));
    return all.flat().filter((url) => url.includes('/words/')).map((url) => url.replace(/.*\/words\/|\?.*/g, '')).toSorted();
  }, cache);
  await page.evaluate(() => navigator.serviceWorker.ready);
  assert.deepEqual(await kept(), [], 'nobody keeps a language that nobody chose');
  await person.type('Spigot A', 'how far the hose goes on', '34.5');
  await page.getByRole('button', { name: 'Deutsch' }).click();
  await page.getByText('Zuschnittlänge').first().waitFor();
  assert.equal(await page.evaluate(() => document.documentElement.lang), 'de');
  await page.locator('details').first().waitFor();
  await person.unfoldAll();
  assert.ok((await page.locator('input').evaluateAll((all) => all.map(({ value }) => value))).includes('34.5'), 'what was typed');
  await page.getByText(/\d,\d/).first().waitFor({ state: 'attached' }); // a decimal comma
  assert.deepEqual(await kept(), ['de.po', 'words.js']);
  await publishNext(folder, [['words/de.po', 'Zuschnittlänge', 'Zuschnittmaß']]);
  await page.evaluate(async () => {
    const worker = await navigator.serviceWorker.getRegistration();
    await worker.update();
    while (!worker.waiting) await new Promise((done) => { setTimeout(done, 50); });
  });
  assert.deepEqual(await kept('-next'), ['de.po', 'words.js'], 'the next version has it, as it is there');
  await own.host.stop();
  await page.reload();
  await page.getByText('Zuschnittlänge').first().waitFor();
  await page.getByRole('button', { name: 'English' }).click();
  await page.getByText('cut length').first().waitFor();
});

test('the page speaks as the browser is set, until something else is chosen; where it does not come the page is English', async (t) => {
  const german = await workshop.visit({ locale: 'de-AT' });
  t.after(() => german.leave());
  await german.page.getByText('Zuschnittlänge').first().waitFor();
  const french = await workshop.visit({ locale: 'fr-FR' });
  t.after(() => french.leave());
  await french.seeAnswer();
  const without = await workshop.visit({ at: 'no-such-page', locale: 'de-DE' });
  t.after(() => without.leave());
  await without.page.route('**/*.po', (route) => route.abort());
  await without.page.goto(workshop.host.address);
  await without.seeAnswer();
  assert.equal(await without.page.evaluate(() => document.documentElement.lang), 'en');
});

test('what is said where the page cannot start, comes late, or starts without what is stored, is said in the language as well', async (t) => {
  const come = async (broken, hash = '') => {
    const visit = await workshop.visit({ at: 'no-such-page', locale: 'de-DE', serviceWorkers: 'block' });
    t.after(() => visit.leave());
    if (broken) await visit.page.route(broken, (route) => route.abort());
    await visit.page.goto(`${workshop.host.address}${hash}`);
    return visit.page;
  };
  const broken = await come('**/*.wasm');
  await broken.getByRole('alert').getByText(/^Hosewright konnte nicht starten: .+\. Was auf diesem Telefon gespeichert ist, bleibt\./).waitFor();
  await broken.getByRole('link', { name: 'Ohne das Gespeicherte starten' }).waitFor();
  const late = await come('**/boot-*.js');
  await late.locator('#late').getByText(/^Hosewright ist noch nicht gestartet/).waitFor({ state: 'attached' });
  const safe = await come(undefined, '#safe');
  await safe.getByRole('status').getByText(/^Gestartet ohne das, was auf diesem Telefon gespeichert ist/).waitFor();
  await safe.getByRole('button', { name: 'Das Gespeicherte als Datei sichern' }).waitFor();
});
