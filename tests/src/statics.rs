//! Statics of whole hoses: whatever the solver does inside, the forces it tells must balance and the rod must obey its laws.

use crate::layouts::{Draw, Layout};
use shape::{Lie, Vec3, rest};

/// Errors are measured against the largest term of each balance. The study's mesh rule (turn per node below 0.3) promises
/// curvature within 1.4e-3 at worst; a moment is a curvature times EI.
const ALLOWED: f64 = 2e-3;

/// Panels of Simpson's rule for the centre of gravity: far finer than the solver's mesh.
const PANELS: usize = 400;

/// Layouts and their lies, half of them heavy.
fn told() -> Vec<(Layout, Lie)> {
    let mut draw = Draw(11);
    let layouts = (0..600).map(move |i| draw.layout(i % 2 == 1));
    let told = layouts.filter_map(|layout| Some((layout, rest(&layout.ends, layout.length, &layout.section).ok()?)));
    let told: Vec<_> = told.collect();
    assert!(told.len() > 580, "only {} lies", told.len());
    told
}

/// ∫ r ds over the part of the hose from `from` to its end, by Simpson's rule.
fn first_moment(lie: &Lie, from: f64, to: f64) -> Vec3 {
    let step = (to - from) / PANELS as f64;
    let mut sum = Vec3::new(0.0, 0.0, 0.0);
    for i in 0..=PANELS {
        let factor = if i == 0 || i == PANELS {
            1.0
        } else if i % 2 == 1 {
            4.0
        } else {
            2.0
        };
        sum += lie.point_at(from + step * i as f64) * factor;
    }
    sum * (step / 3.0)
}

/// The moment which the part beyond `s` exerts on the part before it, from what is beyond: spigot B and the weight.
fn moment_beyond(layout: &Layout, lie: &Lie, s: f64) -> Vec3 {
    let here = lie.point_at(s);
    let beyond = layout.length - s;
    let arm_of_weight = first_moment(lie, s, layout.length) - here * beyond;
    lie.moment_at_b() + (layout.ends.b - here).cross(lie.force_at_b()) + arm_of_weight.cross(layout.section.weight)
}

#[test]
fn forces_on_the_whole_hose_cancel() {
    for (layout, lie) in told() {
        let weight = layout.section.weight * layout.length;
        let left = (lie.force_at_a() + lie.force_at_b() + weight).norm();
        let scale = lie.force_at_a().norm().max(lie.force_at_b().norm()).max(weight.norm());
        assert!(left <= 1e-9 * scale, "{left} N of {scale} N left over: {layout:?}");
    }
}

#[test]
fn moments_about_spigot_a_cancel_with_the_weight_in_the_centre_of_gravity() {
    let mut worst = 0.0_f64;
    for (layout, lie) in told() {
        let Layout { ends, length, section } = layout;
        let gravity_centre = first_moment(&lie, 0.0, length) * (1.0 / length);
        let terms = [
            lie.moment_at_a(),
            lie.moment_at_b(),
            (ends.b - ends.a).cross(lie.force_at_b()),
            (gravity_centre - ends.a).cross(section.weight * length),
        ];
        let left = terms.iter().fold(Vec3::new(0.0, 0.0, 0.0), |sum, &term| sum + term).norm();
        let scale = terms.iter().map(|term| term.norm()).fold(0.0, f64::max);
        worst = worst.max(left / scale);
        assert!(left <= ALLOWED * scale, "{left} N mm of {scale} N mm left over: {layout:?}");
    }
    println!("worst balance of moments: {worst:.1e}");
}

#[test]
fn curvature_along_the_hose_is_the_moment_of_what_lies_beyond() {
    let mut worst = 0.0_f64;
    for (layout, lie) in told() {
        let peak = lie.peak().curvature;
        for i in 0..=12 {
            let s = layout.length * f64::from(i) / 12.0;
            let by_statics = moment_beyond(&layout, &lie, s).norm() / layout.section.stiffness;
            let miss = (by_statics - lie.curvature_at(s)).abs() / peak;
            worst = worst.max(miss);
            assert!(miss <= ALLOWED, "at {s}: {by_statics} by statics, {} told: {layout:?}", lie.curvature_at(s));
        }
    }
    println!("worst curvature against statics: {worst:.1e}");
}

#[test]
fn spigots_do_not_twist_the_hose() {
    for (layout, lie) in told() {
        let ends = [(lie.moment_at_a(), layout.ends.tangent_a), (lie.moment_at_b(), layout.ends.tangent_b)];
        let scale = layout.section.stiffness * lie.peak().curvature;
        for (moment, tangent) in ends {
            let twist = moment.dot(tangent).abs();
            assert!(twist <= 1e-9 * scale, "{twist} N mm about the tangent: {layout:?}");
        }
    }
}

/// EI κ²/2 + n·t + w·r is the same all along the hose, n being the force in it: its derivative is m·(n × t) + n·(m × t) = 0
/// and -w·t + w·t = 0. It is the energy of the pendulum to which Kirchhoff likened the rod.
#[test]
fn the_pendulums_energy_is_kept_along_the_hose() {
    let mut worst = 0.0_f64;
    for (layout, lie) in told() {
        let Layout { length, section, .. } = layout;
        let last = lie.points().len() - 1;
        let terms = |i: usize| {
            let s = length * i as f64 / last as f64;
            let force = lie.force_at_b() + section.weight * (length - s);
            let kappa = lie.curvature_at(s);
            let bend = 0.5 * section.stiffness * kappa * kappa;
            [bend, force.dot(lie.tangents()[i]), section.weight.dot(lie.points()[i] - layout.ends.a)]
        };
        let at_a = terms(0).iter().sum::<f64>();
        let scale = (0..=last).flat_map(terms).fold(0.0_f64, |scale, term| scale.max(term.abs()));
        for i in (0..=last).step_by(2) {
            let miss = (terms(i).iter().sum::<f64>() - at_a).abs() / scale;
            worst = worst.max(miss);
            assert!(miss <= 2.0 * ALLOWED, "{miss:.1e} at node {i}: {layout:?}");
        }
    }
    println!("worst change of the pendulum's energy: {worst:.1e}");
}
