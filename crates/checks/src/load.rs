//! Load: what the hose does to each spigot by being bent and by hanging on it.

use crate::limits::{Limit, our_choice};
use crate::{Bound, Check, Finding, Laid, MadeOf, Reading, Sense, Unit, Verdict};
use quantity::Source;

/// On plastic, or on the thin pipe of a heater core: force in N and moment in N·m above which it warns.
const FORCE: f64 = 20.0;
const MOMENT: f64 = 1.0;
pub(crate) const CHOICE: Source =
    our_choice("20 N or 1 N·m on plastic or a thin core pipe; the stiffness of the hose is only roughly known");

/// Force (N) and moment (N·m) on end `which`, and whether the limits hold there: steel and castings bear more.
fn at_end(laid: &Laid<'_>, which: usize) -> [Reading; 2] {
    let (lie, made_of) = (laid.lie, laid.spigots()[which].made_of);
    let (force, moment, at) = match which {
        0 => (lie.force_at_a(), lie.moment_at_a(), 0.0),
        _ => (lie.force_at_b(), lie.moment_at_b(), lie.length()),
    };
    let weak = made_of.is_none_or(MadeOf::is_weak);
    let reading = |actual: f64, limit: f64| {
        let bound = Bound { warn: weak.then_some(limit), fail: None, sense: Sense::AtMost };
        Reading { check: Check::Load, which, actual, at, bound }
    };
    [reading(force.norm(), FORCE), reading(moment.norm() / 1000.0, MOMENT)]
}

/// The unit of a reading that can warn.
pub(crate) fn unit(reading: &Reading) -> Unit {
    let is_force = reading.bound.warn.is_none_or(|limit| limit >= FORCE);
    if is_force { Unit::Newton } else { Unit::NewtonMetre }
}

pub(crate) fn read(laid: &Laid<'_>, out: &mut Vec<Reading>) {
    out.extend(at_end(laid, 0));
    out.extend(at_end(laid, 1));
}

pub(crate) fn find(laid: &Laid<'_>, out: &mut Vec<Finding>) {
    for (which, spigot) in laid.spigots().into_iter().enumerate() {
        for (reading, unit) in at_end(laid, which).into_iter().zip([Unit::Newton, Unit::NewtonMetre]) {
            let why = match (reading.verdict(), spigot.made_of) {
                (Verdict::Warn, None) => "strains the spigot, if it is plastic or a thin pipe",
                (Verdict::Warn, Some(_)) => "strains a weak spigot",
                _ => "does not strain the spigot",
            };
            out.push(reading.worded(&spigot.name, unit, why, CHOICE));
        }
    }
}

pub(crate) fn limits() -> Vec<Limit> {
    vec![
        Limit::new("force on a weak spigot: warns above", FORCE, "N", CHOICE),
        Limit::new("moment on a weak spigot: warns above", MOMENT, "N·m", CHOICE),
    ]
}
