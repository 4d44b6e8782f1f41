//! Answers that once were otherwise than they ought to be, each held against what is right.

use crate::cases::{answer, best, changed, example, job, only, run, text, told};

use serde_json::{Value, json};
use stock::Stock;

#[test]
fn a_hose_fits_a_spigot_of_its_own_size() {
    let stock = Stock::built_in();
    let mut refused = Vec::new();
    for hose in stock.hoses.iter() {
        let size = hose.bore.as_mm();
        let end = |at: [f64; 3], points: [f64; 3]| json!({ "spigot_mm": size, "seat_mm": 35, "at_mm": at, "points": points, "on": "body" });
        let told = answer(&job(
            &json!({ "from": end([0.0; 3], [1.0, 0.0, 0.0]), "to": end([600.0, 600.0, 0.0], [0.0, -1.0, 0.0]) }),
        ));
        if !told.runs[0].candidates.iter().any(|c| c.hose.bore_mm.to_bits() == size.to_bits()) {
            refused.push(size);
        }
    }
    refused.dedup();
    assert!(refused.is_empty(), "refused on a spigot of their own size: {refused:?}");
}

#[test]
fn a_cut_too_short_to_reach_does_not_fit() {
    let told = answer(&changed(&example(), |job| job["runs"][0]["try_cut_mm"] = json!(100)));
    let candidate = only(&told);
    assert!(candidate.lie.is_none());
    assert_eq!(candidate.verdict, "fail", "{}", candidate.headline);
    assert!(!candidate.headline.starts_with("Fits"), "{}", candidate.headline);
}

#[test]
fn without_a_practical_length_the_headline_says_so() {
    let told = told("square_corner");
    let candidate = best(run(&told, "limit 149"));
    assert!(candidate.headline.starts_with("No length works"), "{}", candidate.headline);
}

#[test]
fn a_solid_bracket_is_as_near_on_the_left_as_on_the_right() {
    let told = answer(&changed(&text("side_step"), |job| {
        for run in job["runs"].as_array_mut().expect("runs") {
            if let Some(things) = run.get_mut("neighbours").and_then(Value::as_array_mut) {
                things.iter_mut().for_each(|thing| thing["standoff_mm"] = Value::Null);
            }
        }
    }));
    let of = |name: &str| {
        let f = crate::cases::finding(best(run(&told, name)), "standoff", "bracket");
        (f.verdict.clone(), f.actual.map(f64::round))
    };
    assert_eq!(of("bracket on the left"), of("bracket on the right"));
}

#[test]
fn the_suggested_cut_of_a_window_free_of_fails_fails_nothing() {
    let told = answer(
        r#"{"car":"invented","format":"hosewright-job","runs":[{"from":{"at_mm":[18.083,-101.891,248.588],"bead_mm":20.7,"made_of":"brass","on":"engine","points":[-0.046,-1.142,0.378],"seat_mm":44.4,"spigot_mm":16.0},"hose":{"bore_mm":16.0,"rubber":"EPDM","wall_mm":5.1},"neighbours":[{"kind":"moving","name":"a thing","on":"body","shape":{"rod":{"diameter_mm":12.4,"from_mm":[5.647,-205.309,427.084],"to_mm":[-98.72,-208.249,51.282]}}},{"kind":"solid","name":"a thing","on":"body","shape":{"ball":{"at_mm":[19.856,-194.388,222.803],"diameter_mm":31.5}}}],"side":"pump inlet","to":{"at_mm":[-45.531,-389.556,128.985],"bead_mm":19.4,"made_of":"brass","on":"body","points":[0.824,0.784,0.003],"seat_mm":20.3,"spigot_mm":16.5}}],"version":1}"#,
    );
    let candidate = only(&told);
    assert!(
        candidate.cut_window_mm.is_none() || candidate.verdict != "fail",
        "{:?} {}",
        candidate.cut_window_mm,
        candidate.headline
    );
}

#[test]
fn null_lists_are_absent_lists() {
    for path in ["/runs/0/via", "/runs/0/neighbours", "/runs/0/from/typed"] {
        let text = changed(&example(), |job| {
            let (parent, name) = path.rsplit_once('/').expect("a path");
            job.pointer_mut(parent).expect("a parent")[name] = Value::Null;
        });
        assert_eq!(share::answer(&text, &Stock::built_in()).expect("read").runs.len(), 1, "{path}");
    }
}

#[test]
fn a_piece_too_short_for_the_cut_is_told_or_a_problem() {
    let text =
        changed(&example(), |job| job["runs"][0]["hose"] = json!({ "bore_mm": 16, "wall_mm": 4, "piece_mm": 300 }));
    let told = share::answer(&text, &Stock::built_in()).expect("read");
    assert!(told.problems.iter().any(|p| p.field == "hose.piece_mm") || told.runs[0].candidates[0].verdict == "fail");
}

#[test]
fn a_number_of_any_length_reads_back_to_the_last_bit() {
    let mut input = share::read(&example()).expect("read").input;
    input.runs[0].try_cut_mm = Some(9443.711186741373);
    assert_eq!(share::read(&share::write(&input)).expect("read").input, input);
}
