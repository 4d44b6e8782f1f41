//! The rocking engine: the study's windows of the example, and every pose held against a car that stands so.

use crate::cases::{actual, answer, best, changed, example, finding, job, near, only, verdict};
use crate::layouts::Draw;
use crate::whole_jobs::Drawn;
use job::CandidateReport;
use serde_json::{Value, json};

#[test]
fn the_example_has_the_windows_of_the_study_under_rock() {
    // The study's solver, another program: under rock free of fails 451 to 532 cut with hose for 125 °C; free of distance
    // warnings 457-507.
    let report = answer(&example());
    let plain = report.runs[0].candidates.iter().find(|c| c.hose.class.as_deref() == Some("D-1")).expect("offered");
    let [lo, hi] = plain.cut_window_mm.expect("a window");
    near(lo, 451.0, 1.0, "shortest");
    near(hi, 532.0, 1.0, "longest");
    let beyond = plain.shorter_fails.as_ref().expect("something fails there");
    assert_eq!((beyond.check.as_str(), beyond.about.as_str(), beyond.unit.as_str()), ("rock", "exhaust pipe", "°C"));
    // First stands the hose that bears more and has no warning.
    let candidate = only(&report);
    let [_, hi] = candidate.cut_window_mm.expect("a window");
    let [calm_lo, calm_hi] = candidate.calm_window_mm.expect("a calm part");
    near(hi, 532.0, 1.0, "longest");
    near(calm_lo, 457.0, 1.0, "calm from");
    near(calm_hi, 507.0, 1.0, "calm to");
    assert!(candidate.headline.starts_with("Fits, standing and rocking"), "{}", candidate.headline);
    let beyond = candidate.longer_fails.as_ref().expect("something fails there");
    assert_eq!((beyond.check.as_str(), beyond.about.as_str()), ("rock", "battery tray"));
}

/// A place on the engine after the engine is turned about a line along x through (y, z), and shifted.
fn moved(place: &Value, shift: [f64; 3], turn_deg: f64, [y0, z0]: [f64; 2]) -> Value {
    let [x, y, z] = [0, 1, 2].map(|i| place[i].as_f64().expect("a number"));
    let (sin, cos) = libm::sincos(turn_deg.to_radians());
    let (y, z) = (y - y0, z - z0);
    json!([x + shift[0], y0 + y * cos - z * sin + shift[1], z0 + y * sin + z * cos + shift[2]])
}

/// The example with its engine out of its place for good.
fn standing(cut: f64, shift: [f64; 3], turn_deg: f64, line: [f64; 2]) -> String {
    changed(&example(), |job| {
        let run = &mut job["runs"][0];
        run["rock_mm"] = json!([0, 0, 0]);
        run["try_cut_mm"] = json!(cut);
        let from = &mut run["from"];
        from["at_mm"] = moved(&from["at_mm"], shift, turn_deg, line);
        from["points"] = moved(&from["points"], [0.0; 3], turn_deg, [0.0; 2]);
        let rod = &mut run["neighbours"][0]["shape"]["rod"];
        for end in ["from_mm", "to_mm"] {
            rod[end] = moved(&rod[end], shift, turn_deg, line);
        }
    })
}

/// The worst of a check over cars that stand in every pose.
fn worst(poses: &[String], check: &str, about: &str) -> f64 {
    poses.iter().map(|pose| actual(only(&answer(pose)), check, about)).fold(f64::INFINITY, f64::min)
}

#[test]
fn what_is_told_of_the_corners_is_what_eight_cars_tell_that_stand_so() {
    for cut in [470.0, 485.0, 520.0] {
        let mut poses = Vec::new();
        for corner in 0..8 {
            let sign = |bit: u32| if corner >> bit & 1 == 1 { 1.0 } else { -1.0 };
            poses.push(standing(cut, [5.0 * sign(0), 5.0 * sign(1), 8.0 * sign(2)], 0.0, [0.0; 2]));
        }
        let rocked = answer(&changed(&example(), |job| job["runs"][0]["try_cut_mm"] = json!(cut)));
        let rocked = only(&rocked);
        near(actual(rocked, "rock", ""), worst(&poses, "kink", ""), 0.02, "bend");
        for thing in ["exhaust pipe", "battery tray"] {
            near(actual(rocked, "rock", thing), worst(&poses, "standoff", thing), 0.02, thing);
        }
    }
}

#[test]
fn a_turn_about_the_crank_line_is_told_as_cars_tell_that_are_turned_so() {
    let line = [-150.0, -200.0];
    let rock = json!({ "shift_mm": [5, 5, 8], "turn_deg": 2,
        "crank_line": { "through_mm": [40, line[0], line[1]], "along": [1, 0, 0] } });
    let rocked = answer(&changed(&example(), |job| {
        let run = job["runs"][0].as_object_mut().expect("a run");
        run.remove("rock_mm");
        run.insert("rock".to_owned(), rock);
        run.insert("try_cut_mm".to_owned(), json!(485));
    }));
    let rocked = only(&rocked);
    let mut poses = Vec::new();
    for corner in 0..16 {
        let sign = |bit: u32| if corner >> bit & 1 == 1 { 1.0 } else { -1.0 };
        poses.push(standing(485.0, [5.0 * sign(0), 5.0 * sign(1), 8.0 * sign(2)], 2.0 * sign(3), line));
    }
    for step in -4..=4 {
        poses.push(standing(485.0, [0.0; 3], 0.5 * f64::from(step), line));
    }
    near(actual(rocked, "rock", ""), worst(&poses, "kink", ""), 0.02, "bend");
    for thing in ["exhaust pipe", "battery tray"] {
        near(actual(rocked, "rock", thing), worst(&poses, "standoff", thing), 0.02, thing);
    }
    let turned = finding(rocked, "rock", "exhaust pipe");
    assert!(turned.rock_shift_mm.is_some() && turned.rock_turn_deg.is_some_and(|turn| turn.abs() <= 2.0), "{turned:?}");
}

/// Two spigots in line, the engine's able to move fore and aft.
fn in_line(rock: f64, cut: Option<f64>) -> CandidateReport {
    let end = |x: f64, way: f64, on: &str| json!({ "spigot_mm": 16, "seat_mm": 30, "at_mm": [x, 0, 0], "points": [way, 0, 0], "on": on });
    let run = json!({ "from": end(0.0, 1.0, "engine"), "to": end(230.0, -1.0, "body"), "rock_mm": [rock, 0, 0],
        "hose": { "bore_mm": 16, "wall_mm": 4 }, "try_cut_mm": cut });
    best(&answer(&job(&run)).runs[0]).clone()
}

#[test]
fn a_hose_that_no_longer_reaches_is_told_to_be_too_short_when_the_engine_rocks() {
    let short = in_line(10.0, Some(60.0 + 235.0));
    let told = finding(&short, "rock", "");
    assert_eq!((told.verdict.as_str(), told.why.as_str()), ("fail", "hose too short when the engine rocks"));
    // By hand: the engine moves back by 10, and the mouths are 240 apart.
    assert_eq!((told.allowed, told.rock_shift_mm), (Some(240.0), Some([-10.0, 0.0, 0.0])));
    assert_eq!(told.actual, Some(235.0));
}

#[test]
fn the_shortest_length_that_passes_at_rest_does_not_when_the_engine_rocks_and_the_window_moves_up() {
    let [still, rocking] = [in_line(0.0, None), in_line(10.0, None)];
    let [lo, _] = still.cut_window_mm.expect("a window at rest");
    let [rocking_lo, _] = rocking.cut_window_mm.expect("a window under rock");
    near(lo, 60.0 + 230.0, 0.1, "taut at rest");
    // By hand: the mouths come to be 240 apart.
    near(rocking_lo, 60.0 + 240.0, 0.1, "taut at the corner");
    assert_eq!(verdict(&in_line(10.0, Some(lo + 1.0)), "rock", ""), "fail");
}

#[test]
fn more_rock_never_widens_a_window() {
    let mut draw = Draw(71);
    let mut narrowed = 0;
    for _ in 0..25 {
        // One hose, or another might be the best of the smaller box.
        let any = Drawn::draw(&mut draw);
        let things = any.0["neighbours"].clone();
        let mut drawn = any.with("hose", json!({ "bore_mm": 16, "wall_mm": 4 })).with("neighbours", things);
        for end in ["from", "to"] {
            drawn.0[end]["spigot_mm"] = json!(16);
            drawn.0[end]["bead_mm"] = json!("none");
        }
        let mut before: Option<Vec<[f64; 2]>> = None;
        for rock in [0.0, 4.0, 8.0, 15.0] {
            let told = drawn.with("rock_mm", json!([rock, rock, rock])).best();
            let spans: Vec<[f64; 2]> = told.cut_window_mm.into_iter().chain(told.more_windows_mm).collect();
            if let Some(before) = &before {
                // The window that is told first; those of the loops beyond it end where a lie jumps, and wander by 2 mm.
                for [lo, hi] in spans.iter().take(1) {
                    // The corners of a smaller box lie inside the larger, not on it: a worse place inside is rare.
                    let inside = before.iter().any(|[l, h]| l - 0.15 <= *lo && *hi <= h + 0.15);
                    assert!(inside, "{rock}: {spans:?} in {before:?}\n{}", drawn.text());
                }
                narrowed += usize::from(*before != spans);
            }
            before = Some(spans);
        }
    }
    assert!(narrowed > 10, "only {narrowed} windows moved at all");
}

#[test]
fn nothing_rocks_where_all_is_on_one_part() {
    let mut draw = Draw(72);
    let drawn = Drawn::draw(&mut draw);
    let mut together = drawn.0.clone();
    for end in ["from", "to"] {
        together[end]["on"] = json!("engine");
    }
    together["neighbours"] = json!([]);
    let told = best(&answer(&job(&together)).runs[0]).clone();
    assert_eq!(verdict(&told, "rock", ""), "pass");
    assert!(finding(&told, "rock", "").why.contains("nothing here moves"), "{:?}", finding(&told, "rock", ""));
}
