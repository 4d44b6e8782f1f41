//! Who says how far a lie is from failing: the margins of its readings, all of them or one that is wanted.

use shape::{Lie, Solver};

/// How far one reading is from failing and from warning, relative to its limit; negative beyond it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Margin {
    pub(crate) fail: f64,
    pub(crate) warn: f64,
}

/// What a judge says of a lie.
#[derive(Clone, Debug, Default)]
pub(crate) struct Judged {
    /// The margins of all readings, always the same ones in one order.
    pub(crate) margins: Vec<Margin>,
    /// Of those that are the worst of several poses, the margins in each pose.
    pub(crate) poses: Vec<Vec<Margin>>,
}

/// One reading, wanted of a lie between two that were judged whole.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Wanted<'a> {
    pub(crate) reading: usize,
    pub(crate) beside: [&'a Judged; 2],
    /// How much of the way it lies from the first to the second.
    pub(crate) part: f64,
}

/// Takes a lie, and room to solve another, and judges it. If one reading is wanted, those after it may be missing, and those
/// before it wrong.
pub(crate) trait Judge: FnMut(&mut Solver, &Lie, Option<Wanted<'_>>, &mut Judged) {}
impl<F: FnMut(&mut Solver, &Lie, Option<Wanted<'_>>, &mut Judged)> Judge for F {}
