//! One run after another: every hose that could serve it, laid, judged and ranked.

use crate::size::{
    Candidate, Rejected, Remedy, best_first, candidates, first_candidates, if_stiffness, remedies, turned_round, weigh,
};
use crate::{Job, Report, Run, tell};
use checks::Verdict;
use quantity::{Length, Window};
use std::ops::ControlFlow;
use stock::Stock;

/// Below this chance one does better to cut long and trim, and is told what else would help; our choice.
pub(crate) const GOOD_CHANCE: f64 = 0.8;

/// A run with its candidates, best first.
#[derive(Clone, Debug)]
pub struct SolvedRun {
    pub(crate) run: Run,
    pub(crate) candidates: Vec<Candidate>,
    pub(crate) rejected: Vec<Rejected>,
    /// The first window of the best if it is half, and twice, as stiff as taken.
    pub(crate) if_stiffness: [Option<Window<Length>>; 2],
    /// What would help, where no length works or the chance is low.
    pub(crate) remedies: Vec<Remedy>,
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
        let mut candidates = best_first(found);
        let mut stiffness = [None; 2];
        if let Some(best) = candidates.first_mut() {
            weigh(best, run, &job.conditions, stock);
            stiffness = if_stiffness(run, &job.conditions, stock, &best.hose);
        }
        let needs_help = |best: &Candidate| {
            best.sound.is_empty() || best.chances.as_ref().is_some_and(|chances| chances.best() < GOOD_CHANCE)
        };
        let remedies = candidates
            .first()
            .filter(|best| needs_help(best))
            .map_or(Vec::new(), |best| remedies(run, &job.conditions, stock, best));
        let turned_round = candidates
            .first()
            .filter(|best| best.sound.is_empty())
            .and_then(|best| turned_round(run, &job.conditions, stock, &best.hose));
        let done =
            SolvedRun { run: run.clone(), candidates, rejected, if_stiffness: stiffness, remedies, turned_round };
        let go_on = on_run(number, &done);
        solved.push(done);
        if go_on.is_break() {
            break;
        }
    }
    tell::tell(&solved, stock)
}

/// What can be shown while the rest is worked out: for every run the hoses of the first size that goes on it.
///
/// `None` unless the best of them passes: what does better, or comes nearest, is only known when all have been tried.
pub fn solve_first(job: &Job, stock: &Stock) -> Option<Report> {
    let first = |run: &Run| {
        let candidates = best_first(first_candidates(run, &job.conditions, stock));
        candidates.first().filter(|best| best.verdict() != Verdict::Fail)?;
        Some(SolvedRun {
            run: run.clone(),
            candidates,
            rejected: Vec::new(),
            if_stiffness: [None; 2],
            remedies: Vec::new(),
            turned_round: None,
        })
    };
    let solved = job.runs.iter().map(first).collect::<Option<Vec<_>>>()?;
    (!solved.is_empty()).then(|| tell::tell(&solved, stock))
}
