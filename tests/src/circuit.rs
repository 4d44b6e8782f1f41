//! Circuits built by hand, through the text of the job file: every sentence that a car with a known fault must hear.

use job::input::{
    ClosureInput, DecisionInput, Input, LineInput, LineKindInput, NeedsInput, PartInput, PartKindInput, PortAtInput,
    PortInput, RoleInput, StateInput,
};
use job::{CircuitFinding, CircuitReport};

/// A car that is put together part by part; every line makes the two spigots that it joins.
#[derive(Clone, Debug, Default)]
pub(crate) struct Loop(pub(crate) Input);

impl Loop {
    pub(crate) fn part(&mut self, kind: PartKindInput, name: &str) -> usize {
        self.0.parts.push(PartInput {
            name: name.to_owned(),
            kind,
            spigots: Vec::new(),
            on: None,
            needs_flow: None,
            leave_out: None,
            note: None,
        });
        self.0.parts.len() - 1
    }

    /// A new spigot of a part.
    pub(crate) fn spigot(&mut self, part: usize, role: Option<RoleInput>) -> PortAtInput {
        let part = &mut self.0.parts[part];
        let name = format!("s{}", part.spigots.len() + 1);
        part.spigots.push(PortInput {
            name: name.clone(),
            spigot_mm: None,
            bead_mm: None,
            straight_mm: None,
            thread: None,
            made_of: None,
            role,
            closed_by: None,
        });
        PortAtInput { part: part.name.clone(), spigot: name }
    }

    /// A hose between two new spigots.
    pub(crate) fn line(
        &mut self,
        name: &str,
        from: (usize, Option<RoleInput>),
        to: (usize, Option<RoleInput>),
    ) -> usize {
        let (from, to) = (self.spigot(from.0, from.1), self.spigot(to.0, to.1));
        self.0.lines.push(LineInput {
            name: name.to_owned(),
            kind: LineKindInput::Hose,
            from,
            to,
            bore_mm: None,
            length_mm: None,
            state: None,
            can_buy: None,
            decision: None,
            run: None,
            inside: None,
            note: None,
        });
        self.0.lines.len() - 1
    }

    pub(crate) fn named(&mut self, line: &str) -> &mut LineInput {
        self.0.lines.iter_mut().find(|typed| typed.name == line).unwrap_or_else(|| panic!("no line {line}"))
    }

    /// Leaves a line out and caps both its spigots.
    pub(crate) fn cap(&mut self, line: &str) {
        let typed = self.named(line);
        typed.decision = Some(DecisionInput::LeaveOut);
        for end in [typed.from.clone(), typed.to.clone()] {
            self.port(&end).closed_by = Some(ClosureInput::Cap);
        }
    }

    pub(crate) fn port(&mut self, at: &PortAtInput) -> &mut PortInput {
        let part = self.0.parts.iter_mut().find(|part| part.name == at.part).expect("a part of that name");
        part.spigots.iter_mut().find(|port| port.name == at.spigot).expect("a spigot of that name")
    }

    /// What is told of it, by way of the job file's text.
    pub(crate) fn told(&self) -> CircuitReport {
        job::circuit(self.accepted().job.car())
    }

    pub(crate) fn accepted(&self) -> job::Accepted {
        let opened = share::read(&share::write(&self.0)).expect("a job file");
        assert!(opened.problems.is_empty(), "{:?}", opened.problems);
        assert_eq!(opened.input, self.0, "reads back as it was written");
        let accepted = job::accept(&opened.input);
        assert!(accepted.problems.is_empty(), "{:?}", accepted.problems);
        accepted
    }
}

const IN: Option<RoleInput> = Some(RoleInput::Inlet);
const OUT: Option<RoleInput> = Some(RoleInput::Outlet);
const VALVE: Option<RoleInput> = Some(RoleInput::Valve);
const BYPASS: Option<RoleInput> = Some(RoleInput::Bypass);

/// Pump, block, head, thermostat at the head's outlet with a bypass, radiator, heater core behind a tap, bottle.
fn plain() -> Loop {
    let mut car = Loop::default();
    let pump = car.part(PartKindInput::Pump, "pump");
    let block = car.part(PartKindInput::Block, "block");
    let head = car.part(PartKindInput::Head, "head");
    let housing = car.part(PartKindInput::Thermostat, "thermostat housing");
    let radiator = car.part(PartKindInput::Radiator, "radiator");
    let tap = car.part(PartKindInput::Tap, "heater tap");
    let heater = car.part(PartKindInput::HeaterCore, "heater core");
    let bottle = car.part(PartKindInput::ExpansionBottle, "bottle");
    car.line("volute", (pump, OUT), (block, None));
    car.line("head gasket", (block, None), (head, None));
    car.line("outlet", (head, None), (housing, None));
    car.line("top hose", (housing, VALVE), (radiator, None));
    car.line("bottom hose", (radiator, None), (pump, IN));
    car.line("bypass hose", (housing, BYPASS), (pump, IN));
    car.line("heater feed", (head, None), (tap, None));
    car.line("tap hose", (tap, None), (heater, None));
    car.line("heater return", (heater, None), (pump, IN));
    car.line("bottle hose", (radiator, None), (bottle, None));
    car
}

/// The bulb sits in the heater's return, at the pump's inlet; the head has a bypass of its own.
fn bulb_in_return() -> Loop {
    let mut car = Loop::default();
    let pump = car.part(PartKindInput::Pump, "pump");
    let head = car.part(PartKindInput::Head, "head");
    let housing = car.part(PartKindInput::Thermostat, "thermostat housing");
    let radiator = car.part(PartKindInput::Radiator, "radiator");
    let tap = car.part(PartKindInput::Tap, "heater tap");
    let heater = car.part(PartKindInput::HeaterCore, "heater core");
    car.line("volute", (pump, OUT), (head, None));
    car.line("top hose", (head, None), (radiator, None));
    car.line("bottom hose", (radiator, None), (housing, VALVE));
    car.line("pump inlet", (housing, None), (pump, IN));
    car.line("bypass hose", (head, None), (pump, IN));
    car.line("heater feed", (head, None), (tap, None));
    car.line("tap hose", (tap, None), (heater, None));
    car.line("heater return", (heater, None), (housing, None));
    car
}

fn heads(report: &CircuitReport) -> Vec<String> {
    let head = |f: &CircuitFinding| {
        format!("{} {} {} [{}] {}", f.verdict, f.kind, f.parts.join("+"), f.lines.join("+"), f.when)
            .trim_end()
            .to_owned()
    };
    report.findings.iter().map(head).collect()
}

fn flowing(report: &CircuitReport, state: usize) -> Vec<&str> {
    let both = report.parts.iter().chain(&report.lines);
    both.filter(|flow| flow.flows.contains(&state)).map(|flow| flow.name.as_str()).collect()
}

#[test]
fn a_sound_car_hears_nothing_and_flows_as_one_would_draw_it() {
    let report = plain().told();
    assert_eq!(heads(&report), [""; 0]);
    let words: Vec<_> = report.states.iter().map(|state| state.what.as_str()).collect();
    assert_eq!(
        words,
        [
            "with the thermostat open",
            "with the thermostat shut",
            "with the thermostat open and heater tap shut",
            "with the thermostat shut and heater tap shut",
        ]
    );
    let not = |state: usize| {
        let flows = flowing(&report, state);
        let both = report.parts.iter().chain(&report.lines).map(|flow| flow.name.as_str());
        both.filter(|name| !flows.contains(name)).collect::<Vec<_>>()
    };
    assert_eq!(not(0), ["bottle", "bypass hose", "bottle hose"]);
    assert_eq!(not(1), ["radiator", "bottle", "top hose", "bottom hose", "bottle hose"]);
    let heater = ["heater tap", "heater core", "heater feed", "tap hose", "heater return"];
    assert!(heater.iter().all(|name| not(2).contains(name) && not(3).contains(name)), "{:?}", not(2));
    assert!(report.parts.iter().chain(&report.lines).all(|flow| flow.unsure.is_empty()), "{report:?}");
}

#[test]
fn a_heater_left_out_where_its_return_feeds_the_bulb() {
    // As it is: only the tap is a fault.
    let car = bulb_in_return();
    let tap_alone = ["fail bulb thermostat housing [] with the thermostat shut and heater tap shut"];
    assert_eq!(heads(&car.told()), tap_alone);
    // Capped at both ends: the bulb is starved with the thermostat shut; the core is left dry.
    let mut capped = car.clone();
    for line in ["heater feed", "tap hose", "heater return"] {
        capped.cap(line);
    }
    let report = capped.told();
    assert_eq!(
        heads(&report),
        [
            "fail bulb thermostat housing [] with the thermostat shut",
            "warn not joined heater tap []",
            "warn not joined heater core []",
        ]
    );
    assert_eq!(
        report.findings[0].why,
        "thermostat housing: no coolant goes past its bulb with the thermostat shut. It opens late, and by then the engine \
         has hot spots. Lead a flow that never stops past it."
    );
    assert_eq!(
        report.findings[2].why,
        "heater core: no line joins it to the rest. If it stays in the car, drain it and close its spigots."
    );
    // Looped from spigot to spigot, core and tap out of the car.
    let mut looped = car.clone();
    for line in ["heater feed", "tap hose", "heater return"] {
        looped.named(line).decision = Some(DecisionInput::LeaveOut);
    }
    for part in looped.0.parts.iter_mut().filter(|part| part.name.starts_with("heater")) {
        part.leave_out = Some(true);
    }
    let (from, to) = (looped.named("heater feed").from.clone(), looped.named("heater return").to.clone());
    let loop_hose =
        LineInput { name: "loop".to_owned(), decision: None, from, to, ..looped.named("heater feed").clone() };
    looped.0.lines.push(loop_hose);
    assert_eq!(heads(&looped.told()), [""; 0]);
    // Looped through the tap, and the tap closed.
    let mut tapped = car;
    for line in ["tap hose", "heater return"] {
        tapped.named(line).decision = Some(DecisionInput::LeaveOut);
    }
    tapped.0.parts.iter_mut().filter(|part| part.name == "heater core").for_each(|part| part.leave_out = Some(true));
    let (from, to) = (tapped.named("tap hose").from.clone(), tapped.named("heater return").to.clone());
    let loop_hose = LineInput { name: "loop".to_owned(), decision: None, from, to, ..tapped.named("tap hose").clone() };
    tapped.0.lines.push(loop_hose);
    assert_eq!(heads(&tapped.told()), tap_alone);
}

#[test]
fn without_a_bypass_the_pump_has_no_way_round() {
    let mut car = plain();
    car.cap("bypass hose");
    // The heater is the way round until its tap is shut.
    let report = car.told();
    assert_eq!(
        heads(&report),
        [
            "fail no way round block+head+thermostat housing [] with the thermostat shut and heater tap shut",
            "fail bulb thermostat housing [] with the thermostat shut"
        ]
    );
    assert_eq!(
        report.findings[0].why,
        "The pump has no way round with the thermostat shut and heater tap shut: coolant stands still in block, head and \
         thermostat housing, and boils where it is hottest before the thermostat feels it. Keep the bypass open, or loop from \
         spigot to spigot what was closed."
    );
    let mut none = plain();
    none.cap("volute");
    assert_eq!(
        heads(&none.told()),
        ["fail no way round block+head+thermostat housing+radiator+heater core [] with the thermostat open and shut"]
    );
}

/// What is found, in one line each, and the sentences; both in the order told.
fn told(car: &Loop) -> (Vec<String>, Vec<String>) {
    let report = car.told();
    (heads(&report), report.findings.iter().map(|finding| finding.why.clone()).collect())
}

#[test]
fn a_line_that_is_left_leaves_an_open_end_and_what_stands_still_behind_it() {
    let mut car = plain();
    car.named("heater return").decision = Some(DecisionInput::LeaveOut);
    let (heads, sentences) = told(&car);
    assert_eq!(
        heads,
        [
            "fail no flow heater core [] with the thermostat open and shut",
            "fail open end pump []",
            "fail open end heater core []",
            "warn dead leg heater tap+heater core [heater feed+tap hose]",
        ]
    );
    assert_eq!(
        sentences,
        [
            "heater core: no coolant goes through it with the thermostat open and shut. It stays cold; take it out of the \
             circuit, or join both its spigots.",
            "pump, s4: open once heater return is out. Close it, or put a line on it.",
            "heater core, s2: open once heater return is out. Close it, or put a line on it.",
            "heater tap, heater core, heater feed and tap hose: coolant stands still here whatever the thermostat and the taps \
             do. It boils and freezes first, rusts what holds it and keeps air. Leave it out and close it at head, or lead it on \
             to where coolant flows.",
        ]
    );
    // A part that goes takes its lines with it: two open ends, nothing else.
    let mut car = plain();
    car.0.parts.iter_mut().filter(|part| part.name == "heater core").for_each(|part| part.leave_out = Some(true));
    car.0.parts.iter_mut().filter(|part| part.name == "heater tap").for_each(|part| part.leave_out = Some(true));
    assert_eq!(told(&car).0, ["fail open end pump []", "fail open end head []"]);
}

#[test]
fn every_spigot_is_closed_by_exactly_one_thing() {
    let mut car = plain();
    let onto = car.named("bypass hose").to.clone();
    car.named("heater return").to = onto;
    let end = car.named("top hose").from.clone();
    car.port(&end).closed_by = Some(ClosureInput::Cap);
    let (heads, sentences) = told(&car);
    assert_eq!(
        heads,
        [
            "fail two on one spigot pump [bypass hose+heater return]",
            "fail open end pump []",
            "warn two on one spigot thermostat housing [top hose]",
        ]
    );
    assert_eq!(
        sentences,
        [
            "pump, s3: bypass hose and heater return are all on it. Put a tee in, or find the spigot that was forgotten.",
            "pump, s4: open. Close it, or put a line on it.",
            "thermostat housing, s2: said to be closed by a cap, yet top hose stays on it. Only one of them can be so.",
        ]
    );
    // An overflow is open and may be.
    let mut car = plain();
    let overflow = car.spigot(7, None);
    assert_eq!(told(&car).1, ["bottle, s2: open. If it is the overflow, say that nothing was ever on it."]);
    car.port(&overflow).closed_by = Some(ClosureInput::Blank);
    assert_eq!(told(&car).0, [""; 0]);
}

#[test]
fn small_hoses_and_what_was_in_them_are_not_forgotten() {
    let mut car = plain();
    car.named("bypass hose").state = Some(StateInput::Cracked);
    car.named("heater feed").state = Some(StateInput::Rusted);
    car.named("heater feed").decision = Some(DecisionInput::Keep);
    car.named("bottle hose").state = Some(StateInput::Missing);
    car.named("top hose").state = Some(StateInput::Soft);
    car.named("top hose").decision = Some(DecisionInput::Moulded);
    car.named("top hose").inside = Some("a coil of wire".to_owned());
    car.named("tap hose").inside = Some("None".to_owned());
    car.named("tap hose").decision = Some(DecisionInput::Universal);
    car.named("bottom hose").inside = Some("a restrictor".to_owned());
    assert_eq!(
        told(&car).1,
        [
            "bottle hose is missing and nothing is decided: both its spigots are open.",
            "top hose: a coil of wire was found inside it. Take it out and put it into the new hose.",
            "bypass hose is cracked or hard and nothing is decided. Replace it with the others, or it fails next.",
            "heater feed is rusted and is to stay. Replace it with the others, or it fails next.",
        ]
    );
    car.cap("top hose");
    let gone = "top hose: a coil of wire was found inside it and goes with it. It was there for a reason: see whether what is \
                joined in its place must have it.";
    assert!(told(&car).1.iter().any(|why| why == gone), "{:?}", told(&car).1);
}

#[test]
fn roles_that_were_not_said_are_asked_for() {
    let mut car = plain();
    for spigot in &mut car.0.parts[3].spigots {
        spigot.role = None;
    }
    let end = car.named("heater return").to.clone();
    car.port(&end).role = None;
    assert_eq!(
        told(&car).1,
        [
            "pump, s4: say whether it is on the inlet's or the outlet's side. Until then it is taken to be on the inlet's.",
            "thermostat housing: say which spigot is behind its valve. Until then it is taken as one that never shuts.",
        ]
    );
    let mut none = Loop::default();
    assert_eq!(none.told(), CircuitReport::default(), "nothing typed, nothing told");
    none.part(PartKindInput::Head, "head");
    assert_eq!(told(&none).1, ["There is no pump among the parts, so where coolant flows cannot be told."]);
}

/// A bridge: from the head two ways to the radiator's two ends, and a way across with a non-return valve.
fn bridge() -> Loop {
    let mut car = Loop::default();
    let pump = car.part(PartKindInput::Pump, "pump");
    let one = car.part(PartKindInput::Tee, "tee one");
    let two = car.part(PartKindInput::Tee, "tee two");
    let valve = car.part(PartKindInput::NonReturnValve, "valve");
    let core = car.part(PartKindInput::HeaterCore, "heater core");
    car.line("feed one", (pump, OUT), (one, None));
    car.line("feed two", (pump, OUT), (two, None));
    car.line("return one", (one, None), (pump, IN));
    car.line("return two", (two, None), (pump, IN));
    car.line("across", (one, None), (valve, IN));
    car.line("onward", (valve, OUT), (core, None));
    car.line("last", (core, None), (two, None));
    car
}

#[test]
fn a_non_return_valve_across_a_bridge_cannot_be_told() {
    assert_eq!(
        told(&bridge()).1,
        [
            "heater core: whether coolant goes through it at all times cannot be told, for a non-return valve may be pressed shut \
          there. Feel by hand whether it gets warm."
        ]
    );
    // With one way back only there is one direction; turned round, nothing flows.
    let mut car = bridge();
    car.cap("return one");
    assert_eq!(told(&car).0, [""; 0]);
    for spigot in &mut car.0.parts[3].spigots {
        spigot.role = if spigot.role == IN { OUT } else { IN };
    }
    assert_eq!(
        told(&car).0,
        [
            "fail no flow heater core [] at all times",
            "warn dead leg tee one+valve+heater core [feed one+across+onward+last]"
        ]
    );
}

#[test]
fn a_ring_that_leaves_a_part_and_comes_back_to_it_cannot_be_told() {
    let mut car = plain();
    let onto = car.spigot(2, None);
    let was = std::mem::replace(&mut car.named("heater return").to, onto);
    car.port(&was).closed_by = Some(ClosureInput::Blank);
    assert_eq!(
        told(&car).1,
        [
            "heater core: whether coolant goes through it with the thermostat open and shut cannot be told, for it leaves a part \
          and comes back to the same one. If that part has a side before and one behind something narrow, enter them as two \
          parts."
        ]
    );
}

#[test]
fn an_oil_cooler_behind_the_heaters_tap_stops_with_it() {
    let mut car = plain();
    let cooler = car.part(PartKindInput::OilCooler, "oil cooler");
    let onto = car.spigot(cooler, None);
    let was = std::mem::replace(&mut car.named("heater return").to, onto);
    car.0.parts[0].spigots.retain(|spigot| spigot.name != was.spigot);
    car.line("oil return", (cooler, None), (0, IN));
    assert_eq!(
        told(&car).1,
        [
            "oil cooler: no coolant goes through it with heater tap shut: the heater's tap stops it as well. Give it a way that no \
          tap shuts."
        ]
    );
}

#[test]
fn what_needs_flow_can_be_said() {
    let mut car = plain();
    car.cap("heater return");
    car.0.parts.iter_mut().filter(|part| part.name == "heater core").for_each(|part| {
        part.needs_flow = Some(NeedsInput::No);
    });
    assert_eq!(told(&car).0, ["warn dead leg heater tap+heater core [heater feed+tap hose]"]);
    let mut car = plain();
    car.0
        .parts
        .iter_mut()
        .filter(|part| part.name == "bottle")
        .for_each(|part| part.needs_flow = Some(NeedsInput::Always));
    assert_eq!(
        told(&car).1,
        ["bottle: no coolant goes through it with the thermostat open and shut. It is said to need some."]
    );
}

#[test]
fn the_way_through_a_bottle_is_narrow_unless_its_hoses_are_wide() {
    let mut car = plain();
    car.cap("bottom hose");
    let bottle = 7;
    car.line("bottle return", (bottle, None), (0, IN));
    let (heads, sentences) = told(&car);
    assert_eq!(
        heads,
        [
            "warn no way round block+head+thermostat housing+radiator [] with the thermostat open and heater tap shut",
            "warn bulb thermostat housing [] with the thermostat open",
            "warn no flow radiator [] with the thermostat open",
        ]
    );
    assert_eq!(
        sentences[2],
        "radiator: coolant goes through it with the thermostat open only by way of the bottle, whose hoses are narrow. See \
         whether a wide one is missing."
    );
    car.named("bottle return").bore_mm = Some(32.0);
    car.named("bottle hose").bore_mm = Some(32.0);
    assert_eq!(told(&car).0, [""; 0]);
    // No other way round at all.
    let mut car = plain();
    car.cap("bypass hose");
    car.cap("heater return");
    car.cap("heater feed");
    car.cap("tap hose");
    let end = car.spigot(3, None);
    let was = std::mem::replace(&mut car.named("bottle hose").from, end);
    car.0.parts[4].spigots.retain(|spigot| spigot.name != was.spigot);
    car.line("bottle return", (bottle, None), (0, IN));
    let narrow = "The pump has no way round with the thermostat shut but through the bottle, whose hoses are narrow: block, head \
                  and thermostat housing may get too little. Keep the bypass open, or loop from spigot to spigot what was closed.";
    assert_eq!(told(&car).1[0], narrow);
}

#[test]
fn what_is_not_joined_to_the_pump_is_named_together() {
    let mut car = plain();
    let cooler = car.part(PartKindInput::OilCooler, "oil cooler");
    let tee = car.part(PartKindInput::Tee, "tee");
    car.line("oil hose", (cooler, None), (tee, None));
    assert_eq!(
        told(&car).1,
        ["oil cooler and tee with oil hose: nothing joins this to the pump. Whatever coolant is in it stands still."]
    );
}

#[test]
fn a_car_without_a_thermostat_and_with_a_second_pump() {
    let mut car = Loop::default();
    let pump = car.part(PartKindInput::Pump, "pump");
    let head = car.part(PartKindInput::Head, "head");
    let radiator = car.part(PartKindInput::Radiator, "radiator");
    let tap = car.part(PartKindInput::Tap, "tap");
    let second = car.part(PartKindInput::Pump, "electric pump");
    let core = car.part(PartKindInput::HeaterCore, "core");
    car.line("volute", (pump, OUT), (head, None));
    car.line("top hose", (head, None), (radiator, None));
    car.line("bottom hose", (radiator, None), (pump, IN));
    car.line("one", (head, None), (tap, None));
    car.line("two", (tap, None), (second, IN));
    car.line("three", (second, OUT), (core, None));
    car.line("four", (core, None), (pump, IN));
    let report = car.told();
    assert_eq!(heads(&report), [""; 0]);
    let words: Vec<_> = report.states.iter().map(|state| state.what.as_str()).collect();
    assert_eq!(words, ["as it runs", "with tap shut"]);
    assert!(report.parts.iter().all(|part| part.flows.contains(&0)), "{:?}", report.parts);
    let text = serde_json::to_string(&report).expect("plain data");
    assert_eq!(serde_json::from_str::<CircuitReport>(&text).expect("the same data"), report);
}
