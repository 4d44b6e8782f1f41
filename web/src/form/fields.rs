//! Which fields a job has: where each stands in the job file, what it is called, how it is read.

use super::car_fields::{MADE_OF, name};
use super::sketch::Sketch;
use crate::words;
use share::json::Value;

/// How a field is read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Reads {
    /// A length, in the unit chosen or as typed.
    Length,
    /// A length, or the word "none".
    Bead,
    /// A pressure.
    Pressure,
    /// A temperature.
    Temperature,
    /// An angle.
    Angle,
    /// A plain number.
    Number,
    /// Words.
    Words,
    /// One of a few words.
    One(&'static [&'static str]),
    /// Yes or no.
    YesNo,
}

impl Reads {
    /// What can be chosen, for a field in which nothing is typed; the empty word is "not known".
    pub(crate) fn choices(self) -> Option<&'static [&'static str]> {
        match self {
            Self::One(words) => Some(words),
            Self::YesNo => Some(&["", "yes", "no"]),
            _ => None,
        }
    }
}

/// One field.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Field {
    /// Its place in the job file, as a JSON pointer.
    pub(crate) at: String,
    /// What it is called.
    pub(crate) label: &'static str,
    /// How it is read.
    pub(crate) reads: Reads,
    /// The unit shown behind its name, where the field has one of its own.
    pub(crate) unit: &'static str,
}

/// Fields that belong together.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Group {
    /// What they are about.
    pub(crate) title: String,
    /// The fields.
    pub(crate) fields: Vec<Field>,
}

const ON: &[&str] = &["", "engine", "body"];
const KIND: &[&str] = &["hot", "moving", "sharp", "solid"];
const GLYCOL: &[&str] = &["ethylene", "propylene"];
const SEAT_FROM: &[&str] = &["", "measured", "taken"];
const RUBBER: &[&str] = &["", "EPDM", "silicone", "NBR", "CR"];
const SIDE: &[&str] = &["", "pump inlet", "other"];
const SLEEVE: &[&str] = &["", "none", "new", "dirty"];

pub(super) fn field(at: String, label: &'static str, reads: Reads) -> Field {
    let unit = match reads {
        Reads::Angle => "degrees",
        Reads::Pressure => "kPa, or type bar or psi",
        Reads::Temperature => "°C, or type °F",
        _ => "",
    };
    Field { at, label, reads, unit }
}

/// Three fields of a place, or of a direction.
fn three(at: &str, reads: Reads, labels: [&'static str; 3]) -> Vec<Field> {
    labels.into_iter().enumerate().map(|(i, label)| field(format!("{at}/{i}"), label, reads)).collect()
}

const PLACE: [&str; 3] = ["mouth: forward", "mouth: to the left", "mouth: up"];
const POINTS: [&str; 3] = ["points: forward", "points: to the left", "points: up"];
const FROM: [&str; 3] = ["middle of one end: forward", "middle of one end: to the left", "middle of one end: up"];
const TO: [&str; 3] =
    ["middle of the other end: forward", "middle of the other end: to the left", "middle of the other end: up"];
const CORNER: [&str; 3] = ["one corner: forward", "one corner: to the left", "one corner: up"];
const OPPOSITE: [&str; 3] = ["corner opposite: forward", "corner opposite: to the left", "corner opposite: up"];
const CENTRE: [&str; 3] = ["centre: forward", "centre: to the left", "centre: up"];
const AXLE: [&str; 3] = ["axle: forward", "axle: to the left", "axle: up"];
const TRAVEL: [&str; 3] = ["goes from there: forward", "goes from there: to the left", "goes from there: up"];
const CLIP: [&str; 3] = ["place: forward", "place: to the left", "place: up"];
const TOWARDS: [&str; 3] = ["bends: forward", "bends: to the left", "bends: up"];
const TURNS: [&str; 3] =
    ["can be turned, axis: forward", "can be turned, axis: to the left", "can be turned, axis: up"];
const HOLDS: &[&str] = &["P-clip", "grommet"];
const ENDS: &[&str] = &["A", "B"];
const ROCK: [&str; 3] = ["fore and aft, each way", "side to side, each way", "up and down, each way"];

fn spigot(at: &str, letter: &str, value: &Value) -> Group {
    let mut fields = vec![
        field(format!("{at}/name"), "name", Reads::Words),
        field(format!("{at}/spigot_mm"), "outside diameter", Reads::Length),
        field(format!("{at}/bead_mm"), "bead, or none", Reads::Bead),
        field(format!("{at}/seat_mm"), "how far the hose goes on", Reads::Length),
        field(format!("{at}/seat_from"), "that length was", Reads::One(SEAT_FROM)),
        field(format!("{at}/straight_mm"), "plain length behind that", Reads::Length),
        field(format!("{at}/can_move_mm"), "how far the part can be moved", Reads::Length),
    ];
    fields.extend(three(&format!("{at}/at_mm"), Reads::Length, PLACE));
    fields.extend(three(&format!("{at}/points"), Reads::Number, POINTS));
    fields.push(field(format!("{at}/angle_error_deg"), "not sure which way it points, by", Reads::Angle));
    fields.extend(three(&format!("{at}/turns/about"), Reads::Number, TURNS));
    fields.push(field(format!("{at}/turned_deg"), "turned about it by", Reads::Angle));
    fields.push(field(format!("{at}/made_of"), "made of", Reads::One(MADE_OF)));
    fields.push(field(format!("{at}/on"), "bolted to the", Reads::One(ON)));
    Group { title: titled(&format!("Spigot {letter}"), value, at), fields }
}

fn titled(what: &str, value: &Value, at: &str) -> String {
    match value.pointer(&format!("{at}/name")).and_then(Value::as_str) {
        Some(name) if !name.is_empty() => format!("{what}: {name}"),
        _ => what.to_owned(),
    }
}

fn neighbour(at: &str, title: String, value: &Value) -> Group {
    let mut fields = vec![
        field(format!("{at}/name"), "name", Reads::Words),
        field(format!("{at}/kind"), "kind", Reads::One(KIND)),
        field(format!("{at}/on"), "bolted to the", Reads::One(ON)),
    ];
    // What decides most stands before the twelve numbers of its place.
    let is_hot = value.pointer(&format!("{at}/kind")).and_then(Value::as_str) == Some("hot");
    if is_hot {
        fields.push(field(format!("{at}/surface_c"), "surface temperature", Reads::Temperature));
    }
    let shape = format!("{at}/shape");
    let has = |form: &str| value.pointer(&format!("{shape}/{form}")).is_some();
    if has("rod") {
        fields.push(field(format!("{shape}/rod/diameter_mm"), "outside diameter", Reads::Length));
        fields.extend(three(&format!("{shape}/rod/from_mm"), Reads::Length, FROM));
        fields.extend(three(&format!("{shape}/rod/to_mm"), Reads::Length, TO));
    } else if has("disc") {
        fields.push(field(format!("{shape}/disc/diameter_mm"), "outside diameter", Reads::Length));
        fields.push(field(format!("{shape}/disc/thick_mm"), "thickness, with what it sweeps", Reads::Length));
        fields.extend(three(&format!("{shape}/disc/at_mm"), Reads::Length, CENTRE));
        fields.extend(three(&format!("{shape}/disc/along"), Reads::Number, AXLE));
    } else if has("ball") {
        fields.push(field(format!("{shape}/ball/diameter_mm"), "outside diameter", Reads::Length));
        fields.extend(three(&format!("{shape}/ball/at_mm"), Reads::Length, CENTRE));
    } else {
        fields.extend(three(&format!("{shape}/box/from_mm"), Reads::Length, CORNER));
        fields.extend(three(&format!("{shape}/box/to_mm"), Reads::Length, OPPOSITE));
    }
    if is_hot {
        fields.push(field(format!("{at}/shield/gap_mm"), "flat shield before it, at", Reads::Length));
    }
    if value.pointer(&format!("{at}/kind")).and_then(Value::as_str) == Some("moving") {
        fields.extend(three(&format!("{at}/travel_mm"), Reads::Length, TRAVEL));
    }
    if value.pointer(&format!("{at}/kind")).and_then(Value::as_str) == Some("solid") {
        fields.push(field(format!("{at}/may_touch"), "may the hose rest against it?", Reads::YesNo));
    }
    fields.push(field(format!("{at}/standoff_mm"), "distance you want kept", Reads::Length));
    Group { title, fields }
}

pub(super) fn count(job: &Value, at: &str) -> usize {
    job.pointer(at).and_then(Value::as_array).map_or(0, <[_]>::len)
}

fn clip(at: &str, i: usize) -> Group {
    let mut fields = vec![
        field(format!("{at}/holds"), "what holds it", Reads::One(HOLDS)),
        field(format!("{at}/on"), "bolted to the", Reads::One(ON)),
    ];
    fields.extend(three(&format!("{at}/at_mm"), Reads::Length, CLIP));
    Group { title: format!("On the way {}: P-clip or hole", i + 1), fields }
}

fn leg(at: &str, i: usize) -> Group {
    let mut fields = vec![
        field(format!("{at}/straight_mm"), "straight length", Reads::Length),
        field(format!("{at}/bend_deg"), "then it bends by", Reads::Angle),
        field(format!("{at}/inside_mm"), "radius to the inside of the bend", Reads::Length),
    ];
    fields.extend(three(&format!("{at}/towards"), Reads::Number, TOWARDS));
    Group { title: format!("The way it should go, leg {}", i + 1), fields }
}

fn elbow(at: &str, i: usize) -> Group {
    let mut fields = vec![
        field(format!("{at}/end"), "stands on spigot", Reads::One(ENDS)),
        field(format!("{at}/leg_mm"), "straight before the bend, beyond the mouth", Reads::Length),
        field(format!("{at}/bend_deg"), "bends by", Reads::Angle),
        field(format!("{at}/inside_mm"), "radius to the inside", Reads::Length),
        field(format!("{at}/far_leg_mm"), "straight after the bend", Reads::Length),
    ];
    fields.extend(three(&format!("{at}/towards"), Reads::Number, TOWARDS));
    Group { title: format!("Elbow with a joiner {}", i + 1), fields }
}

/// Every field of the run `run` of a job, and of the conditions, in the order of the form.
pub(crate) fn groups(job: &Value, run: usize) -> Vec<Group> {
    let at = format!("/runs/{run}");
    let mut groups = vec![spigot(&format!("{at}/from"), "A", job), spigot(&format!("{at}/to"), "B", job)];
    let things = Sketch::of(job, run).things.into_iter().enumerate();
    groups.extend(things.map(|(i, thing)| {
        neighbour(&format!("{at}/neighbours/{i}"), format!("Thing near it {}: {}", i + 1, thing.name), job)
    }));
    let many = |list: &str| count(job, &format!("{at}/{list}"));
    groups.extend((0..many("via")).map(|i| clip(&format!("{at}/via/{i}"), i)));
    groups.extend((0..many("legs")).map(|i| leg(&format!("{at}/legs/{i}"), i)));
    groups.extend((0..many("elbows")).map(|i| elbow(&format!("{at}/elbows/{i}"), i)));
    let hose = |name: &str, label, reads| field(format!("{at}/hose/{name}"), label, reads);
    groups.push(Group {
        title: "The hose you have, if you have one".to_owned(),
        fields: vec![
            hose("bore_mm", "bore", Reads::Length),
            hose("outside_mm", "outside diameter", Reads::Length),
            hose("wall_mm", "or its wall", Reads::Length),
            hose("rubber", "made of", Reads::One(RUBBER)),
            hose("class", "class printed on it", Reads::Words),
            hose("piece_mm", "longest sound piece", Reads::Length),
            hose("creases_at_inside_mm", "bend test: inside radius where it creases", Reads::Length),
            hose("min_bend_radius_mm", "least bend radius from its seller", Reads::Length),
            hose("wire_supported", "is there a wire in its wall?", Reads::YesNo),
            hose("rated_kpa", "working pressure printed on it", Reads::Pressure),
        ],
    });
    groups.push(Group {
        title: "The run".to_owned(),
        fields: vec![
            field(format!("{at}/name"), "its name", Reads::Words),
            Field { label: "the car", ..name() },
            field(format!("{at}/side"), "which side of the pump", Reads::One(SIDE)),
            field(format!("{at}/flow_can_stop"), "can the coolant stand still in it?", Reads::YesNo),
            field(format!("{at}/sleeve"), "sleeve over it", Reads::One(SLEEVE)),
            field(format!("{at}/oil_near"), "does oil drip or splash on it?", Reads::YesNo),
        ],
    });
    let mut engine = three(&format!("{at}/rock_mm"), Reads::Length, ROCK);
    engine.extend([
        field(format!("{at}/replaces/length_mm"), "old hose: length", Reads::Length),
        field(format!("{at}/replaces/bore_mm"), "old hose: bore", Reads::Length),
    ]);
    groups.push(Group { title: "Rocking engine, and the old hose".to_owned(), fields: engine });
    let whole = |name: &str, label, reads| field(format!("/conditions/{name}"), label, reads);
    groups.push(Group {
        title: "Conditions".to_owned(),
        fields: vec![
            whole("cap_kpa", "cap opens at", Reads::Pressure),
            whole("coolant_c", "coolant", Reads::Temperature),
            whole("bay_air_c", "air in the engine bay", Reads::Temperature),
            whole("coolant/glycol", "glycol", Reads::One(GLYCOL)),
            Field { unit: "% by volume", ..whole("coolant/percent_by_volume", "share of glycol", Reads::Number) },
            Field { unit: "litres a minute", ..whole("flow_l_min", "flow in the heater circuit", Reads::Number) },
            whole("rest_of_branch_kpa", "all else in that branch loses", Reads::Pressure),
            Field { unit: "m", ..whole("altitude_m", "altitude", Reads::Number) },
            whole("filler_at_z_mm", "height of the filler over A's mouth level", Reads::Length),
            whole("stands/nose_up_deg", "nose raised on stands", Reads::Angle),
            whole("tape_error_mm", "error of the tape, either way", Reads::Length),
            whole("angle_error_deg", "error of a direction, either way", Reads::Angle),
        ],
    });
    groups.push(Group {
        title: words::POUR.to_owned(),
        fields: vec![
            Field { unit: "litres", ..whole("refill/holds_l", "the cooling system holds", Reads::Number) },
            Field { unit: "litres", ..whole("refill/left_l", "stays in the block when drained", Reads::Number) },
            Field { unit: "% by volume", ..whole("refill/left_percent", "glycol in what stays", Reads::Number) },
            whole("refill/protect_to_c", "must stand frost down to", Reads::Temperature),
            Field {
                unit: "% by volume",
                ..whole("refill/pre_mix_percent", "ready mix instead of concentrate", Reads::Number)
            },
        ],
    });
    groups
}
