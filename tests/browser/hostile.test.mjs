// Text that comes from a file or a link is shown as text: no name, note or word in it becomes markup, runs, or turns the
// figures that follow it.
import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { after, before, test } from 'node:test';
import { openWorkshop } from './lib/workshop.mjs';

let workshop;
before(async () => { workshop = await openWorkshop(); });
after(() => workshop.close());

const CAR = JSON.parse(await readFile(join(import.meta.dirname, '../cases/car.json'), 'utf8'));

const MARKUP = `<script>globalThis.ran = 1</script><img src=x onerror="globalThis.ran = 1">"&lt;'</title></summary>`;
/** Right-to-left override, an isolate that is never closed, a space of no width, a word in Hebrew. */
const MARKS = '\u202e\u2066\u200b\u05e6\u05d9\u05e0\u05d5\u05e8';
const SHOWN_MARKS = MARKS.replace(/[\u202a-\u202e\u2066-\u2069]/g, '\ufffd');
const hostile = (text) => `${text}${MARKUP}${MARKS}`;
const asShown = (text) => `${text}${MARKUP}${SHOWN_MARKS}`;

/** Fields whose text is free: names, and where names are said again; what is typed in words. */
const FREE = ['car', 'name', 'note', 'part', 'spigot', 'run', 'inside', 'what', 'of', 'holds', 'thread', 'made_of', 'stood', 'rubber', 'class'];

/** The job with every free text made hostile, the same text always to the same. */
function allHostile(value, field = '') {
  if (typeof value === 'string') return FREE.includes(field) ? hostile(value) : value;
  if (Array.isArray(value)) return value.map((each) => allHostile(each, field));
  if (value === null || typeof value !== 'object') return value;
  return Object.fromEntries(Object.entries(value).map(([name, inner]) => [name, allHostile(inner, name)]));
}

/** What a text made into markup, or a direction turned, would leave in the page. */
const traces = () => ({
  ran: 'ran' in globalThis,
  made: [...document.querySelectorAll('img, script, iframe, object, embed, base, meta[http-equiv=refresh], a[href^="javascript:"]')]
    .filter((one) => one.closest('head') === null && !(one.localName === 'script' && one.src.startsWith(location.origin)) && one.src !== '' && !/^(blob|data):/.test(one.src))
    .map((one) => one.outerHTML),
  ears: [...document.querySelectorAll('*')].filter((one) => one.getAttributeNames().some((name) => name.startsWith('on'))).length,
  turned: /[\u202a-\u202e\u2066-\u2069]/.test(document.body.textContent),
});

async function seeNothingCameAlive(person, where) {
  assert.deepEqual(await person.page.evaluate(traces), { ran: false, made: [], ears: 0, turned: false }, where);
  assert.deepEqual(person.complaints, [], where);
  assert.deepEqual(person.foreignRequests, [], where);
}

/** Waits until this text stands on the page, or in a field of it, letter by letter. */
const seeText = (person, text) => person.page.waitForFunction((text) => {
  const fields = [...document.querySelectorAll('input, textarea')].map((one) => one.value);
  return document.body.textContent.includes(text) || fields.includes(text);
}, text);

test('the traces would be found', async (t) => {
  const person = await workshop.person(t);
  await person.page.evaluate(() => {
    const image = document.createElement('img');
    image.setAttribute('src', 'x');
    image.setAttribute('onerror', 'globalThis.ran = 1');
    document.querySelector('main').append(image, 'turned \u202e');
  });
  const found = await person.page.evaluate(traces);
  assert.deepEqual([found.made.length, found.ears, found.turned], [1, 1, true]);
});

test('a job file with markup and turning marks in every free text is shown as text on every screen', async (t) => {
  const person = await workshop.person(t);
  const job = allHostile(CAR);
  // Words of other lists may be free texts as well: an unknown rubber, a clip of one's own, something in quotes.
  job.runs[0].via = [{ at_mm: [-120, 150, 30], holds: hostile('P-clip'), on: 'body' }];
  job.runs[0].from.made_of = hostile('steel');
  job.system = { ticked: [], log: [{ on: '2026-05-01', what: hostile('filled'), look_again: null }] };
  await person.page.evaluate(() => { location.hash = '#cars'; });
  await person.page.getByLabel('job file').setInputFiles({
    name: `${MARKUP.replaceAll('/', '')}.json`, mimeType: 'application/json', buffer: Buffer.from(JSON.stringify(job)),
  });
  await seeText(person, `Taken in and at hand: ${asShown(CAR.car)}.`);
  await seeNothingCameAlive(person, 'taken in');
  const line = asShown(CAR.lines[0].name);
  const screens = [
    ['#sheet', asShown(CAR.runs[0].name)], ['#a', null], ['#place', null], ['#b', null], ['#near', null], ['#near-1', null], ['#standing', null], ['#piece', null], ['#rocking', null],
    ['#car', line], ['#line-1', null], ['#line-2', null], ['#part-1', null], ['#part-4', null], ['#buy', null], ['#fit', line], ['#fill', null],
    ['#cars', asShown(CAR.car)],
  ];
  for (const [at, text] of screens) {
    await person.page.evaluate((at) => { location.hash = at; }, at);
    if (text !== null) await seeText(person, text);
    await person.page.locator('[aria-busy=true]').waitFor({ state: 'detached' });
    await seeNothingCameAlive(person, at);
  }
  // On paper as well.
  await person.page.evaluate(() => { location.hash = '#sheet'; });
  await person.page.emulateMedia({ media: 'print' });
  await seeNothingCameAlive(person, 'on paper');
});

test('a link and a file that is refused are shown as text as well', async (t) => {
  const sender = await workshop.person(t);
  await sender.type('Spigot A', 'name', `<img src=x onerror="ran=1">\u202e`);
  await seeText(sender, '<img src=x onerror="ran=1">\ufffd');
  await sender.seeAnswer(); // The link follows at rest.
  const link = await sender.page.getByLabel('This run as a link').inputValue();
  const other = await workshop.person(t, { at: link.slice(link.indexOf('#')) });
  await seeText(other, '<img src=x onerror="ran=1">\ufffd');
  await seeNothingCameAlive(other, 'by a link');

  await other.page.evaluate(() => { location.hash = '#cars'; });
  const file = JSON.stringify({ format: 'hosewright-job', version: 1, [`${MARKUP}\u202e`]: 1, runs: [] });
  await other.page.getByLabel('job file').setInputFiles({ name: 'x.json', mimeType: 'application/json', buffer: Buffer.from(file) });
  await seeText(other, `${MARKUP}\ufffd`);
  await seeNothingCameAlive(other, 'a file that is refused');
});
