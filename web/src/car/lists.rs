//! What recurs in the car's lists: rows with a number and a tag, things to tick off, choices by one tap.

use super::Surveying;
use crate::el::{El, Node, button, details, div, el, live, many, note, p, when};
use crate::form::Draft;
use crate::language;
use crate::words;
use leptos::prelude::*;
use leptos::task::spawn_local;
use share::json::Value;
use wasm_bindgen_futures::JsFuture;

/// A number in a ring.
pub(super) fn ring(number: usize) -> El {
    el("span").class("ring").put(number.to_string())
}

/// What is decided, as a tag: filled for what is new, a broken edge for what goes.
pub(super) fn tag(words: &str) -> El {
    let class = match words {
        "keep" | "passage" => "tag-word",
        "universal hose" | "moulded hose" => "tag-word new",
        "leave out" | "goes" => "tag-word out",
        _ => "tag-word open",
    };
    el("span").class(class).put(words.to_owned())
}

/// Something to tick off, kept in the job file under its key; `what` is the sentence beside it.
pub(super) fn tick(draft: RwSignal<Draft>, key: &str, what: String) -> El {
    let key = StoredValue::new(key.to_owned());
    let is_ticked = move || draft.with(|draft| key.with_value(|key| draft.is_ticked(key)));
    let press = move || draft.update(|draft| key.with_value(|key| draft.tick(key)));
    el("button")
        .attrs([("type", "button"), ("class", "tick"), ("role", "checkbox")])
        .live("aria-checked", move || is_ticked().to_string())
        .attr("aria-label", what)
        .put(live(move || if is_ticked() { "✓" } else { "" }))
        .on_click(press)
}

/// One of a few words, each one tap; a second tap takes it back.
pub(super) fn choice(
    Surveying { draft, .. }: Surveying,
    name: &'static str,
    at: String,
    words: &'static [(&'static str, &'static str)],
) -> El {
    let at = StoredValue::new(at);
    let now = Memo::new(move |_| draft.with(|draft| at.with_value(|at| draft.said(at).to_owned())));
    let one = |(word, shown): &(&'static str, &'static str)| {
        let word = *word;
        let press = move || {
            let next = if now.get_untracked() == word { Value::Null } else { word.into() };
            draft.update(|draft| at.with_value(|at| draft.set_at(at, next)));
        };
        button("bt", *shown, press).live("aria-pressed", move || (now.get() == word).to_string())
    };
    el("div")
        .attrs([("role", "group"), ("aria-label", name)])
        .put(p("note", name))
        .put(div("row choice").put_all(words.iter().map(one)))
}

/// One of a list that is not known beforehand, or a new one.
pub(super) struct Choosing {
    pub(super) name: &'static str,
    pub(super) id: String,
    /// What the new one is called among the others.
    pub(super) new: &'static str,
}

impl Choosing {
    /// The field. A new one is made by a button of its own: going through the list by keys makes none.
    pub(super) fn field(
        self,
        now: impl Fn() -> String + Copy + 'static,
        all: impl Fn() -> Vec<(String, String)> + 'static,
        take: impl Fn(String) + 'static,
        make: impl Fn() + Copy + 'static,
    ) -> El {
        let Self { name, id, new } = self;
        let wants_new = RwSignal::new(false);
        let now = move || if wants_new.get() { new.to_owned() } else { now() };
        let options = move || {
            let one = |(value, shown): (String, String)| {
                let chosen = now() == value;
                el("option").attr("value", value).attr("selected", chosen).put(shown)
            };
            all().into_iter().chain([(new.to_owned(), new.to_owned())]).map(one).collect::<Vec<_>>()
        };
        let chosen = move |value: String| {
            wants_new.set(value == new);
            if value != new {
                take(value);
            }
        };
        let add = move || {
            wants_new.set(false);
            make();
        };
        div("field")
            .put(el("label").attr("for", id.clone()).put(name))
            .put(el("select").attr("id", id).value(now).on_value("change", chosen).put(live(options)))
            .put(when(move || wants_new.get(), move || button("bt", words::ADD_IT, add)))
    }
}

/// A text that is copied for a message; where the browser does not let the page copy, it is shown to be copied by hand.
#[derive(Clone, Copy)]
pub(super) struct Copied {
    text: RwSignal<String>,
    done: RwSignal<Option<bool>>,
}

impl Copied {
    pub(super) fn new() -> Self {
        Self { text: RwSignal::new(String::new()), done: RwSignal::new(None) }
    }

    pub(super) fn copy(self, text: String) {
        let text = text.lines().map(language::say).collect::<Vec<_>>().join("\n");
        let promise = window().navigator().clipboard().write_text(&text);
        self.text.set(text);
        let done = self.done;
        spawn_local(async move { done.set(Some(JsFuture::from(promise).await.is_ok())) });
    }

    /// What came of it.
    pub(super) fn said(self) -> Node {
        let Self { text, done } = self;
        let says = move || done.get().map(|done| if done { words::COPIED } else { words::LIST_NOT_COPIED });
        let by_hand = move || {
            let area = || el("textarea").attrs([("readonly", ""), ("rows", "8"), ("aria-label", words::COPY_CAR)]);
            (done.get() == Some(false)).then(|| area().value(move || text.get()))
        };
        many![note(live(says)).attr("role", "status"), live(by_hand)]
    }
}

/// On whose word a list is: behind one tap for all of it, what rests on one source together.
pub(super) fn sources<'a>(said: impl Iterator<Item = (&'a str, &'a str, &'a str)>) -> El {
    let mut all: Vec<(String, Vec<&str>)> = Vec::new();
    for (what, source, basis) in said {
        let source = format!("{source} ({basis})");
        match all.iter_mut().find(|(known, _)| *known == source) {
            Some((_, whats)) => whats.push(what),
            None => all.push((source, vec![what])),
        }
    }
    let rows = all.into_iter().map(|(source, whats)| {
        let whats = whats.into_iter().map(|what| el("span").class("begin").put(what.to_owned()));
        el("li").put(format!("{source}: ")).put_all(whats)
    });
    details(words::HOW_KNOWN).put(el("ul").class("small").put_all(rows))
}

/// A place where what is wrong is said, if anything is.
pub(super) fn problems_at(Surveying { problems, .. }: Surveying, at: String) -> Node {
    live(move || {
        let found = problems.with(|problems| {
            let here = problems.iter().find(|problem| problem.run.is_none() && problem.field.starts_with(&at));
            here.map(|problem| format!("{}; right would be: {}.", problem.wrong, problem.right))
        });
        found.map(|what| div("err").attr("role", "status").put(el("p").put(what)))
    })
}
