// Measures how soon the page paints after a press, for every kind of control of every screen: node tests/browser/paints.mjs [file]
// By Event Timing, the CPU slowed: from the press to the next paint (the browser tells it in steps of 8 ms, and nothing under 16).
// What the page's own thread ran of that, its slowing counted, is told beside it where the system tells (Linux): other programs
// that want to run lengthen the one and hardly the other. Each kind is pressed once, and the slowest again until they have five. Nothing here passes or fails. For a few screens alone:
// node tests/browser/paints.mjs '' 'place B,standing'
import { readFileSync } from 'node:fs';
import { appendFile } from 'node:fs/promises';
import { availableParallelism, loadavg } from 'node:os';
import { SCREENS } from './lib/screens.mjs';
import { SMALL_PHONE, openWorkshop } from './lib/workshop.mjs';

const SLOW_CPU = 4;
const AIM = 100;
const [WORST, TIMES] = [20, 5];

const middle = (times) => times.toSorted((a, b) => a - b)[Math.floor(times.length / 2)];

const took = ({ presses }) => middle(presses.map((press) => press.took));
const ran = ({ presses }) => Math.round(middle(presses.map((press) => press.ran)));

// What runs in the page.

/** Before its scripts: notes every event that was measured, and keeps windows of the browser's own from opening. */
const listen = () => {
  globalThis.timed = [];
  const note = (list) => { for (const { interactionId, duration, startTime } of list.getEntries()) if (interactionId) globalThis.timed.push({ duration, startTime }); };
  new PerformanceObserver(note).observe({ type: 'event', durationThreshold: 16 });
  globalThis.print = () => {};
  globalThis.quiet = (ms) => new Promise((done) => {
    let wait = setTimeout(end, ms);
    const watch = new MutationObserver(() => { clearTimeout(wait); wait = setTimeout(end, ms); });
    function end() { watch.disconnect(); done(); }
    watch.observe(document, { subtree: true, childList: true, attributes: true, characterData: true });
  });
};

/**
 * Every control that is seen or stands folded away, by its kind: a field by the part it stands in, all others by their name, both
 * without figures; with the fold it stands in. What is folded away is made once it is opened: of one fold alone, or of all.
 */
const look = async (only) => {
  const folds = [...document.querySelectorAll('details')];
  const folded = folds.filter((each, i) => !each.open && (only === undefined || i === only));
  for (const each of folded) each.open = true;
  await globalThis.quiet(50);
  const plain = (text) => text.replace(/[\d½¼¾⅛⅜⅝⅞.,/×]+/g, '#').replace(/\b[AB]\b/g, 'A or B').replace(/\s+/g, ' ').trim().slice(0, 50);
  const partOf = (one) => one.closest('details')?.querySelector('summary')?.textContent ?? one.closest('section')?.querySelector('h2, h3')?.textContent ?? 'the screen';
  const kindOf = (one) => {
    if (one.localName === 'input' || one.localName === 'textarea') return `${one.type} field of ${plain(partOf(one))}`;
    if (one.localName === 'select') return `choice of ${plain(partOf(one))}`;
    const name = one.getAttribute('aria-label') ?? one.textContent;
    // Many links lead to the same kind of place: that is what they are.
    if (one.localName === 'a') return `link to ${plain(/\d/.test(one.hash) ? one.hash : name)}`;
    return `${{ button: 'button', summary: 'fold' }[one.localName] ?? one.getAttribute('role') ?? one.localName} ${plain(name)}`;
  };
  globalThis.controls = new Map();
  for (const one of document.querySelectorAll('button, a[href^="#"], summary, input:not([type=file]), select, textarea, [role=slider], canvas[tabindex]')) {
    if (one.disabled || one.closest('.paper') || !one.checkVisibility({ visibilityProperty: true })) continue;
    if (!globalThis.controls.has(kindOf(one))) globalThis.controls.set(kindOf(one), one);
  }
  for (const each of folded) each.open = false;
  const place = (/^#?([a-z-]*)/.exec(location.hash)[1] || 'sheet');
  // The head of a fold stands outside of it.
  const foldOf = (one) => folds.findLastIndex((each) => each.contains(one) && !(one.localName === 'summary' && one.parentElement === each));
  return { place, kinds: [...globalThis.controls.keys()], folds: Object.fromEntries([...globalThis.controls].map(([kind, one]) => [kind, foldOf(one)])) };
};

/** Has a control ready to be pressed: unfolded around it, in the middle of the screen; says where. */
const ready = (kind) => {
  const one = globalThis.controls.get(kind);
  if (!one?.isConnected) return null;
  for (let each = one.parentElement; each; each = each.parentElement) if (each.localName === 'details' && !(one.localName === 'summary' && one.parentElement === each)) each.open = true;
  if (one.localName === 'summary') one.parentElement.open = false;
  one.scrollIntoView({ block: 'center', behavior: 'instant' });
  const byKey = one.matches('select, textarea, [role=slider], canvas, input:not([type=checkbox], [type=radio])');
  if (byKey) one.focus({ preventScroll: true });
  const { left, top, width, height } = one.getBoundingClientRect();
  const [x, y] = [left + width / 2, top + height / 2];
  const hit = document.elementFromPoint(x, y);
  if (!byKey && !(hit && (one.contains(hit) || hit.contains(one) || [...one.labels ?? []].some((each) => each.contains(hit))))) return null;
  const turns = one.matches('[type=range], [role=slider], canvas, [type=date]');
  return { x, y, key: !byKey ? null : one.localName === 'select' ? 'ArrowDown' : turns ? 'ArrowRight' : '5' };
};

/** The longest of what was measured since then, once it is all told; 0 where it took less than the browser tells. */
const longest = async (since) => {
  const told = () => globalThis.timed.filter((each) => each.startTime >= since);
  for (let i = 0; i < 12 && (i < 4 || !told().length); i += 1) await new Promise((later) => setTimeout(later, 50));
  const [worst] = told().toSorted((a, b) => b.duration - a.duration);
  return worst ? { took: worst.duration, from: performance.timeOrigin + worst.startTime } : { took: 0 };
};

/** Looks, as often as it can, how long the main thread of each of these processes has run. */
class Meter {
  #looks = [];
  #pids;
  #every;

  constructor(pids) {
    this.#pids = pids;
    this.#look();
    this.#every = setInterval(() => this.#look(), 2);
  }

  #look() {
    const ran = (pid) => {
      try {
        return Number(readFileSync(`/proc/${pid}/task/${pid}/schedstat`, 'utf8').split(' ')[0]) / 1e6;
      } catch {
        return NaN; // Another system, or the process has ended.
      }
    };
    this.#looks.push([performance.timeOrigin + performance.now(), this.#pids.map(ran)]);
  }

  /** How long the one that ran most did so in these ms; NaN where the system does not tell. */
  stop(from, took) {
    clearInterval(this.#every);
    this.#look();
    const at = (time) => {
      const next = Math.max(1, this.#looks.findIndex(([each]) => each >= time));
      const [[t0, a], [t1, b]] = [this.#looks[next - 1], this.#looks[next]];
      const part = Math.min(1, Math.max(0, (time - t0) / (t1 - t0)));
      return a.map((ran, i) => ran + part * (b[i] - ran));
    };
    const [begin, end] = [at(from), at(from + took)];
    return Math.max(...end.map((ran, i) => ran - begin[i]).filter((ran) => ran >= 0), -Infinity);
  }
}

/** A screen, opened as often as wanted: by deeds the first time, then from what the phone has kept of it. */
class Stage {
  #workshop;
  #deeds;
  #processes;
  #kept;
  #hash;
  #folds;
  #person;
  #tab;

  constructor(workshop, deeds, processes) {
    this.#workshop = workshop;
    this.#deeds = deeds;
    this.#processes = processes;
  }

  async #come(settings) {
    await this.leave();
    // Without the copy for times without a host: it would be made while the press is measured.
    this.#person = await this.#workshop.visit({ at: 'no-such-page', ...SMALL_PHONE, serviceWorkers: 'block', ...settings });
    await this.#page.addInitScript(listen);
    this.#tab = await this.#page.context().newCDPSession(this.#page);
  }

  get #page() {
    return this.#person.page;
  }

  /** Opens it by deeds; gives its place and its kinds of control. */
  async open() {
    await this.#come();
    await this.#page.goto(this.#workshop.host.address);
    await this.#person.seeAnswer();
    await this.#deeds(this.#person);
    await this.#settle();
    await this.#page.evaluate(() => dispatchEvent(new Event('pagehide')));
    this.#hash = await this.#page.evaluate(() => location.hash);
    this.#kept = await this.#page.context().storageState({ indexedDB: true });
    const seen = await this.#page.evaluate(look);
    this.#folds = seen.folds;
    return seen;
  }

  /** Opens it from what the phone has kept, and the fold in which this kind stands. */
  async #openAsKept(kind) {
    await this.#come({ storageState: this.#kept });
    await this.#page.goto(`${this.#workshop.host.address}${this.#hash}`);
    await this.#page.locator('body > main').waitFor();
    await this.#settle();
    return this.#page.evaluate(look, this.#folds[kind]);
  }

  #settle(ms = 300) {
    return this.#page.evaluate((ms) => globalThis.quiet(ms), ms);
  }

  /** Presses a control of this kind, the screen as it was opened; gives ms to the next paint and those that the thread ran, or null where it cannot be pressed. */
  async press(kind) {
    const { kinds } = await this.#openAsKept(kind);
    if (!kinds.includes(kind)) await this.open();
    const page = this.#page;
    const how = await page.evaluate(ready, kind);
    if (!how) return null;
    await this.#settle(100);
    await this.#tab.send('Emulation.setCPUThrottlingRate', { rate: SLOW_CPU });
    const since = await page.evaluate(() => performance.now());
    const { processInfo } = await this.#processes.send('SystemInfo.getProcessInfo');
    const meter = new Meter(processInfo.filter(({ type }) => type === 'renderer').map(({ id }) => id));
    if (how.key) await page.keyboard.press(how.key);
    else await page.touchscreen.tap(how.x, how.y);
    const { took, from } = await page.evaluate(longest, since).catch(() => ({ took: null, from: 0 })); // The page was left.
    const ran = meter.stop(from, took);
    await this.#tab.send('Emulation.setCPUThrottlingRate', { rate: 1 });
    return took === null ? null : { took, ran: took === 0 ? 0 : ran };
  }

  async leave() {
    await this.#person?.leave();
    this.#person = undefined;
  }
}

const workshop = await openWorkshop();
const processes = await workshop.session();
const rows = [];
const known = new Set();
const notPressed = [];
const wanted = process.argv[3]?.split(',');
for (const [screen, deeds] of SCREENS) {
  if (wanted && !wanted.includes(screen)) continue;
  const begun = performance.now();
  const stage = new Stage(workshop, deeds, processes);
  const { place, kinds } = await stage.open();
  const fresh = kinds.filter((kind) => !known.has(`${place} ${kind}`));
  for (const kind of fresh) {
    const press = await stage.press(kind).catch((fault) => console.log(`${screen}, ${kind}: ${fault.message}`));
    if (!press) notPressed.push(`${screen}, ${kind}`);
    else {
      known.add(`${place} ${kind}`);
      rows.push({ screen, deeds, kind, presses: [press] });
    }
  }
  await stage.leave();
  const over = rows.filter((row) => row.screen === screen && took(row) > AIM).map((row) => `\n  ${row.kind} ${took(row)} ms, ran ${ran(row)}`);
  console.log(`${screen}: ${fresh.length} kinds of control in ${((performance.now() - begun) / 1000).toFixed(0)} s${over.join('')}`);
}
const sorted = () => rows.sort((a, b) => took(b) - took(a));
for (const { deeds, kind, presses } of sorted().slice(0, WORST)) {
  const stage = new Stage(workshop, deeds, processes);
  await stage.open();
  for (let i = 1; i < TIMES; i += 1) {
    const press = await stage.press(kind).catch((fault) => console.log(`${kind}: ${fault.message}`));
    if (press) presses.push(press);
  }
  await stage.leave();
}
await workshop.close();

const lines = [`# from a press to the next paint, CPU slowed ${SLOW_CPU} times: ${rows.length} kinds of control pressed once, the slowest ${WORST} of them ${TIMES} times (aim ${AIM} ms)`];
// What else the machine does makes every figure longer.
lines.push(`# programs that wanted to run, at the end and over a quarter of an hour, on ${availableParallelism()} cores: ${[loadavg()[0], loadavg()[2]].map((each) => each.toFixed(1)).join(', ')}`);
for (const row of sorted()) {
  const { screen, kind, presses } = row;
  const all = presses.length > 1 ? ` of ${presses.map((press) => press.took).join(', ')}` : '';
  const told = took(row) ? `median ${took(row)} ms${all}` : 'median 16 ms at most';
  lines.push(`${screen}, ${kind.replaceAll(':', '')}: ${told}${ran(row) > 0 ? `; its thread ran ${ran(row)} ms` : ''}`);
}
for (const each of notPressed) lines.push(`not pressed, since something lies over it or it left the page: ${each}`);
console.log(lines.join('\n'));
if (process.argv[2]) await appendFile(process.argv[2], `${lines.join('\n')}\n`);
