//! What the bore of a hose really is: the limits of ISO 1307 by nominal size and way of making.

use quantity::{Length, Source, Sourced, Window};

/// How far a size may lie from a nominal size of the table and still be that size. It takes 5/8 in (15.875 mm) for
/// 16 and 12.7 mm for 12.5, as the trade does; greater, and 25.4 mm would get the limits of 25 mm, which it misses.
const SAME_SIZE: Length = Length::mm(0.2);

/// 51 − 50.8 is 0.2 and 3 × 10⁻¹⁵ in double precision. A nanometre is far more than that and far less than a bore.
const ROUNDING: Length = Length::mm(1e-6);

/// How a hose was made, which is what its bore limits depend on (the type letters of ISO 1307).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Making {
    /// Type A, on a rigid mandrel.
    RigidMandrel,
    /// Type B, on a flexible mandrel.
    FlexibleMandrel,
    /// Type C, without a mandrel.
    NoMandrel,
}

/// The bore limits of one nominal size made in one way.
#[derive(Clone, Debug, PartialEq)]
pub struct BoreRow {
    /// Nominal bore.
    pub nominal: Length,
    /// How the hose is made.
    pub making: Making,
    /// The smallest bore allowed.
    pub least: Length,
    /// The greatest bore allowed.
    pub greatest: Length,
    /// Where the limits come from.
    pub source: Source,
}

/// The widest limits over all ways of making, for the nominal size nearest to this one.
///
/// Nobody at the car knows how a hose was made, so every way counts. Nothing is read between the rows: a standard
/// gives limits for its own sizes only.
pub(crate) fn limits(rows: &[BoreRow], nominal: Length) -> Option<Sourced<Window<Length>>> {
    let distance = |row: &BoreRow| (row.nominal - nominal).abs();
    let nearest = rows.iter().min_by(|a, b| distance(a).total_cmp(&distance(b)))?;
    let same = distance(nearest) <= SAME_SIZE + ROUNDING;
    let of_this_size = rows.iter().filter(|row| row.nominal == nearest.nominal);
    let (least, greatest) = of_this_size.fold((nearest.least, nearest.greatest), |(least, greatest), row| {
        (least.min(row.least), greatest.max(row.greatest))
    });
    let window = Window::new(least, greatest).filter(|_| same)?;
    Some(Sourced::new(window, nearest.source.clone()))
}
