//! Random circuits through the text of the job file, with the complete answer of every state held against resistances.

use crate::circuit::Loop;
use crate::circuit_referee::{NOTHING, Net, net};
use crate::layouts::Draw;
use job::CircuitReport;
use job::input::{ClosureInput, DecisionInput, NeedsInput, PartKindInput, RoleInput, StateInput};

const IN: Option<RoleInput> = Some(RoleInput::Inlet);
const OUT: Option<RoleInput> = Some(RoleInput::Outlet);
const VALVE: Option<RoleInput> = Some(RoleInput::Valve);
const BYPASS: Option<RoleInput> = Some(RoleInput::Bypass);

/// One of so many, each as likely.
pub(crate) fn pick(draw: &mut Draw, count: usize) -> usize {
    let drawn = draw.between(0.0, count as f64);
    (1..count).take_while(|place| *place as f64 <= drawn).count()
}

fn chance(draw: &mut Draw, of: f64) -> bool {
    draw.between(0.0, 1.0) < of
}

/// Joins two parts by a way that may have a tee, a tap, a restrictor or a steel line in it.
fn join(car: &mut Loop, draw: &mut Draw, name: &str, from: (usize, Option<RoleInput>), to: (usize, Option<RoleInput>)) {
    use PartKindInput::{Joiner, Other, Restrictor, SteelLine};
    if chance(draw, 0.3) {
        let kind = [Restrictor, Joiner, SteelLine, Other][pick(draw, 4)];
        let between = car.part(kind, &format!("{name} part"));
        car.line(&format!("{name} 1"), from, (between, None));
        car.line(&format!("{name} 2"), (between, None), to);
    } else {
        car.line(name, from, to);
    }
}

/// An engine whose circuit is sound whatever its tap does.
pub(crate) fn engine(draw: &mut Draw) -> Loop {
    use PartKindInput as Kind;
    let mut car = Loop::default();
    let pump = car.part(Kind::Pump, "pump");
    let head = car.part(Kind::Head, "head");
    if chance(draw, 0.7) {
        let block = car.part(Kind::Block, "block");
        join(&mut car, draw, "volute", (pump, OUT), (block, None));
        join(&mut car, draw, "gasket", (block, None), (head, None));
    } else {
        join(&mut car, draw, "volute", (pump, OUT), (head, None));
    }
    let housing = car.part(Kind::Thermostat, "housing");
    let radiator = car.part(Kind::Radiator, "radiator");
    // Where hot coolant can be drawn off, and where it can come back.
    let (hot, cold);
    if chance(draw, 0.5) {
        join(&mut car, draw, "outlet", (head, None), (housing, None));
        join(&mut car, draw, "top hose", (housing, VALVE), (radiator, None));
        join(&mut car, draw, "bottom hose", (radiator, None), (pump, IN));
        let role = if chance(draw, 0.5) { BYPASS } else { None };
        join(&mut car, draw, "bypass", (housing, role), (pump, IN));
        (hot, cold) = ([head, housing][pick(draw, 2)], (pump, IN));
    } else {
        join(&mut car, draw, "top hose", (head, None), (radiator, None));
        join(&mut car, draw, "bottom hose", (radiator, None), (housing, VALVE));
        join(&mut car, draw, "inlet", (housing, None), (pump, IN));
        let role = if chance(draw, 0.5) { BYPASS } else { None };
        join(&mut car, draw, "bypass", (head, None), (housing, role));
        (hot, cold) = (head, [(pump, IN), (housing, None)][pick(draw, 2)]);
    }
    if chance(draw, 0.8) {
        let heater = car.part(Kind::HeaterCore, "heater");
        if chance(draw, 0.6) {
            let tap = car.part(Kind::Tap, "tap");
            car.line("tap feed", (hot, None), (tap, None));
            car.line("feed", (tap, None), (heater, None));
        } else {
            join(&mut car, draw, "feed", (hot, None), (heater, None));
        }
        if chance(draw, 0.2) {
            let valve = car.part(Kind::NonReturnValve, "valve");
            car.line("valve feed", (heater, None), (valve, IN));
            car.line("return", (valve, OUT), cold);
        } else {
            join(&mut car, draw, "return", (heater, None), cold);
        }
    }
    for (kind, name, of) in [
        (Kind::OilCooler, "oil cooler", 0.3),
        (Kind::ThrottleBody, "throttle body", 0.3),
        (Kind::Vaporiser, "vaporiser", 0.2),
    ] {
        if chance(draw, of) {
            let part = car.part(kind, name);
            join(&mut car, draw, &format!("{name} feed"), (hot, None), (part, None));
            join(&mut car, draw, &format!("{name} return"), (part, None), cold);
        }
    }
    if chance(draw, 0.7) {
        let bottle = car.part(Kind::ExpansionBottle, "bottle");
        car.line("bottle hose", ([radiator, head][pick(draw, 2)], None), (bottle, None));
        if chance(draw, 0.4) {
            car.line("bottle return", (bottle, None), cold);
        }
    }
    if chance(draw, 0.3) {
        let bleed = car.part(Kind::BleedScrew, "bleed screw");
        car.line("bleed hose", (head, None), (bleed, None));
    }
    if chance(draw, 0.3) {
        let closed = car.spigot(head, None);
        car.port(&closed).closed_by = Some(ClosureInput::Blank);
    }
    car
}

/// Parts and lines joined anyhow.
pub(crate) fn wild(draw: &mut Draw) -> Loop {
    use PartKindInput as Kind;
    const KINDS: [Kind; 14] = [
        Kind::Block,
        Kind::Head,
        Kind::Radiator,
        Kind::HeaterCore,
        Kind::ExpansionBottle,
        Kind::Thermostat,
        Kind::Thermostat,
        Kind::OilCooler,
        Kind::Tee,
        Kind::Tap,
        Kind::BleedScrew,
        Kind::NonReturnValve,
        Kind::NonReturnValve,
        Kind::Pump,
    ];
    let mut car = Loop::default();
    let pump = car.part(Kind::Pump, "part 0");
    let count = 2 + pick(draw, 10);
    let (mut pumps, mut valves, mut taps) = (0, 0, 0);
    for p in 1..=count {
        let mut kind = KINDS[pick(draw, KINDS.len())];
        let counted = match kind {
            Kind::Pump => Some((&mut pumps, 1)),
            Kind::NonReturnValve => Some((&mut valves, 3)),
            Kind::Tap => Some((&mut taps, 2)),
            _ => None,
        };
        if let Some((count, most)) = counted {
            *count += 1;
            if *count > most {
                kind = Kind::Tee;
            }
        }
        car.part(kind, &format!("part {p}"));
    }
    let end = |car: &Loop, draw: &mut Draw, part: usize| {
        let role = match car.0.parts[part].kind {
            Kind::Pump | Kind::NonReturnValve => [IN, OUT][pick(draw, 2)],
            Kind::Thermostat => [None, VALVE, BYPASS][pick(draw, 3)],
            _ => None,
        };
        (part, role)
    };
    let lines = count + pick(draw, 7);
    for l in 0..lines {
        let (from, to) = (pick(draw, count + 1), pick(draw, count + 1));
        let from = if l < 2 { (pump, [OUT, IN][l]) } else { end(&car, draw, from) };
        let to = end(&car, draw, to);
        car.line(&format!("line {l}"), from, to);
    }
    // Roles that no line brought.
    for p in 0..=count {
        if matches!(car.0.parts[p].kind, Kind::Pump | Kind::NonReturnValve) {
            for role in [IN, OUT] {
                if car.0.parts[p].spigots.iter().all(|spigot| spigot.role != role) {
                    car.spigot(p, role);
                }
            }
        }
        if chance(draw, 0.1) {
            let needs = [NeedsInput::Always, NeedsInput::ThermostatOpen, NeedsInput::No][pick(draw, 3)];
            car.0.parts[p].needs_flow = Some(needs);
        }
    }
    car
}

/// Does something to a car that a person might.
pub(crate) fn change(car: &mut Loop, draw: &mut Draw) {
    let line = pick(draw, car.0.lines.len());
    let (p, q) = (pick(draw, car.0.parts.len()), pick(draw, car.0.parts.len()));
    match pick(draw, 10) {
        0 => car.0.lines[line].decision = Some(DecisionInput::LeaveOut),
        1 => {
            let name = car.0.lines[line].name.clone();
            car.cap(&name);
        }
        2 => car.0.parts[p].leave_out = Some(true),
        3 | 4 => {
            let role = |part: usize, draw: &mut Draw| match car.0.parts[part].kind {
                PartKindInput::Pump | PartKindInput::NonReturnValve => [IN, OUT][pick(draw, 2)],
                PartKindInput::Thermostat => [None, VALVE][pick(draw, 2)],
                _ => None,
            };
            let (from, to) = ((p, role(p, draw)), (q, role(q, draw)));
            let name = format!("more {}", car.0.lines.len());
            car.line(&name, from, to);
        }
        5 => {
            car.spigot(p, if car.0.parts[p].kind == PartKindInput::Pump { IN } else { None });
        }
        6 => {
            const STATES: [StateInput; 3] = [StateInput::Sound, StateInput::Cracked, StateInput::Missing];
            car.0.lines[line].state = Some(STATES[pick(draw, 3)]);
        }
        7 => car.0.lines[line].inside = Some(["a restrictor", "nothing"][pick(draw, 2)].to_owned()),
        8 => {
            let end = car.0.lines[line].from.clone();
            car.port(&end).closed_by = Some(ClosureInput::Cap);
        }
        // Its end goes on the spigot where another begins.
        _ => {
            let onto = car.0.lines[pick(draw, car.0.lines.len())].from.clone();
            if onto != car.0.lines[line].from {
                car.0.lines[line].to = onto;
            }
        }
    }
    if chance(draw, 0.2) {
        car.0.lines[line].decision = Some([DecisionInput::Keep, DecisionInput::Universal][pick(draw, 2)]);
    }
}

/// The smallest current that was taken to flow and the largest that was not, over all.
#[derive(Debug)]
struct Gap(f64, f64);

impl Gap {
    fn flows(&mut self, currents: &[f64]) -> Vec<bool> {
        for current in currents.iter().map(|current| current.abs()) {
            if current > NOTHING {
                self.0 = self.0.min(current);
            } else {
                self.1 = self.1.max(current);
            }
        }
        currents.iter().map(|current| current.abs() > NOTHING).collect()
    }
}

/// For every thing of a network whether it flows in every draw, in some, and in some of the split network; and whether
/// every way was made the easiest once.
struct Drawn {
    always: Vec<bool>,
    ever: Vec<bool>,
    split: Vec<bool>,
    all_ways: bool,
}

/// Ways that are made the easiest, at most; split networks that are solved for one state, at most.
const MOST: usize = 150;
const MOST_SPLIT: usize = 20;

fn drawn(net: &Net, draw: &mut Draw, gap: &mut Gap) -> Drawn {
    let mut sets: Vec<Vec<f64>> =
        (0..20).map(|_| net.things.iter().map(|_| draw.between(0.5, 2.0)).collect()).collect();
    let mut all_ways = true;
    if net.diodes().is_empty() {
        sets.truncate(1);
    } else {
        for pump in net.pumps() {
            let [inlet, outlet] = net.things[pump].0;
            let ways = net.ways(outlet, inlet, pump);
            let step = ways.len() / MOST + 1;
            all_ways &= step == 1;
            for way in ways.iter().step_by(step) {
                let mut set: Vec<_> = net.things.iter().map(|_| draw.between(5e-3, 2e-2)).collect();
                way.iter().for_each(|(thing, _)| set[*thing] *= 100.0);
                set[pump] *= 100.0;
                sets.push(set);
            }
        }
    }
    let none = vec![false; net.things.len()];
    let mut found = Drawn { always: vec![true; net.things.len()], ever: none.clone(), split: none, all_ways };
    for (s, set) in sets.iter().enumerate() {
        let flows = gap.flows(&net.currents(set, false, draw));
        let split = if s < MOST_SPLIT { gap.flows(&net.currents(set, true, draw)) } else { flows.clone() };
        for thing in 0..net.things.len() {
            found.always[thing] &= flows[thing];
            found.ever[thing] |= flows[thing];
            found.split[thing] |= split[thing] || flows[thing];
        }
    }
    found
}

/// How often something was compared.
#[derive(Debug, Default)]
struct Counts {
    states: usize,
    listed: usize,
    flows: usize,
    unsure: usize,
    still: usize,
    /// Told as unsure though no draw shows it to be.
    too_careful: usize,
}

/// Holds the flow of every part and line in every state against the referee; gives what flows and what perhaps, by state.
fn compare(car: &Loop, report: &CircuitReport, draw: &mut Draw, gap: &mut Gap, counts: &mut Counts) {
    let input = &car.0;
    let valves = input.parts.iter().filter(|part| part.kind == PartKindInput::NonReturnValve).count();
    let pumps = input.parts.iter().filter(|part| part.kind == PartKindInput::Pump).count();
    for (s, state) in report.states.iter().enumerate() {
        counts.states += 1;
        let net = net(input, (state.thermostat_open, state.tap_shut.as_deref()));
        let drawn = drawn(&net, draw, gap);
        let both = |flows: &[bool]| [net.in_parts(input, flows), net.in_lines(input, flows)].concat();
        let (always, ever, split) = (both(&drawn.always), both(&drawn.ever), both(&drawn.split));
        let told: Vec<_> = report.parts.iter().chain(&report.lines).collect();
        assert_eq!(told.len(), always.len(), "a flow for every part and line");
        for (t, told) in told.into_iter().enumerate() {
            let (yes, unsure) = (told.flows.contains(&s), told.unsure.contains(&s));
            let about = || format!("{} {}\n{}", told.name, state.what, share::write(input));
            assert!(!(yes && unsure), "{}", about());
            counts.flows += usize::from(yes);
            counts.unsure += usize::from(unsure);
            counts.still += usize::from(!yes && !unsure);
            // Never "it flows" of what may stand, never "it stands" of what may flow.
            assert!(always[t] || !yes, "told to flow: {}", about());
            assert!(yes || unsure || !split[t], "told to stand: {}", about());
            // And "cannot be told" only of what cannot.
            if valves == 0 {
                assert_eq!(yes, ever[t], "flows: {}", about());
                assert_eq!(unsure, split[t] && !ever[t], "cannot be told: {}", about());
            } else if unsure && drawn.all_ways {
                let shown = split[t] && !always[t];
                counts.too_careful += usize::from(!shown);
                assert!(shown || valves > 1 || pumps > 1, "too careful: {}", about());
            }
        }
        if input.parts.len() <= 12 && pumps == 1 {
            counts.listed += 1;
            let pump = net.pumps()[0];
            let [inlet, outlet] = net.things[pump].0;
            let mut on = vec![false; net.things.len()];
            for way in net.ways(outlet, inlet, pump) {
                let rightly = |(thing, first): &(usize, bool)| *first || !net.diodes().contains(thing);
                if way.iter().all(rightly) {
                    on[pump] = true;
                    way.iter().for_each(|(thing, _)| on[*thing] = true);
                }
            }
            // What lies on a listed way may flow; what flows lies on one.
            for (t, told) in report.parts.iter().chain(&report.lines).enumerate() {
                let (yes, unsure) = (told.flows.contains(&s), told.unsure.contains(&s));
                let listed = both(&on)[t];
                assert!(
                    yes || unsure || !listed,
                    "a way leads through {} {}\n{}",
                    told.name,
                    state.what,
                    share::write(input)
                );
                assert!(!yes || listed, "no way leads through {} {}\n{}", told.name, state.what, share::write(input));
                assert!(valves > 0 || yes == listed, "{} {}\n{}", told.name, state.what, share::write(input));
            }
        }
    }
}

#[test]
fn every_part_and_line_of_random_circuits_flows_as_resistances_do() {
    let (mut draw, mut gap, mut counts) = (Draw(4), Gap(1.0, 0.0), Counts::default());
    for round in 0..2000 {
        let mut car = if round % 2 == 0 { engine(&mut draw) } else { wild(&mut draw) };
        for _ in 0..pick(&mut draw, 6) {
            change(&mut car, &mut draw);
        }
        let report = car.told();
        compare(&car, &report, &mut draw, &mut gap, &mut counts);
    }
    println!("{counts:?}; least that flows {:e}, most that does not {:e}", gap.0, gap.1);
    assert!(gap.0 > 1e3 * gap.1, "flows and does not flow are apart");
    assert!(counts.unsure > 100 && counts.still > 1000 && counts.listed > 500, "the draws show something: {counts:?}");
}

#[test]
fn a_car_of_a_thousand_parts_has_an_answer() {
    use PartKindInput as Kind;
    let mut draw = Draw(9);
    let mut car = engine(&mut draw);
    while car.0.parts.len() < 1000 {
        const KINDS: [Kind; 6] =
            [Kind::Tee, Kind::Tap, Kind::NonReturnValve, Kind::ExpansionBottle, Kind::Pump, Kind::HeaterCore];
        let kind = KINDS[pick(&mut draw, 6)];
        let name = format!("part {}", car.0.parts.len());
        let new = car.part(kind, &name);
        for role in [IN, OUT] {
            let to = (pick(&mut draw, new), [IN, OUT][pick(&mut draw, 2)]);
            let name = format!("line {}", car.0.lines.len());
            car.line(&name, (new, role), to);
        }
    }
    let report = car.told();
    assert_eq!(report.states.len(), 26, "twelve taps and no more");
    assert_eq!(report.findings.iter().filter(|finding| finding.kind == "too many").count(), 2, "taps and pumps");
    assert_eq!((report.parts.len(), report.lines.len()), (car.0.parts.len(), car.0.lines.len()));
    let draws = job::layout(car.accepted().job.car());
    assert_eq!(draws.boxes.len(), car.0.parts.len());
}
