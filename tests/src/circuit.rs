//! Circuits built by hand, through the text of the job file: every sentence that a car with a known fault must hear.

use job::input::{
    ClosureInput, DecisionInput, Input, LineInput, LineKindInput, PartInput, PartKindInput, PortAtInput, PortInput,
    RoleInput,
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

fn flowing<'a>(report: &'a CircuitReport, state: usize) -> Vec<&'a str> {
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
        "heater core: no line joins it to the rest. If it stays in the car, empty it and close its spigots."
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
