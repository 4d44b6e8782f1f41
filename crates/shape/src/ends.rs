//! What is asked: two spigots, a length of hose and its section, and the same without units as the solver sees it.

use crate::Vec3;
use std::fmt;

/// The two spigot mouths between which the hose lies, and the hose's own direction at each.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ends {
    /// Centre of the mouth of spigot A.
    pub a: Vec3,
    /// The way the hose leaves A: out of the spigot. Any length but zero.
    pub tangent_a: Vec3,
    /// Centre of the mouth of spigot B.
    pub b: Vec3,
    /// The way the hose arrives at B: into the spigot (against the way the spigot points). Any length but zero.
    pub tangent_b: Vec3,
}

impl Ends {
    /// The straight distance between the two mouths.
    #[must_use]
    pub fn chord(&self) -> f64 {
        (self.b - self.a).norm()
    }
}

/// What the hose is, per length. Any consistent set of units: with millimetres and newtons, stiffness is in N·mm² and
/// weight in N/mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Section {
    /// Bending stiffness EI, above zero. Without weight the lie does not depend on it.
    pub stiffness: f64,
    /// Weight per length of the filled hose, as a vector (gravity times mass per length).
    pub weight: Vec3,
}

/// Why there is no lie to tell.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoShape {
    /// The hose is no longer than the straight way between the mouths.
    TooShort,
    /// The tightest bend is too tight to be told as a number: under 1/190 of the length, or, for a hose
    /// all but taut, under 1/100.
    TooTight,
    /// A number is missing, not finite, or has no meaning (no direction, no length, no stiffness).
    BadInput,
    /// No start led to a lie that is shown to be stable.
    NotFound,
    /// The hose cannot get past a solid: a mouth lies too near to it, or every start came to rest pressed into it.
    Blocked,
}

impl fmt::Display for NoShape {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::TooShort => "too short to reach",
            Self::TooTight => "too tight",
            Self::BadInput => "bad input",
            Self::NotFound => "not found",
            Self::Blocked => "cannot get past",
        })
    }
}

impl std::error::Error for NoShape {}

/// The question without units: lengths divided by the hose's length L, forces multiplied by L²/EI.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Question {
    /// Unit tangent at A.
    pub(crate) ta: Vec3,
    /// Unit tangent at B.
    pub(crate) tb: Vec3,
    /// From mouth A to mouth B; shorter than 1.
    pub(crate) c: Vec3,
    /// Weight: w L³/EI.
    pub(crate) gamma: Vec3,
    /// Force at mid-length, of a hand or of something it leans on: P L²/EI. Zero but in `push`.
    pub(crate) push: Vec3,
    /// The lie may turn freely about the chord: both spigots on one line and the weight, if any, along it.
    pub(crate) coaxial: bool,
}

/// Slack below this part of the length is a taut hose: its shape is a straight line with two corners, not a lie.
const TAUT: f64 = 1e-9;

impl Question {
    pub(crate) fn new(ends: &Ends, length: f64, section: &Section) -> Result<Self, NoShape> {
        // Scaled first, so that a direction of any length has one.
        let unit = |v: Vec3| (v * (1.0 / v.x.abs().max(v.y.abs()).max(v.z.abs()))).direction().ok_or(NoShape::BadInput);
        let (ta, tb) = (unit(ends.tangent_a)?, unit(ends.tangent_b)?);
        let c = (ends.b - ends.a) * (1.0 / length);
        let gamma = section.weight * (length * length * length / section.stiffness);
        let sound = length > 0.0 && length.is_finite() && section.stiffness > 0.0 && section.stiffness.is_finite();
        if !(sound && c.is_finite() && gamma.is_finite()) {
            return Err(NoShape::BadInput);
        }
        if c.norm() >= 1.0 - TAUT {
            return Err(NoShape::TooShort);
        }
        let axis = c.direction().unwrap_or(ta);
        let off_axis = ta.across(axis).norm() + tb.across(axis).norm() + gamma.across(axis).norm();
        Ok(Self { ta, tb, c, gamma, push: Vec3::ZERO, coaxial: off_axis < 1e-9 })
    }
}
