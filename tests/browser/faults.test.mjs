// What goes wrong with the kept copy of the page or with the solver ends in a working page or a clear sentence. With the storage:
// store_faults.test.mjs.
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

const SINGLE = [/\/$/, /_bg\.wasm$/, /hosewright-[0-9a-f]+\.js$/, /boot-.*\.js$/, /first-.*\.js$/, /safe-.*\.js$/, /style-.*\.css$/, /icon-512\.png$/];

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
    for (const [language, said] of [['de', /weggeworfen/], ['es', /ha desechado su copia/]]) {
      await person.page.locator(`p[lang=${language}]`).filter({ hasText: said }).waitFor();
    }
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
  // The page's own comes, no worker's does: how many are tried is not counted, since the one started early may break before it is.
  let [asked, isHeld] = [0, true];
  await person.page.context().route(/hosewright-[0-9a-f]+\.js/, (route) => {
    asked += 1;
    return asked > 1 && isHeld ? route.abort() : route.continue();
  });
  await person.comeBack();
  assert.match(await person.seeAlert(), /^The solver stopped: /);
  isHeld = false;
  await person.type('Spigot A', 'how far the hose goes on', '40');
  await person.seeCutLength(LONGER);
});

test('work that takes too long can be stopped, and the next change is answered', async (t) => {
  const person = await workshop.visit({ ...SMALL_PHONE, at: 'no-such-page' });
  t.after(() => person.leave());
  const { page } = person;
  // A solver that never comes to an end: what it is asked does not reach it.
  await page.addInitScript(() => {
    const { postMessage } = Worker.prototype;
    Worker.prototype.postMessage = function (...said) {
      if (said[0].glueUrl || said[0] instanceof WebAssembly.Module || !globalThis.isStuck) postMessage.apply(this, said);
    };
    globalThis.isStuck = true;
  });
  await page.goto(workshop.host.address);
  const halt = page.getByRole('button', { name: 'Stop it' });
  await halt.waitFor();
  await halt.click();
  await page.getByText('The solver stopped: it was told to.').waitFor();
  await page.evaluate(() => { globalThis.isStuck = false; });
  await person.type('Spigot A', 'how far the hose goes on', '34');
  await person.seeAnswer();
});
