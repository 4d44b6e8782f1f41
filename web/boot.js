// Starts the page, and, run again as a module worker, starts the solver from the same WebAssembly module.
// It is a file of its own because the content security policy forbids inline scripts.

/**
 * The example as it comes with the page: what is pressed on it is pressed once the page is there, where the same stands in
 * its place; who goes through it by keys stays there.
 */
function whileExample() {
  const first = document.getElementById('first');
  if (document.documentElement.classList.contains('own')) {
    first.remove();
    return;
  }
  const all = (within) => [...document.querySelectorAll('button, a, input')].filter((one) => one.closest(within));
  const before = all('#first');
  let [pressed, moved, here] = [-1, -1, -1];
  first.addEventListener('click', ({ target }) => {
    pressed = before.indexOf(target.closest('button'));
    before[pressed]?.setAttribute('aria-busy', 'true');
  });
  first.addEventListener('input', ({ target }) => { moved = before.indexOf(target); });
  first.addEventListener('focusin', ({ target }) => { here = before.indexOf(target); });
  new MutationObserver((_, watch) => {
    if (first.isConnected) return;
    watch.disconnect();
    if (location.hash.length > 1) return; // They have gone to another screen.
    const now = all('header, main');
    now[here]?.focus({ preventScroll: true });
    if (moved >= 0) {
      now[moved].value = before[moved].value;
      now[moved].dispatchEvent(new Event('input', { bubbles: true }));
    }
    now[pressed]?.click();
  }).observe(document.body, { childList: true });
}

// Trunk writes the hashed names and their digests into links; the glue's is checked by its modulepreload link.
const glueUrl = globalThis.document?.querySelector('link[rel="modulepreload"]').href;

/** A solver that has what it runs but the module. */
function newWorker() {
  const worker = new Worker(import.meta.url, { type: 'module', name: 'solver' });
  // A worker that the browser ends says nothing, but lets go of this lock.
  const lock = `hosewright solver ${Math.random()}`;
  const ended = () => worker.dispatchEvent(new ErrorEvent('error', { message: 'the browser ended it' }));
  worker.addEventListener('message', () => navigator.locks?.request(lock, ended), { once: true });
  worker.postMessage({ glueUrl, lock });
  return worker;
}

const nextTask = () => new Promise((next) => { setTimeout(next); });

/** The page: brings the module and lets Rust have its worker. */
async function startPage() {
  // Its scripts come while the module does. If they do not, the page hears of it from the next.
  let early = newWorker();
  early.addEventListener('error', () => { early = undefined; }, { once: true });
  const [glue, module] = await Promise.all([import(glueUrl), globalThis.compiled, globalThis.spoken]);
  // Called from web/src/solver/worker.rs. The worker is given the compiled module and downloads no wasm.
  globalThis.startSolverWorker = () => {
    const worker = early ?? newWorker();
    early = undefined;
    worker.postMessage(module);
    return worker;
  };
  await nextTask(); // What has just come took one already.
  await glue.default({ module_or_path: module });
  document.getElementById('late').remove();
}

/** The worker: waits for the module; main() then sees that it is in a worker. */
function startWorker() {
  const heard = () => new Promise((hear) => { addEventListener('message', ({ data }) => hear(data), { once: true }); });
  addEventListener('message', async ({ data: { glueUrl, lock } }) => {
    try {
      const [glue, module] = await Promise.all([
        import(glueUrl),
        heard(),
        // Held as long as the worker lives.
        new Promise((held) => {
          if (!navigator.locks) held();
          navigator.locks?.request(lock, () => { held(); return new Promise(() => {}); }).catch(held);
        }),
      ]);
      await glue.default({ module_or_path: module });
    } catch (fault) {
      setTimeout(() => { throw fault; }); // The page hears of an error, and of no refused promise.
    }
  }, { once: true });
}

/** Says that the page does not work, and what to do about it. */
function tell(what, { message }) {
  for (const id of ['late', 'first']) document.getElementById(id)?.remove();
  const [notice, said, safe] = ['section', 'p', 'a'].map((tag) => document.createElement(tag));
  notice.setAttribute('role', 'alert');
  said.textContent = `${what}: ${message}. What is stored on this phone stays. Reload the page; if that does not help:`;
  safe.className = 'bt';
  safe.href = '?#safe';
  safe.textContent = 'Start without what is stored';
  notice.append(said, safe);
  document.body.prepend(notice);
  globalThis.spoken?.then((sayIn) => sayIn?.(notice));
}

if (typeof document === 'undefined') {
  startWorker();
} else {
  // A module that broke does not go on.
  const hear = (fault) => { if (fault instanceof WebAssembly.RuntimeError) tell('Hosewright broke', fault); };
  addEventListener('error', ({ error }) => hear(error));
  addEventListener('unhandledrejection', ({ reason }) => hear(reason));
  try {
    // Where web/first.js did not come nothing was sent for; where web/safe.js did not, the page must not reach what is stored.
    if (!globalThis.compiled || (location.hash === '#safe' && !globalThis.isSafe)) throw new Error('a part of it did not come');
    whileExample();
    await startPage();
  } catch (fault) {
    tell('Hosewright could not start', fault);
    throw fault;
  }
}
