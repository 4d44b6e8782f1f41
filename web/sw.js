// Keeps the page on the device. `cargo xtask build` writes in front of this:
//   VERSION  of the page as a whole, from the content of every file
//   FILES    [address below the page's folder, digest] of every file
//   SAID     [language, GONE in that language] of every other language
// All files of a version are kept or none. No file is ever mixed into another version: Trunk can give two contents
// one name, so a file is known by its digest.

const PREFIX = 'hosewright-'; // other pages may share the origin
const CACHE = PREFIX + VERSION;

const address = (file) => new URL(file, self.registration.scope).href;
const key = ([file, digest]) => `${address(file)}?${encodeURIComponent(digest)}`;
const OURS = new Map(FILES.map((ours) => [address(ours[0]), ours]));
OURS.set(address('index.html'), OURS.get(address('./')));

// What stands in the page's place where nothing of it is left and its host is out of reach: which language was chosen is not known.
const GONE = 'The browser has thrown away its copy of Hosewright, and the host of the page cannot be reached. Open it again where there is a signal. What you typed is stored apart from it.';
const said = ([language, text]) => `<p lang="${language}">${text}</p>`;
const NOTHING_LEFT = `<!doctype html><meta name="viewport" content="width=device-width"><title>Hosewright</title>${[['en', GONE], ...SAID].map(said).join('')}`;

async function ownCaches() {
  return (await caches.keys()).filter((name) => name.startsWith(PREFIX));
}

/** A file as it was kept; nothing if the browser has thrown it away, or if it is no longer what it was. */
async function fromCache(name, ours) {
  const cache = await caches.open(name);
  const kept = await cache.match(key(ours));
  if (!kept) return undefined;
  const digest = await kept.clone().arrayBuffer().then((bytes) => crypto.subtle.digest('SHA-256', bytes)).catch(() => []);
  if (ours[1] === `sha256-${btoa(String.fromCharCode(...new Uint8Array(digest)))}`) return kept;
  await cache.delete(key(ours));
  return undefined;
}

/** A file from the host, only as it was built. */
async function fromHost([file, digest]) {
  // Not out of the browser's own cache, not by way of a redirect, and only with the digest it was built with: a
  // login page of a public network comes with status 200, too.
  const answer = await fetch(address(file), { cache: 'reload', redirect: 'error', integrity: digest });
  if (!answer.ok) throw new Error(`${file}: ${answer.status}`);
  return answer;
}

/** The files of other languages, which are kept once they were asked for. */
const isLater = ([file]) => file.startsWith('words/');

/** Takes every file: from what is kept already, of this version or of one before, else from the host; one that is not as it was built spoils all. */
async function keepAll() {
  const [kept, cache] = [await ownCaches(), await caches.open(CACHE)];
  await Promise.all(FILES.map(async (ours) => {
    let isAsked = !isLater(ours);
    for (const name of kept) {
      const same = await fromCache(name, ours);
      if (same) return name === CACHE || cache.put(key(ours), same);
      isAsked ||= Boolean(await (await caches.open(name)).match(address(ours[0]), { ignoreSearch: true }));
    }
    return isAsked && cache.put(key(ours), await fromHost(ours));
  }));
}

/** Takes over, and drops what the versions before kept. */
async function activate() {
  const old = (await ownCaches()).filter((name) => name !== CACHE);
  await Promise.all(old.map((name) => caches.delete(name)));
  await self.clients.claim();
}

/** The page itself. Where the browser has thrown away a part and the host has this version no more, the host's own. */
async function page(ours, request) {
  const cache = await caches.open(CACHE);
  const there = new Set((await cache.keys()).map(({ url }) => url));
  if (FILES.some((one) => !isLater(one) && !there.has(key(one)))) {
    try {
      await keepAll();
    } catch {
      const newer = await fetch(request).catch(() => undefined);
      if (newer?.ok) return newer;
    }
  }
  return await fromCache(CACHE, ours) ?? fromHost(ours)
    .catch(() => new Response(NOTHING_LEFT, { headers: { 'content-type': 'text/html; charset=utf-8' } }));
}

/** A file of another language, for the first time. */
async function later(ours) {
  const answer = await fromHost(ours);
  await (await caches.open(CACHE)).put(key(ours), answer.clone());
  return answer;
}

addEventListener('install', (event) => event.waitUntil(keepAll()));
addEventListener('activate', (event) => event.waitUntil(activate()));
// A new version waits until the person agrees; web/src/offline.rs says so then.
addEventListener('message', ({ data }) => { if (data === 'switch') self.skipWaiting(); });
addEventListener('fetch', (event) => {
  const { request } = event;
  const ours = OURS.get(request.url.split(/[?#]/)[0]);
  if (!ours || request.method !== 'GET') return;
  event.respondWith(request.mode === 'navigate' ? page(ours, request)
    : fromCache(CACHE, ours).then((kept) => kept ?? (isLater(ours) ? later(ours) : fromHost(ours))));
});
