//! The states in which the circuit is looked at, and how one says them.

use super::report::CircuitState;
use crate::car::{Car, PartKind};

/// Taps that are shut one after the other; our choice, more than a car has.
pub(super) const MOST_TAPS: usize = 12;

/// What the thermostat and the taps do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct State {
    /// Whether the thermostat is open, if there is one.
    pub(super) open: Option<bool>,
    /// The tap that is shut, by its place among the parts.
    pub(super) tap: Option<usize>,
}

/// The taps that stay, by their places among the parts.
pub(super) fn taps(car: &Car) -> impl Iterator<Item = usize> {
    car.parts.iter().enumerate().filter(|(_, part)| part.kind == PartKind::Tap && !part.goes).map(|(place, _)| place)
}

/// The thermostat open and shut with all taps open, then the same with each tap shut.
pub(super) fn states(car: &Car) -> Vec<State> {
    let has_thermostat = car.parts.iter().any(|part| part.kind == PartKind::Thermostat && !part.goes);
    let thermostat: &[Option<bool>] = if has_thermostat { &[Some(true), Some(false)] } else { &[None] };
    let taps = std::iter::once(None).chain(taps(car).take(MOST_TAPS).map(Some));
    taps.flat_map(|tap| thermostat.iter().map(move |open| State { open: *open, tap })).collect()
}

impl State {
    pub(super) fn told(self, car: &Car) -> CircuitState {
        let tap_shut = self.tap.map(|tap| car.parts[tap].name.clone());
        let taps: Vec<&str> = tap_shut.as_deref().into_iter().collect();
        CircuitState { thermostat_open: self.open, what: said(self.open, &taps), tap_shut }
    }
}

/// "with the thermostat shut and the tap T shut".
fn said(open: Option<bool>, taps: &[&str]) -> String {
    let thermostat = match open {
        Some(true) => "with the thermostat open",
        Some(false) => "with the thermostat shut",
        None if taps.is_empty() => return "as it runs".to_owned(),
        None => "",
    };
    let taps = match taps.split_last() {
        None => return thermostat.to_owned(),
        Some((tap, [])) => (*tap).to_owned(),
        Some((last, others)) => format!("{} or {last}", others.join(", ")),
    };
    let and = if thermostat.is_empty() { "with " } else { " and " };
    format!("{thermostat}{and}{taps} shut")
}

/// Some of the states in one phrase. A tap is not named where it changes nothing.
pub(super) fn when(car: &Car, states: &[State], is_so: &[bool]) -> String {
    let so = |open: Option<bool>, tap: Option<usize>| {
        states.iter().zip(is_so).any(|(state, so)| *so && *state == State { open, tap })
    };
    let all_open = |open| so(open, None);
    let mut phrases = Vec::new();
    if states.first().is_none_or(|state| state.open.is_none()) {
        if all_open(None) {
            return "at all times".to_owned();
        }
    } else if all_open(Some(true)) && all_open(Some(false)) {
        return "with the thermostat open and shut".to_owned();
    }
    for open in [Some(true), Some(false)].into_iter().filter(|open| all_open(*open)) {
        phrases.push(said(open, &[]));
    }
    // Of each tap: what it adds to that.
    let adds = |open: Option<bool>, tap: usize| so(open, Some(tap)) && !all_open(open);
    let (mut both, mut only_open, mut only_shut) = (Vec::new(), Vec::new(), Vec::new());
    for tap in taps(car) {
        let name = car.parts[tap].name.as_str();
        match (adds(Some(true), tap), adds(Some(false), tap)) {
            (true, true) => both.push(name),
            (true, false) => only_open.push(name),
            (false, true) => only_shut.push(name),
            (false, false) if adds(None, tap) => both.push(name),
            (false, false) => {}
        }
    }
    for (open, taps) in [(None, both), (Some(true), only_open), (Some(false), only_shut)] {
        if !taps.is_empty() {
            phrases.push(said(open, &taps));
        }
    }
    phrases.join(", and ")
}
