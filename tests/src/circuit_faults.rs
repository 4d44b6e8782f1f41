//! Everything that is found wrong with random circuits, and nothing else: the whole list worked out a second time.

use crate::circuit::Loop;
use crate::circuit_any::{change, engine, pick, wild};
use crate::circuit_referee::{Branch, NOTHING, Net, What, net, solve, stays};
use crate::layouts::Draw;
use job::input::{DecisionInput, Input, NeedsInput, PartKindInput as Kind, PortAtInput, RoleInput, StateInput};
use job::{CircuitFinding, CircuitReport};
use std::collections::BTreeMap;

/// A finding in one line, without its sentence.
fn line_of(finding: &CircuitFinding) -> String {
    let mut parts = finding.parts.clone();
    let mut lines = finding.lines.clone();
    parts.sort();
    lines.sort();
    let spigots: Vec<_> = finding.spigots.iter().map(|spigot| format!("{} {}", spigot.part, spigot.spigot)).collect();
    format!("{} {} {parts:?} {lines:?} {spigots:?} {:?}", finding.verdict, finding.kind, finding.states)
}

fn said(verdict: &str, kind: &str, parts: &[&str], lines: &[&str], spigots: &[String], states: &[usize]) -> String {
    let (mut parts, mut lines) = (parts.to_vec(), lines.to_vec());
    parts.sort_unstable();
    lines.sort_unstable();
    format!("{verdict} {kind} {parts:?} {lines:?} {spigots:?} {states:?}")
}

/// Open, shut, and whether also with a tap shut.
fn needs(kind: Kind, said: Option<NeedsInput>) -> [bool; 3] {
    let taps = kind != Kind::HeaterCore && kind != Kind::OilCooler;
    match (said, kind) {
        (Some(NeedsInput::No), _) => [false, false, taps],
        (Some(NeedsInput::ThermostatOpen), _) | (None, Kind::Radiator) => [true, false, taps],
        (Some(NeedsInput::Always), _)
        | (None, Kind::Block | Kind::Head | Kind::Thermostat | Kind::HeaterCore | Kind::OilCooler) => {
            [true, true, taps]
        }
        (None, _) => [false, false, taps],
    }
}

/// For every part the least part it is joined to, if everything is open.
fn pieces(input: &Input) -> Vec<usize> {
    let all = net(input, (None, None));
    let plain = |ends: [usize; 2]| Branch { ends, conductance: 1.0, drive: 0.0 };
    let branches: Vec<_> = all.things.iter().map(|(ends, _)| plain(*ends)).collect();
    let (_, piece) = solve(all.points, &branches);
    all.first.iter().map(|first| piece[*first]).collect()
}

/// Lines and parts that feel a change of level in a bottle, or let air out: in a network driven between pump and bottle.
fn to_ends(input: &Input, draw: &mut Draw) -> [Vec<bool>; 2] {
    let all: Net = net(input, (None, None));
    let mut flows = vec![false; all.things.len()];
    for (p, _) in
        input.parts.iter().enumerate().filter(|(_, p)| matches!(p.kind, Kind::ExpansionBottle | Kind::BleedScrew))
    {
        for pump in all.pumps().into_iter().filter(|t| matches!(all.things[*t].1, What::Pump(p) if !goes(input, p))) {
            let mut branches: Vec<_> = (all.things.iter())
                .map(|(ends, _)| Branch { ends: *ends, conductance: draw.between(0.5, 2.0), drive: 0.0 })
                .collect();
            branches.push(Branch { ends: [all.things[pump].0[0], all.first[p]], conductance: 1.0, drive: 1.0 });
            let (volts, _) = solve(all.points, &branches);
            for (flow, branch) in flows.iter_mut().zip(&branches) {
                *flow |= (volts[branch.ends[0]] - volts[branch.ends[1]]).abs() > NOTHING;
            }
        }
    }
    [all.in_parts(input, &flows), all.in_lines(input, &flows)]
}

fn goes(input: &Input, part: usize) -> bool {
    input.parts[part].leave_out == Some(true)
}

/// Everything that should be found, from what flows, which `circuit_any.rs` judges.
fn expected(input: &Input, report: &CircuitReport, draw: &mut Draw) -> Vec<String> {
    let mut out = Vec::new();
    let count = input.parts.len();
    let name = |p: usize| input.parts[p].name.as_str();
    let staying: Vec<usize> = (0..count).filter(|p| !goes(input, *p)).collect();
    let piece = pieces(input);
    let pumps: Vec<_> = staying.iter().copied().filter(|p| input.parts[*p].kind == Kind::Pump).collect();
    let joined = |p: usize| pumps.iter().any(|pump| piece[*pump] == piece[p]);
    let states = 0..report.states.len();
    // Roles.
    let on = |p: usize, spigot: &str, line: usize| {
        let is = |end: &PortAtInput| end.part == input.parts[p].name && end.spigot == spigot;
        is(&input.lines[line].from) || is(&input.lines[line].to)
    };
    for p in &staying {
        let part = &input.parts[*p];
        if part.kind == Kind::Thermostat && part.spigots.iter().all(|s| s.role != Some(RoleInput::Valve)) {
            out.push(said("warn", "role not said", &[name(*p)], &[], &[], &[]));
        }
        if matches!(part.kind, Kind::Pump | Kind::NonReturnValve) {
            for spigot in part.spigots.iter().filter(|s| !matches!(s.role, Some(RoleInput::Inlet | RoleInput::Outlet)))
            {
                if (0..input.lines.len()).any(|l| stays(input, l) && on(*p, &spigot.name, l)) {
                    out.push(said("warn", "role not said", &[name(*p)], &[], &[], &[]));
                }
            }
        }
    }
    // The same car if nothing went through a bottle.
    let mut dry = Loop(input.clone());
    for line in &mut dry.0.lines {
        let on_bottle = |end: &PortAtInput| {
            input.parts.iter().any(|part| part.name == end.part && part.kind == Kind::ExpansionBottle)
        };
        if on_bottle(&line.from) || on_bottle(&line.to) {
            line.decision = Some(DecisionInput::LeaveOut);
        }
    }
    let dry = dry.told();
    if pumps.is_empty() {
        out.push(said("warn", "no pump", &[], &[], &[], &[]));
    } else {
        // Flow.
        let none = |p: usize, s: usize| !report.parts[p].flows.contains(&s) && !report.parts[p].unsure.contains(&s);
        let blocked = |s: usize| (0..count).all(|p| none(p, s));
        let needed = |p: usize, s: usize| {
            let ([open, shut, taps], state) =
                (needs(input.parts[p].kind, input.parts[p].needs_flow), &report.states[s]);
            (state.tap_shut.is_none() || taps) && if state.thermostat_open == Some(false) { shut } else { open }
        };
        let stuck: Vec<_> = states.clone().filter(|s| blocked(*s)).collect();
        let starved = staying.iter().copied().filter(|p| joined(*p) && stuck.iter().any(|s| needed(*p, *s)));
        let starved: Vec<_> = starved.map(name).collect();
        if !starved.is_empty() {
            out.push(said("fail", "no way round", &starved, &[], &[], &stuck));
        }
        let none_dry = |p: usize, s: usize| !dry.parts[p].flows.contains(&s) && !dry.parts[p].unsure.contains(&s);
        let narrow: Vec<_> = states.clone().filter(|s| !blocked(*s) && (0..count).all(|p| none_dry(p, *s))).collect();
        let meagre = staying.iter().copied().filter(|p| joined(*p) && narrow.iter().any(|s| needed(*p, *s)));
        let meagre: Vec<_> = meagre.map(name).collect();
        if !meagre.is_empty() {
            out.push(said("warn", "no way round", &meagre, &[], &[], &narrow));
        }
        for p in staying.iter().copied().filter(|p| joined(*p)) {
            let asked: Vec<_> = states.clone().filter(|s| needed(p, *s) && !blocked(*s)).collect();
            let still: Vec<_> = asked.iter().copied().filter(|s| none(p, *s)).collect();
            let perhaps = asked.iter().filter(|s| report.parts[p].unsure.contains(s)).count();
            let kind = if input.parts[p].kind == Kind::Thermostat { "bulb" } else { "no flow" };
            if !still.is_empty() {
                out.push(said("fail", kind, &[name(p)], &[], &[], &still));
            }
            let by_bottle = |s: &&usize| report.parts[p].flows.contains(s) && !narrow.contains(s) && none_dry(p, **s);
            let by_bottle: Vec<_> = asked.iter().filter(by_bottle).copied().collect();
            if !by_bottle.is_empty() {
                out.push(said("warn", kind, &[name(p)], &[], &[], &by_bottle));
            }
            // One or two warnings, by the reason; the states of both together.
            if perhaps > 0 {
                out.push(format!("perhaps {kind} {} {perhaps}", name(p)));
            }
        }
        for first in staying.iter().copied().filter(|p| !joined(*p)) {
            let members: Vec<_> = staying.iter().copied().filter(|p| piece[*p] == piece[first]).collect();
            if members[0] != first {
                continue;
            }
            let inside = |l: &usize| members.iter().any(|p| input.lines[*l].from.part == name(*p)) && stays(input, *l);
            let lines: Vec<_> = (0..input.lines.len()).filter(inside).map(|l| input.lines[l].name.as_str()).collect();
            let thirsty = members.iter().any(|p| {
                let part = &input.parts[*p];
                let [open, shut, _] = needs(part.kind, part.needs_flow);
                (open || shut) && !(lines.is_empty() && part.kind == Kind::HeaterCore)
            });
            let parts: Vec<_> = members.iter().map(|p| name(*p)).collect();
            out.push(said(if thirsty { "fail" } else { "warn" }, "not joined", &parts, &lines, &[], &[]));
        }
        if stuck.len() < report.states.len() {
            out.extend(dead_legs(input, report, &joined, draw));
        }
    }
    // Spigots.
    for p in &staying {
        for spigot in &input.parts[*p].spigots {
            let lines = (0..input.lines.len()).filter(|l| stays(input, *l) && on(*p, &spigot.name, *l));
            let lines: Vec<_> = lines.map(|l| input.lines[l].name.as_str()).collect();
            let at = [format!("{} {}", name(*p), spigot.name)];
            let bottle = input.parts[*p].kind == Kind::ExpansionBottle;
            match (lines.len(), spigot.closed_by.is_some()) {
                (0, false) if pumps.is_empty() || joined(*p) => {
                    out.push(said(if bottle { "warn" } else { "fail" }, "open end", &[name(*p)], &[], &at, &[]));
                }
                (1, true) => out.push(said("warn", "two on one spigot", &[name(*p)], &lines, &at, &[])),
                (2.., _) => out.push(said("fail", "two on one spigot", &[name(*p)], &lines, &at, &[])),
                _ => {}
            }
        }
    }
    // Lines.
    for (l, line) in input.lines.iter().enumerate() {
        let as_it_is = matches!(line.decision, None | Some(DecisionInput::Keep)) && stays(input, l);
        let verdict = if line.state == Some(StateInput::Missing) { "fail" } else { "warn" };
        if as_it_is && !matches!(line.state, None | Some(StateInput::Sound)) {
            out.push(said(verdict, "nothing decided", &[], &[&line.name], &[], &[]));
        }
        if line.inside.as_deref() == Some("a restrictor") && !as_it_is {
            out.push(said("warn", "something inside", &[], &[&line.name], &[], &[]));
        }
    }
    out.sort();
    out
}

fn dead_legs(input: &Input, report: &CircuitReport, joined: &dyn Fn(usize) -> bool, draw: &mut Draw) -> Vec<String> {
    let [parts_to_end, lines_to_end] = to_ends(input, draw);
    let place = |end: &PortAtInput| input.parts.iter().position(|part| part.name == end.part).expect("a part");
    let dead_part = |p: usize| {
        let flow = &report.parts[p];
        !goes(input, p) && joined(p) && flow.flows.is_empty() && flow.unsure.is_empty() && !parts_to_end[p]
    };
    let dead_line = |l: &usize| {
        let flow = &report.lines[*l];
        let own = place(&input.lines[*l].from);
        stays(input, *l) && joined(own) && flow.flows.is_empty() && flow.unsure.is_empty() && !lines_to_end[*l]
    };
    // Lines that meet in a dead part belong together.
    let dead: Vec<usize> = (0..input.lines.len()).filter(dead_line).collect();
    let mut group: BTreeMap<usize, usize> = dead.iter().map(|l| (*l, *l)).collect();
    let ends = |l: usize| [place(&input.lines[l].from), place(&input.lines[l].to)];
    for _ in 0..dead.len() {
        for a in &dead {
            for b in &dead {
                if ends(*a).iter().any(|end| dead_part(*end) && ends(*b).contains(end)) {
                    let least = group[a].min(group[b]);
                    group.insert(*a, least);
                    group.insert(*b, least);
                }
            }
        }
    }
    let mut out = Vec::new();
    for first in dead.iter().filter(|l| group[l] == **l) {
        let members: Vec<_> = dead.iter().copied().filter(|l| group[l] == *first).collect();
        let mut parts: Vec<_> = members.iter().flat_map(|l| ends(*l)).filter(|p| dead_part(*p)).collect();
        parts.sort_unstable();
        parts.dedup();
        let parts: Vec<_> = parts.iter().map(|p| input.parts[*p].name.as_str()).collect();
        let lines: Vec<_> = members.iter().map(|l| input.lines[*l].name.as_str()).collect();
        out.push(said("warn", "dead leg", &parts, &lines, &[], &[]));
    }
    out
}

/// What was found, in the form of `expected`: warnings that flow cannot be told are counted by state. An oil cooler that
/// stops with the heater's tap is left to the tests by hand.
fn found(report: &CircuitReport) -> Vec<String> {
    let mut out = Vec::new();
    let mut perhaps: BTreeMap<String, usize> = BTreeMap::new();
    for finding in &report.findings {
        assert!(finding.why.ends_with('.') && !finding.source.is_empty() && !finding.basis.is_empty(), "{finding:?}");
        assert_eq!(finding.states.is_empty(), finding.when.is_empty(), "{finding:?}");
        let by_bottle = finding.why.contains("only by way of the bottle");
        if finding.verdict == "warn" && matches!(finding.kind.as_str(), "no flow" | "bulb") && !by_bottle {
            if !finding.why.contains("the heater's tap stops it") {
                *perhaps.entry(format!("{} {}", finding.kind, finding.parts[0])).or_default() += finding.states.len();
            }
        } else {
            out.push(line_of(finding));
        }
    }
    out.extend(perhaps.iter().map(|(about, count)| format!("perhaps {about} {count}")));
    out.sort();
    out
}

fn all_as_expected(car: &Loop, draw: &mut Draw) -> Vec<String> {
    let report = car.told();
    let found = found(&report);
    assert_eq!(found, expected(&car.0, &report, draw), "{}", share::write(&car.0));
    found
}

#[test]
fn everything_wrong_with_random_circuits_is_found_and_nothing_else() {
    let mut draw = Draw(5);
    let mut kinds: BTreeMap<String, usize> = BTreeMap::new();
    for round in 0..2000 {
        let mut car = if round % 2 == 0 { engine(&mut draw) } else { wild(&mut draw) };
        for _ in 0..pick(&mut draw, 6) {
            change(&mut car, &mut draw);
        }
        for line in all_as_expected(&car, &mut draw) {
            *kinds.entry(line.split([' ']).take(3).collect::<Vec<_>>().join(" ")).or_default() += 1;
        }
    }
    println!("{kinds:#?}");
    let seen = |of: &str| kinds.iter().filter(|(kind, _)| kind.starts_with(of)).map(|(_, count)| count).sum::<usize>();
    for kind in [
        "fail no way",
        "fail no flow",
        "fail bulb",
        "perhaps no flow",
        "perhaps bulb",
        "fail not joined",
        "warn not joined",
        "warn dead leg",
        "fail open end",
        "warn open end",
        "warn role not",
        "warn no pump",
        "fail two on",
        "warn two on",
        "fail nothing decided",
        "warn nothing decided",
        "warn something inside",
    ] {
        assert!(seen(kind) >= 20, "{kind}: {}", seen(kind));
    }
}

/// Seeds one fault in a sound engine; gives what must be among the findings, or nothing if the engine has no such place.
fn seed(car: &mut Loop, draw: &mut Draw, fault: usize) -> Option<(&'static str, String)> {
    let has = |car: &Loop, line: &str| car.0.lines.iter().any(|typed| typed.name == line);
    let any = |car: &Loop, draw: &mut Draw| car.0.lines[pick(draw, car.0.lines.len())].name.clone();
    match fault {
        0 => {
            let line = if has(car, "bottom hose") { "bottom hose" } else { "bottom hose 1" };
            car.cap(line);
            // Coolant may still come out of it by way of the bottle.
            let bottle = car.0.lines.iter().any(|line| line.name == "bottle hose" && line.from.part == "radiator");
            let kind = if bottle && has(car, "bottle return") { "warn no" } else { "fail no" };
            Some((kind, "radiator".to_owned()))
        }
        1 => {
            let line = if has(car, "volute") { "volute" } else { "volute 2" };
            car.cap(line);
            Some(("fail no way round", "head".to_owned()))
        }
        2 => {
            let line = any(car, draw);
            car.named(&line).decision = Some(DecisionInput::LeaveOut);
            let at = car.named(&line).from.clone();
            // The other end as well; a part left without any line is told as such.
            let joined = pieces(&car.0);
            let part = car.0.parts.iter().position(|part| part.name == at.part).expect("a part");
            (joined[part] == joined[0]).then(|| {
                let bottle = car.0.parts[part].kind == Kind::ExpansionBottle;
                let kind = if bottle { "warn open end" } else { "fail open end" };
                (kind, format!("{} {}", at.part, at.spigot))
            })
        }
        3 => {
            let line = any(car, draw);
            car.named(&line).state = Some(StateInput::Cracked);
            Some(("warn nothing decided", line))
        }
        4 => {
            let stub = car.part(Kind::SteelLine, "stub");
            car.line("stub hose", (pick(draw, 2), Some(RoleInput::Inlet)), (stub, None));
            Some(("warn dead leg", "stub hose".to_owned()))
        }
        5 => {
            // The valve in the heater's return turned round.
            let valve = car.0.parts.iter_mut().find(|part| part.kind == Kind::NonReturnValve)?;
            for spigot in &mut valve.spigots {
                let turned = if spigot.role == Some(RoleInput::Inlet) { RoleInput::Outlet } else { RoleInput::Inlet };
                spigot.role = Some(turned);
            }
            Some(("fail no flow", "heater".to_owned()))
        }
        6 => {
            let (onto, line) = (any(car, draw), any(car, draw));
            let at = car.named(&onto).from.clone();
            if onto == line || car.named(&line).to == at || car.named(&line).from == at {
                return None;
            }
            car.named(&line).to = at.clone();
            Some(("fail two on one spigot", format!("{} {}", at.part, at.spigot)))
        }
        7 => {
            let line = any(car, draw);
            let typed = car.named(&line);
            typed.inside = Some("a restrictor".to_owned());
            typed.decision = Some(DecisionInput::Universal);
            Some(("warn something inside", line))
        }
        8 => {
            let housing = car.0.parts.iter_mut().find(|part| part.kind == Kind::Thermostat)?;
            housing.spigots.iter_mut().for_each(|spigot| spigot.role = None);
            Some(("warn role not said", "housing".to_owned()))
        }
        _ => {
            // Every way that could pass for a bypass is capped.
            let feeds = ["bypass", "heater", "tap feed", "feed", "oil cooler", "throttle body", "vaporiser", "bottle"];
            let lines: Vec<_> = car.0.lines.iter().map(|line| line.name.clone()).collect();
            for line in lines.iter().filter(|line| feeds.iter().any(|feed| line.starts_with(feed))) {
                car.cap(line);
            }
            Some(("fail no way round", "housing".to_owned()))
        }
    }
}

#[test]
fn five_hundred_sound_engines_hear_nothing_and_a_seeded_fault_is_found() {
    let mut draw = Draw(6);
    let mut seeded = [0; 10];
    for round in 0..500 {
        let mut car = engine(&mut draw);
        let nothing = all_as_expected(&car, &mut draw);
        assert!(nothing.is_empty(), "a sound car hears {nothing:?}\n{}", share::write(&car.0));
        let fault = round % 10;
        if let Some((kind, about)) = seed(&mut car, &mut draw, fault) {
            let found = all_as_expected(&car, &mut draw);
            let is_it = |line: &String| line.starts_with(kind) && line.contains(&format!("\"{about}\""));
            assert!(found.iter().any(is_it), "{kind} of {about} is not among {found:#?}\n{}", share::write(&car.0));
            seeded[fault] += 1;
        }
    }
    println!("seeded and found: {seeded:?}");
    assert!(seeded.iter().all(|count| *count >= 5), "{seeded:?}");
}
