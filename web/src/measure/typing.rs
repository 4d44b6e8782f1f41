//! A number while it is being typed on the keypad: digits and one decimal mark, or whole inches and parts of one.

use quantity::Length;
use quantity::text::{LengthUnit, read_decimal};

/// Digits before they are more than anyone has under a bonnet (our choice).
const MOST: usize = 6;

/// Parts of an inch that have a key of their own, in sixteenths.
pub(super) const PARTS: [(u8, &str); 4] = [(8, "½"), (4, "¼"), (2, "⅛"), (1, "1/16")];

/// A number while it is being typed.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Typing {
    digits: String,
    /// Sixteenths of an inch: a bit for each part that is switched on, so never more than fifteen.
    sixteenths: u8,
}

impl Typing {
    pub(super) fn is_empty(&self) -> bool {
        self.digits.is_empty() && self.sixteenths == 0
    }

    pub(super) fn digit(&mut self, digit: char) {
        if self.digits.len() < MOST {
            self.digits.push(digit);
        }
    }

    /// A second mark is not taken, never read as thousands; a mark turns the parts off.
    pub(super) fn mark(&mut self) {
        if !self.digits.contains('.') {
            self.digits.push('.');
        }
        self.sixteenths = 0;
    }

    /// Switches a part on or off; a number with decimals has no parts.
    pub(super) fn part(&mut self, sixteenths: u8) {
        self.digits.retain(|c| c != '.');
        self.sixteenths ^= sixteenths;
    }

    pub(super) fn has(&self, sixteenths: u8) -> bool {
        self.sixteenths & sixteenths != 0
    }

    /// Takes back the parts first, then the last digit.
    pub(super) fn back(&mut self) {
        if self.sixteenths > 0 {
            self.sixteenths = 0;
        } else {
            self.digits.pop();
        }
    }

    /// As it is shown: "8 1/4", "210", "15.5".
    pub(super) fn shown(&self) -> String {
        let mut parts = (self.sixteenths, 16);
        while parts.0 > 0 && parts.0 % 2 == 0 {
            parts = (parts.0 / 2, parts.1 / 2);
        }
        match (self.digits.as_str(), parts.0) {
            (digits, 0) => digits.to_owned(),
            ("", above) => format!("{above}/{}", parts.1),
            (digits, above) => format!("{digits} {above}/{}", parts.1),
        }
    }

    /// In millimetres; `None` if no number was typed.
    pub(super) fn mm(&self, unit: LengthUnit) -> Option<f64> {
        let parts = f64::from(self.sixteenths) / 16.0;
        let whole = if self.digits.is_empty() && self.sixteenths > 0 { 0.0 } else { read_decimal(&self.digits)? };
        Some(match unit {
            LengthUnit::Millimetre => whole,
            LengthUnit::Inch => Length::inches(whole + parts).as_mm(),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn typed(keys: &str) -> Typing {
        let mut typing = Typing::default();
        for key in keys.chars() {
            match key {
                '.' => typing.mark(),
                'h' => typing.part(8),
                'q' => typing.part(4),
                '<' => typing.back(),
                digit => typing.digit(digit),
            }
        }
        typing
    }

    #[test]
    fn millimetres_and_inches_are_read_as_counted_on_a_tape() {
        assert_eq!(typed("210").mm(LengthUnit::Millimetre), Some(210.0));
        assert_eq!((typed("8q").mm(LengthUnit::Inch), typed("8q").shown().as_str()), (Some(209.55), "8 1/4"));
        assert_eq!(typed("hq").shown(), "3/4");
        assert_eq!(typed("1.5").mm(LengthUnit::Inch), Some(38.1));
        assert_eq!(typed("").mm(LengthUnit::Millimetre), None);
        assert_eq!(typed(".").mm(LengthUnit::Millimetre), None);
    }

    #[test]
    fn the_back_key_clears_the_parts_first_and_a_mark_turns_them_off() {
        assert_eq!(typed("8hq<").shown(), "8");
        assert_eq!(typed("8hq<<").shown(), "");
        assert_eq!(typed("8q.5").shown(), "8.5");
        assert_eq!(typed("8qq").shown(), "8", "pressed twice is off");
        assert_eq!(typed("1.2.3").shown(), "1.23", "a second mark is not taken");
        assert_eq!(typed("12345678").shown(), "123456");
    }
}
