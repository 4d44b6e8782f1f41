//! A job that has been accepted: valid by construction, only [`crate::accept`] makes one.

use crate::accept::Elbow;
use crate::car::circuit::{CircuitReport, Layout, circuit, layout};
use crate::car::{Car, ClosuresReport, FillFacts, FillReport, OrderReport, closures, fill, order};
use crate::refill::{self, Refill};
use crate::report::RunReport;
use crate::size::Errors;
use checks::{Conditions, Cover, MountedOn, Neighbour, Replaced, Rock, Side, Spigot};
use coolant::Mix;
use quantity::Length;
use shape::{Ends, Guide, Leg, Vec3};
use stock::{Hose, Stock};

/// A whole job, every run of it sound.
#[derive(Clone, Debug, PartialEq)]
pub struct Job {
    pub(crate) conditions: Conditions,
    pub(crate) runs: Vec<Run>,
    pub(crate) mix: Mix,
    pub(crate) refill: Option<Refill>,
    pub(crate) car: Car,
}

impl Job {
    /// The sound runs.
    #[must_use]
    pub fn runs(&self) -> &[Run] {
        &self.runs
    }

    /// Where coolant flows in the car, and what is wrong with that.
    #[must_use]
    pub fn circuit(&self) -> CircuitReport {
        circuit(&self.car)
    }

    /// A picture of the same.
    #[must_use]
    pub fn layout(&self) -> Layout {
        layout(&self.car)
    }

    /// How every open end of the car can be closed.
    #[must_use]
    pub fn closures(&self, stock: &Stock) -> ClosuresReport {
        closures(&self.car, self.conditions.cap, stock)
    }

    /// In which order things come off and go on.
    #[must_use]
    pub fn order(&self) -> OrderReport {
        order(&self.car)
    }

    /// How to fill and prove it, with what was told of its runs.
    #[must_use]
    pub fn fill(&self, runs: &[RunReport]) -> FillReport {
        let (coolant, refill) = (refill::coolant(self), self.refill.as_ref().and_then(Refill::told));
        fill(&self.car, &FillFacts::gather(self, runs, &coolant, refill.as_ref()))
    }

    /// The car they are on.
    #[must_use]
    pub fn car(&self) -> &Car {
        &self.car
    }
}

/// A clip or a hole that the hose passes, free to slide.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Clip {
    pub(crate) holds: String,
    pub(crate) guide: Guide,
    pub(crate) on: MountedOn,
}

/// An elbow and the spigot it stands on, which may be the joiner of another one.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct OnSpigot {
    pub(crate) elbow: Elbow,
    pub(crate) spigot: Spigot,
    /// The joiner in its far end.
    pub(crate) joiner: Spigot,
}

/// One run that can be sized.
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    /// Its place among the runs as they were typed.
    pub(crate) index: usize,
    pub(crate) name: String,
    pub(crate) from: Spigot,
    pub(crate) to: Spigot,
    /// Elbows that stand on the spigots, A or B; `from` and `to` are then their joiners.
    pub(crate) elbows: Vec<OnSpigot>,
    /// Clips and holes, in the order in which the hose passes them.
    pub(crate) clips: Vec<Clip>,
    pub(crate) neighbours: Vec<Neighbour>,
    pub(crate) side: Option<Side>,
    pub(crate) hose: Option<Hose>,
    /// The longest sound piece of it.
    pub(crate) piece: Option<Length>,
    pub(crate) try_cut: Option<Length>,
    /// How far the engine moves, if known.
    pub(crate) rock: Option<Rock>,
    /// True if it was said of both ends and of every thing that they are on the same part of the car.
    pub(crate) moves_together: bool,
    /// Of several ways to lie the one that was picked.
    pub(crate) bows: Option<Vec3>,
    /// The way the hose is wanted, from mouth A on.
    pub(crate) legs: Vec<Leg>,
    /// How far tape and eye may be off.
    pub(crate) errors: Errors,
    /// Whether the coolant can stand still in it while the engine is hot.
    pub(crate) flow_can_stop: bool,
    /// The hose that was there, if that was said.
    pub(crate) replaced: Option<Replaced>,
    /// Whether oil drips or is splashed on it, if that was said.
    pub(crate) oil: Option<bool>,
    /// A sleeve on it.
    pub(crate) cover: Cover,
    /// Whether anything near it or either end can move against the rest, or how far is not known.
    pub(crate) assumed: Vec<String>,
}

impl Run {
    /// What it is called.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Both mouths, and the hose's direction at each: out of A, and into B, against the way B points.
    #[must_use]
    pub fn ends(&self) -> Ends {
        Self::ends_of(&self.from, &self.to)
    }

    pub(crate) fn end_mut(&mut self, end: usize) -> &mut Spigot {
        if end == 0 { &mut self.from } else { &mut self.to }
    }

    pub(crate) fn ends_of(from: &Spigot, to: &Spigot) -> Ends {
        Ends { a: from.mouth, tangent_a: from.points, b: to.mouth, tangent_b: -to.points }
    }

    /// Both seats: what is added to the free length between the mouths to give the cut length.
    #[must_use]
    pub fn seats(&self) -> Length {
        self.from.seat + self.to.seat
    }
}
