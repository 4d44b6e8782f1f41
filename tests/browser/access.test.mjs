// Everyone can use it: axe-core finds nothing on any screen, what is pressed is large enough and is reached by keys, large letters
// have room, and it can be read in whatever colours a browser sets.
import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { after, before, test } from 'node:test';
import { PHONES, SCREENS } from './lib/screens.mjs';
import { openWorkshop } from './lib/workshop.mjs';

const AXE = await readFile(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

let workshop;
before(async () => { workshop = await openWorkshop(); });
after(() => workshop.close());
const visit = (t, settings) => workshop.person(t, settings);

/** What axe-core finds: rule and place; all of it, or by the rules that are named. */
async function found(page, ...rules) {
  if (!await page.evaluate(() => 'axe' in globalThis)) await page.evaluate(AXE);
  const { violations } = await page.evaluate((rules) => globalThis.axe.run(document, rules.length ? { runOnly: rules } : {}), rules);
  return violations.flatMap(({ id, nodes }) => nodes.map((node) => `${id}: ${node.target} ${node.html.slice(0, 120)} ${node.failureSummary}`));
}

/** Targets smaller than 48 px either way that are on the screen. */
const small = (page) => page.evaluate(() => [...document.querySelectorAll('button, a[href], summary, input:not([type=range]), select')]
  .filter((each) => each.checkVisibility() && !each.closest('.sr'))
  .map((each) => [each.textContent.trim() || each.getAttribute('aria-label') || each.id, each.getBoundingClientRect()])
  .filter(([, box]) => box.height < 47.5 || box.width < 47.5)
  .map(([name, box]) => `${name}: ${box.width.toFixed(0)} x ${box.height.toFixed(0)}`));

/** Pictures without a sentence that says what they say. */
const unnamed = (page) => page.evaluate(() => [...document.querySelectorAll('svg, canvas')]
  .filter((each) => each.checkVisibility() && each.getAttribute('aria-hidden') !== 'true' && !each.closest('[aria-hidden=true], [role=slider]')) // whose parts are read as one
  .filter((each) => each.getAttribute('role') !== 'img' || (each.getAttribute('aria-label') ?? '').length < 12)
  .map((each) => each.outerHTML.slice(0, 160)));

/** Begins at the head of the page; numbers what can be stepped to, in the order it stands in. */
const begin = (page) => page.evaluate(() => {
  document.querySelector('.tb h1').focus();
  const all = [...document.querySelectorAll('button, a[href], input, select, textarea, summary, [tabindex="0"]')];
  globalThis.stops = all.filter((each) => each.checkVisibility({ visibilityProperty: true }) && !each.disabled && !each.closest('.paper'));
  return globalThis.stops.length;
});

/** Where the keyboard stands: which stop, and what is wrong there. */
const look = (page) => page.evaluate(() => {
  const here = document.activeElement;
  const at = globalThis.stops.indexOf(here);
  const name = here.getAttribute('aria-label') ?? (here.id || here.textContent.trim().slice(0, 40));
  const { outlineStyle, outlineWidth } = getComputedStyle(here);
  const wrong = [];
  if (outlineStyle === 'none' || parseFloat(outlineWidth) < 2) wrong.push(`${name}: nothing shows that one stands there`);
  const { top, bottom, left, right } = here.getBoundingClientRect();
  const bar = document.querySelector('.places')?.getBoundingClientRect().top ?? innerHeight;
  const over = document.querySelector('.taken')?.getBoundingClientRect() ?? { top: 0, bottom: 0 };
  const inBar = here.closest('.places, .taken');
  const covered = inBar ? 0 : Math.max(0, Math.min(bottom, over.bottom) - Math.max(top, over.top));
  const seen = Math.min(bottom, inBar ? innerHeight : bar) - Math.max(top, 0) - covered;
  if (seen < Math.min(24, bottom - top) || left < 0 || right > innerWidth + 0.6) wrong.push(`${name}: out of sight, ${top.toFixed(0)} to ${bottom.toFixed(0)}, bar at ${bar.toFixed(0)}`);
  return [at, name, wrong, here.type === 'date'];
});

/** Goes through the whole screen by Tab; what is wrong on the way. */
async function walkByTab(page) {
  // An answer comes in parts, and what stood there goes with the next one.
  for (let before, now = ''; before !== now;) {
    await page.locator('[aria-busy=true]').waitFor({ state: 'detached' });
    before = now;
    now = await page.evaluate(() => document.body.innerText);
    if (before !== now) await page.waitForTimeout(400);
  }
  const count = await begin(page);
  const wrong = count > 0 ? [] : ['no stops'];
  for (let stop = 0; stop < count && wrong.length < 4; stop += 1) {
    await page.keyboard.press('Tab');
    const [at, name, amiss, isDate] = await look(page);
    if (at !== stop) wrong.push(`${name} is stop ${at}, not ${stop}`);
    wrong.push(...amiss);
    // Day, month and year of a date are stops within one.
    for (let again = isDate; again;) {
      await page.keyboard.press('Tab');
      [,,, again] = await look(page);
      if (!again) await page.keyboard.press('Shift+Tab');
    }
  }
  return wrong;
}

/** As narrow as a page must be read without going sideways (WCAG 2.2, 1.4.10). */
const NARROWEST = [320, 568];

/** Contrast as WCAG 2.2 works it out, for the functions that run in the page. */
const CONTRAST = `
  const drawn = document.createElement('canvas').getContext('2d', { willReadFrequently: true });
  const rgb = (colour) => {
    drawn.clearRect(0, 0, 1, 1);
    drawn.fillStyle = colour;
    drawn.fillRect(0, 0, 1, 1);
    return [...drawn.getImageData(0, 0, 1, 1).data];
  };
  const light = (colour) => {
    const [r, g, b] = rgb(colour).slice(0, 3).map((c) => (c / 255 <= 0.04045 ? c / 255 / 12.92 : ((c / 255 + 0.055) / 1.055) ** 2.4));
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const contrast = (a, b) => {
    const [high, low] = [light(a), light(b)].toSorted((x, y) => y - x);
    return (high + 0.05) / (low + 0.05);
  };
`;

/** Words with less contrast to what is behind them than they should have (1.4.6 asks 7); those that cannot be pressed now are left out. */
const pale = (page, least) => page.evaluate(`(() => {
  ${CONTRAST}
  const ground = (each) => {
    const { backgroundColor } = getComputedStyle(each);
    return rgb(backgroundColor)[3] > 0 || !each.parentElement ? backgroundColor : ground(each.parentElement);
  };
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  const found = new Set();
  let seen = 0;
  while (walk.nextNode()) {
    const { parentElement: each, data } = walk.currentNode;
    if (!data.trim() || !each.checkVisibility() || each.ownerSVGElement || each.closest(':disabled, .sr, .paper')) continue;
    seen += 1;
    const is = contrast(getComputedStyle(each).color, ground(each));
    if (is < ${least}) found.add(is.toFixed(2) + ': ' + data.trim().slice(0, 40));
  }
  return seen > 5 ? [...found] : ['no words'];
})()`);

/** Parts of pictures in colours of their own where the person has chosen the colours, and pictures that do not show then. */
const ownColours = (page) => page.evaluate(`(() => {
  ${CONTRAST}
  const probe = document.body.appendChild(document.createElement('i'));
  const system = ['Canvas', 'CanvasText', 'Highlight', 'HighlightText'].map((name) => {
    probe.style.color = name;
    return getComputedStyle(probe).color;
  });
  probe.remove();
  const [canvas] = system;
  const found = new Set();
  // Behind words the browser paints the ground, unless it is told not to: on a filled box they would be lost.
  const ground = (each) => {
    const { backgroundColor } = getComputedStyle(each);
    return rgb(backgroundColor)[3] > 0 || !each.parentElement ? backgroundColor : ground(each.parentElement);
  };
  for (const each of document.querySelectorAll('body *')) {
    const hasWords = [...each.childNodes].some((node) => node.nodeType === Node.TEXT_NODE && node.data.trim());
    if (!hasWords || !each.checkVisibility() || each.ownerSVGElement || each.closest('.sr, .paper')) continue;
    if (getComputedStyle(each).forcedColorAdjust !== 'none' && ![canvas, 'rgba(0, 0, 0, 0)'].includes(ground(each))) found.add('on a filled box: ' + each.textContent.slice(0, 40));
  }
  for (const picture of document.querySelectorAll('svg:not(.qr)')) {
    if (!picture.checkVisibility() || picture.closest('.paper')) continue;
    let shows = 0;
    for (const part of picture.querySelectorAll('path, circle, rect, polygon, text')) {
      if (part.closest('defs')) continue;
      const { fill, stroke, opacity } = getComputedStyle(part);
      for (const colour of [fill, stroke].filter((one) => !/^(none|url)/.test(one) && rgb(one)[3] > 0)) {
        if (!system.includes(colour)) found.add(part.getAttribute('class') + ': ' + colour);
        if (opacity === '1' && contrast(colour, canvas) >= 3) shows += 1;
      }
    }
    const onDark = picture.closest('.no, .stop, .m, [aria-pressed=true]');
    if (!shows && !onDark) found.add('does not show: ' + picture.outerHTML.slice(0, 100));
  }
  return [...found];
})()`);

/** What hangs out at the side or is cut off. Signs in a box of their own size, and fields, which go on inside, are left out. */
const cutOff = (page) => page.evaluate(() => [...document.querySelectorAll('body *')].filter((each) => {
  if (!each.checkVisibility() || each.ownerSVGElement || each.matches('svg, input, textarea, select, option, .tick') || each.closest('.sr, .paper')) return false;
  const { left, right } = each.getBoundingClientRect();
  const { display, overflowX } = getComputedStyle(each);
  const holds = each.clientWidth > 0 && display !== 'inline' && (overflowX !== 'visible' || each.children.length === 0);
  return left < -0.6 || right > innerWidth + 0.6 || holds && each.scrollWidth > each.clientWidth + 1;
}).map((each) => `${each.localName}.${each.className}: ${each.textContent.slice(0, 40)}`));

/** Letters of twice the size, as a person sets them in the browser. */
const setLetters = (page, size) => page.evaluate((size) => { document.documentElement.style.fontSize = size; }, size);

for (const [name, goThere] of SCREENS) {
  test(`${name}: nothing found in any colours, Tab comes to all in order, every target is 48 px, nothing hangs out at the side, letters of twice the size have room`, async (t) => {
    const person = await visit(t);
    const { page } = person;
    await page.emulateMedia({ colorScheme: 'light', reducedMotion: 'reduce' });
    await goThere(person);
    assert.deepEqual(await walkByTab(page), []);
    assert.deepEqual(await found(page), [], 'light');
    assert.deepEqual(await pale(page, 7), [], 'light');
    await page.emulateMedia({ colorScheme: 'dark' });
    assert.deepEqual(await found(page, 'color-contrast'), [], 'dark');
    assert.deepEqual(await pale(page, 4.5), [], 'dark');
    await page.emulateMedia({ colorScheme: 'light', forcedColors: 'active' });
    assert.deepEqual(await found(page, 'color-contrast'), [], 'forced colours');
    assert.deepEqual(await pale(page, 4.5), [], 'forced colours');
    assert.deepEqual(await ownColours(page), [], 'forced colours');
    await page.emulateMedia({ colorScheme: null, forcedColors: null });
    assert.deepEqual(await unnamed(page), []);
    for (const [wide, high] of [...PHONES.toReversed(), NARROWEST]) {
      await page.setViewportSize({ width: wide, height: high });
      assert.deepEqual(await small(page), [], `${wide} wide`);
      assert.equal(await page.evaluate(() => document.documentElement.scrollWidth), wide);
    }
    assert.deepEqual(await cutOff(page), [], 'narrow');
    await setLetters(page, '200%');
    assert.deepEqual(await cutOff(page), [], 'narrow, large letters');
    assert.deepEqual(await small(page), [], 'narrow, large letters');
    assert.equal(await page.evaluate(() => document.documentElement.scrollWidth), NARROWEST[0], 'large letters');
    assert.deepEqual(person.complaints, []);
  });
}

test('what is pale, coloured by itself, cut off or too small would be noticed', async (t) => {
  const { page } = await visit(t);
  const add = (markup) => page.evaluate((markup) => document.querySelector('main').insertAdjacentHTML('beforeend', markup), markup);
  assert.deepEqual(await pale(page, 7), []);
  await add('<p class="grey">grey words</p>');
  await page.evaluate(() => { document.querySelector('.grey').style.color = '#777'; });
  assert.match((await pale(page, 4.5)).join(), /^4\.\d\d: grey words$/);
  await page.emulateMedia({ forcedColors: 'active' });
  await add('<svg width="20" height="20"><path d="M0 0H20" stroke="#0b4a8c"/></svg>');
  assert.match((await ownColours(page)).join(), /rgb\(11, 74, 140\)/);
  await add('<p class="filled">words on it</p>');
  await page.evaluate(() => { document.querySelector('.filled').style.background = 'Highlight'; });
  assert.match((await ownColours(page)).join(), /on a filled box: words on it/);
  assert.deepEqual(await cutOff(page), []);
  await add('<div class="box"><b>words that do not go into it</b></div>');
  await page.evaluate(() => Object.assign(document.querySelector('.box').style, { width: '4em', overflow: 'hidden', whiteSpace: 'nowrap' }));
  assert.equal((await cutOff(page)).length, 1);
});

test('a control that Tab leaves out, or that does not show where one stands, would be noticed', async (t) => {
  const { page } = await visit(t, { viewport: { width: 360, height: 640 }, reducedMotion: 'reduce' });
  assert.deepEqual(await walkByTab(page), []);
  await page.evaluate(() => { document.querySelector('a[href="#near"]').tabIndex = -1; });
  assert.match((await walkByTab(page)).join(), /Shorter by 1 mm is stop 7, not 6/);
  await page.evaluate(() => { Object.assign(document.querySelector('a[href="#near"]'), { tabIndex: 0 }).style.outline = 'none'; });
  assert.match((await walkByTab(page)).join(), /near it: nothing shows/);
});

test('whoever asks for less motion has none, and others a smooth way within the page', async (t) => {
  const { page } = await visit(t);
  const motion = () => page.evaluate(() => [getComputedStyle(document.documentElement).scrollBehavior, document.getAnimations().length]);
  assert.deepEqual(await motion(), ['smooth', 0]);
  await page.emulateMedia({ reducedMotion: 'reduce' });
  assert.deepEqual(await motion(), ['auto', 0]);
  await page.setViewportSize({ width: 360, height: 640 });
  const way = await page.evaluate(() => {
    document.querySelector('a[href="#marking"], a[href="#top"]').click();
    return new Promise((done) => { requestAnimationFrame(() => { const at = scrollY; setTimeout(() => done(scrollY - at), 200); }); });
  });
  assert.equal(way, 0, 'there at once');
});

test('how good it is can be read without signal as well, and leads back', async (t) => {
  const own = await openWorkshop();
  t.after(() => own.close());
  const person = await own.person(t);
  const { page } = person;
  await person.untilOffline();
  await own.host.stop();
  await page.getByRole('link', { name: 'How good is it?' }).click();
  await page.getByRole('heading', { name: 'How good is it?' }).waitFor();
  assert.ok(await page.getByRole('heading', { level: 2 }).count() > 20);
  assert.ok(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth), 'nothing hangs out');
  assert.deepEqual(await found(page), []);
  await page.getByRole('link', { name: 'Back' }).click();
  await person.seeAnswer();
  assert.deepEqual(person.complaints, []);
});

test('axe-core would notice', async (t) => {
  const person = await visit(t, {});
  await person.page.evaluate(() => document.querySelector('main').append(document.createElement('button')));
  assert.match((await found(person.page)).join(), /button-name/);
});

test('a picture without a sentence would be noticed', async (t) => {
  const person = await visit(t, {});
  assert.deepEqual(await unnamed(person.page), []);
  await person.page.evaluate(() => document.querySelector('main').insertAdjacentHTML('beforeend', '<svg width="20" height="20"></svg>'));
  assert.equal((await unnamed(person.page)).length, 1);
});
