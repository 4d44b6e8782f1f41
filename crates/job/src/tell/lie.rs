//! How a hose lies, as it is told: its points, bends, gaps and heat along it, clips and rests.

use super::{tenth, thousandth};
use crate::Run;
use crate::report::{GapReport, HeatReport, HeatStateReport, HeldReport, LieReport, RestReport};
use crate::run::Clip;
use crate::size::{Candidate, skin_along};
use checks::{Conditions, Cover, Neighbour};
use shape::{Contact, Held, Lie};
use stock::{Hose, Stock};

/// Points told of a lie, equally spaced; every one a node of the solver's mesh.
pub(super) const POINTS: usize = 41;
/// Steps from the knife end to the mouth, for what is told of a seat.
const SEAT_STEPS: usize = 5;

pub(super) fn told_points(lie: &Lie) -> Vec<[f64; 3]> {
    let step = (lie.points().len() - 1) / (POINTS - 1);
    lie.points().iter().step_by(step).map(|p| [p.x, p.y, p.z].map(thousandth)).collect()
}

pub(super) fn tell_rests(candidate: &Candidate, run: &Run) -> Vec<RestReport> {
    let touched: Vec<&Neighbour> = run.neighbours.iter().filter(|thing| thing.may_touch).collect();
    let rest = |contact: &Contact| {
        Some(RestReport {
            about: touched.get(contact.solid)?.name.clone(),
            from_mm: tenth(contact.from),
            to_mm: tenth(contact.to),
            force_n: thousandth(contact.force.norm()),
        })
    };
    candidate.at.contacts.iter().filter_map(rest).collect()
}

fn tell_held((clip, held): (&Clip, &Held)) -> HeldReport {
    HeldReport { holds: clip.holds.clone(), at_mm: tenth(held.at), force_n: thousandth(held.force.norm()) }
}

/// The states that are told beside the one that is judged.
const STATES: [(&str, Cover, bool); 4] = [
    ("bare", Cover::Bare, false),
    ("under a new sleeve", Cover::NewSleeve, false),
    ("under a dirty sleeve", Cover::DirtySleeve, false),
    ("bare, coolant standing still", Cover::Bare, true),
];

/// How hot the skin gets beside every hot thing whose temperature is known, all along the hose; in all states, if those are
/// `wanted`.
pub(super) fn tell_heat(
    run: &Run,
    conditions: &Conditions,
    stock: &Stock,
    (hose, lie): (&Hose, &Lie),
    wanted: bool,
) -> Vec<HeatReport> {
    let places = places(lie.length(), [run.from.seat.as_mm(), run.to.seat.as_mm()]);
    let bound = checks::skin_bound(hose);
    let judged = (run.cover, run.flow_can_stop);
    let tenths = |skin: Vec<f64>| skin.into_iter().map(tenth).collect();
    let in_state = |state| skin_along(run, conditions, stock, (hose, lie), &places, state);
    let told = |thing: &Neighbour, skin: Vec<f64>| HeatReport {
        about: thing.name.clone(),
        skin_c: tenths(skin),
        fails_above_c: bound.fail,
        warns_above_c: bound.warn,
        also: Vec::new(),
    };
    let beside = |(thing, skin): (&Neighbour, Option<Vec<f64>>)| Some(told(thing, skin?));
    let mut heat: Vec<_> = run.neighbours.iter().zip(in_state(judged)).filter_map(beside).collect();
    if wanted && !heat.is_empty() {
        for (state, cover, standing) in STATES.into_iter().filter(|(_, cover, standing)| (*cover, *standing) != judged)
        {
            for (heat, skin) in heat.iter_mut().zip(in_state((cover, standing)).into_iter().flatten()) {
                heat.also.push(HeatStateReport { state: state.to_owned(), skin_c: tenths(skin) });
            }
        }
    }
    heat
}

pub(super) fn tell_lie(lie: &Lie, run: &Run, hose: &Hose) -> LieReport {
    let limit = checks::KinkLimit::of(hose);
    let (a, b) = (lie.points()[0], lie.point_at(lie.length()));
    let line = (b - a).direction().unwrap_or(shape::Vec3::ZERO);
    let bow = lie.points().iter().map(|p| (*p - a).across(line).norm()).fold(0.0, f64::max);
    let inside = |curvature: f64| thousandth(limit.inside(curvature).min(2000.0));
    let places = places(lie.length(), [run.from.seat.as_mm(), run.to.seat.as_mm()]);
    LieReport {
        free_mm: thousandth(lie.length()),
        points_mm: told_points(lie),
        bend_inside_mm: (0..POINTS)
            .map(|k| inside(lie.curvature_at(lie.length() * k as f64 / (POINTS - 1) as f64)))
            .collect(),
        tightest_bend_mm: thousandth(limit.inside(lie.peak().curvature)),
        at_mm: thousandth(lie.peak().at),
        bow_mm: thousandth(bow),
        bend_fails_below_mm: limit.fail.map(thousandth),
        bend_warns_below_mm: limit.warn.map(thousandth),
        gaps: run.neighbours.iter().map(|thing| tell_gap(lie, run, hose, thing, &places)).collect(),
        clips: run.clips.iter().zip(lie.held()).map(tell_held).collect(),
        rests: Vec::new(),
        heat: Vec::new(),
        gap_places_mm: places.into_iter().map(thousandth).collect(),
    }
}

/// From knife end to knife end: the points that are told of the lie, and some on both seats.
fn places(free: f64, seats: [f64; 2]) -> Vec<f64> {
    let on_seat = |k: usize| k as f64 / SEAT_STEPS as f64;
    let a = (0..SEAT_STEPS).map(|k| (on_seat(k) - 1.0) * seats[0]);
    let between = (0..POINTS).map(|k| free * k as f64 / (POINTS - 1) as f64);
    let b = (1..=SEAT_STEPS).map(|k| free + on_seat(k) * seats[1]);
    a.chain(between).chain(b).collect()
}

fn tell_gap(lie: &Lie, run: &Run, hose: &Hose, thing: &Neighbour, places: &[f64]) -> GapReport {
    let bound = checks::standoff_bound(thing);
    let gap = |at: &f64| tenth(checks::skin_gap(lie, [&run.from, &run.to], hose, thing, *at));
    GapReport {
        about: thing.name.clone(),
        gap_mm: places.iter().map(gap).collect(),
        fails_below_mm: bound.fail.map(thousandth),
        warns_below_mm: bound.warn.map(thousandth),
    }
}
