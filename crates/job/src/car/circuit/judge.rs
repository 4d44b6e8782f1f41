//! What is wrong with where coolant flows.

use super::network::{Flow, MOST_PUMPS, has_role, one_way};
use super::states::{MOST_TAPS, taps};
use super::{CircuitFinding, FAIL, Known, WARN, finding, listed, owned};
use crate::car::{Part, PartKind, Role};
use crate::input::NeedsInput;
use quantity::{Basis, Source};

const NEEDS: Source = Source::new("coolant must pass what it cools, warms or feels", Basis::CommonPractice);
const BYPASS: Source = Source::new(
    "engine manuals (makers withheld): with the thermostat shut all coolant goes through the bypass to the pump; an owners' \
     list, 2001: with the bypass blocked hot spots boil before the thermostat opens",
    Basis::CommonPractice,
);
const BULB: Source = Source::new(
    "the trade on heaters left out: where the heater's return feeds the bulb, stopping it delays the opening",
    Basis::CommonPractice,
);
const DEAD_LEG: Source = Source::new(
    "Chemical Processing, on dead legs in plants: most harm is by freezing and by rust in one place; that they boil beside \
     something hot and hold air is common practice",
    Basis::CommonPractice,
);
const GRAPH: Source = Source::new("the parts and lines as they were entered", Basis::OurChoice);

/// When coolant must go through a part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Needs {
    /// With the thermostat open.
    open: bool,
    /// With the thermostat shut.
    shut: bool,
    /// Also with any tap shut: a heater's own tap is shut on purpose.
    taps: bool,
}

fn needs(part: &Part) -> Needs {
    let of_its_kind = match part.kind {
        PartKind::Block | PartKind::Head | PartKind::Thermostat | PartKind::HeaterCore | PartKind::OilCooler => {
            NeedsInput::Always
        }
        PartKind::Radiator => NeedsInput::ThermostatOpen,
        _ => NeedsInput::No,
    };
    let needs = part.needs.unwrap_or(of_its_kind);
    Needs {
        open: needs != NeedsInput::No,
        shut: needs == NeedsInput::Always,
        taps: !matches!(part.kind, PartKind::HeaterCore | PartKind::OilCooler),
    }
}

impl Known<'_> {
    fn needed(&self, part: usize, state: usize) -> bool {
        let (needs, state) = (needs(&self.car.parts[part]), self.states[state]);
        (needs.taps || state.tap.is_none()) && if state.open == Some(false) { needs.shut } else { needs.open }
    }

    /// The parts that stay, by their places.
    fn staying(&self) -> impl Iterator<Item = usize> {
        (0..self.car.parts.len()).filter(|part| !self.car.parts[*part].goes)
    }

    fn name(&self, part: usize) -> &str {
        &self.car.parts[part].name
    }
}

pub(super) fn findings(known: &Known) -> Vec<CircuitFinding> {
    let mut findings = roles(known);
    if !known.staying().any(|part| known.car.parts[part].kind == PartKind::Pump) {
        let why = "There is no pump among the parts, so where coolant flows cannot be told.";
        findings.push(finding("no pump", WARN, why.to_owned(), &GRAPH));
    }
    if !known.driven {
        return findings;
    }
    let blocked: Vec<bool> = known.parts.iter().map(|flows| is_blocked(flows)).collect();
    findings.extend(no_way_round(known, &blocked, FAIL));
    // A state in which the pump moves coolant through the bottle alone.
    let mut narrow: Vec<bool> = known.past_bottles.iter().map(|flows| is_blocked(flows)).collect();
    narrow.iter_mut().zip(&blocked).for_each(|(narrow, blocked)| *narrow &= !blocked);
    findings.extend(no_way_round(known, &narrow, WARN));
    for part in known.staying().filter(|part| known.joined[*part]) {
        findings.extend(without_flow(known, part, &blocked, &narrow));
    }
    findings.extend(not_joined(known));
    if !blocked.iter().all(|blocked| *blocked) {
        findings.extend(dead_legs(known));
    }
    findings
}

/// Spigots whose role matters and was not said.
fn roles(known: &Known) -> Vec<CircuitFinding> {
    let mut findings = Vec::new();
    for part in known.staying() {
        let (place, part) = (part, &known.car.parts[part]);
        let about = |why: String| {
            let mut found = finding("role not said", WARN, why, &GRAPH);
            found.parts = vec![part.name.clone()];
            found
        };
        let name = &part.name;
        match part.kind {
            PartKind::Thermostat if !has_role(part, Role::Valve) => findings.push(about(format!(
                "{name}: say which spigot is behind its valve. Until then it is taken as one that never shuts."
            ))),
            PartKind::Pump | PartKind::NonReturnValve if !one_way(part) => findings.push(about(format!(
                "{name}: say which spigot is its inlet and which its outlet. Until then {}.",
                if part.kind == PartKind::Pump {
                    "it moves nothing"
                } else {
                    "it is taken to let coolant through both ways"
                }
            ))),
            PartKind::Pump | PartKind::NonReturnValve => {
                let unsaid = |port: &crate::car::Port| !matches!(port.role, Some(Role::Inlet | Role::Outlet));
                let used = |port: usize| {
                    let mut lines = known.car.lines.iter().filter(|line| known.car.stays(line));
                    lines.any(|line| line.ends.iter().any(|end| end.part == place && end.port == port))
                };
                for (_, port) in part.ports.iter().enumerate().filter(|(p, port)| unsaid(port) && used(*p)) {
                    findings.push(about(format!(
                        "{name}, {}: say whether it is on the inlet's or the outlet's side. Until then it is taken to be on \
                         the inlet's.",
                        port.name
                    )));
                }
            }
            _ => {}
        }
    }
    let pumps = known.staying().filter(|part| known.car.parts[*part].kind == PartKind::Pump).count();
    if taps(known.car).count() > MOST_TAPS {
        let why = format!("There are more than {MOST_TAPS} taps: only the first {MOST_TAPS} were shut in turn.");
        findings.push(finding("too many", WARN, why, &GRAPH));
    }
    if pumps > MOST_PUMPS {
        let why = format!("There are more than {MOST_PUMPS} pumps: only the first {MOST_PUMPS} were taken to run.");
        findings.push(finding("too many", WARN, why, &GRAPH));
    }
    findings
}

/// Whether no pump moves anything.
fn is_blocked(flows: &[Flow]) -> bool {
    flows.iter().all(|flow| *flow == Flow::No)
}

/// States in which the pump moves nothing; or, as a warning, nothing but through a bottle.
fn no_way_round(known: &Known, blocked: &[bool], verdict: &str) -> Option<CircuitFinding> {
    // A car in which nothing needs flow has nothing to lose by it.
    let stands = |part: &usize| {
        known.joined[*part] && blocked.iter().enumerate().any(|(state, so)| *so && known.needed(*part, state))
    };
    let parts: Vec<_> = known.staying().filter(stands).map(|part| known.name(part)).collect();
    if parts.is_empty() || !blocked.contains(&true) {
        return None;
    }
    let (when, states) = known.when(blocked);
    let only_shut = states.iter().all(|state| known.states[*state].open == Some(false));
    let remedy = if only_shut {
        "Keep the bypass open, or loop from spigot to spigot what was closed."
    } else {
        "Join the lines into a ring that leaves the pump's outlet and comes back to its inlet."
    };
    let why = if verdict == FAIL {
        format!(
            "The pump has no way round {when}: coolant stands still in {}, and boils where it is hottest before the thermostat \
             feels it. {remedy}",
            listed(&parts)
        )
    } else {
        format!(
            "The pump has no way round {when} but through the bottle, whose hoses are narrow: {} may get too little. {remedy}",
            listed(&parts)
        )
    };
    Some(CircuitFinding { when, states, parts: owned(&parts), ..finding("no way round", verdict, why, &BYPASS) })
}

/// A part through which nothing flows though it must, or perhaps nothing.
fn without_flow(known: &Known, part: usize, blocked: &[bool], narrow: &[bool]) -> Vec<CircuitFinding> {
    let name = known.name(part);
    let kind = known.car.parts[part].kind;
    let needed_and = |is: &dyn Fn(Flow) -> bool| -> Vec<bool> {
        let so = |state: usize| known.needed(part, state) && !blocked[state] && is(known.parts[state][part]);
        (0..known.states.len()).map(so).collect()
    };
    let mut by_bottle = needed_and(&|flow| flow == Flow::Yes);
    for (state, so) in by_bottle.iter_mut().enumerate() {
        *so &= !narrow[state] && known.past_bottles[state][part] == Flow::No;
    }
    let bulb = kind == PartKind::Thermostat;
    let (word, source) = if bulb { ("bulb", &BULB) } else { ("no flow", &NEEDS) };
    let mut findings = Vec::new();
    let mut say = |verdict: &str, is_so: &[bool], why: &dyn Fn(&str) -> String| {
        if is_so.contains(&true) {
            let (when, states) = known.when(is_so);
            let why = why(&when);
            let parts = vec![name.to_owned()];
            findings.push(CircuitFinding { when, states, parts, ..finding(word, verdict, why, source) });
        }
    };
    say(FAIL, &needed_and(&|flow| flow == Flow::No), &|when| {
        if bulb {
            format!(
                "{name}: no coolant goes past its bulb {when}. It opens late, and by then the engine has hot spots. Lead a flow \
                 that never stops past it."
            )
        } else {
            format!("{name}: no coolant goes through it {when}. {}", harm(kind))
        }
    });
    let untold = |when: &str| {
        if bulb {
            format!("{name}: whether coolant goes past its bulb {when} cannot be told")
        } else {
            format!("{name}: whether coolant goes through it {when} cannot be told")
        }
    };
    say(WARN, &needed_and(&|flow| flow == Flow::Ring), &|when| {
        let so = untold(when);
        format!(
            "{so}, for it leaves a part and comes back to the same one. If that part has a side before and one behind something \
             narrow, enter them as two parts."
        )
    });
    say(WARN, &needed_and(&|flow| flow == Flow::Valve), &|when| {
        let so = untold(when);
        format!("{so}, for a non-return valve may be pressed shut there. Feel by hand whether it gets warm.")
    });
    say(WARN, &by_bottle, &|when| {
        let so = if bulb {
            format!("{name}: coolant goes past its bulb {when} only by way of the bottle")
        } else {
            format!("{name}: coolant goes through it {when} only by way of the bottle")
        };
        format!("{so}, whose hoses are narrow. See whether a wide one is missing.")
    });
    if kind == PartKind::OilCooler && known.car.parts[part].needs != Some(NeedsInput::No) {
        let is_so = stops_with_heater(known, part);
        say(WARN, &is_so, &|when| {
            format!(
                "{name}: no coolant goes through it {when}: the heater's tap stops it as well. Give it a way that no tap shuts."
            )
        });
    }
    findings
}

fn harm(kind: PartKind) -> &'static str {
    match kind {
        PartKind::Block | PartKind::Head => "It boils where it is hottest.",
        PartKind::Radiator => "It cools nothing.",
        PartKind::HeaterCore => "It stays cold; take it out of the circuit, or join both its spigots.",
        PartKind::OilCooler => "The oil is not cooled.",
        _ => "It is said to need some.",
    }
}

/// In which states a shut tap stops an oil cooler together with a heater core.
fn stops_with_heater(known: &Known, cooler: usize) -> Vec<bool> {
    let heaters: Vec<_> = known.staying().filter(|part| known.car.parts[*part].kind == PartKind::HeaterCore).collect();
    let so = |(place, state): (usize, &super::State)| {
        let before = known.states.iter().position(|other| other.open == state.open && other.tap.is_none());
        let stops = |part: usize| {
            let was = before.is_some_and(|before| known.parts[before][part] == Flow::Yes);
            was && known.parts[place][part] == Flow::No
        };
        state.tap.is_some() && stops(cooler) && heaters.iter().any(|heater| stops(*heater))
    };
    known.states.iter().enumerate().map(so).collect()
}

/// Parts that are joined to each other, or to nothing, but not to a pump.
fn not_joined(known: &Known) -> Vec<CircuitFinding> {
    let mut findings = Vec::new();
    let mut told: Vec<usize> = Vec::new();
    for first in known.staying().filter(|part| !known.joined[*part]) {
        let piece = known.pieces[first];
        if told.contains(&piece) {
            continue;
        }
        told.push(piece);
        let parts: Vec<_> = known.staying().filter(|part| known.pieces[*part] == piece).collect();
        let lines = known.car.lines.iter();
        let lines = lines.filter(|line| known.car.stays(line) && known.pieces[line.ends[0].part] == piece);
        let lines: Vec<_> = lines.map(|line| line.name.as_str()).collect();
        // A heater core that is left where it is, dry, is no fault.
        let dry = |part: usize| lines.is_empty() && known.car.parts[part].kind == PartKind::HeaterCore;
        let fails = parts.iter().any(|part| {
            let needs = needs(&known.car.parts[*part]);
            (needs.open || needs.shut) && !dry(*part)
        });
        let names: Vec<_> = parts.iter().map(|part| known.name(*part)).collect();
        let why = if lines.is_empty() {
            format!(
                "{}: no line joins it to the rest. If it stays in the car, drain it and close its spigots.",
                listed(&names)
            )
        } else {
            format!(
                "{} with {}: nothing joins this to the pump. Whatever coolant is in it stands still.",
                listed(&names),
                listed(&lines)
            )
        };
        findings.push(CircuitFinding {
            parts: owned(&names),
            lines: owned(&lines),
            ..finding("not joined", if fails { FAIL } else { WARN }, why, &GRAPH)
        });
    }
    findings
}

/// Parts and lines that hold coolant which stands still in every state.
fn dead_legs(known: &Known) -> Vec<CircuitFinding> {
    let car = known.car;
    let dead_part =
        |part: usize| !car.parts[part].goes && known.joined[part] && known.part_never(part) && !known.part_to_end[part];
    let dead_line = |line: usize| {
        let ends = car.lines[line].ends;
        car.stays(&car.lines[line]) && known.joined[ends[0].part] && known.line_never(line) && !known.line_to_end[line]
    };
    let mut findings = Vec::new();
    let mut told = vec![false; car.lines.len()];
    for first in 0..car.lines.len() {
        if told[first] || !dead_line(first) {
            continue;
        }
        told[first] = true;
        let (mut lines, mut parts, mut from) = (vec![first], Vec::new(), Vec::new());
        let mut next = 0;
        while let Some(&line) = lines.get(next) {
            next += 1;
            for end in car.lines[line].ends {
                let list = if dead_part(end.part) { &mut parts } else { &mut from };
                if list.contains(&end.part) {
                    continue;
                }
                list.push(end.part);
                if !dead_part(end.part) {
                    continue;
                }
                for (other, told) in told.iter_mut().enumerate() {
                    let touches = car.lines[other].ends.iter().any(|other| other.part == end.part);
                    if touches && !*told && dead_line(other) {
                        *told = true;
                        lines.push(other);
                    }
                }
            }
        }
        let lines: Vec<_> = lines.iter().map(|line| car.lines[*line].name.as_str()).collect();
        let parts: Vec<_> = parts.iter().map(|part| known.name(*part)).collect();
        let from: Vec<_> = from.iter().map(|part| known.name(*part)).collect();
        let all: Vec<_> = parts.iter().chain(&lines).copied().collect();
        let close = if from.is_empty() { String::new() } else { format!(" and close it at {}", listed(&from)) };
        let why = format!(
            "{}: coolant stands still here whatever the thermostat and the taps do. It boils and freezes first, rusts what holds \
             it and keeps air. Leave it out{close}, or lead it on to where coolant flows.",
            listed(&all)
        );
        findings.push(CircuitFinding {
            parts: owned(&parts),
            lines: owned(&lines),
            ..finding("dead leg", WARN, why, &DEAD_LEG)
        });
    }
    findings
}
