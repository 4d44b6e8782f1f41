//! Numbers: short where a hand typed them, and back to the last bit always.
//!
//! | first 4 bits | then | value |
//! |---|---|---|
//! | 0 | | 0 |
//! | w = 1 to 13 | sign, w − 1 bits | a whole number of w bits |
//! | 14 | w in 4 bits, sign, w − 1 bits | tenths: a whole number of w bits, divided by 10 |
//! | 15 | k = 0 to 14 in 4 bits, w in 6 bits, sign, w − 1 bits | a whole number of w bits, divided by 10^k |
//! | 15 | 15 in 4 bits, 64 bits | the IEEE 754 binary64 with these bits |
//!
//! The leading one of a whole number is not written; sign 1 is minus; a whole number of no bits is 0 and has no sign.
//! A decimal form is used only if the division, rounded as IEEE 754 rounds, gives the number back bit for bit.

use super::bits::{Reader, Writer, width};

const POWERS: [f64; 15] = [1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14];
/// Widest whole number of the short form: 8191, beyond any place in a car in millimetres.
const SHORT: u32 = 13;
const TENTHS: u8 = 14;
const LONG: u8 = 15;
/// In place of a number of decimals.
const RAW: u8 = 15;

/// The fewest decimals with which the number is written exactly, and its digits as a whole number.
fn decimal(value: f64) -> Option<(usize, i64)> {
    // Up to here whole numbers are exact, so that the division is the only rounding.
    const EXACT: f64 = 9_007_199_254_740_992.0;
    POWERS.iter().enumerate().find_map(|(decimals, power)| {
        let digits = (value * power).round();
        if digits.abs() >= EXACT {
            return None;
        }
        #[expect(clippy::cast_possible_truncation, reason = "a whole number below 2^53")]
        let digits = digits as i64;
        (divided(digits, *power).to_bits() == value.to_bits()).then_some((decimals, digits))
    })
}

fn divided(digits: i64, power: f64) -> f64 {
    digits as f64 / power
}

pub(super) fn write(value: f64, to: &mut Writer) {
    if !value.is_finite() {
        return to.not_a_number();
    }
    let Some((decimals, digits)) = decimal(value) else {
        to.bits(LONG.into(), 4);
        to.bits(RAW.into(), 4);
        return to.bits(value.to_bits(), 64);
    };
    let size = digits.unsigned_abs();
    let w = width(size);
    match decimals {
        0 if w <= SHORT => to.bits(w.into(), 4),
        1 if w < 16 => {
            to.bits(TENTHS.into(), 4);
            to.bits(w.into(), 4);
        }
        _ => {
            to.bits(LONG.into(), 4);
            to.bits(decimals as u64, 4);
            to.bits(w.into(), 6);
        }
    }
    if w > 0 {
        to.bit(digits < 0);
        to.below_leading(size, w);
    }
}

pub(super) fn read(from: &mut Reader<'_>) -> f64 {
    let (decimals, w) = match from.few(4) {
        LONG => match from.few(4) {
            RAW => return read_raw(from),
            decimals => (decimals, from.few(6)),
        },
        TENTHS => (1, from.few(4)),
        w => (0, w),
    };
    if w == 0 {
        return 0.0;
    }
    let minus = from.bit();
    let size = from.below_leading(w.into()) as i64;
    divided(if minus { -size } else { size }, POWERS[usize::from(decimals)])
}

fn read_raw(from: &mut Reader<'_>) -> f64 {
    let value = f64::from_bits(from.bits(64));
    if !value.is_finite() {
        from.unknown("a number");
    }
    value
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::link::{BadLink, CannotLink};

    /// The number that comes back, and in how many bits it went.
    fn there_and_back(value: f64) -> (f64, usize) {
        let mut to = Writer::new(1);
        write(value, &mut to);
        let written = to.written();
        let bytes = to.end().expect("finite");
        let mut from = Reader::new(1, &bytes);
        let back = read(&mut from);
        from.end().expect("all read");
        (back, written)
    }

    #[test]
    fn every_number_comes_back_to_the_last_bit() {
        // The limits of binary64 (IEEE 754-2019, table 3.5), sums that are no decimal, both zeros, and what is typed.
        let hard = [f64::MAX, f64::MIN, f64::MIN_POSITIVE, 5e-324, f64::EPSILON, 0.1 + 0.2, 1.0 / 3.0, -0.0, 0.0];
        let typed = [16.0, 17.2, -280.0, 15.875, 122.329_473, 8191.0, 8192.0, 3276.7, 3276.8, 1e15, 1e16, 1e-14, 1e-15];
        let exact = [9_007_199_254_740_991.0, 9_007_199_254_740_992.0, -900_719_925_474_099.1];
        for value in hard.into_iter().chain(typed).chain(exact) {
            let (back, _) = there_and_back(value);
            assert_eq!(back.to_bits(), value.to_bits(), "{value:e}");
        }
    }

    #[test]
    fn what_a_tape_gives_is_short() {
        // Counted by hand from the table above.
        for (value, bits) in [(0.0, 4), (5.0, 7), (16.0, 9), (-280.0, 13), (17.2, 16), (15.875, 28), (-0.0, 72)] {
            assert_eq!(there_and_back(value).1, bits, "{value}");
        }
    }

    #[test]
    fn what_is_no_number_is_refused() {
        for value in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
            let mut to = Writer::new(1);
            write(value, &mut to);
            assert_eq!(to.end(), Err(CannotLink::NotANumber));
            let mut to = Writer::new(1);
            to.bits(0xff, 8);
            to.bits(value.to_bits(), 64);
            let bytes = to.end().expect("bits");
            let mut from = Reader::new(1, &bytes);
            read(&mut from);
            assert_eq!(from.end(), Err(BadLink::Unknown { what: "a number" }));
        }
    }
}
