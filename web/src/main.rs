//! The one WebAssembly module: mounts the page, or runs the solver when it finds itself in a worker.

use gloo_timers::callback::Timeout;
use web::solver::worker;

fn main() {
    console_error_panic_hook::set_once();
    if worker::in_worker() {
        worker::run();
    } else {
        // In a task of its own: to start the module takes one already, and between the two the browser hears and paints.
        Timeout::new(0, || leptos::mount::mount_to_body(web::app)).forget();
    }
}
