//! A run on its way: as a link and a QR code out of the page, and what a link brought into it.

use crate::app::REST;
use crate::el::{El, Node, Turns, afterwards, button, div, el, keep, live, many, note, p, rect, section, when};
use crate::form::Draft;
use crate::keep::Keeper;
use crate::words;
use gloo_events::EventListener;
use gloo_timers::callback::Timeout;
use leptos::prelude::*;
use leptos::task::spawn_local;
use qrcodegen::{QrCode, QrCodeEcc, QrSegment, Version};
use share::link;
use wasm_bindgen::JsCast;
use wasm_bindgen_futures::JsFuture;
use web_sys::{DomException, KeyboardEvent, ShareData};

/// The address of the page without its fragment.
fn address() -> String {
    let href = window().location().href().unwrap_or_default();
    href.split('#').next().unwrap_or_default().to_owned()
}

/// The link of the run at hand, or why there is none.
pub(crate) fn link_of(draft: &Draft) -> Result<String, String> {
    let opened = share::read(&draft.text()).map_err(|why| why.to_string())?;
    // A run of which something is still to say is not among them.
    if opened.input.runs.is_empty() {
        return Err(words::LINK_LATER.to_owned());
    }
    let code = link::write(&opened.input).map_err(|why| why.to_string())?;
    Ok(format!("{}#{code}", address()))
}

/// A link to be read or copied by hand, under its name.
pub(crate) fn link_field(id: &'static str, name: &'static str, link: String) -> El {
    let field = el("input").attr("id", id).attrs([("type", "text"), ("readonly", "")]).value(move || link.clone());
    div("field").put(el("label").attr("for", id).put(name)).put(field)
}

/// The QR code as the path of its dark modules, and its width in modules with the quiet zone of four (ISO/IEC 18004).
fn qr_of(draft: &Draft) -> Option<(String, i32)> {
    const QUIET: i32 = 4;
    let opened = share::read(&draft.text()).ok()?;
    let digits = link::write_digits(&opened.input).ok()?;
    let (letter, figures) = digits.split_at(1);
    // The address in bytes, the run in figures: in its own numeric segment it takes three quarters of the room.
    let segments =
        [QrSegment::make_bytes(format!("{}#{letter}", address()).as_bytes()), QrSegment::make_numeric(figures)];
    let code =
        QrCode::encode_segments_advanced(&segments, QrCodeEcc::Medium, Version::MIN, Version::MAX, None, true).ok()?;
    let dark = (0..code.size())
        .flat_map(|y| (0..code.size()).map(move |x| (x, y)))
        .filter(|(x, y)| code.get_module(*x, *y))
        .map(|(x, y)| format!("M{} {}h1v1h-1z", x + QUIET, y + QUIET))
        .collect();
    Some((dark, code.size() + 2 * QUIET))
}

/// The QR code of the link, if the run can be a link.
pub(crate) fn code_of(draft: &Draft) -> Option<El> {
    let (dark, size) = qr_of(draft)?;
    Some(
        el("svg")
            .class("qr")
            .attr("viewBox", format!("0 0 {size} {size}"))
            .attrs([("role", "img"), ("aria-label", words::CODE)])
            .put(rect(0.0, 0.0, size.into(), size.into()).attr("fill", "#fff"))
            .put(el("path").attr("d", dark).attr("fill", "#000")),
    )
}

/// Whether the browser can hand a link to the phone's own list of ways to send.
fn can_share() -> bool {
    js_sys::Reflect::has(&window().navigator(), &"share".into()).unwrap_or(false)
}

/// Hands the link to the phone's own list of ways to send; false if that failed, not if it was called off.
async fn share(name: &str, link: &str) -> bool {
    let data = ShareData::new();
    data.set_title(words::TITLE);
    data.set_text(name);
    data.set_url(link);
    match JsFuture::from(window().navigator().share_with_data(&data)).await {
        Ok(_) => true,
        // The Web Share API's word for a person who thought better of it.
        Err(why) => why.dyn_ref::<DomException>().is_some_and(|why| why.name() == "AbortError"),
    }
}

/// Opens the browser's printing, once the sheet that is printed stands in the page.
pub(crate) fn print(printing: RwSignal<bool>) {
    printing.set(true);
    // The sheet is drawn when this task is done; `print` holds up the one that calls it.
    Timeout::new(0, || {
        // A browser that cannot print says so itself, or does nothing.
        window().print().ok();
    })
    .forget();
}

/// Ways to hand the run on, and a place to paste one.
pub(crate) fn send(keeper: Keeper, printing: RwSignal<bool>) -> El {
    let draft = keeper.draft;
    let link = move || draft.with_untracked(link_of);
    // Link and code follow what is typed once it has come to rest: to make them takes longer than a key may.
    let follow = Turns::of(2);
    afterwards(move || {
        draft.track();
        follow.begin(REST, || ());
    });
    let copied = RwSignal::new(None::<bool>);
    let not_sent = RwSignal::new(false);
    let shown = RwSignal::new(false);
    let pasted = RwSignal::new(String::new());
    let wrong = RwSignal::new(None::<String>);
    let copy = move || {
        if let Ok(link) = link() {
            let promise = window().navigator().clipboard().write_text(&link);
            spawn_local(async move { copied.set(Some(JsFuture::from(promise).await.is_ok())) });
        }
    };
    let send_it = move || {
        if let Ok(link) = link() {
            let name = draft.with_untracked(|draft| draft.name(0));
            spawn_local(async move { not_sent.set(!share(&name, &link).await) });
        }
    };
    let open = move || match link::read(&pasted.get_untracked()) {
        Ok(input) => match Draft::of(&input) {
            Some(draft) => {
                wrong.set(None);
                pasted.set(String::new());
                keeper.open(draft);
            }
            None => wrong.set(Some(words::NO_RUN.to_owned())),
        },
        Err(why) => wrong.set(Some(format!("{why}."))),
    };
    let as_link = move || match link() {
        Ok(link) => {
            let code = live(move || if shown.get() { words::HIDE_CODE } else { words::SHOW_CODE });
            many![
                link_field("link", words::LINK, link),
                div("row")
                    .put(button("bt", words::COPY, copy))
                    .put(
                        button("bt", code, move || shown.update(|s| *s = !*s))
                            .live("aria-expanded", move || shown.get().to_string()),
                    )
                    .put(can_share().then(|| button("bt", words::SEND_IT, send_it))),
            ]
        }
        Err(why) => note(why).put(".").into(),
    };
    let code = move || {
        follow.begin(0, || ());
        follow.part(1, move || draft.with_untracked(code_of))
    };
    let done = move || copied.get().map(|done| if done { words::COPIED } else { words::NOT_COPIED });
    let paste = el("input")
        .attrs([
            ("id", "paste"),
            ("type", "text"),
            ("autocomplete", "off"),
            ("autocapitalize", "off"),
            ("spellcheck", "false"),
            ("aria-describedby", "paste-wrong"),
        ])
        .live("aria-invalid", move || wrong.with(Option::is_some).then_some("true"))
        .value(move || pasted.get())
        .on_value("input", move |text| pasted.set(text))
        .on("keydown", move |event: &KeyboardEvent| {
            if event.key() == "Enter" {
                open();
            }
        });
    let refused = live(move || wrong.get().map(|why| el("p").put(why)));
    section(words::SEND)
        .attr("id", "hand-on")
        .put(follow.part(0, as_link))
        .put(note(live(done)).put(live(move || not_sent.get().then_some(words::NOT_SENT))).attr("role", "status"))
        .put(when(move || shown.get(), code))
        .put(note(words::WHO_SEES))
        .put(button("bt", words::PRINT, move || print(printing)))
        .put(
            div("field")
                .put(el("label").attr("for", "paste").put(words::PASTE))
                .put(paste)
                .put(div("err").attrs([("id", "paste-wrong"), ("role", "status")]).put(refused)),
        )
        .put(button("bt", words::OPEN, open))
}

/// What the fragment of the address brought: a run, or why it is none. Nothing for a fragment of the page's own.
fn arrived() -> Option<Result<Draft, String>> {
    let hash = window().location().hash().ok()?;
    let code = hash.strip_prefix('#').unwrap_or_default();
    // The page's own places are short words; every link is longer.
    if code.len() < 16 {
        return None;
    }
    Some(match link::read(code) {
        Ok(input) => Draft::of(&input).ok_or_else(|| words::NO_RUN.to_owned()),
        Err(why) => Err(format!("{why}.")),
    })
}

fn alert(first: El) -> El {
    el("section").attr("role", "alert").put(first)
}

/// Says that a link brought a run, and asks before it takes the place of one at hand.
pub(crate) fn arrival(keeper: Keeper) -> Node {
    let came = RwSignal::new(arrived());
    let take = move || {
        // Out of the address, so that a later reload does not bring it again over what was changed since.
        window().location().set_hash("").ok();
        if let Some(Ok(draft)) = came.try_update(Option::take).flatten() {
            keeper.open(draft);
        }
    };
    let keep_mine = move || {
        window().location().set_hash("").ok();
        came.set(None);
    };
    let at_hand = move || {
        came.with(|came| {
            came.as_ref().is_some_and(|came| came.as_ref().is_ok_and(|d| keeper.draft.with(|at| d.text() == at.text())))
        })
    };
    // Nothing at hand, or the same run: no need to ask.
    let unasked = move || {
        if came.with_untracked(|came| matches!(came, Some(Ok(_)))) && (keeper.at_example() || at_hand()) {
            take();
        }
    };
    unasked();
    let ear = EventListener::new(&window(), "hashchange", move |_| {
        if let Some(new) = arrived() {
            came.set(Some(new));
            unasked();
        }
    });
    keep(ear);
    live(move || {
        came.get().map(|came| match came {
            Ok(draft) => alert(el("p").put(words::CAME).put(" ").put(el("b").put(draft.name(0))))
                .put(div("row").put(button("bt m", words::OPEN, take)).put(button("bt", words::KEEP_MINE, keep_mine))),
            Err(why) => alert(p("vd", words::BAD_LINK)).put(el("p").put(why)),
        })
    })
}
