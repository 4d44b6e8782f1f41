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
