//! What is told of the circuit, as plain data.

use serde::{Deserialize, Serialize};

/// Where coolant flows in the whole car, and what is wrong with that.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct CircuitReport {
    /// The states that were looked at.
    pub states: Vec<CircuitState>,
    /// Every part, in the order in which they were typed.
    pub parts: Vec<FlowReport>,
    /// Every line, in that order.
    pub lines: Vec<FlowReport>,
    /// What is wrong, the worst first.
    pub findings: Vec<CircuitFinding>,
}

/// A state of the car: what its thermostat and its taps do.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct CircuitState {
    /// Whether the thermostat is open; null without one.
    pub thermostat_open: Option<bool>,
    /// The one tap that is shut, by name.
    pub tap_shut: Option<String>,
    /// The same in words, to stand behind a sentence: "with the thermostat shut".
    pub what: String,
}

/// When coolant flows through a part or a line.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct FlowReport {
    /// What it is called.
    pub name: String,
    /// Whether it is there once the work is done.
    pub stays: bool,
    /// Places among the states of those in which it flows.
    pub flows: Vec<usize>,
    /// Of those in which that cannot be told.
    pub unsure: Vec<usize>,
}

/// Something that is wrong with the circuit.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct CircuitFinding {
    /// "no pump", "role not said", "too many", "no way round", "no flow", "bulb", "not joined", "dead leg", "open end",
    /// "two on one spigot", "nothing decided" or "something inside".
    pub kind: String,
    /// "fail" or "warn".
    pub verdict: String,
    /// Places among the states of those in which it is so; empty if states do not matter.
    pub states: Vec<usize>,
    /// These states in words; empty if they do not matter.
    pub when: String,
    /// The parts it is about, by name.
    pub parts: Vec<String>,
    /// The lines it is about, by name.
    pub lines: Vec<String>,
    /// The spigots it is about.
    pub spigots: Vec<CircuitSpigot>,
    /// What is wrong and what to do, in plain sentences.
    pub why: String,
    /// On whose word.
    pub source: String,
    /// What that is worth.
    pub basis: String,
}

/// A spigot of a part, by name.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct CircuitSpigot {
    /// The part.
    pub part: String,
    /// Its spigot.
    pub spigot: String,
}
