//! Hoses through clips against minimisation by another program, and the mesh on which they are told.

use crate::how_good;
use serde::Deserialize;
use shape::{Ends, Guide, Lie, Section, Solver, Vec3};

/// How far the centre line may be off, mm per 400 mm of hose: the limit of the free lies.
const LINE: f64 = 0.02;
/// Energies of the bending energy, forces of the largest on a clip: the limits of the free lies.
const ENERGY: f64 = 2e-4;
const FORCE: f64 = 1e-3;

#[derive(Deserialize)]
struct Table {
    cases: Vec<Case>,
}

#[derive(Deserialize)]
struct Clip {
    at_mm: [f64; 3],
    direction: Option<[f64; 3]>,
}

#[derive(Deserialize)]
#[expect(non_snake_case, reason = "the names of the table")]
struct Case {
    id: String,
    A_mm: [f64; 3],
    tangent_A: [f64; 3],
    B_mm: [f64; 3],
    tangent_B: [f64; 3],
    EI_Nmm2: f64,
    weight_N_per_mm: [f64; 3],
    length_mm: f64,
    guides: Vec<Clip>,
    guide_s_mm: Vec<f64>,
    guide_force_N: Vec<[f64; 3]>,
    total_energy_Nmm: f64,
    bending_energy_Nmm: f64,
    centreline_mm: Vec<[f64; 3]>,
    spread_mm: f64,
}

fn cases() -> Vec<Case> {
    let table: Table = serde_json::from_str(include_str!("../reference/guided_cases.json")).expect("a sound table");
    assert_eq!(table.cases.len(), 6, "cases of the table");
    table.cases
}

fn lie_of(case: &Case) -> Lie {
    let ends = Ends {
        a: case.A_mm.into(),
        tangent_a: case.tangent_A.into(),
        b: case.B_mm.into(),
        tangent_b: case.tangent_B.into(),
    };
    let guides: Vec<Guide> = case
        .guides
        .iter()
        .map(|clip| Guide { at: clip.at_mm.into(), direction: clip.direction.map(Vec3::from) })
        .collect();
    let section = Section { stiffness: case.EI_Nmm2, weight: case.weight_N_per_mm.into() };
    // The reference is the least energy that a search found; so is the first of ours.
    let lies = Solver::new().lies_guided(&ends, &guides, case.length_mm, &section);
    lies.unwrap_or_else(|why| panic!("{}: {why}", case.id)).swap_remove(0)
}

#[test]
pub(crate) fn hoses_through_clips_lie_as_brute_minimisation_says() {
    for case in cases() {
        let lie = lie_of(&case);
        let allowed = LINE * case.length_mm / 400.0;
        assert!(10.0 * case.spread_mm < allowed, "{}: the reference is worth {} mm only", case.id, case.spread_mm);
        let last = case.centreline_mm.len() - 1;
        let apart = |(k, p): (usize, &[f64; 3])| {
            (lie.point_at(case.length_mm * k as f64 / last as f64) - Vec3::from(*p)).norm()
        };
        let off = case.centreline_mm.iter().enumerate().map(apart).fold(0.0, f64::max);
        assert!(off < allowed, "{}: {off} mm off", case.id);
        let (total, bending) = (lie.total_energy(), lie.bending_energy());
        let miss = [(total, case.total_energy_Nmm), (bending, case.bending_energy_Nmm)];
        for (ours, theirs) in miss {
            assert!((ours - theirs).abs() < ENERGY * case.bending_energy_Nmm, "{}: energy {ours}, {theirs}", case.id);
        }
        let mut worst = (0.0_f64, 0.0_f64);
        let largest = case.guide_force_N.iter().map(|f| Vec3::from(*f).norm()).fold(0.0, f64::max);
        for ((held, s), force) in lie.held().iter().zip(&case.guide_s_mm).zip(&case.guide_force_N) {
            worst.0 = worst.0.max((held.at - s).abs());
            worst.1 = worst.1.max((held.force - Vec3::from(*force)).norm() / largest);
        }
        println!(
            "{}: {off:.1e} mm, clips {:.1e} mm along, force {:.1e}, energy {:.1e}",
            case.id,
            worst.0,
            worst.1,
            (total - case.total_energy_Nmm).abs() / case.bending_energy_Nmm
        );
        how_good::note("centre line, mm per 400 mm", off * 400.0 / case.length_mm, LINE, 1);
        how_good::note("force on a clip", worst.1, FORCE, 1);
        assert!(worst.0 < allowed, "{}: a clip {} mm along the hose", case.id, worst.0);
        assert!(worst.1 < FORCE, "{}: force on a clip {} off", case.id, worst.1);
    }
}

#[test]
fn what_is_told_of_the_whole_is_that_of_its_pieces() {
    for case in cases() {
        let lie = lie_of(&case);
        let n = lie.points().len() - 1;
        assert!([40, 80, 160, 320].contains(&n), "{}: {n} intervals", case.id);
        assert_eq!(lie.tangents().len(), n + 1, "{}: as many tangents", case.id);
        for (i, (p, t)) in lie.points().iter().zip(lie.tangents()).enumerate() {
            let s = case.length_mm * i as f64 / n as f64;
            assert!((lie.point_at(s) - *p).norm() < 1e-9 * case.length_mm, "{}: point {i}", case.id);
            assert!(
                (lie.tangent_at(s) - *t).norm() < 1e-9 && (t.norm() - 1.0).abs() < 1e-12,
                "{}: tangent {i}",
                case.id
            );
        }
        let peak = lie.peak();
        let searched = lie.peak_between(0.0, case.length_mm);
        assert!((searched.curvature / peak.curvature - 1.0).abs() < 2e-3, "{}: {searched:?}, {peak:?}", case.id);
        assert!((lie.curvature_at(peak.at) / peak.curvature - 1.0).abs() < 1e-9, "{}: at its place", case.id);
        // The curve is what its tangents add up to.
        let (fine, mut at) = (4000, lie.points()[0]);
        let h = case.length_mm / f64::from(fine);
        for k in 0..fine {
            at += lie.tangent_at(h * (f64::from(k) + 0.5)) * h;
        }
        assert!((at - Vec3::from(case.B_mm)).norm() < 1e-4 * case.length_mm, "{}: {at:?}", case.id);
        for (held, clip) in lie.held().iter().zip(&case.guides) {
            assert!((lie.point_at(held.at) - Vec3::from(clip.at_mm)).norm() < 1e-9, "{}: through the clip", case.id);
        }
    }
}
