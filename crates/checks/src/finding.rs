//! What a check says: verdict, what was measured, what is allowed, where, why, and on whose word.

use quantity::{Basis, Source};
use std::borrow::Cow;

/// Which check.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[expect(missing_docs, reason = "the names say it; `name` gives the trade's word")]
pub enum Check {
    Reach,
    Piece,
    Fit,
    Bead,
    Seat,
    Clamp,
    Assembly,
    Kink,
    SpigotMouth,
    Standoff,
    Sag,
    AirTrap,
    Support,
    Load,
    Heat,
    Rising,
    Pressure,
    Rating,
    Collapse,
    Hold,
    Flow,
    Rock,
    Snap,
    TapeError,
}

impl Check {
    /// The name in reports and on the page.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Reach => "reach",
            Self::Piece => "piece",
            Self::Fit => "fit",
            Self::Bead => "bead",
            Self::Seat => "seat",
            Self::Clamp => "clamp",
            Self::Assembly => "assembly",
            Self::Kink => "kink",
            Self::SpigotMouth => "spigot mouth",
            Self::Standoff => "standoff",
            Self::Sag => "sag",
            Self::AirTrap => "air trap",
            Self::Support => "support",
            Self::Load => "load",
            Self::Heat => "heat",
            Self::Rising => "rising heat",
            Self::Pressure => "pressure",
            Self::Rating => "rating",
            Self::Collapse => "collapse",
            Self::Hold => "hold",
            Self::Flow => "flow",
            Self::Rock => "rock",
            Self::Snap => "snap",
            Self::TapeError => "tape error",
        }
    }
}

/// How a check comes out; later is worse.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    /// It does.
    Pass,
    /// Its input is missing, or it is not built yet.
    NotChecked,
    /// It does, with care.
    Warn,
    /// It does not.
    Fail,
}

impl Verdict {
    /// The word in reports.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Pass => "pass",
            Self::NotChecked => "not checked",
            Self::Warn => "warn",
            Self::Fail => "fail",
        }
    }
}

/// The unit of what was measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unit {
    /// Millimetres.
    Millimetre,
    /// Percent.
    Percent,
    /// Newtons.
    Newton,
    /// Newton metres.
    NewtonMetre,
    /// Degrees Celsius.
    Celsius,
    /// Kilopascals.
    Kilopascal,
}

impl Unit {
    /// Its symbol.
    #[must_use]
    pub const fn symbol(self) -> &'static str {
        match self {
            Self::Millimetre => "mm",
            Self::Percent => "%",
            Self::Newton => "N",
            Self::NewtonMetre => "N·m",
            Self::Celsius => "°C",
            Self::Kilopascal => "kPa",
        }
    }
}

/// One thing found.
#[derive(Clone, Debug)]
pub struct Finding {
    /// Which check.
    pub check: Check,
    /// How it comes out.
    pub verdict: Verdict,
    /// The spigot or thing it is about, by name; empty for the hose as a whole.
    pub about: String,
    /// What was measured, in `unit`.
    pub actual: Option<f64>,
    /// The limit the verdict speaks of, in `unit`: the one that is broken; of a pass, the one that would fail it.
    pub allowed: Option<f64>,
    /// Unit of both.
    pub unit: Unit,
    /// Where along the hose, mm from mouth A along the centre line; negative on the seat of A.
    pub at: Option<f64>,
    /// One sentence, without numbers: they stand beside it, in the reader's unit.
    pub why: Cow<'static, str>,
    /// Where the limit is from.
    pub source: Source,
    /// Further numbers by name, unit in the name.
    pub extra: Vec<(&'static str, f64)>,
}

impl Finding {
    /// A hose that cannot lie at this free length at all between mouths so far apart (both mm), and why.
    #[must_use]
    pub fn no_lie(why: shape::NoShape, free_mm: f64, apart_mm: f64) -> Self {
        let why = match why {
            shape::NoShape::TooShort => "too short to reach from spigot to spigot",
            shape::NoShape::TooTight => "would bend so tightly that no shape can be told",
            shape::NoShape::Blocked => "cannot get past what it would rest against",
            shape::NoShape::BadInput | shape::NoShape::NotFound => "no shape was found in which it could rest",
        };
        Self {
            verdict: Verdict::Fail,
            actual: Some(free_mm),
            allowed: Some(apart_mm),
            source: Source::new("the straight distance between the mouths as measured", Basis::Measured),
            ..Self::not_checked(Check::Reach, why)
        }
    }

    /// A piece that is shorter than what is to be cut from it.
    #[must_use]
    pub fn piece(cut_mm: f64, piece_mm: f64) -> Self {
        let enough = cut_mm <= piece_mm;
        Self {
            verdict: if enough { Verdict::Pass } else { Verdict::Fail },
            actual: Some(cut_mm),
            allowed: Some(piece_mm),
            source: Source::new("the longest sound piece you have", Basis::Measured),
            ..Self::not_checked(
                Check::Piece,
                if enough { "your piece is long enough" } else { "longer than your longest sound piece" },
            )
        }
    }

    /// A check that could not be made, and what it needs.
    #[must_use]
    pub fn not_checked(check: Check, why: &'static str) -> Self {
        Self {
            check,
            verdict: Verdict::NotChecked,
            about: String::new(),
            actual: None,
            allowed: None,
            unit: Unit::Millimetre,
            at: None,
            why: Cow::Borrowed(why),
            source: crate::limits::NONE,
            extra: Vec::new(),
        }
    }
}
