//! Reads the command line: one task and at most one switch.

use crate::failure::Failure;

pub(crate) const HELP: &str = "\
cargo xtask serve          set up what is missing, build the page, serve it on 127.0.0.1
cargo xtask serve --dev    the same, quickly: unoptimised, rebuilt at every change, no offline use
cargo xtask build          build the page into dist/
cargo xtask test           set up what is missing, run everything continuous integration runs
cargo xtask test --native  only what needs no browser and no WebAssembly
cargo xtask bench          measure the shape solver, a whole car and the built page
cargo xtask help           this text

Tools are kept in $XDG_CACHE_HOME/hosewright (else ~/.cache/hosewright) and shared by all clones.
CHROMIUM=/path/to/chromium chooses the browser of the tests.";

/// What was asked for.
#[derive(Debug, PartialEq, Eq)]
pub(crate) enum Task {
    Serve { dev: bool },
    Build,
    Test { native: bool },
    Bench,
    Help,
}

/// Reads the arguments after the program's name.
///
/// # Errors
/// A word that is no task, or a switch the task does not have.
pub(crate) fn read(args: impl Iterator<Item = String>) -> Result<Task, Failure> {
    let args: Vec<String> = args.collect();
    let words: Vec<&str> = args.iter().map(String::as_str).collect();
    match words[..] {
        [] | ["help" | "--help" | "-h"] => Ok(Task::Help),
        ["serve"] => Ok(Task::Serve { dev: false }),
        ["serve", "--dev"] => Ok(Task::Serve { dev: true }),
        ["build"] => Ok(Task::Build),
        ["test"] => Ok(Task::Test { native: false }),
        ["test", "--native"] => Ok(Task::Test { native: true }),
        ["bench"] => Ok(Task::Bench),
        _ => {
            Err(Failure::new(format!("cannot read \"{}\"", words.join(" "))).remedy("cargo xtask help lists the tasks"))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(line: &str) -> Result<Task, Failure> {
        read(line.split_whitespace().map(String::from))
    }

    #[test]
    fn every_line_of_the_help_is_a_task_it_can_read() {
        let lines: Vec<&str> = HELP.lines().take_while(|line| !line.is_empty()).collect();
        assert!(lines.len() >= 5, "the list of tasks comes first in the help");
        for line in lines {
            let command = line.split("  ").next().unwrap();
            let words = command.strip_prefix("cargo xtask ").unwrap();
            assert!(of(words).is_ok(), "the help offers {words}");
        }
    }

    #[test]
    fn switches_reach_their_task() {
        assert_eq!(of("serve --dev").unwrap(), Task::Serve { dev: true }, "serve --dev");
        assert_eq!(of("serve").unwrap(), Task::Serve { dev: false }, "serve");
        assert_eq!(of("test --native").unwrap(), Task::Test { native: true }, "test --native");
        assert_eq!(of("").unwrap(), Task::Help, "nothing asked");
    }

    #[test]
    fn an_unknown_word_or_a_foreign_switch_is_refused_by_name() {
        for line in ["sevre", "serve --native", "build --dev", "test --native --native"] {
            let refusal = of(line).unwrap_err().to_string();
            assert!(refusal.contains(line), "{refusal} names {line}");
        }
    }
}
