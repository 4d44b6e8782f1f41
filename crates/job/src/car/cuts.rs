//! The cut list of a whole car: which piece comes from which length, and what to buy.

mod pack;
mod plan;
mod reach;
mod told;
mod worth;

pub use plan::{CutLength, Plan, Sold, SoldLength, plan};
pub use told::{CutGroupReport, CutLengthReport, CutPieceReport, CutsReport};
pub(crate) use told::{Wanted, tell_cuts, wanted};
