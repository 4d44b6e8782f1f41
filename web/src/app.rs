//! The page: owns the two signals that matter, what was typed and the answer.

use crate::example::EXAMPLE;
use crate::form::{Draft, Measurements, place_of};
use crate::keep::{Keeper, KeepingTrouble, StartAfresh};
use crate::offline::NewVersion;
use crate::send::{Arrived, Send};
use crate::solver::worker::{Heard, Solver};
use crate::view::{Answer, Drawings, Findings, Hoses, Marking, ShorterOrLonger};
use crate::words;
use job::input::RunInput;
use job::{Problem, Report};
use leptos::prelude::*;
use quantity::text::LengthUnit;

/// What the solver has said.
#[derive(Clone, Debug, PartialEq)]
enum Said {
    Nothing,
    Answer(Box<Report>),
    Stopped(String),
}

/// The whole page.
///
/// # Panics
/// If the example that comes with the page is not a job file, which a test excludes.
#[component]
pub fn App() -> impl IntoView {
    let keeper = Keeper::start();
    let draft = keeper.draft;
    let said = RwSignal::new(Said::Nothing);
    let solver = StoredValue::new_local(Solver::start(move |heard| match heard {
        Heard::Answer(report) => said.set(Said::Answer(report)),
        Heard::Stopped { what } => said.set(Said::Stopped(what)),
    }));
    on_cleanup(move || solver.with_value(Solver::stop));

    // One way: what is typed → the job's text → the solver.
    let text = Memo::new(move |_| draft.with(|draft| draft.is_sound().then(|| draft.text())));
    Effect::new(move |_| {
        if let Some(text) = text.get() {
            solver.with_value(|solver| solver.ask(text));
        }
    });
    let problems = Memo::new(move |_| {
        said.with(|said| match said {
            Said::Answer(report) => report.problems.clone(),
            _ => Vec::<Problem>::new(),
        })
    });
    let unit = Memo::new(move |_| draft.with(|draft| draft.unit));
    let is_example =
        Memo::new(move |_| draft.with(|draft| Draft::open(EXAMPLE).is_some_and(|example| example.job == draft.job)));
    let run = Memo::new(move |_| draft.with(run_of));

    view! {
        <header class="tb">
            <div class="nm">
                <h1>{words::TITLE}</h1>
                <small>{move || run.with(|run| run.as_ref().and_then(|run| run.name.clone())).unwrap_or_default()}</small>
            </div>
            <button type="button" class="un" aria-label="Change the unit" on:click=move |_| draft.update(Draft::swap_unit)>
                {move || words::unit(unit.get())}
                <small>{move || if unit.get() == LengthUnit::Millimetre { "or in" } else { "or mm" }}</small>
            </button>
        </header>
        <NewVersion keeper />
        <KeepingTrouble keeper />
        <Arrived keeper />
        <Show when=move || is_example.get()><p class="ex">{words::EXAMPLE}</p></Show>
        <main>
            {move || sheet(said.get(), draft, run.get(), unit.get())}
            <Measurements draft problems />
            <Send keeper />
            <p class="row"><a class="bt" href="#top">{words::TO_ANSWER}</a></p>
            <StartAfresh keeper />
        </main>
    }
}

/// The run as it stands in the draft, for the drawing.
fn run_of(draft: &Draft) -> Option<RunInput> {
    share::read(&draft.text()).ok()?.input.runs.into_iter().next()
}

fn limits_and_caution() -> impl IntoView {
    view! { <p class="small-print">{words::NOT_FOR}</p><p class="small-print">{words::CAUTION}</p> }
}

/// Everything that the answer says, or why there is none.
fn sheet(said: Said, draft: RwSignal<Draft>, run: Option<RunInput>, unit: LengthUnit) -> AnyView {
    let sound = draft.with(Draft::is_sound);
    let place = |problem: &Problem| draft.with(|draft| place_of(draft, problem));
    let report = match said {
        Said::Nothing => {
            return view! { <section><p role="status" class="vd">{words::STARTING}</p>{limits_and_caution()}</section> }.into_any();
        }
        Said::Stopped(what) => {
            return view! { <section role="alert"><p class="vd stop">"The solver stopped: "{what}</p>{limits_and_caution()}</section> }.into_any();
        }
        Said::Answer(report) => report,
    };
    let told = report.runs.first().cloned();
    let Some((told, best)) =
        told.and_then(|run| run.candidates.first().cloned().map(|best| (run, best))).filter(|_| sound)
    else {
        let why: Vec<_> = report
            .problems
            .iter()
            .map(|p| view! { <li>{format!("{}: {}. Right would be: {}.", place(p), p.wrong, p.right)}</li> })
            .collect();
        let nothing_fits = report.problems.is_empty() && sound;
        let line = if nothing_fits { "No hose in the tables goes on both spigots." } else { words::NOT_DRAWN };
        let sizes = report.runs.first().cloned().map(|run| view! { <Hoses run unit /> });
        return view! {
            <section role="status"><p class="vd stop">{line}</p><ul class="small">{why}</ul>{limits_and_caution()}</section>
            {sizes}
        }
        .into_any();
    };
    let not_used: Vec<_> =
        report.problems.iter().map(|p| view! { <p class="note">{format!("{}: {}.", place(p), p.wrong)}</p> }).collect();
    let seat_a_mm = best.marks.mouth_a_mm;
    view! {
        <Answer run=told.clone() best=best.clone() unit />
        {limits_and_caution()}
        {not_used}
        {run.map(|run| view! { <Drawings run best=best.clone() unit /> })}
        <ShorterOrLonger best=best.clone() draft unit />
        <Findings findings=best.findings.clone() seat_a_mm unit />
        // Where no length works there is nothing to mark, cut or buy.
        {(!best.nearest).then(|| view! { <Marking best=best.clone() unit /> })}
        <section class="cautions"><h2>"Before you begin"</h2><ul>{told.cautions.iter().map(|c| view! { <li>{c.clone()}</li> }).collect_view()}</ul></section>
        <Hoses run=told unit />
    }
    .into_any()
}
