//! The example car through the door that a script uses: circuit, closures, order, cuts, shopping and filling, reckoned by hand.

use crate::cases::{answer, best, changed, example_car, near};
use core::f64::consts::PI;
use job::{ItemReport, OrderStepReport, Report};
use serde_json::{Value, json};

fn told() -> Report {
    answer(&example_car())
}

/// The cut of a run, and the bore of its hose.
fn cut(report: &Report, name: &str) -> (f64, f64) {
    let best = best(report.runs.iter().find(|run| run.name == name).unwrap_or_else(|| panic!("no run {name}")));
    assert!(!best.nearest, "{name} works");
    (best.cut_mm, best.hose.bore_mm)
}

/// Volume of a bore, litres: π d²/4 · l.
fn litres(bore: f64, length: f64) -> f64 {
    PI * bore * bore / 4.0 * length * 1e-6
}

#[test]
fn coolant_goes_round_and_only_the_small_stub_is_wrong() {
    let report = told();
    let circuit = report.circuit.as_ref().expect("a car has a circuit");
    let found: Vec<_> = circuit.findings.iter().map(|f| (f.kind.as_str(), f.verdict.as_str())).collect();
    assert_eq!(found, [("open end", "fail")], "the stub on the pump has no line and no closure; all else has one");
    let at: Vec<_> = circuit.findings[0].spigots.iter().map(|s| (s.part.as_str(), s.spigot.as_str())).collect();
    assert_eq!(at, [("pump", "small stub")]);
    // The thermostat's valve is on the way to the radiator alone, its bypass on the other: open, coolant goes through both
    // radiator hoses and not through the bypass; shut, the other way round. Rail, heater and bottle are never shut off.
    let state =
        |open: bool| circuit.states.iter().position(|state| state.thermostat_open == Some(open)).expect("a state");
    let (open, shut) = (state(true), state(false));
    assert_eq!(circuit.states.len(), 2, "no tap");
    for (name, when) in [
        ("top hose", vec![open]),
        ("bottom hose", vec![open]),
        ("bypass hose", vec![shut]),
        ("heater flow", vec![open, shut]),
        ("heater return", vec![open, shut]),
        ("bottle hose", vec![open, shut]),
        ("bottle outlet hose", vec![open, shut]),
    ] {
        let line = circuit.lines.iter().find(|line| line.name == name).expect("a line");
        let mut flows = line.flows.clone();
        flows.sort_by_key(|k| *k != open);
        assert_eq!((line.stays, flows), (true, when), "{name}");
    }
    // Both hoses with the tees between them, the vaporiser's two, the steel line.
    assert_eq!(circuit.lines.iter().filter(|line| !line.stays).count(), 6);
}

#[test]
fn the_stub_is_closed_with_hose_and_plug_or_a_cap() {
    let report = told();
    let open = &report.closures.as_ref().expect("a car has open ends").open;
    assert_eq!(open.iter().map(|end| end.spigot.as_str()).collect::<Vec<_>>(), ["small stub"]);
    let stub = &open[0];
    // 110 kPa on a stub 16 mm across: π/4 · 16² mm² · 0.110 N/mm² = 201.06 · 0.110 = 22.1 N.
    near(stub.push_off_n.expect("the cap is known"), 22.1, 0.05, "push-off");
    let kinds: Vec<_> = stub.options.iter().map(|option| (option.kind.as_str(), option.verdict.as_str())).collect();
    // No thread is told, and the pump has no free sister spigot: neither plug in a thread nor loop.
    assert_eq!(kinds, [("hose and plug", "pass"), ("cap", "pass")]);
    let first = &stub.options[0];
    assert_eq!((first.plug_mm, first.bore_mm), (Some(16.0), Some(16.0)), "as thick as the stub");
    // A seat of 21.5 on the stub, rounded up, 5 between stub and plug, a plug 25 long: 22 + 5 + 25.
    assert_eq!((first.plug_long_mm, first.hose_mm), (Some(25.0), Some(52.0)));
    // Decided on, it is open no more.
    let closed = changed(&example_car(), |car| {
        let spigots = car["parts"][0]["spigots"].as_array_mut().expect("spigots");
        spigots.last_mut().expect("the stub")["closed_by"] = json!("cap");
    });
    let report = answer(&closed);
    let findings = &report.circuit.as_ref().expect("a circuit").findings;
    assert!(findings.is_empty(), "{findings:?}");
}

#[test]
fn what_is_in_the_way_comes_off_first_and_goes_back_last() {
    let report = told();
    let order = report.order.as_ref().expect("a car has an order");
    assert!(order.knots.is_empty() && order.ask.is_empty(), "{:?} {:?}", order.knots, order.ask);
    let place = |steps: &[OrderStepReport], does: &str, name: &str| {
        let is_it = |step: &OrderStepReport| step.does == does && step.things.iter().any(|thing| thing.name == name);
        steps.iter().position(is_it).unwrap_or_else(|| panic!("{does} {name}"))
    };
    let off = |name| place(&order.off, "take off", name);
    let on = |name| place(&order.on, "fit", name);
    let tight = |name| place(&order.on, "tighten", name);
    // As typed: battery before tray; tray before the heater return, which is new; the air filter box before the steel line and
    // the heater flow; the bottle's outlet hose before the bypass.
    assert!(off("battery") < off("battery tray"));
    assert!(off("air filter box") < off("steel return line"));
    assert!(off("bottle outlet hose") < off("bypass hose"));
    // And back the other way round, what lies below being tight before it is out of reach.
    assert!(on("heater return") < tight("heater return") && tight("heater return") < on("battery tray"));
    assert!(on("battery tray") < on("battery"));
    assert!(on("heater flow") < tight("heater flow") && tight("heater flow") < on("air filter box"));
    assert!(on("bypass hose") < tight("bypass hose") && tight("bypass hose") < on("bottle outlet hose"));
    // The vaporiser comes off with both its hoses: one step of three.
    assert_eq!((off("vaporiser"), off("vaporiser")), (off("vaporiser feed"), off("vaporiser return")));
    // Off come 2 moulded hoses, the bottle's old one, 6 lines left out, 2 tees, the vaporiser and 3 things in the way: 15, of
    // which 3 as one; the two heater hoses that are not there yet do not. On go 5 hoses and the 3 things; tees, vaporiser and
    // what is left out never do.
    let (things, steps) = (order.off.iter().map(|step| step.things.len()).sum::<usize>(), order.off.len());
    assert_eq!((things, steps), (15, 13));
    let fitted: usize = order.on.iter().filter(|step| step.does == "fit").map(|step| step.things.len()).sum();
    assert_eq!(fitted, 8);
    // The bypass comes off the thermostat.
    assert_eq!(order.while_open.len(), 1);
}

#[test]
fn what_is_at_hand_is_cut_first_and_no_more_is_bought_than_must_be() {
    let report = told();
    let cuts = report.cuts.as_ref().expect("a car has a cut list");
    assert!(cuts.left_out.is_empty() && cuts.not_wanted.is_empty());
    let [flow, back, bottle] = ["heater flow", "heater return", "bottle hose"].map(|name| cut(&report, name));
    for ((_, bore), wanted) in [(flow, 16.0), (back, 16.0), (bottle, 8.0)] {
        near(bore, wanted, 1e-9, "bore");
    }
    // Each piece takes its cut and 20 mm for the knife. Both 16 mm pieces are longer than the 540 at hand together, and either
    // fits it alone: one from there, and for the other one metre of what is sold by the metre. The same for the 8 mm one.
    assert!(flow.0 + back.0 + 40.0 > 540.0 && flow.0.max(back.0) + 20.0 <= 540.0);
    let [wide, narrow] = cuts.groups.as_slice() else { panic!("{:?}", cuts.groups) };
    for (group, pieces, lengths) in [(wide, 2, vec![540.0, 1000.0]), (narrow, 1, vec![1000.0])] {
        assert_eq!((group.pieces.len(), group.bought_mm, group.proven), (pieces, 1000.0, true));
        assert_eq!(group.lengths.iter().map(|from| from.length_mm).collect::<Vec<_>>(), lengths);
        for from in &group.lengths {
            let used: f64 = from.pieces.iter().map(|k| group.pieces[*k].cut_mm + 20.0).sum();
            near(from.left_mm, from.length_mm - used, 0.05, "left");
            assert_eq!((from.pieces.len(), from.at_hand), (1, from.length_mm < 541.0));
        }
    }
}

#[test]
fn the_shopping_list_is_as_counted_by_hand() {
    let report = told();
    let items = &report.shopping.as_ref().expect("a car has a shopping list").items;
    let of = |group: &str| items.iter().filter(|item| item.group == group).collect::<Vec<&ItemReport>>();
    let amounts = |group: &str| of(group).iter().map(|item| item.amount).collect::<Vec<_>>();
    let long = |group: &str| of(group).iter().filter_map(|item| item.length_mm).collect::<Vec<_>>();
    assert_eq!((long("at hand"), long("hose")), (vec![540.0], vec![1000.0, 1000.0]), "from the cut list");
    // Two hoses of 16 mm have four ends, the one of 8 mm two; one clamp of each size to spare. 24 mm across takes size 16-27.
    assert_eq!((amounts("clamps"), of("clamps").iter().map(|item| item.spare).sum::<usize>()), (vec![5.0, 3.0], 2));
    assert!(of("clamps")[0].what.contains("16-27"), "{:?}", of("clamps")[0]);
    // The stub: 52 mm of hose, one plug, two clamps.
    assert_eq!((amounts("closures"), long("closures")), (vec![1.0, 1.0, 2.0], vec![52.0]));
    // The bottle's outlet hose and the bypass, with two clamps each.
    near(amounts("moulded hoses").iter().sum(), 1.0 + 1.0 + 4.0, 1e-9, "moulded hoses and their clamps");
    assert_eq!(amounts("while it is open"), [1.0], "the bypass comes off the thermostat");
    // 7.5 l are held, 2.5 l of 40 % stay: 5 l are poured. Wanted are 44.7 % (the table of freezing points at -30 °C), that is
    // 7.5 · 0.447 = 3.353 l of glycol, of which 2.5 · 0.4 = 1 l is there: 2.353 l, rounded up to 2.4 l; water for the rest.
    assert_eq!(amounts("coolant"), [2.4, 2.6]);
    assert!(of("elbows").is_empty() && of("sleeves").is_empty() && of("clips").is_empty(), "none is on any run");
    assert!(report.shopping.as_ref().is_some_and(|list| list.left_out.is_empty()));
}

#[test]
fn what_closes_a_stub_of_unknown_size_is_to_be_measured() {
    // A plug is clamped at both ends of its hose, a cap once.
    for (closed_by, what, clamps) in [
        ("hose and plug", "smooth round metal plug, as thick as the spigot, to be measured", 2.0),
        ("cap", "reinforced blanking cap for coolant, bore to be measured", 1.0),
    ] {
        let report = answer(&changed(&example_car(), |car| {
            let spigots = car["parts"][0]["spigots"].as_array_mut().expect("spigots");
            *spigots.last_mut().expect("the stub") =
                json!({ "name": "small stub", "role": "outlet", "closed_by": closed_by });
        }));
        let items = &report.shopping.as_ref().expect("a list").items;
        assert!(items.iter().any(|item| item.what == what), "{items:?}");
        let clamp = items.iter().find(|item| item.what.starts_with("worm drive clamp, for the hose as it sits"));
        assert_eq!(clamp.map(|item| (item.amount, item.group.as_str())), Some((clamps, "closures")), "{items:?}");
    }
}

#[test]
fn the_volume_is_as_reckoned_by_hand() {
    let report = told();
    let volume = &report.fill.as_ref().expect("a car is filled").volume;
    // New: three bores over their cut lengths.
    let new: f64 = ["heater flow", "heater return", "bottle hose"]
        .map(|name| cut(&report, name))
        .map(|(cut, bore)| litres(bore, cut))
        .iter()
        .sum();
    near(volume.new_l, new, 0.005, "new");
    // Of these only the bottle's has an old one: π · 8²/4 · 420 = 21 112 mm³.
    near(volume.old_l, litres(8.0, 420.0), 0.005, "old");
    // Left out: 16 mm over 260 + 330 + 400 + 450 + 240 = 1680 mm, that is 201.06 · 1680 = 337 785 mm³; the steel line 14 mm
    // over 600 mm, 153.94 · 600 = 92 363 mm³: 0.430 l.
    near(litres(16.0, 1680.0) + litres(14.0, 600.0), 0.430, 5e-4, "by hand");
    near(volume.left_out_l, 0.43, 1e-9, "left out");
    // What is counted before and after: the bottle's hose against its old one, less what is left out.
    let change =
        litres(8.0, cut(&report, "bottle hose").0) - litres(8.0, 420.0) - litres(16.0, 1680.0) - litres(14.0, 600.0);
    near(volume.change_l, change, 0.005, "change");
    near(volume.holds_l.expect("it was said"), 7.5 + change, 0.005, "holds");
    assert_eq!(volume.not_counted, ["heater flow", "heater return"], "what was there before them is not told");
}

#[test]
fn a_ring_of_things_in_each_others_way_is_named() {
    let knot = changed(&example_car(), |car| {
        let relations = car["relations"].as_array_mut().expect("relations");
        relations.push(json!({ "what": "heater return", "is": "in the way of", "of": "battery" }));
    });
    let report = answer(&knot);
    let knots = &report.order.as_ref().expect("an order").knots;
    assert_eq!(knots.len(), 1, "{knots:?}");
    for name in ["battery", "battery tray", "heater return"] {
        assert!(knots[0].what.contains(name), "{}", knots[0].what);
    }
}

#[test]
fn without_its_bypass_the_bulb_stands_still_and_two_ends_are_open() {
    let cut = changed(&example_car(), |car| {
        let lines = car["lines"].as_array_mut().expect("lines");
        let bypass = lines.iter_mut().find(|line| line["name"] == "bypass hose").expect("a bypass");
        bypass["decision"] = Value::from("leave out");
    });
    let report = answer(&cut);
    let findings = &report.circuit.as_ref().expect("a circuit").findings;
    let mut kinds: Vec<_> = findings.iter().map(|finding| finding.kind.as_str()).collect();
    kinds.sort_unstable();
    // Shut, nothing flows past the bulb: the head's other way out, to the rail, leaves before the thermostat.
    assert_eq!(kinds.iter().filter(|kind| **kind == "open end").count(), 3, "{kinds:?}");
    assert!(kinds.contains(&"bulb"), "{kinds:?}");
}
