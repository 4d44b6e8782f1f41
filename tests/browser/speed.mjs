// Measures the built page: what it downloads, how soon it answers, how soon after a key: node tests/browser/speed.mjs [file]
// Beside `cargo bench -p job`, which measures the same solves without a browser. Nothing here passes or fails.
import { readFile, rm, writeFile } from 'node:fs/promises';
import { resolve } from 'node:path';
import { carOf } from './lib/car.mjs';
import { openLighthouse } from './lib/lighthouse.mjs';
import { packedFolder } from './lib/packed.mjs';
import { openWorkshop } from './lib/workshop.mjs';

const SLOW_CPU = 4;
// A weak signal: 150 ms there and back, 1.6 Mbit/s down, 0.75 up (what browsers' own tools call slow 4G).
const SLOW_4G = { offline: false, latency: 150, downloadThroughput: 1.6e6 / 8, uploadThroughput: 0.75e6 / 8 };
const TIMES = 5;

const lines = [];
const say = (line) => { lines.push(line); console.log(line); };
const middle = (times) => times.toSorted((a, b) => a - b)[Math.floor(times.length / 2)];
const told = (name, times, aim) => say(`${name}: median ${middle(times).toFixed(0)} ms of ${times.map((t) => t.toFixed(0)).join(', ')} (aim ${aim} ms)`);

/** Notes, from the start of the page, when an answer of its own is first there, and then every change of it. */
const watch = () => {
  globalThis.answers = [];
  let last = '';
  const look = () => {
    const said = [...document.querySelectorAll('main:not(#first *) .sr')].map((each) => each.textContent).find((text) => text.startsWith('Cut length: '));
    if (said && said !== last) { last = said; globalThis.answers.push(performance.now()); }
  };
  new MutationObserver(look).observe(document, { subtree: true, childList: true, characterData: true });
};

/** A browser that is slowed; `network` too, if told. */
async function slowed(workshop, network) {
  const visit = await workshop.visit({ at: 'no-such-page', viewport: { width: 360, height: 640 }, isMobile: true, hasTouch: true });
  await visit.page.addInitScript(watch);
  const tab = await visit.page.context().newCDPSession(visit.page);
  await tab.send('Emulation.setCPUThrottlingRate', { rate: SLOW_CPU });
  if (network) {
    await tab.send('Network.enable');
    await tab.send('Network.emulateNetworkConditions', network);
  }
  return visit;
}

const firstAnswer = async (page, address) => {
  await page.goto(address);
  await page.waitForFunction(() => globalThis.answers.length > 0);
  return page.evaluate(() => globalThis.answers[0]);
};

say(`# the page, CPU slowed ${SLOW_CPU} times`);
const { folder: packed, files } = await packedFolder();
const downloaded = files.filter(({ name }) => /\.(html|js|wasm|css|webmanifest)$/.test(name));
for (const file of downloaded) say(`${file.name}: ${file.size} bytes, packed ${file.packed}`);
say(`download: ${downloaded.reduce((sum, file) => sum + file.packed, 0)} bytes packed (aim 150000)`);
const cold = await openWorkshop({ folder: packed, encoding: 'br' });
const times = [];
for (let i = 0; i < TIMES; i += 1) {
  const visit = await slowed(cold, SLOW_4G);
  times.push(await firstAnswer(visit.page, cold.host.address));
  await visit.leave();
}
told('first answer, first visit, slow 4G', times, 2000);

const warm = [];
const visit = await slowed(cold, null);
await firstAnswer(visit.page, cold.host.address);
await visit.untilOffline();
for (let i = 0; i < TIMES; i += 1) {
  await visit.page.goto('about:blank');
  warm.push(await firstAnswer(visit.page, cold.host.address));
}
told('first answer, from the copy kept', warm, 800);

const typed = [];
await visit.type('Spigot A', 'how far the hose goes on', '30');
for (let i = 0; i < 2 * TIMES; i += 1) {
  const seat = String(40 + 10 * i); // the cut suggested goes in steps of 5 mm
  typed.push(await visit.page.evaluate((seat) => new Promise((done) => {
    const field = [...document.querySelectorAll('label')].find((each) => each.textContent.startsWith('how far the hose goes on')).parentElement.querySelector('input');
    const before = globalThis.answers.length;
    const begin = performance.now();
    field.value = seat;
    field.dispatchEvent(new Event('input', { bubbles: true }));
    const wait = () => (globalThis.answers.length > before ? done(globalThis.answers[before] - begin) : requestAnimationFrame(wait));
    wait();
  }), seat));
  await visit.page.waitForTimeout(300);
}
told('from a key to the new answer', typed, 100);
await visit.leave();

const job = await readFile(resolve(import.meta.dirname, '../cases/example.json'), 'utf8');
const quick = await cold.visit();
await quick.seeAnswer();
/** Asks the solver again and again, each time another run; the times to the first part, which has the chances, and to the whole. */
const ask = (job) => new Promise((done) => {
  const worker = globalThis.startSolverWorker();
  const times = [];
  const first = [];
  let begin;
  const next = () => {
    // Another run each time, or what is known would be told. As web/src/solver/messages.rs packs them: a question is its
    // ticket, its text and whether it is for a whole car; an answer begins with a 1.
    const text = new TextEncoder().encode(job.replace('"spigot_mm":16.0', `"spigot_mm":16.0${String(times.length).padStart(2, '0')}`));
    const question = new Uint8Array(9 + text.length);
    new DataView(question.buffer).setUint32(4, text.length, true);
    question.set(text, 8);
    begin = performance.now();
    worker.postMessage(question);
  };
  worker.onmessage = ({ data }) => {
    const took = performance.now() - begin;
    if (data[0] === 3 && first.length === times.length) first.push(took);
    if (data[0] === 0) next();
    if (data[0] !== 1) return;
    times.push(took);
    if (times.length < 60) next();
    else {
      worker.terminate();
      const sorted = (list) => list.slice(10).toSorted((a, b) => a - b);
      done({ whole: sorted(times), first: sorted(first) });
    }
  };
});
const inWorker = (name, { whole, first }) => {
  say(`the example in the worker, ${name}, from posted: first part with its chances median ${first[25].toFixed(0)} ms, least ${first[0].toFixed(0)} ms; whole answer median ${whole[25].toFixed(0)} ms, least ${whole[0].toFixed(0)} ms`);
};
inWorker('CPU not slowed', await quick.page.evaluate(ask, job));
// What the browser's own tool slows is the page and not its worker: here the whole process stands still three quarters of the
// time.
const session = await cold.session();
const { processInfo } = await session.send('SystemInfo.getProcessInfo');
const renderers = processInfo.filter(({ type }) => type === 'renderer').map(({ id }) => id);
let running = true;
const standing = setInterval(() => {
  // 10 ms on, 30 ms off.
  const turn = Math.floor(performance.now() / 10) % SLOW_CPU === 0;
  if (turn === running) return;
  running = turn;
  for (const id of renderers) process.kill(id, turn ? 'SIGCONT' : 'SIGSTOP');
}, 1);
const slow = await quick.page.evaluate(ask, job);
clearInterval(standing);
for (const id of renderers) process.kill(id, 'SIGCONT');
inWorker(`a quarter of the time only`, slow);

// A car of forty hoses from the copy kept, not slowed: from the start of the navigation to its list, to all hoses worked out,
// to the first answer of the hose in hand.
const large = await cold.visit();
await large.page.addInitScript(watch);
await large.untilOffline();
/** The time at which this is first seen, from the start of the navigation. */
const seen = async (find) => {
  await large.page.waitForFunction(find, null, { polling: 'raf' });
  return large.page.evaluate(() => performance.now());
};
const listShown = () => [...document.querySelectorAll('.ls b')].some((each) => each.textContent === 'hose 40');
const carTold = () => [...document.querySelectorAll('button')].some((each) => each.textContent === 'Print the job sheet' && !each.disabled);
const [list, all, hand] = [[], [], []];
for (let i = 0; i < TIMES; i += 1) {
  await large.keepCar(carOf(40, JSON.parse(job)), '#car');
  list.push(await seen(listShown));
  all.push(await seen(carTold));
  await large.comeBack('#sheet');
  hand.push(await seen(() => globalThis.answers.length > 0));
}
told('forty hoses, opened to their list', list, 300);
say(`forty hoses, all worked out: median ${middle(all).toFixed(0)} ms of ${all.map((t) => t.toFixed(0)).join(", ")}`);
told('forty hoses, opened to the answer of the one in hand', hand, 300);
await large.leave();
await cold.close();

// On the phone that others measure by: a first visit on slow 4G, its score and what goes into it. Network and processor are
// slowed; that which only works out what a slow visit would be like takes the module for something that what is painted waits
// for, since here it comes before the first paint.
const lighthouse = await openLighthouse({ folder: packed, encoding: 'br' });
const [looks, workedOut] = [[], []];
for (let i = 0; i < TIMES; i += 1) {
  looks.push(await lighthouse.figures('devtools'));
  workedOut.push(await lighthouse.figures('simulate'));
}
await lighthouse.close();
await rm(packed, { recursive: true });
/** One of its figures of all looks, rounded so. */
const seenBy = (name, unit, digits, of, seen = looks) => {
  const all = seen.map(of);
  say(`Lighthouse, ${name}: median ${middle(all).toFixed(digits)} ${unit} of ${all.map((each) => each.toFixed(digits)).join(', ')}`);
};
seenBy('performance', 'points', 0, ({ categories }) => 100 * categories.performance.score);
for (const name of ['first-contentful-paint', 'largest-contentful-paint', 'total-blocking-time']) {
  seenBy(name.replaceAll('-', ' '), 'ms', 0, ({ audits }) => audits[name].numericValue);
}
seenBy('cumulative layout shift', 'of the screen', 3, ({ audits }) => audits['cumulative-layout-shift'].numericValue);
seenBy('performance, worked out and not slowed', 'points', 0, ({ categories }) => 100 * categories.performance.score, workedOut);
seenBy('largest contentful paint, worked out and not slowed', 'ms', 0, ({ audits }) => audits['largest-contentful-paint'].numericValue, workedOut);
if (process.argv[2]) await writeFile(process.argv[2], `${lines.join("\n")}\n`);
