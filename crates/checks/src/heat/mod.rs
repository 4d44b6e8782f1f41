//! Heat: how hot the skin of the hose gets beside hot things, against what its rubber bears for long.
//!
//! Looked at is the hottest place of the hose beside each hot thing, seats included: bare, under a sleeve new and dirty,
//! behind a flat shield; with the coolant flowing and, where the flow can stop, standing still, which then decides. The model
//! and its sources are in [`balance`]; good to ± 20 K, which is shown and never used to excuse.

pub mod air;
pub mod balance;
mod needed;
pub mod view;

pub use needed::too_near;

use crate::limits::{Limit, our_choice};
use crate::standoff::{Near, Spot};
use crate::{
    Bound, Check, Finding, Form, Kind, Laid, Neighbour, Reading, Sense, Spigot, Unit, Verdict, gap, sag, standoff,
};
use balance::{Bay, Beside, Cover, Seen, Still, Wall, air_near, film_thickness, shield};
use core::f64::consts::PI;
use needed::gap_for;
use quantity::{Basis, Length, Source};
use shape::Vec3;
use std::borrow::Cow;
use stock::Hose;

/// How good the estimate is, either way, K; and how far below its limit the skin must stay to pass without a word.
pub const BAND: f64 = 20.0;
/// A hose may not pass straight above something hot, nearer than this many of its diameters, without a word.
const ABOVE: f64 = 10.0;
/// The film of hot air round a thing is thinner than this, mm.
const FILM: f64 = 50.0;
/// A gap further than this is not looked for, mm.
const FAR: f64 = 2000.0;
/// How hot the surface of such things gets when driven hard, °C. From memory: no source with measured skins was found.
pub const SURFACES: [(&str, f64); 6] = [
    ("Exhaust manifold", 550.0),
    ("Downpipe", 450.0),
    ("Pipe further back", 300.0),
    ("Recirculation (EGR) pipe", 350.0),
    ("Turbo housing", 650.0),
    ("Catalytic converter", 400.0),
];
/// Hot things beside the nearest that are counted in.
const OTHERS: usize = 7;

pub(crate) const MODEL: Source = Source::new(
    "Radiation, convection and conduction at the hottest place (Incropera & DeWitt, 7th ed., ch. 13; Churchill & Chu 1975); good to 20 K either way",
    Basis::Published,
);
const RISES: Source = our_choice("hot air rises: laminar plume of Gebhart, Pera and Schorr (1970), weak near the pipe");

/// Surface temperature, if the thing is hot and that is known, °C.
fn known(thing: &Neighbour) -> Option<f64> {
    match thing.kind {
        Kind::Hot(Some(surface)) => Some(surface.as_celsius()),
        _ => None,
    }
}

fn is_hot(thing: &Neighbour) -> bool {
    matches!(thing.kind, Kind::Hot(_))
}

fn bay(laid: &Laid<'_>) -> Bay {
    Bay { coolant: laid.conditions.coolant.as_celsius(), air: laid.conditions.bay_air.as_celsius() }
}

/// Whether nearest is hottest: so it is of what looks the same from all sides.
fn is_round(form: &Form) -> bool {
    matches!(form, Form::Rod { .. } | Form::Ball { .. })
}

/// Where the hose may get hottest beside a thing that does not look the same from all sides: between the mouths, and on
/// either seat.
fn spots(laid: &Laid<'_>, thing: &Neighbour) -> [Spot; 3] {
    let radius = laid.hose.outside.as_mm() / 2.0;
    // The less of this, the hotter.
    let cool = |place: Vec3, radius: f64| -looked_at(laid, thing, place, radius).1.norm();
    let spot =
        |at: f64, centre: Vec3, radius: f64| Spot { at, centre, radius, gap: laid.distance(thing, centre) - radius };
    let (at, _) = gap::nearest(laid.lie, |place| cool(place, radius));
    let seat = |spigot: &Spigot, mouth: f64, way: f64| {
        let radius = standoff::radius_on(spigot, laid.hose);
        let place = |x: f64| spigot.mouth - spigot.points * x;
        let (x, _) = gap::least_between(|x| cool(place(x), radius), 0.0, spigot.seat.as_mm());
        spot(mouth + way * x, place(x), radius)
    };
    let between = spot(at, laid.lie.point_at(at), radius);
    [between, seat(laid.from, 0.0, -1.0), seat(laid.to, laid.lie.length(), 1.0)]
}

/// Which way the thing lies from a place on the centre line, and what it is to the skin on that side.
fn looked_at(laid: &Laid<'_>, thing: &Neighbour, centre: Vec3, radius: f64) -> (Vec3, Vec3) {
    let place = laid.in_frame(thing, centre);
    let Some(way) = view::seen(&thing.form, place).direction() else { return (Vec3::ZERO, Vec3::ZERO) };
    (way, view::seen(&thing.form, place + way * radius))
}

/// What the skin at a spot sees, with the air at it and the thing it faces as a long pipe.
struct View {
    seen: [Seen; OTHERS + 1],
    count: usize,
    air: f64,
    beside: Beside,
    /// The other hot things, each from the side of the hose that faces it.
    others: Vec<Beside>,
}

impl View {
    fn seen(&self) -> &[Seen] {
        &self.seen[..self.count]
    }
}

/// The view of a spot on the face of a cover; `shielded` if the shield of the thing stands.
fn view(laid: &Laid<'_>, which: usize, hot: f64, spot: &Spot, cover: Cover, shielded: Option<f64>) -> View {
    let thing = &laid.neighbours[which];
    let bay = bay(laid).air;
    let radius = spot.radius + cover.thick();
    let gap = (spot.gap - cover.thick()).max(0.0);
    let (way, facing) = looked_at(laid, thing, spot.centre, radius);
    let nothing = Seen { celsius: bay, emissivity: 1.0, part: 0.0 };
    let mut seen = [nothing; OTHERS + 1];
    if let Some(off) = shielded {
        let celsius = shield(hot, view::in_front(&thing.form, off), balance::SHIELD_FACE, bay);
        let (emissivity, part) = (balance::SHIELD_FACE, 1.0);
        seen[0] = Seen { celsius, emissivity, part };
        let beside = Beside { celsius, emissivity, part: 1.0 - 1e-6, gap: (gap - off).max(0.0), film: 1.0 };
        return View { seen, count: 1, air: bay, beside, others: Vec::new() };
    }
    // Further off there is no film.
    let thick = if gap < FILM && hot > bay { film_thickness(hot, bay, view::thickness(&thing.form)) } else { 1.0 };
    // What touches it sees nothing else; from inside a box or a disc there is no view to ask for.
    let part = if gap > 0.0 { facing.norm().min(1.0) } else { 1.0 };
    seen[0] = Seen { celsius: hot, emissivity: balance::HOT_FACE, part };
    let (mut count, mut all, mut beside_others) = (1, part, Vec::new());
    let others = laid.neighbours.iter().enumerate().filter(|(other, _)| *other != which);
    for (celsius, thing) in others.filter_map(|(_, thing)| Some((known(thing)?, thing))).take(OTHERS) {
        let place = laid.in_frame(thing, spot.centre) + way * radius;
        let part = view::seen(&thing.form, place).dot(way).clamp(0.0, 1.0 - all);
        seen[count] = Seen { celsius, emissivity: balance::HOT_FACE, part };
        count += 1;
        all += part;
        beside_others.push(Beside {
            celsius,
            emissivity: balance::HOT_FACE,
            part: looked_at(laid, thing, spot.centre, radius).1.norm().min(1.0 - 1e-9),
            gap: (laid.distance(thing, spot.centre) - radius).max(0.0),
            film: 1.0,
        });
    }
    let beside = Beside { celsius: hot, emissivity: balance::HOT_FACE, part: part.min(1.0 - 1e-9), gap, film: thick };
    View { seen, count, air: air_near(hot, bay, gap, thick), beside, others: beside_others }
}

/// Temperature of the skin at a spot, °C, and of the coolant there.
fn skin(laid: &Laid<'_>, view: &View, cover: Cover, standing: bool) -> (f64, f64) {
    skin_from(laid, view, cover, standing, &mut None)
}

/// The same; for coolant that stands still it begins with a case like it.
fn skin_from(laid: &Laid<'_>, view: &View, cover: Cover, standing: bool, like: &mut Option<Still>) -> (f64, f64) {
    let hose = laid.hose;
    let wall = |inner: f64| Wall::new(hose.bore.as_mm(), hose.outside.as_mm(), cover, inner);
    let bay = bay(laid);
    if !standing {
        return (wall(balance::FLOWING).skin(view.seen(), view.air, bay.air, bay.coolant), bay.coolant);
    }
    let still = wall(balance::STANDING);
    // What each hot thing alone warms it by is added up: with several that is too much, the safe side.
    let rise = |beside: &Beside| (still.standing(beside, bay) - bay.air).max(0.0);
    let alone =
        (still.standing_from(&view.beside, bay, like) + view.others.iter().map(rise).sum::<f64>()).max(bay.coolant);
    let skin = |wall: Wall, coolant: f64| wall.skin(view.seen(), view.air, bay.air, coolant);
    let Some(boils) = laid.conditions.boils.map(|boils| boils.as_celsius().max(bay.coolant)) else {
        return (skin(still, alone), alone);
    };
    // Coolant that boils wets and cools the wall as well as coolant that flows; at a hot wall it does so before all of it is
    // as hot.
    let boiling = skin(wall(balance::FLOWING), boils);
    if alone < boils { (skin(still, alone).min(boiling), alone) } else { (boiling, boils) }
}

/// The skin at a spot, °C, behind the shield if one stands.
fn at_spot(laid: &Laid<'_>, which: usize, hot: f64, spot: &Spot, cover: Cover, standing: bool) -> f64 {
    at_spot_from(laid, which, hot, spot, (cover, standing), &mut None)
}

/// The same, beginning with a spot like it.
fn at_spot_from(
    laid: &Laid<'_>,
    which: usize,
    hot: f64,
    spot: &Spot,
    (cover, standing): (Cover, bool),
    like: &mut Option<Still>,
) -> f64 {
    let mut of = |shielded| {
        let view = view(laid, which, hot, spot, cover, shielded);
        skin_from(laid, &view, cover, standing, like).0
    };
    // A shield makes nothing hotter: far from it the hose sees past it.
    let bare = of(None);
    laid.neighbours[which].shield.map_or(bare, |off| bare.min(of(Some(off.as_mm()))))
}

/// The hottest spot beside a thing and its skin there, °C; `near` is where it comes nearest.
fn hottest(laid: &Laid<'_>, which: usize, hot: f64, near: &Spot, cover: Cover, standing: bool) -> (Spot, f64) {
    let at = |spot: Spot| (spot, at_spot(laid, which, hot, &spot, cover, standing));
    let thing = &laid.neighbours[which];
    // What looks alike from all sides is hottest where it is nearest.
    if is_round(&thing.form) {
        return at(*near);
    }
    let hotter = |best: (Spot, f64), one: (Spot, f64)| if one.1 > best.1 { one } else { best };
    spots(laid, thing).map(at).into_iter().fold(at(*near), hotter)
}

/// Limits of the skin: fails above what the rubber bears, warns from [`BAND`] below it.
#[must_use]
pub fn bound(hose: &Hose) -> Bound {
    let limit = hose.limit.as_ref().map(|limit| limit.value.as_celsius());
    Bound { warn: limit.map(|limit| limit - BAND), fail: limit, sense: Sense::AtMost }
}

/// A new sleeve gets dirty: what it then comes to warns above the limit.
fn bound_once_dirty(hose: &Hose) -> Bound {
    Bound { warn: bound(hose).fail, fail: None, sense: Sense::AtMost }
}

/// The skin beside every hot thing whose temperature is known; if it need not be `told`, an upper bound where that is well
/// below all limits.
pub(crate) fn read(laid: &Laid<'_>, near: &[Near], told: bool, out: &mut Vec<Reading>) {
    for (which, thing) in laid.neighbours.iter().enumerate() {
        let Some(hot) = known(thing) else { continue };
        let mut reading = |cover: Cover, bound: Bound| {
            let spot = &near[which].skin;
            let cool = if told { None } else { surely_cool(laid, which, hot, spot, cover, &bound) };
            if let Some(skin) = cool {
                out.push(Reading { check: Check::Heat, which, actual: skin, at: spot.at, bound });
                return;
            }
            let (spot, skin) = hottest(laid, which, hot, spot, cover, laid.flow_can_stop);
            out.push(Reading { check: Check::Heat, which, actual: skin, at: spot.at, bound });
        };
        reading(laid.cover, bound(laid.hose));
        if laid.cover == Cover::NewSleeve {
            reading(Cover::DirtySleeve, bound_once_dirty(laid.hose));
        }
    }
}

/// An upper bound of the skin beside a thing far off, °C, if that is well below all limits; most things are far off.
fn surely_cool(laid: &Laid<'_>, which: usize, hot: f64, spot: &Spot, cover: Cover, bound: &Bound) -> Option<f64> {
    let thing = &laid.neighbours[which];
    let bay = bay(laid);
    if laid.flow_can_stop || spot.gap < FILM || bay.air > bay.coolant {
        return None;
    }
    let (bore, outside) = (laid.hose.bore.as_mm(), laid.hose.outside.as_mm());
    let mut seen = view(laid, which, hot, spot, cover, None);
    // Of what does not look alike from all sides the most that it can be at this gap or further.
    if !is_round(&thing.form) {
        seen.seen[0].part = view::in_front(&thing.form, spot.gap - cover.thick()).min(1.0);
    }
    let most = Wall::new(bore, outside, cover, balance::FLOWING).skin_at_most(seen.seen(), bay.coolant);
    (most < bound.warn? - 1.0).then_some(most)
}

/// How many readings [`read`] takes.
pub(crate) fn readings(laid: &Laid<'_>) -> usize {
    let each = if laid.cover == Cover::NewSleeve { 2 } else { 1 };
    each * laid.neighbours.iter().filter(|thing| known(thing).is_some()).count()
}

/// How far above a hot thing counts, mm.
fn reach_above(laid: &Laid<'_>, thing: &Neighbour) -> f64 {
    ABOVE * view::thickness(&thing.form).max(laid.hose.outside.as_mm() / 2.0)
}

/// Where the hose passes straight above something hot: how far beside it its skin is in plan, mm; negative above it.
fn above(laid: &Laid<'_>, thing: &Neighbour) -> Option<(f64, f64)> {
    let radius = laid.hose.outside.as_mm() / 2.0;
    let plan = |v: Vec3| Vec3::new(v.x, v.y, 0.0);
    let reach = reach_above(laid, thing);
    let beside = |place: Vec3| {
        let place = laid.in_frame(thing, place);
        // The place of the thing that is nearest in plan, and its top there.
        let (nearest, top) = match thing.form {
            Form::Rod { from, to, diameter } => {
                let along = plan(to - from);
                let square = along.dot(along);
                let x = if square > 0.0 { (plan(place - from).dot(along) / square).clamp(0.0, 1.0) } else { 0.5 };
                let level = if square > 0.0 { from + (to - from) * x } else { plan(from) };
                let top = if square > 0.0 { level.z } else { from.z.max(to.z) };
                (plan(place - level).norm() - 0.5 * diameter.as_mm(), top + 0.5 * diameter.as_mm())
            }
            Form::Ball { at, diameter } => {
                (plan(place - at).norm() - 0.5 * diameter.as_mm(), at.z + 0.5 * diameter.as_mm())
            }
            Form::Box { least, greatest } => {
                let out = |p: f64, lo: f64, hi: f64| f64::max(lo - p, p - hi);
                let (x, y) = (out(place.x, least.x, greatest.x), out(place.y, least.y, greatest.y));
                let far = Vec3::new(x.max(0.0), y.max(0.0), 0.0).norm();
                (if far > 0.0 { far } else { x.max(y) }, greatest.z)
            }
            Form::Disc { at, diameter, .. } => {
                (plan(place - at).norm() - 0.5 * diameter.as_mm(), at.z + 0.5 * diameter.as_mm())
            }
        };
        let up = place.dot(sag::UP) - top;
        if up > 0.0 && up < reach { nearest - radius } else { f64::INFINITY }
    };
    let (at, beside) = gap::nearest(laid.lie, beside);
    beside.is_finite().then_some((at, beside))
}

/// Passing straight above something hot that no shield covers.
pub(crate) fn read_above(laid: &Laid<'_>, near: &[Near], out: &mut Vec<Reading>) {
    for (which, thing) in laid.neighbours.iter().enumerate().filter(|(_, thing)| is_hot(thing)) {
        let may = thing.shield.is_none() && near[which].skin.gap < reach_above(laid, thing);
        let found = if may { above(laid, thing) } else { None };
        let (at, beside) = found.unwrap_or((0.0, FAR));
        let bound = Bound { warn: Some(0.0), fail: None, sense: Sense::AtLeast };
        out.push(Reading { check: Check::Rising, which, actual: beside.min(FAR), at, bound });
    }
}

/// The skin beside a hot thing at places along the hose, °C: each as in [`crate::skin_gap`]. `None` if the thing's temperature
/// is not known. Under this cover and behind the shield that stands, with the coolant flowing or standing still.
#[must_use]
pub fn skin_along(laid: &Laid<'_>, which: usize, places: &[f64], cover: Cover, standing: bool) -> Option<Vec<f64>> {
    let hot = known(&laid.neighbours[which])?;
    let mut like = None;
    let skin = |at: &f64| at_spot_from(laid, which, hot, &spot_at(laid, which, *at), (cover, standing), &mut like);
    Some(places.iter().map(skin).collect())
}

/// A place of the hose, seen from a thing.
fn spot_at(laid: &Laid<'_>, which: usize, at: f64) -> Spot {
    let length = laid.lie.length();
    let behind = |spigot: &Spigot, x: f64| (spigot.mouth - spigot.points * x, standoff::radius_on(spigot, laid.hose));
    let (centre, radius) = if at < 0.0 {
        behind(laid.from, -at)
    } else if at > length {
        behind(laid.to, at - length)
    } else {
        (laid.lie.point_at(at), laid.hose.outside.as_mm() / 2.0)
    };
    Spot { at, centre, radius, gap: laid.distance(&laid.neighbours[which], centre) - radius }
}

pub(crate) fn find(laid: &Laid<'_>, near: &[Near], out: &mut Vec<Finding>) {
    let bay = bay(laid);
    if !laid.neighbours.iter().any(is_hot) {
        out.push(without(laid, bay));
        return;
    }
    let mut readings = Vec::new();
    read(laid, near, true, &mut readings);
    for (which, thing) in laid.neighbours.iter().enumerate().filter(|(_, thing)| is_hot(thing)) {
        let Some(hot) = known(thing) else {
            out.push(Finding {
                about: thing.name.clone(),
                extra: vec![("hot_things", 1.0)],
                ..Finding::not_checked(Check::Heat, "needs how hot its surface gets: only the distance is judged")
            });
            continue;
        };
        out.push(beside(laid, which, hot, &near[which].skin, readings.iter().filter(|reading| reading.which == which)));
    }
    let mut readings = Vec::new();
    read_above(laid, near, &mut readings);
    for reading in readings.iter().filter(|reading| reading.verdict() == Verdict::Warn) {
        let name = &laid.neighbours[reading.which].name;
        let why = "the hose passes straight above it, where its hot air rises: lead it beside, or shield it";
        let mut finding = reading.worded(name, Unit::Millimetre, why, RISES);
        finding.extra = in_plume(laid, reading).map_or(Vec::new(), |skin| vec![("in_plume_c", skin)]);
        out.push(finding);
    }
}

/// The skin where the hose passes above a hot thing in still air, °C.
fn in_plume(laid: &Laid<'_>, reading: &Reading) -> Option<f64> {
    let thing = &laid.neighbours[reading.which];
    let hot = known(thing)?;
    let (centre, radius) = (laid.lie.point_at(reading.at), laid.hose.outside.as_mm() / 2.0);
    let spot = Spot { at: reading.at, centre, radius, gap: laid.distance(thing, centre) - radius };
    Some(skin_in_plume(laid, reading.which, hot, &spot))
}

fn skin_in_plume(laid: &Laid<'_>, which: usize, hot: f64, spot: &Spot) -> f64 {
    let thing = &laid.neighbours[which];
    let bay = bay(laid);
    let seen = view(laid, which, hot, spot, laid.cover, None);
    let thick = 1e-3 * view::thickness(&thing.form);
    let heat = air::film(hot, bay.air, thick) * PI * thick * (hot - bay.air);
    let rising = air::plume(bay.air, heat.max(0.0), 1e-3 * seen.beside.gap + 0.5 * thick);
    let wall = Wall::new(laid.hose.bore.as_mm(), laid.hose.outside.as_mm(), laid.cover, balance::FLOWING);
    wall.skin_in_plume(seen.seen(), rising, bay.air, bay.coolant)
}

/// Nothing hot near it: the skin is between coolant and bay.
fn without(laid: &Laid<'_>, bay: Bay) -> Finding {
    let hotter = bay.coolant.max(bay.air);
    let reading = Reading { check: Check::Heat, which: 0, actual: hotter, at: 0.0, bound: bound(laid.hose) };
    if reading.bound.fail.is_none() {
        return Finding::not_checked(Check::Heat, "nothing hot was named near it; what its rubber bears is not known");
    }
    let why = match reading.verdict() {
        Verdict::Fail => "coolant or bay are hotter than its rubber bears",
        Verdict::Warn => "coolant and bay alone are close to what its rubber bears",
        _ => "nothing hot was named near it; coolant and bay alone are cool enough",
    };
    let mut finding = reading.worded("", Unit::Celsius, why, limit_source(laid.hose));
    finding.at = None;
    finding
}

fn limit_source(hose: &Hose) -> Source {
    hose.limit.as_ref().map_or(MODEL, |limit| limit.source.clone())
}

/// The finding beside one hot thing.
fn beside<'a>(
    laid: &Laid<'_>,
    which: usize,
    hot: f64,
    near: &Spot,
    readings: impl Iterator<Item = &'a Reading>,
) -> Finding {
    let thing = &laid.neighbours[which];
    let limit = bound(laid.hose).fail;
    let readings: Vec<Reading> = readings.copied().collect();
    let judged = readings[0];
    let worst = readings.iter().map(Reading::verdict).max().unwrap_or(Verdict::Pass);
    let mut finding = judged.worded(&thing.name, Unit::Celsius, "", MODEL);
    finding.verdict = worst;
    let so = match (laid.cover, thing.shield.is_some()) {
        (Cover::Bare, false) => "",
        (Cover::Bare, true) => "behind the shield ",
        (Cover::NewSleeve, _) => "under a new sleeve ",
        (Cover::DirtySleeve, _) => "under a dirty sleeve ",
    };
    let still = if laid.flow_can_stop { ", with the coolant standing still" } else { "" };
    let once_dirty = judged.verdict() != Verdict::Fail && readings.iter().skip(1).any(|r| r.verdict() == Verdict::Warn);
    finding.why = match worst {
        _ if limit.is_none() => Cow::Borrowed("needs what its rubber bears: the class printed on the hose"),
        Verdict::Fail => Cow::Owned(format!("{so}its skin gets hotter than the rubber bears{still}")),
        _ if once_dirty => Cow::Borrowed("a new sleeve is enough, but once it is dirty it is not: keep it clean"),
        Verdict::Warn => Cow::Owned(format!("{so}its skin comes close to what the rubber bears{still}")),
        _ => Cow::Owned(format!("{so}its skin stays cool enough for the rubber{still}")),
    };
    if limit.is_none() {
        (finding.verdict, finding.source) = (Verdict::NotChecked, crate::limits::NONE);
        finding.extra.push(("hot_things", 1.0));
    }
    let flowing = |cover: Cover| hottest(laid, which, hot, near, cover, false).1;
    let (spot, standing) = hottest(laid, which, hot, near, Cover::Bare, true);
    let gap = spot.gap;
    finding.extra.push(("bare_c", flowing(Cover::Bare)));
    finding.extra.push(("sleeve_new_c", flowing(Cover::NewSleeve)));
    finding.extra.push(("sleeve_dirty_c", flowing(Cover::DirtySleeve)));
    finding.extra.push(("standing_c", standing));
    // Behind the shield that stands, else behind one half way.
    let off = thing.shield.map_or(0.5 * gap, Length::as_mm);
    if gap > 0.0 {
        let behind = skin(laid, &view(laid, which, hot, &spot, Cover::Bare, Some(off)), Cover::Bare, false).0;
        finding.extra.push(("behind_shield_c", behind));
    }
    let bare_thing = Neighbour { shield: None, ..thing.clone() };
    for (name, cover) in [
        ("standoff_needed_mm", Cover::Bare),
        ("standoff_needed_sleeve_new_mm", Cover::NewSleeve),
        ("standoff_needed_sleeve_dirty_mm", Cover::DirtySleeve),
    ] {
        let needed = limit.and_then(|limit| gap_for(laid, &bare_thing, hot, cover, limit));
        finding.extra.extend(needed.map(|needed| (name, needed)));
    }
    finding
}

pub(crate) fn limits() -> Vec<Limit> {
    vec![
        Limit::new("skin: warns so far below what the rubber bears", BAND, "K", MODEL),
        Limit::new("straight above something hot: warns nearer than so many of its diameters", ABOVE, "", RISES),
        Limit::new(
            "heat conductivity of hose rubber",
            balance::RUBBER,
            "W/(m·K)",
            Source::new(
                "0.20 unfilled (a materials database quoting The Rubber Formulary, 1999), to 0.35 filled",
                Basis::FromMemory,
            ),
        ),
        Limit::new(
            "emissivity of hose rubber",
            balance::RUBBER_FACE,
            "",
            Source::new("0.86 to 0.94, Incropera & DeWitt, Table A.11", Basis::FromMemory),
        ),
        Limit::new(
            "emissivity of oxidised steel",
            balance::HOT_FACE,
            "",
            Source::new("oxidised steel, as on an exhaust", Basis::FromMemory),
        ),
        Limit::new(
            "emissivity of a new sleeve",
            balance::SLEEVE_NEW,
            "",
            Source::new("0.05 to 0.15 of a bright glass sleeve", Basis::FromMemory),
        ),
        Limit::new(
            "emissivity of a dirty sleeve, and of a weathered shield",
            balance::SLEEVE_DIRTY,
            "",
            Source::new("up to 0.4 of a dirty bright face", Basis::FromMemory),
        ),
        Limit::new("glass of a sleeve", 1e3 * balance::GLASS, "mm", our_choice("a usual sleeve, on 1 mm of air")),
    ]
}
