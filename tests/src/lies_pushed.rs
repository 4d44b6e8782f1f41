//! A lie under a push at mid-length, and whether it stays: the clamped beam, an arch by Castigliano, shooting, and lies that
//! are known to be near their end.

use crate::layouts::{Draw, hose};
use crate::referee::{Referee, Tally};
use serde::Deserialize;
use shape::{Ends, Lie, Section, Solver, Vec3, lies, rest};
use std::f64::consts::{FRAC_PI_2, PI};

const X: Vec3 = Vec3::new(1.0, 0.0, 0.0);

fn light(stiffness: f64) -> Section {
    Section { stiffness, weight: Vec3::ZERO }
}

/// A beam clamped at both ends, pushed in the middle, with an axial force. With x = kL/4, k² = force/EI, it gives way by
/// ```text
/// δ = P L³/(192 EI) · 3 (tan x - x)/x³   pressed,    δ = P L³/(192 EI) · 3 (x - tanh x)/x³   pulled
/// ```
/// (half of it is two cantilevers of L/4 end to end; S. Timoshenko and J. Gere, Theory of Elastic Stability, beam-columns,
/// from memory). A rod that cannot stretch has no axial force just where its slack is what the beam takes up,
/// 1/2 ∫ y'² = 2.4 δ²/L with y' = (P/8EI)(Lx - 2x²) to the middle; with other slacks the force is what spigot B tells.
#[test]
fn a_nearly_straight_hose_gives_way_like_the_clamped_beam_of_the_handbooks() {
    let (length, stiffness) = (400.0, 56_000.0);
    let mut sides = (0, 0);
    for part in [0.01, 0.02, 0.03] {
        let given = part * length;
        let force = 192.0 * stiffness * given / (length * length * length);
        for more in [1.0, 0.7, 0.9, 1.05, 1.1] {
            let chord = length * (1.0 - 2.4 * part * part * more);
            let along = Vec3::new(0.6, 0.8, 0.0);
            let ends = Ends { a: Vec3::ZERO, tangent_a: along, b: along * chord, tangent_b: along };
            let push = Vec3::new(0.0, 0.0, -force);
            let mut solver = Solver::new();
            let lie = rest(&ends, length, &light(stiffness)).unwrap();
            let pushed = solver.pushed(&lie, &ends, length, &light(stiffness), push).unwrap();
            let axial = pushed.force_at_b().dot(along);
            let x = (axial.abs() / stiffness).sqrt() * length / 4.0;
            let factor = match x {
                x if x < 1e-2 => 1.0,
                x if axial < 0.0 => 3.0 * (libm::tan(x) - x) / (x * x * x),
                x => 3.0 * (x - libm::tanh(x)) / (x * x * x),
            };
            sides = (sides.0 + u32::from(axial < -0.1), sides.1 + u32::from(axial > 0.1));
            let ours = -pushed.point_at(length / 2.0).z;
            let theirs = force * length * length * length / (192.0 * stiffness) * factor;
            // The slope is at most 3 δ/L in the beam; its square is what small slopes neglect.
            let allowed = 9.0 * part * part + 1e-3;
            assert!((ours / theirs - 1.0).abs() < allowed, "δ/L {part}, slack {more}: {ours} against {theirs} mm");
            if (more - 1.0).abs() < 1e-9 {
                assert!((ours / given - 1.0).abs() < allowed, "{ours} against PL³/192EI, {given} mm");
                let shear = pushed.force_at_b().z;
                assert!((shear / (force / 2.0) - 1.0).abs() < 1e-3, "each spigot holds half: {shear} of {force}");
                let moment = pushed.moment_at_a().norm();
                assert!((moment / (force * length / 8.0) - 1.0).abs() < allowed, "clamp moment {moment} against PL/8");
            }
        }
    }
    assert!(sides.0 >= 3 && sides.1 >= 3, "pressed and pulled: {sides:?}");
}

/// A circular arch holds a constant moment and no force, so a slight push adds what it would to a bar that is curved
/// unloaded (m' = -t × n is linear while n is slight). By Castigliano, half the arch with angle φ from the crown, H and M
/// there, M(φ) = M + H R (1 - cos φ) - P/2 R sin φ; neither end nor crown turns or parts, so ∫ M(φ) and ∫ M(φ) cos φ
/// vanish, and the crown gives way by δ = -(R²/EI) ∫ M(φ) sin φ.
#[test]
fn a_circular_arch_gives_way_as_castigliano_says() {
    let (radius, stiffness) = (150.0, 56_000.0);
    for half in [FRAC_PI_2 / 2.0, FRAC_PI_2 / 1.5, FRAC_PI_2] {
        let (sin, cos) = libm::sincos(half);
        let (length, chord) = (2.0 * half * radius, 2.0 * radius * sin);
        let ends = Ends {
            a: Vec3::ZERO,
            tangent_a: Vec3::new(cos, 0.0, sin),
            b: X * chord,
            tangent_b: Vec3::new(cos, 0.0, -sin),
        };
        // Integrals over 0 to `half` of products of 1, cos φ and sin φ.
        let (one, c, s) = (half, sin, 1.0 - cos);
        let (cc, ss, sc) = (0.5 * (half + sin * cos), 0.5 * (half - sin * cos), 0.5 * sin * sin);
        // With P = 1, R = 1: (M + H) ∫1 - H ∫c = ∫s/2 and (M + H) ∫c - H ∫cc = ∫sc/2.
        let det = c * c - one * cc;
        let (sum, h) = ((0.5 * s * -cc + c * 0.5 * sc) / det, (one * 0.5 * sc - c * 0.5 * s) / det);
        let softness = -(sum * s - h * sc - 0.5 * ss) * radius * radius * radius / stiffness;
        let lie = rest(&ends, length, &light(stiffness)).unwrap();
        let crown = |push: f64| {
            let push = Vec3::new(0.0, 0.0, -push);
            Solver::new().pushed(&lie, &ends, length, &light(stiffness), push).unwrap().point_at(length / 2.0).z
        };
        // Differences about rest leave the square of the push; what is left falls with the push's square.
        let push = 1e-3 * stiffness / (radius * radius);
        let ours = (crown(-push) - crown(push)) / (2.0 * push);
        assert!((ours / softness - 1.0).abs() < 1e-4, "half angle {half}: {ours} against {softness} mm/N");
    }
}

#[derive(Deserialize)]
struct File {
    cases: Vec<Case>,
}

#[derive(Deserialize)]
#[expect(non_snake_case, reason = "the names of the file")]
struct Case {
    id: String,
    push_N: [f64; 3],
    centreline_mm: Vec<[f64; 3]>,
    tangents: Vec<[f64; 3]>,
    peak_curvature_per_mm: f64,
    mid_curvature_per_mm: f64,
    bending_energy_Nmm: f64,
    force_on_hose_at_A_N: [f64; 3],
    force_on_hose_at_B_N: [f64; 3],
    moment_on_hose_at_A_Nmm: [f64; 3],
    moment_on_hose_at_B_Nmm: [f64; 3],
}

#[test]
pub(crate) fn pushed_lies_are_those_of_the_shooting_solver() {
    let file: File = serde_json::from_str(include_str!("../reference/pushed_cases.json")).expect("the file reads");
    let singles = crate::lie_cases::single_referees();
    let mut tally = Tally::default();
    let count = file.cases.len();
    for case in file.cases {
        let alone = singles.iter().find(|single| single.name == case.id).expect("a case of lie_cases.json");
        let name = format!("{} pushed by {:?} N", case.id, case.push_N);
        let referee = Referee {
            name: name.clone(),
            ends: alone.ends,
            length: alone.length,
            section: alone.section,
            line: case.centreline_mm.iter().map(|&place| place.into()).collect(),
            tangents: case.tangents.iter().map(|&tangent| tangent.into()).collect(),
            peak: case.peak_curvature_per_mm,
            energy: case.bending_energy_Nmm,
            forces: [case.force_on_hose_at_A_N.into(), case.force_on_hose_at_B_N.into()],
            moments: [case.moment_on_hose_at_A_Nmm.into(), case.moment_on_hose_at_B_Nmm.into()],
            neutral: false,
        };
        let Referee { ends, length, section, .. } = &referee;
        let lie = rest(ends, *length, section).unwrap();
        let pushed = Solver::new().pushed(&lie, ends, *length, section, case.push_N.into());
        if let Ok(pushed) = &pushed {
            let off = pushed.curvature_at(length / 2.0) / case.mid_curvature_per_mm - 1.0;
            assert!(off.abs() < 5e-4, "{name}: curvature at mid-length off by {off}");
        }
        tally.take(&name, pushed.map(|lie| referee.misses(&lie)).map_err(|why| why.to_string()));
    }
    tally.close(count);
}

/// How far the lie moves at most.
fn moved(before: &Lie, after: &Lie) -> f64 {
    (0..=40)
        .map(|i| before.length() * f64::from(i) / 40.0)
        .map(|s| (before.point_at(s) - after.point_at(s)).norm())
        .fold(0.0, f64::max)
}

/// A higher lie, shortened or lengthened in small steps until it snaps: its last length, and the lie there.
fn end_of(solver: &mut Solver, lie: &Lie, ends: &Ends, section: &Section, step: f64) -> Option<(f64, Lie)> {
    let (mut at, mut step) = ((lie.length(), lie.clone()), step);
    while step.abs() > 1e-3 {
        let length = at.0 + step;
        if length > 2.0 * lie.length() {
            return None;
        }
        match solver.rest_near(&at.1, ends, length, section) {
            Ok(next) if moved(&at.1, &next) < 0.03 * length => at = (length, next),
            _ => step *= 0.5,
        }
    }
    Some(at)
}

#[test]
fn a_lie_at_its_end_leaves_when_leant_on_and_the_lowest_of_a_short_hose_stays() {
    let mut draw = Draw(81);
    let mut solver = Solver::new();
    let (mut followed, mut stayed, mut held, mut firm) = (0, 0, 0, 0);
    while followed < 25 {
        // Engine-bay sizes: 100 to 400 mm apart, one and a half to three times as long.
        let (chord, along) = (draw.between(100.0, 400.0), draw.direction());
        let ends = Ends { a: Vec3::ZERO, tangent_a: draw.direction(), b: along * chord, tangent_b: draw.direction() };
        let (length, section) = (draw.between(1.5, 3.0) * chord, hose(16.0, true));
        let Ok(all) = lies(&ends, length, &section) else { continue };
        let [_, second, ..] = &all[..] else { continue };
        let Some((last, near)) = end_of(&mut solver, second, &ends, &section, -0.01 * length) else { continue };
        if last < 1.02 * chord {
            continue;
        }
        followed += 1;
        stayed += u32::from(!solver.leaves_when_pushed(&near, &ends, last, &section, 5.0));
        firm += u32::from(!solver.leaves_when_pushed(&all[0], &ends, length, &section, 5.0));
        // A thousandth of the push that its stiffness can hold: EI/L² is some 0.1 to 6 N here.
        let little = 1e-3 * section.stiffness / (length * length);
        held += u32::from(!solver.leaves_when_pushed(&all[0], &ends, length, &section, little));
    }
    println!(
        "of {followed} lies at their end {stayed} stay at 5 N; of as many lowest {firm} do, and {held} at a touch"
    );
    assert_eq!((stayed, held), (0, followed), "at their end: stay; lowest, hardly touched: stay");
}

#[test]
fn the_only_lie_stays_whatever_the_push() {
    // Where there is but one lie there is none to leave for.
    let mut draw = Draw(82);
    let mut solver = Solver::new();
    let mut asked = 0;
    while asked < 60 {
        let (chord, along) = (draw.between(100.0, 400.0), draw.direction());
        let ends = Ends { a: Vec3::ZERO, tangent_a: draw.direction(), b: along * chord, tangent_b: draw.direction() };
        let (length, section) = (draw.between(1.1, 1.6) * chord, hose(16.0, true));
        let Ok(all) = lies(&ends, length, &section) else { continue };
        if let [only] = &all[..] {
            asked += 1;
            let leaves = solver.leaves_when_pushed(only, &ends, length, &section, 5.0);
            assert!(!leaves, "{ends:?}, {length} mm");
        }
    }
}

#[test]
fn what_turns_freely_about_its_line_has_not_left() {
    let ends = Ends { a: Vec3::ZERO, tangent_a: X, b: X * 300.0, tangent_b: X };
    let lie = rest(&ends, 350.0, &light(56_000.0)).unwrap();
    assert!(lie.is_neutral(), "facing spigots without weight");
    assert!(!Solver::new().leaves_when_pushed(&lie, &ends, 350.0, &light(56_000.0), 2.0), "only turned");
}

#[test]
fn a_push_is_undone_by_letting_go() {
    let mut draw = Draw(83);
    let mut solver = Solver::new();
    for _ in 0..50 {
        let layout = draw.layout(true);
        let (ends, length, section) = (layout.ends, layout.length, layout.section);
        let Ok(lie) = rest(&ends, length, &section) else { continue };
        let push = draw.direction() * (PI * section.stiffness / (length * length));
        let Ok(pushed) = solver.pushed(&lie, &ends, length, &section, push) else { continue };
        assert!((pushed.push() - push).norm() < 1e-12 * push.norm(), "{:?} is not {push:?}", pushed.push());
        let open = pushed.force_at_a() + pushed.force_at_b() + push + section.weight * length;
        assert!(open.norm() < 1e-6 * pushed.force_at_a().norm(), "forces do not balance: {open:?}");
        // It gives way to the push: a stable rest has positive work of a push.
        let (before, after) = (lie.point_at(length / 2.0), pushed.point_at(length / 2.0));
        assert!((after - before).dot(push) > 0.0, "pushed back");
    }
}
