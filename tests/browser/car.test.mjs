// A whole car: listed, changed, decided on, measured, bought for, fitted, filled and printed, by taps and by keys alone.
import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { resolve } from 'node:path';
import { after, before, test } from 'node:test';
import { carOf } from './lib/car.mjs';
import { walk } from './lib/screens.mjs';
import { LARGE_PHONE, SMALL_PHONE, openWorkshop } from './lib/workshop.mjs';

const example = JSON.parse(await readFile(resolve(import.meta.dirname, '../cases/example.json'), 'utf8'));
const exampleCar = JSON.parse(await readFile(resolve(import.meta.dirname, '../cases/car.json'), 'utf8'));

let workshop;
before(async () => { workshop = await openWorkshop(); });
after(() => workshop.close());
const visit = (t, settings) => workshop.person(t, settings);

/** Somebody whose phone had kept this car. */
async function withCar(t, job = exampleCar, settings = SMALL_PHONE) {
  const person = await visit(t, settings);
  await person.keepCar({ ...job, car: 'an estate car of our own' }, '#car');
  await person.seeCar();
  return person;
}

const named = (list, name) => list.find((entry) => entry.name === name) ?? assert.fail(`no ${name}`);
const lineOf = async (person, name) => named((await person.car()).lines, name);

/** Has the page's printing be counted, and not open anything. */
const countPrints = (page) => page.evaluate(() => { globalThis.print = () => { globalThis.printed = (globalThis.printed ?? 0) + 1; }; });

test('a whole car from an empty page to the printed sheet, by taps', async (t) => {
  const person = await visit(t);
  const { page } = person;
  await person.tapAll(['Measure one hose', '16', 'A points right', 'Now place B', ...walk(210, 'right'), ...walk(280, 'away'), ...walk(70, 'up'),
    'B points to you', 'Show the cut']);
  await person.seeAnswer();
  await person.tapAll(['The whole car', 'Begin with a plain car']);
  let car = await person.car();
  assert.deepEqual([car.parts.length, car.lines.length, car.runs.length], [8, 11, 1]);
  assert.ok(car.lines.every(({ state, decision, run }) => !state && !decision && !run), 'nothing is said of a plain car');

  // The hose that was measured first is one of its lines.
  await person.say('heater flow', ['cracked', 'straight hose only', 'universal hose', 'run 1']);
  car = await person.car();
  const flow = named(car.lines, 'heater flow');
  assert.deepEqual([flow.state, flow.can_buy, flow.decision, flow.run], ['cracked', 'straight hose', 'universal hose', 'heater flow']);
  assert.deepEqual(car.runs.map(({ name }) => name), ['heater flow'], 'the hose is called as its line');

  // The next is a steel line, rusted, with the battery tray in its way.
  await person.tap('Next: heater return');
  // The line before has a field of that name as well.
  await page.getByRole('heading', { name: 'heater return', level: 1 }).waitFor();
  await page.getByLabel('what it is').selectOption('steel line');
  await person.tapAll(['rusted', 'nothing that fits', 'universal hose']);
  await person.tap('is in its way');
  await person.hear('First the name of the other thing.');
  await page.getByLabel('Name of the other thing').fill('battery tray');
  await person.tap('is in its way');
  await person.hear('battery tray is in the way of heater return');
  await page.getByLabel('Name of the other thing').fill('battery');
  await person.tap('comes off with it');
  car = await person.car();
  const back = named(car.lines, 'heater return');
  assert.deepEqual([back.kind, back.state, back.can_buy, back.decision], ['steel line', 'rusted', 'nothing', 'universal hose']);
  assert.deepEqual(car.relations, [
    { what: 'battery tray', is: 'in the way of', of: 'heater return' }, { what: 'battery', is: 'comes off with', of: 'heater return' },
  ]);

  // A branch is left out, the rest is decided.
  await person.say('bottle hose', ['missing', 'leave it out']);
  await person.say('bottle outlet hose', ['soft', 'the moulded hose', 'new moulded hose']);
  for (const name of ['top hose', 'bottom hose', 'bypass hose']) await person.say(name, ['sound', 'keep it']);
  car = await person.car();
  assert.deepEqual(car.lines.filter(({ kind }) => kind !== 'passage').map(({ decision }) => decision),
    ['universal hose', 'universal hose', 'leave out', 'moulded hose', 'keep', 'keep', 'keep']);

  // Until it is measured, what to buy says what is not in the list.
  await person.goTo('Buy');
  await page.getByRole('heading', { name: 'Not in this list yet' }).waitFor();
  await page.getByRole('link', { name: /^heater return/ }).click();
  await person.tapAll(['Measure its hose', '16', 'A points right', 'Now place B', ...walk(230, 'straight on, facing A'), 'Show the cut']);
  await person.seeAnswer();
  car = await person.car();
  assert.deepEqual([car.runs.map(({ name }) => name), named(car.lines, 'heater return').run], [['heater flow', 'heater return'], 'heater return']);
  assert.deepEqual([car.runs[1].from.name, car.runs[1].to.name], ['heater core, return', 'pump, heater return']);
  assert.deepEqual(car.runs[1].to.at_mm, [0, 230, 0], 'the hose in hand is the second');
  assert.deepEqual(car.runs[0].to.at_mm, [-280, 210, 70], 'the first is as it was measured');

  // The open ends are closed.
  await person.goTo('Fit');
  for (const end of ['pump, small stub', 'water rail, small spigot', 'expansion bottle, inlet']) {
    await page.getByRole('button', { name: new RegExp(`^Close it so.*${end}: cap$`) }).click();
  }
  car = await person.car();
  const closed = car.parts.flatMap(({ name, spigots }) => spigots.filter(({ closed_by: by }) => by).map(({ name: spigot, closed_by: by }) => [name, spigot, by]));
  assert.deepEqual(closed, [['pump', 'small stub', 'cap'], ['water rail', 'small spigot', 'cap'], ['expansion bottle', 'inlet', 'cap']]);

  await person.seeCar();
  await person.goTo('Buy');
  assert.equal(await page.getByRole('heading', { name: 'Not in this list yet' }).count(), 0);
  const clamps = page.getByRole('listitem').filter({ hasText: /For heater flow, heater return, 1 of them spare/ });
  assert.match(await clamps.textContent(), /16-27.*5/, 'four ends and one to spare');
  await clamps.getByRole('checkbox').click();
  await person.goTo('Fit');
  await page.getByRole('checkbox', { name: /^Take off battery tray/ }).click();
  await person.goTo('Fill');
  await page.getByLabel('what was done').fill('heater hoses renewed');
  await person.tap('Write it down');
  car = await person.car();
  assert.deepEqual(car.system.ticked.map((key) => key.split(' ')[0]), ['clamp', 'take']);
  assert.deepEqual(car.system.log.map(({ what }) => what), ['heater hoses renewed']);

  await person.seeCar();
  await countPrints(page);
  await person.press('Print the job sheet');
  await page.waitForFunction(() => globalThis.printed === 1);
  await page.emulateMedia({ media: 'print' });
  await page.getByRole('heading', { name: 'Hosewright: Job sheet' }).waitFor();
  assert.equal(await page.getByRole('img', { name: 'QR code of this run' }).count(), 2, 'one for each hose');
  assert.deepEqual(person.complaints, []);
});

test('the same by keys alone', async (t) => {
  const person = await visit(t, {});
  const { page } = person;
  await countPrints(page);
  // Another length makes the example a run of one's own.
  await page.getByLabel('Try a cut length').focus();
  await page.keyboard.press('ArrowRight');
  for (const name of ['The whole car', 'Begin with a plain car']) await person.enter(name);
  assert.equal((await person.car()).lines.length, 11);
  await person.enter(/^heater flow/);
  for (const name of ['cracked', 'universal hose']) await person.enter(name, 'Space');
  await person.enter('heater flow'); // The hose that was measured.
  await person.stepTo('in-the-way');
  await page.keyboard.type('air filter box', { delay: 20 });
  await person.enter('is in its way');
  let car = await person.car();
  assert.deepEqual([car.lines[0].state, car.lines[0].decision, car.lines[0].run], ['cracked', 'universal hose', 'heater flow']);
  assert.deepEqual(car.relations, [{ what: 'air filter box', is: 'in the way of', of: 'heater flow' }]);

  await person.enter('Next: heater return');
  await person.stepTo(/^f-lines-1-kind$/);
  await page.keyboard.type('steel');
  for (const name of ['rusted', 'leave it out']) await person.enter(name, 'Space');
  // Going through the parts by the arrows and back makes no new one and loses no spigot.
  await person.stepTo('line-from-part');
  for (const key of ['End', 'ArrowUp', 'Home', ...Array(7).fill('ArrowDown')]) await page.keyboard.press(key);
  car = await person.car();
  assert.deepEqual([car.lines[1].kind, car.lines[1].state, car.lines[1].decision], ['steel line', 'rusted', 'leave out']);
  assert.deepEqual([car.parts.length, car.lines[1].from], [8, { part: 'heater core', spigot: 'return' }]);

  await person.enter('Fit');
  await person.enter(/^Close it so.*pump, small stub: cap$/);
  // The focus follows when what was decided is drawn anew.
  const standsOn = async (pattern, why = 'the same key takes it back') => {
    let stands = await person.standsOn();
    for (let i = 0; i < 100 && !pattern.test(stands); i += 1) {
      await page.waitForTimeout(50);
      stands = await person.standsOn();
    }
    assert.match(stands, pattern, why);
  };
  await standsOn(/^Not so after all/);
  assert.equal(named(named((await person.car()).parts, 'pump').spigots, 'small stub').closed_by, 'cap');
  await page.keyboard.press('Enter');
  await standsOn(/^Close it so/);
  assert.ok(!named(named((await person.car()).parts, 'pump').spigots, 'small stub').closed_by);
  await page.keyboard.press('Enter');
  await standsOn(/^Not so after all/);
  await person.enter(/^Take off air filter box/, 'Space');
  assert.match(await person.standsOn(), /^Take off air filter box/, 'who ticks off stays where they are');
  assert.deepEqual((await person.car()).system.ticked, ['take off: air filter box']);

  await person.enter('Car');
  await person.enter(/^bypass hose/);
  await person.enter('Take it away');
  await standsOn(/^Undo$/, 'what was taken away can be brought back by the next key');
  assert.equal((await person.car()).lines.length, 10);
  await page.keyboard.press('Enter');
  assert.equal((await person.car()).lines.length, 11);
  await person.seeCar();
  await person.enter('Print the job sheet');
  await page.waitForFunction(() => globalThis.printed === 1);
  assert.deepEqual(person.complaints, []);
});

test('a bypass left out is told at once, and an open end until one tap closes it', async (t) => {
  const person = await visit(t);
  const { page } = person;
  await person.tapAll(['The whole car', 'Begin with a plain car']);
  const dry = page.getByText(/no coolant goes past its bulb with the thermostat shut/);
  const stub = page.getByText('pump, small stub: open. Close it, or put a line on it.');
  await stub.waitFor();
  assert.equal(await dry.count(), 0);
  await person.say('bypass hose', ['leave it out', 'Back to the car']);
  await dry.waitFor();
  for (const end of ['pump, bypass', 'thermostat, bypass']) await person.hear(`${end}: open once bypass hose is out. Close it, or put a line on it.`);
  await person.hear(/^4 things are not right\.$/);
  await person.say('bypass hose', ['leave it out', 'Back to the car']); // Taken back.
  await stub.waitFor();
  assert.equal(await dry.count(), 0);
  await person.tap('Close it');
  await page.getByRole('button', { name: /^Close it so.*pump, small stub: hose and plug$/ }).click();
  await person.goTo('Car');
  await person.hear('Coolant goes round.');
  assert.equal(await stub.count(), 0);
  // And back.
  await person.goTo('Fit');
  await page.getByRole('button', { name: /^Not so after all.*pump, small stub/ }).click();
  await person.goTo('Car');
  await stub.waitFor();
  assert.deepEqual(person.complaints, []);
});

test('what is in the way comes off first, and goes back when what it hides is tight', async (t) => {
  const person = await withCar(t);
  const { page } = person;
  await person.say('top hose', ['universal hose']);
  await page.getByLabel('Name of the other thing').fill('fan shroud');
  await person.tap('is in its way');
  await person.goTo('Fit');
  await person.hear(/^Take off fan shroud/);
  const steps = await page.getByRole('listitem').allTextContents();
  const at = (words) => {
    const place = steps.findIndex((step) => step.replace(/^\d+/, '').startsWith(words));
    assert.ok(place >= 0, words);
    return place;
  };
  for (const [first, then] of [
    ['Take off fan shroud', 'Take off top hose'], ['Take off battery: ', 'Take off battery tray'],
    ['Take off air filter box', 'Take off steel return line'], ['Take off top hose', 'Fit the new top hose'],
    ['Fit the new heater return', 'Tighten the clamps of heater return now'], ['Tighten the clamps of heater return now', 'Put battery tray back'],
    ['Put battery tray back', 'Put battery back'], ['Tighten the clamps of top hose now', 'Put fan shroud back'],
  ]) assert.ok(at(first) < at(then), `${first} before ${then}`);
  // The numbers run through.
  const numbers = steps.map((step) => step.match(/^(\d+)(Take|Fit|Put|Tighten|All)/)?.[1]).filter(Boolean).map(Number);
  assert.deepEqual(numbers, numbers.map((_, i) => i + 1));
  assert.deepEqual(person.complaints, []);
});

test('what is ticked off stays so over a reload, and the list can be copied', async (t) => {
  const person = await withCar(t);
  const { page } = person;
  await person.goTo('Buy');
  const clamp = page.getByRole('checkbox', { name: /^worm drive clamp, .* 16-27: .* band/ });
  await clamp.click();
  assert.equal(await clamp.getAttribute('aria-checked'), 'true');
  assert.match((await person.car()).system.ticked.join(), /^clamp .*16-27/);
  await person.comeBack('#buy');
  await clamp.waitFor();
  assert.equal(await clamp.getAttribute('aria-checked'), 'true');
  await page.evaluate(() => {
    Object.defineProperty(navigator, 'clipboard', { configurable: true, value: { writeText: async (text) => { globalThis.copied = text; } } });
  });
  await person.tap('Copy the list');
  await person.hear('Copied.');
  const text = await page.evaluate(() => globalThis.copied);
  for (const line of [/^- 1 x 1000 mm \(39\.4 in\) EPDM heater hose, 16 mm/m, /^- 5 x worm drive clamp.*16-27/m, /^- 2\.4 l coolant concentrate/m]) assert.match(text, line);
  // Where the phone does not let the page copy, the text is there to be copied by hand.
  await page.evaluate(() => { navigator.clipboard.writeText = async () => { throw new Error('no'); }; });
  await person.tap('Copy the list');
  assert.equal(await page.getByRole('textbox', { name: 'Copy it as plain text' }).inputValue(), text);
  assert.deepEqual(person.complaints, []);
});

test('lengths at hand are typed without the page meddling, and are cut from first', async (t) => {
  const { stock, ...none } = exampleCar;
  assert.ok(stock);
  const person = await withCar(t, none);
  const { page } = person;
  await person.goTo('Buy');
  await person.tap('Add a hose');
  // Whoever works by keys stands at its first field.
  await page.waitForFunction(() => document.activeElement.labels?.[0].textContent.trim() === 'bore');
  const pieces = page.getByLabel(/^sound pieces you have/);
  await pieces.focus();
  await page.keyboard.type('540; 310', { delay: 60 });
  assert.equal(await pieces.inputValue(), '540; 310');
  assert.deepEqual((await person.car()).stock, [{ bore_mm: 16, pieces_mm: [540, 310] }]);
  await person.hear(/^540 mm of yours: /);
  await page.keyboard.type('; 3o');
  assert.equal(await page.getByText('One of them is no length.').count(), 0, 'not judged while it is typed');
  await page.keyboard.press('Tab');
  await person.hear('One of them is no length.');
  assert.equal(await pieces.inputValue(), '540; 310; 3o');
  await pieces.focus();
  await page.keyboard.press('End');
  await page.keyboard.press('Backspace');
  await page.keyboard.type('00');
  assert.equal(await page.getByText('One of them is no length.').count(), 0);
  assert.deepEqual((await person.car()).stock[0].pieces_mm, [540, 310, 300]);
  assert.deepEqual(person.complaints, []);
});

test('a part or spigot by another name keeps its lines', async (t) => {
  const person = await withCar(t, exampleCar, LARGE_PHONE);
  const { page } = person;
  const on = ({ lines }, part) => lines.flatMap(({ name, from, to }) => [from, to].filter((end) => end.part === part).map((end) => [name, end.spigot]));
  const before = on(await person.car(), 'pump');
  assert.equal(before.length, 6);
  await person.open('pump');
  const name = page.getByLabel('its name').first();
  await name.press('End');
  await page.keyboard.type(' of water', { delay: 30 });
  assert.equal(await name.inputValue(), 'pump of water');
  assert.deepEqual(on(await person.car(), 'pump of water'), before);
  await person.type('heater return', 'its name', 'from the heater');
  const after = on(await person.car(), 'pump of water');
  assert.deepEqual(after, before.map(([line, spigot]) => [line, spigot === 'heater return' ? 'from the heater' : spigot]));
  await person.goTo('Car');
  assert.equal(await page.getByText(/^5 things|^4 things|^3 things|^2 things/).count(), 0, 'nothing came apart');
  assert.deepEqual(person.complaints, []);
});

test('a line, a part or a hose that was taken away comes back as it was, and no later work is lost by that', async (t) => {
  const person = await withCar(t);
  const { page } = person;
  const before = await person.car();
  const takeRun = async () => {
    const hose = page.getByRole('listitem').filter({ has: page.getByRole('button', { name: /^heater return/ }) });
    await hose.getByText('More', { exact: true }).click();
    await hose.getByRole('button', { name: 'Take it away' }).click();
  };
  const takeLast = async (name) => {
    await person.open(name);
    await page.getByRole('button', { name: 'Take it away', exact: true }).last().click();
  };
  for (const [list, take] of [['lines', () => takeLast('bottle outlet hose')], ['parts', () => takeLast('radiator')], ['runs', takeRun]]) {
    await take();
    await person.hear('Taken away.');
    assert.equal((await person.car())[list].length, before[list].length - 1, list);
    const undo = page.getByRole('button', { name: 'Undo' });
    const box = await undo.boundingBox();
    assert.ok(box.y >= 0 && box.y + box.height <= 640, 'within reach, wherever one stands in the list');
    await undo.click();
    assert.deepEqual(await person.car(), before, list);
  }
  await takeLast('bottle outlet hose');
  await person.hear('Taken away.');
  await person.say('top hose', ['soft', 'Back to the car']);
  assert.equal(await person.canPress('Undo'), false, 'what was said since would be lost');
  assert.deepEqual(person.complaints, []);
});

test('a hose measured from its line takes over what is known of both spigots and of the old one', async (t) => {
  const person = await visit(t);
  const { page } = person;
  await person.tapAll(['The whole car', 'Begin with a plain car']);
  for (const [part, spigot, across, of] of [['heater core', 'return', '15.9', 'brass'], ['pump', 'heater return', '5/8 in', 'aluminium']]) {
    await person.open(part);
    await person.type(spigot, 'outside diameter', across);
    await page.getByRole('group').filter({ hasText: spigot }).getByLabel('made of').selectOption(of);
  }
  await person.open('heater return');
  await page.getByLabel('its bore').fill('14');
  await page.getByLabel('its length').fill('600');
  await person.tapAll(['universal hose', 'Measure its hose']);
  const car = await person.car();
  const { from, to, replaces } = car.runs[1];
  assert.deepEqual([from.name, from.spigot_mm, from.made_of, from.on], ['heater core, return', 15.9, 'brass', 'body']);
  assert.deepEqual([to.name, to.spigot_mm, to.made_of, to.on], ['pump, heater return', 15.875, 'aluminium', 'engine']);
  assert.deepEqual(replaces, { length_mm: 600, bore_mm: 14 });
  // Sizes are there: only directions and places are asked.
  await person.tapAll(['A points right', 'Now place B', ...walk(230, 'straight on, facing A'), 'Show the cut']);
  await person.seeAnswer();
  assert.deepEqual(person.complaints, []);
});

test('a part and a spigot that are not in the list yet are added from a line', async (t) => {
  const person = await withCar(t);
  const { page } = person;
  await person.open('top hose');
  await page.getByLabel('its spigot, from').selectOption('+ another spigot');
  assert.equal(named((await person.car()).parts, 'thermostat').spigots.length, 3, 'not by looking through the list');
  await person.tap('Add it');
  let car = await person.car();
  assert.equal(named(car.parts, 'thermostat').spigots.length, 4);
  assert.equal(named(car.lines, 'top hose').from.spigot, named(car.parts, 'thermostat').spigots[3].name);
  await page.getByLabel('To the part').selectOption('+ another part');
  await person.tap('Add it');
  await page.getByLabel('its name').first().fill('oil cooler');
  car = await person.car();
  assert.deepEqual([car.parts.length, named(car.lines, 'top hose').to.part], [exampleCar.parts.length + 1, 'oil cooler']);
  assert.deepEqual(person.complaints, []);
});

test('a tab that ends while a line is edited loses nothing', async (t) => {
  const person = await withCar(t);
  const { page } = person;
  await person.open('bottle outlet hose');
  await person.tapAll(['weeping', 'universal hose']);
  await page.getByLabel('its length').fill('37o'); // Not right yet, and kept all the same.
  await page.getByLabel('note').fill('two clips in the crack');
  await person.untilStored('two clips in the crack');
  const before = await person.car();
  const again = await person.reopenAfterKill();
  await again.seeCar();
  await again.open('bottle outlet hose');
  assert.equal(await again.page.getByLabel('its length').inputValue(), '37o');
  assert.equal(await again.page.getByLabel('note').inputValue(), 'two clips in the crack');
  assert.deepEqual(await again.car(), before);
  const { state, decision } = await lineOf(again, 'bottle outlet hose');
  assert.deepEqual([state, decision], ['weeping', 'universal hose']);
});

/** How many pages a PDF has: its page objects, which are never packed away in the ones Chromium writes. */
const pages = (pdf) => pdf.toString('latin1').match(/\/Type\s*\/Page\b/g)?.length ?? 0;

test('the job sheet holds all of it in both units, a code for every hose, and nothing is cut off on A4 or Letter', async (t) => {
  const person = await withCar(t);
  const { page } = person;
  await countPrints(page);
  await person.press('Print the job sheet');
  await page.waitForFunction(() => globalThis.printed === 1);
  await page.emulateMedia({ media: 'print' });
  const sheet = page.getByRole('article');
  for (const name of ['Hosewright: Job sheet', 'Lines', 'Before you begin', 'Take off, in this order', 'Close the open ends', 'Put on, in this order',
    'What to buy', 'Which piece from which length', 'What it holds', 'Step by step', 'If it weeps', 'Hosewright: heater flow',
    'Hosewright: heater return', 'Hosewright: bottle hose']) {
    await sheet.getByRole('heading', { name, exact: true }).first().waitFor();
  }
  for (const words of ['an estate car of our own', 'Done by', 'Proved', /^Only on a cold engine/, /pump, small stub: open/]) await sheet.getByText(words).first().waitFor();
  await sheet.getByRole('img', { name: /^\d+ parts and \d+ lines stay/ }).waitFor();
  assert.equal(await sheet.getByRole('img', { name: 'QR code of this run' }).count(), exampleCar.runs.length);
  // By hand: 480/25.4 is 18 14.4/16, 1000/25.4 is 39 5.9/16.
  await sheet.getByRole('row', { name: /^1 heater flow .* 480 mm \(18 7\/8 in\)$/ }).waitFor();
  await sheet.getByRole('row', { name: /16 mm or 5\/8 in.*1 × 1000 mm \(39 3\/8 in\)/ }).first().waitFor();
  for (const line of exampleCar.lines) await sheet.getByRole('cell', { name: line.name, exact: true }).first().waitFor();
  // Steps are numbered through: the second list goes on where the first ends.
  const starts = await sheet.getByRole('list').evaluateAll((lists) => lists.filter((list) => list.localName === 'ol').map((list) => [list.start, list.children.length]));
  assert.deepEqual(starts.map(([start]) => start), [1, 1 + starts[0][1]]);

  for (const [format, wide] of [['A4', 210], ['Letter', 215.9]]) {
    // As wide as the paper between its margins of 12 mm: nothing stands out.
    await page.setViewportSize({ width: Math.floor((wide - 24) * 96 / 25.4), height: 1000 });
    const out = await sheet.evaluate((sheet) => {
      const edge = sheet.getBoundingClientRect().right + 0.5;
      const cut = (each) => each.scrollWidth > each.clientWidth + 1 && getComputedStyle(each).overflow !== 'visible';
      return [...sheet.querySelectorAll('*')].filter((each) => each.checkVisibility() && !each.closest('.sr'))
        .filter((each) => each.getBoundingClientRect().right > edge || cut(each)).map((each) => each.outerHTML.slice(0, 120));
    });
    assert.deepEqual(out, [], format);
    const pdf = await page.pdf({ format });
    // The car on four pages at most, every hose on two.
    assert.ok(pages(pdf) >= 5 && pages(pdf) <= 4 + 2 * exampleCar.runs.length, `${format}: ${pages(pdf)} pages`);
  }
  assert.deepEqual(person.complaints, []);
});

test('a car of forty hoses is opened as it was kept, and a changed hose is worked out alone', async (t) => {
  const person = await visit(t);
  const { page } = person;
  // Counts what the worker tells of its progress: as web/src/solver/messages.rs packs it, a 5 before ticket, done and of, four bytes each.
  await page.addInitScript(() => {
    globalThis.progress = [];
    globalThis.Worker = class extends Worker {
      constructor(...from) {
        super(...from);
        this.addEventListener('message', ({ data }) => {
          if (data[0] === 5) globalThis.progress.push([...new Uint32Array(data.slice(8, 16).buffer)]);
        });
      }
    };
  });
  const job = carOf(40, example);
  await person.keepCar(job, '#car');
  await person.seeCar();
  assert.deepEqual((await person.car()).runs.map(({ name }) => name), job.runs.map(({ name }) => name));
  const progress = () => page.evaluate(() => globalThis.progress.splice(0));
  assert.deepEqual(await progress(), Array.from({ length: 40 }, (_, i) => [i + 1, 40]), 'all of them at first');
  // One of them is taken in hand and changed.
  await page.getByRole('button', { name: /^hose 23\b/ }).click();
  await person.seeAnswer();
  await person.type('Spigot A', 'how far the hose goes on', '35');
  await person.seeCutLength(/^\d+ mm/);
  const { runs } = await person.car();
  assert.deepEqual(runs.map(({ from }) => from.seat_mm), job.runs.map(({ from, name }) => (name === 'hose 23' ? 35 : from.seat_mm)));
  await person.seeCar();
  const after = await progress();
  assert.ok(after.length <= 1, `hoses worked out again: ${JSON.stringify(after)}`);
  // The name of a part changes nothing of any hose.
  await person.open('pump');
  await page.getByLabel('its name').first().fill('water pump');
  await person.seeCar();
  await page.waitForTimeout(500);
  assert.deepEqual(await progress(), []);
  assert.deepEqual(person.complaints, []);
});
