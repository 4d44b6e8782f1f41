// The solver in a module worker. It is told { id, job } with the text of a job file and tells { id, report } with the report,
// or { id, error } with the sentence on what cannot be read. Once, before all else, it tells { ready: true }.
import init, { solve } from './door.js';

let isBroken = false;

// A worker that the browser ends says nothing, but lets go of the lock of its name (Web Locks API).
const held = new Promise((held) => {
  if (!navigator.locks) held();
  navigator.locks?.request(self.name, () => { held(); return new Promise(() => {}); }).catch(held);
});

const ready = held.then(() => init()).then(() => postMessage({ ready: true }));
// The page hears of an error, and of no refused promise.
ready.catch(breakOff);

// Heard from the start: what is said while the module loads must not be lost.
addEventListener('message', async ({ data: { id, job } }) => {
  await ready;
  if (isBroken) return;
  try {
    postMessage({ id, report: JSON.parse(solve(job)) });
  } catch (fault) {
    // Only a sentence comes as a plain Error. After anything else, a trap or a full stack, the module is not to be used again.
    if (fault.constructor === Error) postMessage({ id, error: fault.message });
    else breakOff(fault);
  }
});

function breakOff(fault) {
  isBroken = true;
  setTimeout(() => { throw fault; });
}
