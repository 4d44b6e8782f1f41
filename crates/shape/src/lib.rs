//! The lie of a hose: the shape in which a hose of given length comes to rest between two spigots.
//!
//! The hose is an inextensible rod, straight at rest, equally stiff against bending every way, clamped at both ends,
//! free of twist (the fitter lets it turn before the clamps close) and under its filled weight. Only the direction of
//! its centre line matters, a unit tangent t(s); of all curves that close, the hose takes one that no small change
//! lowers in potential:
//!
//! ```text
//! minimise  ∫ EI/2 |t'|² ds - ∫ w(L-s)·t ds    subject to  ∫ t ds = B - A,  t(0) = tA,  t(L) = tB
//! ```
//!
//! Read on in [`chain`](../src/shape/chain.rs.html) for the equations as they are solved, `newton` for how a start
//! becomes a lie, `start` and `solver` for the starts, `lie` for what is read off; in `contact`, `form` and `against` for
//! a hose that rests against solids. Any consistent set of units will do.
//!
//! A run may pass clips and holes in which it slides ([`Solver::rest_guided`]: `newton/sliding.rs` for the equations,
//! `chain/response.rs` for what a piece between two of them answers). [`Path`] is a shape as it is read off a bent wire, in legs
//! and bends; [`Solver::clips_for`] finds the clips that hold a hose to it.
//!
//! What it does not know: shear and stretch (about 1 mm, and the tightest bend told 2 to 7 % too tight: the safe
//! side), twist locked in by a careless fitting, fabric, a set from the roll, moulded bends; the width of a clip and the
//! friction in it.
//!
//! ```
//! use shape::{Ends, Section, Vec3, rest};
//! // A right-angled corner, 150 mm each way, with exactly a quarter circle of hose: an arc of radius 150.
//! let ends = Ends {
//!     a: Vec3::ZERO,
//!     tangent_a: Vec3::new(1.0, 0.0, 0.0),
//!     b: Vec3::new(150.0, 150.0, 0.0),
//!     tangent_b: Vec3::new(0.0, 1.0, 0.0),
//! };
//! let lie = rest(&ends, 75.0 * std::f64::consts::PI, &Section { stiffness: 58_000.0, weight: Vec3::ZERO })?;
//! assert!((1.0 / lie.peak().curvature - 150.0).abs() < 0.01);
//! # Ok::<(), shape::NoShape>(())
//! ```

mod against;
mod chain;
mod clips;
mod contact;
mod ends;
mod form;
mod legs;
mod lie;
mod newton;
mod push;
mod solid;
mod solver;
mod start;
mod vec3;

pub use against::{Contact, Touching};
pub use clips::{Clips, NoClips};
pub use ends::{Ends, NoShape, Section};
pub use legs::{Arc, Bend, Leg, NoPath, Path, Way};
pub use lie::{Held, Lie, Peak};
pub use solid::Solid;
pub use solver::{FINEST, Guide, INTERVALS, Solver};
pub use vec3::Vec3;

/// The lie found from the standard start: a smooth curve of the right length, bowed a little to one side.
///
/// If several lies exist it need not be the one of lowest energy; see [`lies`].
///
/// # Errors
/// [`NoShape`] in words: too short to reach, too tight, bad input, not found. Never a best try passed off as an
/// answer: what comes back is closed, at rest and shown to be stable.
pub fn rest(ends: &Ends, length: f64, section: &Section) -> Result<Lie, NoShape> {
    Solver::new().rest(ends, length, section)
}

/// The distinct lies found from eight starts (bows about the chord), lowest total energy first. They are what a search
/// found, not a proof that there are no more: `tests` tells how many it misses.
///
/// # Errors
/// As [`rest`], when no start led to a lie.
pub fn lies(ends: &Ends, length: f64, section: &Section) -> Result<Vec<Lie>, NoShape> {
    Solver::new().lies(ends, length, section)
}

/// The lie on a mesh of exactly `n` intervals (a multiple of 4), not refined: for studies of convergence.
///
/// # Errors
/// As [`rest`]; a mesh that cannot be used is bad input.
pub fn rest_on_mesh(ends: &Ends, length: f64, section: &Section, n: usize) -> Result<Lie, NoShape> {
    Solver::new().rest_on_mesh(ends, length, section, n)
}
