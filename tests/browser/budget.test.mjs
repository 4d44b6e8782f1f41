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
// list, shopping, filling, the job sheet; and every car kept on the phone, with photos and files (25,000).
const MOST = 544_000;

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

test(`the page takes no more than ${MOST} bytes to download`, async (t) => {
  const names = (await readdir(DIST)).filter((name) => DOWNLOADED.test(name)).toSorted();
  for (const kind of ['index.html', 'sw.js', '.wasm', '.css', '.webmanifest']) {
    assert.ok(names.some((name) => name.endsWith(kind)), `no ${kind} in ${DIST}`);
  }
  let sum = 0;
  for (const name of names) {
    const size = packed(await readFile(join(DIST, name)));
    sum += size;
    t.diagnostic(`${size} bytes  ${name}`);
  }
  t.diagnostic(`${sum} bytes in all`);
  assert.ok(sum <= MOST, `${sum} bytes`);
});
