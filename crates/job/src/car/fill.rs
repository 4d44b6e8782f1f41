//! Filling and proving: the steps in their order, as data, each with whose word it is.
//!
//! What to pour, frost and boiling are the refill's; here stands what the new runs change, where air stays, and how it is
//! shown to hold. Nothing is reckoned twice.

mod facts;
mod weeps;

pub use facts::{ClampAt, FillFacts, HighPoint, NewRun, TorqueAgain};
pub use weeps::{NextLookReport, WeepReport};

use super::closures::open_ends;
use super::said::{SaidReport, in_a_row, ours, printed, trade};
use super::{Car, Line};
use crate::input::{DecisionInput as Decision, LineKindInput as LineKind, PartKindInput as PartKind};
use core::f64::consts::PI;
use quantity::{Basis, Length, Pressure, Source, Volume};
use serde::{Deserialize, Serialize};

/// Filling and proving.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct FillReport {
    /// What the work changes of what the system holds.
    pub volume: VolumeReport,
    /// What to do, in this order.
    pub steps: Vec<SaidReport>,
    /// Where to look when it weeps.
    pub weeps: Vec<WeepReport>,
    /// When to look again.
    pub next_looks: Vec<NextLookReport>,
}

/// What the work changes of what the system holds.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct VolumeReport {
    /// In the new hoses.
    pub new_l: f64,
    /// In what was there before, where that is known.
    pub old_l: f64,
    /// In what is left out, where that is known.
    pub left_out_l: f64,
    /// What it holds more than before; less if negative. Only lines of which both are known.
    pub change_l: f64,
    /// What it holds after the work, if it is known what it held.
    pub holds_l: Option<f64>,
    /// Lines of which bore or length, before or after, is not known: not counted.
    pub not_counted: Vec<String>,
}

const SLOWLY: Source = printed("TM 5-3810-300-24&P-2: loosen the cap slowly, and pause");
const BELOW_50: Source = trade("engine service page: below 50 °C first");
const POISON: Source = printed("US EPA leaflet on antifreeze: poisonous and sweet, never into a drain or the ground");
const SUM: Source = ours("volume of a bore, π d²/4 times its length; the cut lengths, seats in both");
const FILLING: Source = ours("hydrostatics: coolant stands no higher than the filler");
const LIFTED: Source = trade("trade pages agree: fill through the lifted hose, bleed screw at the top, bottle highest");
const OPEN: Source = trade("common practice: the heater's tap open while it is filled");
const WARM: Source =
    trade("equipment manual (maker withheld): run to 66 °C, stop 2 minutes, start, top up, again until it holds");
const OPENS: Source = printed("TM 5-3825-229-14&P: starts at 180 °F, full about 12 K later");
const PUMPED: Source = trade("common practice: pump to the pressure of the cap, hold, look");
const FLAT: Source = printed("TM 5-3835-222-BD, 6-12: a soft lower hose collapses at speed");
const SOAK: Source = trade("forum reports: the pressure peaks after the engine was switched off");
const HIDES: Source = printed("TM 750-254: small weeps show cold and dry off hot");
const SETS: Source = trade("repair guide and trade pages: new hose sets in the first heat; tighten again then");
const BOTTLE: Source = printed("TM 5-4210-230-14&P-1: the bottle takes the air out as it warms and cools");
const CARE: Source = Source::new("usual care in a workshop; recalled, not looked up", Basis::FromMemory);

/// The steps of filling and proving, in their order.
#[must_use]
pub fn fill(car: &Car, facts: &FillFacts<'_>) -> FillReport {
    // With no clamp known, somebody may have put one with a screw.
    let screws = facts.clamps.is_empty() || facts.clamps.iter().any(|clamp| !clamp.follows);
    let volume = volume(car, facts);
    let mut steps = before(car);
    steps.extend(pour(facts, &volume));
    steps.extend(where_air_stays(facts));
    steps.push(room(car, facts, &volume));
    steps.extend(prove(facts));
    steps.extend(nip_up(facts));
    steps.extend(after());
    FillReport { volume, steps, weeps: weeps::weeps(screws), next_looks: weeps::next_looks(screws) }
}

fn said(key: &str, what: impl Into<String>, source: &Source) -> SaidReport {
    SaidReport::new(key, what, source)
}

/// To a hundredth of a litre, as a jug shows it.
fn hundredth(litres: f64) -> f64 {
    // A sum of nothing is -0.
    (litres * 100.0).round() / 100.0 + 0.0
}

fn litres(bore: Length, length: Length) -> f64 {
    1e-6 * PI / 4.0 * bore.as_mm() * bore.as_mm() * length.as_mm()
}

fn volume(car: &Car, facts: &FillFacts<'_>) -> VolumeReport {
    let of_line = |line: &Line| line.bore.zip(line.length).map(|(bore, length)| litres(bore, length));
    let (mut new, mut old, mut left_out, mut change) = (0.0, 0.0, 0.0, 0.0);
    let mut not_counted = Vec::new();
    for run in &facts.runs {
        let line = car.lines.iter().find(|line| line.run == Some(run.run));
        if line.is_some_and(|line| !car.stays(line)) {
            // Sized, but left out after all.
            continue;
        }
        let here = litres(run.bore, run.length);
        new += here;
        match line.and_then(of_line) {
            Some(before) => {
                old += before;
                change += here - before;
            }
            None => not_counted.push(run.name.clone()),
        }
    }
    let gone = |line: &&Line| line.kind != LineKind::Passage && !car.stays(line);
    for line in car.lines.iter().filter(gone) {
        match of_line(line) {
            Some(before) => {
                left_out += before;
                change -= before;
            }
            None => not_counted.push(line.name.clone()),
        }
    }
    let sized = |line: &Line| facts.runs.iter().any(|run| line.run == Some(run.run));
    let universal = car.lines.iter().filter(|line| car.stays(line) && line.decision == Some(Decision::Universal));
    not_counted.extend(universal.filter(|line| !sized(line)).map(|line| line.name.clone()));
    VolumeReport {
        new_l: hundredth(new),
        old_l: hundredth(old),
        left_out_l: hundredth(left_out),
        change_l: hundredth(change),
        holds_l: facts.holds.map(|holds| hundredth(holds.as_litres() + change)),
        not_counted,
    }
}

/// What must be so before anything is poured.
fn before(car: &Car) -> Vec<SaidReport> {
    let open = open_ends(car).len();
    let closed = "Go round once more: every clamp tight, every spigot with a hose on it or closed, the drain shut.";
    let n_open = u32::try_from(open).ok().filter(|n| *n > 0).map(f64::from);
    let of_kind = |kind: PartKind| {
        let parts = car.parts.iter().filter(|part| !part.goes && part.kind == kind).map(|part| part.name.as_str());
        in_a_row(parts)
    };
    let [taps, screws] = [PartKind::Tap, PartKind::BleedScrew].map(of_kind);
    let mut steps = vec![
        said("closed", closed, &CARE).with("spigots_to_close", n_open),
        said("cold", "Engine off and cold, on level ground; stands under it if you go there.", &CARE),
        said("slowly", "Turn the cap slowly, pause, then take it off.", &SLOWLY),
        said(
            "heater",
            if taps.is_empty() {
                "Set the heater to hot, so that its tap is open.".to_owned()
            } else {
                format!("Set the heater to hot and open {taps}.")
            },
            &OPEN,
        ),
    ];
    if !screws.is_empty() {
        let what = format!("Open {screws}, and close it once coolant comes without bubbles.");
        steps.push(said("bleed screw", what, &LIFTED));
    }
    steps
}

/// How much of what, and what that bears.
fn pour(facts: &FillFacts<'_>, volume: &VolumeReport) -> Vec<SaidReport> {
    let mut steps = Vec::new();
    if volume.new_l > 0.0 || volume.left_out_l > 0.0 {
        let change = volume.change_l;
        let changed = match change {
            change if change > 0.0 => format!("The work makes room for {change:.2} l more than before"),
            change if change < 0.0 => format!("The system holds {:.2} l less than before", -change),
            _ => "The system holds as much as before".to_owned(),
        };
        let now = volume.holds_l.map_or(String::new(), |holds| format!(": {holds:.2} l"));
        let but = if volume.not_counted.is_empty() {
            String::new()
        } else {
            format!(
                " Not counted, since bore or length before or after the work is not known: {}.",
                in_a_row(volume.not_counted.iter().map(String::as_str))
            )
        };
        let step = said("volume", format!("{changed}{now}.{but}"), &SUM).with("change_l", Some(change));
        steps.push(step.with("holds_l", volume.holds_l));
    }
    let half = trade("common practice: half concentrate, half water");
    let mixed = ours("a balance of volumes; see what to pour");
    steps.push(match (facts.refill, facts.coolant) {
        (Some(refill), _) => {
            let step = said("mix", refill.what.as_str(), &mixed).with("pour_l", refill.pour_l);
            step.with("water_l", refill.water_l).with("drain_l", refill.drain_l)
        }
        (None, Some(coolant)) => {
            let what = format!("Mix it to {:.0} % of concentrate by volume before you pour it in.", coolant.percent);
            said("mix", what, &mixed).with("percent", Some(coolant.percent))
        }
        (None, None) => said("mix", "Mix concentrate and water half and half before you pour it in.", &half),
    });
    let freezes =
        facts.refill.map_or_else(|| facts.coolant.map(|coolant| coolant.freezes_c), |refill| refill.freezes_c);
    if let Some(freezes) = freezes {
        let tables = printed("ASHRAE's and a maker's tables of freezing points");
        let what = format!("It begins to freeze at {freezes:.0} °C: test it once it has run.");
        steps.push(said("frost", what, &tables).with("freezes_c", Some(freezes)));
    }
    let boils = facts.refill.map_or_else(|| facts.coolant.and_then(|coolant| coolant.boils_c), |refill| refill.boils_c);
    if let Some(boils) = boils {
        let law = printed("Raoult's law with IAPWS-IF97 and DIPPR 101, ISO 2533 for the height");
        let under = facts.cap.map_or(String::new(), |cap| format!(" of {:.0} kPa", cap.as_kpa()));
        let metres = facts.altitude.map(|altitude| altitude.as_mm() / 1000.0);
        let high = metres.map_or(String::new(), |metres| format!(", {metres:.0} m above the sea"));
        let what = format!("Under a cap{under}{high} it boils at {boils:.0} °C; with the cap off it boils sooner.");
        let step = said("boils", what, &law).with("boils_c", Some(boils));
        steps.push(step.with("cap_kpa", facts.cap.map(Pressure::as_kpa)).with("altitude_m", metres));
    }
    steps
}

/// Runs that hold air, the highest above the filler first, and from where to fill.
fn where_air_stays(facts: &FillFacts<'_>) -> Vec<SaidReport> {
    let up = |height: Option<Length>| height.filter(|height| *height > Length::ZERO);
    let mut steps = Vec::new();
    let mut highest: Option<(&HighPoint, Length)> = None;
    for point in &facts.high_points {
        let run = &point.run;
        if let Some(above) = up(point.above_filler) {
            let what = format!(
                "{run} rises {:.0} mm above the filler: it does not fill by itself. Raise the filler above it, by the nose of \
                 the car on stands or a funnel that seals, or fill it by its end.",
                above.as_mm()
            );
            steps.push(
                said(&format!("above filler: {run}"), what, &FILLING).with("above_filler_mm", Some(above.as_mm())),
            );
            if highest.is_none_or(|(_, known)| above > known) {
                highest = Some((point, above));
            }
        } else if let Some(above) = up(point.above_ends) {
            let what = format!(
                "{run} rises {:.0} mm above both its ends: air stays there. Bleed it at the top, or lift an end until it has \
                 gone.",
                above.as_mm()
            );
            steps.push(said(&format!("high point: {run}"), what, &LIFTED).with("above_ends_mm", Some(above.as_mm())));
        }
    }
    let from = match highest {
        Some((point, _)) => {
            let end = point.higher_end.as_deref().unwrap_or("its higher end");
            format!(
                "Fill {} first, through the hose lifted off {end}, until coolant stands in it; push it on and clamp it; then \
                 go on at the filler, slowly, until it stays full.",
                point.run
            )
        }
        None => "Fill at the filler, slowly, until it stays full.".to_owned(),
    };
    steps.push(said("fill from", from, &LIFTED));
    steps.push(said("squeeze", "Squeeze the hoses by hand now and then, and top up as bubbles come.", &CARE));
    steps
}

fn room(car: &Car, facts: &FillFacts<'_>, volume: &VolumeReport) -> SaidReport {
    let percent = facts.coolant.and_then(|coolant| coolant.grows_percent);
    let holds = volume.holds_l.or(facts.holds.map(Volume::as_litres));
    let by_percent = percent.zip(holds).map(|(percent, holds)| hundredth(holds * percent / 100.0));
    let grows = facts.refill.and_then(|refill| refill.grows_l).or(by_percent);
    let is_bottle = |kind| kind == PartKind::ExpansionBottle;
    let place = if car.parts.iter().any(|part| !part.goes && is_bottle(part.kind)) {
        "the expansion bottle, above its cold mark"
    } else {
        "the bottle, or under the neck where there is none"
    };
    let what = match grows {
        Some(grows) => format!("Leave {grows:.2} l of room in {place}: so much it grows as it warms."),
        None => format!("Leave room in {place}: it grows as it warms."),
    };
    let density =
        printed("densities of coolant, tables of CoolProp and a maker: from 20 °C to its temperature when hot");
    said("room", what, &density).with("grows_l", grows)
}

/// Shown to hold: under pressure while cold, hot, and once it has cooled.
fn prove(facts: &FillFacts<'_>) -> Vec<SaidReport> {
    let cap = facts.cap.map(Pressure::as_kpa);
    let to = cap.map_or("the pressure printed on the cap".to_owned(), |cap| format!("{cap:.0} kPa, that of the cap"));
    let pumped = format!(
        "Cold, engine off: pump it up to {to}, no higher, and hold it while you look at every joint and closure. Let the \
         pressure off before you take the pump off."
    );
    vec![
        said("proof", pumped, &PUMPED).with("cap_kpa", cap),
        said(
            "start",
            "Start it in the open or with the fumes led away; hands, hair and sleeves away from fan and belts. An electric \
             fan starts by itself.",
            &CARE,
        ),
        said(
            "warm",
            "Cap off from the start: let it run to 66 °C, stop it for 2 minutes so that the thermostat opens, start it, top \
             up; again until the level holds. Keep your face away: hot coolant scalds. Then the cap.",
            &WARM,
        )
        .with("run_to_c", Some(66.0))
        .with("stop_min", Some(2.0)),
        said(
            "opens",
            "The top hose turns hot when the thermostat opens: at 82 °C in one manual, fully some 12 K above; yours may \
             differ. If the gauge climbs and the hose stays cold, or the heater blows cold, there is air in it or the \
             thermostat sticks: stop.",
            &OPENS,
        )
        .with("opens_c", Some(82.0))
        .with("full_after_k", Some(12.0)),
        said("flat", "Rev it for a moment and look at the lower hose: it must not be sucked flat.", &FLAT),
        said(
            "hot",
            "Look at every joint and closure while it is hot, without reaching in, and again in the minutes after you switch \
             it off: then the pressure is highest.",
            &SOAK,
        ),
        said("no hot cap", "Never open it hot: below 50 °C first, then slowly.", &BELOW_50).with("below_c", Some(50.0)),
        said("cold again", "Cold again, at best the next morning, look once more: small weeps show cold and dry off hot.", &HIDES),
    ]
}

/// Once more to the second torque; a spring band follows the rubber by itself.
fn nip_up(facts: &FillFacts<'_>) -> Option<SaidReport> {
    const WHEN: &str = "after the first heat, once it is cold";
    let screws = || facts.clamps.iter().filter(|clamp| !clamp.follows);
    if facts.clamps.is_empty() {
        let what = format!("Nip up clamps that have a screw, {WHEN}. Leave spring bands alone.");
        return Some(said("nip up", what, &SETS));
    }
    screws().next()?;
    // Places of one torque in one sentence, in the order of the clamps.
    let mut told: Vec<(TorqueAgain, Vec<&str>)> = Vec::new();
    for clamp in screws() {
        match told.iter_mut().find(|(again, _)| *again == clamp.again) {
            Some((_, places)) => places.push(&clamp.place),
            None => told.push((clamp.again, vec![&clamp.place])),
        }
    }
    let said_of = told.iter().map(|(again, places)| {
        let places = in_a_row(places.iter().copied());
        match again {
            Some((torque, off)) => format!("{places} to {:.1} ± {:.1} N·m", torque.as_nm(), off.as_nm()),
            None => format!("{places} as its maker says"),
        }
    });
    let what = format!("Nip up the screw clamps {WHEN}: {}.", said_of.collect::<Vec<_>>().join("; "));
    let mut step = said("nip up", what, &SETS);
    for (again, _) in &told {
        step = step.with("again_nm", again.map(|(torque, _)| torque.as_nm()));
    }
    Some(step)
}

fn after() -> Vec<SaidReport> {
    vec![
        said(
            "level",
            "Top up cold to the mark. The bottle goes on taking air out for some warm-ups: look each time.",
            &BOTTLE,
        ),
        said(
            "dispose",
            "Wipe up what was spilt; keep children and animals away: it is poisonous and tastes sweet. Take the old coolant \
             where your local rules say, never into a drain or the ground.",
            &POISON,
        ),
        said(
            "manual",
            "Where the car's own manual says otherwise, it goes first. When in doubt, ask a licensed mechanic.",
            &ours("this sheet knows no car"),
        ),
    ]
}
