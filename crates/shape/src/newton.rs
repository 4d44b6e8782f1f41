//! From a start to a stable rest: guarded Newton steps, and the last one that tells what kind of rest it is.

use crate::Vec3;
use crate::chain::Chain;
use crate::ends::{NoShape, Question};

mod sliding;
pub(crate) use sliding::{Piece, Run};

/// Largest turn of a tangent in one step, in radians: beyond it the quadratic model is not trusted.
const LARGEST_TURN: f64 = 0.7;
/// Below this turn (and closing error) the shape is at rest but for its square, which the last step takes away.
const LAST_TURN: f64 = 1e-3;
/// A mode softer than this (against a bending stiffness of 1) is neutral: the lie may slide along it.
pub(crate) const NEUTRAL: f64 = 1e-5;
/// A step smaller than this, in radians, may be taken on trust, and how many may be.
const TRUSTED: f64 = 0.2;
const ON_TRUST: usize = 20;
/// Stiffness lent to a neutral mode in the last step, so that round-off does not turn the hose about its axis.
pub(crate) const LENT: f64 = 0.01;
/// Last steps taken at most; one is usual, more where a mode is soft.
const LAST_STEPS: usize = 4;
/// A last step larger than this, in radians, is none: the shape is not at rest yet.
const LARGEST_LAST: f64 = 0.02;
/// How often a shape may turn out not to be at rest before it is finished without the extrapolation.
const NOT_AT_REST: usize = 2;
/// How far to step off a saddle, in radians.
pub(crate) const OFF_SADDLE: f64 = 0.15;
/// The first shift of the Hessian that is tried where it is not downhill, how it grows until it is, how it falls after a
/// step, and where it is given up.
pub(crate) const SHIFT: f64 = 0.01;
pub(crate) const SHIFT_GROWS: f64 = 8.0;
pub(crate) const SHIFT_FALLS: f64 = 0.2;
pub(crate) const SHIFT_MOST: f64 = 1e9;
/// A step is taken if the merit falls by this part of what its slope promises, or by no more than round-off it rises.
const PROMISED: f64 = 1e-4;
const ROUND_OFF: f64 = 1e-12;
/// Halvings of a step before it is taken as it is.
const HALVINGS: usize = 12;

/// Newton steps from the tangents at hand to a stable rest. True if it is neutral.
pub(crate) fn settle(chain: &mut Chain, q: &Question, steps: usize) -> Result<bool, NoShape> {
    let (mut shift, mut last_shift, mut moved) = (0.0, 0.0, 0);
    let mut search = Search::from(chain.potential(&chain.t, q), ON_TRUST);
    for _ in 0..steps {
        chain.look(q);
        // Shift the Hessian until the step goes downhill: first try none at all, or less than the last time.
        while !chain.eliminate(shift).stable() {
            shift = if shift == 0.0 { f64::max(SHIFT, 0.3 * last_shift) } else { SHIFT_GROWS * shift };
            if shift > SHIFT_MOST {
                return Err(NoShape::NotFound);
            }
        }
        let (dl, largest) = chain.step(search.at.1);
        if !(dl.is_finite() && largest.is_finite()) {
            return Err(NoShape::NotFound);
        }
        if largest < LAST_TURN && search.at.1.norm() < LAST_TURN {
            chain.try_step(1.0);
            chain.take_step();
            chain.lambda += dl;
            match last_step(chain, q, moved < NOT_AT_REST) {
                Rest::Stable => return Ok(false),
                Rest::Neutral => return Ok(true),
                not_yet => {
                    moved += usize::from(matches!(not_yet, Rest::Moving));
                    search.at = chain.potential(&chain.t, q);
                    (last_shift, shift) = (shift, 0.0);
                    continue;
                }
            }
        }
        let part = search.along(chain, dl, largest, |chain| chain.potential(&chain.trial, q));
        chain.take_step();
        chain.lambda += dl * part;
        last_shift = shift;
        shift = if shift < 2.0 * SHIFT { 0.0 } else { SHIFT_FALLS * shift };
    }
    Err(NoShape::NotFound)
}

/// The line search on U - λ'·e + ρ/2 |e|², which falls along the step once ρ is large enough.
pub(crate) struct Search {
    rho: f64,
    /// Small whole steps that may still be taken on trust.
    trust: usize,
    /// Potential and closing error of the shape at hand.
    pub(crate) at: (f64, Vec3),
}

impl Search {
    pub(crate) fn from(at: (f64, Vec3), trust: usize) -> Self {
        Self { rho: 0.0, trust, at }
    }

    /// How much of the step is taken; leaves the shape it leads to in `chain.trial`, of which `potential` tells the
    /// potential and the closing error.
    pub(crate) fn along(
        &mut self,
        chain: &mut Chain,
        dl: Vec3,
        largest: f64,
        mut potential: impl FnMut(&Chain) -> (f64, Vec3),
    ) -> f64 {
        let (energy, error) = self.at;
        let lambda = chain.lambda + dl;
        let (curving, gap) = (chain.slope() - error.dot(dl), error.dot(error));
        if curving < -0.5 * self.rho * gap && gap > ROUND_OFF * ROUND_OFF {
            self.rho = f64::max(2.0 * self.rho, 2.0 * (curving.abs() + ROUND_OFF) / gap);
        }
        let (rho, falls) = (self.rho, curving + self.rho * gap);
        let merit = |(u, e): (f64, Vec3)| u - lambda.dot(e) + 0.5 * rho * e.dot(e);
        let before = merit((energy, error));
        let mut part = f64::min(1.0, LARGEST_TURN / largest);
        for halving in 0..=HALVINGS {
            chain.try_step(part);
            self.at = potential(chain);
            let fell = merit(self.at) <= before - PROMISED * part * falls + ROUND_OFF * (1.0 + before.abs());
            // Along a soft mode the way is curved, and a good step rises before it falls (Maratos).
            let on_trust = !fell && largest < TRUSTED && self.trust > 0;
            self.trust -= usize::from(on_trust);
            if fell || on_trust || halving == HALVINGS {
                break;
            }
            part *= 0.5;
        }
        part
    }
}

enum Rest {
    Stable,
    Neutral,
    Saddle,
    /// Not at rest yet.
    Moving,
}

/// The last step, to the rest of the extrapolated potential (or of the plain one); the signs of its pivots tell what
/// kind of rest it is. A saddle is stepped off.
fn last_step(chain: &mut Chain, q: &Question, sharp: bool) -> Rest {
    let aim = |chain: &mut Chain| {
        chain.look(q);
        if sharp {
            chain.sharpen(q);
        }
    };
    aim(chain);
    let (mut neutral, mut shift) = (q.coaxial, 0.0);
    if !chain.eliminate(0.0).stable() || q.coaxial {
        // On the extrapolated fields a neutral mode is only neutral to within h⁴: the plain ones are asked.
        chain.look(q);
        if !chain.eliminate(NEUTRAL).stable() {
            step_off(chain, q);
            return Rest::Saddle;
        }
        neutral |= !chain.eliminate(-NEUTRAL).stable();
        shift = if neutral { LENT } else { 0.0 };
        aim(chain);
        chain.eliminate(shift);
    }
    for _ in 0..LAST_STEPS {
        let gap = if sharp { chain.sharp_potential(&chain.t, q).1 } else { chain.potential(&chain.t, q).1 };
        let (dl, largest) = chain.step(gap);
        if !(dl.is_finite() && largest <= LARGEST_LAST) {
            return Rest::Moving;
        }
        chain.lambda += dl;
        chain.try_step(1.0);
        chain.take_step();
        if largest < LAST_TURN {
            break;
        }
        aim(chain);
        chain.eliminate(shift);
    }
    if neutral { Rest::Neutral } else { Rest::Stable }
}

/// Turns the tangents off a saddle, along the mode that lowers the potential most.
fn step_off(chain: &mut Chain, q: &Question) {
    let mut shift = NEUTRAL;
    chain.look(q);
    while shift < 1e9 && !chain.eliminate(shift).stable() {
        shift *= 4.0;
    }
    soften(chain, q, shift);
    let off = chain.turn.iter().fold(0.0_f64, |most, x| most.max(x.dot(*x))).sqrt();
    chain.try_step(OFF_SADDLE / off);
    chain.take_step();
}

/// Leaves the softest mode that keeps the hose closed in `chain.turn`: inverse iteration on the bordered matrix with a
/// `shift` that just makes it stable.
fn soften(chain: &mut Chain, q: &Question, shift: f64) {
    // Begin with a turn that no symmetry of the hose makes useless.
    for (i, turn) in chain.turn.iter_mut().enumerate() {
        let wave = (i * 7 % 11) as f64 - 5.0;
        *turn = Vec3::new(1.0 + 0.3 * wave, 0.7 - 0.2 * wave, 0.4 + 0.1 * wave);
    }
    for _ in 0..6 {
        let size = chain.mass_of_turn().sqrt();
        chain.look(q);
        chain.load_with_turns(1.0 / size);
        chain.eliminate(shift);
        chain.step(Vec3::ZERO);
    }
}
