//! Builds the solver for JavaScript into dist-door/: the module, its glue, worker, class, types and example.

use std::{env, fs, path::PathBuf, process::ExitCode};

use crate::{
    command::run,
    failure::Failure,
    page::{Kit, refuse_paths_of_this_machine, show_sizes},
    project::Project,
    steps::Steps,
    wasm::TARGET,
};

const DIST: &str = "dist-door";
const SCRIPTS: &str = "crates/door/js";

/// The job file that the example solves.
const EXAMPLE: &str = "tests/cases/example.json";

/// `cargo xtask door`.
pub(crate) fn build_only(project: &Project) -> ExitCode {
    let mut steps = Steps::default();
    build(project, &mut steps);
    steps.close()
}

/// Builds it; says whether it is there.
pub(crate) fn build(project: &Project, steps: &mut Steps) -> bool {
    let door = "door";
    let Some(kit) = steps.run("tools of the door", || Kit::bring(project, true)) else {
        steps.not_run(door);
        return false;
    };
    steps.run(door, || {
        // Alone, so that no other crate's features come in.
        let build = ["build", "--release", "--locked", "--package", "door", "--lib", "--target", TARGET];
        run(kit.tool(project, "cargo")?.args(build))?;
        start_anew(project)?;
        let module = target_folder()?.join(TARGET).join("release/door.wasm");
        let glue = ["--target", "web", "--out-name", "door", "--out-dir", DIST];
        run(kit.tool(project, "wasm-bindgen")?.args(glue).arg(module))?;
        let bound = format!("{DIST}/door_bg.wasm");
        run(kit.tool(project, "wasm-opt")?.args(["-O3", &bound, "-o", &bound]))?;
        for entry in fs::read_dir(project.path(SCRIPTS)).map_err(Failure::io(SCRIPTS))? {
            let entry = entry.map_err(Failure::io(SCRIPTS))?;
            copy(entry.path(), project.path(DIST).join(entry.file_name()))?;
        }
        copy(project.path(EXAMPLE), project.path(DIST).join("example.json"))?;
        refuse_paths_of_this_machine(project, DIST)?;
        show_sizes(project, DIST)
    }) == Some(())
}

/// Nothing of a build before stays.
fn start_anew(project: &Project) -> Result<(), Failure> {
    let folder = project.path(DIST);
    if folder.exists() {
        fs::remove_dir_all(&folder).map_err(Failure::io(DIST))?;
    }
    fs::create_dir(folder).map_err(Failure::io(DIST))
}

fn copy(from: PathBuf, to: PathBuf) -> Result<(), Failure> {
    fs::copy(&from, to).map_err(Failure::io(from.display()))?;
    Ok(())
}

/// Where cargo puts what it builds: this program lies there itself, in the folder of its profile.
fn target_folder() -> Result<PathBuf, Failure> {
    let program = env::current_exe().map_err(Failure::io("this program's own path"))?;
    program.ancestors().nth(2).map(PathBuf::from).ok_or_else(|| Failure::new("no target folder"))
}
