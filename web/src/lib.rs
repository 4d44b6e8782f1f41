//! The page.

pub mod worker;

use leptos::prelude::*;

/// The whole page: starts the solver and says when it listens.
#[component]
pub fn App() -> impl IntoView {
    let ready = RwSignal::new(false);
    let solver = StoredValue::new_local(worker::start(move |_| ready.set(true)));
    on_cleanup(move || solver.with_value(web_sys::Worker::terminate));
    view! {
        <main>
            <h1>"Hosewright"</h1>
            <p role="status">{move || if ready.get() { "Solver ready" } else { "Starting" }}</p>
        </main>
    }
}
