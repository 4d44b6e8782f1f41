//! Runs the specs under tests/browser in Chromium and those under tests/engines in all three engines, and measures the page.

use std::{fs, process::Command, time::Duration};

use crate::{
    command::{run, run_within},
    engines::Engine,
    failure::Failure,
    figures::FIGURES,
    project::Project,
    setup,
    steps::Steps,
};

const SPECS: &str = "tests/browser";

/// The one spec of the door; all others are of the page.
const DOOR_SPEC: &str = "tests/browser/door.test.mjs";

/// Ends a spec that waits for ever; no claim of a spec rests on it (milliseconds, our choice).
const NO_HANGING: &str = "--test-timeout=300000";

/// Ends a file of specs whose runner waits for a browser that does not end (our choice).
const NO_HANGING_FILE: Duration = Duration::from_secs(900);

/// What there is to try.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Built {
    pub(crate) page: bool,
    pub(crate) door: bool,
}

/// Runs every spec against what is built, a step for each file; not those of the engines that are left out.
pub(crate) fn specs(project: &Project, steps: &mut Steps, built: Built, without: &[Engine]) {
    let Some(files) = steps.run("list of specs", || files(project)) else { return };
    let npm = steps.run("npm packages of the specs", || setup::npm_packages(project, "tests"));
    for engine in Engine::ALL {
        let mut own = if engine == Engine::Chromium { files.clone() } else { Vec::new() };
        own.push(engine_spec(engine));
        if without.contains(&engine) {
            own.iter().for_each(|file| steps.left_out(file));
            continue;
        }
        let brought = steps.run(engine.name(), || engine.bring());
        for file in own {
            let is_built = if file == DOOR_SPEC { built.door } else { built.page };
            match (&npm, &brought, is_built) {
                (Some(()), Some(variables), true) => {
                    steps.run(&file, || {
                        // By name: what node makes of a folder differs from version to version.
                        run_within(
                            Command::new("node")
                                .args(["--test", NO_HANGING, &file])
                                .envs(variables.iter().cloned())
                                .current_dir(project.root()),
                            NO_HANGING_FILE,
                        )
                    });
                }
                _ => steps.not_run(&file),
            }
        }
    }
}

/// The file that does every deed in this engine.
pub(crate) fn engine_spec(engine: Engine) -> String {
    format!("tests/engines/{}.test.mjs", engine.name())
}

/// Measures the built page: what it downloads and how soon it answers, and how soon it paints after a press. The figures go
/// to a file as well.
pub(crate) fn speed(project: &Project, steps: &mut Steps) {
    let variables = steps.run("tools of the specs", || {
        setup::npm_packages(project, "tests")?;
        fs::create_dir_all(project.path("target")).map_err(Failure::io("target"))?;
        Engine::Chromium.bring()
    });
    for (name, program) in [("the page's speed", "speed.mjs"), ("from a press to a paint", "paints.mjs")] {
        let Some(variables) = &variables else {
            steps.not_run(name);
            continue;
        };
        steps.run(name, || {
            let program = format!("{SPECS}/{program}");
            run(Command::new("node")
                .args([&program, FIGURES])
                .envs(variables.iter().cloned())
                .current_dir(project.root()))
        });
    }
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
