//! Sag: a pocket below both ends that does not drain, and how far the hose goes without a support.

use crate::limits::{Limit, our_choice};
use crate::{Bound, Check, Finding, Laid, Reading, Sense, Unit, Verdict};
use quantity::{Basis, Source};
use shape::Vec3;

/// A pocket (or crest) up to this part of the bore is level enough.
pub(crate) const OF_BORE: f64 = 0.5;
/// Without a clip over more than this, mm, a hose is unsupported.
const SUPPORT: f64 = 610.0;
const SUPPORT_SOURCE: Source =
    Source::new("AC 43.13-1B, 9-30, p. 9-20: supports at least every 24 in", Basis::Published);

/// Up, for the car standing level.
pub(crate) const UP: Vec3 = Vec3::new(0.0, 0.0, 1.0);

/// How far the hose goes below the lower of its ends: `(along the hose, mm)`.
fn pocket(laid: &Laid<'_>) -> (f64, f64) {
    let (at, lowest) = lowest(laid, |p| p.dot(UP));
    (at, laid.from.mouth.z.min(laid.to.mouth.z) - lowest)
}

/// Where `height` of the centre line is least, and that height.
pub(crate) fn lowest(laid: &Laid<'_>, height: impl Fn(Vec3) -> f64) -> (f64, f64) {
    let points = laid.lie.points();
    let h = laid.lie.length() / (points.len() - 1) as f64;
    let mut least = (0, f64::INFINITY);
    for (i, p) in points.iter().enumerate() {
        let z = height(*p);
        if z < least.1 {
            least = (i, z);
        }
    }
    let middle = least.0 as f64 * h;
    crate::gap::least_between(
        |s| height(laid.lie.point_at(s)),
        (middle - h).max(0.0),
        (middle + h).min(laid.lie.length()),
    )
}

fn sag(laid: &Laid<'_>) -> Reading {
    let (at, depth) = pocket(laid);
    let bound = Bound { warn: Some(OF_BORE * laid.hose.bore.as_mm()), fail: None, sense: Sense::AtMost };
    Reading { check: Check::Sag, which: 0, actual: depth.max(0.0), at, bound }
}

/// The longest stretch without a clip: `(its middle, its length)`.
fn support(laid: &Laid<'_>) -> Reading {
    let stops = laid.lie.held().iter().map(|held| held.at).chain([laid.lie.length()]);
    let longest = stops.fold(((0.0, 0.0), 0.0), |(most, from), to| {
        let stretch = (0.5 * (from + to), to - from);
        (if stretch.1 > most.1 { stretch } else { most }, to)
    });
    let (at, length) = longest.0;
    let bound = Bound { warn: Some(SUPPORT), fail: None, sense: Sense::AtMost };
    Reading { check: Check::Support, which: 0, actual: length, at, bound }
}

pub(crate) fn read(laid: &Laid<'_>, out: &mut Vec<Reading>) {
    out.push(sag(laid));
    out.push(support(laid));
}

pub(crate) fn find(laid: &Laid<'_>, out: &mut Vec<Finding>) {
    let sag = sag(laid);
    let hangs = sag.verdict() == Verdict::Warn;
    let why = if hangs { "hangs below both ends: it does not drain there" } else { "drains" };
    out.push(sag.worded("", Unit::Millimetre, why, our_choice("half a bore of pocket or crest is let pass")));
    let support = support(laid);
    let long = support.verdict() == Verdict::Warn;
    let why = if long {
        "goes too far without a clip: it will sag and rub"
    } else {
        if laid.lie.held().is_empty() { "needs no clip between its ends" } else { "is held often enough" }
    };
    out.push(support.worded("", Unit::Millimetre, why, SUPPORT_SOURCE));
}

pub(crate) fn limits() -> Vec<Limit> {
    vec![
        Limit::new("pocket below both ends, part of the bore: warns above", OF_BORE, "", our_choice("half a bore")),
        Limit::new("length without a support: warns above", SUPPORT, "mm", SUPPORT_SOURCE),
    ]
}
