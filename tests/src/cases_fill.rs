//! What to pour, through the door: a worked example, the balance of volumes, and what is refused.

use crate::cases::near;
use crate::layouts::Draw;
use crate::table::rows;
use job::{RefillReport, Report};
use serde_json::{Value, json};
use stock::Stock;

fn asked(conditions: &Value) -> Report {
    let job =
        json!({ "format": "hosewright-job", "version": 1, "car": "invented", "conditions": conditions, "runs": [] });
    share::answer(&job.to_string(), &Stock::built_in()).unwrap_or_else(|why| panic!("{why}"))
}

fn told(conditions: &Value) -> RefillReport {
    let report = asked(conditions);
    assert!(report.problems.is_empty(), "{:?}", report.problems);
    report.refill.unwrap_or_else(|| panic!("nothing told: {conditions}"))
}

fn of(refill: &Value) -> RefillReport {
    told(&json!({ "refill": refill }))
}

#[test]
fn eight_litres_with_three_of_water_left_take_four_of_concentrate_and_one_of_water() {
    // By hand: -37 °C wants half (an engine maker's figure, and the table between -36.4 at 49.6 % and -37.9 at 50.6 %):
    // 0.5 · 8 - 0 · 3 = 4 l, and 8 - 3 - 4 = 1 l.
    let fill = of(&json!({ "holds_l": 8, "left_l": 3, "protect_to_c": -37 }));
    assert_eq!(fill.kind, "pour");
    near(fill.wanted_percent, 50.0, 0.11, "wanted");
    let (pour, water) = (fill.pour_l.expect("told"), fill.water_l.expect("told"));
    near(pour, 4.0, 0.11, "concentrate, rounded up");
    near(pour + water, 5.0, 1e-9, "what was drained");
    assert!(fill.freezes_c.expect("told") <= -37.0 + 0.05, "{fill:?}");
    assert!(fill.what.contains(&format!("{pour:.1} l of concentrate")), "{}", fill.what);
    // Half said of the coolant instead of the frost: just so.
    let half = told(
        &json!({ "coolant": { "glycol": "ethylene", "percent_by_volume": 50 }, "refill": { "holds_l": 8, "left_l": 3 } }),
    );
    assert_eq!((half.pour_l, half.water_l, half.ends_percent.to_bits()), (Some(4.0), Some(1.0), 50.0_f64.to_bits()));
    // Half is taken where nothing is said: common practice.
    assert_eq!(
        of(&json!({ "holds_l": 8, "left_l": 3 })),
        told(&json!({ "refill": { "holds_l": 8, "left_l": 3 },
        "coolant": { "glycol": "ethylene", "percent_by_volume": 50 } }))
    );
}

#[test]
fn what_it_ends_at_freezes_boils_and_grows_as_the_tables_say() {
    let fill = told(&json!({ "cap_kpa": 110, "coolant_c": 95, "refill": { "holds_l": 8, "left_l": 3 } }));
    // Half ethylene glycol: -37 °C (an engine maker's figure), 130.8 °C under 110 kPa (boiling_points.csv), and from 20 to
    // 95 °C 4.5 % more (coolant_expansion.csv), 0.36 l of 8.
    near(fill.freezes_c.expect("told"), -37.0, 0.3, "freezes");
    near(fill.boils_c.expect("told"), 130.8, 0.051, "boils");
    near(fill.grows_l.expect("told"), 0.36, 0.011, "grows");
    assert_eq!(of(&json!({ "holds_l": 8 })).boils_c, None, "without the cap");
    // Every row of the table of inhibited ethylene glycol and of Lange's of propylene glycol to 60 %: asked for that frost, the
    // strength is that row's.
    let text = include_str!("../reference/freeze_points.csv");
    let lines = text.lines().filter(|line| line.starts_with('M'));
    let mut compared = 0;
    for (row, line) in rows(text).iter().zip(lines) {
        let (Some(frost), strength) = (row.get("T_freeze_table_C"), row["volume_fraction"]) else { continue };
        if !(0.04..=0.6).contains(&strength) {
            continue;
        }
        let glycol = if line.starts_with("MEG") { "ethylene" } else { "propylene" };
        let fill = told(&json!({ "coolant": { "glycol": glycol, "percent_by_volume": 0 },
            "refill": { "holds_l": 10, "protect_to_c": frost } }));
        near(fill.wanted_percent, 100.0 * strength, 0.06, line);
        // To a tenth of a litre, up.
        let bare = 10.0 * strength;
        let pour = fill.pour_l.expect("told");
        assert!(pour >= bare - 1e-6 && pour < bare + 0.1, "{pour} {line}");
        assert!(fill.freezes_c.expect("told") <= frost + 0.051, "{fill:?} {line}");
        compared += 1;
    }
    assert!(compared >= 45, "{compared}");
}

/// Litres of glycol and of all there is, with so much poured into what stays.
fn strength(holds: f64, left: f64, left_percent: f64, poured_percent: f64, pour: f64) -> f64 {
    (left * left_percent + pour * poured_percent) / holds
}

#[test]
fn the_balance_closes_on_any_sum() {
    let mut draw = Draw(9);
    let mut kinds = std::collections::BTreeMap::<String, usize>::new();
    for _ in 0..600 {
        let tenth = |x: f64| (x * 10.0).round() / 10.0;
        let holds = tenth(draw.between(2.0, 20.0));
        let left = tenth(holds * draw.between(0.0, 0.9));
        let left_percent = if draw.between(0.0, 1.0) < 0.4 { 0.0 } else { tenth(draw.between(0.0, 70.0)) };
        let frost = tenth(draw.between(-48.0, -5.0));
        let pre_mix = (draw.between(0.0, 1.0) < 0.3).then(|| tenth(draw.between(30.0, 60.0)));
        let refill = json!({ "holds_l": holds, "left_l": left, "left_percent": left_percent, "protect_to_c": frost,
            "pre_mix_percent": pre_mix });
        let fill = of(&refill);
        let poured = pre_mix.unwrap_or(100.0);
        *kinds.entry(fill.kind.clone()).or_default() += 1;
        let ends = |pour: f64| strength(holds, left, left_percent, poured, pour);
        match fill.kind.as_str() {
            "pour" => {
                let (pour, water) = (fill.pour_l.expect("told"), fill.water_l.expect("told"));
                near(pour + water + left, holds, 0.051, &format!("{refill} {fill:?}"));
                near(fill.ends_percent, ends(pour), 0.051, &format!("{refill} {fill:?}"));
                assert!(ends(pour) >= fill.wanted_percent - 0.051, "{refill} {fill:?}");
                // No more than a tenth of a litre over the bare least.
                assert!(pour < 1e-9 || ends(pour - 0.1) < fill.wanted_percent + 0.051, "{refill} {fill:?}");
                assert!(fill.freezes_c.is_none_or(|freezes| freezes <= frost + 0.051), "{refill} {fill:?}");
            }
            "only water" => {
                near(fill.ends_percent, ends(0.0), 0.051, &format!("{refill} {fill:?}"));
                near(fill.water_l.expect("told") + left, holds, 1e-6, &format!("{refill} {fill:?}"));
                assert!(fill.pour_l == Some(0.0) && fill.ends_percent >= fill.wanted_percent, "{refill} {fill:?}");
                // With no more left than told, it is no stronger than asked.
                let most = fill.leave_at_most_l.expect("told");
                near(
                    most * left_percent / holds,
                    fill.wanted_percent,
                    0.051 + 0.051 * left_percent / holds,
                    &format!("{refill} {fill:?}"),
                );
            }
            "drain more" => {
                near(fill.ends_percent, ends(holds - left), 0.051, &format!("{refill} {fill:?}"));
                assert!(fill.ends_percent < fill.wanted_percent + 0.051, "{refill} {fill:?}");
                // Done so, it gets there.
                let (drain, most) = (fill.drain_l.expect("told"), fill.leave_at_most_l.expect("told"));
                assert!(drain <= left + 0.1 && left - drain <= most + 0.101, "{refill} {fill:?}");
                let mut again = refill.clone();
                again["left_l"] = json!((left - drain).max(0.0));
                let done = of(&again);
                assert!(
                    done.kind == "pour" && done.ends_percent >= fill.wanted_percent - 0.051,
                    "{refill} {fill:?} {done:?}"
                );
                assert!(fill.what.contains(&format!("drain {drain:.1} l more")), "{}", fill.what);
            }
            "too weak" => {
                assert!(
                    poured < fill.wanted_percent + 0.051 && fill.ends_percent < fill.wanted_percent + 0.051,
                    "{refill} {fill:?}"
                );
                near(fill.ends_percent, ends(holds - left), 0.051, &format!("{refill} {fill:?}"));
            }
            other => panic!("{other}"),
        }
    }
    println!("{kinds:?}");
    assert!(kinds.len() == 4 && kinds.values().all(|n| *n > 20), "{kinds:?}");
}

#[test]
fn what_cannot_be_done_is_said_by_its_kind() {
    // By hand: 5 l of 8 of water stay, half is wanted: at most 4 may, so 1 more; filled as it is 3/8 = 37.5 %.
    let drain = of(&json!({ "holds_l": 8, "left_l": 5 }));
    assert_eq!((drain.kind.as_str(), drain.drain_l, drain.leave_at_most_l), ("drain more", Some(1.0), Some(4.0)));
    near(drain.ends_percent, 37.5, 0.051, "as it is");
    assert_eq!((drain.pour_l, drain.water_l), (None, None));
    // 6 l of 60 % stay in 8, half is wanted: 45 % is too weak, so concentrate; 7 l of 60 % are 52.5 %: only water.
    assert_eq!(of(&json!({ "holds_l": 8, "left_l": 6, "left_percent": 60 })).kind, "pour");
    let water = of(&json!({ "holds_l": 8, "left_l": 7, "left_percent": 60 }));
    assert_eq!((water.kind.as_str(), water.water_l), ("only water", Some(1.0)));
    near(water.ends_percent, 52.5, 0.051, "stronger than asked");
    near(water.leave_at_most_l.expect("told"), 8.0 * 50.0 / 60.0, 0.051, "for just half");
    // A ready mix of a third does not come to half.
    let weak = of(&json!({ "holds_l": 8, "left_l": 3, "pre_mix_percent": 33 }));
    assert_eq!((weak.kind.as_str(), weak.pour_l), ("too weak", None));
    assert!(weak.what.contains("concentrate"), "{}", weak.what);
    near(weak.ends_percent, 100.0 * 5.0 * 0.33 / 8.0, 0.051, "filled with nothing else");
    // Of a ready mix of half an empty system takes all it holds.
    let ready = of(&json!({ "holds_l": 8, "pre_mix_percent": 50 }));
    assert_eq!((ready.kind.as_str(), ready.pour_l, ready.water_l), ("pour", Some(8.0), Some(0.0)));
}

#[test]
fn what_is_wrong_is_told_by_its_field() {
    for (refill, field) in [
        (json!({ "holds_l": 8, "protect_to_c": -60 }), "protect_to_c"),
        (json!({ "holds_l": 8, "protect_to_c": -90 }), "protect_to_c"),
        (json!({ "holds_l": 8, "left_l": 9 }), "left_l"),
        (json!({ "holds_l": 8, "left_l": -1 }), "left_l"),
        (json!({ "holds_l": 0.1 }), "holds_l"),
        (json!({ "holds_l": 8, "left_l": 3, "left_percent": 101 }), "left_percent"),
        (json!({ "holds_l": 8, "pre_mix_percent": 0 }), "pre_mix_percent"),
    ] {
        let report = asked(&json!({ "refill": refill }));
        let [problem] = report.problems.as_slice() else { panic!("{refill}: {:?}", report.problems) };
        assert_eq!(
            (problem.field.as_str(), problem.run),
            (format!("conditions.refill.{field}").as_str(), None),
            "{refill}"
        );
        assert!(!problem.wrong.is_empty() && !problem.right.is_empty(), "{problem:?}");
        assert_eq!(report.refill, None, "{refill}");
    }
    // The deepest frost that is known is named: the table's -48.3 at 57.8 %, and a little below at 60.
    let deep = asked(&json!({ "refill": { "holds_l": 8, "protect_to_c": -60 } }));
    let named: f64 = deep.problems[0].right.split(' ').next().and_then(|word| word.parse().ok()).expect("a number");
    assert!((-52.0..=-48.3).contains(&named), "{}", deep.problems[0].right);
    let just = of(&json!({ "holds_l": 8, "protect_to_c": -48.3 }));
    assert_eq!(just.kind, "pour");
    // What the system holds is not known: nothing to tell, nothing wrong.
    for refill in [json!({}), json!({ "left_l": 3 })] {
        let report = asked(&json!({ "refill": refill }));
        assert!(report.refill.is_none() && report.problems.is_empty(), "{report:?}");
    }
    // More than 60 % of glycol is taken as 60, and told, here as everywhere.
    let strong =
        asked(&json!({ "coolant": { "glycol": "ethylene", "percent_by_volume": 70 }, "refill": { "holds_l": 8 } }));
    assert_eq!(strong.problems.len(), 1);
    near(strong.refill.expect("told").wanted_percent, 60.0, 1e-9, "60 at the most");
}
