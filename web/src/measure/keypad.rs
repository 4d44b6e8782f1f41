//! The keypad: digits, one decimal mark, a way to take back, parts of an inch; what the number means stands beside it.

use super::typing::{PARTS, Typing};
use crate::el::{El, Node, button, div, el, keep, live, many, small};
use crate::words;
use gloo_events::{EventListener, EventListenerOptions};
use leptos::prelude::*;
use quantity::text::LengthUnit;
use wasm_bindgen::JsCast;
use web_sys::{Event, EventTarget, HtmlInputElement, HtmlSelectElement, KeyboardEvent};

/// The keypad with, beside each of its four rows, what the number means: two keys, or one over both places.
pub(super) fn keypad(typing: RwSignal<Typing>, unit: Memo<LengthUnit>, beside: [Node; 4]) -> Node {
    let key = move |name: &'static str, says: &'static str, press: fn(&mut Typing)| {
        button("bt key", name, move || typing.update(press)).attr("aria-label", says)
    };
    let digit = move |digit: char| button("bt key", digit.to_string(), move || typing.update(|t| t.digit(digit)));
    let last = vec![key(", .", "decimal mark", Typing::mark), digit('0'), key("⌫", "take back", Typing::back)];
    let rows = ["789", "456", "123"].map(|row| row.chars().map(digit).collect::<Vec<_>>());
    let rows = rows.into_iter().chain([last]).zip(beside).map(|(keys, beside)| many![keys, beside]);
    let parts = move || {
        (unit.get() == LengthUnit::Inch).then(|| {
            div("row chips").put_all(PARTS.map(|(sixteenths, name)| {
                button("bt chip", name, move || typing.update(|t| t.part(sixteenths)))
                    .live("aria-pressed", move || typing.with(|typing| typing.has(sixteenths).to_string()))
            }))
        })
    };
    many![live(parts), div("keys").put_all(rows)]
}

/// What stands typed, with its unit.
pub(super) fn typed(typing: RwSignal<Typing>, unit: Memo<LengthUnit>) -> El {
    let shown = move || typing.with(|typing| if typing.is_empty() { "–".to_owned() } else { typing.shown() });
    el("output").attr("aria-live", "polite").put(live(shown)).put(" ").put(small(live(move || words::unit(unit.get()))))
}

/// A keyboard types on the keypad, too, wherever on its screen one stands. Keys that are no figures are left to the page.
pub(super) fn hear(typing: RwSignal<Typing>) {
    let options = EventListenerOptions::enable_prevent_default();
    let ear = EventListener::new_with_options(&window(), "keydown", options, move |event: &Event| {
        let Some(event) = event.dyn_ref::<KeyboardEvent>() else { return };
        // A field of the list below the keypad hears its own keys.
        let target = event.target();
        let is_field = |target: &EventTarget| {
            target.is_instance_of::<HtmlInputElement>() || target.is_instance_of::<HtmlSelectElement>()
        };
        let key = event.key();
        let digit = key.chars().next().filter(|c| c.is_ascii_digit() && key.len() == 1);
        match (key.as_str(), digit) {
            _ if target.as_ref().is_some_and(is_field) || event.ctrl_key() || event.meta_key() || event.alt_key() => {
                return;
            }
            ("Backspace", _) => typing.update(Typing::back),
            ("." | ",", _) => typing.update(Typing::mark),
            (_, Some(digit)) => typing.update(|typing| typing.digit(digit)),
            _ => return,
        }
        event.prevent_default();
    });
    keep(ear);
}
