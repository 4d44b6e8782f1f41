// A host of a spec's own, with a copy of the page that may be changed there.
import assert from 'node:assert/strict';
import { createHash } from 'node:crypto';
import { cp, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { DIST, openWorkshop } from './workshop.mjs';

/** Opens it for a test; the folder goes when the test is over. */
export async function ownHost(t, settings = {}) {
  const folder = await mkdtemp(join(tmpdir(), 'hosewright-'));
  t.after(() => rm(folder, { recursive: true }));
  await cp(DIST, folder, { recursive: true });
  const own = await openWorkshop({ folder, ...settings });
  t.after(() => own.close());
  return { own, folder };
}

/** As Subresource Integrity writes a digest. */
const digest = (content) => `sha256-${createHash('sha256').update(content).digest('base64')}`;

/** Puts a new version on the host: two files have another content under the same name; `others` change as well. */
export async function publishNext(folder, others = []) {
  let worker = await readFile(join(folder, 'sw.js'), 'utf8');
  for (const [name, from, to] of [['index.html', '<title>Hosewright', '<title>Next Hosewright'], ['icon.svg', '#c2561a', '#0b4a8c'], ...others]) {
    const old = await readFile(join(folder, name), 'utf8');
    assert.ok(old.includes(from) && worker.includes(digest(old)), `${name} is listed with its digest`);
    await writeFile(join(folder, name), old.replace(from, to));
    worker = worker.replace(digest(old), digest(old.replace(from, to)));
  }
  await writeFile(join(folder, 'sw.js'), worker.replace(/VERSION = '[0-9a-f]+'/, "VERSION = 'next'"));
}
