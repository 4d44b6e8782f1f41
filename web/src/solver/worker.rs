//! Both ends of the solver worker, which runs the same module as the page.

use super::messages::{Ask, Tell, build};
use super::queue::{Post, Queue};
use std::cell::{Cell, RefCell};
use std::rc::Rc;
use stock::Stock;
use wasm_bindgen::prelude::*;
use web_sys::{DedicatedWorkerGlobalScope, ErrorEvent, MessageEvent, Worker};

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

/// The worker's end: answers every question, after it has said that it listens.
///
/// # Panics
/// If called outside a worker.
pub fn run() {
    let scope: DedicatedWorkerGlobalScope = js_sys::global().unchecked_into();
    let say = {
        let scope = scope.clone();
        move |tell: &Tell| {
            let value = serde_wasm_bindgen::to_value(tell).expect("a report is plain data");
            scope.post_message(&value).expect("plain data can always be cloned");
        }
    };
    let answer = {
        let say = say.clone();
        Closure::<dyn FnMut(MessageEvent)>::new(move |event: MessageEvent| {
            match serde_wasm_bindgen::from_value::<Ask>(event.data()) {
                Ok(Ask::Solve { ticket, job }) => say(&match share::answer(&job, &Stock::built_in()) {
                    Ok(report) => Tell::Done { ticket, report },
                    Err(why) => Tell::Fault { ticket, text: why.to_string() },
                }),
                Err(why) => say(&Tell::Fault { ticket: 0, text: why.to_string() }),
            }
        })
    };
    scope.set_onmessage(Some(answer.into_js_value().unchecked_ref()));
    say(&Tell::Ready { build: build() });
}

/// What the page hears of the solver.
#[derive(Clone, Debug)]
pub enum Heard {
    /// An answer to the newest question.
    Answer(Box<job::Report>),
    /// The job could not be read, or the solver broke on it; with the job's text.
    Stopped {
        /// What is wrong.
        what: String,
    },
}

/// The page's end: the only place that knows of the browser's worker.
pub struct Solver {
    queue: Rc<RefCell<Queue>>,
    worker: Rc<RefCell<Worker>>,
    ticket: Rc<Cell<u32>>,
}

impl std::fmt::Debug for Solver {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Solver").field("queue", &self.queue).finish_non_exhaustive()
    }
}

impl Solver {
    /// Starts the worker; `hear` is told every answer that is still wanted.
    pub fn start(hear: impl Fn(Heard) + 'static) -> Self {
        let solver = Self {
            queue: Rc::default(),
            worker: Rc::new(RefCell::new(start_solver_worker())),
            ticket: Rc::new(Cell::new(0)),
        };
        listen(&solver, &Rc::new(hear));
        solver
    }

    /// Asks for a job to be solved; the newest wins.
    pub fn ask(&self, job: String) {
        let post = self.queue.borrow_mut().ask(job, next(&self.ticket));
        send(&self.worker.borrow(), post);
    }

    /// Ends the worker.
    pub fn stop(&self) {
        self.worker.borrow().terminate();
    }
}

fn next(ticket: &Cell<u32>) -> u32 {
    ticket.set(ticket.get().wrapping_add(1));
    ticket.get()
}

fn send(worker: &Worker, post: Option<Post>) {
    if let Some(Post { ticket, job }) = post {
        let ask = serde_wasm_bindgen::to_value(&Ask::Solve { ticket, job }).expect("a text is plain data");
        worker.post_message(&ask).expect("plain data can always be cloned");
    }
}

fn listen(solver: &Solver, hear: &Rc<impl Fn(Heard) + 'static>) {
    let (queue, worker, ticket) = (solver.queue.clone(), solver.worker.clone(), solver.ticket.clone());
    let told = {
        let hear = hear.clone();
        Closure::<dyn FnMut(MessageEvent)>::new(move |event: MessageEvent| {
            let Ok(tell) = serde_wasm_bindgen::from_value::<Tell>(event.data()) else { return };
            let (heard, post) = match tell {
                Tell::Ready { .. } => (None, queue.borrow_mut().ready(next(&ticket))),
                Tell::Done { ticket: answered, report } => {
                    let (wanted, post) = queue.borrow_mut().answered(answered, next(&ticket));
                    (wanted.then(|| Heard::Answer(Box::new(report))), post)
                }
                Tell::Fault { ticket: answered, text } => {
                    let (wanted, post) = queue.borrow_mut().answered(answered, next(&ticket));
                    (wanted.then_some(Heard::Stopped { what: text }), post)
                }
            };
            send(&worker.borrow(), post);
            heard.into_iter().for_each(|heard| hear(heard));
        })
    };
    let broke = {
        let again =
            Solver { queue: solver.queue.clone(), worker: solver.worker.clone(), ticket: solver.ticket.clone() };
        let hear = hear.clone();
        Closure::<dyn FnMut(ErrorEvent)>::new(move |event: ErrorEvent| {
            event.prevent_default();
            if again.queue.borrow_mut().broke().is_some() {
                hear(Heard::Stopped { what: event.message() });
            }
            again.worker.borrow().terminate();
            *again.worker.borrow_mut() = start_solver_worker();
            listen(&again, &hear);
        })
    };
    let worker = solver.worker.borrow();
    worker.set_onmessage(Some(told.into_js_value().unchecked_ref()));
    worker.set_onerror(Some(broke.into_js_value().unchecked_ref()));
}
