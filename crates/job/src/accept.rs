//! From what was typed to a job: every sound run, and every problem with its field and the likely right value.

mod car;
mod end;
mod own_hose;

pub(crate) use end::{Elbow, stand_elbow};
use end::{elbow, mounted, spigot};
use own_hose::own_hose;

use crate::input::{
    ConditionsInput, CoolantInput, EndInput, FormInput, GlycolInput, Input, KindInput, LegInput, NeighbourInput,
    RunInput, SideInput, SleeveInput, Triple, ViaInput,
};
use crate::refill::Refill;
use crate::run::{Clip, OnSpigot};
use crate::size::Errors;
use crate::{Job, Run};
use checks::{Conditions, Cover, Form, Kind, MountedOn, Neighbour, Replaced, Rock, Side, Turn};
use coolant::{Fluid, Glycol, Mix, STRONGEST, boils_at};
use quantity::{Angle, Length, Pressure, Temperature};
use serde::{Deserialize, Serialize};
use shape::{Bend, Guide, Leg, Path, Vec3, Way};

/// What is wrong with what was typed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Problem {
    /// Which run, counted from 0; absent for the job as a whole.
    pub run: Option<usize>,
    /// Which field, by its path in the job file.
    pub field: String,
    /// What is wrong with it.
    pub wrong: String,
    /// What would be right.
    pub right: String,
}

/// What came of a job as typed.
#[derive(Clone, Debug)]
pub struct Accepted {
    /// The job, with every sound run.
    pub job: Job,
    /// What is wrong, for every run that was left out and every field that is not worked out yet.
    pub problems: Vec<Problem>,
}

/// Length of a seat until it is measured; our choice.
const SEAT_TAKEN: f64 = 30.0;

/// Ranges outside which a number is a slip: a unit mixed up, a digit lost. Our choice, wide.
const SPIGOT: (f64, f64) = (4.0, 80.0);
const PLACE: (f64, f64) = (-5000.0, 5000.0);
const SMALL: (f64, f64) = (0.0, 500.0);
const THING: (f64, f64) = (0.5, 2000.0);
/// Most things near one hose: every lie is measured against each, and a file has room for nine thousand. Our choice, more
/// than anybody measures.
const MOST_NEAR: usize = 100;
/// Error of the tape and of a direction until they are said; our choice, for a tape held in an engine bay and a direction
/// read by eye.
const TAPE_TAKEN: f64 = 5.0;
const CONE_TAKEN: f64 = 5.0;
/// Coolant and air of the bay until they are said, °C: common practice for a thermostat of some 88 °C, and our choice.
const COOLANT_TAKEN: f64 = 95.0;
const BAY_TAKEN: f64 = 90.0;
/// Flow in a heater branch, l/min, and what all but the hose loses there at that flow, kPa: no published curve of a heater
/// core was found. Our choice.
const FLOW_TAKEN: f64 = 10.0;
const REST_TAKEN: f64 = 8.0;
/// Glycol by volume until it is said: common practice.
const MIX_TAKEN: f64 = 0.5;
const TAPE: (f64, f64) = (0.0, 50.0);
const CONE: (f64, f64) = (0.0, 45.0);
const ROCK: (f64, f64) = (0.0, 200.0);
const TURN: (f64, f64) = (0.0, 30.0);

/// Takes what was typed. Never fails: gives the sound runs and a list of problems.
#[must_use]
pub fn accept(input: &Input) -> Accepted {
    let mut problems = Vec::new();
    let (conditions, mix, refill) = conditions(input, &mut problems);
    let mut runs = Vec::new();
    for (index, typed) in input.runs.iter().enumerate() {
        let mut reader = Reader { run: Some(index), problems: Vec::new() };
        let run = run(index, typed, &input.conditions, &mut reader);
        let sound = !reader.problems.iter().any(|problem| problem.left_out);
        problems.extend(reader.problems.into_iter().map(|noted| noted.problem));
        runs.extend(run.filter(|_| sound));
    }
    let mut reader = Reader { run: None, problems: Vec::new() };
    let car = car::car(input, &mut reader);
    problems.extend(reader.problems.into_iter().map(|noted| noted.problem));
    Accepted { job: Job { conditions, runs, mix, refill, car }, problems }
}

struct Noted {
    problem: Problem,
    /// Whether the run cannot be answered because of it.
    left_out: bool,
}

pub(crate) struct Reader {
    run: Option<usize>,
    problems: Vec<Noted>,
}

impl Reader {
    pub(crate) fn note(&mut self, left_out: bool, field: &str, wrong: impl Into<String>, right: impl Into<String>) {
        let problem = Problem { run: self.run, field: field.to_owned(), wrong: wrong.into(), right: right.into() };
        self.problems.push(Noted { problem, left_out });
    }

    fn wrong(&mut self, field: &str, wrong: impl Into<String>, right: impl Into<String>) {
        self.note(true, field, wrong, right);
    }

    /// A number in its range, or a problem with the likely right value: the same digits in another unit.
    pub(crate) fn number(&mut self, field: &str, value: f64, (lo, hi): (f64, f64)) -> Option<f64> {
        if value.is_finite() && (lo..=hi).contains(&value) {
            return Some(value);
        }
        let likely = [value.abs(), value * 25.4, value * 10.0, value / 10.0, value / 25.4]
            .into_iter()
            .find(|v| v.is_finite() && *v > lo && *v <= hi);
        let wrong = if value < lo { format!("{value} is too small") } else { format!("{value} is too large") };
        let right = likely.map_or_else(|| format!("{lo} to {hi}"), |v| format!("{}", (v * 10.0).round() / 10.0));
        self.wrong(field, wrong, right);
        None
    }

    fn optional(&mut self, field: &str, value: Option<f64>, range: (f64, f64)) -> Option<Length> {
        value.and_then(|value| self.number(field, value, range)).map(Length::mm)
    }

    fn place(&mut self, field: &str, at: Triple) -> Option<Vec3> {
        let sound = at.iter().all(|x| x.is_finite() && (PLACE.0..=PLACE.1).contains(x));
        if !sound {
            self.wrong(field, "further away than any car is long", "millimetres from mouth A");
        }
        sound.then(|| at.into())
    }
}

fn conditions(input: &Input, problems: &mut Vec<Problem>) -> (Conditions, Mix, Option<Refill>) {
    let mut reader = Reader { run: None, problems: Vec::new() };
    let c = &input.conditions;
    let nose =
        c.stands.as_ref().and_then(|s| reader.number("conditions.stands.nose_up_deg", s.nose_up_deg, (-45.0, 45.0)));
    let filler = c.filler_at_z_mm.and_then(|z| reader.number("conditions.filler_at_z_mm", z, PLACE));
    // A slip is told where it is made. The ranges are our choice, wide.
    for (field, value, range) in
        [("conditions.tape_error_mm", c.tape_error_mm, TAPE), ("conditions.angle_error_deg", c.angle_error_deg, CONE)]
    {
        let _ = value.and_then(|value| reader.number(field, value, range));
    }
    let cap = c.cap_kpa.and_then(|cap| reader.number("conditions.cap_kpa", cap, (0.0, 300.0)));
    let coolant = c.coolant_c.and_then(|coolant| reader.number("conditions.coolant_c", coolant, (-40.0, 150.0)));
    let bay = c.bay_air_c.and_then(|bay| reader.number("conditions.bay_air_c", bay, (-40.0, 200.0)));
    let altitude = c.altitude_m.and_then(|up| reader.number("conditions.altitude_m", up, (-500.0, 6000.0)));
    let flow = c.flow_l_min.and_then(|flow| reader.number("conditions.flow_l_min", flow, (0.0, 200.0)));
    let rest = c.rest_of_branch_kpa.and_then(|rest| reader.number("conditions.rest_of_branch_kpa", rest, (0.0, 200.0)));
    let mix = mix(c.coolant.as_ref(), &mut reader);
    let coolant = Temperature::celsius(coolant.unwrap_or(COOLANT_TAKEN));
    let cap = cap.map(Pressure::kpa);
    let conditions = Conditions {
        filler_z: filler,
        nose_up: Angle::degrees(nose.unwrap_or(0.0)),
        coolant,
        bay_air: Temperature::celsius(bay.unwrap_or(BAY_TAKEN)),
        cap,
        boils: cap.and_then(|cap| boils_at(mix, cap, Length::mm(1e3 * altitude.unwrap_or(0.0)))),
        fluid: Fluid::of(mix, coolant),
        flow: flow.unwrap_or(FLOW_TAKEN),
        rest: Pressure::kpa(rest.unwrap_or(REST_TAKEN)),
    };
    let refill = Refill::accept(c, &conditions, mix.glycol(), &mut reader);
    problems.extend(reader.problems.into_iter().map(|noted| noted.problem));
    (conditions, mix, refill)
}

/// The coolant: as said, half ethylene glycol until it is. Above 60 % it is taken as 60 %, and told.
fn mix(typed: Option<&CoolantInput>, reader: &mut Reader) -> Mix {
    let Some(typed) = typed else { return Mix::new(Glycol::Ethylene, MIX_TAKEN).unwrap_or(Mix::WATER) };
    let field = "conditions.coolant.percent_by_volume";
    let glycol = match typed.glycol {
        GlycolInput::Ethylene => Glycol::Ethylene,
        GlycolInput::Propylene => Glycol::Propylene,
    };
    let most = 100.0 * STRONGEST;
    let Some(percent) = reader.number(field, typed.percent_by_volume, (0.0, 100.0)) else { return Mix::WATER };
    if percent > most {
        reader.note(false, field, "more than 60 % freezes earlier again, and carries less heat", "50, 60 at the most");
    }
    Mix::new(glycol, percent.min(most) / 100.0).unwrap_or(Mix::WATER)
}

fn run(index: usize, typed: &RunInput, conditions: &ConditionsInput, reader: &mut Reader) -> Option<Run> {
    let mut assumed = Vec::new();
    let from = spigot("from", "A", &typed.from, &mut assumed, reader);
    let to = spigot("to", "B", &typed.to, &mut assumed, reader);
    if typed.neighbours.len() > MOST_NEAR {
        let wrong = format!("{} things near one hose are too many to measure it against", typed.neighbours.len());
        reader.wrong("neighbours", wrong, format!("at most {MOST_NEAR}: those that are nearest"));
        return None;
    }
    let names = typed.names_near();
    let neighbours: Vec<Option<Neighbour>> = typed
        .neighbours
        .iter()
        .zip(names)
        .enumerate()
        .map(|(i, (n, name))| neighbour(&format!("neighbours[{i}]"), name, n, &mut assumed, reader))
        .collect();
    let hose = typed.hose.as_ref().map(|hose| own_hose(hose, reader));
    let piece = typed.hose.as_ref().and_then(|hose| reader.optional("hose.piece_mm", hose.piece_mm, (1.0, 100_000.0)));
    let try_cut = reader.optional("try_cut_mm", typed.try_cut_mm, (1.0, 20_000.0));
    let heat_matters = typed.neighbours.iter().any(|thing| thing.kind == KindInput::Hot);
    if heat_matters && conditions.coolant_c.is_none() {
        assumed.push(format!("the coolant is taken to be at {COOLANT_TAKEN} °C"));
    }
    if heat_matters && conditions.bay_air_c.is_none() {
        assumed.push(format!("the air in the engine bay is taken to be at {BAY_TAKEN} °C"));
    }
    if heat_matters && typed.flow_can_stop.is_none() {
        assumed.push("the coolant is taken to flow through it whenever the engine is hot".to_owned());
    }
    let rock = rock(typed, reader);
    let clips: Vec<Option<Clip>> =
        typed.via.iter().enumerate().map(|(i, via)| clip(&format!("via[{i}]"), via, &mut assumed, reader)).collect();
    let bows = typed.bows.map(Vec3::from).filter(|bows| bows.is_finite());
    if !typed.via.is_empty() && typed.neighbours.iter().any(|thing| thing.may_touch == Some(true)) {
        reader.wrong(
            "via",
            "a hose that is held by clips and rests against something is not worked out",
            "the clips, or that it may touch",
        );
        return None;
    }
    let (mut from, mut to) = (from?, to?);
    let wanted = legs(&typed.legs, reader)?;
    if let Err(why) = Path::from_legs(from.mouth, from.points, &wanted, 1.0)
        && !wanted.is_empty()
    {
        reader.wrong("legs", why.to_string(), "straight lengths, and bends to a side of the leg before");
        return None;
    }
    let mut elbows = Vec::new();
    for (i, typed_elbow) in typed.elbows.iter().enumerate() {
        let end = match typed_elbow.end {
            EndInput::A => &mut from,
            EndInput::B => &mut to,
        };
        let elbow = elbow(&format!("elbows[{i}]"), typed_elbow, end, reader)?;
        let bore = typed.hose.as_ref().map_or(end.diameter, |hose| Length::mm(hose.bore_mm));
        let joiner = stand_elbow(end, &elbow, bore);
        let spigot = std::mem::replace(end, joiner.clone());
        elbows.push(OnSpigot { elbow, spigot, joiner });
    }
    let apart = (to.mouth - from.mouth).norm();
    if apart < 1.0 {
        reader.wrong("to.at_mm", "both mouths are at one place", "the place of mouth B, in millimetres from mouth A");
        return None;
    }
    let hose = match hose {
        Some(None) => return None,
        Some(some) => some,
        None => None,
    };
    Some(Run {
        index,
        name: typed.name.clone().unwrap_or_else(|| format!("run {}", index + 1)),
        from,
        to,
        elbows,
        clips: clips.into_iter().collect::<Option<_>>()?,
        neighbours: neighbours.into_iter().collect::<Option<_>>()?,
        side: typed.side.map(|side| match side {
            SideInput::PumpInlet => Side::PumpInlet,
            SideInput::Other => Side::Other,
        }),
        hose,
        piece,
        try_cut,
        rock,
        moves_together: moves_together(typed),
        bows,
        legs: wanted,
        errors: errors(typed, conditions, &mut assumed),
        replaced: typed.replaces.as_ref().map(|replaces| Replaced {
            length: reader.optional("replaces.length_mm", replaces.length_mm, (10.0, 5000.0)),
            bore: reader.optional("replaces.bore_mm", replaces.bore_mm, SPIGOT),
        }),
        oil: typed.oil_near,
        flow_can_stop: typed.flow_can_stop == Some(true),
        cover: match typed.sleeve {
            None | Some(SleeveInput::None) => Cover::Bare,
            Some(SleeveInput::New) => Cover::NewSleeve,
            Some(SleeveInput::Dirty) => Cover::DirtySleeve,
        },
        assumed,
    })
}

/// The way a hose is wanted; it must make a path.
fn legs(typed: &[LegInput], reader: &mut Reader) -> Option<Vec<Leg>> {
    let mut legs = Vec::new();
    for (i, leg) in typed.iter().enumerate() {
        let path = |name: &str| format!("legs[{i}].{name}");
        let straight = reader.number(&path("straight_mm"), leg.straight_mm, (0.0, 5000.0))?;
        let last = i + 1 == typed.len();
        let bend = match (leg.bend_deg, leg.towards, leg.inside_mm) {
            (None, None, None) if last => None,
            (Some(bend), Some(towards), Some(inside)) => Some(Bend {
                angle: Angle::degrees(reader.number(&path("bend_deg"), bend, (1.0, 180.0))?).as_radians(),
                way: Way::Towards(Vec3::from(towards)),
                inside: reader.number(&path("inside_mm"), inside, SMALL)?,
            }),
            _ => {
                reader.wrong(
                    &format!("legs[{i}]"),
                    "a bend wants its angle, the way it goes to and its radius",
                    "bend_deg, towards and inside_mm; none of them after the last leg",
                );
                return None;
            }
        };
        legs.push(Leg { straight, bend });
    }
    Some(legs)
}

fn clip(field: &str, typed: &ViaInput, assumed: &mut Vec<String>, reader: &mut Reader) -> Option<Clip> {
    let at = reader.place(&format!("{field}.at_mm"), typed.at_mm);
    let known = ["P-clip", "grommet"].contains(&typed.holds.as_str());
    if !known {
        reader.wrong(
            &format!("{field}.holds"),
            format!("\"{}\" is not known", typed.holds),
            "\"P-clip\" or \"grommet\"",
        );
    }
    let direction = typed.along.map(|along| Vec3::from(along).direction());
    if direction == Some(None) {
        reader.wrong(&format!("{field}.along"), "no direction", "the way the hose goes through it, or nothing");
        return None;
    }
    let on = mounted(typed.on, MountedOn::Body, &typed.holds, assumed);
    known.then_some(())?;
    Some(Clip { holds: typed.holds.clone(), guide: Guide { at: at?, direction: direction.flatten() }, on })
}

/// How far tape and eye may be off: as said, a spigot's own first, else as taken.
fn errors(typed: &RunInput, conditions: &ConditionsInput, assumed: &mut Vec<String>) -> Errors {
    let within = |value: Option<f64>, (lo, hi): (f64, f64)| value.filter(|value| (lo..=hi).contains(value));
    let tape = within(conditions.tape_error_mm, TAPE);
    let all = within(conditions.angle_error_deg, CONE);
    let own = [&typed.from, &typed.to].map(|spigot| within(spigot.angle_error_deg, CONE).or(all));
    if tape.is_none() {
        assumed.push(format!("the tape is taken to be off by up to {TAPE_TAKEN} mm"));
    }
    if own.iter().any(Option::is_none) {
        assumed.push(format!("the way a spigot points is taken to be off by up to {CONE_TAKEN}°"));
    }
    Errors { tape: tape.unwrap_or(TAPE_TAKEN), angle: own.map(|angle| Angle::degrees(angle.unwrap_or(CONE_TAKEN))) }
}

/// True if both ends and every thing were said to be on one part of the car, the same.
fn moves_together(typed: &RunInput) -> bool {
    let on = typed.from.on;
    let things = typed.neighbours.iter().map(|thing| thing.on);
    on.is_some()
        && [typed.to.on].into_iter().chain(things).chain(typed.via.iter().map(|via| via.on)).all(|other| other == on)
}

/// How far the engine moves: shifts alone, or with a turn about the crank line.
fn rock(typed: &RunInput, reader: &mut Reader) -> Option<Rock> {
    let (field, shift, full) = match (&typed.rock, typed.rock_mm) {
        (Some(_), Some(_)) => {
            reader.wrong("rock", "rock_mm is given as well", "one of the two: rock_mm is short for shifts alone");
            return None;
        }
        (Some(rock), None) => ("rock.shift_mm", rock.shift_mm, Some(rock)),
        (None, Some(shift)) => ("rock_mm", shift, None),
        (None, None) => return None,
    };
    let mut sound = true;
    for (i, shift) in shift.iter().enumerate() {
        sound &= reader.number(&format!("{field}[{i}]"), *shift, ROCK).is_some();
    }
    let turn = full.and_then(|rock| rock.turn_deg).filter(|turn| *turn != 0.0);
    let line = full.and_then(|rock| rock.crank_line.as_ref());
    let turn = match (turn, line) {
        (Some(turn), Some(line)) => {
            let most = reader.number("rock.turn_deg", turn, TURN)?;
            let through = reader.place("rock.crank_line.through_mm", line.through_mm)?;
            let Some(along) = Vec3::from(line.along).direction() else {
                reader.wrong(
                    "rock.crank_line.along",
                    "no direction",
                    "the way the crank lies, as [1, 0, 0] for fore and aft",
                );
                return None;
            };
            Some(Turn { most: Angle::degrees(most), through, along })
        }
        (Some(_), None) => {
            reader.wrong(
                "rock.crank_line",
                "the line it turns about is missing",
                "a place on the crank line and the way it lies",
            );
            return None;
        }
        (None, _) => None,
    };
    sound.then(|| Rock { shift: shift.into(), turn })
}

fn neighbour(
    field: &str,
    name: String,
    typed: &NeighbourInput,
    assumed: &mut Vec<String>,
    reader: &mut Reader,
) -> Option<Neighbour> {
    let path = |name: &str| format!("{field}.{name}");
    let form = match &typed.shape {
        FormInput::Rod { from_mm, to_mm, diameter_mm } => {
            let from = reader.place(&path("shape.rod.from_mm"), *from_mm);
            let to = reader.place(&path("shape.rod.to_mm"), *to_mm);
            let diameter = reader.number(&path("shape.rod.diameter_mm"), *diameter_mm, THING);
            Form::Rod { from: from?, to: to?, diameter: Length::mm(diameter?) }
        }
        FormInput::Ball { at_mm, diameter_mm } => {
            let at = reader.place(&path("shape.ball.at_mm"), *at_mm);
            let diameter = reader.number(&path("shape.ball.diameter_mm"), *diameter_mm, THING);
            Form::Ball { at: at?, diameter: Length::mm(diameter?) }
        }
        FormInput::Box { from_mm, to_mm } => {
            let a = reader.place(&path("shape.box.from_mm"), *from_mm);
            let b = reader.place(&path("shape.box.to_mm"), *to_mm);
            let (a, b) = (a?, b?);
            Form::Box {
                least: Vec3::new(a.x.min(b.x), a.y.min(b.y), a.z.min(b.z)),
                greatest: Vec3::new(a.x.max(b.x), a.y.max(b.y), a.z.max(b.z)),
            }
        }
        FormInput::Disc { at_mm, along, diameter_mm, thick_mm } => {
            let at = reader.place(&path("shape.disc.at_mm"), *at_mm);
            let along = Vec3::from(*along).direction();
            if along.is_none() {
                reader.wrong(
                    &path("shape.disc.along"),
                    "no direction",
                    "the way its axle lies, as [1, 0, 0] for fore and aft",
                );
            }
            let diameter = reader.number(&path("shape.disc.diameter_mm"), *diameter_mm, THING);
            let thick = reader.number(&path("shape.disc.thick_mm"), *thick_mm, (0.0, 500.0));
            Form::Disc { at: at?, along: along?, diameter: Length::mm(diameter?), thick: Length::mm(thick?) }
        }
    };
    let travel = match typed.travel_mm {
        None => Vec3::ZERO,
        Some(travel) => reader.place(&path("travel_mm"), travel)?,
    };
    let surface = typed.surface_c.and_then(|c| reader.number(&path("surface_c"), c, (-40.0, 1200.0)));
    if typed.surface_c.is_some() && typed.kind != KindInput::Hot {
        reader.wrong(
            &path("surface_c"),
            "only a hot thing has a surface temperature here",
            "kind \"hot\", or no temperature",
        );
    }
    let standoff = reader.optional(&path("standoff_mm"), typed.standoff_mm, SMALL);
    let shield = typed
        .shield
        .as_ref()
        .and_then(|shield| reader.number(&path("shield.gap_mm"), shield.gap_mm, (1.0, 500.0)))
        .map(Length::mm);
    if shield.is_some() && typed.kind != KindInput::Hot {
        reader.wrong(&path("shield"), "only a hot thing has a shield here", "kind \"hot\", or no shield");
    }
    let kind = match typed.kind {
        KindInput::Hot => Kind::Hot(surface.map(Temperature::celsius)),
        KindInput::Moving => Kind::Moving,
        KindInput::Sharp => Kind::Sharp,
        KindInput::Solid => Kind::Solid,
    };
    let otherwise = if matches!(kind, Kind::Hot(_)) { MountedOn::Engine } else { MountedOn::Body };
    let on = mounted(typed.on, otherwise, &name, assumed);
    let may_touch = typed.may_touch == Some(true);
    let firm = kind == Kind::Solid && travel == Vec3::ZERO && !matches!(form, Form::Disc { .. });
    if may_touch && !firm {
        reader.wrong(
            &path("may_touch"),
            "a hose must not rest against something hot, sharp or moving",
            "kind \"solid\", or leave it out",
        );
        return None;
    }
    Some(Neighbour { form, kind, on, standoff, travel, may_touch, shield, name })
}
