//! Two other starts: a piece that is cut already, and the hose that was there before.

use super::keypad::{hear, keypad, typed};
use super::typing::Typing;
use super::{Measuring, Screen, how, next};
use crate::el::{El, Node, button, div, el, live, note, p};
use crate::view::length;
use crate::words;
use leptos::prelude::*;
use share::json::Value;

/// The screen on which a length is said.
pub(super) fn piece(Measuring { draft, .. }: Measuring) -> El {
    let unit = Memo::new(move |_| draft.with(|draft| draft.unit));
    let typing = RwSignal::new(Typing::default());
    let said = RwSignal::new("");
    let take = move |field: &'static str| match typing.with_untracked(|typing| typing.mm(unit.get_untracked())) {
        Some(mm) => {
            draft.update(|draft| draft.set(0, field, Value::from(mm)));
            draft.with_untracked(next).go();
        }
        None => said.set("First the number, then what it is."),
    };
    let key = move |name: &'static str, field: &'static str| {
        Node::from(button("bt way wide-key tall", name, move || take(field)))
    };
    let known = move |field: &str| draft.with(|draft| draft.number(0, field)).map(|mm| length(mm, unit.get()));
    let now = move || match (known("try_cut_mm"), known("replaces/length_mm")) {
        (Some(cut), _) => format!("Cut already: {cut}."),
        (None, Some(old)) => format!("The old hose: {old}."),
        (None, None) => String::new(),
    };
    let nothing = || Node::Many(Vec::new());
    let beside =
        [key(words::CUT_ALREADY, "try_cut_mm"), nothing(), key(words::OLD_HOSE, "replaces/length_mm"), nothing()];
    hear(typing);
    el("section")
        .class("ask pad")
        .put(note(words::PIECE))
        .put(div("typed").put(note(live(now))).put(typed(typing, unit)))
        .put(p("err", live(move || said.get())).attr("role", "alert"))
        .put(keypad(typing, unit, beside))
        .put(how(Screen::Piece, "old-hose", words::HOW))
}
