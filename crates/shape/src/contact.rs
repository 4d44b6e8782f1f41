//! What presses on the hose: one-sided springs along it that become walls, and one Newton step with them.
//!
//! The hose is cut into M short stretches, each of which may press on each solid. With d(r) the distance of the place r
//! from the surface and ρ the radius of the hose, its depth there is p = ρ - d(r), its way out the unit vector o = ∇d. The
//! potential of [`chain`](super::chain) gains for each stretch and solid
//!
//! ```text
//! ψ = F² / 2k,   F = max(0, f + k p)     f the force that is held, k the stiffness of a stretch, κ/M with κ per length
//! ```
//!
//! With f = 0 it is the one-sided spring ½ k p². Putting in place of every f what its spring bears, F, and settling again
//! takes the depth towards nothing at a finite k: f becomes the force of a wall that does not yield (the method of
//! multipliers). Its derivatives by r are
//!
//! ```text
//! ∇ψ = -F o                                    the solid pushes outwards with F
//! ∇²ψ = k o oᵀ - F ∇²d,   ∇²d = Σ b bᵀ / R     b square to o: where the surface is round, the push turns with r
//! ```
//!
//! **Places.** In an element a, m, b, at u intervals from a, the integral of the quadratic through the tangents is
//!
//! ```text
//! r(u) = r_a + h (α_a t_a + α_m t_m + α_b t_b)
//! α_a = u - 3u²/4 + u³/6     α_m = u² - u³/3     α_b = u³/6 - u²/4     at u = 2: 1/3, 4/3, 1/3, Simpson's rule
//! ```
//!
//! so a push at a place reaches all tangents before it. The local field of a node gains Σ (∂r/∂t_i) F o over what presses
//! from its element on, and with it the diagonal (g_i·t_i) I.
//!
//! **Where a stretch presses.** At its deepest place: pushed at a fixed place, a hose could lean against the slope between two
//! of them, as if something held it by friction (a push 4 % out of its way was measured). So p is the greatest value of
//! ρ - d(r(s)) - ½ ω (s - s_m)² in the stretch, with s_m its middle and ω small: it only says where, if the hose lies flat and
//! all places are as deep. A greatest value has the derivatives of its place held fast, but where the place may slide
//!
//! ```text
//! p' = -o·t - ω (s - s_m) = 0,   p'' = -o·t' - t·∇²d·t - ω:   ∇²p gains  δp' δp' / (-p''),   δp' = -o·δt - δr·∇²d·t
//! ```
//!
//! **One step.** The second term couples the turns of all nodes before a place. But what lies beyond b knows of what lies
//! before it only by the turn x_b and the shift of the place δr_b, five numbers. So the best value of everything beyond is
//! a quadratic in them, found from B to A (the recursion of Riccati):
//!
//! ```text
//! V_b(z) = ½ zᵀ P z + zᵀ (l + L δλ),   z = (x_b, δr_b);     at B, x = 0:  V = -δλ·δr
//! ```
//!
//! Going from b to a, with δr_b = δr_a + h/3 (B_a x_a + 4 B_m x_m + B_b x_b), the element's own bending, diagonals and
//! pushes are added, and x_m, x_b are eliminated from a form in nine variables. Beyond the last place that presses, V knows
//! of δr only -δλ·δr, and there the form has six variables. The signs of the pivots are those of H, and what is left in δλ
//! alone is -½ δλᵀ S δλ with S = A H⁻¹ Aᵀ: the test of stability is as without contact.

#![expect(clippy::doc_markdown, reason = "the symbols of the formulas are not code")]

use crate::Vec3;
use crate::chain::{Chain, Inertia, negative_of_three, solve_three, weights};
use crate::ends::Question;
use crate::form::{Form, LINEAR, MOVED, Row, Sum, add_beyond, add_row, add_square, pivot_out};
use crate::solid::{Near, Solid};

/// No radius of a surface is taken less than this part of the depth: the push that turns with r would outweigh the one that
/// grows with it.
const LEAST_RADIUS: f64 = 0.5;
/// A chain that turns much between nodes is a little longer than told: its places move so much less than their distance
/// along it promises.
const MAY_MOVE: f64 = 0.9;
/// ω: holds the place at which a stretch presses to its middle, where the hose lies flat on a solid and all are as deep.
/// Round solids curve by more than ten times as much.
const PLACED: f64 = 1.0;
/// Newton steps to the deepest place of a stretch at most, and the part of its length below which one is the last.
const SLIDES: usize = 6;
const SLID: f64 = 1e-6;

/// A force held at a place along the hose, to be taken up again; without units.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Held {
    pub(crate) solid: usize,
    /// Part of the length.
    pub(crate) at: f64,
    pub(crate) force: f64,
}

/// A stretch of hose that presses on a solid.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Touch {
    pub(crate) solid: usize,
    /// Which of the M stretches, from 1.
    pub(crate) stretch: usize,
    /// Where it presses, as a part of the length, and the place.
    pub(crate) at: f64,
    pub(crate) place: Vec3,
    /// p, less what its place in the stretch takes off.
    pub(crate) depth: f64,
    /// F, what the solid pushes with.
    pub(crate) force: f64,
    pub(crate) near: Near,
    /// By how much the turns of a, m, b move the place: α h.
    arms: [f64; 3],
    /// Where the place slides along the stretch: how the slope p' changes with the turns of a, m, b and with the place,
    /// and 1/(ω - p'').
    slides: Option<([f64; 3], Vec3, f64)>,
}

/// The stretches, the solids, and the working memory of a step.
#[derive(Default)]
pub(crate) struct Press {
    /// Without units, from mouth A: the solids, and the radius of the hose.
    pub(crate) whole: Vec<Solid>,
    pub(crate) radius: f64,
    /// The part of their thickness that solids and hose have at the moment, and what they are with it.
    pub(crate) grown: f64,
    pub(crate) solids: Vec<Solid>,
    pub(crate) reach: f64,
    /// κ, stiffness per length of the hose.
    pub(crate) firmness: f64,
    /// Each stretch presses where it is deepest, not at its middle.
    pub(crate) sliding: bool,
    /// Stretches per interval of the chain.
    pub(crate) parts: usize,
    /// Forces held, by solid and stretch; and the largest.
    held: Vec<f64>,
    most_held: f64,
    /// Places of the nodes.
    pub(crate) places: Vec<Vec3>,
    /// Stretches that press, from A to B.
    pub(crate) touches: Vec<Touch>,
    /// What they add to the local field of each node, the clamped ones included.
    pub(crate) pushes: Vec<Vec3>,
    /// The pivot rows of each element.
    rows: Vec<[Row; 4]>,
    sum: Sum,
}

impl Press {
    /// Takes the mesh of the chain, with `parts` stretches to an interval, and lets go of all forces.
    pub(crate) fn remesh(&mut self, chain: &Chain, parts: usize) {
        self.parts = parts;
        self.rows.resize(chain.n() / 2, [[0.0; MOVED + 3]; 4]);
        self.let_go(chain);
    }

    /// Lets solids and hose have this part of their thickness.
    pub(crate) fn grow(&mut self, part: f64) {
        self.grown = part;
        self.reach = self.radius * part;
        self.solids.clear();
        self.solids.extend(self.whole.iter().map(|solid| solid.thinned(part)));
    }

    /// Forgets all forces.
    fn let_go(&mut self, chain: &Chain) {
        self.held.clear();
        self.held.resize(self.whole.len() * (self.stretches(chain) + 1), 0.0);
        self.most_held = 0.0;
    }

    /// M.
    pub(crate) fn stretches(&self, chain: &Chain) -> usize {
        chain.n() * self.parts
    }

    /// Takes up forces held before, perhaps by other stretches.
    pub(crate) fn take_up(&mut self, chain: &Chain, held: &[Held]) {
        let count = self.stretches(chain);
        for &Held { solid, at, force } in held {
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 <= at <= 1")]
            let stretch = 1 + (at * count as f64) as usize;
            if solid < self.whole.len() {
                self.held[solid * (count + 1) + stretch] += force;
            }
        }
        self.most_held = self.held.iter().copied().fold(0.0, f64::max);
    }

    /// What each stretch bears becomes the force held there.
    pub(crate) fn hold(&mut self, chain: &Chain) {
        let row = self.stretches(chain) + 1;
        self.held.fill(0.0);
        self.most_held = 0.0;
        for touch in &self.touches {
            self.held[touch.solid * row + touch.stretch] = touch.force;
            self.most_held = self.most_held.max(touch.force);
        }
    }

    /// The forces of the stretches that press, to be taken up later.
    pub(crate) fn told(&self, chain: &Chain) -> Vec<Held> {
        let count = self.stretches(chain) as f64;
        let told = |t: &Touch| Held { solid: t.solid, at: (t.stretch as f64 - 0.5) / count, force: t.force };
        self.touches.iter().map(told).collect()
    }

    /// Place and tangent at a part of the length, for the tangents of the chain.
    pub(crate) fn at(&self, chain: &Chain, part: f64) -> (Vec3, Vec3) {
        let last = chain.n() / 2;
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a part of the length is 0 to 1")]
        let e = ((part * last as f64) as usize).min(last - 1);
        let (a, m, b) = (chain.t[2 * e], chain.t[2 * e + 1], chain.t[2 * e + 2]);
        let u = part * chain.n() as f64 - 2.0 * e as f64;
        let [x, y, z] = arms(u, chain.h());
        let t = a * ((1.0 - u) * (2.0 - u) * 0.5) + m * (u * (2.0 - u)) + b * (u * (u - 1.0) * 0.5);
        (self.places[2 * e] + a * x + m * y + b * z, t)
    }

    /// Finds the places of the nodes.
    fn lay(&mut self, t: &[Vec3], h: f64) {
        self.places.clear();
        self.places.push(Vec3::ZERO);
        let mut at = Vec3::ZERO;
        for e in t.windows(3).step_by(2) {
            let (a, m, b) = (e[0], e[1], e[2]);
            self.places.push(at + (a * 5.0 + m * 8.0 - b) * (h / 12.0));
            at += (a + m * 4.0 + b) * (h / 3.0);
            self.places.push(at);
        }
    }

    /// Finds what presses when the tangents are `t`.
    fn find(&mut self, chain: &Chain, t: &[Vec3]) {
        self.lay(t, chain.h());
        self.touches.clear();
        let count = self.stretches(chain);
        let stiffness = self.firmness / count as f64;
        let slack = self.most_held / stiffness + 0.5 / count as f64;
        for solid in 0..self.solids.len() {
            let mut stretch = 1;
            while stretch <= count {
                let (e, i) = self.element(stretch);
                let u = (i as f64 + 0.5) / self.parts as f64;
                let arms = arms(u, chain.h());
                let place = self.places[2 * e] + t[2 * e] * arms[0] + t[2 * e + 1] * arms[1] + t[2 * e + 2] * arms[2];
                let free = self.solids[solid].distance(place) - self.reach - slack;
                if free < 0.0 {
                    let held = self.held[solid * (count + 1) + stretch];
                    let touch = self.touch(chain, t, solid, stretch);
                    let force = held + stiffness * touch.depth;
                    if force > 0.0 {
                        let behind = self.touches.partition_point(|other| other.at <= touch.at);
                        self.touches.insert(behind, Touch { force, ..touch });
                    }
                }
                // The next stretches are no nearer than what lies between takes off.
                #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "kept within bounds")]
                let skipped = (free * count as f64 * MAY_MOVE).clamp(1.0, count as f64) as usize;
                stretch += skipped;
            }
        }
    }

    /// The element of a stretch, and its number in the element, from 0.
    fn element(&self, stretch: usize) -> (usize, usize) {
        let per_element = 2 * self.parts;
        ((stretch - 1) / per_element, (stretch - 1) % per_element)
    }

    /// Where in a stretch the hose is deepest, and how deep.
    fn touch(&self, chain: &Chain, t: &[Vec3], solid: usize, stretch: usize) -> Touch {
        let (h, (e, i)) = (chain.h(), self.element(stretch));
        let (middle, half) = ((i as f64 + 0.5) / self.parts as f64, 0.5 / self.parts as f64);
        let (a, m, b) = (t[2 * e], t[2 * e + 1], t[2 * e + 2]);
        let place = |u: f64| {
            let [x, y, z] = arms(u, h);
            self.places[2 * e] + a * x + m * y + b * z
        };
        let mut u = middle;
        let mut slides = None;
        for _ in 0..if self.sliding { SLIDES } else { 0 } {
            let near = self.solids[solid].near(place(u));
            let way = [(1.0 - u) * (2.0 - u) * 0.5, u * (2.0 - u), u * (u - 1.0) * 0.5];
            let tangent = a * way[0] + m * way[1] + b * way[2];
            let bend = (a * (u - 1.5) + m * (2.0 - 2.0 * u) + b * (u - 0.5)) * (1.0 / h);
            let curl = near.curls.iter().fold(Vec3::ZERO, |sum, c| sum + *c * (c.dot(tangent) / near.radius));
            // p' and p'' along the hose, with what holds the place to the middle of its stretch.
            let slope = -near.out.dot(tangent) - PLACED * h * (u - middle);
            let falls = near.out.dot(bend) + curl.dot(tangent) + PLACED;
            if falls < 0.5 * PLACED {
                (u, slides) = (middle, None);
                break;
            }
            let next = u + slope / (falls * h);
            slides = Some((way, curl, 1.0 / falls));
            if (next - middle).abs() > half {
                u = middle + half.copysign(next - middle);
                slides = None;
            } else {
                let moved = (next - u).abs();
                u = next;
                if moved < SLID * half {
                    break;
                }
            }
        }
        let place = place(u);
        let off = h * (u - middle);
        Touch {
            solid,
            stretch,
            at: h * (2.0 * e as f64 + u),
            place,
            depth: self.reach - self.solids[solid].distance(place) - 0.5 * PLACED * off * off,
            force: 0.0,
            near: self.solids[solid].near(place),
            arms: arms(u, h),
            slides,
        }
    }

    /// How deep the hose is in a solid at most, or nothing, for the tangents of the chain, felt at four places to a
    /// stretch.
    pub(crate) fn deepest(&mut self, chain: &Chain) -> f64 {
        self.lay(&chain.t, chain.h());
        let count = 4 * self.stretches(chain);
        let mut deepest = 0.0_f64;
        for solid in &self.solids {
            let mut at = 0;
            while at <= count {
                let depth = self.reach - solid.distance(self.at(chain, at as f64 / count as f64).0);
                deepest = deepest.max(depth);
                let free = (deepest - depth) * count as f64 * MAY_MOVE;
                #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "kept within bounds")]
                let skipped = free.clamp(1.0, count as f64) as usize;
                at += skipped;
            }
        }
        deepest
    }

    /// Potential and closing error of the tangents `t`, the solids included.
    pub(crate) fn potential(&mut self, chain: &Chain, t: &[Vec3], q: &Question) -> (f64, Vec3) {
        self.find(chain, t);
        let (potential, error) = chain.potential(t, q);
        let stiffness = self.firmness / self.stretches(chain) as f64;
        let springs: f64 = self.touches.iter().map(|touch| touch.force * touch.force).sum();
        (potential + 0.5 * springs / stiffness, error)
    }

    /// After `potential` of the chain as it is: its local fields with what presses on it.
    pub(crate) fn look(&mut self, chain: &mut Chain, q: &Question) {
        chain.look(q);
        self.push(chain);
        for ((field, along), (push, t)) in chain.field.iter_mut().zip(self.pushes.iter().zip(&chain.t)) {
            *field += *push;
            *along += push.dot(*t);
        }
    }

    /// Finds what the touches add to the local fields.
    fn push(&mut self, chain: &Chain) {
        let third = chain.h() / 3.0;
        self.pushes.clear();
        self.pushes.resize(chain.n() + 1, Vec3::ZERO);
        let (mut beyond, mut touches) = (Vec3::ZERO, self.touches.iter().rev().peekable());
        for e in (0..chain.n() / 2).rev() {
            let mut push = [beyond * third, beyond * (4.0 * third), beyond * third];
            while let Some(touch) = touches.next_if(|touch| touch.stretch > 2 * e * self.parts) {
                let force = touch.near.out * touch.force;
                for (push, arm) in push.iter_mut().zip(touch.arms) {
                    *push += force * arm;
                }
                beyond += force;
            }
            for (sum, push) in self.pushes[2 * e..].iter_mut().zip(push) {
                *sum += push;
            }
        }
    }

    /// After `look`: eliminates all nodes, from B to A, with `shift` times the mass added to the diagonal.
    pub(crate) fn eliminate(&mut self, chain: &Chain, shift: f64) -> Inertia {
        let (w1, w2) = weights(chain.h());
        let third = chain.h() / 3.0;
        let stiffness = self.firmness / self.stretches(chain) as f64;
        let last = chain.n() / 2;
        let (mut negative, mut sum) = (0, Sum::default());
        // V at B.
        let mut beyond = [[0.0; MOVED + 3]; 5];
        for (k, row) in beyond[2..].iter_mut().enumerate() {
            row[LINEAR + 1 + k] = -1.0;
        }
        let (mut ub, mut vb) = (Vec3::ZERO, Vec3::ZERO);
        let mut touches = self.touches.iter().rev().peekable();
        let mut pressed = false;
        for e in (0..last).rev() {
            let m = 2 * e + 1;
            let (um, vm) = chain.t[m].frame();
            let (ua, va) = if e > 0 { chain.t[2 * e].frame() } else { (Vec3::ZERO, Vec3::ZERO) };
            let axes = [um, vm, ub, vb, ua, va];
            // Bending, diagonals and gradient.
            let mut form: Form = [[0.0; MOVED + 3]; MOVED - 1];
            let (field, along) = chain.field[m];
            for (k, axis) in [um, vm].into_iter().enumerate() {
                form[k][k] = along + shift * 4.0 * third;
                form[k][LINEAR] = -field.dot(axis);
                for i in 2..6 {
                    form[k][i] = -w1 * axis.dot(axes[i]);
                }
            }
            let (field, along) = chain.field[m + 1];
            for (k, axis) in [(2, ub), (3, vb)] {
                // A clamped node does not turn.
                form[k][k] = if e + 1 < last { along + shift * 2.0 * third } else { 1.0 };
                form[k][LINEAR] = -field.dot(axis);
                form[k][4] = -w2 * axis.dot(ua);
                form[k][5] = -w2 * axis.dot(va);
            }
            // What lies beyond b, by x_b and by δr_b.
            for (k, row) in beyond[..2].iter().enumerate() {
                for j in 0..2 {
                    form[2 + k][2 + j] += row[4 + j];
                }
                for j in LINEAR..MOVED {
                    form[2 + k][j] += row[j];
                }
            }
            let arms = [4.0 * third, third, third];
            let shifts = [0, 1, 2, 3, 4, 5].map(|k| axes[k] * arms[k / 2]);
            pressed |= touches.peek().is_some_and(|touch| touch.stretch > 2 * e * self.parts);
            if pressed {
                add_beyond(&mut form, &beyond, &shifts);
            } else {
                // Nothing presses beyond a: V goes with δr as -δλ·δr.
                for (row, shift) in form.iter_mut().zip(shifts) {
                    row[LINEAR + 1] -= shift.x;
                    row[LINEAR + 2] -= shift.y;
                    row[LINEAR + 3] -= shift.z;
                }
            }
            // What presses in the element.
            while let Some(touch) = touches.next_if(|touch| touch.stretch > 2 * e * self.parts) {
                let [a, m, b] = touch.arms;
                let arms = [m, b, a];
                let places = [0, 1, 2, 3, 4, 5].map(|k| axes[k] * arms[k / 2]);
                add_square(&mut form, &places, touch.near.out, stiffness);
                if let Some((way, curl, yields)) = touch.slides {
                    let ways = [way[1], way[2], way[0]];
                    let mut seen = [0.0; MOVED + 3];
                    for k in 0..6 {
                        seen[k] = axes[k].dot(touch.near.out) * ways[k / 2] + places[k].dot(curl);
                    }
                    (seen[MOVED], seen[MOVED + 1], seen[MOVED + 2]) = (curl.x, curl.y, curl.z);
                    add_row(&mut form, &seen, touch.force * yields);
                }
                let round = -touch.force / touch.near.radius.max(LEAST_RADIUS * touch.depth);
                for curl in touch.near.curls {
                    if curl != Vec3::ZERO {
                        add_square(&mut form, &places, curl, round);
                    }
                }
            }
            negative += if pressed {
                pivot_out::<{ MOVED - 1 }, { MOVED + 3 }>(&mut form, &mut sum)
            } else {
                pivot_out::<LINEAR, MOVED>(&mut form, &mut sum)
            };
            self.rows[e].copy_from_slice(&form[..4]);
            let rows = if pressed { 5 } else { 2 };
            beyond[..rows].copy_from_slice(&form[4..4 + rows]);
            (ub, vb) = (ua, va);
        }
        let inertia = Inertia { hessian: negative, closing: negative_of_three(&sum.s) };
        self.sum = sum;
        inertia
    }

    /// After `eliminate`: solves for δλ and for the turns (into `chain.turn`). Returns δλ and the largest turn.
    pub(crate) fn step(&self, chain: &mut Chain, error: Vec3) -> (Vec3, f64) {
        let dl = solve_three(&self.sum.s, -(error + self.sum.y));
        let third = chain.h() / 3.0;
        let (mut place, mut turn, mut largest) = (Vec3::ZERO, Vec3::ZERO, 0.0_f64);
        // The turns, what stands for l and L, and the shift of a.
        let mut x = [0.0; MOVED + 3];
        (x[LINEAR], x[LINEAR + 1], x[LINEAR + 2], x[LINEAR + 3]) = (1.0, dl.x, dl.y, dl.z);
        for (e, rows) in self.rows.iter().enumerate().take(chain.n() / 2) {
            (x[MOVED], x[MOVED + 1], x[MOVED + 2]) = (place.x, place.y, place.z);
            for k in (0..4).rev() {
                let row = &rows[k];
                let known: f64 = row[k + 1..].iter().zip(&x[k + 1..]).map(|(a, x)| a * x).sum();
                x[k] = -known / row[k];
            }
            let (um, vm) = chain.t[2 * e + 1].frame();
            let mid = um * x[0] + vm * x[1];
            let end = if 2 * e + 2 < chain.n() {
                let (u, v) = chain.t[2 * e + 2].frame();
                u * x[2] + v * x[3]
            } else {
                Vec3::ZERO
            };
            chain.turn[2 * e + 1] = mid;
            chain.turn[2 * e + 2] = end;
            largest = largest.max(mid.dot(mid)).max(end.dot(end));
            place += (turn + mid * 4.0 + end) * third;
            turn = end;
            (x[4], x[5]) = (x[2], x[3]);
        }
        (dl, largest.sqrt())
    }
}

/// α h at `u` intervals from the end a of an element.
#[inline(always)]
fn arms(u: f64, h: f64) -> [f64; 3] {
    let (square, cube) = (u * u, u * u * u);
    [u - 0.75 * square + cube / 6.0, square - cube / 3.0, cube / 6.0 - 0.25 * square].map(|arm| arm * h)
}
