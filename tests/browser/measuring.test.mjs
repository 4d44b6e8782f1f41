// How to measure is one tap from each question and leads back to it with everything kept; what it says of the page's own figures is
// what the page takes; the phone reads a slope as closed forms have it, and says plainly where it cannot.
import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { resolve } from 'node:path';
import { after, before, test } from 'node:test';
import { walk } from './lib/screens.mjs';
import { SMALL_PHONE, openWorkshop } from './lib/workshop.mjs';
import { slopeOf, stillSlope, told, twoWays, upOfTurns } from '../../web/tilt.js';

let workshop;
before(async () => { workshop = await openWorkshop(); });
after(() => workshop.close());
const visit = (t, settings) => workshop.person(t, settings);

const ROOT = resolve(import.meta.dirname, '../..');
const source = (path) => readFile(resolve(ROOT, path), 'utf8');
const rad = (degrees) => degrees * Math.PI / 180;
const near = (is, should, by, what) => assert.ok(Math.abs(is - should) <= by, `${what}: ${is}, not ${should}`);

// The arithmetic, against closed forms.

/** A phone whose long edge slopes so, rolled about that edge: upwards in its axes. */
const held = (slope, roll, size = 1) => [Math.cos(rad(slope)) * Math.sin(rad(roll)), Math.sin(rad(slope)), Math.cos(rad(slope)) * Math.cos(rad(roll))].map((one) => size * one);

test('a slope does not hang on how the phone is rolled about its long edge, nor on the size of the pull', () => {
  for (const slope of [-90, -80, -33.5, -5, 0, 0.4, 12, 45, 79, 90]) {
    for (const roll of [-170, -90, -20, 0, 35, 90, 180]) near(slopeOf(held(slope, roll, 9.81)), slope, 1e-9, `${slope} rolled by ${roll}`);
  }
  // A right triangle of 3, 4 and 5.
  near(slopeOf([0, 3, 4]), rad(1) ** -1 * Math.atan2(3, 4), 1e-12, '3 up on 4');
});

// Reference: W3C Device Orientation and Motion, which turns about z, then the new x, then the new y; multiplied out here.
test('upwards from beta and gamma is the last row of the rotation, whatever alpha is', () => {
  const times = (a, b) => a.map((row) => b[0].map((_, j) => row.reduce((sum, one, k) => sum + one * b[k][j], 0)));
  const turn = (alpha, beta, gamma) => {
    const [[ca, sa], [cb, sb], [cg, sg]] = [alpha, beta, gamma].map((one) => [Math.cos(rad(one)), Math.sin(rad(one))]);
    return times(times([[ca, -sa, 0], [sa, ca, 0], [0, 0, 1]], [[1, 0, 0], [0, cb, -sb], [0, sb, cb]]), [[cg, 0, sg], [0, 1, 0], [-sg, 0, cg]]);
  };
  for (const alpha of [0, 77, 200]) {
    for (const beta of [-179, -95, -30, 0, 12.5, 60, 130]) {
      for (const gamma of [-89, -20, 0, 45]) {
        const up = upOfTurns(beta, gamma);
        turn(alpha, beta, gamma)[2].forEach((one, i) => near(up[i], one, 1e-12, `${alpha} ${beta} ${gamma}`));
      }
    }
  }
  const is = (beta, gamma, up) => upOfTurns(beta, gamma).forEach((one, i) => near(one, up[i], 1e-12, `${beta} ${gamma}`));
  is(0, 0, [0, 0, 1]); // flat on its back
  is(90, 0, [0, 1, 0]); // upright
  is(0, 90, [-1, 0, 0]); // on its right edge
});

test('two ways round, what the phone is off drops out', () => {
  for (const slope of [-70, -12, 0, 3, 41]) {
    for (const off of [-6.6, 0, 2.1]) {
      const both = twoWays(slope + off, -slope + off);
      near(both.slope, slope, 1e-12, 'slope');
      near(both.offset, off, 1e-12, 'offset');
    }
  }
});

test('a phone that lies still is read at the mean, and one that moves is not read', () => {
  const tremble = [0.5, -0.5, 0.3, -0.3, 0];
  near(stillSlope(tremble.map((by) => held(20 + by, 10))), 20, 1e-3, 'mean');
  assert.equal(stillSlope([...tremble, 9].map((by) => held(20 + by, 10))), undefined, 'it slipped');
  assert.equal(stillSlope([0, 30, 60, 90].map((roll) => held(20, roll))), undefined, 'it is turned over, its slope the same');
  assert.equal(stillSlope([held(20, 0), held(-20, 180)]), undefined, 'opposite ways');
  // Just within one degree of the mean, and just beyond.
  near(stillSlope([held(19.1, 0), held(20.9, 0)]), 20, 1e-9, 'within');
  assert.equal(stillSlope([held(18.9, 0), held(21.1, 0)]), undefined);
});

test('what is said of a slope: up or down, in steps of the page, and nothing of two readings that do not go together', () => {
  const of = (slope, offset = 0) => told({ slope, offset });
  assert.match(of(12), /^It points 12° up, ± 3°\..* 2 × up at 5° a tap\.$/);
  assert.match(of(-23), /^It points 23° down, ± 3°\..* 1 × down at 15° a tap, 2 × down at 5° a tap\.$/);
  assert.match(of(44, 1.44), /The phone itself was 1\.4° off; that is taken out\. .* 3 × up at 15° a tap\.$/);
  assert.match(of(0.3), /^It is level, ± 3°\..* need not lean\.$/);
  assert.match(of(2), /^It points 2° up, ± 3°\..* need not lean\.$/);
  assert.match(of(-86), /^It points straight down/);
  assert.match(of(5, 8.1), /do not go together/);
});

// The page that says so.

const QUESTIONS = [
  ['how thick spigot A is', ['Measure one hose', '16'], 'How to measure its size', 'Size of a spigot'],
  ['which way A points', ['Measure one hose', '16', 'A points right'], 'How to find which way it points', 'Which way it points'],
  ['which way B points', ['Measure one hose', '16', 'A points right', 'Now place B', ...walk(210, 'right'), 'The rest is in line', 'B points up'], 'How to find which way it points', 'Which way it points'],
  ['where B is', ['Measure one hose', '16', 'A points right', 'Now place B', ...walk(210, 'right')], 'How to measure it', 'Place of B'],
  ['what is near', ['+ thing near it'], 'How to measure it', 'A thing near it'],
  ['where a thing is', ['Thing near it: exhaust pipe'], 'How to measure it', 'A thing near it'],
  ['the old hose', ['I have a piece, or the old hose'], 'How to measure it', 'Old hose'],
  ['the way wanted', ['+ leg of the way it should go'], 'How to read it off a wire or an old hose', 'Bent wire'],
];

for (const [what, taps, link, heading] of QUESTIONS) {
  test(`${what}: one tap to how it is measured, one back, everything kept`, async (t) => {
    const person = await visit(t);
    const { page } = person;
    await person.tapAll(taps);
    const kept = () => page.evaluate(() => {
      dispatchEvent(new Event('pagehide'));
      return localStorage.getItem('hosewright.last');
    });
    const [before, hash] = [await kept(), new URL(page.url()).hash || '#sheet'];
    const back = [() => page.goBack(), () => page.locator('section:target').getByRole('link', { name: 'Back' }).click()];
    for (const goBack of back) {
      await person.tap(link);
      const told = page.getByRole('heading', { name: heading, exact: true });
      await told.waitFor();
      assert.ok(new URL(page.url()).pathname.endsWith('/measuring.html'));
      const box = await told.boundingBox();
      assert.ok(box.y >= 0 && box.y < 200, `the section is in sight, its heading at ${box.y}`);
      await goBack();
      await page.waitForFunction(() => document.querySelector('.tb h1') && !location.pathname.endsWith('measuring.html'));
      await page.getByRole('link', { name: link, exact: true }).first().waitFor();
      assert.equal(new URL(page.url()).hash || '#sheet', hash);
      assert.equal(await kept(), before);
    }
    assert.deepEqual(person.complaints, []);
  });
}

/** Opens the page that says how. */
async function open(t, section = '', prepare = undefined) {
  const person = await visit(t);
  if (prepare) await person.page.addInitScript(prepare);
  await person.comeBack(`measuring.html${section}`);
  return person;
}

test('every section has its drawing with a sentence, how far off, and where it goes: fields that there are', async (t) => {
  const { page } = await open(t);
  const names = `${await source('web/src/form/fields.rs')} ${await source('web/src/words.rs')}`;
  const sections = await page.locator('main section').all();
  assert.deepEqual(await Promise.all(sections.map((each) => each.getAttribute('id'))), ['spigot', 'seat', 'direction', 'slope', 'place', 'near', 'wire', 'old-hose']);
  for (const section of sections) {
    const title = await section.getByRole('heading').innerText();
    assert.equal(await section.getByRole('img').count(), 1, title);
    assert.ok((await section.getByRole('img').getAttribute('aria-label')).length > 60, title);
    const words = await section.innerText();
    assert.match(words, /How far off: .*\((our choice|geometry|EN ISO)/, title);
    const goes = words.match(/Where it goes: .*/)[0];
    const fields = [...goes.matchAll(/“([^”]+)”/g)].map(([, name]) => name);
    assert.ok(fields.length, title);
    for (const name of fields) assert.ok(names.includes(`"${name}"`), `${title}: there is no field "${name}"`);
  }
  for (const link of await page.getByRole('navigation').getByRole('link').all()) {
    assert.equal(await page.locator(await link.getAttribute('href')).count(), 1);
  }
  assert.equal(await page.getByRole('navigation').getByRole('link').count(), sections.length);
});

test('what it says the page takes is what the code takes', async (t) => {
  const { page } = await open(t);
  const [accept, way] = [await source('crates/job/src/accept.rs'), await source('web/src/view/wanted.rs')];
  const value = (text, name) => Number(text.match(new RegExp(`const ${name}: f64 = ([0-9.]+);`))[1]);
  const says = async (id, words) => assert.ok((await page.locator(`#${id}`).innerText()).includes(words), `${id}: ${words}`);
  await says('seat', `Until it is said the page takes ${value(accept, 'SEAT_TAKEN')} mm`);
  await says('place', `${value(accept, 'TAPE_TAKEN')} mm in an engine bay (our choice, and what the page takes until it is said)`);
  await says('direction', `Until it is said the page takes ${value(accept, 'CONE_TAKEN')}°`);
  await says('wire', `over ${value(way, 'OFF_MM')} mm or ${value(way, 'OFF_DEG')}° it was read wrong`);
  // Geometry, worked out here: tangent of the angle on 100 mm, sine of it on 300, the circumference of 1.
  await says('direction', `${(100 * Math.tan(rad(5))).toFixed(0)} mm aside at 100 mm are 5°, ${(100 * Math.tan(rad(10))).toFixed(0)} mm are 10°`);
  await says('wire', `5° are ${(300 * Math.sin(rad(5))).toFixed(0)} mm aside 300 mm further on`);
  await says('place', `held 1° askew, 300 mm put B ${(300 * Math.sin(rad(1))).toFixed(0)} mm aside`);
  await says('spigot', `1 ÷ 3.14 = ${(1 / Math.PI).toFixed(1)} mm off`);
});

// The phone.

const said = (page) => page.getByRole('status');
const read = (page) => page.locator('#tilt').getByRole('button').click();

/** What both kinds of sensor tell of a phone, as events of the page. */
const TELLS = {
  DeviceOrientationEvent: (page, slope) => page.evaluate((beta) => dispatchEvent(new DeviceOrientationEvent('deviceorientation', { alpha: 123, beta, gamma: 0 })), slope),
  DeviceMotionEvent: (page, slope, roll) => page.evaluate(([x, y, z]) => dispatchEvent(new DeviceMotionEvent('devicemotion', { accelerationIncludingGravity: { x, y, z } })), held(slope, roll, 9.81)),
};
// Not on the blank page in between, which is no secure one and has no such events.
const agreed = () => {
  for (const kind of [globalThis.DeviceOrientationEvent, globalThis.DeviceMotionEvent]) if (kind) kind.requestPermission = async () => 'granted';
};

/** Lays the phone down and reads. It is told anew once the page listens, which it does from the first tap on. */
async function readAt(page, tell, slope, roll) {
  await tell(page, slope, roll);
  await read(page);
  await page.getByText('Hold it still …').waitFor();
  await tell(page, slope, roll);
}

for (const [kind, tell] of Object.entries(TELLS)) {
  test(`${kind}: a slope read both ways round is that of the rod, up or down, and the phone's own error is gone`, async (t) => {
    const { page, complaints } = await open(t, '?a#slope', agreed);
    for (const [slope, off, says] of [[12, 2.4, '12° up, ± 3°'], [-31, -4, '31° down, ± 3°'], [0, 6, 'It is level']]) {
      await readAt(page, tell, slope + off, 20);
      await page.getByText(`First reading: ${(slope + off).toFixed(1)}°`).waitFor();
      await readAt(page, tell, -slope + off, 200);
      await page.getByText(says).waitFor();
      assert.match(await said(page).innerText(), new RegExp(`itself was ${Math.abs(off).toFixed(1)}° off`));
    }
    // Not turned: the same reading twice.
    await readAt(page, tell, 20, 0);
    await page.getByText('First reading').waitFor();
    await read(page);
    await page.getByText('do not go together').waitFor();
    assert.deepEqual(complaints, []);
  });
}

test('Chromium itself tells a slope, and the compass turns nothing', async (t) => {
  const { page } = await open(t, '#slope', agreed);
  const tab = await page.context().newCDPSession(page);
  const hold = (alpha, beta, gamma) => tab.send('DeviceOrientation.setDeviceOrientationOverride', { alpha, beta, gamma });
  await hold(10, 18, 5);
  await read(page);
  await page.getByText('First reading: 18.0°').waitFor();
  await hold(190, -16, -5);
  await read(page);
  await page.getByText('It points 17° up, ± 3°. The phone itself was 1.0° off').waitFor();
});

test('a phone that moves is not read, and can be read once it lies still', async (t) => {
  const { page } = await open(t, '#slope', agreed);
  await page.evaluate(() => {
    let i = 0;
    globalThis.sway = setInterval(() => { dispatchEvent(new DeviceOrientationEvent('deviceorientation', { beta: (i += 1) * 7 % 40, gamma: 0 })); }, 20);
  });
  await read(page);
  await page.getByText('The phone moves too much to be read').waitFor();
  await page.evaluate(() => clearInterval(globalThis.sway));
  await readAt(page, TELLS.DeviceOrientationEvent, 9, 0);
  await page.getByText('First reading: 9.0°').waitFor();
});

for (const [what, prepare, says] of [
  ['permission refused', () => { for (const kind of [globalThis.DeviceOrientationEvent, globalThis.DeviceMotionEvent]) if (kind) kind.requestPermission = async () => 'denied'; }, /was told not to let this page read/],
  ['a browser that throws when asked', () => { for (const kind of [globalThis.DeviceOrientationEvent, globalThis.DeviceMotionEvent]) if (kind) kind.requestPermission = async () => { throw new DOMException('no', 'NotAllowedError'); }; }, /was told not to let this page read/],
  ['no sensor', agreed, /^No reading came within 3 seconds/],
  ['a browser without such events', () => { delete globalThis.DeviceOrientationEvent; delete globalThis.DeviceMotionEvent; }, /^No reading came within 3 seconds/],
]) {
  test(`${what}: a sentence says so and what to do by hand, which the spigot's own screen has`, async (t) => {
    const person = await open(t, '?a', prepare);
    const { page } = person;
    await read(page);
    await page.getByText(says).waitFor();
    assert.match(await said(page).innerText(), /Tap the slope by eye instead, under “It leans a little”\.$/);
    await page.locator('#slope').getByRole('link', { name: 'Back' }).click();
    await page.getByText('It leans a little').waitFor();
    assert.equal(new URL(page.url()).hash, '#a');
    assert.deepEqual(person.complaints, []);
  });
}

test('permission is asked within the tap, and not before', async (t) => {
  const { page } = await open(t, '#slope', () => {
    globalThis.asked = [];
    for (const kind of [globalThis.DeviceOrientationEvent, globalThis.DeviceMotionEvent].filter(Boolean)) {
      kind.requestPermission = async () => {
        globalThis.asked.push(navigator.userActivation.isActive);
        return 'granted';
      };
    }
  });
  assert.deepEqual(await page.evaluate(() => globalThis.asked), []);
  await read(page);
  await page.getByText('Hold it still …').waitFor();
  assert.deepEqual(await page.evaluate(() => globalThis.asked), [true, true]);
});

test('without a host it is read, drawn, and reads the phone', async (t) => {
  const own = await openWorkshop();
  t.after(() => own.close());
  const person = await own.person(t, SMALL_PHONE);
  const { page } = person;
  await person.untilOffline();
  await own.host.stop();
  await page.addInitScript(agreed);
  await person.tapAll(['Measure one hose', 'How to find which way it points']);
  await page.getByRole('heading', { name: 'Which way it points' }).waitFor();
  assert.equal(await page.evaluate(() => getComputedStyle(document.querySelector('.bt')).display), 'flex', 'the style is there');
  await page.getByRole('navigation').getByRole('link', { name: 'Slope by the phone' }).click();
  await readAt(page, TELLS.DeviceOrientationEvent, 7, 0);
  await page.getByText('First reading: 7.0°').waitFor();
  await page.locator('#slope').getByRole('link', { name: 'Back' }).click();
  await page.getByRole('button', { name: 'A points right' }).waitFor();
  assert.deepEqual(person.complaints, []);
});

test('nothing in its address but a question of ours becomes a way back', async (t) => {
  for (const at of ['?javascript:alert(1)', '?//elsewhere.example', '?a%22b', '?a-b']) {
    const { page } = await open(t, at);
    for (const link of await page.getByRole('link', { name: 'Back' }).all()) assert.equal(await link.getAttribute('href'), './');
  }
});
