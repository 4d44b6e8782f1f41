//! From which states a car goes on, on this phone or another, by the checks of their texts: whether one that a file brings is
//! the next state of one that stands here. No browser here.

use super::record::{Record, check};
use share::json::Value;

/// How many former states of a car are known (our choice: a state comes every other second while one types, so that this is an
/// hour of typing at the least; it is 22 kB then, and what goes on from an older state is kept beside it).
const MOST: usize = 2000;

/// The checks of the former states of a car, the oldest first.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Past(Vec<u32>);

impl Past {
    /// From what [`Past::written`] gave; of anything else there is none.
    pub(super) fn read(written: &[Value]) -> Self {
        Self(written.iter().filter_map(|state| u32::try_from(state.as_u64()?).ok()).collect())
    }

    pub(super) fn written(&self) -> Value {
        Value::Array(self.0.iter().map(|state| f64::from(*state).into()).collect())
    }

    /// The same after more states; the oldest go where there are too many.
    fn and(&self, states: impl Iterator<Item = u32>) -> Self {
        let mut all = self.0.clone();
        all.extend(states);
        all.drain(..all.len().saturating_sub(MOST));
        Self(all)
    }
}

impl Record {
    /// What its next state goes on from. A state to which one goes back counts once more.
    pub(super) fn past_and_now(&self) -> Past {
        self.past.and(states(self))
    }

    /// What a car of a file goes on from that takes the place of this one.
    pub(super) fn past_of(&self, brought: &Self) -> Past {
        brought
            .past
            .and(self.past.0.iter().copied().chain(states(self)).filter(|state| !brought.past.0.contains(state)))
    }
}

/// What a car of a file is to one that stands here.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kin {
    /// The same state, or one from which what stands here goes on.
    Known,
    /// A later state of it.
    Later,
    /// Neither: both were changed.
    Apart,
}

/// The states that a car stands for: its own, and the one of which it is a copy under another name.
fn states(car: &Record) -> impl Iterator<Item = u32> {
    [check(&car.kept)].into_iter().chain(car.copy_of)
}

/// What a car of a file is to one that stands here.
pub(super) fn kin(brought: &Record, here: &Record) -> Kin {
    let is_same = states(brought).any(|state| states(here).any(|other| state == other));
    let goes_on = states(here).any(|state| brought.past.0.contains(&state));
    let went_on = states(brought).any(|state| here.past.0.contains(&state));
    // Who goes back to an earlier state goes on from the later one: both hold the other's then, and the longer past tells.
    let is_longer = brought.past.0.len() >= here.past.0.len();
    match (is_same, goes_on, went_on) {
        (true, ..) => Kin::Known,
        (_, true, false) => Kin::Later,
        (_, true, true) if is_longer => Kin::Later,
        (_, _, true) => Kin::Known,
        (_, false, false) => Kin::Apart,
    }
}

/// The id of the first of a family: a car, and its copies that a file brought.
pub(crate) fn family(id: &str) -> &str {
    id.split('-').next().unwrap_or_default()
}
