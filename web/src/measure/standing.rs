//! Where the person stands: eight places round and under the car, on a small plan.

use super::{Measuring, next};
use crate::el::{El, button, circle, el, note, path};
use crate::form::Draft;
use crate::form::stand::{Stand, Way};
use crate::words;
use leptos::prelude::*;
use share::json::Value;

/// The plan of the car from above, its front at the top, with a dot where the person is; the feet point where they do.
pub(crate) fn plan(stand: Stand) -> El {
    // Away from the person, in the car's axes: forward is up the paper, the car's left is on the left.
    let [ax, ay, _] = stand.vector(Way::Away);
    let (x, y) = if stand.is_under() { (24.0, 28.0) } else { (24.0 + 18.0 * ay, 28.0 + 24.0 * ax) };
    // Lying down, the feet are the opposite way of past the head.
    let feet = stand.is_under().then(|| format!("M{x} {y}L{:.1} {:.1}", x + 11.0 * ay, y + 11.0 * ax));
    el("svg")
        .attrs([
            ("class", "plan"),
            ("viewBox", "0 0 48 56"),
            ("width", "48"),
            ("height", "56"),
            ("aria-hidden", "true"),
        ])
        .put(path("thing", "M15 12q9-8 18 0v32q-9 4-18 0z").attr("stroke-width", "1.6"))
        .put(path("d", "M16 20q8-5 16 0"))
        .put(feet.map(|d| path("m", d)))
        .put(circle("dot", (x, y), 4.5))
}

/// The screen on which it is said.
pub(super) fn standing(Measuring { draft, .. }: Measuring) -> El {
    let now = Memo::new(move |_| draft.with(|draft| draft.sketch(0).stand));
    let choices = Stand::ALL.map(|stand| {
        let press = move || {
            draft.update(|draft| draft.set(0, "stood", Value::from(stand.word())));
            draft.with_untracked(|draft: &Draft| next(draft)).go();
        };
        let pressed = move || (now.get() == stand).to_string();
        button("bt place", plan(stand), press).put(" ").put(el("span").put(stand.name())).live("aria-pressed", pressed)
    });
    el("section").class("ask").put(note(words::STAY_PUT).put(" The front of the car is at the top.")).put_all(choices)
}
