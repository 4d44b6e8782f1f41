// The deeds of tests/browser/lib/deeds.mjs in Firefox.
import { everyDeed } from '../browser/lib/deeds.mjs';

everyDeed('firefox');
