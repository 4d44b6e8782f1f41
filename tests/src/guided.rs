//! Hoses through clips against formulas: a beam on three supports, arcs, an arch and its halves, the free lie itself.

use crate::layouts::Draw;
use shape::{Ends, Guide, Lie, Section, Solver, Vec3, rest, rest_on_mesh};
use std::f64::consts::PI;

const X: Vec3 = Vec3::new(1.0, 0.0, 0.0);
const STIFFNESS: f64 = 56_000.0;

fn guided(ends: &Ends, guides: &[Guide], length: f64, section: &Section) -> Lie {
    Solver::new().rest_guided(ends, guides, length, section).unwrap_or_else(|why| panic!("{why}: {guides:?}"))
}

fn close(what: &str, ours: f64, theirs: f64, allowed: f64) {
    assert!((ours - theirs).abs() <= allowed, "{what}: {ours} against {theirs}, allowed {allowed}");
}

/// A beam on the x axis with two spans, clamped at both ends, `lift` above the line at the support between, under w per
/// length; with what a clamped hose of just the right length must show, to the square of its slope.
struct Beam {
    spans: [f64; 2],
    weight: f64,
    lift: f64,
    /// Sagging moments at A, left and right of the support, and at B.
    moments: [f64; 4],
}

impl Beam {
    /// Clapeyron's three-moment equations. Downward y, sagging moments M0, M1 at the ends of a span l under w, its ends at y0
    /// and y1: the slopes there are (Timoshenko, Strength of Materials, part I; from memory)
    /// ```text
    /// θ0 =   w l³/24EI + (2 M0 + M1) l/6EI + (y1-y0)/l         θ1 = - w l³/24EI - (M0 + 2 M1) l/6EI + (y1-y0)/l
    /// ```
    /// Clamps: no slope. Support: the slope the same on both sides and one moment; if its direction is held, no slope.
    fn new(spans: [f64; 2], weight: f64, lift: f64, held: bool) -> Self {
        let load = |l: f64| weight * l * l * l / 24.0;
        let rise = [-lift / spans[0], lift / spans[1]].map(|slope| slope * STIFFNESS);
        let moments = if held {
            // 2 M0 + M1 = -6/l (load + rise), M0 + 2 M1 = -6/l (load - rise) in each span.
            let span = |k: usize| {
                let (l, a, b) = (spans[k], load(spans[k]) + rise[k], load(spans[k]) - rise[k]);
                (-6.0 / l * (2.0 * a - b) / 3.0, -6.0 / l * (2.0 * b - a) / 3.0)
            };
            let ((a, left), (right, b)) = (span(0), span(1));
            [a, left, right, b]
        } else {
            // M_A = -M/2 - 3/l1 (load + rise1), M_B likewise; the slopes at the support then give M.
            let (l1, l2) = (spans[0], spans[1]);
            let ends = [3.0 / l1 * (load(l1) + rise[0]), 3.0 / l2 * (load(l2) - rise[1])];
            // -load1 - (M_A + 2M) l1/6 + rise1 = load2 + (2M + M_B) l2/6 + rise2
            let known = -load(l1) + ends[0] * l1 / 6.0 + rise[0] - load(l2) + ends[1] * l2 / 6.0 - rise[1];
            let m = known / (1.5 * l1 / 6.0 + 1.5 * l2 / 6.0);
            [-0.5 * m - ends[0], m, m, -0.5 * m - ends[1]]
        };
        Self { spans, weight, lift, moments }
    }

    /// Downward deflection and slope at `x` of span `k`.
    fn at(&self, k: usize, x: f64) -> (f64, f64) {
        let (l, w) = (self.spans[k], self.weight);
        let (m0, m1) = (self.moments[2 * k], self.moments[2 * k + 1]);
        let (y0, y1) = if k == 0 { (0.0, -self.lift) } else { (-self.lift, 0.0) };
        // EI y'' = -M(x), M = m0 + (m1-m0) x/l + w x (l-x)/2
        let first = w * l * l * l / 24.0 + (2.0 * m0 + m1) * l / 6.0 + STIFFNESS * (y1 - y0) / l;
        let slope = first - m0 * x - (m1 - m0) * x * x / (2.0 * l) - w * (l * x * x / 4.0 - x * x * x / 6.0);
        let sag = first * x
            - m0 * x * x / 2.0
            - (m1 - m0) * x * x * x / (6.0 * l)
            - w * (l * x * x * x / 12.0 - x * x * x * x / 24.0);
        (y0 + sag / STIFFNESS, slope / STIFFNESS)
    }

    /// 1/2 ∫ y'² dx over span `k` by Simpson's rule, exact enough for a polynomial of degree six on 200 panels.
    fn slack(&self, k: usize) -> f64 {
        let (n, l) = (200, self.spans[k]);
        let weight = |i: i32| {
            if i == 0 || i == n {
                1.0
            } else if i % 2 == 1 {
                4.0
            } else {
                2.0
            }
        };
        let square = |i: i32| {
            let slope = self.at(k, l * f64::from(i) / f64::from(n)).1;
            weight(i) * slope * slope
        };
        (0..=n).map(square).sum::<f64>() * l / f64::from(n) / 6.0
    }

    /// Upward force of the support: the shears on both sides.
    fn reaction(&self) -> f64 {
        let [a, left, right, b] = self.moments;
        let [l1, l2] = self.spans;
        0.5 * self.weight * (l1 + l2) - (left - a) / l1 + (b - right) / l2
    }

    fn ends(&self) -> Ends {
        Ends { a: Vec3::ZERO, tangent_a: X, b: X * (self.spans[0] + self.spans[1]), tangent_b: X }
    }
}

#[test]
fn a_nearly_straight_hose_over_a_support_is_the_beam_of_the_three_moment_equation() {
    for (spans, gamma, lift) in [([200.0, 200.0], 2.0, 0.0), ([250.0, 150.0], 4.0, 0.0), ([160.0, 240.0], 2.0, 1.5)] {
        for held in [false, true] {
            let whole: f64 = spans.iter().sum();
            let beam = Beam::new(spans, gamma * STIFFNESS / (whole * whole * whole), lift, held);
            // With just so much slack no force acts along the hose, as the formula wants it.
            let length = whole + beam.slack(0) + beam.slack(1);
            let direction = held.then_some(X);
            let guide = Guide { at: X * spans[0] + Vec3::new(0.0, 0.0, lift), direction };
            let section = Section { stiffness: STIFFNESS, weight: Vec3::new(0.0, 0.0, -beam.weight) };
            let lie = guided(&beam.ends(), &[guide], length, &section);
            let steepest = (0..=200)
                .flat_map(|i| [0, 1].map(|k| beam.at(k, spans[k] * f64::from(i) / 200.0).1.abs()))
                .fold(0.0, f64::max);
            // The formula's neglect, twice the square of the slope, and the limit of the free lies.
            let allowed = 2.0 * steepest * steepest + 5e-4;
            let at = lie.held()[0];
            let deepest = beam.at(0, 0.5 * spans[0]).0.abs().max(beam.at(1, 0.5 * spans[1]).0.abs());
            for k in [0, 1] {
                let s = if k == 0 { 0.5 * at.at } else { 0.5 * (at.at + length) };
                let x = lie.point_at(s).x - if k == 0 { 0.0 } else { spans[0] };
                close("sag in a span", -lie.point_at(s).z, beam.at(k, x).0, allowed * deepest);
            }
            let largest = beam.moments.iter().fold(0.0_f64, |most, m| most.max(m.abs()));
            // The clamp at A turns the hose up where the beam hogs: about -y.
            close("moment at A", lie.moment_at_a().y, beam.moments[0], allowed * largest);
            close("moment at B", -lie.moment_at_b().y, beam.moments[3], allowed * largest);
            close("force of the support", at.force.z, beam.reaction(), allowed * beam.reaction().abs());
            close("moment of the support", -at.moment.y, beam.moments[1] - beam.moments[2], allowed * largest);
            close("where the support is", at.at, spans[0] + beam.slack(0), 2.0 * allowed * (length - whole));
            let slope = beam.at(1, 0.0).1;
            close("slope over the support", -at.tangent.z, slope, allowed * steepest);
        }
    }
}

#[test]
fn two_arcs_of_one_radius_meet_in_a_clip_that_holds_only_a_moment() {
    // Bent to circles, no force acts: each arc has EI κ²/2 and nothing else, so neither asks for more length. The clip
    // holds the jump of the moment, from +EI/R to -EI/R.
    let radius = 90.0;
    let turn = |angle: f64| {
        let (sin, cos) = libm::sincos(angle);
        (Vec3::new(radius * sin, radius * (1.0 - cos), 0.0), Vec3::new(cos, sin, 0.0))
    };
    for (alpha, beta) in [(PI / 3.0, PI / 2.0), (PI / 2.0, PI / 4.0), (1.0, 1.0)] {
        let (at, along) = turn(alpha);
        let centre = at + Vec3::new(along.y, -along.x, 0.0) * radius;
        let back = turn(alpha - beta);
        let b = centre + Vec3::new(-back.1.y, back.1.x, 0.0) * radius;
        let ends = Ends { a: Vec3::ZERO, tangent_a: X, b, tangent_b: back.1 };
        let section = Section { stiffness: STIFFNESS, weight: Vec3::ZERO };
        let length = radius * (alpha + beta);
        let lie = guided(&ends, &[Guide { at, direction: Some(along) }], length, &section);
        let held = lie.held()[0];
        let unit = STIFFNESS / (length * length);
        close("place", held.at, radius * alpha, 1e-6 * length);
        close("force", held.force.norm() / unit, 0.0, 2e-3);
        close("moment", (held.moment.norm() * radius / STIFFNESS - 2.0).abs(), 0.0, 1e-4);
        close("energy", lie.bending_energy() * 2.0 * radius / (STIFFNESS * (alpha + beta)), 1.0, 1e-6);
        for s in [0.1, 0.3, 0.5, 0.7, 0.9] {
            close("curvature", lie.curvature_at(s * length) * radius, 1.0, 1e-4);
        }
    }
}

#[test]
fn an_arch_through_its_own_middle_is_the_free_arch() {
    // Out and back, the arch of a plane of symmetry: its half is a lie of its own between A and the crown.
    let section = Section { stiffness: STIFFNESS, weight: Vec3::new(0.0, 0.0, -4e-3) };
    let z = Vec3::new(0.0, 0.0, 1.0);
    let ends = Ends { a: Vec3::ZERO, tangent_a: z, b: X * 200.0, tangent_b: -z };
    let length = 420.0;
    let free = rest_on_mesh(&ends, length, &section, 160).unwrap();
    let crown = free.point_at(0.5 * length);
    for direction in [None, Some(X)] {
        let lie = guided(&ends, &[Guide { at: crown, direction }], length, &section);
        close("place of the crown", lie.held()[0].at, 0.5 * length, 1e-6 * length);
        close("no force", lie.held()[0].force.norm(), 0.0, 1e-3 * free.force_at_a().norm());
        for k in 0..=40 {
            let s = length * f64::from(k) / 40.0;
            close("unchanged", (lie.point_at(s) - free.point_at(s)).norm(), 0.0, 1e-6 * length);
        }
        // Pressed down a little, or pulled up, it still is two halves, each clamped level at the crown.
        for lift in [-5.0, 5.0, 12.0] {
            let at = crown + z * lift;
            let lie = guided(&ends, &[Guide { at, direction }], length, &section);
            let half = rest(&Ends { b: at, tangent_b: X, ..ends }, 0.5 * length, &section).unwrap();
            for k in 0..=20 {
                let s = 0.5 * length * f64::from(k) / 20.0;
                close("the half", (lie.point_at(s) - half.point_at(s)).norm(), 0.0, 2e-6 * length);
            }
            let held = lie.held()[0];
            close("twice the half's force", held.force.z, 2.0 * half.force_at_b().z, 1e-4 * held.force.norm());
            close("nothing sideways", held.force.across(z).norm(), 0.0, 1e-4 * held.force.norm());
        }
    }
}

#[test]
fn an_arch_pressed_down_further_sways_to_either_side_where_the_clip_lets_it_turn() {
    let section = Section { stiffness: STIFFNESS, weight: Vec3::new(0.0, 0.0, -4e-3) };
    let z = Vec3::new(0.0, 0.0, 1.0);
    let ends = Ends { a: Vec3::ZERO, tangent_a: z, b: X * 200.0, tangent_b: -z };
    let length = 420.0;
    let crown = rest(&ends, length, &section).unwrap().point_at(0.5 * length);
    let at = crown - z * 20.0;
    let half = rest(&Ends { b: at, tangent_b: X, ..ends }, 0.5 * length, &section).unwrap();
    let lies = |direction| Solver::new().lies_guided(&ends, &[Guide { at, direction }], length, &section).unwrap();
    // Held level it cannot turn: the two halves.
    let level = lies(Some(X));
    close("level", level[0].total_energy(), 2.0 * half.total_energy(), 1e-5 * level[0].bending_energy());
    // Left free, the two halves would be a saddle: a mirrored pair of less energy.
    let swayed = lies(None);
    assert_eq!(swayed.len(), 2, "to the left and to the right");
    close("as much either way", swayed[0].total_energy(), swayed[1].total_energy(), 1e-6 * swayed[0].bending_energy());
    assert!(swayed[1].total_energy() < 0.97 * level[0].total_energy(), "less than level");
    for s in [0.1, 0.25, 0.4, 0.6, 0.8] {
        let (p, q) = (swayed[0].point_at(s * length), swayed[1].point_at((1.0 - s) * length));
        close("mirrored", (p - Vec3::new(200.0 - q.x, -q.y, q.z)).norm(), 0.0, 1e-5 * length);
    }
}

/// Where no bend is tighter than this part of the length, the coarsest mesh tells the line to 1e-6 of the length; where one is
/// tighter, or the hose very heavy, to a fifth of what is asked of every lie.
const CALM: f64 = 1.0 / 6.0;

#[test]
fn a_clip_on_the_free_lie_changes_nothing_and_carries_nothing() {
    let (mut draw, mut worst, mut most, mut tried) = (Draw(21), [0.0; 2], 0.0_f64, [0; 2]);
    for i in 0..300 {
        let layout = draw.layout(i % 2 == 1);
        let length = layout.distance() * draw.between(1.1, 1.6);
        // Meshes that are fine enough for the free lie's own error not to count.
        let Ok(free) = rest_on_mesh(&layout.ends, length, &layout.section, 160) else { continue };
        let calm = free.peak().curvature * length < 1.0 / CALM;
        let allowed = if calm { 1e-6 } else { 1e-5 };
        if free.peak().curvature * length > 12.0 {
            continue;
        }
        tried[usize::from(calm)] += 1;
        let place = |s: f64, held: bool| Guide { at: free.point_at(s), direction: held.then(|| free.tangent_at(s)) };
        let (s, r) = (length * draw.between(0.1, 0.45), length * draw.between(0.55, 0.9));
        for guides in [vec![place(s, false)], vec![place(r, true)], vec![place(s, false), place(r, false)]] {
            let lies = Solver::new().lies_guided(&layout.ends, &guides, length, &layout.section).unwrap();
            let apart = |lie: &Lie| {
                (0..=40)
                    .map(|k| length * f64::from(k) / 40.0)
                    .map(|s| (lie.point_at(s) - free.point_at(s)).norm())
                    .fold(0.0, f64::max)
            };
            let lie = lies.iter().min_by(|a, b| apart(a).total_cmp(&apart(b))).unwrap();
            let scale = layout.section.stiffness / (length * length) + free.force_at_a().norm();
            let force = lie.held().iter().map(|held| held.force.norm()).fold(0.0, f64::max) / scale;
            worst[usize::from(calm)] = f64::max(worst[usize::from(calm)], apart(lie) / length);
            most = most.max(force);
            assert!(
                apart(lie) < allowed * length,
                "{} of the length apart: {layout:?} {guides:?}",
                apart(lie) / length
            );
            assert!(force < 1e-3, "a force of {force} of the end's: {layout:?} {guides:?}");
        }
    }
    println!(
        "{tried:?} layouts, tight and calm: apart {:.1e}, {:.1e} of the length, force {most:.1e}",
        worst[0], worst[1]
    );
    assert!(tried[0] > 20 && tried[1] > 60, "only {tried:?} layouts");
}

#[test]
fn without_guides_it_is_the_free_lie_to_the_last_bit() {
    let mut draw = Draw(22);
    for i in 0..200 {
        let layout = draw.layout(i % 2 == 1);
        let free = rest(&layout.ends, layout.length, &layout.section);
        let same = Solver::new().rest_guided(&layout.ends, &[], layout.length, &layout.section);
        match (free, same) {
            (Ok(free), Ok(same)) => {
                assert_eq!(free.points(), same.points(), "{layout:?}");
                assert!(same.held().is_empty() && same.pieces().is_empty(), "no guides");
            }
            (free, same) => assert_eq!(free.err(), same.err(), "{layout:?}"),
        }
    }
}

#[test]
fn a_straight_piece_between_held_directions_stays_straight_until_it_buckles() {
    // Both spans on one line, held in line at the support: all slack goes into the longer span, which bows as Euler's column,
    // and the shorter stays straight (it would need the greater force); with more slack it may be the other one, too.
    let section = Section { stiffness: STIFFNESS, weight: Vec3::ZERO };
    let ends = Ends { a: Vec3::ZERO, tangent_a: X, b: X * 300.0, tangent_b: X };
    let guide = Guide { at: X * 120.0, direction: Some(X) };
    let lie = guided(&ends, &[guide], 300.2, &section);
    close("the short span", lie.held()[0].at, 120.0, 1e-9);
    assert_eq!(lie.pieces()[0].peak().curvature.to_bits(), 0.0_f64.to_bits(), "straight");
    // Post-buckling of a clamped column, in which the force rises from 4π² EI/l² with half the slack's part (both
    // from memory: Timoshenko and Gere, Theory of Elastic Stability): within 1 % it is Euler's.
    let euler = 4.0 * PI * PI * STIFFNESS / (180.0 * 180.0);
    close("Euler's load", lie.force_at_b().norm() / euler, 1.0, 0.01);
    close("it pushes", -lie.force_at_b().x / euler, 1.0, 0.01);
}
