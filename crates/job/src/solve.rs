//! One run after another: every hose that could serve it, laid, judged and ranked.

use crate::size::{
    Candidate, Rejected, Remedy, Wanted, best_first, candidates, first_candidates, if_stiffness, remedies,
    turned_round, wanted, weigh,
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
    /// The way the hose is wanted, with the best.
    pub(crate) wanted: Option<Wanted>,
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
        let works = |best: &Candidate| {
            !best.sound.is_empty() && best.chances.as_ref().is_none_or(|chances| chances.best() >= GOOD_CHANCE)
        };
        let help = |best: &Candidate| remedies(run, &job.conditions, stock, best, works(best));
        let remedies = candidates.first().map_or(Vec::new(), help);
        let wanted = candidates.first().and_then(|best| wanted(run, &best.hose));
        let turned_round = candidates
            .first()
            .filter(|best| best.sound.is_empty())
            .and_then(|best| turned_round(run, &job.conditions, stock, &best.hose));
        let done = SolvedRun {
            run: run.clone(),
            candidates,
            rejected,
            if_stiffness: stiffness,
            wanted,
            remedies,
            turned_round,
        };
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
            wanted: None,
            remedies: Vec::new(),
            turned_round: None,
        })
    };
    let solved = job.runs.iter().map(first).collect::<Option<Vec<_>>>()?;
    (!solved.is_empty()).then(|| tell::tell(&solved, stock))
}
