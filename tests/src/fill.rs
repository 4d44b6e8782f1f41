//! Filling and proving: volumes by hand, what is told against the tables, every step with its source, and no nip-up of a spring.

use crate::cases::{actual, best, broad, near, text};
use crate::layouts::Draw;
use crate::typed_car::{bare, hose, job, part, some_run};
use job::input::{ConditionsInput, DecisionInput as Decision, Input, PartKindInput, RefillInput};
use job::{ClampAt, FillFacts, FillReport, HighPoint, NewRun, SaidReport, answer, fill};
use quantity::{Basis, Length, Moment, Pressure, Volume};
use stock::Stock;

fn keys(report: &FillReport) -> Vec<&str> {
    report.steps.iter().map(|step| step.key.as_str()).collect()
}

fn step<'a>(report: &'a FillReport, key: &str) -> &'a SaidReport {
    report.steps.iter().find(|step| step.key == key).unwrap_or_else(|| panic!("no {key}: {:?}", keys(report)))
}

fn new_run(run: usize, bore: f64, length: f64) -> NewRun {
    NewRun { run, name: format!("run {run}"), bore: Length::mm(bore), length: Length::mm(length) }
}

fn clamp(place: &str, follows: bool, again: Option<f64>) -> ClampAt {
    let again = again.map(|nm| (Moment::nm(nm), Moment::nm(0.2)));
    ClampAt { place: place.to_owned(), follows, again }
}

/// A car whose heater flow is replaced and whose return line is left out; a tap, a bleed screw and a bottle are there.
fn typed() -> Input {
    let mut typed = Input {
        parts: vec![
            part("engine", PartKindInput::Block, ["a", "b", "c", "d"].map(bare).to_vec()),
            part("heater tap", PartKindInput::Tap, vec![]),
            part("bleed screw", PartKindInput::BleedScrew, vec![]),
            part("bottle", PartKindInput::ExpansionBottle, vec![]),
        ],
        lines: vec![
            hose("heater flow", ("engine", "a"), ("engine", "b"), Decision::Universal),
            hose("return", ("engine", "c"), ("engine", "d"), Decision::LeaveOut),
        ],
        conditions: ConditionsInput {
            cap_kpa: Some(110.0),
            coolant_c: Some(95.0),
            refill: Some(RefillInput { holds_l: Some(8.0), left_l: Some(3.0), ..RefillInput::default() }),
            ..ConditionsInput::default()
        },
        ..Input::default()
    };
    let refill = &mut typed.conditions.refill;
    refill.as_mut().expect("just put there").protect_to_c = Some(-37.0);
    typed
}

#[test]
fn the_change_of_volume_by_hand() {
    let mut typed = typed();
    typed.runs.push(some_run("run 0"));
    typed.lines[0].run = Some("run 0".into());
    (typed.lines[0].bore_mm, typed.lines[0].length_mm) = (Some(19.0), Some(900.0));
    (typed.lines[1].bore_mm, typed.lines[1].length_mm) = (Some(16.0), Some(2000.0));
    let job = job(&typed);
    let facts = FillFacts {
        holds: Some(Volume::litres(8.0)),
        runs: vec![new_run(0, 16.0, 1000.0), new_run(7, 13.0, 500.0)],
        ..FillFacts::default()
    };
    let volume = fill(job.car(), &facts).volume;
    // π/4 · 16² · 1000 = 0.2011 l and π/4 · 13² · 500 = 0.0664 l are new; π/4 · 19² · 900 = 0.2552 l was there, and
    // π/4 · 16² · 2000 = 0.4021 l is left out: 0.2011 − 0.2552 − 0.4021 = −0.456. What run 7 takes the place of nobody said.
    near(volume.new_l, 0.27, 1e-9, "new");
    near(volume.old_l, 0.26, 1e-9, "old");
    near(volume.left_out_l, 0.40, 1e-9, "left out");
    near(volume.change_l, -0.46, 1e-9, "change");
    near(volume.holds_l.expect("told"), 7.54, 1e-9, "holds");
    assert_eq!(volume.not_counted, ["run 7"]);
    let report = fill(job.car(), &facts);
    assert!(step(&report, "volume").what.contains("0.46 l less") && step(&report, "volume").what.contains("run 7"));
    // Universal hose that was not sized: what it will hold is not known.
    typed.lines[1].decision = Some(Decision::Universal);
    assert_eq!(fill(self::job(&typed).car(), &facts).volume.not_counted, ["run 7", "return"]);
    typed.lines[1].decision = Some(Decision::LeaveOut);
    // The same line left out after all: its run is not fitted, and what was there is gone.
    typed.lines[0].decision = Some(Decision::LeaveOut);
    let volume = fill(self::job(&typed).car(), &FillFacts { runs: vec![new_run(0, 16.0, 1000.0)], ..facts }).volume;
    near(volume.new_l, 0.0, 1e-9, "new");
    near(volume.change_l, -0.66, 1e-9, "0.2552 and 0.4021 are gone");
}

#[test]
fn longer_and_wider_holds_more_and_the_same_holds_the_same() {
    let mut typed = typed();
    typed.runs.push(some_run("run 0"));
    typed.lines[0].run = Some("run 0".into());
    (typed.lines[0].bore_mm, typed.lines[0].length_mm) = (Some(16.0), Some(800.0));
    typed.lines[1].decision = Some(Decision::Keep);
    let job = job(&typed);
    let change = |bore: f64, length: f64| {
        let facts = FillFacts { runs: vec![new_run(0, bore, length)], ..FillFacts::default() };
        fill(job.car(), &facts).volume.change_l
    };
    near(change(16.0, 800.0), 0.0, 1e-9, "as before");
    assert!(change(16.0, 1200.0) > 0.0 && change(19.0, 800.0) > 0.0 && change(13.0, 800.0) < 0.0, "order");
}

#[test]
fn the_steps_stand_in_their_order_with_what_the_tables_say() {
    let typed = typed();
    let (job, report) = (job(&typed), answer(&typed, &Stock::built_in()));
    let facts = FillFacts {
        coolant: Some(&report.coolant),
        refill: report.refill.as_ref(),
        holds: Some(Volume::litres(8.0)),
        cap: Some(Pressure::kpa(110.0)),
        altitude: Some(Length::mm(0.0)),
        clamps: vec![clamp("engine, a", false, Some(0.7))],
        high_points: vec![HighPoint {
            run: "heater flow".into(),
            above_ends: Some(Length::mm(40.0)),
            above_filler: Some(Length::mm(-10.0)),
            higher_end: None,
        }],
        ..FillFacts::default()
    };
    let told = fill(job.car(), &facts);
    assert_eq!(
        keys(&told),
        [
            "closed",
            "cold",
            "slowly",
            "heater",
            "bleed screw",
            "mix",
            "frost",
            "boils",
            "high point: heater flow",
            "fill from",
            "squeeze",
            "room",
            "proof",
            "start",
            "warm",
            "opens",
            "flat",
            "hot",
            "no hot cap",
            "cold again",
            "nip up",
            "level",
            "dispose",
            "manual",
        ]
    );
    // The return line leaves two spigots open.
    assert_eq!(step(&told, "closed").number("spigots_to_close"), Some(2.0));
    assert!(step(&told, "heater").what.contains("heater tap"), "{told:?}");
    // As the refill says it: half ethylene glycol freezes at −37 °C (an engine maker's figure), boils at 130.8 °C under
    // 110 kPa (reference/boiling_points.csv), grows by 4.5 % of 8 l (reference/coolant_expansion.csv).
    near(step(&told, "mix").number("pour_l").expect("told"), 4.0, 0.11, "concentrate");
    near(step(&told, "frost").number("freezes_c").expect("told"), -37.0, 0.3, "frost");
    let boils = step(&told, "boils");
    near(boils.number("boils_c").expect("told"), 130.8, 0.06, "boils");
    assert!(boils.what.contains("131 °C") && boils.what.contains("110 kPa") && boils.what.contains("0 m"), "{boils:?}");
    near(step(&told, "room").number("grows_l").expect("told"), 0.36, 0.011, "grows");
    assert!(step(&told, "room").what.contains("expansion bottle"), "{told:?}");
    assert_eq!(step(&told, "proof").number("cap_kpa"), Some(110.0));
    assert_eq!(step(&told, "nip up").number("again_nm"), Some(0.7));
    // Without the refill: from the coolant alone, 4.5 % of what it holds.
    let told = fill(job.car(), &FillFacts { refill: None, ..facts });
    near(step(&told, "room").number("grows_l").expect("told"), 0.36, 0.011, "grows");
    assert!(step(&told, "mix").what.contains("50 %"), "{told:?}");
}

// By its key each is ticked off: what stands twice on the screen is two.
#[test]
fn every_step_and_every_look_has_a_key_of_its_own() {
    let car = job(&typed());
    let clamps = vec![clamp("worm a", false, Some(0.7))];
    let told = fill(car.car(), &FillFacts { clamps, ..FillFacts::default() });
    let looks = told.weeps.iter().flat_map(|weep| &weep.look);
    let mut all: Vec<&str> = told.steps.iter().chain(looks).map(|said| said.key.as_str()).collect();
    let count = all.len();
    all.sort_unstable();
    all.dedup();
    assert_eq!(all.len(), count, "{all:?}");
}

#[test]
fn a_spring_band_is_not_nipped_up() {
    let car = job(&typed());
    let with = |clamps: Vec<ClampAt>| fill(car.car(), &FillFacts { clamps, ..FillFacts::default() });
    let cold = |report: &FillReport| report.weeps[0].look[0].key.clone();
    let springs = with(vec![clamp("spring a", true, None), clamp("spring b", true, None)]);
    assert!(!keys(&springs).contains(&"nip up"), "{springs:?}");
    let all = format!("{springs:?}");
    assert!(!all.contains("nip it up") && !all.contains("Nip up") && !all.contains("screws"), "{all}");
    assert_eq!(cold(&springs), "cold only: dirt");
    let mixed = with(vec![
        clamp("spring a", true, None),
        clamp("worm b", false, Some(0.7)),
        clamp("worm c", false, Some(0.7)),
        clamp("worm d", false, None),
    ]);
    let nip = step(&mixed, "nip up");
    assert!(nip.what.contains("worm b and worm c to 0.7 ± 0.2 N·m; worm d as its maker says"), "{}", nip.what);
    assert!(!nip.what.contains("spring a"), "{}", nip.what);
    assert_eq!(cold(&mixed), "cold only: nip up");
    // It comes after the first heat: behind the warm-up and the cold look, before the level.
    let place = |key: &str| keys(&mixed).iter().position(|known| *known == key).expect("it is there");
    assert!(place("warm") < place("cold again") && place("cold again") < place("nip up"), "{:?}", keys(&mixed));
    // Nothing known of the clamps: those with a screw, and the springs let be.
    assert!(step(&with(vec![]), "nip up").what.contains("Leave spring bands alone"));
}

fn every_word(report: &FillReport) -> Vec<&SaidReport> {
    let weeps = report.weeps.iter().flat_map(|weep| &weep.look);
    report.steps.iter().chain(weeps).chain(report.next_looks.iter().map(|next| &next.look)).collect()
}

#[test]
fn every_step_has_its_source_and_every_crest_its_step() {
    let mut draw = Draw(11);
    let (mut above, mut between) = (0, 0);
    for _ in 0..300 {
        let car = job(&if draw.between(0.0, 1.0) < 0.5 { Input::default() } else { typed() });
        let n = draw.between(0.0, 5.0);
        let mut points = Vec::new();
        for i in (0..5).take_while(|i| f64::from(*i) < n) {
            let maybe =
                |draw: &mut Draw| (draw.between(0.0, 1.0) < 0.8).then(|| Length::mm(draw.between(-200.0, 200.0)));
            let [above_ends, above_filler] = [0, 1].map(|_| maybe(&mut draw));
            let higher_end = (draw.between(0.0, 1.0) < 0.5).then(|| format!("spigot {i}"));
            points.push(HighPoint { run: format!("run {i}"), above_ends, above_filler, higher_end });
        }
        let clamps =
            (0..3).filter(|_| draw.between(0.0, 1.0) < 0.5).map(|i| clamp(&format!("place {i}"), i == 0, Some(3.0)));
        let facts = FillFacts { high_points: points.clone(), clamps: clamps.collect(), ..FillFacts::default() };
        let report = fill(car.car(), &facts);
        for said in every_word(&report) {
            assert!(said.source.len() > 8 && Basis::from_text(&said.basis).is_some(), "{said:?}");
            assert!(said.what.ends_with('.') && !said.what.contains("  "), "{said:?}");
        }
        let told = keys(&report);
        assert!(told.iter().enumerate().all(|(i, key)| !told[..i].contains(key)), "each key once: {told:?}");
        let is_up = |height: Option<Length>| height.is_some_and(|height| height > Length::ZERO);
        let mut highest: Option<&HighPoint> = None;
        for point in &points {
            let [filler, crest] =
                ["above filler", "high point"].map(|what| told.contains(&format!("{what}: {}", point.run).as_str()));
            assert_eq!(filler, is_up(point.above_filler), "{point:?}");
            assert_eq!(crest, is_up(point.above_ends) && !filler, "{point:?}");
            above += usize::from(filler);
            between += usize::from(crest);
            let higher = |known: &HighPoint| point.above_filler > known.above_filler;
            if filler && highest.is_none_or(higher) {
                highest = Some(point);
            }
        }
        let from = &step(&report, "fill from").what;
        match highest {
            Some(point) => {
                assert!(from.contains(&format!("Fill {} first", point.run)), "{from}");
                assert!(point.higher_end.as_ref().is_none_or(|end| from.contains(end.as_str())), "{from}");
            }
            None => assert!(from.starts_with("Fill at the filler"), "{from}"),
        }
        let when: Vec<_> = report.weeps.iter().map(|weep| weep.when.as_str()).collect();
        assert_eq!(when, ["cold only", "hot only", "always"]);
        assert!(report.weeps.iter().all(|weep| weep.look.len() >= 3), "{report:?}");
        let days: Vec<_> = report.next_looks.iter().map(|next| next.after_days).collect();
        assert_eq!(days, [1, 7, 365, 1460]);
    }
    assert!(above > 100 && between > 100, "{above} {between}");
}

#[test]
fn the_usual_cautions_are_said() {
    let report = fill(job(&Input::default()).car(), &FillFacts::default());
    let all: String = report.steps.iter().map(|step| step.what.as_str()).collect::<Vec<_>>().join(" ");
    for word in
        ["poisonous", "stands", "slowly", "scalds", "fan", "local rules", "own manual", "licensed mechanic", "50 °C"]
    {
        assert!(all.contains(word), "{word}: {all}");
    }
}

#[test]
fn what_the_answers_to_the_runs_say_is_gathered() {
    // The hose over the top, beside a filler below its crest: as its own finding says it.
    let changed = crate::cases::changed(&text("over_the_top"), |job| {
        job["runs"].as_array_mut().expect("runs").truncate(1);
        job["conditions"]["filler_at_z_mm"] = serde_json::json!(-50.0);
        job["conditions"]["cap_kpa"] = serde_json::json!(110.0);
        job["conditions"]["refill"] = serde_json::json!({ "holds_l": 8.0 });
    });
    let typed = share::read(&changed).expect("a job file").input;
    let (job, report) = (job(&typed), broad(&changed));
    let facts = FillFacts::gather(&job, &report.runs, &report.coolant, report.refill.as_ref());
    let hose = best(&report.runs[0]);
    assert_eq!(facts.holds, Some(Volume::litres(8.0)));
    assert_eq!(
        facts.runs,
        [NewRun { name: report.runs[0].name.clone(), ..new_run(0, hose.hose.bore_mm, hose.cut_mm) }]
    );
    let [point] = facts.high_points.as_slice() else { panic!("{facts:?}") };
    near(point.above_filler.expect("told").as_mm(), actual(hose, "air trap", "filler"), 1e-9, "above the filler");
    assert!(point.higher_end.is_some(), "{point:?}");
    let told = fill(job.car(), &facts);
    assert!(keys(&told).contains(&format!("above filler: {}", report.runs[0].name).as_str()), "{:?}", keys(&told));
    // TM 5-3895-382-24 Table 11: 0.7 ± 0.2 N·m for a band of 7.9 mm, 3.0 ± 0.5 for one of 13.5; SAE J1508 type F lets its
    // band be 12.6 to 14.5 mm wide.
    let nip = &step(&told, "nip up").what;
    let want = "bands of 9 mm to 0.7 ± 0.2 N·m; bands of 12 mm and bands of 12.6 to 14.5 mm to 3.0 ± 0.5 N·m.";
    assert!(nip.ends_with(want), "{nip}");
}
