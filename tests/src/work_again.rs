//! A car whose runs were solved before: one changed hose is solved alone, and what is told is the same byte for byte.

use crate::cases::{example, example_car};
use job::{Job, Work, accept};
use serde_json::{Value, json};
use stock::Stock;

/// As many hoses as a large car has, no two alike: the example's, B moved by some tenths of a millimetre each.
fn forty() -> Value {
    let mut job: Value = serde_json::from_str(&example()).expect("a job");
    let run = job["runs"][0].clone();
    let moved = |i: u32| {
        let mut run = run.clone();
        run["name"] = json!(format!("hose {}", i + 1));
        run["to"]["at_mm"] = json!([-280.0 - 0.1 * f64::from(i), 210.0, 70.0]);
        run
    };
    job["runs"] = (0..40).map(moved).collect();
    job
}

fn accepted(job: &Value) -> Job {
    let accepted = accept(&share::read(&job.to_string()).expect("a job file").input);
    assert!(accepted.problems.is_empty(), "{:?}", accepted.problems);
    accepted.job
}

/// Solves what is not known yet; how many runs that were.
fn solve_rest(work: &mut Work, stock: &Stock) -> usize {
    let mut solved = 0;
    while !work.is_known() {
        work.step(stock);
        solved += 1;
    }
    solved
}

#[test]
fn after_a_change_of_one_of_forty_hoses_one_is_solved() {
    let stock = Stock::built_in();
    let mut job = forty();
    let mut work = Work::begin(accepted(&job), None);
    assert_eq!(solve_rest(&mut work, &stock), 40, "none is known at first");
    // The same again: none.
    let mut work = Work::begin(accepted(&job), Some(work));
    assert_eq!(solve_rest(&mut work, &stock), 0);
    // One moved: that one, wherever it stands.
    for k in [0, 17, 39] {
        job["runs"][k]["to"]["at_mm"][2] = json!(75.5);
        work = Work::begin(accepted(&job), Some(work));
        assert_eq!(solve_rest(&mut work, &stock), 1, "hose {k}");
    }
    // Put in another order, and one taken away: none.
    let runs = job["runs"].as_array_mut().expect("runs");
    runs.reverse();
    runs.remove(11);
    let mut work = Work::begin(accepted(&job), Some(work));
    assert_eq!(solve_rest(&mut work, &stock), 0);
    // The car's parts and lines do not touch its hoses; its coolant does.
    job["parts"] = json!([{ "name": "bottle", "kind": "expansion bottle", "spigots": [{ "name": "in" }] }]);
    let mut work = Work::begin(accepted(&job), Some(work));
    assert_eq!(solve_rest(&mut work, &stock), 0);
    job["conditions"]["coolant_c"] = json!(97);
    let work = Work::begin(accepted(&job), Some(work));
    assert!(!work.is_known(), "hotter coolant is another question");
}

#[test]
fn what_is_told_is_the_same_byte_for_byte_whether_a_hose_was_known_or_not() {
    let stock = Stock::built_in();
    let bytes = |report: &job::Report| serde_json::to_string(report).expect("a report is data");
    let car: Value = serde_json::from_str(&example_car()).expect("a job");
    // Before it: the same car with another cut tried, one hose moved, its hoses in another order; once told deeply, once not.
    let mut before = car.clone();
    before["runs"][0]["try_cut_mm"] = json!(470);
    before["runs"][1]["to"]["at_mm"][0] = json!(61);
    before["runs"].as_array_mut().expect("runs").rotate_left(1);
    let mut known = Work::begin(accepted(&before), None);
    known.broad(&stock);
    let mut deep = known.clone();
    deep.whole(&stock);
    type Tells = fn(&mut Work, &Stock) -> job::Report;
    // A broad answer is on the way to the whole one, and tells what is known of that.
    let cases: [(Tells, &str, &[&Work]); 3] = [
        (Work::broad, "broad", &[&known]),
        (Work::car, "car", &[&known, &deep]),
        (Work::whole, "whole", &[&known, &deep]),
    ];
    for (tell, name, before) in cases {
        let fresh = bytes(&tell(&mut Work::begin(accepted(&car), None), &stock));
        for (i, before) in before.iter().enumerate() {
            let mut work = Work::begin(accepted(&car), Some((*before).clone()));
            assert_eq!(solve_rest(&mut work.clone(), &stock), 1, "two are known");
            assert!(bytes(&tell(&mut work, &stock)) == fresh, "{name}, {i}");
        }
    }
}
