//! The page on the home screen of this phone: offered after the first answer, where the browser can do it; and which build
//! this is.

use crate::el::{El, Node, button, div, el, keep, link, live, many, note, p};
use crate::measure::Screen;
use crate::words;
use gloo_events::{EventListener, EventListenerOptions};
use leptos::prelude::*;
use wasm_bindgen::prelude::*;
use web_sys::Event;

#[wasm_bindgen]
extern "C" {
    /// What a browser hands the page that could install it (Manifest Incubations, W3C community group).
    type Installing;
    #[wasm_bindgen(method)]
    fn prompt(this: &Installing) -> JsValue;

    /// A browser that has this starts a page from its home screen with a storage of its own, empty.
    type Own;
    #[wasm_bindgen(method, getter)]
    fn standalone(this: &Own) -> Option<bool>;
}

/// What can be offered here.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Home {
    offered: RwSignal<Option<Event>, LocalStorage>,
    is_there: RwSignal<bool>,
}

impl Home {
    /// Listens from the start: the browser tells it once, and early.
    pub(crate) fn start() -> Self {
        let by_itself =
            window().match_media("(display-mode: standalone)").ok().flatten().is_some_and(|it| it.matches());
        let home = Self {
            offered: RwSignal::new_local(None),
            is_there: RwSignal::new(by_itself || standalone() == Some(true)),
        };
        let hear = move |event: &Event| {
            // The browser's own bar would lie over the answer.
            event.prevent_default();
            home.offered.set(Some(event.clone()));
        };
        let may_prevent = EventListenerOptions::enable_prevent_default();
        keep([
            EventListener::new_with_options(&window(), "beforeinstallprompt", may_prevent, hear),
            EventListener::new(&window(), "appinstalled", move |_| home.is_there.set(true)),
        ]);
        home
    }

    /// The offer, if there is one to make.
    pub(crate) fn offer(self) -> El {
        let press = move || {
            // It can be asked once.
            let asked = self.offered.try_update(Option::take).flatten();
            asked.map(|event| event.unchecked_into::<Installing>().prompt());
        };
        let offer = move || -> Option<Node> {
            if self.is_there.get() {
                return None;
            }
            if self.offered.with(Option::is_some) {
                return Some(div("row").put(button("bt", words::TO_HOME, press)).into());
            }
            // There the browser's own menu does it, and what was typed does not go along.
            let to_cars = || p("row", link("bt", Screen::Cars.hash(), words::SAVE_FIRST));
            standalone().map(|_| many![note(words::TO_HOME_BY_HAND), to_cars()])
        };
        el("section")
            .put(el("h2").put(words::ON_THIS_PHONE))
            .put(note(words::STAYS_HERE))
            .put(live(offer))
            .put(p("row", link("bt", "how-good.html", words::HOW_GOOD)))
            .put(note(build()))
    }
}

fn standalone() -> Option<bool> {
    window().navigator().unchecked_ref::<Own>().standalone()
}

/// Which build this is: the version, and the digest by which its module's file is called.
fn build() -> String {
    let file =
        document().query_selector("link[rel=modulepreload]").ok().flatten().and_then(|link| link.get_attribute("href"));
    let digest =
        file.as_deref().and_then(|file| file.rsplit_once('-')?.1.split_once('.')).map_or("", |(digest, _)| digest);
    format!("Hosewright {} {}", env!("CARGO_PKG_VERSION"), digest)
}
