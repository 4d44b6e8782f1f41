//! Where to mark the hose before it is cut, what to slide on first, and how much of it to buy.

use crate::Run;
use quantity::Length;
use serde::{Deserialize, Serialize};

/// What a piece takes of the hose beyond its cut, mm: both ends are trimmed square before it is measured, and a knife in rubber
/// wanders. Too little cannot be put back on, so it is ample; our choice.
pub const TRIMMING: f64 = 20.0;

/// Marks along the hose, mm from the knife end that goes on A.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Marks {
    /// Where mouth A comes.
    pub mouth_a_mm: f64,
    /// Where mouth B comes.
    pub mouth_b_mm: f64,
    /// How much less, and how much more, of the hose may be pushed on both spigots together: the play of the seats.
    pub seat_play_mm: f64,
}

/// How much hose to buy for this run alone.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Buy {
    /// Cut length and trimming.
    pub at_least_mm: f64,
    /// Sold by the 100 mm.
    pub by_100_mm: f64,
    /// Sold by the half metre.
    pub by_half_metre_mm: f64,
    /// Sold by the foot, in feet.
    pub by_foot: f64,
}

pub(crate) fn marks(run: &Run, cut: Length) -> Marks {
    // The least that seals is the room for one band; what a seat has beyond it can be given back.
    let play = |seat: Length| (seat - Length::mm(checks::SEAT_FOR_ONE_BAND)).max(Length::ZERO);
    Marks {
        mouth_a_mm: run.from.seat.as_mm(),
        mouth_b_mm: (cut - run.to.seat).as_mm(),
        seat_play_mm: (play(run.from.seat) + play(run.to.seat)).as_mm(),
    }
}

pub(crate) fn buy(cut: Length) -> Buy {
    let need = cut.as_mm() + TRIMMING;
    let up = |step: f64| (need / step).ceil() * step;
    Buy { at_least_mm: need, by_100_mm: up(100.0), by_half_metre_mm: up(500.0), by_foot: (need / 304.8).ceil() }
}

#[cfg(test)]
mod tests {
    use super::buy;
    use quantity::Length;

    #[test]
    fn hose_is_bought_in_the_steps_it_is_sold_in() {
        // By hand: 485 and 20 of trimming; 505/304.8 = 1.66 feet.
        let bought = buy(Length::mm(485.0));
        let got = [bought.at_least_mm, bought.by_100_mm, bought.by_half_metre_mm, bought.by_foot];
        for (got, want) in got.into_iter().zip([505.0, 600.0, 1000.0, 2.0]) {
            assert!((got - want).abs() < 1e-9, "{bought:?}");
        }
    }
}
