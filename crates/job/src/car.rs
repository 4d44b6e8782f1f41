//! The whole car as it was accepted: names have become places in lists, numbers have units, nothing is checked again.

pub(crate) mod circuit;
mod closures;
mod fill;
mod order;
mod said;

pub(crate) use closures::to_close;
pub use closures::{ClosureReport, ClosuresReport, OpenEndReport, closures};
pub use fill::{
    ClampAt, FillFacts, FillReport, HighPoint, NewRun, NextLookReport, TorqueAgain, VolumeReport, WeepReport, fill,
};
pub use order::{KnotReport, OrderReport, OrderStepReport, RelationReport, ThingReport, order};
pub use said::SaidReport;
pub mod cuts;
pub(crate) mod shopping;

use crate::input::{
    CanBuyInput as CanBuy, ClosureInput as Closure, DecisionInput as Decision, LineKindInput as LineKind, NeedsInput,
    PartKindInput as PartKind, RelationKindInput as RelationKind, RoleInput as Role, StateInput as State,
};
use checks::Bead;
use quantity::Length;

/// Parts, lines, what is in the way, hose at hand; empty for a job of runs alone.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Car {
    pub(crate) parts: Vec<Part>,
    pub(crate) lines: Vec<Line>,
    pub(crate) relations: Vec<Relation>,
    pub(crate) stock: Vec<InStock>,
}

/// Something that coolant goes through, or that closes or divides a line.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Part {
    pub(crate) name: String,
    pub(crate) kind: PartKind,
    pub(crate) ports: Vec<Port>,
    /// When coolant must go through it, if that was said; else as its kind needs.
    pub(crate) needs: Option<NeedsInput>,
    /// Whether it is taken out of the car, with all that is on it.
    pub(crate) goes: bool,
}

/// A spigot of a part.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Port {
    pub(crate) name: String,
    pub(crate) diameter: Option<Length>,
    pub(crate) bead: Bead,
    /// Straight length that a hose can go on.
    pub(crate) straight: Option<Length>,
    /// The thread by which it stands in the part, if it can be screwed out.
    pub(crate) thread: Option<String>,
    pub(crate) made_of: Option<String>,
    pub(crate) role: Option<Role>,
    pub(crate) closed_by: Option<Closure>,
}

/// A spigot, by its place: the part among the parts, the spigot among those of the part.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct PortAt {
    pub(crate) part: usize,
    pub(crate) port: usize,
}

/// What joins two spigots.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Line {
    pub(crate) name: String,
    pub(crate) kind: LineKind,
    pub(crate) ends: [PortAt; 2],
    pub(crate) bore: Option<Length>,
    pub(crate) length: Option<Length>,
    pub(crate) state: Option<State>,
    pub(crate) can_buy: Option<CanBuy>,
    pub(crate) decision: Option<Decision>,
    /// Place of its run among the runs as they were typed.
    pub(crate) run: Option<usize>,
    /// What was found inside it.
    pub(crate) inside: Option<String>,
}

/// Something in the way of something else, or that comes off with it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Relation {
    pub(crate) what: String,
    pub(crate) is: RelationKind,
    pub(crate) of: String,
}

/// A hose at hand, or for sale.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct InStock {
    pub(crate) bore: Length,
    /// Absent: any hose of the bore.
    pub(crate) wall: Option<Length>,
    pub(crate) pieces: Vec<Length>,
    pub(crate) sold_by: Option<Length>,
    pub(crate) longest: Option<Length>,
    pub(crate) price_per_m: Option<f64>,
    /// The lengths it is sold in, and what each costs.
    pub(crate) lengths: Vec<(Length, Option<f64>)>,
}

impl Car {
    /// Whether nothing was said of parts and lines.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.parts.is_empty() && self.lines.is_empty()
    }

    /// Whether a line will join its spigots once the work is done.
    pub(crate) fn stays(&self, line: &Line) -> bool {
        let decided = line.kind == LineKind::Passage || line.decision != Some(Decision::LeaveOut);
        decided && line.ends.iter().all(|end| !self.parts[end.part].goes)
    }

    pub(crate) fn port(&self, at: PortAt) -> &Port {
        &self.parts[at.part].ports[at.port]
    }

    /// A spigot as one says it: the part, then the spigot.
    pub(crate) fn port_name(&self, at: PortAt) -> String {
        format!("{}, {}", self.parts[at.part].name, self.port(at).name)
    }
}
