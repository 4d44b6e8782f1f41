// Where a spec works: the page on a host, a browser, and nothing beyond. Specs open visits and speak of deeds.
import { resolve } from 'node:path';
import { chromium } from 'playwright-core';
import { outside } from './outside.mjs';
import { serve } from './server.mjs';
import { Visit } from './visit.mjs';

/** The built page: what `cargo xtask build` left. */
export const DIST = resolve(import.meta.dirname, '../../../dist');

// Nothing of the browser's own may ask for anything: the specs count every request.
const QUIET = [
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-gpu',
  '--disable-quic',
  '--disable-sync',
  '--no-first-run',
];

/** Opens a workshop; `folder` is what the host serves, `under` where on the host. Close it after the specs. */
export async function openWorkshop({ folder = DIST, under = '/' } = {}) {
  const host = await serve(folder, { under });
  const world = await outside();
  const browser = await chromium.launch({
    executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
    chromiumSandbox: process.getuid?.() !== 0, // Chromium refuses its sandbox to root.
    args: QUIET,
    proxy: { server: world.proxy },
  });
  return {
    host,
    /** Hosts outside this machine that anything in the browser tried to reach. */
    reachedOutside: world.reached,
    /** A new person with an empty browser opens the page; `at` follows the host's address. */
    visit: ({ at = '', ...settings } = {}) => Visit.open(browser, `${host.address}${at}`, settings),
    async close() {
      await browser.close();
      await Promise.all([host.stop(), world.stop()]);
    },
  };
}
