//! Kink: Brazier's radius against a table, a finite-element study, and what is told of a bend.

use crate::cases::{answer, finding, job, near, only};
use crate::table::rows;
use job::FindingReport;
use quantity::Length;
use serde_json::json;
use stock::{Hose, OwnHose, Stock};

pub(crate) fn own(bore: f64, wall: f64) -> Hose {
    let hose = Hose::own(OwnHose {
        kind: "plain rubber".to_owned(),
        rubber: None,
        class: None,
        limit: None,
        bore: Length::mm(bore),
        outside: Length::mm(bore + 2.0 * wall),
        wire_supported: false,
        least_bend_inside: None,
        creases_at_inside: None,
        rated: None,
    });
    hose.expect("a tube")
}

#[test]
pub(crate) fn every_hose_of_the_tables_kinks_at_the_radius_of_the_reference() {
    let reference = rows(include_str!("../reference/kink_reference.csv"));
    let mut matched = 0;
    for row in &reference {
        let same = |ours: Length, column: &str| (ours.as_mm() - row[column]).abs() < 1e-9;
        let stock = Stock::built_in();
        let stocked = stock.hoses.iter().find(|hose| same(hose.bore, "bore_mm") && same(hose.wall(), "wall_mm"));
        matched += usize::from(stocked.is_some());
        // The sizes that are not sold are asked as hoses of one's own.
        let hose = stocked.cloned().unwrap_or_else(|| own(row["bore_mm"], row["wall_mm"]));
        let radius = checks::brazier_radius(&hose);
        near(radius, row["R_kink_Brazier_centreline_mm"], 0.05, &format!("{row:?}"));
        near(radius - hose.outside.as_mm() / 2.0, row["R_kink_inside_mm"], 0.05, &format!("{row:?}"));
    }
    assert!(reference.len() == 15 && matched == 14, "{matched} of {}", reference.len());
}

#[test]
pub(crate) fn the_formula_is_that_of_finite_elements_within_five_percent_for_every_wall_of_a_hose() {
    let study = rows(include_str!("../reference/kink_vs_wall_fe.csv"));
    let mut compared = 0;
    for row in study.iter().filter(|row| row["t_over_rm"] <= 0.5) {
        // A tube of mean radius 10: wall 10 (t/r), bore 20 less the wall.
        let wall = 10.0 * row["t_over_rm"];
        let ours = checks::brazier_radius(&own(20.0 - wall, wall));
        let theirs = 100.0 / wall / row["kappa_cr*rm^2/t"];
        near(ours / theirs, 1.0, 0.05, &format!("{row:?}: {ours} against {theirs}"));
        compared += 1;
    }
    assert_eq!(compared, 10);
    // Hoses of 10 mm and less are thicker; there the formula tells a radius up to 7 % too small (0.9354 at 0.7).
    for hose in Stock::built_in().hoses.iter().filter(|hose| hose.bore > Length::mm(10.0)) {
        assert!(hose.wall() / hose.mean_radius() <= 0.5, "{hose:?} is thicker than what was compared");
    }
}

/// The kink finding of a 16/24 hose that lies as a quarter circle of this radius of the centre line.
fn quarter_circle(radius: f64) -> FindingReport {
    let end = |at: [f64; 3], points: [f64; 3]| json!({ "spigot_mm": 16, "bead_mm": 17.2, "seat_mm": 30, "at_mm": at, "points": points, "on": "body" });
    let report = answer(&job(&json!({
        "from": end([0.0; 3], [1.0, 0.0, 0.0]),
        "to": end([radius, radius, 0.0], [0.0, -1.0, 0.0]),
        "hose": { "bore_mm": 16, "wall_mm": 4 },
        "try_cut_mm": radius * std::f64::consts::FRAC_PI_2 + 60.0,
    })));
    finding(only(&report), "kink", "").clone()
}

#[test]
fn limits_of_a_16_24_hose_are_48_and_80_to_the_inside() {
    // By hand: 1.837 · 10²/4 = 45.93; 1.3 and 2 times that less 12.
    let kink = quarter_circle(150.0);
    near(kink.kink_radius_centre_mm.expect("a radius"), 45.93, 0.005, "Brazier");
    near(kink.allowed.expect("a limit"), 1.3 * 45.93 - 12.0, 0.01, "fails below");
    let kink = quarter_circle(80.0);
    assert_eq!(kink.verdict, "warn");
    near(kink.allowed.expect("a limit"), 2.0 * 45.93 - 12.0, 0.01, "warns below");
    near(kink.actual.expect("a bend"), 68.0, 0.3, "80 less half of 24");
    assert_eq!(quarter_circle(58.0).verdict, "fail");
    // A maker's rule of six bores, shown and not judged.
    near(kink.six_times_bore_mm.expect("shown"), 96.0, 1e-9, "six bores");
}

#[test]
fn at_twice_the_kink_radius_the_hose_is_flattened_by_an_eighteenth() {
    // ζ = (1 - ν²)(κ r²/t)² with the limit at ζ = 2/9: a quarter of that at half the curvature (Brazier 1927).
    let flat = quarter_circle(2.0 * 45.928).flattening_percent.expect("told");
    near(flat, 100.0 / 18.0, 0.05, "flattening");
}

#[test]
fn flattening_on_the_way_is_that_of_finite_elements() {
    let study = rows(include_str!("../reference/kink_path_16x4.csv"));
    let mut compared = 0;
    // As tight as the bend that warns, where the formula of a thin tube has fallen behind by a twentieth; not so wide that
    // the arc hangs and is no circle any more.
    for row in study.iter().filter(|row| (91.0..150.0).contains(&row["R_centreline_mm"])) {
        let flat = quarter_circle(row["R_centreline_mm"]).flattening_percent.expect("told");
        let theirs = 100.0 * row["OD_flattening_FE"];
        assert!((flat / theirs - 1.0).abs() <= 0.05, "{row:?}: {flat} against {theirs}");
        compared += 1;
    }
    assert_eq!(compared, 7);
}

#[test]
fn no_bend_that_a_standard_makes_a_hose_take_fails() {
    let table = rows(include_str!("../reference/published_bend_radii.csv"));
    let mut walls_of_hoses = 0;
    for row in &table {
        let hose = own(row["bore_mm"], row["wall_mm"]);
        let radius = checks::brazier_radius(&hose);
        // Tubing is sized in inches and its bore printed to 0.01 mm.
        let printed = if row["bore_mm"].fract() > 0.0 { radius * 0.005 / hose.mean_radius().as_mm() } else { 0.0 };
        near(radius, row["R_Brazier_nu0.5_mm"], 0.051 + printed, &format!("{row:?}"));
        // The published radius is printed to a millimetre, the ratio to two decimals.
        near(row["R_published_mm"] / radius, row["ratio"], 0.5 / radius + 0.0051, &format!("{row:?}"));
        // The tubing of the bend tests has thinner walls than any hose, and yields.
        if hose.wall() >= Length::mm(3.0) {
            let fails = checks::KinkLimit::of(&hose).fail.expect("known");
            assert!(fails < row["R_published_mm"], "{row:?}: fails below {fails}");
            walls_of_hoses += 1;
        }
    }
    assert!(walls_of_hoses == 20 && table.len() == 26, "{walls_of_hoses} of {}", table.len());
}
