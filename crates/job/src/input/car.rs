//! What was typed of the whole car: parts, the lines that join them, what is in the way, hose at hand, the log.
//!
//! Parts, spigots, lines and runs are referred to by their names, so that a file can be read and mended by eye.

use super::{BeadInput, OnInput};

/// Something that coolant goes through, or that only closes or divides a line.
#[derive(Clone, Debug, PartialEq)]
pub struct PartInput {
    /// What it is called; no two parts share a name.
    pub name: String,
    /// What it is.
    pub kind: PartKindInput,
    /// Its spigots.
    pub spigots: Vec<PortInput>,
    /// To what it is bolted.
    pub on: Option<OnInput>,
    /// When coolant must go through it; absent: as its kind needs.
    pub needs_flow: Option<NeedsInput>,
    /// Whether it is taken out of the car, with all that is on it.
    pub leave_out: Option<bool>,
    /// A note.
    pub note: Option<String>,
}

/// What a part is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PartKindInput {
    /// The pump; its spigots have the role inlet or outlet.
    Pump,
    /// The engine block.
    Block,
    /// The cylinder head.
    Head,
    /// The radiator.
    Radiator,
    /// The heater core.
    HeaterCore,
    /// The expansion bottle.
    ExpansionBottle,
    /// The thermostat in its housing; the spigot behind its valve has the role valve, one that an open thermostat closes
    /// has the role bypass.
    Thermostat,
    /// The throttle body.
    ThrottleBody,
    /// The oil cooler.
    OilCooler,
    /// The vaporiser of a gas conversion.
    Vaporiser,
    /// A tee.
    Tee,
    /// A tap.
    Tap,
    /// A narrow place.
    Restrictor,
    /// A screw that lets air out.
    BleedScrew,
    /// Lets coolant through from its inlet to its outlet only.
    NonReturnValve,
    /// A joiner or a reducer.
    Joiner,
    /// A stretch of steel line that stays, with the ends that were cut.
    SteelLine,
    /// Anything else.
    Other,
}

/// A spigot of a part.
#[derive(Clone, Debug, PartialEq)]
pub struct PortInput {
    /// What it is called; no two spigots of a part share a name.
    pub name: String,
    /// Outside diameter where the hose sits.
    pub spigot_mm: Option<f64>,
    /// Diameter of the bead, or "none".
    pub bead_mm: Option<BeadInput>,
    /// Straight length that a hose can go on.
    pub straight_mm: Option<f64>,
    /// The thread by which it stands in the part, as M16x1.5, if it can be screwed out.
    pub thread: Option<String>,
    /// What it is made of.
    pub made_of: Option<String>,
    /// What it does in a pump, a thermostat or a non-return valve.
    pub role: Option<RoleInput>,
    /// How it is, or will be, closed if no line is on it.
    pub closed_by: Option<ClosureInput>,
}

/// What a spigot does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RoleInput {
    /// Coolant comes in.
    Inlet,
    /// Coolant goes out.
    Outlet,
    /// Behind the thermostat's valve: shut off while the thermostat is shut.
    Valve,
    /// Shut off once the thermostat is open.
    Bypass,
}

/// How an open spigot is closed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ClosureInput {
    /// The stub comes out, a plug goes into its thread.
    ThreadPlug,
    /// A cap goes over it, with a clamp.
    Cap,
    /// A short hose goes over it, with a round plug in its other end and two clamps.
    HoseAndPlug,
    /// It is made closed: nothing was ever on it.
    Blank,
}

/// When coolant must go through a part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NeedsInput {
    /// With the thermostat open and shut.
    Always,
    /// With the thermostat open.
    ThermostatOpen,
    /// It need not.
    No,
}

/// What joins two spigots.
#[derive(Clone, Debug, PartialEq)]
pub struct LineInput {
    /// What it is called; no two lines share a name.
    pub name: String,
    /// What it is.
    pub kind: LineKindInput,
    /// The spigot it begins on.
    pub from: PortAtInput,
    /// The spigot it ends on.
    pub to: PortAtInput,
    /// Its bore.
    pub bore_mm: Option<f64>,
    /// Its length.
    pub length_mm: Option<f64>,
    /// What state it is in.
    pub state: Option<StateInput>,
    /// What can be bought in its place.
    pub can_buy: Option<CanBuyInput>,
    /// What is done with it.
    pub decision: Option<DecisionInput>,
    /// The run that sizes the hose in its place, by name.
    pub run: Option<String>,
    /// What was found inside it, as a restrictor.
    pub inside: Option<String>,
    /// A note.
    pub note: Option<String>,
}

/// What a line is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LineKindInput {
    /// Straight hose.
    Hose,
    /// Hose with bends of its own.
    MouldedHose,
    /// Steel line.
    SteelLine,
    /// A passage inside the engine, or two parts bolted together: nothing that can be taken off.
    Passage,
}

/// A spigot of a part, by name.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct PortAtInput {
    /// The part.
    pub part: String,
    /// Its spigot.
    pub spigot: String,
}

/// What state a line is in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StateInput {
    /// Nothing wrong.
    Sound,
    /// Soft or swollen.
    Soft,
    /// Cracked or hard.
    Cracked,
    /// It weeps.
    Weeping,
    /// Rusted.
    Rusted,
    /// It is not there.
    Missing,
}

/// What can be bought in place of a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CanBuyInput {
    /// The moulded hose.
    Moulded,
    /// Straight hose only.
    Straight,
    /// Nothing that fits.
    Nothing,
}

/// What is done with a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DecisionInput {
    /// It stays.
    Keep,
    /// A new moulded hose.
    Moulded,
    /// Universal hose, cut to length.
    Universal,
    /// It goes, and both ends are closed.
    LeaveOut,
}

/// That something is in the way of something else, or comes off with it. Names of lines, parts, or of anything else.
#[derive(Clone, Debug, PartialEq)]
pub struct RelationInput {
    /// The one.
    pub what: String,
    /// In which relation.
    pub is: RelationKindInput,
    /// To the other.
    pub of: String,
}

/// In which relation two things stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RelationKindInput {
    /// The one must be off before one can get at the other.
    InTheWayOf,
    /// The one cannot come off without the other.
    ComesOffWith,
}

/// A hose at hand, or for sale.
#[derive(Clone, Debug, PartialEq)]
pub struct StockInput {
    /// Its bore.
    pub bore_mm: f64,
    /// Its wall; absent: any hose of the bore.
    pub wall_mm: Option<f64>,
    /// Sound pieces at hand.
    pub pieces_mm: Vec<f64>,
    /// It is sold in steps of this length.
    pub sold_by_mm: Option<f64>,
    /// The longest length one can buy in one piece.
    pub longest_mm: Option<f64>,
    /// What a metre costs, in any money.
    pub price_per_m: Option<f64>,
    /// It is sold in these lengths only.
    pub lengths: Vec<LengthSoldInput>,
}

/// A length that is sold.
#[derive(Clone, Debug, PartialEq)]
pub struct LengthSoldInput {
    /// How long it is.
    pub length_mm: f64,
    /// What it costs, in the same money.
    pub price: Option<f64>,
}

/// What is kept of the work itself.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SystemInput {
    /// Lines of the lists that were ticked off, as the page names them.
    pub ticked: Vec<String>,
    /// What was done and when.
    pub log: Vec<LogInput>,
}

/// An entry of the log.
#[derive(Clone, Debug, PartialEq)]
pub struct LogInput {
    /// The day, as 2026-11-26.
    pub on: String,
    /// What was done.
    pub what: String,
    /// When to look again, as a day.
    pub look_again: Option<String>,
}
