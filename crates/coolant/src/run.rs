//! The pressure one hose costs between its two spigots, and what of it is length, bends, spigots and flattened places.
//!
//! Sources of each part: `friction.rs`. Together some ±5 % where it is straight and ±15 % in bends, if the flow is known.

use crate::Fluid;
use crate::friction::{bend_loss, contraction_loss, expansion_loss, flattened_loss, friction_factor, reynolds};
use quantity::{Angle, Length};

/// One bend, whole: not a slice of one (see [`bend_loss`]).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bend {
    /// By how much it turns.
    pub angle: Angle,
    /// Radius of its centre line.
    pub radius: Length,
}

/// One place where the bore is flattened.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Flat {
    /// What is left of the bore's area there, above 0 to 1.
    pub area_left: f64,
    /// How long the place is.
    pub length: Length,
}

/// A hose as the coolant meets it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Run<'a> {
    /// Inside diameter of the hose.
    pub bore: Length,
    /// Length of its centre line between the mouths, bends included.
    pub length: Length,
    /// Its bends.
    pub bends: &'a [Bend],
    /// Where its bore is flattened.
    pub flats: &'a [Flat],
    /// Inside diameter of the spigot the coolant comes from; `None` for no step.
    pub from: Option<Length>,
    /// Inside diameter of the spigot it goes to; `None` for no step.
    pub to: Option<Length>,
    /// Height of the roughness of its wall; zero for rubber.
    pub roughness: Length,
    /// Loss factors of anything else on the way (a tap, a joiner), summed, on the velocity in the hose.
    pub other: f64,
}

/// What a run costs at one flow.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Loss {
    /// Friction where it is straight, Pa.
    pub straight_pa: f64,
    /// Bends, the friction along them included, Pa.
    pub bends_pa: f64,
    /// The steps in bore at both spigots, Pa.
    pub spigots_pa: f64,
    /// What flattened places add, Pa.
    pub flattened_pa: f64,
    /// Anything else, Pa.
    pub other_pa: f64,
    /// Mean velocity in the round bore, m/s.
    pub velocity: f64,
    /// Reynolds number in the round bore.
    pub reynolds: f64,
    /// Darcy's friction factor in the round bore; zero if nothing flows.
    pub friction: f64,
}

impl Loss {
    /// All parts, Pa.
    #[must_use]
    pub fn total_pa(&self) -> f64 {
        self.straight_pa + self.bends_pa + self.spigots_pa + self.flattened_pa + self.other_pa
    }
}

/// Loss factor of a step from one bore to another, on the velocity in `hose`, which is one of the two.
fn step(from: Length, to: Length, hose: Length) -> f64 {
    let narrow = from.min(to);
    let beta = narrow / from.max(to);
    let k = if from > to { contraction_loss(beta) } else { expansion_loss(beta) };
    let faster = hose / narrow;
    k * faster * faster * faster * faster
}

impl Run<'_> {
    /// Mean velocity in the round bore at a flow in litres per minute, m/s.
    #[must_use]
    pub fn velocity(&self, litres_per_minute: f64) -> f64 {
        // l/min to mm³/s is 1e6/60; over mm² it is mm/s.
        let bore = self.bore.as_mm();
        litres_per_minute * (1000.0 / 60.0) / (core::f64::consts::FRAC_PI_4 * bore * bore)
    }

    /// The pressure lost at this flow, litres per minute; nothing is lost at zero or less.
    ///
    /// Arcs longer than the run count as they are, and no straight part is left.
    #[must_use]
    pub fn loss(&self, litres_per_minute: f64, fluid: &Fluid) -> Loss {
        let velocity = self.velocity(litres_per_minute.max(0.0));
        let reynolds = reynolds(velocity, self.bore, fluid);
        let friction = if reynolds > 0.0 { friction_factor(reynolds, self.roughness / self.bore) } else { 0.0 };
        let dynamic = fluid.density * velocity * velocity / 2.0;

        let arcs: Length = self.bends.iter().map(|bend| bend.angle.as_radians().abs() * bend.radius).sum();
        let straight = (self.length - arcs).max(Length::ZERO);
        let bend = |bend: &Bend| bend_loss(friction, bend.angle, bend.radius / self.bore);
        let flat = |flat: &Flat| flattened_loss(friction, flat.area_left, flat.length / self.bore);
        let enters = self.from.map_or(0.0, |from| step(from, self.bore, self.bore));
        let leaves = self.to.map_or(0.0, |to| step(self.bore, to, self.bore));
        Loss {
            straight_pa: dynamic * friction * (straight / self.bore),
            bends_pa: dynamic * self.bends.iter().map(bend).sum::<f64>(),
            spigots_pa: dynamic * (enters + leaves),
            flattened_pa: dynamic * self.flats.iter().map(flat).sum::<f64>(),
            other_pa: dynamic * self.other,
            velocity,
            reynolds,
            friction,
        }
    }
}
