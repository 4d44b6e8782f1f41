//! What is wrong with single spigots and lines: each spigot is closed by exactly one thing, and nothing is forgotten.

use super::{CircuitFinding, CircuitSpigot, FAIL, Known, WARN, finding, listed, owned};
use crate::car::{Closure, Decision, Line, PartKind, PortAt, State};
use quantity::{Basis, Source};

const ONE_THING: Source =
    Source::new("a system under pressure: every spigot is closed by exactly one thing", Basis::CommonPractice);
const ALL_AT_ONCE: Source =
    Source::new("the hose that was left, short or hidden, fails next: all at once", Basis::CommonPractice);
const INSIDE: Source = Source::new(
    "what sat inside an old hose was there for a reason: look before it is thrown away",
    Basis::CommonPractice,
);

pub(super) fn findings(known: &Known) -> Vec<CircuitFinding> {
    let mut findings = Vec::new();
    for (part, typed) in known.car.parts.iter().enumerate().filter(|(_, part)| !part.goes) {
        for port in 0..typed.ports.len() {
            findings.extend(spigot(known, PortAt { part, port }));
        }
    }
    for line in &known.car.lines {
        findings.extend(undecided(known, line));
        findings.extend(inside(known, line));
    }
    findings
}

fn spigot(known: &Known, at: PortAt) -> Option<CircuitFinding> {
    let car = known.car;
    let on_it = |stays: bool| {
        let lines = car.lines.iter().filter(move |line| line.ends.contains(&at) && car.stays(line) == stays);
        lines.map(|line| line.name.as_str()).collect::<Vec<_>>()
    };
    let (stay, name) = (on_it(true), car.port_name(at));
    let (kind, verdict, why) = match (stay.as_slice(), car.port(at).closed_by) {
        ([], None) => {
            // Without a pump it is not known what is dry.
            if known.driven && !known.joined[at.part] {
                return None;
            }
            let left = on_it(false);
            let after = if left.is_empty() { String::new() } else { format!(" once {} is out", listed(&left)) };
            if car.parts[at.part].kind == PartKind::ExpansionBottle {
                let why = format!("{name}: open{after}. If it is the overflow, say that nothing was ever on it.");
                ("open end", WARN, why)
            } else {
                let why = format!("{name}: open{after}. Close it, or put a line on it.");
                ("open end", FAIL, why)
            }
        }
        ([line], Some(closure)) => {
            let by = match closure {
                Closure::ThreadPlug => "a plug in its thread",
                Closure::Cap => "a cap",
                Closure::HoseAndPlug => "a short hose with a plug",
                Closure::Blank => "being made closed",
            };
            let why = format!("{name}: said to be closed by {by}, yet {line} stays on it. Only one of them can be so.");
            ("two on one spigot", WARN, why)
        }
        ([_, _, ..], _) => {
            let why = format!(
                "{name}: {} are all on it. Put a tee in, or find the spigot that was forgotten.",
                listed(&stay)
            );
            ("two on one spigot", FAIL, why)
        }
        _ => return None,
    };
    let part = &car.parts[at.part];
    Some(CircuitFinding {
        parts: vec![part.name.clone()],
        lines: owned(&stay),
        spigots: vec![CircuitSpigot { part: part.name.clone(), spigot: car.port(at).name.clone() }],
        ..finding(kind, verdict, why, &ONE_THING)
    })
}

/// A line that is not sound and stays as it is.
fn undecided(known: &Known, line: &Line) -> Option<CircuitFinding> {
    let as_it_is = matches!(line.decision, None | Some(Decision::Keep));
    if !as_it_is || !known.car.stays(line) {
        return None;
    }
    let is = match line.state? {
        State::Sound => return None,
        State::Soft => "soft or swollen",
        State::Cracked => "cracked or hard",
        State::Weeping => "weeping",
        State::Rusted => "rusted",
        State::Missing => "missing",
    };
    let name = &line.name;
    let (verdict, why) = match (line.state, line.decision) {
        (Some(State::Missing), _) => {
            (FAIL, format!("{name} is missing and nothing is decided: both its spigots are open."))
        }
        (_, None) => {
            (WARN, format!("{name} is {is} and nothing is decided. Replace it with the others, or it fails next."))
        }
        _ => (WARN, format!("{name} is {is} and is to stay. Replace it with the others, or it fails next.")),
    };
    Some(CircuitFinding { lines: vec![name.clone()], ..finding("nothing decided", verdict, why, &ALL_AT_ONCE) })
}

/// Something that goes with an old hose.
fn inside(known: &Known, line: &Line) -> Option<CircuitFinding> {
    let what = line.inside.as_deref()?.trim();
    let nothing = ["", "no", "none", "nothing"].iter().any(|word| word.eq_ignore_ascii_case(what));
    let replaced = matches!(line.decision, Some(Decision::Moulded | Decision::Universal));
    let stays = known.car.stays(line);
    if nothing || stays && !replaced {
        return None;
    }
    let name = &line.name;
    let why = if stays {
        format!("{name}: {what} was found inside it. Take it out and put it into the new hose.")
    } else {
        format!(
            "{name}: {what} was found inside it and goes with it. It was there for a reason: see whether what is joined in its \
             place must have it."
        )
    };
    Some(CircuitFinding { lines: vec![name.clone()], ..finding("something inside", WARN, why, &INSIDE) })
}
