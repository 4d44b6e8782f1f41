//! Where a value comes from, and how far it can be trusted.

use std::borrow::Cow;

/// On what a value rests.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Basis {
    /// A standard, a regulation, a manual or a paper says so.
    Published,
    /// The trade does it so; no source that can be cited was found.
    CommonPractice,
    /// Recalled, not looked up.
    FromMemory,
    /// Measured on the part itself.
    Measured,
    /// A threshold or an assignment of our own.
    OurChoice,
    /// Made up, for an example.
    Invented,
}

impl Basis {
    /// Every basis.
    pub const ALL: [Self; 6] =
        [Self::Published, Self::CommonPractice, Self::FromMemory, Self::Measured, Self::OurChoice, Self::Invented];

    /// As it is written in the tables and shown to a person.
    ///
    /// ```
    /// assert_eq!(quantity::Basis::CommonPractice.as_str(), "common practice");
    /// ```
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            Self::Published => "published",
            Self::CommonPractice => "common practice",
            Self::FromMemory => "from memory",
            Self::Measured => "measured",
            Self::OurChoice => "our choice",
            Self::Invented => "invented",
        }
    }

    /// The basis written so; `None` for any other text.
    #[must_use]
    pub fn from_text(text: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|basis| basis.as_str() == text)
    }
}

/// Where a value comes from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Source {
    /// Title, edition and place: standard and table, manual and page, or who measured it.
    pub what: Cow<'static, str>,
    /// On what it rests.
    pub basis: Basis,
}

impl Source {
    /// A source known when the program is built.
    #[must_use]
    pub const fn new(what: &'static str, basis: Basis) -> Self {
        Self { what: Cow::Borrowed(what), basis }
    }
}

/// A value together with its source.
#[derive(Clone, Debug, PartialEq)]
pub struct Sourced<T> {
    /// The value.
    pub value: T,
    /// Where it comes from.
    pub source: Source,
}

impl<T> Sourced<T> {
    /// A value and its source.
    #[must_use]
    pub const fn new(value: T, source: Source) -> Self {
        Self { value, source }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_basis_reads_back_from_its_text() {
        for basis in Basis::ALL {
            assert_eq!(Basis::from_text(basis.as_str()), Some(basis));
        }
        assert_eq!(Basis::from_text("Published"), None);
    }

    #[test]
    fn a_source_can_stand_as_a_constant() {
        const LIMIT: Sourced<f64> = Sourced::new(0.1, Source::new("stretch on a spigot", Basis::CommonPractice));
        assert_eq!(LIMIT.source.basis, Basis::CommonPractice);
    }
}
