//! Hose clamps: what they close on and what they open over.

use quantity::{Length, Source};
use std::borrow::Cow;

/// How a clamp pulls.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ClampKind {
    /// A slotted band drawn tight by a screw; wants tightening again when the hose has set.
    WormDrive,
    /// A spring that follows the hose as it sets; it is put on open and has no torque.
    SpringBand,
}

/// A clamp of one size.
#[derive(Clone, Debug, PartialEq)]
pub struct Clamp {
    /// How it pulls.
    pub kind: ClampKind,
    /// The standard its size is from.
    pub standard: Cow<'static, str>,
    /// The size as it is asked for: "16-27", "10".
    pub size: Cow<'static, str>,
    /// The smallest diameter it still pulls on; of a spring band, the diameter as delivered.
    pub least: Length,
    /// The greatest diameter it goes over; of a spring band, the diameter held open.
    pub greatest: Length,
    /// The narrowest its band may be.
    pub band_least: Length,
    /// The widest its band may be: the room to leave on the spigot.
    pub band_greatest: Length,
    /// The diameter a spring band is meant for; none for a worm drive.
    pub nominal: Option<Length>,
    /// Where the size comes from.
    pub source: Source,
}

impl Clamp {
    /// Width of the band, the middle where the standard allows a range: what its torque goes by.
    #[must_use]
    pub fn band(&self) -> Length {
        (self.band_least + self.band_greatest) / 2.0
    }

    /// Whether it pulls on a hose that is this thick on its spigot.
    ///
    /// ```
    /// use quantity::Length;
    /// // DIN 3021-1: the band for 24 mm is 22 mm as delivered and 26 mm held open.
    /// let stock = stock::Stock::built_in();
    /// let band = stock.clamps.iter().find(|clamp| clamp.nominal == Some(Length::mm(24.0))).unwrap();
    /// assert!(band.holds(Length::mm(22.5)));
    /// assert!(!band.holds(Length::mm(22.0)), "as delivered it no longer pulls");
    /// assert!(band.opens_over(Length::mm(26.0)));
    /// assert!(!band.opens_over(Length::mm(26.5)));
    /// ```
    #[must_use]
    pub fn holds(&self, outside: Length) -> bool {
        let pulls = match self.kind {
            ClampKind::WormDrive => outside >= self.least,
            ClampKind::SpringBand => outside > self.least,
        };
        pulls && outside <= self.greatest
    }

    /// Whether it goes over a hose that is this thick where it passes, as over the bead.
    #[must_use]
    pub fn opens_over(&self, outside: Length) -> bool {
        outside <= self.greatest
    }
}
