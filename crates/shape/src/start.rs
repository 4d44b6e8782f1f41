//! Where the search for a lie begins: a smooth curve of the right length from spigot to spigot, bowed to one side.
//!
//! The curve is r(u), 0 ≤ u ≤ 1, in lengths of the hose: the cubic Hermite curve of the two ends plus a sideways bow,
//!
//! ```text
//! r'(u) = c 6u(1-u) + m tA (1-4u+3u²) + m tB (3u²-2u) + b n 32 u(1-u)(1-2u)
//! ```
//!
//! with `c` the chord, `m` the length given to both end tangents, and `b` the bow at half way in the direction `n`.
//! Its length is a convex function of `m` (and of `b`), for it is the integral of the norm of something linear; so
//! Newton's method begun above the root comes down to it without ever passing it.

use crate::Vec3;
use crate::ends::Question;

/// Points at which the length of the start curve is measured. The start need not be exact: Newton mends it.
const SAMPLES: usize = 24;

/// Tangent length of the bowed starts, in hose lengths: with it they found all but 7 of the 28,223 lies that 48 random
/// starts found in 24,000 layouts, and 86 more.
const BOWED_TANGENT: f64 = 0.3;

/// How many sides a start may bow to.
pub(crate) const SIDES: usize = 8;

/// Bow of the standard start in hose lengths for a very long hose; it goes with the root of the slack. Without it a
/// symmetric layout starts, and stays, on a saddle.
const SIDE_BOW: f64 = 0.15;

/// Below this sine both spigots are taken to look along the chord (10 degrees), and the bow is solved for instead.
const ALONG_CHORD: f64 = 0.174;

#[derive(Clone, Copy)]
struct Curve {
    c: Vec3,
    ta: Vec3,
    tb: Vec3,
    bow: Vec3,
}

/// The three weights of `Curve::speed` that do not depend on the curve.
#[inline(always)]
fn weights(u: f64) -> (f64, f64, f64, f64) {
    let v = 1.0 - u;
    (6.0 * u * v, v * (1.0 - 3.0 * u), u * (3.0 * u - 2.0), 32.0 * u * v * (v - u))
}

impl Curve {
    #[inline(always)]
    fn speed(&self, u: f64) -> Vec3 {
        let (wc, wa, wb, wn) = weights(u);
        self.c * wc + self.ta * wa + self.tb * wb + self.bow * wn
    }

    fn length(&self) -> f64 {
        let du = 1.0 / SAMPLES as f64;
        (0..SAMPLES).map(|k| self.speed((k as f64 + 0.5) * du).norm()).sum::<f64>() * du
    }

    /// `self + p * grow` with `p` so that the length is 1; `self` alone if it is already that long.
    fn grown_to_length(self, grow: Self) -> Self {
        let du = 1.0 / SAMPLES as f64;
        let at = |p: f64| Self {
            c: self.c,
            ta: self.ta + grow.ta * p,
            tb: self.tb + grow.tb * p,
            bow: self.bow + grow.bow * p,
        };
        let mut p = 1.0;
        for _ in 0..12 {
            let curve = at(p);
            let (mut length, mut slope) = (0.0, 0.0);
            for k in 0..SAMPLES {
                let u = (k as f64 + 0.5) * du;
                let speed = curve.speed(u);
                let norm = speed.norm().max(1e-12);
                length += norm;
                slope += speed.dot(grow.speed(u)) / norm;
            }
            let excess = length * du - 1.0;
            if excess.abs() < 2e-3 {
                break;
            }
            // Below the root (only possible before the first step down): go out further.
            p = if excess < 0.0 && slope <= 0.0 { 2.0 * p + 1.0 } else { p - excess / (slope * du) };
            if p <= 0.0 {
                return self;
            }
        }
        at(p)
    }

    /// Unit tangents at `n + 1` places equally spaced along the curve, the two ends exact.
    fn tangents(&self, n: usize, q: &Question, out: &mut Vec<Vec3>) {
        let du = 1.0 / SAMPLES as f64;
        let mut along = [0.0; SAMPLES + 1];
        for k in 0..SAMPLES {
            along[k + 1] = along[k] + self.speed((k as f64 + 0.5) * du).norm() * du;
        }
        let total = along[SAMPLES];
        out.clear();
        out.push(q.ta);
        let mut k = 0;
        for i in 1..n {
            let s = total * i as f64 / n as f64;
            while k + 1 < SAMPLES && along[k + 1] < s {
                k += 1;
            }
            let step = (along[k + 1] - along[k]).max(1e-12);
            let speed = self.speed((k as f64 + (s - along[k]) / step) * du);
            let last = out[i - 1];
            out.push(speed.direction().unwrap_or(last));
        }
        out.push(q.tb);
    }
}

/// A frame about the chord that turns with the layout: `(along, p, q)`, with `p` towards the side to which both
/// spigots lean, if they do.
fn chord_frame(q: &Question) -> (Vec3, Vec3, Vec3) {
    let along = q.c.direction().unwrap_or(q.ta);
    let lean = [q.ta - q.tb, q.ta + q.tb, q.gamma]
        .into_iter()
        .map(|v| v.across(along))
        .find(|v| v.norm() > 1e-9)
        .and_then(Vec3::direction);
    let p = lean.unwrap_or_else(|| along.frame().0);
    (along, p, along.cross(p))
}

/// Writes the standard start into `out`: the Hermite curve of length 1, bowed a little towards neither symmetry.
pub(crate) fn standard(q: &Question, n: usize, out: &mut Vec<Vec3>) {
    let (along, p, side) = chord_frame(q);
    let chord = q.c.norm();
    let oblique = p * 0.8 + side * 0.6;
    let zero = Vec3::ZERO;
    let looks_along = [q.ta, q.tb].iter().all(|t| t.across(along).norm() < ALONG_CHORD && t.dot(along) > 0.0);
    let curve = if looks_along {
        let plain = Curve { c: q.c, ta: q.ta * chord, tb: q.tb * chord, bow: zero };
        plain.grown_to_length(Curve { c: zero, ta: zero, tb: zero, bow: oblique })
    } else {
        let bare = Curve { c: q.c, ta: zero, tb: zero, bow: zero };
        let grown = bare.grown_to_length(Curve { c: zero, ta: q.ta, tb: q.tb, bow: zero });
        Curve { bow: oblique * (SIDE_BOW * (1.0 - chord).max(0.0).sqrt()), ..grown }
    };
    curve.tangents(n, q, out);
}

/// Writes a start that bows to one of the eight sides of the chord, `side` in 0..8.
///
/// The sides are an odd number of sixteenths of a turn from `p`. So none lies in a plane of symmetry, where the hose would
/// start, and stay, on a saddle; and mirrored, or asked from the other end (where `p` may turn about), a layout has
/// the mirrored starts, all eight of them.
pub(crate) fn bowed(q: &Question, side: usize, n: usize, out: &mut Vec<Vec3>) {
    // Cosine and sine of a sixteenth of a turn.
    const C: f64 = 0.923_879_532_511_286_7;
    const S: f64 = 0.382_683_432_365_089_8;
    const AROUND: [(f64, f64); SIDES] = [(C, S), (S, C), (-S, C), (-C, S), (-C, -S), (-S, -C), (S, -C), (C, -S)];
    let (_, p, r) = chord_frame(q);
    let (cos, sin) = AROUND[side % SIDES];
    let zero = Vec3::ZERO;
    let mut m = BOWED_TANGENT;
    let mut plain = Curve { c: q.c, ta: q.ta * m, tb: q.tb * m, bow: zero };
    while plain.length() > 0.99 && m > 0.01 {
        m *= 0.5;
        plain = Curve { ta: q.ta * m, tb: q.tb * m, ..plain };
    }
    let curve = plain.grown_to_length(Curve { c: zero, ta: zero, tb: zero, bow: p * cos + r * sin });
    curve.tangents(n, q, out);
}
