//! The circuit of the whole car: where coolant flows with the thermostat open and shut and with each tap shut, and what is
//! wrong with that.
//!
//! A part in which all spigots meet is a chamber, a line joins two. Coolant flows where there is a way from the pump's
//! outlet through it to the pump's inlet that passes no chamber twice (`network.rs`): so flows a network of resistances,
//! whatever they are. Where that depends on them, "cannot be told" is told.

mod graph;
mod judge;
mod layout;
mod network;
mod report;
mod states;
mod survey;

pub use layout::{BoxPlace, Layout, LinePlace, layout};
pub use report::{CircuitFinding, CircuitReport, CircuitSpigot, CircuitState, FlowReport};

use crate::car::{Car, PartKind};
use network::{Flow, Network};
use quantity::{Length, Source};
use states::{State, states};

/// What is known of the flow, state by state.
struct Known<'a> {
    car: &'a Car,
    states: Vec<State>,
    /// Whether some pump has an inlet and an outlet.
    driven: bool,
    /// Flow in every state through every part.
    parts: Vec<Vec<Flow>>,
    /// And through every line.
    lines: Vec<Vec<Flow>>,
    /// Flow in every state through every part, if none went through a bottle with narrow hoses.
    past_bottles: Vec<Vec<Flow>>,
    /// For every part whether it is joined to a pump, whatever is shut.
    joined: Vec<bool>,
    /// For every part, a number that it shares with those it is joined to.
    pieces: Vec<usize>,
    /// Parts that lie between a pump and a bottle or a bleed screw, where coolant moves to and fro or is let through.
    part_to_end: Vec<bool>,
    /// And lines.
    line_to_end: Vec<bool>,
}

impl<'a> Known<'a> {
    fn new(car: &'a Car) -> Self {
        let network = Network::new(car);
        let states = states(car);
        let flows: Vec<_> = states.iter().map(|state| network.flows(*state, |_| false)).collect();
        let bottle = |part: usize| car.parts[part].kind == PartKind::ExpansionBottle && !is_wide(car, part);
        let parts: Vec<_> = flows.iter().map(|flows| network.in_parts(car, flows)).collect();
        let past_bottles = if (0..car.parts.len()).any(bottle) {
            states.iter().map(|state| network.in_parts(car, &network.flows(*state, bottle))).collect()
        } else {
            parts.clone()
        };
        let lines: Vec<_> = flows.iter().map(|flows| network.in_lines(car, flows)).collect();
        let pieces = network.pieces();
        let is_pump = |p: &usize| car.parts[*p].kind == PartKind::Pump && !car.parts[*p].goes;
        let joined = |piece: &usize| (0..car.parts.len()).filter(is_pump).any(|pump| pieces[pump] == *piece);
        let joined = pieces[..car.parts.len()].iter().map(joined).collect();
        let to_ends = network.to_ends(car);
        let yes = |flows: Vec<Flow>| flows.into_iter().map(|flow| flow == Flow::Yes).collect();
        Self {
            car,
            driven: network.is_driven(),
            joined,
            part_to_end: yes(network.in_parts(car, &to_ends)),
            line_to_end: yes(network.in_lines(car, &to_ends)),
            states,
            past_bottles,
            parts,
            lines,
            pieces,
        }
    }

    /// Whether no state lets coolant flow through a part.
    fn part_never(&self, part: usize) -> bool {
        self.parts.iter().all(|flows| flows[part] == Flow::No)
    }

    fn line_never(&self, line: usize) -> bool {
        self.lines.iter().all(|flows| flows[line] == Flow::No)
    }

    /// A phrase and the places of the states in which something is so.
    fn when(&self, is_so: &[bool]) -> (String, Vec<usize>) {
        (states::when(self.car, &self.states, is_so), places(is_so))
    }
}

/// Bore from which a hose of a bottle is taken to carry the main flow; our choice, above the bores of heater hose.
const WIDE: Length = Length::mm(20.0);

/// Whether a bottle has two wide hoses, as one that stands in the main flow has.
fn is_wide(car: &Car, part: usize) -> bool {
    let on_it = car.lines.iter().filter(|line| car.stays(line) && line.ends.iter().any(|end| end.part == part));
    on_it.filter(|line| line.bore.is_some_and(|bore| bore >= WIDE)).count() > 1
}

fn places(is_so: &[bool]) -> Vec<usize> {
    is_so.iter().enumerate().filter(|(_, so)| **so).map(|(place, _)| place).collect()
}

/// Where coolant flows in a car, and what is wrong with that; nothing for a car without parts and lines.
#[must_use]
pub fn circuit(car: &Car) -> CircuitReport {
    if car.is_empty() {
        return CircuitReport::default();
    }
    let known = Known::new(car);
    let mut findings = judge::findings(&known);
    findings.extend(survey::findings(&known));
    let (mut worst, others): (Vec<_>, Vec<_>) = findings.into_iter().partition(|finding| finding.verdict == FAIL);
    worst.extend(others);
    let flow = |name: &String, stays: bool, flows: &[Vec<Flow>], place: usize| FlowReport {
        name: name.clone(),
        stays,
        flows: places(&flows.iter().map(|flows| flows[place] == Flow::Yes).collect::<Vec<_>>()),
        unsure: places(&flows.iter().map(|flows| matches!(flows[place], Flow::Ring | Flow::Valve)).collect::<Vec<_>>()),
    };
    let parts = car.parts.iter().enumerate();
    let lines = car.lines.iter().enumerate();
    CircuitReport {
        states: known.states.iter().map(|state| state.told(car)).collect(),
        parts: parts.map(|(p, part)| flow(&part.name, !part.goes, &known.parts, p)).collect(),
        lines: lines.map(|(l, line)| flow(&line.name, car.stays(line), &known.lines, l)).collect(),
        findings: worst,
    }
}

const FAIL: &str = "fail";
const WARN: &str = "warn";

/// A finding that names nothing yet.
fn finding(kind: &str, verdict: &str, why: String, source: &Source) -> CircuitFinding {
    CircuitFinding {
        kind: kind.to_owned(),
        verdict: verdict.to_owned(),
        why,
        source: source.what.clone().into_owned(),
        basis: source.basis.as_str().to_owned(),
        ..CircuitFinding::default()
    }
}

/// "A, B and C".
fn listed(names: &[&str]) -> String {
    match names.split_last() {
        None => String::new(),
        Some((one, [])) => (*one).to_owned(),
        Some((last, others)) => format!("{} and {last}", others.join(", ")),
    }
}

fn owned(names: &[&str]) -> Vec<String> {
    names.iter().map(|name| (*name).to_owned()).collect()
}
