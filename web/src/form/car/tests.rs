//! Tests of the rest of the car.

use super::*;
use crate::form::car_fields::car_fields;
use share::json::Object;

fn draft(names: &[&str]) -> Draft {
    let run = Draft::open(crate::example::EXAMPLE).expect("JSON").run(0).cloned().expect("a run");
    let mut draft = Draft::open(crate::example::EXAMPLE).expect("JSON");
    draft.set(0, "name", names[0].into());
    for name in &names[1..] {
        let mut run = run.clone();
        put(&mut run, "/name", (*name).into());
        draft.add_run(run);
    }
    draft
}

fn names(draft: &Draft) -> Vec<String> {
    (0..draft.runs().0).map(|i| draft.run_name(i)).collect()
}

#[test]
fn a_run_taken_in_hand_keeps_its_place_and_what_was_typed() {
    let mut draft = draft(&["a", "b", "c"]);
    assert_eq!((names(&draft), draft.runs()), (vec!["a".into(), "b".into(), "c".into()], (3, 2)));
    let seat = super::super::groups(&draft.job, 0).into_iter().flat_map(|group| group.fields);
    let seat = seat.into_iter().find(|field| field.at == "/runs/0/from/seat_mm").expect("a field");
    draft.type_in(&seat, "3o");
    assert!(!draft.is_sound(), "a slip");
    for (i, sound) in [(0, true), (1, true), (2, false), (0, true), (2, false)] {
        draft.go_to(i);
        assert_eq!((draft.runs(), draft.name(0)), ((3, i), names(&draft)[i].clone()));
        assert_eq!(draft.is_sound(), sound, "run {i}");
        assert_eq!(Draft::from_kept(&draft.kept()), Some(draft.clone()), "kept with run {i} in hand");
    }
    assert_eq!(draft.shown(&seat), "3o", "nothing typed is lost");
}

#[test]
fn runs_are_added_copied_and_taken_away() {
    let mut draft = draft(&["a", "b", "c"]);
    draft.copy_run(0);
    assert_eq!((names(&draft), draft.runs().1), (["a", "b", "c", "a 2"].map(String::from).to_vec(), 3));
    for (away, at, left) in
        [(1, 2, vec!["a", "c", "a 2"]), (2, 1, vec!["a", "c"]), (0, 0, vec!["c"]), (0, 0, vec!["c"])]
    {
        draft.take_run_away(away);
        assert_eq!((names(&draft), draft.runs().1), (left.iter().map(|s| (*s).to_owned()).collect(), at));
    }
}

#[test]
fn the_whole_car_is_a_job_file_of_all_its_runs_in_their_order() {
    let mut draft = draft(&["a", "b", "c"]);
    draft.add_entry("parts", Value::object([("name", "pump".into()), ("kind", "pump".into())]));
    draft.go_to(1);
    let opened = Draft::open(&draft.whole().to_string()).expect("a job file");
    assert_eq!((names(&opened), opened.runs().1, opened.list("parts").len()), (names(&draft), 0, 1));
    assert!(!draft.text().contains("pump"), "the run alone");
}

#[test]
fn a_line_or_part_without_a_name_of_its_own_is_called_after_what_it_is() {
    let mut draft = draft(&["a"]);
    let end = || Value::object([("part", "part".into()), ("spigot", "".into())]);
    for _ in 0..2 {
        let name = draft.new_entry_name("lines", "hose");
        draft.add_entry("lines", Value::object([("name", name.into()), ("kind", "hose".into()), ("from", end())]));
    }
    draft.add_entry("parts", Value::object([("name", "part".into()), ("kind", "other".into())]));
    let say = |draft: &mut Draft, at: &str, kind: &str| {
        let field = car_fields(&draft.job).into_iter().find(|field| field.at == at).expect("a field");
        draft.type_in(&field, kind);
    };
    say(&mut draft, "/lines/1/kind", "steel line");
    assert_eq!(draft.line_names(), ["hose", "steel line"]);
    say(&mut draft, "/lines/0/kind", "steel line");
    assert_eq!(draft.line_names(), ["steel line 2", "steel line"]);
    say(&mut draft, "/parts/0/kind", "pump");
    assert_eq!((draft.said("/parts/0/name"), draft.said("/lines/0/from/part")), ("pump", "pump"));
    for name in ["heater pipe", "steel line to the heater"] {
        draft.set_at("/lines/0/name", name.into());
        say(&mut draft, "/lines/0/kind", "hose");
        say(&mut draft, "/lines/0/kind", "steel line");
        assert_eq!(draft.said("/lines/0/name"), name, "a name of one's own stays");
    }
}

#[test]
fn what_refers_to_a_name_follows_it() {
    let mut draft = draft(&["a", "b"]);
    let spigots = Value::Array(vec![Value::object([("name", "outlet".into())])]);
    draft.add_entry("parts", Value::object([("name", "pump".into()), ("spigots", spigots)]));
    let end = || Value::object([("part", "pump".into()), ("spigot", "outlet".into())]);
    draft.add_entry("lines", Value::object([("name", "hose".into()), ("from", end()), ("run", "b".into())]));
    draft.add_entry("relations", Value::object([("what", "pump".into()), ("of", "hose".into())]));
    draft.set_at("/parts/0/name", "water pump".into());
    draft.set_at("/parts/0/spigots/0/name", "top".into());
    draft.set_at("/lines/0/name", "heater hose".into());
    draft.set(0, "name", "c".into());
    for (at, now) in [
        ("/lines/0/from/part", "water pump"),
        ("/lines/0/from/spigot", "top"),
        ("/relations/0/what", "water pump"),
        ("/relations/0/of", "heater hose"),
        ("/lines/0/run", "c"),
    ] {
        assert_eq!(draft.said(at), now, "{at}");
    }
}

#[test]
fn a_hose_measured_before_its_line_was_listed_takes_its_place() {
    let mut draft = draft(&["a", "b"]);
    put(&mut draft.job, "/runs/0/name", Value::Null);
    for name in ["top hose", "b"] {
        draft.add_entry("lines", Value::object([("name", name.into())]));
    }
    assert_eq!(draft.runs_of_no_line(), [0, 1]);
    draft.put_in_place(1, 0);
    assert_eq!((draft.said("/lines/0/run"), names(&draft)), ("top hose", vec!["a".into(), "top hose".into()]));
    draft.put_in_place(0, 1);
    assert_eq!((draft.said("/lines/1/run"), draft.runs().1), ("a", 0), "a name is kept");
    assert_eq!(draft.runs_of_no_line(), [] as [usize; 0]);
}

#[test]
fn a_run_of_which_nothing_is_said_is_blank() {
    let mut draft = Draft::fresh(None, quantity::text::LengthUnit::Millimetre);
    assert!(draft.is_blank() && draft.car_name().is_empty(), "fresh");
    draft.set(0, "from/spigot_mm", 16.0.into());
    assert!(!draft.is_blank(), "a spigot");
    assert_eq!(self::draft(&["a", "b"]).car_name(), "invented estate car, gas conversion being removed");
}

#[test]
fn what_was_kept_before_there_were_cars_is_read() {
    let draft = draft(&["a"]);
    let mut kept = share::json::read(&draft.kept()).expect("JSON");
    if let Value::Object(fields) = &mut kept {
        let mut old = Object::new();
        for name in ["job", "typed", "inches"] {
            old.insert(name, fields.get(name).cloned().expect("there"));
        }
        assert_eq!(Draft::from_kept(&Value::Object(old).to_string()), Some(draft));
    }
}
