//! How far the engine rocks: by the state of its mounts, or as measured.

use super::{Measuring, next};
use crate::el::{El, button, el, note, small};
use crate::form::fields_of;
use crate::words;
use leptos::prelude::*;
use share::json::Value;

/// What one can know of the mounts without a tape, mm each way.
const MOUNTS: [(&str, &str, f64); 3] = [
    ("The mounts are sound", "15 mm each way: common practice", 15.0),
    ("The mounts are tired", "25 mm each way: our choice", 25.0),
    ("Nothing moves", "both ends on one part, or no engine", 0.0),
];

/// The screen on which it is said.
pub(super) fn rocking(Measuring { draft, problems, .. }: Measuring) -> El {
    let now = Memo::new(move |_| draft.with(|draft| draft.triple(0, "rock_mm")));
    let choices = MOUNTS.map(|(name, says, most)| {
        let press = move || {
            draft.update(|draft| draft.set(0, "rock_mm", Value::from([most; 3])));
            draft.with_untracked(next).go();
        };
        let pressed = move || (now.get() == Some([most; 3])).to_string();
        button("bt two", el("span").put(name).put(" ").put(small(says)), press).live("aria-pressed", pressed)
    });
    el("section").class("ask").put(note(words::ROCKS)).put_all(choices).put(note(words::OR_MEASURED)).put(fields_of(
        draft,
        problems,
        "/runs/0/rock_mm/0".to_owned(),
    ))
}
