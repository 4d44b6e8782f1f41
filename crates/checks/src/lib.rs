//! Whether a hose that lies so will do: one file per check, its limits with their sources at the top.
//!
//! A check takes what is [`Laid`] and gives [`Finding`]s: what was measured, what is allowed, the verdict, where along
//! the hose, and the source. A hose that does not do is a finding, not an error. A check that lacks its input, or is
//! not built yet, is a finding too: "not checked", with what it needs.
//!
//! What depends on the lie is first taken as a plain [`Reading`] (a number and its limits), so that the search for the
//! lengths that work can ask thousands of times without wording anything.
//!
//! What it does not do: it searches nothing and keeps no books. Which hose, which length, which order is for `job`.
//!
//! ```
//! use quantity::{Length, Pressure};
//! let stock = stock::Stock::built_in();
//! let hose = stock.hoses.iter().find(|hose| hose.bore == Length::mm(16.0) && hose.wall() == Length::mm(4.0)).expect("sold");
//! // Brazier's radius by hand: 1.837 · 10²/4. And what 110 kPa push a cap off a 16 mm stub with.
//! assert!((checks::brazier_radius(hose) - 45.93).abs() < 0.01);
//! assert!((checks::push_off(Pressure::kpa(110.0), Length::mm(16.0)) - 22.1).abs() < 0.1);
//! ```

mod advice;
mod air;
mod assembly;
mod clamp;
mod collapse;
mod finding;
mod fit;
mod flow;
mod gap;
pub mod heat;
mod hold;
mod how;
mod kink;
mod laid;
mod limits;
mod load;
mod pressure;
mod reading;
mod rock;
mod sag;
mod snap;
mod standoff;

pub use advice::{Advice, advice};
pub use assembly::must_bow;
pub use clamp::{ClampChoice, clamps_for, clamps_for_ends};
pub use collapse::collapse_pressure;
pub use finding::{Check, Finding, Unit, Verdict};
pub use fit::SEAT_ONE as SEAT_FOR_ONE_BAND;
pub use flow::Replaced;
pub use heat::balance::Cover;
pub use heat::{SURFACES, bound as skin_bound, skin_along, too_near};
pub use hold::{grip_alone, grip_pressure, push_off};
pub use how::{How, Worth};
pub use kink::{KinkLimit, brazier_radius};
pub use laid::{Bead, Conditions, ElbowBelow, Form, Kind, Laid, MadeOf, MountedOn, Neighbour, Side, Spigot};
pub use limits::{Limit, limits};
pub use reading::{Bound, Reading, Sense};
pub use rock::{
    Pose, Rock, Turn, jumps_when_rocked, lost_when_rocked, no_rock, reach, rock_finding, rocked, rocked_readings,
};
pub use snap::{LEANT_ON, snap_finding};
pub use standoff::{skin_gap, standoff_bound};

use quantity::Length;

/// What changes with the length of the hose and may fail or warn: the readings that bound the lengths that work.
///
/// `bowed` is the lie while the second end is put on, if it has to be bowed in; see [`must_bow`].
pub fn readings(laid: &Laid<'_>, bowed: Option<&shape::Lie>, out: &mut Vec<Reading>) {
    out.clear();
    let near = standoff::near_all(laid);
    kink::read(laid, out);
    standoff::read(laid, &near, out);
    heat::read(laid, &near, false, out);
    heat::read_above(laid, &near, out);
    sag::read(laid, out);
    air::read(laid, out);
    load::read(laid, out);
    assembly::read(laid, bowed, out);
}

/// Every finding about a hose that lies so, in a fixed order.
#[must_use]
pub fn all(laid: &Laid<'_>, bowed: Option<&shape::Lie>) -> Vec<Finding> {
    let mut found = Vec::new();
    fit::find(laid, &mut found);
    clamp::find(laid, &mut found);
    assembly::find(laid, bowed, &mut found);
    kink::find(laid, &mut found);
    let near = standoff::near_all(laid);
    standoff::find(laid, &near, &mut found);
    heat::find(laid, &near, &mut found);
    sag::find(laid, &mut found);
    air::find(laid, &mut found);
    load::find(laid, &mut found);
    pressure::find(laid, &mut found);
    collapse::find(laid, &mut found);
    hold::find(laid, &mut found);
    flow::find(laid, &mut found);
    found
}

/// Only whether bend, distance and heat pass: what is asked of thousands of lies, each a little off. `too_hot` is what
/// [`too_near`] found for this hose.
#[must_use]
pub fn passes(laid: &Laid<'_>, too_hot: &[Option<f64>]) -> bool {
    let peak = laid.lie.peak();
    let bend = KinkLimit::of(laid.hose).reading(Check::Kink, 0, peak.curvature, peak.at);
    bend.to_fail() >= 0.0 && standoff::keeps_clear(laid, too_hot)
}

/// Findings about hose and spigots alone, the same for every length: those that can rule a hose out before it is laid.
#[must_use]
pub fn before_it_lies(
    from: &Spigot,
    to: &Spigot,
    hose: &stock::Hose,
    bore: Option<quantity::Window<Length>>,
) -> Vec<Finding> {
    let mut found = Vec::new();
    for spigot in [from, to] {
        fit::on_spigot(spigot, hose, bore, &mut found);
    }
    found
}
