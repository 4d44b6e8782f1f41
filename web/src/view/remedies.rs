//! What would help, each laid and judged, to be taken with one tap; and what was taken, to be taken away again.

use super::{length, mark};
use crate::el::{El, button, el, note, section, unseen};
use crate::form::Draft;
use crate::words;
use job::{RemedyReport, RunReport};
use leptos::prelude::*;
use quantity::text::LengthUnit;
use share::json::{self, Value};

/// What a remedy can have added to a run: its field, and what it is called.
const ADDED: [(&str, &str); 5] = [
    ("bows", "Led to lie one way"),
    ("from/turned_deg", "Spigot A turned"),
    ("to/turned_deg", "Spigot B turned"),
    ("elbows", "Elbow with a joiner"),
    ("via", "P-clip or hole on the way"),
];

/// The section; nothing where nothing helps, is needed, or was taken.
pub(crate) fn remedies(told: &RunReport, draft: RwSignal<Draft>, unit: LengthUnit) -> Option<El> {
    let added: Vec<_> =
        ADDED.into_iter().filter(|(field, _)| draft.with_untracked(|draft| draft.is_said(0, field))).collect();
    let none = told.remedies.is_empty();
    let fails = told.candidates.first().is_some_and(|best| best.nearest);
    if none && added.is_empty() && !fails {
        return None;
    }
    let rows = told.remedies.iter().map(|remedy| row(remedy, draft, unit));
    let taken = added.into_iter().map(|(field, name)| {
        let away = move || draft.update(|draft| draft.set(0, field, Value::Null));
        button("bt", format!("{name}: {}", words::TAKE_AWAY.to_lowercase()), away)
    });
    let says = if none && fails { words::NOTHING_HELPS } else { words::HELPS };
    Some(
        section(words::WHAT_HELPS)
            .put((!none || fails).then(|| note(says)))
            .put(el("ul").class("ls").put_all(rows))
            .put_all(taken),
    )
}

fn row(remedy: &RemedyReport, draft: RwSignal<Draft>, unit: LengthUnit) -> El {
    let verdict = if remedy.verdict == "pass" { "not checked" } else { remedy.verdict.as_str() };
    let changes = remedy.change.clone();
    let take = move || {
        draft.update(|draft| {
            for change in &changes {
                if let Ok(value) = json::read(&change.value) {
                    draft.set(0, &change.field, value);
                }
            }
            draft.try_cut(0, None);
        });
    };
    let cut = format!("Cut {}", length(remedy.cut_mm, unit));
    let window = remedy
        .cut_window_mm
        .map(|[lo, hi]| format!("; works {} to {}", length(lo.ceil(), unit), length(hi.floor(), unit)));
    el("li")
        .put(mark(verdict))
        .put(el("h3").class("wide-row").put(remedy.what.clone()).put(" ").put(unseen(words::verdict(verdict))))
        .put(el("p").put(el("b").put(cut)).put(window).put(". ").put(remedy.headline.clone()))
        .put((!remedy.change.is_empty()).then(|| button("bt", words::TAKE_IT, take)))
}
