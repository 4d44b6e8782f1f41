//! How a check comes to its number: the formula in words, what goes into it, and what it is worth.

use crate::Check;

/// How a number was come by.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct How {
    /// The formula in words.
    pub formula: &'static str,
    /// What goes into it.
    pub from: &'static str,
    /// What it is worth.
    pub worth: Worth,
}

/// What a number is worth.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Worth {
    /// A measurement, or a model that others checked, good to some percent.
    Solid,
    /// A model with a material value that may be off; right in its order.
    Medium,
    /// A guess with a reason.
    Weak,
}

impl Worth {
    /// In a word.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Solid => "solid",
            Self::Medium => "medium",
            Self::Weak => "weak",
        }
    }
}

const fn how(formula: &'static str, from: &'static str, worth: Worth) -> How {
    How { formula, from, worth }
}

impl Check {
    /// How this check comes to its number.
    #[must_use]
    pub const fn how(self) -> How {
        use Worth::{Medium, Solid, Weak};
        match self {
            Self::Reach => how(
                "the length between the mouths against the straight distance, over the clips",
                "the places of both mouths, the cut, both seats",
                Solid,
            ),
            Self::Piece => how("the cut against the piece", "your piece, the cut", Solid),
            Self::Fit => how(
                "spigot over bore, less one; where it is loose, bore less spigot",
                "the spigot, the bore of the size and what a standard lets it be off",
                Medium,
            ),
            Self::Bead => how("bead over bore, less one", "the bead, the bore", Medium),
            Self::Seat => how("the seat against bead zone, gap, band and tail in a row", "the seat", Medium),
            Self::Clamp => how(
                "the hose keeps the area of its wall when it is stretched over the spigot: what it then measures outside",
                "spigot, bead, bore, outside diameter, the ranges of the clamps",
                Solid,
            ),
            Self::Assembly => how(
                "how far the second end must come back to get past its spigot, against what slides and what moves",
                "both seats, the plain length behind them, what can be moved",
                Medium,
            ),
            Self::Kink | Self::SpigotMouth => how(
                "the lie of an elastic rod gives the bend; a round tube folds at 1.84 times the square of its middle radius \
                 over its wall, or where your bend test creased it",
                "the lie, bore, outside diameter, your bend test or the seller's least radius",
                Medium,
            ),
            Self::Standoff => how(
                "the true gap between the skin of the hose, or the clamp, and the thing",
                "the lie, the thing's place and form, the outside diameter",
                Solid,
            ),
            Self::Sag => how(
                "how far the filled hose hangs below the lower of its ends",
                "the lie with its weight, how the car stands",
                Medium,
            ),
            Self::AirTrap => how(
                "how far it rises above the higher of its ends, and above the filler",
                "the lie, the height of the filler, how the car stands",
                Medium,
            ),
            Self::Support => how("the longest stretch between ends and clips", "the lie, the clips", Solid),
            Self::Load => how(
                "force and moment of the bent hose on its spigot",
                "the lie, the stiffness of the rubber, which may be a third off either way",
                Weak,
            ),
            Self::Heat | Self::Rising => how(
                "heat radiated from the hot thing and carried by the air, against heat through the wall into the coolant; \
                 what is seen of a pipe is its radius over radius and gap",
                "surface temperature, gap, coolant, air of the bay, wall; emissivities from memory",
                Medium,
            ),
            Self::Pressure => how(
                "water and glycol share the vapour pressure by their parts; it boils where that reaches air and cap",
                "the cap, the mix, the altitude, the coolant's temperature",
                Solid,
            ),
            Self::Rating => how("cap and surge against the rating", "the cap, the rating printed on the hose", Medium),
            Self::Collapse => how(
                "a ring of rubber buckles at a third of its modulus times the cube of wall over middle radius",
                "bore, outside diameter, the stiffness of the rubber, a suction that is our choice",
                Weak,
            ),
            Self::Hold => how(
                "pressure times the area of the spigot",
                "the cap, the spigot; clamp, bead and seat decide, not the force",
                Solid,
            ),
            Self::Flow => how(
                "friction, bends, steps at spigots and joiners, elbows and flattening, each times half density and speed squared; the \
                 pressure across the branch stays as it was; a tap or a reducer on the way counts in the rest of the branch",
                "the lie, the bore, the mix and its temperature, the flow, the hose before, the rest of the branch",
                Medium,
            ),
            Self::Rock => how(
                "all of the above again with the engine in every corner of where it may stand",
                "how far the engine moves, what is bolted to it",
                Medium,
            ),
            Self::Snap => how(
                "every way to lie that eight starts find; a push of 5 N; the cut a tape error off",
                "the lie, the tape error",
                Medium,
            ),
            Self::TapeError => how(
                "512 ways for tape, cut and eye to be off; the part of them that passes",
                "the tape error, the error of each direction",
                Medium,
            ),
        }
    }

    /// The check of that name.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|check| check.name() == name)
    }

    const ALL: [Self; 24] = [
        Self::Reach,
        Self::Piece,
        Self::Fit,
        Self::Bead,
        Self::Seat,
        Self::Clamp,
        Self::Assembly,
        Self::Kink,
        Self::SpigotMouth,
        Self::Standoff,
        Self::Sag,
        Self::AirTrap,
        Self::Support,
        Self::Load,
        Self::Heat,
        Self::Rising,
        Self::Pressure,
        Self::Rating,
        Self::Collapse,
        Self::Hold,
        Self::Flow,
        Self::Rock,
        Self::Snap,
        Self::TapeError,
    ];
}
