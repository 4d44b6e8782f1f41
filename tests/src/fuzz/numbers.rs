//! Texts that are nearly numbers, read as every quantity.

use super::{Broken, Fate, Met, below, kind, one, rarely, slipped};
use crate::layouts::Draw;
use quantity::text::{
    LengthUnit, PressureUnit, TemperatureUnit, print_length, read_angle, read_decimal, read_length, read_number,
    read_pressure, read_temperature,
};

const PARTS: [&str; 40] = [
    "0", "1", "9", "16", "25.4", "000", "99999999", "-", "+", "\u{2212}", ".", ",", "/", "\u{2044}", " ", "\u{a0}",
    "\u{bd}", "\u{215e}", "\"", "\u{2033}", "'", "mm", "cm", "m", "in", "bar", "kPa", "psi", "MPa", "\u{b0}", "C",
    "\u{b0}F", "deg", "e", "E", "e-", "e400", "inf", "NaN", "\u{663}",
];

/// A row of parts of numbers and units, with slips now and then.
pub(crate) fn drawn(draw: &mut Draw) -> String {
    let text: String = (0..=below(draw, 7)).map(|_| one(draw, &PARTS)).collect();
    if rarely(draw, 3) { slipped(&text, draw) } else { text }
}

/// Reads the text as everything that has a reader.
pub(crate) fn read(text: &str) -> Result<Met, Broken> {
    let mut met = Met { fate: Fate::Refused, seen: Vec::new() };
    let mut told = |what: &str, answer: Result<f64, String>| match answer {
        // Six places before the point and what an inch makes of them: far within the doubles.
        Ok(value) if value.abs() < 1e12 => {
            met.fate = Fate::Accepted;
            Ok(())
        }
        Ok(value) => Err(format!("{what}: {value}")),
        Err(why) if why.is_empty() => Err(format!("{what}: refused without a word")),
        Err(why) => {
            met.seen.push(kind(&why));
            Ok(())
        }
    };
    for unit in [LengthUnit::Millimetre, LengthUnit::Inch] {
        let length = read_length(text, unit);
        // What is typed in metres may be too long for as many figures of millimetres.
        if let Some(length) = length.as_ref().ok().copied().filter(|length| length.as_mm().abs() <= 1e5) {
            let printed = print_length(length, unit);
            if read_length(&printed, unit).is_err() {
                return Err(format!("printed as {printed:?}, which is refused"));
            }
        }
        told("length", length.map(quantity::Length::as_mm).map_err(|why| why.to_string()))?;
    }
    for unit in [PressureUnit::Kilopascal, PressureUnit::Bar, PressureUnit::Psi] {
        let pressure = read_pressure(text, unit).map(quantity::Pressure::as_kpa);
        told("pressure", pressure.map_err(|why| why.to_string()))?;
    }
    for unit in [TemperatureUnit::Celsius, TemperatureUnit::Fahrenheit] {
        let temperature = read_temperature(text, unit).map(quantity::Temperature::as_celsius);
        told("temperature", temperature.map_err(|why| why.to_string()))?;
    }
    told("angle", read_angle(text).map(quantity::Angle::as_degrees).map_err(|why| why.to_string()))?;
    told("number", read_number(text).map_err(|why| why.to_string()))?;
    // The reader of files, against the standard library's, which takes words and a plus besides.
    let plain = text.bytes().all(|c| c.is_ascii_digit() || b"-.eE+".contains(&c)) && !text.starts_with('+');
    let (ours, std) = (read_decimal(text), text.parse::<f64>().ok().filter(|_| plain));
    if ours.map(f64::to_bits) != std.map(f64::to_bits) {
        return Err(format!("read as {ours:?}, by the standard library as {std:?}"));
    }
    Ok(met)
}
