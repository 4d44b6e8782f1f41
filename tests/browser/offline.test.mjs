// After one visit the page needs no host; a new version waits for the person; what was typed outlives reload, kill and update.
import assert from 'node:assert/strict';
import { appendFile, rm } from 'node:fs/promises';
import { createServer } from 'node:http';
import { join } from 'node:path';
import { after, before, test } from 'node:test';
import { ownHost, publishNext } from './lib/own_host.mjs';
import { serve } from './lib/server.mjs';
import { DIST, openWorkshop } from './lib/workshop.mjs';

let workshop;
before(async () => { workshop = await openWorkshop(); });
after(() => workshop.close());
const visit = (t, settings) => workshop.person(t, settings);

for (const [where, under] of [['at the top of a host', '/'], ['in a folder of a host', '/some/folder/']]) {
  test(`${where}: after one visit the page starts and solves with the host gone`, async (t) => {
    const { own } = await ownHost(t, { under });
    const person = await own.visit();
    await person.seeAnswer();
    await person.untilOffline();
    await own.host.stop();
    await assert.rejects(fetch(own.host.address), 'the host refuses connections');
    for (const at of ['', '?x=1#abc', 'index.html?y']) {
      await person.comeBack(at);
      await person.seeCutLength('480 mm, 18 7/8 in');
      assert.ok(person.page.url().endsWith(`${under}${at}`), person.page.url());
    }
    await person.type('Spigot A', 'how far the hose goes on', '40');
    await person.seeCutLength('490 mm, 19 5/16 in');
    await person.untilStored('40');
    const other = await person.anotherTab();
    await other.seeCutLength('490 mm, 19 5/16 in');
    assert.deepEqual([...person.complaints, ...other.complaints], []);
  });
}

test('a new version waits until the person switches; what was typed goes along; nothing old stays', async (t) => {
  const { own, folder } = await ownHost(t);
  const person = await own.visit();
  await person.seeAnswer();
  await person.untilOffline();
  const other = await person.anotherTab();
  await publishNext(folder);

  await person.comeBack();
  await person.hear('A new version is ready');
  assert.equal(await person.page.title(), 'Hosewright', 'the old one runs on');
  await person.press('Later');
  assert.equal(await person.canPress('Switch now'), false, 'no longer offered');
  await person.type('Spigot A', 'how far the hose goes on', '35');
  await person.seeCutLength('485 mm');

  await person.comeBack();
  await person.hear('A new version is ready');
  assert.equal(await person.page.title(), 'Hosewright', 'a reload is no consent');
  await person.type('Spigot A', 'how far the hose goes on', '40');
  await person.press('Switch now'); // sooner than the pause after which typing is stored
  await person.page.waitForFunction(() => document.title === 'Next Hosewright');
  await person.seeCutLength('490 mm, 19 5/16 in');
  assert.equal(await person.canPress('Switch now'), false, 'nothing newer');
  await other.page.waitForFunction(() => document.title === 'Next Hosewright'); // never two versions at once
  await other.seeAnswer();

  await own.host.stop();
  await person.comeBack();
  await person.seeCutLength('490 mm, 19 5/16 in');
  assert.equal(await person.page.title(), 'Next Hosewright');
  assert.deepEqual(await person.page.evaluate(() => caches.keys()), ['hosewright-next'], 'one cache left');
  const icon = await person.page.evaluate(async () => (await fetch('icon.svg')).text());
  assert.ok(icon.includes('#0b4a8c'), 'the new content under the old name');
  assert.deepEqual([...person.complaints, ...other.complaints], []);
});

test('a page that only comes back into sight hears of a new version, at the first visit too', async (t) => {
  const { own, folder } = await ownHost(t);
  const person = await own.visit();
  await person.seeAnswer();
  await person.untilOffline();
  await publishNext(folder);
  await person.page.evaluate(() => document.dispatchEvent(new Event('visibilitychange')));
  await person.press('Switch now');
  await person.page.waitForFunction(() => document.title === 'Next Hosewright');
  await person.seeAnswer();
});

for (const [what, spoil] of [
  ['an altered', (folder) => appendFile(join(folder, 'icon-512.png'), 'x')],
  ['a missing', (folder) => rm(join(folder, 'icon-512.png'))],
]) {
  test(`${what} file spoils the copy as a whole; the page works with its host`, async (t) => {
    const { own, folder } = await ownHost(t);
    await spoil(folder);
    const person = await own.visit();
    await person.seeAnswer();
    assert.equal(await person.canKeepOffline(), false);
  });
}

/** In the place of a host, one that answers a file by way of a redirect and passes the rest on. */
async function redirectAt(t, host, file) {
  await host.stop();
  const behind = await serve(DIST);
  const front = createServer(async (request, response) => {
    if (request.url === file) return response.writeHead(302, { location: `${file}?moved` }).end();
    const answer = await fetch(new URL(request.url, behind.address));
    response.writeHead(answer.status, { 'content-type': answer.headers.get('content-type') });
    return response.end(Buffer.from(await answer.arrayBuffer()));
  });
  await new Promise((listening) => front.listen(host.port, '127.0.0.1', listening));
  t.after(async () => {
    front.close();
    front.closeAllConnections();
    await behind.stop();
  });
}

// Whether it is the redirect that spoils: without one, the same host must do.
for (const [file, kept] of [['/icon-512.png', false], ['/no-such-file', true]]) {
  test(`a host that redirects ${file}: the copy is ${kept ? 'made' : 'not made'}`, async (t) => {
    const { own } = await ownHost(t);
    await redirectAt(t, own.host, file);
    const person = await own.visit();
    await person.seeAnswer();
    assert.equal(await person.canKeepOffline(), kept);
  });
}

test('what was typed comes back after a reload at once, with what cannot be read and the unit', async (t) => {
  const person = await visit(t);
  await person.press('Change the unit');
  await person.type('Spigot A', 'how far the hose goes on', '1 9/16');
  await person.type('Spigot A', 'outside diameter', '16,0,5');
  await person.comeBack(); // sooner than the pause after which typing is stored
  assert.equal(await person.reads('Spigot A', 'outside diameter'), '16,0,5');
  assert.match(await person.wrongWith('Spigot A', 'outside diameter'), /marks the decimals, once only/);
  assert.equal(await person.reads('Spigot A', 'how far the hose goes on'), '1 9/16');
  await person.type('Spigot A', 'outside diameter', '16 mm');
  await person.seeCutLength('19 5/16 in, 490 mm');
  assert.deepEqual(person.complaints, []);
});

test('what was typed comes back after the phone ended the tab without a word', async (t) => {
  const person = await visit(t);
  await person.type('Spigot A', 'name', 'rail by the bulkhead');
  await person.untilStored('rail by the bulkhead');
  const again = await person.reopenAfterKill();
  await again.seeAnswer();
  assert.equal(await again.reads('Spigot A', 'name'), 'rail by the bulkhead');
});

test('a page put out of sight stores at once', async (t) => {
  const person = await visit(t);
  await person.type('Spigot A', 'name', 'rail by the bulkhead');
  const stored = await person.page.evaluate(() => {
    Object.defineProperty(document, 'visibilityState', { get: () => 'hidden' });
    document.dispatchEvent(new Event('visibilitychange'));
    return localStorage.getItem('hosewright.last');
  });
  assert.match(stored, /rail by the bulkhead/);
});

for (const [what, text, said] of [
  ['a damaged text', '1 {"job":{"format":"hosewright-j', /cannot be read; it was set aside/],
  ['a text of a newer version', '3 {"job":{}}', /newer version of this page; it was set aside/],
]) {
  test(`${what} is set aside, the example is shown and one sentence says so`, async (t) => {
    const person = await visit(t);
    await person.page.evaluate((text) => localStorage.setItem('hosewright.last', text), text);
    await person.comeBack();
    await person.hear(said);
    await person.seeCutLength('480 mm, 18 7/8 in');
    const stored = () => person.page.evaluate(() => ({ ...localStorage }));
    assert.deepEqual(await stored(), { 'hosewright.aside': text });
    await person.type('Spigot A', 'how far the hose goes on', '40');
    await person.untilStored('40');
    assert.equal((await stored())['hosewright.aside'], text, 'still there');
    assert.deepEqual(person.complaints, []);
  });
}

// What the Storage interface of the HTML standard may throw: SecurityError at the door, QuotaExceededError at a write.
for (const [what, refuse, said] of [
  ['refuses storage', () => {
    Object.defineProperty(window, 'localStorage', { get() { throw new DOMException('no', 'SecurityError'); } });
  }, 'This phone keeps nothing: its browser does not let the page store anything'],
  ['has no room left', () => {
    Storage.prototype.setItem = () => { throw new DOMException('full', 'QuotaExceededError'); };
  }, 'This phone keeps nothing: its storage is full'],
]) {
  test(`a phone that ${what}: one sentence says so, and the page works`, async (t) => {
    const person = await visit(t);
    await person.page.addInitScript(refuse);
    await person.comeBack();
    await person.type('Spigot A', 'how far the hose goes on', '40');
    await person.seeCutLength('490 mm, 19 5/16 in');
    await person.hear(said);
    assert.deepEqual(person.complaints, []);
  });
}

test('starting afresh brings the example, and undo brings everything back', async (t) => {
  const person = await visit(t);
  assert.equal(await person.canPress('Start afresh'), false, 'the example is fresh');
  await person.type('Spigot A', 'how far the hose goes on', '1 9/16 in');
  await person.type('Spigot A', 'outside diameter', '16,0,5');
  await person.addNear('Solid wing, tray, block', 'lump');
  await person.press('Start afresh');
  await person.page.waitForFunction(() => document.activeElement.textContent === 'Undo'); // for who works by keyboard
  await person.seeCutLength('480 mm, 18 7/8 in');
  assert.equal(await person.reads('Spigot A', 'outside diameter'), '16 mm');
  assert.equal(await person.canPress('Start afresh'), false);
  await person.press('Undo');
  assert.equal(await person.reads('Spigot A', 'outside diameter'), '16,0,5');
  assert.equal(await person.reads('Spigot A', 'how far the hose goes on'), '1 9/16 in');
  await person.hear('Thing near it 3');
  assert.equal(await person.canPress('Undo'), false);
  await person.comeBack();
  await person.hear('Thing near it 3');
  assert.equal(await person.reads('Spigot A', 'outside diameter'), '16,0,5', 'and it is kept again');
  assert.deepEqual(person.complaints, []);
});

test('of two tabs the last one to change wins, even if the other is closed later', async (t) => {
  const one = await visit(t);
  const two = await one.anotherTab();
  await one.type('Spigot A', 'name', 'typed first');
  await one.untilStored('typed first');
  await two.type('Spigot A', 'name', 'typed last');
  await two.untilStored('typed last');
  await one.comeBack();
  await one.seeAnswer();
  assert.equal(await one.reads('Spigot A', 'name'), 'typed last');
  assert.deepEqual([...one.complaints, ...two.complaints], []);
});

// W3C Web Application Manifest, as Chromium reads it; every icon is decoded and measured.
test('the page can be put on the home screen', async (t) => {
  const person = await visit(t);
  await person.untilOffline();
  const tab = await person.page.context().newCDPSession(person.page);
  const { errors, data, url } = await tab.send('Page.getAppManifest');
  assert.deepEqual(errors, []);
  const { installabilityErrors } = await tab.send('Page.getInstallabilityErrors');
  // The empty browser of a spec keeps nothing for good, which is what Chromium calls incognito.
  assert.deepEqual(installabilityErrors.filter(({ errorId }) => errorId !== 'in-incognito'), []);
  const manifest = JSON.parse(data);
  assert.ok(manifest.name && manifest.short_name && manifest.background_color && manifest.theme_color);
  assert.deepEqual([manifest.start_url, manifest.scope, manifest.display], ['./', './', 'standalone']);
  const measured = await person.page.evaluate(async ([icons, url]) => Promise.all(icons.map(async ({ src }) => {
    const icon = Object.assign(new Image(), { src: new URL(src, url) });
    await icon.decode();
    return `${icon.naturalWidth}x${icon.naturalHeight}`;
  })), [manifest.icons, url]);
  assert.ok(manifest.icons.every(({ sizes }, i) => sizes === 'any' || sizes === measured[i]), measured.join());
  assert.deepEqual(manifest.icons.map(({ sizes, purpose }) => [sizes, purpose]),
    [['any', undefined], ['192x192', undefined], ['512x512', undefined], ['512x512', 'maskable']]);
});
