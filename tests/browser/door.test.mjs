// The solver for JavaScript as others use it: in their page, in Node, and from TypeScript. What it tells is what the native
// example `size` tells, which solves without a browser and without WebAssembly.
import assert from 'node:assert/strict';
import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { after, before, test } from 'node:test';
import { pathToFileURL } from 'node:url';
import { openWorkshop } from './lib/workshop.mjs';

const ROOT = resolve(import.meta.dirname, '../..');
/** What `cargo xtask door` left. */
const DOOR = join(ROOT, 'dist-door');
const CASES = ['example', 'car'];
const A_LETTER = 'line 1, column 1: not JSON: a value is expected';

const jobs = {};
const told = {};
let size;
let workshop;

before(async () => {
  // With the whole workspace's features, as `cargo test --workspace` has built it, so that nothing is built twice.
  const build = ['build', '--quiet', '--locked', '--workspace', '--example', 'size', '--message-format', 'json'];
  const lines = execFileSync(process.env.CARGO ?? 'cargo', build, { cwd: ROOT, maxBuffer: 2 ** 28, stdio: ['ignore', 'pipe', 'inherit'] });
  const built = `${lines}`.trim().split('\n').map((line) => JSON.parse(line));
  size = built.find(({ executable, target }) => executable && target.name === 'size').executable;
  for (const name of CASES) {
    jobs[name] = await readFile(join(ROOT, `tests/cases/${name}.json`), 'utf8');
    told[name] = execFileSync(size, { input: jobs[name], maxBuffer: 2 ** 28, encoding: 'utf8', stdio: ['pipe', 'pipe', 'ignore'] });
  }
  workshop = await openWorkshop({ folder: DOOR });
});
after(() => workshop?.close());

/** Somebody with the example before them, which is done with its own solver. */
async function somebody(t) {
  const visit = await workshop.visit({ at: 'example.html' });
  t.after(() => visit.leave());
  await visit.page.getByText(/^Cut length: (?!being worked out)/).waitFor();
  return visit;
}

test('the example shows the cut that is told natively, and the browser complains of nothing', async (t) => {
  const visit = await somebody(t);
  const [best] = JSON.parse(told.example).runs[0].candidates;
  assert.equal(best.nearest, false, 'a hose that works');
  const shown = await visit.page.getByText('Cut length: ').innerText();
  assert.equal(shown, `Cut length: ${best.cut_mm} mm of ${best.hose.sold_as}`);
  assert.deepEqual(visit.complaints, []);
  assert.deepEqual(visit.foreignRequests, []);
});

test('in a page the whole report is that of the native program, of a job as text and as an object', async (t) => {
  const { page } = await somebody(t);
  const reports = await page.evaluate(async ({ example, car }) => {
    const { Solver } = await import('./solver.js');
    const solver = new Solver();
    // Asked for at once: each promise gets its own report.
    return Promise.all([solver.solve(car), solver.solve(JSON.parse(example)), solver.solve(example)]);
  }, jobs);
  assert.deepEqual(reports, [told.car, told.example, told.example].map((text) => JSON.parse(text)));
});

test('what cannot be read is refused with the sentence of the native program, and the next job is solved', async (t) => {
  const { page } = await somebody(t);
  const [refused, cut] = await page.evaluate(async (job) => {
    const { Solver } = await import('./solver.js');
    const solver = new Solver();
    const letter = solver.solve('a letter').catch((fault) => `${fault}`);
    return [await letter, (await solver.solve(job)).runs[0].candidates[0].cut_mm];
  }, jobs.example);
  assert.equal(refused, `Error: ${A_LETTER}`);
  assert.equal(spawnSync(size, { input: 'a letter', encoding: 'utf8' }).stderr.trim(), A_LETTER);
  assert.equal(cut, JSON.parse(told.example).runs[0].candidates[0].cut_mm);
});

test('stopped, or with its worker gone, the solver refuses the job in hand and solves what comes after', async (t) => {
  const { page } = await somebody(t);
  const heard = await page.evaluate(async ({ example, car }) => {
    const { Solver } = await import('./solver.js');
    const workers = [];
    globalThis.Worker = class extends Worker {
      constructor(...args) {
        super(...args);
        workers.push(this);
      }
    };
    const solver = new Solver();
    const of = (asked) => asked.then((report) => report.runs.length, (fault) => fault.message);
    // As the browser ends one, in the middle of a long job.
    const [first, second] = [of(solver.solve(car)), of(solver.solve(example))];
    workers[0].addEventListener('message', () => workers[0].terminate(), { once: true });
    const ended = [await first, await second];
    const stopped = [of(solver.solve(car)), of(solver.solve(example))];
    solver.stop();
    const last = await of(solver.solve(example));
    return [...ended, ...await Promise.all(stopped), last, workers.length];
  }, jobs);
  assert.deepEqual(heard, ['the browser ended the solver', 1, 'stopped', 'stopped', 1, 3]);
});

test('a module that does not come refuses each job, and once it comes the next one is solved', async (t) => {
  const { page } = await somebody(t);
  const ask = () => page.evaluate(async (job) => {
    const { Solver } = await import('./solver.js');
    globalThis.solver ??= new Solver();
    const of = (asked) => asked.then((report) => `${report.runs.length} run`, (fault) => fault.message);
    return Promise.all([of(solver.solve(job)), of(solver.solve(job))]);
  }, jobs.example);
  await page.route('**/door_bg.wasm', (route) => route.abort());
  for (const why of await ask()) assert.match(why, /^the solver ended: \S/);
  await page.unroute('**/door_bg.wasm');
  assert.deepEqual(await ask(), ['1 run', '1 run']);
});

test('in Node the module, read from its file, tells the same text', async () => {
  const { default: init, solve } = await import(pathToFileURL(join(DOOR, 'door.js')));
  await init({ module_or_path: await readFile(join(DOOR, 'door_bg.wasm')) });
  for (const name of CASES) assert.equal(`${solve(jobs[name])}\n`, told[name], name);
  assert.throws(() => solve('a letter'), { name: 'Error', message: A_LETTER });
});

/** What TypeScript says of a program, with the folder it lies in: nothing if it is right. */
async function typed(t, program) {
  const folder = await mkdtemp(join(tmpdir(), 'hosewright-door-'));
  t.after(() => rm(folder, { recursive: true }));
  const types = JSON.stringify(join(DOOR, 'solver.js'));
  await writeFile(join(folder, 'typed.mts'), `import { Solver, type Job, type Report } from ${types};\n${program}`);
  const compiler = join(ROOT, 'tests/node_modules/typescript/bin/tsc');
  const settings = ['--strict', '--noEmit', '--target', 'es2022', '--lib', 'es2022,dom', '--module', 'nodenext', 'typed.mts'];
  return spawnSync(process.execPath, [compiler, ...settings], { cwd: folder, encoding: 'utf8' }).stdout;
}

test('job files and reports, written out, are of the types that solver.d.ts gives them', async (t) => {
  const literals = CASES.map((name) => `const ${name}: Job = ${jobs[name]};\nconst ${name}Told: Report = ${told[name]};\n`);
  const use = 'const solved: Promise<Report> = new Solver().solve(example);\n';
  // Each must be a fault, or TypeScript says that none was found: a field that is missing, unknown, or of another kind.
  const wrong = [
    "const noRuns: Job = { format: 'hosewright-job', version: 1 };",
    "const unknown: Job = { format: 'hosewright-job', version: 1, runs: [], wheels: 4 };",
    'const noVerdict: Report["runs"][0]["candidates"][0]["verdict"] = null;',
    'const text: Report["runs"][0]["candidates"][0]["cut_mm"] = "485";',
  ].map((line) => `// @ts-expect-error\n${line}\n`);
  assert.equal(await typed(t, [...literals, use, ...wrong].join('')), '');
});
