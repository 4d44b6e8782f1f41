//! Takes a typed text apart: one number, decimal or fraction, and what stands after it.

use super::{Misread, Wrong, read_decimal};

/// Characters in the longest text that is read. "-123 15/16 inches" has 17; the rest is room for spaces.
const LONGEST: usize = 40;

/// The largest number that is read. A hundred thousand millimetres of hose is a hundred metres; beyond it a key stuck.
pub(super) const LARGEST: f64 = 100_000.0;

/// The fractions a phone offers as one character, halves to eighths as on an inch tape.
const ONE_CHARACTER_FRACTIONS: [(char, f64); 7] =
    [('½', 0.5), ('¼', 0.25), ('¾', 0.75), ('⅛', 0.125), ('⅜', 0.375), ('⅝', 0.625), ('⅞', 0.875)];

/// One typed number and its unit.
pub(super) struct Typed<'a> {
    /// The number, with its sign; at most [`LARGEST`] either way.
    pub(super) value: f64,
    /// Whether it was written as a fraction.
    pub(super) is_fraction: bool,
    /// The number as it was written, without its sign.
    pub(super) number: &'a str,
    /// What stands after the number: A to Z in small letters, no spaces, no full stop at the end. Empty when nothing does.
    pub(super) unit: String,
}

impl<'a> Typed<'a> {
    /// Takes a text apart into a number and a unit.
    pub(super) fn read(text: &'a str) -> Result<Self, Misread> {
        let text = text.trim();
        if text.chars().nth(LONGEST).is_some() {
            return Err(Wrong::TooLong.into());
        }
        if text.is_empty() {
            return Err(Wrong::Empty.into());
        }
        let unsigned = text.strip_prefix(['-', '−', '+']).unwrap_or(text).trim_start();
        let end = unsigned.find(|c| !may_stand_in_a_number(c)).unwrap_or(unsigned.len());
        let (number, unit) = unsigned.split_at(end);
        let number = number.trim_end();
        let unit: String = unit.chars().filter(|c| !c.is_whitespace()).map(|c| c.to_ascii_lowercase()).collect();

        let is_fraction = number.contains(is_fraction_character);
        let magnitude = if is_fraction { fraction(number)? } else { decimal(number)? };
        if magnitude > LARGEST {
            return Err(Wrong::TooLarge.into());
        }
        Ok(Self {
            // Taken from zero, so that "-0" is the same zero as "0".
            value: if text.starts_with(['-', '−']) { 0.0 - magnitude } else { magnitude },
            is_fraction,
            number,
            unit: unit.trim_end_matches('.').to_owned(),
        })
    }
}

fn may_stand_in_a_number(c: char) -> bool {
    c.is_ascii_digit() || c.is_whitespace() || is_mark(c) || is_fraction_character(c) || c == '-'
}

fn is_mark(c: char) -> bool {
    matches!(c, '.' | ',')
}

fn is_stroke(c: char) -> bool {
    matches!(c, '/' | '⁄')
}

fn is_fraction_character(c: char) -> bool {
    is_stroke(c) || ONE_CHARACTER_FRACTIONS.iter().any(|(sign, _)| *sign == c)
}

/// "16", "1.5", "1,5", ".5", "5.".
fn decimal(number: &str) -> Result<f64, Misread> {
    if !number.contains(|c: char| c.is_ascii_digit()) {
        return Err(Wrong::NoNumber.into());
    }
    if !number.chars().all(|c| c.is_ascii_digit() || is_mark(c)) {
        return Err(Wrong::NotOneNumber.into());
    }
    if number.chars().filter(|c| is_mark(*c)).count() > 1 {
        return Err(Wrong::SecondMark.into());
    }
    // The nearest double, so a typed 16.1 is the 16.1 of the tables.
    read_decimal(&number.replace(',', ".")).ok_or(Wrong::NotOneNumber.into())
}

/// "5/8", "1 1/4", "1-1/4", "½", "1½", "1 ½".
fn fraction(number: &str) -> Result<f64, Misread> {
    if number.contains(is_mark) {
        return Err(Wrong::FractionWithDecimals.into());
    }
    let (before, part) = match one_character_fraction_at_end(number) {
        Some(found) => found,
        None => stroke_fraction_at_end(number)?,
    };
    if before.is_empty() {
        return Ok(part);
    }
    let before = before.trim_end();
    let before = before.strip_suffix('-').unwrap_or(before).trim_end();
    Ok(whole(before).ok_or(Wrong::NotOneNumber)? + part)
}

/// Splits "1½" into "1" and 0.5.
fn one_character_fraction_at_end(number: &str) -> Option<(&str, f64)> {
    ONE_CHARACTER_FRACTIONS.iter().find_map(|(sign, value)| number.strip_suffix(*sign).map(|before| (before, *value)))
}

/// Splits "1 1/4" into "1 " and 0.25.
fn stroke_fraction_at_end(number: &str) -> Result<(&str, f64), Misread> {
    let (front, below) = number.split_once(is_stroke).ok_or(Wrong::NotOneNumber)?;
    let front = front.trim_end();
    let before = front.trim_end_matches(|c: char| c.is_ascii_digit());
    let above = whole(&front[before.len()..]).ok_or(Wrong::NotOneNumber)?;
    let below = whole(below.trim_start()).ok_or(Wrong::NotOneNumber)?;
    if below <= 0.0 {
        return Err(Wrong::ZeroBelowTheLine.into());
    }
    Ok((before, above / below))
}

/// A whole number: digits and nothing else.
fn whole(digits: &str) -> Option<f64> {
    if digits.is_empty() || !digits.chars().all(|c| c.is_ascii_digit()) {
        return None;
    }
    read_decimal(digits)
}
