//! Any input at all: sound ones damaged by a draw, through the doors, and what must hold whatever comes of it.
//!
//! The same code makes the bounded number of cases of the tests at the foot and the long runs of `cargo xtask fuzz`
//! (`../examples/fuzz.rs`).

pub(crate) mod jobs;
pub(crate) mod links;
pub(crate) mod numbers;

use crate::layouts::Draw;

/// What became of an input, of which both are right.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Fate {
    Refused,
    Accepted,
}

/// What became of an input, and what was seen on the way: an input that shows something never seen is worth keeping.
#[derive(Debug)]
pub(crate) struct Met {
    pub(crate) fate: Fate,
    pub(crate) seen: Vec<String>,
}

impl Met {
    pub(crate) fn refused(why: &str) -> Self {
        Self { fate: Fate::Refused, seen: vec![kind(why)] }
    }
}

/// A claim that does not hold, in words.
pub(crate) type Broken = String;

/// The words without their numbers and names: what kind of sentence it is.
pub(crate) fn kind(words: &str) -> String {
    let quoted = words.split('"').step_by(2);
    quoted.flat_map(str::chars).filter(|c| c.is_alphabetic() || *c == ' ').take(60).collect()
}

/// One of `n`, all alike.
pub(crate) fn below(draw: &mut Draw, n: usize) -> usize {
    usize::try_from(draw.bits() % n.max(1) as u64).unwrap_or(0)
}

/// One of a list.
pub(crate) fn one<'a, T: ?Sized>(draw: &mut Draw, of: &[&'a T]) -> &'a T {
    of[below(draw, of.len())]
}

/// Once in `n` times.
pub(crate) fn rarely(draw: &mut Draw, n: usize) -> bool {
    below(draw, n) == 0
}

/// A text with a few slips in it: characters lost, put in, changed, doubled, or all behind a place cut off.
pub(crate) fn slipped(text: &str, draw: &mut Draw) -> String {
    const PUT: [&str; 18] = [
        "0",
        "9",
        "-",
        "e9",
        ".",
        ",",
        ":",
        "\"",
        "\\",
        "{",
        "}",
        "[",
        "]",
        "null",
        "\n",
        "\u{0}",
        "\u{202e}",
        "\u{1f527}",
    ];
    let mut chars: Vec<char> = text.chars().collect();
    for _ in 0..=below(draw, 3) {
        let at = below(draw, chars.len());
        let few = (at + 1 + below(draw, 5)).min(chars.len());
        match below(draw, 5) {
            0 => drop(chars.drain(at..few)),
            1 => drop(chars.splice(at..at, one(draw, &PUT).chars())),
            2 if at < chars.len() => {
                chars[at] = char::from_u32(u32::from(chars[at]) ^ (1 << below(draw, 7))).unwrap_or('\0')
            }
            3 => drop(chars.splice(at..at, chars[at..few].to_vec())),
            _ if rarely(draw, 4) => chars.truncate(at),
            _ => {}
        }
    }
    chars.into_iter().collect()
}

#[cfg(test)]
mod tests;
