//! The cut list as it is told: the best hoses that work, each with its pieces, what to buy, and what comes from which.

use super::{Sold, SoldLength, plan};
use crate::car::{Car, Decision, InStock};
use crate::report::HoseReport;
use crate::size::Candidate;
use crate::solve::SolvedRun;
use crate::tell::{tell_hose, tenth};
use crate::{Job, TRIMMING};
use checks::Verdict;
use quantity::{Basis, Length};
use serde::{Deserialize, Serialize};
use stock::Hose;

/// A longer length off a roll is not counted on. Our choice.
const LONGEST: Length = Length::mm(10_000.0);
/// How a hose is taken to be sold if that is not known. Our choice.
const STEP: Length = Length::mm(100.0);
/// Bores that differ by less are one bore: 5/8 in is asked for as 16 mm, 22 and 22.2 are two. Our choice.
const SAME_BORE: Length = Length::mm(0.15);
/// Walls that differ by less are one wall: they are half a millimetre apart. Our choice.
const SAME_WALL: Length = Length::mm(0.3);

/// The cut list of all runs.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct CutsReport {
    /// What each piece takes beyond its cut: the knife, and trimming square.
    pub allowance_mm: f64,
    /// On whose word.
    pub source: String,
    /// What that is worth.
    pub basis: String,
    /// One hose each, in the order of the runs.
    pub groups: Vec<CutGroupReport>,
    /// Names of the runs that are not in it, since no hose works there at the cut that is told.
    pub left_out: Vec<String>,
    /// Names of the runs that are not in it, since their lines are kept, left out, or get a moulded hose.
    pub not_wanted: Vec<String>,
}

/// All pieces of one hose.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct CutGroupReport {
    /// The hose.
    pub hose: HoseReport,
    /// What is wanted of it, in the order of the runs.
    pub pieces: Vec<CutPieceReport>,
    /// What is cut: first what is at hand, then what is to be bought, longest first.
    pub lengths: Vec<CutLengthReport>,
    /// Pieces, by their place, that are longer than any length there is.
    pub too_long: Vec<usize>,
    /// It is sold in whole steps of this; null if it is sold in certain lengths.
    pub sold_by_mm: Option<f64>,
    /// In one length it is sold up to this; null if it is sold in certain lengths.
    pub longest_mm: Option<f64>,
    /// The lengths it is sold in, if it is.
    pub sold_lengths_mm: Vec<f64>,
    /// How much is to be bought.
    pub bought_mm: f64,
    /// With less it cannot be done; null where the price decides.
    pub at_least_mm: Option<f64>,
    /// What it costs, in the money that was typed, if every price is known.
    pub price: Option<f64>,
    /// For less it cannot be had; null unless the price decides.
    pub at_least_price: Option<f64>,
    /// Whether it is known that nothing less, and no fewer lengths of as much, would do.
    pub proven: bool,
    /// What was taken for granted because it was not said.
    pub assumed: Vec<String>,
}

/// A piece that is wanted.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct CutPieceReport {
    /// The place of its run among the runs as they were typed, from 0.
    pub run: usize,
    /// What the run is called.
    pub name: String,
    /// Its cut.
    pub cut_mm: f64,
}

/// A length from which pieces are cut.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct CutLengthReport {
    /// How long it is.
    pub length_mm: f64,
    /// Whether it is at hand; else it is to be bought.
    pub at_hand: bool,
    /// The pieces from it by their place, longest first.
    pub pieces: Vec<usize>,
    /// What is left of it.
    pub left_mm: f64,
}

/// Whether a run's hose is cut.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Wanted<'a> {
    /// This one, at its cut.
    Cut(&'a Candidate),
    /// None works.
    NoHose,
    /// Something else is done with its line.
    Not,
}

/// Whether the hose of this run is cut.
pub(crate) fn wanted<'a>(solved: &'a SolvedRun, car: &Car) -> Wanted<'a> {
    let mut lines = car.lines.iter().filter(|line| line.run == Some(solved.run.index)).peekable();
    let other = [Some(Decision::Keep), Some(Decision::Moulded), Some(Decision::LeaveOut)];
    if lines.peek().is_some() && lines.all(|line| other.contains(&line.decision) || !car.stays(line)) {
        return Wanted::Not;
    }
    let works = |best: &&Candidate| !best.nearest && best.verdict() != Verdict::Fail;
    solved.candidates.first().filter(works).map_or(Wanted::NoHose, Wanted::Cut)
}

/// A piece of the hose at hand, by its place in the list of it.
#[derive(Debug)]
struct Piece {
    of: usize,
    length: Length,
    used: bool,
}

/// The pieces of one hose, and the lengths of it that the runs name.
struct Group<'a> {
    hose: &'a Hose,
    pieces: Vec<(&'a SolvedRun, Length)>,
    at_hand: Vec<Length>,
    assumed: Vec<String>,
}

/// Told of several runs, and of a car.
pub(crate) fn tell_cuts(solved: &[SolvedRun], job: &Job) -> Option<CutsReport> {
    let car = &job.car;
    if solved.len() < 2 && car.is_empty() {
        return None;
    }
    let mut groups: Vec<Group<'_>> = Vec::new();
    let (mut left_out, mut not_wanted) = (Vec::new(), Vec::new());
    for run in solved {
        let best = match wanted(run, car) {
            Wanted::Cut(best) => best,
            Wanted::NoHose => {
                left_out.push(run.run.name.clone());
                continue;
            }
            Wanted::Not => {
                not_wanted.push(run.run.name.clone());
                continue;
            }
        };
        let known = groups.iter().position(|group| *group.hose == best.hose).unwrap_or_else(|| {
            groups.push(Group { hose: &best.hose, pieces: Vec::new(), at_hand: Vec::new(), assumed: Vec::new() });
            groups.len() - 1
        });
        groups[known].add(run, best.cut);
    }
    let of = |(of, stock): (usize, &InStock)| {
        let piece = move |length: &Length| Piece { of, length: *length, used: false };
        stock.pieces.iter().map(piece).collect::<Vec<_>>()
    };
    let mut pool: Vec<Piece> = car.stock.iter().enumerate().flat_map(of).collect();
    Some(CutsReport {
        allowance_mm: TRIMMING,
        source: "for each piece: both ends trimmed square before it is measured, and the knife".to_owned(),
        basis: Basis::OurChoice.as_str().to_owned(),
        groups: groups.into_iter().map(|group| group.told(&car.stock, &mut pool)).collect(),
        left_out,
        not_wanted,
    })
}

/// How a hose is sold, and what a metre off the roll costs.
struct Sale {
    sold: Sold,
    per_metre: Option<f64>,
}

impl Sale {
    fn of(hose: &Hose, stock: &[&InStock], assumed: &mut Vec<String>) -> Self {
        let per_metre = stock.iter().find_map(|stock| stock.price_per_m);
        let mut lengths = Vec::new();
        for stock in stock {
            for (length, price) in &stock.lengths {
                let price = price.or(stock.price_per_m.map(|price| price * length.as_mm() / 1e3));
                lengths.push(SoldLength { length: *length, price: price.map(coins) });
            }
        }
        if !lengths.is_empty() {
            let known = lengths.iter().filter(|length| length.price.is_some()).count();
            if 0 < known && known < lengths.len() {
                assumed.push("not every length has a price: the least hose is sought, not the least money".to_owned());
            }
            return Self { sold: Sold::Lengths(lengths), per_metre: None };
        }
        let longest = stock.iter().find_map(|stock| stock.longest).unwrap_or(LONGEST);
        let step = stock.iter().find_map(|stock| stock.sold_by).unwrap_or_else(|| {
            let (step, taken) = match hose.sold_by {
                // What the table of hoses has.
                Some(step) if step >= Length::mm(1000.0) => {
                    (step, "how your shop sells it was not said: by the whole metre")
                }
                Some(step) => (step, "how your shop sells it was not said: by the whole foot"),
                None => (STEP, "how this hose is sold is not known: by the 100 mm"),
            };
            assumed.push(taken.to_owned());
            step
        });
        Self { sold: Sold::ByStep { step: step.min(longest), longest }, per_metre }
    }
}

/// Money in hundredths, one at the least.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a price is held to what was accepted")]
fn coins(price: f64) -> u32 {
    (price * 100.0).round().clamp(1.0, 4e9) as u32
}

fn hundredth(price: f64) -> f64 {
    (price * 100.0).round() / 100.0
}

/// Whether what is in stock is this hose, as far as was said.
fn is_of(stock: &InStock, hose: &Hose) -> bool {
    let near = |a: Length, b: Length, hair: Length| (a - b).abs() <= hair;
    near(stock.bore, hose.bore, SAME_BORE) && stock.wall.is_none_or(|wall| near(wall, hose.wall(), SAME_WALL))
}

impl<'a> Group<'a> {
    fn add(&mut self, run: &'a SolvedRun, cut: Length) {
        self.pieces.push((run, cut));
        let Some(piece) = run.run.piece else { return };
        if self.at_hand.contains(&piece) {
            self.assume("runs that name the same hose and the same longest piece of it are taken to mean one piece");
        } else {
            self.at_hand.push(piece);
        }
    }

    fn assume(&mut self, what: &str) {
        if !self.assumed.iter().any(|other| other == what) {
            self.assumed.push(what.to_owned());
        }
    }

    /// With the pieces at hand that no group before it has used.
    fn told(mut self, stock: &[InStock], pool: &mut [Piece]) -> CutGroupReport {
        let here: Vec<&InStock> = stock.iter().filter(|stock| is_of(stock, self.hose)).collect();
        let free = |piece: &Piece| !piece.used && is_of(&stock[piece.of], self.hose);
        let pooled: Vec<Length> = pool.iter().filter(|piece| free(piece)).map(|piece| piece.length).collect();
        let named = self.at_hand.len();
        // One that another group has used, too.
        let listed = |named: &Length| here.iter().any(|stock| stock.pieces.contains(named));
        self.at_hand.retain(|named| !listed(named));
        if self.at_hand.len() < named {
            self.assume(
                "a piece that a run names and that is in the list of hose at hand, too, is taken to be one piece",
            );
        }
        let at_hand: Vec<Length> = self.at_hand.iter().chain(&pooled).copied().collect();
        let sale = Sale::of(self.hose, &here, &mut self.assumed);
        if self.hose.own && at_hand.is_empty() {
            self.assume("how long your piece is was not said: all of it is bought");
        }
        let cuts: Vec<Length> = self.pieces.iter().map(|(_, cut)| *cut).collect();
        let plan = plan(&cuts, &at_hand, &sale.sold);
        let mut taken = false;
        for cut in plan.lengths.iter().filter(|cut| cut.at_hand) {
            let same = |piece: &&mut Piece| {
                let here = !piece.used && is_of(&stock[piece.of], self.hose);
                here && (piece.length.as_mm() - cut.length_mm).abs() < 1e-6
            };
            if let Some(piece) = pool.iter_mut().find(same) {
                (piece.used, taken) = (true, true);
            }
        }
        if taken && !self.hose.own {
            self.assume("hose at hand of this size is taken to be of this kind, and sound");
        }
        let (sold_by, longest, lengths) = match &sale.sold {
            Sold::ByStep { step, longest } => (Some(tenth(step.as_mm())), Some(tenth(longest.as_mm())), Vec::new()),
            Sold::Lengths(lengths) => (None, None, lengths.iter().map(|length| tenth(length.length.as_mm())).collect()),
        };
        let priced = plan.price.map(|price| price as f64 / 100.0);
        let off_roll = sale.per_metre.map(|price| hundredth(price * plan.bought_mm / 1e3));
        let piece = |(solved, cut): (&SolvedRun, Length)| CutPieceReport {
            run: solved.run.index,
            name: solved.run.name.clone(),
            cut_mm: tenth(cut.as_mm()),
        };
        let length = |cut: super::CutLength| CutLengthReport {
            length_mm: tenth(cut.length_mm),
            at_hand: cut.at_hand,
            pieces: cut.pieces,
            left_mm: tenth(cut.left_mm),
        };
        CutGroupReport {
            hose: tell_hose(self.hose),
            pieces: self.pieces.into_iter().map(piece).collect(),
            lengths: plan.lengths.into_iter().map(length).collect(),
            too_long: plan.too_long,
            sold_by_mm: sold_by,
            longest_mm: longest,
            sold_lengths_mm: lengths,
            bought_mm: tenth(plan.bought_mm),
            at_least_mm: priced.is_none().then(|| tenth(plan.at_least)),
            price: priced.or(off_roll),
            at_least_price: priced.map(|_| plan.at_least / 100.0),
            proven: plan.proven,
            assumed: self.assumed,
        }
    }
}
