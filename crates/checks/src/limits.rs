//! Every limit of every check with its source, so that a page can list them and a test can find one that lacks it.

use quantity::{Basis, Source};
use std::borrow::Cow;

/// A limit as it can be shown: what, how much, in what unit, on whose word.
#[derive(Clone, Debug)]
pub struct Limit {
    /// What it limits.
    pub what: &'static str,
    /// Its value.
    pub value: f64,
    /// Unit of the value; empty for a plain number.
    pub unit: &'static str,
    /// Where it is from.
    pub source: Source,
}

impl Limit {
    pub(crate) const fn new(what: &'static str, value: f64, unit: &'static str, source: Source) -> Self {
        Self { what, value, unit, source }
    }
}

/// The source of a finding that has none, because nothing was checked.
pub(crate) const NONE: Source = Source { what: Cow::Borrowed(""), basis: Basis::OurChoice };

/// A threshold of our own and why it is what it is.
pub(crate) const fn our_choice(why: &'static str) -> Source {
    Source::new(why, Basis::OurChoice)
}

/// All limits of all checks.
#[must_use]
pub fn limits() -> Vec<Limit> {
    [
        crate::fit::limits(),
        crate::clamp::limits(),
        crate::kink::limits(),
        crate::standoff::limits(),
        crate::heat::limits(),
        crate::pressure::limits(),
        crate::collapse::limits(),
        crate::hold::limits(),
        crate::flow::limits(),
        crate::sag::limits(),
        crate::air::limits(),
        crate::load::limits(),
        crate::snap::limits(),
    ]
    .concat()
}

#[cfg(test)]
mod tests {
    #[test]
    fn every_limit_says_where_it_is_from() {
        let limits = super::limits();
        assert!(limits.len() > 15, "all checks are in the list");
        for limit in limits {
            assert!(limit.source.what.len() > 8, "{} has no source", limit.what);
            assert!(limit.value.is_finite() && !limit.what.is_empty(), "{limit:?}");
        }
    }
}
