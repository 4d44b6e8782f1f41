//! Hold: what pushes the hose off its spigot, and whether clamp, bead and seat hold it.
//!
//! The force is p π d²/4. What the rubber alone grips with is shown and decides nothing: friction of rubber on metal is
//! anything from 0.1 to 0.6. Any worm drive clamp grips many times the force, behind a bead or on a seat that is long enough.

use crate::limits::Limit;
use crate::{Bead, Check, Finding, Laid, Spigot, Unit, Verdict, clamps_for, fit};
use core::f64::consts::PI;
use quantity::{Basis, Pressure, Source};
use std::borrow::Cow;
use stock::{Hose, hose_modulus};

/// Friction of rubber on a spigot: 0.1 to 0.6, from memory.
const FRICTION: f64 = 0.3;

const CHECKLIST: Source = Source::new(
    "33 CFR 183.560: a clamp, beyond a bead or flare; the force is pressure times the area of the spigot",
    Basis::Published,
);

/// Pressure of the stretched rubber on a spigot, of a hose gripped so that it keeps its length: Rivlin's incompressible
/// neo-Hookean tube (Phil. Trans. R. Soc. A 242 (1949) 173, from memory), G = E/3. Nothing on a spigot that is thinner.
///
/// ```
/// let stock = stock::Stock::built_in();
/// let hose = stock.hoses.iter().find(|hose| hose.bore.as_mm() == 16.0).unwrap();
/// // 16/24 hose stretched by 10 %: 0.140 MPa by a finite-element program with the same rubber.
/// let on = checks::grip_pressure(hose, quantity::Length::mm(17.6));
/// assert!((on.as_kpa() - 139.8).abs() < 0.2, "{on:?}");
/// ```
#[must_use]
pub fn grip_pressure(hose: &Hose, spigot: quantity::Length) -> Pressure {
    let (a, b) = (hose.bore.as_mm() / 2.0, hose.outside.as_mm() / 2.0);
    let on = spigot.as_mm() / 2.0;
    if on <= a {
        return Pressure::ZERO;
    }
    let outside = (on * on + b * b - a * a).sqrt();
    let square = |x: f64| x * x;
    let shear = hose_modulus().value.as_mpa() / 3.0;
    let bent = libm::log(b / a) - libm::log(outside / on);
    let stretched = 0.5 * (square(on) - square(a)) * (1.0 / square(on) - 1.0 / square(outside));
    Pressure::kpa(1e3 * shear * (bent + stretched))
}

/// Force of this pressure that pushes a hose off a spigot, N.
#[must_use]
pub fn push_off(pressure: Pressure, spigot: quantity::Length) -> f64 {
    1e-3 * pressure.as_kpa() * PI / 4.0 * spigot.as_mm() * spigot.as_mm()
}

/// What the rubber grips with by itself, N, at this friction. Weak.
#[must_use]
pub fn grip_alone(hose: &Hose, spigot: &Spigot, friction: f64) -> f64 {
    1e-3 * friction * grip_pressure(hose, spigot.diameter).as_kpa() * PI * spigot.diameter.as_mm() * spigot.seat.as_mm()
}

pub(crate) fn find(laid: &Laid<'_>, out: &mut Vec<Finding>) {
    for spigot in laid.spigots() {
        let force = laid.conditions.cap.map(|cap| push_off(cap, spigot.diameter));
        let short = spigot.seat.as_mm() < fit::SEAT_ONE;
        let clamped = !clamps_for(spigot, laid.hose, laid.stock).is_empty();
        let (verdict, why) = match (clamped, spigot.bead) {
            (false, _) => (Verdict::Fail, "no clamp of a standard size holds it"),
            (true, Bead::Plain) if short => {
                (Verdict::Fail, "no bead, and too short a seat for a clamp: nothing keeps it from being pushed off")
            }
            (true, Bead::Plain) => (Verdict::Pass, "no bead: the clamp alone holds it against the pressure"),
            (true, Bead::Of(_)) => (Verdict::Pass, "a clamp behind the bead holds it against the pressure"),
            (true, Bead::NotKnown) if short => {
                (Verdict::NotChecked, "needs whether it has a bead: the seat is too short to hold without one")
            }
            (true, Bead::NotKnown) => (Verdict::Pass, "a clamp holds it against the pressure; best behind a bead"),
        };
        let (verdict, why) = match (force, verdict) {
            (None, Verdict::Pass) => (Verdict::NotChecked, "needs the pressure printed on the cap"),
            _ => (verdict, why),
        };
        out.push(Finding {
            verdict,
            about: spigot.name.clone(),
            actual: force,
            unit: Unit::Newton,
            why: Cow::Borrowed(why),
            source: if verdict == Verdict::NotChecked { crate::limits::NONE } else { CHECKLIST },
            extra: vec![("grips_alone_n", grip_alone(laid.hose, spigot, FRICTION))],
            ..Finding::not_checked(Check::Hold, "")
        });
    }
}

pub(crate) fn limits() -> Vec<Limit> {
    let source = Source::new("rubber on metal, 0.1 to 0.6; decides nothing", Basis::FromMemory);
    vec![Limit::new("friction of rubber on a spigot", FRICTION, "", source)]
}
