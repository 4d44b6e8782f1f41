//! Why a job does not go into a link, and why a text is not one.

use super::{LONGEST, LONGEST_READ};
use std::fmt;

/// Why a job does not go into a link. Offer the job file instead.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum CannotLink {
    /// A link carries one run.
    Runs {
        /// How many there are.
        runs: usize,
    },
    /// It would be too long for a QR code that a phone reads with ease.
    TooLong {
        /// Characters it would have; the most is [`LONGEST`].
        length: usize,
    },
    /// A number is infinite or none; no job file holds such.
    NotANumber,
}

impl fmt::Display for CannotLink {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Runs { runs } => write!(f, "a link carries one run, and there are {runs}: share the job file"),
            Self::TooLong { length } => {
                write!(f, "the link would have {length} characters, {LONGEST} at most: share the job file")
            }
            Self::NotANumber => write!(f, "a number in the job is infinite or not a number"),
        }
    }
}

impl std::error::Error for CannotLink {}

/// Why a text is not a link.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum BadLink {
    /// Longer than [`LONGEST_READ`]; nothing of it was read.
    TooLong,
    /// There is no link in it.
    NotALink,
    /// Its end is missing.
    Cut {
        /// How many characters.
        missing: usize,
    },
    /// It has its length, but not what was put into it.
    Damaged,
    /// Made by a program whose links are no longer read.
    Older {
        /// Its version, from 1.
        version: u8,
    },
    /// Made by a newer program.
    Newer {
        /// Its version.
        version: u8,
    },
    /// Whole, but something in it has no meaning here.
    Unknown {
        /// What.
        what: &'static str,
    },
    /// Whole, but its fields do not fill it, or do not fit into it.
    Fields,
}

impl fmt::Display for BadLink {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooLong => write!(f, "longer than {LONGEST_READ} characters: not a link"),
            Self::NotALink => write!(f, "there is no Hosewright link in this text"),
            Self::Cut { missing } => write!(f, "the link is cut short by {missing} characters: copy all of it"),
            Self::Damaged => write!(f, "the link was damaged on its way: ask for it again"),
            Self::Older { version } => {
                write!(f, "the link is of version {version}, which is no longer read: ask for the job file")
            }
            Self::Newer { version } => {
                write!(f, "the link was made by a newer Hosewright (version {version}): update this one")
            }
            Self::Unknown { what } => write!(f, "the link is whole, but {what} in it is not known here"),
            Self::Fields => write!(f, "the link is whole, but its fields do not end where it does"),
        }
    }
}

impl std::error::Error for BadLink {}
