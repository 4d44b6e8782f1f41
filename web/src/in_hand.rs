//! How the phone is held: by the left hand, in gloves. Two switches that the phone remembers; the looks of it are in style.css.

use crate::el::{El, div, el, note, section};
use crate::words;
use gloo_timers::callback::Timeout;
use leptos::prelude::*;
use wasm_bindgen::JsCast;
use web_sys::{Element, Event, ScrollBehavior, ScrollToOptions};

/// A switch: its word, where it is kept, and the class that the whole page has while it is on.
const SWITCHES: [(&str, &str, &str); 2] =
    [(words::LEFT_HAND, "hosewright.left-hand", "left-hand"), (words::GLOVES, "hosewright.gloves", "gloves")];

/// The switches as they were left.
#[derive(Clone, Copy, Debug)]
pub(crate) struct InHand([RwSignal<bool>; 2]);

impl InHand {
    /// Begins as it was left, and keeps the page so.
    pub(crate) fn start() -> Self {
        let kept = |at: &str| {
            window().local_storage().ok().flatten().and_then(|storage| storage.get_item(at).ok().flatten()).is_some()
        };
        let switches = SWITCHES.map(|(_, at, class)| {
            let is_on = kept(at);
            put_on(class, is_on);
            RwSignal::new(is_on)
        });
        Self(switches)
    }

    /// The two switches.
    pub(crate) fn switches(self) -> El {
        let one = |((word, at, class), is_on): ((&'static str, &'static str, &'static str), RwSignal<bool>)| {
            let press = move |event: &Event| {
                is_on.update(|is_on| *is_on = !*is_on);
                // Where nothing may be stored that has been said, and it holds as long as the page is open.
                window().local_storage().ok().flatten().and_then(|storage| {
                    if is_on.get_untracked() { storage.set_item(at, "on") } else { storage.remove_item(at) }.ok()
                });
                let button = event.current_target().map(JsCast::unchecked_into::<Element>);
                let follow = move || {
                    // What was pressed stays under the thumb, however much grows above it.
                    let top = || button.as_ref().map_or(0.0, |button| button.get_bounding_client_rect().top());
                    let before = top();
                    put_on(class, is_on.get_untracked());
                    let by = ScrollToOptions::new();
                    by.set_top(top() - before);
                    by.set_behavior(ScrollBehavior::Instant);
                    window().scroll_by_with_scroll_to_options(&by);
                };
                // The switch shows first that it is pressed: the whole page is laid out anew then.
                request_animation_frame(move || drop(Timeout::new(0, follow).forget()));
            };
            el("button")
                .attrs([("type", "button"), ("class", "bt")])
                .live("aria-pressed", move || is_on.get().to_string())
                .put(word)
                .on("click", press)
        };
        let both = SWITCHES.into_iter().zip(self.0).map(one);
        section(words::IN_HAND).attr("id", "in-hand").put(note(words::IN_HAND_IS)).put(div("row").put_all(both))
    }
}

/// Puts a class on the whole page, or takes it off.
fn put_on(class: &str, is_on: bool) {
    document().document_element().and_then(|page| page.class_list().toggle_with_force(class, is_on).ok());
}
