//! From pieces and what is sold to which piece comes from which length: whole millimetres in, lengths and offcuts out.

use super::pack::{Cost, Kind, Of, Packed, Problem, pack};
use crate::TRIMMING;
use quantity::Length;

/// With more ways than this to spread pieces too long to buy over the hose at hand, only so many are tried.
const SPREADS: usize = 16;

/// How a hose is sold.
#[derive(Clone, Debug, PartialEq)]
pub enum Sold {
    /// Off a roll: in whole steps, to the longest.
    ByStep {
        /// The step; greater than nought.
        step: Length,
        /// The longest; no less than the step.
        longest: Length,
    },
    /// In these lengths.
    Lengths(Vec<SoldLength>),
}

/// A length on sale.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SoldLength {
    /// How long it is.
    pub length: Length,
    /// Its price in the smallest coin, if it is known.
    pub price: Option<u32>,
}

/// Which piece comes from which length.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Plan {
    /// What is cut: first what is at hand, then what is bought, longest first.
    pub lengths: Vec<CutLength>,
    /// Pieces, by their place, that are longer than what there is for them.
    pub too_long: Vec<usize>,
    /// What is bought, mm; with `price`, what it costs.
    pub bought_mm: f64,
    /// What it costs in the smallest coin, if every length has a price.
    pub price: Option<u64>,
    /// Less than this cannot be bought: mm, or the smallest coin if every length has a price.
    pub at_least: f64,
    /// Whether it is known that nothing less, and no fewer lengths of as much, would do.
    pub proven: bool,
}

/// A length that is cut.
#[derive(Clone, Debug, PartialEq)]
pub struct CutLength {
    /// How long it is, mm.
    pub length_mm: f64,
    /// Whether it is at hand.
    pub at_hand: bool,
    /// The pieces from it by their place, longest first.
    pub pieces: Vec<usize>,
    /// What is left of it, mm.
    pub left_mm: f64,
}

/// A length that is nearly a whole number of millimetres is that number.
const HAIR: f64 = 1e-6;

/// Millimetres as a whole number, rounded down.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "held to what 32 bits hold")]
fn whole(mm: f64) -> u32 {
    (mm + HAIR).clamp(0.0, 1e6) as u32
}

/// The pieces, `cuts` long, from lengths at hand and lengths bought, so that the fewest millimetres are bought, or, if every
/// length has a price, the cheapest; of those ways one with the fewest lengths.
///
/// A piece takes its cut and [`TRIMMING`], rounded up to a millimetre; of a length whole millimetres count. Pieces that are
/// too long to buy come from what is at hand, as many of them as can.
#[must_use]
pub fn plan(cuts: &[Length], at_hand: &[Length], sold: &Sold) -> Plan {
    let takes: Vec<u32> = cuts.iter().map(|cut| whole((cut.as_mm() + TRIMMING - HAIR).ceil())).collect();
    let mut order: Vec<usize> = Vec::new();
    for (piece, size) in takes.iter().enumerate() {
        order.insert(order.partition_point(|other| takes[*other] >= *size), piece);
    }
    let mut have: Vec<f64> = Vec::new();
    for length in at_hand {
        have.insert(have.partition_point(|other| *other >= length.as_mm()), length.as_mm());
    }
    let shop = Shop::new(sold, takes.iter().map(|size| u64::from(*size)).sum());
    let longest = shop.kinds.last().map_or(0, |kind| kind.whole);
    let (long, rest): (Vec<usize>, Vec<usize>) = order.into_iter().partition(|piece| takes[*piece] > longest);

    let (spreads, all) = Spread::over(&have, &long, &takes);
    let mut best: Option<(&Spread, Packed)> = None;
    let mut at_least: Option<Cost> = None;
    for spread in &spreads {
        let packed = pack(&shop.problem(spread, &rest, &takes), spreads.len());
        at_least = Some(at_least.map_or(packed.at_least, |least| least.min(packed.at_least)));
        if best.as_ref().is_none_or(|(_, other)| packed.cost < other.cost) {
            best = Some((spread, packed));
        }
    }
    let (Some((spread, packed)), Some(at_least)) = (best, at_least) else { return Plan::default() };

    let mut on_hand: Vec<Vec<usize>> = vec![Vec::new(); have.len()];
    let mut told = Plan {
        price: shop.priced.then_some(packed.cost.sum),
        at_least: at_least.sum as f64 * shop.one,
        proven: all && at_least == packed.cost,
        ..Plan::default()
    };
    for (piece, of) in long.iter().zip(&spread.of) {
        let put = of.map_or(&mut told.too_long, |k| &mut on_hand[k]);
        put.push(*piece);
    }
    let mut waiting = by_size(&rest, &takes);
    let mut bought: Vec<(f64, Vec<usize>)> = Vec::new();
    for filled in &packed.lengths {
        let pieces = waiting.iter_mut().zip(&filled.counts).flat_map(|(all, count)| all.drain(..*count as usize));
        match filled.of {
            Of::Have(k) => on_hand[k].extend(pieces),
            Of::Kind(kind) => {
                let cut = (shop.kinds[kind].mm, pieces.collect());
                bought.insert(bought.partition_point(|other| other.0 >= cut.0), cut);
            }
        }
    }
    told.bought_mm = bought.iter().fold(0.0, |sum, (length, _)| sum + length);
    let cut = |at_hand: bool, length_mm: f64, pieces: Vec<usize>| {
        let used = pieces.iter().fold(0.0, |sum, piece| sum + cuts[*piece].as_mm() + TRIMMING);
        CutLength { length_mm, at_hand, pieces, left_mm: (length_mm - used).max(0.0) }
    };
    let at_hand = have.into_iter().zip(on_hand).filter(|(_, pieces)| !pieces.is_empty());
    told.lengths.extend(at_hand.map(|(length, pieces)| cut(true, length, pieces)));
    told.lengths.extend(bought.into_iter().map(|(length, pieces)| cut(false, length, pieces)));
    told
}

/// Pieces of one size together; they come in order of size.
fn by_size(pieces: &[usize], takes: &[u32]) -> Vec<Vec<usize>> {
    let mut sizes: Vec<Vec<usize>> = Vec::new();
    for piece in pieces {
        match sizes.last_mut().filter(|size| takes[size[0]] == takes[*piece]) {
            Some(size) => size.push(*piece),
            None => sizes.push(vec![*piece]),
        }
    }
    sizes
}

/// A length on sale.
#[derive(Clone, Copy, Debug)]
struct OnSale {
    mm: f64,
    whole: u32,
    cost: u64,
}

/// What is sold, shortest and cheapest first.
#[derive(Debug)]
struct Shop {
    kinds: Vec<OnSale>,
    /// What a cost of one is: mm, or the smallest coin.
    one: f64,
    priced: bool,
}

impl Shop {
    /// For pieces that take so much together.
    fn new(sold: &Sold, takes: u64) -> Self {
        let (on_sale, one, priced): (Vec<OnSale>, f64, bool) = match sold {
            Sold::ByStep { step, longest } => {
                let step = step.as_mm().max(1.0);
                let enough = (takes as f64 / step).ceil().max(1.0);
                let most = f64::from(whole(longest.as_mm() / step)).clamp(1.0, enough);
                let off_roll = |steps: u32| {
                    let mm = f64::from(steps) * step;
                    OnSale { mm, whole: whole(mm), cost: steps.into() }
                };
                // None of them is idle: what is longer costs more.
                return Self { kinds: (1..=whole(most)).map(off_roll).collect(), one: step, priced: false };
            }
            Sold::Lengths(lengths) => {
                let priced = lengths.iter().all(|length| length.price.is_some());
                let on_sale = |sold: &SoldLength| {
                    let mm = sold.length.as_mm();
                    let tenths = u64::from(whole((mm * 10.0).round()));
                    let cost = sold.price.filter(|_| priced).map_or(tenths, u64::from);
                    OnSale { mm, whole: whole(mm), cost }
                };
                let whole = lengths.iter().map(on_sale).filter(|kind| kind.whole > 0).collect();
                (whole, if priced { 1.0 } else { 0.1 }, priced)
            }
        };
        let mut kinds: Vec<OnSale> = Vec::new();
        for kind in on_sale {
            // What is no longer and costs no less is never bought.
            let idle = |one: &OnSale, other: &OnSale| one.whole <= other.whole && one.cost >= other.cost;
            if !kinds.iter().any(|other| idle(&kind, other)) {
                kinds.retain(|other| !idle(other, &kind));
                kinds.insert(kinds.partition_point(|other| other.whole < kind.whole), kind);
            }
        }
        Self { kinds, one, priced }
    }

    /// The rest of the pieces with these rooms at hand, in the greatest unit that tells them all apart.
    fn problem(&self, spread: &Spread, rest: &[usize], takes: &[u32]) -> Problem {
        let sizes = by_size(rest, takes);
        let counts = sizes.iter().map(|size| whole(size.len() as f64)).collect();
        let sizes: Vec<u32> = sizes.iter().map(|size| takes[size[0]]).collect();
        let unit = sizes.iter().fold(0, |unit, size| common(*size, unit)).max(1);
        Problem {
            sizes: sizes.iter().map(|size| size / unit).collect(),
            counts,
            kinds: self.kinds.iter().map(|kind| Kind { length: kind.whole / unit, cost: kind.cost }).collect(),
            have: spread.rooms.iter().map(|room| room / unit).collect(),
        }
    }
}

fn common(a: u32, b: u32) -> u32 {
    if b == 0 { a } else { common(b, a % b) }
}

/// Pieces too long to buy on lengths at hand: what room that leaves, and from which each piece comes, if from any.
#[derive(Clone, Debug)]
struct Spread {
    rooms: Vec<u32>,
    of: Vec<Option<usize>>,
    out: usize,
}

impl Spread {
    /// Every way that leaves the fewest out, and whether these are all.
    fn over(have: &[f64], long: &[usize], takes: &[u32]) -> (Vec<Self>, bool) {
        let rooms = have.iter().map(|length| whole(*length)).collect();
        let mut spreads = vec![Self { rooms, of: Vec::new(), out: 0 }];
        let mut all = true;
        for piece in long {
            let mut next: Vec<Self> = Vec::new();
            for spread in spreads.iter().flat_map(|spread| spread.with(takes[*piece])) {
                next.insert(next.partition_point(|other| other.out <= spread.out), spread);
            }
            all &= next.len() <= SPREADS;
            next.truncate(SPREADS);
            spreads = next;
        }
        let fewest = spreads.first().map_or(0, |spread| spread.out);
        spreads.retain(|spread| spread.out == fewest);
        (spreads, all)
    }

    /// With one piece more: from each length that has room, and from none.
    fn with(&self, size: u32) -> Vec<Self> {
        let mut ways = Vec::new();
        for k in (0..self.rooms.len()).filter(|k| self.rooms[*k] >= size) {
            let mut way = self.clone();
            way.rooms[k] -= size;
            way.of.push(Some(k));
            ways.push(way);
        }
        let mut none = self.clone();
        none.of.push(None);
        none.out += 1;
        ways.push(none);
        ways
    }
}
