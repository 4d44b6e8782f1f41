//! The cut list through the door: which runs are in it, what is bought, and what comes from which, worked out by hand.

use crate::cases::{answer, best, changed, example};
use job::{CutsReport, Report};
use serde_json::{Value, json};

/// The example's run again and again, each with changes of its own.
fn runs(changes: &[Value]) -> Report {
    let text = changed(&example(), |job| {
        let run = job["runs"][0].clone();
        let with = |change: &Value| {
            let mut run = run.clone();
            for (field, value) in change.as_object().expect("fields") {
                run[field] = value.clone();
            }
            run
        };
        job["runs"] = Value::Array(changes.iter().map(with).collect());
    });
    answer(&text)
}

fn own(piece_mm: Option<f64>) -> Value {
    json!({ "bore_mm": 16, "wall_mm": 4, "class": "D-1", "piece_mm": piece_mm })
}

fn cuts(report: &Report) -> &CutsReport {
    report.cuts.as_ref().expect("two runs work")
}

#[test]
fn one_run_has_no_cut_list() {
    assert_eq!(answer(&example()).cuts, None);
}

#[test]
fn pieces_of_one_hose_come_off_one_length() {
    let report = runs(&[json!({ "name": "flow" }), json!({ "name": "return" })]);
    let [group] = cuts(&report).groups.as_slice() else { panic!("{:?}", report.cuts) };
    let told: Vec<f64> = report.runs.iter().map(|run| best(run).cut_mm).collect();
    let names: Vec<_> = group.pieces.iter().map(|piece| (piece.run, piece.name.as_str(), piece.cut_mm)).collect();
    assert_eq!(names, [(0, "flow", told[0]), (1, "return", told[1])]);
    assert_eq!(&group.hose, &best(&report.runs[0]).hose);
    // By hand: both cuts and 20 mm each, up to the next step of the table of hoses.
    let need = told.iter().sum::<f64>() + 40.0;
    let step = group.sold_by_mm.expect("off a roll");
    let steps = (need / step).ceil();
    let [only] = group.lengths.as_slice() else { panic!("{group:?}") };
    assert!((only.length_mm - steps * step).abs() < 0.06 && !only.at_hand && group.proven, "{group:?}");
    assert!((only.left_mm - (only.length_mm - need)).abs() < 0.11, "{group:?}");
}

#[test]
fn the_longest_piece_at_hand_comes_first() {
    // Once 485 mm or so with 20 mm goes into 600 mm, twice it does not: the other is bought, by the 100 mm.
    let report = runs(&[
        json!({ "name": "flow", "hose": own(Some(600.0)) }),
        json!({ "name": "return", "hose": own(Some(600.0)) }),
    ]);
    let [group] = cuts(&report).groups.as_slice() else { panic!("{:?}", report.cuts) };
    let cut = best(&report.runs[0]).cut_mm;
    assert!(cut + 20.0 <= 600.0 && 2.0 * (cut + 20.0) > 600.0, "the layout of this test: {cut}");
    let [first, second] = group.lengths.as_slice() else { panic!("{group:?}") };
    assert!(first.at_hand && first.pieces == [0] && !second.at_hand && second.pieces == [1], "{group:?}");
    assert!((group.bought_mm - ((cut + 20.0) / 100.0).ceil() * 100.0).abs() < 1e-9, "{group:?}");
    assert_eq!(group.assumed.len(), 2, "one piece named twice; how it is sold: {:?}", group.assumed);
}

#[test]
fn runs_where_no_length_works_are_left_out() {
    // A hose that creases at 500 mm fits no run of the example's size.
    let stiff = json!({ "bore_mm": 16, "wall_mm": 4, "creases_at_inside_mm": 500 });
    let three = [json!({ "name": "flow" }), json!({ "name": "odd", "hose": stiff }), json!({ "name": "return" })];
    let report = runs(&three);
    assert_eq!(cuts(&report).left_out, ["odd"]);
    let places: Vec<_> = cuts(&report).groups[0].pieces.iter().map(|piece| piece.run).collect();
    assert_eq!(places, [0, 2]);
    let two = runs(&three[..2]);
    assert_eq!((cuts(&two).groups[0].pieces.len(), cuts(&two).left_out.as_slice()), (1, &["odd".to_owned()][..]));
}

#[test]
fn pieces_are_under_the_place_of_their_run_in_the_file() {
    let text = changed(&example(), |job| {
        let run = job["runs"][0].clone();
        job["runs"] = json!([{ "nonsense": 1 }, run, run]);
    });
    let report = share::answer(&text, &stock::Stock::built_in()).expect("a job file");
    let places: Vec<_> = cuts(&report).groups[0].pieces.iter().map(|piece| piece.run).collect();
    assert_eq!(places, [1, 2]);
}
