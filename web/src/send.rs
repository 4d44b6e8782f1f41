//! A run on its way: as a link and a QR code out of the page, and what a link brought into it.

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
use web_sys::{DomException, ShareData};

/// The address of the page without its fragment.
fn address() -> String {
    let href = window().location().href().unwrap_or_default();
    href.split('#').next().unwrap_or_default().to_owned()
}

/// The link of the run at hand, or why there is none.
pub(crate) fn link_of(draft: &Draft) -> Result<String, String> {
    let opened = share::read(&draft.text()).map_err(|why| why.to_string())?;
    let code = link::write(&opened.input).map_err(|why| why.to_string())?;
    Ok(format!("{}#{code}", address()))
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
pub(crate) fn code_of(draft: &Draft) -> Option<AnyView> {
    let (dark, size) = qr_of(draft)?;
    let code = view! {
        <svg class="qr" viewBox=format!("0 0 {size} {size}") role="img" aria-label=words::CODE>
            <rect width=size height=size fill="#fff" />
            <path d=dark fill="#000" />
        </svg>
    };
    Some(code.into_any())
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
fn print(printing: RwSignal<bool>) {
    printing.set(true);
    // The sheet is drawn when this task is done; `print` holds up the one that calls it.
    Timeout::new(0, || {
        // A browser that cannot print says so itself, or does nothing.
        window().print().ok();
    })
    .forget();
}

/// Ways to hand the run on, and a place to paste one.
#[component]
pub(crate) fn Send(keeper: Keeper, printing: RwSignal<bool>) -> impl IntoView {
    let draft = keeper.draft;
    let link = Memo::new(move |_| draft.with(link_of));
    let copied = RwSignal::new(None::<bool>);
    let not_sent = RwSignal::new(false);
    let shown = RwSignal::new(false);
    let pasted = RwSignal::new(String::new());
    let wrong = RwSignal::new(None::<String>);
    let copy = move |_| {
        if let Ok(link) = link.get_untracked() {
            let promise = window().navigator().clipboard().write_text(&link);
            spawn_local(async move { copied.set(Some(JsFuture::from(promise).await.is_ok())) });
        }
    };
    let send = move |_| {
        if let Ok(link) = link.get_untracked() {
            let name = draft.with_untracked(|draft| draft.name(0));
            spawn_local(async move { not_sent.set(!share(&name, &link).await) });
        }
    };
    let open = move |_| match link::read(&pasted.get_untracked()) {
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
    view! {
        <section>
            <h2>{words::SEND}</h2>
            {move || match link.get() {
                Ok(link) => view! {
                    <div class="field">
                        <label for="link">{words::LINK}</label>
                        <input id="link" type="text" readonly prop:value=link />
                    </div>
                    <div class="row">
                        <button type="button" class="bt" on:click=copy>{words::COPY}</button>
                        <button type="button" class="bt" aria-expanded=move || shown.get().to_string() on:click=move |_| shown.update(|s| *s = !*s)>
                            {move || if shown.get() { words::HIDE_CODE } else { words::SHOW_CODE }}
                        </button>
                        {can_share().then(|| view! { <button type="button" class="bt" on:click=send>{words::SEND_IT}</button> })}
                    </div>
                }
                .into_any(),
                Err(why) => view! { <p class="note">{why}"."</p> }.into_any(),
            }}
            <p class="note" role="status">
                {move || copied.get().map(|done| if done { words::COPIED } else { words::NOT_COPIED })}
                {move || not_sent.get().then_some(words::NOT_SENT)}
            </p>
            <Show when=move || shown.get()>{move || draft.with(code_of)}</Show>
            <p class="note">{words::WHO_SEES}</p>
            <button type="button" class="bt" on:click=move |_| print(printing)>{words::PRINT}</button>
            <div class="field">
                <label for="paste">{words::PASTE}</label>
                <input
                    id="paste"
                    type="text"
                    autocomplete="off"
                    autocapitalize="off"
                    spellcheck="false"
                    aria-describedby="paste-wrong"
                    prop:value=pasted
                    on:input=move |event| pasted.set(event_target_value(&event))
                />
                <div id="paste-wrong" class="err" role="status">{move || wrong.get().map(|why| view! { <p>{why}</p> })}</div>
            </div>
            <button type="button" class="bt" on:click=open>{words::OPEN}</button>
        </section>
    }
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

/// Says that a link brought a run, and asks before it takes the place of one at hand.
#[component]
pub(crate) fn Arrived(keeper: Keeper) -> impl IntoView {
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
            came.as_ref().is_some_and(|came| came.as_ref().is_ok_and(|d| keeper.draft.with(|at| d.job == at.job)))
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
    StoredValue::new_local(ear); // It listens as long as its owner lives.
    view! {
        {move || came.get().map(|came| match came {
            Ok(draft) => view! {
                <section role="alert">
                    <p>{words::CAME} " " <b>{draft.name(0)}</b></p>
                    <div class="row">
                        <button type="button" class="bt m" on:click=move |_| take()>{words::OPEN}</button>
                        <button type="button" class="bt" on:click=move |_| keep_mine()>{words::KEEP_MINE}</button>
                    </div>
                </section>
            }
            .into_any(),
            Err(why) => view! {
                <section role="alert"><p class="vd">{words::BAD_LINK}</p><p>{why}</p></section>
            }
            .into_any(),
        })}
    }
}
