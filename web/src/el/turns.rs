//! Parts of the page that follow one after the other, each in a task of its own: between two of them the browser paints, and
//! hears what is pressed.

use super::{Node, live};
use gloo_timers::callback::Timeout;
use leptos::prelude::*;
use std::rc::Rc;

/// A part that follows in the next task: what stands round it is painted first.
pub(crate) fn next_task<T: Into<Node>>(say: impl Fn() -> T + 'static) -> Node {
    let turns = Turns::of(1);
    turns.begin(0, || ());
    turns.part(0, say)
}

/// A part that follows once what stands round it is painted; while the page is out of sight nothing is, and it waits.
pub(crate) fn after_paint<T: Into<Node>>(say: impl Fn() -> T + 'static) -> Node {
    let turns = Turns::of(1);
    request_animation_frame(move || {
        // Unless that part of the page has ended meanwhile.
        if turns.come.try_with_value(|_| ()).is_some() {
            turns.begin(0, || ());
        }
    });
    turns.part(0, say)
}

/// The turns of so many parts. They end with the part of the page in which they were made.
#[derive(Clone, Copy)]
pub(crate) struct Turns {
    /// How often the turn of each has come.
    come: StoredValue<Vec<RwSignal<u32>>>,
    /// A wait that is replaced ends.
    wait: StoredValue<Option<Timeout>, LocalStorage>,
}

impl Turns {
    pub(crate) fn of(parts: usize) -> Self {
        let come = (0..parts).map(|_| RwSignal::new(0)).collect();
        Self { come: StoredValue::new(come), wait: StoredValue::new_local(None) }
    }

    /// Says the parts one after the other, the first after so many ms, and then does what is to be done; it begins anew if it
    /// had begun.
    pub(crate) fn begin(self, wait_ms: u32, then: impl Fn() + 'static) {
        self.turn(0, wait_ms, Rc::new(then));
    }

    fn turn(self, i: usize, wait_ms: u32, then: Rc<dyn Fn()>) {
        let next = move || {
            let Some(part) = self.come.try_with_value(|come| come.get(i).copied()) else { return };
            match part {
                Some(part) => {
                    part.update(|times| *times += 1);
                    self.turn(i + 1, 0, Rc::clone(&then));
                }
                None => then(),
            }
        };
        self.wait.set_value(Some(Timeout::new(wait_ms, next)));
    }

    /// Where the part stands, from its next turn on. What it reads then does not bring it about again.
    pub(crate) fn part<T: Into<Node>>(self, i: usize, say: impl Fn() -> T + 'static) -> Node {
        let come = self.come.with_value(|come| come[i]);
        let before = come.get_untracked();
        live(move || (come.get() > before).then(|| untrack(|| say().into())))
    }
}
