//! The gaps told all along the hose, held against distances to many points of the things, and against the findings.

use crate::cases::{answer, best, changed, example, only, text};
use job::input::FormInput;
use serde_json::json;

/// Distance to the nearest of many points.
fn nearest_of(samples: &[[f64; 3]], p: [f64; 3]) -> f64 {
    samples
        .iter()
        .map(|q| (0..3).map(|i| (p[i] - q[i]) * (p[i] - q[i])).sum::<f64>().sqrt())
        .fold(f64::INFINITY, f64::min)
}

/// Points close together all over a thing, the axis of a rod alone, and the radius about them.
fn samples(form: &FormInput) -> (Vec<[f64; 3]>, f64) {
    match form {
        FormInput::Rod { from_mm, to_mm, diameter_mm } => {
            let at = |x: f64| std::array::from_fn(|i| from_mm[i] + (to_mm[i] - from_mm[i]) * x);
            ((0..=2000).map(|k| at(f64::from(k) / 2000.0)).collect(), diameter_mm / 2.0)
        }
        FormInput::Ball { at_mm, diameter_mm } => (vec![*at_mm], diameter_mm / 2.0),
        // The one of the test: its axle along x. Both faces and the rim between them.
        FormInput::Disc { at_mm, diameter_mm, thick_mm, .. } => {
            let mut all = Vec::new();
            for face in 0..=10 {
                let x = at_mm[0] + (f64::from(face) / 10.0 - 0.5) * thick_mm;
                for turn in 0..720 {
                    let (sin, cos) = libm::sincos(f64::from(turn).to_radians() / 2.0);
                    let rings = if face == 0 || face == 10 { 0..=60 } else { 60..=60 };
                    all.extend(rings.map(|ring| {
                        let out = f64::from(ring) / 120.0 * diameter_mm;
                        [x, at_mm[1] + out * cos, at_mm[2] + out * sin]
                    }));
                }
            }
            (all, 0.0)
        }
        FormInput::Box { from_mm, to_mm } => {
            let grid = |i: usize| {
                let (lo, hi) = (from_mm[i].min(to_mm[i]), from_mm[i].max(to_mm[i]));
                (0..=100).map(move |k| lo + (hi - lo) * f64::from(k) / 100.0)
            };
            let mut all = Vec::new();
            for x in grid(0) {
                for y in grid(1) {
                    all.extend(grid(2).map(|z| [x, y, z]));
                }
            }
            (all, 0.0)
        }
    }
}

#[test]
fn the_gaps_all_along_are_those_of_the_points_told_to_the_things_typed() {
    let text = changed(&example(), |job| {
        let disc = json!({ "at_mm": [-120, -40, -60], "along": [1, 0, 0], "diameter_mm": 180, "thick_mm": 30 });
        let fan = json!({ "name": "fan", "kind": "moving", "on": "engine", "shape": { "disc": disc } });
        job["runs"][0]["neighbours"].as_array_mut().expect("things").push(fan);
    });
    let run = &share::read(&text).expect("a job file").input.runs[0];
    let told = answer(&text);
    let best = only(&told);
    let lie = best.lie.as_ref().expect("it lies");
    assert_eq!(lie.gaps.len(), run.neighbours.len());
    assert!((lie.free_mm - (best.marks.mouth_b_mm - best.marks.mouth_a_mm)).abs() < 0.06, "{}", lie.free_mm);
    // The places run from knife end to knife end: the cut length less both seats lies between the mouths.
    let free = best.marks.mouth_b_mm - best.marks.mouth_a_mm;
    assert!((lie.gap_places_mm[0] + best.marks.mouth_a_mm).abs() < 0.002, "{:?}", lie.gap_places_mm);
    let last = lie.gap_places_mm[lie.gap_places_mm.len() - 1];
    assert!((last - (best.cut_mm - best.marks.mouth_a_mm)).abs() < 0.06, "{last}");
    for (gap_of, thing) in lie.gaps.iter().zip(&run.neighbours) {
        let (samples, radius) = samples(&thing.shape);
        assert_eq!(gap_of.gap_mm.len(), lie.gap_places_mm.len());
        for (at, gap) in lie.gap_places_mm.iter().zip(&gap_of.gap_mm) {
            // The example's spigots point along +y at A and along +x at B; the free part is told point by point.
            let p = if *at < 0.0 {
                [0.0, *at, 0.0]
            } else if *at > free + 0.05 {
                [-280.0 - (at - free), 210.0, 70.0]
            } else {
                let k = (at / free * 40.0).round();
                #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to 40")]
                lie.points_mm[k as usize]
            };
            let simple = nearest_of(&samples, p) - radius - best.hose.outside_mm / 2.0;
            // Samples 1.5 mm apart at most, seen from over 20 mm: 0.03 mm. A tenth is told, and on the seat of B the
            // hose is drawn in by a few hundredths: 16 mm of bore on 15.9.
            assert!((gap - simple).abs() < 0.15, "{}: at {at}: {gap} against {simple}", gap_of.about);
        }
    }
}

#[test]
fn no_place_told_is_nearer_than_the_finding_and_one_is_about_as_near() {
    for case in [example(), text("past_the_hot_pipe")] {
        for run in &answer(&case).runs {
            let best = best(run);
            let lie = best.lie.as_ref().expect("it lies");
            let standoffs = best.findings.iter().filter(|finding| finding.check == "standoff");
            for (gap, finding) in lie.gaps.iter().zip(standoffs) {
                assert_eq!(gap.about, finding.about);
                let least = gap.gap_mm.iter().copied().fold(f64::INFINITY, f64::min);
                let found = finding.actual.expect("a distance");
                // Half a step of some 11 mm can hide no more than 6 mm, and a clamp stands 8 mm out.
                assert!(found - 0.06 <= least && least <= found + 8.1, "{}: {least} {found}", gap.about);
            }
        }
    }
}
