// What goes wrong with the storage, the clock or between two tabs ends in a working page or a clear sentence; the safe start.
import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { after, before, test } from 'node:test';
import { ownHost, publishNext } from './lib/own_host.mjs';
import { atStored, callIt, stored, toCars, untilKept } from './lib/stored.mjs';
import { SMALL_PHONE, openWorkshop } from './lib/workshop.mjs';

let workshop;
before(async () => { workshop = await openWorkshop(); });
after(() => workshop.close());
const visit = (t) => workshop.person(t);

const EXAMPLE = '480 mm, 18 7/8 in';
const LONGER = '490 mm, 19 5/16 in';
const SAFE_START = 'Start without what is stored';

/** Has the browser throw away kinds of storage, as it may when the phone is short of room. */
async function evict(person, kinds) {
  const tab = await person.page.context().newCDPSession(person.page);
  const origin = new URL(person.page.url()).origin;
  await tab.send('Storage.clearDataForOrigin', { origin, storageTypes: kinds.join() });
  await tab.detach();
}

const KINDS = ['cache_storage', 'indexeddb', 'local_storage'];
const COMBINATIONS = Array.from({ length: 7 }, (_, i) => KINDS.filter((_, bit) => (i + 1) >> bit & 1));

for (const isOpen of [false, true]) {
  test(`the browser throws storage away with the page ${isOpen ? 'open' : 'closed'}, in any combination: the page works, and keeps what comes next`, async (t) => {
    for (const kinds of COMBINATIONS) {
      await t.test(kinds.join(', '), async (t) => {
        const person = await visit(t);
        await person.untilOffline();
        await callIt(person, 'before');
        await untilKept(person, 'before');
        if (isOpen) {
          await evict(person, kinds);
          await callIt(person, 'in between');
          await untilKept(person, 'in between');
          await person.comeBack();
          await person.seeCutLength(EXAMPLE);
          assert.equal((await person.job()).car, 'in between');
        } else {
          await person.page.goto(new URL('hosewright.webmanifest', person.page.url()).href);
          await evict(person, kinds);
          await person.comeBack();
          await person.seeCutLength(EXAMPLE);
          const atHand = !kinds.includes('local_storage');
          if (atHand) assert.equal((await person.job()).car, 'before');
          await toCars(person);
          if (atHand || !kinds.includes('indexeddb')) await person.page.locator('.cars > li').filter({ hasText: 'before' }).waitFor();
          else await person.hear('None yet.');
        }
        await callIt(person, 'after');
        await untilKept(person, 'after');
        await person.comeBack();
        await person.seeCutLength(EXAMPLE);
        assert.equal((await person.job()).car, 'after');
        assert.deepEqual(person.complaints, []);
      });
    }
  });
}

for (const [name, said] of [['UnknownError', 'The browser lost its storage'], ['AbortError', 'The browser lost its storage'],
  ['QuotaExceededError', 'The storage of this phone is full'], ['InvalidAccessError', 'This browser does not let the page keep more']]) {
  test(`storage that fails to open with ${name}: one sentence says so, and the page works`, async (t) => {
    const person = await visit(t);
    await person.page.addInitScript((name) => {
      IDBFactory.prototype.open = () => {
        const request = new EventTarget();
        Object.assign(request, { error: new DOMException('no', name) });
        setTimeout(() => request.onerror?.(new Event('error')));
        return request;
      };
    }, name);
    await person.comeBack('#cars');
    await person.hear(said);
    await callIt(person, 'typed all the same');
    await person.untilStored('typed all the same');
    await person.comeBack();
    await person.seeCutLength(EXAMPLE);
    assert.equal((await person.job()).car, 'typed all the same');
    assert.deepEqual(person.complaints, []);
  });
}

test('the phone has no room: the browser ends the save, one sentence says so, and what was typed is kept once there is room', async (t) => {
  const person = await visit(t);
  await person.untilOffline();
  const tab = await person.page.context().newCDPSession(person.page);
  const { origin } = new URL(person.page.url());
  await tab.send('Storage.overrideQuotaForOrigin', { origin, quotaSize: 1 });
  await callIt(person, 'without room');
  await person.hear('The storage of this phone is full');
  await person.comeBack();
  await person.seeCutLength(EXAMPLE);
  assert.equal((await person.job()).car, 'without room');
  await tab.send('Storage.overrideQuotaForOrigin', { origin });
  await callIt(person, 'room again');
  await untilKept(person, 'room again');
  assert.equal(await person.page.getByText('The storage of this phone is full').count(), 0);
});

/** Another tab of the same host, which does something to the cars that are kept and goes on with it until `release`. */
async function otherTab(person, deed) {
  const page = await person.page.context().newPage();
  await page.goto(new URL('hosewright.webmanifest', person.page.url()).href);
  await page.evaluate(deed);
  return { release: () => page.close() };
}

test('another tab holds the storage: a sentence says so, and what was typed is kept once it lets go', async (t) => {
  const person = await visit(t);
  await callIt(person, 'before');
  await untilKept(person, 'before');
  const other = await otherTab(person, () => new Promise((holds) => {
    const opening = indexedDB.open('hosewright');
    opening.onsuccess = () => {
      const work = opening.result.transaction([...opening.result.objectStoreNames], 'readwrite');
      const on = () => { work.objectStore('cars').get('x').onsuccess = on; };
      on();
      holds();
    };
  }));
  await toCars(person);
  await person.hear('The browser lost its storage'); // not even the list comes
  await callIt(person, 'typed meanwhile');
  await person.seeCutLength(EXAMPLE);
  await other.release();
  await untilKept(person, 'typed meanwhile');
  await person.page.getByText('The browser lost its storage').waitFor({ state: 'detached' });
});

test('another tab blocks the opening: a sentence says so, and the cars come once it lets go', async (t) => {
  const person = await visit(t);
  await callIt(person, 'before');
  await untilKept(person, 'before');
  await person.page.goto(new URL('hosewright.webmanifest', person.page.url()).href);
  const other = await otherTab(person, () => new Promise((blocks) => {
    const opening = indexedDB.open('hosewright');
    opening.onsuccess = () => {
      globalThis.held = opening.result;
      indexedDB.deleteDatabase('hosewright').onblocked = blocks;
    };
  }));
  await person.comeBack();
  await person.seeCutLength(EXAMPLE);
  await toCars(person);
  await person.hear('The browser lost its storage');
  await other.release();
  await person.page.locator('.cars > li').filter({ hasText: 'before' }).waitFor();
});

test('the clock of the phone goes by years, back and forth: every car is kept, listed and can be brought back', async (t) => {
  const person = await visit(t);
  const at = async (date, name) => {
    await person.page.clock.setFixedTime(new Date(date));
    await person.comeBack();
    await person.seeAnswer();
    await callIt(person, name);
    await untilKept(person, name);
  };
  await at('2026-06-01T12:00', 'first');
  await at('2049-01-01T12:00', 'far ahead');
  await at('1999-01-01T12:00', 'far behind');
  await at('2026-06-02T12:00', 'right again');
  assert.equal(Object.keys((await stored(person)).cars).length, 1, 'it is one car');
  await toCars(person);
  const row = person.page.locator('.cars > li');
  assert.match(await row.textContent(), /right again2026-06-02, 12:00/);
  await row.getByRole('button', { name: /^More/ }).click();
  for (const [day, name] of [['1999-01-01', 'far behind'], ['2049-01-01', 'far ahead'], ['2026-06-01', 'first']]) {
    await person.hear(`As it was at 12:00 (${day})`);
    await person.hear(new RegExp(`^${name} · `));
  }
  await person.page.getByRole('button', { name: 'Bring it back' }).first().click();
  await untilKept(person, 'far behind');
  await toCars(person);
  await person.press('New car');
  await person.press('Begin with a plain car');
  await person.page.clock.setFixedTime(new Date('1970-01-01T00:00'));
  await callIt(person, 'at the beginning');
  await untilKept(person, 'at the beginning');
  await toCars(person);
  await person.page.waitForFunction(() => document.querySelectorAll('.cars > li').length === 2);
  assert.deepEqual(person.complaints, []);
});

test('two tabs over an update: what was just typed in the one that did not ask goes along', async (t) => {
  const { own, folder } = await ownHost(t);
  const person = await own.visit(SMALL_PHONE);
  await person.seeAnswer();
  await person.untilOffline();
  const other = await person.anotherTab();
  await other.seeAnswer();
  await publishNext(folder);
  await person.comeBack();
  await person.hear('A new version is ready');
  await callIt(other, 'typed in the other');
  await person.press('Switch now'); // sooner than the pause after which typing is stored
  for (const tab of [person, other]) {
    await tab.page.waitForFunction(() => document.title === 'Next Hosewright');
    await tab.seeCutLength(EXAMPLE);
  }
  assert.equal((await other.job()).car, 'typed in the other');
  await untilKept(other, 'typed in the other');
  assert.deepEqual([...person.complaints, ...other.complaints], []);
});

test('all that is stored is of a newer build: the page works, says so, and leaves all of it as it is', async (t) => {
  const person = await visit(t);
  const page = person.page;
  await page.goto(new URL('hosewright.webmanifest', page.url()).href);
  await page.evaluate(() => new Promise((done, failed) => {
    localStorage.setItem('hosewright.last', '9 {"from":"the future"}');
    localStorage.setItem('hosewright.car', 'newer');
    localStorage.setItem('hosewright.before', '9 {"from":"the future, too"}');
    const opening = indexedDB.open('hosewright', 9);
    opening.onupgradeneeded = () => {
      for (const name of ['cars', 'of a newer build']) opening.result.createObjectStore(name).put('hosewright-car 9 x', 'id');
    };
    opening.onsuccess = () => { opening.result.close(); done(); };
    opening.onerror = failed;
  }));
  await person.comeBack();
  await person.seeCutLength(EXAMPLE);
  await person.hear(/newer version of this page; it was set aside/);
  await person.type('Spigot A', 'how far the hose goes on', '40');
  await person.seeCutLength(LONGER);
  await person.hear('The page was updated in another tab: reload it here.');
  await person.comeBack();
  await person.seeCutLength(LONGER);
  const { texts, ...cars } = await stored(person);
  assert.equal(texts['hosewright.aside'], '9 {"from":"the future"}');
  assert.equal(texts['hosewright.before'], '9 {"from":"the future, too"}');
  assert.deepEqual(cars, { cars: { id: 'hosewright-car 9 x' }, 'of a newer build': { id: 'hosewright-car 9 x' } });
});

/** The file that is saved of what is stored. */
async function savedFile(person) {
  const coming = person.page.waitForEvent('download');
  await person.press('Save what is stored as a file');
  const file = await coming;
  assert.match(file.suggestedFilename(), /^hosewright-stored-\d{4}-\d\d-\d\d\.json$/);
  return JSON.parse(await readFile(await file.path(), 'utf8'));
}

const SAFELY = /^Started without what is stored on this phone: none of it was read or changed/;

test('a safe start reads and changes nothing that is stored, has it as a file, and goes on with it', async (t) => {
  const person = await visit(t);
  await callIt(person, 'stored car');
  await untilKept(person, 'stored car');
  await atStored(person, async (wait) => {
    const base = await wait(indexedDB.open('hosewright'));
    const [id] = await wait(base.transaction('cars').objectStore('cars').getAllKeys());
    const work = base.transaction('photos', 'readwrite');
    work.objectStore('photos').put(new Blob(['a picture'], { type: 'image/png' }), `${id}/heater flow`);
    await new Promise((done) => { work.oncomplete = done; });
    base.close();
  });
  const before = await stored(person);
  await person.comeBack('#safe');
  await person.hear(SAFELY);
  await person.seeCutLength(EXAMPLE);
  await toCars(person);
  await person.hear('None yet.');
  await callIt(person, 'typed in the safe start');
  await toCars(person);
  await person.page.locator('.cars > li').filter({ hasText: 'typed in the safe start' }).waitFor();
  assert.deepEqual(await stored(person), before, 'nothing stored was touched');
  const file = await savedFile(person);
  assert.deepEqual(file.missing, []);
  assert.deepEqual(file.texts, before.texts);
  assert.deepEqual(file.cars, before.cars);
  assert.match(Object.values(file.photos)[0], /^data:image\/png;base64,/);
  await person.page.getByRole('link', { name: 'Go on with what is stored' }).click();
  await person.page.getByText(SAFELY).waitFor({ state: 'detached' });
  await person.seeCutLength(EXAMPLE);
  assert.equal((await person.job()).car, 'stored car');
  assert.deepEqual((await stored(person)).cars, before.cars);
  // The next safe start knows nothing of the one before, and is reached without loading the page by hand, too.
  await person.page.evaluate(() => { location.hash = '#safe'; });
  await person.hear(SAFELY);
  await toCars(person);
  await person.hear('None yet.');
  assert.deepEqual(person.complaints, []);
});

test('a safe start on an empty phone, and on one that refuses storage, works and says what could not be read', async (t) => {
  const person = await visit(t);
  await person.comeBack('#safe');
  await person.hear(SAFELY);
  const nothing = await savedFile(person);
  assert.deepEqual(nothing, { format: 'hosewright-stored', version: 1, texts: {}, missing: [] });
  await person.page.addInitScript(() => {
    const get = () => { throw new DOMException('no', 'SecurityError'); };
    Object.defineProperty(window, 'localStorage', { get, configurable: true });
    IDBFactory.prototype.open = get;
  });
  await person.comeBack('#safe');
  await person.seeCutLength(EXAMPLE);
  assert.equal((await savedFile(person)).missing.length, 2);
  await person.hear(/^The file was saved, but not all could be read: SecurityError/);
  await callIt(person, 'typed all the same');
  await person.seeCutLength(EXAMPLE);
});

test('a page that breaks says so, and leads to the safe start', async (t) => {
  const person = await visit(t);
  await person.page.evaluate(() => { Promise.reject(new WebAssembly.RuntimeError('unreachable')); });
  assert.match(await person.seeAlert(), /^Hosewright broke: unreachable\. What is stored on this phone stays/);
  await person.page.getByRole('link', { name: SAFE_START }).click();
  await person.hear(SAFELY);
  await person.seeCutLength(EXAMPLE);
});
