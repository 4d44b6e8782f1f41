//! All that crosses between the page and the solver worker, and the public JavaScript door: two closed enums.

use job::Report;
use serde::{Deserialize, Serialize};

/// Page to solver.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Ask {
    /// Solve a job.
    Solve {
        /// Returned with the answer; the newest wins.
        ticket: u32,
        /// The job file's text.
        job: String,
    },
}

/// Solver to page.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Tell {
    /// It listens; what is posted before is lost.
    Ready {
        /// Which build it is.
        build: String,
    },
    /// The answer.
    Done {
        /// The ticket of the question.
        ticket: u32,
        /// The report.
        report: Report,
    },
    /// The job's text is not a job file.
    Fault {
        /// The ticket of the question.
        ticket: u32,
        /// What is wrong with it.
        text: String,
    },
}

/// The build of this module: a page and a solver of different builds must not talk.
#[must_use]
pub fn build() -> String {
    env!("CARGO_PKG_VERSION").to_owned()
}
