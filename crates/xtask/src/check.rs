//! What continuous integration runs, in the order in which it fails soonest; and the benches.

use std::{fs, io::ErrorKind, process::ExitCode};

use crate::{
    browser::{self, Built},
    command::{cargo, run, run_heard},
    door,
    engines::Engine,
    failure::Failure,
    figures::{self, FIGURES},
    page,
    project::Project,
    steps::Steps,
};

/// `cargo xtask test`. Every step that can run does, so that one run tells all. The engines of `without` are left out.
pub(crate) fn test(project: &Project, native_only: bool, without: &[Engine]) -> ExitCode {
    let mut steps = Steps::default();
    native(project, &mut steps);
    if !native_only {
        let page = page::build(project, &mut steps);
        let door = door::build(project, &mut steps);
        browser::specs(project, &mut steps, Built { page, door }, without);
    }
    steps.close()
}

fn native(project: &Project, steps: &mut Steps) {
    let all = [
        ("format", "fmt --all --check", None),
        ("lints", "clippy --workspace --all-targets --locked -- -D warnings", None),
        ("tests", "test --workspace --locked --no-fail-fast", None),
        ("documentation", "doc --workspace --no-deps --locked", Some(("RUSTDOCFLAGS", "-D warnings"))),
    ];
    for (name, arguments, variable) in all {
        steps.run(name, || run(cargo().args(arguments.split(' ')).envs(variable).current_dir(project.root())));
    }
}

/// `cargo xtask bench`: the solves, then the built page in the browser; the figures go to a file, and those that differ from
/// the kept ones are told.
pub(crate) fn bench(project: &Project) -> ExitCode {
    let mut steps = Steps::default();
    let mut native = String::new();
    // What an earlier bench wrote is none of this one's.
    let begun = steps.run("a file for the figures", || match fs::remove_file(project.path(FIGURES)) {
        Err(error) if error.kind() != ErrorKind::NotFound => Err(Failure::io(FIGURES)(error)),
        _ => Ok(()),
    });
    for package in ["shape", "checks", "job"] {
        let printed = steps
            .run(package, || run_heard(cargo().args(["bench", "--locked", "-p", package]).current_dir(project.root())));
        native.push_str(&figures::of_bench(package, &printed.unwrap_or_default()));
    }
    if page::build(project, &mut steps) {
        browser::speed(project, &mut steps);
    }
    if begun.is_some() {
        steps.run("beside the figures kept", || figures::compare(project, &native));
    }
    steps.close()
}
