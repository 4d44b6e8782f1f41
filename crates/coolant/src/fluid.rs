//! Density and viscosity of the coolant at a temperature, and how much it expands.
//!
//! - Water: density by Kell, J. Chem. Eng. Data 20 (1975) 97, the constants as public programs carry them (some swap two
//!   digits of the last: the test tells them apart); within 0.014 kg/m³ of IAPWS-95 to 100 °C, 0.042 at 125. Viscosity by
//!   Pátek et al., J. Phys. Chem. Ref. Data 38 (2009) 21, IAPWS SR6-08, as the package iapws 1.5.5 carries it, valid to
//!   110 °C; within 0.04 % of IAPWS 2008 from 0 to 125 °C.
//! - Ethylene glycol: a polynomial in the temperature for each 10 % by volume, fitted by us to the table of inhibited
//!   coolant of a fluid maker's engineering manual (2001), as the data files of the package egasp 0.1.9 carry it.
//!   Density within 0.02 kg/m³ of every row, viscosity within 1.3 % of every row (its last digit is up to 1.8 %).
//!   Between them, water the first, a parabola through three in density and in the logarithm of viscosity:
//!   within 0.1 kg/m³ and 4.5 % of `CoolProp`'s correlation of the older table of the same coolant, which itself misses
//!   rows of the newer by 4.0 %. From the table's coldest rows the polynomials go on by a few kelvin to the freezing
//!   point. (Pure ethylene glycol, by Melinder, is up to 14 % thicker in a weak mix near its freezing point.)
//! - Propylene glycol: Melinder, Properties of Secondary Working Fluids (2010), pure glycol by mass, to 100 °C and 60 %
//!   by mass (59.1 % by volume; the last step to 60 % is the same polynomial carried on).
//!   Above 100 °C our choice: density and the logarithm of viscosity carried on straight. The same done to Melinder's
//!   ethylene glycol is within 8 % of the inhibited table's viscosity and 0.7 % of its density at 125 °C.

use crate::freeze::freezes_at;
use crate::{Glycol, Mix};
use quantity::{Basis, Temperature};

/// Temperatures for which a fluid is told, °C. Below the freezing point there is none.
const RANGE: core::ops::RangeInclusive<f64> = -20.0..=125.0;
/// Where Melinder's polynomials end, °C.
const MELINDER_TO: f64 = 100.0;
/// The greatest mass fraction of Melinder's polynomials. A sum of three roundings may lie above it.
const MELINDER_MASS: f64 = 0.6 + 1e-9;

/// Coolant at one temperature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fluid {
    /// kg/m³.
    pub density: f64,
    /// Dynamic viscosity, mPa·s.
    pub viscosity: f64,
    /// Published, or our choice where the published range was left.
    pub basis: Basis,
}

impl Fluid {
    /// The coolant at this temperature; `None` outside -20 to 125 °C and below its freezing point.
    ///
    /// As liquid under its cap: it says nothing of boiling. Errors at the head of this file.
    #[must_use]
    pub fn of(mix: Mix, at: Temperature) -> Option<Self> {
        let celsius = at.as_celsius();
        if !RANGE.contains(&celsius) || at < freezes_at(mix) {
            return None;
        }
        let (density, ln_viscosity, basis) = match mix.glycol() {
            _ if mix.fraction() <= 0.0 => (water_density(celsius), ln_water_viscosity(celsius), Basis::Published),
            Glycol::Ethylene => ethylene(mix.fraction(), celsius),
            Glycol::Propylene => propylene(mix.mass_fraction(), celsius),
        };
        Some(Self { density, viscosity: libm::exp(ln_viscosity), basis })
    }
}

/// By how much a volume of coolant grows between two temperatures: 0.045 is 4.5 %. `None` where [`Fluid::of`] has none.
///
/// The ratio of densities, less one. Within 0.002 percent points of the tables for ethylene glycol and water; Melinder's
/// propylene glycol expands up to 0.4 percent points more than another published set of it.
#[must_use]
pub fn expansion(mix: Mix, from: Temperature, to: Temperature) -> Option<f64> {
    Some(Fluid::of(mix, from)?.density / Fluid::of(mix, to)?.density - 1.0)
}

/// c0 + x (c1 + x (c2 + …)).
fn polynomial(coefficients: &[f64], x: f64) -> f64 {
    coefficients.iter().rev().fold(0.0, |sum, c| sum * x + c)
}

/// Kell 1975, at the air's pressure; kg/m³.
fn water_density(celsius: f64) -> f64 {
    const TOP: [f64; 6] = [999.839_52, 16.945_176, -7.987_040_1e-3, -46.170_461e-6, 105.563_02e-9, -280.542_53e-12];
    polynomial(&TOP, celsius) / (1.0 + 16.879_850e-3 * celsius)
}

/// Pátek 2009, at the air's pressure; logarithm of mPa·s.
fn ln_water_viscosity(celsius: f64) -> f64 {
    const TERMS: [(f64, f64); 4] = [(0.280_68, -1.9), (0.511_45, -7.7), (0.061_131, -19.6), (0.000_459_03, -40.0)];
    let ln_t = libm::log((celsius + 273.15) / 300.0);
    libm::log(TERMS.iter().map(|(a, b)| a * libm::exp(b * ln_t)).sum())
}

/// Density of 10, 20, … 60 % by volume: a + b t + c t², t in hundreds of °C, c the same for all.
const ETHYLENE_DENSITY: [(f64, f64); 6] =
    [(1018.73, -22.09), (1035.67, -24.87), (1051.78, -27.77), (1066.80, -30.74), (1081.08, -33.82), (1094.64, -36.98)];
const ETHYLENE_DENSITY_SQUARE: f64 = -24.32;

/// Logarithm of the viscosity in mPa·s of the same, powers of t upward.
const ETHYLENE_LN_VISCOSITY: [[f64; 5]; 6] = [
    [0.7413, -3.1890, 2.3317, -1.2242, 0.2911],
    [1.1143, -3.6679, 3.3055, -2.2379, 0.6385],
    [1.4298, -3.6169, 2.2518, -0.9216, 0.1450],
    [1.7695, -4.0742, 3.5252, -2.4370, 0.7134],
    [2.0857, -4.2608, 3.6392, -2.7012, 0.8719],
    [2.4909, -4.5921, 2.9315, -1.4356, 0.3449],
];

fn ethylene(fraction: f64, celsius: f64) -> (f64, f64, Basis) {
    let t = celsius / 100.0;
    let tenths = 10.0 * fraction;
    // The three columns around this mix: from the tenth at or below it on, but never past 60 %.
    let first = (1..=4).rev().find(|tenth| f64::from(*tenth) <= tenths).unwrap_or(0_u8);
    let column = |tenth: u8| match usize::from(tenth).checked_sub(1) {
        None => (water_density(celsius), ln_water_viscosity(celsius)),
        Some(row) => {
            let (a, b) = ETHYLENE_DENSITY[row];
            (a + t * (b + t * ETHYLENE_DENSITY_SQUARE), polynomial(&ETHYLENE_LN_VISCOSITY[row], t))
        }
    };
    let x = tenths - f64::from(first);
    let weights = [(1.0 - x) * (2.0 - x) / 2.0, x * (2.0 - x), x * (x - 1.0) / 2.0];
    let (mut density, mut ln_viscosity) = (0.0, 0.0);
    for (step, weight) in (0_u8..).zip(weights) {
        let (d, v) = column(first + step);
        density += weight * d;
        ln_viscosity += weight * v;
    }
    (density, ln_viscosity, Basis::Published)
}

/// Melinder's C(i, j), a row for each power i of the mass percent above 30.7031, a column for each power j of the
/// temperature above 32.7083 °C; kg/m³.
const PROPYLENE_DENSITY: [[f64; 4]; 6] = [
    [1018.0, -0.5406, -0.002666, 1.347e-5],
    [0.7604, -0.00945, 5.541e-5, -1.343e-7],
    [-0.002498, 2.7e-5, -4.018e-7, 3.376e-9],
    [-0.000155, 2.829e-6, -7.175e-9, 0.0],
    [-1.131e-6, -2.221e-8, 0.0, 0.0],
    [2.342e-8, 0.0, 0.0, 0.0],
];

/// The same for the logarithm of the viscosity in mPa·s.
const PROPYLENE_LN_VISCOSITY: [[f64; 4]; 6] = [
    [0.6837, -0.03045, 0.0002525, -1.399e-6],
    [0.03328, -0.0003984, 4.332e-6, -1.86e-8],
    [5.453e-5, -8.6e-8, -1.593e-8, -4.465e-11],
    [-3.9e-6, 1.054e-7, -1.589e-9, 0.0],
    [-1.587e-8, 4.475e-10, 0.0, 0.0],
    [3.564e-9, 0.0, 0.0, 0.0],
];

fn propylene(mass_fraction: f64, celsius: f64) -> (f64, f64, Basis) {
    let x = 100.0 * mass_fraction - 30.7031;
    let y = celsius.min(MELINDER_TO) - 32.7083;
    let beyond = (celsius - MELINDER_TO).max(0.0);
    let value = |rows: &[[f64; 4]; 6]| {
        let by_power: [f64; 4] = core::array::from_fn(|j| rows.iter().rev().fold(0.0, |sum, row| sum * x + row[j]));
        let slope = by_power[1] + y * (2.0 * by_power[2] + y * 3.0 * by_power[3]);
        polynomial(&by_power, y) + beyond * slope
    };
    let basis = if beyond > 0.0 || mass_fraction > MELINDER_MASS { Basis::OurChoice } else { Basis::Published };
    (value(&PROPYLENE_DENSITY), value(&PROPYLENE_LN_VISCOSITY), basis)
}
