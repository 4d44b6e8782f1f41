//! How a piece of a longer run answers to a turn of its end tangents and to more length.
//!
//! A piece of length ℓ runs from guide to guide; in its own units it is a chain as at the head of `chain.rs`. In those
//! of the run (length 1, EI = 1) its part of the Lagrangian is, with B the bending energy of the unit chain, M its
//! sum Σ q (1-s) t, γ the weight of the run and r the place of its beginning,
//!
//! ```text
//! B/ℓ - ℓ² γ·M - ℓ γ·r - λ·(ℓ Σ q t - c)          own units: λ^ = ℓ² λ,  γ^ = ℓ³ γ
//! ```
//!
//! Besides its inner tangents five things can change: the turns τ of the two end tangents (two numbers each) and
//! the length, by the part ε of it. Called z together, and with everything multiplied by ℓ, one Newton step is
//!
//! ```text
//! H x  - Aᵀ δλ  =   Bᵀg   + Σ L_k z_k
//! A x           = -(C - c) - Σ d_k z_k
//! D z - L·x - d·δλ = J
//!
//!           loads L on the inner nodes                     d       diagonal of D          J
//! turn of a w1 u on node 1, w2 u on node 2 (u the way)   q_0 u    g_a·t_a                 u·g_a
//! turn of b likewise on nodes N-1, N-2                   q_N u    g_b·t_b                 u·g_b
//! length    q (2λ + 3γ(1-s)) square to t                 Σ q t    2B - 2γ·M    B + 2γ·M + λ·Σqt (+ ℓ² γ·r)
//! ```
//!
//! with g_a, g_b the fields of the end nodes as this piece alone makes them (the nodal flux), and u·g - q (2λ + 3γ(1-s))·u of
//! the end itself beside the diagonal, between turn and length. (The load of the length is the derivative of the field,
//! -Σ w t + q (λ + 2γ(1-s)) = -g + q (2λ + 3γ(1-s)); at rest the g of an inner node is parallel to its t and drops out, not so
//! that of an end, where only the sum of both sides is. J of the length over ℓ² is EI κ²/2 + n·t + w·r, the force with
//! which the piece asks for more hose.)
//!
//! Inner tangents and δλ are eliminated with the pivots that stand from `eliminate`: with Y = A H⁻¹L,
//!
//! ```text
//! K = D - Lᵀ H⁻¹ L + (Y + d)ᵀ S⁻¹ (Y + d)          J + Lᵀ H⁻¹ Bᵀg + (Y + d)·δλ_0
//! ```
//!
//! One forward sweep over the element ends gives all of it; when z is known the loads are put on, and the step back is
//! that of `chain.rs`. K and the pivots together tell the inertia of the whole: a run whose pieces are stable is stable
//! exactly when its assembled K is positive (Haynsworth).

#![expect(clippy::doc_markdown, reason = "the symbols of the formulas are not code")]

use super::{Chain, solve_three, weights};
use crate::Vec3;
use crate::ends::Question;

/// The two turns of each end tangent, and the length.
pub(crate) const CHANGES: usize = 5;
/// Place of the length among them.
pub(crate) const LENGTH: usize = 4;

/// What of the potential does not come with the fields.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Sums {
    /// Bending energy B.
    pub(crate) bending: f64,
    /// Potential of the weight, -γ·M.
    pub(crate) weight: f64,
    /// Closing error, Σ q t - c.
    pub(crate) gap: Vec3,
}

/// The condensed equations K z = J of a piece, and what brings their solution back to its tangents.
#[derive(Clone, Debug, Default)]
pub(crate) struct Response {
    /// K, symmetric.
    pub(crate) stiff: [[f64; CHANGES]; CHANGES],
    /// The right-hand side.
    pub(crate) pull: [f64; CHANGES],
    /// The part of the right-hand side that is the slope of the Lagrangian itself: J.
    pub(crate) slope: [f64; CHANGES],
    /// The ways in which the end tangents turn.
    ways: [Vec3; 4],
    d: [Vec3; CHANGES],
    y: [Vec3; CHANGES],
    gap: Vec3,
    /// Loads of the element ends after the elimination of everything before.
    rows: Vec<[[f64; CHANGES]; 2]>,
}

/// The fields of the two end nodes from this piece alone, on the mesh of every `stride`-th node.
fn end_fields(chain: &Chain, q: &Question, stride: usize) -> [Vec3; 2] {
    let (n, t, h) = (chain.n, &chain.t, chain.h * stride as f64);
    let (w1, w2) = weights(h);
    let third = h / 3.0;
    [
        t[stride] * w1 + t[2 * stride] * w2 + (chain.lambda + q.gamma) * third,
        t[n - stride] * w1 + t[n - 2 * stride] * w2 + chain.lambda * third,
    ]
}

impl Chain {
    /// The sums of the shape at hand, extrapolated or plain.
    pub(crate) fn sums(&self, q: &Question, sharp: bool) -> Sums {
        let of = |q: &Question| if sharp { self.sharp_potential(&self.t, q) } else { self.potential(&self.t, q) };
        let (potential, gap) = of(q);
        let bending = if q.gamma == Vec3::ZERO { potential } else { of(&Question { gamma: Vec3::ZERO, ..*q }).0 };
        Sums { bending, weight: potential - bending, gap }
    }

    /// As `try_step`, but the end tangents turn too.
    pub(crate) fn try_step_with_ends(&mut self, part: f64) {
        self.try_step(part);
        for end in [0, self.n] {
            let turn = self.turn[end];
            if turn != Vec3::ZERO {
                let t = self.t[end] + turn * part;
                self.trial[end] = t * (1.0 / t.norm());
            }
        }
    }
}

impl Response {
    /// Loads on inner node `i` square to its tangent, without those of the end tangents.
    #[inline(always)]
    fn more_length(chain: &Chain, q: &Question, i: usize) -> Vec3 {
        let pull = chain.lambda * 2.0 + q.gamma * (3.0 * (1.0 - i as f64 * chain.h));
        pull * chain.closing[i % 4]
    }

    /// Loads of the turning ends on inner node `i`; none in the midst.
    fn end_loads(&self, chain: &Chain, i: usize) -> Option<[Vec3; 4]> {
        let (w1, w2) = weights(chain.h);
        let weight = |apart: usize| match apart {
            1 => w1,
            2 => w2,
            _ => 0.0,
        };
        let (from_a, from_b) = (weight(i), weight(chain.n - i));
        let w = &self.ways;
        (i <= 2 || chain.n - i <= 2).then(|| [w[0] * from_a, w[1] * from_a, w[2] * from_b, w[3] * from_b])
    }

    /// All loads on inner node `i`.
    #[inline(always)]
    fn loads(&self, chain: &Chain, q: &Question, i: usize) -> [Vec3; CHANGES] {
        let [a, b, c, d] = self.end_loads(chain, i).unwrap_or_default();
        [a, b, c, d, Self::more_length(chain, q, i)]
    }

    /// Condenses the piece after `look` (and `sharpen`, if `sharp`) and `eliminate(shift)`.
    pub(crate) fn condense(&mut self, chain: &Chain, q: &Question, sums: &Sums, shift: f64, sharp: bool) {
        let (n, third) = (chain.n, chain.h / 3.0);
        let (ta, tb) = (chain.t[0], chain.t[n]);
        let ((ua, va), (ub, vb)) = (ta.frame(), tb.frame());
        self.ways = [ua, va, ub, vb];
        let q_end = 0.5 * chain.closing[0];
        let closing = sums.gap + q.c;
        self.gap = sums.gap;
        self.d = [ua * q_end, va * q_end, ub * q_end, vb * q_end, closing];
        let plain = end_fields(chain, q, 1);
        let aimed = if sharp {
            let coarse = end_fields(chain, q, 2);
            [0, 1].map(|end| (plain[end] * 16.0 - coarse[end]) * (1.0 / 15.0))
        } else {
            plain
        };
        let more = [chain.lambda * 2.0 + q.gamma * 3.0, chain.lambda * 2.0].map(|pull| pull * -q_end);
        let (mut stiff, mut slope) = ([[0.0; CHANGES]; CHANGES], [0.0; CHANGES]);
        for (k, way) in self.ways.into_iter().enumerate() {
            let (end, tangent) = if k < 2 { (0, ta) } else { (1, tb) };
            stiff[k][k] = plain[end].dot(tangent) + shift * third;
            stiff[k][LENGTH] = (plain[end] + more[end]).dot(way);
            slope[k] = aimed[end].dot(way);
        }
        stiff[LENGTH][LENGTH] = 2.0 * (sums.bending + sums.weight);
        slope[LENGTH] = sums.bending - 2.0 * sums.weight + chain.lambda.dot(closing);
        self.slope = slope;
        let (squares, with_gradient) = self.sweep(chain, q);
        let border: [Vec3; CHANGES] = std::array::from_fn(|k| self.d[k] + self.y[k]);
        let first = solve_three(&chain.s, -(sums.gap + chain.y));
        for (k, edge) in border.into_iter().enumerate() {
            let eased = solve_three(&chain.s, edge);
            for j in 0..=k {
                let of = stiff[j][k] - squares[j][k] + border[j].dot(eased);
                (self.stiff[j][k], self.stiff[k][j]) = (of, of);
            }
            self.pull[k] = slope[k] + with_gradient[k] + edge.dot(first);
        }
    }

    /// Eliminates the loads as `eliminate` did the gradient: leaves Y and the rows of the ends; returns LᵀH⁻¹L (upper
    /// part) and LᵀH⁻¹Bᵀg.
    fn sweep(&mut self, chain: &Chain, q: &Question) -> ([[f64; CHANGES]; CHANGES], [f64; CHANGES]) {
        let w1 = weights(chain.h).0;
        let (q_mid, last) = (chain.closing[1], chain.n / 2);
        let (mut squares, mut with_gradient) = ([[0.0; CHANGES]; CHANGES], [0.0; CHANGES]);
        let mut y = [Vec3::ZERO; CHANGES];
        let mut rows = [[0.0; CHANGES]; 2];
        self.rows.resize(last + 1, rows);
        for e in 0..last {
            let m = 2 * e + 1;
            let (t, inv) = (chain.t[m], chain.mids[e]);
            // In the midst only the length loads a mid node.
            let from = if e == 0 || e + 1 == last { 0 } else { LENGTH };
            let loads = self.loads(chain, q, m).map(|load| load.across(t));
            let field = chain.field[m].0;
            for k in from..CHANGES {
                y[k] += loads[k] * (q_mid * inv);
                with_gradient[k] += loads[k].dot(field) * inv;
                for j in k..CHANGES {
                    squares[k][j] += loads[k].dot(loads[j]) * inv;
                }
            }
            let mut shed = [[0.0; CHANGES]; 2];
            if e > 0 {
                let a = &chain.ends[e];
                for k in from..CHANGES {
                    let share = loads[k] * (w1 * inv);
                    rows[0][k] += a.u.dot(share);
                    rows[1][k] += a.v.dot(share);
                }
                let (p, [g0, g1]) = (&a.inverse, &a.rows);
                let solved: [[f64; CHANGES]; 2] =
                    [0, 1].map(|i| std::array::from_fn(|k| p[i][0] * rows[0][k] + p[i][1] * rows[1][k]));
                for k in 0..CHANGES {
                    let (s0, s1) = (solved[0][k], solved[1][k]);
                    y[k] += Vec3::new(g0[1] * s0 + g1[1] * s1, g0[2] * s0 + g1[2] * s1, g0[3] * s0 + g1[3] * s1);
                    with_gradient[k] += g0[0] * s0 + g1[0] * s1;
                    for j in k..CHANGES {
                        squares[k][j] += s0 * rows[0][j] + s1 * rows[1][j];
                    }
                    shed[0][k] = a.next[0][0] * s0 + a.next[1][0] * s1;
                    shed[1][k] = a.next[0][1] * s0 + a.next[1][1] * s1;
                }
                self.rows[e] = rows;
            }
            if e + 1 < last {
                let b = &chain.ends[e + 1];
                let own = self.loads(chain, q, m + 1);
                for k in 0..CHANGES {
                    let load = if k >= from { own[k] + loads[k] * (w1 * inv) } else { own[k] };
                    rows[0][k] = b.u.dot(load) - shed[0][k];
                    rows[1][k] = b.v.dot(load) - shed[1][k];
                }
            }
        }
        self.y = y;
        (squares, with_gradient)
    }

    /// Turns the tangents of the step with the changes `z` into `chain.turn`, end tangents too. Returns δλ, the largest
    /// turn, and how fast the Lagrangian falls along the inner turns.
    pub(crate) fn step(&self, chain: &mut Chain, q: &Question, z: &[f64; CHANGES]) -> (Vec3, f64, f64) {
        let along = |v: &[Vec3]| v.iter().zip(z).fold(Vec3::ZERO, |sum, (v, z)| sum + *v * *z);
        let n = chain.n;
        let kept = chain.y;
        chain.y += along(&self.y);
        for i in 1..n {
            let load = match self.end_loads(chain, i) {
                Some(ends) => along(&ends),
                None => Vec3::ZERO,
            } + Self::more_length(chain, q, i) * z[LENGTH];
            // Only the field of a mid node is asked in the step back; that of an end stands in its rows.
            if i % 2 == 1 {
                chain.field[i].0 += load;
            } else {
                let rows = &self.rows[i / 2];
                for (row, loads) in chain.ends[i / 2].rows.iter_mut().zip(rows) {
                    row[0] += loads.iter().zip(z).map(|(load, z)| load * z).sum::<f64>();
                }
            }
        }
        let (dl, mut largest) = chain.step(self.gap + along(&self.d));
        for i in (1..n).step_by(2) {
            let ends = self.end_loads(chain, i).map_or(Vec3::ZERO, |ends| along(&ends));
            chain.field[i].0 = chain.field[i].0 - ends - Self::more_length(chain, q, i) * z[LENGTH];
        }
        chain.y = kept;
        chain.turn[0] = along(&self.ways[..2]);
        chain.turn[n] = self.ways[2] * z[2] + self.ways[3] * z[3];
        largest = largest.max(chain.turn[0].norm()).max(chain.turn[n].norm());
        (dl, largest, chain.slope())
    }
}
