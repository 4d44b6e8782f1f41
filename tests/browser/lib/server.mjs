// Serves a folder as a plain static host would, and can be stopped, to play the host that is out of reach.
import { readFile } from 'node:fs/promises';
import { createServer } from 'node:http';
import { extname, join, normalize } from 'node:path';

const CONTENT_TYPES = {
  '.css': 'text/css; charset=utf-8',
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.json': 'application/json',
  '.mjs': 'text/javascript; charset=utf-8',
  '.png': 'image/png',
  '.svg': 'image/svg+xml',
  '.wasm': 'application/wasm',
  '.webmanifest': 'application/manifest+json',
};

/**
 * Starts a server on a free port of 127.0.0.1.
 * `under` is the folder of the host the page lies in, `port` one to take again after a stop, `encoding` how its files are
 * packed already.
 */
export async function serve(folder, { under = '/', port = 0, encoding } = {}) {
  const asked = [];
  const host = {
    /** Every path that was asked for, in order. */
    asked,
    /** Tells of a path, asked for so many times now, whether the host ends in the middle of it; a spec may set it. */
    endsHalfWay: undefined,
  };
  const server = createServer(async (request, response) => {
    const path = decodeURIComponent(new URL(request.url, 'http://host').pathname);
    asked.push(path);
    const below = path.startsWith(under) ? normalize(`/${path.slice(under.length)}`) : '/not-here';
    const file = below.endsWith('/') ? `${below}index.html` : below;
    try {
      const body = await readFile(join(folder, file));
      const ends = host.endsHalfWay?.(path, asked.filter((each) => each === path).length);
      response.writeHead(200, {
        ...(ends && { 'content-length': body.length }),
        'content-type': CONTENT_TYPES[extname(file)] ?? 'application/octet-stream',
        'cache-control': 'no-cache',
        'x-content-type-options': 'nosniff',
        ...(encoding && { 'content-encoding': encoding }),
      });
      if (ends) response.write(body.subarray(0, body.length / 2), () => response.destroy());
      else response.end(body);
    } catch {
      response.writeHead(404, { 'content-type': 'text/plain' }).end('not found');
    }
  });
  await new Promise((listening) => server.listen(port, '127.0.0.1', listening));
  const taken = server.address().port;
  return Object.assign(host, {
    address: `http://127.0.0.1:${taken}${under}`,
    port: taken,
    stop: () => new Promise((closed) => {
      server.close(closed);
      server.closeAllConnections();
    }),
  });
}
