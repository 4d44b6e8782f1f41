//! The scripting doors: what is read, what is refused and how it is named, and every field of the report.

use crate::cases::{changed, example, finding, near, only, text};
use job::{Problem, Report};
use serde_json::{Value, json};
use share::BadFile;
use stock::Stock;

fn answer(text: &str) -> Result<Report, BadFile> {
    share::answer(text, &Stock::built_in())
}

/// The example with its run changed.
fn example_with(change: impl FnOnce(&mut Value)) -> String {
    changed(&example(), |job| change(&mut job["runs"][0]))
}

/// The example with one field of its run set, by its path from the run.
fn set(path: &str, value: Value) -> String {
    example_with(|run| {
        let (parents, name) = path.rsplit_once('/').unwrap_or(("", path));
        let parent = if parents.is_empty() { run } else { run.pointer_mut(&format!("/{parents}")).expect("a parent") };
        parent[name] = value;
    })
}

fn report(text: &str) -> Report {
    answer(text).unwrap_or_else(|why| panic!("{why}"))
}

/// The only problem.
fn problem(report: &Report) -> &Problem {
    assert_eq!(report.problems.len(), 1, "{:?}", report.problems);
    let problem = &report.problems[0];
    assert!(!problem.wrong.is_empty() && !problem.right.is_empty(), "{problem:?}");
    problem
}

#[derive(Clone, Copy, Debug)]
enum Is {
    Text,
    Number,
    Flag,
    /// Two numbers, the second not less than the first.
    Pair,
    List,
    Object,
    /// Triples of numbers.
    Points,
}

impl Is {
    fn holds(self, value: &Value) -> bool {
        let numbers = |value: &Value, n: usize| {
            value.as_array().is_some_and(|list| list.len() == n && list.iter().all(Value::is_number))
        };
        match self {
            Self::Text => value.as_str().is_some_and(|text| !text.is_empty()),
            Self::Number => value.is_number(),
            Self::Flag => value.is_boolean(),
            Self::Pair => numbers(value, 2) && value[0].as_f64() <= value[1].as_f64(),
            Self::List => value.is_array(),
            Self::Object => value.is_object(),
            Self::Points => value.as_array().is_some_and(|list| list.len() > 20 && list.iter().all(|p| numbers(p, 3))),
        }
    }
}

fn shaped(value: &Value, fields: &[(&str, Is)]) {
    for (name, is) in fields {
        let field = value.get(name).unwrap_or_else(|| panic!("no field {name} in {value}"));
        assert!(is.holds(field), "{name} is not {is:?}: {field}");
    }
}

#[test]
fn the_report_of_the_example_has_every_field_and_type_that_scripts_read() {
    let told = serde_json::to_value(report(&example())).expect("JSON");
    shaped(&told, &[("format", Is::Text), ("version", Is::Number), ("problems", Is::List), ("runs", Is::List)]);
    assert_eq!((&told["format"], &told["version"]), (&json!("hosewright-report"), &json!(1)));
    let run = &told["runs"][0];
    shaped(run, &[("candidates", Is::List), ("remedies", Is::List), ("cautions", Is::List), ("name", Is::Text)]);
    let candidates = run["candidates"].as_array().expect("a list");
    assert!(!candidates.is_empty());
    for candidate in candidates {
        shaped(
            candidate,
            &[
                ("hose", Is::Object),
                ("cut_window_mm", Is::Pair),
                ("more_windows_mm", Is::List),
                ("cut_mm", Is::Number),
                ("nearest", Is::Flag),
                ("lie", Is::Object),
                ("clamps", Is::List),
                ("findings", Is::List),
            ],
        );
        let calm = candidate.get("calm_window_mm").expect("a pair, or null");
        assert!(calm.is_null() || Is::Pair.holds(calm), "{calm}");
        // A chance is null until it is worked out, and then from 0 to 1.
        let chance = candidate.get("chance").expect("a chance, or null");
        assert!(chance.is_null() || chance.as_f64().is_some_and(|chance| (0.0..=1.0).contains(&chance)), "{chance}");
        shaped(&candidate["hose"], &[("source", Is::Text), ("bore_mm", Is::Number), ("outside_mm", Is::Number)]);
        shaped(
            &candidate["lie"],
            &[("points_mm", Is::Points), ("tightest_bend_mm", Is::Number), ("at_mm", Is::Number)],
        );
        for finding in candidate["findings"].as_array().expect("a list") {
            shaped(finding, &[("check", Is::Text), ("verdict", Is::Text), ("unit", Is::Text), ("why", Is::Text)]);
            let verdict = finding["verdict"].as_str().expect("a word");
            assert!(["pass", "warn", "fail", "not checked"].contains(&verdict), "{verdict}");
            for name in ["actual", "allowed", "at_mm"] {
                let number = finding.get(name).unwrap_or_else(|| panic!("no field {name} in {finding}"));
                assert!(number.is_number() || number.is_null(), "{name}: {number}");
            }
            let source = finding["source"].as_str().expect("text");
            assert_eq!(source.is_empty(), verdict == "not checked", "a verdict names its source: {finding}");
        }
        let of = |check: &str| {
            let list = candidate["findings"].as_array().expect("a list");
            list.iter().find(|finding| finding["check"] == check).unwrap_or_else(|| panic!("no finding {check}"))
        };
        shaped(of("kink"), &[("actual", Is::Number), ("allowed", Is::Number), ("at_mm", Is::Number)]);
        shaped(of("kink"), &[("kink_radius_centre_mm", Is::Number)]);
        shaped(of("standoff"), &[("actual", Is::Number), ("allowed", Is::Number), ("at_mm", Is::Number)]);
    }
}

#[test]
fn the_report_reads_back_as_it_was_told() {
    let told = report(&example());
    let read: Report = serde_json::from_str(&serde_json::to_string(&told).expect("JSON")).expect("a report");
    assert_eq!(read, told);
}

#[test]
fn the_lie_runs_from_mouth_to_mouth_in_equal_steps() {
    let told = report(&set("try_cut_mm", json!(485)));
    let line = crate::cases::centre_line(only(&told));
    let (first, last) = (line[0], line[line.len() - 1]);
    near((first - shape::Vec3::ZERO).norm(), 0.0, 0.002, "begins at mouth A");
    near((last - shape::Vec3::new(-280.0, 210.0, 70.0)).norm(), 0.0, 0.002, "ends at mouth B");
    // 485 less both seats; a chord is shorter than its arc by (step/R)²/24, here under a thousandth.
    let step = 425.0 / (line.len() - 1) as f64;
    for pair in line.windows(2) {
        near((pair[1] - pair[0]).norm(), step, 0.002 * step, "a step");
    }
}

#[test]
fn with_a_hose_given_it_is_the_only_candidate_and_a_tried_cut_is_the_one_told() {
    let hose = json!({ "bore_mm": 16, "outside_mm": 24, "rubber": "EPDM", "class": "D-3" });
    let told = report(&changed(&set("hose", hose), |job| job["runs"][0]["try_cut_mm"] = json!(470.5)));
    assert_eq!(told.runs[0].candidates.len(), 1);
    near(only(&told).cut_mm, 470.5, 1e-9, "cut");
    // SAE J20: class D-3 bears 150 °C.
    assert_eq!(only(&told).hose.limit_c, Some(150.0));
}

#[test]
fn an_unknown_field_leaves_its_run_out_and_keeps_the_others() {
    for (path, field) in [
        ("hoses", "hoses"),
        ("from/spigot_in", "from.spigot_in"),
        ("neighbours/0/colour", "neighbours[0].colour"),
        ("neighbours/0/shape/rod/bent", "neighbours[0].shape.rod.bent"),
    ] {
        let bad = set(path, json!(1));
        let two = changed(&example(), |job| {
            let bad: Value = serde_json::from_str(&bad).expect("JSON");
            let runs = job["runs"].as_array_mut().expect("runs");
            runs.insert(0, bad["runs"][0].clone());
            runs[1]["name"] = json!("the sound one");
        });
        let told = report(&two);
        let problem = problem(&told);
        assert_eq!((problem.run, problem.field.as_str()), (Some(0), field), "{problem:?}");
        assert_eq!((told.runs.len(), told.runs[0].run, told.runs[0].name.as_str()), (1, 1, "the sound one"));
        // The one that is kept is answered as if it were alone.
        assert_eq!(told.runs[0].candidates, report(&example()).runs[0].candidates, "{path}");
    }
}

#[test]
fn answers_and_problems_carry_the_place_of_their_run_in_the_file() {
    let told = report(&changed(&example(), |job| {
        let sound = job["runs"][0].clone();
        let [mut unreadable, mut slip] = [sound.clone(), sound.clone()];
        unreadable["colour"] = json!("red");
        slip["from"]["spigot_mm"] = json!(0.63);
        job["runs"] = json!([sound, unreadable, slip, sound, unreadable]);
    }));
    let places: Vec<_> = told.problems.iter().map(|problem| (problem.run, problem.field.as_str())).collect();
    assert_eq!(places, [(Some(1), "colour"), (Some(2), "from.spigot_mm"), (Some(4), "colour")]);
    assert_eq!(told.runs.iter().map(|run| run.run).collect::<Vec<_>>(), [0, 3]);
}

#[test]
fn a_wrong_value_leaves_its_run_out_with_field_and_a_likely_right_value() {
    for (path, value, field, right) in [
        ("from/spigot_mm", json!(0.63), "from.spigot_mm", "16"),
        ("from/seat_mm", json!(-30), "from.seat_mm", "30"),
        ("to/points", json!([0, 0, 0]), "to.points", "[1, 0, 0]"),
        ("to/at_mm", json!([0, 0, 0]), "to.at_mm", "mouth B"),
        ("from/bead_mm", json!("non"), "from.bead_mm", "\"none\""),
        ("from/bead_mm", json!(12), "from.bead_mm", "diameter"),
        ("from/made_of", json!("wood"), "from.made_of", "steel"),
        ("neighbours/1/surface_c", json!(80), "neighbours[1].surface_c", "hot"),
        ("hose", json!({ "bore_mm": 16 }), "hose", "wall_mm"),
        ("hose", json!({ "bore_mm": 16, "outside_mm": 12 }), "hose.outside_mm", "outside"),
        ("hose", json!({ "bore_mm": 16, "wall_mm": 4, "class": "Z" }), "hose.class", "D-1"),
    ] {
        let told = report(&set(path, value.clone()));
        let problem = problem(&told);
        assert_eq!((problem.run, problem.field.as_str()), (Some(0), field), "{path} {value}");
        assert!(problem.right.contains(right), "{path} {value}: {problem:?}");
        assert!(told.runs.is_empty(), "{path} {value} is answered in spite of its problem");
    }
    // Of the wrong type, or missing what is required.
    for (path, value) in
        [("from/spigot_mm", json!("16")), ("neighbours/0/kind", json!("warm")), ("to/at_mm", json!([0, 0]))]
    {
        let told = report(&set(path, value));
        assert!(
            told.runs.is_empty() && problem(&told).field.starts_with(&path.split('/').next().expect("a name")[..2])
        );
    }
    for required in ["spigot_mm", "at_mm", "points"] {
        let told = report(&example_with(|run| {
            run["to"].as_object_mut().expect("an end").remove(required);
        }));
        assert!(told.runs.is_empty(), "{required}");
        let problem = problem(&told);
        assert!(problem.field.starts_with("to") && problem.wrong.contains(required), "{problem:?}");
    }
}

#[test]
fn what_is_worked_out_is_no_problem() {
    for (path, value) in [
        ("sleeve", json!("new")),
        ("sleeve", json!("dirty")),
        ("neighbours/0/shield", json!({ "gap_mm": 20 })),
        ("flow_can_stop", json!(true)),
        ("sleeve", json!("none")),
        ("from/turns", json!("no")),
        ("from/turns", json!({ "about": [0, 0, 1] })),
        ("rock_mm", json!([0, 0, 0])),
        ("neighbours/1/may_touch", json!(false)),
    ] {
        assert!(report(&set(path, value)).problems.is_empty(), "{path}");
    }
}

#[test]
fn null_is_the_same_as_absent() {
    let optional = [
        "/car",
        "/conditions",
        "/conditions/cap_kpa",
        "/conditions/coolant",
        "/conditions/stands",
        "/runs/0/name",
        "/runs/0/rock_mm",
        "/runs/0/rock",
        "/runs/0/hose",
        "/runs/0/replaces",
        "/runs/0/side",
        "/runs/0/flow_can_stop",
        "/runs/0/sleeve",
        "/runs/0/stood",
        "/runs/0/try_cut_mm",
        "/runs/0/from/name",
        "/runs/0/from/bead_mm",
        "/runs/0/from/seat_mm",
        "/runs/0/from/on",
        "/runs/0/from/made_of",
        "/runs/0/from/straight_mm",
        "/runs/0/from/can_move_mm",
        "/runs/0/from/seat_from",
        "/runs/0/from/turns",
        "/runs/0/from/angle_error_deg",
        "/runs/0/neighbours/0/name",
        "/runs/0/neighbours/0/on",
        "/runs/0/neighbours/0/surface_c",
        "/runs/0/neighbours/0/standoff_mm",
        "/runs/0/neighbours/0/shield",
        "/runs/0/neighbours/0/travel_mm",
        "/runs/0/neighbours/0/may_touch",
        "/runs/0/bows",
        "/runs/0/legs",
        "/runs/0/elbows",
        "/runs/0/from/turned_deg",
    ];
    for path in optional {
        let (parent, name) = path.rsplit_once('/').expect("a path");
        let [null, absent] = [true, false].map(|null| {
            changed(&example(), |job| {
                let parent = job.pointer_mut(parent).expect("a parent").as_object_mut().expect("an object");
                if null {
                    parent.insert(name.to_owned(), Value::Null);
                } else {
                    parent.remove(name);
                }
            })
        });
        assert_eq!(answer(&null), answer(&absent), "{path}");
        assert!(answer(&null).is_ok_and(|report| report.problems.is_empty() && report.runs.len() == 1), "{path}");
    }
}

#[test]
fn a_text_that_is_no_job_file_is_refused_with_its_place() {
    let refused = |text: &str| answer(text).expect_err(text);
    // Not JSON: line and column of the fault.
    let torn = example().replacen("\"runs\":", "\"runs\"", 1);
    let line = 1 + torn.lines().position(|line| line.contains("\"runs\"")).expect("a line");
    assert!(matches!(refused(&torn), BadFile::NotJson { line: at, .. } if at == line), "{}", refused(&torn));
    assert!(refused(&torn).to_string().starts_with(&format!("line {line}, column ")), "{}", refused(&torn));
    assert!(matches!(refused(""), BadFile::NotJson { .. }));
    for not_a_job in [
        "[]",
        "7",
        "null",
        "{}",
        r#"{"format":"hosewright-report","version":1,"runs":[]}"#,
        r#"{"format":7,"version":1,"runs":[]}"#,
    ] {
        assert_eq!(refused(not_a_job), BadFile::NotAJob, "{not_a_job}");
    }
    assert!(refused("{}").to_string().starts_with("field format"));
    let with = |name: &str, value: Value| changed(&example(), |job| job[name] = value);
    assert_eq!(refused(&with("version", json!(2))), BadFile::Newer { version: 2 });
    for version in [json!(0), json!("1"), json!(1.5), json!(-1), Value::Null] {
        let bad = refused(&with("version", version.clone()));
        assert!(matches!(&bad, BadFile::Field { field, .. } if field == "version"), "{version}: {bad:?}");
    }
    for (name, value, field) in [
        ("colour", json!("red"), "colour"),
        ("runs", json!({}), "runs"),
        ("runs", Value::Null, "runs"),
        ("car", json!(7), "car"),
        ("conditions", json!({ "cap_psi": 15 }), "conditions.cap_psi"),
        ("conditions", json!({ "cap_kpa": "110" }), "conditions.cap_kpa"),
        (
            "conditions",
            json!({ "coolant": { "glycol": "methanol", "percent_by_volume": 50 } }),
            "conditions.coolant.glycol",
        ),
    ] {
        let bad = refused(&with(name, value));
        assert!(matches!(&bad, BadFile::Field { field: named, .. } if named == field), "{bad:?}");
        assert!(bad.to_string().starts_with(&format!("field {field}: ")), "{bad}");
    }
    let long = format!("{}{}", example(), " ".repeat(share::LONGEST));
    assert_eq!(refused(&long), BadFile::TooLong);
}

#[test]
fn a_job_without_runs_has_an_empty_answer() {
    let told = report(r#"{"format":"hosewright-job","version":1,"runs":[]}"#);
    assert!(told.runs.is_empty() && told.problems.is_empty());
}

#[test]
fn what_the_page_exports_is_what_the_script_reads() {
    for text in [example(), text("square_corner"), text("side_step")] {
        let opened = share::read(&text).expect("a job file");
        let written = share::write(&opened.input);
        assert_eq!(answer(&written), answer(&text));
    }
}

#[test]
fn an_end_that_was_not_measured_is_not_checked_rather_than_passed() {
    // The example's heater core has no known bead, and nobody said how far the hose slides back.
    let told = report(&example());
    for (check, about) in [("bead", "heater core"), ("assembly", "")] {
        let finding = finding(only(&told), check, about);
        assert_eq!((finding.verdict.as_str(), finding.actual), ("not checked", None));
        assert!(finding.why.starts_with("not checked: needs "), "{}", finding.why);
    }
}
