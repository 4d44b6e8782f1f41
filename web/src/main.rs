//! The one WebAssembly module: mounts the page, or runs the solver when it finds itself in a worker.

use web::solver::worker;

fn main() {
    console_error_panic_hook::set_once();
    if worker::in_worker() {
        worker::run();
    } else {
        leptos::mount::mount_to_body(web::app);
    }
}
