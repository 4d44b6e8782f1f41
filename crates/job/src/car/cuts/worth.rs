//! What a set of pieces must cost at least: a worth for every piece, such that nothing that is sold holds more than it costs.
//!
//! With such worths no way of cutting is cheaper than the worth of all pieces, less what the hose at hand can hold of it.
//! The best worths are the duals of the linear programme over all patterns (P. C. Gilmore and R. E. Gomory, A linear
//! programming approach to the cutting-stock problem, Operations Research 9, 1961; from memory): patterns are added one by
//! one, each the one that holds most worth for its cost. Along the way the worths are scaled down to what holds (A. A. Farley,
//! A note on bounding a class of linear programming problems, Operations Research 38, 1990; from memory). Worths are whole
//! numbers in the end, and that nothing holds more is worked out without rounding: the bound is proven.

use super::pack::{Kind, Problem};

/// About what the dearest kind costs in scaled whole numbers: times what a thousand pieces are worth it still fits in 64 bits.
const SCALE: u64 = 1 << 26;
/// A pattern must be worth so much more than its cost to be added, as a part of the dearest. Smaller only adds steps.
const GAIN: f64 = 1e-9;
/// Below this a number in the pivot column is nought.
const NOUGHT: f64 = 1e-9;
/// How many entries of tables may be worked out for one bound.
const WORK: usize = 12_000_000;

/// Worths of all sizes, and the most that any room can hold of them.
#[derive(Debug)]
pub(super) struct Worths {
    /// Of one piece of each size.
    pub(super) of: Vec<u64>,
    /// What costs are multiplied by to be compared with worths.
    pub(super) scale: u64,
    width: usize,
    /// Row k: the most of sizes k and further that goes in a room, for every room.
    table: Vec<u64>,
}

impl Worths {
    fn new(problem: &Problem, of: Vec<u64>, scale: u64) -> Self {
        let width = problem.widest() as usize + 1;
        let mut table = vec![0; width * (of.len() + 1)];
        for k in (0..of.len()).rev() {
            let (size, worth) = (problem.sizes[k] as usize, of[k]);
            let (above, below) = table.split_at_mut((k + 1) * width);
            let (row, next) = (&mut above[k * width..], &below[..width]);
            row.copy_from_slice(next);
            let without = next.iter().zip(&mut row[size.min(width)..]);
            without.for_each(|(without, most)| *most = (*most).max(without + worth));
            // Nothing is gained by a piece more than were ever put in.
            for _ in 1..problem.counts[k].min(problem.widest() / problem.sizes[k]) {
                for room in (size..width).rev() {
                    row[room] = row[room].max(row[room - size] + worth);
                }
            }
        }
        Self { of, scale, width, table }
    }

    /// The most that goes in a room, of sizes `k` and further.
    pub(super) fn most(&self, k: usize, room: u32) -> u64 {
        self.table[k * self.width + room as usize]
    }

    /// How many of each size make that most.
    fn pattern(&self, problem: &Problem, mut room: u32) -> Vec<u32> {
        let mut counts = vec![0; self.of.len()];
        for (k, count) in counts.iter_mut().enumerate() {
            let (most, mut worth) = (self.most(k, room), 0);
            while worth + self.most(k + 1, room) < most {
                (*count, room, worth) = (*count + 1, room - problem.sizes[k], worth + self.of[k]);
            }
        }
        counts
    }

    /// The worth of all pieces, less what the hose at hand can hold.
    pub(super) fn bound(&self, problem: &Problem) -> u64 {
        let all: u64 = self.of.iter().zip(&problem.counts).map(|(worth, count)| worth * u64::from(*count)).sum();
        all.saturating_sub(problem.have.iter().map(|room| self.most(0, *room)).sum())
    }

    /// The kind that holds most beyond its cost, with its cost and what it holds.
    fn tightest(&self, problem: &Problem) -> (u64, u64) {
        let pairs = problem.kinds.iter().map(|kind| (kind.cost * self.scale, self.most(0, kind.length).max(1)));
        pairs.reduce(|a, b| if a.0 * b.1 <= b.0 * a.1 { a } else { b }).unwrap_or((1, 1))
    }
}

/// The linear programme between two patterns.
#[derive(Debug)]
struct Programme {
    rows: usize,
    inverse: Vec<f64>,
    /// How much of each pattern of the basis is used, and what one costs.
    used: Vec<f64>,
    costs: Vec<f64>,
}

impl Programme {
    /// Every size by itself, and nothing from the hose at hand.
    fn new(problem: &Problem, scale: f64) -> Self {
        let sizes = problem.sizes.len();
        let rows = sizes + problem.have.len();
        let mut programme =
            Self { rows, inverse: vec![0.0; rows * rows], used: vec![1.0; rows], costs: vec![0.0; rows] };
        for row in 0..rows {
            let mut held = 1.0;
            if row < sizes {
                let count = problem.counts[row];
                let fits = |length: u32| f64::from((length / problem.sizes[row]).min(count));
                let best = problem.kinds.iter().map(|kind| (kind.cost as f64 * scale, fits(kind.length)));
                let best = best.reduce(|a, b| if a.0 * b.1 <= b.0 * a.1 { a } else { b });
                let (cost, fit) = best.unwrap_or((1.0, 1.0));
                held = fit;
                (programme.costs[row], programme.used[row]) = (cost, f64::from(count) / held);
            }
            programme.inverse[row * rows + row] = 1.0 / held;
        }
        programme
    }

    /// What one more of each size would cost; for the hose at hand, what one more of it would.
    fn duals(&self) -> Vec<f64> {
        let mut duals = vec![0.0; self.rows];
        for (row, cost) in self.inverse.chunks(self.rows).zip(&self.costs) {
            duals.iter_mut().zip(row).for_each(|(dual, entry)| *dual += cost * entry);
        }
        duals
    }

    /// Takes a pattern in, and the one out that it drives to nought. False if it drives none.
    fn enter(&mut self, column: &[f64], cost: f64) -> bool {
        let rows = self.rows;
        let dot = |row: &[f64]| row.iter().zip(column).map(|(a, b)| a * b).sum::<f64>();
        let along: Vec<f64> = self.inverse.chunks(rows).map(dot).collect();
        let ratio = |row: &usize| self.used[*row] / along[*row];
        let leaving = (0..rows).filter(|row| along[*row] > NOUGHT);
        let Some(out) = leaving.reduce(|a, b| if ratio(&b) < ratio(&a) { b } else { a }) else { return false };
        let pivot = along[out];
        for entry in &mut self.inverse[out * rows..(out + 1) * rows] {
            *entry /= pivot;
        }
        self.used[out] /= pivot;
        self.costs[out] = cost;
        let driven: Vec<f64> = self.inverse[out * rows..(out + 1) * rows].to_vec();
        for row in (0..rows).filter(|row| *row != out) {
            let times = along[row];
            let entries = &mut self.inverse[row * rows..(row + 1) * rows];
            entries.iter_mut().zip(&driven).for_each(|(entry, one)| *entry -= times * one);
            self.used[row] = (self.used[row] - times * self.used[out]).max(0.0);
        }
        true
    }
}

/// The worths with which the pieces must cost most; with that part of the work.
pub(super) fn worths(problem: &Problem, part: usize) -> Worths {
    let dearest = problem.kinds.iter().map(|kind| kind.cost).max().unwrap_or(1);
    let scale = (SCALE / dearest).max(1);
    let top = (dearest * scale) as f64;
    let sizes = problem.sizes.len();
    let mut programme = Programme::new(problem, scale as f64);
    let table = problem.sizes.len().max(problem.pieces()) * (problem.widest() as usize + 1);
    let mut best = (0, vec![0; sizes]);
    for _ in 0..(WORK / part / table).clamp(1, 40 * programme.rows) {
        let duals = programme.duals();
        let whole = |dual: &f64| if *dual > 0.0 { whole(*dual) } else { 0 };
        let worths = Worths::new(problem, duals[..sizes].iter().map(whole).collect(), scale);
        // What gains most: a kind, a piece at hand, a piece too many, or hose at hand left over.
        let mut entering: (f64, Vec<f64>, f64) = (GAIN * top, Vec::new(), 0.0);
        let column = |counts: Vec<u32>, have: Option<usize>| {
            let mut column: Vec<f64> = counts.into_iter().map(f64::from).collect();
            column.resize(programme.rows, 0.0);
            if let Some(have) = have {
                column[sizes + have] = 1.0;
            }
            column
        };
        let gain = |kind: &Kind| worths.most(0, kind.length) as f64 - (kind.cost * scale) as f64;
        if let Some(kind) = problem.kinds.iter().reduce(|a, b| if gain(b) > gain(a) { b } else { a })
            && gain(kind) > entering.0
        {
            let cost = (kind.cost * scale) as f64;
            entering = (gain(kind), column(worths.pattern(problem, kind.length), None), cost);
        }
        for (k, room) in problem.have.iter().enumerate() {
            let gain = worths.most(0, *room) as f64 + duals[sizes + k];
            if gain > entering.0 {
                entering = (gain, column(worths.pattern(problem, *room), Some(k)), 0.0);
            }
        }
        for (row, dual) in duals.iter().enumerate() {
            let (gain, sign) = if row < sizes { (-dual, -1.0) } else { (*dual, 1.0) };
            if gain > entering.0 {
                let mut alone = vec![0.0; programme.rows];
                alone[row] = sign;
                entering = (gain, alone, 0.0);
            }
        }
        // Scaled down to what holds, if that bounds better.
        let (costs, holds) = worths.tightest(problem);
        let down = |worth: u64| if holds > costs { worth * costs / holds } else { worth };
        let bound = down(worths.bound(problem));
        if bound > best.0 {
            best = (bound, worths.of.into_iter().map(down).collect());
        }
        let (_, column, cost) = entering;
        if column.is_empty() || !programme.enter(&column, cost) {
            break;
        }
    }
    Worths::new(problem, best.1, scale)
}

/// A number not below nought as a whole one, rounded down.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "not below nought, far below 2^63")]
fn whole(number: f64) -> u64 {
    number as u64
}

#[cfg(test)]
mod tests {
    use super::{Worths, worths};
    use crate::car::cuts::pack::{Kind, Problem};

    fn problem(sizes: &[u32], counts: &[u32], length: u32, have: &[u32]) -> Problem {
        let kinds = vec![Kind { length, cost: 1 }];
        Problem { sizes: sizes.to_vec(), counts: counts.to_vec(), kinds, have: have.to_vec() }
    }

    fn bound(problem: &Problem) -> f64 {
        let worths = worths(problem, 1);
        worths.bound(problem) as f64 / worths.scale as f64
    }

    #[test]
    fn the_bound_is_that_of_the_linear_programme() {
        // By hand. Three of 6 in tens: no two share, so 3, although they fill 1.8.
        assert!((bound(&problem(&[6], &[3], 10, &[])) - 3.0).abs() < 1e-6);
        // Four of 5 and three of 3 in tens: 5 + 5 is full, 5 + 3 and 3 + 3 + 3 are not; a 5 is worth 1/2 and a 3 is worth 1/3
        // (5 + 3 is worth 5/6, 3 + 3 + 3 is worth 1): 2 + 1.
        assert!((bound(&problem(&[5, 3], &[4, 3], 10, &[])) - 3.0).abs() < 1e-6);
        // A ten at hand saves one.
        assert!((bound(&problem(&[6], &[3], 10, &[10])) - 2.0).abs() < 1e-6);
    }

    #[test]
    fn a_room_holds_no_more_pieces_than_there_are() {
        let problem = problem(&[4, 3], &[1, 2], 11, &[]);
        let worths = Worths::new(&problem, vec![4, 3], 1);
        // By hand: one of 4 and two of 3 fill 10 of 11; two of 3 fill 6; a 4 and a 3 fill 7 of 9.
        assert_eq!([(0, 11), (1, 11), (0, 9), (0, 2)].map(|(k, room)| worths.most(k, room)), [10, 6, 7, 0]);
        assert_eq!(worths.pattern(&problem, 11), [1, 2]);
    }
}
