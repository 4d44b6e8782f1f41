//! Reads what people type at the car, "16", "1,5", "1 1/4 in", "1.1 bar", and writes quantities back the same way.
//!
//! A point and a comma both mark decimals; a second mark is refused, never taken for thousands. A fraction means
//! inches. Every reader takes any text at all and answers with a quantity or a [`Misread`]: it is bounded in length
//! and size, never panics, and knows no exponents, no hexadecimal and no "NaN".
//!
//! ```
//! use quantity::{Length, text::{LengthUnit, print_length, read_length}};
//!
//! for typed in ["1 1/4 in", "1-1/4\"", "1¼ in", "31.75", "31,75 mm", "3.175 cm"] {
//!     assert_eq!(read_length(typed, LengthUnit::Millimetre), Ok(Length::mm(31.75)));
//! }
//! assert_eq!(print_length(Length::mm(31.75), LengthUnit::Inch), "1 1/4 in");
//!
//! let refused = read_length("5/8", LengthUnit::Millimetre).unwrap_err();
//! assert_eq!(refused.likely.as_deref(), Some("5/8 in"));
//! ```

mod decimal;
mod misread;
mod number;
mod print;

pub use decimal::read_decimal;
pub use misread::{Misread, Wrong};
pub use print::{print_angle, print_length, print_pressure, print_temperature};

use crate::{Angle, Length, Pressure, Temperature};
use number::Typed;

/// What a length is in when no unit is typed, and what it is printed in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LengthUnit {
    /// mm
    Millimetre,
    /// Inches of 25.4 mm.
    Inch,
}

/// What a pressure is in when no unit is typed, and what it is printed in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PressureUnit {
    /// kPa
    Kilopascal,
    /// bar
    Bar,
    /// Pound-force per square inch.
    Psi,
}

/// What a temperature is in when no unit is typed, and what it is printed in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TemperatureUnit {
    /// °C
    Celsius,
    /// °F
    Fahrenheit,
}

/// Reads a length: "16", "16 mm", "1,5", "2 cm", "0.5 m", "5/8 in", "1 1/4\"", "1½ in".
///
/// A fraction without a unit is read when the default is the inch; otherwise, as with "5/8 mm", it is refused and the
/// inch is named as likely.
///
/// # Errors
/// A [`Misread`] for anything that is not one number with a unit of length or none.
pub fn read_length(text: &str, default: LengthUnit) -> Result<Length, Misread> {
    let typed = Typed::read(text)?;
    let length = match typed.unit.as_str() {
        "" => match default {
            LengthUnit::Millimetre => millimetres(&typed)?,
            LengthUnit::Inch => Length::inches(typed.value),
        },
        "mm" => millimetres(&typed)?,
        "cm" => Length::mm(typed.value * 10.0),
        "m" => Length::mm(typed.value * 1000.0),
        // Phones turn the straight mark into a curly one; ″ is the proper double prime.
        "in" | "inch" | "inches" | "\"" | "″" | "”" | "“" | "''" => Length::inches(typed.value),
        _ => return Err(Wrong::UnknownUnit { known: "mm, cm, m or in" }.into()),
    };
    Ok(length)
}

/// Tapes show no fractions of a millimetre, so a fraction here means that the unit is wrong.
fn millimetres(typed: &Typed<'_>) -> Result<Length, Misread> {
    if typed.is_fraction {
        let sign = if typed.value.is_sign_negative() { "-" } else { "" };
        let likely = Some(format!("{sign}{} in", typed.number)).filter(|likely| Typed::read(likely).is_ok());
        return Err(Misread { wrong: Wrong::FractionOfAMillimetre, likely });
    }
    Ok(Length::mm(typed.value))
}

/// Reads a gauge pressure: `1,1 bar`, `110 kPa`, `16 psi`, `0.11 MPa`.
///
/// # Errors
/// A [`Misread`] for anything that is not one number with a unit of pressure or none.
pub fn read_pressure(text: &str, default: PressureUnit) -> Result<Pressure, Misread> {
    let typed = Typed::read(text)?;
    let unit = match typed.unit.as_str() {
        "" => default,
        "kpa" => PressureUnit::Kilopascal,
        "bar" => PressureUnit::Bar,
        "psi" => PressureUnit::Psi,
        "mpa" => return Ok(Pressure::mpa(typed.value)),
        _ => return Err(Wrong::UnknownUnit { known: "bar, kPa, MPa or psi" }.into()),
    };
    Ok(match unit {
        PressureUnit::Kilopascal => Pressure::kpa(typed.value),
        PressureUnit::Bar => Pressure::bar(typed.value),
        PressureUnit::Psi => Pressure::psi(typed.value),
    })
}

/// Reads a temperature: "95", "95 C", "95 °C", "203 °F", "-30".
///
/// # Errors
/// A [`Misread`] for anything that is not one number with a unit of temperature or none.
pub fn read_temperature(text: &str, default: TemperatureUnit) -> Result<Temperature, Misread> {
    let typed = Typed::read(text)?;
    let unit = match typed.unit.as_str() {
        "" | "°" => default,
        "c" | "°c" | "℃" => TemperatureUnit::Celsius,
        "f" | "°f" | "℉" => TemperatureUnit::Fahrenheit,
        _ => return Err(Wrong::UnknownUnit { known: "°C or °F" }.into()),
    };
    Ok(match unit {
        TemperatureUnit::Celsius => Temperature::celsius(typed.value),
        TemperatureUnit::Fahrenheit => Temperature::fahrenheit(typed.value),
    })
}

/// Reads an angle in degrees: "30", "30°", "-12,5 deg".
///
/// # Errors
/// A [`Misread`] for anything that is not one number of degrees.
pub fn read_angle(text: &str) -> Result<Angle, Misread> {
    let typed = Typed::read(text)?;
    match typed.unit.as_str() {
        "" | "°" | "deg" | "degree" | "degrees" => Ok(Angle::degrees(typed.value)),
        _ => Err(Wrong::UnknownUnit { known: "°, or nothing" }.into()),
    }
}

/// Reads a plain number: "4", "-1,5", "1/2".
///
/// # Errors
/// A [`Misread`] for anything that is not one number alone.
pub fn read_number(text: &str) -> Result<f64, Misread> {
    let typed = Typed::read(text)?;
    if typed.unit.is_empty() { Ok(typed.value) } else { Err(Wrong::UnknownUnit { known: "the number alone" }.into()) }
}

#[cfg(test)]
mod tests;
