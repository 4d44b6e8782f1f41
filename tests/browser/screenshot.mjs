// Makes the README's picture from the built page: node tests/browser/screenshot.mjs
import { resolve } from 'node:path';
import { openWorkshop } from './lib/workshop.mjs';

const PICTURE = resolve(import.meta.dirname, '../../web/screenshot.png');

const workshop = await openWorkshop();
const visit = await workshop.visit({ viewport: { width: 360, height: 1180 }, deviceScaleFactor: 2 });
await visit.seeAnswer();
await visit.page.screenshot({ path: PICTURE });
await workshop.close();
console.log(PICTURE);
