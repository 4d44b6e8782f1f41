//! How much pressure each thing on the way costs: straight bore, bend, step in bore, flattened place.
//!
//! Loss = (f L/d + ΣK) ρ v²/2, with Darcy's f.
//!
//! - f: Churchill, Chem. Eng. 84 (24) (1977) 91, laminar to rough turbulent in one formula. Within 3.1 % of Colebrook's
//!   from Reynolds number 4000 on, within 0.14 % of 64/Re up to 2000 (0.1 % up to 1980). Between, flow itself is not settled.
//! - Bends: Rennels and Hudson, Pipe Flow (2012), chapter 15, smooth round bend, turbulent. The friction along the arc is
//!   in it: it must not be counted as straight length again. Within 17 % of Ito's (J. Basic Eng. 82, 1960, 131) from a
//!   radius of 1.5 bores on; at one bore 15 % high to, in a half turn, 34 % low.
//! - Steps in bore: sudden contraction ½(1-β²) and, by Borda and Carnot, sudden expansion (1-β²)², both on the velocity in
//!   the narrower bore; handbook formulas. Rennels gives from 0.01 less to 0.12 more for a sharp
//!   contraction.
//! - Flattened bore: our own, from the laws above; see [`flattened_loss`].

use crate::Fluid;
use core::f64::consts::PI;
use quantity::{Angle, Length};

/// Tightest bend of Rennels' formula: centre-line radius over bore.
const TIGHTEST: f64 = 0.5;

/// Reynolds number at a mean velocity in m/s.
#[must_use]
pub fn reynolds(velocity: f64, bore: Length, fluid: &Fluid) -> f64 {
    // kg/m³ · m/s · mm / (mPa·s): the two thousandths cancel.
    fluid.density * velocity * bore.as_mm() / fluid.viscosity
}

fn to_16th(x: f64) -> f64 {
    let square = x * x;
    let fourth = square * square;
    let eighth = fourth * fourth;
    eighth * eighth
}

/// Darcy's friction factor by Churchill, for a Reynolds number above zero and a roughness over bore of 0 to 0.05.
///
/// Published; errors at the head of this file. Rubber counts as smooth (common practice).
#[must_use]
pub fn friction_factor(reynolds: f64, roughness: f64) -> f64 {
    let a = to_16th(-2.457 * libm::log(libm::pow(7.0 / reynolds, 0.9) + 0.27 * roughness));
    let b = to_16th(37_530.0 / reynolds);
    let turbulent = a + b;
    let laminar = 8.0 / reynolds;
    let laminar_4th = laminar * laminar * laminar * laminar;
    let sum = laminar_4th * laminar_4th * laminar_4th + 1.0 / (turbulent * turbulent.sqrt());
    8.0 * libm::cbrt(sum.sqrt().sqrt())
}

/// Loss factor K of one smooth round bend with friction factor `f`, its wall friction included.
///
/// `radius_over_bore` is that of the centre line; below 0.5 it is taken as 0.5. A bend over half a turn is taken as
/// equal parts of at most half a turn, each with its own K: our choice, the formula ends there.
/// K does not add up: one bend cut into slices has a greater sum. Give each turn whole, its mean radius as arc over angle.
#[must_use]
pub fn bend_loss(f: f64, angle: Angle, radius_over_bore: f64) -> f64 {
    let whole = angle.as_radians().abs();
    let parts = (whole / PI - 1e-9).ceil().max(1.0);
    let a = whole / parts;
    let r = radius_over_bore.max(TIGHTEST);
    let s = libm::sin(a / 2.0);
    let k = f * a * r + (0.10 + 2.4 * f) * s + 6.6 * f * (s.sqrt() + s) / libm::pow(r, 4.0 * a / PI);
    parts * k
}

/// K of a sudden contraction to `beta` of the bore, on the velocity in the narrower.
#[must_use]
pub fn contraction_loss(beta: f64) -> f64 {
    0.5 * (1.0 - beta * beta)
}

/// K of a sudden expansion from `beta` of the bore, on the velocity in the narrower.
#[must_use]
pub fn expansion_loss(beta: f64) -> f64 {
    let left = 1.0 - beta * beta;
    left * left
}

/// What a flattened place adds to a hose with friction factor `f`: K on the velocity in the round bore.
///
/// Of the area `area_left` (above 0, to 1) is left over a length of `bores` times the bore. Our choice, both parts on the
/// safe side: the walls keep their perimeter, as a reinforced hose does, so that velocity and hydraulic diameter give
/// friction 1/area³ (plain rubber in a finite-element study: about 1/area^2.6); and its ends are as sudden as a step in bore.
#[must_use]
pub fn flattened_loss(f: f64, area_left: f64, bores: f64) -> f64 {
    let lost = 1.0 - area_left;
    let ends = (0.5 * lost + lost * lost) / (area_left * area_left);
    let walls = f * bores * (1.0 / (area_left * area_left * area_left) - 1.0);
    ends + walls
}
