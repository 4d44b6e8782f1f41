//! The lies of `reference/lie_cases.json`, computed outside the project by shooting, against ours.

use crate::referee::{Referee, Tally};
use serde::Deserialize;
use shape::{Ends, Lie, NoShape, Section, lies, rest};
use std::sync::LazyLock;

#[derive(Deserialize)]
struct File {
    cases: Vec<Case>,
}

#[derive(Deserialize)]
struct Case {
    id: String,
    kind: String,
    branch: Branch,
    input: Input,
    output: Output,
}

#[derive(Deserialize)]
struct Branch {
    rank_by_total_energy: usize,
    /// Bending and weight counted from spigot A, in units of EI/L.
    total_energy_nondim: f64,
}

#[derive(Deserialize)]
#[expect(non_snake_case, reason = "the names of the file")]
struct Input {
    A_mm: [f64; 3],
    tangent_A: [f64; 3],
    B_mm: [f64; 3],
    tangent_B: [f64; 3],
    length_mm: f64,
    EI_Nmm2: f64,
    weight_N_per_mm: [f64; 3],
}

#[derive(Deserialize)]
#[expect(non_snake_case, reason = "the names of the file")]
struct Output {
    centreline_mm: Vec<[f64; 3]>,
    tangents: Vec<[f64; 3]>,
    peak_curvature_per_mm: f64,
    bending_energy_Nmm: f64,
    force_on_hose_at_A_N: [f64; 3],
    force_on_hose_at_B_N: [f64; 3],
    moment_on_hose_at_A_Nmm: [f64; 3],
    moment_on_hose_at_B_Nmm: [f64; 3],
}

static FILE: LazyLock<File> =
    LazyLock::new(|| serde_json::from_str(include_str!("../reference/lie_cases.json")).expect("the file reads"));

impl Case {
    /// One of several stable lies of the same input: a letter behind the number.
    fn is_one_of_several(&self) -> bool {
        self.id.ends_with(|last: char| last.is_ascii_lowercase())
    }

    fn referee(&self) -> Referee {
        let Self { input, output, .. } = self;
        Referee {
            name: self.id.clone(),
            ends: Ends {
                a: input.A_mm.into(),
                tangent_a: input.tangent_A.into(),
                b: input.B_mm.into(),
                tangent_b: input.tangent_B.into(),
            },
            length: input.length_mm,
            section: Section { stiffness: input.EI_Nmm2, weight: input.weight_N_per_mm.into() },
            line: output.centreline_mm.iter().map(|&place| place.into()).collect(),
            tangents: output.tangents.iter().map(|&tangent| tangent.into()).collect(),
            peak: output.peak_curvature_per_mm,
            energy: output.bending_energy_Nmm,
            forces: [output.force_on_hose_at_A_N.into(), output.force_on_hose_at_B_N.into()],
            moments: [output.moment_on_hose_at_A_Nmm.into(), output.moment_on_hose_at_B_Nmm.into()],
            neutral: self.kind == "closed_form_neutral",
        }
    }
}

/// The referees of the file that have one stable lie and are not neutral: those a single answer can be held against.
pub(crate) fn single_referees() -> Vec<Referee> {
    FILE.cases.iter().filter(|case| !case.is_one_of_several()).map(Case::referee).filter(|r| !r.neutral).collect()
}

/// The answer that belongs to the case, or why there is none.
fn answer(case: &Case, referee: &Referee) -> Result<Lie, NoShape> {
    let Referee { ends, length, section, .. } = referee;
    if !case.is_one_of_several() {
        return rest(ends, *length, section);
    }
    lies(ends, *length, section).map(|all| referee.nearest(&all).clone())
}

fn check(kind: &str, cases: usize) {
    let mut tally = Tally::default();
    for case in FILE.cases.iter().filter(|case| case.kind == kind) {
        let referee = case.referee();
        let found = answer(case, &referee).map(|lie| referee.misses(&lie));
        tally.take(&case.id, found.map_err(|why| why.to_string()));
    }
    tally.close(cases);
}

#[test]
pub(crate) fn planar_lies_are_those_of_the_shooting_solver() {
    check("planar", 8);
}

#[test]
pub(crate) fn spatial_lies_are_those_of_the_shooting_solver() {
    check("spatial", 8);
}

#[test]
pub(crate) fn lies_under_weight_are_those_of_the_shooting_solver() {
    check("gravity", 7);
}

#[test]
fn lies_with_a_closed_form_are_those_of_thirty_digits() {
    check("closed_form", 2);
}

#[test]
fn a_neutral_lie_has_the_radius_energy_and_force_of_thirty_digits_and_says_that_it_is_neutral() {
    check("closed_form_neutral", 1);
    for case in &FILE.cases {
        let Referee { ends, length, section, neutral, .. } = case.referee();
        let told = rest(&ends, length, &section).map(|lie| lie.is_neutral());
        assert_eq!(told, Ok(neutral), "{}", case.id);
    }
}

#[test]
fn the_total_energy_counts_bending_and_the_weight_from_spigot_a() {
    for case in &FILE.cases {
        let referee = case.referee();
        let unit = referee.section.stiffness / referee.length;
        let ours = answer(case, &referee).unwrap().total_energy() / unit;
        let theirs = case.branch.total_energy_nondim;
        // The limit of the bending energy.
        assert!((ours / theirs - 1.0).abs() < 2e-4, "{}: {ours} against {theirs}", case.id);
    }
}

#[test]
fn several_lies_come_in_the_order_of_their_total_energy() {
    for case in FILE.cases.iter().filter(|case| case.is_one_of_several()) {
        let referee = case.referee();
        let all = lies(&referee.ends, referee.length, &referee.section).unwrap();
        let energies: Vec<f64> = all.iter().map(Lie::total_energy).collect();
        assert!(energies.is_sorted(), "{}: {energies:?}", case.id);
        // Equal energies (a mirror pair) have no order.
        let (ours, theirs) = (referee.nearest(&all).total_energy(), energies[case.branch.rank_by_total_energy - 1]);
        assert!((ours - theirs).abs() <= 1e-6 * theirs.abs(), "{}: {ours} is not number {theirs}", case.id);
    }
}
