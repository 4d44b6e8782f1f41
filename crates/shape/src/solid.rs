//! What a hose may rest against: a capsule, a ball, a block; how far it is from a place, which way out, how that bends.
//!
//! The distance is signed: negative inside. Its slope is the unit vector that leads straight out. Its second derivative
//! is nothing along that way out, and square to it one over the distance from what the solid is thickened about: for
//! a capsule's shaft once, around the axis, for a ball, a capsule's end and a block's corner twice, for a block's face
//! not at all. So it is written as at most two directions with a curvature each.

use crate::Vec3;

/// A solid thing near the hose, in the caller's units. It does not yield and does not hold the hose by friction.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Solid {
    /// A pipe or cable with round ends: all places within `radius` of the straight line from `a` to `b`.
    Capsule {
        /// One end of the line.
        a: Vec3,
        /// The other end.
        b: Vec3,
        /// Half the thickness.
        radius: f64,
    },
    /// A ball.
    Ball {
        /// The middle.
        centre: Vec3,
        /// Half the thickness.
        radius: f64,
    },
    /// A box with its edges along the axes.
    Block {
        /// The corner with the least of all three coordinates.
        low: Vec3,
        /// The corner with the greatest.
        high: Vec3,
    },
}

/// What a place near a solid knows of it, besides its distance.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Near {
    /// The way out: the slope of the distance.
    pub(crate) out: Vec3,
    /// Unit directions in which the distance curves, and what radius it curves with; unused ones are zero vectors.
    pub(crate) curls: [Vec3; 2],
    pub(crate) radius: f64,
}

/// Nearer than this (in hose lengths) to the middle of a solid there is no way out but a chosen one.
const MIDDLE: f64 = 1e-9;

impl Near {
    /// From the vector that leads from the nearest place of what is thickened, and the axis that it stands on, if any.
    fn of_round(arm: Vec3, axis: Option<Vec3>) -> Self {
        let radius = arm.norm();
        let out =
            if radius > MIDDLE { arm * (1.0 / radius) } else { axis.map_or(Vec3::new(0.0, 0.0, 1.0), |u| u.frame().0) };
        let curls = match axis {
            Some(u) => [out.cross(u), Vec3::ZERO],
            None => out.frame().into(),
        };
        Self { out, curls, radius }
    }
}

impl Solid {
    /// Distance of a place from the surface, negative inside.
    #[must_use]
    pub fn distance(&self, place: Vec3) -> f64 {
        match *self {
            Self::Ball { centre, radius } => (place - centre).norm() - radius,
            Self::Capsule { a, b, radius } => {
                let (line, arm) = (b - a, place - a);
                let square = line.dot(line);
                let part = if square > 0.0 { arm.dot(line) / square } else { 0.0 };
                (arm - line * part.clamp(0.0, 1.0)).norm() - radius
            }
            Self::Block { low, high } => {
                let over = |x: f64, low: f64, high: f64| f64::max(low - x, x - high);
                let (x, y, z) =
                    (over(place.x, low.x, high.x), over(place.y, low.y, high.y), over(place.z, low.z, high.z));
                let outside = Vec3::new(x.max(0.0), y.max(0.0), z.max(0.0)).norm();
                if outside > 0.0 { outside } else { x.max(y).max(z) }
            }
        }
    }

    /// Way out and curls at a place.
    pub(crate) fn near(&self, place: Vec3) -> Near {
        match *self {
            Self::Ball { centre, .. } => Near::of_round(place - centre, None),
            Self::Capsule { a, b, .. } => {
                let (line, arm) = (b - a, place - a);
                let square = line.dot(line);
                let part = if square > 0.0 { arm.dot(line) / square } else { 0.0 };
                let axis = (part > 0.0 && part < 1.0).then(|| line * (1.0 / square.sqrt()));
                Near::of_round(arm - line * part.clamp(0.0, 1.0), axis)
            }
            Self::Block { low, high } => {
                let (centre, half) = ((low + high) * 0.5, (high - low) * 0.5);
                let from: [f64; 3] = (place - centre).into();
                let half: [f64; 3] = half.into();
                let over = [0, 1, 2].map(|i| from[i].abs() - half[i]);
                let outside = over.map(|x| x > 0.0);
                let along = |i: usize| {
                    let mut axis = [0.0; 3];
                    axis[i] = 1.0_f64.copysign(from[i]);
                    Vec3::from(axis)
                };
                match outside.iter().filter(|out| **out).count() {
                    0 => {
                        // Inside: out by the nearest face.
                        let i = (1..3).fold(0, |best, i| if over[i] > over[best] { i } else { best });
                        Near { out: along(i), curls: [Vec3::ZERO; 2], radius: 1.0 }
                    }
                    count => {
                        let arm = (0..3).filter(|i| outside[*i]).fold(Vec3::ZERO, |sum, i| sum + along(i) * over[i]);
                        let edge = (0..3).find(|i| !outside[*i]).map(along);
                        let near = Near::of_round(arm, edge);
                        if count == 1 { Near { curls: [Vec3::ZERO; 2], ..near } } else { near }
                    }
                }
            }
        }
    }

    /// The same in lengths of `unit` from `origin`.
    pub(crate) fn scaled(&self, origin: Vec3, unit: f64) -> Self {
        let place = |v: Vec3| (v - origin) * (1.0 / unit);
        match *self {
            Self::Capsule { a, b, radius } => Self::Capsule { a: place(a), b: place(b), radius: radius / unit },
            Self::Ball { centre, radius } => Self::Ball { centre: place(centre), radius: radius / unit },
            Self::Block { low, high } => Self::Block { low: place(low), high: place(high) },
        }
    }

    /// The same with this part of its thickness, about its middle or its middle line.
    pub(crate) fn thinned(&self, part: f64) -> Self {
        match *self {
            Self::Capsule { a, b, radius } => Self::Capsule { a, b, radius: radius * part },
            Self::Ball { centre, radius } => Self::Ball { centre, radius: radius * part },
            Self::Block { low, high } => {
                let (centre, half) = ((low + high) * 0.5, (high - low) * (0.5 * part));
                Self::Block { low: centre - half, high: centre + half }
            }
        }
    }

    /// True if all numbers are finite and have a meaning.
    pub(crate) fn is_sound(&self) -> bool {
        let thick = |radius: f64| radius >= 0.0 && radius.is_finite();
        match *self {
            Self::Capsule { a, b, radius } => a.is_finite() && b.is_finite() && thick(radius),
            Self::Ball { centre, radius } => centre.is_finite() && thick(radius),
            Self::Block { low, high } => {
                let wide = high - low;
                low.is_finite() && high.is_finite() && wide.x >= 0.0 && wide.y >= 0.0 && wide.z >= 0.0
            }
        }
    }

    /// The least radius with which the surface curves outwards.
    pub(crate) fn sharpest(&self) -> f64 {
        match *self {
            Self::Capsule { radius, .. } | Self::Ball { radius, .. } => radius,
            Self::Block { .. } => 0.0,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const SOLIDS: [Solid; 3] = [
        Solid::Capsule { a: Vec3::new(0.1, 0.2, -0.3), b: Vec3::new(0.6, -0.1, 0.2), radius: 0.1 },
        Solid::Ball { centre: Vec3::new(0.3, 0.1, 0.0), radius: 0.2 },
        Solid::Block { low: Vec3::new(0.0, -0.2, -0.1), high: Vec3::new(0.5, 0.3, 0.2) },
    ];

    fn places() -> impl Iterator<Item = Vec3> {
        let at = |i: i32| f64::from(i) * 0.3701 - 0.9;
        (0..216).map(move |i| Vec3::new(at(i % 6), at(i / 6 % 6), at(i / 36)))
    }

    #[test]
    fn the_way_out_and_the_curls_are_the_derivatives_of_the_distance() {
        const STEP: f64 = 1e-5;
        for solid in SOLIDS {
            for place in places() {
                let near = solid.near(place);
                // Differences of steps h err by h²/6 of a third derivative, here at most some 3/R³; and by round-off.
                let allowed = 1e-8 + STEP * STEP / (near.radius * near.radius * near.radius);
                for along in [Vec3::new(1.0, 0.0, 0.0), Vec3::new(0.0, 1.0, 0.0), Vec3::new(0.0, 0.0, 1.0)] {
                    let (ahead, behind) = (solid.near(place + along * STEP), solid.near(place - along * STEP));
                    let slope =
                        (solid.distance(place + along * STEP) - solid.distance(place - along * STEP)) * (0.5 / STEP);
                    assert!((slope - near.out.dot(along)).abs() < 1e-8, "{solid:?} {place:?}: slope {slope}");
                    let turn = (ahead.out - behind.out) * (0.5 / STEP);
                    let told = near.curls.iter().fold(Vec3::ZERO, |sum, c| sum + *c * (c.dot(along) / near.radius));
                    assert!((turn - told).norm() < allowed, "{solid:?} {place:?}: {turn:?} against {told:?}");
                }
            }
        }
    }

    #[test]
    fn distances_are_those_worked_out_by_hand() {
        let [capsule, ball, block] = SOLIDS;
        let cases = [
            (ball, Vec3::new(0.3, 0.1, 0.5), 0.3),
            (ball, Vec3::new(0.3, 0.1, 0.0), -0.2),
            (block, Vec3::new(0.8, 0.0, 0.6), 0.5),
            (block, Vec3::new(0.25, 0.0, 0.15), -0.05),
            (block, Vec3::new(0.25, 0.35, 0.0), 0.05),
            (capsule, Vec3::new(0.1, 0.2, -0.3), -0.1),
            (Solid::Capsule { a: Vec3::ZERO, b: Vec3::ZERO, radius: 0.1 }, Vec3::new(0.0, 3.0, 4.0), 4.9),
        ];
        for (solid, place, want) in cases {
            assert!((solid.distance(place) - want).abs() < 1e-12, "{solid:?} from {place:?}");
        }
    }
}
