//! What can be bought: hoses, clamps, the limits their standards give them, and what they are made of.
//!
//! The data are the tables in `data/`, with the unit in the column name and a source on every row; `data/README.md`
//! tells how to add to them. They are read when the crate is built, so a wrong row stops the build with its file, line
//! and column, and the page holds finished tables.
//!
//! What it does not do: it judges nothing. Whether a hose fits, kinks or gets too hot is asked of `checks`.
//!
//! ```
//! use quantity::Length;
//! use stock::{Stock, Tightening};
//!
//! let stock = Stock::built_in();
//! let hose = stock.hoses.iter().find(|hose| hose.bore == Length::mm(16.0)).unwrap();
//! assert_eq!(hose.outside, Length::mm(24.0));
//!
//! // On a 17 mm spigot it is clamped at 24.7 mm, and has to come over the bead first.
//! let gripped = hose.outside_on(Length::mm(17.0));
//! let over_the_bead = hose.outside_on(Length::mm(19.0));
//! let clamp = stock.clamps.iter().find(|clamp| clamp.holds(gripped) && clamp.opens_over(over_the_bead)).unwrap();
//! let torque = stock.torque_for(clamp.band(), Tightening::NewHose).unwrap();
//! assert!(!torque.source.what.is_empty());
//! ```

mod bore;
mod clamp;
mod class;
mod hose;
mod material;
mod tables;
mod torque;

pub use bore::{BoreRow, Making};
pub use clamp::{Clamp, ClampKind};
pub use class::{Class, Rubber};
pub use hose::{Hose, OwnHose};
pub use material::{GRAVITY, hose_modulus, modulus_of_hardness};
pub use tables::{COOLANT_DENSITY, RUBBER_DENSITY, RUBBER_HARDNESS};
pub use torque::{Tightening, Torque};

use quantity::{Length, Sourced, Window};
use std::borrow::Cow;

/// Everything that can be bought.
///
/// The lists are plain fields, so that a test, or a person with a roll in the garage, can bring others.
///
/// ```
/// use stock::Stock;
/// let nothing_on_the_shelf = Stock { hoses: Vec::new().into(), ..Stock::built_in() };
/// assert!(nothing_on_the_shelf.hoses.is_empty());
/// ```
#[derive(Clone, Debug)]
pub struct Stock {
    /// Straight universal hoses, by bore.
    pub hoses: Cow<'static, [Hose]>,
    /// Clamps, by kind, standard and size.
    pub clamps: Cow<'static, [Clamp]>,
    /// What the bore of a hose of a nominal size may really be.
    pub bores: Cow<'static, [BoreRow]>,
    /// How tight a worm drive clamp is made.
    pub torques: Cow<'static, [Torque]>,
    /// The classes of coolant hose and the temperatures they bear.
    pub classes: Cow<'static, [Class]>,
}

impl Stock {
    /// The tables of this crate.
    #[must_use]
    pub const fn built_in() -> Self {
        Self {
            hoses: Cow::Borrowed(&tables::HOSES),
            clamps: Cow::Borrowed(&tables::CLAMPS),
            bores: Cow::Borrowed(&tables::BORES),
            torques: Cow::Borrowed(&tables::TORQUES),
            classes: Cow::Borrowed(&tables::CLASSES),
        }
    }

    /// What the bore of a hose of this nominal size may really be, over every way in which it may have been made.
    ///
    /// A size within 0.2 mm of a row is that size: 5/8 in is 16 mm. `None` when no row is that near; then it is not
    /// known, and nothing is read between the rows.
    ///
    /// ```
    /// use quantity::Length;
    /// let stock = stock::Stock::built_in();
    /// let limits = stock.bore_limits(Length::inches(0.625)).unwrap().value;
    /// assert_eq!((limits.least(), limits.greatest()), (Length::mm(15.1), Length::mm(16.7)));
    /// assert!(stock.bore_limits(Length::mm(28.0)).is_none());
    /// ```
    #[must_use]
    pub fn bore_limits(&self, nominal: Length) -> Option<Sourced<Window<Length>>> {
        bore::limits(&self.bores, nominal)
    }

    /// How tight to make a worm drive clamp with a band of this width; `None` below the narrowest band of the table.
    ///
    /// Ask with [`Clamp::band`]. Where several sources give a torque the published one is taken; the others stay in [`Stock::torques`].
    #[must_use]
    pub fn torque_for(&self, band: Length, tightening: Tightening) -> Option<&Torque> {
        torque::for_band(&self.torques, band, tightening)
    }

    /// The class of this name, "D-1".
    #[must_use]
    pub fn class(&self, name: &str) -> Option<&Class> {
        self.classes.iter().find(|class| class.name == name)
    }
}
