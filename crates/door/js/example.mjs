// Solves the job file beside it and shows the cut length, or why there is none.
import { Solver } from './solver.js';

const told = document.querySelector('output');
const solver = new Solver();
try {
  const job = await (await fetch('example.json')).json();
  const { runs: [run], problems } = await solver.solve(job);
  for (const { field, wrong } of problems) console.warn(`${field}: ${wrong}`);
  const [best] = run.candidates;
  told.textContent = !best || best.nearest ? 'no length works' : `${best.cut_mm} mm of ${best.hose.sold_as}`;
} catch ({ message }) {
  told.textContent = message;
} finally {
  solver.stop();
}
