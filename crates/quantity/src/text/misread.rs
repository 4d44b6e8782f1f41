//! Why a text was not read, in a sentence, and what was probably meant.

use super::number;

/// A text that was not read.
///
/// [`Display`](core::fmt::Display) gives the sentence to show beside the field.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Misread {
    /// What is wrong.
    pub wrong: Wrong,
    /// What was probably meant, as a text to take with one tap. It reads without error.
    pub likely: Option<String>,
}

/// What is wrong with a text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Wrong {
    /// Nothing but spaces.
    Empty,
    /// Longer than any measure a person would type.
    TooLong,
    /// Larger than any measure on a car.
    TooLarge,
    /// No digit where the number should stand.
    NoNumber,
    /// Several numbers, or signs in the middle.
    NotOneNumber,
    /// Two marks for decimals, or one for thousands.
    SecondMark,
    /// "1.5/8".
    FractionWithDecimals,
    /// "5/0".
    ZeroBelowTheLine,
    /// "5/8 mm", or "5/8" where millimetres are expected.
    FractionOfAMillimetre,
    /// A unit not known here.
    UnknownUnit {
        /// What may be written instead.
        known: &'static str,
    },
}

impl From<Wrong> for Misread {
    fn from(wrong: Wrong) -> Self {
        Self { wrong, likely: None }
    }
}

impl core::fmt::Display for Wrong {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str(match self {
            Self::Empty => "There is nothing here yet.",
            Self::TooLong => "This is too long for one measure.",
            Self::TooLarge => return write!(f, "This is more than {}, too large for a car.", number::LARGEST),
            Self::NoNumber => "There is no number here.",
            Self::NotOneNumber => "This is not one number.",
            Self::SecondMark => "A point or a comma marks the decimals, once only; write thousands without a mark.",
            Self::FractionWithDecimals => "Write either a fraction or decimals, not both.",
            Self::ZeroBelowTheLine => "A fraction cannot have 0 below its line.",
            Self::FractionOfAMillimetre => {
                "A fraction means inches: write \"in\" after it, or millimetres as decimals."
            }
            Self::UnknownUnit { known } => return write!(f, "This unit is not known here; write {known}."),
        })
    }
}

impl core::fmt::Display for Misread {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        self.wrong.fmt(f)
    }
}

impl core::error::Error for Misread {}
