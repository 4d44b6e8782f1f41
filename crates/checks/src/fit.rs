//! Fit: the hose on each spigot. Stretched or loose, past the bead, and whether the seat has room for a band.

use crate::limits::{Limit, our_choice};
use crate::{Bead, Bound, Check, Finding, Laid, Reading, Sense, Spigot, Unit, Verdict};
use quantity::{Basis, Length, Source, Window};
use stock::Hose;

/// Stretch of the bore on the spigot, percent, above which it goes on hard, and above which it does not.
const STRETCH_WARN: f64 = 10.0;
const STRETCH_FAIL: f64 = 12.0;
/// Stretch in passing the bead above which it should be warmed and wetted.
const BEAD_WARN: f64 = 20.0;
/// Room on a seat, mm: from the mouth over the bead, a gap behind it, a band, and the tail of hose beyond the band.
pub(crate) const BEAD_ZONE: f64 = 5.0;
pub(crate) const GAP: f64 = 1.5;
pub(crate) const BAND: f64 = 9.0;
const TAIL: f64 = 6.0;
/// Room for one band on a seat, mm.
pub const SEAT_ONE: f64 = BEAD_ZONE + GAP + BAND + TAIL;
/// Room for two: a second band and another gap.
pub(crate) const SEAT_TWO: f64 = SEAT_ONE + BAND + GAP;

const STRETCH: Source = Source::new(
    "0 to 5 % easy, 5 to 10 % hard, above 10 to 12 % refused; no standard gives a figure",
    Basis::CommonPractice,
);
const LOOSE: Source =
    Source::new("33 CFR 183.558 (fuel hose on spuds); the figures of its Table 8 from memory", Basis::FromMemory);
const SEAT: Source = Source::new(
    "bead 5, gap 1.5, band 9 and tail 6 mm: the tail is ABYC H-24 24.11.6 as quoted and workshop manuals, the sum is our choice",
    Basis::OurChoice,
);

/// How much wider than the spigot the bore may be, mm: steps at 3/8 in and 1 in of spigot.
fn loose_limit(spigot: Length) -> f64 {
    match spigot.as_inches() {
        d if d < 0.375 => 0.51,
        d if d <= 1.0 => 0.89,
        _ => 1.57,
    }
}

fn stretch(bore: Length, over: Length) -> f64 {
    100.0 * (over / bore - 1.0)
}

fn reading(check: Check, which: usize, actual: f64, warn: Option<f64>, fail: Option<f64>, sense: Sense) -> Reading {
    Reading { check, which, actual, at: 0.0, bound: Bound { warn, fail, sense } }
}

pub(crate) fn on_spigot(spigot: &Spigot, hose: &Hose, bore: Option<Window<Length>>, out: &mut Vec<Finding>) {
    let mut add = |reading: Reading, unit, why, source| {
        let finding = Finding { at: None, ..reading.worded(&spigot.name, unit, why, source) };
        out.push(finding);
    };
    let nominal = stretch(hose.bore, spigot.diameter);
    let (least, greatest) = bore.map_or((hose.bore, hose.bore), |bore| (bore.least(), bore.greatest()));
    let tightest = stretch(least, spigot.diameter);
    // The nominal (or measured) bore decides; what the size may really be can only warn, at either end: the roll in hand
    // can be measured. Judged at its greatest bore, a hose would be refused on a spigot of its own size.
    let limit = Some(loose_limit(spigot.diameter));
    let slack = |bore: Length| (bore - spigot.diameter).as_mm();
    let loose = reading(Check::Fit, 0, slack(hose.bore), None, limit, Sense::AtMost);
    let may_be_loose = reading(Check::Fit, 0, slack(greatest), limit, None, Sense::AtMost);
    if loose.verdict() == Verdict::Fail {
        add(loose, Unit::Millimetre, "too loose on the spigot for any clamp to seal", LOOSE);
    } else {
        let at_nominal = reading(Check::Fit, 0, nominal, Some(STRETCH_WARN), Some(STRETCH_FAIL), Sense::AtMost);
        let at_least = reading(Check::Fit, 0, tightest, Some(STRETCH_FAIL), None, Sense::AtMost);
        match (at_nominal.verdict(), at_least.verdict()) {
            (Verdict::Fail, _) => add(at_nominal, Unit::Percent, "stretched too far on the spigot", STRETCH),
            (Verdict::Warn, _) => add(at_nominal, Unit::Percent, "goes on hard: warm it and wet it", STRETCH),
            (_, Verdict::Warn) => {
                add(
                    at_least,
                    Unit::Percent,
                    "stretched so far only if this roll is at the small end of its size: measure its bore",
                    STRETCH,
                );
            }
            _ if may_be_loose.verdict() == Verdict::Warn => {
                let why = "may be too loose if this roll is at the large end of its size: measure its bore";
                add(may_be_loose, Unit::Millimetre, why, LOOSE);
            }
            _ if bore.is_none() && !hose.own => {
                add(
                    at_nominal,
                    Unit::Percent,
                    "fits at its nominal bore; how far the real bore may be off is not known for this size",
                    STRETCH,
                );
            }
            _ => add(at_nominal, Unit::Percent, "fits, at the small and at the large end of its size", STRETCH),
        }
    }
    match spigot.bead {
        Bead::Of(bead) => {
            let passing = reading(Check::Bead, 0, stretch(hose.bore, bead), Some(BEAD_WARN), None, Sense::AtMost);
            let hard = passing.verdict() == Verdict::Warn;
            let why = if hard { "hard to get past the bead: warm it and wet it" } else { "goes over the bead" };
            add(passing, Unit::Percent, why, our_choice("stretch in passing a bead"));
        }
        Bead::Plain => add(
            reading(Check::Bead, 0, 0.0, None, None, Sense::AtMost),
            Unit::Percent,
            "a plain end: only the clamp holds the hose; a rolled bead would be better",
            Source::new("33 CFR 183.560: clamp beyond the bead, flare or serrations", Basis::Published),
        ),
        Bead::NotKnown => {
            out.push(Finding {
                about: spigot.name.clone(),
                ..Finding::not_checked(Check::Bead, "needs the diameter of the bead, or that there is none")
            });
        }
    }
    let mut seat = reading(Check::Seat, 0, spigot.seat.as_mm(), Some(SEAT_ONE), Some(BAND + TAIL), Sense::AtLeast);
    let why = match seat.verdict() {
        Verdict::Fail => "too short for a band and the hose behind it",
        Verdict::Warn => "short: the band sits on or close to the bead",
        _ if seat.actual >= SEAT_TWO => "room for one band, and for two",
        _ => "room for one band; a second would push the hose off",
    };
    seat.at = 0.0;
    out.push(Finding { at: None, ..seat.worded(&spigot.name, Unit::Millimetre, why, SEAT) });
}

pub(crate) fn find(laid: &Laid<'_>, out: &mut Vec<Finding>) {
    for spigot in laid.spigots() {
        on_spigot(spigot, laid.hose, laid.bore, out);
    }
}

pub(crate) fn limits() -> Vec<Limit> {
    vec![
        Limit::new("stretch on a spigot: warns above", STRETCH_WARN, "%", STRETCH),
        Limit::new("stretch on a spigot: fails above", STRETCH_FAIL, "%", STRETCH),
        Limit::new("stretch in passing a bead: warns above", BEAD_WARN, "%", our_choice("stretch in passing a bead")),
        Limit::new("loose on a spigot under 9.5 mm: fails above", 0.51, "mm", LOOSE),
        Limit::new("loose on a spigot up to 25.4 mm: fails above", 0.89, "mm", LOOSE),
        Limit::new("loose on a thicker spigot: fails above", 1.57, "mm", LOOSE),
        Limit::new("seat for one band: warns below", SEAT_ONE, "mm", SEAT),
        Limit::new("seat for two bands", SEAT_TWO, "mm", SEAT),
        Limit::new("seat for band and tail: fails below", BAND + TAIL, "mm", SEAT),
    ]
}
