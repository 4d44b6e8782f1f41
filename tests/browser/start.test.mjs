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

async function emptyFolder(t) {
  const folder = await mkdtemp(join(tmpdir(), 'hosewright-'));
  t.after(() => rm(folder, { recursive: true }));
  return folder;
}

/** Visits a copy of the page in which something was added to one file. */
async function visitAltered(t, name, added) {
  const folder = await emptyFolder(t);
  await cp(DIST, folder, { recursive: true });
  const file = (await readdir(folder)).find((each) => name.test(each));
  await appendFile(join(folder, file), added);
  const altered = await openWorkshop({ folder });
  t.after(() => altered.close());
  return altered.visit();
}

test('the page starts, the solver answers, nothing is complained about', async () => {
  const visit = await workshop.visit();
  await visit.seeAnswer();
  assert.equal(await visit.page.title(), 'Hosewright');
  assert.deepEqual(visit.complaints, []);
  await visit.leave();
});

test('no request leaves the origin, and the solver downloads no module of its own', async () => {
  workshop.host.asked.length = 0;
  const visit = await workshop.visit();
  await visit.seeAnswer();
  await visit.untilOffline();
  assert.deepEqual(visit.foreignRequests, []);
  const modules = workshop.host.asked.filter((path) => path.endsWith('.wasm')).length;
  assert.equal(modules, 2, 'one serves page and worker, one is kept for times without a host');
  await visit.leave();
});

test('the page runs in a folder of the host as well', async (t) => {
  const inFolder = await openWorkshop({ under: '/some/folder/' });
  t.after(() => inFolder.close());
  const visit = await inFolder.visit();
  await visit.seeAnswer();
  assert.deepEqual(visit.complaints, []);
});

// Whether the watchers above can see anything at all.
test('a page without a policy that reaches outside is noticed', async (t) => {
  const folder = await emptyFolder(t);
  await writeFile(join(folder, 'index.html'), `<!doctype html><img src="http://page.invalid/"><output></output>
    <script>
      new WebSocket("ws://page.invalid/");
      new Worker("worker.js").onmessage = ({ data }) => { document.querySelector("output").textContent = data; };
    </script>`);
  await writeFile(join(folder, 'worker.js'), 'fetch("http://worker.invalid/").catch(() => postMessage("worker refused"));');
  const leaky = await openWorkshop({ folder });
  t.after(() => leaky.close());
  const visit = await leaky.visit();
  await visit.page.getByText('worker refused').waitFor();
  assert.deepEqual(visit.foreignRequests.toSorted(), ['http://page.invalid/', 'http://worker.invalid/', 'ws://page.invalid/']);
  assert.notDeepEqual(visit.complaints, [], 'a refused picture is complained about');
});

// Subresource integrity, W3C Recommendation of 23 June 2016: a file whose digest differs must be refused.
for (const [what, name, change] of [
  ['module', /_bg\.wasm$/, Buffer.from([0, 3, 1, 120, 0])], // an empty custom section "x": still a valid module
  ['glue script', /^hosewright-[0-9a-f]+\.js$/, '\n'],
]) {
  test(`an altered ${what} is refused`, async (t) => {
    const visit = await visitAltered(t, name, change);
    await visit.hearComplaint(/in the 'integrity' attribute/);
    assert.match(await visit.seeAlert(), /could not start/);
    assert.equal(await visit.page.locator('body > main').count(), 0, 'nothing was mounted');
  });
}

test('an altered start script is refused', async (t) => {
  const visit = await visitAltered(t, /^boot-/, '\n');
  await visit.hearComplaint(/in the 'integrity' attribute/);
  assert.equal(await visit.page.locator('body > main').count(), 0, 'nothing was mounted');
});
