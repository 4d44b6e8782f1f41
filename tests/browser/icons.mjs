// Makes the icons of the manifest from web/public/icon.svg: node tests/browser/icons.mjs
import { readFile } from 'node:fs/promises';
import { resolve } from 'node:path';
import { chromium } from 'playwright-core';

const PUBLIC = resolve(import.meta.dirname, '../../web/public');
const PAPER = '#FAF7EF';

// W3C Web Application Manifest, "Icon masks and safe zone": what matters lies within 2/5 of the width from the middle.
// The drawing reaches 32.2 of its 64 units from there (left spigot), and 0.78 × 32.2/64 is 0.392.
const MASKABLE = 0.78;

const drawing = `data:image/svg+xml;base64,${await readFile(resolve(PUBLIC, 'icon.svg'), 'base64')}`;
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
  chromiumSandbox: process.getuid?.() !== 0,
  args: ['--disable-gpu'],
});
for (const [name, size, share, ground] of [
  ['icon-192.png', 192, 1, 'transparent'],
  ['icon-512.png', 512, 1, 'transparent'],
  ['icon-maskable.png', 512, MASKABLE, PAPER],
]) {
  const page = await browser.newPage({ viewport: { width: size, height: size } });
  await page.setContent(`<style>
    body { margin: 0; height: ${size}px; display: grid; place-items: center; background: ${ground}; }
    img { width: ${size * share}px; height: ${size * share}px; }
  </style><img src="${drawing}">`);
  await page.locator('img').evaluate((img) => img.decode());
  await page.screenshot({ path: resolve(PUBLIC, name), omitBackground: true });
  await page.close();
  console.log(name);
}
await browser.close();
