//! Starts other programs: shows what is run, and says plainly when it fails.

use std::{
    env,
    ffi::OsString,
    io::{BufRead, BufReader},
    path::{Path, PathBuf},
    process::{Command, Stdio},
    thread,
    time::{Duration, Instant},
};

use crate::failure::Failure;

/// Cargo as it was started, so that every step uses the same toolchain.
pub(crate) fn cargo() -> Command {
    Command::new(env::var_os("CARGO").unwrap_or_else(|| "cargo".into()))
}

/// Runs a program to its end, its output shown.
///
/// # Errors
/// If it cannot be started or reports failure.
pub(crate) fn run(command: &mut Command) -> Result<(), Failure> {
    let line = shown(command);
    println!("$ {line}");
    let status = command.status().map_err(Failure::io(&line))?;
    if status.success() { Ok(()) } else { Err(Failure::new(format!("{line}: {status}"))) }
}

/// Runs a program to its end, its output shown; gives what it prints as well.
///
/// # Errors
/// As [`run`].
pub(crate) fn run_heard(command: &mut Command) -> Result<String, Failure> {
    let line = shown(command);
    println!("$ {line}");
    let mut child = command.stdout(Stdio::piped()).spawn().map_err(Failure::io(&line))?;
    let mut heard = String::new();
    for said in BufReader::new(child.stdout.take().expect("it is piped")).lines() {
        let said = said.map_err(Failure::io(&line))?;
        println!("{said}");
        heard.push_str(&said);
        heard.push('\n');
    }
    let status = child.wait().map_err(Failure::io(&line))?;
    if status.success() { Ok(heard) } else { Err(Failure::new(format!("{line}: {status}"))) }
}

/// Runs a program to its end or to the limit, whichever comes first.
///
/// # Errors
/// As [`run`], and if the limit was reached; the program is ended then.
pub(crate) fn run_within(command: &mut Command, limit: Duration) -> Result<(), Failure> {
    const LOOK_EVERY: Duration = Duration::from_millis(100);
    let line = shown(command);
    println!("$ {line}    (at most {} s)", limit.as_secs());
    let start = Instant::now();
    let mut child = command.spawn().map_err(Failure::io(&line))?;
    loop {
        match child.try_wait().map_err(Failure::io(&line))? {
            Some(status) if status.success() => return Ok(()),
            Some(status) => return Err(Failure::new(format!("{line}: {status}"))),
            None if start.elapsed() < limit => thread::sleep(LOOK_EVERY),
            None => {
                child.kill().and_then(|()| child.wait()).map_err(Failure::io(&line))?;
                return Err(Failure::new(format!("{line}: no end after {} s", limit.as_secs())));
            }
        }
    }
}

/// Hands over to a program that runs until it is interrupted. On Unix it takes our place, so that whoever ends us ends
/// it and no server is left behind.
///
/// # Errors
/// If it cannot be started; elsewhere than on Unix also as [`run`].
pub(crate) fn hand_over(command: &mut Command) -> Result<(), Failure> {
    #[cfg(unix)]
    {
        use std::os::unix::process::CommandExt;
        let line = shown(command);
        println!("$ {line}");
        Err(Failure::io(line)(command.exec()))
    }
    #[cfg(not(unix))]
    run(command)
}

/// What a program prints, without the white space around it; `None` if it is not there or fails.
pub(crate) fn printed_by(command: &mut Command) -> Option<String> {
    let output = command.stderr(Stdio::null()).output().ok()?;
    output.status.success().then(|| String::from_utf8_lossy(&output.stdout).trim().to_owned())
}

/// The first program of this name on PATH.
pub(crate) fn on_path(program: &str) -> Option<PathBuf> {
    let file = format!("{program}{}", env::consts::EXE_SUFFIX);
    env::split_paths(&env::var_os("PATH")?).map(|folder| folder.join(&file)).find(|path| path.is_file())
}

/// PATH with these folders in front.
///
/// # Errors
/// If a folder's name holds the character that separates the parts of PATH.
pub(crate) fn path_with(front: &[PathBuf]) -> Result<OsString, Failure> {
    let path = env::var_os("PATH").unwrap_or_default();
    let all = front.iter().cloned().chain(env::split_paths(&path));
    env::join_paths(all).map_err(|error| Failure::new(format!("PATH: {error}")))
}

/// The command as a person would type it, with programs by their bare name.
fn shown(command: &Command) -> String {
    let program = Path::new(command.get_program()).file_name().unwrap_or(command.get_program());
    std::iter::once(program).chain(command.get_args()).map(|word| word.to_string_lossy()).collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_command_is_shown_as_typed() {
        assert_eq!(shown(Command::new("/usr/bin/npm").arg("ci")), "npm ci", "no folder in front");
    }

    #[test]
    fn a_program_that_is_not_there_prints_nothing_and_is_not_found() {
        assert_eq!(printed_by(&mut Command::new("hosewright-no-such-program")), None, "not started");
        assert_eq!(on_path("hosewright-no-such-program"), None, "not on PATH");
    }

    #[test]
    fn a_failing_program_is_a_failure_that_names_it() {
        let failure = run(cargo().arg("no-such-command").stderr(Stdio::null())).unwrap_err();
        assert!(failure.to_string().contains("cargo no-such-command"), "{failure}");
    }

    #[cfg(unix)]
    #[test]
    fn a_program_without_an_end_is_ended() {
        let failure = run_within(Command::new("sleep").arg("600"), Duration::from_millis(1)).unwrap_err();
        assert!(failure.to_string().contains("sleep 600: no end"), "{failure}");
    }
}
