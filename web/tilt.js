// For the page that says how to measure: the slope of the phone's long edge, from gravity alone and never from the compass, read
// in two positions so that what the phone itself is off drops out; and the way back to the question one came from.

/** Degrees between a reading and the mean of all up to which the phone counts as still, and how many readings that takes, so
 * many milliseconds apart. Our choice: a hand that rests against something trembles less. */
const STILL = 1;
const READINGS = 20;
const EVERY = 50;
/** Milliseconds until no reading means no sensor, and until a phone that moves is given up. Our choice. */
const FIRST = 3000;
const GIVEN_UP = 10_000;
/** Degrees. The mean of one model of phone was 6.6 off (Kuhlmann, Garaizar and Reips 2020), so more between two readings is a
 * phone that was not turned. What is stated: 3, their 2.1 along the long edge and a phone laid on by eye (our choice). */
const OFFSET = 8;
const ERROR = 3;
/** Steeper than this it is up or down, degrees. Our choice: beyond it an error would fold over the top. */
const STEEP = 80;

const DEGREES = 180 / Math.PI;

/** Upwards in the axes of the phone (x to the right, y to its top, z out of the screen), from beta and gamma in degrees: the
 * last row of the rotation of the W3C's Device Orientation, which alpha does not enter. */
export function upOfTurns(beta, gamma) {
  const [b, g] = [beta / DEGREES, gamma / DEGREES];
  return [-Math.cos(b) * Math.sin(g), Math.sin(b), Math.cos(b) * Math.cos(g)];
}

/** Angle of the long edge to the horizontal in degrees, its top higher if positive; `up` of any length. */
export const slopeOf = ([x, y, z]) => DEGREES * Math.atan2(y, Math.hypot(x, z));

/** The slope over several directions upwards, from their mean; nothing if one lies further from it than a still phone's. */
export function stillSlope(ups) {
  const units = ups.map((up) => up.map((one) => one / Math.hypot(...up)));
  const mean = [0, 1, 2].map((i) => units.reduce((sum, up) => sum + up[i], 0));
  const size = Math.hypot(...mean);
  // A chord of the unit sphere, which is as good as the angle.
  const off = units.map((up) => 2 * Math.asin(Math.min(1, Math.hypot(...up.map((one, i) => one - mean[i] / size)) / 2)));
  return size > 0 && Math.max(...off) * DEGREES <= STILL ? slopeOf(mean) : undefined;
}

/** The slope, and what the phone itself is off, from a reading each way round on one line. */
export const twoWays = (first, second) => ({ slope: (first - second) / 2, offset: (first + second) / 2 });

/** What is said of it. */
export function told({ slope, offset }) {
  if (Math.abs(offset) > OFFSET) {
    return 'The two readings do not go together. Lay the phone on the same line with its top where its foot was, and read both again.';
  }
  const way = slope > 0 ? 'up' : 'down';
  const by = Math.abs(slope);
  const own = `The phone itself was ${Math.abs(offset).toFixed(1)}° off; that is taken out.`;
  if (by > STEEP) return [`It points straight ${way}, as near as a phone can tell.`, own, `Tap “${way}”.`].join(' ');
  const steps = Math.round(by / 5);
  const taps = [[15, Math.floor(steps / 3)], [5, steps % 3]].filter(([, times]) => times).map(([size, times]) => `${times} × ${way} at ${size}° a tap`);
  const says = by < 0.5 ? `It is level, ± ${ERROR}°.` : `It points ${Math.round(by)}° ${way}, ± ${ERROR}°.`;
  const then = taps.length ? `Tap the level way it points, then under “It leans a little” ${taps.join(', ')}.` : 'Tap the level way it points; it need not lean.';
  return [says, own, then].join(' ');
}

const BY_HAND = 'Tap the slope by eye instead, under “It leans a little”.';
const REFUSED = 'The browser was told not to let this page read how the phone is held.';
const NO_SENSOR = 'No reading came within 3 seconds: the phone has no sensor for it, or its browser keeps it back.';
const MOVES = 'The phone moves too much to be read. Hold it against something that is still, and read again.';

/** The last direction upwards that a sensor told. */
let last;

/** From the fused sensors where there are some, else from the accelerometer, whose sign some browsers turn round (from memory). */
function hear({ beta, gamma, accelerationIncludingGravity: pull }) {
  if (Number.isFinite(beta) && Number.isFinite(gamma)) last = { up: upOfTurns(beta, gamma), isFused: true };
  const up = [pull?.x, pull?.y, pull?.z];
  if (!last?.isFused && up.every(Number.isFinite) && Math.hypot(...up) > 0) last = { up };
}

/** Asks for the sensors where the browser wants to be asked: within a tap. */
async function mayRead() {
  const kinds = [globalThis.DeviceOrientationEvent, globalThis.DeviceMotionEvent].filter((kind) => kind?.requestPermission);
  const answers = await Promise.all(kinds.map((kind) => kind.requestPermission().catch(() => 'denied')));
  return answers.length === 0 || answers.includes('granted');
}

const pause = (time) => new Promise((over) => { setTimeout(over, time); });

/** A slope, once the phone is still; else a sentence that says why there is none. */
async function read() {
  for (const name of ['deviceorientation', 'devicemotion']) addEventListener(name, hear);
  for (let waited = 0; !last && waited < FIRST; waited += EVERY) await pause(EVERY);
  if (!last) return `${NO_SENSOR} ${BY_HAND}`;
  // A browser is silent while nothing changes: what was told last still holds.
  const ups = [];
  for (let waited = 0; waited < GIVEN_UP; waited += EVERY) {
    await pause(EVERY);
    ups.push(last.up);
    if (ups.length > READINGS) ups.shift();
    const slope = ups.length === READINGS ? stillSlope(ups) : undefined;
    if (slope !== undefined) return slope;
  }
  return MOVES;
}

/** Says it in the language of the page, as web/page.js has found it out. */
const say = (text) => globalThis.speaks?.say(text) ?? text;

/** The button that reads, and what it says. */
function offer() {
  const [box, said, button] = ['tilt', 'tilt-said', 'tilt-read'].map((id) => document.getElementById(id));
  let first;
  button.addEventListener('click', async () => {
    if (button.getAttribute('aria-disabled') === 'true') return;
    button.setAttribute('aria-disabled', 'true');
    said.textContent = say('Hold it still …');
    const slope = await mayRead() ? await read() : `${REFUSED} ${BY_HAND}`;
    button.removeAttribute('aria-disabled');
    if (typeof slope === 'string') {
      said.textContent = say(slope);
    } else if (first === undefined) {
      first = slope;
      said.textContent = say(`First reading: ${slope.toFixed(1)}°. Now turn the phone end for end on the same line, its top where its foot was.`);
      button.textContent = say('Read the other way round');
    } else {
      said.textContent = say(told(twoWays(first, slope)));
      first = undefined;
      button.textContent = say('Read again from the start');
    }
  });
  box.hidden = false;
}

/** Leads back to the question one came from: its word stands behind the question mark of the address. */
function leadBack() {
  const [from] = location.search.slice(1).match(/^[a-z]+(-\d+)?$/) ?? [];
  if (from) for (const link of document.querySelectorAll('a.back')) link.href = `./#${from}`;
}

if (typeof document !== 'undefined') {
  leadBack();
  offer();
}
