//! Reads the command line: one task and its switches.

use crate::{engines::Engine, failure::Failure, fuzz};

pub(crate) const HELP: &str = "\
cargo xtask serve          set up what is missing, build the page, serve it on 127.0.0.1
cargo xtask serve --dev    the same, quickly: unoptimised, rebuilt at every change, no offline use
cargo xtask build          build the page into dist/
cargo xtask door           build the solver for JavaScript into dist-door/
cargo xtask test           set up what is missing, run everything continuous integration runs
cargo xtask test --native  only what needs no browser and no WebAssembly
cargo xtask test --without webkit  leave that engine out, or firefox, or both; the table says so
cargo xtask bench          measure the solves and the built page, beside the figures kept
cargo xtask fuzz           any input at all through everything that reads, for 5 minutes; totals in tests/fuzz
cargo xtask fuzz 60        the same for as many minutes
cargo xtask audit          licences, duplicates, sources and known holes of the crates we use, by cargo-deny
cargo xtask help           this text

Tools are kept in $XDG_CACHE_HOME/hosewright (else ~/.cache/hosewright) and shared by all clones.
CHROMIUM, FIREFOX, WEBKIT_DRIVER, XVFB and PYTHON=/path/to/it choose the programs of the tests.";

/// What was asked for.
#[derive(Debug, PartialEq, Eq)]
pub(crate) enum Task {
    Serve { dev: bool },
    Build,
    Door,
    Test { native: bool, without: Vec<Engine> },
    Bench,
    Fuzz { minutes: u32 },
    Audit,
    Help,
}

/// Reads the arguments after the program's name.
///
/// # Errors
/// A word that is no task, or a switch the task does not have.
pub(crate) fn read(args: impl Iterator<Item = String>) -> Result<Task, Failure> {
    let args: Vec<String> = args.collect();
    let words: Vec<&str> = args.iter().map(String::as_str).collect();
    let unread =
        || Failure::new(format!("cannot read \"{}\"", words.join(" "))).remedy("cargo xtask help lists the tasks");
    match words[..] {
        [] | ["help" | "--help" | "-h"] => Ok(Task::Help),
        ["serve"] => Ok(Task::Serve { dev: false }),
        ["serve", "--dev"] => Ok(Task::Serve { dev: true }),
        ["build"] => Ok(Task::Build),
        ["door"] => Ok(Task::Door),
        ["test", "--native"] => Ok(Task::Test { native: true, without: Vec::new() }),
        ["test", ref switches @ ..] => {
            let without = without(switches).ok_or_else(unread)?;
            Ok(Task::Test { native: false, without })
        }
        ["bench"] => Ok(Task::Bench),
        ["fuzz"] => Ok(Task::Fuzz { minutes: fuzz::MINUTES }),
        ["fuzz", minutes] => Ok(Task::Fuzz { minutes: minutes.parse().map_err(|_| unread())? }),
        ["audit"] => Ok(Task::Audit),
        _ => Err(unread()),
    }
}

/// The engines to leave out: `--without` and its name, as often as wanted.
fn without(switches: &[&str]) -> Option<Vec<Engine>> {
    let pairs = switches.chunks(2).map(|pair| match pair {
        ["--without", name] => Engine::to_leave_out(name),
        _ => None,
    });
    pairs.collect()
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
        let test = |native, without: &[Engine]| Task::Test { native, without: without.to_vec() };
        assert_eq!(of("test").unwrap(), test(false, &[]), "test");
        assert_eq!(of("test --native").unwrap(), test(true, &[]), "test --native");
        assert_eq!(of("test --without webkit").unwrap(), test(false, &[Engine::WebKit]), "one left out");
        let both = of("test --without firefox --without webkit").unwrap();
        assert_eq!(both, test(false, &[Engine::Firefox, Engine::WebKit]), "both left out");
        assert_eq!(of("fuzz 60").unwrap(), Task::Fuzz { minutes: 60 }, "minutes");
        assert_eq!(of("fuzz").unwrap(), Task::Fuzz { minutes: fuzz::MINUTES }, "as many as the help says");
        assert!(HELP.contains(&format!("for {} minutes", fuzz::MINUTES)), "the help says how many");
        assert_eq!(of("").unwrap(), Task::Help, "nothing asked");
    }

    #[test]
    fn an_unknown_word_or_a_foreign_switch_is_refused_by_name() {
        for line in [
            "sevre",
            "serve --native",
            "build --dev",
            "test --native --native",
            "test --without",
            "test --without chromium",
            "test webkit",
            "fuzz -1",
            "fuzz long",
            "test --native --without webkit",
        ] {
            let refusal = of(line).unwrap_err().to_string();
            assert!(refusal.contains(line), "{refusal} names {line}");
        }
    }
}
