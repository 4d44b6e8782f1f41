//! What others have written and we use: licences, crates that stand twice, where they come from, known holes.

use std::process::{Command, ExitCode};

use crate::{
    command::{path_with, run},
    project::Project,
    setup,
    steps::Steps,
};

/// `cargo xtask audit`: brings cargo-deny and has it look at what `.deny.toml` says, where it looks by itself. The advisories need their database,
/// which is fetched; out of its reach that step fails and says so.
pub(crate) fn audit(project: &Project) -> ExitCode {
    let mut steps = Steps::default();
    let Some(tool) = steps.run("cargo-deny", setup::audit_tool) else {
        steps.not_run("audit");
        return steps.close();
    };
    let looks = [("licences, duplicates, sources", "licenses bans sources"), ("advisories", "advisories")];
    for (name, checks) in looks {
        steps.run(name, || {
            let mut command = Command::new("cargo-deny");
            command.env("PATH", path_with(tool.as_slice())?).args(["--locked", "check"]);
            run(command.args(checks.split(' ')).current_dir(project.root()))
        });
    }
    steps.close()
}
