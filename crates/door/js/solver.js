// The solver for a page of your own: a class over the worker. Its types, and those of job and report, stand in solver.d.ts.

/** Solves jobs one after the other, off the page's own thread. */
export class Solver {
  #worker;
  /** What is waited for, by number, in the order of asking: the first is in hand. */
  #waiting = new Map();
  #asked = 0;

  /** The report on a job, given as an object or as the text of a job file. */
  solve(job) {
    return new Promise((resolve, reject) => {
      const text = typeof job === 'string' ? job : `${JSON.stringify(job)}`;
      const id = ++this.#asked;
      this.#waiting.set(id, { id, job: text, resolve, reject });
      this.#worker ??= this.#start();
      this.#worker.postMessage({ id, job: text });
    });
  }

  /** Ends the worker and refuses what is still waited for; the next job starts it anew. */
  stop() {
    this.#worker?.terminate();
    this.#worker = undefined;
    const waiting = [...this.#waiting.values()];
    this.#waiting.clear();
    for (const { reject } of waiting) reject(new Error('stopped'));
  }

  #start() {
    const name = `hosewright solver ${Math.random()}`;
    const worker = new Worker(new URL('worker.js', import.meta.url), { type: 'module', name });
    const ended = (why) => { if (worker === this.#worker) this.#goOn(why); };
    worker.addEventListener('message', ({ data }) => {
      // The worker holds the lock of its name as long as it lives.
      if (data.ready) navigator.locks?.request(name, () => ended('the browser ended the solver')).catch(() => {});
      else if (worker === this.#worker) this.#told(data);
    });
    worker.addEventListener('error', ({ message }) => ended(`the solver ended: ${message ?? 'it could not be loaded'}`));
    return worker;
  }

  #told({ id, report, error }) {
    const { resolve, reject } = this.#waiting.get(id);
    this.#waiting.delete(id);
    if (error === undefined) resolve(report);
    else reject(new Error(error));
  }

  /** The worker has ended: the job in hand is refused, the others go to a new worker. */
  #goOn(why) {
    this.#worker.terminate();
    this.#worker = undefined;
    const [inHand, ...others] = this.#waiting.values();
    if (!inHand) return;
    this.#waiting.delete(inHand.id);
    if (others.length > 0) this.#worker = this.#start();
    for (const { id, job } of others) this.#worker.postMessage({ id, job });
    inHand.reject(new Error(why));
  }
}
