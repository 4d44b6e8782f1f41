//! One run after another: every hose that could serve it, laid, judged and ranked.

use crate::size::{Candidate, Rejected, best_first, candidates, first_candidates, turned_round};
use crate::{Job, Report, Run, report};
use checks::Verdict;
use std::ops::ControlFlow;
use stock::Stock;

/// A run with its candidates, best first.
#[derive(Clone, Debug)]
pub struct SolvedRun {
    pub(crate) run: Run,
    pub(crate) candidates: Vec<Candidate>,
    pub(crate) rejected: Vec<Rejected>,
    /// Where no length works: the ends that, turned round, would let one.
    pub(crate) turned_round: Option<&'static str>,
}

/// Solves every run of a job.
///
/// `on_run` hears of each run as it is done, with its number among the sound runs, and may stop the work there; the
/// report then holds the runs done so far.
pub fn solve(job: &Job, stock: &Stock, mut on_run: impl FnMut(usize, &SolvedRun) -> ControlFlow<()>) -> Report {
    let mut solved = Vec::new();
    for (number, run) in job.runs.iter().enumerate() {
        let (found, rejected) = candidates(run, &job.conditions, stock);
        let candidates = best_first(found);
        let turned_round = candidates
            .first()
            .filter(|best| best.sound.is_empty())
            .and_then(|best| turned_round(run, &job.conditions, stock, &best.hose));
        let done = SolvedRun { run: run.clone(), candidates, rejected, turned_round };
        let go_on = on_run(number, &done);
        solved.push(done);
        if go_on.is_break() {
            break;
        }
    }
    report::tell(&solved, stock)
}

/// What can be shown while the rest is worked out: for every run the hoses of the first size that goes on it.
///
/// `None` unless the best of them passes: what does better, or comes nearest, is only known when all have been tried.
pub fn solve_first(job: &Job, stock: &Stock) -> Option<Report> {
    let first = |run: &Run| {
        let candidates = best_first(first_candidates(run, &job.conditions, stock));
        candidates.first().filter(|best| best.verdict() != Verdict::Fail)?;
        Some(SolvedRun { run: run.clone(), candidates, rejected: Vec::new(), turned_round: None })
    };
    let solved = job.runs.iter().map(first).collect::<Option<Vec<_>>>()?;
    (!solved.is_empty()).then(|| report::tell(&solved, stock))
}
