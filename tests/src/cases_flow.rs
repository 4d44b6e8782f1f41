//! Flow through the door: what a hose costs in pressure, and what is left of the flow before.

use crate::cases::{broad, changed, finding, job, near, only};
use crate::table::rows;
use job::FindingReport;
use serde_json::{Value, json};
use std::f64::consts::{FRAC_PI_2, FRAC_PI_4};

/// A hose straight along x, as good as taut, on spigots of its own bore, with a wall of a quarter of it; more of the run and
/// the conditions changed.
fn straight(bore: f64, free: f64, conditions: &Value, change: impl FnOnce(&mut Value)) -> FindingReport {
    let end = |x: f64, points: i32| json!({ "spigot_mm": bore, "bead_mm": "none", "seat_mm": 30, "at_mm": [x, 0, 0], "points": [points, 0, 0], "on": "body" });
    let mut run = json!({ "from": end(0.0, 1), "to": end(free, -1), "rock_mm": [0, 0, 0], "try_cut_mm": free + 60.0 + 0.001,
        "hose": { "bore_mm": bore, "wall_mm": bore / 4.0 } });
    change(&mut run);
    let report = broad(&changed(&job(&run), |job| job["conditions"] = conditions.clone()));
    finding(only(&report), "flow", "").clone()
}

#[test]
fn reynolds_and_friction_are_those_of_the_tables() {
    // Another program with CoolProp's properties; ours are within 2 % where the coolant is one of ours. Smooth rows alone: the
    // bore of rubber is taken as smooth. The loss is per metre; the door's straight part is that of the free length.
    let text = include_str!("../reference/hose_dp_cases.csv");
    let names = text.lines().filter(|line| !line.starts_with('#')).skip(1);
    let (mut compared, mut worst) = (0, [0.0_f64; 3]);
    for (row, line) in rows(text).iter().zip(names) {
        let coolant = match line.split(',').next().expect("a name") {
            "water" => json!({ "glycol": "ethylene", "percent_by_volume": 0 }),
            name if name.starts_with("MEG 50 vol%") => json!({ "glycol": "ethylene", "percent_by_volume": 50 }),
            // 50 % by mass: volume by 1036.2 and 998.2 kg/m³.
            name if name.starts_with("MPG 50 mass%") => {
                let (glycol, water) = (0.5 / 1036.2, 0.5 / 998.2);
                json!({ "glycol": "propylene", "percent_by_volume": 100.0 * glycol / (glycol + water) })
            }
            _ => continue,
        };
        if row["eps_um"] > 0.0 {
            continue;
        }
        let free = 250.0;
        let conditions = json!({ "coolant": coolant, "coolant_c": row["T_C"], "flow_l_min": row["Q_L_min"] });
        let found = straight(row["d_mm"], free, &conditions, |_| {});
        let off = |name: &str, theirs: f64| found.extra[name] / theirs - 1.0;
        let loss = row["dp_Pa_per_m"] * free / 1000.0;
        let offs = [off("reynolds", row["Re"]), off("friction_factor", row["f"]), off("loss_straight_pa", loss)];
        for (k, off) in offs.into_iter().enumerate() {
            assert!(off.abs() < 0.02, "{k}: {off} {row:?} {found:?}");
            worst[k] = worst[k].max(off.abs());
        }
        near(found.extra["loss_bends_pa"], 0.0, 1e-9, "no bends");
        compared += 1;
    }
    assert!(compared >= 90, "{compared}");
    println!("{compared} rows; worst of Reynolds, friction, loss: {worst:.4?}");
}

#[test]
fn friction_of_the_door_is_churchills_at_its_reynolds_number() {
    // fluids 1.3.1, Churchill 1977, smooth; between its Reynolds numbers by halving logarithms.
    let table = rows(include_str!("../reference/friction_darcy.csv"));
    let smooth: Vec<(f64, f64)> = table
        .iter()
        .filter(|row| row["rel_roughness"].abs() < 1e-12)
        .map(|row| (row["Re"], row["f_Churchill_lib"]))
        .collect();
    let water = json!({ "glycol": "ethylene", "percent_by_volume": 0 });
    let at =
        |flow: f64| straight(16.0, 200.0, &json!({ "coolant": water, "coolant_c": 90, "flow_l_min": flow }), |_| {});
    let one = at(1.0).extra["reynolds"];
    let mut compared = 0;
    for (reynolds, friction) in smooth {
        let flow = reynolds / one;
        if !(0.05..200.0).contains(&flow) {
            continue;
        }
        let found = at(flow);
        near(found.extra["reynolds"] / reynolds, 1.0, 1e-6, "as asked");
        // The flow is told as it was typed; Reynolds' number to a thousandth, the factor to a millionth.
        near(found.extra["friction_factor"], friction, 2e-6, &format!("{reynolds}"));
        compared += 1;
    }
    assert!(compared >= 12, "{compared}");
}

/// The example's coolant at 10 l/min in a 16 mm hose, by the table: density and viscosity.
const DENSITY: f64 = 1030.95;

/// Dynamic pressure at 10 l/min in a bore, Pa.
fn dynamic(bore: f64) -> f64 {
    let speed = 10.0 / 60_000.0 / (FRAC_PI_4 * bore * bore * 1e-6);
    DENSITY * speed * speed / 2.0
}

#[test]
fn a_straight_run_and_its_spigots_cost_what_they_do_by_hand() {
    let found = straight(16.0, 500.0, &json!({ "coolant_c": 90 }), |_| {});
    // 601 Pa a metre at 10 l/min, 90 °C, half ethylene glycol: hose_dp_cases.csv.
    near(found.extra["loss_straight_pa"] / (601.0 / 2.0), 1.0, 0.01, "half a metre");
    // Spigots with walls of 1 mm (our choice): 14 in 16. Out of A Borda and Carnot (1 - β²)², into B ½ (1 - β²), on the speed in 14.
    let narrow = 14.0 * 14.0 / (16.0 * 16.0);
    let steps = dynamic(14.0) * ((1.0 - narrow) * (1.0 - narrow) + 0.5 * (1.0 - narrow));
    near(found.extra["loss_spigots_pa"] / steps, 1.0, 0.002, "steps");
    let sum: f64 =
        ["straight", "bends", "spigots", "flattened"].map(|part| found.extra[&format!("loss_{part}_pa")]).iter().sum();
    near(found.extra["loss_pa"], sum, 0.003, "the parts make the whole");
}

/// Loss factor of a bend of 90° by `bend_loss.csv`, between its Reynolds numbers 10,000 and 20,000.
fn quarter_turn(reynolds: f64, ratio: f64) -> f64 {
    let table = rows(include_str!("../reference/bend_loss.csv"));
    let k = |reynolds: f64| {
        let row = table.iter().find(|row| {
            (row["Re"] - reynolds).abs() < 1.0
                && (row["R_over_d"] - ratio).abs() < 1e-9
                && (row["angle_deg"] - 90.0).abs() < 1e-9
        });
        row.unwrap_or_else(|| panic!("no row for {reynolds}"))["K_Rennels"]
    };
    let (lo, hi) = (10_000.0, 20_000.0);
    let part = libm::log(reynolds / lo) / libm::log(hi / lo);
    libm::exp(libm::log(k(lo)) * (1.0 - part) + libm::log(k(hi)) * part)
}

#[test]
fn an_elbow_with_its_joiner_costs_its_bend_its_legs_and_two_steps() {
    // An elbow of 20 to the inside: 32 to its centre line with half the bore and a wall of 4, twice the bore.
    let elbow =
        json!({ "end": "A", "leg_mm": 40, "bend_deg": 90, "towards": [0, 0, 1], "inside_mm": 20, "far_leg_mm": 40 });
    let conditions = json!({ "coolant_c": 90 });
    let bare = straight(16.0, 500.0, &conditions, |_| {});
    assert!(bare.extra.get("loss_elbows_pa").is_none(), "no elbow, none told");
    let found = straight(16.0, 500.0, &conditions, |run| {
        // The hose begins on the joiner: lead it from there, upwards.
        run["to"]["at_mm"] = json!([72, 0, 600]);
        run["to"]["points"] = json!([0, 0, -1]);
        run["elbows"] = json!([elbow]);
    });
    let by_hand =
        quarter_turn(found.extra["reynolds"], 2.0) * dynamic(16.0) + 601.0 * 0.08 + bare.extra["loss_spigots_pa"];
    near(found.extra["loss_elbows_pa"] / by_hand, 1.0, 0.03, "by hand");
}

#[test]
fn a_quarter_turn_costs_what_the_tables_say() {
    // A quarter circle of 160, R/d 10, at Re 16 500: between the rows for 90° of bend_loss.csv; friction along it counted in.
    let end = |at: [f64; 3], points: [f64; 3]| json!({ "spigot_mm": 16, "bead_mm": "none", "seat_mm": 30, "at_mm": at, "points": points, "on": "body" });
    let run = json!({ "from": end([0.0; 3], [1.0, 0.0, 0.0]), "to": end([160.0, 160.0, 0.0], [0.0, -1.0, 0.0]), "rock_mm": [0, 0, 0],
        "hose": { "bore_mm": 16, "wall_mm": 4 }, "try_cut_mm": 160.0 * FRAC_PI_2 + 60.0 });
    let report = broad(&changed(&job(&run), |job| job["conditions"] = json!({ "coolant_c": 90 })));
    let found = finding(only(&report), "flow", "").clone();
    let reynolds = found.extra["reynolds"];
    near(reynolds / 16_500.0, 1.0, 0.02, "physics by the table");
    let between = quarter_turn(reynolds, 10.0);
    // What is not a bend is straight; the hose sags a little and is no perfect circle. 3 % is Churchill's own (coolant_flow.rs).
    let told = (found.extra["loss_bends_pa"] + found.extra["loss_straight_pa"]) / dynamic(16.0);
    near(told / between, 1.0, 0.05, "a quarter turn");
}

/// The flow left, in percent, and the verdict, beside a hose that was so long and wide.
fn left(bore: f64, free: f64, was: &Value, rest: Option<f64>) -> (f64, String, String) {
    let conditions = json!({ "coolant_c": 90, "rest_of_branch_kpa": rest });
    let found = straight(bore, free, &conditions, |run| {
        run["replaces"] = was.clone();
        // Both spigots fit the bore; what is asked about is the hose.
        run["hose"]["wall_mm"] = json!(4);
    });
    (found.actual.expect("a number"), found.verdict, found.why)
}

#[test]
fn a_longer_hose_lets_less_through_and_a_shorter_one_more() {
    let was = |length: f64| json!({ "length_mm": length, "bore_mm": 16 });
    let [short, same, long] = [250.0, 560.0, 2000.0].map(|length| left(16.0, 500.0, &was(length), None).0);
    assert!(short < same && same < long, "{short} {same} {long}");
    // As long as before: the two bends that were in the old hose are gone, so a little more flows.
    assert!((100.0..103.0).contains(&same), "{same}");
    // By hand: the branch had 8 kPa in the rest and K v² in the hose; all but nearly by the square of the flow.
    let metre = 601.0;
    let steps = 290.0;
    let bends = 2.0 * 94.0;
    let before = 8000.0 + steps + bends + metre * (2.0 - 0.06 - 2.0 * FRAC_PI_2 * 0.048);
    let after = 8000.0 + steps + metre * 0.5;
    near(long, 100.0 * (before / after).sqrt(), 1.0, "2 m before");
    assert_eq!(left(16.0, 500.0, &was(560.0), None).1, "pass");
}

#[test]
fn what_was_not_said_of_the_hose_before_is_not_guessed() {
    let unknown = straight(16.0, 300.0, &json!({}), |_| {});
    assert!(unknown.verdict == "not checked" && unknown.extra["loss_pa"] > 0.0, "{unknown:?}");
    // A bore alone tells nothing; a length alone is taken with the bore of this hose; one that is all seat is none.
    for (was, checked) in
        [(json!({ "bore_mm": 19 }), false), (json!({ "length_mm": 400 }), true), (json!({ "length_mm": 59 }), false)]
    {
        let found = straight(16.0, 300.0, &json!({}), |run| run["replaces"] = was.clone());
        assert_eq!(found.verdict != "not checked", checked, "{was} {found:?}");
    }
    // No flow, or a coolant that is frozen, has none to compare.
    for conditions in [json!({ "flow_l_min": 0 }), json!({ "coolant_c": -39 }), json!({ "coolant_c": 130 })] {
        let found = straight(16.0, 300.0, &conditions, |run| run["replaces"] = json!({ "length_mm": 400 }));
        assert_eq!(found.verdict, "not checked", "{conditions}");
    }
}

#[test]
fn a_long_narrow_hose_warns_and_the_rest_of_the_branch_softens_it() {
    // A metre and a half of 10 mm in the place of 140 mm of it, both on spigots of 8 mm inside.
    let was = json!({ "length_mm": 200, "bore_mm": 10 });
    let at = |rest: f64| left(10.0, 1500.0, &was, Some(rest));
    let (percent, verdict, why) = at(8.0);
    assert!(percent < 85.0 && verdict == "warn", "{percent} {verdict}");
    assert!(why.contains("heater will be weaker"), "{why}");
    // The more the rest of the branch loses, the less the hose matters; nothing else than the hose is the hardest.
    let [none, four, eight, forty] = [0.0, 4.0, 8.0, 40.0].map(|rest| at(rest).0);
    assert!(none < four && four < eight && eight < forty && forty < 100.0, "{none} {four} {eight} {forty}");
    assert_eq!(at(60.0).1, "pass");
    // By hand, for 8 and 4 kPa: Blasius, 0.3164 Re^-1/4, on 10 mm; steps of 8 in 10; two bends of bend_loss.csv, R/d 3, 0.27 each.
    let speed = 10.0 / 60_000.0 / (FRAC_PI_4 * 1e-4);
    let friction = 0.3164 / (DENSITY * speed * 0.01 / 0.829e-3).sqrt().sqrt();
    let narrow: f64 = 0.64;
    let steps = dynamic(8.0) * ((1.0 - narrow) * (1.0 - narrow) + 0.5 * (1.0 - narrow));
    let along = |straight: f64| dynamic(10.0) * friction * straight / 10.0;
    let before = steps + dynamic(10.0) * 2.0 * 0.27 + along(140.0 - 2.0 * FRAC_PI_2 * 30.0);
    for (rest, told) in [(4000.0, four), (8000.0, eight)] {
        // Friction goes by the flow to the power 1.75, all else by its square.
        let after = |part: f64| (rest + steps) * part * part + along(1500.0) * libm::pow(part, 1.75);
        let (mut lo, mut hi) = (0.0, 1.0);
        while hi - lo > 1e-6 {
            let middle = 0.5 * (lo + hi);
            if after(middle) > rest + before { hi = middle } else { lo = middle }
        }
        near(told, 100.0 * lo, 1.0, &format!("{rest}"));
    }
    // The other way round more flows than before.
    let short = left(10.0, 140.0, &json!({ "length_mm": 1560, "bore_mm": 10 }), Some(8.0));
    assert!(short.0 > 115.0 && short.1 == "pass", "{short:?}");
}

#[test]
fn a_narrow_hose_in_the_place_of_a_wide_one_lets_less_through() {
    // 15 mm in the place of 16 on the same spigots costs more, 17 less.
    let at = |bore: f64| {
        let found = straight(16.0, 800.0, &json!({ "coolant_c": 90, "rest_of_branch_kpa": 0.5 }), |run| {
            run["hose"] = json!({ "bore_mm": bore, "wall_mm": 4 });
            run["replaces"] = json!({ "length_mm": 860, "bore_mm": 16 });
        });
        found.actual.expect("a number")
    };
    let [narrow, same, wide] = [15.0, 16.0, 17.0].map(at);
    assert!(narrow < same - 3.0 && same + 3.0 < wide, "{narrow} {same} {wide}");
}

#[test]
fn a_step_at_a_spigot_is_told_where_it_throttles() {
    // A 12 mm spigot, 10 inside by our wall of 1 mm, into 16 mm of hose: β² = 0.390625, on the speed in 10.
    let found = straight(16.0, 200.0, &json!({ "coolant_c": 90, "rest_of_branch_kpa": 0.5 }), |run| {
        run["from"]["spigot_mm"] = json!(12);
        run["replaces"] = json!({ "length_mm": 100, "bore_mm": 16 });
    });
    let square = |x: f64| x * x;
    let wide = 14.0 * 14.0 / 256.0;
    let steps = dynamic(10.0) * square(1.0 - 100.0 / 256.0) + dynamic(14.0) * 0.5 * (1.0 - wide);
    near(found.extra["loss_spigots_pa"] / steps, 1.0, 0.002, "steps");
    // The old hose sat on the same spigot: the step takes nothing from the flow that was there before.
    assert!(found.actual.expect("a number") > 95.0, "{found:?}");
}
