//! The whole car beside its runs: the survey with its picture, what to buy, in which order to work, how to fill and prove.

mod buy;
mod fill;
mod fit;
mod line;
mod lists;
mod part;
mod picture;
mod print;
mod sample;
mod survey;

pub(crate) use buy::buy;
pub(crate) use fill::fill;
pub(crate) use fit::fit;
pub(crate) use line::line;
pub(crate) use part::part;
pub(crate) use print::job_sheet;
pub(crate) use survey::{more_hoses, survey};

use crate::el::{El, el, link};
use crate::form::Draft;
use crate::measure::Screen;
use crate::solver::worker::Solving;
use crate::words;
use job::{CircuitReport, ClosuresReport, FillReport, Job, Layout, OrderReport, Report};
use leptos::prelude::*;
use stock::Stock;

/// What the solver has said of the whole car.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) enum Told {
    /// Nothing yet.
    #[default]
    Nothing,
    /// So many of its runs are solved, and of how many.
    Progress(usize, usize),
    /// All of it.
    Answer(Box<Report>),
    /// It broke.
    Stopped(String),
}

/// What is worked out at once, without the solver.
#[derive(Clone, Debug)]
pub(crate) struct AtOnce {
    pub(crate) circuit: CircuitReport,
    pub(crate) layout: Layout,
    pub(crate) closures: ClosuresReport,
    pub(crate) order: OrderReport,
}

/// What every screen of the car needs.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Surveying {
    pub(crate) draft: RwSignal<Draft>,
    pub(crate) problems: Memo<Vec<job::Problem>>,
    pub(crate) told: RwSignal<Told>,
    pub(crate) at_once: Memo<Option<AtOnce>>,
    pub(crate) solver: Solving,
    /// Set to have the job sheet printed.
    pub(crate) printing: RwSignal<bool>,
    /// What can be brought back, if something was taken away.
    pub(crate) gone: RwSignal<Option<Gone>>,
}

/// What was taken away can be brought back until something else is changed: no later work is lost by that.
#[derive(Clone, Debug)]
pub(crate) struct Gone {
    before: Draft,
    after: Draft,
    /// Whether whoever took it away still has to be led to where it can be brought back.
    is_new: bool,
}

impl Surveying {
    /// Takes something away that can be brought back.
    fn take_away(self, take: impl FnOnce(&mut Draft)) {
        let before = self.draft.get_untracked();
        self.draft.update(take);
        self.gone.set(Some(Gone { before, after: self.draft.get_untracked(), is_new: true }));
    }
}

impl AtOnce {
    /// Of a job file's text.
    pub(crate) fn of(text: &str) -> Option<Self> {
        let job = accepted(text)?;
        let closures = job.closures(&Stock::built_in());
        Some(Self { circuit: job.circuit(), layout: job.layout(), closures, order: job.order() })
    }
}

fn accepted(text: &str) -> Option<Job> {
    Some(job::accept(&share::read(text).ok()?.input).job)
}

/// How to fill and prove it, with what the solver told.
fn filling(text: &str, report: Option<&Report>) -> Option<FillReport> {
    Some(accepted(text)?.fill(report.map_or(&[], |report| report.runs.as_slice())))
}

/// The bar of places; it comes with a second hose.
pub(crate) fn places(screen: Screen) -> El {
    let here = match screen {
        Screen::Car | Screen::Line(_) | Screen::Part(_) => Screen::Car,
        Screen::Buy | Screen::Fit | Screen::Fill | Screen::Cars => screen,
        _ => Screen::Sheet,
    };
    let all = [
        (Screen::Sheet, words::PLACE_RUN),
        (Screen::Car, words::PLACE_CAR),
        (Screen::Buy, words::PLACE_BUY),
        (Screen::Fit, words::PLACE_FIT),
        (Screen::Fill, words::PLACE_FILL),
    ];
    let one = |(to, name): (Screen, &'static str)| {
        link("bt", to.hash(), name).attr("aria-current", (to == here).then_some("page"))
    };
    el("nav").class("places").attr("aria-label", words::PLACES).put_all(all.map(one))
}
