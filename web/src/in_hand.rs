//! How the phone is held: by the left hand, in gloves. Two switches that the phone remembers; the looks of it are in style.css.

use crate::el::{El, afterwards, button, div, el, p};
use crate::words;
use leptos::prelude::*;

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
            let is_on = RwSignal::new(kept(at));
            afterwards(move || {
                let page = document().document_element();
                page.and_then(|page| page.class_list().toggle_with_force(class, is_on.get()).ok());
            });
            is_on
        });
        Self(switches)
    }

    /// The two switches.
    pub(crate) fn switches(self) -> El {
        let one = |((word, at, _), is_on): ((&'static str, &'static str, _), RwSignal<bool>)| {
            let press = move || {
                is_on.update(|is_on| *is_on = !*is_on);
                // Where nothing may be stored that has been said, and it holds as long as the page is open.
                window().local_storage().ok().flatten().and_then(|storage| {
                    if is_on.get_untracked() { storage.set_item(at, "on") } else { storage.remove_item(at) }.ok()
                });
            };
            button("bt", word, press).live("aria-pressed", move || is_on.get().to_string())
        };
        let both = SWITCHES.into_iter().zip(self.0).map(one);
        el("section").put(el("h2").put(words::IN_HAND)).put(p("note", words::IN_HAND_IS)).put(div("row").put_all(both))
    }
}
