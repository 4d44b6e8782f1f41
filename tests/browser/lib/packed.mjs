// The built page packed as a host packs it that does so once and thoroughly: what the download is weighed and measured by.
import { mkdtemp, readFile, readdir, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { brotliCompressSync, constants } from 'node:zlib';
import { DIST } from './workshop.mjs';

/** A file once packed. */
const pack = (bytes) => brotliCompressSync(bytes, {
  params: { [constants.BROTLI_PARAM_QUALITY]: constants.BROTLI_MAX_QUALITY, [constants.BROTLI_PARAM_SIZE_HINT]: bytes.length },
});

/** Packs every file of the built page into a folder of its own, to be removed afterwards; gives it and what each file takes. */
export async function packedFolder() {
  const folder = await mkdtemp(join(tmpdir(), 'hosewright-'));
  const files = [];
  for (const { name } of (await readdir(DIST, { withFileTypes: true })).filter((each) => each.isFile())) {
    const bytes = await readFile(join(DIST, name));
    const packed = pack(bytes);
    await writeFile(join(folder, name), packed);
    files.push({ name, size: bytes.length, packed: packed.length });
  }
  return { folder, files };
}
