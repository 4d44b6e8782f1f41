//! Shorter or longer: what goes wrong on either side of the lengths that work, greater steps, and lengths one has.

use super::length;
use crate::el::{El, button, details, div, el, link, note, section, when};
use crate::form::Draft;
use crate::words;
use job::{CandidateReport, FindingReport};
use leptos::prelude::*;
use quantity::text::LengthUnit;

/// What goes wrong beyond the lengths that work, as a plain sentence.
fn goes_wrong(side: &str, finding: &FindingReport) -> String {
    let why = &finding.why;
    let about = if finding.about.is_empty() { String::new() } else { format!(": {}", finding.about) };
    format!("{side}: {why}{about}. ")
}

/// What goes wrong on either side, and buttons that try other cuts.
pub(crate) fn shorter_or_longer(best: &CandidateReport, draft: RwSignal<Draft>, unit: LengthUnit) -> El {
    let cut = best.cut_mm;
    let steps: [f64; 4] = match unit {
        LengthUnit::Millimetre => [-10.0, -5.0, 5.0, 10.0],
        LengthUnit::Inch => [-12.7, -6.35, 6.35, 12.7],
    };
    let name = move |step: f64| format!("{} {}", if step < 0.0 { "−" } else { "+" }, length(step.abs(), unit));
    let try_cut = move |mm: f64| draft.update(|draft| draft.try_cut(0, Some(mm)));
    let trying = move || draft.with(|draft| draft.number(0, "try_cut_mm").is_some());
    let old = draft
        .with_untracked(|draft| draft.number(0, "replaces/length_mm"))
        .map(|old| button("bt", format!("Try the old hose's {}", length(old, unit)), move || try_cut(old)));
    let suggested = move || draft.update(|draft| draft.try_cut(0, None));
    section(words::SHORTER)
        .put(
            note(best.shorter_fails.as_ref().map(|finding| goes_wrong("Shorter", finding)))
                .put(best.longer_fails.as_ref().map(|finding| goes_wrong("Longer", finding))),
        )
        .put(div("row").put_all(steps.map(|step| button("bt", name(step), move || try_cut(cut + step)))))
        .put(old)
        .put(link("bt", "#piece", words::HAVE_PIECE))
        .put(when(trying, move || button("bt", "Back to the cut suggested", suggested)))
        .put(details(words::HOW_KNOWN).fold(|| words::CUT_HOW.map(|line| el("p").put(line)).into()))
}
