//! Collapse: whether the pump can suck the hose flat on its inlet side.
//!
//! A ring of rubber buckles under an outside pressure of E t³ / (4 (1 - ν²) r³) (Timoshenko & Gere, Theory of Elastic
//! Stability, section 7.3, from memory); for rubber (ν = 1/2) E t³ / (3 r³), r to the middle of the wall. Yarn stiffens the
//! ring little.

use crate::limits::Limit;
use crate::{Bound, Check, Finding, Laid, Reading, Sense, Side, Unit, Verdict};
use quantity::{Basis, Pressure, Source};
use stock::{Hose, hose_modulus};

/// What a pump sucks at most on a cold engine, kPa: 20 to 30 as a hard case. Our choice.
const SUCTION: f64 = 20.0;
/// Of the pressure that collapses a round ring so much is allowed: a bent hose is no longer round. Our choice.
const PART: f64 = 1.0 / 3.0;

const MODEL: Source = Source::new(
    "ring buckling (Timoshenko & Gere); 20 kPa of suction and a third of the collapse pressure are our choice. The trade is \
     split: some insist on a coil in a suction hose, some look for a blocked radiator, a bad cap or an old hose first",
    Basis::OurChoice,
);

/// Outside pressure at which the wall of a plain rubber hose buckles flat.
#[must_use]
pub fn collapse_pressure(hose: &Hose) -> Pressure {
    let slender = hose.wall() / hose.mean_radius();
    Pressure::kpa(1e3 * hose_modulus().value.as_mpa() * slender * slender * slender / 3.0)
}

pub(crate) fn find(laid: &Laid<'_>, out: &mut Vec<Finding>) {
    let bears = collapse_pressure(laid.hose).as_kpa() * PART;
    let bound = Bound { warn: Some(bears), fail: None, sense: Sense::AtMost };
    let reading = Reading { check: Check::Collapse, which: 0, actual: SUCTION, at: 0.0, bound };
    let why = match (laid.side, reading.verdict()) {
        (Some(Side::Other), _) => return,
        (None, Verdict::Warn) if !laid.hose.wire_supported => {
            out.push(Finding::not_checked(Check::Collapse, "needs whether it leads to the inlet of the pump"));
            return;
        }
        (None, _) => return,
        (Some(Side::PumpInlet), _) if laid.hose.wire_supported => {
            let why = "the wire in its wall holds it open";
            out.push(Finding { verdict: Verdict::Pass, source: MODEL, ..Finding::not_checked(Check::Collapse, why) });
            return;
        }
        (Some(Side::PumpInlet), Verdict::Warn) => {
            "the pump may suck it flat: take a wire-supported hose, or a thicker wall"
        }
        (Some(Side::PumpInlet), _) => "its wall stands the suction of the pump",
    };
    let mut finding = reading.worded("", Unit::Kilopascal, why, MODEL);
    finding.at = None;
    finding.extra.push(("collapses_at_kpa", bears / PART));
    out.push(finding);
}

pub(crate) fn limits() -> Vec<Limit> {
    vec![
        Limit::new("suction of the pump", SUCTION, "kPa", MODEL),
        Limit::new("collapse: warns above this part of the collapse pressure", PART, "", MODEL),
    ]
}
