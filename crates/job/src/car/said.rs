//! A thing that is said to the person, with the word it rests on.

use quantity::{Basis, Source};
use serde::{Deserialize, Serialize};

/// Something to do, to know or to leave, and on whose word.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct SaidReport {
    /// What it is about, in a word or two that never change: what a tick is kept by.
    pub key: String,
    /// The sentence.
    pub what: String,
    /// The numbers in it, by name, unit in the name.
    pub numbers: Vec<(String, f64)>,
    /// On whose word.
    pub source: String,
    /// What that is worth.
    pub basis: String,
}

impl SaidReport {
    pub(super) fn new(key: &str, what: impl Into<String>, source: &Source) -> Self {
        Self {
            key: key.to_owned(),
            what: what.into(),
            numbers: Vec::new(),
            source: source.what.clone().into_owned(),
            basis: source.basis.as_str().to_owned(),
        }
    }

    pub(super) fn with(mut self, name: &str, number: Option<f64>) -> Self {
        self.numbers.extend(number.map(|number| (name.to_owned(), number)));
        self
    }

    /// The number of that name.
    #[must_use]
    pub fn number(&self, name: &str) -> Option<f64> {
        self.numbers.iter().find(|(known, _)| known == name).map(|(_, number)| *number)
    }
}

/// What the trade does, where no source that can be cited was found.
pub(super) const fn trade(what: &'static str) -> Source {
    Source::new(what, Basis::CommonPractice)
}

/// What is printed somewhere that can be cited.
pub(super) const fn printed(what: &'static str) -> Source {
    Source::new(what, Basis::Published)
}

/// Our own rule.
pub(super) const fn ours(what: &'static str) -> Source {
    Source::new(what, Basis::OurChoice)
}

/// Names in a row: "a", "a and b", "a, b and c".
pub(super) fn in_a_row<'a>(names: impl IntoIterator<Item = &'a str>) -> String {
    let names: Vec<&str> = names.into_iter().collect();
    match names.as_slice() {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}
