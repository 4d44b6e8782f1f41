//! A plain car to begin with, made from the example.

use crate::example::{EXAMPLE, EXAMPLE_CAR};
use crate::form::Draft;
use share::json::Value;

/// Gives a draft the parts and lines of a plain car: those of the example that stay, with nothing said of their state.
pub(super) fn plain_car(draft: &mut Draft) {
    let Some(example) = Draft::open(EXAMPLE_CAR) else { return };
    // The example run is of an invented car: it stays no part of one's own.
    if Draft::open(EXAMPLE).is_some_and(|run| run.whole() == draft.whole()) {
        *draft = Draft::fresh(None, draft.unit);
    }
    let goes = |part: &Value| part.get("leave_out").and_then(Value::as_bool) == Some(true);
    let gone: Vec<&str> = example
        .list("parts")
        .iter()
        .filter(|part| goes(part))
        .filter_map(|part| part.get("name").and_then(Value::as_str))
        .collect();
    let kept = |value: &Value, names: &[&str]| {
        let mut entry = share::json::Object::new();
        for name in names {
            if let Some(value) = value.get(name) {
                entry.insert(name, value.clone());
            }
        }
        Value::Object(entry)
    };
    for part in example.list("parts").iter().filter(|part| !goes(part)) {
        let mut plain = kept(part, &["name", "kind", "on", "needs_flow"]);
        let spigots = part.get("spigots").and_then(Value::as_array).unwrap_or_default();
        let spigots = spigots.iter().map(|spigot| kept(spigot, &["name", "role"])).collect();
        if let Value::Object(fields) = &mut plain {
            fields.insert("spigots", Value::Array(spigots));
        }
        draft.add_entry("parts", plain);
    }
    let stays = |line: &Value| {
        line.get("decision").and_then(Value::as_str) != Some("leave out")
            && ["/from/part", "/to/part"]
                .iter()
                .all(|end| line.pointer(end).and_then(Value::as_str).is_some_and(|part| !gone.contains(&part)))
    };
    for line in example.list("lines").iter().filter(|line| stays(line)) {
        draft.add_entry("lines", kept(line, &["name", "kind", "from", "to"]));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::car::AtOnce;

    #[test]
    fn the_example_car_is_sound_and_coolant_goes_round_in_it() {
        let opened = share::read(EXAMPLE_CAR).expect("a job file");
        assert!(opened.problems.is_empty(), "{:?}", opened.problems);
        let accepted = job::accept(&opened.input);
        assert!(accepted.problems.is_empty(), "{:?}", accepted.problems);
        assert_eq!(accepted.job.runs().len(), 3);
        let now = AtOnce::of(EXAMPLE_CAR).expect("a car");
        let fails: Vec<_> = now.circuit.findings.iter().filter(|finding| finding.verdict == "fail").collect();
        // The stub that is still to be closed, and nothing else.
        assert!(fails.iter().all(|finding| finding.kind == "open end"), "{fails:#?}");
        assert_eq!(now.closures.open.len(), 1, "{:#?}", now.closures.open);
    }

    #[test]
    fn the_plain_car_has_no_state_and_coolant_goes_round_in_it() {
        let mut draft = Draft::open(crate::example::EXAMPLE).expect("JSON");
        plain_car(&mut draft);
        assert!(draft.list("parts").len() >= 7 && draft.list("lines").len() >= 9);
        assert!(draft.list("lines").iter().all(|line| line.get("state").is_none() && line.get("run").is_none()));
        let now = AtOnce::of(&draft.whole().to_string()).expect("a car");
        let wrong: Vec<_> = now.circuit.findings.iter().filter(|f| f.kind == "no flow" || f.kind == "bulb").collect();
        assert!(wrong.is_empty(), "{wrong:#?}");
    }
}
