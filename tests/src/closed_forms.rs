//! Lies that have a formula, evaluated by an independent routine, against ours.

use crate::elastica::{LENGTH, STIFFNESS, arc, cantilever_modulus, helix, inflectional, without_inflection};
use crate::elliptic::{e, k};
use crate::referee::{Referee, Tally};
use shape::lies;
use std::f64::consts::{FRAC_1_SQRT_2, FRAC_PI_2, FRAC_PI_4, PI};

/// A closed form may have company: it must be among the lies.
fn check(referees: &[Referee]) {
    let mut tally = Tally::default();
    for referee in referees {
        let found = lies(&referee.ends, referee.length, &referee.section);
        tally
            .take(&referee.name, found.map(|all| referee.misses(referee.nearest(&all))).map_err(|why| why.to_string()));
    }
    tally.close(referees.len());
}

/// The clamped column buckled in its first mode: θ = 0 at both clamps, a whole period, u from 0 to 4K.
fn column(modulus: f64) -> Referee {
    Referee { neutral: true, ..inflectional(modulus, 0.0, 4.0) }
}

/// The rectangular elastica: k² = 1/2, between two inflections, where the tangents stand at right angles to the chord.
fn rectangular() -> Referee {
    inflectional(FRAC_1_SQRT_2, -1.0, 1.0)
}

/// Half a buckled column: parallel spigots, offset, an inflection in the middle.
fn half_column(modulus: f64) -> Referee {
    inflectional(modulus, 0.0, 2.0)
}

fn cantilever(load: f64) -> Referee {
    let (modulus, from) = cantilever_modulus(load);
    inflectional(modulus, from, 1.0)
}

/// The closed forms that a single answer can be held against, curvature not constant (those are nearly exact on any mesh).
pub(crate) fn single_referees() -> Vec<Referee> {
    let mut all: Vec<_> = [1.0, 2.0, 5.0, 10.0].map(cantilever).into();
    all.push(rectangular());
    all.extend([without_inflection(0.8, -0.6, 0.9), without_inflection(0.95, 0.2, 1.3)]);
    all
}

#[test]
pub(crate) fn a_buckled_clamped_column_has_the_radius_energy_and_force_of_its_formula() {
    // From k = 0.6 on the column gives way sideways (the second opinion of stability.rs says so too).
    check(&[0.15, 0.3, 0.45, 0.55].map(column));
}

#[test]
fn the_rectangular_elastica_is_met() {
    check(&[rectangular()]);
}

#[test]
fn half_a_buckled_column_between_parallel_spigots_is_met() {
    check(&[0.3, 0.6].map(half_column));
}

#[test]
pub(crate) fn the_inflectional_elastica_between_clamps_out_of_balance_is_met() {
    check(&[inflectional(0.75, -0.4, 1.3), inflectional(0.5, 0.3, 1.6), inflectional(0.85, -1.2, 0.7)]);
}

#[test]
fn the_elastica_without_inflection_is_met() {
    check(&[
        without_inflection(0.8, -0.6, 0.9),
        without_inflection(0.95, 0.2, 1.3),
        without_inflection(0.4, -0.5, 0.5),
    ]);
}

#[test]
fn the_cantilever_under_a_tip_load_is_met() {
    check(&[1.0, 2.0, 5.0, 10.0].map(cantilever));
}

#[test]
fn circular_arcs_are_met_without_any_force() {
    check(&[FRAC_PI_4, FRAC_PI_2, 2.0, PI].map(arc));
}

#[test]
pub(crate) fn helices_are_met() {
    check(&[helix(1.0, 1.0), helix(2.0, -1.5), helix(3.0, 2.0)]);
}

/// The formulas above against numbers of other hands, so that a slip in a derivation does not pass as a slip of the solver.
#[test]
fn the_formulas_give_the_numbers_of_others() {
    let close = |ours: f64, theirs: f64, what: &str| {
        // Their numbers have six digits.
        assert!((ours - theirs).abs() < 1e-6, "{what}: {ours} against {theirs}");
    };
    // Tip deflection over length of the cantilever: Bisshopp and Drucker's solution evaluated with mpmath to 30 digits.
    for (load, deflection) in [(1.0, 0.301721), (2.0, 0.493457), (5.0, 0.713792), (10.0, 0.810609)] {
        let r = cantilever(load);
        let along_force = r.forces[1] * (1.0 / r.forces[1].norm());
        close((r.ends.b - r.ends.a).dot(along_force) / LENGTH, deflection, "tip deflection");
        close(r.forces[1].norm() * LENGTH * LENGTH / STIFFNESS / load, 1.0, "tip load");
    }
    // Chord over length of the buckled column, 2E/K - 1, and of the rectangular elastica, 0.456947 (= 2E/K - 1 at k² = 1/2,
    // by reflection of the half); both as reference/lie_cases.json has them (E06, E01), 400 mm long.
    let column = column(0.4);
    close((column.ends.b - column.ends.a).norm() / LENGTH, 334.605724649 / 400.0, "chord of E06");
    close(2.0 * e(0.16) / k(0.16) - 1.0, 334.605724649 / 400.0, "chord of E06 by the complete integrals");
    close(column.peak * LENGTH, 0.0131199989269 * 400.0, "peak of E06");
    let rectangular = rectangular();
    close((rectangular.ends.b - rectangular.ends.a).norm() / LENGTH, 182.778632418 / 400.0, "chord of E01");
    close(rectangular.peak * LENGTH, 0.0131102877715 * 400.0, "peak of E01");
    close(rectangular.energy * LENGTH / STIFFNESS, 879.645943005 * 400.0 / 56_000.0, "energy of E01");
}

/// Every closed form must be an equilibrium by statics alone: moments about A vanish, forces cancel.
#[test]
fn the_formulas_are_in_balance() {
    let mut all = single_referees();
    all.extend([helix(2.0, -1.5), helix(1.0, 3.0), arc(2.0), half_column(0.6), column(0.3)]);
    for r in &all {
        let arm = (r.ends.b - r.ends.a).cross(r.forces[1]);
        let left = (r.moments[0] + r.moments[1] + arm).norm() * LENGTH / STIFFNESS;
        assert!(left < 1e-10, "{}: moment left over {left}", r.name);
    }
}
