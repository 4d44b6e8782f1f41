//! In what two states of a car differ, by the names of its hoses, lines and parts.

use super::Draft;
use crate::words;
use share::json::Value;

/// What else a car holds beside what has a name, and what it is called.
const REST: [(&str, &str); 5] = [
    ("car", words::ITS_NAME),
    ("conditions", words::ITS_CONDITIONS),
    ("relations", words::ITS_WAY),
    ("stock", words::ITS_STOCK),
    ("system", words::ITS_LOG),
];

/// In what one state is not as another: first what stands in the one, in its order, then what only the other has.
pub(crate) fn differs(one: &Draft, other: &Draft) -> Vec<String> {
    let (one, other) = (one.whole(), other.whole());
    let mut names: Vec<String> = Vec::new();
    for list in ["runs", "lines", "parts"] {
        let (here, there) = (named(&one, list), named(&other, list));
        let gone = there.iter().filter(|(name, _)| here.iter().all(|(known, _)| known != name));
        let changed = here.iter().filter(|entry| !there.contains(entry));
        for (name, _) in changed.chain(gone) {
            if !names.contains(name) {
                names.push(name.clone());
            }
        }
    }
    let is_other = |(field, _): &(&str, &str)| known(&one, field) != known(&other, field);
    names.extend(REST.into_iter().filter(is_other).map(|(_, called)| called.to_owned()));
    names
}

/// The entries of a list by their names; a hose that has none is called by its place.
fn named<'a>(car: &'a Value, list: &str) -> Vec<(String, &'a Value)> {
    let all = car.get(list).and_then(Value::as_array).unwrap_or_default();
    let name = |(i, entry): (usize, &'a Value)| {
        let own = entry.get("name").and_then(Value::as_str).filter(|name| !name.is_empty());
        (own.map_or_else(|| Draft::plain_name(i), str::to_owned), entry)
    };
    all.iter().enumerate().map(name).collect()
}

/// What is known of the rest; that nothing is known may be written in more ways than one.
fn known<'a>(car: &'a Value, field: &str) -> Option<&'a Value> {
    car.get(field).filter(|value| match value {
        Value::Null => false,
        Value::Array(list) => !list.is_empty(),
        Value::Object(fields) => !fields.is_empty(),
        _ => true,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::example::EXAMPLE_CAR;

    fn car() -> Draft {
        Draft::open(EXAMPLE_CAR).expect("the example is a car")
    }

    #[test]
    fn a_car_does_not_differ_from_itself_whichever_hose_is_at_hand() {
        let (one, mut other) = (car(), car());
        other.go_to(1);
        assert_eq!(differs(&one, &other), [""; 0]);
        // Nothing said is as good as nothing there.
        let mut fresh = Draft::fresh(None, one.unit);
        let before = fresh.clone();
        fresh.set_at("/stock", Value::Array(Vec::new()));
        assert_eq!(differs(&before, &fresh), [""; 0]);
    }

    #[test]
    fn what_was_changed_added_and_taken_away_is_named_once() {
        let before = car();
        let mut now = before.clone();
        let [first, second] = [0, 1].map(|i| before.said(&format!("/lines/{i}/name")).to_owned());
        now.set_at("/lines/0/note", "rotten".into());
        now.take_entry("lines", 1, None);
        let mut names = differs(&now, &before);
        assert_eq!(names.len(), 2, "{names:?}");
        assert!(names.contains(&first) && names.contains(&second), "{names:?}");
        now.set_at("/car", "another".into());
        names.push(words::ITS_NAME.to_owned());
        assert_eq!(differs(&now, &before), names);
        let hose = now.run_name(0);
        now.go_to(0);
        now.set(0, "from/spigot_mm", 17.0.into());
        assert!(differs(&now, &before).contains(&hose), "{hose}");
    }
}
