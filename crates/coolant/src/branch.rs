//! How the flow changes when a hose of a branch is changed and the pressure across the branch stays.
//!
//! Our own model: the hoses that change, in a row with the rest of the branch (a heater core, a tap), of which one
//! pressure drop at one flow is known or supposed. That the pressure stays holds for a heater beside a running engine,
//! where the heater takes a small part of the pump's flow; for a main hose the flow changes less than told.

use crate::root::zero_between;
use crate::{Fluid, Run};

/// The rest of a branch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rest {
    /// Its pressure drop, Pa.
    pub drop_pa: f64,
    /// The flow at which it has that, litres per minute.
    pub at: f64,
    /// The drop grows as the flow to this power: 2 for fittings and taps, 1.75 for smooth tubes (Blasius), 1 if laminar.
    pub exponent: f64,
}

/// How closely the ratio of flows is solved for.
const WITHIN: f64 = 1e-9;
/// Flow ratios that are told: a run that costs so little that more would flow has no meaning here.
const MOST: f64 = 1000.0;

/// Flow after over flow before, if `before` is replaced by `after` and the pressure across the branch stays.
///
/// `flow`: litres per minute before. `None` if that is not above zero, or if nothing holds the flow back afterwards.
#[must_use]
pub fn flow_after(before: &[Run<'_>], after: &[Run<'_>], rest: &Rest, flow: f64, fluid: &Fluid) -> Option<f64> {
    if !(flow > 0.0 && flow.is_finite()) {
        return None;
    }
    let drop = |runs: &[Run<'_>], ratio: f64| {
        let lost: f64 = runs.iter().map(|run| run.loss(ratio * flow, fluid).total_pa()).sum();
        lost + rest.drop_pa * libm::pow(ratio * flow / rest.at, rest.exponent)
    };
    let kept = drop(before, 1.0);
    let excess = |ratio: f64| drop(after, ratio) - kept;
    // Every loss grows with the flow, so the answer lies on the side of one where the excess changes sign.
    if excess(1.0) >= 0.0 {
        return zero_between(excess, 0.0, 1.0, WITHIN);
    }
    let mut over = 2.0;
    while excess(over) < 0.0 {
        over *= 2.0;
        if over > MOST {
            return None;
        }
    }
    zero_between(excess, over / 2.0, over, WITHIN)
}
