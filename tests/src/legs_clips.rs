//! Clips along a path: near enough by brute force, none too many, and a no where it cannot be.

use shape::{Bend, Clips, Leg, NoClips, Path, Section, Solver, Vec3, Way};
use std::f64::consts::{FRAC_PI_2, PI};

const HOSE: Section = Section { stiffness: 57_843.0, weight: Vec3::new(0.0, 0.0, -4.865e-3) };

fn bent(straights: &[f64], bends: &[(f64, Way, f64)]) -> Path {
    let bend = |k: usize| bends.get(k).map(|&(angle, way, inside)| Bend { angle, way, inside });
    let legs: Vec<Leg> = straights.iter().enumerate().map(|(k, s)| Leg { straight: *s, bend: bend(k) }).collect();
    Path::from_legs(Vec3::ZERO, Vec3::new(1.0, 0.0, 0.0), &legs, 24.0).unwrap()
}

fn paths() -> Vec<Path> {
    let y = Way::Towards(Vec3::new(0.0, 1.0, 0.0));
    vec![
        bent(&[60.0, 60.0], &[(FRAC_PI_2, y, 60.0)]),
        bent(&[60.0, 120.0, 60.0], &[(FRAC_PI_2, y, 50.0), (FRAC_PI_2, Way::Twist(PI), 50.0)]),
        bent(&[80.0, 100.0, 80.0], &[(FRAC_PI_2, y, 60.0), (FRAC_PI_2, Way::Twist(FRAC_PI_2), 60.0)]),
        bent(
            &[50.0, 150.0, 100.0, 50.0],
            &[(0.8, y, 60.0), (1.2, Way::Twist(2.0), 50.0), (0.9, Way::Twist(-1.0), 60.0)],
        ),
    ]
}

/// The largest distance of the hose from the path, both cut into thousands of points.
fn off(path: &Path, clips: &Clips) -> f64 {
    let places = path.places(4000);
    (0..=1000)
        .map(|k| clips.lie.point_at(clips.lie.length() * f64::from(k) / 1000.0))
        .map(|p| places.iter().map(|q| (p - *q).norm()).fold(f64::INFINITY, f64::min))
        .fold(0.0, f64::max)
}

#[test]
fn with_the_clips_told_the_hose_stays_near_and_with_one_fewer_it_does_not() {
    let mut solver = Solver::new();
    for (k, path) in paths().iter().enumerate() {
        let length = path.length();
        let mut before = usize::MAX;
        for within in [4.0, 8.0, 16.0, 60.0] {
            let clips = solver.clips_for(path, None, length, &HOSE, within);
            let clips = clips.unwrap_or_else(|why| panic!("path {k}, within {within}: {why:?}"));
            println!("path {k}, within {within}: {} clips, {:.2} mm off", clips.guides.len(), clips.off);
            let found = off(path, &clips);
            assert!(
                (found - clips.off).abs() < 0.1 && found <= within + 0.1,
                "path {k}: {found} mm, {} told",
                clips.off
            );
            for (guide, s) in clips.guides.iter().zip(&clips.along) {
                assert!((path.at(*s).0 - guide.at).norm() < 1e-9, "path {k}: a clip off the path");
            }
            assert!(clips.guides.len() <= before, "path {k}: more clips for a wider tolerance");
            before = clips.guides.len();
            // Any one away: outside, or no lie at all.
            let ((a, tangent_a), (b, tangent_b)) = (path.start(), path.end());
            let ends = shape::Ends { a, tangent_a, b, tangent_b };
            for gone in 0..clips.guides.len() {
                let mut guides = clips.guides.clone();
                guides.remove(gone);
                let Ok(lie) = solver.rest_guided(&ends, &guides, length, &HOSE) else { continue };
                let fewer = Clips { lie, guides, along: Vec::new(), off: 0.0 };
                assert!(off(path, &fewer) > within - 0.1, "path {k}: clip {gone} is not needed within {within}");
            }
        }
    }
}

#[test]
fn what_cannot_be_held_near_says_so() {
    let mut solver = Solver::new();
    let path = &paths()[1];
    // A hose a third longer than its path cannot lie within 3 mm of it.
    match solver.clips_for(path, None, 1.33 * path.length(), &HOSE, 3.0) {
        Err(NoClips::NotNear(nearest)) => assert!(nearest.off > 3.0, "{} mm off", nearest.off),
        other => panic!("{other:?}"),
    }
    // One shorter than the straight way cannot lie at all.
    match solver.clips_for(path, None, 0.5 * path.length(), &HOSE, 3.0) {
        Err(NoClips::NoLie(why)) => assert_eq!(why, shape::NoShape::TooShort, "the reason"),
        other => panic!("{other:?}"),
    }
}
