//! Runs the browser specs under tests/browser in the machine's own Chromium, and measures the page there.

use std::{fs, process::Command};

use crate::{command::run, failure::Failure, project::Project, setup, steps::Steps};

const SPECS: &str = "tests/browser";

/// Ends a spec that waits for ever; no claim of a spec rests on it (milliseconds, our choice).
const NO_HANGING: &str = "--test-timeout=300000";

/// Where the figures of a bench go.
const FIGURES: &str = "target/bench.txt";

/// Runs every spec against dist/, a step for each file.
pub(crate) fn specs(project: &Project, steps: &mut Steps, page_is_built: bool) {
    let Some(files) = steps.run("list of specs", || files(project)) else { return };
    let chromium = steps.run("tools of the specs", || {
        setup::npm_packages(project, "tests")?;
        setup::chromium()
    });
    for file in files {
        match (&chromium, page_is_built) {
            (Some(chromium), true) => {
                steps.run(&file, || {
                    // By name: what node makes of a folder differs from version to version.
                    run(Command::new("node")
                        .args(["--test", NO_HANGING, &file])
                        .env("CHROMIUM", chromium)
                        .current_dir(project.root()))
                });
            }
            _ => steps.not_run(&file),
        }
    }
}

/// Measures the built page; the figures go to a file as well.
pub(crate) fn speed(project: &Project, steps: &mut Steps) {
    steps.run("the page's speed", || {
        setup::npm_packages(project, "tests")?;
        let chromium = setup::chromium()?;
        fs::create_dir_all(project.path("target")).map_err(Failure::io("target"))?;
        run(Command::new("node")
            .args([&format!("{SPECS}/speed.mjs"), FIGURES])
            .env("CHROMIUM", chromium)
            .current_dir(project.root()))?;
        println!("written to {FIGURES}");
        Ok(())
    });
}

fn files(project: &Project) -> Result<Vec<String>, Failure> {
    let mut files = Vec::new();
    for entry in fs::read_dir(project.path(SPECS)).map_err(Failure::io(SPECS))? {
        let name = entry.map_err(Failure::io(SPECS))?.file_name().to_string_lossy().into_owned();
        if name.ends_with(".test.mjs") {
            files.push(format!("{SPECS}/{name}"));
        }
    }
    if files.is_empty() {
        return Err(Failure::new(format!("{SPECS} holds no spec")));
    }
    files.sort();
    println!("{}", files.join("\n"));
    Ok(files)
}
