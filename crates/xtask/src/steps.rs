//! One step after another, each timed, with a table of all at the end.

use std::{
    fmt::Write,
    process::ExitCode,
    time::{Duration, Instant},
};

use crate::failure::Failure;

/// The steps of a task so far.
#[derive(Debug, Default)]
pub(crate) struct Steps {
    rows: Vec<Row>,
}

#[derive(Debug)]
struct Row {
    name: String,
    outcome: Outcome,
    took: Duration,
}

#[derive(Debug, PartialEq, Eq)]
enum Outcome {
    Done,
    Failed,
    NotRun,
    LeftOut,
}

impl Steps {
    /// Runs a step and says what it is and how long it took. A failure is shown here and counted; the caller gets
    /// `None` and goes on with what does not need this step.
    pub(crate) fn run<T>(&mut self, name: &str, step: impl FnOnce() -> Result<T, Failure>) -> Option<T> {
        println!("\n== {name}");
        let start = Instant::now();
        let result = step();
        let took = start.elapsed();
        let (outcome, value) = match result {
            Ok(value) => (Outcome::Done, Some(value)),
            Err(failure) => {
                println!("{failure}");
                (Outcome::Failed, None)
            }
        };
        println!("== {name}: {} after {}", outcome.word(), seconds(took));
        self.rows.push(Row { name: name.into(), outcome, took });
        value
    }

    /// Notes a step that cannot be tried because an earlier one failed.
    pub(crate) fn not_run(&mut self, name: &str) {
        self.rows.push(Row { name: name.into(), outcome: Outcome::NotRun, took: Duration::ZERO });
    }

    /// Notes a step that the person wants left out: the table says so, and it is no failure.
    pub(crate) fn left_out(&mut self, name: &str) {
        self.rows.push(Row { name: name.into(), outcome: Outcome::LeftOut, took: Duration::ZERO });
    }

    /// Prints the table. The exit code is success only if every step was done that was not left out.
    pub(crate) fn close(self) -> ExitCode {
        print!("\n{}", table(&self.rows));
        if self.all_done() { ExitCode::SUCCESS } else { ExitCode::FAILURE }
    }

    fn all_done(&self) -> bool {
        self.rows.iter().all(|row| matches!(row.outcome, Outcome::Done | Outcome::LeftOut))
    }
}

impl Outcome {
    fn word(&self) -> &'static str {
        match self {
            Self::Done => "done",
            Self::Failed => "FAILED",
            Self::NotRun => "not run",
            Self::LeftOut => "left out",
        }
    }
}

fn seconds(took: Duration) -> String {
    format!("{:.1} s", took.as_secs_f64())
}

fn table(rows: &[Row]) -> String {
    let width = rows.iter().map(|row| row.name.chars().count()).max().unwrap_or(0);
    let mut text = String::new();
    for Row { name, outcome, took } in rows {
        writeln!(text, "{name:width$}  {:8}  {:>8}", outcome.word(), seconds(*took)).expect("a String takes any text");
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_failed_step_fails_the_task_and_the_others_still_run() {
        let mut steps = Steps::default();
        assert_eq!(steps.run("fit", || Ok(16)), Some(16), "a step hands on what it made");
        assert_eq!(steps.run::<()>("bend", || Err(Failure::new("kinked"))), None, "a failed one does not");
        assert!(!steps.all_done(), "one of two failed");
    }

    #[test]
    fn a_step_that_was_not_run_is_no_success() {
        let mut steps = Steps::default();
        steps.not_run("browser");
        assert!(!steps.all_done(), "not run is not done");
    }

    #[test]
    fn a_step_that_was_left_out_hides_no_failure() {
        let mut steps = Steps::default();
        steps.left_out("webkit");
        assert!(steps.all_done(), "left out by the person's own word");
        steps.run::<()>("bend", || Err(Failure::new("kinked")));
        assert!(!steps.all_done(), "but the other one failed");
    }

    #[test]
    fn the_table_lines_up() {
        let row = |name: &str, outcome, took| Row { name: name.into(), outcome, took: Duration::from_millis(took) };
        let rows = [row("format", Outcome::Done, 400), row("page", Outcome::Failed, 123_400)];
        assert_eq!(table(&rows), "format  done         0.4 s\npage    FAILED     123.4 s\n", "columns");
    }
}
