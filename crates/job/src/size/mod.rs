//! The matcher: which hose, which lengths, which cut, for one run alone.

mod candidates;
mod cut_window;
mod marks;
mod rank;
mod turned;

pub(crate) use candidates::{Candidate, Rejected, candidates, first_candidates};
pub use marks::{Buy, Marks};
pub(crate) use marks::{buy, marks};
pub(crate) use rank::{best_first, why_behind};
pub(crate) use turned::turned_round;

#[cfg(test)]
mod cut_window_tests;
