// Measures how smoothly the sheet follows a thumb that drags the cut: node tests/browser/frames.mjs
// From frame to frame, and how long the page's own thread works for one. Nothing here passes or fails.
import { openWorkshop } from './lib/workshop.mjs';

const SLOW_CPU = 4;
const SECONDS = 4;
/** From one move of the thumb to the next, ms: more often than a screen is drawn. */
const MOVE = 8;

const pause = (ms) => new Promise((later) => setTimeout(later, ms));
const at = (times, part) => times[Math.min(times.length - 1, Math.floor(part * times.length))].toFixed(1);

/** Drags the cut over the bar and back, again and again. */
async function drag(rate) {
  const visit = await workshop.visit({ viewport: { width: 360, height: 640 } });
  await visit.seeAnswer();
  const { page } = visit;
  const tab = await page.context().newCDPSession(page);
  await tab.send('Performance.enable');
  await tab.send('Emulation.setCPUThrottlingRate', { rate });
  const worked = async () => (await tab.send('Performance.getMetrics')).metrics.find(({ name }) => name === 'TaskDuration').value;
  // What would help is still being looked for, and the first drawing is still to come.
  await pause(3000);
  const bar = page.getByRole('slider', { name: 'Try a cut length' });
  await bar.scrollIntoViewIfNeeded();
  const box = await bar.boundingBox();
  const y = box.y + box.height / 2;
  const x = (t) => box.x + box.width * (0.5 - 0.4 * Math.sin(2 * Math.PI * t / 2));
  const mouse = (type, x) => tab.send('Input.dispatchMouseEvent', { type, x, y, button: 'left', buttons: 1, clickCount: 1 });
  await mouse('mousePressed', x(0));
  await page.evaluate(() => {
    const times = [performance.now()];
    globalThis.frames = times;
    const next = () => { times.push(performance.now()); requestAnimationFrame(next); };
    requestAnimationFrame(next);
  });
  const before = await worked();
  const begin = performance.now();
  for (let now = 0; now < SECONDS * 1000; now = performance.now() - begin) {
    mouse('mouseMoved', x(now / 1000)).catch(() => {}); // Not waited for: a thumb waits for nobody.
    await pause(MOVE);
  }
  const frames = await page.evaluate(() => globalThis.frames);
  const work = 1000 * (await worked() - before) / (frames.length - 1);
  await mouse('mouseReleased', x(0));
  await visit.leave();
  const times = frames.slice(1).map((time, i) => time - frames[i]).toSorted((a, b) => a - b);
  console.log(`CPU slowed ${rate}x: frame to frame median ${at(times, 0.5)} ms, 95th percentile ${at(times, 0.95)} ms; the page works ${work.toFixed(1)} ms a frame`);
}

const workshop = await openWorkshop();
for (const rate of [1, SLOW_CPU]) await drag(rate);
await workshop.close();
