//! What to buy and what comes from which: against every way there is, a solver of another make, and known best answers.

use crate::layouts::Draw;
use job::TRIMMING;
use job::cuts::{Plan, Sold, SoldLength, plan};
use microlp::{ComparisonOp, OptimizationDirection, Problem};
use quantity::Length;

/// Lengths on sale, mm, with their prices.
type Shop = Vec<(u32, Option<u32>)>;

/// The whole part of a number.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "small, and not below nought")]
fn whole(number: f64) -> u32 {
    number as u32
}

/// Even among whole numbers, both ends included.
fn pick(draw: &mut Draw, from: u32, to: u32) -> u32 {
    whole(draw.between(f64::from(from), f64::from(to) + 1.0)).min(to)
}

/// The cut of a piece that takes so much with the allowance.
fn cuts(takes: &[u32]) -> Vec<Length> {
    takes.iter().map(|takes| Length::mm(f64::from(*takes) - TRIMMING)).collect()
}

fn lengths(mm: &[u32]) -> Vec<Length> {
    mm.iter().map(|mm| Length::mm(f64::from(*mm))).collect()
}

fn sold(shop: &Shop) -> Sold {
    let length = |(mm, price): &(u32, Option<u32>)| SoldLength { length: Length::mm(f64::from(*mm)), price: *price };
    Sold::Lengths(shop.iter().map(length).collect())
}

/// What is spent, and how many lengths are bought.
fn spent(plan: &Plan) -> (f64, usize) {
    let bought = plan.lengths.iter().filter(|cut| !cut.at_hand).count();
    (plan.price.map_or(plan.bought_mm, |price| price as f64), bought)
}

/// The definition of a cut list: each piece once, no length holds more than it has, what is left is left, and what is bought is
/// on sale.
fn sound(plan: &Plan, takes: &[u32], have: &[u32], shop: &Shop) {
    let mut seen = plan.too_long.clone();
    let mut at_hand: Vec<f64> = have.iter().map(|mm| f64::from(*mm)).collect();
    for cut in &plan.lengths {
        let used: u32 = cut.pieces.iter().map(|piece| takes[*piece]).sum();
        assert!(!cut.pieces.is_empty() && f64::from(used) <= cut.length_mm, "{cut:?} holds {used}");
        assert!((cut.length_mm - f64::from(used) - cut.left_mm).abs() < 1e-6, "{cut:?} leaves something else");
        if cut.at_hand {
            let which = at_hand.iter().position(|mm| (mm - cut.length_mm).abs() < 1e-9);
            at_hand.remove(which.expect("what is at hand is used once"));
        } else {
            assert!(shop.iter().any(|(mm, _)| (f64::from(*mm) - cut.length_mm).abs() < 1e-9), "{cut:?} is not sold");
        }
        seen.extend(&cut.pieces);
    }
    seen.sort_unstable();
    assert_eq!(seen, (0..takes.len()).collect::<Vec<_>>(), "each piece once: {plan:?}");
    let bought: f64 = plan.lengths.iter().filter(|cut| !cut.at_hand).map(|cut| cut.length_mm).sum();
    assert!((bought - plan.bought_mm).abs() < 1e-6, "{plan:?}");
}

fn cost((mm, price): (u32, Option<u32>), priced: bool) -> u32 {
    if priced { price.expect("priced") } else { mm }
}

/// The least that can be spent, and the fewest lengths for it: every way to part the pieces, by the sets of them. No bound, no
/// order, no dominance; `None` if they cannot all be had.
fn every_way(takes: &[u32], have: &[u32], shop: &Shop) -> Option<(u32, u32)> {
    let priced = shop.iter().all(|(_, price)| price.is_some());
    let all = (1_usize << takes.len()) - 1;
    let total = |set: usize| -> u32 { (0..takes.len()).filter(|i| set >> i & 1 == 1).map(|i| takes[i]).sum() };
    let cheapest = |set: usize| shop.iter().filter(|one| one.0 >= total(set)).map(|one| cost(*one, priced)).min();
    let mut best: Vec<Option<(u32, u32)>> = vec![Some((0, 0))];
    for set in 1..=all {
        let mut least: Option<(u32, u32)> = None;
        let mut part = set;
        while part > 0 {
            if let (Some(one), Some(rest)) = (cheapest(part), best[set ^ part]) {
                let with = (rest.0 + one, rest.1 + 1);
                least = Some(least.map_or(with, |other| other.min(with)));
            }
            part = (part - 1) & set;
        }
        best.push(least);
    }
    // What is at hand takes any set that it holds.
    for length in have {
        let before = best.clone();
        for set in 0..=all {
            let mut part = set;
            while part > 0 {
                if let Some(rest) = before[set ^ part].filter(|_| total(part) <= *length) {
                    best[set] = Some(best[set].map_or(rest, |other| other.min(rest)));
                }
                part = (part - 1) & set;
            }
        }
    }
    best[all]
}

#[test]
fn five_hundred_small_lists_are_the_best_of_every_way() {
    let mut draw = Draw(41);
    let (mut priced, mut at_hand, mut more_than_one) = (0, 0, 0);
    for case in 0..500 {
        let prices = case % 3 == 1;
        let shop: Shop = (0..pick(&mut draw, 1, 3))
            .map(|_| (pick(&mut draw, 8, 30) * 100, prices.then(|| pick(&mut draw, 3, 20) * 50)))
            .collect();
        let longest = shop.iter().map(|(mm, _)| *mm).max().expect("one at least");
        let have: Vec<u32> = (0..[0, 0, 1, 2][case % 4]).map(|_| pick(&mut draw, 200, 2500)).collect();
        let takes: Vec<u32> = (0..pick(&mut draw, 1, 8)).map(|_| pick(&mut draw, 100, longest)).collect();
        let plan = plan(&cuts(&takes), &lengths(&have), &sold(&shop));
        sound(&plan, &takes, &have, &shop);
        let (least, fewest) = every_way(&takes, &have, &shop).expect("none is too long");
        let (got, bought) = spent(&plan);
        let told = format!("case {case}: {takes:?} from {have:?} and {shop:?}: {least}, {fewest}; {plan:?}");
        assert!((got - f64::from(least)).abs() < 1e-6 && bought == fewest as usize, "{told}");
        assert!(plan.proven && (plan.at_least - f64::from(least)).abs() < 1e-6, "{told}");
        priced += u32::from(prices);
        at_hand += u32::from(plan.lengths.iter().any(|cut| cut.at_hand));
        more_than_one += u32::from(bought > 1);
    }
    assert!(priced > 100 && at_hand > 100 && more_than_one > 200, "{priced} {at_hand} {more_than_one}");
}

#[test]
fn small_lists_off_a_roll_are_the_best_of_every_way() {
    let mut draw = Draw(42);
    for case in 0..200 {
        let (step, steps) = (pick(&mut draw, 1, 5) * 100, pick(&mut draw, 3, 12));
        // A roll is a shop with every multiple of the step.
        let shop: Shop = (1..=steps).map(|k| (k * step, None)).collect();
        let have: Vec<u32> = (0..case % 3).map(|_| pick(&mut draw, 200, 1500)).collect();
        let takes: Vec<u32> =
            (0..pick(&mut draw, 1, 7)).map(|_| pick(&mut draw, 60, (step * steps).min(900))).collect();
        let by_step = Sold::ByStep { step: Length::mm(f64::from(step)), longest: Length::mm(f64::from(steps * step)) };
        let plan = plan(&cuts(&takes), &lengths(&have), &by_step);
        sound(&plan, &takes, &have, &shop);
        let (least, fewest) = every_way(&takes, &have, &shop).expect("none is too long");
        let (got, bought) = spent(&plan);
        assert!(
            (got - f64::from(least)).abs() < 1e-6 && bought == fewest as usize && plan.proven,
            "case {case}: {takes:?} from {have:?} by {step} to {steps}: {least}, {fewest}; {plan:?}"
        );
    }
}

/// All ways to fill a length that no further piece goes into: pieces of each size, sizes largest first.
fn fillings(sizes: &[u32], counts: &[u32], room: u32) -> Vec<Vec<u32>> {
    let Some((size, others)) = sizes.split_first() else { return vec![Vec::new()] };
    let mut all = Vec::new();
    for count in 0..=counts[0].min(room / size) {
        for mut rest in fillings(others, &counts[1..], room - count * size) {
            rest.insert(0, count);
            all.push(rest);
        }
    }
    all
}

fn by_size(takes: &[u32]) -> (Vec<u32>, Vec<u32>) {
    let mut sizes = takes.to_vec();
    sizes.sort_unstable_by(|a, b| b.cmp(a));
    sizes.dedup();
    let counts = sizes.iter().map(|size| takes.iter().filter(|one| *one == size).count());
    let counts = counts.map(|count| u32::try_from(count).expect("few")).collect();
    (sizes, counts)
}

/// The least sum and then the fewest lengths by microlp: how often each filling is used, every piece covered.
fn by_microlp(takes: &[u32], shop: &Shop) -> (u32, u32) {
    let priced = shop.iter().all(|(_, price)| price.is_some());
    let more = u32::try_from(takes.len()).expect("few") + 1;
    let (sizes, counts) = by_size(takes);
    let mut programme = Problem::new(OptimizationDirection::Minimize);
    let mut covers = vec![Vec::new(); sizes.len()];
    for one in shop {
        for filling in fillings(&sizes, &counts, one.0) {
            let used: u32 = filling.iter().zip(&sizes).map(|(count, size)| count * size).sum();
            let full = (0..sizes.len()).all(|k| filling[k] == counts[k] || used + sizes[k] > one.0);
            if used == 0 || !full {
                continue;
            }
            let each = f64::from(cost(*one, priced) * more + 1);
            let most = i32::try_from(takes.len()).expect("few");
            let times = programme.add_integer_var(each, (0, most));
            for (cover, count) in covers.iter_mut().zip(&filling).filter(|(_, count)| **count > 0) {
                cover.push((times, f64::from(*count)));
            }
        }
    }
    for (cover, count) in covers.iter().zip(&counts) {
        programme.add_constraint(cover.as_slice(), ComparisonOp::Ge, f64::from(*count));
    }
    let solved = programme.solve().expect("every piece fits").into_solution().expect("no limit was set");
    let sum = whole(solved.objective().round());
    (sum / more, sum % more)
}

/// Compares with microlp, where both are sure; how many were.
fn agree_with_microlp(name: &str, lists: &[(Vec<u32>, Shop)]) {
    let mut proven = 0;
    for (takes, shop) in lists {
        let plan = plan(&cuts(takes), &[], &sold(shop));
        sound(&plan, takes, &[], shop);
        let (least, fewest) = by_microlp(takes, shop);
        let (got, bought) = spent(&plan);
        let told = format!("{name}: {takes:?} from {shop:?}: {least}, {fewest}; {plan:?}");
        assert!(plan.at_least <= f64::from(least) + 1e-6 && got > f64::from(least) - 1e-6, "{told}");
        if plan.proven {
            assert!((got - f64::from(least)).abs() < 1e-6 && bought == fewest as usize, "{told}");
            proven += 1;
        }
    }
    println!("{name}: {proven} of {} proven", lists.len());
    assert!(proven * 20 >= lists.len() * 19, "{name}: only {proven} of {} proven", lists.len());
}

/// E. Falkenauer, A hybrid grouping genetic algorithm for bin packing, Journal of Heuristics 2, 1996, uniform class: sizes even
/// in 20..=100, capacity 150 (class as told with the OR-Library's files; paper from memory). In centimetres here; fewer pieces.
#[test]
fn lists_of_a_published_uniform_class_agree_with_microlp() {
    let mut draw = Draw(43);
    let mut list = |n: u32| ((0..n).map(|_| pick(&mut draw, 20, 100) * 10).collect(), vec![(1500, None)]);
    let lists: Vec<_> = (0..40).map(|k| list(15 + k % 16)).collect();
    agree_with_microlp("uniform", &lists);
}

/// M. Monaci, Algorithms for packing and scheduling problems, thesis, Bologna 2002 (from memory): bins of 100, 120 and 150 that
/// cost what they hold, sizes even in 20..=100. In centimetres here; and with prices of our own, dearer by the metre when short.
#[test]
fn lists_with_several_lengths_agree_with_microlp() {
    let mut draw = Draw(44);
    let mut list = |k: u32| {
        let price = |price| (k % 2 == 1).then_some(price);
        let takes = (0..12 + k % 9).map(|_| pick(&mut draw, 20, 100) * 10).collect();
        (takes, vec![(1000, price(1090)), (1200, price(1250)), (1500, price(1490))])
    };
    let lists: Vec<_> = (0..40).map(&mut list).collect();
    agree_with_microlp("several lengths", &lists);
}

/// Falkenauer's triplet class (as above): each length of 1000 holds one piece of 380 to 490 and two others of 250 or more, to
/// the last millimetre. So the best is known by the making: a third as many lengths as pieces.
#[test]
fn triplets_are_found_again() {
    let mut draw = Draw(45);
    for triplets in 4..=8 {
        for _ in 0..4 {
            let mut takes = Vec::new();
            for _ in 0..triplets {
                let large = pick(&mut draw, 380, 490);
                let middle = pick(&mut draw, 250, (1000 - large) / 2);
                takes.extend([large, middle, 1000 - large - middle]);
            }
            let plan = plan(&cuts(&takes), &[], &sold(&vec![(1000, None)]));
            assert!((plan.bought_mm - 1000.0 * f64::from(triplets)).abs() < 1e-6 && plan.proven, "{takes:?}: {plan:?}");
        }
    }
}

/// S. Martello and P. Toth, Knapsack Problems, 1990, section 8.3 (from memory): the bound L2 on the number of lengths of one kind.
/// For every limit k: pieces over the length less k stand alone; those over half of it cannot share; the rest fills up.
fn l2(takes: &[u32], length: u32) -> u32 {
    let half = length / 2;
    let bound = |k: u32| {
        let of = |within: &dyn Fn(u32) -> bool| -> Vec<u32> { takes.iter().copied().filter(|w| within(*w)).collect() };
        let alone = of(&|w| w > length - k);
        let apart = of(&|w| w <= length - k && w > half);
        let small = of(&|w| w <= half && w >= k);
        let few = |set: &[u32]| u32::try_from(set.len()).expect("few");
        let room = few(&apart) * length - apart.iter().sum::<u32>();
        few(&alone) + few(&apart) + small.iter().sum::<u32>().saturating_sub(room).div_ceil(length)
    };
    (0..=half).map(bound).max().unwrap_or(0)
}

/// First fit decreasing, from its definition: the largest piece first, into the first length that has room.
fn first_fit(takes: &[u32], length: u32) -> u32 {
    let mut order = takes.to_vec();
    order.sort_unstable_by(|a, b| b.cmp(a));
    let mut rooms: Vec<u32> = Vec::new();
    for size in order {
        match rooms.iter_mut().find(|room| **room >= size) {
            Some(room) => *room -= size,
            None => rooms.push(length - size),
        }
    }
    u32::try_from(rooms.len()).expect("few")
}

#[test]
fn sixty_pieces_lie_between_a_published_bound_and_first_fit() {
    let (mut draw, mut better, mut higher, mut proven) = (Draw(46), 0, 0, 0);
    for _ in 0..30 {
        let takes: Vec<u32> = (0..60).map(|_| pick(&mut draw, 20, 100) * 10).collect();
        let shop = vec![(1500, None)];
        let plan = plan(&cuts(&takes), &[], &sold(&shop));
        sound(&plan, &takes, &[], &shop);
        let (bound, fit) = (f64::from(l2(&takes, 1500)) * 1500.0, f64::from(first_fit(&takes, 1500)) * 1500.0);
        assert!(plan.at_least >= bound && plan.bought_mm <= fit, "{bound} to {fit}: {plan:?}");
        assert!(plan.at_least <= plan.bought_mm && (!plan.proven || plan.at_least >= plan.bought_mm), "{plan:?}");
        better += u32::from(plan.bought_mm < fit);
        higher += u32::from(plan.at_least > bound);
        proven += u32::from(plan.proven);
    }
    println!("better than first fit {better}, above the bound {higher}, proven {proven} of 30");
    assert!(proven >= 24, "only {proven} of 30 proven");
}

#[test]
fn the_order_of_the_pieces_does_not_matter() {
    let mut draw = Draw(47);
    for _ in 0..60 {
        let takes: Vec<u32> = (0..pick(&mut draw, 5, 25)).map(|_| pick(&mut draw, 100, 1000)).collect();
        let have = [pick(&mut draw, 300, 1500)];
        let mut turned = takes.clone();
        for k in (1..turned.len()).rev() {
            turned.swap(k, pick(&mut draw, 0, u32::try_from(k).expect("few")) as usize);
        }
        let shop = vec![(1000, None), (1700, None)];
        let told = |takes: &[u32]| {
            let plan = plan(&cuts(takes), &lengths(&have), &sold(&shop));
            let of = |cut: &job::cuts::CutLength| -> (u64, Vec<u32>) {
                (cut.length_mm.to_bits(), cut.pieces.iter().map(|piece| takes[*piece]).collect())
            };
            (plan.lengths.iter().map(of).collect::<Vec<_>>(), plan.at_least.to_bits(), plan.proven)
        };
        assert_eq!(told(&takes), told(&turned), "{takes:?} and {turned:?}");
    }
}

#[test]
fn more_to_choose_from_never_costs_more() {
    let mut draw = Draw(48);
    let mut dearer = Vec::new();
    for case in 0..150 {
        let takes: Vec<u32> = (0..pick(&mut draw, 4, 16)).map(|_| pick(&mut draw, 100, 900)).collect();
        let few = vec![(pick(&mut draw, 900, 2000), None)];
        let mut many = few.clone();
        many.push((pick(&mut draw, 500, 2500), None));
        let have = [pick(&mut draw, 200, 2000)];
        let spent_on = |have: &[u32], shop: &Shop| {
            let plan = plan(&cuts(&takes), &lengths(have), &sold(shop));
            assert!(plan.proven, "case {case}: {plan:?}");
            plan.bought_mm
        };
        let plain = spent_on(&[], &few);
        for other in [spent_on(&[], &many), spent_on(&have, &few)] {
            if other > plain {
                dearer.push(format!("{takes:?}: {plain} became {other}"));
            }
        }
        // A piece more never costs less.
        let fewer = plan(&cuts(&takes[1..]), &[], &sold(&few));
        assert!(fewer.bought_mm <= plain, "{takes:?}");
    }
    assert!(dearer.is_empty(), "{dearer:?}");
}

#[test]
fn a_roll_that_is_long_enough_is_one_length() {
    // By hand: 485 + 20, 310 + 20 and 760 + 20 are 1615, so 1700 by the 100 mm, 2 m by the metre, 6 feet of 304.8 (1828.8).
    let pieces = [485.0, 310.0, 760.0].map(Length::mm);
    for (step, want) in [(100.0, 1700.0), (1000.0, 2000.0), (304.8, 1828.8)] {
        let plan = plan(&pieces, &[], &Sold::ByStep { step: Length::mm(step), longest: Length::mm(10_000.0) });
        let [only] = plan.lengths.as_slice() else { panic!("{plan:?}") };
        assert!((only.length_mm - want).abs() < 1e-9 && (only.left_mm - (want - 1615.0)).abs() < 1e-9, "{plan:?}");
        assert_eq!((only.pieces.as_slice(), plan.proven), (&[2, 0, 1][..], true));
    }
}

#[test]
fn what_is_at_hand_is_used_where_it_saves_most() {
    // By hand: 905 at hand. With 600 from it 500 + 400 are bought (900, so 1 m); with 500 + 400 from it only 600.
    let takes = [600, 500, 400];
    let by = |step: f64| Sold::ByStep { step: Length::mm(step), longest: Length::mm(10_000.0) };
    let plan = plan(&cuts(&takes), &lengths(&[905]), &by(100.0));
    assert_eq!(plan.lengths[0].pieces, [1, 2], "{plan:?}");
    assert!((plan.bought_mm - 600.0).abs() < 1e-9 && plan.lengths[0].at_hand && plan.proven, "{plan:?}");
}

#[test]
fn a_piece_that_is_too_long_is_told() {
    // 1200 is longer than all that is sold and than what is at hand; 1100 comes from what is at hand and from nothing else.
    let takes = [300, 1200, 1100, 300];
    let plan = plan(&cuts(&takes), &lengths(&[1150]), &sold(&vec![(500, None), (1000, None)]));
    assert_eq!(plan.too_long, [1], "{plan:?}");
    sound(&plan, &takes, &[1150], &vec![(500, None), (1000, None)]);
    assert_eq!((plan.lengths[0].at_hand, plan.lengths[0].pieces.as_slice()), (true, &[2][..]), "{plan:?}");
    // 300 + 300 as one of 1000 and as two of 500 are both 1000 mm: one length is fewer.
    assert_eq!(spent(&plan).1, 1, "{plan:?}");
    let none = job::cuts::plan(&cuts(&[300]), &[], &Sold::Lengths(Vec::new()));
    assert_eq!((none.too_long.as_slice(), none.lengths.len()), (&[0][..], 0), "nothing is sold");
}

/// A list of `reference/cut_lists.csv` and the answer of `HiGHS`.
#[derive(Debug, serde::Deserialize)]
struct Reference {
    class: String,
    sold_mm: String,
    takes_mm: String,
    least_mm: u32,
    /// Known where `HiGHS` was sure.
    fewest_lengths: Option<usize>,
    at_least_mm: u32,
}

#[test]
fn sixty_pieces_against_highs() {
    let numbers = |text: &str| -> Vec<u32> { text.split(' ').map(|n| n.parse().expect("a number")).collect() };
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("reference/cut_lists.csv");
    let mut lists = 0;
    // By class: of how many, as many are proven, and as many are the best that there is.
    let mut classes: Vec<(String, [u32; 3])> = Vec::new();
    for row in csv::Reader::from_path(path).expect("the table").deserialize() {
        let row: Reference = row.expect("a row");
        let (takes, shop) = (numbers(&row.takes_mm), numbers(&row.sold_mm).into_iter().map(|mm| (mm, None)).collect());
        let plan = plan(&cuts(&takes), &[], &sold(&shop));
        sound(&plan, &takes, &[], &shop);
        let (got, bought) = spent(&plan);
        let told = format!("{row:?}: {plan:?}");
        // No bound of ours is above what HiGHS has found, and nothing of ours is below its bound.
        assert!(plan.at_least <= f64::from(row.least_mm) + 1e-6 && got >= f64::from(row.at_least_mm) - 1e-6, "{told}");
        let best = got <= f64::from(row.least_mm) + 1e-6;
        if let Some(fewest) = row.fewest_lengths {
            assert!(got >= f64::from(row.least_mm) - 1e-6 && (!best || bought >= fewest), "{told}");
            assert!(!plan.proven || (best && bought == fewest), "{told}");
        }
        // What is not proven is off by no more than the longest that is sold.
        let longest = shop.iter().map(|(mm, _)| *mm).max().expect("sold");
        assert!(got <= f64::from(row.at_least_mm + longest) + 1e-6, "{told}");
        if classes.last().is_none_or(|(class, _)| *class != row.class) {
            classes.push((row.class.clone(), [0; 3]));
        }
        let counts = &mut classes.last_mut().expect("just pushed").1;
        counts.iter_mut().zip([true, plan.proven, best]).for_each(|(count, one)| *count += u32::from(one));
        lists += 1;
    }
    println!("{classes:?}");
    let best: u32 = classes.iter().map(|(_, [_, _, best])| best).sum();
    assert!(lists >= 32 && best >= 22, "the best of {best} of {lists}");
}
