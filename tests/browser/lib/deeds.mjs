// The same deeds in each engine: the page starts, answers, hands on, keeps, does without its host, shows the whole car, and
// its solver answers to the last bit as it does without a browser.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { readFile } from 'node:fs/promises';
import { resolve } from 'node:path';
import { after, before, test } from 'node:test';
import { WIDTH } from './engines.mjs';
import { Person } from './person.mjs';
import { serve } from './server.mjs';
import { DIST } from './workshop.mjs';

const ROOT = resolve(import.meta.dirname, '../../..');
const AS_IT_COMES = '480 mm, 18 7/8 in';
const SEAT = ['Spigot A', 'how far the hose goes on'];

/** Whether the page is kept: until the service worker is at work, and not only about to be. Firefox waits half a minute for
    one whose page has left meanwhile. */
const isKept = async () => (await navigator.serviceWorker.ready).active.state === 'activated';

/** What the solver worker posts at the end of a job, as base64, which every driver can hand over. */
const askWorker = (job, car) => new Promise((done) => {
  const worker = globalThis.startSolverWorker();
  worker.onmessage = ({ data }) => {
    // As web/src/solver/messages.rs packs them: 0 is its first word, 1 the answer of a run, 2 a refusal, 4 that of a car.
    if (data[0] === 0) {
      const text = new TextEncoder().encode(job);
      const question = new Uint8Array(9 + text.length);
      new DataView(question.buffer).setUint32(4, text.length, true);
      question.set(text, 8);
      question[8 + text.length] = Number(car);
      worker.postMessage(question);
    }
    if (![1, 2, 4].includes(data[0])) return;
    worker.terminate();
    done(btoa(Array.from(data, (byte) => String.fromCharCode(byte)).join('')));
  };
});

/** The same bytes, worked out by this machine itself. */
function askNative(job, car) {
  const told = ['run', '--quiet', '--locked', '--package', 'web', '--example', 'told', car ? 'car' : 'run'];
  return execFileSync(process.env.CARGO ?? 'cargo', told, { cwd: ROOT, input: job, maxBuffer: 2 ** 28, stdio: ['pipe', 'pipe', 'inherit'] });
}

/** Every deed in this engine. */
export function everyDeed(engine) {
  let host;
  before(async () => { host = await serve(DIST); });
  after(() => host.stop());

  /** Somebody with an empty browser who has seen the answer. */
  async function somebody(t, { at = '', ...settings } = {}) {
    const person = await Person.come(t, engine, settings);
    await person.go(`${host.address}${at}`);
    await person.hear('Cut length: ');
    return person;
  }

  test(`${engine}: the page starts under its policy, answers, and the engine complains of nothing`, async (t) => {
    host.asked.length = 0;
    const person = await somebody(t);
    await person.seeCutLength(AS_IT_COMES);
    await person.until('the service worker at work', isKept);
    const modules = host.asked.filter((path) => path.endsWith('.wasm')).length;
    assert.equal(modules, 2, 'one serves page and worker, one is kept for times without a host');
    assert.deepEqual(person.complaints, []);
    assert.equal(await person.tab.ask(() => `${innerWidth}x${innerHeight}`), '360x640');

    // Whether a complaint would have been heard, and whether the policy holds.
    await person.tab.ask(() => {
      const inline = document.createElement('script');
      inline.textContent = 'globalThis.ran = true';
      document.body.append(inline);
      console.error('said by the page');
      setTimeout(() => { throw new Error('thrown by the page'); });
    });
    const heard = (what) => person.complaints.some((complaint) => what.test(complaint));
    while (![/script-src/, /said by the page/, /thrown by the page/].every(heard)) await person.tab.ask(() => true);
    assert.equal(await person.tab.ask(() => 'ran' in globalThis), false, 'an inline script must not run');
  });

  test(`${engine}: what is typed is answered anew`, async (t) => {
    const person = await somebody(t);
    await person.type(...SEAT, '40');
    await person.seeCutLength('490 mm, 19 5/16 in');
    await person.press('Longer by 1 mm');
    await person.seeCutLength('491 mm');
    assert.deepEqual(person.complaints, []);
  });

  test(`${engine}: a link opens to the same answer with another person`, async (t) => {
    const sender = await somebody(t);
    await sender.type(...SEAT, '41,3');
    await sender.seeCutLength('495 mm, 19 1/2 in');
    const link = await sender.reads(null, 'This run as a link');
    assert.ok(link.startsWith(`${host.address}#`), link);
    const other = await somebody(t, { at: link.slice(host.address.length) });
    await other.seeCutLength('495 mm, 19 1/2 in');
    assert.equal(await other.reads(...SEAT), '41.3 mm');
    assert.equal(await other.tab.ask(() => location.hash), '');
    assert.deepEqual([...sender.complaints, ...other.complaints], []);
  });

  test(`${engine}: after one visit the page starts and answers with its host gone, in a browser started again as well`, async (t) => {
    const own = await serve(DIST);
    const person = await Person.come(t, engine);
    await person.go(own.address);
    await person.hear('Cut length: ');
    await person.until('the service worker at work', isKept);
    await own.stop();
    await assert.rejects(fetch(own.address), 'the host refuses connections');
    await person.go(`${own.address}?x=1`);
    await person.seeCutLength(AS_IT_COMES);
    await person.startBrowserAgain();
    await person.go(own.address);
    await person.type(...SEAT, '40');
    await person.seeCutLength('490 mm, 19 5/16 in');
    assert.deepEqual(person.complaints, []);
  });

  test(`${engine}: what was typed is there after a reload and in a browser started again`, async (t) => {
    const person = await somebody(t);
    await person.type('Spigot A', 'name', 'rail by the bulkhead');
    await person.type(...SEAT, '40');
    for (const again of [() => {}, () => person.startBrowserAgain()]) {
      await again();
      await person.go(host.address);
      await person.seeCutLength('490 mm, 19 5/16 in');
      assert.equal(await person.reads('Spigot A', 'name'), 'rail by the bulkhead');
    }
    assert.deepEqual(person.complaints, []);
  });

  test(`${engine}: a safe start reads nothing that is stored, and the page goes on with it`, async (t) => {
    const person = await somebody(t);
    await person.type('Spigot A', 'name', 'rail by the bulkhead');
    await person.go(`${host.address}#safe`);
    await person.hear('Started without what is stored on this phone');
    await person.seeCutLength(AS_IT_COMES);
    assert.equal(await person.reads('Spigot A', 'name'), 'water rail');
    await person.press('Go on with what is stored');
    await person.until('an ordinary start', () => !('isSafe' in globalThis) && document.querySelector('h1') !== null);
    await person.seeCutLength(AS_IT_COMES);
    assert.equal(await person.reads('Spigot A', 'name'), 'rail by the bulkhead');
    assert.deepEqual(person.complaints, []);
  });

  test(`${engine}: a file of the kept copy that is altered comes again from the host`, async (t) => {
    const person = await somebody(t);
    await person.until('the service worker at work', isKept);
    const alter = async (ending) => {
      const cache = await caches.open((await caches.keys())[0]);
      const { url } = (await cache.keys()).find(({ url }) => new URL(url).pathname.endsWith(ending));
      const { headers } = await cache.match(url);
      await cache.put(url, new Response('altered', { headers }));
      return true;
    };
    for (const ending of ['_bg.wasm', '/']) {
      assert.ok(await person.tab.ask(alter, ending));
      await person.go(host.address);
      await person.seeCutLength(AS_IT_COMES);
    }
    assert.deepEqual(person.complaints, []);
  });

  // In WebKitGTK the lock of an ended worker was not let go within five minutes.
  if (engine !== 'webkit') {
    test(`${engine}: a solver worker that the browser ends is noticed`, async (t) => {
      const person = await somebody(t);
      const end = () => new Promise((done) => {
        const worker = globalThis.startSolverWorker();
        worker.addEventListener('error', ({ message }) => done(message));
        worker.addEventListener('message', () => worker.terminate(), { once: true });
      });
      assert.equal(await person.tab.ask(end), 'the browser ended it');
    });
  }

  test(`${engine}: a browser that lets no page store anything: one sentence says so, and the page works`, async (t) => {
    const person = await somebody(t, { keeps: false });
    const stores = () => {
      try {
        localStorage.setItem('x', 'y');
        return true;
      } catch {
        return false;
      }
    };
    assert.equal(await person.tab.ask(stores), false, 'this browser stores nothing');
    await person.type(...SEAT, '40');
    await person.seeCutLength('490 mm, 19 5/16 in');
    await person.hear('This phone keeps nothing');
  });

  test(`${engine}: the example car has its picture, its list to buy, its order of work and its filling`, async (t) => {
    const person = await somebody(t);
    const fits = async (where) => assert.ok(await person.tab.ask(() => document.documentElement.scrollWidth) <= WIDTH, `${where} is no wider than the phone`);
    await fits('the sheet');
    await person.press('Show the example car');
    for (const [place, head, ...within] of [
      ['Car', 'The car', 'Coolant goes round'],
      ['Buy', 'What to buy', 'Which piece from which length'],
      ['Fit', 'Order of work', 'Take off, in this order', 'Put on, in this order'],
      ['Fill', 'Fill and prove', 'Step by step'],
    ]) {
      await person.press(place);
      await person.until(`the head "${head}"`, (head) => [...document.querySelectorAll('h1, h2')].some((each) => each.textContent.trim() === head), head);
      for (const words of within) await person.hear(words);
      await fits(place);
    }
    assert.deepEqual(person.complaints, []);
  });

  for (const [file, car] of [['example.json', false], ['car.json', true]]) {
    test(`${engine}: the solver answers ${file} to the last bit as without a browser`, async (t) => {
      const job = await readFile(resolve(ROOT, 'tests/cases', file), 'utf8');
      const person = await somebody(t);
      const here = Buffer.from(await person.tab.ask(askWorker, job, car), 'base64');
      const native = askNative(job, car);
      assert.ok(native.length > 10_000, `${native.length} bytes are an answer`);
      const first = here.findIndex((byte, i) => byte !== native[i]);
      assert.ok(here.equals(native), `${here.length} bytes here, ${native.length} there; the first that differs is byte ${first}`);
    });
  }
}
