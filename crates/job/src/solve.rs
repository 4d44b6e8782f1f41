//! One run after another: every hose that could serve it, laid, judged and ranked; then what takes longer.
//!
//! A cut that is to be tried changes nothing but the lie that is told: lengths, chances and remedies are those of the run
//! without it. So another cut is answered from what is known.

use crate::size::{
    Candidate, Rejected, Remedy, Wanted, best_first, candidates, first_candidates, if_stiffness, lay_at, remedies,
    turned_round, wanted, weigh, weigh_alike,
};
use crate::{Job, Report, Run, tell};
use checks::{Conditions, Verdict};
use quantity::{Length, Window};
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

impl SolvedRun {
    fn new(run: Run, found: Vec<Candidate>, rejected: Vec<Rejected>) -> Self {
        Self {
            run,
            candidates: best_first(found),
            rejected,
            if_stiffness: [None; 2],
            wanted: None,
            remedies: Vec::new(),
            turned_round: None,
        }
    }

    /// The chances of the best candidate and of those that lie as it does, and with them their cut; those of `known`, if that
    /// lies as the best does.
    fn weigh(&mut self, known: Option<&Candidate>, job: &Job, stock: &Stock) {
        let (run, conditions) = (&self.run, &job.conditions);
        let Some((best, others)) = self.candidates.split_first_mut() else { return };
        if !known.is_some_and(|known| weigh_alike(best, known, run, conditions, stock)) {
            weigh(best, run, conditions, stock);
        }
        for other in others {
            weigh_alike(other, best, run, conditions, stock);
        }
    }

    /// What takes longer, for the best candidate: remedies and the like.
    fn deepen(&mut self, job: &Job, stock: &Stock) {
        let (run, conditions) = (&self.run, &job.conditions);
        let Some(best) = self.candidates.first() else { return };
        let works = !best.sound.is_empty() && best.chances.as_ref().is_none_or(|chances| chances.best() >= GOOD_CHANCE);
        self.if_stiffness = if_stiffness(run, conditions, stock, &best.hose);
        self.wanted = wanted(run, &best.hose);
        self.remedies = remedies(run, conditions, stock, best, works);
        self.turned_round = best.sound.is_empty().then(|| turned_round(run, conditions, stock, &best.hose)).flatten();
    }

    /// The same with every hose laid at the cut that is to be tried.
    fn at(&self, cut: Option<Length>, job: &Job, stock: &Stock) -> Self {
        let mut tried = self.clone();
        if let Some(cut) = cut {
            for candidate in &mut tried.candidates {
                lay_at(candidate, cut, &self.run, &job.conditions, stock);
            }
        }
        tried
    }
}

/// A run that was solved, and for which conditions.
#[derive(Clone, Debug)]
struct Known {
    conditions: Conditions,
    run: SolvedRun,
    /// Whether all that takes longer is known, too.
    deep: bool,
}

impl Known {
    /// Whether it answers a run; where that stands in its job does not matter.
    fn answers(&self, run: &Run, conditions: &Conditions) -> bool {
        self.conditions == *conditions && self.run.run == Run { index: self.run.run.index, ..run.clone() }
    }
}

/// So many runs of jobs before are kept for one to come; our choice: more than any car has hoses.
const SPARE: usize = 60;

/// A job being answered, step by step: each step tells more than the one before, and the last tells all. A run that was
/// solved before, in this job or another, is not solved again.
#[derive(Clone, Debug)]
pub struct Work {
    job: Job,
    /// The cuts that are to be tried, one for each run.
    tried: Vec<Option<Length>>,
    /// The first hose of every run, once it was told.
    first: Vec<Candidate>,
    /// One for each run, as far as they are solved.
    known: Vec<Option<Known>>,
    /// Runs of jobs before, the newest first.
    spare: Vec<Known>,
}

impl Work {
    /// Begins, with what is known of the job before.
    #[must_use]
    pub fn begin(mut job: Job, before: Option<Self>) -> Self {
        let tried = job.runs.iter_mut().map(|run| run.try_cut.take()).collect();
        let mut spare = before.map_or_else(Vec::new, |before| {
            before.known.into_iter().flatten().chain(before.spare).take(SPARE).collect()
        });
        let mut known = Vec::new();
        for run in &job.runs {
            let place = spare.iter().position(|known| known.answers(run, &job.conditions));
            let found = place.map(|place| spare.remove(place));
            known.push(found.map(|mut found| {
                found.run.run.index = run.index;
                found
            }));
        }
        Self { job, tried, first: Vec::new(), known, spare }
    }

    /// Whether all runs are solved, if not deeply.
    #[must_use]
    pub fn is_known(&self) -> bool {
        self.known.iter().all(Option::is_some)
    }

    /// What can be shown first: for every run the hoses of the first size that goes on it.
    ///
    /// `None` unless the best of them passes: what does better, or comes nearest, is only known when all have been tried.
    pub fn first(&mut self, stock: &Stock) -> Option<Report> {
        let first = |(run, cut): (&Run, &Option<Length>)| {
            let found = first_candidates(run, &self.job.conditions, stock);
            let mut solved = SolvedRun::new(run.clone(), found, Vec::new());
            solved.candidates.first().filter(|best| best.verdict() != Verdict::Fail)?;
            solved.weigh(None, &self.job, stock);
            let tried = solved.at(*cut, &self.job, stock);
            tried.candidates.first().filter(|best| best.verdict() != Verdict::Fail)?;
            Some((solved, tried))
        };
        let solved = self.job.runs.iter().zip(&self.tried).map(first).collect::<Option<Vec<_>>>()?;
        let (solved, tried): (Vec<_>, Vec<_>) = solved.into_iter().unzip();
        self.first = solved.into_iter().filter_map(|run| run.candidates.into_iter().next()).collect();
        (!tried.is_empty()).then(|| tell::tell(&tried, &self.job, stock))
    }

    /// Solves one run that is not known yet, without what takes longer. Tells how many are known, and of how many.
    pub fn step(&mut self, stock: &Stock) -> (usize, usize) {
        if let Some(k) = self.known.iter().position(Option::is_none) {
            let (found, rejected) = candidates(&self.job.runs[k], &self.job.conditions, stock);
            let mut run = SolvedRun::new(self.job.runs[k].clone(), found, rejected);
            run.weigh(self.first.get(k), &self.job, stock);
            self.known[k] = Some(Known { conditions: self.job.conditions.clone(), run, deep: false });
        }
        (self.known.iter().flatten().count(), self.known.len())
    }

    /// Every hose that could serve, without what takes longer: what would help, and how the lengths move with the stiffness.
    pub fn broad(&mut self, stock: &Stock) -> Report {
        while !self.is_known() {
            self.step(stock);
        }
        self.told(stock)
    }

    /// All of it.
    pub fn whole(&mut self, stock: &Stock) -> Report {
        self.broad(stock);
        for known in self.known.iter_mut().flatten().filter(|known| !known.deep) {
            known.run.deepen(&self.job, stock);
            known.deep = true;
        }
        self.told(stock)
    }

    /// What the lists of the whole car need: of every run the best hose only.
    pub fn car(&mut self, stock: &Stock) -> Report {
        self.broad(stock);
        // Nothing of what takes longer: what is told must not hang on which runs were looked at before.
        let best = |run: &SolvedRun| {
            SolvedRun::new(run.run.clone(), run.candidates.first().cloned().into_iter().collect(), Vec::new())
        };
        let runs = self.known.iter().flatten().zip(&self.tried);
        let runs: Vec<_> = runs.map(|(known, cut)| best(&known.run).at(*cut, &self.job, stock)).collect();
        tell::tell(&runs, &self.job, stock)
    }

    /// What is known so far, at the cuts that are tried.
    fn told(&self, stock: &Stock) -> Report {
        let runs = self.known.iter().flatten().zip(&self.tried);
        let tried: Vec<_> = runs.map(|(known, cut)| known.run.at(*cut, &self.job, stock)).collect();
        tell::tell(&tried, &self.job, stock)
    }
}

/// Solves every run of a job.
#[must_use]
pub fn solve(job: &Job, stock: &Stock) -> Report {
    Work::begin(job.clone(), None).whole(stock)
}
