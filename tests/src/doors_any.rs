//! Any job that can be written reads back as it was, and any bytes at all have an answer: random but repeatable.

use crate::cases::example;
use job::input::{
    BeadInput, ConditionsInput, CoolantInput, CrankLineInput, ElbowInput, EndInput, FormInput, GlycolInput, HoseInput,
    Input, KindInput, LegInput, NeighbourInput, OnInput, RefillInput, ReplacesInput, RockInput, RunInput,
    SeatFromInput, ShieldInput, SideInput, SleeveInput, SpigotInput, StandsInput, TurnsInput, ViaInput,
};
use proptest::collection::{btree_map, vec};
use proptest::option::of;
use proptest::prelude::*;
use proptest::sample::{Index, select};
use proptest::test_runner::{RngAlgorithm, TestRng, TestRunner};
use stock::Stock;

/// Runs `claim` on `cases` values, the same ones every time.
fn always<S: Strategy>(cases: u32, any: &S, claim: impl Fn(S::Value) -> Result<(), TestCaseError>) {
    let config = ProptestConfig { cases, failure_persistence: None, ..ProptestConfig::default() };
    let mut runner = TestRunner::new_with_rng(config, TestRng::deterministic_rng(RngAlgorithm::ChaCha));
    if let Err(why) = runner.run(any, claim) {
        panic!("{why}");
    }
}

/// A number as a hand types it, to a thousandth; sound or not is not asked here.
fn number() -> impl Strategy<Value = f64> + Clone {
    prop_oneof![
        (-10_000_000..10_000_000).prop_map(|thousandths| f64::from(thousandths) / 1000.0),
        Just(0.0),
        Just(16.0)
    ]
}

fn place() -> impl Strategy<Value = [f64; 3]> {
    [number(), number(), number()]
}

fn words() -> impl Strategy<Value = String> {
    vec(any::<char>(), 0..8).prop_map(String::from_iter)
}

fn on() -> impl Strategy<Value = Option<OnInput>> {
    of(select(vec![OnInput::Engine, OnInput::Body]))
}

fn conditions() -> impl Strategy<Value = ConditionsInput> {
    let glycol = select(vec![GlycolInput::Ethylene, GlycolInput::Propylene]);
    let coolant = (glycol, number()).prop_map(|(glycol, percent_by_volume)| CoolantInput { glycol, percent_by_volume });
    let stands = number().prop_map(|nose_up_deg| StandsInput { nose_up_deg });
    let refill = vec(of(number()), 5).prop_map(|n| RefillInput {
        holds_l: n[0],
        left_l: n[1],
        left_percent: n[2],
        protect_to_c: n[3],
        pre_mix_percent: n[4],
    });
    // One that says nothing is not stored.
    let refill = of(refill).prop_map(|refill| refill.filter(|refill| *refill != RefillInput::default()));
    (vec(of(number()), 9), of(coolant), of(stands), refill).prop_map(|(n, coolant, stands, refill)| ConditionsInput {
        cap_kpa: n[0],
        coolant_c: n[1],
        bay_air_c: n[2],
        altitude_m: n[3],
        tape_error_mm: n[4],
        angle_error_deg: n[5],
        flow_l_min: n[6],
        filler_at_z_mm: n[7],
        rest_of_branch_kpa: n[8],
        refill,
        coolant,
        stands,
    })
}

fn spigot() -> impl Strategy<Value = SpigotInput> {
    let bead = prop_oneof![number().prop_map(BeadInput::Diameter), words().prop_map(BeadInput::Word)];
    let turns = prop_oneof![words().prop_map(TurnsInput::Word), place().prop_map(|about| TurnsInput::About { about })];
    let seat_from = select(vec![SeatFromInput::Measured, SeatFromInput::Taken]);
    let numbers = (number(), vec(of(number()), 5), place(), place());
    let words_of = (of(words()), of(words()), btree_map(words(), words(), 0..3));
    (numbers, words_of, of(bead), on(), of(seat_from), of(turns)).prop_map(|(n, w, bead_mm, on, seat_from, turns)| {
        SpigotInput {
            name: w.0,
            spigot_mm: n.0,
            bead_mm,
            seat_mm: n.1[0],
            at_mm: n.2,
            points: n.3,
            on,
            made_of: w.1,
            straight_mm: n.1[1],
            can_move_mm: n.1[2],
            seat_from,
            turns,
            angle_error_deg: n.1[3],
            typed: w.2,
            turned_deg: n.1[4],
        }
    })
}

fn neighbour() -> impl Strategy<Value = NeighbourInput> {
    let rod = (place(), place(), number());
    let shape = prop_oneof![
        rod.prop_map(|(from_mm, to_mm, diameter_mm)| FormInput::Rod { from_mm, to_mm, diameter_mm }),
        (place(), number()).prop_map(|(at_mm, diameter_mm)| FormInput::Ball { at_mm, diameter_mm }),
        (place(), place()).prop_map(|(from_mm, to_mm)| FormInput::Box { from_mm, to_mm }),
        (place(), place(), number(), number()).prop_map(|(at_mm, along, diameter_mm, thick_mm)| FormInput::Disc {
            at_mm,
            along,
            diameter_mm,
            thick_mm
        }),
    ];
    let kind = select(vec![KindInput::Hot, KindInput::Moving, KindInput::Sharp, KindInput::Solid]);
    let shield = number().prop_map(|gap_mm| ShieldInput { gap_mm });
    let newer = (of(place()), of(any::<bool>()));
    (of(words()), shape, kind, on(), of(number()), of(number()), of(shield), newer).prop_map(
        |(name, shape, kind, on, surface_c, standoff_mm, shield, (travel_mm, may_touch))| NeighbourInput {
            name,
            shape,
            kind,
            on,
            surface_c,
            standoff_mm,
            shield,
            travel_mm,
            may_touch,
        },
    )
}

fn hose() -> impl Strategy<Value = HoseInput> {
    (number(), vec(of(number()), 6), of(words()), of(words()), of(any::<bool>())).prop_map(
        |(bore_mm, n, rubber, class, wire)| HoseInput {
            bore_mm,
            wall_mm: n[0],
            outside_mm: n[1],
            rubber,
            class,
            min_bend_radius_mm: n[2],
            creases_at_inside_mm: n[3],
            piece_mm: n[4],
            rated_kpa: n[5],
            wire_supported: wire,
        },
    )
}

fn run() -> impl Strategy<Value = RunInput> {
    let via = (place(), words(), on(), of(place())).prop_map(|(at_mm, holds, on, along)| ViaInput {
        at_mm,
        holds,
        on,
        along,
    });
    let crank = (place(), place()).prop_map(|(through_mm, along)| CrankLineInput { through_mm, along });
    let rock = (place(), of(number()), of(crank));
    let rock = rock.prop_map(|(shift_mm, turn_deg, crank_line)| RockInput { shift_mm, turn_deg, crank_line });
    let replaces = (of(number()), of(number())).prop_map(|(length_mm, bore_mm)| ReplacesInput { length_mm, bore_mm });
    // An empty `replaces` says nothing and is not stored; see the test beside this.
    let replaces = of(replaces).prop_map(|r| r.filter(|r| r.length_mm.is_some() || r.bore_mm.is_some()));
    let side = select(vec![SideInput::PumpInlet, SideInput::Other]);
    let sleeve = select(vec![SleeveInput::None, SleeveInput::New, SleeveInput::Dirty]);
    let parts = (spigot(), spigot(), vec(via, 0..2), vec(neighbour(), 0..3));
    let more = (of(place()), of(rock), of(hose()), replaces, of(side));
    let leg = (number(), of(number()), of(place()), of(number()));
    let leg = leg.prop_map(|(straight_mm, bend_deg, towards, inside_mm)| LegInput {
        straight_mm,
        bend_deg,
        towards,
        inside_mm,
    });
    let end = select(vec![EndInput::A, EndInput::B]);
    let elbow = (end, number(), number(), place(), number(), number()).prop_map(
        |(end, leg_mm, bend_deg, towards, inside_mm, far_leg_mm)| ElbowInput {
            end,
            leg_mm,
            bend_deg,
            towards,
            inside_mm,
            far_leg_mm,
        },
    );
    let newer = (of(place()), vec(leg, 0..3), vec(elbow, 0..2), of(any::<bool>()));
    let rest = (of(any::<bool>()), of(sleeve), of(words()), of(number()), of(words()), newer);
    (parts, more, rest).prop_map(|((from, to, via, neighbours), more, rest)| RunInput {
        name: rest.4,
        from,
        to,
        via,
        neighbours,
        rock_mm: more.0,
        rock: more.1,
        hose: more.2,
        replaces: more.3,
        side: more.4,
        flow_can_stop: rest.0,
        sleeve: rest.1,
        stood: rest.2,
        try_cut_mm: rest.3,
        bows: rest.5.0,
        legs: rest.5.1,
        elbows: rest.5.2,
        oil_near: rest.5.3,
    })
}

#[test]
fn what_is_written_reads_back_as_it_was() {
    let input = (of(words()), conditions(), vec(run(), 0..3));
    let input = input.prop_map(|(car, conditions, runs)| Input { car, conditions, runs, ..Input::default() });
    always(400, &input, |input| {
        let text = share::write(&input);
        let opened = share::read(&text).map_err(|why| TestCaseError::fail(why.to_string()))?;
        prop_assert!(opened.problems.is_empty(), "{:?}", opened.problems);
        prop_assert_eq!(&opened.input, &input);
        prop_assert_eq!(share::write(&opened.input), text, "and writes the same again");
        Ok(())
    });
}

#[test]
fn what_says_nothing_is_not_stored() {
    let mut input = share::read(&example()).expect("a job file").input;
    input.runs[0].replaces = Some(ReplacesInput { length_mm: None, bore_mm: None });
    assert!(!share::write(&input).contains("replaces"));
}

/// An answer or a refusal; both are fine, a panic is not. Its JSON must hold no number that is none.
fn answered(text: &str) -> Result<(), TestCaseError> {
    match share::answer(text, &Stock::built_in()) {
        Err(why) => prop_assert!(!why.to_string().is_empty()),
        Ok(report) => {
            for problem in &report.problems {
                prop_assert!(!problem.wrong.is_empty() && !problem.right.is_empty(), "{:?}", problem);
            }
            prop_assert!(serde_json::to_string(&report).is_ok());
        }
    }
    Ok(())
}

#[test]
fn any_bytes_are_answered_or_refused() {
    always(2000, &vec(any::<u8>(), 0..200), |bytes| answered(&String::from_utf8_lossy(&bytes)));
    // Nested deeper than any stack would bear.
    for open in ["[", "{\"a\":", "{\"format\":\"hosewright-job\",\"version\":1,\"runs\":["] {
        answered(&open.repeat(30_000)).expect("refused");
    }
}

/// One slip of the hand in a text.
#[derive(Clone, Debug)]
enum Slip {
    Cut(Index, usize),
    Put(Index, String),
    Twice(Index, usize),
}

impl Slip {
    fn make(&self, text: &mut Vec<char>) {
        if text.is_empty() {
            return;
        }
        match self {
            Self::Cut(at, n) => {
                let at = at.index(text.len());
                text.drain(at..(at + n).min(text.len()));
            }
            Self::Put(at, what) => {
                let at = at.index(text.len());
                text.splice(at..at, what.chars());
            }
            Self::Twice(at, n) => {
                let at = at.index(text.len());
                let again: Vec<char> = text[at..(at + n).min(text.len())].to_vec();
                text.splice(at..at, again);
            }
        }
    }
}

#[test]
fn an_example_with_slips_in_it_is_answered_or_refused() {
    let bits = ["0", "9", "-", "e9", "e300", "null", "[]", "{}", "\"none\"", ",", ":", "true", "1e-320", "\u{1f527}"];
    let slip = prop_oneof![
        (any::<Index>(), 1..6_usize).prop_map(|(at, n)| Slip::Cut(at, n)),
        (any::<Index>(), select(bits.map(str::to_owned).to_vec())).prop_map(|(at, what)| Slip::Put(at, what)),
        (any::<Index>(), 1..6_usize).prop_map(|(at, n)| Slip::Twice(at, n)),
    ];
    let text: Vec<char> = example().chars().collect();
    always(1500, &vec(slip, 1..4), |slips| {
        let mut slipped = text.clone();
        slips.iter().for_each(|slip| slip.make(&mut slipped));
        answered(&slipped.into_iter().collect::<String>())
    });
}

#[test]
fn an_example_with_any_number_anywhere_is_answered_or_refused() {
    // Every number of the example in turn, replaced by what a slip or malice would put there.
    let text = example();
    let odd = ["0", "-1", "1e-9", "0.1", "1e9", "1e308", "-1e308", "1e400", "16.0000000001"];
    let mut starts = Vec::new();
    let mut inside = false;
    for (at, c) in text.char_indices() {
        let digit = c.is_ascii_digit() || c == '-' || c == '.';
        if digit && !inside && text[..at].ends_with([':', '[', ',']) {
            starts.push(at);
        }
        inside = digit;
    }
    assert!(starts.len() > 40, "{} numbers found", starts.len());
    for start in starts {
        let end =
            text[start..].find(|c: char| !(c.is_ascii_digit() || c == '-' || c == '.')).expect("a bracket") + start;
        for number in odd {
            answered(&format!("{}{number}{}", &text[..start], &text[end..])).unwrap_or_else(|why| panic!("{why}"));
        }
    }
}
