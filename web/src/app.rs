//! The page: owns the two signals that matter, what was typed and the answer.

use crate::form::sketch::{Letter, Unsaid};
use crate::form::{Draft, Measurements, place_of};
use crate::keep::{Keeper, KeepingTrouble, StartAfresh};
use crate::measure::{self, Measuring, Screen};
use crate::offline::NewVersion;
use crate::send::{Arrived, Send};
use crate::solver::worker::{Heard, Solver};
use crate::view::{
    AlongTheHose, Drawings, Findings, Gaze, Hoses, Laid, Marking, PrintedSheet, ReadBack, ShorterOrLonger, Shown,
    TurnIt, answer, slanted,
};
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
    // The place touched along the hose, mm of free length from mouth A.
    let touched = RwSignal::new(None::<f64>);
    let gaze = RwSignal::new(Gaze::FIRST);
    let solver = StoredValue::new_local(Solver::start(move |heard| match heard {
        Heard::Answer(report) => said.set(Said::Answer(report)),
        Heard::Stopped { what } => said.set(Said::Stopped(what)),
    }));
    on_cleanup(move || solver.with_value(Solver::stop));

    // One way: what is typed → the job's text → the solver.
    let text = Memo::new(move |_| draft.with(|draft| draft.is_whole().then(|| draft.text())));
    Effect::new(move |_| match text.get() {
        Some(text) => solver.with_value(|solver| solver.ask(text)),
        // A run that is being measured has no answer; that of the run before must not stand beside it.
        None if draft.with_untracked(|draft| !draft.sketch(0).unsaid().is_empty()) => said.set(Said::Nothing),
        None => {}
    });
    let problems = Memo::new(move |_| {
        said.with(|said| match said {
            Said::Answer(report) => report.problems.clone(),
            _ => Vec::<Problem>::new(),
        })
    });
    let unit = Memo::new(move |_| draft.with(|draft| draft.unit));
    let run = Memo::new(move |_| draft.with(run_of));
    let screen = measure::screen();
    // Drawn only while it belongs to what stands in the draft.
    let laid = Memo::new(move |_| draft.with(Draft::is_whole).then(|| said.with(laid)).flatten());
    let shown_now = Memo::new(move |_| draft.with(Draft::is_whole).then(|| said.with(shown)).flatten());
    let measuring = Measuring { draft, problems, laid };
    let printing = RwSignal::new(false);

    view! {
        <PrintedSheet draft printing shown=shown_now problems run />
        <header class="tb">
            <div class="nm">
                <h1>{move || draft.with(|draft| measure::title(screen.get(), draft))}</h1>
                <small>{words::TITLE}</small>
            </div>
            <Show when=move || screen.get() != Screen::Sheet>
                <a class="un" href=Screen::Sheet.hash()>"Back "<small>"to the sheet"</small></a>
            </Show>
            <button type="button" class="un" on:click=move |_| draft.update(Draft::swap_unit)>
                {move || words::unit(unit.get())} " "
                <small>{move || if unit.get() == LengthUnit::Millimetre { "or in" } else { "or mm" }}</small>
                <span class="sr">" (change the unit)"</span>
            </button>
        </header>
        <NewVersion keeper />
        <KeepingTrouble keeper />
        <Arrived keeper />
        <main>
            {move || match screen.get() {
                Screen::Sheet => view! {
                    <Show when=move || keeper.at_example()><p class="ex">{words::EXAMPLE}</p></Show>
                    {drawn(keeper, laid)}
                    <Show when=move || shown_now.with(Option::is_some) fallback=move || said.with(|said| no_answer(said, draft, unit.get()))>
                        {answer(shown_now, draft, next_act(keeper, shown_now))}
                        {move || shown_now.get().map(|shown| below(shown, &problems.get(), draft, run.get(), (touched, gaze), unit.get()))}
                    </Show>
                    <Measurements draft problems />
                    <Send keeper printing />
                    <p class="row"><a class="bt" href="#top">{words::TO_ANSWER}</a></p>
                    <Show when=move || !keeper.at_example()>
                        <p class="row">
                            <button type="button" class="bt" on:click=move |_| measure_one(keeper, Screen::Spigot(Letter::A))>{words::ANOTHER}</button>
                        </p>
                    </Show>
                    <StartAfresh keeper />
                }
                .into_any(),
                other => measure::measure(other, measuring),
            }}
        </main>
    }
}

/// The hose of the best answer, for the drawing.
fn laid(said: &Said) -> Option<Laid> {
    let Said::Answer(report) = said else { return None };
    let best = report.runs.first()?.candidates.first()?;
    Some(Laid { points: best.lie.as_ref()?.points_mm.clone(), outside: best.hose.outside_mm })
}

/// The run in its drawing, with a button over every part, and the first act.
fn drawn(keeper: Keeper, laid: Memo<Option<Laid>>) -> AnyView {
    let sketch = Memo::new(move |_| keeper.draft.with(|draft| draft.sketch(0)));
    let picture = move || sketch.with(|sketch| slanted(sketch, laid.get().as_ref(), &[], 150.0));
    let stand = move || sketch.with(|sketch| sketch.stand);
    view! {
        <div class="over">
            {picture}
            <a class="corner" href=Screen::Standing.hash() aria-label=move || format!("You are {}. Change it", stand().name())>
                {move || measure::plan(stand())}
            </a>
            <a class="bt near" href=Screen::Near(None).hash()>"+ thing near it"</a>
        </div>
    }
    .into_any()
}

/// The next act: to measure one's own hose, or to mark the one that was answered.
fn next_act(keeper: Keeper, shown: Memo<Option<Shown>>) -> AnyView {
    let marks = move || shown.with(|shown| shown.as_ref().is_some_and(|(_, best)| !best.nearest));
    let act = move || {
        match keeper.at_example() {
        true => view! {
            <div class="row">
                <button type="button" class="bt m" on:click=move |_| measure_one(keeper, Screen::Spigot(Letter::A))>{words::MEASURE}</button>
                <button type="button" class="bt" on:click=move |_| measure_one(keeper, Screen::Piece)>{words::HAVE_PIECE}</button>
            </div>
        }
        .into_any(),
        false if marks() => view! { <a class="bt m" href="#marking">{words::MARK_NEXT}</a> }.into_any(),
        false => ().into_any(),
    }
    };
    view! { {act} }.into_any()
}

/// Begins a run of which nothing is known yet; the one at hand can be taken back.
fn measure_one(keeper: Keeper, first: Screen) {
    let own = !keeper.at_example_untracked();
    let fresh = keeper.draft.with_untracked(|draft| Draft::fresh(own.then_some(draft), draft.unit));
    keeper.open(fresh);
    first.go();
}

/// What is still to be said, each with the screen on which to say it.
fn still(unsaid: Vec<Unsaid>) -> AnyView {
    let links = unsaid.into_iter().map(|unsaid| {
        let words = match unsaid {
            Unsaid::Across(letter) => format!("how thick spigot {} is", letter.name()),
            Unsaid::Place => "where B is".to_owned(),
            Unsaid::Points(letter) => format!("which way {} points", letter.name()),
            Unsaid::Thing(i) => format!("where thing {} near it is", i + 1),
        };
        view! { <a class="bt" href=Screen::of(unsaid).hash()>{words}</a> }
    });
    view! { <section><p role="status" class="vd">{words::STILL}</p>{links.collect_view()}</section>{limits_and_caution()} }.into_any()
}

/// The run as it stands in the draft, for the drawing.
fn run_of(draft: &Draft) -> Option<RunInput> {
    share::read(&draft.text()).ok()?.input.runs.into_iter().next()
}

fn limits_and_caution() -> impl IntoView {
    view! { <p class="small-print">{words::NOT_FOR}</p><p class="small-print">{words::CAUTION}</p> }
}

/// The answer that belongs to what stands in the draft.
fn shown(said: &Said) -> Option<Shown> {
    let Said::Answer(report) = said else { return None };
    let run = report.runs.first()?;
    Some((run.clone(), run.candidates.first()?.clone()))
}

/// Why there is no answer, and what to do about it.
fn no_answer(said: &Said, draft: RwSignal<Draft>, unit: LengthUnit) -> AnyView {
    let unsaid = draft.with(|draft| draft.sketch(0).unsaid());
    if !unsaid.is_empty() {
        return still(unsaid);
    }
    let report = match said {
        Said::Nothing => {
            return view! { <section><p role="status" class="vd">{words::STARTING}</p>{limits_and_caution()}</section> }.into_any();
        }
        Said::Stopped(what) => {
            return view! { <section role="alert"><p class="vd stop">"The solver stopped: "{what.clone()}</p>{limits_and_caution()}</section> }.into_any();
        }
        Said::Answer(report) => report,
    };
    let why: Vec<_> = report
        .problems
        .iter()
        .map(|p| view! { <li>{format!("{}: {}. Right would be: {}.", place(draft, p), p.wrong, p.right)}</li> })
        .collect();
    let nothing_fits = report.problems.is_empty() && draft.with(Draft::is_sound);
    let line = if nothing_fits { "No hose in the tables goes on both spigots." } else { words::NOT_DRAWN };
    let sizes = report.runs.first().cloned().map(|run| view! { <Hoses run unit /> });
    view! {
        <section role="status"><p class="vd stop">{line}</p><ul class="small">{why}</ul>{limits_and_caution()}</section>
        {sizes}
    }
    .into_any()
}

fn place(draft: RwSignal<Draft>, problem: &Problem) -> String {
    draft.with(|draft| place_of(draft, problem))
}

/// Everything below the first screen.
fn below(
    (told, best): Shown,
    problems: &[Problem],
    draft: RwSignal<Draft>,
    run: Option<RunInput>,
    (touched, gaze): (RwSignal<Option<f64>>, RwSignal<Gaze>),
    unit: LengthUnit,
) -> AnyView {
    let not_used: Vec<_> =
        problems.iter().map(|p| view! { <p class="note">{format!("{}: {}.", place(draft, p), p.wrong)}</p> }).collect();
    let seat_a_mm = best.marks.mouth_a_mm;
    view! {
        {not_used}
        {run.clone().map(|run| view! {
            <Drawings run=run.clone() best=best.clone() touched unit />
            <TurnIt run best=best.clone() gaze touched unit />
        })}
        <AlongTheHose best=best.clone() touched unit />
        <ShorterOrLonger best=best.clone() draft unit />
        <Findings findings=best.findings.clone() seat_a_mm unit />
        <section class="cautions"><h2>{words::BEFORE}</h2><ul>{told.cautions.iter().map(|c| view! { <li>{c.clone()}</li> }).collect_view()}</ul></section>
        // Where no length works there is nothing to mark, cut or buy.
        {(!best.nearest).then(|| view! { <Marking best=best.clone() run=run.clone() unit /> })}
        <Hoses run=told unit />
        {run.map(|run| view! { <ReadBack run unit /> })}
    }
    .into_any()
}
