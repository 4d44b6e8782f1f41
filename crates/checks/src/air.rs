//! Air trap: a crest above both ends, or above the filler, holds air when the system is filled.

use crate::limits::{Limit, our_choice};
use crate::sag::{OF_BORE, lowest};
use crate::{Bound, Check, Finding, Laid, Reading, Sense, Unit, Verdict};
use quantity::Source;
use shape::Vec3;

const CHOICE: Source = our_choice("half a bore of crest is let pass; a crest above the filler never fills by itself");

/// Up while the car is filled: level, or with its nose raised on stands.
fn up(laid: &Laid<'_>) -> Vec3 {
    let angle = laid.conditions.nose_up.as_radians();
    Vec3::new(libm::sin(angle), 0.0, libm::cos(angle))
}

fn crest(laid: &Laid<'_>) -> Reading {
    let up = up(laid);
    let (at, lowest) = lowest(laid, |p| -p.dot(up));
    let ends = laid.from.mouth.dot(up).max(laid.to.mouth.dot(up));
    let bound = Bound { warn: Some(OF_BORE * laid.hose.bore.as_mm()), fail: None, sense: Sense::AtMost };
    Reading { check: Check::AirTrap, which: 0, actual: (-lowest - ends).max(0.0), at, bound }
}

/// Top of the bore at its highest place above the filler, where its height is known; level ground.
fn above_filler(laid: &Laid<'_>) -> Option<Reading> {
    let filler = laid.conditions.filler_z?;
    let (at, lowest) = lowest(laid, |p| -p.z);
    let top = -lowest + laid.hose.bore.as_mm() / 2.0;
    let bound = Bound { warn: Some(0.0), fail: None, sense: Sense::AtMost };
    Some(Reading { check: Check::AirTrap, which: 1, actual: top - filler, at, bound })
}

pub(crate) fn read(laid: &Laid<'_>, out: &mut Vec<Reading>) {
    out.push(crest(laid));
    out.extend(above_filler(laid));
}

pub(crate) fn find(laid: &Laid<'_>, out: &mut Vec<Finding>) {
    let crest = crest(laid);
    let traps = crest.verdict() == Verdict::Warn;
    let why = if traps { "crests above both ends and traps air: fill or bleed it there" } else { "lets its air out" };
    out.push(crest.worded("", Unit::Millimetre, why, CHOICE));
    if let Some(reading) = above_filler(laid) {
        let above = reading.verdict() == Verdict::Warn;
        let why = if above { "stands above the filler: it does not fill by itself" } else { "lies below the filler" };
        out.push(reading.worded("filler", Unit::Millimetre, why, CHOICE));
    }
}

pub(crate) fn limits() -> Vec<Limit> {
    vec![Limit::new("crest above both ends, part of the bore: warns above", OF_BORE, "", CHOICE)]
}
