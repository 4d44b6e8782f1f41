//! Curves of bent rods that have a formula: the plane elastica in both kinds, the arc and the helix.
//!
//! Signs: n is the force which the part beyond s exerts on the part before it, so spigot B pulls with n and spigot A with
//! -n; likewise the moment, m = EI t × t'. Without weight n is constant and m' = -t × n. In a plane, with θ the angle of
//! the tangent from the x axis and n = (-P, 0), that is
//!
//! ```text
//! EI θ'' = -P sin θ            (λ² = P/EI)
//! ```
//!
//! the equation of the pendulum. Source of the method: A. E. H. Love, A Treatise on the Mathematical Theory of Elasticity,
//! 4th edition 1927, articles 262 and 263 (from memory); every formula below is derived where it stands.

use crate::elliptic::{Jacobi, e_to, k};
use crate::referee::Referee;
use shape::{Ends, Section, Vec3};

/// Length of the hose in all closed forms, mm, and its stiffness, N·mm²: any would do.
pub(crate) const LENGTH: f64 = 360.0;
pub(crate) const STIFFNESS: f64 = 48_000.0;

/// Steps of arc length at which the curves are told: fine enough to integrate along them.
const STEPS: usize = 320;

/// What a formula says at one s: place and tangent.
type Station = (Vec3, Vec3);

/// A curve given by its formula, at home in its own axes.
struct Curve {
    stations: Vec<Station>,
    peak: f64,
    energy: f64,
    /// n, and m at A and at B.
    force: Vec3,
    moments: [Vec3; 2],
}

impl Curve {
    fn from(at: impl Fn(f64) -> Station, peak: f64, energy: f64, force: Vec3, moments: [Vec3; 2]) -> Self {
        let stations = (0..=STEPS).map(|i| at(LENGTH * i as f64 / STEPS as f64)).collect();
        Self { stations, peak, energy, force, moments }
    }

    /// Moves the curve to a place oblique to all axes, so that no symmetry of the axes helps the solver.
    fn referee(self, name: String) -> Referee {
        let z = Vec3::new(2.0, -3.0, 6.0) * (1.0 / 7.0);
        let x = Vec3::new(6.0, -2.0, -3.0) * (1.0 / 7.0);
        let y = z.cross(x);
        let turn = |v: Vec3| x * v.x + y * v.y + z * v.z;
        let place = |v: Vec3| Vec3::new(120.0, -45.0, 310.0) + turn(v);
        let [(a, tangent_a), (b, tangent_b)] = [self.stations[0], self.stations[STEPS]];
        Referee {
            name,
            ends: Ends { a: place(a), tangent_a: turn(tangent_a), b: place(b), tangent_b: turn(tangent_b) },
            length: LENGTH,
            section: Section { stiffness: STIFFNESS, weight: Vec3::new(0.0, 0.0, 0.0) },
            line: self.stations.iter().map(|&(at, _)| place(at)).collect(),
            tangents: self.stations.iter().map(|&(_, tangent)| turn(tangent)).collect(),
            peak: self.peak,
            energy: self.energy,
            forces: [turn(-self.force), turn(self.force)],
            moments: [turn(-self.moments[0]), turn(self.moments[1])],
            neutral: false,
        }
    }
}

fn about_z(moment: f64) -> Vec3 {
    Vec3::new(0.0, 0.0, moment)
}

/// True if a whole multiple of `period` lies between `from` and `to`: there |cn| (or dn) is 1.
fn has_crest(from: f64, to: f64, period: f64) -> bool {
    (to / period).floor() >= (from / period).ceil()
}

/// The inflectional elastica with modulus k between the arguments `from` and `to` (in units of K).
///
/// A pendulum that swings: sin(θ/2) = k sn u with u = u₀ + λs. Then cos θ = 1 - 2k² sn² u = 2 dn² u - 1 and
/// sin θ = 2k sn u dn u, so
/// ```text
/// κ = θ' = 2kλ cn u,     x = (2/λ) E(am u) - s,     y = -(2k/λ) cn u,     P = EI λ²
/// energy = (EI/2) ∫ κ² ds = 2 EI λ [E(am u) - (1 - k²) u]      since k² cn² = dn² - (1 - k²) and ∫ dn² du = E(am u)
/// ```
pub(crate) fn inflectional(modulus: f64, from: f64, to: f64) -> Referee {
    let m = modulus * modulus;
    let (u0, u1) = (from * k(m), to * k(m));
    let lambda = (u1 - u0) / LENGTH;
    let curvature = |u: f64| 2.0 * modulus * lambda * Jacobi::at(u, m).cn;
    let at = |s: f64| {
        let j = Jacobi::at(u0 + lambda * s, m);
        let place = Vec3::new(2.0 / lambda * e_to(j.am, m) - s, -2.0 * modulus / lambda * j.cn, 0.0);
        (place, Vec3::new(2.0 * j.dn * j.dn - 1.0, 2.0 * modulus * j.sn * j.dn, 0.0))
    };
    let peak = if has_crest(u0, u1, 2.0 * k(m)) {
        2.0 * modulus * lambda
    } else {
        curvature(u0).abs().max(curvature(u1).abs())
    };
    let swept = e_to(Jacobi::at(u1, m).am, m) - e_to(Jacobi::at(u0, m).am, m);
    let energy = 2.0 * STIFFNESS * lambda * (swept - (1.0 - m) * (u1 - u0));
    let force = Vec3::new(-STIFFNESS * lambda * lambda, 0.0, 0.0);
    let moments = [u0, u1].map(|u| about_z(STIFFNESS * curvature(u)));
    Curve::from(at, peak, energy, force, moments).referee(format!("inflectional k {modulus} from {from} K to {to} K"))
}

/// The elastica without inflection with modulus k between the arguments `from` and `to` (in units of K).
///
/// A pendulum that turns over: θ = 2 am u with u = u₀ + ps. Then cos θ = 1 - 2 sn² u, sin θ = 2 sn u cn u, so
/// ```text
/// κ = θ' = 2p dn u,     x = s - (2/pm) [u - E(am u)],     y = -(2/pm) dn u,     P = EI p² m     (m = k²)
/// energy = (EI/2) ∫ κ² ds = 2 EI p E(am u)      since m ∫ sn² du = u - E(am u) and dn' = -m sn cn
/// ```
pub(crate) fn without_inflection(modulus: f64, from: f64, to: f64) -> Referee {
    let m = modulus * modulus;
    let (u0, u1) = (from * k(m), to * k(m));
    let p = (u1 - u0) / LENGTH;
    let curvature = |u: f64| 2.0 * p * Jacobi::at(u, m).dn;
    let at = |s: f64| {
        let u = u0 + p * s;
        let j = Jacobi::at(u, m);
        let place = Vec3::new(s - 2.0 / (p * m) * (u - e_to(j.am, m)), -2.0 / (p * m) * j.dn, 0.0);
        (place, Vec3::new(1.0 - 2.0 * j.sn * j.sn, 2.0 * j.sn * j.cn, 0.0))
    };
    let peak = if has_crest(u0, u1, 2.0 * k(m)) { 2.0 * p } else { curvature(u0).max(curvature(u1)) };
    let energy = 2.0 * STIFFNESS * p * (e_to(Jacobi::at(u1, m).am, m) - e_to(Jacobi::at(u0, m).am, m));
    let force = Vec3::new(-STIFFNESS * p * p * m, 0.0, 0.0);
    let moments = [u0, u1].map(|u| about_z(STIFFNESS * curvature(u)));
    Curve::from(at, peak, energy, force, moments).referee(format!("no inflection k {modulus} from {from} K to {to} K"))
}

/// The modulus and the first argument (in units of K) of a cantilever that carries P across its clamp at the tip.
///
/// The clamp stands at θ = 90° to the force, sin(θ/2) = 1/√2 = k sn u₀; the tip carries no moment, cn u₁ = 0, u₁ = K.
/// With λL = √(PL²/EI) the modulus solves K - F(asin(1/k√2)) = √load, whose left side grows from 0 at k² = 1/2.
/// Source: K. E. Bisshopp and D. C. Drucker, Large deflection of cantilever beams, Quart. Appl. Math. 3, 1945, 272-275
/// (page numbers from memory).
pub(crate) fn cantilever_modulus(load: f64) -> (f64, f64) {
    use crate::elliptic::f;
    let first = |m: f64| f(libm::asin((0.5 / m).sqrt().min(1.0)), m);
    let (mut low, mut high) = (0.5, 1.0 - 1e-12);
    for _ in 0..60 {
        let m = 0.5 * (low + high);
        if k(m) - first(m) < load.sqrt() { low = m } else { high = m }
    }
    (low.sqrt(), first(low) / k(low))
}

/// A circular arc through `turn` radians: κ = turn/L everywhere, no force at all, the moment EI κ throughout.
pub(crate) fn arc(turn: f64) -> Referee {
    let kappa = turn / LENGTH;
    let at = |s: f64| {
        let (sin, cos) = libm::sincos(kappa * s);
        (Vec3::new(sin, 1.0 - cos, 0.0) * (1.0 / kappa), Vec3::new(cos, sin, 0.0))
    };
    let moment = about_z(STIFFNESS * kappa);
    let energy = 0.5 * STIFFNESS * kappa * kappa * LENGTH;
    Curve::from(at, kappa, energy, Vec3::new(0.0, 0.0, 0.0), [moment, moment])
        .referee(format!("arc through {turn} rad"))
}

/// A helix with curvature κ and torsion τ, both given times the length.
///
/// With Frenet's t, N, b and ω = τt + κb (constant, the axis of the helix): m = EI κ b has no part along t, so no twist.
/// m' = -EI κτ N must be -t × n, and n = -EI τ ω does it: t × b = -N, so -t × n = EI τκ (t × b) = -EI κτ N. It is
/// constant, as it must be without weight. So a helix is a lie, pressed along its axis.
pub(crate) fn helix(bend: f64, torsion: f64) -> Referee {
    let (kappa, tau) = (bend / LENGTH, torsion / LENGTH);
    let omega = (kappa * kappa + tau * tau).sqrt();
    let (across, along) = (kappa / omega, tau / omega);
    let radius = across / omega;
    let at = |s: f64| {
        let (sin, cos) = libm::sincos(omega * s);
        let place = Vec3::new(radius * cos, radius * sin, along * s);
        (place, Vec3::new(-across * sin, across * cos, along))
    };
    let moment = |s: f64| {
        let (sin, cos) = libm::sincos(omega * s);
        Vec3::new(along * sin, -along * cos, across) * (STIFFNESS * kappa)
    };
    let force = Vec3::new(0.0, 0.0, -STIFFNESS * tau * omega);
    let energy = 0.5 * STIFFNESS * kappa * kappa * LENGTH;
    Curve::from(at, kappa, energy, force, [moment(0.0), moment(LENGTH)])
        .referee(format!("helix with bend {bend} and torsion {torsion}"))
}
