//! The page: owns the two signals that matter, what was typed and the answer.

use crate::car::{AtOnce, Surveying, Told, buy, fill, fit, job_sheet, line, more_hoses, part, places, survey};
use crate::cars::cars;
use crate::el::{
    El, Node, Turns, after_paint, afterwards, button, div, el, keep, link, list, live, many, memo, next_task, note, p,
    section, stand, when,
};
use crate::form::sketch::{Letter, Sketch, Unsaid};
use crate::form::{Draft, measurements, place_of};
use crate::home::Home;
use crate::in_hand::InHand;
use crate::keep::{Keeper, keeping_trouble, start_afresh};
use crate::language;
use crate::measure::{self, Measuring, Screen};
use crate::offline::new_version;
use crate::photo::photo;
use crate::send::{arrival, link_field, link_of, send};
use crate::solver::messages::Want;
use crate::solver::worker::{Heard, Solver, Solving};
use crate::upper::{at_example, drawn, first_acts, head, laid};
use crate::view::{
    Gaze, Laid, Shown, along_the_hose, answer, at_work, drawings, findings, hoses, marking, pour, printed_sheet,
    read_back, remedies, rubber, run_of, shorter_or_longer, turn_it, wanted, ways,
};
use crate::words;
use gloo_events::{EventListener, EventListenerOptions};
use gloo_timers::callback::Timeout;
use job::input::RunInput;
use job::{Problem, Report};
use leptos::prelude::*;
use quantity::text::LengthUnit;
use std::cell::Cell;
use std::rc::Rc;
use std::sync::Arc;
use wasm_bindgen::JsCast;
use web_sys::{Element, FocusOptions, HtmlElement};

/// What the solver has said.
#[derive(Clone, Debug, PartialEq)]
enum Said {
    Nothing,
    Answer(Arc<Report>),
    Stopped(String),
}

/// The whole page.
///
/// # Panics
/// If the example that comes with the page is not a job file, which a test excludes.
pub fn app() {
    let keeper = Keeper::start();
    let said = RwSignal::new(Said::Nothing);
    // Whether it has said all of it.
    let said_all = RwSignal::new(false);
    let told = RwSignal::new(Told::Nothing);
    let solver = StoredValue::new_local(Solver::start(move |heard| match heard {
        Heard::Answer { report, is_whole } => {
            said_all.set(is_whole);
            said.set(Said::Answer(report.into()));
        }
        Heard::Stopped { what } => {
            told.set(Told::Stopped(what.clone()));
            said.set(Said::Stopped(what));
        }
        Heard::Car(report) => told.set(Told::Answer(report)),
        // What was told before stands until the new is there.
        Heard::Progress(done, of) if told.with_untracked(|told| !matches!(told, Told::Answer(_))) => {
            told.set(Told::Progress(done, of));
        }
        Heard::Progress(..) => {}
    }));
    on_cleanup(move || solver.with_value(Solver::stop));

    let started = (keeper, solver, (said, said_all, told), (InHand::start(), Home::start()), measure::screen());
    stand(next_task(move || page(started)));
}

/// What the page begins with: what is kept, the solver with what it has said (and whether that is all, and of the car), how the
/// phone is held and the offer of its home screen, and the screen.
type Started = (Keeper, Solving, (RwSignal<Said>, RwSignal<bool>, RwSignal<Told>), (InHand, Home), RwSignal<Screen>);

/// All that stands on the page; in tasks of their own, between which the browser hears and paints.
fn page((keeper, solver, (said, said_all, told), (in_hand, home), screen): Started) -> Node {
    let draft = keeper.draft;
    // The place touched along the hose, mm of free length from mouth A.
    let touched = RwSignal::new(None::<f64>);
    let gaze = RwSignal::new(Gaze::FIRST);
    // One way: what is typed → the job's text → the solver.
    let is_sheet = move || screen.get() == Screen::Sheet;
    let is_of_car = memo(move || screen.get().is_of_car());
    let sketch = Memo::new(move |_| draft.with(|draft| draft.sketch(0)));
    let text = Memo::new(move |_| draft.with(|draft| is_whole(draft, sketch).then(|| draft.text())));
    let whole = Memo::new(move |_| is_of_car.get().then(|| draft.with(|draft| draft.whole().to_string())));
    // Of the whole car the solver needs not know what was ticked off.
    let car = Memo::new(move |_| is_of_car.get().then(|| draft.with(Draft::solved_of_car)));
    Effect::new(move |_| match (car.get(), text.get()) {
        (Some(car), _) => solver.with_value(|solver| solver.ask(car, Want::Car)),
        (None, Some(text)) => solver.with_value(|solver| solver.ask(text, Want::Run)),
        // A run that is being measured has no answer; that of the run before must not stand beside it.
        _ if draft.with_untracked(|draft| !draft.sketch(0).unsaid().is_empty()) => said.set(Said::Nothing),
        _ => {}
    });
    // Never the same twice: the text is another each time.
    let at_once = Memo::new_with_compare(move |_| whole.with(|text| AtOnce::of(text.as_ref()?)), |_, _| true);
    let problems = Memo::new(move |_| {
        if is_of_car.get() {
            return told.with(|told| match told {
                Told::Answer(report) => report.problems.clone(),
                _ => Vec::<Problem>::new(),
            });
        }
        said.with(|said| match said {
            Said::Answer(report) => report.problems.clone(),
            _ => Vec::new(),
        })
    });
    let unit = Memo::new(move |_| draft.with(|draft| draft.unit));
    let run = Memo::new(move |_| text.with(|text| run_of(text.as_ref()?)));
    // Drawn only while it belongs to what stands in the draft.
    let hose = Memo::new(move |_| draft.with(|draft| is_whole(draft, sketch)).then(|| said.with(hose_of)).flatten());
    let poured = Memo::new(move |_| {
        said.with(|said| match said {
            Said::Answer(report) => Some((report.coolant.clone(), report.refill.clone())),
            _ => None,
        })
    });
    let shown_now = Memo::new(move |_| draft.with(|draft| is_whole(draft, sketch)).then(|| said.with(shown)).flatten());
    // All that the lower part of the sheet is made from; it follows in one go.
    let behind = Behind::follow(move || {
        problems.track();
        run.track();
        unit.track();
        poured.track();
        shown_now.track();
    });
    // The example as it comes with the page stands until the same is here, or something else is to be seen.
    let first = document().get_element_by_id("first");
    let waited = RwSignal::new(false);
    Timeout::new(STANDS, move || waited.set(true)).forget();
    let has_said = move || said.with(|said| *said != Said::Nothing);
    let is_over = move || !is_sheet() || !keeper.at_example() || waited.get() || has_said();
    afterwards(move || {
        if let Some(first) = first.as_ref().filter(|_| is_over()) {
            first.remove();
        }
    });
    // Of each screen a title of its own, for the list of tabs and the way back.
    let own = document().title();
    afterwards(move || {
        let title = draft.with(|draft| measure::title(screen.get(), draft));
        document().set_title(&if is_sheet() { own.clone() } else { format!("{} – {own}", language::say(&title)) });
    });
    keep(stay_in_place());
    let measuring = Measuring { draft, problems, laid: hose };
    let printing = RwSignal::new(false);
    let surveying = Surveying { draft, problems, told, at_once, solver, printing, gone: RwSignal::new(None) };

    let is_answered = move || shown_now.with(Option::is_some);
    let behind_it = move || {
        let part = move |i| {
            let shown = shown_now.get_untracked()?;
            if i == PARTS {
                return poured
                    .with_untracked(|f| f.as_ref().map(|(coolant, refill)| pour(coolant, refill.as_ref()).into()));
            }
            let (problems, run) = (problems.get_untracked(), run.get_untracked());
            Some(below(i, &shown, &problems, draft, run.as_ref(), (touched, gaze), unit.get_untracked()))
        };
        let parts = (0..=PARTS).map(move |i| behind.turns.part(i, move || part(i)));
        behind.begin(0);
        el("div").live("aria-busy", move || behind.is_behind.get().then_some("true")).put_all(parts)
    };
    let unanswered = move || said.with(|said| no_answer(said, draft, unit.get(), solver));
    let sheet = move || {
        // On a wide screen the one stands beside the other.
        let upper = div("upper")
            .put(when(move || keeper.at_example(), at_example))
            .put(drawn(sketch, hose))
            .put(when(is_answered, move || answer(shown_now, said_all, draft, next_act(keeper, shown_now))))
            .put(live(move || (!is_answered()).then(unanswered)));
        let another =
            move || p("row", button("bt", words::ANOTHER, move || measure_one(keeper, Screen::Spigot(Letter::A))));
        // Long to make and mostly out of sight: one after the other, behind what is looked at.
        let parts: [Rc<dyn Fn() -> Node>; 7] = [
            Rc::new(move || measurements(draft, problems).into()),
            Rc::new(move || send(keeper, printing).into()),
            Rc::new(move || {
                many![
                    p("row", link("bt", "#top", words::TO_ANSWER)),
                    when(move || !keeper.at_example(), another),
                    more_hoses(keeper),
                ]
            }),
            Rc::new(move || in_hand.switches().into()),
            Rc::new(move || language::choice(keeper).into()),
            Rc::new(move || when(is_answered, move || home.offer())),
            Rc::new(move || start_afresh(keeper)),
        ];
        let turns = Turns::of(parts.len());
        turns.begin(0, || ());
        let parts = parts.into_iter().enumerate().map(|(i, say)| turns.part(i, move || say()));
        let lower = div("lower").put(ways_on(keeper)).put(when(is_answered, behind_it)).put_all(parts);
        many![upper, lower]
    };
    // Both last as long as the tab does.
    let sheet: &'static dyn Fn() -> Node = Box::leak(Box::new(sheet));
    let has_begun: &'static Cell<bool> = Box::leak(Box::default());
    let of_the_car = move |screen| match screen {
        Screen::Line(i) => many![line(i, surveying), photo_of(i, keeper)],
        Screen::Part(i) => part(i, surveying),
        Screen::Buy => buy(surveying),
        Screen::Fit => fit(surveying),
        Screen::Fill => fill(surveying),
        _ => many![
            when(move || keeper.at_example(), at_example),
            survey(surveying),
            p("row", link("bt", Screen::Cars.hash(), words::CARS))
        ],
    };
    let shown_screen = move || {
        let at_start = !has_begun.replace(true);
        match screen.get() {
            // What the page starts with waits for nothing.
            Screen::Sheet if at_start => sheet(),
            // Long: the head and the places are painted first.
            Screen::Sheet => after_paint(sheet),
            Screen::Cars => cars(keeper),
            screen if screen.is_of_car() => after_paint(move || of_the_car(screen)),
            other => measure::measure(other, measuring),
        }
    };
    // What is heard and kept comes first.
    let main = el("main").live("class", move || is_sheet().then_some("two")).put(next_task(move || live(shown_screen)));
    let of_car = move || {
        is_of_car.get().then_some(())?;
        at_once.with(|now| {
            told.with(|told| {
                let report = if let Told::Answer(report) = told { Some(report.as_ref()) } else { None };
                draft.with(|draft| job_sheet(draft, now.as_ref(), report))
            })
        })
    };
    let paper = printed_sheet(draft, printing, shown_now, problems, run, of_car);
    let has_places = move || draft.with(Draft::is_car) || is_of_car.get();
    let bar = when(has_places, move || live(move || places(screen.get())));
    let head = head(draft, move || screen.get());
    // The solver is asked first.
    let all =
        Cell::new(Some(many![paper, head, new_version(keeper), keeping_trouble(keeper), arrival(keeper), main, bar]));
    next_task(move || all.take())
}

/// Whoever presses a button that is gone by then stays in the part of the page where it was: else the next key would begin
/// at the top.
fn stay_in_place() -> EventListener {
    // Before the button hears it, while it still stands.
    EventListener::new_with_options(&window(), "click", EventListenerOptions::run_in_capture_phase(), |event| {
        let Some(pressed) = event.target().and_then(|target| target.dyn_into::<Element>().ok()) else { return };
        let place = pressed.closest("section").ok().flatten();
        let look = move || {
            let stands = document().active_element().is_some_and(|at| at.local_name() != "body");
            if let Some(place) = place.filter(|place| !stands && !pressed.is_connected() && place.is_connected()) {
                let place: HtmlElement = place.unchecked_into();
                place.set_tab_index(-1);
                let options = FocusOptions::new();
                options.set_prevent_scroll(true);
                place.focus_with_options(&options).ok();
            }
        };
        // Once what follows from it stands.
        Timeout::new(GONE_AFTER, look).forget();
    })
}

/// So long after it was pressed a button is gone if it goes, ms (our choice).
const GONE_AFTER: u32 = 300;

/// The ways on from the first screen: what stands far below it, or elsewhere.
fn ways_on(keeper: Keeper) -> El {
    let piece = || link("bt", Screen::Piece.hash(), words::HAVE_PIECE);
    el("nav")
        .class("row halves")
        .attr("aria-label", words::ON_PAGE)
        .put(link("bt", "#measurements", words::MEASURES))
        .put(when(move || !keeper.at_example(), piece))
        .put(link("bt", "#hand-on", words::SEND))
        .put(link("bt", Screen::Car.hash(), words::TO_CAR))
        .put(link("bt", "#in-hand", words::SWITCHES))
}

/// The photo of a line, if there is that line.
fn photo_of(i: usize, keeper: Keeper) -> Node {
    let is_there = move || keeper.draft.with(|draft| i < draft.list("lines").len());
    when(is_there, move || photo(keeper, format!("/lines/{i}/name")))
}

/// How long the example as it came with the page stands for an answer that does not come, ms: then it is said that it is being
/// worked out, which can be stopped (our choice: a slow phone has answered by then).
const STANDS: u32 = 3_000;

/// How long the lower part of the sheet waits for the answer to come to rest, ms: while the cut is dragged, only what one
/// looks at is made anew (our choice: longer than from one move of a thumb to the next, too short to wait for).
pub(crate) const REST: u32 = 120;

/// The lower part of the sheet. It is long to draw, and follows part by part once the upper part is painted and stands still.
#[derive(Clone, Copy)]
struct Behind {
    turns: Turns,
    /// Whether it shows something older than the upper part.
    is_behind: RwSignal<bool>,
}

impl Behind {
    /// Follows whatever is read.
    fn follow(read: impl Fn() + 'static) -> Self {
        let behind = Self { turns: Turns::of(PARTS + 1), is_behind: RwSignal::new(true) };
        afterwards(move || {
            read();
            behind.begin(REST);
        });
        behind
    }

    /// Draws it anew, after so many ms.
    fn begin(self, wait_ms: u32) {
        self.is_behind.set(true);
        self.turns.begin(wait_ms, move || self.is_behind.set(false));
    }
}

/// The hose in the drawing, of an answer.
fn hose_of(said: &Said) -> Option<Laid> {
    if let Said::Answer(report) = said { laid(report) } else { None }
}

/// The next act: to measure one's own hose, or to mark the one that was answered.
fn next_act(keeper: Keeper, shown: Memo<Option<Shown>>) -> Node {
    let marks = move || {
        shown.with(|shown| shown.as_ref().is_some_and(|shown| !shown.best().nearest && shown.best().verdict != "fail"))
    };
    live(move || match keeper.at_example() {
        true => Some(first_acts(move |first| measure_one(keeper, first))),
        false => marks().then(|| link("bt m", "#marking", words::MARK_NEXT)),
    })
}

/// Begins a run of which nothing is known yet; the one at hand can be taken back.
fn measure_one(keeper: Keeper, first: Screen) {
    let own = !keeper.at_example_untracked();
    let fresh = keeper.draft.with_untracked(|draft| Draft::fresh(own.then_some(draft), draft.unit));
    first.go_with(move || keeper.open(fresh));
}

/// What is still to be said, each with the screen on which to say it.
fn still(draft: RwSignal<Draft>) -> Node {
    let sketch = draft.with(|draft| draft.sketch(0));
    let links = sketch.unsaid().into_iter().map(|unsaid| {
        let words = match unsaid {
            Unsaid::Across(letter) => format!("how thick spigot {} is", letter.name()),
            Unsaid::Place => "where B is".to_owned(),
            Unsaid::Points(letter) => format!("which way {} points", letter.name()),
            Unsaid::Thing(i) => format!("where the {} is", sketch.things[i].name),
        };
        link("bt", Screen::of(unsaid).hash(), words)
    });
    let still = p("vd", words::STILL).attr("role", "status");
    many![el("section").put(still).put_all(links), limits_and_caution()]
}

fn limits_and_caution() -> Node {
    [p("small-print", words::NOT_FOR), p("small-print", words::CAUTION)].into()
}

/// Whether there is enough in the draft, and nothing wrong in it, to ask for an answer.
fn is_whole(draft: &Draft, sketch: Memo<Sketch>) -> bool {
    draft.is_sound() && sketch.with(|sketch| sketch.unsaid().is_empty())
}

/// The answer that belongs to what stands in the draft.
fn shown(said: &Said) -> Option<Shown> {
    if let Said::Answer(report) = said { Shown::of(report) } else { None }
}

/// Why there is no answer, and what to do about it.
fn no_answer(said: &Said, draft: RwSignal<Draft>, unit: LengthUnit, solver: Solving) -> Node {
    if draft.with(|draft| !draft.sketch(0).unsaid().is_empty()) {
        return still(draft);
    }
    let report = match said {
        Said::Nothing => {
            return at_work(words::STARTING.to_owned(), solver).put(limits_and_caution()).into();
        }
        Said::Stopped(what) => {
            let stopped = p("vd stop", "The solver stopped: ").put(what.clone());
            let link = draft.with(link_of).ok().map(|link| link_field("stopped", words::PASS_ON, link));
            return el("section").attr("role", "alert").put(stopped).put(link).put(limits_and_caution()).into();
        }
        Said::Answer(report) => report,
    };
    let why: Vec<_> = report
        .problems
        .iter()
        .map(|p| format!("{}: {}. Right would be: {}.", place(draft, p), p.wrong, p.right))
        .collect();
    let nothing_fits = report.problems.is_empty() && draft.with(Draft::is_sound);
    let line = if nothing_fits { words::NO_HOSE } else { words::NOT_DRAWN };
    let sizes = report.runs.first().map(|run| hoses(run, unit));
    let across =
        |letter: Letter| link("bt", Screen::Spigot(letter).hash(), words::SPIGOT_AGAIN.replace("{}", letter.name()));
    let what_helps =
        nothing_fits.then(|| many![p("note", words::NO_HOSE_HELPS), div("row").put_all(Letter::BOTH.map(across))]);
    let none = el("section")
        .attr("role", "status")
        .put(p("vd stop", line))
        .put(list(why))
        .put(what_helps)
        .put(limits_and_caution());
    many![none, sizes]
}

fn place(draft: RwSignal<Draft>, problem: &Problem) -> String {
    draft.with(|draft| place_of(draft, problem))
}

/// How many parts stand below the first screen, without what to pour.
const PARTS: usize = 14;

/// What stands below the first screen, part by part.
fn below(
    part: usize,
    shown: &Shown,
    problems: &[Problem],
    draft: RwSignal<Draft>,
    run: Option<&RunInput>,
    (touched, gaze): (RwSignal<Option<f64>>, RwSignal<Gaze>),
    unit: LengthUnit,
) -> Node {
    let (told, best) = (shown.run(), shown.best());
    match part {
        0 => problems.iter().map(|p| note(format!("{}: {}.", place(draft, p), p.wrong))).collect::<Vec<_>>().into(),
        1 => remedies(told, draft, unit).into(),
        2 => ways(best, draft).into(),
        3 => run.and_then(|run| wanted(told.wanted.as_ref(), best, run, draft, unit)).into(),
        4 => run.map(|run| drawings(run, best, told.wanted.as_ref(), touched, unit)).into(),
        5 => run.map(|run| turn_it(run.clone(), best, gaze, touched, unit)).into(),
        6 => along_the_hose(best, touched, unit).into(),
        7 => shorter_or_longer(best, draft, unit).into(),
        8 => findings(&best.findings, best.marks.mouth_a_mm, unit).into(),
        9 => {
            let cautions = told.cautions.iter().map(|caution| el("li").put(caution.clone()));
            section(words::BEFORE).class("cautions").put(el("ul").put_all(cautions)).into()
        }
        // Where no length works there is nothing to mark, cut or buy.
        10 => (!best.nearest).then(|| marking(best, run, unit)).into(),
        11 => hoses(told, unit).into(),
        12 => rubber(&told.advice).into(),
        _ => run.map(|run| read_back(run, unit)).into(),
    }
}
