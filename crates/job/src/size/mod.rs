//! The matcher: which hose, which lengths, which cut, for one run alone.

mod candidates;
mod chance;
mod cut_window;
mod fitting;
mod judge;
mod lay;
mod marks;
mod path;
mod rank;
mod remedies;
mod rocked;
mod turned;

pub(crate) use candidates::{
    Candidate, Rejected, candidates, first_candidates, if_stiffness, lay_at, weigh, weigh_alike,
};
pub(crate) use chance::{Chances, Errors};
pub(crate) use cut_window::bow;
pub(crate) use fitting::skin_along;
pub use marks::{Buy, Marks, TRIMMING};
pub(crate) use marks::{buy, marks};
pub(crate) use path::{Wanted, told_legs, wanted};
pub(crate) use rank::{best_first, why_behind};
pub(crate) use remedies::{Remedy, What, remedies};
pub(crate) use turned::turned_round;

#[cfg(test)]
mod cut_window_tests;
