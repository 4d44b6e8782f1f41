//! The language of the page: English is what the sources say; web/public/words says it in others, once web/boot.js has
//! brought one.

use crate::el::{El, button, div, el};
use crate::keep::Keeper;
use crate::words;
use leptos::prelude::*;
use std::borrow::Cow;
use wasm_bindgen::prelude::*;

/// Where the choice is kept; web/boot.js reads it.
const AT: &str = "hosewright.language";

/// What can be chosen: how it is written in HTML (BCP 47), and what it is called by those who speak it.
const LANGUAGES: [(&str, &str); 3] = [("en", "English"), ("de", "Deutsch"), ("es", "Español")];

#[wasm_bindgen]
extern "C" {
    /// A sentence by the catalogue that was brought.
    #[wasm_bindgen(js_namespace = speaks, js_name = say)]
    fn by_catalogue(words: &str) -> String;
}

/// The language that is spoken now.
fn now() -> String {
    document().document_element().and_then(|page| page.get_attribute("lang")).unwrap_or_default()
}

/// A sentence in the language of the page.
pub(crate) fn say(words: &str) -> Cow<'_, str> {
    thread_local! {
        static IS_ENGLISH: bool = now() == "en";
    }
    if words.is_empty() || IS_ENGLISH.with(|is| *is) { words.into() } else { by_catalogue(words).into() }
}

/// The choice. The page starts anew with it, so it is not offered where nothing may be stored: what is typed would be gone.
pub(crate) fn choice(keeper: Keeper) -> Option<El> {
    let storage = window().local_storage().ok().flatten()?;
    let one = |(language, name): (&'static str, &'static str)| {
        let storage = storage.clone();
        let press = move || {
            keeper.keep();
            if storage.set_item(AT, language).is_ok() {
                window().location().reload().ok();
            }
        };
        button("bt", name, press).attr("lang", language).attr("aria-pressed", (now() == language).to_string())
    };
    let all = div("row").put_all(LANGUAGES.map(one));
    Some(el("section").put(el("h2").put(words::LANGUAGE)).put(all))
}
