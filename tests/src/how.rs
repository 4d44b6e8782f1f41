//! How a number was come by, and which rubber to take: every check that a report names has its formula, every advice its source.

use crate::cases::{broad, example, job, text};
use crate::layouts::Draw;
use crate::whole_jobs::Drawn;
use job::{Report, RunReport};
use serde_json::json;
use std::collections::BTreeSet;

/// The whole jobs, with the checks that want a side of the pump, a cap and a hose that was there asked for in some.
fn reports() -> Vec<Report> {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("cases");
    let entries = std::fs::read_dir(folder).expect("cases/ is there").map(|entry| entry.expect("an entry").path());
    let mut names: Vec<String> = entries
        .filter(|path| path.is_dir())
        .map(|path| path.file_name().expect("a name").to_string_lossy().into_owned())
        .collect();
    names.sort();
    let mut texts: Vec<String> = names.iter().map(|name| text(name)).chain([example()]).collect();
    let mut draw = Draw(303);
    texts.extend((0..20).map(|_| {
        let mut run = Drawn::draw(&mut draw).0;
        run["side"] = json!("pump inlet");
        job(&run)
    }));
    texts.iter().map(|text| broad(text)).collect()
}

fn named(run: &RunReport) -> impl Iterator<Item = &str> {
    let candidates = run.candidates.iter();
    let told = candidates.flat_map(|c| c.findings.iter().chain(&c.shorter_fails).chain(&c.longer_fails));
    told.chain(run.rejected.iter().map(|rejected| &rejected.finding)).map(|finding| finding.check.as_str())
}

#[test]
fn every_check_that_a_report_names_says_how_it_is_come_by() {
    let mut seen = BTreeSet::new();
    for report in reports() {
        for run in &report.runs {
            seen.extend(named(run).map(str::to_owned));
            assert!(run.candidates.is_empty() || !run.advice.is_empty(), "{}: no advice on the rubber", run.name);
            for advice in &run.advice {
                assert!(advice.what.len() > 20 && advice.source.len() > 8 && !advice.basis.is_empty(), "{advice:?}");
            }
        }
    }
    for name in &seen {
        let how = job::how(name).unwrap_or_else(|| panic!("no formula for \"{name}\""));
        assert!(how.formula.len() > 15 && how.from.len() > 5 && !how.worth.name().is_empty(), "{name}: {how:?}");
    }
    // The table of checks in the design, but for what is told in other words.
    let all = [
        "air trap",
        "assembly",
        "bead",
        "clamp",
        "collapse",
        "fit",
        "flow",
        "heat",
        "hold",
        "kink",
        "load",
        "pressure",
        "rating",
        "rising heat",
        "rock",
        "seat",
        "snap",
        "spigot mouth",
        "standoff",
        "support",
        "tape error",
    ];
    let missing: Vec<_> = all.iter().filter(|name| !seen.contains(**name)).collect();
    assert!(missing.is_empty(), "no report names {missing:?}: {seen:?}");
    assert!(job::how("no such check").is_none());
}

#[test]
fn what_is_advised_goes_by_rubber_oil_and_heat() {
    let end =
        |x: i32, points: i32| json!({ "spigot_mm": 16, "at_mm": [x, 0, 0], "points": [points, 0, 0], "on": "body" });
    let advised = |rubber: Option<&str>, oil: Option<bool>| {
        let run = json!({ "from": end(0, 1), "to": end(300, -1), "oil_near": oil, "try_cut_mm": 365,
            "hose": { "bore_mm": 16, "wall_mm": 4, "rubber": rubber } });
        let report = broad(&job(&run));
        report.runs[0].advice.iter().map(|advice| advice.what.clone()).collect::<Vec<_>>().join(" | ")
    };
    // Mineral oil swells EPDM; silicone does not stand it; NBR and CR do, to 100 °C (SAE J20 classes B and C).
    assert!(advised(Some("EPDM"), Some(true)).contains("swells in oil"));
    assert!(advised(Some("silicone"), Some(true)).contains("does not stand oil"));
    for rubber in ["NBR", "CR"] {
        assert!(advised(Some(rubber), Some(true)).contains("stands oil"), "{rubber}");
        assert!(advised(Some(rubber), Some(false)).contains("100 °C"), "{rubber}");
    }
    for oil in [None, Some(false)] {
        let said = advised(Some("EPDM"), oil);
        assert!(said.contains("stands coolant") && !said.contains("cure the leak"), "{said}");
    }
    // Never for hot coolant, whatever the rubber: hose for other fluids, and caps without yarn.
    for rubber in [None, Some("EPDM"), Some("silicone"), Some("NBR"), Some("CR")] {
        let said = advised(rubber, None);
        assert!(
            said.contains("No fuel, vacuum, air or hydraulic hose") && said.contains("No unreinforced rubber cap"),
            "{said}"
        );
    }
}
