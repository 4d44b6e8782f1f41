//! `cargo xtask`: sets up, builds, serves, tests, measures and audits Hosewright with one command each.
#![expect(clippy::print_stdout, reason = "a command line tool speaks through standard output")]

mod apt;
mod args;
mod audit;
mod beside;
mod browser;
mod check;
mod command;
mod door;
mod engines;
mod failure;
mod figures;
mod fuzz;
mod page;
mod project;
mod serve;
mod setup;
mod slim;
mod stamp;
mod steps;
mod versions;
mod wasm;

use std::process::ExitCode;

use args::Task;
use failure::Failure;
use project::Project;

fn main() -> ExitCode {
    match args::read(std::env::args().skip(1)).and_then(carry_out) {
        Ok(code) => code,
        Err(failure) => {
            eprintln!("{failure}");
            ExitCode::FAILURE
        }
    }
}

fn carry_out(task: Task) -> Result<ExitCode, Failure> {
    match task {
        Task::Help => {
            println!("{}", args::HELP);
            Ok(ExitCode::SUCCESS)
        }
        Task::Build => Ok(page::build_only(&Project::find()?)),
        Task::Door => Ok(door::build_only(&Project::find()?)),
        Task::Serve { dev: false } => page::build_and_serve(&Project::find()?),
        Task::Serve { dev: true } => page::serve_dev(&Project::find()?),
        Task::Test { native, without } => Ok(check::test(&Project::find()?, native, &without)),
        Task::Bench => Ok(check::bench(&Project::find()?)),
        Task::Fuzz { minutes } => fuzz::fuzz(&Project::find()?, minutes).map(|()| ExitCode::SUCCESS),
        Task::Audit => Ok(audit::audit(&Project::find()?)),
    }
}
