//! What was typed: the job as it stands in a file, nothing in it trusted yet.
//!
//! Units are in the field names. An absent field and `null` both mean "not known". Axes of the car: x forward, y to the
//! left, z up (ISO 8855), millimetres; all runs of a car share them.

use serde::{Deserialize, Deserializer, Serialize};
use std::collections::BTreeMap;

/// Null means not known, for a list as for everything else.
fn null_is_empty<'de, D: Deserializer<'de>, T: Deserialize<'de> + Default>(from: D) -> Result<T, D::Error> {
    Option::deserialize(from).map(Option::unwrap_or_default)
}

/// A place or direction, along x, y, z.
pub type Triple = [f64; 3];

/// A whole job.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Input {
    /// What the car is called.
    pub car: Option<String>,
    /// What holds for the whole car.
    pub conditions: ConditionsInput,
    /// The runs.
    pub runs: Vec<RunInput>,
}

/// What holds for the whole car.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct ConditionsInput {
    /// Opening pressure of the cap, gauge.
    pub cap_kpa: Option<f64>,
    /// Temperature of the coolant.
    pub coolant_c: Option<f64>,
    /// Temperature of the air in the engine bay.
    pub bay_air_c: Option<f64>,
    /// The coolant.
    pub coolant: Option<CoolantInput>,
    /// Height above sea level.
    pub altitude_m: Option<f64>,
    /// Error of the tape, either way.
    pub tape_error_mm: Option<f64>,
    /// Error of a direction, either way.
    pub angle_error_deg: Option<f64>,
    /// Flow in the heater circuit.
    pub flow_l_min: Option<f64>,
    /// Height of the filler in the car's axes.
    pub filler_at_z_mm: Option<f64>,
    /// How the car stands.
    pub stands: Option<StandsInput>,
}

/// The coolant mixture.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CoolantInput {
    /// Which glycol.
    pub glycol: GlycolInput,
    /// How much of it by volume.
    pub percent_by_volume: f64,
}

/// Which glycol.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum GlycolInput {
    /// Ethylene glycol.
    Ethylene,
    /// Propylene glycol.
    Propylene,
}

/// How the car stands while it is filled.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct StandsInput {
    /// How far the nose is raised.
    pub nose_up_deg: f64,
}

/// One hose from spigot to spigot.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RunInput {
    /// What the run is called.
    #[serde(default)]
    pub name: Option<String>,
    /// Spigot A.
    pub from: SpigotInput,
    /// Spigot B.
    pub to: SpigotInput,
    /// P-clips and holes it passes.
    #[serde(default, deserialize_with = "null_is_empty")]
    pub via: Vec<ViaInput>,
    /// Things near it.
    #[serde(default, deserialize_with = "null_is_empty")]
    pub neighbours: Vec<NeighbourInput>,
    /// How far what is on the engine shifts, each way, as seen at the engine-side spigot.
    #[serde(default)]
    pub rock_mm: Option<Triple>,
    /// Shift and turn of the engine.
    #[serde(default)]
    pub rock: Option<RockInput>,
    /// The hose to use; absent: choose from stock.
    #[serde(default)]
    pub hose: Option<HoseInput>,
    /// The hose it takes the place of.
    #[serde(default)]
    pub replaces: Option<ReplacesInput>,
    /// On which side of the pump.
    #[serde(default)]
    pub side: Option<SideInput>,
    /// Whether coolant can stand still in it.
    #[serde(default)]
    pub flow_can_stop: Option<bool>,
    /// A sleeve over it.
    #[serde(default)]
    pub sleeve: Option<SleeveInput>,
    /// Where the person stood while measuring.
    #[serde(default)]
    pub stood: Option<String>,
    /// A cut length to try.
    #[serde(default)]
    pub try_cut_mm: Option<f64>,
}

/// One end of a run.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SpigotInput {
    /// What it is called.
    #[serde(default)]
    pub name: Option<String>,
    /// Outside diameter where the hose sits.
    pub spigot_mm: f64,
    /// Diameter of the bead, or "none".
    #[serde(default)]
    pub bead_mm: Option<BeadInput>,
    /// Length of hose gripped, back from the mouth.
    #[serde(default)]
    pub seat_mm: Option<f64>,
    /// Centre of the mouth.
    pub at_mm: Triple,
    /// The way it points, out of the part.
    pub points: Triple,
    /// To what it is bolted.
    #[serde(default)]
    pub on: Option<OnInput>,
    /// What it is made of.
    #[serde(default)]
    pub made_of: Option<String>,
    /// Plain length behind the seat.
    #[serde(default)]
    pub straight_mm: Option<f64>,
    /// How far the part can be moved.
    #[serde(default)]
    pub can_move_mm: Option<f64>,
    /// Whether the seat was measured or taken.
    #[serde(default)]
    pub seat_from: Option<SeatFromInput>,
    /// Whether it can be turned.
    #[serde(default)]
    pub turns: Option<TurnsInput>,
    /// Error of its direction, either way.
    #[serde(default)]
    pub angle_error_deg: Option<f64>,
    /// What was typed, by field, with its unit.
    #[serde(default, deserialize_with = "null_is_empty")]
    pub typed: BTreeMap<String, String>,
}

/// The bead: its diameter, or the word "none".
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(untagged)]
pub enum BeadInput {
    /// Outside diameter, mm.
    Diameter(f64),
    /// "none" for a plain end.
    Word(String),
}

/// Engine or body.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum OnInput {
    /// Moves with the engine.
    Engine,
    /// Stays with the body.
    Body,
}

/// Where the length of a seat is from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum SeatFromInput {
    /// Measured.
    Measured,
    /// Taken until measured.
    Taken,
}

/// Whether a spigot can be turned: "no", or about which axis.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(untagged)]
pub enum TurnsInput {
    /// "no".
    Word(String),
    /// About this axis.
    About {
        /// The axis.
        about: Triple,
    },
}

/// A P-clip or a hole in the way.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ViaInput {
    /// Where.
    pub at_mm: Triple,
    /// What holds it: "P-clip", "grommet".
    pub holds: String,
    /// To what it is bolted.
    #[serde(default)]
    pub on: Option<OnInput>,
}

/// A thing near the run.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct NeighbourInput {
    /// What it is called.
    #[serde(default)]
    pub name: Option<String>,
    /// Its form and place.
    pub shape: FormInput,
    /// Why it must be cleared.
    pub kind: KindInput,
    /// To what it is bolted.
    #[serde(default)]
    pub on: Option<OnInput>,
    /// Surface temperature of a hot thing.
    #[serde(default)]
    pub surface_c: Option<f64>,
    /// A distance asked for.
    #[serde(default)]
    pub standoff_mm: Option<f64>,
    /// A flat shield before it.
    #[serde(default)]
    pub shield: Option<ShieldInput>,
}

/// The form of a thing.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase", deny_unknown_fields)]
pub enum FormInput {
    /// A pipe or rod with round ends.
    Rod {
        /// Centre of one end.
        from_mm: Triple,
        /// Centre of the other.
        to_mm: Triple,
        /// Outside diameter.
        diameter_mm: f64,
    },
    /// A ball.
    Ball {
        /// Centre.
        at_mm: Triple,
        /// Diameter.
        diameter_mm: f64,
    },
    /// A box with edges along the axes.
    Box {
        /// One corner.
        from_mm: Triple,
        /// The corner opposite.
        to_mm: Triple,
    },
}

/// Why a thing must be cleared.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum KindInput {
    /// It is hot.
    Hot,
    /// It moves.
    Moving,
    /// It has an edge that cuts.
    Sharp,
    /// It is simply there.
    Solid,
}

/// A flat shield.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ShieldInput {
    /// From the hot surface to the shield.
    pub gap_mm: f64,
}

/// How the engine moves.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RockInput {
    /// Shift, each way.
    pub shift_mm: Triple,
    /// Turn about the crank line, each way.
    #[serde(default)]
    pub turn_deg: Option<f64>,
    /// The crank line.
    #[serde(default)]
    pub crank_line: Option<CrankLineInput>,
}

/// The line about which the engine turns.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CrankLineInput {
    /// A point on it.
    pub through_mm: Triple,
    /// Its direction.
    pub along: Triple,
}

/// A hose of one's own.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct HoseInput {
    /// Bore.
    pub bore_mm: f64,
    /// Wall; or give `outside_mm`.
    #[serde(default)]
    pub wall_mm: Option<f64>,
    /// Outside diameter; or give `wall_mm`.
    #[serde(default)]
    pub outside_mm: Option<f64>,
    /// What it is made of: EPDM, silicone, NBR, CR.
    #[serde(default)]
    pub rubber: Option<String>,
    /// SAE J20 class printed on it.
    #[serde(default)]
    pub class: Option<String>,
    /// Least bend radius to the inside, from its seller.
    #[serde(default)]
    pub min_bend_radius_mm: Option<f64>,
    /// Bend radius to the inside at which it creased when tried.
    #[serde(default)]
    pub creases_at_inside_mm: Option<f64>,
    /// Longest sound piece.
    #[serde(default)]
    pub piece_mm: Option<f64>,
}

/// The hose that was there.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ReplacesInput {
    /// Its length.
    #[serde(default)]
    pub length_mm: Option<f64>,
    /// Its bore.
    #[serde(default)]
    pub bore_mm: Option<f64>,
}

/// On which side of the pump.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum SideInput {
    /// Where the pump sucks.
    #[serde(rename = "pump inlet")]
    PumpInlet,
    /// Anywhere else.
    #[serde(rename = "other")]
    Other,
}

/// A sleeve.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum SleeveInput {
    /// Bare hose.
    None,
    /// A new sleeve.
    New,
    /// A dirty one.
    Dirty,
}
