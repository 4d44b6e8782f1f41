// Starts the page, and, run again as a module worker, starts the solver from the same WebAssembly module.
// It is a file of its own because the content security policy forbids inline scripts.

/** Another language than English, as it was chosen or as the browser is set. Where it does not come the page is English. */
async function speak() {
  let chosen;
  try { chosen = localStorage.getItem('hosewright.language'); } catch { /* Nothing may be stored. */ }
  const language = [chosen, ...navigator.languages].map((one) => one?.slice(0, 2)).find((one) => ['en', 'de', 'es'].includes(one));
  if (!language || language === 'en') return;
  const [{ pairs, speaker }, catalogue] = await Promise.all([import('./words/words.js'), fetch(`words/${language}.po`)]);
  if (!catalogue.ok) return;
  globalThis.speaks = speaker(pairs(await catalogue.text()));
  document.documentElement.lang = language;
}

/** The page: loads the checked module and lets Rust start the worker. */
async function startPage() {
  // Trunk writes the hashed names and their digests into links. The module's is no preload once the page is built
  // (crates/xtask/src/page.rs), so its digest is handed to fetch() here; the glue's is checked by its modulepreload link.
  const glueUrl = document.querySelector('link[rel="modulepreload"]').href;
  const wasm = document.querySelector('link[as="fetch"]');
  const [glue, module] = await Promise.all([
    import(glueUrl),
    WebAssembly.compileStreaming(fetch(wasm.href, { integrity: wasm.integrity })),
    speak().catch(() => {}),
  ]);
  // Called from web/src/solver/worker.rs. The worker is given the compiled module and downloads no wasm.
  globalThis.startSolverWorker = () => {
    const worker = new Worker(import.meta.url, { type: 'module', name: 'solver' });
    // A worker that the browser ends says nothing, but lets go of this lock.
    const lock = `hosewright solver ${Math.random()}`;
    const ended = () => worker.dispatchEvent(new ErrorEvent('error', { message: 'the browser ended it' }));
    worker.addEventListener('message', () => navigator.locks?.request(lock, ended), { once: true });
    worker.postMessage({ glueUrl, module, lock });
    return worker;
  };
  await glue.default({ module_or_path: module });
  document.getElementById('late').remove();
}

/** The worker: waits for the module; main() then sees that it is in a worker. */
function startWorker() {
  addEventListener('message', async ({ data: { glueUrl, module, lock } }) => {
    try {
      // Held as long as the worker lives.
      await new Promise((held) => {
        if (!navigator.locks) held();
        navigator.locks?.request(lock, () => { held(); return new Promise(() => {}); }).catch(held);
      });
      const glue = await import(glueUrl);
      await glue.default({ module_or_path: module });
    } catch (fault) {
      setTimeout(() => { throw fault; }); // The page hears of an error, and of no refused promise.
    }
  }, { once: true });
}

/** Says that the page does not work, and what to do about it. */
function tell(what, { message }) {
  document.getElementById('late')?.remove();
  const [notice, said, safe] = ['section', 'p', 'a'].map((tag) => document.createElement(tag));
  notice.setAttribute('role', 'alert');
  said.textContent = `Hosewright ${what}: ${message}. What is stored on this phone stays. Reload the page; if that does not help:`;
  safe.className = 'bt';
  safe.href = '?#safe';
  safe.textContent = 'Start without what is stored';
  notice.append(said, safe);
  document.body.prepend(notice);
}

if (typeof document === 'undefined') {
  startWorker();
} else {
  // A module that broke does not go on.
  const hear = (fault) => { if (fault instanceof WebAssembly.RuntimeError) tell('broke', fault); };
  addEventListener('error', ({ error }) => hear(error));
  addEventListener('unhandledrejection', ({ reason }) => hear(reason));
  try {
    // Where web/safe.js did not come the page must not reach what is stored.
    if (location.hash === '#safe' && !globalThis.isSafe) throw new Error('a part of it did not come');
    await startPage();
  } catch (fault) {
    tell('could not start', fault);
    throw fault;
  }
}
