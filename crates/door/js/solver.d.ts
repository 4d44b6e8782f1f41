// The solver for JavaScript. `job.d.ts` and `job_car.d.ts` say what goes in, `report.d.ts` and `report_car.d.ts` what comes out.
import type { Job } from './job.js';
import type { Report } from './report.js';

export type * from './job.js';
export type * from './job_car.js';
export type * from './report.js';
export type * from './report_car.js';

/** Solves jobs one after the other in a worker of its own, off the page's own thread. */
export class Solver {
  /**
   * The report on a job, given as an object or as the text of a job file. The worker is started with the first job.
   *
   * It is refused with an `Error` that says in a sentence what cannot be read, that the solver was stopped, or that it ended
   * on this job; it is started anew for those that wait. What is wrong within a run is no refusal: see `problems`.
   */
  solve(job: Job | string): Promise<Report>;

  /** Ends the worker and refuses what is still waited for; the next job starts it anew. */
  stop(): void;
}
