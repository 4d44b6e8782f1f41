// All cars as one file: to another phone, from the safe start, and files that are none; nothing that stands there is lost over it.
import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { after, before, test } from 'node:test';
import { crc32 } from 'node:zlib';
import { callIt, stored, toCars, untilKept } from './lib/stored.mjs';
import { openWorkshop } from './lib/workshop.mjs';

const CAR = await readFile(join(import.meta.dirname, '../cases/car.json'), 'utf8');
const NAME = JSON.parse(CAR).car;

let workshop;
before(async () => { workshop = await openWorkshop(); });
after(() => workshop.close());

/** A visit whose clock is ours from the start: timers of before it would be lost to the page. */
async function visit(t) {
  const person = await workshop.person(t);
  await person.page.clock.setFixedTime(new Date());
  await person.comeBack();
  return person;
}

/** A visit on which one car of this name is kept. */
async function withCar(t, name) {
  const person = await visit(t);
  await callIt(person, name);
  await untilKept(person, JSON.stringify(JSON.stringify(name)).slice(3, -3)); // As it stands in the text of a text.
  return person;
}

const choose = (person, text) =>
  person.page.getByLabel('job file').setInputFiles({ name: 'a.json', mimeType: 'application/json', buffer: Buffer.from(text) });

/** Takes a file in; ready when this is said. */
async function takeIn(person, text, ...said) {
  await toCars(person);
  await choose(person, text);
  const list = person.page.locator('section').filter({ hasText: 'Cars from a file' }).getByRole('listitem');
  await list.filter({ hasText: said.at(-1) }).last().waitFor();
  await list.nth(said.length - 1).waitFor();
  assert.deepEqual(await list.allTextContents(), said);
}

/** The file that a press saves. */
async function saved(person, button) {
  const coming = person.page.waitForEvent('download');
  await person.press(button);
  const file = await coming;
  assert.match(file.suggestedFilename(), /^hosewright-stored-\d{4}-\d\d-\d\d\.json$/);
  return readFile(await file.path(), 'utf8');
}

async function saveAll(person) {
  await toCars(person);
  return saved(person, 'Save all cars as one file');
}

/** The names of the cars that are kept, sorted. */
const names = async (person) => Object.values((await stored(person)).cars).map((text) => JSON.parse(text.split('\n')[1]).name).toSorted();
const LATER = 'Taken in, in place of the older state here, which stays among its earlier ones:';
const row = (person, name) => person.page.locator('.cars > li').filter({ hasText: name });

/** A picture as a file. */
const picture = (person, width = 60) => person.page.evaluate(async (width) => {
  const canvas = Object.assign(document.createElement('canvas'), { width, height: 40 });
  canvas.getContext('2d').fillRect(0, 0, 30, 40);
  const blob = await new Promise((done) => { canvas.toBlob(done, 'image/png'); });
  return [...new Uint8Array(await blob.arrayBuffer())];
}, width);

test('all cars go to another phone as one file, with photos and earlier states, and once only', async (t) => {
  const one = await withCar(t, 'small car');
  await toCars(one);
  await choose(one, CAR);
  await untilKept(one, NAME);
  await one.page.evaluate(() => { location.hash = '#line-1'; });
  const photo = { name: 'p.png', mimeType: 'image/png', buffer: Buffer.from(await picture(one)) };
  await one.page.getByLabel('choose one that you have').setInputFiles(photo);
  await one.page.getByRole('img', { name: 'Photo of this line' }).waitFor();
  await one.page.clock.setFixedTime(new Date(Date.now() + 600_000));
  await callIt(one, 'large car');
  await untilKept(one, 'large car');
  const file = await saveAll(one);
  const order = Object.values(JSON.parse(file).cars).map((text) => JSON.parse(text.split('\n')[1]).name);
  assert.deepEqual(order.toSorted(), ['large car', 'small car']);

  const other = await visit(t);
  await takeIn(other, file, ...order.map((name) => `Taken in: ${name}.`));
  const [here, there] = [await stored(one), await stored(other)];
  const kept = ({ cars }) => Object.fromEntries(Object.entries(cars).map(([id, text]) => [id, text.split('\n')[2]]));
  assert.deepEqual(kept(there), kept(here));
  assert.deepEqual(there.revisions, here.revisions);
  await row(other, 'large car').getByRole('button', { name: /^More/ }).click();
  await other.page.getByText(/^As it was at .*invented estate car/).waitFor();
  await row(other, 'large car').getByRole('button').first().click();
  await other.page.getByRole('heading', { name: 'Lines', exact: true }).waitFor();
  await other.page.evaluate(() => { location.hash = '#line-1'; });
  const image = other.page.getByRole('img', { name: 'Photo of this line' });
  assert.equal(await image.evaluate(async (it) => { await it.decode(); return it.naturalWidth; }), 60);

  await takeIn(other, file, ...order.map((name) => `Stood here already: ${name}.`));
  assert.deepEqual(await names(other), ['large car', 'small car']);

  // Another photo of the same line: the one here stays, until one takes it away.
  await one.page.evaluate(() => { location.hash = '#line-1'; });
  await one.page.getByLabel('choose one that you have').setInputFiles({ ...photo, buffer: Buffer.from(await picture(one, 90)) });
  await one.page.waitForFunction(() => document.querySelector('main img')?.naturalWidth === 90);
  const later = await saveAll(one);
  const line = JSON.parse(CAR).lines[0].name;
  const told = `The file has another photo of these lines, and the one here stays: ${line}. Take it away and take the file in again to have the other.`;
  const known = (name) => `Stood here already: ${name}.`;
  await takeIn(other, later, ...order.flatMap((name) => (name === 'large car' ? [known(name), told] : [known(name)])));
  await other.page.evaluate(() => { location.hash = '#line-1'; });
  assert.equal(await image.evaluate(async (it) => { await it.decode(); return it.naturalWidth; }), 60);
  await other.page.locator('section').filter({ has: image }).getByRole('button', { name: 'Take it away' }).click();
  await image.waitFor({ state: 'detached' });
  await takeIn(other, later, ...order.map(known));
  await other.page.evaluate(() => { location.hash = '#line-1'; });
  assert.equal(await image.evaluate(async (it) => { await it.decode(); return it.naturalWidth; }), 90);
  assert.deepEqual([...one.complaints, ...other.complaints], []);
});

test('what goes on from the state here takes its place, and is what one looks at; what was changed on both is kept beside it', async (t) => {
  const one = await withCar(t, 'first state');
  const other = await visit(t);
  await takeIn(other, await saveAll(one), 'Taken in: first state.');
  await row(other, 'first state').getByRole('button').first().click();
  await other.seeAnswer();

  await one.page.clock.setFixedTime(new Date(Date.now() + 600_000));
  await callIt(one, 'second state');
  await untilKept(one, 'second state');
  await takeIn(other, await saveAll(one), `${LATER} second state.`);
  assert.deepEqual(await names(other), ['second state']);
  await other.page.evaluate(() => { location.hash = '#sheet'; });
  assert.equal((await other.job()).car, 'second state');
  await toCars(other);
  await row(other, 'second state').getByRole('button', { name: /^More/ }).click();
  await other.page.getByText(/^As it was at .*first state · not as now: the car's name$/).waitFor();

  // It goes on there, and what it went on from comes once more.
  const second = await saveAll(one);
  await other.page.clock.setFixedTime(new Date(Date.now() + 1_200_000));
  await callIt(other, 'changed there');
  await untilKept(other, 'changed there');
  await takeIn(other, second, 'Stood here already: second state.');
  await callIt(one, 'changed here');
  await untilKept(one, 'changed here');
  await takeIn(other, await saveAll(one), 'Taken in: changed here (2).');
  assert.deepEqual(await names(other), ['changed here (2)', 'changed there']);
  assert.equal((await other.job()).car, 'changed there');
  // In what the two differ is told at either.
  await other.press('More: changed here (2)');
  await other.hear("Not as in “changed there”: the car's name.");
  await other.press('More: changed there');
  await other.hear("Not as in “changed here (2)”: the car's name.");

  // It stands beside it once, however often a file comes, and follows what goes on over there.
  await takeIn(other, await saveAll(one), 'Stood here already: changed here.');
  for (let minute = 0; minute < 8; minute += 1) {
    await one.page.clock.setFixedTime(new Date(Date.now() + 1_260_000 + 120_000 * minute));
    await callIt(one, `changed on ${minute}`);
    await untilKept(one, `changed on ${minute}`);
  }
  await takeIn(other, await saveAll(one), `${LATER} changed on 7 (2).`);
  await takeIn(one, await saveAll(other), 'Taken in: changed there (2).', 'Stood here already: changed on 7 (2).');
  await takeIn(other, await saveAll(one), 'Stood here already: changed on 7.', 'Stood here already: changed there (2).');
  assert.deepEqual(await names(other), ['changed on 7 (2)', 'changed there']);
  assert.deepEqual(await names(one), ['changed on 7', 'changed there (2)']);
  assert.deepEqual([...one.complaints, ...other.complaints], []);
});

test('the file of the safe start is read in, also where only the car at hand was kept', async (t) => {
  const one = await visit(t);
  await one.page.addInitScript(() => { IDBFactory.prototype.open = () => { throw new DOMException('no', 'SecurityError'); }; });
  await one.comeBack();
  await callIt(one, 'at hand only');
  await one.untilStored('at hand only');
  await one.comeBack('#safe');
  const file = await saved(one, 'Save what is stored as a file');
  assert.equal(JSON.parse(file).missing.length, 1);

  const other = await visit(t);
  await takeIn(other, file, 'Taken in: at hand only.');
  await row(other, 'at hand only').getByRole('button').first().click();
  await other.seeAnswer();
  assert.equal((await other.job()).car, 'at hand only');
  assert.deepEqual(other.complaints, []);
});

test('a file that is damaged, or was made to do harm, brings what of it is sound, as text, and the page goes on', async (t) => {
  const one = await withCar(t, '<img src=x onerror="globalThis.ran=1">');
  const file = JSON.parse(await saveAll(one));
  const [[id, sound]] = Object.entries(file.cars);
  const other = await visit(t);
  const photos = {
    [`${id}/heater flow`]: `data:image/svg+xml;base64,${btoa('<svg xmlns="http://www.w3.org/2000/svg"/>')}`,
    [`${id}/x`]: 'data:image/png;base64,%%', [`${id}/y`]: 3, __proto__: 'data:text/html,x',
  };
  // As web/src/store/record.rs writes it.
  const record = (rev, kept) => {
    const body = `${JSON.stringify({ rev, saved_at: 1, by: 'x', name: 'x', hoses: 1 })}\n${kept}`;
    return `hosewright-car 1 ${crc32(body)}\n${body}`;
  };
  const kept = sound.split('\n')[2];
  const held = (count) => kept.replace('"before":[]', `"before":[${Array(count).fill('{"run":{},"typed":{}}').join()}]`);
  assert.notEqual(held(2), kept);
  const spoilt = {
    ...file, photos, revisions: { [`${id}/0000000001`]: 7, [id]: null, [`${id}/9999999999`]: record(1, kept) }, summaries: 'x', texts: { 'hosewright.last': 'x', 'hosewright.car': 3 },
    cars: {
      damaged: sound.replace('hosewright-car 1', 'hosewright-car 1 2'), number: 3, [id]: sound, nothing: null, newer: 'hosewright-car 9 x',
      'a/b': sound, '\uffff': sound, '': sound, often: record(4_294_967_295, kept), many: record(1, held(2000)), long: record(1, `${kept}${' '.repeat(3e6)}`),
    },
  };
  const [unread, taken] = ['One could not be read: it stays in the file.', 'Taken in: <img src=x onerror="globalThis.ran=1">.'];
  await takeIn(other, JSON.stringify(spoilt), ...Object.keys(spoilt.cars).map((each) => (each === id ? taken : unread)));
  assert.deepEqual(await other.page.evaluate(() => [globalThis.ran, document.querySelectorAll('main img').length]), [undefined, 0]);
  const { cars, photos: kepts, revisions } = await stored(other);
  assert.deepEqual([Object.keys(cars), kepts, revisions], [[id], {}, {}]);
  for (const empty of [{ texts: {} }, { texts: 3, cars: [1], photos: 'x', version: 1 }]) {
    await takeIn(other, JSON.stringify(empty), ...('cars' in empty ? [unread] : ['There is no car in it.']));
  }
  for (const none of ['', '[', 'null', '3', JSON.stringify({ texts: {}, version: 2 }), JSON.stringify({ ...file, version: 2 })]) {
    await toCars(other);
    await choose(other, none);
    await other.hear(/^Nothing was taken in: /);
    await takeIn(other, JSON.stringify({ texts: {} }), 'There is no car in it.');
  }
  await other.page.evaluate(() => { location.hash = '#sheet'; });
  await other.seeAnswer();
  assert.deepEqual(other.complaints, []);
});

test('no room for what a file brings, or for its photos: it is told, what stands there stays, and with room it comes', async (t) => {
  const one = await withCar(t, 'brought car');
  const file = JSON.parse(await saveAll(one));
  file.photos = { [`${Object.keys(file.cars)[0]}/heater flow`]: `data:image/png;base64,${Buffer.from(await picture(one)).toString('base64')}` };
  const other = await withCar(t, 'own car');
  const haveRoomFor = (which) => other.page.evaluate((which) => { globalThis.hasRoomFor = which; }, which);
  await other.page.evaluate(() => {
    const { put } = IDBObjectStore.prototype;
    IDBObjectStore.prototype.put = function (...what) {
      if (!globalThis.hasRoomFor.includes(this.name)) throw new DOMException('full', 'QuotaExceededError');
      return put.apply(this, what);
    };
  });
  const notAll = 'Not all of the file was taken in: keep it, and take it in again.';
  for (const which of [[], ['cars', 'summaries', 'revisions']]) {
    await haveRoomFor(which);
    await takeIn(other, JSON.stringify(file), notAll);
    await other.hear(/^The storage of this phone is full/);
    assert.deepEqual(await names(other), which.length ? ['brought car', 'own car'] : ['own car']);
  }
  await haveRoomFor(['cars', 'summaries', 'revisions', 'photos']);
  await takeIn(other, JSON.stringify(file), 'Stood here already: brought car.');
  const photos = async () => Object.keys((await stored(other)).photos);
  assert.deepEqual(await photos(), Object.keys(file.photos));
  // Taken away, brought anew and then brought back by "Undo": what stands there by then stays.
  await row(other, 'brought car').getByRole('button', { name: /^More/ }).click();
  await row(other, 'brought car').getByRole('button', { name: 'Take it away' }).click();
  await other.page.getByRole('button', { name: 'Undo' }).waitFor();
  await one.page.clock.setFixedTime(new Date(Date.now() + 600_000));
  await callIt(one, 'brought later');
  await untilKept(one, 'brought later');
  await takeIn(other, await saveAll(one), 'Taken in: brought later.');
  await other.page.getByRole('button', { name: 'Undo' }).click();
  await other.page.getByRole('button', { name: 'Undo' }).waitFor({ state: 'detached' });
  assert.deepEqual([await names(other), await photos()], [['brought later', 'own car'], Object.keys(file.photos)]);
  assert.deepEqual(other.complaints, []);
});
