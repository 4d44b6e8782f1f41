//! The order of work against every order there is: what comes off is the least, nothing fitted comes off again, and a knot is named.

use crate::layouts::Draw;
use crate::typed_car::{bare, comes_off_with, hose, in_the_way, job, part};
use job::input::{DecisionInput as Decision, Input, PartKindInput, RelationInput, RelationKindInput, StateInput};
use job::{OrderReport, OrderStepReport, order};

/// Things by their places, and pairs of them: what the report is held against knows no more.
#[derive(Debug, Default)]
struct Small {
    names: Vec<String>,
    /// The one is in the way of the other.
    blocks: Vec<(usize, usize)>,
    /// They come off together.
    with: Vec<(usize, usize)>,
    work: usize,
    gone: usize,
    hoses: usize,
}

fn has(set: usize, thing: usize) -> bool {
    set >> thing & 1 == 1
}

impl Small {
    /// Whether `set` can be taken off in one go when `off` is off already: nothing that is on is in its way, and
    /// whatever comes off with it is in the set.
    fn comes_off(&self, set: usize, off: usize) -> bool {
        self.blocks.iter().all(|(what, of)| !has(set, *of) || has(off, *what))
            && self.with.iter().all(|(a, b)| has(set, *a) == has(set, *b))
    }

    /// The least number of things that are off once all of `work` is; nothing if that cannot be reached at all.
    fn least(&self) -> Option<u32> {
        let all = (1_usize << self.names.len()) - 1;
        let mut seen = vec![false; all + 1];
        let mut todo = vec![0];
        seen[0] = true;
        let mut least = None;
        while let Some(off) = todo.pop() {
            if off & self.work == self.work {
                let n = off.count_ones();
                least = Some(least.map_or(n, |known: u32| known.min(n)));
            }
            let on = all & !off;
            let mut set = on;
            while set > 0 {
                if !seen[off | set] && self.comes_off(set, off) {
                    seen[off | set] = true;
                    todo.push(off | set);
                }
                set = (set - 1) & on;
            }
        }
        least
    }

    /// Whether the relations of these things alone let every one of them come off.
    fn can_all_come_off(&self) -> bool {
        Self { work: (1 << self.names.len()) - 1, ..self.copy() }.least().is_some()
    }

    fn copy(&self) -> Self {
        Self { names: self.names.clone(), blocks: self.blocks.clone(), with: self.with.clone(), ..*self }
    }

    fn place(&self, name: &str) -> usize {
        self.names.iter().position(|known| known == name).unwrap_or_else(|| panic!("{name} was not typed"))
    }

    fn set(&self, step: &OrderStepReport) -> usize {
        step.things.iter().fold(0, |set, thing| set | 1 << self.place(&thing.name))
    }

    /// The first sequence of these sets, by their first things, in which each may come off; `on` for going on instead.
    fn first_sequence(&self, sets: &[usize], on: bool) -> Option<Vec<usize>> {
        let all = sets.iter().fold(0, |all, set| all | set);
        let allowed = |set: usize, done: usize| {
            if on {
                // Off are those not done yet: nothing that is on may be in the way of it.
                self.blocks.iter().all(|(what, of)| !has(set, *of) || !has(done, *what))
            } else {
                self.comes_off(set, done)
            }
        };
        let mut sets = sets.to_vec();
        sets.sort_by_key(|set| set.trailing_zeros());
        let mut found = Vec::new();
        (search(&sets, 0, all, &allowed, &mut found)).then_some(found)
    }
}

fn search(
    sets: &[usize],
    done: usize,
    all: usize,
    allowed: &impl Fn(usize, usize) -> bool,
    found: &mut Vec<usize>,
) -> bool {
    if done == all {
        return true;
    }
    for set in sets.iter().filter(|set| **set & done == 0) {
        if allowed(*set, done) {
            found.push(*set);
            if search(sets, done | set, all, allowed, found) {
                return true;
            }
            found.pop();
        }
    }
    false
}

fn whole(draw: &mut Draw, below: usize) -> usize {
    (0..below).find(|i| draw.between(0.0, 1.0) * (below - i) as f64 <= 1.0).unwrap_or(below - 1)
}

/// Two to four hoses, a part or two, a thing or two that are neither, and up to nine relations.
fn drawn(draw: &mut Draw) -> (Input, Small) {
    let mut typed = Input::default();
    let mut small = Small::default();
    let n_hoses = 2 + whole(draw, 3);
    let ports = (0..2 * n_hoses).map(|i| bare(&format!("s{i}"))).collect();
    typed.parts.push(part("block", PartKindInput::Block, ports));
    for i in 0..n_hoses {
        let decision = [Decision::Keep, Decision::Universal, Decision::LeaveOut, Decision::Moulded][whole(draw, 4)];
        let (from, to) = (format!("s{}", 2 * i), format!("s{}", 2 * i + 1));
        typed.lines.push(hose(&format!("hose {i}"), ("block", &from), ("block", &to), decision));
        small.names.push(format!("hose {i}"));
        small.hoses |= 1 << i;
        small.work |= usize::from(decision != Decision::Keep) << i;
        small.gone |= usize::from(decision == Decision::LeaveOut) << i;
    }
    small.names.push("block".to_owned());
    if draw.between(0.0, 1.0) < 0.5 {
        let mut tap = part("tap", PartKindInput::Tap, vec![]);
        tap.leave_out = Some(draw.between(0.0, 1.0) < 0.5);
        let bit = usize::from(tap.leave_out == Some(true)) << small.names.len();
        small.work |= bit;
        small.gone |= bit;
        small.names.push("tap".to_owned());
        typed.parts.push(tap);
    }
    // Other things take their places in the order in which the relations first name them.
    let mut other = ["air box", "bracket"][..1 + whole(draw, 2)].iter();
    let mut pool = small.names.clone();
    pool.extend(other.by_ref().map(|name| (*name).to_owned()));
    for _ in 0..whole(draw, 10) {
        let (a, b) = (whole(draw, pool.len()), whole(draw, pool.len()));
        if a == b {
            continue;
        }
        let with = draw.between(0.0, 1.0) < 0.25;
        for name in [&pool[a], &pool[b]] {
            if !small.names.contains(name) {
                small.names.push(name.clone());
            }
        }
        let pair = (small.place(&pool[a]), small.place(&pool[b]));
        let relation = if with { comes_off_with } else { in_the_way };
        typed.relations.push(relation(&pool[a], &pool[b]));
        if with { &mut small.with } else { &mut small.blocks }.push(pair);
    }
    (typed, small)
}

/// Carries out what goes on, step by step: nothing that is on may be in the way of what is fitted or tightened.
fn fit(report: &OrderReport, small: &Small, blocks: &[(usize, usize)], off: usize) {
    let mut on = 0;
    let mut tight = 0;
    for (i, step) in report.on.iter().enumerate() {
        let set = small.set(step);
        let clear = blocks.iter().all(|(what, of)| !has(set, *of) || !has(on, *what));
        assert!(clear, "{}: {report:#?}", step.what);
        if step.does == "tighten" {
            assert_eq!(set & on, set, "only what is on is tightened: {report:#?}");
            assert_eq!(set & tight, 0, "once: {report:#?}");
            assert_eq!(set & small.hoses, set, "hoses have clamps: {report:#?}");
            tight |= set;
            // As late as can be: the last of all, or something in the way of each of them is next.
            if let Some(next) = report.on.get(i + 1) {
                let next = small.set(next);
                for hose in (0..small.names.len()).filter(|thing| has(set, *thing)) {
                    let covered = blocks.iter().any(|(what, of)| *of == hose && has(next, *what));
                    assert!(covered, "{} could wait: {report:#?}", step.what);
                }
            }
        } else {
            assert_eq!((step.does.as_str(), set & on), ("fit", 0), "once: {report:#?}");
            on |= set;
        }
    }
    assert_eq!(on, off & !small.gone, "all goes on but what is left out: {report:#?}");
    assert_eq!(tight, on & small.hoses, "every hose is tight: {report:#?}");
}

#[test]
fn five_hundred_small_cars_come_apart_and_go_together_as_brute_force_says() {
    let mut draw = Draw(42);
    let (mut with_order, mut knotted, mut longest, mut tightened_early) = (0, 0, 0, 0);
    for _ in 0..500 {
        let (typed, small) = drawn(&mut draw);
        let report = order(job(&typed).car());
        assert_eq!(report, order(job(&typed).car()), "the same each time");
        let sets: Vec<usize> = report.off.iter().map(|step| small.set(step)).collect();
        let off = sets.iter().fold(0, |off, set| {
            assert_eq!(off & set, 0, "off once: {report:#?}");
            off | set
        });
        assert_eq!(off & small.work, small.work, "{report:#?}");
        longest = longest.max(sets.len());
        tightened_early += report.on.iter().rev().skip(1).filter(|step| step.does == "tighten").count();
        let least = small.least();
        assert_eq!(least.is_none(), !report.knots.is_empty(), "{typed:?} {report:#?}");
        if let Some(least) = least {
            with_order += 1;
            assert_eq!(off.count_ones(), least, "{typed:?} {report:#?}");
            assert_eq!(small.first_sequence(&sets, false).as_ref(), Some(&sets), "the first by typing: {report:#?}");
            let fitted: Vec<usize> =
                report.on.iter().filter(|step| step.does == "fit").map(|step| small.set(step)).collect();
            // What does not go back stands in nobody's way, yet keeps its place in the sequence.
            let replay = Small { blocks: small.blocks.clone(), ..small.copy() };
            assert!(replay.first_sequence(&fitted, true).is_some(), "{report:#?}");
            fit(&report, &small, &small.blocks, off);
        } else {
            knotted += 1;
            rest_has_an_order(&report, &small, &sets);
        }
    }
    println!(
        "{with_order} with an order, {knotted} knotted, {longest} steps at most, {tightened_early} tightened early"
    );
    assert!(with_order > 200 && knotted > 60 && longest >= 5 && tightened_early > 100, "too few of a kind were drawn");
}

/// With a knot: its relations cannot all hold, each of them matters, and all that is not within a knot keeps its order.
fn rest_has_an_order(report: &OrderReport, small: &Small, sets: &[usize]) {
    let mut within = Vec::new();
    for (i, knot) in report.knots.iter().enumerate() {
        let steps: Vec<_> = report.off.iter().filter(|step| step.knot == Some(i)).collect();
        let [step] = steps.as_slice() else { panic!("a knot is one step: {report:#?}") };
        within.push(small.set(step));
        let mut ring = Small { names: small.names.clone(), ..Small::default() };
        let mut pairs = Vec::new();
        for relation in &knot.relations {
            let pair = (small.place(&relation.what), small.place(&relation.of));
            let typed = if relation.is == "in the way of" { &small.blocks } else { &small.with };
            assert!(typed.contains(&pair), "{relation:?} was not typed");
            assert!(has(small.set(step), pair.0) && has(small.set(step), pair.1), "{report:#?}");
            for name in [&relation.what, &relation.of] {
                assert!(knot.what.contains(name.as_str()) && knot.things.contains(name), "{}", knot.what);
            }
            pairs.push((relation.is == "in the way of", pair));
        }
        let put = |ring: &mut Small, left_out: Option<usize>| {
            let kept = || pairs.iter().enumerate().filter(|(j, _)| Some(*j) != left_out).map(|(_, pair)| pair);
            ring.blocks = kept().filter(|(blocks, _)| *blocks).map(|(_, pair)| *pair).collect();
            ring.with = kept().filter(|(blocks, _)| !*blocks).map(|(_, pair)| *pair).collect();
        };
        put(&mut ring, None);
        assert!(!ring.can_all_come_off(), "these could hold: {}", knot.what);
        for left_out in 0..pairs.len() {
            put(&mut ring, Some(left_out));
            assert!(ring.can_all_come_off(), "not all of these matter: {}", knot.what);
        }
    }
    let outside = |(what, of): &&(usize, usize)| !within.iter().any(|knot| has(*knot, *what) && has(*knot, *of));
    let rest = Small { blocks: small.blocks.iter().filter(outside).copied().collect(), ..small.copy() };
    // As one in a knot comes off only with all of it: tied together.
    let mut tied = rest.copy();
    for knot in &within {
        let things: Vec<usize> = (0..small.names.len()).filter(|thing| has(*knot, *thing)).collect();
        tied.with.extend(things.windows(2).map(|pair| (pair[0], pair[1])));
    }
    let off = sets.iter().fold(0, |off, set| off | set);
    assert_eq!(tied.least(), Some(off.count_ones()), "{report:#?}");
    assert_eq!(tied.first_sequence(sets, false).as_deref(), Some(sets), "{report:#?}");
    fit(report, small, &rest.blocks, off);
}

fn names(step: &OrderStepReport) -> Vec<&str> {
    step.things.iter().map(|thing| thing.name.as_str()).collect()
}

/// An invented engine bay: the heater flow lies behind the air box, which the hidden hose lies behind, too.
fn bay() -> Input {
    let ports = ["out", "in", "by", "bottle"].map(bare).to_vec();
    let mut typed = Input {
        parts: vec![
            part("engine", PartKindInput::Block, ports),
            part("heater", PartKindInput::HeaterCore, vec![bare("in"), bare("out")]),
            part("thermostat", PartKindInput::Thermostat, vec![bare("by"), bare("far")]),
            part("radiator", PartKindInput::Radiator, vec![bare("top")]),
        ],
        lines: vec![
            hose("heater flow", ("engine", "out"), ("heater", "in"), Decision::Universal),
            hose("heater return", ("heater", "out"), ("engine", "in"), Decision::Keep),
            hose("bypass hose", ("engine", "by"), ("thermostat", "by"), Decision::LeaveOut),
            hose("top hose", ("thermostat", "far"), ("radiator", "top"), Decision::Keep),
        ],
        relations: vec![
            in_the_way("air box", "heater flow"),
            in_the_way("air box", "heater return"),
            in_the_way("intake pipe", "air box"),
            comes_off_with("clip", "intake pipe"),
            in_the_way("battery", "washer bottle"),
        ],
        ..Input::default()
    };
    typed.lines[1].state = Some(StateInput::Soft);
    typed.lines[3].state = Some(StateInput::Sound);
    typed
}

#[test]
fn a_hose_behind_an_air_box_behind_a_pipe_by_hand() {
    let report = order(job(&bay()).car());
    let off: Vec<_> = report.off.iter().map(names).collect();
    // The bypass hose could come off at once and was typed first among those that can; pipe and clip are one step.
    assert_eq!(off, [vec!["bypass hose"], vec!["intake pipe", "clip"], vec!["air box"], vec!["heater flow"]]);
    let on: Vec<_> = report.on.iter().map(|step| (step.does.as_str(), names(step))).collect();
    assert_eq!(
        on,
        [
            ("fit", vec!["heater flow"]),
            // The air box comes before its clamps: they are made tight while a tool gets there.
            ("tighten", vec!["heater flow"]),
            ("fit", vec!["air box"]),
            ("fit", vec!["intake pipe", "clip"]),
        ]
    );
    assert!(report.knots.is_empty() && report.ask.is_empty(), "{report:?}");
    // Nobody needs the battery off.
    let all = format!("{report:?}");
    assert!(!all.contains("battery") && !all.contains("washer"), "{all}");
    // While it is open: the soft hose behind the air box, and the thermostat the bypass came off; not the sound hose.
    let open: Vec<_> = report.while_open.iter().map(|said| said.key.as_str()).collect();
    assert_eq!(open, ["thermostat thermostat", "line heater return"]);
    assert!(report.while_open[1].what.contains("air box") && report.while_open[1].what.contains("soft"), "{report:?}");
    for said in report.first.iter().chain(&report.while_open) {
        assert!(!said.source.is_empty() && !said.basis.is_empty() && !said.what.is_empty(), "{said:?}");
    }
}

#[test]
fn a_ring_is_named_in_words_and_the_rest_still_has_an_order() {
    let mut typed = bay();
    typed.relations.push(in_the_way("air box", "clip"));
    let report = order(job(&typed).car());
    let [knot] = report.knots.as_slice() else { panic!("one knot: {report:?}") };
    let said: Vec<_> = knot.relations.iter().map(|r| (r.what.as_str(), r.is.as_str(), r.of.as_str())).collect();
    assert_eq!(
        said,
        [
            ("intake pipe", "in the way of", "air box"),
            ("air box", "in the way of", "clip"),
            ("clip", "comes off with", "intake pipe"),
        ]
    );
    assert!(
        knot.what.contains(
            "intake pipe is in the way of air box; air box is in the way of clip; clip comes off with intake pipe"
        ),
        "{}",
        knot.what
    );
    let off: Vec<_> = report.off.iter().map(|step| (names(step), step.knot)).collect();
    assert_eq!(
        off,
        [(vec!["bypass hose"], None), (vec!["air box", "intake pipe", "clip"], Some(0)), (vec!["heater flow"], None),]
    );
}

#[test]
fn nothing_comes_off_where_nothing_is_worked_on() {
    let mut typed = bay();
    typed.lines[0].decision = Some(Decision::Keep);
    typed.lines[2].decision = Some(Decision::Keep);
    assert_eq!(order(job(&typed).car()), OrderReport::default());
    assert_eq!(order(job(&Input::default()).car()), OrderReport::default());
}

#[test]
fn a_part_that_comes_off_asks_about_the_hoses_on_it_and_for_a_gasket() {
    let mut typed = bay();
    typed.relations.push(in_the_way("Radiator", "intake pipe"));
    let report = order(job(&typed).car());
    let [ask] = report.ask.as_slice() else { panic!("{report:?}") };
    assert!(ask.contains("radiator") && ask.contains("top hose"), "{ask}");
    assert!(report.while_open.iter().any(|said| said.key == "gasket radiator"), "{report:?}");
    // Said so, it comes off first, goes back on last, is made tight, and is asked about no more.
    typed.relations.push(in_the_way("top hose", "radiator"));
    let report = order(job(&typed).car());
    let place = |name: &str| report.off.iter().position(|step| names(step).contains(&name)).expect("it comes off");
    assert!(place("top hose") < place("radiator") && place("radiator") < place("intake pipe"), "{report:?}");
    assert!(report.ask.is_empty(), "{report:?}");
    let last = report.on.last().expect("steps");
    assert_eq!((last.does.as_str(), names(last)), ("tighten", vec!["top hose"]));
}

#[test]
fn what_is_not_there_does_not_come_off_but_goes_on() {
    let mut typed = bay();
    typed.lines[0].state = Some(StateInput::Missing);
    let report = order(job(&typed).car());
    assert!(report.off.iter().all(|step| !names(step).contains(&"heater flow")), "{report:?}");
    assert!(report.off.iter().any(|step| names(step).contains(&"air box")), "one has to get there: {report:?}");
    assert!(report.on.iter().any(|step| step.does == "fit" && names(step) == ["heater flow"]), "{report:?}");
}

#[test]
fn a_long_chain_has_its_order_at_once() {
    // Two thousand things one behind the other, typed from the far end: off from the last to the first.
    let mut typed = bay();
    typed.relations = (0..2000)
        .map(|i| {
            in_the_way(&format!("thing {}", i + 1), &if i == 0 { "heater flow".into() } else { format!("thing {i}") })
        })
        .collect::<Vec<RelationInput>>();
    let report = order(job(&typed).car());
    assert_eq!(report.off.len(), 2002, "with the two hoses");
    assert_eq!(names(report.off.last().expect("steps")), ["heater flow"]);
    assert!(typed.relations.iter().all(|relation| relation.is == RelationKindInput::InTheWayOf), "as typed");
}
