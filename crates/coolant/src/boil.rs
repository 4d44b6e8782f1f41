//! When the coolant boils: under which cap, how high above the sea, with how much glycol.
//!
//! - Water's vapour pressure: IAPWS-IF97 (revised release, 2007), region 4, equation 30; its inverse is equation 31.
//! - The glycols': equation 101 of DIPPR with the constants of Perry's Handbook, 8th ed., table 2-8, as the package
//!   chemicals 1.5.2 carries them.
//! - Both together: Raoult's law, activity coefficients of one. Against a handbook's table for 100.7 kPa it is within
//!   0.4 K from 50 to 60 % by mass and up to 1.4 K low, the safe side, at 20 to 45 %. Group-contribution models (UNIFAC)
//!   are 2 to 5 K off here and are not used.
//! - The air: ISO 2533, the standard atmosphere.

use crate::root::zero_between;
use crate::{Glycol, Mix};
use quantity::{Length, Pressure, Temperature};

const ZERO_C: f64 = 273.15;

/// The ten numbers of IF97's region 4, n1 to n10.
const N: [f64; 10] = [
    1_167.052_145_276_7,
    -724_213.167_032_06,
    -17.073_846_940_092,
    12_020.824_702_47,
    -3_232_555.032_233_3,
    14.915_108_613_53,
    -4_823.265_736_159_1,
    405_113.405_420_57,
    -0.238_555_575_678_49,
    650.175_348_447_98,
];

/// Pressures for which boiling is told, kPa: from 11 km up and open to far above any cap.
const PRESSURES: core::ops::RangeInclusive<f64> = 20.0..=1000.0;
/// Heights of the troposphere, where the formula for the air holds, m.
const HEIGHTS: core::ops::RangeInclusive<f64> = -2000.0..=11_000.0;
/// How closely the boiling point is solved for, K: far below the error of the model.
const WITHIN: f64 = 1e-7;

/// Pressure of the open air at this height above the sea, kPa; `None` outside -2 to 11 km.
///
/// ISO 2533, equation for the troposphere. Weather moves it by some 3 %.
#[must_use]
pub fn air_pressure_kpa(height: Length) -> Option<f64> {
    let metres = height.as_mm() / 1000.0;
    HEIGHTS.contains(&metres).then(|| 101.325 * libm::pow(1.0 - 2.255_77e-5 * metres, 5.255_88))
}

/// Vapour pressure of water, kPa, 0 to 373 °C: IF97 equation 30. Error below 0.03 %. Published.
#[must_use]
pub fn water_vapour_kpa(at: Temperature) -> f64 {
    let t = at.as_kelvin();
    let theta = t + N[8] / (t - N[9]);
    let a = theta * theta + N[0] * theta + N[1];
    let b = N[2] * theta * theta + N[3] * theta + N[4];
    let c = N[5] * theta * theta + N[6] * theta + N[7];
    let root = 2.0 * c / (-b + (b * b - 4.0 * a * c).sqrt());
    let square = root * root;
    1000.0 * square * square
}

/// Boiling point of water under this absolute pressure, 0.612 to 22 000 kPa: IF97 equation 31. Published.
#[must_use]
pub fn water_boils_at(absolute: Pressure) -> Temperature {
    let beta = (absolute.as_kpa() / 1000.0).sqrt().sqrt();
    let e = beta * beta + N[2] * beta + N[5];
    let f = N[0] * beta * beta + N[3] * beta + N[6];
    let g = N[1] * beta * beta + N[4] * beta + N[7];
    let d = 2.0 * g / (-f - (f * f - 4.0 * e * g).sqrt());
    let sum = N[9] + d;
    Temperature::celsius((sum - (sum * sum - 4.0 * (N[8] + N[9] * d)).sqrt()) / 2.0 - ZERO_C)
}

/// Vapour pressure of the pure glycol, kPa, -13 to 350 °C: DIPPR equation 101. Published.
#[must_use]
pub fn glycol_vapour_kpa(glycol: Glycol, at: Temperature) -> f64 {
    let t = at.as_kelvin();
    let square = t * t;
    let exponent = match glycol {
        Glycol::Ethylene => 84.09 - 10_411.0 / t - 8.1976 * libm::log(t) + 1.6536e-18 * square * square * square,
        Glycol::Propylene => 212.8 - 15_420.0 / t - 28.109 * libm::log(t) + 2.1564e-5 * square,
    };
    libm::exp(exponent) / 1000.0
}

/// Boiling point under a cap of this gauge pressure, this high above the sea.
///
/// A cap of zero is an open neck. `None` if the air's formula does not reach there, or the absolute pressure is outside
/// 20 to 1000 kPa. Error: see the head of this file; published laws, put together by us.
#[must_use]
pub fn boils_at(mix: Mix, cap: Pressure, height: Length) -> Option<Temperature> {
    let absolute = Pressure::kpa(air_pressure_kpa(height)? + cap.as_kpa());
    boils_under(mix, absolute)
}

/// Boiling point under this absolute pressure; `None` outside 20 to 1000 kPa.
#[must_use]
pub fn boils_under(mix: Mix, absolute: Pressure) -> Option<Temperature> {
    if !PRESSURES.contains(&absolute.as_kpa()) {
        return None;
    }
    let water = mix.water_share();
    let lowest = water_boils_at(absolute);
    if water >= 1.0 {
        return Some(lowest);
    }
    // Glycol gives less vapour than water: hotter than water alone. It gives some: cooler than if it gave none.
    let highest = water_boils_at(absolute / water);
    let excess = |celsius: f64| {
        let at = Temperature::celsius(celsius);
        water * water_vapour_kpa(at) + (1.0 - water) * glycol_vapour_kpa(mix.glycol(), at) - absolute.as_kpa()
    };
    zero_between(excess, lowest.as_celsius(), highest.as_celsius(), WITHIN).map(Temperature::celsius)
}
