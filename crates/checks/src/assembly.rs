//! Assembly: whether a hose of the right length can be got on at all.
//!
//! The first end goes on to its place; the second must then pass its mouth, so the hose is too long by that seat until
//! it is on. Slid back past its place on the first spigot it is shorter by the plain length there; a part that can be
//! moved gives as much again. What is left must be taken up by bowing, and a bow has the hose's bend limit.

use crate::kink::KinkLimit;
use crate::limits::our_choice;
use crate::{Check, Finding, Laid, Reading, Spigot, Unit, Verdict};
use quantity::{Length, Source};
use shape::Lie;
use std::borrow::Cow;

const CHOICE: Source =
    our_choice("bowed in within its bend limit, slid back by the plain length behind the seat, or a part moved");

/// How much longer than its place the hose is while its second end goes on, after sliding back and moving a part;
/// `None` if nobody said how far it slides or moves.
#[must_use]
pub fn must_bow(from: &Spigot, to: &Spigot) -> Option<Length> {
    let known = [from, to].iter().any(|spigot| spigot.straight.is_some() || spigot.can_move.is_some());
    let given = |length: Option<Length>| length.unwrap_or(Length::ZERO);
    // Slid back on `held`, put on at `last`.
    let left = |held: &Spigot, last: &Spigot| last.seat - given(held.straight);
    let moved = given(from.can_move) + given(to.can_move);
    known.then(|| (left(from, to).min(left(to, from)) - moved).max(Length::ZERO))
}

/// The bend of the bowed lie; nothing if it need not bow or nothing is known.
pub(crate) fn read(laid: &Laid<'_>, bowed: Option<&Lie>, out: &mut Vec<Reading>) {
    if let Some(bow) = bowed {
        out.push(bend(laid, bow));
    }
}

fn bend(laid: &Laid<'_>, bow: &Lie) -> Reading {
    let limit = KinkLimit::of(laid.hose);
    let mut reading = limit.reading(Check::Assembly, 0, bow.peak().curvature, bow.peak().at);
    reading.bound.warn = None;
    reading
}

pub(crate) fn find(laid: &Laid<'_>, bowed: Option<&Lie>, out: &mut Vec<Finding>) {
    let Some(left) = must_bow(laid.from, laid.to) else {
        out.push(Finding::not_checked(
            Check::Assembly,
            "needs how far the hose slides back on a spigot: the plain length behind its seat",
        ));
        return;
    };
    if left <= Length::ZERO {
        out.push(Finding {
            verdict: Verdict::Pass,
            why: Cow::Borrowed("slides back far enough to go on the second spigot"),
            source: CHOICE,
            ..Finding::not_checked(Check::Assembly, "")
        });
        return;
    }
    let bent = bowed.map(|bow| bend(laid, bow)).filter(|reading| reading.verdict() == Verdict::Pass);
    let mut finding = match bent {
        Some(reading) => reading.worded("", Unit::Millimetre, "can be bowed in without a kink", CHOICE),
        None => Finding {
            verdict: Verdict::Fail,
            why: Cow::Borrowed("cannot be put on: a part must move, or the hose be cut and joined"),
            source: CHOICE,
            ..Finding::not_checked(Check::Assembly, "")
        },
    };
    finding.extra.push(("must_move_mm", left.as_mm()));
    out.push(finding);
}
