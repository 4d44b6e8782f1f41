//! A spigot said the wrong way round: asked about where that would explain why no length works, and only there.

use crate::cases::{answer, job, only};
use serde_json::json;

/// Two spigots that face each other, 120 mm apart, along x: a 16 mm hose lies straight between them, and there is no room
/// for the half turn (some 60 mm radius to the inside, by Brazier's limit twice) that a spigot the wrong way round asks for.
fn facing(a_points: f64, b_points: f64) -> (bool, Option<String>) {
    let end =
        |x: f64, points: f64| json!({ "spigot_mm": 16, "at_mm": [x, 0, 0], "points": [points, 0, 0], "on": "body" });
    let report = answer(&job(&json!({ "from": end(0.0, a_points), "to": end(120.0, b_points) })));
    (only(&report).nearest, report.runs[0].turned_round.clone())
}

#[test]
fn a_run_that_works_is_not_questioned() {
    assert_eq!(facing(1.0, -1.0), (false, None));
}

#[test]
fn the_end_that_points_into_its_part_is_asked_about() {
    assert_eq!(facing(-1.0, -1.0), (true, Some("A".to_owned())));
    assert_eq!(facing(1.0, 1.0), (true, Some("B".to_owned())));
    assert_eq!(facing(-1.0, 1.0), (true, Some("A and B".to_owned())));
}

#[test]
fn what_no_turn_would_mend_is_not_questioned() {
    // 40 mm apart, square to the line between the mouths: far too near for any hose, whichever way the ends point.
    let end =
        |x: f64, points: f64| json!({ "spigot_mm": 38, "at_mm": [x, 0, 0], "points": [0, points, 0], "on": "body" });
    let report = answer(&job(&json!({ "from": end(0.0, 1.0), "to": end(40.0, 1.0) })));
    assert!(only(&report).nearest);
    assert_eq!(report.runs[0].turned_round, None);
}
