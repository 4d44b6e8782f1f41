//! The copy of the page on this phone: has the browser make it, and offers a new version when one is ready.

use crate::el::{El, button, div, el, when};
use crate::keep::Keeper;
use crate::words;
use gloo_events::EventListener;
use js_sys::futures::{JsFuture, spawn_local};
use leptos::prelude::*;
use std::cell::Cell;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{
    RegistrationOptions, ServiceWorker, ServiceWorkerContainer, ServiceWorkerRegistration, ServiceWorkerState,
    ServiceWorkerUpdateViaCache, VisibilityState,
};

/// The service worker, beside the page; its source is web/sw.js.
const SCRIPT: &str = "sw.js";

/// What the service worker takes for the word to take over.
const SWITCH: &str = "switch";

/// A version that is complete on this phone and waits to take over.
type Waiting = RwSignal<Option<ServiceWorker>, LocalStorage>;

/// The bar that offers a new version.
pub(crate) fn new_version(keeper: Keeper) -> El {
    let waiting = Waiting::new_local(None);
    let container = window().navigator().service_worker();
    // There is none in a developer's build, nor where the address is not a secure one: the page works all the same.
    if !cfg!(debug_assertions) && !container.is_undefined() {
        spawn_local(async move {
            // A browser that refuses leaves a page that needs its host; the browser's console says why.
            watch(&container, waiting).await.ok();
        });
    }
    let switch = move || {
        keeper.keep();
        waiting.with_untracked(|next| next.as_ref().map(|next| next.post_message(&SWITCH.into())));
    };
    let offer = move || {
        el("section").put(el("p").put(words::NEW_VERSION)).put(
            div("row")
                .put(button("bt", words::SWITCH, switch))
                .put(button("bt", words::LATER, move || waiting.set(None))),
        )
    };
    el("div").attr("role", "status").put(when(move || waiting.with(Option::is_some), offer))
}

/// Has the page kept and listens for versions, as long as the page lives.
async fn watch(container: &ServiceWorkerContainer, waiting: Waiting) -> Result<(), JsValue> {
    // The first to take over found this page as it is; each after it brings other files.
    let taken_over = Cell::new(container.controller().is_some());
    EventListener::new(container, "controllerchange", move |_| {
        if taken_over.replace(true) {
            window().location().reload().ok();
        }
    })
    .forget();

    let options = RegistrationOptions::new();
    options.set_update_via_cache(ServiceWorkerUpdateViaCache::None);
    let registration = JsFuture::from(container.register_with_options(SCRIPT, &options)).await?;
    let registration: ServiceWorkerRegistration = registration.dyn_into()?;

    for next in [registration.waiting(), registration.installing()].into_iter().flatten() {
        follow(container, next, waiting);
    }
    let (found, finds) = (registration.clone(), container.clone());
    EventListener::new(&registration, "updatefound", move |_| {
        if let Some(next) = found.installing() {
            follow(&finds, next, waiting);
        }
    })
    .forget();
    // A page on the home screen may come back into sight for weeks without being loaded again.
    EventListener::new(&document(), "visibilitychange", move |_| {
        if document().visibility_state() == VisibilityState::Visible
            && let Ok(looked) = registration.update()
        {
            spawn_local(async move {
                JsFuture::from(looked).await.ok(); // No signal: the next time will do.
            });
        }
    })
    .forget();
    Ok(())
}

/// Offers a version once it is complete, unless it is the first.
fn follow(container: &ServiceWorkerContainer, next: ServiceWorker, waiting: Waiting) {
    let (container, worker) = (container.clone(), next.clone());
    let look = move || {
        if worker.state() == ServiceWorkerState::Installed && container.controller().is_some() {
            waiting.set(Some(worker.clone()));
        }
    };
    look();
    EventListener::new(&next, "statechange", move |_| look()).forget();
}
