// The safe start, at the address `#safe`: before web/boot.js starts the page, what is stored is put out of its reach. It can
// be saved as a file, and the next start reads it again. The same file brings all cars to another phone (web/src/cars/file.rs).

const BASE = 'hosewright'; // web/src/store/base.rs
const TEXTS = 'hosewright.'; // web/src/keep.rs
const FORMAT = 'hosewright-stored';
const LONGEST = 100e6; // bytes of a file that is taken in (our choice: it is read as a whole, and a phone has no endless memory)

const factory = globalThis.IDBFactory?.prototype ?? {};
const { open } = factory;

const wait = (request) => new Promise((done, failed) => {
  request.onsuccess = () => done(request.result);
  request.onerror = () => failed(request.error);
});

/** The page gets storage of its own, empty, which ends with the tab; cars go beside those that are kept. */
function putOutOfReach() {
  const texts = new Map();
  const storage = {
    getItem: (key) => texts.get(key) ?? null,
    setItem: (key, text) => { texts.set(key, text); },
    removeItem: (key) => { texts.delete(key); },
  };
  Object.defineProperty(window, 'localStorage', { value: storage });
  factory.open = function (name, ...version) { return open.call(this, `${name}-safe`, ...version); };
  try {
    indexedDB.deleteDatabase(`${BASE}-safe`);
  } catch { /* A browser without it, or that refuses it, keeps no cars. */ }
}

/** A picture as a text. */
const written = (value) => (value instanceof Blob ? new Promise((done) => {
  const reader = new FileReader();
  reader.onloadend = () => done(reader.result);
  reader.readAsDataURL(value);
}) : value);

/** A text as the picture it was; nothing where it is none that the page makes. */
function picture(text) {
  const [, type, data] = /^data:(image\/(?:jpeg|png));base64,([\w+/=]+)$/.exec(text) ?? [];
  try {
    return data && new Blob([Uint8Array.from(atob(data), (c) => c.charCodeAt())], { type });
  } catch { return undefined; }
}

/** All that is stored, as it is; what cannot be had is named. */
async function all(texts, opened) {
  const stored = { format: FORMAT, version: 1, texts: {}, missing: [] };
  const missing = (fault) => { stored.missing.push(`${fault}`); };
  try {
    for (const [key, text] of Object.entries(texts())) if (key.startsWith(TEXTS)) stored.texts[key] = text;
  } catch (fault) { missing(fault); }
  try {
    const opening = opened();
    opening.onupgradeneeded = () => opening.transaction.abort(); // There is none: it is for the page to make it.
    const base = await wait(opening);
    for (const name of base.objectStoreNames) {
      try {
        const store = base.transaction(name).objectStore(name);
        const [keys, values] = await Promise.all([wait(store.getAllKeys()), wait(store.getAll())]);
        const rows = await Promise.all(values.map(async (value, i) => [keys[i], await written(value)]));
        for (const [key, value] of rows) if (value === null) missing(key); // A picture that the browser has lost.
        stored[name] = Object.fromEntries(rows);
      } catch (fault) { missing(fault); }
    }
    base.close();
  } catch (fault) { if (fault?.name !== 'AbortError') missing(fault); }
  return stored;
}

/** Saves it as a file; says what could not be had, if anything. */
async function save(texts, opened) {
  const stored = await all(texts, opened);
  const file = new Blob([JSON.stringify(stored, null, 1)], { type: 'application/json' });
  const href = URL.createObjectURL(file);
  Object.assign(document.createElement('a'), { href, download: `${FORMAT}-${new Date().toISOString().slice(0, 10)}.json` }).click();
  setTimeout(() => URL.revokeObjectURL(href), 60_000); // The browser has the file in hand by then (our choice).
  if (file.size > LONGEST) return 'The file is longer than 100 MB and cannot be taken in: save each car as a file.';
  return stored.missing.length ? `The file was saved, but not all could be read: ${stored.missing.join('; ')}.` : undefined;
}

// For the list of cars: all of them into a file, and out of one; nothing where it is no such file.
globalThis.saveStored = () => save(() => localStorage, () => indexedDB.open(BASE));
globalThis.readStored = async (file) => {
  if (file.size > LONGEST) return undefined;
  let stored;
  try { stored = JSON.parse(await file.text()); } catch { return undefined; }
  if (!stored?.texts || (stored.version ?? 1) !== 1) return undefined; // Once it was written without.
  return { ...stored, photos: Object.fromEntries(Object.entries(stored.photos ?? {}).map(([key, text]) => [key, picture(text)])) };
};

/** Says so, and offers what can be done. */
function say(texts) {
  const [section, said, row, saving, goOn] = ['section', 'p', 'div', 'button', 'a'].map((tag) => document.createElement(tag));
  section.setAttribute('role', 'status');
  said.textContent = 'Started without what is stored on this phone: none of it was read or changed. What you type now ends with this tab.';
  row.className = 'row';
  Object.assign(saving, { className: 'bt', type: 'button', textContent: 'Save what is stored as a file' });
  Object.assign(goOn, { className: 'bt', href: './', textContent: 'Go on with what is stored' });
  saving.addEventListener('click', async () => {
    const missing = await save(texts, () => open.call(indexedDB, BASE));
    if (!missing) return;
    said.textContent = missing;
    globalThis.spoken?.then((sayIn) => sayIn?.(said));
  });
  row.append(saving, goOn);
  section.append(said, row);
  document.body.prepend(section);
  globalThis.spoken?.then((sayIn) => sayIn?.(section)); // web/first.js
}

const isSafe = () => location.hash === '#safe';
if (isSafe()) {
  const kept = Object.getOwnPropertyDescriptor(window, 'localStorage').get;
  putOutOfReach();
  say(() => kept.call(window));
  globalThis.isSafe = true; // for web/boot.js
}
addEventListener('hashchange', () => { if (isSafe()) location.reload(); });
