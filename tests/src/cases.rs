//! Reads the whole jobs of `cases/`, asks them through the door that a script uses, and finds what was told.

use crate::how_good;
use job::{CandidateReport, FindingReport, Report, RunReport};
use serde_json::{Value, json};
use shape::Vec3;
use share::Answering;
use std::path::{Path, PathBuf};
use stock::Stock;

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("cases")
}

/// The text of a case.
pub(crate) fn text(name: &str) -> String {
    let path = folder().join(name).join("job.json");
    std::fs::read_to_string(&path).unwrap_or_else(|why| panic!("{}: {why}", path.display()))
}

/// The job of `cases/example.json`, which is the page's first-load example.
pub(crate) fn example() -> String {
    std::fs::read_to_string(folder().join("example.json")).expect("the example is there")
}

/// The job of `cases/car.json`, the page's example car.
pub(crate) fn example_car() -> String {
    std::fs::read_to_string(folder().join("car.json")).expect("the example car is there")
}

/// The answer to a job without problems.
pub(crate) fn answer(text: &str) -> Report {
    let report = share::answer(text, &Stock::built_in()).unwrap_or_else(|why| panic!("{why}\n{text}"));
    assert!(report.problems.is_empty(), "{:?}", report.problems);
    report
}

/// The same without what takes longer: what would help, and how the lengths move with the stiffness. What is found is the same.
pub(crate) fn broad(text: &str) -> Report {
    let mut answering = Answering::begin(text, None).unwrap_or_else(|why| panic!("{why}\n{text}"));
    let report = answering.broad(&Stock::built_in());
    assert!(report.problems.is_empty(), "{:?}", report.problems);
    report
}

/// The answer to a case.
pub(crate) fn told(name: &str) -> Report {
    answer(&text(name))
}

/// A job of one run, for a question by hand; not measured on any car.
pub(crate) fn job(run: &Value) -> String {
    json!({ "format": "hosewright-job", "version": 1, "car": "invented", "runs": [run] }).to_string()
}

/// The job as JSON, changed.
pub(crate) fn changed(text: &str, change: impl FnOnce(&mut Value)) -> String {
    let mut value: Value = serde_json::from_str(text).expect("a job");
    change(&mut value);
    value.to_string()
}

/// The run of that name.
pub(crate) fn run<'a>(report: &'a Report, name: &str) -> &'a RunReport {
    report.runs.iter().find(|run| run.name == name).unwrap_or_else(|| panic!("no run \"{name}\""))
}

/// The first candidate of a run.
pub(crate) fn best(run: &RunReport) -> &CandidateReport {
    run.candidates.first().unwrap_or_else(|| panic!("{} has no candidate", run.name))
}

/// The only run's first candidate.
pub(crate) fn only(report: &Report) -> &CandidateReport {
    assert_eq!(report.runs.len(), 1);
    best(&report.runs[0])
}

/// The finding of a check about a spigot or thing; "" for the hose as a whole.
pub(crate) fn finding<'a>(candidate: &'a CandidateReport, check: &str, about: &str) -> &'a FindingReport {
    let found = candidate.findings.iter().find(|finding| finding.check == check && finding.about == about);
    found.unwrap_or_else(|| panic!("no finding {check} \"{about}\""))
}

/// What a check measured.
pub(crate) fn actual(candidate: &CandidateReport, check: &str, about: &str) -> f64 {
    finding(candidate, check, about).actual.unwrap_or_else(|| panic!("{check} \"{about}\" has no number"))
}

/// The verdict of a check.
pub(crate) fn verdict<'a>(candidate: &'a CandidateReport, check: &str, about: &str) -> &'a str {
    &finding(candidate, check, about).verdict
}

/// The centre line as it is told.
pub(crate) fn centre_line(candidate: &CandidateReport) -> Vec<Vec3> {
    let lie = candidate.lie.as_ref().expect("it lies somehow");
    lie.points_mm.iter().map(|p| Vec3::from(*p)).collect()
}

/// Asserts that two numbers differ by no more than `within`.
#[track_caller]
pub(crate) fn near(ours: f64, theirs: f64, within: f64, what: &str) {
    how_good::note("", (ours - theirs).abs(), within, 1);
    assert!((ours - theirs).abs() <= within, "{what}: {ours} against {theirs} within {within}");
}

#[test]
fn every_case_is_said_to_be_invented_and_is_read_without_a_problem() {
    let entries = std::fs::read_dir(folder()).expect("cases/ is there").map(|entry| entry.expect("an entry").path());
    let names: Vec<String> = entries
        .filter(|path| path.is_dir())
        .map(|path| path.file_name().expect("a name").to_string_lossy().into_owned())
        .collect();
    assert!(names.len() >= 10, "only {names:?}");
    for text in names.iter().map(|name| text(name)).chain([example()]) {
        let opened = share::read(&text).expect("a job file");
        assert!(opened.problems.is_empty(), "{:?}", opened.problems);
        assert!(opened.input.car.is_some_and(|car| car.contains("invented")), "{text}");
        assert_eq!(answer(&text).runs.len(), opened.input.runs.len(), "every run is answered");
    }
}
