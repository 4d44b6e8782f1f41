// How long the solver takes in the browser's worker, to set beside `cargo bench -p job`: node tests/browser/speed.mjs
import { readFile } from 'node:fs/promises';
import { resolve } from 'node:path';
import { openWorkshop } from './lib/workshop.mjs';

const job = await readFile(resolve(import.meta.dirname, '../cases/example.json'), 'utf8');
const workshop = await openWorkshop();
const visit = await workshop.visit();
await visit.seeAnswer();
const millis = await visit.page.evaluate((job) => new Promise((done) => {
  const worker = globalThis.startSolverWorker();
  // As web/src/solver/messages.rs packs them: a question is its ticket and its text, an answer begins with a 1.
  const text = new TextEncoder().encode(job);
  const question = new Uint8Array(8 + text.length);
  new DataView(question.buffer).setUint32(4, text.length, true);
  question.set(text, 8);
  const times = [];
  let begin;
  const ask = () => { begin = performance.now(); worker.postMessage(question); };
  worker.onmessage = ({ data }) => {
    if (data[0] === 1) times.push(performance.now() - begin);
    if (times.length < 60) ask();
    else { worker.terminate(); done(times.slice(10).toSorted((a, b) => a - b)); }
  };
}), job);
await workshop.close();
console.log(`the example, from posted to answered: median ${millis[25].toFixed(2)} ms, least ${millis[0].toFixed(2)} ms`);
