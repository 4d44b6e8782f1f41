//! Legs and bends: a path as it is read off a bent wire or an old moulded hose, and as points in space.
//!
//! A leg is a straight length; at its end the path bends by an angle, to one side, about a radius. The radius is said to the inside
//! of the bend (ISO 8330), so that of the centre line is half the outside diameter more: R = r + D/2. With t the direction of a
//! leg and n the side to which it bends, square to t, the arc from the tangent point p is
//!
//! ```text
//! r(φ) = p + R (sin φ t + (1 - cos φ) n)         t(φ) = cos φ t + sin φ n          length R α for the angle α
//! ```
//!
//! and the two legs, made longer, meet in the corner, R tan(α/2) from either tangent point (none for a half turn). Which way is
//! said as a direction across the leg, or as the twist about the leg, right-handed along it, from the side of the
//! bend before: carried straight along the leg that side is n' = cos α n - sin α t, and 0 bends on in the same sense (a U), a half turn
//! to the other side (an S).
//!
//! Back from corners: α is the angle between two legs, n the part of the new direction across the old, and a leg's straight
//! length is from corner to corner less both tangent lengths.

use crate::Vec3;
use std::f64::consts::PI;
use std::fmt;

/// To which side a bend goes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Way {
    /// Towards a direction across the leg; only its part square to the leg counts.
    Towards(Vec3),
    /// So much about the leg, in radians, right-handed along it, from the side to which the bend before went.
    Twist(f64),
}

/// A bend at the end of a leg.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bend {
    /// By how much the direction changes, in radians: above 0, at most a half turn.
    pub angle: f64,
    /// To which side.
    pub way: Way,
    /// Radius to the inside of the bend.
    pub inside: f64,
}

/// A straight length and the bend at its end; the last leg has none.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Leg {
    /// Straight length, from the end of the bend before to the beginning of the next.
    pub straight: f64,
    /// The bend at its end.
    pub bend: Option<Bend>,
}

/// Why legs or corners make no path.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoPath {
    /// A number is missing, not finite, or has no meaning; the leg is told, from 0.
    BadLeg(usize),
    /// The first bend says a twist, and there is no bend before it.
    NoBendBefore,
    /// Two bends need more of the leg between them than it has; the leg is told, from 0.
    Overlap(usize),
}

impl fmt::Display for NoPath {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::BadLeg(k) => write!(f, "leg {}: a number that cannot be", k + 1),
            Self::NoBendBefore => f.write_str("the first bend has none before it to twist from"),
            Self::Overlap(k) => write!(f, "leg {}: the bends at its ends overlap", k + 1),
        }
    }
}

impl std::error::Error for NoPath {}

/// A bend as it lies in space.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Arc {
    /// Where it begins and ends along the centre line.
    pub from: f64,
    /// See `from`.
    pub to: f64,
    /// Tangent point at its beginning.
    pub begin: Vec3,
    /// Direction of travel there.
    pub along: Vec3,
    /// Side to which it bends, square to `along`: its centre is there, a radius away.
    pub side: Vec3,
    /// Radius of the centre line.
    pub radius: f64,
    /// By how much it turns, in radians.
    pub angle: f64,
}

impl Arc {
    /// Centre of the arc.
    #[must_use]
    pub fn centre(&self) -> Vec3 {
        self.begin + self.side * self.radius
    }

    /// Where the two legs, made longer, meet; none for a half turn.
    #[must_use]
    pub fn corner(&self) -> Option<Vec3> {
        (self.angle < PI - 1e-6).then(|| self.begin + self.along * (self.radius * libm::tan(0.5 * self.angle)))
    }

    /// Tangent point at its end.
    #[must_use]
    pub fn end(&self) -> Vec3 {
        self.place(self.angle)
    }

    fn place(&self, turned: f64) -> Vec3 {
        let (sin, cos) = libm::sincos(turned);
        self.begin + (self.along * sin + self.side * (1.0 - cos)) * self.radius
    }

    fn tangent(&self, turned: f64) -> Vec3 {
        let (sin, cos) = libm::sincos(turned);
        self.along * cos + self.side * sin
    }

    /// The side of the bend, carried to its end: square to the next leg.
    fn side_after(&self) -> Vec3 {
        let (sin, cos) = libm::sincos(self.angle);
        self.side * cos - self.along * sin
    }

    /// How far the arc has turned where it is nearest to `place`.
    fn nearest(&self, place: Vec3) -> f64 {
        let out = place - self.centre();
        let (x, y) = (out.dot(self.along), -out.dot(self.side));
        let turned = libm::atan2(x, y);
        if (0.0..=self.angle).contains(&turned) {
            return turned;
        }
        // Off the arc: the nearer end, by the angle to it.
        let past = if turned < 0.0 { turned + 2.0 * PI } else { turned } - self.angle;
        let before = if turned > 0.0 { 2.0 * PI - turned } else { -turned };
        if past < before { self.angle } else { 0.0 }
    }
}

/// Straight legs joined by arcs: a path in space, with the outside diameter of the hose that is to lie along it.
#[derive(Clone, Debug, PartialEq)]
pub struct Path {
    start: Vec3,
    direction: Vec3,
    outside: f64,
    bends: Vec<Arc>,
    /// End of the last leg, and the direction there.
    end: (Vec3, Vec3),
    length: f64,
}

impl Path {
    /// From legs, as they are read off one after the other.
    ///
    /// # Errors
    /// [`NoPath`], with the leg.
    pub fn from_legs(start: Vec3, direction: Vec3, legs: &[Leg], outside: f64) -> Result<Self, NoPath> {
        let direction = direction.direction().ok_or(NoPath::BadLeg(0))?;
        if !(start.is_finite() && outside >= 0.0 && outside.is_finite() && !legs.is_empty()) {
            return Err(NoPath::BadLeg(0));
        }
        let (mut at, mut along, mut s) = (start, direction, 0.0);
        let mut bends: Vec<Arc> = Vec::with_capacity(legs.len() - 1);
        for (k, leg) in legs.iter().enumerate() {
            let bad = NoPath::BadLeg(k);
            if !(leg.straight >= 0.0 && leg.straight.is_finite()) {
                return Err(bad);
            }
            at += along * leg.straight;
            s += leg.straight;
            let last = k + 1 == legs.len();
            let Some(bend) = leg.bend.filter(|_| !last) else {
                if last && leg.bend.is_none() {
                    break;
                }
                return Err(bad);
            };
            if !(bend.angle > 0.0 && bend.angle <= PI && bend.inside >= 0.0 && bend.inside.is_finite()) {
                return Err(bad);
            }
            let side = match bend.way {
                Way::Towards(side) => side.across(along).direction().ok_or(bad)?,
                Way::Twist(twist) => {
                    let before = bends.last().ok_or(NoPath::NoBendBefore)?.side_after();
                    let (sin, cos) = libm::sincos(twist);
                    let side = before * cos + along.cross(before) * sin;
                    side.across(along).direction().ok_or(bad)?
                }
            };
            let radius = bend.inside + 0.5 * outside;
            let to = s + radius * bend.angle;
            let arc = Arc { from: s, to, begin: at, along, side, radius, angle: bend.angle };
            at = arc.end();
            along = arc.tangent(bend.angle).direction().ok_or(bad)?;
            s = to;
            bends.push(arc);
        }
        if !(at.is_finite() && s > 0.0) {
            return Err(NoPath::BadLeg(legs.len() - 1));
        }
        Ok(Self { start, direction, outside, bends, end: (at, along), length: s })
    }

    /// From the start, the corners and the end, with the radius to the inside at each corner between them.
    ///
    /// # Errors
    /// [`NoPath`], with the leg; three points on a line are no bend, and a leg that turns back on itself has no corner.
    pub fn from_corners(corners: &[Vec3], insides: &[f64], outside: f64) -> Result<Self, NoPath> {
        if corners.len() < 2 || insides.len() + 2 != corners.len() {
            return Err(NoPath::BadLeg(0));
        }
        let steps: Vec<Vec3> = corners.windows(2).map(|pair| pair[1] - pair[0]).collect();
        let direction = |k: usize| steps[k].direction().ok_or(NoPath::BadLeg(k));
        let mut legs = Vec::with_capacity(steps.len());
        let mut taken = 0.0;
        for (k, step) in steps.iter().enumerate() {
            let along = direction(k)?;
            let mut straight = step.norm() - taken;
            let bend = match insides.get(k) {
                None => None,
                Some(&inside) => {
                    let next = direction(k + 1)?;
                    let angle = libm::atan2(along.cross(next).norm(), along.dot(next));
                    taken = (inside + 0.5 * outside) * libm::tan(0.5 * angle);
                    straight -= taken;
                    Some(Bend { angle, way: Way::Towards(next), inside })
                }
            };
            // A leg may be used up by its bends to the last bit.
            let round_off = 1e-12 * step.norm();
            if straight < -round_off {
                return Err(NoPath::Overlap(k));
            }
            legs.push(Leg { straight: straight.max(0.0), bend });
        }
        Self::from_legs(corners[0], steps[0], &legs, outside)
    }

    /// The legs, each bend told by its direction.
    #[must_use]
    pub fn legs(&self) -> Vec<Leg> {
        self.legs_by(|arc, _| Way::Towards(arc.side))
    }

    /// The legs, each bend but the first told by its twist (-π to π) from the one before.
    #[must_use]
    pub fn legs_by_twist(&self) -> Vec<Leg> {
        self.legs_by(|arc, before| match before {
            None => Way::Towards(arc.side),
            Some(before) => {
                let from = before.side_after();
                Way::Twist(libm::atan2(arc.along.dot(from.cross(arc.side)), from.dot(arc.side)))
            }
        })
    }

    fn legs_by(&self, way: impl Fn(&Arc, Option<&Arc>) -> Way) -> Vec<Leg> {
        let mut legs = Vec::with_capacity(self.bends.len() + 1);
        let mut before: Option<&Arc> = None;
        for arc in &self.bends {
            let straight = arc.from - before.map_or(0.0, |before| before.to);
            let inside = arc.radius - 0.5 * self.outside;
            legs.push(Leg { straight, bend: Some(Bend { angle: arc.angle, way: way(arc, before), inside }) });
            before = Some(arc);
        }
        legs.push(Leg { straight: self.length - before.map_or(0.0, |before| before.to), bend: None });
        legs
    }

    /// Start, corners and end; none if a bend is a half turn, which has no corner.
    #[must_use]
    pub fn corners(&self) -> Option<Vec<Vec3>> {
        let inner: Option<Vec<Vec3>> = self.bends.iter().map(Arc::corner).collect();
        let mut corners = vec![self.start];
        corners.extend(inner?);
        corners.push(self.end.0);
        Some(corners)
    }

    /// The bends in their order.
    #[must_use]
    pub fn bends(&self) -> &[Arc] {
        &self.bends
    }

    /// Where the path begins, and the direction of travel there.
    #[must_use]
    pub fn start(&self) -> (Vec3, Vec3) {
        (self.start, self.direction)
    }

    /// Where the path ends, and the direction of travel there.
    #[must_use]
    pub fn end(&self) -> (Vec3, Vec3) {
        self.end
    }

    /// Length of the centre line.
    #[must_use]
    pub fn length(&self) -> f64 {
        self.length
    }

    /// Outside diameter of the hose.
    #[must_use]
    pub fn outside(&self) -> f64 {
        self.outside
    }

    /// The place `s` along the centre line (kept within 0 and the length), and the direction of travel there.
    #[must_use]
    pub fn at(&self, s: f64) -> (Vec3, Vec3) {
        let s = s.clamp(0.0, self.length);
        let next = self.bends.partition_point(|arc| arc.to <= s);
        match self.bends.get(next) {
            Some(arc) if arc.from < s => {
                let turned = (s - arc.from) / arc.radius;
                (arc.place(turned), arc.tangent(turned))
            }
            _ => {
                let (from, at, along) = self.leg(next);
                (at + along * (s - from), along)
            }
        }
    }

    /// Places equally spaced along the path, `n` steps: first its start, last its end.
    #[must_use]
    pub fn places(&self, n: usize) -> Vec<Vec3> {
        (0..=n).map(|k| self.at(self.length * k as f64 / n.max(1) as f64).0).collect()
    }

    /// Straight leg `k`: where it begins along the centre line, in space, and its direction.
    fn leg(&self, k: usize) -> (f64, Vec3, Vec3) {
        match k.checked_sub(1).map(|before| &self.bends[before]) {
            None => (0.0, self.start, self.direction),
            Some(before) => {
                let along = self.bends.get(k).map_or(self.end.1, |arc| arc.along);
                (before.to, before.end(), along)
            }
        }
    }

    /// How far `place` is from the path, and where along the centre line the path is nearest.
    #[must_use]
    pub fn distance(&self, place: Vec3) -> (f64, f64) {
        let mut best = (f64::INFINITY, 0.0);
        let mut offer = |there: Vec3, s: f64| {
            let apart = (place - there).norm();
            if apart < best.0 {
                best = (apart, s);
            }
        };
        for k in 0..=self.bends.len() {
            let (from, at, along) = self.leg(k);
            let to = self.bends.get(k).map_or(self.length, |arc| arc.from);
            let x = (place - at).dot(along).clamp(0.0, to - from);
            offer(at + along * x, from + x);
        }
        for arc in &self.bends {
            let turned = arc.nearest(place);
            offer(arc.place(turned), arc.from + turned * arc.radius);
        }
        best
    }
}
