// Starts the page, and, run again as a module worker, starts the solver from the same WebAssembly module.
// It is a file of its own because the content security policy forbids inline scripts.

/** The page: loads the checked module and lets Rust start the worker. */
async function startPage() {
  // Trunk writes the hashed names and their digests into links. The module's is no preload once the page is built
  // (crates/xtask/src/page.rs), so its digest is handed to fetch() here; the glue's is checked by its modulepreload link.
  const glueUrl = document.querySelector('link[rel="modulepreload"]').href;
  const wasm = document.querySelector('link[as="fetch"]');
  const [glue, module] = await Promise.all([
    import(glueUrl),
    WebAssembly.compileStreaming(fetch(wasm.href, { integrity: wasm.integrity })),
  ]);
  // Called from web/src/solver/worker.rs. The worker is given the compiled module and downloads no wasm.
  globalThis.startSolverWorker = () => {
    const worker = new Worker(import.meta.url, { type: 'module', name: 'solver' });
    worker.postMessage({ glueUrl, module });
    return worker;
  };
  await glue.default({ module_or_path: module });
}

/** The worker: waits for the module; main() then sees that it is in a worker. */
function startWorker() {
  addEventListener('message', async ({ data: { glueUrl, module } }) => {
    const glue = await import(glueUrl);
    await glue.default({ module_or_path: module });
  }, { once: true });
}

if (typeof document === 'undefined') {
  startWorker();
} else {
  try {
    await startPage();
  } catch (fault) {
    const notice = document.createElement('p');
    notice.setAttribute('role', 'alert');
    notice.textContent = `Hosewright could not start: ${fault.message}`;
    document.body.append(notice);
    throw fault;
  }
}
