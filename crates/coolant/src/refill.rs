//! What to pour: so many litres of concentrate and of water, what must be drained first, or why neither will do.
//!
//! A balance of volumes, our own: V holds, Vr stays in the block at strength cr, c is wanted, cp is what is poured.
//! Poured Vp = (c V - cr Vr) / cp, and water fills the rest, V - Vr - Vp. All strengths are volume fractions of
//! concentrate. Mixing shrinks by 0.8 to 1.2 % at 30 to 50 %: left out, and so a little of both is needed to top up.

use quantity::Volume;

/// A cooling system that has been drained as far as it drains.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct System {
    /// What it holds when full.
    pub holds: Volume,
    /// What stays in it.
    pub left: Volume,
    /// Strength of what stays: volume fraction of concentrate.
    pub left_strength: f64,
}

/// What to do to reach a strength. Each case is another deed, and only the first reaches what was asked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Refill {
    /// Pour this much of what is poured, and this much water: the system is full and as strong as asked.
    Pour {
        /// Concentrate, or the ready mix that is poured instead.
        poured: Volume,
        /// Water; zero if none is needed.
        water: Volume,
    },
    /// What stays is already too much concentrate: pour only water, and it ends stronger than asked.
    OnlyWater {
        /// Water to fill up.
        water: Volume,
        /// Strength it ends at.
        ends_at: f64,
        /// What may stay in it at most, if exactly what was asked is wanted.
        leave_at_most: Volume,
    },
    /// Too much weak coolant stays: filled with nothing but what is poured it ends too weak. Drain more first.
    DrainMore {
        /// What may stay in it at most.
        leave_at_most: Volume,
        /// How much more has to come out.
        drain: Volume,
        /// Strength it would end at, filled without draining more.
        ends_at: f64,
    },
    /// What is poured is itself weaker than what was asked: no draining reaches it.
    PouredTooWeak {
        /// Strength it ends at, filled with nothing else.
        ends_at: f64,
    },
}

/// Why there is no sum to do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BadSum {
    /// What the system holds is no number above zero.
    Holds,
    /// What stays is not between nothing and what it holds.
    Left,
    /// A strength is not between 0 and 1, or what is poured is plain water.
    Strength,
}

impl System {
    fn check(&self) -> Result<(), BadSum> {
        if !(self.holds > Volume::ZERO && self.holds.as_litres().is_finite()) {
            return Err(BadSum::Holds);
        }
        if !(self.left >= Volume::ZERO && self.left <= self.holds) {
            return Err(BadSum::Left);
        }
        is_strength(self.left_strength).then_some(()).ok_or(BadSum::Strength)
    }

    /// Its strength when filled up with something of this strength.
    fn filled_with(&self, strength: f64) -> f64 {
        let share = self.left / self.holds;
        strength + (self.left_strength - strength) * share
    }
}

fn is_strength(value: f64) -> bool {
    (0.0..=1.0).contains(&value)
}

/// Below this share of what the system holds a volume is the rounding of the sum, and below this a strength is.
const ROUNDING: f64 = 1e-9;

/// How to bring a drained system to the strength `wanted`, with concentrate (`poured` 1) or a ready mix of strength `poured`.
///
/// ```
/// use coolant::{Refill, System, refill};
/// use quantity::Volume;
/// // 8 litres, 3 of plain water stay behind, half and half is wanted: 4 litres of concentrate, 1 of water.
/// let drained = System { holds: Volume::litres(8.0), left: Volume::litres(3.0), left_strength: 0.0 };
/// let Refill::Pour { poured, water } = refill(&drained, 0.5, 1.0).unwrap() else { panic!() };
/// assert_eq!((poured, water), (Volume::litres(4.0), Volume::litres(1.0)));
/// ```
///
/// # Errors
///
/// [`BadSum`] if a volume or a strength cannot be.
pub fn refill(system: &System, wanted: f64, poured: f64) -> Result<Refill, BadSum> {
    system.check()?;
    if !is_strength(wanted) || !is_strength(poured) || poured <= 0.0 {
        return Err(BadSum::Strength);
    }
    let (holds, left, strength) = (system.holds, system.left, system.left_strength);
    let rounding = ROUNDING * holds;
    let pour = (wanted * holds - strength * left) / poured;
    let water = holds - left - pour;
    if pour < -rounding {
        let leave_at_most = (wanted / strength) * holds;
        return Ok(Refill::OnlyWater { water: holds - left, ends_at: system.filled_with(0.0), leave_at_most });
    }
    if water < -rounding {
        let ends_at = system.filled_with(poured);
        if poured < wanted {
            return Ok(Refill::PouredTooWeak { ends_at });
        }
        // What is poured reaches it, what stays does not: the less stays, the stronger.
        let leave_at_most = ((poured - wanted) / (poured - strength)) * holds;
        return Ok(Refill::DrainMore { leave_at_most, drain: left - leave_at_most, ends_at });
    }
    Ok(Refill::Pour { poured: pour.max(Volume::ZERO), water: water.max(Volume::ZERO) })
}

/// Strength after so many rounds of draining and filling up with something of strength `filled_with`.
///
/// Each round takes out the same share of what the system holds, well mixed: c = cf + (c0 - cf)(1 - share)ⁿ.
#[must_use]
pub fn after_rounds(strength: f64, share_drained: f64, filled_with: f64, rounds: u32) -> f64 {
    filled_with + (strength - filled_with) * libm::pow(1.0 - share_drained, f64::from(rounds))
}

/// Most rounds that are counted.
const MOST_ROUNDS: u32 = 100;

/// The least number of such rounds that brings the strength from one side to `wanted` or past it; `None` if 100 do not.
#[must_use]
pub fn rounds_needed(strength: f64, share_drained: f64, filled_with: f64, wanted: f64) -> Option<u32> {
    let missing =
        |rounds| (wanted - after_rounds(strength, share_drained, filled_with, rounds)) * (wanted - strength).signum();
    (0..=MOST_ROUNDS).find(|rounds| missing(*rounds) <= ROUNDING)
}
