//! A number and its two limits: what a check is before it is put into words.

use crate::{Check, Finding, Unit, Verdict};
use quantity::Source;
use std::borrow::Cow;

/// On which side of its limit a number must lie.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sense {
    /// Too small is bad.
    AtLeast,
    /// Too great is bad.
    AtMost,
}

/// A limit: below it (or above it) the check warns, or fails. An absent one never does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bound {
    /// Where it begins to warn.
    pub warn: Option<f64>,
    /// Where it fails.
    pub fail: Option<f64>,
    /// Which side is bad.
    pub sense: Sense,
}

/// What a check measured on a lie.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// Which check.
    pub check: Check,
    /// Which spigot (0 is A) or which thing near it, where the check looks at several.
    pub which: usize,
    /// What was measured.
    pub actual: f64,
    /// Where along the hose, mm from mouth A.
    pub at: f64,
    /// Its limits.
    pub bound: Bound,
}

impl Reading {
    /// How far on the good side of `limit` the number lies; negative when it breaks it.
    #[must_use]
    pub fn margin(&self, limit: f64) -> f64 {
        match self.bound.sense {
            Sense::AtLeast => self.actual - limit,
            Sense::AtMost => limit - self.actual,
        }
    }

    /// Margin to failing; infinite if it cannot fail.
    #[must_use]
    pub fn to_fail(&self) -> f64 {
        self.bound.fail.map_or(f64::INFINITY, |limit| self.margin(limit))
    }

    /// Margin to the nearer of warning and failing; infinite if it can do neither.
    #[must_use]
    pub fn to_warn(&self) -> f64 {
        self.bound.warn.map_or(f64::INFINITY, |limit| self.margin(limit)).min(self.to_fail())
    }

    /// How it comes out.
    #[must_use]
    pub fn verdict(&self) -> Verdict {
        if self.to_fail() < 0.0 {
            Verdict::Fail
        } else if self.to_warn() < 0.0 {
            Verdict::Warn
        } else {
            Verdict::Pass
        }
    }

    /// Put into words.
    pub(crate) fn worded(&self, about: &str, unit: Unit, why: &'static str, source: Source) -> Finding {
        let verdict = self.verdict();
        let (warn, fail) = (self.bound.warn, self.bound.fail);
        Finding {
            check: self.check,
            verdict,
            about: about.to_owned(),
            actual: Some(self.actual),
            allowed: if verdict == Verdict::Warn { warn } else { fail.or(warn) },
            unit,
            at: Some(self.at),
            why: Cow::Borrowed(why),
            source,
            extra: Vec::new(),
        }
    }
}
