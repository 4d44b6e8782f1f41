//! The answer on the first screen: worst verdict in words, the figure to cut, the marked piece, the cut bar.

use super::cut_bar::cut_bar;
use super::strip::strip;
use super::{figure, kind, length, mark, which};
use crate::el::{El, Node, afterwards, button, div, el, link, live, note, p, unseen, when};
use crate::form::Draft;
use crate::form::sketch::Letter;
use crate::measure::Screen;
use crate::words;
use gloo_timers::callback::Timeout;
use job::input::KindInput;
use job::{CandidateReport, Report, RunReport};
use leptos::prelude::*;
use quantity::text::LengthUnit;
use share::json::Value;
use std::sync::Arc;

/// A report with a hose in it: of its first run the hose that serves best is shown.
#[derive(Clone, Debug)]
pub(crate) struct Shown(Arc<Report>);

/// The same report, and not one that says the same: to compare them whole costs more than to look whether the page shows it.
impl PartialEq for Shown {
    fn eq(&self, other: &Self) -> bool {
        Arc::ptr_eq(&self.0, &other.0)
    }
}

impl Shown {
    /// What is shown of a report, if it has a hose.
    pub(crate) fn of(report: &Arc<Report>) -> Option<Self> {
        report.runs.first()?.candidates.first()?;
        Some(Self(Arc::clone(report)))
    }

    pub(crate) fn run(&self) -> &RunReport {
        &self.0.runs[0]
    }

    pub(crate) fn best(&self) -> &CandidateReport {
        &self.run().candidates[0]
    }
}

/// The best hose of what is shown.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Best(Memo<Option<Shown>>);

impl Best {
    pub(crate) fn with<T>(self, does: impl FnOnce(Option<&CandidateReport>) -> T) -> T {
        self.0.with(|shown| does(shown.as_ref().map(Shown::best)))
    }
}

fn other(unit: LengthUnit) -> LengthUnit {
    match unit {
        LengthUnit::Millimetre => LengthUnit::Inch,
        LengthUnit::Inch => LengthUnit::Millimetre,
    }
}

/// How long a length rests before it is told to who listens, ms (our choice: longer than from one press to the next).
const SPOKEN_AFTER: u32 = 700;

/// The answer for the best hose of a run. It stays where it is while the answer changes, so that a thumb that drags the cut
/// does not lose it; `act` is what is to be done next. `is_whole` tells whether the solver has told all of it.
pub(crate) fn answer(shown: Memo<Option<Shown>>, is_whole: RwSignal<bool>, draft: RwSignal<Draft>, act: Node) -> El {
    let best = Best(shown);
    let unit = Memo::new(move |_| draft.with(|draft| draft.unit));
    let trying = Memo::new(move |_| draft.with(|draft| draft.number(0, "try_cut_mm").is_some()));
    let verdict = Memo::new(move |_| {
        // A pass with things unchecked beside it is not shown as a plain pass.
        best.with(|best| {
            best.map_or("", |b| if b.verdict == "pass" { "not checked" } else { b.verdict.as_str() }).to_owned()
        })
    });
    let with_best = move |say: fn(&CandidateReport, LengthUnit) -> String| {
        live(move || best.with(|best| best.map(|best| say(best, unit.get()))))
    };
    // Who listens is told of another length once it rests, not with every step towards it.
    let spoken = RwSignal::new(String::new());
    let wait = StoredValue::new_local(None);
    let cut = move || best.with(|best| best.map(|best| best.cut_mm));
    let told = StoredValue::new(None);
    let follow = move || {
        let (cut, unit) = (cut(), unit.get());
        let before = told.get_value();
        told.set_value(cut.or(before));
        if let (Some(cut), Some(before)) = (cut, before)
            && (cut - before).abs() > 0.0
        {
            let tell = move || drop(spoken.try_set(words::LENGTH_NOW.replace("{}", &length(cut, unit))));
            wait.set_value(Some(Timeout::new(SPOKEN_AFTER, tell)));
        }
    };
    let said = with_best(|best, unit| {
        if best.nearest {
            format!("No cut length: {} comes nearest.", length(best.cut_mm, unit))
        } else {
            format!("Cut length: {}, {}", length(best.cut_mm, unit), length(best.cut_mm, other(unit)))
        }
    });
    let what = move || match best.with(|best| best.is_some_and(|best| best.nearest)) {
        true => "comes nearest",
        false if trying.get() => words::TRIED_LENGTH,
        false => words::CUT_LENGTH,
    };
    let notes = move || {
        let unit = unit.get();
        shown.with(|shown| {
            let shown = shown.as_ref()?;
            let (run, best) = (shown.run(), shown.best());
            let ways = match best.ways {
                0 | 1 => String::new(),
                n => format!("It can lie in {n} ways at this length; see below. "),
            };
            let hose = format!(
                "{}, {} bore, {} outside. ",
                best.hose.kind,
                length(best.hose.bore_mm, unit),
                length(best.hose.outside_mm, unit)
            );
            let assumed = if run.assumed.is_empty() {
                String::new()
            } else {
                format!("{} {}.", words::LIKELY, run.assumed.join("; "))
            };
            Some(format!("{ways}{hose}{assumed}"))
        })
    };
    let hose = with_best(|best, unit| which(&best.hose, unit));
    let turn_round =
        live(move || shown.with(|shown| Some(turned(shown.as_ref()?.run().turned_round.as_ref()?, draft))));
    let unrocked = move || {
        let not =
            |best: &CandidateReport| best.findings.iter().any(|f| f.check == "rock" && f.verdict == "not checked");
        best.with(|best| best.is_some_and(not))
    };
    // A hot thing of which nobody said how hot it is: which of those near it.
    let untold = move || {
        draft.with(|draft| {
            let things = draft.sketch(0).things;
            (0..things.len()).find(|i| {
                things[*i].kind == KindInput::Hot && draft.number(0, &format!("neighbours/{i}/surface_c")).is_none()
            })
        })
    };
    let say_hot =
        live(move || untold().map(|i| div("row").put(link("bt", Screen::Near(Some(i)).hash(), words::SAY_HOT))));
    let say_rock = when(unrocked, || div("row").put(link("bt", Screen::Rocking.hash(), words::SAY_ROCK)));
    let piece = live(move || best.with(|best| best.map(|best| strip(best, unit.get()))));
    el("section")
        .class("answer")
        .put(
            el("p")
                .attr("aria-live", "polite")
                .live("class", move || if verdict.get() == "fail" { "vd stop" } else { "vd" })
                .put(live(move || mark(&verdict.get())))
                .put(" ")
                .put(el("span").put(with_best(|best, _| best.headline.clone())))
                .put(live(move || (verdict.get() == "not checked").then(|| unseen(words::NOT_ALL_CHECKED)))),
        )
        .put(turn_round)
        .put(p("sr", said))
        .put(p("sr", live(move || spoken.get())).attr("role", "status").made(move |_| afterwards(follow)))
        .put(
            div("big")
                .attr("aria-hidden", "true")
                .put(el("strong").put(with_best(|best, unit| figure(best.cut_mm, unit))))
                .put(el("em").put(live(move || words::unit(unit.get()))))
                .put(
                    el("div")
                        .put(live(what))
                        .put(el("br"))
                        .put(el("b").put(with_best(|best, unit| length(best.cut_mm, other(unit))))),
                ),
        )
        .put(p("which", hose))
        .put(no_longer(shown, is_whole, draft))
        .put(piece)
        .put(cut_bar(best, draft))
        .put(say_hot)
        .put(say_rock)
        .put(act)
        .put(p("small-print", words::NOT_FOR))
        .put(p("small-print", words::CAUTION))
        .put(note(live(notes)))
}

/// A run by what stays when something about it is corrected, and the hose that serves it best.
#[derive(Clone, PartialEq)]
struct Served {
    run: (String, String, [Option<f64>; 2]),
    hose: String,
    before: Option<String>,
}

/// That the answer has come to another hose for the same run since, and why: somebody may have bought the one before.
fn no_longer(shown: Memo<Option<Shown>>, is_whole: RwSignal<bool>, draft: RwSignal<Draft>) -> Node {
    let run = Memo::new(move |_| {
        draft.with(|draft| {
            let ends = ["from", "to"].map(|end| draft.number(0, &format!("{end}/spigot_mm")));
            (draft.said("/car").to_owned(), draft.name(0), ends)
        })
    });
    // Which it is now, as far as all has been told, and which it was before.
    let served = Memo::new(move |last: Option<&Option<Served>>| {
        let last = last.cloned().flatten();
        // Where no length works nothing is bought.
        let best =
            |shown: &Option<Shown>| shown.as_ref().map(Shown::best).filter(|best| !best.nearest).map(|b| kind(&b.hose));
        let hose = shown.with(best);
        let Some(hose) = hose.filter(|_| is_whole.get()) else { return last };
        let (run, of_this) = (run.get(), last.filter(|last| last.run == run.get()));
        let before = of_this.and_then(|last| if last.hose == hose { last.before } else { Some(last.hose) });
        Some(Served { run, hose, before })
    });
    live(move || {
        let before = served.with(|served| served.as_ref()?.before.clone())?;
        shown.with(|shown| {
            let behind = shown.as_ref()?.run().candidates.iter().skip(1).find(|other| kind(&other.hose) == before);
            Some(note(match behind {
                Some(other) => format!("No longer {before}: {}.", other.why_behind),
                None => format!("No longer {before}."),
            }))
        })
    })
}

/// Asks after an end that may have been said the wrong way round; one tap turns it.
fn turned(which: &str, draft: RwSignal<Draft>) -> El {
    let letters: Vec<_> = Letter::BOTH.into_iter().filter(|letter| which.contains(letter.name())).collect();
    let sketch = draft.with_untracked(|draft| draft.sketch(0));
    let back = |letter: Letter| sketch.end(letter).points.map(|points| points.map(|x| 0.0 - x));
    let acts = letters
        .iter()
        .filter_map(|letter| Some(format!("{} points {}", letter.name(), sketch.stand.direction(back(*letter)?))));
    let acts = acts.collect::<Vec<_>>().join(", ");
    let turns: Vec<_> = letters.into_iter().filter_map(|letter| Some((letter, back(letter)?))).collect();
    let turn = move || {
        draft.update(|draft| {
            for (letter, points) in &turns {
                draft.set(0, &format!("{}/points", letter.field()), Value::from(*points));
            }
        });
    };
    let asks = format!("Is a direction turned round? A spigot points out of its part. If {acts}, a length would work.");
    div("err").put(el("p").put(asks)).put(button("bt m", acts, turn))
}
