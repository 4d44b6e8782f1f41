//! The commonest slip with a spigot: said the wrong way round, into its part instead of out of it.

use super::candidates;
use crate::Run;
use checks::Conditions;
use stock::{Hose, Stock};

/// Which ends, if they pointed the other way, would let some length work; asked where none works as it was entered.
/// One end is a likelier slip than both.
pub(crate) fn turned_round(run: &Run, conditions: &Conditions, stock: &Stock, hose: &Hose) -> Option<&'static str> {
    [("A", true, false), ("B", false, true), ("A and B", true, true)]
        .into_iter()
        .find(|(_, a, b)| {
            let mut turned = Run { hose: Some(hose.clone()), ..run.clone() };
            for (spigot, turn) in [(&mut turned.from, a), (&mut turned.to, b)] {
                if *turn {
                    spigot.points = -spigot.points;
                }
            }
            candidates(&turned, conditions, stock).0.iter().any(|candidate| !candidate.sound.is_empty())
        })
        .map(|(which, ..)| which)
}
