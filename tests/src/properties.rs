//! What must hold for every lie whatever its shape: random but repeatable layouts, a smaller one shown when a claim fails.

use crate::layouts::{Layout, hose, on_sphere};
use proptest::prelude::*;
use proptest::test_runner::{RngAlgorithm, TestRng, TestRunner};
use shape::{Ends, Lie, Section, Vec3, lies, rest};
use std::f64::consts::PI;

/// Two lies are the same curve within this part of their length. The claims below hold for the discrete equations too, so
/// only the accuracy of the iteration (1e-9) counts, magnified by soft directions of the lie.
const SAME: f64 = 1e-5;

/// Runs `claim` on 200 layouts, the same ones every time.
fn for_layouts(slack: std::ops::Range<f64>, claim: impl Fn(&Layout) -> Result<(), TestCaseError>) {
    let config = ProptestConfig { cases: 200, failure_persistence: None, ..ProptestConfig::default() };
    let mut runner = TestRunner::new_with_rng(config, TestRng::deterministic_rng(RngAlgorithm::ChaCha));
    let direction = || (-1.0..1.0, -PI..PI).prop_map(|(height, longitude)| on_sphere(height, longitude));
    let ends = (direction(), direction(), direction(), 50.0..800.0);
    let layout = (ends, slack, 10.0..50.0, any::<bool>()).prop_map(|(ends, slack, bore, heavy)| {
        let (tangent_a, tangent_b, chord, distance) = ends;
        let a = Vec3::new(35.0, -120.0, 240.0);
        let ends = Ends { a, tangent_a, b: a + chord * distance, tangent_b };
        Layout { ends, length: slack * distance, section: hose(bore, heavy) }
    });
    if let Err(why) = runner.run(&layout, |layout| claim(&layout)) {
        panic!("{why}");
    }
}

fn lowest(layout: &Layout) -> Result<Lie, TestCaseError> {
    Ok(all(layout)?.swap_remove(0))
}

fn all(layout: &Layout) -> Result<Vec<Lie>, TestCaseError> {
    lies(&layout.ends, layout.length, &layout.section).map_err(|why| TestCaseError::fail(why.to_string()))
}

/// A change of the layout that maps every place, and turns every direction.
struct Map<P, D> {
    place: P,
    turn: D,
}

impl<P: Fn(Vec3) -> Vec3, D: Fn(Vec3) -> Vec3> Map<P, D> {
    fn layout(&self, layout: &Layout) -> Layout {
        let Ends { a, tangent_a, b, tangent_b } = layout.ends;
        let ends = Ends {
            a: (self.place)(a),
            tangent_a: (self.turn)(tangent_a),
            b: (self.place)(b),
            tangent_b: (self.turn)(tangent_b),
        };
        let section = Section { weight: (self.turn)(layout.section.weight), ..layout.section };
        Layout { ends, section, ..*layout }
    }

    /// The lowest lie, mapped, is one of the lies of the mapped layout and has the energy of the lowest of them.
    fn holds_for(&self, layout: &Layout) -> Result<(), TestCaseError> {
        let (before, after) = (lowest(layout)?, all(&self.layout(layout))?);
        let length = layout.length;
        let apart = after.iter().map(|lie| distance(lie, |s| (self.place)(before.point_at(s)), length));
        let nearest = apart.fold(f64::INFINITY, f64::min);
        prop_assert!(nearest < SAME * length, "nearest lie is {} mm away", nearest);
        let (ours, theirs) = (before.bending_energy(), after[0].bending_energy());
        prop_assert!((ours / theirs - 1.0).abs() < 1e-6, "energy {} against {}", ours, theirs);
        Ok(())
    }
}

/// The largest distance between a lie and the curve `other` at equal arc length.
fn distance(lie: &Lie, other: impl Fn(f64) -> Vec3, length: f64) -> f64 {
    (0..=40).map(|i| length * f64::from(i) / 40.0).map(|s| (lie.point_at(s) - other(s)).norm()).fold(0.0, f64::max)
}

#[test]
fn the_curve_is_as_long_as_the_hose_and_meets_both_ends() {
    for_layouts(1.1..3.0, |layout| {
        let lie =
            rest(&layout.ends, layout.length, &layout.section).map_err(|why| TestCaseError::fail(why.to_string()))?;
        let pieces = |n: i32| {
            let at = |i: i32| lie.point_at(layout.length * f64::from(i) / f64::from(n));
            (0..n).map(|i| (at(i + 1) - at(i)).norm()).sum::<f64>()
        };
        // Chords fall short by the square of their length: Richardson's extrapolation takes that term out.
        let measured = (4.0 * pieces(2_000) - pieces(1_000)) / 3.0;
        prop_assert!((measured / layout.length - 1.0).abs() < 1e-4, "{} mm of {} mm", measured, layout.length);
        let [at_a, at_b] =
            [(0.0, layout.ends.a), (layout.length, layout.ends.b)].map(|(s, end)| (lie.point_at(s) - end).norm());
        prop_assert!(at_a.max(at_b) < 1e-6, "open by {} mm at A and {} mm at B", at_a, at_b);
        Ok(())
    });
}

#[test]
fn mirrored_ends_give_the_mirrored_lie() {
    let mirror = |v: Vec3| Vec3::new(v.x, -v.y, v.z);
    let map = Map { place: mirror, turn: mirror };
    for_layouts(1.1..1.8, |layout| map.holds_for(layout));
}

#[test]
fn turning_everything_turns_the_lie() {
    // Any rotation will do; this one has no axis in common with the layout's.
    let turn = |v: Vec3| {
        let [x, y, z] = [[6.0, -2.0, -3.0], [3.0, 6.0, 2.0], [2.0, -3.0, 6.0]].map(|row| Vec3::from(row) * (1.0 / 7.0));
        Vec3::new(x.dot(v), y.dot(v), z.dot(v))
    };
    let map = Map { place: |v| turn(v) + Vec3::new(-80.0, 15.0, 400.0), turn };
    for_layouts(1.1..1.8, |layout| map.holds_for(layout));
}

#[test]
fn scaling_all_lengths_scales_the_lie() {
    for_layouts(1.1..1.8, |layout| {
        let factor = 2.7;
        let Ends { a, b, .. } = layout.ends;
        let ends = Ends { a: a * factor, b: b * factor, ..layout.ends };
        // The same w L³/EI: weight falls with the cube of the length when stiffness stays.
        let section = Section { weight: layout.section.weight * (1.0 / (factor * factor * factor)), ..layout.section };
        let large = all(&Layout { ends, length: layout.length * factor, section })?;
        let small = lowest(layout)?;
        let apart = distance(&large[0], |s| small.point_at(s / factor) * factor, layout.length * factor);
        prop_assert!(apart < SAME * layout.length * factor, "{} mm apart", apart);
        let radius = small.peak().curvature / (large[0].peak().curvature * factor);
        prop_assert!((radius - 1.0).abs() < 1e-4, "peak curvature is off by {}", radius);
        Ok(())
    });
}

#[test]
fn without_weight_the_stiffness_does_not_matter() {
    for_layouts(1.1..1.8, |layout| {
        let with = |stiffness: f64| Section { stiffness, weight: Vec3::new(0.0, 0.0, 0.0) };
        let [soft, hard] = [1e3, 1e7].map(|stiffness| Layout { section: with(stiffness), ..*layout });
        let (soft, hard) = (lowest(&soft)?, lowest(&hard)?);
        let apart = distance(&soft, |s| hard.point_at(s), layout.length);
        prop_assert!(apart < SAME * layout.length, "{} mm apart", apart);
        prop_assert!((hard.bending_energy() / soft.bending_energy() / 1e4 - 1.0).abs() < 1e-6, "energy goes with EI");
        Ok(())
    });
}

#[test]
fn swapping_the_ends_gives_the_same_curve_from_its_other_end() {
    for_layouts(1.1..1.8, |layout| {
        let Ends { a, tangent_a, b, tangent_b } = layout.ends;
        let ends = Ends { a: b, tangent_a: -tangent_b, b: a, tangent_b: -tangent_a };
        let (there, back) = (lowest(layout)?, all(&Layout { ends, ..*layout })?);
        let nearest = back
            .iter()
            .map(|lie| (lie, distance(lie, |s| there.point_at(layout.length - s), layout.length)))
            .min_by(|p, q| p.1.total_cmp(&q.1));
        let (lie, apart) = nearest.expect("at least one lie");
        prop_assert!(apart < SAME * layout.length, "{} mm apart", apart);
        prop_assert!((lie.bending_energy() / there.bending_energy() - 1.0).abs() < 1e-6, "another energy");
        let scale = there.force_at_a().norm().max(there.force_at_b().norm());
        prop_assert!((lie.force_at_a() - there.force_at_b()).norm() < 1e-4 * scale, "another force at the same spigot");
        Ok(())
    });
}
