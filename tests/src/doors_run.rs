//! The two scripting programs as processes: standard input to standard output, problems to standard error, exit 1 on what
//! cannot be read.

use crate::cases::{changed, example};
use serde_json::{Value, json};
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use std::sync::LazyLock;
use stock::Stock;

/// The folder of the two programs, built the way this test was: after the first time that is a second.
static PROGRAMS: LazyLock<PathBuf> = LazyLock::new(|| {
    let test = std::env::current_exe().expect("this test is a file");
    let built = test.parent().and_then(Path::parent).expect("in deps/ of what was built");
    let target = built.parent().expect("in the target folder");
    let mut cargo = Command::new(env!("CARGO"));
    cargo.args(["build", "--quiet", "--offline", "-p", "shape", "-p", "job", "--example", "rest", "--example", "size"]);
    cargo.arg("--target-dir").arg(target).current_dir(Path::new(env!("CARGO_MANIFEST_DIR")));
    if built.ends_with("release") {
        cargo.arg("--release");
    }
    let output = cargo.output().expect("cargo runs");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    built.join("examples")
});

/// What a program answers to this input.
fn said(program: &str, input: &[u8]) -> Output {
    let mut child = Command::new(PROGRAMS.join(program))
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap_or_else(|why| panic!("{program}: {why}"));
    // It may end before it has read everything.
    let _ = child.stdin.take().expect("a pipe").write_all(input);
    child.wait_with_output().expect("it ends")
}

fn text(bytes: &[u8]) -> &str {
    std::str::from_utf8(bytes).expect("text")
}

#[track_caller]
fn refused(program: &str, input: &[u8], says: &[&str]) {
    let output = said(program, input);
    let problem = text(&output.stderr);
    assert_eq!(output.status.code(), Some(1), "{problem}");
    assert!(says.iter().all(|words| problem.contains(words)), "{problem}");
    assert!(!problem.contains("panicked"), "{problem}");
}

#[test]
fn size_answers_the_example_as_the_page_would() {
    let output = said("size", example().as_bytes());
    assert!(output.status.success() && output.stderr.is_empty(), "{}", text(&output.stderr));
    let told: Value = serde_json::from_slice(&output.stdout).expect("JSON");
    let here = share::answer(&example(), &Stock::built_in()).expect("a job file");
    assert_eq!(told, serde_json::to_value(here).expect("JSON"));
}

#[test]
fn size_leaves_a_bad_run_out_and_says_so_and_refuses_what_it_cannot_read() {
    let bad_run = changed(&example(), |job| job["runs"][0]["from"]["colour"] = json!("red"));
    let output = said("size", bad_run.as_bytes());
    assert_eq!(output.status.code(), Some(0));
    let problem = text(&output.stderr);
    assert!(problem.contains("run 1") && problem.contains("from.colour"), "{problem}");
    let told: Value = serde_json::from_slice(&output.stdout).expect("JSON");
    assert_eq!((&told["runs"], &told["problems"][0]["run"]), (&json!([]), &json!(0)));
    refused("size", b"", &["line 1"]);
    refused("size", b"{\n\"format\" 7}", &["line 2"]);
    refused("size", b"\xff\xfe", &["line 1"]);
    refused("size", changed(&example(), |job| job["version"] = json!(9)).as_bytes(), &["version"]);
    refused("size", changed(&example(), |job| job["colour"] = json!("red")).as_bytes(), &["field colour"]);
}

/// The cases of `reference/lie_cases.json`, whose `input` has the names of the door.
fn cases() -> Vec<Value> {
    let file: Value = serde_json::from_str(include_str!("../reference/lie_cases.json")).expect("JSON");
    file["cases"].as_array().expect("a list").clone()
}

fn numbers(value: &Value) -> Vec<f64> {
    value.as_array().expect("a list").iter().map(|x| x.as_f64().expect("a number")).collect()
}

#[test]
fn rest_answers_line_by_line_with_the_lies_of_other_solvers() {
    let cases = cases();
    let lines: Vec<String> = cases
        .iter()
        .map(|case| {
            let mut question = case["input"].clone();
            question["id"] = case["id"].clone();
            question["lies"] = json!(9);
            question.to_string()
        })
        .collect();
    let output = said("rest", lines.join("\n").as_bytes());
    assert!(output.status.success(), "{}", text(&output.stderr));
    let answers: Vec<Value> =
        text(&output.stdout).lines().map(|line| serde_json::from_str(line).expect("JSON")).collect();
    assert_eq!(answers.len(), cases.len());
    for (answer, case) in answers.iter().zip(&cases) {
        let id = case["id"].as_str().expect("a name");
        assert_eq!(answer["id"], case["id"], "in order");
        let lies = answer["lies"].as_array().unwrap_or_else(|| panic!("{answer}"));
        let theirs = case["output"]["peak_curvature_per_mm"].as_f64().expect("a number");
        // The limit of referee.rs for a peak: 5e-4.
        let met = lies.iter().any(|lie| {
            let ours = lie["peak_curvature_per_mm"].as_f64().expect("a number");
            (ours / theirs - 1.0).abs() < 5e-4
        });
        assert!(met, "{id}: no lie bends by {theirs}");
        for lie in lies {
            let line = lie["centreline_mm"].as_array().expect("a list");
            assert_eq!(line.len(), 21, "{id}");
            for (end, mouth) in [(0, "A_mm"), (20, "B_mm")] {
                let (told, asked) = (numbers(&line[end]), numbers(&case["input"][mouth]));
                assert!(told.iter().zip(&asked).all(|(told, asked)| (told - asked).abs() < 1e-6), "{id} {mouth}");
            }
            assert_eq!(lie["stable"], json!(true));
            for name in ["force_on_hose_at_A_N", "moment_on_hose_at_A_Nmm"] {
                assert_eq!(numbers(&lie[name]).len(), 3, "{id} {name}");
            }
            let number = |name: &str| lie[name].as_f64().unwrap_or_else(|| panic!("{id} {name}"));
            assert!(number("bending_energy_Nmm") >= 0.0 && number("solve_us") > 0.0 && lie["neutral"].is_boolean());
            assert!((0.0..=number_of(case, "length_mm")).contains(&number("peak_curvature_at_mm")), "{id}");
        }
    }
}

fn number_of(case: &Value, name: &str) -> f64 {
    case["input"][name].as_f64().expect("a number")
}

#[test]
fn rest_names_what_has_no_lie_and_the_line_it_cannot_read() {
    let question = |length: f64| {
        json!({ "id": "Q", "A_mm": [0, 0, 0], "tangent_A": [1, 0, 0], "B_mm": [150, 150, 0], "tangent_B": [0, 1, 0],
            "length_mm": length, "EI_Nmm2": 56000, "weight_N_per_mm": [0, 0, 0], "lies": 1 })
    };
    for (length, word) in [(200.0, "too short to reach"), (-1.0, "bad input")] {
        let output = said("rest", question(length).to_string().as_bytes());
        let told: Value = serde_json::from_slice(&output.stdout).expect("JSON");
        assert!(output.status.success());
        assert_eq!(told, json!({ "id": "Q", "no_shape": word }));
    }
    let good = question(245.0).to_string();
    refused("rest", format!("{good}\n{good}\nseven\n").as_bytes(), &["line 3"]);
    let mut lacks = question(245.0);
    lacks.as_object_mut().expect("an object").remove("length_mm");
    refused("rest", format!("{good}\n{lacks}\n").as_bytes(), &["line 2", "length_mm"]);
    // What came before the bad line was answered.
    let output = said("rest", format!("{good}\nseven\n").as_bytes());
    assert_eq!(text(&output.stdout).lines().count(), 1);
}
