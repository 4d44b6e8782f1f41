//! Both ends of the solver worker, which runs the same module as the page.

use wasm_bindgen::prelude::*;
use web_sys::{DedicatedWorkerGlobalScope, MessageEvent, Worker};

#[wasm_bindgen]
extern "C" {
    /// Set by boot.js: starts boot.js as a module worker with the module that is already compiled.
    #[wasm_bindgen(js_name = startSolverWorker)]
    fn start_solver_worker() -> Worker;
}

/// Whether this is the worker's copy of the module.
#[must_use]
pub fn in_worker() -> bool {
    js_sys::global().is_instance_of::<DedicatedWorkerGlobalScope>()
}

/// The worker's end: says that it listens.
///
/// # Panics
/// If called outside a worker.
pub fn run() {
    let scope: DedicatedWorkerGlobalScope = js_sys::global().unchecked_into();
    scope.post_message(&"ready".into()).expect("a string can always be cloned");
}

/// The page's end: starts the worker and hands on what it says.
pub fn start(hear: impl FnMut(MessageEvent) + 'static) -> Worker {
    let worker = start_solver_worker();
    let hear = Closure::<dyn FnMut(MessageEvent)>::new(hear);
    worker.set_onmessage(Some(hear.into_js_value().unchecked_ref()));
    worker
}
