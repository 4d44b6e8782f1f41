//! Any input at all, for so many minutes, through everything that reads; the totals are kept in `tests/fuzz/totals.csv`.

use crate::{
    command::{cargo, run},
    failure::Failure,
    project::Project,
};

/// Minutes of `cargo xtask fuzz` without a number.
pub(crate) const MINUTES: u32 = 5;

/// Builds and runs `tests/examples/fuzz.rs`, which goes on where the totals stand and prints them.
///
/// # Errors
/// If a claim breaks; the input lies in `tests/fuzz/found` then.
pub(crate) fn fuzz(project: &Project, minutes: u32) -> Result<(), Failure> {
    let minutes = minutes.to_string();
    let example = ["run", "--locked", "--profile", "fuzz", "-p", "tests", "--example", "fuzz", "--", &minutes];
    run(cargo().args(example).current_dir(project.root()))
}
