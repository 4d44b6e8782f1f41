//! Debian packages: installed when we are root, asked for otherwise.

use std::process::Command;

use crate::{
    command::{on_path, printed_by, run},
    failure::Failure,
};

/// Whether packages could be installed here at all.
pub(crate) fn is_here() -> bool {
    on_path("apt-get").is_some()
}

/// Whether we may install them ourselves.
pub(crate) fn may_install() -> bool {
    is_here() && printed_by(Command::new("id").arg("-u")).as_deref() == Some("0")
}

/// What a person types to install these packages.
pub(crate) fn command_for(packages: &[&str]) -> String {
    format!("as root: apt-get update && apt-get install --no-install-recommends {}", packages.join(" "))
}

/// Installs packages.
///
/// # Errors
/// If apt-get fails.
pub(crate) fn install(packages: &[&str]) -> Result<(), Failure> {
    run(apt_get().args(["update", "--quiet"]))?;
    run(apt_get().args(["install", "--quiet", "--yes", "--no-install-recommends"]).args(packages))
}

fn apt_get() -> Command {
    let mut command = Command::new("apt-get");
    command.env("DEBIAN_FRONTEND", "noninteractive");
    command
}
