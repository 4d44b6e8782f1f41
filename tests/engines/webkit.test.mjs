// The deeds of tests/browser/lib/deeds.mjs in WebKitGTK.
import { everyDeed } from '../browser/lib/deeds.mjs';

everyDeed('webkit');
