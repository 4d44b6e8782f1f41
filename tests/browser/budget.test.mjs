// What a visit downloads stays small enough for a phone with a weak signal.
import assert from 'node:assert/strict';
import { readFile, readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { test } from 'node:test';
import { brotliCompressSync, constants } from 'node:zlib';
import { DIST } from './lib/workshop.mjs';

// Bytes, packed as a host packs them that does so once and thoroughly. What is wanted is 200,000 at most and 150,000 at best,
// which is not reached: this holds what is. It was 260,000 before clips, contact, rock and remedies came in, and 355,000
// before the lower part of the sheet waited for a drag to end (1,800) and it showed what holds the hose on its way, what it
// rests against and the way it should go (5,000); 361,000 before heat, pressure, hold, flow, what to pour, which rubber and
// how each number is come by (34,000); 396,000 before the whole car (121,000): its survey and picture, circuit, closures, order, cut
// list, shopping, filling, the job sheet; and every car kept on the phone, with photos and files (25,000); 544,000 with the pages
// that are only read, which are held apart below, and before wasm-opt was told to make fewer copies (8,500 less) and the example
// stood in the start page (3,000) and all was made in turns (2,500); 543,000 before there was one name for a thing and ways on from
// the first screen (2,000), the start went in tasks of its own and the turned view was drawn only near the screen (1,200); 546,000 before
// all cars went to another phone as one file, of which nothing is believed (5,500), and the service worker spoke three languages (300);
// 552,500 before a car of a file was known by all states that it goes on from, and the sheet came after its head is painted (5,000);
// 557,500 before nobody who works by keys or by ear is lost where something is taken away, misread or placed (3,500);
// 561,000 before it was told by name in what two states of a car differ, what is typed was judged once it rests, links led to the
// very place, and the two ends of a hose got one size of clamp (5,000).
const MOST = 566_500;

// Pages beside it that are only read, with what they run; another language, for those who choose it.
const READ = /^(how-good\.html|measuring\.html|page\.js|tilt\.js)$/;
// 8,000 and 57,000 before the page of figures, and what is said where the page does not start, came in other languages too; a
// language 60,000 before it was told in what two states of a car differ.
const MOST_READ = 8_500;
const MOST_LANGUAGE = 60_500;

// All that the page needs to start and to answer. The icons are left out: the browser decides whether it wants them.
const DOWNLOADED = /\.(html|js|wasm|css|webmanifest)$/;

/** Size of a file once packed. */
function packed(bytes) {
  const params = {
    [constants.BROTLI_PARAM_QUALITY]: constants.BROTLI_MAX_QUALITY,
    [constants.BROTLI_PARAM_SIZE_HINT]: bytes.length,
  };
  return brotliCompressSync(bytes, { params }).length;
}

/** The sum of what so many files take, and each told. */
async function sum(t, names) {
  let sum = 0;
  for (const name of names) {
    const size = packed(await readFile(join(DIST, name)));
    sum += size;
    t.diagnostic(`${size} bytes  ${name}`);
  }
  t.diagnostic(`${sum} bytes in all`);
  return sum;
}

test(`the page takes no more than ${MOST} bytes to download`, async (t) => {
  const names = (await readdir(DIST)).filter((name) => DOWNLOADED.test(name) && !READ.test(name)).toSorted();
  for (const kind of ['index.html', 'sw.js', '.wasm', '.css', '.webmanifest']) {
    assert.ok(names.some((name) => name.endsWith(kind)), `no ${kind} in ${DIST}`);
  }
  const all = await sum(t, names);
  assert.ok(all <= MOST, `${all} bytes`);
});

test(`the pages beside it take no more than ${MOST_READ} bytes, a language no more than ${MOST_LANGUAGE}`, async (t) => {
  const read = (await readdir(DIST)).filter((name) => READ.test(name));
  assert.equal(read.length, 4, read.join());
  const all = await sum(t, read);
  assert.ok(all <= MOST_READ, `${all} bytes`);
  const languages = (await readdir(join(DIST, 'words'))).filter((name) => name.endsWith('.po'));
  assert.ok(languages.length >= 2, languages.join());
  for (const name of languages) {
    const one = await sum(t, ['words/words.js', `words/${name}`]);
    assert.ok(one <= MOST_LANGUAGE, `${one} bytes`);
  }
});
