//! How tight a worm drive clamp is made, by the width of its band.

use quantity::{Basis, Length, Moment, Source};

/// When a clamp is tightened.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tightening {
    /// The first time, on a new hose.
    NewHose,
    /// On a hose that has been clamped before: after the first heat cycle, or put together again.
    Again,
}

/// A torque for bands from one width up to the next in the table.
#[derive(Clone, Debug, PartialEq)]
pub struct Torque {
    /// The narrowest band it is for.
    pub band_from: Length,
    /// When.
    pub tightening: Tightening,
    /// The torque.
    pub torque: Moment,
    /// What it may miss by, either way.
    pub plus_minus: Moment,
    /// The width the source itself names, where it names one width rather than a range.
    pub band: Option<Length>,
    /// Where it comes from.
    pub source: Source,
}

/// The torque of the widest row that is not wider than this band, a published one first.
pub(crate) fn for_band(torques: &[Torque], band: Length, tightening: Tightening) -> Option<&Torque> {
    torques.iter().filter(|torque| torque.tightening == tightening && torque.band_from <= band).max_by(|a, b| {
        let published = |torque: &Torque| torque.source.basis == Basis::Published;
        a.band_from.total_cmp(&b.band_from).then(published(a).cmp(&published(b)))
    })
}
