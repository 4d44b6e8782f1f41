// The three engines, each driven by what drives it best: Chromium and Firefox by puppeteer, which speaks the DevTools
// protocol to the one and WebDriver BiDi to the other; WebKitGTK by its own WebDriver. What a spec does to a page is the
// same few deeds in all: `Tab` below.
import { spawn } from 'node:child_process';
import { mkdir, writeFile } from 'node:fs/promises';
import { createServer } from 'node:net';
import { join, resolve } from 'node:path';
import { createInterface } from 'node:readline';
import puppeteer from 'puppeteer-core';
import { Session } from './webdriver.mjs';

/** A phone of the plan: the viewport of every tab. Its person wants no motion: nothing may slide while it is clicked. */
export const [WIDTH, HEIGHT] = [360, 640];

// Whatever is not this machine goes to a port where nobody listens.
const NOWHERE = 'http://127.0.0.1:9';

// A spec that takes too long is ended by its runner. Puppeteer would first ask the browser to close, and wait for ever for one
// that hangs; on leaving it ends the browser without asking.
process.once('SIGTERM', () => process.exit(1));

// WebKitGTK is built without manifests: there is nothing for this word of the policy to forbid.
const HARMLESS = "Unrecognized Content-Security-Policy directive 'manifest-src'";

function hear(tab, complaint) {
  if (!complaint.includes(HARMLESS)) tab.complaints.push(complaint);
}

/**
 * One tab of a browser of its own. `open` and the deeds `go`, `ask`, `click`, `write`, `picture` and `end` are all that a
 * spec uses; `complaints` is what the engine has complained about. A function that is handed over runs in the page.
 */
class PuppeteerTab {
  complaints = [];
  #browser;
  #page;

  static async open(settings) {
    const tab = new PuppeteerTab();
    tab.#browser = await puppeteer.launch({ ...settings, headless: true, handleSIGTERM: false, timeout: 120_000, protocolTimeout: 300_000 });
    [tab.#page] = await tab.#browser.pages();
    tab.#page.on('pageerror', (error) => tab.complaints.push(`error: ${error}`));
    tab.#page.on('console', (message) => {
      if (['error', 'warn'].includes(message.type())) hear(tab, message.text());
    });
    // Firefox hands no message of the policy on.
    await tab.#page.evaluateOnNewDocument(() => {
      addEventListener('securitypolicyviolation', (refused) => console.error(`refused by the policy: ${refused.violatedDirective}`));
    });
    await tab.#page.setViewport({ width: WIDTH, height: HEIGHT });
    return tab;
  }

  async go(address) {
    await this.#page.goto(address);
  }

  ask(does, ...args) {
    return this.#page.evaluate(does, ...args);
  }

  async click(finds, ...args) {
    await (await this.#page.evaluateHandle(finds, ...args)).click();
  }

  async write(text, finds, ...args) {
    const field = await this.#page.evaluateHandle(finds, ...args);
    await field.evaluate((field) => { field.focus(); field.select(); });
    await this.#page.keyboard.type(text);
  }

  async picture() {
    return Buffer.from(await this.#page.screenshot());
  }

  async end() {
    await this.#browser.close();
  }
}

async function openChromium({ folder, keeps }) {
  if (!keeps) {
    await mkdir(join(folder, 'Default'), { recursive: true });
    // What "block all cookies" of Chromium's own settings writes.
    await writeFile(join(folder, 'Default/Preferences'), JSON.stringify({ profile: { default_content_setting_values: { cookies: 2 } } }));
  }
  return PuppeteerTab.open({
    browser: 'chrome',
    executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
    userDataDir: folder,
    args: [
      '--disable-gpu',
      '--disable-quic',
      '--force-prefers-reduced-motion',
      `--proxy-server=${NOWHERE}`,
      '--proxy-bypass-list=<-loopback>;127.0.0.1',
      ...(process.getuid?.() === 0 ? ['--no-sandbox'] : []), // Chromium refuses its sandbox to root.
    ],
  });
}

function openFirefox({ folder, keeps }) {
  return PuppeteerTab.open({
    browser: 'firefox',
    executablePath: process.env.FIREFOX ?? '/usr/bin/firefox-esr',
    userDataDir: folder,
    extraPrefsFirefox: {
      'network.proxy.type': 1, // by hand; Firefox never sends 127.0.0.1 to a proxy
      'network.proxy.http': '127.0.0.1',
      'network.proxy.http_port': 9,
      'network.proxy.ssl': '127.0.0.1',
      'network.proxy.ssl_port': 9,
      'ui.prefersReducedMotion': 1,
      // 2 is what "block all cookies" of Firefox's own settings writes, 5 what stands there at first.
      'network.cookie.cookieBehavior': keeps ? 5 : 2,
    },
  });
}

/** Starts a program; gives it, the promise of its end, and that of what is awaited of it unless it ends before. */
function start(program, args, settings) {
  const child = spawn(program, args, settings);
  const ended = new Promise((done) => { child.once('error', done).once('close', () => done(new Error('it ended'))); });
  const gives = (awaited) => Promise.race([awaited, ended.then((why) => { throw new Error(`${program}: ${why.message}`); })]);
  return { child, ended, gives };
}

async function freePort() {
  const server = createServer();
  await new Promise((listening) => server.listen(0, '127.0.0.1', listening));
  const { port } = server.address();
  await new Promise((closed) => server.close(closed));
  return port;
}

class WebKitTab {
  complaints = [];
  #session;
  #programs = [];

  static async open(settings) {
    const tab = new WebKitTab();
    await tab.#begin(settings).catch(async (error) => {
      await tab.#endPrograms();
      throw error;
    });
    return tab;
  }

  /** Starts a screen without glass, the driver, and through it a window with the engine. */
  async #begin({ folder, keeps }) {
    const screen = start(process.env.XVFB ?? 'Xvfb', ['-displayfd', '3', '-screen', '0', '1280x1024x24', '-nolisten', 'tcp'], {
      stdio: ['ignore', 'ignore', 'ignore', 'pipe'],
    });
    this.#programs.push(screen);
    const display = await screen.gives(new Promise((told) => screen.child.stdio[3].once('data', told)));
    const port = await freePort();
    const driver = start(process.env.WEBKIT_DRIVER ?? 'WebKitWebDriver', [`--port=${port}`], {
      stdio: ['ignore', 'pipe', 'pipe'],
      env: {
        ...process.env,
        DISPLAY: `:${String(display).trim()}`,
        GDK_BACKEND: 'x11',
        XDG_CACHE_HOME: join(folder, 'cache'),
        XDG_DATA_HOME: join(folder, 'data'),
      },
    });
    this.#programs.unshift(driver);
    for (const stream of [driver.child.stdout, driver.child.stderr]) {
      createInterface(stream).on('line', (line) => {
        if (/CONSOLE ([A-Z]+ )?(ERROR|WARN)/.test(line)) hear(this, line);
      });
    }
    const address = `http://127.0.0.1:${port}`;
    const listens = async () => {
      while (driver.child.exitCode === null && !await fetch(`${address}/status`).catch(() => null)) await new Promise((later) => setTimeout(later, 50));
    };
    await driver.gives(listens());
    const window = [resolve(import.meta.dirname, 'webkit_window.py'), folder, `${WIDTH}x${HEIGHT}`, keeps ? 'keeps' : 'refuses'];
    this.#session = await driver.gives(Session.begin(address, {
      'webkitgtk:browserOptions': { binary: process.env.PYTHON ?? '/usr/bin/python3', args: window },
    }));
  }

  async #endPrograms() {
    for (const { child, ended } of this.#programs) {
      child.kill();
      await ended;
    }
  }

  go(address) {
    return this.#session.go(address);
  }

  ask(does, ...args) {
    return this.#session.call(does, ...args);
  }

  click(finds, ...args) {
    return this.#session.click(finds, ...args);
  }

  async write(text, finds, ...args) {
    await this.#session.call(`(...args) => { const field = (${finds})(...args); field.focus(); field.select(); }`, ...args);
    await this.#session.keys(text, finds, ...args);
  }

  picture() {
    return this.#session.picture();
  }

  async end() {
    await this.#session.end();
    await this.#endPrograms();
  }
}

/** Opens a tab by the engine's name; `folder` is the person's profile, `keeps` whether the browser lets pages store. */
export function openTab(engine, { folder, keeps = true }) {
  return { chromium: openChromium, firefox: openFirefox, webkit: WebKitTab.open }[engine]({ folder, keeps });
}
