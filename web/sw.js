// Keeps the page on the device. `cargo xtask build` writes in front of this:
//   VERSION  of the page as a whole, from the content of every file
//   FILES    [address below the page's folder, digest] of every file
// All files of a version are kept or none. No file is ever mixed into another version: Trunk can give two contents
// one name, so a file is known by its digest.

const PREFIX = 'hosewright-'; // other pages may share the origin
const CACHE = PREFIX + VERSION;

const address = (file) => new URL(file, self.registration.scope).href;
const key = (file, digest) => `${address(file)}?${encodeURIComponent(digest)}`;
const KEYS = new Map(FILES.map(([file, digest]) => [address(file), key(file, digest)]));
KEYS.set(address('index.html'), KEYS.get(address('./')));

async function ownCaches() {
  return (await caches.keys()).filter((name) => name.startsWith(PREFIX));
}

/** Takes every file: from what an earlier version kept, else from the host; one that is not as it was built spoils all. */
async function install() {
  const [kept, cache] = [await ownCaches(), await caches.open(CACHE)];
  await Promise.all(FILES.map(async ([file, digest]) => {
    for (const name of kept) {
      const same = await (await caches.open(name)).match(key(file, digest));
      if (same) return cache.put(key(file, digest), same);
    }
    // Not out of the browser's own cache, not by way of a redirect, and only with the digest it was built with: a
    // login page of a public network comes with status 200, too.
    const answer = await fetch(address(file), { cache: 'reload', redirect: 'error', integrity: digest });
    if (!answer.ok) throw new Error(`${file}: ${answer.status}`);
    return cache.put(key(file, digest), answer);
  }));
}

/** Takes over, and drops what the versions before kept. */
async function activate() {
  const old = (await ownCaches()).filter((name) => name !== CACHE);
  await Promise.all(old.map((name) => caches.delete(name)));
  await self.clients.claim();
}

/** A file as it was kept; from the host only if the browser has thrown it away. */
async function fromCache(key, request) {
  const cache = await caches.open(CACHE);
  return (await cache.match(key)) ?? fetch(request);
}

addEventListener('install', (event) => event.waitUntil(install()));
addEventListener('activate', (event) => event.waitUntil(activate()));
// A new version waits until the person agrees; web/src/offline.rs says so then.
addEventListener('message', ({ data }) => { if (data === 'switch') self.skipWaiting(); });
addEventListener('fetch', (event) => {
  const key = KEYS.get(event.request.url.split(/[?#]/)[0]);
  if (key && event.request.method === 'GET') event.respondWith(fromCache(key, event.request));
});
