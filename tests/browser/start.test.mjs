// The page starts, its solver answers, nothing leaves the page's origin and the browser has nothing to complain about.
import assert from 'node:assert/strict';
import { appendFile, cp, mkdtemp, readdir, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, before, test } from 'node:test';
import { DIST, openWorkshop } from './lib/workshop.mjs';

let workshop;
before(async () => { workshop = await openWorkshop(); });
after(() => workshop.close());

test('the page starts, the solver answers, nothing is complained about', async () => {
  const visit = await workshop.visit();
  await visit.seeSolverReady();
  assert.equal(await visit.page.title(), 'Hosewright');
  assert.deepEqual(visit.complaints, []);
  await visit.leave();
});

test('no request leaves the origin, and the solver downloads no module of its own', async () => {
  workshop.host.asked.length = 0;
  workshop.reachedOutside.length = 0;
  const visit = await workshop.visit();
  await visit.seeSolverReady();
  assert.deepEqual(visit.foreignRequests, []);
  assert.deepEqual(workshop.reachedOutside, []);
  assert.equal(workshop.host.asked.filter((path) => path.endsWith('.wasm')).length, 1, 'one module serves page and worker');
  await visit.leave();
});

test('the page runs in a folder of the host as well', async () => {
  const inFolder = await openWorkshop({ under: '/some/folder/' });
  const visit = await inFolder.visit();
  await visit.seeSolverReady();
  assert.deepEqual(visit.complaints, []);
  await inFolder.close();
});

// Whether the watchers above can see anything at all.
test('a page without a policy that reaches outside is noticed', async () => {
  const folder = await mkdtemp(join(tmpdir(), 'leaky-'));
  await writeFile(join(folder, 'index.html'), '<!doctype html><script>new Worker("w.js")</script><img src="http://page.invalid/">');
  await writeFile(join(folder, 'w.js'), 'fetch("http://worker.invalid/").catch(() => {})');
  const leaky = await openWorkshop({ folder });
  const visit = await leaky.visit();
  await assert.doesNotReject(visit.page.waitForFunction(() => document.readyState === 'complete'));
  while (leaky.reachedOutside.length < 2) await new Promise((soon) => setTimeout(soon, 20));
  assert.deepEqual(leaky.reachedOutside.toSorted(), ['http://page.invalid/', 'http://worker.invalid/']);
  assert.ok(visit.foreignRequests.includes('http://page.invalid/'));
  assert.notDeepEqual(visit.complaints, [], 'a refused picture is complained about');
  await leaky.close();
  await rm(folder, { recursive: true });
});

// Subresource integrity, W3C Recommendation of 23 June 2016: a file whose digest differs must be refused.
for (const [what, name, change] of [
  ['module', /_bg\.wasm$/, Buffer.from([0, 3, 1, 120, 0])], // an empty custom section "x": still a valid module
  ['glue script', /^hosewright-[0-9a-f]+\.js$/, '\n'],
  ['start script', /^boot-/, '\n'],
]) {
  test(`an altered ${what} is refused`, async () => {
    const folder = await mkdtemp(join(tmpdir(), 'altered-'));
    await cp(DIST, folder, { recursive: true });
    const file = (await readdir(folder)).find((each) => name.test(each));
    await appendFile(join(folder, file), change);
    const altered = await openWorkshop({ folder });
    const visit = await altered.visit();
    await visit.hearComplaint(/in the 'integrity' attribute/);
    assert.equal(await visit.page.getByRole('heading').count(), 0, 'nothing was mounted');
    await altered.close();
    await rm(folder, { recursive: true });
  });
}
