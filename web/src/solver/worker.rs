//! Both ends of the solver worker, which runs the same module as the page.

use super::messages::{Ask, Tell, Want, build, posted, received};
use super::queue::{Post, Queue};
use crate::words;
use gloo_events::{EventListener, EventListenerOptions};
use gloo_timers::callback::Timeout;
use leptos::prelude::{LocalStorage, StoredValue};
use share::Answering;
use std::cell::{Cell, RefCell};
use std::rc::Rc;
use stock::Stock;
use wasm_bindgen::prelude::*;
use web_sys::{DedicatedWorkerGlobalScope, ErrorEvent, Event, MessageEvent, Worker};

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
    let at_work = Rc::new(AtWork::default());
    let ears = EventListener::new(&scope(), "message", move |event| {
        let Some(Ask::Solve { ticket, job, want }) = received(&data(event)) else { return };
        at_work.begin(ticket, &job, want);
    });
    // The worker listens as long as it lives.
    ears.forget();
    say(&scope(), &Tell::Ready { build: build() });
}

fn scope() -> DedicatedWorkerGlobalScope {
    js_sys::global().unchecked_into()
}

fn say(scope: &DedicatedWorkerGlobalScope, tell: &Tell) {
    scope.post_message(&posted(tell)).expect("bytes can always be cloned");
}

/// The job at hand. It is answered in steps, and between two of them the worker listens: a newer job ends the work.
#[derive(Default)]
struct AtWork {
    known: RefCell<Option<Answering>>,
    next: RefCell<Option<Timeout>>,
}

impl AtWork {
    fn begin(self: &Rc<Self>, ticket: u32, job: &str, want: Want) {
        self.next.borrow_mut().take();
        let mut answering = match Answering::begin(job, self.known.borrow_mut().take()) {
            Ok(answering) => answering,
            Err(why) => return say(&scope(), &Tell::Fault { ticket, text: why.to_string() }),
        };
        if want == Want::Car {
            *self.known.borrow_mut() = Some(answering);
            return self.car(ticket);
        }
        let stock = Stock::built_in();
        if !answering.is_known()
            && let Some(report) = answering.first(&stock)
        {
            say(&scope(), &Tell::Part { ticket, report });
        }
        *self.known.borrow_mut() = Some(answering);
        self.then(move |at_work| {
            at_work.step(|answering, stock| Tell::Part { ticket, report: answering.broad(stock) });
            at_work.then(move |at_work| {
                at_work.step(|answering, stock| Tell::Done { ticket, report: answering.whole(stock) });
            });
        });
    }

    /// One run of the car after another, then all that is told of it.
    fn car(self: &Rc<Self>, ticket: u32) {
        self.then(move |at_work| {
            let mut left = false;
            at_work.step(|answering, stock| {
                if answering.is_known() {
                    return Tell::Car { ticket, report: answering.car(stock) };
                }
                left = true;
                let (done, of) = answering.step(stock);
                Tell::Progress { ticket, done, of }
            });
            if left {
                at_work.car(ticket);
            }
        });
    }

    /// One step of the work, told.
    fn step(&self, work: impl FnOnce(&mut Answering, &Stock) -> Tell) {
        if let Some(answering) = self.known.borrow_mut().as_mut() {
            say(&scope(), &work(answering, &Stock::built_in()));
        }
    }

    /// Goes on after what has come in meanwhile was heard.
    fn then(self: &Rc<Self>, go_on: impl FnOnce(&Rc<Self>) + 'static) {
        let at_work = Rc::clone(self);
        *self.next.borrow_mut() = Some(Timeout::new(0, move || go_on(&at_work)));
    }
}

fn data(event: &Event) -> JsValue {
    event.unchecked_ref::<MessageEvent>().data()
}

/// What the page hears of the solver.
#[derive(Clone, Debug)]
pub enum Heard {
    /// An answer to the newest question, or the part of it that is known so far.
    Answer {
        /// What is known.
        report: Box<job::Report>,
        /// Whether that is all of it.
        is_whole: bool,
    },
    /// The same for a whole car.
    Car(Box<job::Report>),
    /// So many runs of a whole car are solved, and of how many.
    Progress(usize, usize),
    /// The job could not be read, or the solver broke on it; with the job's text.
    Stopped {
        /// What is wrong.
        what: String,
    },
}

/// The page's end, as it is handed on to whatever can have it stopped.
pub(crate) type Solving = StoredValue<Solver, LocalStorage>;

/// The page's end: the only place that knows of the browser's worker.
#[derive(Clone)]
pub struct Solver(Rc<Inner>);

struct Inner {
    queue: RefCell<Queue>,
    worker: RefCell<Option<Running>>,
    ticket: Cell<u32>,
    /// How many workers broke one after the other without a word.
    silent: Cell<u32>,
    hear: Box<dyn Fn(Heard)>,
}

/// After so many workers that said nothing it is told, and the next one waits for a new question (our choice).
const TRIES: u32 = 3;

/// A worker and the page's ears for it; both end together.
struct Running {
    worker: Worker,
    _ears: [EventListener; 2],
}

impl Drop for Running {
    fn drop(&mut self) {
        self.worker.terminate();
    }
}

impl std::fmt::Debug for Solver {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Solver").field("queue", &self.0.queue).finish_non_exhaustive()
    }
}

impl Solver {
    /// Starts the worker; `hear` is told every answer that is still wanted.
    pub fn start(hear: impl Fn(Heard) + 'static) -> Self {
        let solver = Self(Rc::new(Inner {
            queue: RefCell::default(),
            worker: RefCell::default(),
            ticket: Cell::default(),
            silent: Cell::default(),
            hear: Box::new(hear),
        }));
        solver.begin();
        solver
    }

    /// Asks for a job to be solved; the newest wins.
    pub fn ask(&self, job: String, want: Want) {
        let post = self.0.queue.borrow_mut().ask((job, want), self.next());
        self.send(post);
        if self.0.silent.get() == TRIES {
            self.0.silent.set(TRIES - 1);
            self.begin();
        }
    }

    /// Gives up what is being worked out; the next question is answered again.
    pub fn halt(&self) {
        self.broke(words::HALTED.to_owned());
    }

    /// Ends the worker.
    pub fn stop(&self) {
        self.0.worker.borrow_mut().take();
    }

    fn next(&self) -> u32 {
        self.0.ticket.set(self.0.ticket.get().wrapping_add(1));
        self.0.ticket.get()
    }

    /// Starts a worker in place of the one before, if there was one.
    fn begin(&self) {
        let worker = start_solver_worker();
        let (told, broken) = (self.clone(), self.clone());
        let ears = [
            EventListener::new(&worker, "message", move |event| told.told(event)),
            EventListener::new_with_options(
                &worker,
                "error",
                EventListenerOptions::enable_prevent_default(),
                move |event| {
                    event.prevent_default();
                    // A worker whose script does not come says no more than that.
                    broken.broke(event.dyn_ref().map_or_else(|| words::NO_WORKER.to_owned(), ErrorEvent::message));
                },
            ),
        ];
        *self.0.worker.borrow_mut() = Some(Running { worker, _ears: ears });
    }

    /// Reads what the worker says; what comes of it is a task of its own, since an answer is long to read and long to show.
    fn told(&self, event: &Event) {
        let Some(tell) = received(&data(event)) else { return };
        let solver = self.clone();
        Timeout::new(0, move || solver.heard(tell)).forget();
    }

    fn heard(&self, tell: Tell) {
        let (heard, post) = match tell {
            Tell::Ready { .. } => {
                self.0.silent.set(0);
                (None, self.0.queue.borrow_mut().ready(self.next()))
            }
            Tell::Part { ticket, report } => {
                let (wanted, post) = self.0.queue.borrow_mut().answered_in_part(ticket, self.next());
                (wanted.then(|| Heard::Answer { report: report.into(), is_whole: false }), post)
            }
            Tell::Done { ticket, report } => {
                let (wanted, post) = self.0.queue.borrow_mut().answered(ticket, self.next());
                (wanted.then(|| Heard::Answer { report: report.into(), is_whole: true }), post)
            }
            Tell::Progress { ticket, done, of } => {
                let (wanted, post) = self.0.queue.borrow_mut().answered_in_part(ticket, self.next());
                (wanted.then_some(Heard::Progress(done, of)), post)
            }
            Tell::Car { ticket, report } => {
                let (wanted, post) = self.0.queue.borrow_mut().answered(ticket, self.next());
                (wanted.then(|| Heard::Car(Box::new(report))), post)
            }
            Tell::Fault { ticket, text } => {
                let (wanted, post) = self.0.queue.borrow_mut().answered(ticket, self.next());
                (wanted.then_some(Heard::Stopped { what: text }), post)
            }
        };
        self.send(post);
        if let Some(heard) = heard {
            (self.0.hear)(heard);
        }
    }

    /// The worker broke: says so if it was at work, and starts another. The job it broke on is not tried again by itself.
    fn broke(&self, what: String) {
        let silent = self.0.silent.get() + 1;
        self.0.silent.set(silent);
        if self.0.queue.borrow_mut().broke().is_some() || silent == TRIES {
            (self.0.hear)(Heard::Stopped { what });
        }
        if silent < TRIES {
            // Not from within its own ears: they would be dropped while they are heard.
            let again = self.clone();
            Timeout::new(0, move || again.begin()).forget();
        }
    }

    fn send(&self, post: Option<Post>) {
        if let (Some(Post { ticket, asked: (job, want) }), Some(running)) = (post, self.0.worker.borrow().as_ref()) {
            let ask = posted(&Ask::Solve { ticket, job, want });
            running.worker.post_message(&ask).expect("bytes can always be cloned");
        }
    }
}
