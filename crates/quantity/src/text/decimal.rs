//! The number nearest to a decimal text.
//!
//! What `str::parse` does. It is done by long division here: the tables with which the standard library does it faster
//! are 10 kB of the page that no packing makes smaller.

/// Significant figures that are read. A number halfway between two doubles has 767 at most; of all figures beyond these
/// it only matters whether one of them is not 0.
const FIGURES: usize = 800;

/// Bits of a double's significand.
const PRECISION: u32 = f64::MANTISSA_DIGITS;
/// The last place of the smallest doubles is 2^-1074.
const LOWEST: i64 = -1074;
/// The bits of infinity.
const INFINITY: u64 = f64::INFINITY.to_bits();

/// Reads "16", "-1.5", ".5", "5.", "1e-7": the nearest double, of two equally near ones the even one, infinite if it is
/// too large. `None` for anything else.
///
/// ```
/// use quantity::text::read_decimal;
/// assert_eq!(read_decimal("-16.1e0"), Some(-16.1));
/// assert_eq!(read_decimal("16,1"), None);
/// ```
#[must_use]
pub fn read_decimal(text: &str) -> Option<f64> {
    let unsigned = text.strip_prefix('-');
    let (figures, ten) = match unsigned.unwrap_or(text).split_once(['e', 'E']) {
        Some((figures, ten)) => (figures, power(ten)?),
        None => (unsigned.unwrap_or(text), 0),
    };
    let (whole, part) = figures.split_once('.').unwrap_or((figures, ""));
    if whole.is_empty() && part.is_empty() || !(whole.bytes().chain(part.bytes())).all(|c| c.is_ascii_digit()) {
        return None;
    }
    let mut significant = Whole::default();
    let mut ten = ten.saturating_sub(i64::try_from(part.len()).ok()?);
    let mut taken = 0;
    let mut cut = false;
    for figure in whole.bytes().chain(part.bytes()).map(|c| u32::from(c - b'0')) {
        if taken == FIGURES {
            ten = ten.saturating_add(1);
            cut |= figure > 0;
        } else if taken > 0 || figure > 0 {
            significant.times_plus(10, figure);
            taken += 1;
        }
    }
    let magnitude = nearest(significant, ten, taken, cut);
    Some(if unsigned.is_some() { -magnitude } else { magnitude })
}

/// The power of ten behind the e; one beyond all doubles if it is too long to count.
fn power(text: &str) -> Option<i64> {
    let unsigned = text.strip_prefix(['+', '-']).unwrap_or(text);
    if unsigned.is_empty() || !unsigned.bytes().all(|c| c.is_ascii_digit()) {
        return None;
    }
    let size = unsigned.bytes().fold(0_i64, |size, c| size.saturating_mul(10).saturating_add(i64::from(c - b'0')));
    Some(if text.starts_with('-') { -size } else { size })
}

/// The double nearest to `whole` × 10^`ten`, a number of so many figures; a little more than that if something was cut.
fn nearest(mut whole: Whole, ten: i64, figures: usize, cut: bool) -> f64 {
    let highest = ten.saturating_add(figures as i64);
    if figures == 0 || highest < -330 {
        return 0.0;
    }
    if highest > 310 {
        return f64::INFINITY;
    }
    // As many words behind the binary point as leave 64 bits of the quotient: a ten takes less than four bits.
    let words = usize::try_from((64 - 4 * ten.min(0)) / 32 + 1).unwrap_or(0);
    whole.0.splice(0..0, std::iter::repeat_n(0, words));
    let mut more = cut;
    for power in powers(ten) {
        whole.times_plus(power, 0);
    }
    for power in powers(-ten) {
        more |= whole.divide(power) > 0;
    }
    let behind = 32 * words as i64;
    let bits = whole.bits() as i64;
    // The power of two of the double's last place.
    let last = (bits - behind - i64::from(PRECISION)).max(LOWEST);
    let dropped = usize::try_from(last + behind).unwrap_or(0);
    let kept = (dropped..whole.bits()).rev().fold(0_u64, |kept, at| kept << 1 | u64::from(whole.bit(at)));
    let above_half = more || (0..dropped.saturating_sub(1)).any(|at| whole.bit(at));
    let half = dropped > 0 && whole.bit(dropped - 1);
    let rounded = kept + u64::from(half && (above_half || kept & 1 == 1));
    // A significand that rounding makes one bit longer, or that is one bit too short for a normal number, is right as well:
    // its leading bit is added to the exponent.
    let exponent = u64::try_from(last - LOWEST).unwrap_or(0);
    f64::from_bits(((exponent << (PRECISION - 1)) + rounded).min(INFINITY))
}

/// Powers of ten that a word holds, whose product is this power of ten; none below the first.
fn powers(ten: i64) -> impl Iterator<Item = u32> {
    (0..ten).step_by(9).map(move |done| (done..ten).take(9).fold(1, |power, _| power * 10))
}

/// A whole number of any size, in words of 32 bits, lowest first.
#[derive(Debug, Default)]
struct Whole(Vec<u32>);

impl Whole {
    fn times_plus(&mut self, times: u32, plus: u32) {
        let mut carry = u64::from(plus);
        for word in &mut self.0 {
            carry += u64::from(*word) * u64::from(times);
            *word = low(carry);
            carry >>= 32;
        }
        if carry > 0 {
            self.0.push(low(carry));
        }
    }

    /// Divides and gives the remainder.
    fn divide(&mut self, by: u32) -> u64 {
        let by = u64::from(by);
        self.0.iter_mut().rev().fold(0, |rest, word| {
            let value = rest << 32 | u64::from(*word);
            *word = low(value / by);
            value % by
        })
    }

    /// How many bits it has, from its leading one.
    fn bits(&self) -> usize {
        let words = self.0.iter().rposition(|word| *word > 0).map_or(0, |at| at + 1);
        words.checked_sub(1).map_or(0, |top| 32 * words - self.0[top].leading_zeros() as usize)
    }

    fn bit(&self, at: usize) -> bool {
        self.0[at / 32] >> (at % 32) & 1 == 1
    }
}

/// The low 32 bits.
fn low(value: u64) -> u32 {
    let [a, b, c, d, ..] = value.to_le_bytes();
    u32::from_le_bytes([a, b, c, d])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::for_all;
    use proptest::prelude::*;

    /// As the standard library reads it.
    #[track_caller]
    fn agrees(text: &str) {
        let (ours, std) = (read_decimal(text), text.parse::<f64>().ok());
        assert_eq!(ours.map(f64::to_bits), std.map(f64::to_bits), "{text}: {ours:?} for {std:?}");
    }

    #[test]
    fn every_double_is_read_back_from_its_shortest_and_its_whole_text() {
        for_all(any::<u64>(), |bits| {
            let number = f64::from_bits(bits);
            if number.is_finite() {
                for text in [format!("{number:e}"), format!("{number}"), format!("{number:.40e}")] {
                    agrees(&text);
                }
            }
            Ok(())
        });
    }

    #[test]
    fn any_spelling_is_read_as_the_standard_library_reads_it() {
        let text = "-?[0-9]{0,40}(\\.[0-9]{0,40})?([eE][+-]?[0-9]{0,4})?";
        for_all(text, |text| {
            agrees(&text);
            Ok(())
        });
    }

    #[test]
    fn halfway_between_two_doubles_the_even_one_is_taken_unless_there_is_more() {
        // With 53 bits, 2^53 + 1 and 2^52 + 1/2 lie halfway, and so do those two further on.
        for half in ["9007199254740993.", "9007199254740995.", "4503599627370496.5", "4503599627370497.5"] {
            agrees(half);
            agrees(&format!("{half}{}1", "0".repeat(900)));
        }
        // About half of the smallest double, the greatest below the normal ones, and the greatest of all.
        for text in [
            "2.4703282292062327208e-324",
            "2.4703282292062328e-324",
            "2.47032822920623272e-324",
            "2.2250738585072011e-308",
        ] {
            agrees(text);
        }
        for text in [
            "1.7976931348623157e308",
            "1.7976931348623158e308",
            "1.7976931348623159e308",
            "1e309",
            "1e99999999999999999999",
        ] {
            agrees(text);
        }
    }

    #[test]
    fn figures_that_come_to_nothing_are_read_and_what_is_no_number_is_not() {
        for zeros in
            ["0", "-0", "0.0", "0e5", "0e99999999999999999999", "-0e-99999999999999999999", "1e-400", "000016.10"]
        {
            agrees(zeros);
        }
        agrees(&format!("{}1", "0".repeat(2000)));
        agrees(&format!("0.{}1e2001", "0".repeat(2000)));
        agrees(&format!("1{}e-2000", "0".repeat(2000)));
        for none in ["", "-", ".", "e5", "1e", "1e+", "--1", "1.2.3", "1 ", "0x10", "1_0", "-.e1"] {
            assert_eq!(read_decimal(none), None, "{none}");
        }
        // Words and a plus are numbers for the standard library, not here.
        for word in ["inf", "NaN", "infinity", "+1"] {
            assert_eq!(read_decimal(word), None, "{word}");
        }
    }
}
