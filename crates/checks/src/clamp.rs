//! Clamps: which size of each kind suits this hose on this spigot, where it sits, how tight, and why not the next smaller.

use crate::limits::Limit;
use crate::{Bead, Check, Finding, Laid, Spigot, Unit, Verdict};
use quantity::{Basis, Length, Source};
use std::borrow::Cow;
use stock::{Clamp, ClampKind, Hose, Stock, Tightening, Torque};

/// A clamp is best opened to no more than this part of its range.
const OPEN_AT_MOST: f64 = 0.9;
const OPEN: Source = Source::new(
    "a constant-tension clamp guide quoted in a forum, maker withheld: open it to 90 % of its range at most",
    Basis::CommonPractice,
);
const SIZE: Source = Source::new(
    "diameter to clamp: outside of the hose on the spigot, its volume kept; the clamp must also pass over the bead",
    Basis::Published,
);

/// A clamp that suits one end.
#[derive(Clone, Debug)]
pub struct ClampChoice<'a> {
    /// The clamp.
    pub clamp: &'a Clamp,
    /// Diameter it closes on.
    pub closes_on: Length,
    /// Diameter it must open over: hose on the bead, where the bead is known.
    pub opens_over: Length,
    /// Centre of its band from the end of the hose.
    pub band_from_end: Length,
    /// How tight on a new hose; a spring band has none.
    pub torque: Option<&'a Torque>,
    /// How tight when it is nipped up after the first heat.
    pub again: Option<&'a Torque>,
    /// Why the next smaller size of the same kind will not do; `None` if there is no smaller one.
    pub not_smaller: Option<String>,
}

/// The diameter under the band and the one it passes on the way.
fn diameters(spigot: &Spigot, hose: &Hose) -> (Length, Length) {
    let seated = hose.outside_on(spigot.diameter.max(hose.bore));
    let passing = match spigot.bead {
        Bead::Of(bead) => hose.outside_on(bead.max(hose.bore)),
        Bead::Plain | Bead::NotKnown => seated,
    };
    (seated, passing.max(seated))
}

/// The best size of each kind and standard for this end, narrowest band first within a kind; empty if none suits.
///
/// Of the sizes that close on the hose and open over the bead, the one that is opened least far, but if it can be had
/// to no more than nine tenths of its range.
#[must_use]
pub fn clamps_for<'a>(spigot: &Spigot, hose: &Hose, stock: &'a Stock) -> Vec<ClampChoice<'a>> {
    let (closes_on, opens_over) = diameters(spigot, hose);
    let suits = |clamp: &&Clamp| clamp.holds(closes_on) && clamp.opens_over(opens_over);
    let easy = |clamp: &Clamp| closes_on <= clamp.greatest * OPEN_AT_MOST;
    let seat_room = spigot.seat - Length::mm(crate::fit::SEAT_ONE - crate::fit::BAND);
    let mut kinds: Vec<(ClampKind, &str, Length)> = Vec::new();
    let mut chosen: Vec<ClampChoice<'a>> = Vec::new();
    for clamp in stock.clamps.iter().filter(suits) {
        if kinds.contains(&kind(clamp)) {
            continue;
        }
        kinds.push(kind(clamp));
        let same = |other: &&Clamp| kind(other) == kind(clamp);
        let of_kind = || stock.clamps.iter().filter(same);
        let off_nominal = |c: &Clamp| c.nominal.map_or(Length::ZERO, |nominal| (nominal - closes_on).abs());
        let Some(best) = of_kind().filter(suits).min_by(|a, b| {
            let worm = |c: &Clamp| c.kind == ClampKind::WormDrive && !easy(c);
            worm(a)
                .cmp(&worm(b))
                .then(off_nominal(a).total_cmp(&off_nominal(b)))
                .then(a.greatest.total_cmp(&b.greatest))
        }) else {
            continue;
        };
        let smaller = of_kind().filter(|c| c.greatest < best.greatest).max_by(|a, b| a.greatest.total_cmp(&b.greatest));
        let tail = if best.band_greatest <= seat_room { 6.0 } else { 3.0 };
        let torque = |when| match best.kind {
            ClampKind::WormDrive => stock.torque_for(best.band(), when),
            ClampKind::SpringBand => None,
        };
        let choice = ClampChoice {
            clamp: best,
            closes_on,
            opens_over,
            band_from_end: Length::mm(tail) + best.band_greatest / 2.0,
            torque: torque(Tightening::NewHose),
            again: torque(Tightening::Again),
            not_smaller: smaller.map(|smaller| why_not(smaller, closes_on, opens_over)),
        };
        let behind = chosen.partition_point(|other| other.clamp.band_greatest <= best.band_greatest);
        chosen.insert(behind, choice);
    }
    chosen
}

/// The same for both ends of a hose. Where the size for the thicker end also closes on the thinner one, it is taken for both: one
/// size to buy, and none to mix up (our choice).
#[must_use]
pub fn clamps_for_ends<'a>(ends: [&Spigot; 2], hose: &Hose, stock: &'a Stock) -> [Vec<ClampChoice<'a>>; 2] {
    let [mut one, mut other] = ends.map(|spigot| clamps_for(spigot, hose, stock));
    for a in one.iter_mut().filter(|choice| choice.clamp.kind == ClampKind::WormDrive) {
        let like = |choice: &&mut ClampChoice| kind(choice.clamp) == kind(a.clamp);
        let Some(b) = other.iter_mut().find(like) else { continue };
        let (thin, thick) = if a.clamp.greatest < b.clamp.greatest { (a, b) } else { (b, a) };
        let serves_both = thick.clamp.holds(thin.closes_on) && thick.clamp.opens_over(thin.opens_over);
        if serves_both && thin.clamp.greatest < thick.clamp.greatest {
            thin.not_smaller = Some(format!("size {} would do at this end; this one serves both", thin.clamp.size));
            thin.clamp = thick.clamp;
        }
    }
    [one, other]
}

/// Clamps of one kind, by which the sizes are told apart: width of band and torque are the same in all of them.
fn kind(clamp: &Clamp) -> (ClampKind, &str, Length) {
    (clamp.kind, clamp.standard.as_ref(), clamp.band_greatest)
}

fn why_not(smaller: &Clamp, closes_on: Length, opens_over: Length) -> String {
    let size = &smaller.size;
    if !smaller.holds(closes_on) && closes_on > smaller.greatest {
        format!("size {size} does not go round the hose on its spigot")
    } else if !smaller.opens_over(opens_over) {
        format!("size {size} does not open over the bead")
    } else if smaller.kind == ClampKind::WormDrive {
        format!("size {size} would be opened to more than nine tenths of its range")
    } else {
        format!("size {size} is meant for a thinner hose")
    }
}

pub(crate) fn find(laid: &Laid<'_>, out: &mut Vec<Finding>) {
    for spigot in laid.spigots() {
        let (closes_on, _) = diameters(spigot, laid.hose);
        let some = !clamps_for(spigot, laid.hose, laid.stock).is_empty();
        out.push(Finding {
            verdict: if some { Verdict::Pass } else { Verdict::Fail },
            about: spigot.name.clone(),
            actual: Some(closes_on.as_mm()),
            unit: Unit::Millimetre,
            why: Cow::Borrowed(if some {
                "a clamp of a standard size closes on it"
            } else {
                "no clamp in the tables closes on it and opens over its bead"
            }),
            source: SIZE,
            ..Finding::not_checked(Check::Clamp, "")
        });
    }
}

pub(crate) fn limits() -> Vec<Limit> {
    vec![Limit::new("part of its range to which a clamp is opened at most", OPEN_AT_MOST, "", OPEN)]
}
