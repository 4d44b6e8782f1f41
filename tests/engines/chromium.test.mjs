// The deeds of tests/browser/lib/deeds.mjs in Chromium.
import { everyDeed } from '../browser/lib/deeds.mjs';

everyDeed('chromium');
