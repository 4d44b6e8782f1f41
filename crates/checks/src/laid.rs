//! What a check is shown: the two spigots, the things near the run, the conditions, the hose, and how it lies.

use crate::Replaced;
use crate::heat::balance::Cover;
use crate::{Pose, gap};
use coolant::Fluid;
use quantity::{Angle, Length, Pressure, Temperature, Window};
use shape::{Lie, Vec3};
use stock::{Hose, Stock};

/// To what a thing is bolted: when the engine rocks, what is on it moves against what is on the body.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MountedOn {
    /// Moves with the engine.
    Engine,
    /// Stays with the body.
    Body,
}

/// What a spigot is made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MadeOf {
    /// Steel tube.
    Steel,
    /// Cast iron.
    CastIron,
    /// Aluminium, cast or tube.
    Aluminium,
    /// Brass tube, as on many heater cores.
    Brass,
    /// Copper tube.
    Copper,
    /// Moulded plastic.
    Plastic,
}

impl MadeOf {
    /// Every material with its name.
    pub const ALL: [(Self, &'static str); 6] = [
        (Self::Steel, "steel"),
        (Self::CastIron, "cast iron"),
        (Self::Aluminium, "aluminium"),
        (Self::Brass, "brass"),
        (Self::Copper, "copper"),
        (Self::Plastic, "plastic"),
    ];

    /// Plastic, and the thin pipes of a heater core, break or tear out before the hose gives.
    #[must_use]
    pub fn is_weak(self) -> bool {
        matches!(self, Self::Brass | Self::Copper | Self::Plastic)
    }
}

/// The ridge behind the mouth of a spigot.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Bead {
    /// A plain end.
    Plain,
    /// A bead of this outside diameter.
    Of(Length),
    /// Not measured.
    NotKnown,
}

/// One end of a run: the stub a hose goes on.
#[derive(Clone, Debug, PartialEq)]
pub struct Spigot {
    /// What it is called.
    pub name: String,
    /// Outside diameter where the hose sits.
    pub diameter: Length,
    /// The bead.
    pub bead: Bead,
    /// Length of hose gripped, measured back from the mouth.
    pub seat: Length,
    /// Centre of the mouth, mm in the axes of the car (x forward, y to the left, z up).
    pub mouth: Vec3,
    /// The way it points, out of the part; a unit vector.
    pub points: Vec3,
    /// To what it is bolted.
    pub on: MountedOn,
    /// What it is made of, if known.
    pub made_of: Option<MadeOf>,
    /// Plain length behind the seat, onto which the hose can be slid back for fitting.
    pub straight: Option<Length>,
    /// How far the part can be moved for fitting.
    pub can_move: Option<Length>,
    /// The axis it can be turned about, if it can; a unit vector.
    pub turns: Option<Vec3>,
    /// The elbow it stands on with its joiner, if it does not stand on the part itself.
    pub elbow: Option<ElbowBelow>,
}

/// An elbow between the spigot of a part and the joiner that the run begins on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ElbowBelow {
    /// Outside diameter of the spigot it sits on.
    pub spigot: Length,
    /// Its bore.
    pub bore: Length,
    /// By how much it turns.
    pub bend: Angle,
    /// Radius of its centre line.
    pub radius: Length,
    /// From the mouth of the spigot to the joiner in its far end, along the centre line.
    pub length: Length,
}

/// The form of a thing near the run, mm in the axes of the car.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Form {
    /// A pipe or rod with round ends.
    Rod {
        /// Centre of one end.
        from: Vec3,
        /// Centre of the other.
        to: Vec3,
        /// Outside diameter.
        diameter: Length,
    },
    /// A ball.
    Ball {
        /// Centre.
        at: Vec3,
        /// Diameter.
        diameter: Length,
    },
    /// A box with edges along the axes; every component of `least` is under that of `greatest`.
    Box {
        /// The corner with the smallest coordinates.
        least: Vec3,
        /// The corner with the greatest.
        greatest: Vec3,
    },
    /// A fan or a pulley: a flat disc.
    Disc {
        /// Centre.
        at: Vec3,
        /// Direction of its axle; a unit vector.
        along: Vec3,
        /// Diameter.
        diameter: Length,
        /// Thickness, along the axle.
        thick: Length,
    },
}

/// Why a thing must be kept clear of.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Kind {
    /// It is hot; its surface temperature, if known.
    Hot(Option<Temperature>),
    /// It moves: belt, fan, rod, shaft.
    Moving,
    /// It has an edge that cuts.
    Sharp,
    /// It is simply there.
    Solid,
}

impl Kind {
    /// Its name.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Hot(_) => "hot",
            Self::Moving => "moving",
            Self::Sharp => "sharp",
            Self::Solid => "solid",
        }
    }
}

/// A thing near the run that the hose must clear.
#[derive(Clone, Debug, PartialEq)]
pub struct Neighbour {
    /// What it is called.
    pub name: String,
    /// Its form and place.
    pub form: Form,
    /// Why it must be cleared.
    pub kind: Kind,
    /// To what it is bolted.
    pub on: MountedOn,
    /// A distance the person asks for; takes the place of ours.
    pub standoff: Option<Length>,
    /// How far it moves from the place given, and back, mm; zero for a thing that keeps its place or turns in it.
    pub travel: Vec3,
    /// Whether the hose may rest against it.
    pub may_touch: bool,
    /// A flat shield before a hot thing: from its surface to the shield.
    pub shield: Option<Length>,
}

impl Neighbour {
    /// Distance from the place `p` to the surface of all that the thing sweeps, mm; negative inside.
    #[must_use]
    pub fn distance(&self, p: Vec3) -> f64 {
        if self.travel == Vec3::ZERO {
            return gap::to_surface(&self.form, p);
        }
        self.come_nearest(p).1
    }

    /// How much of its way a thing has come when it is nearest to the place `p`, and how near, mm.
    fn come_nearest(&self, p: Vec3) -> (f64, f64) {
        // From a convex form the distance is a convex function of the place, and so of how far the form has come: it has one
        // low place.
        let come = |x: f64| gap::to_surface(&self.form, p - self.travel * x);
        [(0.0, come(0.0)), (1.0, come(1.0))].into_iter().fold(gap::least_between(come, 0.0, 1.0), gap::nearer)
    }
}

/// On which side of the pump the run is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Before the pump, where it sucks.
    PumpInlet,
    /// Anywhere else.
    Other,
}

/// What the whole car is like, as far as a check asks for it.
#[derive(Clone, Debug, PartialEq)]
pub struct Conditions {
    /// Height of the filler in the axes of the car, mm, if known.
    pub filler_z: Option<f64>,
    /// How far the nose is raised while filling; 0 on level ground.
    pub nose_up: Angle,
    /// Temperature of the coolant as it flows.
    pub coolant: Temperature,
    /// Temperature of the air in the engine bay.
    pub bay_air: Temperature,
    /// Opening pressure of the cap, if known.
    pub cap: Option<Pressure>,
    /// Where the coolant boils, if cap and mix are known.
    pub boils: Option<Temperature>,
    /// The coolant at its temperature, if that is known.
    pub fluid: Option<Fluid>,
    /// Flow in the branch, l/min.
    pub flow: f64,
    /// What the rest of the branch loses at that flow.
    pub rest: Pressure,
}

/// A hose as it would lie on the car.
#[derive(Clone, Copy, Debug)]
pub struct Laid<'a> {
    /// Spigot A.
    pub from: &'a Spigot,
    /// Spigot B.
    pub to: &'a Spigot,
    /// The things near it.
    pub neighbours: &'a [Neighbour],
    /// The conditions.
    pub conditions: &'a Conditions,
    /// On which side of the pump, if known.
    pub side: Option<Side>,
    /// Whether the coolant can stand still in it while the engine is hot.
    pub flow_can_stop: bool,
    /// What is on it.
    pub cover: Cover,
    /// The hose that was there, if that was said.
    pub replaced: Option<Replaced>,
    /// The hose.
    pub hose: &'a Hose,
    /// What its bore may really be, if that is known from a standard; `None` if it was measured or is not known.
    pub bore: Option<Window<Length>>,
    /// The clamps and bore tables to choose from.
    pub stock: &'a Stock,
    /// How the engine stands, if it is out of its place: the spigots and the lie are those of this pose, the things near it
    /// are given where they stand at rest.
    pub pose: Option<&'a Pose>,
    /// How it lies.
    pub lie: &'a Lie,
}

impl Laid<'_> {
    /// Distance from the place `p` to the surface of a thing where it stands now, mm; negative inside.
    pub(crate) fn distance(&self, thing: &Neighbour, p: Vec3) -> f64 {
        match self.pose {
            Some(pose) if thing.on == MountedOn::Engine => thing.distance(pose.back(p)),
            _ => thing.distance(p),
        }
    }

    /// The place `p` as it is to the form of a thing where the thing stands now.
    pub(crate) fn in_frame(&self, thing: &Neighbour, p: Vec3) -> Vec3 {
        let p = match self.pose {
            Some(pose) if thing.on == MountedOn::Engine => pose.back(p),
            _ => p,
        };
        if thing.travel == Vec3::ZERO { p } else { p - thing.travel * thing.come_nearest(p).0 }
    }

    /// Both ends, A first.
    #[must_use]
    pub fn spigots(&self) -> [&Spigot; 2] {
        [self.from, self.to]
    }
}
