// One person's visit in any engine: what is done and seen there, by the words on the page. For the specs that try the same
// deeds in every engine; visit.mjs is for those that need more of Chromium.
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { openTab } from './engines.mjs';

// How long a person waits for what should come before the spec says what is there in its place (milliseconds, our choice).
const PATIENCE = 60_000;
const LOOK_EVERY = 100;

// The functions below run in the page, each by itself.

const pressable = (name) => {
  const called = (one) => (one.getAttribute('aria-label') ?? one.textContent).replace(/\s+/g, ' ').trim();
  return [...document.querySelectorAll('button, a[href], summary')].find((one) => one.checkVisibility() && called(one) === name) ?? null;
};

const headOf = (title) => [...document.querySelectorAll('summary')].find((one) => one.textContent.includes(title)) ?? null;

const fieldOf = (title, label) => {
  const group = title === null ? document : [...document.querySelectorAll('details')].find((one) => one.querySelector('summary')?.textContent.includes(title));
  return [...group?.querySelectorAll('input') ?? []].find((one) => [...one.labels ?? []].some((each) => each.textContent.trim() === label)) ?? null;
};

/** Text of the page, of what is read out only as well; not of the example as it comes with the page before that has started. */
const says = (words) => {
  if (!document.body) return null;
  const all = document.createTreeWalker(document.body, NodeFilter.SHOW_ELEMENT);
  for (let one = all.currentNode; one; one = all.nextNode()) {
    const text = one.childElementCount === 0 && !one.closest('noscript, #first') ? one.textContent.trim() : '';
    if (text.startsWith(words)) return text;
  }
  return null;
};

/** What finds something in the page, and then does something with it there: one function that stands by itself. */
const found = (finds, then) => new Function(`return (...args) => (${then})((${finds})(...args));`)();
const isThere = found(pressable, (one) => one !== null);
const isOpen = found(headOf, (one) => one?.parentElement.open);
const stateOf = found(headOf, (one) => one && (one.parentElement.open ? 'open' : 'folded'));
const textOfAll = () => document.body.innerText;
const valueOf = found(fieldOf, (field) => field.value);

export class Person {
  #engine;
  #folder;
  #keeps;
  #tab;

  /** A new person with an empty browser; `keeps` is whether it lets pages store anything. Leaves when the test is over. */
  static async come(t, engine, { keeps = true } = {}) {
    const person = new Person();
    person.#engine = engine;
    person.#keeps = keeps;
    person.#folder = await mkdtemp(join(tmpdir(), 'hosewright-'));
    t.after(async () => {
      await person.#tab?.end();
      await rm(person.#folder, { recursive: true, force: true, maxRetries: 5 });
    });
    await person.#open();
    return person;
  }

  async #open() {
    this.#tab = await openTab(this.#engine, { folder: this.#folder, keeps: this.#keeps });
  }

  /** Ends the browser and starts it again, with all that it kept. */
  async startBrowserAgain() {
    await this.#tab.end();
    await this.#open();
  }

  /** The tab, for what no deed here covers. */
  get tab() {
    return this.#tab;
  }

  get complaints() {
    return this.#tab.complaints;
  }

  /** Goes to an address anew. */
  async go(address) {
    await this.#tab.go('about:blank'); // A new fragment alone would load nothing.
    await this.#tab.go(address);
  }

  /** Asks the page until what it gives is true. */
  async until(what, does, ...args) {
    const end = Date.now() + PATIENCE;
    for (;;) {
      // Where the page just goes, nobody answers yet.
      const answer = await this.#tab.ask(does, ...args).catch((fault) => {
        if (!/context was destroyed|navigat/i.test(fault.message)) throw fault;
      });
      if (answer) return answer;
      if (Date.now() > end) {
        const there = await this.#tab.ask(() => `${location.href}: ${document.body.innerText.slice(0, 600)}`);
        throw new Error(`waited in vain for ${what}; complaints: ${this.complaints.join('; ')}; there is ${there}`);
      }
      await new Promise((later) => setTimeout(later, LOOK_EVERY));
    }
  }

  /** Waits until something on the page begins with these words; gives the whole of it. */
  hear(words) {
    return this.until(`"${words}"`, says, words);
  }

  /** Waits until the sheet stands still: an answer comes in parts, and each may push down what is below it. */
  async settle() {
    await this.hear('What was checked');
    let before;
    await this.until('a sheet that stands still', () => document.querySelector('[aria-busy=true]') === null);
    for (let now = await this.#tab.ask(textOfAll); now !== before; now = await this.#tab.ask(textOfAll)) {
      before = now;
      await new Promise((later) => setTimeout(later, 3 * LOOK_EVERY));
    }
  }

  /** Waits until the figure to cut reads so, and the whole sheet shows the answer that goes with it. */
  async seeCutLength(said) {
    await this.hear(`Cut length: ${said}`);
    await this.settle();
  }

  async press(name) {
    await this.until(`something to press called "${name}"`, isThere, name);
    await this.#tab.click(pressable, name);
  }

  async #unfold(title) {
    if (title === null) return;
    await this.settle();
    if (await this.until(`a group called "${title}"`, stateOf, title) === 'open') return;
    await this.#tab.click(headOf, title);
    await this.until(`the group "${title}" unfolded`, isOpen, title);
  }

  /** Types into a field of a group of measurements, in place of what stood there. */
  async type(title, label, text) {
    await this.#unfold(title);
    await this.#tab.write(text, fieldOf, title, label);
  }

  /** What stands in a field of a group, or in one of the page where no group is told. */
  async reads(title, label) {
    await this.#unfold(title);
    return this.#tab.ask(valueOf, title, label);
  }
}
