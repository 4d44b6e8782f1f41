//! Which pieces come from which length, so that what is bought costs least: branch and bound, a whole length at a time.
//!
//! The largest piece left must come from some length, so a step takes one: every way to fill it that includes that piece and
//! may still lead to what is looked for, the one that wastes least worth first (after R. E. Korf, A new algorithm for optimal
//! bin packing, AAAI 2002; from memory). Costs that are too low to be possible are ruled out one after the other from below,
//! so what is found first is best. The steps are counted: with too many of them the best found is told, and the least cost
//! that was not ruled out. No clock, so the answer is the same everywhere.

use super::reach::Reach;
use super::worth::{Worths, worths};

/// How many steps are taken at most; 60 pieces then take less than 0.1 s.
const STEPS: usize = 1_800_000;
/// Each look tries so many ways to fill one length, and takes that part of the steps that are left. A narrow look finds most
/// of what can be found; only one that left nothing out can rule a cost out.
const LOOKS: [(usize, usize); 4] = [(1, 12), (2, 12), (8, 12), (1000, 3)];
/// Ways are looked for among those that waste up to this part of what may be, and then further.
const TIGHT: [u64; 4] = [64, 16, 4, 1];

/// First fit is tried with so many of the kinds.
const MAINS: usize = 64;
/// How many costs are tried at most; where prices are fine there are thousands.
const TARGETS: usize = 1000;
/// With more pieces, more kinds, or larger tables of worths, nothing is searched.
const PIECES: usize = 1000;
/// See [`PIECES`].
const KINDS: usize = 1000;
/// See [`PIECES`].
const TABLE: usize = 1 << 22;

/// A length that can be bought, as often as wanted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Kind {
    pub(super) length: u32,
    /// Greater than nought.
    pub(super) cost: u64,
}

/// Sizes of pieces, largest first, how many of each, what is sold, shortest and cheapest first, and what is at hand, free.
#[derive(Clone, Debug)]
pub(super) struct Problem {
    pub(super) sizes: Vec<u32>,
    pub(super) counts: Vec<u32>,
    pub(super) kinds: Vec<Kind>,
    pub(super) have: Vec<u32>,
}

impl Problem {
    /// How many pieces there are.
    pub(super) fn pieces(&self) -> usize {
        self.counts.iter().map(|count| *count as usize).sum()
    }

    /// The longest length of all.
    pub(super) fn widest(&self) -> u32 {
        self.kinds.iter().map(|kind| kind.length).chain(self.have.iter().copied()).max().unwrap_or(0)
    }

    /// How much all these pieces take.
    pub(super) fn takes(&self, counts: &[u32]) -> u64 {
        self.sizes.iter().zip(counts).map(|(size, count)| u64::from(*size) * u64::from(*count)).sum()
    }
}

/// What a length is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Of {
    /// One at hand.
    Have(usize),
    /// One bought.
    Kind(usize),
}

/// A length and how many pieces of each size come from it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Filled {
    pub(super) of: Of,
    pub(super) counts: Vec<u32>,
}

/// All pieces in their lengths.
#[derive(Clone, Debug)]
pub(super) struct Packed {
    pub(super) lengths: Vec<Filled>,
    /// What they cost; and below it, as many lengths as are bought.
    pub(super) cost: Cost,
    /// It cannot cost less.
    pub(super) at_least: Cost,
}

/// A sum of money or millimetres, and then the number of lengths.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Cost {
    pub(super) sum: u64,
    pub(super) lengths: u64,
}

/// Packs the pieces; each is as short as the longest kind or shorter. Where several are packed for one answer each has that part
/// of the steps.
pub(super) fn pack(problem: &Problem, part: usize) -> Packed {
    if problem.kinds.is_empty() || problem.sizes.is_empty() {
        let nothing = Cost { sum: 0, lengths: 0 };
        return Packed { lengths: Vec::new(), cost: nothing, at_least: nothing };
    }
    // One number for both: as many lengths as pieces never weigh as much as one of the other.
    let more = problem.pieces() as u64 + 1;
    let unit = problem.kinds.iter().fold(0, |unit, kind| common(kind.cost, unit)).max(1);
    // What is longer than all pieces together needs no larger tables.
    let all = problem.takes(&problem.counts);
    let no_more = |length: u32| u32::try_from(all).map_or(length, |all| length.min(all));
    let kind = |kind: &Kind| Kind { length: no_more(kind.length), cost: kind.cost / unit * more + 1 };
    let kinds = problem.kinds.iter().map(kind).collect();
    let have = problem.have.iter().map(|room| no_more(*room)).collect();
    let problem = Problem { kinds, have, ..problem.clone() };
    let (lengths, cost, at_least) = packed(&problem, more, part);
    let apart = |cost: u64| Cost { sum: cost / more * unit, lengths: cost % more };
    Packed { lengths, cost: apart(cost), at_least: apart(at_least) }
}

fn common(a: u64, b: u64) -> u64 {
    if b == 0 { a } else { common(b, a % b) }
}

fn packed(problem: &Problem, more: u64, part: usize) -> (Vec<Filled>, u64, u64) {
    let apart = problem.kinds.len().div_ceil(MAINS);
    let tries = (0..problem.kinds.len()).rev().step_by(apart).map(|main| first_fit(problem, main));
    let (mut cost, mut best) = (u64::MAX, Vec::new());
    for lengths in tries {
        let costs = cost_of(problem, &lengths);
        if costs < cost {
            (cost, best) = (costs, lengths);
        }
    }
    let reach = Reach::new(&problem.kinds, more, cost);
    let have: u64 = problem.have.iter().map(|length| u64::from(*length)).sum();
    let short = problem.takes(&problem.counts).saturating_sub(have);
    let mut at_least = reach.least(short, by_length(problem, more, short));
    if at_least >= cost {
        return (best, cost, cost);
    }
    let too_many = problem.pieces() > PIECES || problem.kinds.len() > KINDS;
    if too_many || (problem.sizes.len() + 1) * (problem.widest() as usize + 1) > TABLE {
        return (best, cost, at_least);
    }
    let worths = worths(problem, part);
    let bound = worths.bound(problem);
    at_least = reach.least(short, bound.div_ceil(worths.scale).max(at_least));
    let mut steps = STEPS / part;
    let mut attempt = |target: u64| {
        let waste = (target * worths.scale).saturating_sub(bound);
        let mut all = false;
        for (wide, part) in LOOKS {
            let share = steps / part;
            let mut search = Search {
                problem,
                worths: &worths,
                reach: &reach,
                target,
                waste,
                wide,
                steps: share,
                all: true,
                taken: Vec::new(),
                dead: Dead::default(),
            };
            let found = search.rest(&mut problem.counts.clone(), 0, 0);
            steps -= share - search.steps;
            all = search.all;
            if found {
                return (Some(search.taken), all);
            }
            if all {
                break;
            }
        }
        (None, all)
    };
    // First the least sum, with however many lengths.
    let (mut target, mut targets) = (at_least, 0..TARGETS);
    while target / more < cost / more && targets.next().is_some() {
        let next = (target / more + 1) * more;
        let (found, all) = attempt(next - 1);
        if let Some(lengths) = found {
            (cost, best) = (cost_of(problem, &lengths), lengths);
            break;
        }
        let next = reach.least(short, next);
        if all && at_least == target {
            at_least = next;
        }
        target = next;
    }
    // Then the fewest lengths for it.
    while target < cost && targets.next().is_some() {
        let (found, all) = attempt(target);
        if let Some(lengths) = found {
            (cost, best) = (cost_of(problem, &lengths), lengths);
            break;
        }
        let next = reach.least(short, target + 1);
        if all && at_least == target {
            at_least = next;
        }
        target = next;
    }
    (best, cost, at_least.min(cost))
}

/// What so much hose costs at least: each millimetre as the cheapest, and in as few lengths as the longest makes.
fn by_length(problem: &Problem, more: u64, short: u64) -> u64 {
    let each = |kind: &Kind| (kind.cost / more) as f64 / f64::from(kind.length);
    let cheapest = problem.kinds.iter().map(each).fold(f64::INFINITY, f64::min);
    let longest = problem.kinds.iter().map(|kind| u64::from(kind.length)).max().unwrap_or(1);
    // Less by more than was rounded.
    let sum = (short as f64 * cheapest * (1.0 - 1e-12)).ceil();
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a sum of whole costs, not below nought"
    )]
    let sum = sum as u64;
    sum * more + short.div_ceil(longest)
}

fn cost_of(problem: &Problem, lengths: &[Filled]) -> u64 {
    let cost = |filled: &Filled| match filled.of {
        Of::Have(_) => 0,
        Of::Kind(kind) => problem.kinds[kind].cost,
    };
    lengths.iter().map(cost).sum()
}

/// One after the other the lengths are filled with the largest pieces that still go in, first what is at hand, then `main`;
/// each is then the cheapest that does.
fn first_fit(problem: &Problem, main: usize) -> Vec<Filled> {
    let mut left = problem.counts.clone();
    let mut lengths = Vec::new();
    let fill = |left: &mut [u32], mut room: u32| {
        let mut counts = vec![0; left.len()];
        for k in 0..left.len() {
            counts[k] = left[k].min(room / problem.sizes[k]);
            left[k] -= counts[k];
            room -= counts[k] * problem.sizes[k];
        }
        counts
    };
    for (k, length) in problem.have.iter().enumerate() {
        let counts = fill(&mut left, *length);
        if counts.iter().any(|count| *count > 0) {
            lengths.push(Filled { of: Of::Have(k), counts });
        }
    }
    while let Some(first) = left.iter().position(|count| *count > 0) {
        let holds = |least: u64| problem.kinds.partition_point(|kind| u64::from(kind.length) < least);
        let open = main.max(holds(u64::from(problem.sizes[first])));
        let counts = fill(&mut left, problem.kinds[open].length);
        lengths.push(Filled { of: Of::Kind(holds(problem.takes(&counts))), counts });
    }
    lengths
}

/// A way to fill a length.
#[derive(Clone, Debug)]
struct Way {
    filled: Filled,
    cost: u64,
    /// What it costs, or could hold, beyond what it holds.
    waste: u64,
}

/// What was left, of pieces and at hand, where nothing was found, and at what cost.
///
/// A table of its own: a map of the standard library would make the page's module larger.
#[derive(Debug, Default)]
struct Dead {
    /// Grouped by [`Dead::slot`]; none until the first comes in.
    slots: Vec<Vec<(Vec<u32>, u64)>>,
}

impl Dead {
    const SLOTS: usize = 4096;

    /// By the hash of Fowler, Noll and Vo (from memory).
    fn slot(state: &[u32]) -> usize {
        let mix = |hash: u32, number: &u32| (hash ^ number).wrapping_mul(16_777_619);
        let hash = state.iter().fold(2_166_136_261, mix);
        (hash ^ hash >> 16) as usize % Self::SLOTS
    }

    fn cost(&self, state: &[u32]) -> Option<u64> {
        let slot = self.slots.get(Self::slot(state))?;
        slot.iter().find(|(known, _)| known == state).map(|(_, cost)| *cost)
    }

    fn insert(&mut self, state: Vec<u32>, cost: u64) {
        if self.slots.is_empty() {
            self.slots.resize_with(Self::SLOTS, Vec::new);
        }
        let slot = &mut self.slots[Self::slot(&state)];
        match slot.iter_mut().find(|(known, _)| *known == state) {
            Some((_, known)) => *known = cost,
            None => slot.push((state, cost)),
        }
    }
}

#[derive(Debug)]
struct Search<'a> {
    problem: &'a Problem,
    worths: &'a Worths,
    reach: &'a Reach,
    /// It must cost no more.
    target: u64,
    /// Nor may more be wasted than this.
    waste: u64,
    /// Of the ways to fill one length only so many are tried.
    wide: usize,
    steps: usize,
    /// Whether nothing was left out for want of steps.
    all: bool,
    taken: Vec<Filled>,
    dead: Dead,
}

impl Search<'_> {
    fn has(&self, k: usize) -> bool {
        !self.taken.iter().any(|filled| filled.of == Of::Have(k))
    }

    /// Whether the rest goes in for what is left.
    fn rest(&mut self, left: &mut Vec<u32>, cost: u64, waste: u64) -> bool {
        let Some(first) = left.iter().position(|count| *count > 0) else { return true };
        self.steps = self.steps.saturating_sub(left.len());
        if self.steps == 0 {
            self.all = false;
            return false;
        }
        let have: u64 =
            (0..self.problem.have.len()).filter(|k| self.has(*k)).map(|k| u64::from(self.problem.have[k])).sum();
        let short = self.problem.takes(left).saturating_sub(have);
        if short > self.reach.furthest(self.target - cost) {
            return false;
        }
        let mut state = left.clone();
        state.extend((0..self.problem.have.len()).map(|k| u32::from(self.has(k))));
        if self.dead.cost(&state).is_some_and(|known| cost >= known) {
            return false;
        }
        for way in self.ways(left, first, cost, waste) {
            left.iter_mut().zip(&way.filled.counts).for_each(|(left, count)| *left -= count);
            self.taken.push(way.filled);
            if self.rest(left, cost + way.cost, waste + way.waste) {
                return true;
            }
            let Some(filled) = self.taken.pop() else { return false };
            left.iter_mut().zip(&filled.counts).for_each(|(left, count)| *left += count);
        }
        self.dead.insert(state, cost);
        false
    }

    /// The ways to fill a length with the first size and others, the least waste first.
    fn ways(&mut self, left: &[u32], first: usize, cost: u64, waste: u64) -> Vec<Way> {
        let mut ways = Vec::new();
        let room = self.waste - waste;
        for part in TIGHT {
            ways.clear();
            let all = self.ways_within(&mut ways, left, first, cost, room / part);
            if !all || part == 1 {
                self.all &= all;
                break;
            }
        }
        ways
    }

    /// Those that waste no more than so much; false if some were left out.
    fn ways_within(&mut self, ways: &mut Vec<Way>, left: &[u32], first: usize, cost: u64, waste: u64) -> bool {
        let mut all = true;
        for k in 0..self.problem.have.len() {
            if self.has(k) {
                let length = self.problem.have[k];
                let of = (Of::Have(k), length, 0, self.worths.most(0, length), 0);
                all &= self.fill(ways, left, first, of, waste);
            }
        }
        let mut shorter = 0;
        for (k, kind) in self.problem.kinds.iter().enumerate() {
            if cost + kind.cost <= self.target {
                let worth = kind.cost * self.worths.scale;
                all &= self.fill(ways, left, first, (Of::Kind(k), kind.length, shorter, worth, kind.cost), waste);
            }
            shorter = kind.length;
        }
        all
    }

    fn fill(
        &mut self,
        ways: &mut Vec<Way>,
        left: &[u32],
        first: usize,
        (of, length, more_than, worth, cost): (Of, u32, u32, u64, u64),
        waste: u64,
    ) -> bool {
        if self.problem.sizes[first] > length {
            return true;
        }
        self.steps = self.steps.saturating_sub(left.len() + self.problem.kinds.len());
        let wide = self.wide;
        let mut filling = Filling {
            problem: self.problem,
            worths: self.worths,
            left,
            first,
            more_than: length - more_than,
            worth: worth.saturating_sub(waste),
            steps: &mut self.steps,
            counts: vec![0; left.len()],
            each: &mut |counts: &[u32], holds: u64| {
                let way =
                    Way { filled: Filled { of, counts: counts.to_vec() }, cost, waste: worth.saturating_sub(holds) };
                let behind = ways.partition_point(|other: &Way| other.waste <= way.waste);
                ways.insert(behind, way);
                ways.len() < wide
            },
        };
        filling.from(first, length, 0)
    }
}

/// The ways to fill one length, largest sizes first.
struct Filling<'a> {
    problem: &'a Problem,
    worths: &'a Worths,
    left: &'a [u32],
    first: usize,
    /// Less than this must be left over, or a shorter length would do.
    more_than: u32,
    /// It must hold so much.
    worth: u64,
    steps: &'a mut usize,
    counts: Vec<u32>,
    each: &'a mut dyn FnMut(&[u32], u64) -> bool,
}

impl Filling<'_> {
    /// Fills `room` with sizes `k` and further; false if some were left out.
    fn from(&mut self, k: usize, room: u32, holds: u64) -> bool {
        if *self.steps == 0 {
            return false;
        }
        *self.steps -= 1;
        if holds + self.worths.most(k, room) < self.worth {
            return true;
        }
        if k == self.left.len() {
            *self.steps = self.steps.saturating_sub(self.left.len());
            return room >= self.more_than || self.wasteful(room) || (self.each)(&self.counts, holds);
        }
        let least = u32::from(k == self.first);
        let size = self.problem.sizes[k];
        let mut counts = (least..=self.left[k].min(room / size)).rev();
        let all = counts.all(|count| {
            self.counts[k] = count;
            self.from(k + 1, room - count * size, holds + u64::from(count) * self.worths.of[k])
        });
        self.counts[k] = 0;
        all
    }

    /// Whether another way does as well: with one more piece in what is left over, or with one changed for a larger one. What
    /// comes out goes where the larger one was (S. Martello and P. Toth, Knapsack Problems, 1990, chapter 8; from memory).
    fn wasteful(&self, room: u32) -> bool {
        let sizes = &self.problem.sizes;
        (0..sizes.len()).any(|k| {
            let spare = self.left[k] > self.counts[k];
            let kept = |j: usize| self.counts[j] > u32::from(j == self.first);
            spare && (sizes[k] <= room || (k + 1..sizes.len()).any(|j| kept(j) && sizes[k] - sizes[j] <= room))
        })
    }
}
