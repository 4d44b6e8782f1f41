//! Writes quantities as a person reads them off a tape or a gauge.

use super::{LengthUnit, PressureUnit, TemperatureUnit};
use crate::{Angle, Length, Pressure, Temperature};

/// Parts of an inch on the finest common tape.
const PARTS_OF_AN_INCH: f64 = 16.0;

/// A length to the nearest tenth of a millimetre, "15.9 mm", or sixteenth of an inch, "20 7/8 in".
/// Nothing is "0", whatever the unit.
///
/// ```
/// use quantity::{Length, text::{LengthUnit, print_length}};
/// assert_eq!(print_length(Length::mm(15.875), LengthUnit::Millimetre), "15.9 mm");
/// assert_eq!(print_length(Length::mm(530.0), LengthUnit::Inch), "20 7/8 in");
/// ```
#[must_use]
pub fn print_length(length: Length, unit: LengthUnit) -> String {
    let (number, unit) = match unit {
        LengthUnit::Millimetre => (decimals(length.as_mm(), 1), "mm"),
        LengthUnit::Inch => (sixteenths(length.as_inches()), "in"),
    };
    if number == "0" { number } else { format!("{number} {unit}") }
}

/// A gauge pressure: "1.1 bar" and "16 psi" to a hundredth and a tenth, "110 kPa" to a tenth.
#[must_use]
pub fn print_pressure(pressure: Pressure, unit: PressureUnit) -> String {
    match unit {
        PressureUnit::Kilopascal => format!("{} kPa", decimals(pressure.as_kpa(), 1)),
        PressureUnit::Bar => format!("{} bar", decimals(pressure.as_bar(), 2)),
        PressureUnit::Psi => format!("{} psi", decimals(pressure.as_psi(), 1)),
    }
}

/// A temperature to the nearest tenth of a degree: "95 °C", "203 °F".
#[must_use]
pub fn print_temperature(temperature: Temperature, unit: TemperatureUnit) -> String {
    match unit {
        TemperatureUnit::Celsius => format!("{} °C", decimals(temperature.as_celsius(), 1)),
        TemperatureUnit::Fahrenheit => format!("{} °F", decimals(temperature.as_fahrenheit(), 1)),
    }
}

/// An angle to the nearest tenth of a degree: "30°".
#[must_use]
pub fn print_angle(angle: Angle) -> String {
    format!("{}°", decimals(angle.as_degrees(), 1))
}

/// At most so many decimals: "16", "15.9", never "16.0" or "-0".
fn decimals(value: f64, places: usize) -> String {
    let text = format!("{value:.places$}");
    let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

/// Whole inches and a fraction in lowest terms: "20 7/8", "5/8", "3", "0".
fn sixteenths(inches: f64) -> String {
    let parts = (inches.abs() * PARTS_OF_AN_INCH).round();
    if parts <= 0.0 {
        return "0".to_owned();
    }
    let sign = if inches < 0.0 { "-" } else { "" };
    let whole = (parts / PARTS_OF_AN_INCH).floor();
    let (mut above, mut below) = (parts - whole * PARTS_OF_AN_INCH, PARTS_OF_AN_INCH);
    if above <= 0.0 {
        return format!("{sign}{whole}");
    }
    while above % 2.0 <= 0.0 {
        above /= 2.0;
        below /= 2.0;
    }
    if whole > 0.0 { format!("{sign}{whole} {above}/{below}") } else { format!("{sign}{above}/{below}") }
}
