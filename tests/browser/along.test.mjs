// One place touched along the hose runs through every lane, the sentence, the flat views and the turnable view.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { SMALL_PHONE, openWorkshop } from './lib/workshop.mjs';

let workshop;
before(async () => { workshop = await openWorkshop(); });
after(() => workshop.close());
const visit = (t, settings) => workshop.person(t, settings);

const slider = (page) => page.getByRole('slider', { name: 'Place along the hose' });
const readOut = (page) => page.getByRole('status').filter({ hasText: /from the knife end at A:/ });

/** Where the place stands, mm from the knife end at A. */
const place = async (page) => Number(await slider(page).getAttribute('aria-valuenow'));

/** The figure a finding shows: its own, not the limit. */
async function found(page, name) {
  const row = page.getByRole('listitem').filter({ has: page.getByRole('heading', { name }) });
  return (await row.textContent()).match(/([\d.]+) mm needs/)[1];
}

test('a button leads to the worst place of each lane, and the figures there are those of what was checked', async (t) => {
  const person = await visit(t);
  const { page } = person;
  await page.getByText(/^Touch a lane or press a button/).waitFor();
  assert.equal(await readOut(page).count(), 0, 'nothing is touched at first');
  await person.press('Tightest bend');
  assert.match(await readOut(page).textContent(), new RegExp(`bend ${await found(page, /^Tightest bend/)} mm to the inside`));
  for (const thing of ['exhaust pipe', 'battery tray']) {
    await person.press(`Nearest to ${thing}`);
    const figure = await found(page, new RegExp(`^Distance: ${thing}`));
    assert.match(await readOut(page).textContent(), new RegExp(`${thing} ${figure.replace('.', '\\.')} mm away`));
  }
  assert.deepEqual(person.complaints, []);
});

test('the place moves by buttons, by keys and by a tap, and stays on the hose', async (t) => {
  const person = await visit(t);
  const { page } = person;
  await person.press('Tightest bend');
  const start = await place(page);
  await person.press('Nearer A');
  assert.equal(await place(page), start - 10);
  await person.press('Nearer B');
  await person.press('Nearer B');
  assert.equal(await place(page), start + 10);
  await slider(page).focus();
  await page.keyboard.press('ArrowLeft');
  assert.equal(await place(page), start);
  await page.keyboard.press('End');
  assert.equal(await place(page), 480, 'the knife end at B');
  await page.keyboard.press('ArrowRight');
  assert.equal(await place(page), 480, 'there is no more hose');
  await page.keyboard.press('Home');
  assert.equal(await place(page), 0);
  assert.match(await readOut(page).textContent(), /gripped on its spigot/);
  await slider(page).scrollIntoViewIfNeeded();
  const box = await slider(page).boundingBox();
  await page.touchscreen.tap(box.x + box.width / 2, box.y + 60);
  // The middle of the picture is the middle of the cut: 240 mm, give or take a pixel.
  assert.ok(Math.abs((await place(page)) - 240) < 3, `${await place(page)}`);
  assert.equal(await slider(page).getAttribute('aria-valuemax'), '480');
});

test('the touched place is marked in the flat views', async (t) => {
  const person = await visit(t);
  const { page } = person;
  const above = page.getByRole('img', { name: /^From above, front of the car at the bottom: the hose runs/ });
  await above.scrollIntoViewIfNeeded();
  const before = await above.screenshot();
  await person.press('Tightest bend');
  assert.deepEqual(await above.screenshot(), before, 'the tightest bend is marked at first');
  await person.press('Nearest to battery tray');
  assert.notDeepEqual(await above.screenshot(), before);
});

test('in inches the place is read out in inches', async (t) => {
  const person = await visit(t);
  const { page } = person;
  await person.press('Nearest to exhaust pipe');
  const mm = await place(page);
  await person.press('Change the unit');
  await page.getByText(/ in from the knife end at A: bend .* in to the inside, exhaust pipe .* in away/).waitFor();
  await person.press('Nearer B');
  // Half an inch; both are told to the millimetre.
  assert.ok(Math.abs((await place(page)) - (mm + 12.7)) <= 1, `${mm} to ${await place(page)}`);
});

test('every button is large enough for a thumb, and nothing hangs out at the side', async (t) => {
  for (const [width, height] of [[360, 640], [412, 915]]) {
    const person = await visit(t, { ...SMALL_PHONE, viewport: { width, height } });
    const { page } = person;
    for (const name of ['Nearer A', 'Nearer B', 'Tightest bend', 'Nearest to exhaust pipe']) {
      const box = await page.getByRole('button', { name, exact: true }).boundingBox();
      assert.ok(box.height >= 48 && box.width >= 48, `${name}: ${box.width} x ${box.height}`);
    }
    assert.equal(await page.evaluate(() => document.documentElement.scrollWidth), width);
  }
});

const turned = (page) => page.getByRole('img', { name: /: the hose from water rail to heater core, exhaust pipe, battery tray\.$/ });
const seenFrom = (page) => page.getByRole('status').filter({ hasText: /^(From|Half) / });

/** Has the picture on the screen, and drawn: it is once it comes near, with a frame. */
const isDrawn = async (page) => {
  await turned(page).scrollIntoViewIfNeeded();
  await page.evaluate(async () => { for (let i = 0; i < 4; i += 1) await new Promise((next) => { requestAnimationFrame(next); }); });
};

/** What is drawn on the canvas. */
const drawn = async (page) => {
  await isDrawn(page);
  return turned(page).evaluate((canvas) => canvas.toDataURL());
};

/** The colours that are on the canvas, unmixed. */
const pens = (page) => turned(page).evaluate((canvas) => {
  // From a copy: the browser warns of a picture that is read over and over.
  const copy = Object.assign(document.createElement('canvas'), { width: canvas.width, height: canvas.height });
  const sheet = copy.getContext('2d', { willReadFrequently: true });
  sheet.drawImage(canvas, 0, 0);
  const { data } = sheet.getImageData(0, 0, copy.width, copy.height);
  const colours = new Set();
  for (let i = 0; i < data.length; i += 4) if (data[i + 3] === 255) colours.add(`${data[i]},${data[i + 1]},${data[i + 2]}`);
  return [...colours];
});

/** Waits until something holds. */
async function until(holds, what) {
  for (let i = 0; i < 100; i += 1) {
    if (await holds()) return;
    await new Promise((later) => setTimeout(later, 50));
  }
  assert.fail(what);
}

test('the view turns by buttons with words, says from where one looks, and comes back to where one stands', async (t) => {
  const person = await visit(t);
  const { page } = person;
  await person.press('As I stand');
  assert.equal(await seenFrom(page).textContent(), 'From the front, half from above.');
  const standing = await drawn(page);
  for (const [button, words] of [
    ['More from the left', "From the front, a little from the car's right side, half from above."],
    ['Lower', "From the front, a little from the car's right side, a little from above."],
    ['More from the right', 'From the front, a little from above.'],
    ['Higher', 'From the front, half from above.'],
  ]) {
    const before = await drawn(page);
    await person.press(button);
    assert.equal(await seenFrom(page).textContent(), words);
    assert.notEqual(await drawn(page), before, button);
  }
  assert.equal(await drawn(page), standing, 'once round and back');
  for (let i = 0; i < 9; i += 1) await person.press('Higher');
  assert.equal(await seenFrom(page).textContent(), 'From above, the front at the bottom.');
  assert.match(await turned(page).getAttribute('aria-label'), /^From above, the front at the bottom: the hose/);
  await person.press('As I stand');
  assert.equal(await drawn(page), standing);
  assert.deepEqual(person.complaints, []);
});

test('a drag turns the view, and what one has turned to stays when another answer comes', async (t) => {
  const person = await visit(t, { viewport: { width: 360, height: 640 } });
  const { page } = person;
  await person.press('As I stand');
  await turned(page).scrollIntoViewIfNeeded();
  const box = await turned(page).boundingBox();
  await page.mouse.move(box.x + 100, box.y + 100);
  await page.mouse.down();
  await page.mouse.move(box.x + 200, box.y + 100, { steps: 5 });
  await page.mouse.up();
  // A hundred pixels to the right: fifty degrees more from the left.
  assert.equal(await seenFrom(page).textContent(), "Half from the car's right side, half from the front, half from above.");
  const before = await drawn(page);
  await person.press('+ 10 mm');
  await person.seeCutLength('490 mm, 19 5/16 in');
  assert.equal(await seenFrom(page).textContent(), "Half from the car's right side, half from the front, half from above.");
  await until(async () => await drawn(page) !== before, 'the hose is longer');
});

test('the turned view marks the touched place, and is drawn anew for another width, the dark and forced colours', async (t) => {
  const person = await visit(t, { viewport: { width: 360, height: 640 }, deviceScaleFactor: 2 });
  const { page } = person;
  const size = () => turned(page).evaluate((canvas) => [canvas.width, canvas.clientWidth]);
  const [unset] = await size();
  await isDrawn(page);
  const [dots, pixels] = await size();
  assert.equal(dots, 2 * pixels, 'as many dots as the screen has');
  assert.ok(unset !== dots, 'not drawn as long as it is far below the screen');
  const first = await drawn(page);
  await person.press('Nearest to battery tray');
  await until(async () => await drawn(page) !== first, 'another place is marked');
  assert.ok((await pens(page)).includes('21,24,27'), 'ink on paper');
  await page.emulateMedia({ colorScheme: 'dark' });
  await until(async () => (await pens(page)).includes('242,238,228'), 'pale ink in the dark');
  assert.ok(!(await pens(page)).includes('21,24,27'), 'and no dark ink left');
  await page.setViewportSize({ width: 412, height: 915 });
  await until(async () => (await size())[0] > dots, 'more dots for a wider picture');
  const [more, wide] = await size();
  assert.equal(more, 2 * wide);
  await page.emulateMedia({ forcedColors: 'active' });
  const ink = await page.evaluate(() => {
    const probe = document.createElement('i');
    probe.style.color = 'CanvasText';
    document.body.append(probe);
    return getComputedStyle(probe).color.match(/\d+/g).join(',');
  });
  await until(async () => (await pens(page)).includes(ink), `the person's own ink, ${ink}`);
  assert.deepEqual(person.complaints, []);
});
