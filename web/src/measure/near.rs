//! What is near the hose: its kind and its form, each one tap.

use super::{Measuring, Screen, how};
use crate::el::{El, button, div, el, link, many, note, small};
use crate::form::fields_of;
use crate::form::sketch::Form;
use crate::words;
use job::input::KindInput;
use leptos::prelude::*;
use share::json::Value;

/// The four kinds: their word in the job file, and what they are called here with an example or two.
pub(super) const KINDS: [(KindInput, &str, &str, &str); 4] = [
    (KindInput::Hot, "hot", "Hot", "exhaust, turbo, manifold"),
    (KindInput::Moving, "moving", "Moves", "belt, fan, throttle rod"),
    (KindInput::Sharp, "sharp", "Sharp", "edge of a sheet, bracket"),
    (KindInput::Solid, "solid", "Solid", "wing, tray, block"),
];

const FORMS: [(Form, &str); 4] =
    [(Form::Rod, "pipe or rod"), (Form::Box, "wall or block"), (Form::Ball, "lump"), (Form::Disc, "fan or pulley")];

/// The screen for a new thing, or for one that is there.
pub(super) fn near(thing: Option<usize>, Measuring { draft, problems, .. }: Measuring) -> El {
    let there = move || thing.and_then(|i| draft.with(|draft| draft.sketch(0).things.get(i).cloned()));
    let kind = RwSignal::new(there().map_or(KindInput::Hot, |thing| thing.kind));
    let kinds = KINDS.map(|(is, word, name, such)| {
        let press = move || {
            kind.set(is);
            if let Some(i) = thing {
                draft.update(|draft| {
                    draft.set(0, &format!("neighbours/{i}/kind"), Value::from(word));
                    if is != KindInput::Hot {
                        draft.set(0, &format!("neighbours/{i}/surface_c"), Value::Null);
                    }
                });
            }
        };
        button("bt two", el("span").put(name).put(" ").put(small(such)), press)
            .live("aria-pressed", move || (kind.get() == is).to_string())
    });
    let forms = thing.is_none().then(|| {
        let forms = FORMS.map(|(form, name)| {
            let press = move || {
                let word = KINDS.iter().find(|row| row.0 == kind.get_untracked()).map_or("hot", |row| row.1);
                let next = draft.with_untracked(|draft| draft.sketch(0).things.len());
                Screen::Thing(next).go_with(move || draft.update(|draft| draft.add_neighbour(0, word, form)));
            };
            button("bt", name, press)
        });
        many![note("It is a:"), " ", div("row").put_all(forms)]
    });
    let list = thing.map(|i| {
        let take_away = move || {
            Screen::Sheet.go_with(move || draft.update(|draft| draft.take_away(0, "neighbours", i)));
        };
        many![
            div("row").put(button("bt", words::TAKE_AWAY, take_away)).put(link(
                "bt m",
                Screen::Thing(i).hash(),
                words::WHERE_IT_IS
            )),
            fields_of(draft, problems, format!("/runs/0/neighbours/{i}/")),
        ]
    });
    el("section").class("ask").put(div("row halves").put_all(kinds)).put(forms).put(list).put(how(
        Screen::Near(thing),
        "near",
        words::HOW,
    ))
}
