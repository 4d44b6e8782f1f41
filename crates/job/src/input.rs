//! What was typed: the job as it stands in a file, nothing in it trusted yet.
//!
//! Units are in the field names. An absent field and `null` both mean "not known". Axes of the car: x forward, y to the
//! left, z up (ISO 8855), millimetres; all runs of a car share them.

mod car;

pub use car::{
    CanBuyInput, ClosureInput, DecisionInput, LengthSoldInput, LineInput, LineKindInput, LogInput, NeedsInput,
    PartInput, PartKindInput, PortAtInput, PortInput, RelationInput, RelationKindInput, RoleInput, StateInput,
    StockInput, SystemInput,
};

use std::collections::BTreeMap;

/// A place or direction, along x, y, z.
pub type Triple = [f64; 3];

/// A whole job.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Input {
    /// What the car is called.
    pub car: Option<String>,
    /// What holds for the whole car.
    pub conditions: ConditionsInput,
    /// The runs.
    pub runs: Vec<RunInput>,
    /// What coolant goes through, and what its spigots are.
    pub parts: Vec<PartInput>,
    /// What joins them.
    pub lines: Vec<LineInput>,
    /// What must come off first, or with another.
    pub relations: Vec<RelationInput>,
    /// Hose at hand and hose for sale.
    pub stock: Vec<StockInput>,
    /// What is kept of the work itself.
    pub system: Option<SystemInput>,
}

/// What holds for the whole car.
#[derive(Clone, Debug, Default, PartialEq)]
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
    /// What all else in that branch loses at that flow: heater core, taps, pipes.
    pub rest_of_branch_kpa: Option<f64>,
    /// Height of the filler in the car's axes.
    pub filler_at_z_mm: Option<f64>,
    /// How the car stands.
    pub stands: Option<StandsInput>,
    /// What is to be filled in.
    pub refill: Option<RefillInput>,
}

/// What is known for the sum of concentrate and water.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct RefillInput {
    /// What the whole system holds.
    pub holds_l: Option<f64>,
    /// What stays in the block when it is drained.
    pub left_l: Option<f64>,
    /// Glycol in what stays, by volume.
    pub left_percent: Option<f64>,
    /// Frost it must stand.
    pub protect_to_c: Option<f64>,
    /// Glycol in what is poured in, by volume: of a pre-mix; absent for concentrate.
    pub pre_mix_percent: Option<f64>,
}

/// The coolant mixture.
#[derive(Clone, Debug, PartialEq)]
pub struct CoolantInput {
    /// Which glycol.
    pub glycol: GlycolInput,
    /// How much of it by volume.
    pub percent_by_volume: f64,
}

/// Which glycol.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GlycolInput {
    /// Ethylene glycol.
    Ethylene,
    /// Propylene glycol.
    Propylene,
}

/// How the car stands while it is filled.
#[derive(Clone, Debug, PartialEq)]
pub struct StandsInput {
    /// How far the nose is raised.
    pub nose_up_deg: f64,
}

/// One hose from spigot to spigot.
#[derive(Clone, Debug, PartialEq)]
pub struct RunInput {
    /// What the run is called.
    pub name: Option<String>,
    /// Spigot A.
    pub from: SpigotInput,
    /// Spigot B.
    pub to: SpigotInput,
    /// P-clips and holes it passes.
    pub via: Vec<ViaInput>,
    /// Things near it.
    pub neighbours: Vec<NeighbourInput>,
    /// How far what is on the engine shifts, each way, as seen at the engine-side spigot.
    pub rock_mm: Option<Triple>,
    /// Shift and turn of the engine.
    pub rock: Option<RockInput>,
    /// The hose to use; absent: choose from stock.
    pub hose: Option<HoseInput>,
    /// The hose it takes the place of.
    pub replaces: Option<ReplacesInput>,
    /// On which side of the pump.
    pub side: Option<SideInput>,
    /// Whether coolant can stand still in it.
    pub flow_can_stop: Option<bool>,
    /// A sleeve over it.
    pub sleeve: Option<SleeveInput>,
    /// Where the person stood while measuring.
    pub stood: Option<String>,
    /// A cut length to try.
    pub try_cut_mm: Option<f64>,
    /// Of several ways to lie the one that was picked: from the middle between the mouths to the middle of the hose, in
    /// lengths of the hose.
    pub bows: Option<Triple>,
    /// The way the hose is wanted, as read off a bent wire or an old moulded hose, from mouth A on.
    pub legs: Vec<LegInput>,
    /// Elbows with a joiner that stand on the spigots; the hose goes on from the joiner.
    pub elbows: Vec<ElbowInput>,
    /// Whether oil drips or is splashed on it.
    pub oil_near: Option<bool>,
}

/// A moulded bend on a spigot, with a joiner in its far end.
#[derive(Clone, Debug, PartialEq)]
pub struct ElbowInput {
    /// On which spigot.
    pub end: EndInput,
    /// Straight length from the mouth of the spigot to the bend.
    pub leg_mm: f64,
    /// How far it bends.
    pub bend_deg: f64,
    /// The way it bends to.
    pub towards: Triple,
    /// Radius to the inside of the bend.
    pub inside_mm: f64,
    /// Straight length from the bend to its end.
    pub far_leg_mm: f64,
}

/// One of the two ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum EndInput {
    /// Where the run begins.
    A,
    /// Where it ends.
    B,
}

/// A straight stretch and the bend after it.
#[derive(Clone, Debug, PartialEq)]
pub struct LegInput {
    /// Length of the straight stretch.
    pub straight_mm: f64,
    /// How far it bends after that; absent for the last.
    pub bend_deg: Option<f64>,
    /// The way it bends to.
    pub towards: Option<Triple>,
    /// Radius to the inside of the bend.
    pub inside_mm: Option<f64>,
}

/// One end of a run.
#[derive(Clone, Debug, PartialEq)]
pub struct SpigotInput {
    /// What it is called.
    pub name: Option<String>,
    /// Outside diameter where the hose sits.
    pub spigot_mm: f64,
    /// Diameter of the bead, or "none".
    pub bead_mm: Option<BeadInput>,
    /// Length of hose gripped, back from the mouth.
    pub seat_mm: Option<f64>,
    /// Centre of the mouth.
    pub at_mm: Triple,
    /// The way it points, out of the part.
    pub points: Triple,
    /// To what it is bolted.
    pub on: Option<OnInput>,
    /// What it is made of.
    pub made_of: Option<String>,
    /// Plain length behind the seat.
    pub straight_mm: Option<f64>,
    /// How far the part can be moved.
    pub can_move_mm: Option<f64>,
    /// Whether the seat was measured or taken.
    pub seat_from: Option<SeatFromInput>,
    /// Whether it can be turned.
    pub turns: Option<TurnsInput>,
    /// Error of its direction, either way.
    pub angle_error_deg: Option<f64>,
    /// What was typed, by field, with its unit.
    pub typed: BTreeMap<String, String>,
    /// How far it is to be turned about the axis it turns on, right-handed; `points` stays as measured.
    pub turned_deg: Option<f64>,
}

/// The bead: its diameter, or the word "none".
#[derive(Clone, Debug, PartialEq)]
pub enum BeadInput {
    /// Outside diameter, mm.
    Diameter(f64),
    /// "none" for a plain end.
    Word(String),
}

/// Engine or body.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OnInput {
    /// Moves with the engine.
    Engine,
    /// Stays with the body.
    Body,
}

/// Where the length of a seat is from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SeatFromInput {
    /// Measured.
    Measured,
    /// Taken until measured.
    Taken,
}

/// Whether a spigot can be turned: "no", or about which axis.
#[derive(Clone, Debug, PartialEq)]
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
#[derive(Clone, Debug, PartialEq)]
pub struct ViaInput {
    /// Where.
    pub at_mm: Triple,
    /// What holds it: "P-clip", "grommet".
    pub holds: String,
    /// To what it is bolted.
    pub on: Option<OnInput>,
    /// The way the hose must go through it, from A to B; absent if it may turn there.
    pub along: Option<Triple>,
}

/// A thing near the run.
#[derive(Clone, Debug, PartialEq)]
pub struct NeighbourInput {
    /// What it is called.
    pub name: Option<String>,
    /// Its form and place.
    pub shape: FormInput,
    /// Why it must be cleared.
    pub kind: KindInput,
    /// To what it is bolted.
    pub on: Option<OnInput>,
    /// Surface temperature of a hot thing.
    pub surface_c: Option<f64>,
    /// A distance asked for.
    pub standoff_mm: Option<f64>,
    /// A flat shield before it.
    pub shield: Option<ShieldInput>,
    /// How far it moves from the place given, and back.
    pub travel_mm: Option<Triple>,
    /// Whether the hose may rest against it.
    pub may_touch: Option<bool>,
}

/// The form of a thing.
#[derive(Clone, Debug, PartialEq)]
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
    /// A fan or a pulley: a flat disc.
    Disc {
        /// Centre.
        at_mm: Triple,
        /// Direction of its axle.
        along: Triple,
        /// Diameter.
        diameter_mm: f64,
        /// Thickness, along the axle.
        thick_mm: f64,
    },
}

impl RunInput {
    /// What each thing near it is called, see [`called`].
    #[must_use]
    pub fn names_near(&self) -> Vec<String> {
        let sort = |thing: &NeighbourInput| (thing.name.clone(), thing.kind, thing.shape.says());
        called(self.neighbours.iter().map(sort).collect())
    }
}

impl FormInput {
    /// What a thing of this form is called in a word.
    #[must_use]
    pub fn says(&self) -> &'static str {
        match self {
            Self::Rod { .. } => PIPE,
            Self::Ball { .. } => LUMP,
            Self::Box { .. } => BLOCK,
            Self::Disc { .. } => DISC,
        }
    }
}

/// The words for the four forms of a thing near the run.
pub const PIPE: &str = "pipe";
/// A ball.
pub const LUMP: &str = "lump";
/// A box.
pub const BLOCK: &str = "block";
/// A fan or a pulley.
pub const DISC: &str = "disc";

/// What the things near a run are called, from the name, kind and form (in its word) of each: by the name; who has none is
/// called by kind and form, "hot pipe", or "hot pipe 2" where another is called so.
#[must_use]
pub fn called(things: Vec<(Option<String>, KindInput, &str)>) -> Vec<String> {
    let own = |name: &Option<String>| name.clone().filter(|name| !name.is_empty());
    let mut taken: Vec<String> = things.iter().filter_map(|(name, ..)| own(name)).collect();
    let mut new = |kind: KindInput, form: &str| {
        let sort = format!("{} {form}", kind.says());
        let mut name = sort.clone();
        let mut number = 1;
        while taken.contains(&name) {
            number += 1;
            name = format!("{sort} {number}");
        }
        taken.push(name.clone());
        name
    };
    things.into_iter().map(|(name, kind, form)| own(&name).unwrap_or_else(|| new(kind, form))).collect()
}

/// Why a thing must be cleared.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
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

impl KindInput {
    /// The word for it.
    #[must_use]
    pub fn says(self) -> &'static str {
        match self {
            Self::Hot => "hot",
            Self::Moving => "moving",
            Self::Sharp => "sharp",
            Self::Solid => "solid",
        }
    }
}

/// A flat shield.
#[derive(Clone, Debug, PartialEq)]
pub struct ShieldInput {
    /// From the hot surface to the shield.
    pub gap_mm: f64,
}

/// How the engine moves.
#[derive(Clone, Debug, PartialEq)]
pub struct RockInput {
    /// Shift, each way.
    pub shift_mm: Triple,
    /// Turn about the crank line, each way.
    pub turn_deg: Option<f64>,
    /// The crank line.
    pub crank_line: Option<CrankLineInput>,
}

/// The line about which the engine turns.
#[derive(Clone, Debug, PartialEq)]
pub struct CrankLineInput {
    /// A point on it.
    pub through_mm: Triple,
    /// Its direction.
    pub along: Triple,
}

/// A hose of one's own.
#[derive(Clone, Debug, PartialEq)]
pub struct HoseInput {
    /// Bore.
    pub bore_mm: f64,
    /// Wall; or give `outside_mm`.
    pub wall_mm: Option<f64>,
    /// Outside diameter; or give `wall_mm`.
    pub outside_mm: Option<f64>,
    /// What it is made of: EPDM, silicone, NBR, CR.
    pub rubber: Option<String>,
    /// SAE J20 class printed on it.
    pub class: Option<String>,
    /// Least bend radius to the inside, from its seller.
    pub min_bend_radius_mm: Option<f64>,
    /// Bend radius to the inside at which it creased when tried.
    pub creases_at_inside_mm: Option<f64>,
    /// Longest sound piece.
    pub piece_mm: Option<f64>,
    /// Working pressure printed on it.
    pub rated_kpa: Option<f64>,
    /// Whether a wire in its wall holds it round.
    pub wire_supported: Option<bool>,
}

/// The hose that was there.
#[derive(Clone, Debug, PartialEq)]
pub struct ReplacesInput {
    /// Its length.
    pub length_mm: Option<f64>,
    /// Its bore.
    pub bore_mm: Option<f64>,
}

/// On which side of the pump.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SideInput {
    /// Where the pump sucks.
    PumpInlet,
    /// Anywhere else.
    Other,
}

/// A sleeve.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SleeveInput {
    /// Bare hose.
    None,
    /// A new sleeve.
    New,
    /// A dirty one.
    Dirty,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_has_no_name_is_called_by_kind_and_form_and_no_two_alike() {
        let (hot, solid) = (KindInput::Hot, KindInput::Solid);
        let things = [
            (None, hot, PIPE),
            (Some("exhaust".to_owned()), hot, PIPE),
            (Some(String::new()), hot, PIPE),
            (None, solid, PIPE),
            (Some("hot pipe 3".to_owned()), solid, BLOCK),
            (None, hot, PIPE),
        ];
        let names = ["hot pipe", "exhaust", "hot pipe 2", "solid pipe", "hot pipe 3", "hot pipe 4"];
        assert_eq!(called(things.to_vec()), names);
    }
}
