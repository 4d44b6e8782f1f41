// Before anything is painted: the language is found out, and whether the example may stand there at once as it comes with the
// page (web/first.html); it may not where somebody has something of their own, follows a link, or reads another language. Then
// the module is sent for, as early as can be, and the language.
{
  let stored = [];
  try { stored = Object.entries(localStorage).filter(([key]) => key.startsWith('hosewright.')); } catch { /* Nothing may be stored. */ }
  const [, chosen] = stored.find(([key]) => key === 'hosewright.language') ?? [];
  globalThis.language = [chosen, ...navigator.languages].map((one) => one?.slice(0, 2)).find((one) => ['en', 'de', 'es'].includes(one));
  if ((globalThis.language ?? 'en') !== 'en') {
    // Where it does not come the page is English.
    globalThis.spoken = import('./words/words.js').then(({ speak }) => speak(globalThis.language, '#late')).catch(() => {});
  }
  const isOwn = stored.some(([key]) => !key.endsWith('.language')) || location.hash.length > 1 || (globalThis.language ?? 'en') !== 'en';
  document.documentElement.classList.toggle('own', isOwn);
  // The module's link is no preload once the page is built (crates/xtask/src/page.rs), so its digest is handed to fetch() here.
  const { href, integrity } = document.querySelector('link[as="fetch"]');
  globalThis.compiled = WebAssembly.compileStreaming(fetch(href, { integrity }));
  globalThis.compiled.catch(() => {}); // web/boot.js waits for it, and tells.
}
