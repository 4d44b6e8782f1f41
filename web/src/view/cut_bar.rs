//! The cut bar: the length axis with the lengths that work, and the cut on it, to be moved by keys or by drag.

use super::answer::Best;
use super::{figure, length};
use crate::el::{El, Node, button, div, el, label, live, many, path, pattern, rect};
use crate::form::Draft;
use job::CandidateReport;
use leptos::prelude::*;
use quantity::text::{LengthUnit, read_decimal};
use std::cell::Cell;
use std::rc::Rc;

/// Width of the picture; the axis runs over all of it.
const WIDTH: f64 = 180.0;

/// A chance below this wants another way of cutting; the report warns below it, too.
const GOOD: f64 = 0.8;

/// From this chance on errors do not matter.
const ALL: f64 = 0.995;

/// Where a length stands on the bar.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
struct Axis {
    from: f64,
    to: f64,
    /// The lengths that work, for which it was made.
    window: Option<[f64; 2]>,
}

impl Axis {
    /// Round the window and the cut, with a fifth of room on either side, to whole centimetres. It stands still while the
    /// cut is moved on it: under a finger at its end it would run away.
    fn round(window: Option<[f64; 2]>, cut: f64, before: Option<&Self>) -> Self {
        if let Some(before) =
            before.filter(|before| before.window == window && (before.from..=before.to).contains(&cut))
        {
            return *before;
        }
        let [lo, hi] = window.unwrap_or([cut, cut]);
        let (lo, hi) = (lo.min(cut), hi.max(cut));
        let room = f64::max(20.0, 0.2 * (hi - lo));
        Self { from: ((lo - room) / 10.0).floor() * 10.0, to: ((hi + room) / 10.0).ceil() * 10.0, window }
    }

    fn at(self, mm: f64) -> f64 {
        WIDTH * (mm - self.from) / (self.to - self.from)
    }
}

/// A step of a key: a millimetre, or a sixteenth of an inch.
fn step(unit: LengthUnit) -> f64 {
    if unit == LengthUnit::Inch { 1.5875 } else { 1.0 }
}

/// The lengths that work, in words.
fn sentence(best: &CandidateReport, unit: LengthUnit) -> String {
    let between = |[lo, hi]: [f64; 2]| format!("{}–{}", figure(lo.ceil(), unit), figure(hi.floor(), unit));
    match (best.cut_window_mm, best.calm_window_mm) {
        (None, _) => "No cut length works.".to_owned(),
        (Some(window), Some(calm)) if between(calm) == between(window) => {
            format!("Lengths that work {}.", between(window))
        }
        (Some(window), Some(calm)) => format!("Lengths that work {}; no warning {}.", between(window), between(calm)),
        (Some(window), None) => format!("Lengths that work {}, all with a warning.", between(window)),
    }
}

/// The cut bar of the best hose.
pub(crate) fn cut_bar(best: Best, draft: RwSignal<Draft>) -> Node {
    let unit = Memo::new(move |_| draft.with(|draft| draft.unit));
    let axis = Memo::new(move |before| {
        best.with(|best| best.map(|best| Axis::round(best.cut_window_mm, best.cut_mm, before)).unwrap_or_default())
    });
    let cut = Memo::new(move |_| best.with(|best| best.map_or(0.0, |best| best.cut_mm)));
    let move_to = move |mm: f64| draft.update(|draft| draft.try_cut(0, Some((mm * 10.0).round() / 10.0)));
    let key = move |sign: f64, name: &'static str| {
        let says = move || {
            format!("{} by {}", if sign < 0.0 { "Shorter" } else { "Longer" }, length(step(unit.get()), unit.get()))
        };
        let press = move || move_to(cut.get_untracked() + sign * step(unit.get_untracked()));
        button("bt step", name, press).live("aria-label", says)
    };
    let picture = move || {
        let (axis, unit) = (axis.get(), unit.get());
        let (window, calm) = best.with(|best| best.map_or((None, None), |b| (b.cut_window_mm, b.calm_window_mm)));
        let window = window.map(|[lo, hi]| {
            let (x0, x1) = (axis.at(lo), axis.at(hi));
            many![
                rect(x0, 6.0, x1 - x0, 24.0).class("fp"),
                path("o", format!("M{x0:.1} 3V33M{x1:.1} 3V33")),
                label("mi b", (x0.max(14.0), 45.0), figure(lo.ceil(), unit)),
                label("mi b", (x1.min(WIDTH - 14.0), 45.0), figure(hi.floor(), unit)),
            ]
        });
        let calm = calm.map(|[lo, hi]| path("o", format!("M{:.1} 26H{:.1}", axis.at(lo), axis.at(hi))));
        let chances = best.with(|best| best.map_or(Vec::new(), |best| best.chances.clone()));
        let curve = (!chances.is_empty()).then(|| path("c", curve(axis, &chances)));
        el("svg")
            .attr("viewBox", format!("0 0 {WIDTH} 48"))
            .attr("aria-hidden", "true")
            .put(el("defs").put(hatch("not-here")))
            .put(rect(0.0, 6.0, WIDTH, 24.0).class("fp"))
            .put(rect(0.0, 6.0, WIDTH, 24.0).attr("fill", "url(#not-here)"))
            .put(window)
            .put(calm)
            .put(curve)
            .put(path("d", format!("M0 6H{WIDTH}V30H0Z")))
    };
    // Some browsers tell of a drag more often than they draw: once a frame is enough.
    let dragged_to = Rc::new(Cell::new(None));
    let dragged = move |text: String| {
        if dragged_to.replace(read_decimal(&text)).is_none() {
            let to = Rc::clone(&dragged_to);
            request_animation_frame(move || to.take().into_iter().for_each(move_to));
        }
    };
    let says = move || {
        let unit = unit.get();
        best.with(|best| {
            let best = best?;
            Some(sentence(best, unit) + &chance(best, unit).unwrap_or_default())
        })
    };
    let slide = el("input")
        .attrs([("type", "range"), ("aria-label", "Try a cut length")])
        .live("aria-valuetext", move || length(cut.get(), unit.get()))
        .live("min", move || axis.get().from)
        .live("max", move || axis.get().to)
        .attr("step", "1")
        .value(move || {
            // After its ends, or a browser would cut it off at the old ones.
            axis.track();
            cut.get()
        })
        .on_value("input", dragged);
    many![
        div("cut").put(key(-1.0, "−")).put(div("axis").put(live(picture)).put(slide)).put(key(1.0, "+")),
        el("p").class("note tight").put(live(says)),
    ]
}

/// The chance of each length to pass, from the floor of the bar (none) to its top (all).
fn curve(axis: Axis, chances: &[[f64; 2]]) -> String {
    let inside = chances.iter().filter(|[cut, _]| (axis.from..=axis.to).contains(cut));
    let point = |(i, [cut, chance]): (usize, &[f64; 2])| {
        format!("{}{:.1} {:.1}", if i == 0 { 'M' } else { 'L' }, axis.at(*cut), 30.0 - 24.0 * chance)
    };
    inside.enumerate().map(point).collect()
}

/// The chance of the cut in words, and what to do about a poor one.
fn chance(best: &CandidateReport, unit: LengthUnit) -> Option<String> {
    // Where nearly all pass there is nothing to say.
    let chance = best.chance.filter(|chance| *chance < ALL)?;
    let of = (100.0 * chance).round();
    let said = format!(" With errors of tape and eye {of} of 100 pass.");
    // No longer than errors of tape and eye ask for.
    let enough = best.chances.iter().find(|[cut, chance]| *cut >= best.cut_mm && *chance >= ALL).map(|[cut, _]| *cut);
    let long = best
        .cut_window_mm
        .filter(|_| chance < GOOD)
        .map(|[_, hi]| enough.map_or(hi, |enough| enough.min(hi)).floor())
        .map(|long| format!(" Cut it {}, offer it up, trim it back.", length(long, unit)));
    Some(said + &long.unwrap_or_default())
}

/// A hatch: what is not allowed.
pub(super) fn hatch(id: &'static str) -> El {
    pattern(id, "7", path("d", "M0 0V7")).attr("patternTransform", "rotate(45)")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_axis_runs_over_the_whole_picture() {
        let axis = Axis { from: 400.0, to: 600.0, window: None };
        assert!(axis.at(400.0).abs() < 1e-9 && (axis.at(600.0) - WIDTH).abs() < 1e-9, "{axis:?}");
    }

    #[test]
    fn the_axis_stands_still_while_the_cut_is_moved_on_it() {
        let window = Some([450.0, 530.0]);
        let first = Axis::round(window, 485.0, None);
        assert_eq!((first.from, first.to), (430.0, 550.0), "by hand: 20 mm of room");
        for cut in [430.0, 441.0, 550.0] {
            assert_eq!(Axis::round(window, cut, Some(&first)), first, "{cut}");
        }
        let shorter = Axis::round(window, 429.0, Some(&first));
        assert_eq!((shorter.from, shorter.to), (400.0, 560.0), "by hand: a fifth of 101 is 20.2");
        let other = Axis::round(Some([300.0, 340.0]), 320.0, Some(&first));
        assert_eq!((other.from, other.to), (280.0, other.to), "another window");
    }
}
