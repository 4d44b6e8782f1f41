//! Snap: whether the hose stays in the way it is told to lie, where it could lie in another.
//!
//! Two trials, both laid again: leant on at mid-length from eight sides, and cut a little longer or shorter than meant.

use crate::limits::{Limit, our_choice};
use crate::{Check, Finding, Verdict};
use quantity::Source;
use std::borrow::Cow;

/// The force of someone leaning on it, N.
pub const LEANT_ON: f64 = 5.0;
const SOURCE: Source = our_choice(
    "5 N at mid-length from eight sides, and the cut within the tape error: either may not change how it lies",
);

/// The finding on a hose that could lie in `ways` ways; `leaves` when leant on, `ends` within the tape error of the cut.
#[must_use]
pub fn snap_finding(ways: usize, leaves: bool, ends: bool) -> Finding {
    let (verdict, why) = match (ways, ends, leaves) {
        (0 | 1, ..) => (Verdict::Pass, "there is one way for it to lie"),
        (_, true, _) => (Verdict::Warn, "cut a little wrong it lies another way altogether"),
        (_, _, true) => (Verdict::Warn, "leant on, it jumps into another way of lying and stays there"),
        _ => (Verdict::Pass, "leant on, it comes back to lie as it did"),
    };
    Finding { verdict, why: Cow::Borrowed(why), source: SOURCE, ..Finding::not_checked(Check::Snap, "") }
}

pub(crate) fn limits() -> Vec<Limit> {
    vec![Limit::new("force of someone leaning on the hose, under which it must come back", LEANT_ON, "N", SOURCE)]
}
