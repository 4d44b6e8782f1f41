//! The first screen of the example, written down: `web/first.html` and the end of `web/style.css` hold it, so that it stands on
//! the page with its first paint, before the solver has come. With `HOSEWRIGHT_WRITE=1` it is written anew.

#![cfg(test)]

use crate::el::{Written, div, el};
use crate::example::EXAMPLE;
use crate::form::Draft;
use crate::measure::Screen;
use crate::upper::{at_example, drawn, first_acts, head, laid};
use crate::view::{Shown, answer};
use leptos::prelude::*;
use share::Answering;
use std::path::Path;
use std::sync::Arc;
use stock::Stock;

/// Behind this line of `web/style.css` stand the places of what is laid over the drawing: they change with it.
const MARK: &str = "/* the first screen as it comes with the page, written by web/src/first.rs */\n";

/// The first screen as markup, and its rules.
fn written() -> Written {
    let draft = Draft::open(EXAMPLE).expect("the example is a job file");
    let mut answering = Answering::begin(&draft.text(), None).expect("the example is a job");
    let report = Arc::new(answering.whole(&Stock::built_in()));
    let draft = RwSignal::new(draft);
    let sketch = Memo::new(move |_| draft.with(|draft| draft.sketch(0)));
    let hose = laid(&report);
    let (hose, shown) = (Memo::new(move |_| hose.clone()), Memo::new(move |_| Shown::of(&report)));
    let upper = div("upper").put(at_example()).put(drawn(sketch, hose)).put(answer(
        shown,
        RwSignal::new(true),
        draft,
        first_acts(|_| ()).into(),
    ));
    let mut written = Written::default();
    written.put(head(draft, || Screen::Sheet).into());
    written.put(el("main").class("two").put(upper).into());
    written
}

#[test]
fn the_first_screen_that_is_kept_is_that_of_the_example() {
    let Written { markup, rules } = Owner::new().with(written);
    let rules: String = rules.iter().map(|rule| format!("{rule}\n")).collect();
    let web = Path::new(env!("CARGO_MANIFEST_DIR"));
    let (page, style) = (web.join("first.html"), web.join("style.css"));
    let kept = std::fs::read_to_string(&style).unwrap();
    let (rest, kept_rules) = kept.split_once(MARK).expect("style.css has the line");
    if std::env::var_os("HOSEWRIGHT_WRITE").is_some() {
        std::fs::write(&page, &markup).unwrap();
        std::fs::write(&style, format!("{rest}{MARK}{rules}")).unwrap();
        return;
    }
    let why = "is not of these sources: HOSEWRIGHT_WRITE=1 cargo test -p web first";
    assert!(std::fs::read_to_string(&page).unwrap_or_default() == markup, "web/first.html {why}");
    assert!(kept_rules == rules, "the end of web/style.css {why}");
}
