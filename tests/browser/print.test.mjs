// One run on paper: what stands on the sheet, its drawings true to the scale it states, two pages of A4 or Letter at most.
import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { resolve } from 'node:path';
import { after, before, test } from 'node:test';
import { openWorkshop } from './lib/workshop.mjs';

const example = JSON.parse(await readFile(resolve(import.meta.dirname, '../cases/example.json'), 'utf8'));

/** Pixels of CSS to a millimetre: 96 to the inch of 25.4 mm. */
const PX = 96 / 25.4;

let workshop;
before(async () => { workshop = await openWorkshop(); });
after(() => workshop.close());

/** Somebody whose phone had kept this run. */
async function visit(t, job = example) {
  const visit = await workshop.visit();
  t.after(() => visit.leave());
  await visit.seeAnswer();
  if (job !== example) {
    await visit.page.evaluate((job) => {
      localStorage.setItem('hosewright.last', `1 ${JSON.stringify({ job, typed: {}, inches: false })}`);
    }, job);
    await visit.comeBack();
    await visit.seeAnswer();
  }
  return visit;
}

/** The sheet as it would be printed, seen on the screen. */
async function onPaper(person) {
  const { page } = person;
  await page.evaluate(() => { globalThis.print = () => { globalThis.printed = (globalThis.printed ?? 0) + 1; }; });
  await person.press('Print this run');
  await page.waitForFunction(() => globalThis.printed === 1);
  await page.emulateMedia({ media: 'print' });
  return page.getByRole('article', { name: 'This run on paper' });
}

/** The example with so many things near it, all measured, none in the way. */
function crowded(things) {
  const job = structuredClone(example);
  const [run] = job.runs;
  job.car = 'an invented estate car with a long name, gas conversion being removed by its third owner';
  run.neighbours = Array.from({ length: things }, (_, i) => ({
    name: things < 5 ? `bar ${i + 1}` : `bracket ${i + 1} of the old gas conversion`, kind: ['solid', 'sharp', 'moving', 'hot'][i % 4], on: 'body',
    shape: { rod: { from_mm: [-100 - 10 * i, 500 + 20 * i, -150.5], to_mm: [-190, 475 + 20 * i, 250.5], diameter_mm: 50 } },
    ...(i % 4 === 3 && { surface_c: 400 }),
    standoff_mm: 20,
  }));
  run.to.bead_mm = 17.2;
  Object.assign(run.from, { straight_mm: 12, can_move_mm: 5 });
  return job;
}

/** How many pages a PDF has: its page objects, which are never packed away in the ones Chromium writes. */
const pages = (pdf) => pdf.toString('latin1').match(/\/Type\s*\/Page\b/g)?.length ?? 0;

test('the sheet holds what the work needs', async (t) => {
  const person = await visit(t);
  const sheet = await onPaper(person);
  await sheet.waitFor();
  for (const text of ['Hosewright: heater flow', 'invented estate car', /Fits, standing and rocking\./, 'Cut by', 'Date', 'Offered up',
    'This is an estimate: offer the hose up', 'Never open a hot cooling system', /^Not checked: .*Rating of the hose/, /^What this does not know: the fabric/]) {
    await sheet.getByText(text).first().waitFor();
  }
  // Whatever is cut or bought, in both units. By hand: 480/25.4 is 18 14.4/16, 450/25.4 is 17 11.5/16.
  await sheet.getByText('18 7/8 in').first().waitFor();
  for (const row of ['End A, cut square 0 0', 'Mouth of spigot A 30 mm 1 3/16 in', 'Mouth of spigot B 450 mm 17 11/16 in', 'End B, cut square 480 mm 18 7/8 in']) {
    await sheet.getByRole('row', { name: row, exact: true }).waitFor();
  }
  await sheet.getByText(/Buy at least 500 mm \(19 11\/16 in\)/).waitFor();
  await sheet.getByText(/^worm drive 16-27, DIN 3017-1 form A/).first().waitFor();
  await sheet.getByText(/^Spigot A: water rail: outside diameter 16 mm; .*17.2 mm/).waitFor();
  await sheet.getByText(/mouth forward −280 mm, to the left 210 mm, up 70 mm/).waitFor();
  await sheet.getByRole('img', { name: /^The piece/ }).waitFor();
  await sheet.getByRole('img', { name: 'QR code of this run' }).waitFor();
  const link = await person.page.locator('#link').inputValue();
  await sheet.getByText(link.slice(0, 40)).waitFor();
  assert.deepEqual(person.complaints, []);
});

test('the three views are true to the scale that is stated, and a line tells whether the printer kept it', async (t) => {
  const sheet = await onPaper(await visit(t));
  const line = await sheet.getByRole('img', { name: '100 mm', exact: true }).boundingBox();
  assert.ok(Math.abs(line.width - 100 * PX) < 0.1, `${line.width} px`);
  const scale = Number((await sheet.getByRole('heading', { name: /drawn 1:/ }).textContent()).split('1:')[1]);
  assert.ok([1, 2, 2.5, 4, 5, 10, 20].includes(scale), `1:${scale}`);
  const views = sheet.getByRole('img', { name: /the hose runs from water rail to heater core/ });
  assert.equal(await views.count(), 3);
  // The battery tray of the example is 150 long, 80 wide, 140 high. From above, the front, the left side:
  const tray = [[80, 150], [80, 140], [150, 140]];
  for (const [i, [wide, high]] of tray.entries()) {
    const view = await views.nth(i).boundingBox();
    assert.ok(view.width <= 186 * PX && view.height <= 255 * PX, `view ${i} goes on the paper`);
    const drawn = await views.nth(i).locator('.thing').evaluate((tray) => {
      const { a, d } = tray.getScreenCTM();
      const box = tray.getBBox();
      return [box.width * a, box.height * d];
    });
    for (const [have, want] of [[drawn[0], wide], [drawn[1], high]]) {
      assert.ok(Math.abs(have * scale / PX / want - 1) < 2e-3, `view ${i}: ${have * scale / PX} mm for ${want}`);
    }
  }
});

test('nothing of the screen is printed', async (t) => {
  const person = await visit(t);
  await onPaper(person);
  const seen = await person.page.evaluate(() => [...document.body.children].filter((child) => child.checkVisibility()).map((child) => child.localName));
  assert.deepEqual(seen, ['article']);
  await person.page.emulateMedia({ media: 'screen' });
  assert.ok(!(await person.page.getByRole('article', { includeHidden: true }).isVisible()), 'the sheet is out of sight on the screen');
  await person.type('Spigot A', 'name', 'rail');
  await person.page.getByRole('article', { includeHidden: true }).waitFor({ state: 'detached' }); // It would be an old sheet.
});

test('it goes on two pages of A4 or Letter, however it is printed', async (t) => {
  for (const job of [example, crowded(4), crowded(8)]) {
    for (const format of ['A4', 'Letter']) {
      const person = await visit(t, job);
      // By the browser's own menu: nobody pressed the button.
      const pdf = await person.page.pdf({ format });
      await person.page.getByRole('article', { includeHidden: true }).waitFor({ state: 'attached' });
      assert.ok([1, 2].includes(pages(pdf)), `${format}, ${job.runs[0].neighbours.length} things near it: ${pages(pdf)} pages`);
      await person.leave();
    }
  }
});

test('where no length works the sheet says so and gives nothing to cut', async (t) => {
  const job = structuredClone(example);
  job.runs[0].neighbours[1].shape.box.from_mm = [-400, 50, -80]; // the tray now lies across the way
  const sheet = await onPaper(await visit(t, job));
  await sheet.getByText(/^No length works.*There is nothing to mark, cut or buy\.$/).waitFor();
  assert.equal(await sheet.getByRole('row', { name: /^End B/ }).count(), 0);
  assert.equal(await sheet.getByText(/Buy at least/).count(), 0);
});
