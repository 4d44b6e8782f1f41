//! What is in the coolant: which glycol and how much of it, by volume, by mass, by molecules.
//!
//! Densities at 20 °C: water 998.2 kg/m³ (IAPWS-95); ethylene glycol 1113.2 and propylene glycol 1036.2 kg/m³ (handbook
//! values, from memory). Molar masses 18.015 28, 62.067 84 and 76.094 42 g/mol (from the atomic weights).

use crate::freeze::STRONGEST;

/// Density of water at 20 °C, kg/m³.
const WATER_20: f64 = 998.2;
/// Molar mass of water, g/mol.
const WATER_MOLAR: f64 = 18.015_28;

/// The glycol of a coolant.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Glycol {
    /// Ethylene glycol, of nearly every coolant. Poisonous.
    Ethylene,
    /// 1,2-propylene glycol.
    Propylene,
}

impl Glycol {
    const fn density_20(self) -> f64 {
        match self {
            Self::Ethylene => 1113.2,
            Self::Propylene => 1036.2,
        }
    }

    const fn molar(self) -> f64 {
        match self {
            Self::Ethylene => 62.067_84,
            Self::Propylene => 76.094_42,
        }
    }
}

/// Water with 0 to 60 % of a glycol by volume.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mix {
    glycol: Glycol,
    fraction: f64,
}

impl Mix {
    /// Plain water.
    pub const WATER: Self = Self { glycol: Glycol::Ethylene, fraction: 0.0 };

    /// A mix with this volume fraction of concentrate; `None` outside 0 to [`STRONGEST`].
    ///
    /// Above 60 % ethylene glycol freezes sooner again, carries less heat and is thicker.
    #[must_use]
    pub fn new(glycol: Glycol, fraction: f64) -> Option<Self> {
        (0.0..=STRONGEST).contains(&fraction).then_some(Self { glycol, fraction })
    }

    /// The mix of this mass fraction of glycol; `None` if that is outside 0 to [`STRONGEST`] by volume.
    #[must_use]
    pub fn of_mass(glycol: Glycol, mass: f64) -> Option<Self> {
        let glycol_volume = mass / glycol.density_20();
        Self::new(glycol, glycol_volume / (glycol_volume + (1.0 - mass) / WATER_20))
    }

    /// Which glycol. Of plain water it says nothing.
    #[must_use]
    pub const fn glycol(self) -> Glycol {
        self.glycol
    }

    /// Volume fraction of concentrate, 0 to 0.6.
    #[must_use]
    pub const fn fraction(self) -> f64 {
        self.fraction
    }

    /// Mass fraction of glycol, the volumes taken at 20 °C and as if they did not shrink.
    ///
    /// 50 % by volume is 52.7 % of ethylene, 50.9 % of propylene glycol; a table for inhibited coolant says 52.4 %.
    #[must_use]
    pub fn mass_fraction(self) -> f64 {
        let glycol = self.fraction * self.glycol.density_20();
        glycol / (glycol + (1.0 - self.fraction) * WATER_20)
    }

    /// Share of the molecules that are water.
    #[must_use]
    pub(crate) fn water_share(self) -> f64 {
        let mass = self.mass_fraction();
        let water = (1.0 - mass) / WATER_MOLAR;
        water / (water + mass / self.glycol.molar())
    }
}
