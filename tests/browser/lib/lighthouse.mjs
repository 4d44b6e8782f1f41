// Lighthouse over the built page: what its audits say of the start page, and its figures on a slowed phone.
// Driven as a library: its program alone can send reports of its own faults to its makers, the library has no way to.
import lighthouse, { navigation } from 'lighthouse';
import puppeteer from 'puppeteer-core';
import { serve } from './server.mjs';
import { DIST, SANDBOX, chromiumFor } from './workshop.mjs';

/** Waits, in the page, until the solver has answered the example: the cut is told, and what was checked stands below it. */
const answered = () => {
  const says = (which, begin) => [...document.querySelectorAll(which)].some((each) => each.textContent.startsWith(begin));
  return says('.sr', 'Cut length: ') && says('h2, h3', 'What was checked') && !document.querySelector('[aria-busy=true]');
};

/** What was pushed away since the page began, without anyone pressing: each time how much, as Layout Instability counts it, and which elements. */
const shifts = () => new Promise((done) => {
  const told = ({ value, sources }) => ({ value, which: sources.map(({ node }) => node?.className || node?.id || node?.localName || 'gone') });
  new PerformanceObserver((list) => done(list.getEntries().filter((each) => !each.hadRecentInput).map(told))).observe({ type: 'layout-shift', buffered: true });
  setTimeout(() => done([]), 1000); // Where there is none, nobody calls.
});

/** A browser of its own for every look, so that none knows what another has kept. Close it after the last. */
export async function openLighthouse({ folder = DIST, encoding } = {}) {
  const host = await serve(folder, { encoding });
  const { executablePath, args } = chromiumFor(host);
  const inBrowser = async (does) => {
    const browser = await puppeteer.launch({ browser: 'chrome', headless: true, executablePath, args: SANDBOX ? args : [...args, '--no-sandbox'] });
    try {
      return await does(await browser.newPage());
    } finally {
      await browser.close();
    }
  };
  return {
    /** What its audits say once the answer stands there. Nothing is slowed and nothing timed. */
    audits: (scheme) => inBrowser(async (page) => {
      await page.emulateMediaFeatures([{ name: 'prefers-color-scheme', value: scheme }]);
      const toTheAnswer = async () => {
        await page.goto(host.address);
        await page.waitForFunction(answered);
      };
      const flags = { onlyCategories: ['accessibility', 'best-practices'], throttlingMethod: 'provided', disableFullPageScreenshot: true, logLevel: 'error' };
      const { lhr } = await navigation(page, toTheAnswer, { flags });
      const stood = await page.evaluate(answered);
      const dark = await page.evaluate(() => matchMedia('(prefers-color-scheme: dark)').matches);
      return { lhr, stood, scheme: dark ? 'dark' : 'light', shifts: await page.evaluate(shifts) };
    }),
    /**
     * Score and figures of a first visit on its phone, slow 4G, CPU slowed four times: slowed indeed ("devtools"), or worked out
     * from a visit that was not ("simulate").
     */
    async figures(throttlingMethod) {
      const { lhr } = await inBrowser((page) => lighthouse(host.address, { onlyCategories: ['performance'], logLevel: 'error', throttlingMethod }, undefined, page));
      return lhr;
    },
    close: () => host.stop(),
  };
}
