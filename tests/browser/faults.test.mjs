// What goes wrong with the kept copy, the storage, the solver or the clock ends in a working page or a clear sentence.
import assert from 'node:assert/strict';
import { appendFile, cp, readFile, readdir, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { after, before, test } from 'node:test';
import { ownHost, publishNext } from './lib/own_host.mjs';
import { serve } from './lib/server.mjs';
import { SMALL_PHONE, openWorkshop } from './lib/workshop.mjs';

let workshop;
before(async () => { workshop = await openWorkshop(); });
after(() => workshop.close());
const visit = (t, settings) => workshop.person(t, settings);

const EXAMPLE = '480 mm, 18 7/8 in';
const LONGER = '490 mm, 19 5/16 in';
const SAFE_START = 'Start without what is stored';

/** A person whose browser has the whole page of a host of its own. */
async function keptCopy(t) {
  const { own, folder } = await ownHost(t);
  const person = await own.visit(SMALL_PHONE);
  await person.seeAnswer();
  await person.untilOffline();
  return {
    person,
    folder,
    goes: () => own.host.stop(),
    async comesBack() {
      const again = await serve(folder, { port: own.host.port });
      t.after(() => again.stop());
    },
  };
}

/** How many files of the page the browser keeps. */
const countKept = (person) => person.page.evaluate(async () => {
  const names = await caches.keys();
  const counts = await Promise.all(names.map(async (name) => (await (await caches.open(name)).keys()).length));
  return counts.reduce((sum, count) => sum + count, 0);
});

/** Waits until the browser keeps so many files of the page. */
async function untilKeepsFiles(person, count) {
  for (let i = 0; i < 100 && await countKept(person) !== count; i += 1) await person.page.waitForTimeout(50);
  assert.equal(await countKept(person), count);
}

/** Takes files out of the kept copy, or puts another content in their place. */
const spoilKept = (person, pattern, content) => person.page.evaluate(async ([pattern, content]) => {
  let found = 0;
  for (const name of await caches.keys()) {
    const cache = await caches.open(name);
    for (const { url } of await cache.keys()) {
      if (!new RegExp(pattern).test(new URL(url).pathname)) continue;
      found += 1;
      const { headers } = await cache.match(url);
      if (content === null) await cache.delete(url);
      else await cache.put(url, new Response(content, { headers }));
    }
  }
  if (found !== 1) throw new Error(`${found} files like ${pattern}`);
}, [pattern.source, content ?? null]);

const SINGLE = [/\/$/, /_bg\.wasm$/, /hosewright-[0-9a-f]+\.js$/, /boot-.*\.js$/, /safe-.*\.js$/, /style-.*\.css$/, /icon-512\.png$/];

test('the host ends half way through the copy: the page works with its host, and the next visit completes the copy', async (t) => {
  const { own, folder } = await ownHost(t);
  // The first module is the page's own, the second the copy's.
  own.host.endsHalfWay = (path, times) => path.endsWith('icon-512.png') || path.endsWith('.wasm') && times > 1;
  const person = await own.visit(SMALL_PHONE);
  await person.seeAnswer();
  assert.equal(await person.canKeepOffline(), false);
  await person.type('Spigot A', 'how far the hose goes on', '40');
  await person.seeCutLength(LONGER);
  await person.untilStored('40');
  const port = own.host.port;
  await own.host.stop();
  const again = await serve(folder, { port });
  await person.comeBack();
  await person.seeCutLength(LONGER);
  await person.untilOffline();
  assert.equal(again.asked.filter((path) => path.endsWith('style.css')).length, 0, 'what had come is not fetched again');
  await again.stop();
  await person.comeBack();
  await person.seeCutLength(LONGER);
});

// Of the glue the browser asks twice: its preload is not tried again, the import is.
for (const [what, file, most] of [['module', /\.wasm$/, 1], ['glue script', /hosewright-[0-9a-f]+\.js$/, 2]]) {
  test(`the host ends half way through the ${what} of the first visit: a sentence says so, and a reload brings the page`, async (t) => {
    const { own } = await ownHost(t);
    own.host.endsHalfWay = (path, times) => file.test(path) && times <= most;
    const person = await own.visit(SMALL_PHONE);
    assert.match(await person.seeAlert(), /^Hosewright could not start: .+Reload the page/);
    await person.comeBack();
    await person.seeCutLength(EXAMPLE);
  });
}

for (const [what, content] of [['missing', undefined], ['altered', 'altered']]) {
  test(`any file of the kept copy ${what}: the host gives it again without a word`, async (t) => {
    const { person, goes } = await keptCopy(t);
    const all = await countKept(person);
    for (const file of SINGLE) {
      await spoilKept(person, file, content);
      await person.comeBack();
      await person.seeCutLength(EXAMPLE);
      // What is altered of a picture is found when it is asked for, and what was found is fetched with the next visit.
      await person.page.evaluate(() => fetch('icon-512.png').then((it) => it.blob()));
      await person.comeBack();
      await untilKeepsFiles(person, all);
    }
    await goes();
    await person.comeBack();
    await person.seeCutLength(EXAMPLE);
    assert.deepEqual(person.complaints, []);
  });

  test(`a file of the kept copy ${what} and the host gone: a sentence says so, and nothing is wrong once it is back`, async (t) => {
    const { person, goes, comesBack } = await keptCopy(t);
    await goes();
    await spoilKept(person, /icon-512\.png$/, content);
    await person.comeBack();
    await person.seeCutLength(EXAMPLE);
    await spoilKept(person, /_bg\.wasm$/, content);
    await person.comeBack();
    assert.match(await person.seeAlert(), /^Hosewright could not start: .+\. What is stored on this phone stays\. Reload the page/);
    await spoilKept(person, /\/$/, content);
    await person.comeBack();
    await person.hear(/thrown away its copy of Hosewright, and the host of the page cannot be reached/);
    await comesBack();
    await person.comeBack();
    await person.seeCutLength(EXAMPLE);
  });
}

test('a file of the kept copy missing and the host on to a newer version: that one comes, whole', async (t) => {
  const { person, folder, goes } = await keptCopy(t);
  // Another style under another name; the old one is on the host no more.
  const style = (await readdir(folder)).find((name) => name.endsWith('.css'));
  await cp(join(folder, style), join(folder, 'style-next.css'));
  await rm(join(folder, style));
  const worker = await readFile(join(folder, 'sw.js'), 'utf8');
  await writeFile(join(folder, 'sw.js'), worker.replace(style, 'style-next.css'));
  await publishNext(folder, [['index.html', style, 'style-next.css']]);
  await spoilKept(person, /style-.*\.css$/);
  await person.comeBack();
  await person.seeCutLength(EXAMPLE);
  assert.equal(await person.page.title(), 'Next Hosewright');
  await person.press('Switch now');
  await person.page.waitForFunction(async () => (await caches.keys()).join() === 'hosewright-next');
  await person.seeCutLength(EXAMPLE);
  await goes();
  await person.comeBack();
  await person.seeCutLength(EXAMPLE);
});

test('a start script or style that the host has altered: the page works without the style, and says that it does not start', async (t) => {
  const { own, folder } = await ownHost(t);
  const alter = async (name) => appendFile(join(folder, (await readdir(folder)).find((each) => name.test(each))), '\n');
  await alter(/^style-/);
  const person = await own.visit(SMALL_PHONE);
  await person.hearComplaint(/in the 'integrity' attribute/);
  await person.seeCutLength(EXAMPLE);
  assert.equal(await person.page.getByText('has not started yet').count(), 0);
  await person.leave();
  await alter(/^boot-/);
  const other = await own.visit(SMALL_PHONE);
  t.after(() => other.leave());
  await other.hear(/^Hosewright has not started yet/);
  await other.page.getByRole('link', { name: SAFE_START }).click();
  await other.page.waitForURL(/\?#safe$/);
  await other.hear(/^Hosewright has not started yet/);
});

test('an altered script of the safe start: the page does not reach what is stored', async (t) => {
  const { own, folder } = await ownHost(t);
  const person = await own.visit({ ...SMALL_PHONE, serviceWorkers: 'block' });
  t.after(() => person.leave());
  await person.seeAnswer();
  await appendFile(join(folder, (await readdir(folder)).find((each) => each.startsWith('safe-'))), '\n');
  await person.comeBack('#safe');
  assert.match(await person.seeAlert(), /could not start: a part of it did not come/);
  await person.comeBack();
  await person.seeCutLength(EXAMPLE);
});

/** Works on the cars that are kept, from a file of the same host, where no script of the page runs. */
async function atStored(person, deed, given) {
  const page = await person.page.context().newPage();
  await page.goto(new URL('hosewright.webmanifest', person.page.url()).href);
  try {
    return await page.evaluate(`(async () => {
      const wait = (request) => new Promise((done, failed) => {
        request.onsuccess = () => done(request.result);
        request.onerror = () => failed(request.error);
      });
      return (${deed})(wait, ${JSON.stringify(given) ?? 'undefined'});
    })()`);
  } finally {
    await page.close();
  }
}

/** All that is stored. */
const stored = (person) => atStored(person, async (wait) => {
  const all = { texts: { ...localStorage } };
  if (!(await indexedDB.databases()).some(({ name }) => name === 'hosewright')) return all;
  const base = await wait(indexedDB.open('hosewright'));
  for (const name of base.objectStoreNames) {
    const store = base.transaction(name).objectStore(name);
    const [keys, values] = [await wait(store.getAllKeys()), await wait(store.getAll())];
    all[name] = Object.fromEntries(keys.map((key, i) => [key, values[i]]));
  }
  base.close();
  return all;
});

/** Waits until a car that is kept says this. */
async function untilKept(person, words) {
  for (let i = 0; i < 60; i += 1) {
    if (JSON.stringify((await stored(person)).cars ?? {}).includes(words)) return;
    await person.page.waitForTimeout(100);
  }
  assert.fail(`no car with ${words}`);
}

/** Names the car at hand on its sheet. */
async function callIt(person, name) {
  await person.page.evaluate(() => { location.hash = '#sheet'; });
  const field = person.page.getByLabel('the car', { exact: true });
  if (!await field.isVisible()) await person.page.getByText('The run', { exact: true }).click();
  await field.fill(name);
}

const toCars = async (person) => {
  await person.page.evaluate(() => { location.hash = '#cars'; });
  await person.page.getByRole('heading', { name: 'Cars kept on this phone' }).waitFor();
};

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

/** Workers that a spec can spoil: `spoil.script` takes the place of their script, `spoil.breaks` are words they break on, `spoil.last` is the newest. */
const spoilWorkers = (person) => person.page.addInitScript(() => {
  globalThis.spoil = { asked: 0 };
  const Sound = globalThis.Worker;
  globalThis.Worker = class extends Sound {
    constructor(script, options) {
      super(globalThis.spoil.script ?? script, options);
      globalThis.spoil.last = this;
    }
    postMessage(message, ...others) {
      const { spoil } = globalThis;
      if (message instanceof Uint8Array) spoil.asked += 1;
      const breaks = spoil.breaks && message instanceof Uint8Array && new TextDecoder().decode(message).includes(spoil.breaks);
      if (breaks) return void this.dispatchEvent(new ErrorEvent('error', { message: 'unreachable' }));
      super.postMessage(message, ...others);
      if (message instanceof Uint8Array && spoil.ends) { spoil.ends = false; this.terminate(); }
    }
  };
});

test('the browser ends the solver at work: the page says so, and another answers the next question', async (t) => {
  const person = await visit(t);
  await spoilWorkers(person);
  await person.comeBack();
  await person.seeAnswer();
  await person.page.evaluate(() => { globalThis.spoil.ends = true; });
  await person.type('Spigot A', 'name', 'ended over this');
  assert.match(await person.seeAlert(), /^The solver stopped: the browser ended it/);
  await person.type('Spigot A', 'how far the hose goes on', '40');
  await person.seeCutLength(LONGER);
});

test('the browser ends the solver at rest: another answers the next question without a word', async (t) => {
  const person = await visit(t);
  await spoilWorkers(person);
  await person.comeBack();
  await person.seeAnswer();
  await person.page.evaluate(() => { globalThis.spoil.last.terminate(); });
  await person.page.waitForTimeout(300); // as long as it may take to notice
  await person.type('Spigot A', 'how far the hose goes on', '40');
  await person.seeCutLength(LONGER);
  assert.equal(await person.page.getByRole('alert').count(), 0);
});

test('a job on which the solver broke is tried again by whoever comes back to it, and no other answer stands for it', async (t) => {
  const person = await visit(t);
  await spoilWorkers(person);
  await person.comeBack();
  await person.seeAnswer();
  await person.page.evaluate(() => { globalThis.spoil.breaks = 'break on this'; });
  await person.type('Spigot A', 'name', 'break on this');
  assert.match(await person.seeAlert(), /^The solver stopped: unreachable/);
  await person.type('Spigot A', 'name', 'sound');
  await person.seeAnswer();
  await person.type('Spigot A', 'name', 'break on this');
  assert.match(await person.seeAlert(), /^The solver stopped: unreachable/);
  await person.page.evaluate(() => { globalThis.spoil.breaks = undefined; });
  await person.type('Spigot A', 'name', 'sound again');
  await person.seeAnswer();
});

for (const [what, script] of [['does not come', './none.js'], ['breaks', './icon.svg']]) {
  test(`the script of the solver ${what}: the page says so, and tries again with the next change`, async (t) => {
    const person = await visit(t, { ...SMALL_PHONE, serviceWorkers: 'block' });
    await spoilWorkers(person);
    await person.page.addInitScript((script) => { globalThis.spoil.script = script; }, script);
    await person.comeBack();
    assert.match(await person.seeAlert(), /^The solver stopped: /);
    await person.page.evaluate(() => { globalThis.spoil.script = undefined; });
    await person.type('Spigot A', 'how far the hose goes on', '40');
    await person.seeCutLength(LONGER);
  });
}

test('what the solver runs on does not come: the page says so, and tries again with the next change', async (t) => {
  const person = await visit(t, { ...SMALL_PHONE, serviceWorkers: 'block' });
  let asked = 0;
  const isRight = (nth) => nth === 1 || nth > 4; // the page's own comes, three workers' do not
  await person.page.context().route(/hosewright-[0-9a-f]+\.js/, (route) => { asked += 1; return isRight(asked) ? route.continue() : route.abort(); });
  await person.comeBack();
  assert.match(await person.seeAlert(), /^The solver stopped: /);
  await person.type('Spigot A', 'how far the hose goes on', '40');
  await person.seeCutLength(LONGER);
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
    await person.hear(new RegExp(`^${name}: `));
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
  assert.equal(file.suggestedFilename(), 'hosewright-stored.json');
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
  assert.deepEqual(nothing, { texts: {}, missing: [] });
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
