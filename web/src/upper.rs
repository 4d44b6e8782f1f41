//! The first screen of the sheet: the head of the page, the run in its drawing with the hose in it, the first acts. For the
//! example it is written down as well (`first.rs`), and stands there before the page has started.

use crate::el::{El, button, div, el, link, live, p, small, unseen, when};
use crate::form::Draft;
use crate::form::sketch::{Letter, Sketch};
use crate::measure::{self, Screen};
use crate::view::{Laid, bands, slanted};
use crate::words;
use job::Report;
use leptos::prelude::*;
use quantity::text::LengthUnit;

/// What the page is about, and the unit in which it is read.
pub(crate) fn head(draft: RwSignal<Draft>, screen: impl Fn() -> Screen + Copy + Send + Sync + 'static) -> El {
    let unit = Memo::new(move |_| draft.with(|draft| draft.unit));
    let to_sheet = || link("un", Screen::Sheet.hash(), "Back ").put(small("to the sheet"));
    let other_unit = move || if unit.get() == LengthUnit::Millimetre { "or in" } else { "or mm" };
    let swap_unit = button("un", live(move || words::unit(unit.get())), move || draft.update(Draft::swap_unit))
        .put(" ")
        .put(small(live(other_unit)))
        .put(unseen(" (change the unit)"));
    // On the screens of the car it is said which one.
    let of = move || {
        let car = draft.with(|draft| screen().is_of_car().then(|| draft.said("/car").to_owned()));
        car.filter(|car| !car.is_empty()).unwrap_or_else(|| words::TITLE.to_owned())
    };
    let title = live(move || draft.with(|draft| measure::title(screen(), draft)));
    el("header")
        .class("tb")
        .put(div("nm").put(el("h1").attr("tabindex", "-1").put(title)).put(small(live(of))))
        .put(when(move || screen() != Screen::Sheet && !screen().is_of_car(), to_sheet))
        .put(swap_unit)
}

/// The hose of the best answer, for the drawing.
pub(crate) fn laid(report: &Report) -> Option<Laid> {
    let best = report.runs.first()?.candidates.first()?;
    let lie = best.lie.as_ref()?;
    Some(Laid { points: lie.points_mm.clone(), outside: best.hose.outside_mm, bands: bands(lie) })
}

/// The run in its drawing, with a button over every part.
pub(crate) fn drawn(sketch: Memo<Sketch>, laid: Memo<Option<Laid>>) -> El {
    let picture = move || sketch.with(|sketch| slanted(sketch, laid.get().as_ref(), &[], 150.0));
    let stand = move || sketch.with(|sketch| sketch.stand);
    let standing = el("a")
        .class("corner")
        .attr("href", Screen::Standing.hash())
        .live("aria-label", move || format!("You are {}. Change it", stand().name()))
        .put(live(move || measure::plan(stand())));
    div("over").put(live(picture)).put(standing).put(link("bt near", Screen::Near(None).hash(), "+ thing near it"))
}

/// That it is the example.
pub(crate) fn at_example() -> El {
    p("ex", words::EXAMPLE)
}

/// How a run of one's own begins, each on its screen.
pub(crate) fn first_acts(begin: impl Fn(Screen) + Copy + 'static) -> El {
    div("row").put(button("bt m", words::MEASURE, move || begin(Screen::Spigot(Letter::A)))).put(button(
        "bt",
        words::HAVE_PIECE,
        move || begin(Screen::Piece),
    ))
}
