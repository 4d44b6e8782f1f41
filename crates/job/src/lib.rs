//! From what was typed to what is told: the path of the data, in five values.
//!
//! ```text
//! typed        accepted       solved, run by run         told              seen
//! Input   ──►  Job       ──►  SolvedRun             ──►  Report      ──►   the page
//! input.rs     accept.rs      solve.rs, size/            report.rs
//! ```
//!
//! [`accept`] never fails: it gives every sound run and a list of problems. [`solve`] takes the runs one by one: every
//! hose that could serve is followed through all lengths (`size/cut_window.rs`), judged by `checks`, and ranked. Only
//! the report leaves. The core does no I/O, reads no clock, draws no random number and keeps no state: same job, same
//! stock, same report.
//!
//! ```
//! use job::{accept, answer, input::Input};
//! let nothing = answer(&Input::default(), &stock::Stock::built_in());
//! assert!(nothing.runs.is_empty() && nothing.problems.is_empty());
//! ```

mod accept;
mod car;
pub mod input;
mod refill;
mod report;
mod run;
mod size;
mod solve;
mod tell;

pub use accept::{Accepted, Problem, accept};
pub use car::circuit::{
    BoxPlace, CircuitFinding, CircuitReport, CircuitSpigot, CircuitState, FlowReport, Layout, LinePlace, circuit,
    layout,
};
pub use car::cuts;
pub use car::cuts::{CutGroupReport, CutLengthReport, CutPieceReport, CutsReport};
pub use car::shopping::{ItemReport, ShoppingReport, shopping_text};
pub use car::{
    Car, ClampAt, ClosureReport, ClosuresReport, FillFacts, FillReport, HighPoint, KnotReport, NewRun, NextLookReport,
    OpenEndReport, OrderReport, OrderStepReport, RelationReport, SaidReport, ThingReport, TorqueAgain, VolumeReport,
    WeepReport, closures, fill, order,
};
pub use checks::SURFACES;
pub use report::{
    AdviceReport, BendReport, CandidateReport, ChangeReport, ClampReport, ClipReport, CoolantReport, Extra,
    FindingReport, GapReport, HeatReport, HeatStateReport, HeldReport, HoseReport, LieReport, REPORT_VERSION,
    RefillReport, RejectedReport, RemedyReport, Report, RestReport, RunReport, WantedReport, WayReport,
};
pub use run::{Job, Run};
pub use size::{Buy, Marks, TRIMMING};
pub use solve::{SolvedRun, Work, solve};

use stock::Stock;

/// How the check of a finding comes to its number; `None` for a name that is no check.
#[must_use]
pub fn how(check: &str) -> Option<checks::How> {
    checks::Check::named(check).map(checks::Check::how)
}

/// The whole way at once: accepts, solves, and tells, with the problems in the report.
#[must_use]
pub fn answer(input: &input::Input, stock: &Stock) -> Report {
    let Accepted { job, problems } = accept(input);
    let report = solve(&job, stock);
    let of_car = !job.car().is_empty();
    Report {
        problems,
        circuit: of_car.then(|| job.circuit()),
        closures: of_car.then(|| job.closures(stock)),
        order: of_car.then(|| job.order()),
        fill: of_car.then(|| job.fill(&report.runs)),
        ..report
    }
}
