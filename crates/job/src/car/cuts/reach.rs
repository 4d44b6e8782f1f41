//! How far a sum of money, or of millimetres, goes: which sums the lengths on sale can come to, and how much hose each buys.

use super::pack::Kind;

/// A longer table is not made; then nothing is rounded up.
const LONGEST: u64 = 1 << 20;
/// Nor with more work than this.
const WORK: u64 = 1 << 22;

/// For every sum the most hose it buys, and the fewest lengths.
#[derive(Debug)]
pub(super) struct Reach {
    /// Costs are a multiple of this and the number of lengths.
    more: u64,
    /// For a sum to the last coin: `None` if it cannot be.
    exact: Vec<Option<Sum>>,
    /// The most hose for that sum or less.
    furthest: Vec<u64>,
}

#[derive(Clone, Copy, Debug)]
struct Sum {
    hose: u64,
    lengths: u64,
}

impl Reach {
    /// For costs below `most`, each the sum times `more` and the number of lengths.
    pub(super) fn new(kinds: &[Kind], more: u64, most: u64) -> Self {
        let entries = most / more + 1;
        if entries > LONGEST || entries * kinds.len() as u64 > WORK {
            return Self { more, exact: Vec::new(), furthest: Vec::new() };
        }
        let mut exact: Vec<Option<Sum>> = vec![Some(Sum { hose: 0, lengths: 0 })];
        for sum in 1..entries {
            let mut best: Option<Sum> = None;
            for kind in kinds {
                let before = sum.checked_sub(kind.cost / more);
                let before = before.and_then(|before| exact[usize::try_from(before).ok()?]);
                if let Some(before) = before {
                    let (hose, lengths) = (before.hose + u64::from(kind.length), before.lengths + 1);
                    let other = best.unwrap_or(Sum { hose, lengths });
                    best = Some(Sum { hose: hose.max(other.hose), lengths: lengths.min(other.lengths) });
                }
            }
            exact.push(best);
        }
        let mut furthest: Vec<u64> = Vec::with_capacity(exact.len());
        for sum in &exact {
            let hose = sum.map_or(0, |sum| sum.hose);
            furthest.push(furthest.last().map_or(hose, |before| hose.max(*before)));
        }
        Self { more, exact, furthest }
    }

    /// The most hose that this cost buys.
    pub(super) fn furthest(&self, cost: u64) -> u64 {
        let entry = usize::try_from(cost / self.more).ok();
        entry.and_then(|entry| self.furthest.get(entry)).copied().unwrap_or(u64::MAX)
    }

    /// The least cost, no less than `least`, that buys so much hose and can be.
    pub(super) fn least(&self, hose: u64, least: u64) -> u64 {
        if self.exact.is_empty() {
            return least;
        }
        let mut sum = least / self.more;
        loop {
            let entry = usize::try_from(sum).ok().and_then(|sum| self.exact.get(sum));
            let Some(exact) = entry else { return least.max(sum * self.more) };
            if let Some(exact) = exact.filter(|exact| exact.hose >= hose) {
                return least.max(sum * self.more + exact.lengths.min(self.more - 1));
            }
            sum += 1;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{Kind, Reach};

    #[test]
    fn only_sums_of_prices_can_be_spent() {
        // By hand: 30 long for 3 and 55 for 5; with at most 9 lengths, cost is ten times the sum and the number of lengths.
        let kinds = [Kind { length: 30, cost: 31 }, Kind { length: 55, cost: 51 }];
        let reach = Reach::new(&kinds, 10, 200);
        // 60 long is two of the first (6), not 4; 56 long is the same; 55 is one of the second.
        assert_eq!([60, 56, 55, 1].map(|hose| reach.least(hose, 0)), [62, 62, 51, 31]);
        // Nothing costs 4 or 7; for 8 there is one of each.
        assert_eq!([40, 70].map(|least| reach.least(1, least)), [51, 82]);
        assert_eq!([2, 3, 5, 9].map(|sum| reach.furthest(sum * 10 + 9)), [0, 30, 55, 90]);
    }
}
