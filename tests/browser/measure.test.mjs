// Measuring at the car: by taps on the drawing and the keypad, counted; every press counts.
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { walk } from './lib/screens.mjs';
import { LARGE_PHONE, SMALL_PHONE, openWorkshop } from './lib/workshop.mjs';

let workshop;
before(async () => { workshop = await openWorkshop(); });
after(() => workshop.close());
const visit = (t, settings) => workshop.person(t, settings);

test('a straight run takes ten taps at most', async (t) => {
  for (const [size, length, phone] of [['16', 230, SMALL_PHONE], ['19', 300, LARGE_PHONE], ['13', 185, SMALL_PHONE]]) {
    const person = await visit(t, phone);
    const taps = await person.tapAll([
      'Measure one hose', size, 'A points right', 'Now place B', ...walk(length, 'straight on, facing A'), 'Show the cut',
    ]);
    await person.seeAnswer();
    assert.ok(taps <= 10, `${taps} taps`);
    // A hose in line is taut at the distance between the mouths; both seats of 30 mm stand until they are measured.
    const cut = Number((await person.cutLength()).split(' ')[0]);
    assert.ok(cut > length + 60 && cut < length + 60 + 40, `${cut}`);
    assert.deepEqual(person.complaints, []);
  }
});

test('a run round a hot pipe takes 25 taps at most, and is the run that was meant', async (t) => {
  const runs = [
    { size: '16', b: [[210, 'right'], [280, 'away'], [70, 'up']], points: 'to you', runs: 'up–down', pipe: [[50, 'right'], [165, 'away']] },
    { size: '19', b: [[240, 'right'], [310, 'away'], [60, 'down']], points: 'to you', runs: 'up–down', pipe: [[60, 'right'], [190, 'away']] },
    { size: '16', b: [[200, 'right'], [260, 'away'], [90, 'up']], points: 'to you', runs: 'up–down', pipe: [[40, 'right'], [150, 'away']] },
  ];
  for (const [i, { size, b, points, runs: way, pipe }] of runs.entries()) {
    const person = await visit(t, i === 1 ? LARGE_PHONE : SMALL_PHONE);
    const taps = await person.tapAll([
      'Measure one hose', size, 'A points right', 'Now place B', ...b.flatMap(([n, w]) => walk(n, w)), `B points ${points}`,
      'Hot pipe near it', way, ...pipe.flatMap(([n, w]) => walk(n, w)),
    ]);
    await person.seeAnswer();
    assert.ok(taps <= 25, `${taps} taps`);
    const run = (await person.job()).runs[0];
    const up = b[2][1] === 'up' ? 1 : -1;
    // At the front right is the car's left (+y), away is to its rear (-x); a pipe's tape ends at its near side, 25 mm before its middle.
    assert.deepEqual(run.to.at_mm, [-b[1][0], b[0][0], up * b[2][0]]);
    assert.deepEqual([run.from.points, run.to.points], [[0, 1, 0], [1, 0, 0]]);
    const rod = run.neighbours[0].shape.rod;
    assert.deepEqual(rod.from_mm.slice(0, 2), [-(pipe[1][0] + 25), pipe[0][0] + 25]);
    assert.deepEqual([rod.from_mm[0], rod.from_mm[1]], [rod.to_mm[0], rod.to_mm[1]]);
    assert.deepEqual([run.neighbours[0].kind, rod.diameter_mm, run.from.on, run.to.on], ['hot', 50, 'engine', 'body']);
    assert.deepEqual(person.complaints, []);
  }
});

test('every direction can be said: half-way by a second tap, the rest by leaning', async (t) => {
  const person = await visit(t);
  await person.tapAll(['Measure one hose', '16', 'A points right', 'A points away']);
  await person.hear('A points half-way between right and away, 16 mm across.');
  await person.tapAll(['A points right', 'A points right']);
  await person.hear('A points right, 16 mm across.');
  await person.page.getByText('It leans a little').click();
  await person.tapAll(['up', 'up']);
  await person.hear('A points right, 30° up, 16 mm across.');
  assert.deepEqual((await person.job()).runs[0].from.points, [0, 0.866, 0.5]);
});

test('a step can be typed again, inches have keys for their parts, and the rest may be in line', async (t) => {
  const person = await visit(t);
  await person.tapAll(['Change the unit', 'Measure one hose', '5/8', 'A points right', 'Now place B', '8', '¼', 'right', '1', '1', 'away']);
  await person.tapAll(['9', 'right', 'The rest is in line', 'B points to you', 'Show the cut']);
  await person.seeAnswer();
  const run = (await person.job()).runs[0];
  assert.equal(run.from.spigot_mm, 15.875);
  assert.deepEqual(run.to.at_mm, [-279.4, 228.6, 0]);
});

test('a way without a number is asked for the number, and a keyboard types on the keypad', async (t) => {
  const person = await visit(t);
  await person.tapAll(['Measure one hose', '16', 'A points right', 'Now place B', 'right']);
  await person.hear('First the number, then the way.');
  await person.page.getByRole('button', { name: 'right', exact: true }).focus();
  await person.page.keyboard.type('210');
  await person.page.keyboard.press('Enter');
  await person.hear('210 mm right');
});

test('where one stands changes the words, not the place in the car', async (t) => {
  const person = await visit(t);
  await person.tapAll(['Measure one hose', '16', 'A points right', 'Now place B', ...walk(210, 'right'), ...walk(280, 'away'), ...walk(70, 'up')]);
  await person.tap('B points to you');
  await person.tap('Show the cut');
  await person.seeAnswer();
  const before = (await person.job()).runs[0];
  await person.tap('You are at the front. Change it');
  await person.tap("at the car's left side");
  await person.seeAnswer();
  await person.page.getByRole('img', { name: /^As you stand at the car's left side/ }).waitFor();
  const after = (await person.job()).runs[0];
  assert.deepEqual([after.to.at_mm, after.to.points, after.from.points], [before.to.at_mm, before.to.points, before.from.points]);
  // From the car's left side its rear is to the right: what was away is to the right, what was right is towards you.
  await person.tap('Spigot B');
  await person.hear('B points left, 16 mm across.');
});

test('all four kinds can be near it, as a pipe, a block or a lump, and be taken away', async (t) => {
  const person = await visit(t);
  await person.tap('+ thing near it');
  await person.tapAll(['Moves belt, fan, throttle rod', 'lump']);
  await person.tapAll([...walk(100, 'right'), ...walk(90, 'away'), ...walk(400, 'up')]);
  await person.seeAnswer();
  await person.tap('+ thing near it');
  await person.tapAll(['Solid wing, tray, block', 'wall or block']);
  await person.tapAll([...walk(400, 'left'), ...walk(50, 'away'), ...walk(20, 'down'), ...walk(300, 'left'), ...walk(150, 'away'), ...walk(80, 'up')]);
  await person.seeAnswer();
  const things = (await person.job()).runs[0].neighbours;
  assert.equal(things.length, 4);
  assert.deepEqual([things[2].kind, things[2].shape.ball.at_mm], ['moving', [-115, 125, 425]]);
  assert.deepEqual([things[3].kind, things[3].shape.box], ['solid', { from_mm: [-50, -400, -20], to_mm: [-150, -300, 80] }]);
  await person.tap('Thing near it: moving lump');
  await person.tap('moving lump, 50 mm across');
  await person.tap('Take it away');
  await person.seeAnswer();
  assert.equal((await person.job()).runs[0].neighbours.length, 3);
});

test('a thickness said after a tape leaves the near side where the tape touched it', async (t) => {
  const person = await visit(t);
  await person.tapAll(['+ thing near it', 'Solid wing, tray, block', 'pipe or rod', 'up–down', ...walk(300, 'left'), ...walk(60, 'across')]);
  await person.hear('300 mm left');
  await person.tapAll(walk(120, 'away'));
  await person.seeAnswer();
  const { rod } = (await person.job()).runs[0].neighbours[2].shape;
  assert.deepEqual([rod.diameter_mm, ...rod.from_mm.slice(0, 2), ...rod.to_mm.slice(0, 2)], [60, -150, -330, -150, -330]);
});

test('a spigot said the wrong way round is asked about, and one tap turns it', async (t) => {
  const person = await visit(t);
  await person.tapAll(['Measure one hose', '16', 'A points right', 'Now place B', ...walk(120, 'right'), 'The rest is in line', 'B points right', 'Show the cut']);
  await person.hear(/Is a direction turned round\?/);
  await person.tap('B points left');
  await person.seeCutLength(/^18\d mm/);
});

test('a piece that is cut already, and the old hose, are starts too', async (t) => {
  const person = await visit(t);
  await person.tapAll(['I have a piece, or the old hose', ...walk(300, 'my piece is this long')]);
  await person.tapAll(['16', 'A points right', 'Now place B', ...walk(230, 'straight on, facing A'), 'Show the cut']);
  await person.seeCutLength(/^300 mm/);
  await person.hear('the length tried');
  const other = await visit(t);
  await other.tapAll(['I have a piece, or the old hose', ...walk(310, 'the old hose was this long')]);
  await other.tapAll(['16', 'A points right', 'Now place B', ...walk(230, 'straight on, facing A'), 'Show the cut']);
  await other.tap("Try the old hose's 310 mm");
  await other.seeCutLength(/^310 mm/);
});

test('what is half measured is kept, is not answered, and says what is still to say', async (t) => {
  const person = await visit(t);
  await person.tapAll(['Measure one hose', '16', 'A points right', 'Now place B', ...walk(210, 'right')]);
  await person.untilStored('210');
  await person.comeBack('#place');
  await person.hear('210 mm right');
  await person.tap('Back to the sheet');
  await person.hear('Still to say:');
  await person.tap('where B is');
  await person.tapAll(['The rest is in line', 'B points left', 'Show the cut']);
  await person.seeAnswer();
});

test('the way back of the phone leads to the question before', async (t) => {
  const person = await visit(t);
  await person.tapAll(['Measure one hose', '16', 'A points right', 'Now place B']);
  await person.page.goBack();
  await person.hear('A points right, 16 mm across.');
  await person.page.goBack();
  await person.hear('Still to say:');
});
