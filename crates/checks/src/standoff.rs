//! Standoff: how far the hose's skin, and the clamps on its seats, keep from every thing near the run.

use crate::limits::{Limit, our_choice};
use crate::{Bound, Check, Finding, Kind, Laid, Neighbour, Reading, Sense, Spigot, Unit, Verdict, gap};
use quantity::{Basis, Source};
use shape::{Lie, Vec3};
use stock::Hose;

/// From a bare hot part. Less warns; where its temperature is not known, and so the skin's is not, it fails.
const HOT: f64 = 76.0;
/// From the shield before a hot part.
const SHIELDED: f64 = 51.0;
/// From a moving part.
const MOVING: f64 = 25.0;
/// From anything else: nearer than this it may rub when things shake.
const OTHER: f64 = 12.0;
/// Room for the screw housing of a worm drive clamp, beyond the skin of the hose.
const CLAMP_HOUSING: f64 = 8.0;
/// The band sits this far behind the mouth: bead zone and gap; see `fit`.
const BAND_FROM_MOUTH: f64 = crate::fit::BEAD_ZONE + crate::fit::GAP;

const HOT_SOURCE: Source = Source::new(
    "a heavy-truck body-builder guide of 2009, Table 9-1: 76 mm (3 in) from an unshielded exhaust, 51 mm (2 in) from a shield, the only figures found that name coolant hose",
    Basis::Published,
);
const MOVING_SOURCE: Source =
    Source::new("TM 5-4210-220-12, 4-22.13: 25 mm (1 in) for a nylon air line", Basis::Published);
const OTHER_SOURCE: Source =
    Source::new("a light-aircraft service manual, 13.3.4: 12 mm between hose and object", Basis::Published);
const RESTS: Source = Source::new("you said that the hose may rest against it", Basis::OurChoice);
const ASKED: Source = Source::new("the distance you asked for", Basis::OurChoice);

/// What the gap to this thing must be.
#[must_use]
pub fn standoff_bound(neighbour: &Neighbour) -> Bound {
    bound(neighbour).0
}

/// From the skin of the hose to the surface of a thing, mm, at one place: `at` mm along the centre line from mouth A,
/// negative on the seat of A, past the length of the lie on that of B. Clamps are not part of the skin.
#[must_use]
pub fn skin_gap(lie: &Lie, spigots: [&Spigot; 2], hose: &Hose, neighbour: &Neighbour, at: f64) -> f64 {
    if at < 0.0 {
        return behind(spigots[0], hose, neighbour, -at);
    }
    if at > lie.length() {
        return behind(spigots[1], hose, neighbour, at - lie.length());
    }
    neighbour.distance(lie.point_at(at)) - hose.outside.as_mm() / 2.0
}

/// From the skin of the gripped end to the surface of a thing, `x` mm behind the mouth.
fn behind(spigot: &Spigot, hose: &Hose, neighbour: &Neighbour, x: f64) -> f64 {
    neighbour.distance(spigot.mouth - spigot.points * x) - radius_on(spigot, hose)
}

/// Radius of the skin over a spigot.
pub(crate) fn radius_on(spigot: &Spigot, hose: &Hose) -> f64 {
    hose.outside_on(spigot.diameter).as_mm() / 2.0
}

fn bound(neighbour: &Neighbour) -> (Bound, Source) {
    // A shield stands before it: the hose keeps from that.
    let off = neighbour.shield.map(quantity::Length::as_mm);
    let hot = off.map_or(HOT, |off| off + SHIELDED);
    let (warn, fail, source) = match (neighbour.standoff, neighbour.kind) {
        _ if neighbour.may_touch => return (Bound { warn: None, fail: None, sense: Sense::AtLeast }, RESTS),
        // The person's own distance decides, but one nearer than the published figure is not passed in silence.
        (Some(asked), Kind::Hot(_)) => (Some(hot), asked.as_mm().max(off.unwrap_or(0.0)), ASKED),
        (Some(asked), Kind::Moving) => (Some(MOVING), asked.as_mm().max(0.0), ASKED),
        (Some(asked), _) => (None, asked.as_mm().max(0.0), ASKED),
        (None, Kind::Hot(Some(_))) => (Some(hot), off.unwrap_or(0.0), HOT_SOURCE),
        (None, Kind::Hot(None)) => (None, hot, HOT_SOURCE),
        (None, Kind::Moving) => (None, MOVING, MOVING_SOURCE),
        (None, Kind::Sharp | Kind::Solid) => (Some(OTHER), 0.0, OTHER_SOURCE),
    };
    (Bound { warn, fail: Some(fail), sense: Sense::AtLeast }, source)
}

/// Where the hose comes nearest to a thing.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Near {
    /// Skin or clamp: along the hose, mm from mouth A (negative on its seat), and the gap.
    at: f64,
    gap: f64,
    /// The skin alone.
    pub(crate) skin: Spot,
}

/// A place on the skin.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Spot {
    /// Along the hose, mm from mouth A; negative on its seat.
    pub(crate) at: f64,
    /// On the centre line, and the radius of the skin there, mm.
    pub(crate) centre: Vec3,
    pub(crate) radius: f64,
    /// Gap to the thing that was asked for.
    pub(crate) gap: f64,
}

/// Where the skin comes nearest to each thing, and a clamp with it; in the order of the things.
pub(crate) fn near_all(laid: &Laid<'_>) -> Vec<Near> {
    laid.neighbours.iter().map(|thing| near(laid, thing)).collect()
}

fn near(laid: &Laid<'_>, thing: &Neighbour) -> Near {
    let (at, distance) = gap::nearest(laid.lie, |p| laid.distance(thing, p));
    let radius = laid.hose.outside.as_mm() / 2.0;
    let skin = Spot { at, centre: laid.lie.point_at(at), radius, gap: distance - radius };
    let mut best = Near { at, gap: skin.gap, skin };
    for (spigot, mouth, way) in [(laid.from, 0.0, -1.0), (laid.to, laid.lie.length(), 1.0)] {
        // Nothing on the seat is nearer than this: a distance falls no faster than one goes along.
        let (seat, radius) = (spigot.seat.as_mm(), radius_on(spigot, laid.hose));
        let least = laid.distance(thing, spigot.mouth) - seat - radius - CLAMP_HOUSING;
        if least >= best.gap {
            continue;
        }
        let place = |x: f64| spigot.mouth - spigot.points * x;
        let behind = |x: f64| laid.distance(thing, place(x)) - radius;
        let (x, skin) = gap::least_between(behind, 0.0, seat);
        let band = BAND_FROM_MOUTH.min(seat);
        let clamp = gap::least_between(behind, band, (band + crate::fit::BAND).min(seat).max(band));
        if skin < best.skin.gap {
            best.skin = Spot { at: mouth + way * x, centre: place(x), radius, gap: skin };
        }
        let (x, gap) = gap::nearer((x, skin), (clamp.0, clamp.1 - CLAMP_HOUSING));
        (best.at, best.gap) = gap::nearer((best.at, best.gap), (mouth + way * x, gap));
    }
    best
}

fn reading(which: usize, neighbour: &Neighbour, near: &Near) -> Reading {
    Reading { check: Check::Standoff, which, actual: near.gap, at: near.at, bound: standoff_bound(neighbour) }
}

/// Whether the hose between its mouths keeps from every thing what it must not fall short of, and from a hot one the gap
/// nearer than which it gets too hot.
pub(crate) fn keeps_clear(laid: &Laid<'_>, too_hot: &[Option<f64>]) -> bool {
    let radius = laid.hose.outside.as_mm() / 2.0;
    let too_near = |(thing, too_hot): (&Neighbour, &Option<f64>)| {
        let limit = [standoff_bound(thing).fail, *too_hot].into_iter().flatten().reduce(f64::max);
        let Some(limit) = limit.map(|limit| limit + radius) else { return false };
        gap::comes_nearer(laid.lie, limit, |p| laid.distance(thing, p))
    };
    !laid.neighbours.iter().zip(too_hot).any(too_near)
}

pub(crate) fn read(laid: &Laid<'_>, near: &[Near], out: &mut Vec<Reading>) {
    let things = laid.neighbours.iter().zip(near).enumerate();
    out.extend(things.map(|(which, (thing, near))| reading(which, thing, near)));
}

pub(crate) fn find(laid: &Laid<'_>, near: &[Near], out: &mut Vec<Finding>) {
    for (which, (neighbour, near)) in laid.neighbours.iter().zip(near).enumerate() {
        let reading = reading(which, neighbour, near);
        let why = match (reading.verdict(), neighbour.kind) {
            _ if neighbour.may_touch => "may rest against it: put a sleeve over the hose there, it will rub",
            (Verdict::Fail, _) if reading.actual < 0.0 => "it would touch",
            (Verdict::Fail, Kind::Hot(Some(_))) if neighbour.standoff.is_none() => "it would touch the shield",
            (Verdict::Fail, Kind::Hot(None)) if neighbour.standoff.is_none() => {
                "too near something hot, as long as it is not known how hot"
            }
            (Verdict::Fail, Kind::Moving) => "too near something that moves",
            (Verdict::Fail, _) => "nearer than you asked for",
            (Verdict::Warn, Kind::Hot(_)) if neighbour.standoff.is_some() => {
                "as far as you asked, but nearer than the published distance from something hot"
            }
            (Verdict::Warn, Kind::Hot(_)) => "nearer than the published distance from something hot: its heat decides",
            (Verdict::Warn, Kind::Moving) => {
                "as far as you asked, but nearer than the published distance from something that moves"
            }
            (Verdict::Warn, Kind::Sharp) => "near enough to be cut when things shake: put a sleeve over the hose there",
            (Verdict::Warn, _) => "near enough to rub when things shake",
            _ => "keeps clear, standing still",
        };
        out.push(reading.worded(&neighbour.name, Unit::Millimetre, why, source(neighbour, reading.verdict())));
    }
}

/// On whose word a distance is judged: where one's own is kept, what warns is the published one.
pub(crate) fn source(neighbour: &Neighbour, verdict: Verdict) -> Source {
    match (verdict, neighbour.kind) {
        (Verdict::Warn, Kind::Hot(_)) => HOT_SOURCE,
        (Verdict::Warn, Kind::Moving) => MOVING_SOURCE,
        _ => bound(neighbour).1,
    }
}

pub(crate) fn limits() -> Vec<Limit> {
    vec![
        Limit::new("standoff from something hot", HOT, "mm", HOT_SOURCE),
        Limit::new("standoff from the shield before it", SHIELDED, "mm", HOT_SOURCE),
        Limit::new("standoff from something that moves", MOVING, "mm", MOVING_SOURCE),
        Limit::new("standoff from anything else", OTHER, "mm", OTHER_SOURCE),
        Limit::new(
            "room for the screw housing of a clamp",
            CLAMP_HOUSING,
            "mm",
            our_choice("height of a worm drive housing"),
        ),
    ]
}
