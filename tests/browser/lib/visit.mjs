// One person's visit to the page: what is done and seen there, by label and role, never by markup.

// What is read out where that depends on what stands chosen.
const CALLED = { 'Change the unit': /\(change the unit\)$/ };

export class Visit {
  #context;
  #page;
  #address;
  #complaints = [];
  #asked = [];

  constructor(context, page, address) {
    this.#context = context;
    this.#page = page;
    this.#address = address;
    page.on('pageerror', (error) => this.#complaints.push(`error: ${error}`));
    page.on('console', (message) => this.#hear(message));
    // The context hears the page, its workers and its service worker.
    context.on('request', (request) => this.#asked.push(request.url()));
    page.on('websocket', (socket) => this.#asked.push(socket.url()));
  }

  /** Opens a tab of an empty browser and goes to the address. */
  static async open(browser, address, settings = {}) {
    const context = await browser.newContext(settings);
    const visit = new Visit(context, await context.newPage(), address);
    await visit.#page.goto(address);
    return visit;
  }

  #hear(message) {
    if (!['error', 'warning'].includes(message.type())) return;
    this.#complaints.push(`${message.type()}: ${message.text()}`);
  }

  /** Playwright's page, for what no deed here covers yet. */
  get page() {
    return this.#page;
  }

  /** What the browser complained about: errors, warnings, refusals of the content security policy. */
  get complaints() {
    return this.#complaints;
  }

  /** Addresses asked for that do not belong to the page's own origin. */
  get foreignRequests() {
    const origin = new URL(this.#address).origin;
    return this.#asked.filter((url) => !['data:', 'blob:'].includes(new URL(url).protocol) && new URL(url).origin !== origin);
  }

  /** Waits until the solver has answered: the piece to cut is drawn, and what follows below the first screen. */
  async seeAnswer() {
    await this.#page.getByRole('img', { name: /^The piece/ }).waitFor();
    await this.#page.getByRole('heading', { name: 'What was checked' }).waitFor();
    await this.#untilDrawn();
  }

  /** Waits until the lower part of the sheet shows the same answer as the upper one, as whoever scrolls there sees it. */
  async #untilDrawn() {
    await this.#page.locator('[aria-busy=true]').waitFor({ state: 'detached' });
  }

  /** The figure to cut, as it is read out: "485 mm, 19 1/8 in". */
  async cutLength() {
    const said = await this.#page.getByText(/^Cut length: /).textContent();
    return said.replace('Cut length: ', '');
  }

  /** Waits until the figure to cut reads so: all of it, or as the pattern says; and the rest of the sheet with it. */
  async seeCutLength(said) {
    const words = typeof said === 'string' ? `Cut length: ${said}` : new RegExp(said.source.replace('^', '^Cut length: '));
    await this.#page.getByText(words).waitFor({ state: 'attached' });
    await this.#untilDrawn();
  }

  /** The worst verdict in words. */
  async verdict() {
    return (await this.#page.getByText(/^(Fits|Does not fit|No length)/).first().textContent()).trim();
  }

  /** A group of measurements by its title, unfolded. */
  async #group(title) {
    const group = this.#page.getByRole('group').filter({ hasText: title });
    if (await group.getAttribute('open') === null) await group.getByText(title).click();
    return group;
  }

  /** Unfolds all that is folded away; what is in it is made then. */
  async unfoldAll() {
    await this.#page.evaluate(async () => {
      for (let all; (all = document.querySelectorAll('details:not([open])')).length;) {
        for (const each of all) each.open = true;
        await new Promise((later) => { setTimeout(later, 50); });
      }
    });
  }

  /** Types into a field of a group of measurements. */
  async type(title, label, text) {
    const field = (await this.#group(title)).getByLabel(label, { exact: true });
    await field.fill(text);
  }

  /** Types into a field as a thumb does: key by key, with time for an answer between two keys. */
  async typeSlowly(title, label, text) {
    const field = (await this.#group(title)).getByLabel(label, { exact: true });
    await field.fill('');
    await field.focus();
    await this.#page.keyboard.type(text, { delay: 350 });
  }

  /** Fills fields of a group by the keyboard alone: unfolds it, goes on with Tab, types or chooses. */
  async fillByKeys(title, rows) {
    const { keyboard } = this.#page;
    const group = this.#page.getByRole('group').filter({ hasText: title });
    await group.getByText(title).focus();
    if (await group.getAttribute('open') === null) await keyboard.press('Enter');
    for (const [label, text] of rows) {
      const here = () => this.#page.evaluate(() => document.activeElement.labels?.[0]?.textContent.trim() ?? '');
      for (let i = 0; i < 60 && !(await here()).startsWith(label); i += 1) await keyboard.press('Tab');
      if (await this.#page.evaluate(() => document.activeElement.localName === 'input')) await keyboard.press('Control+A');
      await keyboard.type(text, { delay: 40 });
    }
  }

  /** Says the way the example's hose should go, read off a wire: straight out of A, a quarter turn to the rear, to B. */
  async sayTheWay() {
    await this.tap('+ leg of the way it should go');
    await this.fillByKeys('The way it should go, leg 1', [
      ['straight length', '138'], ['then it bends by', '90'], ['radius to the inside', '60'], ['bends: forward', '-1'],
    ]);
    await this.tap('+ leg of the way it should go');
    await this.fillByKeys('The way it should go, leg 2', [['straight length', '208']]);
  }

  /** What stands in a field. */
  async reads(title, label) {
    return (await this.#group(title)).getByLabel(label, { exact: true }).inputValue();
  }

  /** What is said to be wrong beside a field. */
  async wrongWith(title, label) {
    const field = (await this.#group(title)).getByLabel(label, { exact: true });
    const said = this.#page.locator(`[id="${await field.getAttribute('aria-describedby')}"]`);
    await said.getByRole('paragraph').waitFor();
    return said.getByRole('paragraph').textContent();
  }

  /** Taps the likely right value that is offered beside a field. */
  async takeLikely(title, value) {
    await (await this.#group(title)).getByRole('button', { name: value, exact: true }).click();
  }

  async press(name) {
    await this.#page.getByRole('button', { name: CALLED[name] ?? name, exact: true }).click();
  }

  /** Presses what has this name: a key, a button, a link over the drawing. */
  async tap(name) {
    const is = { name: CALLED[name] ?? name, exact: true };
    await this.#page.getByRole('button', is).or(this.#page.getByRole('link', is)).first().click();
  }

  /** Presses one after the other; gives how many presses that were. */
  async tapAll(names) {
    for (const name of names) await this.tap(name);
    return names.length;
  }

  /** Adds a thing near the run, not placed yet, and goes back to the sheet. */
  async addNear(kind, form) {
    await this.tapAll(['Add a thing near it', kind, form, 'Back to the sheet']);
  }

  /** The job as the page has kept it, once it has kept it all. */
  async job() {
    await this.#page.evaluate(() => dispatchEvent(new Event('pagehide')));
    return this.#page.evaluate(() => JSON.parse(localStorage.getItem('hosewright.last').replace(/^\d+ /, '')).job);
  }

  /** The whole car as the page has kept it: a job file with all its hoses in their order. */
  async car() {
    await this.#page.evaluate(() => dispatchEvent(new Event('pagehide')));
    const kept = await this.#page.evaluate(() => JSON.parse(localStorage.getItem('hosewright.last').replace(/^\d+ /, '')));
    const runs = (held) => (held ?? []).map(({ run }) => run);
    return { ...kept.job, runs: [...runs(kept.before), ...kept.job.runs, ...runs(kept.after)] };
  }

  /** Has the phone keep this car, the first hose in hand, and opens the page again; `at` follows its address. */
  async keepCar(job, at = '') {
    await this.#page.evaluate(({ runs: [inHand, ...others], ...job }) => {
      const after = others.map((run) => ({ run, typed: {} }));
      const kept = { job: { ...job, runs: [inHand] }, typed: {}, inches: false, before: [], after };
      localStorage.setItem('hosewright.last', `2 ${JSON.stringify(kept)}`);
    }, job);
    await this.comeBack(at);
  }

  /** Goes to a place of the car by the bar: Run, Car, Buy, Fit or Fill. */
  async goTo(place) {
    await this.#page.getByRole('navigation', { name: 'Places' }).getByRole('link', { name: place, exact: true }).click();
  }

  /** Opens a line or part of the car by its name, from the list. */
  async open(name) {
    await this.goTo('Car');
    await this.#page.getByRole('link', { name: new RegExp(`^${name}\\b`) }).first().click();
    await this.#page.getByRole('heading', { level: 1, name, exact: true }).waitFor();
  }

  /** Opens a line and taps what is said of it. */
  async say(name, words) {
    await this.open(name);
    await this.tapAll(words);
  }

  /** What the keyboard stands on: its name, or the id of a field. */
  async standsOn() {
    return this.#page.evaluate(() => {
      const here = document.activeElement;
      return here.matches('input, select') ? here.id : here.getAttribute('aria-label') ?? here.textContent.trim();
    });
  }

  /** Goes on with Tab until the keyboard stands on what has this name, or on the field of this id. */
  async stepTo(name) {
    const isIt = (here) => (name instanceof RegExp ? name.test(here) : here === name);
    for (let i = 0; i < 250; i += 1) {
      await this.#page.keyboard.press('Tab');
      if (isIt(await this.standsOn())) return;
    }
    throw new Error(`${name} is not reached by keys`);
  }

  /** Goes there by Tab and presses it. */
  async enter(name, key = 'Enter') {
    await this.stepTo(name);
    await this.#page.keyboard.press(key);
  }

  /** Waits until the solver has told of all hoses of the car: only then can the job sheet be printed. */
  async seeCar() {
    await this.goTo('Car');
    await this.#page.getByRole('button', { name: 'Print the job sheet', disabled: false }).waitFor();
  }

  /** Waits for an alert; gives its text. */
  async seeAlert() {
    return this.#page.getByRole('alert').textContent();
  }

  /** Waits until the browser has complained in these words. */
  async hearComplaint(words) {
    if (this.#complaints.some((complaint) => words.test(complaint))) return;
    await this.#page.waitForEvent('console', (message) => words.test(message.text()));
  }

  async leave() {
    await this.#context.close();
  }

  /** Goes to the page anew; `at` follows its address. */
  async comeBack(at = '') {
    await this.#page.goto('about:blank'); // A new fragment alone would load nothing.
    await this.#page.goto(`${this.#address}${at}`);
  }

  /** The same person opens the page in another tab. */
  async anotherTab() {
    const other = new Visit(this.#context, await this.#context.newPage(), this.#address);
    await other.#page.goto(this.#address);
    return other;
  }

  /** The phone ends the tab without a word to the page; the person opens the page again. */
  async reopenAfterKill() {
    const tab = await this.#context.newCDPSession(this.#page);
    const gone = this.#page.waitForEvent('crash');
    tab.send('Page.crash').catch(() => {}); // Nobody is left to answer.
    await gone;
    await this.#page.close();
    return this.anotherTab();
  }

  /** Waits until the browser has the whole page for times without a host. */
  async untilOffline() {
    await this.#page.evaluate(async () => { await navigator.serviceWorker.ready; });
  }

  /** Has the browser keep the page for times without a host, as the page itself does; says whether it could. */
  async canKeepOffline() {
    return this.#page.evaluate(async () => {
      const { installing } = await navigator.serviceWorker.register('sw.js', { updateViaCache: 'none' });
      if (!installing) return true;
      await new Promise((changed) => installing.addEventListener('statechange', changed, { once: true }));
      return installing.state !== 'redundant';
    });
  }

  /** Waits until the page has stored what was typed: `words` stand in it. */
  async untilStored(words) {
    await this.#page.waitForFunction((words) => localStorage.getItem('hosewright.last')?.includes(words), words);
  }

  /** Waits until the page says so. */
  async hear(sentence) {
    await this.#page.getByText(sentence).waitFor();
  }

  /** Whether a button is there to be pressed. */
  async canPress(name) {
    return this.#page.getByRole('button', { name, exact: true }).isVisible();
  }
}
