//! Cars as they could be typed, part by part, for the tests of order, closures and filling.

use crate::cases::text;
use job::input::{
    BeadInput, DecisionInput, Input, LineInput, LineKindInput, PartInput, PartKindInput, PortAtInput, PortInput,
    RelationInput, RelationKindInput, RunInput,
};
use job::{Job, accept};

/// A spigot of which nothing is known.
pub(crate) fn bare(name: &str) -> PortInput {
    PortInput {
        name: name.to_owned(),
        spigot_mm: None,
        bead_mm: None,
        straight_mm: None,
        thread: None,
        made_of: None,
        role: None,
        closed_by: None,
    }
}

/// A spigot of this diameter and straight length, with a bead.
pub(crate) fn spigot(name: &str, across: f64, straight: f64) -> PortInput {
    PortInput {
        spigot_mm: Some(across),
        bead_mm: Some(BeadInput::Diameter(across * 1.1)),
        straight_mm: Some(straight),
        ..bare(name)
    }
}

pub(crate) fn part(name: &str, kind: PartKindInput, spigots: Vec<PortInput>) -> PartInput {
    PartInput { name: name.to_owned(), kind, spigots, on: None, needs_flow: None, leave_out: None, note: None }
}

/// A hose from "part, spigot" to "part, spigot".
pub(crate) fn hose(name: &str, from: (&str, &str), to: (&str, &str), decision: DecisionInput) -> LineInput {
    let at = |(part, spigot): (&str, &str)| PortAtInput { part: part.to_owned(), spigot: spigot.to_owned() };
    LineInput {
        name: name.to_owned(),
        kind: LineKindInput::Hose,
        from: at(from),
        to: at(to),
        bore_mm: None,
        length_mm: None,
        state: None,
        can_buy: None,
        decision: Some(decision),
        run: None,
        inside: None,
        note: None,
    }
}

pub(crate) fn in_the_way(what: &str, of: &str) -> RelationInput {
    RelationInput { what: what.to_owned(), is: RelationKindInput::InTheWayOf, of: of.to_owned() }
}

pub(crate) fn comes_off_with(what: &str, of: &str) -> RelationInput {
    RelationInput { what: what.to_owned(), is: RelationKindInput::ComesOffWith, of: of.to_owned() }
}

/// The job, which must be sound.
pub(crate) fn job(typed: &Input) -> Job {
    let accepted = accept(typed);
    assert!(accepted.problems.is_empty(), "{:?}", accepted.problems);
    accepted.job
}

/// A sound run of this name, for what does not ask how it lies.
pub(crate) fn some_run(name: &str) -> RunInput {
    let mut read = share::read(&text("in_line")).expect("a job file").input;
    RunInput { name: Some(name.to_owned()), ..read.runs.remove(0) }
}
