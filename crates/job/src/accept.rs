//! From what was typed to a job: every sound run, and every problem with its field and the likely right value.

use crate::input::{
    BeadInput, FormInput, HoseInput, Input, KindInput, NeighbourInput, OnInput, RunInput, SideInput, SleeveInput,
    SpigotInput, Triple, TurnsInput,
};
use crate::{Job, Run};
use checks::{Bead, Conditions, Form, Kind, MadeOf, MountedOn, Neighbour, Side, Spigot};
use quantity::{Angle, Basis, Length, Source, Sourced, Temperature};
use serde::{Deserialize, Serialize};
use shape::Vec3;
use stock::{Hose, OwnHose, Rubber, Stock};

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

/// Takes what was typed. Never fails: gives the sound runs and a list of problems.
#[must_use]
pub fn accept(input: &Input) -> Accepted {
    let mut problems = Vec::new();
    let conditions = conditions(input, &mut problems);
    let mut runs = Vec::new();
    for (index, typed) in input.runs.iter().enumerate() {
        let mut reader = Reader { run: Some(index), problems: Vec::new() };
        let run = run(index, typed, &mut reader);
        let sound = !reader.problems.iter().any(|problem| problem.left_out);
        problems.extend(reader.problems.into_iter().map(|noted| noted.problem));
        runs.extend(run.filter(|_| sound));
    }
    Accepted { job: Job { conditions, runs }, problems }
}

struct Noted {
    problem: Problem,
    /// Whether the run cannot be answered because of it.
    left_out: bool,
}

struct Reader {
    run: Option<usize>,
    problems: Vec<Noted>,
}

impl Reader {
    fn note(&mut self, left_out: bool, field: &str, wrong: impl Into<String>, right: impl Into<String>) {
        let problem = Problem { run: self.run, field: field.to_owned(), wrong: wrong.into(), right: right.into() };
        self.problems.push(Noted { problem, left_out });
    }

    fn wrong(&mut self, field: &str, wrong: impl Into<String>, right: impl Into<String>) {
        self.note(true, field, wrong, right);
    }

    fn not_built(&mut self, field: &str, what: &str) {
        self.note(false, field, format!("{what} is not worked out yet"), "leave it out; the answer does not use it");
    }

    /// A number in its range, or a problem with the likely right value: the same digits in another unit.
    fn number(&mut self, field: &str, value: f64, (lo, hi): (f64, f64)) -> Option<f64> {
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

fn conditions(input: &Input, problems: &mut Vec<Problem>) -> Conditions {
    let mut reader = Reader { run: None, problems: Vec::new() };
    let c = &input.conditions;
    let nose =
        c.stands.as_ref().and_then(|s| reader.number("conditions.stands.nose_up_deg", s.nose_up_deg, (-45.0, 45.0)));
    let filler = c.filler_at_z_mm.and_then(|z| reader.number("conditions.filler_at_z_mm", z, PLACE));
    let percent = c.coolant.as_ref().map(|coolant| coolant.percent_by_volume);
    // Not used by any check yet, but a slip is told where it is made. The ranges are our choice, wide.
    for (field, value, range) in [
        ("conditions.cap_kpa", c.cap_kpa, (0.0, 300.0)),
        ("conditions.coolant_c", c.coolant_c, (-40.0, 150.0)),
        ("conditions.bay_air_c", c.bay_air_c, (-40.0, 200.0)),
        ("conditions.coolant.percent_by_volume", percent, (0.0, 100.0)),
        ("conditions.altitude_m", c.altitude_m, (-500.0, 6000.0)),
        ("conditions.tape_error_mm", c.tape_error_mm, (0.0, 50.0)),
        ("conditions.angle_error_deg", c.angle_error_deg, (0.0, 45.0)),
        ("conditions.flow_l_min", c.flow_l_min, (0.0, 200.0)),
    ] {
        let _ = value.and_then(|value| reader.number(field, value, range));
    }
    problems.extend(reader.problems.into_iter().map(|noted| noted.problem));
    Conditions { filler_z: filler, nose_up: Angle::degrees(nose.unwrap_or(0.0)) }
}

fn run(index: usize, typed: &RunInput, reader: &mut Reader) -> Option<Run> {
    let mut assumed = Vec::new();
    let from = spigot("from", "A", &typed.from, &mut assumed, reader);
    let to = spigot("to", "B", &typed.to, &mut assumed, reader);
    let neighbours: Vec<Option<Neighbour>> = typed
        .neighbours
        .iter()
        .enumerate()
        .map(|(i, n)| neighbour(&format!("neighbours[{i}]"), i, n, &mut assumed, reader))
        .collect();
    let hose = typed.hose.as_ref().map(|hose| own_hose(hose, reader));
    let piece = typed.hose.as_ref().and_then(|hose| reader.optional("hose.piece_mm", hose.piece_mm, (1.0, 100_000.0)));
    let try_cut = reader.optional("try_cut_mm", typed.try_cut_mm, (1.0, 20_000.0));
    for (i, shift) in typed.rock_mm.iter().flatten().enumerate() {
        let _ = reader.number(&format!("rock_mm[{i}]"), *shift, (0.0, 200.0));
    }
    not_built(typed, reader);
    let (from, to) = (from?, to?);
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
        neighbours: neighbours.into_iter().collect::<Option<_>>()?,
        side: typed.side.map(|side| match side {
            SideInput::PumpInlet => Side::PumpInlet,
            SideInput::Other => Side::Other,
        }),
        hose,
        piece,
        try_cut,
        assumed,
    })
}

/// What the file may hold and the answer does not use yet.
fn not_built(typed: &RunInput, reader: &mut Reader) {
    if !typed.via.is_empty() {
        reader.wrong(
            "via",
            "a hose held by clips or passing a hole is not worked out yet",
            "each stretch between clips as a run of its own",
        );
    }
    if typed.rock.as_ref().is_some_and(|rock| rock.turn_deg.is_some() || rock.crank_line.is_some()) {
        reader.not_built("rock", "the turn of a rocking engine");
    }
    if matches!(typed.sleeve, Some(SleeveInput::New | SleeveInput::Dirty)) {
        reader.not_built("sleeve", "what a sleeve does to the heat");
    }
    if typed.flow_can_stop.is_some() {
        reader.not_built("flow_can_stop", "the heat of standing coolant");
    }
    for (field, spigot) in [("from.turns", &typed.from), ("to.turns", &typed.to)] {
        match &spigot.turns {
            Some(TurnsInput::About { .. }) => reader.not_built(field, "turning a spigot as a remedy"),
            Some(TurnsInput::Word(word)) if word != "no" => {
                reader.wrong(field, format!("\"{word}\" is not known"), "\"no\", or the axis: {\"about\": [0, 0, 1]}");
            }
            _ => {}
        }
    }
    for (i, neighbour) in typed.neighbours.iter().enumerate() {
        if neighbour.shield.is_some() {
            reader.not_built(&format!("neighbours[{i}].shield"), "what a shield does to the heat");
        }
    }
}

fn mounted(typed: Option<OnInput>, otherwise: MountedOn, name: &str, assumed: &mut Vec<String>) -> MountedOn {
    match typed {
        Some(OnInput::Engine) => MountedOn::Engine,
        Some(OnInput::Body) => MountedOn::Body,
        None => {
            let place = if otherwise == MountedOn::Engine { "engine" } else { "body" };
            assumed.push(format!("{name} is taken to be on the {place}"));
            otherwise
        }
    }
}

fn spigot(
    field: &str,
    letter: &str,
    typed: &SpigotInput,
    assumed: &mut Vec<String>,
    reader: &mut Reader,
) -> Option<Spigot> {
    let path = |name: &str| format!("{field}.{name}");
    let name = typed.name.clone().unwrap_or_else(|| format!("spigot {letter}"));
    let diameter = reader.number(&path("spigot_mm"), typed.spigot_mm, SPIGOT);
    let bead = match &typed.bead_mm {
        None => Some(Bead::NotKnown),
        Some(BeadInput::Word(word)) if word == "none" => Some(Bead::Plain),
        Some(BeadInput::Word(word)) => {
            reader.wrong(
                &path("bead_mm"),
                format!("\"{word}\" is not known"),
                "a diameter, or \"none\" for a plain end",
            );
            None
        }
        Some(BeadInput::Diameter(bead)) if *bead < typed.spigot_mm => {
            reader.wrong(
                &path("bead_mm"),
                "the bead is thinner than the spigot",
                "its outside diameter, or \"none\" for a plain end",
            );
            None
        }
        Some(BeadInput::Diameter(bead)) => {
            reader.number(&path("bead_mm"), *bead, SPIGOT).map(|bead| Bead::Of(Length::mm(bead)))
        }
    };
    let seat = match typed.seat_mm {
        Some(seat) => reader.number(&path("seat_mm"), seat, (1.0, 200.0)),
        None => {
            assumed.push(format!("{name}: the seat is taken as {SEAT_TAKEN} mm until it is measured"));
            Some(SEAT_TAKEN)
        }
    };
    let mouth = reader.place(&path("at_mm"), typed.at_mm);
    let points = Vec3::from(typed.points).direction();
    if points.is_none() {
        reader.wrong(
            &path("points"),
            "no direction",
            "a direction, as [1, 0, 0] for forward: 1 the way it points, -1 the opposite",
        );
    }
    let made_of = match typed.made_of.as_deref() {
        None => Some(None),
        Some(word) => {
            let known = MadeOf::ALL.into_iter().find(|(_, name)| *name == word).map(|(made_of, _)| Some(made_of));
            if known.is_none() {
                let names: Vec<_> = MadeOf::ALL.iter().map(|(_, name)| *name).collect();
                reader.wrong(&path("made_of"), format!("\"{word}\" is not known"), names.join(", "));
            }
            known
        }
    };
    let straight = reader.optional(&path("straight_mm"), typed.straight_mm, SMALL);
    let can_move = reader.optional(&path("can_move_mm"), typed.can_move_mm, SMALL);
    let on = mounted(typed.on, MountedOn::Body, &name, assumed);
    Some(Spigot {
        diameter: Length::mm(diameter?),
        bead: bead?,
        seat: Length::mm(seat?),
        mouth: mouth?,
        points: points?,
        on,
        made_of: made_of?,
        straight,
        can_move,
        name,
    })
}

fn neighbour(
    field: &str,
    i: usize,
    typed: &NeighbourInput,
    assumed: &mut Vec<String>,
    reader: &mut Reader,
) -> Option<Neighbour> {
    let name = typed.name.clone().unwrap_or_else(|| format!("thing {}", i + 1));
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
    let kind = match typed.kind {
        KindInput::Hot => Kind::Hot(surface.map(Temperature::celsius)),
        KindInput::Moving => Kind::Moving,
        KindInput::Sharp => Kind::Sharp,
        KindInput::Solid => Kind::Solid,
    };
    let otherwise = if matches!(kind, Kind::Hot(_)) { MountedOn::Engine } else { MountedOn::Body };
    let on = mounted(typed.on, otherwise, &name, assumed);
    Some(Neighbour { form, kind, on, standoff, name })
}

fn own_hose(typed: &HoseInput, reader: &mut Reader) -> Option<Hose> {
    let bore = reader.number("hose.bore_mm", typed.bore_mm, SPIGOT).map(Length::mm)?;
    let outside = match (typed.wall_mm, typed.outside_mm) {
        (Some(wall), None) => {
            reader.number("hose.wall_mm", wall, (0.5, 20.0)).map(|wall| bore + Length::mm(2.0 * wall))?
        }
        (None, Some(outside)) => reader.number("hose.outside_mm", outside, (5.0, 120.0)).map(Length::mm)?,
        (Some(_), Some(_)) => {
            reader.wrong("hose", "both the wall and the outside diameter are given", "one of the two");
            return None;
        }
        (None, None) => {
            reader.wrong("hose", "its thickness is missing", "wall_mm or outside_mm");
            return None;
        }
    };
    let rubber = match typed.rubber.as_deref() {
        None => None,
        Some(word) => {
            let Some(rubber) = Rubber::from_text(word) else {
                reader.wrong("hose.rubber", format!("\"{word}\" is not known"), "EPDM, silicone, NBR or CR");
                return None;
            };
            Some(rubber)
        }
    };
    let stock = Stock::built_in();
    let limit = match typed.class.as_deref() {
        None => None,
        Some(name) => {
            let Some(class) = stock.class(name) else {
                let names: Vec<_> = stock.classes.iter().map(|class| class.name.as_ref()).collect();
                reader.wrong("hose.class", format!("class \"{name}\" is not known"), names.join(", "));
                return None;
            };
            Some(class.limit())
        }
    };
    let measured =
        |value: Option<Length>, what| value.map(|value| Sourced::new(value, Source::new(what, Basis::Measured)));
    let least = reader.optional("hose.min_bend_radius_mm", typed.min_bend_radius_mm, (1.0, 2000.0));
    let crease = reader.optional("hose.creases_at_inside_mm", typed.creases_at_inside_mm, (0.0, 2000.0));
    let hose = Hose::own(OwnHose {
        kind: "your own hose".to_owned(),
        rubber,
        class: typed.class.clone(),
        limit,
        bore,
        outside,
        wire_supported: false,
        least_bend_inside: measured(least, "least bend radius from its seller or its marking"),
        creases_at_inside: measured(crease, "your bend test"),
    });
    if hose.is_none() {
        reader.wrong("hose.outside_mm", "not thicker than its bore", "the outside diameter");
    }
    hose
}
