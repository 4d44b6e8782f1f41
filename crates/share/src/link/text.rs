//! Words: five bits to the letter, like a teleprinter, with a list of words of the trade.
//!
//! A text is a row of codes of 5 bits, ended by 0. It starts in the letters; the table stays until it is changed.
//!
//! | code | letters | figures |
//! |---|---|---|
//! | 0 | the end | the end |
//! | 1 to 27 | [`LETTERS`] | [`FIGURES`] |
//! | 28 | the next code is a letter, and a capital | not used |
//! | 29 | to the figures | to the letters |
//! | 30 | then 7 bits: a place in [`WORDS`], from 0 | the same |
//! | 31 | then w in 5 bits and w − 1 bits: the Unicode scalar value of w bits, its leading one not written | the same |
//!
//! The writer takes the longest word of the list that fits; else the table at hand, else the other, else a capital, else
//! the scalar value. The three lists are part of version A: nothing in them may change.

use super::bits::{Reader, Writer, width};

pub(super) const LETTERS: &str = "abcdefghijklmnopqrstuvwxyz ";
pub(super) const FIGURES: &str = "0123456789 .,-/()+&:'\"\u{b0}\u{d7}_#%";
const END: u8 = 0;
const CAPITAL: u8 = 28;
const OTHER_TABLE: u8 = 29;
const WORD: u8 = 30;
const ANY: u8 = 31;

/// Words that names of spigots, runs and neighbours are made of; our choice.
#[rustfmt::skip]
pub(super) const WORDS: [&str; 128] = [
    "heater", "radiator", "hose", "pipe", "pump", "engine", "exhaust", "battery", "tank", "thermostat", "housing",
    "water", "header", "expansion", "bypass", "return", "flow", "feed", "inlet", "outlet", "upper", "lower", "bottom",
    "left", "right", "front", "rear", "side", "bulkhead", "manifold", "core", "rail", "matrix", "valve", "cylinder",
    "head", "block", "carburettor", "throttle", "gearbox", "turbo", "oil", "cooler", "alternator", "belt", "fan",
    "bracket", "tray", "shield", "clip", "wing", "chassis", "frame", "crossmember", "subframe", "steering", "column",
    "brake", "clutch", "fuel", "line", "starter", "motor", "air", "filter", "box", "car", "van", "truck", "estate",
    "saloon", "grommet", "tee", "elbow", "spigot", "joiner", "plug", "cap", "drain", "bleed", "sensor", "hot", "cold",
    "steel", "cast iron", "aluminium", "brass", "copper", "plastic", "silicone", "EPDM", "NBR", "D-1", "D-2", "D-3",
    "none", "P-clip", "stub", "union", "boss", "plate", "panel", "floor", "tunnel", "mount", "strut", "servo", "gas",
    "sump", "pulley", "tensioner", "wheel", "arch", "loom", "wire", "bolt", "edge", "body", "bay", "stand", "beside",
    "under", "over", "with", "the ", "ing", "from", "_mm",
];

/// The code of a character in a table.
fn code(table: &str, c: char) -> Option<u8> {
    table.chars().zip(1..).find_map(|(known, code)| (known == c).then_some(code))
}

/// The character of a code in a table.
fn character(table: &str, code: u8) -> Option<char> {
    table.chars().zip(1..).find_map(|(c, known)| (known == code).then_some(c))
}

/// The longest word of the list with which `rest` begins.
fn word(rest: &str) -> Option<(usize, &'static str)> {
    let fitting = WORDS.into_iter().enumerate().filter(|(_, word)| rest.starts_with(word));
    fitting.max_by_key(|(_, word)| word.len())
}

pub(super) fn write(text: &str, to: &mut Writer) {
    let (mut table, mut other) = (LETTERS, FIGURES);
    let mut rest = text;
    while let Some(c) = rest.chars().next() {
        if let Some((place, word)) = word(rest) {
            to.bits(WORD.into(), 5);
            to.bits(place as u64, 7);
            rest = &rest[word.len()..];
            continue;
        }
        rest = &rest[c.len_utf8()..];
        let capital = c.is_ascii_uppercase();
        if let Some(code) = code(table, c) {
            to.bits(code.into(), 5);
            continue;
        }
        let elsewhere = code(other, c);
        if elsewhere.is_some() || (capital && table == FIGURES) {
            to.bits(OTHER_TABLE.into(), 5);
            (table, other) = (other, table);
        }
        if let Some(code) = elsewhere {
            to.bits(code.into(), 5);
        } else if let Some(code) = code(LETTERS, c.to_ascii_lowercase()).filter(|_| capital) {
            to.bits(CAPITAL.into(), 5);
            to.bits(code.into(), 5);
        } else {
            let scalar = u64::from(u32::from(c));
            to.bits(ANY.into(), 5);
            to.bits(width(scalar).into(), 5);
            to.below_leading(scalar, width(scalar));
        }
    }
    to.bits(END.into(), 5);
}

pub(super) fn read(from: &mut Reader<'_>) -> String {
    let (mut table, mut other) = (LETTERS, FIGURES);
    let mut text = String::new();
    loop {
        let c = match from.few(5) {
            END => return text,
            OTHER_TABLE => {
                (table, other) = (other, table);
                continue;
            }
            WORD => {
                text.push_str(WORDS[usize::from(from.few(7))]);
                continue;
            }
            CAPITAL if table == LETTERS => {
                character(LETTERS, from.few(5)).filter(char::is_ascii_lowercase).map(|c| c.to_ascii_uppercase())
            }
            ANY => {
                let w = from.few(5);
                u32::try_from(from.below_leading(w.into())).ok().and_then(char::from_u32)
            }
            code => character(table, code),
        };
        match c {
            Some(c) => text.push(c),
            None => from.unknown("a character"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::link::BadLink;

    fn there_and_back(text: &str) -> (String, usize) {
        let mut to = Writer::new(1);
        write(text, &mut to);
        let bytes = to.end().expect("bits");
        let mut from = Reader::new(1, &bytes);
        let back = read(&mut from);
        from.end().expect("all read");
        (back, bytes.len())
    }

    #[test]
    fn every_text_comes_back() {
        let hard =
            ["", "\0", "\u{10ffff}", "aB", "ABC", "1A", "A1 b", "D-1", "5/8 in", "1 1/4\"", "spigot_mm", "a\nb\t"];
        let names = ["Zulauf, K\u{fc}hler", "\u{43f}\u{435}\u{447}\u{43a}\u{430}", "\u{6c34}\u{7ba1}", "\u{1f527}"];
        let trade = ["exhaust pipe", "cast iron", "the the ", "overalls", "16 \u{d7} 4 mm, 90 \u{b0}", "EPDMX"];
        for text in hard.into_iter().chain(names).chain(trade) {
            assert_eq!(there_and_back(text).0, text);
        }
    }

    #[test]
    fn words_of_the_trade_are_short() {
        // 12 bits to a word, 5 to a space and the end: 34 bits, where UTF-8 takes 96 and has no end.
        assert_eq!(there_and_back("exhaust pipe").1, 5);
    }

    #[test]
    fn each_list_holds_as_many_as_its_code_can_say_and_nothing_twice() {
        for table in [LETTERS, FIGURES] {
            assert_eq!(table.chars().count(), 27);
        }
        let mut words = WORDS.to_vec();
        words.sort_unstable();
        words.dedup();
        assert_eq!(words.len(), 128);
        assert!(words.iter().all(|word| word.len() > 2), "a shorter one would be longer as a word");
    }

    #[test]
    fn what_is_no_character_is_refused() {
        // 28 in the figures; a capital space; a surrogate (Unicode, section 3.8); 31 bits.
        let rows: [&[(u64, u32)]; 4] = [
            &[(OTHER_TABLE.into(), 5), (28, 5)],
            &[(CAPITAL.into(), 5), (27, 5)],
            &[(ANY.into(), 5), (16, 5), (0xd800, 15)],
            &[(ANY.into(), 5), (31, 5), (0, 30)],
        ];
        for row in rows {
            let mut to = Writer::new(1);
            row.iter().for_each(|(value, width)| to.bits(*value, *width));
            let bytes = to.end().expect("bits");
            let mut from = Reader::new(1, &bytes);
            read(&mut from);
            assert_eq!(from.end(), Err(BadLink::Unknown { what: "a character" }));
        }
    }
}
