// A client of W3C WebDriver (Recommendation of 5 June 2018), as much of it as the engine specs need.

/** What a reply calls an element. */
const ELEMENT = 'element-6066-11e4-a52e-4f735466cecf';

export class Session {
  #address;

  // A driver waits for ever for a browser that does not come (milliseconds, our choice).
  static #PATIENCE = 120_000;

  /** Begins a session with the driver at this address. */
  static async begin(driver, capabilities) {
    const session = new Session();
    session.#address = driver;
    const { sessionId } = await session.#ask('POST', '/session', { capabilities: { alwaysMatch: capabilities } }, AbortSignal.timeout(Session.#PATIENCE));
    session.#address = `${driver}/session/${sessionId}`;
    await session.#ask('POST', '/timeouts', { script: 300_000 });
    return session;
  }

  async #ask(method, path, body, signal) {
    const answer = await fetch(this.#address + path, { method, body: body && JSON.stringify(body), signal });
    const { value } = await answer.json();
    if (!answer.ok) throw new Error(`${method} ${path}: ${value.error}: ${value.message}`);
    return value;
  }

  go(address) {
    return this.#ask('POST', '/url', { url: address });
  }

  /** Calls a function in the page; gives what it, or its promise, comes to. */
  async call(does, ...args) {
    const script = `const [args, done] = arguments;
      (async () => (${does})(...args))().then((value) => done({ value }), (error) => done({ error: String(error) }));`;
    const { value, error } = await this.#ask('POST', '/execute/async', { script, args: [args] });
    if (error) throw new Error(error);
    return value;
  }

  /** Clicks the element that a function in the page finds. */
  async click(finds, ...args) {
    await this.#ask('POST', `/element/${await this.#find(finds, args)}/click`, {});
  }

  /** Types into the element that a function in the page finds. */
  async keys(text, finds, ...args) {
    await this.#ask('POST', `/element/${await this.#find(finds, args)}/value`, { text });
  }

  async #find(finds, args) {
    return (await this.#ask('POST', '/execute/sync', { script: `return (${finds})(...arguments[0]);`, args: [args] }))[ELEMENT];
  }

  async picture() {
    return Buffer.from(await this.#ask('GET', '/screenshot'), 'base64');
  }

  end() {
    return this.#ask('DELETE', '');
  }
}
