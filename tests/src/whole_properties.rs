//! What must hold between the answers to two jobs of which one is a change of the other.

use crate::cases::{best, changed, example, near};
use crate::layouts::Draw;
use crate::whole_jobs::{Drawn, thing};
use job::{CandidateReport, FindingReport, LieReport};
use serde_json::{Value, json};
use shape::Vec3;

/// How far an edge may be off: the search finds it to a hundredth, the report tells a tenth.
const EDGE: f64 = 0.2;

/// All windows, shortest first.
fn windows(candidate: &CandidateReport) -> Vec<[f64; 2]> {
    candidate.cut_window_mm.into_iter().chain(candidate.more_windows_mm.iter().copied()).collect()
}

/// Whether `narrow` lies within `wide`.
fn within(narrow: &[[f64; 2]], wide: &[[f64; 2]]) -> bool {
    narrow.iter().all(|[lo, hi]| wide.iter().any(|[from, to]| *from <= lo + EDGE && *to >= hi - EDGE))
}

fn triple(value: &Value) -> Vec3 {
    let at = |i: usize| value[i].as_f64().expect("a number");
    Vec3::new(at(0), at(1), at(2))
}

fn severity(finding: &FindingReport) -> usize {
    ["pass", "not checked", "warn", "fail"].iter().position(|word| *word == finding.verdict).expect("a verdict")
}

/// The standoff from the only thing near.
fn standoff(candidate: &CandidateReport) -> &FindingReport {
    candidate.findings.iter().find(|finding| finding.check == "standoff").expect("a thing is near")
}

#[test]
fn one_more_neighbour_never_widens_the_lengths_that_work() {
    let mut draw = Draw(41);
    let mut narrower = 0;
    for _ in 0..60 {
        let alone = Drawn::plain(&mut draw);
        let (a, b) = (triple(&alone.0["from"]["at_mm"]), triple(&alone.0["to"]["at_mm"]));
        let (one, two) = (thing(&mut draw, a, b), thing(&mut draw, a, b));
        let with_one = alone.with("neighbours", json!([one]));
        let with_two = alone.with("neighbours", json!([one, two]));
        let [none, one, two] = [&alone, &with_one, &with_two].map(|drawn| windows(&drawn.best()));
        assert!(within(&one, &none), "{one:?} in {none:?}: {}", with_one.text());
        assert!(within(&two, &one), "{two:?} in {one:?}: {}", with_two.text());
        narrower += usize::from(one != none);
    }
    assert!(narrower > 20, "only {narrower} of 60 things were in the way");
}

#[test]
fn a_longer_seat_moves_the_lengths_by_just_as_much_and_leaves_the_free_hose_as_it_was() {
    let mut draw = Draw(42);
    let mut moved = 0;
    for _ in 0..60 {
        let short = Drawn::plain(&mut draw);
        let mut long = short.clone();
        long.0["from"]["seat_mm"] = json!(40.0);
        let (short, long) = (short.best(), long.best());
        let windows = [windows(&short), windows(&long)];
        assert_eq!(windows[0].len(), windows[1].len());
        for (short, long) in windows[0].iter().zip(&windows[1]) {
            near(long[0] - short[0], 10.0, 1e-6, "shortest");
            near(long[1] - short[1], 10.0, 1e-6, "longest");
            moved += 1;
        }
        let free = |candidate: &CandidateReport| candidate.marks.mouth_b_mm - candidate.marks.mouth_a_mm;
        near(free(&long), free(&short), 1e-6, "mouth to mouth");
        near(long.cut_mm - short.cut_mm, 10.0, 1e-6, "cut");
        // The gaps are told over the seats as well, of which one is longer.
        let between = |candidate: CandidateReport| {
            candidate.lie.map(|lie| LieReport { gap_places_mm: Vec::new(), gaps: Vec::new(), ..lie })
        };
        assert_eq!(between(long), between(short), "it lies as it did");
    }
    assert!(moved > 40, "only {moved} windows");
}

/// The same run with left and right exchanged everywhere.
fn mirrored(value: &Value) -> Value {
    match value {
        Value::Object(map) => {
            let mirror = |(name, inner): (&String, &Value)| {
                let turned = match (name.as_str(), inner.as_array()) {
                    ("at_mm" | "points" | "from_mm" | "to_mm" | "bows" | "towards" | "along", Some(v)) => {
                        json!([v[0], -v[1].as_f64().expect("a number"), v[2]])
                    }
                    _ => mirrored(inner),
                };
                (name.clone(), turned)
            };
            map.iter().map(mirror).collect()
        }
        Value::Array(list) => list.iter().map(mirrored).collect(),
        _ => value.clone(),
    }
}

#[test]
fn a_mirrored_car_has_the_same_lengths_and_the_same_cut() {
    let mut draw = Draw(43);
    let mut compared = 0;
    for _ in 0..30 {
        let drawn = Drawn::draw(&mut draw);
        let [here, there] = [drawn.clone(), Drawn(mirrored(&drawn.0))].map(|drawn| drawn.answer());
        let [here, there] = [&here.runs[0], &there.runs[0]];
        assert_eq!(here.candidates.len(), there.candidates.len(), "{}", drawn.text());
        for (here, there) in here.candidates.iter().zip(&there.candidates) {
            let [a, b] = [windows(here), windows(there)];
            assert!(within(&a, &b) && within(&b, &a), "{a:?} {b:?}: {}", drawn.text());
            if here.nearest {
                continue;
            }
            // The chances are the same but for a sample or two that fall on an edge, and the cut is told in steps of 5 mm.
            near(here.cut_mm, there.cut_mm, 5.0, &drawn.text());
            let verdicts = |candidate: &CandidateReport| -> Vec<String> {
                candidate.findings.iter().map(|f| format!("{} {} {}", f.check, f.about, f.verdict)).collect()
            };
            assert_eq!(verdicts(here), verdicts(there), "{}", drawn.text());
            compared += 1;
        }
    }
    assert!(compared > 20, "only {compared}");
}

#[test]
fn a_thicker_thing_is_nearer_and_never_improves_anything() {
    let mut draw = Draw(44);
    let mut worse = 0;
    for _ in 0..40 {
        let plain = Drawn::plain(&mut draw);
        let (a, b) = (triple(&plain.0["from"]["at_mm"]), triple(&plain.0["to"]["at_mm"]));
        let near_it = a + (b - a) * draw.between(0.2, 0.8) + draw.direction() * draw.between(90.0, 130.0);
        let along = draw.direction() * 200.0;
        let of = |diameter: f64| {
            let [from, to] = [near_it - along, near_it + along].map(|v| [v.x, v.y, v.z]);
            let rod = json!({ "rod": { "from_mm": from, "to_mm": to, "diameter_mm": diameter } });
            plain.with("neighbours", json!([{ "shape": rod, "kind": "moving", "on": "engine" }]))
        };
        let cut = (b - a).norm() * draw.between(1.05, 1.5) + 60.0;
        let (thin, thick) = (of(10.0), of(60.0));
        let [wide, narrow] = [&thin, &thick].map(|drawn| windows(&drawn.best()));
        assert!(within(&narrow, &wide), "{narrow:?} in {wide:?}: {}", thick.text());
        let [thin, thick] = [thin, thick].map(|drawn| drawn.with("try_cut_mm", json!(cut)).best());
        assert!(severity(standoff(&thick)) >= severity(standoff(&thin)), "{plain:?}");
        // Not of two lies the one that fails: it may be another for the thicker one, but then it is the nearer.
        let gap = |candidate: &CandidateReport| standoff(candidate).actual.expect("a distance");
        assert!(gap(&thick) <= gap(&thin) + 0.01, "{} {}: {plain:?}", gap(&thick), gap(&thin));
        worse += usize::from(severity(standoff(&thick)) > severity(standoff(&thin)));
    }
    assert!(worse > 3, "only {worse} turned");
}

#[test]
fn a_hotter_thing_never_improves_anything() {
    let with = |celsius: f64| {
        let text = changed(&example(), |job| job["runs"][0]["neighbours"][0]["surface_c"] = json!(celsius));
        best(&crate::cases::answer(&text).runs[0]).clone()
    };
    let mut last = with(100.0);
    for celsius in [200.0, 300.0, 400.0, 500.0, 600.0, 700.0] {
        let hotter = with(celsius);
        assert!(within(&windows(&hotter), &windows(&last)), "{celsius}");
        let cold: usize = last.findings.iter().map(severity).max().expect("findings");
        assert!(hotter.findings.iter().map(severity).max() >= Some(cold), "{celsius}");
        last = hotter;
    }
}

#[test]
fn a_distance_asked_for_only_narrows() {
    let with = |kind: &str, asked: Value| {
        let text = changed(&example(), |job| {
            job["runs"][0]["neighbours"][1]["standoff_mm"] = asked;
            job["runs"][0]["neighbours"][1]["kind"] = json!(kind);
        });
        windows(best(&crate::cases::answer(&text).runs[0]))
    };
    let mut last = with("solid", Value::Null);
    for asked in [5.0, 12.0, 20.0, 40.0] {
        let narrower = with("solid", json!(asked));
        assert!(within(&narrower, &last) && narrower != last, "{asked}: {narrower:?} {last:?}");
        last = narrower;
    }
    // What moves needs 25 mm (TM 5-4210-220-12), what is solid need only not be touched.
    let (moving, solid) = (with("moving", Value::Null), with("solid", Value::Null));
    assert!(within(&moving, &solid) && moving != solid, "{moving:?} {solid:?}");
}

#[test]
fn a_tighter_crease_in_the_bend_test_never_takes_lengths_away() {
    let mut draw = Draw(45);
    for _ in 0..30 {
        let plain = Drawn::plain(&mut draw);
        let at = |crease: f64| {
            let hose = json!({ "bore_mm": 16, "wall_mm": 4, "creases_at_inside_mm": crease });
            windows(&plain.with("hose", hose).best())
        };
        let [supple, usual, stubborn] = [15.0, 34.0, 60.0].map(at);
        assert!(within(&stubborn, &usual) && within(&usual, &supple), "{stubborn:?} {usual:?} {supple:?}");
    }
}
