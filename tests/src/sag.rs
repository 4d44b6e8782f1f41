//! The one lie under weight that a handbook gives: a nearly straight clamped beam.
//!
//! A beam clamped at both ends under a load w per length sags wL⁴/(384 EI) in the middle and its clamps hold wL²/12 each:
//! S. Timoshenko, Strength of Materials, part I, and Roark's Formulas for Stress and Strain, table of beams (both from
//! memory, editions not recorded). The formula knows no axial force, but a rod that cannot stretch has one unless it
//! is just so much longer than the gap as its own sag takes up. Derived: EI y'''' = w with y = y' = 0 at both ends gives, with
//! x in lengths and γ = wL³/EI, the slope y' = (γ/12) x (1-x) (1-2x); the slack is
//! ```text
//! 1/2 ∫ y'² dx = (γ²/288) ∫ [x (1-x) (1-2x)]² dx = (γ²/288)/210 = γ²/60480
//! ```
//! as ∫x²(1-x)² = 1/30 and 4∫x³(1-x)³ = 1/35. With that slack the axial force vanishes and the small-slope answer holds up to
//! the square of the slope, at most (0.0962 γ/12)² = 6.4e-5 γ².

use shape::{Ends, Section, Vec3, rest};

#[test]
fn a_nearly_straight_hose_sags_like_the_clamped_beam_of_the_handbooks() {
    let (length, stiffness) = (400.0, 56_000.0);
    for gamma in [0.5, 1.0, 2.0] {
        let weight = gamma * stiffness / (length * length * length);
        let along = Vec3::new(0.6, 0.8, 0.0);
        let ends = Ends {
            a: Vec3::new(10.0, 20.0, 30.0),
            tangent_a: along,
            b: Vec3::new(10.0, 20.0, 30.0) + along * (length * (1.0 - gamma * gamma / 60_480.0)),
            tangent_b: along,
        };
        let lie = rest(&ends, length, &Section { stiffness, weight: Vec3::new(0.0, 0.0, -weight) }).unwrap();
        // Twice the square of the slope for the formula, and the limit of the referees for ours.
        let allowed = 1.3e-4 * gamma * gamma + 5e-4;
        let check = |what: &str, ours: f64, theirs: f64| {
            assert!((ours / theirs - 1.0).abs() < allowed, "gamma {gamma}, {what}: {ours} against {theirs}");
        };
        let sag = ends.a.z - lie.point_at(length / 2.0).z;
        check("sag", sag, weight * length * length * length * length / (384.0 * stiffness));
        check("clamp moment", lie.moment_at_a().norm(), weight * length * length / 12.0);
        check("clamp curvature", lie.curvature_at(0.0), weight * length * length / (12.0 * stiffness));
        check("clamp force", lie.force_at_b().z, weight * length / 2.0);
    }
}
