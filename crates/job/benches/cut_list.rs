//! How long the cut list of sixty pieces takes: the median and the worst of a hundred lists of each of several classes, and how
//! many are proven. For each class the pieces are drawn even, the same ones every time.

use job::TRIMMING;
use job::cuts::{Sold, SoldLength, plan};
use quantity::Length;
use std::hint::black_box;
use std::time::{Duration, Instant};

/// As many lists of each class.
const LISTS: u64 = 100;

/// Even draws: D. E. Knuth's linear congruence MMIX, its upper bits (from memory).
struct Draw(u64);

impl Draw {
    fn pick(&mut self, from: u32, to: u32) -> u32 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        from + u32::try_from((self.0 >> 33) % u64::from(to - from + 1)).unwrap_or(0)
    }
}

/// Falkenauer's uniform class in centimetres; also Monaci's with several lengths.
fn uniform(draw: &mut Draw) -> Vec<u32> {
    (0..60).map(|_| draw.pick(20, 100) * 10).collect()
}

/// The same to the millimetre, as pieces are measured.
fn fine(draw: &mut Draw) -> Vec<u32> {
    (0..60).map(|_| draw.pick(200, 1000)).collect()
}

/// Falkenauer's triplets: three fill 1000.
fn triplets(draw: &mut Draw) -> Vec<u32> {
    let mut takes = Vec::new();
    for _ in 0..20 {
        let large = draw.pick(380, 490);
        let middle = draw.pick(250, (1000 - large) / 2);
        takes.extend([large, middle, 1000 - large - middle]);
    }
    takes
}

/// As hoses of a car are.
fn car(draw: &mut Draw) -> Vec<u32> {
    (0..60).map(|_| draw.pick(120, 1400)).collect()
}

fn lengths(of: &[(f64, Option<u32>)]) -> Sold {
    Sold::Lengths(of.iter().map(|(mm, price)| SoldLength { length: Length::mm(*mm), price: *price }).collect())
}

fn roll(step: f64, longest: f64) -> Sold {
    Sold::ByStep { step: Length::mm(step), longest: Length::mm(longest) }
}

type Class = (&'static str, fn(&mut Draw) -> Vec<u32>, Sold, Vec<f64>);

#[expect(clippy::print_stdout, reason = "the table is what a bench is for")]
fn main() {
    let priced = [(1000.0, Some(1099)), (2000.0, Some(1999)), (5000.0, Some(4599))];
    let monaci = [(1000.0, None), (1200.0, None), (1500.0, None)];
    let dearer = [(1000.0, Some(1090)), (1200.0, Some(1250)), (1500.0, Some(1490))];
    let classes: [Class; 14] = [
        ("uniform, one length of 1500", uniform, lengths(&[(1500.0, None)]), vec![]),
        ("to the millimetre, one length of 1500", fine, lengths(&[(1500.0, None)]), vec![]),
        ("triplets, one length of 1000", triplets, lengths(&[(1000.0, None)]), vec![]),
        ("1000, 1200 and 1500", uniform, lengths(&monaci), vec![]),
        ("1000, 1200 and 1500 with prices", uniform, lengths(&dearer), vec![]),
        ("1, 2 and 5 m with prices", car, lengths(&priced), vec![]),
        ("by the 100 mm, with 1700 at hand", fine, roll(100.0, 10_000.0), vec![1700.0]),
        ("by the metre to 10 m", car, roll(1000.0, 10_000.0), vec![]),
        ("by the metre to 2 m", car, roll(1000.0, 2000.0), vec![]),
        ("by the foot to 10 m, four at hand", car, roll(304.8, 10_000.0), vec![900.0, 1250.0, 610.0, 2300.0]),
        ("by the 10 mm to 3 m", car, roll(10.0, 3000.0), vec![]),
        ("by the millimetre to 100 m, 2000 at hand", car, roll(1.0, 100_000.0), vec![2000.0]),
        ("by the millimetre to 5 m", car, roll(1.0, 5000.0), vec![]),
        ("five too long to buy", car, roll(100.0, 1200.0), vec![2000.0, 2100.0, 3000.0, 1500.0, 1600.0]),
    ];
    println!("{:40} {:>9} {:>9} proven of {LISTS}", "class", "median", "worst");
    for (what, pieces, sold, at_hand) in &classes {
        let at_hand: Vec<Length> = at_hand.iter().map(|mm| Length::mm(*mm)).collect();
        let (mut times, mut proven) = (Vec::new(), 0);
        for seed in 1..=LISTS {
            let takes = pieces(&mut Draw(seed));
            let cuts: Vec<Length> = takes.iter().map(|takes| Length::mm(f64::from(*takes) - TRIMMING)).collect();
            let begun = Instant::now();
            let plan = plan(black_box(&cuts), &at_hand, sold);
            times.push(begun.elapsed());
            proven += u32::from(plan.proven);
        }
        times.sort();
        let ms = |time: Duration| format!("{:.2} ms", time.as_secs_f64() * 1e3);
        println!("{what:40} {:>9} {:>9} {proven}", ms(times[times.len() / 2]), ms(times[times.len() - 1]));
    }
}
