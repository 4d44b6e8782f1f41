// Pictures of every screen, on two phones, in light and dark, to look at: node tests/browser/screenshots.mjs [folder]
import { mkdir } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { PHONES, SCREENS } from './lib/screens.mjs';
import { openWorkshop } from './lib/workshop.mjs';

const folder = resolve(process.argv[2] ?? 'target/screens');
await mkdir(folder, { recursive: true });
const workshop = await openWorkshop();
for (const [width, height] of PHONES) {
  for (const colorScheme of ['light', 'dark']) {
    for (const [name, goThere] of SCREENS) {
      const person = await workshop.visit({ viewport: { width, height }, hasTouch: true, isMobile: true, colorScheme });
      await person.seeAnswer();
      await goThere(person);
      const file = `${name.replaceAll(/[ ,]+/g, '-')}-${width}-${colorScheme}`;
      await person.page.screenshot({ path: join(folder, `${file}.png`) });
      await person.page.screenshot({ path: join(folder, `${file}-whole.png`), fullPage: true });
      await person.leave();
    }
  }
}
await workshop.close();
console.log(folder);
