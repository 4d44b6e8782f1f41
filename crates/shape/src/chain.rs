//! The hose as a chain of unit tangents: its energy, what pulls on each tangent, and the equations of one Newton step.
//!
//! The hose of length 1 is cut into N intervals of h = 1/N (N a multiple of 4), a unit tangent t at each of the N+1 nodes; two
//! intervals make a quadratic element with end nodes a, b and mid node m. With the weights of the element
//!
//! ```text
//! w1 = 4/(3h)   between an end and the mid      w2 = -1/(6h)   between the two ends
//! q  = h/3 (1, 4, 2, 4, … 4, 1)                 Simpson's rule
//! ```
//!
//! the potential and the closing condition are
//!
//! ```text
//! U(t) = Σ ½ w |t_i - t_j|²  -  Σ q_i (1-s_i) γ·t_i          C(t) = Σ q_i t_i = c
//! ```
//!
//! (½|a-m|² = 1 - a·m for unit vectors, so this is the P2 bending energy of the element, and exact for a nearly
//! straight hose.) With the multiplier λ, the force of spigot B on the hose, the *local field* of a node is
//!
//! ```text
//! g_i = Σ_j w_ij t_j + q_i (λ + γ (1-s_i))
//! ```
//!
//! and the chain rests when every g_i is parallel to its t_i. Turning t_i by B_i x_i, with B_i two unit vectors
//! square to t_i, the second derivatives on the sphere are (g_i·t_i) I on the diagonal and -w_ij B_iᵀB_j beside it:
//! the curvature of the sphere brings in g_i·t_i. One Newton step for U - λ·(C - c) is
//!
//! ```text
//! H x - Aᵀ δλ = Bᵀ g,     A x = c - C,     A_i = q_i B_i
//! ```
//!
//! **Elimination.** A mid node touches only its two ends and has a scalar diagonal D, so it is eliminated in closed form,
//! and since B_mB_mᵀ = I - t_m t_mᵀ it needs no frame of its own. With p = B_aᵀt_m (two numbers) it gives to its ends
//!
//! ```text
//! pivot of a    - w1²/D (I - p_a p_aᵀ)
//! a beside b    - (w2 + w1²/D) B_aᵀB_b + w1²/D p_a p_bᵀ
//! gradient of a + w1/D B_aᵀ (I - t_m t_mᵀ) g_m          columns of Aᵀ  + w1 q_m/D (B_aᵀ - p_a t_mᵀ)
//! ```
//!
//! What is left is block tridiagonal in 2x2 blocks over the element ends, with four right-hand sides (the gradient and
//! the three columns of Aᵀ), and a 3x3 system for δλ. The signs of the pivots give the inertia of H and of
//! S = A H⁻¹ Aᵀ; the chain is stable exactly when neg(H) = neg(S), for then the bordered matrix has its three negative
//! eigenvalues and no more (Haynsworth). H alone is often indefinite at a stable shape.
//!
//! **Extrapolation.** U and C err by h⁴ and further even powers for a smooth hose. So (16 U_h - U_2h)/15, with U_2h
//! of every second node, errs by h⁶ (Richardson), and C with it has Boole's weights. The last Newton step is taken with
//! the fields and the closing condition of that potential, but still with the Hessian of U_h: it costs no more than a
//! plain last step. What a Hessian that differs on the finest scale leaves is again of order h⁴, but ten to a hundred
//! times smaller than without (measured in `tests`).

#![expect(clippy::doc_markdown, reason = "the symbols of the formulas are not code")]

use crate::Vec3;
use crate::ends::Question;

mod response;
pub(crate) use response::{CHANGES, LENGTH, Response, Sums};

/// Two rows (the two ways a tangent can turn) by four columns (gradient, and the three of the closing condition).
type Rows = [[f64; 4]; 2];
/// A 2x2 block, row by row.
type Block = [[f64; 2]; 2];

/// How many eigenvalues are negative.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Inertia {
    /// Of the Hessian alone.
    pub(crate) hessian: usize,
    /// Of the closing condition's 3x3 matrix S.
    pub(crate) closing: usize,
}

impl Inertia {
    /// True if no small turn of the tangents that keeps the hose closed lowers its potential.
    pub(crate) fn stable(self) -> bool {
        self.hessian == self.closing
    }
}

/// An element end as the elimination leaves it.
#[derive(Clone, Copy, Default)]
struct End {
    /// The two ways in which the tangent can turn.
    u: Vec3,
    v: Vec3,
    /// Right-hand sides after the elimination of everything before.
    rows: Rows,
    /// Inverse of the pivot.
    inverse: Block,
    /// Coupling to the next end.
    next: Block,
}

/// The chain and the working memory of its Newton steps, kept from solve to solve.
#[derive(Default)]
pub(crate) struct Chain {
    n: usize,
    h: f64,
    /// Unit tangents, N + 1 of them.
    pub(crate) t: Vec<Vec3>,
    /// Force of spigot B on the hose.
    pub(crate) lambda: Vec3,
    /// Local field of each node, and its part along the tangent: the diagonal of H.
    pub(crate) field: Vec<(Vec3, f64)>,
    ends: Vec<End>,
    /// 1/D of the mid nodes.
    mids: Vec<f64>,
    /// Turn of each tangent in space after `step`.
    pub(crate) turn: Vec<Vec3>,
    /// Room for the trial shape of a line search.
    pub(crate) trial: Vec<Vec3>,
    /// Weights q of the closing condition at the nodes 0, 1, 2, 3 of every four.
    closing: [f64; 4],
    s: [[f64; 3]; 3],
    y: Vec3,
}

/// Weight of the bending energy between neighbours, and between the two ends of an element.
#[inline(always)]
pub(crate) fn weights(h: f64) -> (f64, f64) {
    (4.0 / (3.0 * h), -1.0 / (6.0 * h))
}

/// `rows -= block * other`
#[inline(always)]
fn take(rows: &mut Rows, block: &Block, other: &Rows) {
    for k in 0..4 {
        let (p, r) = (other[0][k], other[1][k]);
        rows[0][k] -= block[0][0] * p + block[0][1] * r;
        rows[1][k] -= block[1][0] * p + block[1][1] * r;
    }
}

impl Chain {
    /// Number of intervals.
    pub(crate) fn n(&self) -> usize {
        self.n
    }

    /// Interval between nodes, in hose lengths.
    pub(crate) fn h(&self) -> f64 {
        self.h
    }

    /// Takes the mesh of the tangents that stand in `self.t`.
    pub(crate) fn remesh(&mut self) {
        self.n = self.t.len() - 1;
        self.h = 1.0 / self.n as f64;
        self.field.resize(self.n + 1, (Vec3::ZERO, 0.0));
        self.ends.resize(self.n / 2 + 1, End::default());
        self.mids.resize(self.n / 2, 0.0);
        self.turn.clear();
        self.turn.resize(self.n + 1, Vec3::ZERO);
    }

    /// Halves the interval: new tangents from the quadratic through each element.
    pub(crate) fn refine(&mut self) {
        self.trial.clear();
        for e in self.t.windows(3).step_by(2) {
            let (a, m, b) = (e[0], e[1], e[2]);
            self.trial.push(a);
            self.trial.push((a * 3.0 + m * 6.0 - b).direction().unwrap_or(m));
            self.trial.push(m);
            self.trial.push((b * 3.0 + m * 6.0 - a).direction().unwrap_or(m));
        }
        self.trial.push(self.t[self.n]);
        std::mem::swap(&mut self.t, &mut self.trial);
        self.remesh();
    }

    /// Potential and closing error of the tangents `t`, on the mesh at hand.
    pub(crate) fn potential(&self, t: &[Vec3], q: &Question) -> (f64, Vec3) {
        self.potential_by::<1>(t, q)
    }

    /// Potential and closing error extrapolated from this mesh and the one twice as coarse (see the head of this file).
    pub(crate) fn sharp_potential(&self, t: &[Vec3], q: &Question) -> (f64, Vec3) {
        let ((fine, fine_gap), (coarse, coarse_gap)) = (self.potential_by::<1>(t, q), self.potential_by::<2>(t, q));
        ((16.0 * fine - coarse) / 15.0, (fine_gap * 16.0 - coarse_gap) * (1.0 / 15.0))
    }

    /// On the mesh of every `STRIDE`-th node.
    fn potential_by<const STRIDE: usize>(&self, t: &[Vec3], q: &Question) -> (f64, Vec3) {
        let h = self.h * STRIDE as f64;
        let (w1, w2) = weights(h);
        let (mut near, mut far, mut moment) = (0.0, 0.0, t[0]);
        let (mut mids, mut ends) = (Vec3::ZERO, Vec3::ZERO);
        for e in 0..self.n / (2 * STRIDE) {
            let i = 2 * STRIDE * e;
            let (a, m, b) = (t[i], t[i + STRIDE], t[i + 2 * STRIDE]);
            let (am, mb, ab) = (m - a, b - m, b - a);
            near += am.dot(am) + mb.dot(mb);
            far += ab.dot(ab);
            mids += m;
            ends += b;
            let left = 1.0 - (2 * e + 1) as f64 * h;
            moment += m * (4.0 * left) + b * (2.0 * (left - h));
        }
        let sum = t[0] + mids * 4.0 + ends * 2.0 - t[self.n];
        let bending = 0.5 * (w1 * near + w2 * far);
        let pushed = if q.push == Vec3::ZERO { 0.0 } else { q.push.dot(self.middle::<STRIDE>(t)) };
        (bending - q.gamma.dot(moment) * (h / 3.0) - pushed, sum * (h / 3.0) - q.c)
    }

    /// The place of mid-length from mouth A, on the mesh of every `STRIDE`-th node.
    fn middle<const STRIDE: usize>(&self, t: &[Vec3]) -> Vec3 {
        let sum = t[..=self.n / 2]
            .windows(2 * STRIDE + 1)
            .step_by(2 * STRIDE)
            .fold(Vec3::ZERO, |sum, e| sum + e[0] + e[STRIDE] * 4.0 + e[2 * STRIDE]);
        sum * (self.h * STRIDE as f64 / 3.0)
    }

    /// Adds the push at mid-length to the fields: all tangents before it carry it on to A, that of mid-length by half.
    /// `sharp` if the plain push is in already and what extrapolation adds to it is wanted: - 1/15 of the coarse mesh.
    fn push_fields(&mut self, push: Vec3, sharp: bool) {
        let middle = self.n / 2;
        for i in 1..=middle {
            let share = if i == middle { 0.5 } else { 1.0 };
            if sharp {
                let coarse = [4.0, 0.0, 8.0, 0.0][i % 4] * self.h / 3.0;
                self.field[i].0 += push * (-coarse * share / 15.0);
            } else {
                let weight = self.mass(i) * share;
                self.field[i].0 += push * weight;
                self.field[i].1 += push.dot(self.t[i]) * weight;
            }
        }
    }

    /// Local fields of all nodes that can turn, and the frames of the element ends.
    pub(crate) fn look(&mut self, q: &Question) {
        let (w1, w2) = weights(self.h);
        let third = self.h / 3.0;
        self.closing = [2.0 * third, 4.0 * third, 2.0 * third, 4.0 * third];
        let t = &self.t[..=self.n];
        for (e, mid) in t.windows(3).step_by(2).enumerate() {
            let i = 2 * e + 1;
            let pull = self.lambda + q.gamma * (1.0 - i as f64 * self.h);
            let field = (mid[0] + mid[2]) * w1 + pull * (4.0 * third);
            self.field[i] = (field, field.dot(mid[1]));
        }
        for (e, end) in t.windows(5).step_by(2).enumerate() {
            let i = 2 * e + 2;
            let pull = self.lambda + q.gamma * (1.0 - i as f64 * self.h);
            let field = (end[1] + end[3]) * w1 + (end[0] + end[4]) * w2 + pull * (2.0 * third);
            self.field[i] = (field, field.dot(end[2]));
            let slot = &mut self.ends[e + 1];
            (slot.u, slot.v) = end[2].frame();
        }
        if q.push != Vec3::ZERO {
            self.push_fields(q.push, false);
        }
    }

    /// After `look`: puts the extrapolated fields and closing weights in place of the plain ones; H is left as it is.
    pub(crate) fn sharpen(&mut self, q: &Question) {
        self.closing = [28.0, 64.0, 24.0, 64.0].map(|weight| weight * self.h / 45.0);
        let h = 2.0 * self.h;
        let (w1, w2) = weights(h);
        let t = &self.t;
        for i in 1..self.n {
            let field = &mut self.field[i].0;
            *field = *field * (16.0 / 15.0);
            let pull = self.lambda + q.gamma * (1.0 - i as f64 * self.h);
            let coarse = match i % 4 {
                0 => (t[i - 2] + t[i + 2]) * w1 + (t[i - 4] + t[i + 4]) * w2 + pull * (2.0 * h / 3.0),
                2 => (t[i - 2] + t[i + 2]) * w1 + pull * (4.0 * h / 3.0),
                _ => continue,
            };
            *field = *field - coarse * (1.0 / 15.0);
        }
        if q.push != Vec3::ZERO {
            self.push_fields(q.push, true);
        }
    }

    /// t' at both clamps, from the extrapolated local field of the clamped node: the nodal flux, which keeps the order
    /// of the mesh where a difference of nodes would lose two.
    pub(crate) fn clamp_bends(&self, q: &Question) -> (Vec3, Vec3) {
        let t = &self.t[..=self.n];
        let flux = |h: f64, own: Vec3, m: Vec3, b: Vec3, pull: Vec3| {
            let (w1, w2) = weights(h);
            (m * w1 + b * w2 + pull * (h / 3.0)).across(own)
        };
        let both = |own: Vec3, near: [Vec3; 3], pull: Vec3| {
            let fine = flux(self.h, own, near[0], near[1], pull);
            let coarse = flux(2.0 * self.h, own, near[1], near[2], pull);
            (fine * 16.0 - coarse) * (1.0 / 15.0)
        };
        let n = self.n;
        (
            both(t[0], [t[1], t[2], t[4]], self.lambda + q.gamma + q.push),
            -both(t[n], [t[n - 1], t[n - 2], t[n - 4]], self.lambda),
        )
    }

    /// Eliminates all nodes with `shift` times the mass added to the diagonal; leaves S and A H⁻¹ Bᵀg.
    pub(crate) fn eliminate(&mut self, shift: f64) -> Inertia {
        let (w1, w2) = weights(self.h);
        let third = self.h / 3.0;
        let q_mid = self.closing[1];
        let last = self.n / 2;
        let mut negative = 0;
        // S without the unit matrix's share, which is gathered apart; and y.
        let (mut s, mut unit, mut y) = ([[0.0; 3]; 3], 0.0, Vec3::ZERO);
        // Pivot (two diagonal entries, one beside) and right-hand sides of the element's left end so far.
        let (mut pivot, mut rows) = ([0.0; 3], [[0.0; 4]; 2]);
        for e in 0..last {
            let t = self.t[2 * e + 1];
            let (field, stiff) = self.field[2 * e + 1];
            let d = stiff + shift * 4.0 * third;
            negative += if d < 0.0 { 2 } else { 0 };
            let inv = 1.0 / d;
            self.mids[e] = inv;
            let across = field.across(t);
            let (k, share, q_share) = (w1 * w1 * inv, across * (w1 * inv), w1 * q_mid * inv);
            y += across * (q_mid * inv);
            let own = q_mid * q_mid * inv;
            unit += own;
            add_square(&mut s, t, -own);
            let give = |rows: &mut Rows, u: Vec3, v: Vec3, p: [f64; 2]| {
                for (row, (b, p)) in rows.iter_mut().zip([(u, p[0]), (v, p[1])]) {
                    let column = (b - t * p) * q_share;
                    row[0] += b.dot(share);
                    row[1] += column.x;
                    row[2] += column.y;
                    row[3] += column.z;
                }
            };
            let mut shed = ([0.0; 3], [[0.0; 4]; 2]);
            if e > 0 {
                let a = self.ends[e];
                let pa = [a.u.dot(t), a.v.dot(t)];
                give(&mut rows, a.u, a.v, pa);
                let (x, z, o) = (
                    pivot[0] - k * (1.0 - pa[0] * pa[0]),
                    pivot[1] - k * (1.0 - pa[1] * pa[1]),
                    pivot[2] + k * pa[0] * pa[1],
                );
                let det = x * z - o * o;
                negative += match (det < 0.0, x + z < 0.0) {
                    (true, _) => 1,
                    (false, true) => 2,
                    (false, false) => 0,
                };
                let r = 1.0 / det;
                let inverse = [[z * r, -o * r], [-o * r, x * r]];
                let mut solved: Rows = [[0.0; 4]; 2];
                take(&mut solved, &[[-inverse[0][0], -inverse[0][1]], [-inverse[1][0], -inverse[1][1]]], &rows);
                let [r0, r1] = &rows;
                let [s0, s1] = &solved;
                y += Vec3::new(
                    r0[1] * s0[0] + r1[1] * s1[0],
                    r0[2] * s0[0] + r1[2] * s1[0],
                    r0[3] * s0[0] + r1[3] * s1[0],
                );
                for i in 0..3 {
                    for j in i..3 {
                        s[i][j] += r0[i + 1] * s0[j + 1] + r1[i + 1] * s1[j + 1];
                    }
                }
                let mut next = [[0.0; 2]; 2];
                if e + 1 < last {
                    let b = &self.ends[e + 1];
                    let (pb, w) = ([b.u.dot(t), b.v.dot(t)], -(w2 + k));
                    next = [
                        [w * a.u.dot(b.u) + k * pa[0] * pb[0], w * a.u.dot(b.v) + k * pa[0] * pb[1]],
                        [w * a.v.dot(b.u) + k * pa[1] * pb[0], w * a.v.dot(b.v) + k * pa[1] * pb[1]],
                    ];
                    // Cᵀ P⁻¹ C and Cᵀ P⁻¹ R go to the next end.
                    let [[c00, c01], [c10, c11]] = next;
                    let (f0, f1) =
                        (inverse[0][0] * c00 + inverse[0][1] * c10, inverse[1][0] * c00 + inverse[1][1] * c10);
                    let (g0, g1) =
                        (inverse[0][0] * c01 + inverse[0][1] * c11, inverse[1][0] * c01 + inverse[1][1] * c11);
                    shed.0 = [c00 * f0 + c10 * f1, c01 * g0 + c11 * g1, c00 * g0 + c10 * g1];
                    take(&mut shed.1, &[[-c00, -c10], [-c01, -c11]], &solved);
                }
                self.ends[e] = End { rows, inverse, next, ..a };
            }
            if e + 1 < last {
                let b = &self.ends[e + 1];
                let (field, stiff) = self.field[2 * e + 2];
                let pb = [b.u.dot(t), b.v.dot(t)];
                let own = stiff + shift * 2.0 * third;
                let q_end = self.closing[(2 * e + 2) % 4];
                pivot = [
                    own - k * (1.0 - pb[0] * pb[0]) - shed.0[0],
                    own - k * (1.0 - pb[1] * pb[1]) - shed.0[1],
                    k * pb[0] * pb[1] - shed.0[2],
                ];
                let (u, v) = (b.u * q_end, b.v * q_end);
                rows = [[field.dot(b.u), u.x, u.y, u.z], [field.dot(b.v), v.x, v.y, v.z]];
                give(&mut rows, b.u, b.v, pb);
                for (row, less) in rows.iter_mut().zip(&shed.1) {
                    for (value, less) in row.iter_mut().zip(less) {
                        *value -= less;
                    }
                }
            }
        }
        for (i, row) in s.iter_mut().enumerate() {
            row[i] += unit;
        }
        self.s = s;
        self.y = y;
        Inertia { hessian: negative, closing: negative_of_three(&s) }
    }

    /// After `eliminate`: solves for δλ and for the turns (into `turn`). Returns δλ and the largest turn.
    pub(crate) fn step(&mut self, closing_error: Vec3) -> (Vec3, f64) {
        let dl = solve_three(&self.s, -(closing_error + self.y));
        let w1 = weights(self.h).0;
        let q_mid = self.closing[1];
        let mut next = [0.0; 2];
        let mut right = Vec3::ZERO;
        let mut largest: f64 = 0.0;
        for e in (0..self.n / 2).rev() {
            let mut left = Vec3::ZERO;
            if e > 0 {
                let a = &self.ends[e];
                let side = |k: usize| {
                    let row = &a.rows[k];
                    row[0] + row[1] * dl.x + row[2] * dl.y + row[3] * dl.z
                        - a.next[k][0] * next[0]
                        - a.next[k][1] * next[1]
                };
                let r = [side(0), side(1)];
                let p = &a.inverse;
                next = [p[0][0] * r[0] + p[0][1] * r[1], p[1][0] * r[0] + p[1][1] * r[1]];
                left = a.u * next[0] + a.v * next[1];
                self.turn[2 * e] = left;
                largest = largest.max(left.dot(left));
            }
            let m = 2 * e + 1;
            let pulls = self.field[m].0 + dl * q_mid + (left + right) * w1;
            let turn = pulls.across(self.t[m]) * self.mids[e];
            self.turn[m] = turn;
            largest = largest.max(turn.dot(turn));
            right = left;
        }
        (dl, largest.sqrt())
    }

    /// Writes the tangents turned by `part` of the step into `trial`.
    pub(crate) fn try_step(&mut self, part: f64) {
        self.trial.clear();
        self.trial.push(self.t[0]);
        for (t, turn) in self.t[1..self.n].iter().zip(&self.turn[1..self.n]) {
            let t = *t + *turn * part;
            self.trial.push(t * (1.0 / t.norm()));
        }
        self.trial.push(self.t[self.n]);
    }

    /// Makes the trial shape the shape.
    pub(crate) fn take_step(&mut self) {
        std::mem::swap(&mut self.t, &mut self.trial);
    }

    /// Σ turn·g: how fast the Lagrangian falls along the turns.
    pub(crate) fn slope(&self) -> f64 {
        self.field[1..self.n].iter().zip(&self.turn[1..self.n]).map(|(g, x)| x.dot(g.0)).sum()
    }

    /// Σ q_i x_i·x_i of the turns: their size in the measure of the shift.
    pub(crate) fn mass_of_turn(&self) -> f64 {
        (1..self.n).map(|i| self.turn[i].dot(self.turn[i]) * self.mass(i)).sum()
    }

    /// Simpson's weight of an inner node.
    fn mass(&self, i: usize) -> f64 {
        self.h / 3.0 * if i % 2 == 1 { 4.0 } else { 2.0 }
    }

    /// Puts `factor` times the mass times the present turns in place of the gradient, for inverse iteration.
    pub(crate) fn load_with_turns(&mut self, factor: f64) {
        for i in 1..self.n {
            self.field[i].0 = self.turn[i].across(self.t[i]) * (factor * self.mass(i));
        }
    }
}

/// `s += t tᵀ w`, upper part.
#[inline(always)]
fn add_square(s: &mut [[f64; 3]; 3], t: Vec3, w: f64) {
    let (x, y, z) = (t.x * w, t.y * w, t.z * w);
    s[0][0] += x * t.x;
    s[0][1] += x * t.y;
    s[0][2] += x * t.z;
    s[1][1] += y * t.y;
    s[1][2] += y * t.z;
    s[2][2] += z * t.z;
}

/// Negative eigenvalues of a symmetric 3x3 matrix (upper part given), from its LDLᵀ pivots.
pub(crate) fn negative_of_three(s: &[[f64; 3]; 3]) -> usize {
    let d0 = s[0][0];
    let (l1, l2) = (s[0][1] / d0, s[0][2] / d0);
    let d1 = s[1][1] - l1 * s[0][1];
    let e = s[1][2] - l1 * s[0][2];
    let d2 = s[2][2] - l2 * s[0][2] - e * e / d1;
    [d0, d1, d2].into_iter().filter(|d| *d < 0.0).count()
}

/// Solves the symmetric 3x3 system (upper part given) by LDLᵀ.
pub(crate) fn solve_three(s: &[[f64; 3]; 3], b: Vec3) -> Vec3 {
    let d0 = s[0][0];
    let (l1, l2) = (s[0][1] / d0, s[0][2] / d0);
    let d1 = s[1][1] - l1 * s[0][1];
    let e = s[1][2] - l1 * s[0][2];
    let l3 = e / d1;
    let d2 = s[2][2] - l2 * s[0][2] - l3 * e;
    let y1 = b.y - l1 * b.x;
    let y2 = b.z - l2 * b.x - l3 * y1;
    let x2 = y2 / d2;
    let x1 = y1 / d1 - l3 * x2;
    Vec3::new(b.x / d0 - l1 * x1 - l2 * x2, x1, x2)
}
