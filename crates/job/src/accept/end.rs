//! One end of a run as accepted: a spigot as measured, turned as it is to be, and the elbow that may stand on it.

use super::{CONE, Reader, SEAT_TAKEN, SMALL, SPIGOT};
use crate::input::{BeadInput, ElbowInput, OnInput, SpigotInput, TurnsInput};
use checks::{Bead, ElbowBelow, MadeOf, MountedOn, Spigot};
use quantity::{Angle, Length};
use shape::Vec3;

/// A joiner: length of each stub, the rim between them, how much thicker its beads are; and the wall of an elbow. Our
/// choice.
const JOINER_SEAT: f64 = 25.0;
const JOINER_RIM: f64 = 4.0;
const JOINER_BEAD: f64 = 1.5;
const ELBOW_WALL: f64 = 4.0;

pub(super) fn mounted(
    typed: Option<OnInput>,
    otherwise: MountedOn,
    name: &str,
    assumed: &mut Vec<String>,
) -> MountedOn {
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

pub(super) fn spigot(
    field: &str,
    letter: &str,
    typed: &SpigotInput,
    assumed: &mut Vec<String>,
    reader: &mut Reader,
) -> Option<Spigot> {
    let path = |name: &str| format!("{field}.{name}");
    let name = typed.name.clone().unwrap_or_else(|| format!("spigot {letter}"));
    let diameter = reader.number(&path("spigot_mm"), typed.spigot_mm, SPIGOT);
    let bead = bead(&path("bead_mm"), typed.bead_mm.as_ref(), typed.spigot_mm, reader);
    let seat = match typed.seat_mm {
        Some(seat) => reader.number(&path("seat_mm"), seat, (1.0, 200.0)),
        None => {
            assumed.push(format!("{name}: the seat is taken as {SEAT_TAKEN} mm until it is measured"));
            Some(SEAT_TAKEN)
        }
    };
    let mouth = reader.place(&path("at_mm"), typed.at_mm);
    let points = Vec3::from(typed.points).direction();
    let points = points.and_then(|points| turned(typed, points, &path, reader));
    if Vec3::from(typed.points).direction().is_none() {
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
    let _ = typed.angle_error_deg.and_then(|angle| reader.number(&path("angle_error_deg"), angle, CONE));
    let straight = reader.optional(&path("straight_mm"), typed.straight_mm, SMALL);
    let can_move = reader.optional(&path("can_move_mm"), typed.can_move_mm, SMALL);
    let turns = match &typed.turns {
        Some(TurnsInput::About { about }) => Vec3::from(*about).direction(),
        _ => None,
    };
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
        turns,
        elbow: None,
        name,
    })
}

/// The bead of a spigot of this diameter, mm.
pub(super) fn bead(field: &str, typed: Option<&BeadInput>, spigot: f64, reader: &mut Reader) -> Option<Bead> {
    match typed {
        None => Some(Bead::NotKnown),
        Some(BeadInput::Word(word)) if word == "none" => Some(Bead::Plain),
        Some(BeadInput::Word(word)) => {
            reader.wrong(field, format!("\"{word}\" is not known"), "a diameter, or \"none\" for a plain end");
            None
        }
        Some(BeadInput::Diameter(bead)) if *bead < spigot => {
            let right = "its outside diameter, or \"none\" for a plain end";
            reader.wrong(field, "the bead is thinner than the spigot", right);
            None
        }
        Some(BeadInput::Diameter(bead)) => reader.number(field, *bead, SPIGOT).map(|bead| Bead::Of(Length::mm(bead))),
    }
}

/// The way a spigot points once it is turned as it is to be.
fn turned(typed: &SpigotInput, points: Vec3, path: &impl Fn(&str) -> String, reader: &mut Reader) -> Option<Vec3> {
    let about = match &typed.turns {
        Some(TurnsInput::About { about }) => match Vec3::from(*about).direction() {
            None => {
                reader.wrong(&path("turns.about"), "no direction", "the axis it turns about, as [0, 0, 1] for upright");
                return None;
            }
            some => some,
        },
        Some(TurnsInput::Word(word)) if word != "no" => {
            let right = "\"no\", or the axis: {\"about\": [0, 0, 1]}";
            reader.wrong(&path("turns"), format!("\"{word}\" is not known"), right);
            return None;
        }
        _ => None,
    };
    let Some(turn) = typed.turned_deg.filter(|turn| *turn != 0.0) else { return Some(points) };
    let turn = reader.number(&path("turned_deg"), turn, (-360.0, 360.0))?;
    let Some(about) = about else {
        reader.wrong(&path("turned_deg"), "nobody said that it can be turned", "turns: the axis it turns about");
        return None;
    };
    let radians = Angle::degrees(turn).as_radians();
    Some(points.turned_about(about, libm::sin(radians), libm::cos(radians)))
}

/// A moulded bend on a spigot, with a joiner in its far end.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Elbow {
    /// Straight length from the mouth of the spigot to the bend, mm.
    pub(crate) leg: f64,
    pub(crate) bend: Angle,
    /// The way it bends to; a unit vector square to the spigot.
    pub(crate) towards: Vec3,
    /// Radius to the inside of the bend, mm.
    pub(crate) inside: f64,
    /// Straight length from the bend to its end, mm.
    pub(crate) far_leg: f64,
}

pub(super) fn elbow(field: &str, typed: &ElbowInput, spigot: &Spigot, reader: &mut Reader) -> Option<Elbow> {
    let path = |name: &str| format!("{field}.{name}");
    let leg = reader.number(&path("leg_mm"), typed.leg_mm, SMALL);
    let far_leg = reader.number(&path("far_leg_mm"), typed.far_leg_mm, SMALL);
    let bend = reader.number(&path("bend_deg"), typed.bend_deg, (1.0, 180.0));
    let inside = reader.number(&path("inside_mm"), typed.inside_mm, SMALL);
    let towards = Vec3::from(typed.towards).across(spigot.points).direction();
    if towards.is_none() {
        reader.wrong(&path("towards"), "no way to bend to", "a direction that is not the spigot's own");
    }
    Some(Elbow { leg: leg?, bend: Angle::degrees(bend?), towards: towards?, inside: inside?, far_leg: far_leg? })
}

/// The end of the run with an elbow on its spigot: the hose goes on from the joiner. The wall of the elbow only sets the
/// radius of its centre line.
pub(crate) fn stand_elbow(spigot: &Spigot, elbow: &Elbow, bore: Length) -> Spigot {
    let radius = elbow.inside + bore.as_mm() / 2.0 + ELBOW_WALL;
    let (sin, cos) = (libm::sin(elbow.bend.as_radians()), libm::cos(elbow.bend.as_radians()));
    let out = spigot.points * cos + elbow.towards * sin;
    let end = spigot.mouth
        + spigot.points * (elbow.leg + radius * sin)
        + elbow.towards * (radius * (1.0 - cos))
        + out * elbow.far_leg;
    Spigot {
        name: format!("joiner on {}", spigot.name),
        diameter: bore,
        bead: Bead::Of(bore + Length::mm(JOINER_BEAD)),
        seat: Length::mm(JOINER_SEAT),
        mouth: end + out * (JOINER_RIM + JOINER_SEAT),
        points: out,
        made_of: None,
        straight: None,
        can_move: None,
        turns: None,
        elbow: Some(ElbowBelow {
            spigot: spigot.diameter,
            bore,
            bend: elbow.bend,
            radius: Length::mm(radius),
            length: Length::mm(elbow.leg + radius * elbow.bend.as_radians() + elbow.far_leg),
        }),
        ..spigot.clone()
    }
}
