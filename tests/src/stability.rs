//! A second opinion on stability: no conjugate point along the hose.
//!
//! An equilibrium is stable if no part of it, from A to some s up to L, can change its inner forces at A without moving
//! its end at s, that is, if the determinant of ∂(place, tangent at s)/∂(moment, force at A) keeps its sign. The linearised
//! rod equations (lengths by L, EI = 1)
//!
//! ```text
//! δr' = δt,   δt' = δm × t + m × δt,   δm' = -δt × n - t × δn,   δn' = 0
//! ```
//!
//! are integrated along the curve for the two moments across the tangent and the three forces.

// Source: T. Bretl and Z. McCarthy, Quasi-static manipulation of a Kirchhoff elastic rod based on a geometric analysis of
// equilibrium configurations, Int. J. Robotics Research 33(1), 2014, 48-68.

use crate::elastica::{arc, inflectional};
use crate::layouts::{Draw, Layout, Symmetry};
use crate::referee::Referee;
use shape::{Lie, Vec3, rest_on_mesh};
use std::f64::consts::TAU;

/// A curve with its inner force and moment, without units, at an even number of equal steps.
struct Rod {
    tangents: Vec<Vec3>,
    forces: Vec<Vec3>,
    moments: Vec<Vec3>,
}

/// What of spigot B and the weight is known, in the caller's units.
struct Loads {
    length: f64,
    stiffness: f64,
    force_at_b: Vec3,
    moment_at_b: Vec3,
    weight: Vec3,
}

impl Rod {
    /// The inner moment follows from what lies beyond each place; its weight's arm is summed by the trapezoid rule.
    fn new(places: &[Vec3], tangents: &[Vec3], loads: &Loads) -> Self {
        let (last, scale) = (places.len() - 1, loads.length / loads.stiffness);
        let step = loads.length / last as f64;
        let (mut forces, mut moments) = (vec![places[0]; last + 1], vec![places[0]; last + 1]);
        let mut sum = Vec3::new(0.0, 0.0, 0.0);
        for i in (0..=last).rev() {
            if i < last {
                sum += (places[i] + places[i + 1]) * (0.5 * step);
            }
            let beyond = step * (last - i) as f64;
            let arm = (places[last] - places[i]).cross(loads.force_at_b);
            let weight = (sum - places[i] * beyond).cross(loads.weight);
            forces[i] = (loads.force_at_b + loads.weight * beyond) * (loads.length * scale);
            moments[i] = (loads.moment_at_b + arm + weight) * scale;
        }
        Self { tangents: tangents.to_vec(), forces, moments }
    }

    /// True if the determinant changes its sign between a tenth of the length and its end.
    fn has_conjugate_point(&self) -> bool {
        let (e1, e2) = across(self.tangents[0]);
        let zero = Vec3::new(0.0, 0.0, 0.0);
        let axes = [Vec3::new(1.0, 0.0, 0.0), Vec3::new(0.0, 1.0, 0.0), Vec3::new(0.0, 0.0, 1.0)];
        let mut columns: Vec<_> = [e1, e2].iter().map(|&m| Change { r: zero, t: zero, m, n: zero }).collect();
        columns.extend(axes.iter().map(|&n| Change { r: zero, t: zero, m: zero, n }));
        let last = self.tangents.len() - 1;
        let h = 2.0 / last as f64;
        let mut sign = None;
        for i in (0..last).step_by(2) {
            for y in &mut columns {
                // Runge and Kutta's fourth order; the odd node is the middle of the step.
                let k1 = self.slope(i, *y);
                let k2 = self.slope(i + 1, y.plus(k1, h / 2.0));
                let k3 = self.slope(i + 1, y.plus(k2, h / 2.0));
                let k4 = self.slope(i + 2, y.plus(k3, h));
                *y = y.plus(k1, h / 6.0).plus(k2, h / 3.0).plus(k3, h / 3.0).plus(k4, h / 6.0);
            }
            part(&mut columns);
            if 10 * i < last {
                continue;
            }
            let (e1, e2) = across(self.tangents[i + 2]);
            let rows = columns.iter().map(|y| [y.r.x, y.r.y, y.r.z, y.t.dot(e1), y.t.dot(e2)]);
            let now = determinant_is_positive(rows.collect());
            if *sign.get_or_insert(now) != now {
                return true;
            }
        }
        false
    }

    fn slope(&self, i: usize, y: Change) -> Change {
        let (t, m, n) = (self.tangents[i], self.moments[i], self.forces[i]);
        let none = Vec3::new(0.0, 0.0, 0.0);
        Change { r: y.t, t: y.m.cross(t) + m.cross(y.t), m: -y.t.cross(n) - t.cross(y.n), n: none }
    }
}

/// A change of place, tangent, moment and force: one solution of the linearised equations.
#[derive(Clone, Copy)]
struct Change {
    r: Vec3,
    t: Vec3,
    m: Vec3,
    n: Vec3,
}

impl Change {
    fn plus(self, slope: Self, step: f64) -> Self {
        let Self { r, t, m, n } = slope;
        Self { r: self.r + r * step, t: self.t + t * step, m: self.m + m * step, n: self.n + n * step }
    }

    fn dot(self, other: Self) -> f64 {
        self.r.dot(other.r) + self.t.dot(other.t) + self.m.dot(other.m) + self.n.dot(other.n)
    }
}

/// Gram and Schmidt: in a taut hose all columns grow towards the same one and their determinant drowns in round-off. Each
/// is freed of those before it and shortened to one, which leaves the sign of the determinant.
fn part(columns: &mut [Change]) {
    for i in 0..columns.len() {
        for j in 0..i {
            let shared = columns[i].dot(columns[j]);
            columns[i] = columns[i].plus(columns[j], -shared);
        }
        let none = columns[i].plus(columns[i], -1.0);
        columns[i] = none.plus(columns[i], 1.0 / columns[i].dot(columns[i]).sqrt());
    }
}

/// Two directions that make a right-handed frame with `t`; turning them about `t` does not change the determinant.
fn across(t: Vec3) -> (Vec3, Vec3) {
    let helper = if t.x.abs() < 0.6 { Vec3::new(1.0, 0.0, 0.0) } else { Vec3::new(0.0, 1.0, 0.0) };
    let e1 = helper.cross(t);
    let e1 = e1 * (1.0 / e1.norm());
    (e1, t.cross(e1))
}

/// Gauss's elimination with row exchange.
fn determinant_is_positive(mut rows: Vec<[f64; 5]>) -> bool {
    let mut positive = true;
    for col in 0..5 {
        let pivot = (col..5).max_by(|&i, &j| rows[i][col].abs().total_cmp(&rows[j][col].abs())).expect("five rows");
        positive ^= pivot != col;
        rows.swap(col, pivot);
        positive ^= rows[col][col] < 0.0;
        for i in col + 1..5 {
            let factor = rows[i][col] / rows[col][col];
            let pivot = rows[col];
            for (entry, above) in rows[i].iter_mut().zip(pivot) {
                *entry -= factor * above;
            }
        }
    }
    positive
}

fn rod_of(referee: &Referee) -> Rod {
    let loads = Loads {
        length: referee.length,
        stiffness: referee.section.stiffness,
        force_at_b: referee.forces[1],
        moment_at_b: referee.moments[1],
        weight: referee.section.weight,
    };
    Rod::new(&referee.line, &referee.tangents, &loads)
}

#[test]
fn the_buckled_column_has_its_conjugate_point_at_the_second_clamp() {
    // A clamped column in its first mode may turn about its chord at no cost: 4K is its conjugate point.
    for modulus in [0.2, 0.4, 0.55] {
        assert!(!rod_of(&inflectional(modulus, 0.0, 3.98)).has_conjugate_point(), "k {modulus}, shorter than a period");
        assert!(rod_of(&inflectional(modulus, 0.0, 4.02)).has_conjugate_point(), "k {modulus}, longer than a period");
    }
}

#[test]
fn the_arc_has_its_conjugate_point_where_it_closes() {
    // A full circle may turn about its common tangent at no cost.
    assert!(!rod_of(&arc(0.99 * TAU)).has_conjugate_point(), "shorter than a circle");
    assert!(rod_of(&arc(1.01 * TAU)).has_conjugate_point(), "longer than a circle");
}

/// True if the lie has a conjugate point. Its mesh must be fine enough to integrate along.
pub(crate) fn has_conjugate_point(lie: &Lie, layout: &Layout) -> bool {
    let loads = Loads {
        length: layout.length,
        stiffness: layout.section.stiffness,
        force_at_b: lie.force_at_b(),
        moment_at_b: lie.moment_at_b(),
        weight: layout.section.weight,
    };
    Rod::new(lie.points(), lie.tangents(), &loads).has_conjugate_point()
}

/// True if the standard answer is stable by the second opinion; `None` without an answer that can be asked.
fn second_opinion(layout: &Layout) -> Option<bool> {
    // Fine enough to integrate along, and the order of the method leaves no doubt about forces.
    let lie = rest_on_mesh(&layout.ends, layout.length, &layout.section, 320).ok()?;
    // A neutral lie has its conjugate point at spigot B: round-off decides on which side.
    (!lie.is_neutral()).then(|| !has_conjugate_point(&lie, layout))
}

fn check(layouts: impl Iterator<Item = Layout>, least: usize) {
    let opinions: Vec<_> = layouts.filter_map(|layout| Some((second_opinion(&layout)?, layout))).collect();
    assert!(opinions.len() >= least, "only {} answers", opinions.len());
    let unstable: Vec<_> = opinions.iter().filter(|opinion| !opinion.0).map(|opinion| opinion.1).collect();
    assert!(unstable.is_empty(), "{} of {} unstable, first {:?}", unstable.len(), opinions.len(), unstable[0]);
}

#[test]
fn random_lies_have_no_conjugate_point() {
    let mut draw = Draw(21);
    check((0..300).map(|i| draw.layout(i % 2 == 1)), 290);
}

#[test]
fn symmetric_lies_have_no_conjugate_point() {
    for symmetry in [Symmetry::Parallel, Symmetry::Planar, Symmetry::U, Symmetry::BackToBack] {
        let mut draw = Draw(22);
        // Back to back without weight is neutral.
        check((0..80).map(|i| symmetry.layout(&mut draw, i % 2 == 1)), 30);
    }
}
