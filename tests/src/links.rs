//! Links: old ones open for ever, any run comes back to the last bit, and what happens to links on their way is told.

use crate::cases::example;
use job::input::Input;
use proptest::collection::vec;
use proptest::option::weighted;
use proptest::prelude::*;
use proptest::sample::select;
use proptest::test_runner::{RngAlgorithm, TestRng, TestRunner};
use serde_json::{Map, Value, json};
use share::link::{self, BadLink, CannotLink};
use std::cell::Cell;
use stock::Stock;

/// As long as the address that the page is meant to have, with its `#`.
const ADDRESS: &str = "https://hose.example.org/#";

/// Link, tab, job file. Lines are added, never changed: these links are out in the world.
const FROZEN: [&str; 3] =
    [include_str!("../links/v1.txt"), include_str!("../links/v2.txt"), include_str!("../links/v3.txt")];

fn frozen() -> Vec<(&'static str, Input)> {
    let lines = FROZEN.into_iter().flat_map(str::lines).filter(|line| !line.starts_with('#'));
    let of_line = |line: &'static str| {
        let (link, file) = line.split_once('\t').expect("a tab");
        let opened = share::read(file).unwrap_or_else(|why| panic!("{why}: {file}"));
        assert!(opened.problems.is_empty(), "{:?}", opened.problems);
        (link, opened.input)
    };
    lines.map(of_line).collect()
}

/// Equal to the last bit: unlike `==`, the text tells the two zeros apart, and it gives every other number exactly.
fn bits(input: &Input) -> String {
    format!("{input:?}")
}

fn example_input() -> Input {
    share::read(&example()).expect("a job file").input
}

#[test]
fn every_frozen_link_opens_to_the_same_job_and_is_written_the_same() {
    let frozen = frozen();
    assert!(frozen.len() >= 30, "lines are added, never taken away: {}", frozen.len());
    for (text, input) in frozen {
        let opened = link::read(text).unwrap_or_else(|why| panic!("{why}: {text}"));
        assert_eq!(bits(&opened), bits(&input), "{text}");
        let written =
            if text.starts_with(char::is_uppercase) { link::write(&input) } else { link::write_digits(&input) };
        assert_eq!(written.as_deref(), Ok(text));
    }
}

#[test]
fn what_says_nothing_new_is_written_as_before() {
    let mut older = 0;
    for (text, input) in frozen().into_iter().filter(|(text, _)| text.starts_with('C')) {
        let mut plain = input.clone();
        (plain.conditions.rest_of_branch_kpa, plain.conditions.refill) = (None, None);
        plain.runs[0].oil_near = None;
        plain.runs[0].hose.iter_mut().for_each(|hose| hose.rated_kpa = None);
        let first = link::write(&plain).expect("shorter than it was").chars().next();
        // Of the lines, only the long one has fields of version 2 as well.
        let second = text.len() > 100;
        assert_eq!(first, Some(if second { 'B' } else { 'A' }), "{text}");
        older += 1;
    }
    assert_eq!(older, 7, "lines of version 3");
}

/// The name of every field of the structs, also of those that are not known: each begins a line of the long form.
fn fields(input: &Input) -> Vec<String> {
    let long = format!("{input:#?}");
    let names = long.lines().filter_map(|line| Some(line.trim().split_once(": ")?.0));
    names.filter(|name| name.chars().all(|c| c.is_ascii_lowercase() || c == '_')).map(str::to_owned).collect()
}

#[test]
fn every_field_of_a_job_file_stands_in_a_frozen_link() {
    fn names(value: &Value, all: &mut Vec<String>) {
        match value {
            Value::Object(map) => {
                all.extend(map.keys().cloned());
                map.values().for_each(|value| names(value, all));
            }
            Value::Array(list) => list.iter().for_each(|value| names(value, all)),
            _ => {}
        }
    }
    let (mut known, mut told) = (Vec::new(), Vec::new());
    for (_, input) in frozen() {
        // With what is not known, and without.
        known.extend(fields(&input));
        names(&serde_json::from_str(&share::write(&input)).expect("JSON"), &mut told);
    }
    assert!(known.len() > 500 && told.len() > 500, "{} and {}", known.len(), told.len());
    // A link carries one run: the lists of the car stay in its file.
    let of_car = ["parts", "lines", "relations", "stock", "system"];
    known.retain(|name| !told.contains(name) && !of_car.contains(&name.as_str()));
    assert!(known.is_empty(), "in no frozen link: {known:?}");
}

#[test]
fn the_example_fits_in_two_hundred_characters_with_its_address() {
    assert_eq!(ADDRESS.len(), 26);
    let text = link::write(&example_input()).expect("one run");
    assert!(ADDRESS.len() + text.len() <= 200, "{}: {text}", text.len());
}

#[test]
fn what_is_sent_is_answered_the_same_to_the_last_digit() {
    let input = example_input();
    let opened = link::read(&link::write(&input).expect("one run")).expect("a link");
    let told = |input: &Input| serde_json::to_string(&job::answer(input, &Stock::built_in())).expect("JSON");
    assert_eq!(told(&opened), told(&input));
}

/// Runs `claim` on `cases` values, the same ones every time.
fn always<S: Strategy>(cases: u32, any: &S, claim: impl Fn(S::Value) -> Result<(), TestCaseError>) {
    let config = ProptestConfig { cases, failure_persistence: None, ..ProptestConfig::default() };
    let mut runner = TestRunner::new_with_rng(config, TestRng::deterministic_rng(RngAlgorithm::ChaCha));
    if let Err(why) = runner.run(any, claim) {
        panic!("{why}");
    }
}

type Json = BoxedStrategy<Value>;

/// A number as a hand types it, or any that a binary64 can hold.
fn number() -> Json {
    let typed = (-50_000..50_000, select(vec![1.0, 1.0, 10.0, 100.0, 1e6])).prop_map(|(n, by)| f64::from(n) / by);
    let any = prop::num::f64::ANY.prop_filter("finite", |x| x.is_finite());
    prop_oneof![8 => typed, 1 => any, 1 => Just(0.0), 1 => Just(-0.0)].prop_map(|x| json!(x)).boxed()
}

fn place() -> Json {
    let axis =
        select(vec![json!([0.0, 0.0, 0.0]), json!([0.0, -1.0, 0.0]), json!([1.0, 0.0, 0.0]), json!([0.0, 0.0, -0.0])]);
    prop_oneof![1 => axis, 1 => vec(number(), 3).prop_map(Value::from)].boxed()
}

fn words() -> Json {
    let trade =
        select(vec!["heater", " ", "exhaust pipe", "none", "no", "5/8 in", "P-clip", "EPDM", "K\u{fc}hler", "A"]);
    let trade = vec(trade, 0..4).prop_map(|words| words.concat());
    let any = vec(any::<char>(), 0..4).prop_map(String::from_iter);
    prop_oneof![3 => trade, 1 => any].prop_map(Value::from).boxed()
}

fn one_of(words: &[&str]) -> Json {
    select(words.iter().map(|word| json!(word)).collect::<Vec<_>>()).boxed()
}

fn list(of: Json) -> Json {
    vec(of, 0..3).prop_map(Value::from).boxed()
}

/// An object with all of `must` and now and then one of `may`.
fn record(must: Vec<(&'static str, Json)>, may: Vec<(&'static str, Json)>) -> Json {
    let (names, values): (Vec<_>, Vec<_>) = must.into_iter().unzip();
    let (may_names, may_values): (Vec<_>, Vec<_>) = may.into_iter().unzip();
    let may_values: Vec<_> = may_values.into_iter().map(|value| weighted(0.2, value)).collect();
    let object = (values, may_values).prop_map(move |(values, may)| {
        let must = names.iter().zip(values).map(|(name, value)| ((*name).to_owned(), value));
        let may = may_names.iter().zip(may).filter_map(|(name, value)| Some(((*name).to_owned(), value?)));
        Value::Object(must.chain(may).collect::<Map<_, _>>())
    });
    object.boxed()
}

fn numbers(names: &[&'static str]) -> Vec<(&'static str, Json)> {
    names.iter().map(|name| (*name, number())).collect()
}

fn spigot() -> Json {
    let bead = prop_oneof![number(), words()].boxed();
    let turns = prop_oneof![words(), record(vec![("about", place())], vec![])].boxed();
    let typed = vec((words(), words()), 0..3);
    let typed = typed.prop_map(|all| {
        all.into_iter().map(|(name, said)| (name.as_str().unwrap_or("").to_owned(), said)).collect::<Map<_, _>>()
    });
    let mut may = numbers(&["seat_mm", "straight_mm", "can_move_mm", "angle_error_deg", "turned_deg"]);
    may.extend([("name", words()), ("bead_mm", bead), ("made_of", words()), ("turns", turns)]);
    may.extend([("typed", typed.prop_map(Value::Object).boxed()), ("on", one_of(&["engine", "body"]))]);
    may.push(("seat_from", one_of(&["measured", "taken"])));
    record(vec![("spigot_mm", number()), ("at_mm", place()), ("points", place())], may)
}

fn neighbour() -> Json {
    let form = |name, fields| record(vec![(name, record(fields, vec![]))], vec![]);
    let rod = form("rod", vec![("from_mm", place()), ("to_mm", place()), ("diameter_mm", number())]);
    let ball = form("ball", vec![("at_mm", place()), ("diameter_mm", number())]);
    let cuboid = form("box", vec![("from_mm", place()), ("to_mm", place())]);
    let disc = vec![("at_mm", place()), ("along", place()), ("diameter_mm", number()), ("thick_mm", number())];
    let shape = prop_oneof![rod, ball, cuboid, form("disc", disc)].boxed();
    let mut may = numbers(&["surface_c", "standoff_mm"]);
    may.extend([
        ("name", words()),
        ("on", one_of(&["engine", "body"])),
        ("shield", record(numbers(&["gap_mm"]), vec![])),
        ("travel_mm", place()),
        ("may_touch", any::<bool>().prop_map(Value::from).boxed()),
    ]);
    record(vec![("shape", shape), ("kind", one_of(&["hot", "moving", "sharp", "solid"]))], may)
}

/// Any job of one run that a file can hold, sound or not.
fn any_input() -> impl Strategy<Value = Input> {
    let glycol = record(vec![("glycol", one_of(&["ethylene", "propylene"])), ("percent_by_volume", number())], vec![]);
    let mut conditions =
        numbers(&["cap_kpa", "coolant_c", "bay_air_c", "altitude_m", "tape_error_mm", "angle_error_deg"]);
    conditions.extend(numbers(&["flow_l_min", "filler_at_z_mm", "rest_of_branch_kpa"]));
    let refill = numbers(&["holds_l", "left_l", "left_percent", "protect_to_c", "pre_mix_percent"]);
    conditions.push(("refill", record(vec![], refill)));
    conditions.extend([("coolant", glycol), ("stands", record(numbers(&["nose_up_deg"]), vec![]))]);
    let crank = record(vec![("through_mm", place()), ("along", place())], vec![]);
    let rock = record(vec![("shift_mm", place())], vec![("turn_deg", number()), ("crank_line", crank)]);
    let mut hose =
        numbers(&["wall_mm", "outside_mm", "min_bend_radius_mm", "creases_at_inside_mm", "piece_mm", "rated_kpa"]);
    hose.extend([("rubber", words()), ("class", words())]);
    hose.push(("wire_supported", any::<bool>().prop_map(Value::from).boxed()));
    let via = record(
        vec![("at_mm", place()), ("holds", words())],
        vec![("on", one_of(&["engine", "body"])), ("along", place())],
    );
    let leg =
        record(numbers(&["straight_mm"]), vec![("bend_deg", number()), ("towards", place()), ("inside_mm", number())]);
    let mut may = vec![("name", words()), ("via", list(via)), ("neighbours", list(neighbour())), ("rock_mm", place())];
    may.extend([("rock", rock), ("hose", record(numbers(&["bore_mm"]), hose)), ("stood", words())]);
    may.extend([("replaces", record(vec![], numbers(&["length_mm", "bore_mm"]))), ("try_cut_mm", number())]);
    may.extend([("side", one_of(&["pump inlet", "other"])), ("sleeve", one_of(&["none", "new", "dirty"]))]);
    let mut elbow = numbers(&["leg_mm", "bend_deg", "inside_mm", "far_leg_mm"]);
    elbow.extend([("end", one_of(&["A", "B"])), ("towards", place())]);
    may.extend([("bows", place()), ("legs", list(leg)), ("elbows", list(record(elbow, vec![])))]);
    may.push(("oil_near", any::<bool>().prop_map(Value::from).boxed()));
    may.push(("flow_can_stop", any::<bool>().prop_map(Value::from).boxed()));
    let run = record(vec![("from", spigot()), ("to", spigot())], may);
    let head = [("format", json!(share::FORMAT)), ("version", json!(share::VERSION))];
    let mut must: Vec<_> = head.map(|(name, value)| (name, Just(value).boxed())).into();
    must.extend([("conditions", record(vec![], conditions)), ("runs", vec(run, 1).prop_map(Value::from).boxed())]);
    record(must, vec![("car", words())]).prop_map(|file| {
        let opened = share::read(&file.to_string()).expect("a job file");
        assert!(opened.problems.is_empty(), "{:?}", opened.problems);
        opened.input
    })
}

#[test]
fn any_run_comes_back_to_the_last_bit() {
    let (fitting, all) = (Cell::new(0), Cell::new(0));
    always(3000, &any_input(), |input| {
        all.set(all.get() + 1);
        let text = match link::write(&input) {
            Ok(text) => text,
            Err(CannotLink::TooLong { length }) => {
                prop_assert!(length > link::LONGEST);
                return Ok(());
            }
            Err(why) => return Err(TestCaseError::fail(why.to_string())),
        };
        fitting.set(fitting.get() + 1);
        prop_assert!(text.len() <= link::LONGEST, "{}", text.len());
        prop_assert!(text.ends_with(|c: char| c.is_ascii_alphanumeric()), "{}", text);
        prop_assert!(text.bytes().all(|c| c.is_ascii_alphanumeric() || b"-_".contains(&c)), "{}", text);
        let figures = link::write_digits(&input).map_err(|why| TestCaseError::fail(why.to_string()))?;
        prop_assert!(figures[1..].bytes().all(|c| c.is_ascii_digit()), "{}", figures);
        for form in [&text, &figures] {
            let opened = link::read(form).map_err(|why| TestCaseError::fail(why.to_string()))?;
            prop_assert_eq!(bits(&opened), bits(&input));
            prop_assert!(link::write(&opened).as_ref() == Ok(&text), "equal inputs, equal links: {}", text);
        }
        Ok(())
    });
    assert!(fitting.get() * 2 > all.get(), "only {} of {} fit into a link", fitting.get(), all.get());
}

#[test]
fn every_flipped_bit_and_every_cut_is_refused_or_changes_nothing() {
    let mut n_tried = 0;
    for (text, input) in frozen() {
        let refused = |other: &[u8], how: &str| {
            let Ok(other) = str::from_utf8(other) else { return };
            if let Ok(opened) = link::read(other) {
                assert_eq!(bits(&opened), bits(&input), "{how}: {other}");
            }
        };
        for at in 0..text.len() {
            for bit in 0..8 {
                let mut other = text.as_bytes().to_vec();
                other[at] ^= 1 << bit;
                refused(&other, "a flipped bit");
                n_tried += 1;
            }
            assert!(link::read(&text[..at]).is_err(), "cut to {at}: {text}");
            refused(&text.as_bytes()[at..], "without its beginning");
            // One lost, two changed places.
            refused(&[&text.as_bytes()[..at], &text.as_bytes()[at + 1..]].concat(), "one lost");
            let mut swapped = text.as_bytes().to_vec();
            swapped.swap(at, (at + 1) % text.len());
            refused(&swapped, "two swapped");
        }
    }
    assert!(n_tried > 20_000, "{n_tried}");
}

#[test]
fn what_chat_and_mail_programs_put_round_a_link_is_let_be() {
    let input = example_input();
    for text in [link::write(&input).expect("one run"), link::write_digits(&input).expect("one run")] {
        let (a, b) = text.split_at(70);
        let address = format!("{ADDRESS}{text}");
        let ways = [
            text.clone(),
            format!(" \r\n\t{text}\n"),
            format!("<{text}>"),
            format!("\"{text}\","),
            format!("\u{201e}{text}\u{201c}."),
            format!("#{text}"),
            address.clone(),
            format!("<{address}>"),
            format!("({address})!"),
            format!("heater flow, car #2: {address}. Have a look!"),
            format!("{ADDRESS}{a}\r\n{b}"),
            format!("> {ADDRESS}{a}\n {b}\n\n"),
            format!("{address}-"),
            format!("{address}_"),
            format!("{address}\u{200b}"),
        ];
        for way in ways {
            assert_eq!(link::read(&way).as_ref(), Ok(&input), "{way}");
        }
    }
}

#[test]
fn what_is_wrong_with_a_link_is_told_apart() {
    let text = link::write(&example_input()).expect("one run");
    for nothing in
        ["", " ", "#", "A", "Auspuff", "heater hose, 16 mm", "Zylinderkopfdichtungen", ADDRESS, "1234567890123456789"]
    {
        assert_eq!(link::read(nothing), Err(BadLink::NotALink), "{nothing}");
    }
    let most = " ".repeat(link::LONGEST_READ - text.len()) + &text;
    assert!(link::read(&most).is_ok());
    assert_eq!(link::read(&format!(" {most}")), Err(BadLink::TooLong));
    for missing in 1..text.len() - 18 {
        // What a chat program takes for punctuation is missing as well.
        let cut = text[..text.len() - missing].trim_end_matches(['-', '_']);
        let lost = text.len() - cut.len();
        assert_eq!(link::read(cut), Err(BadLink::Cut { missing: lost }), "{cut}");
    }
    for at in 3..text.len() - 1 {
        let other = if &text[at..=at] == "x" { "y" } else { "x" };
        let damaged = format!("{}{other}{}", &text[..at], &text[at + 1..]);
        assert_eq!(link::read(&damaged), Err(BadLink::Damaged), "{damaged}");
    }
    assert_eq!(link::read(&text.to_ascii_lowercase()), Err(BadLink::NotALink), "letters in figures");
    assert_eq!(link::read(&format!("{text}{text}")), Err(BadLink::Damaged), "twice");
    assert_eq!(link::read(&format!("B{}", &text[1..])), Err(BadLink::Damaged), "a newer one would have its own check");
}

#[test]
fn what_does_not_go_into_a_link_says_why() {
    let mut input = example_input();
    input.runs.push(input.runs[0].clone());
    assert_eq!(link::write(&input), Err(CannotLink::Runs { runs: 2 }));
    input.runs.clear();
    assert_eq!(link::write_digits(&input), Err(CannotLink::Runs { runs: 0 }));
    let mut input = example_input();
    // A letter has five bits, a character of the link six; 36 letters are 30 characters.
    let length = |letters: usize| {
        let mut input = input.clone();
        input.car = Some("q".repeat(letters));
        match link::write(&input) {
            Ok(text) => text.len(),
            Err(CannotLink::TooLong { length }) => length,
            Err(why) => panic!("{why}"),
        }
    };
    let at_most = (0..400).take_while(|letters| length(*letters) <= link::LONGEST).last().expect("the example fits");
    assert_eq!(length(at_most + 360), length(at_most) + 300, "the length is told, however long");
    input.car = Some("q".repeat(at_most + 2));
    assert!(matches!(link::write(&input), Err(CannotLink::TooLong { length: 301..=304 })));
    assert_eq!(link::write(&input), link::write_digits(&input), "neither form");
    let mut input = example_input();
    input.runs[0].to.at_mm[1] = f64::NAN;
    assert_eq!(link::write(&input), Err(CannotLink::NotANumber));
}

#[test]
fn any_text_is_read_or_refused() {
    let alphabet: Vec<char> = ('a'..='z').chain('A'..='Z').chain('0'..='9').chain(['-', '_']).collect();
    let sound = frozen();
    let refused = |text: &str| {
        match link::read(text) {
            Err(why) => prop_assert!(!why.to_string().is_empty()),
            Ok(opened) => prop_assert!(sound.iter().any(|(_, input)| *input == opened), "{}", text),
        }
        Ok(())
    };
    always(4000, &vec(any::<char>(), 0..300), |text| refused(&String::from_iter(text)));
    let code = (select(vec!["A", "a", "B", "https://x/#A"]), vec(select(alphabet), 0..400));
    always(4000, &code, |(head, text)| refused(&(head.to_owned() + &String::from_iter(text))));
    always(4000, &vec(select(('0'..='9').collect::<Vec<_>>()), 0..600), |text| {
        refused(&format!("a{}", String::from_iter(text)))
    });
    // A sound link with a few characters changed.
    let links: Vec<_> = sound.iter().map(|(text, _)| (*text).to_owned()).collect();
    let slips = vec((any::<prop::sample::Index>(), any::<char>()), 1..4);
    always(4000, &(select(links), slips), |(text, slips)| {
        let mut text: Vec<char> = text.chars().collect();
        for (at, c) in slips {
            let at = at.index(text.len());
            text[at] = c;
        }
        refused(&String::from_iter(text))
    });
}
