// The cars kept on the phone: each by itself, over a restart; nothing is lost or written over without a word.
import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { after, before, test } from 'node:test';
import { openWorkshop } from './lib/workshop.mjs';

const CASES = join(import.meta.dirname, '../cases');
const CAR = await readFile(join(CASES, 'car.json'), 'utf8');

let workshop;
before(async () => { workshop = await openWorkshop(); });
after(() => workshop.close());
const visit = (t) => workshop.person(t);

const BASE = 'hosewright';

/** Works on what the page has kept, as another program of the same origin could; `deed` gets the stores and a way to wait. */
const atStore = (person, deed, given) => person.page.evaluate(`(async () => {
  const wait = (request) => new Promise((done, failed) => {
    request.onsuccess = () => done(request.result);
    request.onerror = () => failed(request.error);
  });
  const opening = indexedDB.open(${JSON.stringify(BASE)});
  opening.onupgradeneeded = () => opening.transaction.abort(); // It is for the page to make it.
  const base = await wait(opening);
  const work = base.transaction([...base.objectStoreNames], 'readwrite');
  const over = new Promise((done, failed) => { work.oncomplete = done; work.onabort = () => failed(work.error); });
  const result = await (${deed})((name) => work.objectStore(name), wait, ${JSON.stringify(given)});
  await over;
  base.close();
  return result;
})()`);

/** Everything in one store, by key. */
const stored = (person, store) => atStore(person, async (of, wait, given) => {
  const [keys, values] = [await wait(of(given).getAllKeys()), await wait(of(given).getAll())];
  return Object.fromEntries(keys.map((key, i) => [key, values[i]]));
}, store);

/** Waits until a kept car says this. */
async function untilKept(person, words) {
  for (let i = 0; i < 100; i += 1) {
    const cars = await stored(person, 'cars').catch(() => ({}));
    if (Object.values(cars).some((text) => String(text).includes(words))) return;
    await person.page.waitForTimeout(50);
  }
  assert.fail(`no car with ${words}`);
}

const toCars = async (person) => {
  await person.page.evaluate(() => { location.hash = '#cars'; });
  await person.page.getByRole('heading', { name: 'Cars kept on this phone' }).waitFor();
};

/** The rows of the list as they are read. */
async function rows(person, count) {
  const all = person.page.locator('.cars > li');
  await person.page.waitForFunction((count) => document.querySelectorAll('.cars > li').length === count, count);
  return (await all.allTextContents()).map((text) => text.trim());
}

const row = (person, name) => person.page.locator('.cars > li').filter({ hasText: name });
const openCar = (person, name) => row(person, name).getByRole('button').first().click();
const unfold = (person, name) => row(person, name).getByRole('button', { name: /^More/ }).click();

async function typeName(person, name) {
  const field = person.page.getByLabel('the car', { exact: true });
  if (!await field.isVisible()) await person.page.getByText('The run', { exact: true }).click();
  await field.fill(name);
}

/** Names the car at hand, on its sheet; ready when it is kept. */
async function callIt(person, name) {
  await person.page.evaluate(() => { location.hash = '#sheet'; });
  await typeName(person, name);
  await untilKept(person, name);
}

const takeIn = (person, name, text) =>
  person.page.getByLabel('job file').setInputFiles({ name, mimeType: 'application/json', buffer: Buffer.from(text) });

test('every car is kept by itself over a restart, and can be opened again', async (t) => {
  const person = await visit(t);
  await callIt(person, 'first car');
  await toCars(person);
  await person.press('New car');
  await person.page.getByRole('heading', { name: 'The car', exact: true }).waitFor();
  await person.press('Begin with a plain car');
  await callIt(person, 'second car');
  await person.comeBack('#cars');
  const [newest, oldest] = await rows(person, 2);
  assert.match(newest, /^second car\d{4}-\d\d-\d\d, \d\d:\d\d · 1 hose · at hand/);
  assert.match(oldest, /^first car\d{4}-\d\d-\d\d, \d\d:\d\d · 1 hose(?! · at hand)/);
  await openCar(person, 'first car');
  await person.seeCutLength('480 mm, 18 7/8 in');
  assert.equal((await person.job()).car, 'first car');
  await toCars(person);
  await openCar(person, 'second car');
  await person.page.getByRole('heading', { name: 'Lines', exact: true }).waitFor();
  assert.equal((await person.job()).car, 'second car');
  assert.equal(Object.keys(await stored(person, 'cars')).length, 2, 'opening makes no copy');
  assert.deepEqual(person.complaints, []);
});

test('the untouched example is not kept, nor a run of which nothing is said', async (t) => {
  const person = await visit(t);
  await person.tap('Measure one hose');
  await toCars(person);
  await person.hear('None yet.');
  assert.deepEqual(await stored(person, 'cars'), {});
});

test('the last five states that stood can be looked at and brought back', async (t) => {
  const person = await visit(t);
  const clock = async (minute) => {
    await person.page.clock.setFixedTime(new Date(2026, 5, 1, 14, minute));
  };
  for (let i = 0; i < 8; i += 1) {
    await clock(5 * i);
    await callIt(person, `state ${i}`);
  }
  await toCars(person);
  await unfold(person, 'state 7');
  const states = person.page.getByText(/^As it was at/);
  await states.first().waitFor();
  assert.deepEqual((await states.allTextContents()).map((text) => text.trim()),
    [6, 5, 4, 3, 2].map((i) => `As it was at 14:${String(5 * i).padStart(2, '0')} (2026-06-01) state ${i} · not as now: the car's name`));
  await row(person, 'state 7').getByRole('button', { name: 'Bring it back' }).nth(1).click();
  await untilKept(person, 'state 5');
  assert.equal((await person.job()).car, 'state 5');
  // What it was brought back from is an earlier state now.
  await toCars(person);
  await unfold(person, 'state 5');
  await person.page.getByText("state 7 · not as now: the car's name").waitFor();
  assert.equal(Object.keys(await stored(person, 'revisions')).length, 5);
  assert.deepEqual(person.complaints, []);
});

test('what differs is told by its name, and the car is named where one works on it', async (t) => {
  const person = await visit(t);
  await toCars(person);
  await takeIn(person, 'estate.json', CAR);
  await person.page.getByText(/^Taken in and at hand: /).waitFor();
  await person.page.clock.setFixedTime(new Date(Date.now() + 600_000));
  await person.page.evaluate(() => { location.hash = '#car'; });
  await person.page.getByLabel("the car's name").fill('shop car');
  for (const hash of ['#car', '#line-1', '#part-1', '#buy', '#fit', '#fill']) {
    await person.page.evaluate((hash) => { location.hash = hash; }, hash);
    await person.page.locator('header.tb small', { hasText: 'shop car' }).waitFor();
  }
  // Each of the first five lines gets a note; with the name of the car that is six things.
  const { lines } = JSON.parse(CAR);
  for (let i = 1; i <= 5; i += 1) {
    await person.page.evaluate((i) => { location.hash = `#line-${i}`; }, i);
    await person.page.getByLabel('note', { exact: true }).fill('rotten');
  }
  await untilKept(person, 'rotten');
  await toCars(person);
  await unfold(person, 'shop car');
  const told = person.page.getByText(/^As it was at/).last();
  await told.waitFor();
  const names = lines.slice(0, 4).map(({ name }) => name).join(', ');
  assert.match(await told.textContent(), new RegExp(` · not as now: ${names} and 2 more$`));
  assert.deepEqual(person.complaints, []);
});

test('a car that cannot be read is set aside and can be had as a text; the others load', async (t) => {
  const person = await visit(t);
  await callIt(person, 'sound car');
  await toCars(person);
  await person.press('New car');
  await person.press('Begin with a plain car');
  await callIt(person, 'will be spoilt');
  await toCars(person);
  await person.press('New car');
  await person.press('Begin with a plain car');
  await callIt(person, 'third car');
  await atStore(person, async (of, wait) => {
    of('cars').put('rubbish', 'no-summary');
    const keys = await wait(of('cars').getAllKeys());
    for (const key of keys) {
      const text = await wait(of('cars').get(key));
      if (text.includes('will be spoilt')) of('cars').put(text.replace('"runs"', '"ruins"'), key);
    }
  });
  await person.comeBack('#cars');
  await rows(person, 3);
  await openCar(person, 'will be spoilt');
  await person.hear('This car could not be read; it was set aside.');
  await rows(person, 2);
  await person.page.getByText('A car that could not be read').nth(1).waitFor();
  const downloads = [];
  for (const i of [0, 1]) {
    const coming = person.page.waitForEvent('download');
    await person.page.getByRole('button', { name: 'Save what is there as a file' }).nth(i).click();
    downloads.push(await readFile(await (await coming).path(), 'utf8'));
  }
  assert.ok(downloads.includes('rubbish') && downloads.some((text) => text.includes('"ruins"')), 'as it was');
  await openCar(person, 'sound car');
  await person.seeCutLength('480 mm, 18 7/8 in');
  assert.deepEqual(person.complaints, []);
});

test('a car of a newer version is listed, not opened, and stays as it is', async (t) => {
  const person = await visit(t);
  const newer = 'hosewright-car 2 what this page does not know\n';
  await callIt(person, 'my car');
  await atStore(person, async (of, wait, newer) => { of('cars').put(newer, 'newer'); }, newer);
  await person.comeBack('#cars');
  const [, last] = await rows(person, 2);
  assert.match(last, /^From a newer version/);
  assert.equal(await row(person, 'From a newer version').getByRole('button').count(), 0);
  await callIt(person, 'my car, changed');
  assert.equal((await stored(person, 'cars')).newer, newer);
});

test('where the car at hand was written by a newer version, what is typed becomes a copy', async (t) => {
  const person = await visit(t);
  await callIt(person, 'my car');
  const [id] = Object.keys(await stored(person, 'cars'));
  await atStore(person, async (of, wait, id) => { of('cars').put('hosewright-car 2 x', id); }, id);
  await typeName(person, 'typed here');
  await person.hear(/kept as a car of its own, “typed here \(2\)”/);
  assert.equal((await stored(person, 'cars'))[id], 'hosewright-car 2 x');
});

test('two tabs at one car: the second to change it gets a copy and is told; the lists follow', async (t) => {
  const one = await visit(t);
  await callIt(one, 'the car');
  const two = await one.anotherTab();
  await two.seeAnswer();
  await toCars(two);
  await callIt(one, 'changed in one');
  assert.match((await rows(two, 1))[0], /^the car|^changed in one/);
  await two.page.getByText('changed in one').waitFor(); // the list of the other tab follows
  await two.page.evaluate(() => { location.hash = '#sheet'; });
  await typeName(two, 'changed in two');
  await two.hear('This car was changed in another tab as well: what stands here is kept as a car of its own, “changed in two (2)”.');
  await two.page.waitForFunction(() => localStorage.getItem('hosewright.last').includes('changed in two (2)'));
  await callIt(one, 'one goes on');
  await callIt(two, 'two goes on');
  const names = Object.values(await stored(one, 'cars')).map((text) => JSON.parse(text.split('\n')[1]).name).toSorted();
  assert.deepEqual(names, ['one goes on', 'two goes on']);
  for (const tab of [one, two]) await tab.comeBack('#cars');
  await rows(one, 2);
  await rows(two, 2);
  assert.deepEqual([...one.complaints, ...two.complaints], []);
});

test('two tabs change one car in the same moment: both works are kept', async (t) => {
  const one = await visit(t);
  await callIt(one, 'the car');
  const two = await one.anotherTab();
  await two.seeAnswer();
  for (const tab of [one, two]) await typeName(tab, 'the car');
  await Promise.all([typeName(one, 'typed in one'), typeName(two, 'typed in two')]);
  await untilKept(one, 'typed in one');
  await untilKept(one, 'typed in two');
  assert.equal(Object.keys(await stored(one, 'cars')).length, 2);
});

for (const [what, refuse, said] of [
  ['has no IndexedDB', () => { Object.defineProperty(window, 'indexedDB', { value: undefined }); },
    'This browser keeps the car at hand and no others'],
  ['refuses it', () => { Object.defineProperty(window, 'indexedDB', { get() { throw new DOMException('no', 'SecurityError'); } }); },
    'This browser does not let the page keep more than the car at hand'],
  ['has no room left', () => { IDBObjectStore.prototype.put = () => { throw new DOMException('full', 'QuotaExceededError'); }; },
    'The storage of this phone is full'],
  ['loses the connection for good', () => { IDBDatabase.prototype.transaction = () => { throw new DOMException('gone', 'InvalidStateError'); }; },
    'The browser lost its storage'],
  ['does not answer', () => { IDBFactory.prototype.open = () => new EventTarget(); }, 'The browser lost its storage'],
]) {
  test(`a phone that ${what}: one sentence says so, the page works and keeps the car at hand`, async (t) => {
    const person = await visit(t);
    await person.page.addInitScript(refuse);
    await person.comeBack();
    await person.type('Spigot A', 'how far the hose goes on', '40');
    await person.seeCutLength('490 mm, 19 5/16 in');
    await person.hear(said);
    await toCars(person);
    await person.comeBack();
    await person.seeCutLength('490 mm, 19 5/16 in');
    assert.deepEqual(person.complaints, []);
  });
}

test('where the storage was full, the car is kept as soon as there is room', async (t) => {
  const person = await visit(t);
  await person.page.addInitScript(() => {
    const { put } = IDBObjectStore.prototype;
    globalThis.full = true;
    IDBObjectStore.prototype.put = function (...given) {
      if (globalThis.full) throw new DOMException('full', 'QuotaExceededError');
      return put.apply(this, given);
    };
  });
  await person.comeBack();
  await typeName(person, 'waits');
  await person.hear('The storage of this phone is full');
  assert.deepEqual(await stored(person, 'cars'), {});
  await person.page.evaluate(() => { globalThis.full = false; });
  await callIt(person, 'has room');
  assert.equal(await person.page.getByText('The storage of this phone is full').count(), 0, 'no longer said');
});

test('a connection that breaks once is made again without a word', async (t) => {
  const person = await visit(t);
  await person.page.addInitScript(() => {
    const { transaction } = IDBDatabase.prototype;
    globalThis.broken = 0;
    IDBDatabase.prototype.transaction = function (...given) {
      if (globalThis.broken > 0) { globalThis.broken -= 1; throw new DOMException('gone', 'InvalidStateError'); }
      return transaction.apply(this, given);
    };
  });
  await person.comeBack();
  await callIt(person, 'before');
  await person.page.evaluate(() => { globalThis.broken = 1; });
  await typeName(person, 'after');
  await person.page.waitForFunction(() => globalThis.broken === 0);
  await untilKept(person, 'after');
  assert.equal(await person.page.getByText('The browser lost its storage').count(), 0);
});

test('a newer version of the storage in another tab: this one gives way and says to reload', async (t) => {
  const person = await visit(t);
  await callIt(person, 'my car');
  await person.page.evaluate((name) => new Promise((done, failed) => {
    const request = indexedDB.open(name, 2);
    request.onsuccess = () => { request.result.close(); done(); };
    request.onerror = request.onblocked = failed;
  }), BASE);
  await person.hear('The page was updated in another tab: reload it here.');
  await person.type('Spigot A', 'how far the hose goes on', '40');
  await person.seeCutLength('490 mm, 19 5/16 in');
  // An older page that is started again finds the newer storage, and says the same.
  await person.comeBack('#cars');
  await person.hear('The page was updated in another tab: reload it here.');
  await person.comeBack();
  await person.seeCutLength('490 mm, 19 5/16 in');
  assert.deepEqual(person.complaints, []);
});

test('a car goes out as a file and comes in again as a car of its own, equal', async (t) => {
  const person = await visit(t);
  await toCars(person);
  await takeIn(person, 'car.json', CAR);
  await person.hear('Taken in and at hand: invented estate car, gas conversion being removed.');
  await untilKept(person, 'invented estate car');
  await unfold(person, 'invented estate car');
  const save = async () => {
    const coming = person.page.waitForEvent('download');
    await person.press('Save as a file');
    return coming;
  };
  const file = await save();
  assert.equal(file.suggestedFilename(), 'invented-estate-car--gas-conversion-being-removed.json');
  const text = await readFile(await file.path(), 'utf8');
  assert.deepEqual(JSON.parse(text), JSON.parse(CAR));
  await takeIn(person, 'again.json', text);
  await rows(person, 2);
  await unfold(person, ' · at hand');
  await person.page.getByRole('button', { name: 'Save as a file' }).nth(0).waitFor();
  const again = await save();
  assert.equal(await readFile(await again.path(), 'utf8'), text, 'to the letter');
  assert.deepEqual(person.complaints, []);
});

test('of a file with a bad run the others are taken in, and what was left out is told', async (t) => {
  const person = await visit(t);
  await callIt(person, 'mine');
  const job = JSON.parse(CAR);
  const { name } = job.runs[1];
  job.runs[1].from.spigot_mm = 'wide';
  await toCars(person);
  await takeIn(person, 'bad.json', JSON.stringify(job));
  await person.hear('Left out, because it could not be read:');
  await person.hear(`runs 2 ${name}: from.spigot_mm: must be a number, not "wide".`);
  await rows(person, 2);
  await untilKept(person, 'invented estate car');
  assert.match((await rows(person, 2)).join(), new RegExp(`${job.runs.length - 1} hoses · at hand`));
  assert.match((await rows(person, 2)).join(), /mine/);
});

for (const [what, text, said] of [
  ['that is none', '{"some": "thing"}', /Nothing was taken in: field format/],
  ['longer than 1 MB', ' '.repeat((1 << 20) + 1), /Nothing was taken in: longer than 1 MB/],
]) {
  test(`a file ${what} changes nothing and is told`, async (t) => {
    const person = await visit(t);
    await callIt(person, 'mine');
    await toCars(person);
    await takeIn(person, 'bad.json', text);
    await person.hear(said);
    await rows(person, 1);
    assert.equal((await person.job()).car, 'mine');
  });
}

test('a car is taken away with all that belongs to it, and brought back', async (t) => {
  const person = await visit(t);
  await callIt(person, 'goes');
  await callIt(person, 'goes away');
  const all = async () => [await stored(person, 'cars'), await stored(person, 'summaries'), await stored(person, 'revisions')];
  const before = await all();
  await toCars(person);
  await unfold(person, 'goes away');
  await person.press('Take it away');
  await person.hear('None yet.');
  assert.deepEqual(await all(), [{}, {}, {}]);
  assert.equal(await person.page.evaluate(() => localStorage.getItem('hosewright.last')), null, 'it is not at hand either');
  await person.press('Undo');
  await rows(person, 1);
  assert.deepEqual(await all(), before);
  await openCar(person, 'goes away');
  await person.seeCutLength('480 mm, 18 7/8 in');
  assert.equal((await person.job()).car, 'goes away');
});

test('the tab is ended in the middle of an edit of the car: nothing is lost, and it is the same car', async (t) => {
  const person = await visit(t);
  await toCars(person);
  await takeIn(person, 'car.json', CAR);
  await untilKept(person, 'invented estate car');
  await person.page.evaluate(() => { location.hash = '#line-1'; });
  await person.page.getByLabel('its name', { exact: true }).fill('hose under the rail');
  await person.untilStored('hose under the rail');
  const again = await person.reopenAfterKill();
  await untilKept(again, 'hose under the rail');
  assert.equal((await again.job()).lines[0].name, 'hose under the rail');
  assert.equal(Object.keys(await stored(again, 'cars')).length, 1, 'no copy');
});

test('what was kept before there was a list of cars becomes its first', async (t) => {
  const person = await visit(t);
  await callIt(person, 'from before');
  await atStore(person, async (of) => { for (const name of ['cars', 'summaries', 'revisions']) of(name).clear(); });
  await person.page.evaluate(() => localStorage.removeItem('hosewright.car'));
  await person.comeBack('#cars');
  assert.match((await rows(person, 1))[0], /^from before/);
});

test('a text that an older tab put beside the number of a car does not go into that car', async (t) => {
  const person = await visit(t);
  await callIt(person, 'car one');
  await person.page.evaluate(() => {
    const last = localStorage.getItem('hosewright.last');
    localStorage.setItem('hosewright.last', last.replaceAll('car one', 'another'));
  });
  await person.comeBack('#cars');
  const all = await rows(person, 2);
  assert.ok(all.some((text) => text.startsWith('car one')) && all.some((text) => text.startsWith('another')), all.join());
});

test('start afresh and undo lead back to the same car', async (t) => {
  const person = await visit(t);
  await callIt(person, 'my car');
  await person.press('Start afresh');
  await person.comeBack();
  await person.press('Undo');
  await callIt(person, 'my car again');
  assert.equal(Object.keys(await stored(person, 'cars')).length, 1);
});

/** A picture as a camera takes it, as a file. */
const picture = (person, width, height) => person.page.evaluate(async ([width, height]) => {
  const canvas = Object.assign(document.createElement('canvas'), { width, height });
  canvas.getContext('2d').fillRect(0, 0, width / 2, height);
  const blob = await new Promise((done) => { canvas.toBlob(done, 'image/png'); });
  return [...new Uint8Array(await blob.arrayBuffer())];
}, [width, height]);

test('a photo of a line is made small, kept, follows the name of the line, and can be taken away', async (t) => {
  const person = await visit(t);
  await toCars(person);
  await takeIn(person, 'car.json', CAR);
  await untilKept(person, 'invented estate car');
  await person.page.evaluate(() => { location.hash = '#line-1'; });
  const buffer = Buffer.from(await picture(person, 3000, 2000));
  const choose = () => person.page.getByLabel('choose one that you have').setInputFiles({ name: 'p.png', mimeType: 'image/png', buffer });
  await choose();
  const photo = person.page.getByRole('img', { name: 'Photo of this line' });
  await photo.waitFor();
  const size = () => photo.evaluate(async (image) => { await image.decode(); return [image.naturalWidth, image.naturalHeight]; });
  assert.deepEqual(await size(), [1280, 853]);
  await person.page.getByLabel('its name', { exact: true }).fill('renamed hose');
  await untilKept(person, 'renamed hose');
  const keys = async () => Object.keys(await stored(person, 'photos')).map((key) => key.split('/')[1]);
  assert.deepEqual(await keys(), ['renamed hose']);
  await person.comeBack('#line-1');
  assert.deepEqual(await size(), [1280, 853]);
  assert.ok(!JSON.stringify(await person.job()).includes('blob'), 'not in the file');
  await person.page.locator('section').filter({ hasText: 'Photo of it' }).getByRole('button', { name: 'Take it away' }).click();
  await photo.waitFor({ state: 'detached' });
  assert.deepEqual(await keys(), []);
  // The photo of a line that is taken away goes with the next start.
  await choose();
  await photo.waitFor();
  await person.page.locator('section').filter({ hasText: 'This line' }).getByRole('button', { name: 'Take it away' }).click();
  await person.page.waitForFunction(() =>
    JSON.parse(localStorage.getItem('hosewright.last').slice(2)).job.lines[0].name !== 'renamed hose');
  assert.deepEqual(await keys(), ['renamed hose'], 'as long as it can be taken back');
  await person.comeBack();
  for (let i = 0; i < 100 && (await keys()).length > 0; i += 1) await person.page.waitForTimeout(50);
  assert.deepEqual(await keys(), []);
  assert.deepEqual(person.complaints, []);
});

test('a line renamed just before the tab was ended keeps its photo', async (t) => {
  const person = await visit(t);
  await toCars(person);
  await takeIn(person, 'car.json', CAR);
  await untilKept(person, 'invented estate car');
  await person.page.evaluate(() => { location.hash = '#line-1'; });
  const buffer = Buffer.from(await picture(person, 40, 30));
  await person.page.getByLabel('choose one that you have').setInputFiles({ name: 'p.png', mimeType: 'image/png', buffer });
  await person.page.getByRole('img', { name: 'Photo of this line' }).waitFor();
  // What is typed now gets no further than the text that is written at once.
  await person.page.evaluate(() => {
    const { put } = IDBObjectStore.prototype;
    IDBObjectStore.prototype.put = function (value, key) {
      if (this.name === 'cars') throw new DOMException('no more', 'UnknownError');
      return put.call(this, value, key);
    };
  });
  await person.page.getByLabel('its name', { exact: true }).fill('renamed hose');
  await person.untilStored('renamed hose');
  const again = await person.reopenAfterKill();
  await untilKept(again, 'renamed hose');
  assert.deepEqual(Object.keys(await stored(again, 'photos')).map((key) => key.split('/')[1]), ['renamed hose']);
});

test('five hundred cars are listed, and rows out of sight are not laid out', async (t) => {
  const person = await visit(t);
  await toCars(person);
  await takeIn(person, 'car.json', CAR);
  await untilKept(person, 'invented estate car');
  await atStore(person, async (of, wait) => {
    const [id] = await wait(of('cars').getAllKeys());
    const [car, summary] = [await wait(of('cars').get(id)), await wait(of('summaries').get(id))];
    for (let i = 1; i < 500; i += 1) {
      of('cars').put(car, `seeded-${i}`);
      of('summaries').put(summary, `seeded-${i}`);
    }
  });
  await person.comeBack('#cars');
  await rows(person, 500);
  const last = person.page.locator('.cars > li').last();
  assert.equal(await last.evaluate((li) => li.firstChild.checkVisibility({ contentVisibilityAuto: true })), false);
  await last.scrollIntoViewIfNeeded();
  await last.getByRole('button').first().click();
  await person.page.getByRole('heading', { name: 'Lines', exact: true }).waitFor();
  assert.deepEqual(person.complaints, []);
});
