// Where a spec works: the page on a host, a browser, and nothing beyond. Specs open visits and speak of deeds.
import { resolve } from 'node:path';
import { chromium } from 'playwright-core';
import { serve } from './server.mjs';
import { Visit } from './visit.mjs';

/** The built page: what `cargo xtask build` left. */
export const DIST = resolve(import.meta.dirname, '../../../dist');

/** The phones of the specs: the small one of the plan, and a larger one. */
export const [SMALL_PHONE, LARGE_PHONE] = [[360, 640], [412, 915]]
  .map(([width, height]) => ({ viewport: { width, height }, hasTouch: true, isMobile: true }));

// What the browser does on its own account has no place in a spec.
const QUIET = [
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-gpu',
  '--disable-quic',
  '--disable-sync',
  '--no-first-run',
];

/** How every Chromium of a spec is started: whatever is not the host goes to a port where nobody listens, so no network is needed nor touched. */
export const chromiumFor = (host) => ({
  executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
  args: [...QUIET, '--proxy-server=http://127.0.0.1:9', `--proxy-bypass-list=<-loopback>;127.0.0.1:${host.port}`],
});

/** Chromium refuses its sandbox to root. */
export const SANDBOX = process.getuid?.() !== 0;

/** Opens a workshop; `folder` is what the host serves, `under` where on the host, `encoding` how it is packed. Close it after the specs. */
export async function openWorkshop({ folder = DIST, under = '/', encoding } = {}) {
  const host = await serve(folder, { under, encoding });
  const browser = await chromium.launch({ ...chromiumFor(host), chromiumSandbox: SANDBOX });
  return {
    host,
    /** A new person with an empty browser opens the page; `at` follows the host's address. */
    visit: ({ at = '', ...settings } = {}) => Visit.open(browser, `${host.address}${at}`, settings),
    /** A person for a test: has seen the answer, and leaves when the test is over. */
    async person(t, settings = SMALL_PHONE) {
      const person = await this.visit(settings);
      t.after(() => person.leave());
      await person.seeAnswer();
      return person;
    },
    /** A session with the browser itself. */
    session: () => browser.newBrowserCDPSession(),
    async close() {
      await browser.close();
      await host.stop();
    },
  };
}
