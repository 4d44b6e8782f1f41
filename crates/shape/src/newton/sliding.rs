//! Newton's method for a run that slides through guides: its pieces, its lengths and its free tangents together.
//!
//! Between two guides the run is a chain like any other. The guide holds a point of it, so each piece closes on its own and has
//! its own λ; what the pieces share is the tangent at the guide (free to turn unless the guide holds it) and the total
//! length. In units of the run (length 1, EI = 1) one minimises
//!
//! ```text
//! Σ_p [ B_p/ℓ_p - ℓ_p² γ·M_p - ℓ_p γ·r_p ]     subject to  ℓ_p Σ q t = c_p  for every piece,  Σ ℓ_p = 1
//! ```
//!
//! No friction: the lengths are free. At rest the force with which each piece asks for length,
//!
//! ```text
//! P_p = -∂/∂ℓ_p = (B + 2γ^·M + λ^·Σqt)/ℓ² + γ·r_p  =  EI κ²/2 + n·t + w·r
//! ```
//!
//! is the same in all; and at a guide that leaves the direction free the fields of both sides together are parallel to
//! the tangent, which says that the moment does not jump.
//!
//! Each piece condenses itself to five numbers (`chain/response.rs`); put together by guides, with δℓ of the last
//! piece the negative sum of the others, they are a small dense system: two turns (or none) and one length per guide.
//! **Stable** means that every piece is stable by its pivots and the small matrix is positive. So one Newton step costs one
//! elimination a piece, and a run with guides takes about as many steps as one without. Line search, saddles and the last step
//! are those of a single chain, for the sum.

#![expect(clippy::doc_markdown, reason = "the symbols of the formulas are not code")]

use super::{
    HALVINGS, LARGEST_TURN, LAST_TURN, LENT, NEUTRAL, OFF_SADDLE, ON_TRUST, PROMISED, ROUND_OFF, SHIFT, SHIFT_FALLS,
    SHIFT_GROWS, SHIFT_MOST, TRUSTED,
};
use crate::Vec3;
use crate::chain::{CHANGES, Chain, LENGTH, Response, Sums};
use crate::ends::{NoShape, Question};

/// Part of a piece's slack, and of its length, that one step may take or give.
const LARGEST_CUT: f64 = 0.7;
const LARGEST_CHANGE: f64 = 0.4;
/// First shift of the small matrix where it is not positive.
const FIRST_OUTER: f64 = 1.0;
/// Last steps at most, and the part of the turn from which they start below which no other is needed.
const LAST_STEPS: usize = 12;
const AT_REST: f64 = 0.01;
/// How often a run may turn out to be on a saddle, or not at rest, before the start is given up.
const SADDLES: usize = 4;
const NOT_AT_REST: usize = 3;

/// The hose between two guides, or a guide and a spigot.
#[derive(Default)]
pub(crate) struct Piece {
    pub(crate) chain: Chain,
    /// In units of the piece at its present length.
    pub(crate) q: Question,
    /// Length ℓ as a part of the whole.
    pub(crate) part: f64,
    /// From its beginning to its end, in lengths of the run.
    pub(crate) chord: Vec3,
    /// γ·r of its beginning.
    height: f64,
    response: Response,
    sums: Sums,
    z: [f64; CHANGES],
    dl: Vec3,
    shift: f64,
    last_shift: f64,
    trial_part: f64,
}

impl Piece {
    /// A piece of length `part` with `chord` from `from`; its tangents are set by the caller.
    pub(crate) fn set(&mut self, from: Vec3, chord: Vec3, gamma: Vec3, part: f64) {
        (self.chord, self.height) = (chord, gamma.dot(from));
        self.q.gamma = gamma;
        self.resize(gamma, part);
    }

    fn resize(&mut self, gamma: Vec3, part: f64) {
        self.part = part;
        self.q = self.question(gamma, part);
    }

    fn question(&self, gamma: Vec3, part: f64) -> Question {
        Question { c: self.chord * (1.0 / part), gamma: gamma * (part * part * part), ..self.q }
    }

    /// Slack: how much longer it is than the straight way.
    fn slack(&self) -> f64 {
        self.part - self.chord.norm()
    }

    fn aim(&mut self, sharp: bool) {
        self.chain.look(&self.q);
        self.sums = self.chain.sums(&self.q, sharp);
        if sharp {
            self.chain.sharpen(&self.q);
        }
    }

    /// Eliminates; false if the piece alone is not stable with that shift.
    fn eliminate(&mut self, shift: f64, sharp: bool) -> bool {
        let stable = self.chain.eliminate(shift).stable();
        if stable {
            self.response.condense(&self.chain, &self.q, &self.sums, shift, sharp);
            // Own units per own length: ℓ² γ·r.
            let lift = self.part * self.part * self.height;
            self.response.pull[LENGTH] += lift;
            self.response.slope[LENGTH] += lift;
        }
        stable
    }

    /// Potential and closing error at another length with the tangents `t`, in units of the run.
    fn potential(&self, t: &[Vec3], gamma: Vec3, part: f64) -> (f64, Vec3) {
        let (potential, gap) = self.chain.potential(t, &self.question(gamma, part));
        (potential / part - part * self.height, gap * part)
    }
}

/// The whole run: pieces from A to B, and the small system that joins them.
#[derive(Default)]
pub(crate) struct Run {
    pub(crate) pieces: Vec<Piece>,
    /// Of the guides between them: whether the tangent is free.
    pub(crate) free: Vec<bool>,
    pub(crate) gamma: Vec3,
    /// The lie may turn freely about a line, as a whole or in one piece.
    pub(crate) may_be_neutral: bool,
    joint: Joint,
}

/// The small dense system.
#[derive(Default)]
struct Joint {
    /// Lower part of the matrix, row by row; of its factors after `factor`.
    k: Vec<f64>,
    kept: Vec<f64>,
    rhs: Vec<f64>,
    /// For each piece and each of its five changes: which unknowns, times what.
    places: Vec<Vec<(usize, usize, f64)>>,
    m: usize,
}

impl Joint {
    /// LDLᵀ of the matrix plus `shift` on its diagonal; false if a pivot is not positive.
    fn factor(&mut self, shift: f64) -> bool {
        let m = self.m;
        self.k.clone_from(&self.kept);
        for j in 0..m {
            let mut d = self.k[j * m + j] + shift;
            for i in 0..j {
                d -= self.k[j * m + i] * self.k[j * m + i] * self.k[i * m + i];
            }
            if d.is_nan() || d <= 0.0 {
                return false;
            }
            self.k[j * m + j] = d;
            for row in j + 1..m {
                let mut l = self.k[row * m + j];
                for i in 0..j {
                    l -= self.k[row * m + i] * self.k[j * m + i] * self.k[i * m + i];
                }
                self.k[row * m + j] = l / d;
            }
        }
        true
    }

    /// Solves in place of the right-hand side.
    fn solve(&mut self) {
        let m = self.m;
        for row in 0..m {
            for i in 0..row {
                self.rhs[row] -= self.k[row * m + i] * self.rhs[i];
            }
        }
        for row in 0..m {
            self.rhs[row] /= self.k[row * m + row];
        }
        for row in (0..m).rev() {
            for i in row + 1..m {
                self.rhs[row] -= self.k[i * m + row] * self.rhs[i];
            }
        }
    }
}

impl Run {
    /// Numbers the unknowns: for every guide the two turns of its tangent, if free, and the length of the piece before.
    pub(crate) fn number(&mut self) {
        let guides = self.free.len();
        let joint = &mut self.joint;
        joint.places.iter_mut().for_each(Vec::clear);
        joint.places.resize(self.pieces.len(), Vec::new());
        let mut next = 0;
        for (j, free) in self.free.iter().enumerate() {
            for way in 0..2 {
                if *free {
                    joint.places[j].push((2 + way, next, 1.0));
                    joint.places[j + 1].push((way, next, 1.0));
                    next += 1;
                }
            }
            joint.places[j].push((LENGTH, next, 1.0));
            joint.places[guides].push((LENGTH, next, -1.0));
            next += 1;
        }
        joint.m = next;
        joint.k.resize(next * next, 0.0);
    }

    /// From units of piece `p` to those of the run: a change of length is δℓ = ℓ ε, and energies are divided by ℓ.
    fn scale(part: f64, change: usize) -> f64 {
        if change == LENGTH { 1.0 / part } else { 1.0 }
    }

    fn assemble(&mut self) {
        let joint = &mut self.joint;
        let m = joint.m;
        joint.kept.clear();
        joint.kept.resize(m * m, 0.0);
        joint.rhs.clear();
        joint.rhs.resize(m, 0.0);
        for (piece, places) in self.pieces.iter().zip(&joint.places) {
            for &(k, row, f) in places {
                let f = f * Self::scale(piece.part, k) / piece.part;
                joint.rhs[row] += f * piece.response.pull[k];
                for &(j, column, g) in places {
                    if column <= row {
                        joint.kept[row * m + column] += f * g * Self::scale(piece.part, j) * piece.response.stiff[k][j];
                    }
                }
            }
        }
    }

    /// Solves for the unknowns and steps back into every piece. Returns the largest turn or relative change of length,
    /// and how fast the Lagrangian falls.
    fn step(&mut self) -> (f64, f64) {
        self.joint.solve();
        let held_back = self.held_back();
        let (mut largest, mut falls) = (0.0_f64, 0.0);
        for (piece, places) in self.pieces.iter_mut().zip(&self.joint.places) {
            piece.z = [0.0; CHANGES];
            for &(k, at, f) in places {
                piece.z[k] += held_back * f * Self::scale(piece.part, k) * self.joint.rhs[at];
            }
            let (dl, turn, slope) = piece.response.step(&mut piece.chain, &piece.q, &piece.z);
            piece.dl = dl;
            let outer: f64 = piece.z.iter().zip(&piece.response.slope).map(|(z, j)| z * j).sum();
            falls += (slope + outer) / piece.part;
            // A length not a number must not pass for a small one.
            largest = if turn.is_finite() && dl.is_finite() {
                largest.max(turn).max(piece.z[LENGTH].abs())
            } else {
                f64::NAN
            };
            if largest.is_nan() {
                break;
            }
        }
        (largest, falls)
    }

    /// Writes the trial shape of `part` of the step.
    fn try_step(&mut self, part: f64) {
        for piece in &mut self.pieces {
            piece.chain.try_step_with_ends(part);
            piece.trial_part = piece.part * (1.0 + part * piece.z[LENGTH]);
        }
    }

    /// Makes the trial shape the shape, with `part` of the change of λ.
    fn take_step(&mut self, part: f64) {
        for piece in &mut self.pieces {
            piece.chain.take_step();
            let longer = piece.trial_part / piece.part;
            piece.chain.lambda = (piece.chain.lambda + piece.dl * part) * (longer * longer);
            piece.resize(self.gamma, piece.trial_part);
        }
    }

    /// How much of the change of lengths and free tangents may be made at most; the inner tangents are then stepped for
    /// what is made of it, which still goes downhill.
    fn held_back(&self) -> f64 {
        let mut part = 1.0;
        for (piece, places) in self.pieces.iter().zip(&self.joint.places) {
            let change = |wanted: usize| {
                let of = places.iter().filter(|(k, _, _)| *k == wanted);
                of.map(|&(_, at, f)| f * self.joint.rhs[at]).sum::<f64>()
            };
            let more = change(LENGTH);
            let most = if more < 0.0 { LARGEST_CUT * piece.slack() } else { LARGEST_CHANGE * piece.part };
            part = f64::min(part, most / more.abs().max(most));
            for way in 0..LENGTH {
                part = f64::min(part, LARGEST_TURN / change(way).abs().max(LARGEST_TURN));
            }
        }
        part
    }

    /// Largest closing error of a piece, in its own lengths.
    fn open(&self) -> f64 {
        self.pieces.iter().map(|piece| piece.sums.gap.norm()).fold(0.0, f64::max)
    }

    /// The step below which Newton converges at once: smaller where a piece is all but straight, for its sideways way is
    /// the root of its slack.
    fn near(&self) -> f64 {
        let slack = self.pieces.iter().map(|piece| piece.slack() / piece.part).fold(1.0, f64::min);
        LAST_TURN * (100.0 * slack).max(0.0).sqrt().min(1.0)
    }

    /// Looks, eliminates and assembles with one shift everywhere; true if the run is stable with it.
    fn stable(&mut self, shift: f64, sharp: bool) -> bool {
        for piece in &mut self.pieces {
            piece.aim(sharp);
            if !piece.eliminate(shift, sharp) {
                return false;
            }
        }
        self.assemble();
        self.joint.factor(shift)
    }

    /// Newton steps from the tangents and lengths at hand to a stable rest. True if it is neutral.
    pub(crate) fn settle(&mut self, steps: usize) -> Result<bool, NoShape> {
        let (mut outer, mut saddles, mut moving, mut trust, mut rho) = (0.0, 0, 0, ON_TRUST, 0.0);
        for piece in &mut self.pieces {
            (piece.shift, piece.last_shift) = (0.0, 0.0);
        }
        for _ in 0..steps {
            for piece in &mut self.pieces {
                piece.aim(false);
                while !piece.eliminate(piece.shift, false) {
                    let first = f64::max(SHIFT, 0.3 * piece.last_shift);
                    piece.shift = if piece.shift == 0.0 { first } else { SHIFT_GROWS * piece.shift };
                    if piece.shift > SHIFT_MOST {
                        return Err(NoShape::NotFound);
                    }
                }
                piece.last_shift = piece.shift;
                piece.shift = if piece.shift < 2.0 * SHIFT { 0.0 } else { SHIFT_FALLS * piece.shift };
            }
            self.assemble();
            while !self.joint.factor(outer) {
                outer = if outer == 0.0 { FIRST_OUTER } else { SHIFT_GROWS * outer };
                if outer.is_nan() || outer > SHIFT_MOST {
                    return Err(NoShape::NotFound);
                }
            }
            outer = if outer < 2.0 * FIRST_OUTER { 0.0 } else { SHIFT_FALLS * outer };
            let (largest, falls) = self.step();
            if largest.is_nan() {
                return Err(NoShape::NotFound);
            }
            let near = self.near();
            if largest < near && self.open() < near {
                self.try_step(1.0);
                self.take_step(1.0);
                match self.last_steps(moving < NOT_AT_REST) {
                    Rest::At { neutral } => return Ok(neutral),
                    Rest::Saddle => {
                        saddles += 1;
                        if saddles > SADDLES {
                            return Err(NoShape::NotFound);
                        }
                    }
                    Rest::Moving => moving += 1,
                }
                continue;
            }
            let part = self.search(largest, falls, &mut rho, &mut trust);
            self.take_step(part);
        }
        Err(NoShape::NotFound)
    }

    /// The line search of a single chain, on the sum: U - λ'·e + ρ/2 |e|².
    fn search(&mut self, largest: f64, falls: f64, rho: &mut f64, trust: &mut usize) -> f64 {
        let (mut curving, mut gap) = (falls, 0.0);
        for piece in &self.pieces {
            let error = piece.sums.gap * piece.part;
            curving -= error.dot(piece.dl) / (piece.part * piece.part);
            gap += error.dot(error);
        }
        if curving < -0.5 * *rho * gap && gap > ROUND_OFF * ROUND_OFF {
            *rho = f64::max(2.0 * *rho, 2.0 * (curving.abs() + ROUND_OFF) / gap);
        }
        let falls = curving + *rho * gap;
        let before = self.merit(*rho, true);
        let mut part = f64::min(1.0, LARGEST_TURN / largest);
        for halving in 0..=HALVINGS {
            self.try_step(part);
            let fell = self.merit(*rho, false) <= before - PROMISED * part * falls + ROUND_OFF * (1.0 + before.abs());
            let on_trust = !fell && largest < TRUSTED && *trust > 0;
            *trust -= usize::from(on_trust);
            if fell || on_trust || halving == HALVINGS {
                break;
            }
            part *= 0.5;
        }
        part
    }

    fn merit(&self, rho: f64, before: bool) -> f64 {
        let of = |piece: &Piece| {
            let (t, part) = if before { (&piece.chain.t, piece.part) } else { (&piece.chain.trial, piece.trial_part) };
            let (u, e) = piece.potential(t, self.gamma, part);
            let lambda = (piece.chain.lambda + piece.dl) * (1.0 / (piece.part * piece.part));
            u - lambda.dot(e) + 0.5 * rho * e.dot(e)
        };
        self.pieces.iter().map(of).sum()
    }

    /// To the rest of the extrapolated potential; the pivots tell what kind of rest it is. A saddle is stepped off.
    fn last_steps(&mut self, sharp: bool) -> Rest {
        let mut neutral = false;
        let mut shift = 0.0;
        if self.may_be_neutral || !self.stable(0.0, false) {
            if !self.stable(NEUTRAL, false) {
                self.step_off();
                return Rest::Saddle;
            }
            neutral = !self.stable(-NEUTRAL, false);
            shift = if neutral { LENT } else { 0.0 };
        }
        let near = self.near();
        for _ in 0..LAST_STEPS {
            if !self.stable(shift, sharp) {
                return Rest::Moving;
            }
            let (largest, _) = self.step();
            if largest.is_nan() || largest > 20.0 * near {
                return Rest::Moving;
            }
            self.try_step(1.0);
            self.take_step(1.0);
            if largest < AT_REST * near {
                return Rest::At { neutral };
            }
        }
        Rest::Moving
    }

    /// Turns the run off a saddle along the mode that lowers the potential most: inverse iteration with a shift that just
    /// makes it stable.
    fn step_off(&mut self) {
        let mut shift = NEUTRAL;
        while shift < 1e9 && !self.stable(shift, false) {
            shift *= 4.0;
        }
        for piece in &mut self.pieces {
            for (i, turn) in piece.chain.turn.iter_mut().enumerate() {
                let wave = (i * 7 % 11) as f64 - 5.0;
                *turn = Vec3::new(1.0 + 0.3 * wave, 0.7 - 0.2 * wave, 0.4 + 0.1 * wave);
            }
            piece.z = [0.01; CHANGES];
        }
        let mut unknowns = vec![0.01; self.joint.m];
        for _ in 0..6 {
            let mass: f64 = self.pieces.iter().map(|piece| piece.chain.mass_of_turn()).sum();
            let size = (mass + unknowns.iter().map(|x| x * x).sum::<f64>()).sqrt();
            for piece in &mut self.pieces {
                piece.chain.look(&piece.q);
                piece.chain.load_with_turns(1.0 / size);
                piece.sums.gap = Vec3::ZERO;
                piece.eliminate(shift, false);
                for (pull, slope) in piece.response.pull.iter_mut().zip(piece.response.slope) {
                    *pull -= slope;
                }
            }
            self.assemble();
            for (rhs, x) in self.joint.rhs.iter_mut().zip(&unknowns) {
                *rhs += x / size;
            }
            if !self.joint.factor(shift) {
                return;
            }
            self.step();
            unknowns.clone_from(&self.joint.rhs);
        }
        let off = self.pieces.iter().flat_map(|piece| &piece.chain.turn).map(|turn| turn.norm()).fold(0.0, f64::max);
        let part = OFF_SADDLE / off.max(1e-12);
        let part = self.pieces.iter().fold(part, |part, piece| {
            let change = piece.part * piece.z[LENGTH] * part;
            if -change > 0.5 * piece.slack() { part * 0.5 * piece.slack() / -change } else { part }
        });
        for piece in &mut self.pieces {
            piece.dl = Vec3::ZERO;
        }
        self.try_step(part);
        self.take_step(0.0);
    }
}

enum Rest {
    At {
        neutral: bool,
    },
    Saddle,
    /// Not at rest yet.
    Moving,
}
