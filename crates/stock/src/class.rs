//! The rubbers of coolant hose and the temperature each class bears.

use quantity::{Source, Sourced, Temperature};
use std::borrow::Cow;

/// What the lining and the cover are made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rubber {
    /// Ethylene propylene diene rubber.
    Epdm,
    /// Silicone rubber.
    Silicone,
    /// Nitrile rubber.
    Nbr,
    /// Chloroprene rubber.
    Cr,
}

impl Rubber {
    /// Every rubber with its name as it is written in the tables and on the hose.
    pub const NAMES: [(Self, &'static str); 4] =
        [(Self::Epdm, "EPDM"), (Self::Silicone, "silicone"), (Self::Nbr, "NBR"), (Self::Cr, "CR")];

    /// Its name.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Epdm => "EPDM",
            Self::Silicone => "silicone",
            Self::Nbr => "NBR",
            Self::Cr => "CR",
        }
    }

    /// The rubber of this name, however it is capitalised; `None` for any other text.
    #[must_use]
    pub fn from_text(text: &str) -> Option<Self> {
        Self::NAMES.into_iter().find(|(_, name)| name.eq_ignore_ascii_case(text.trim())).map(|(rubber, _)| rubber)
    }
}

/// A class of coolant hose after SAE J20.
#[derive(Clone, Debug, PartialEq)]
pub struct Class {
    /// As it is marked on the hose: "D-1".
    pub name: Cow<'static, str>,
    /// Its rubber.
    pub rubber: Rubber,
    /// The coldest it stays fit for use.
    pub least: Temperature,
    /// The hottest it bears for long.
    pub greatest: Temperature,
    /// Where the two come from.
    pub source: Source,
}

impl Class {
    /// The hottest a hose of this class bears for long, with its source.
    #[must_use]
    pub fn limit(&self) -> Sourced<Temperature> {
        Sourced::new(self.greatest, self.source.clone())
    }
}
