//! One run after another: every hose that could serve it, laid, judged and ranked; then what takes longer.
//!
//! A cut that is to be tried changes nothing but the lie that is told: lengths, chances and remedies are those of the run
//! without it. So another cut is answered from what is known.

use crate::size::{
    Candidate, Rejected, Remedy, Wanted, best_first, candidates, first_candidates, if_stiffness, lay_at, remedies,
    turned_round, wanted, weigh, weigh_alike,
};
use crate::{Job, Report, Run, tell};
use checks::Verdict;
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

/// A job being answered, step by step: each step tells more than the one before, and the last tells all.
#[derive(Clone, Debug)]
pub struct Work {
    job: Job,
    /// The cuts that are to be tried, one for each run.
    tried: Vec<Option<Length>>,
    /// The first hose of every run, once it was told.
    first: Vec<Candidate>,
    solved: Vec<SolvedRun>,
    /// Whether all that takes longer is known, too.
    deep: bool,
}

impl Work {
    /// Begins; nothing is solved yet.
    #[must_use]
    pub fn begin(mut job: Job) -> Self {
        let tried = job.runs.iter_mut().map(|run| run.try_cut.take()).collect();
        Self { job, tried, first: Vec::new(), solved: Vec::new(), deep: false }
    }

    /// Whether the job is the same but for the cuts that are tried.
    #[must_use]
    pub fn is_of(&self, job: &Job) -> bool {
        Self::begin(job.clone()).job == self.job
    }

    /// Tries the cuts of this job, which must be the same otherwise; see [`Work::is_of`].
    pub fn try_cuts_of(&mut self, job: &Job) {
        self.tried = job.runs.iter().map(|run| run.try_cut).collect();
    }

    /// Whether all runs are solved, if not deeply.
    #[must_use]
    pub fn is_known(&self) -> bool {
        !self.solved.is_empty()
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

    /// Every hose that could serve, without what takes longer: what would help, and how the lengths move with the stiffness.
    pub fn broad(&mut self, stock: &Stock) -> Report {
        if self.solved.is_empty() {
            let solve = |run: &Run| {
                let (found, rejected) = candidates(run, &self.job.conditions, stock);
                SolvedRun::new(run.clone(), found, rejected)
            };
            self.solved = self.job.runs.iter().map(solve).collect();
            for (k, run) in self.solved.iter_mut().enumerate() {
                run.weigh(self.first.get(k), &self.job, stock);
            }
        }
        self.told(stock)
    }

    /// All of it.
    pub fn whole(&mut self, stock: &Stock) -> Report {
        if !self.deep {
            self.broad(stock);
            for run in &mut self.solved {
                run.deepen(&self.job, stock);
            }
            self.deep = true;
        }
        self.told(stock)
    }

    /// What is known so far, at the cuts that are tried.
    fn told(&self, stock: &Stock) -> Report {
        let tried: Vec<_> =
            self.solved.iter().zip(&self.tried).map(|(run, cut)| run.at(*cut, &self.job, stock)).collect();
        tell::tell(&tried, &self.job, stock)
    }
}

/// Solves every run of a job.
#[must_use]
pub fn solve(job: &Job, stock: &Stock) -> Report {
    Work::begin(job.clone()).whole(stock)
}
