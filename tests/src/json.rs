//! The job file's JSON against `serde_json`, a reader and writer made by others: what is read, what is refused, and where.

use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::{Index, select};
use proptest::test_runner::{Config, RngAlgorithm, TestCaseError, TestRng, TestRunner};
use serde_json::{Value as Theirs, json};
use share::json::{DEEPEST, MOST_NAMES, Value, read};
use std::cell::Cell;

/// The same cases on every machine.
fn always<S: Strategy>(cases: u32, any: &S, claim: impl Fn(S::Value) -> Result<(), TestCaseError>) {
    let config = Config { cases, failure_persistence: None, ..Config::default() };
    let mut runner = TestRunner::new_with_rng(config, TestRng::deterministic_rng(RngAlgorithm::ChaCha));
    if let Err(failed) = runner.run(any, claim) {
        panic!("{failed}");
    }
}

/// Whether both are the same value, numbers to the last bit.
fn same(ours: &Value, theirs: &Theirs) -> bool {
    match (ours, theirs) {
        (Value::Null, Theirs::Null) => true,
        (Value::Bool(a), Theirs::Bool(b)) => a == b,
        (Value::Number(a), Theirs::Number(b)) => b.as_f64().is_some_and(|b| a.to_bits() == b.to_bits()),
        (Value::String(a), Theirs::String(b)) => a == b,
        (Value::Array(a), Theirs::Array(b)) => a.len() == b.len() && a.iter().zip(b).all(|(a, b)| same(a, b)),
        (Value::Object(a), Theirs::Object(b)) => {
            a.len() == b.len() && a.iter().zip(b).all(|((one, a), (other, b))| one == other && same(a, b))
        }
        _ => false,
    }
}

/// Reads the text with both; they must agree on the value, or on the place of what is wrong. Says whether it was read.
fn agree(text: &str) -> Result<bool, TestCaseError> {
    match (read(text), serde_json::from_str::<Theirs>(text)) {
        (Ok(ours), Ok(theirs)) => prop_assert!(same(&ours, &theirs), "{text:?}: {ours:?} for {theirs:?}"),
        (Err(ours), Err(theirs)) => {
            let place = (ours.line, ours.column);
            if theirs.is_eof() {
                // Theirs is the last byte, ours the place behind it.
                let last = text.rsplit('\n').next().unwrap_or_default();
                prop_assert_eq!(place, (1 + text.matches('\n').count(), 1 + last.len()), "{:?}: {}", text, ours);
            } else if theirs.column() > 0 {
                prop_assert_eq!(place, (theirs.line(), theirs.column()), "{:?}: {}, {}", text, ours, theirs);
            } else {
                // They count a line's end to the line behind it.
                prop_assert_eq!(ours.line + 1, theirs.line(), "{:?}: {}, {}", text, ours, theirs);
            }
            return Ok(false);
        }
        (ours, theirs) => prop_assert!(false, "{text:?}: {ours:?} for {theirs:?}"),
    }
    Ok(true)
}

fn number() -> impl Strategy<Value = Theirs> {
    let bits = any::<u64>().prop_map(f64::from_bits);
    let typed = (-1_000_000_i32..1_000_000, select(vec![1.0, 10.0, 100.0, 1000.0]))
        .prop_map(|(digits, parts)| f64::from(digits) / parts);
    prop_oneof![bits.prop_map(|x| json!(x)), typed.prop_map(|x| json!(x)), any::<i64>().prop_map(|x| json!(x))]
}

fn words() -> impl Strategy<Value = String> {
    let hard = ["", "\"", "\\", "/", "\u{8}\u{c}\n\r\t", "\0\u{1f}\u{7f}", "\u{e9}\u{2028}", "\u{1f527}", "\\u0041"];
    prop_oneof![select(hard.map(str::to_owned).to_vec()), vec(any::<char>(), 0..6).prop_map(String::from_iter)]
}

fn value() -> impl Strategy<Value = Theirs> {
    let leaf =
        prop_oneof![Just(Theirs::Null), any::<bool>().prop_map(Theirs::from), number(), words().prop_map(Theirs::from)];
    leaf.prop_recursive(5, 40, 6, |inner| {
        let fields =
            vec((words(), inner.clone()), 0..6).prop_map(|fields| Theirs::Object(fields.into_iter().collect()));
        prop_oneof![vec(inner, 0..6).prop_map(Theirs::Array), fields]
    })
}

#[test]
fn what_they_write_is_read_and_what_is_written_they_read() {
    always(4000, &value(), |theirs| {
        for text in [theirs.to_string(), serde_json::to_string_pretty(&theirs).expect("JSON")] {
            let ours = read(&text).map_err(|why| TestCaseError::fail(why.to_string()))?;
            prop_assert!(same(&ours, &theirs), "{text}: {ours:?}");
            let written = ours.to_string();
            let back = serde_json::from_str(&written).map_err(|why| TestCaseError::fail(why.to_string()))?;
            prop_assert!(same(&ours, &back), "{written}");
            prop_assert_eq!(read(&written), Ok(ours));
        }
        Ok(())
    });
}

#[test]
fn any_spelling_of_a_number_is_read_as_they_read_it() {
    let whole = prop_oneof!["-?(0|[1-9][0-9]{0,3})", "-?[1-9][0-9]{0,40}", "-?0?[0-9]{0,3}"];
    let number = (whole, "(\\.[0-9]{0,30})?", "([eE][+-]?[0-9]{0,3})?").prop_map(|(a, b, c)| a + &b + &c);
    let read = Cell::new(0);
    always(20_000, &number, |text| {
        let out_of_range = serde_json::from_str::<Theirs>(&text).is_err_and(|why| why.to_string().contains("range"));
        if out_of_range {
            // Some of them they refuse before they have seen the last figure.
            prop_assert!(share::json::read(&text).is_err(), "{}", text);
        } else {
            read.set(read.get() + u32::from(agree(&text)?));
        }
        Ok(())
    });
    assert!(read.get() > 8000, "only {} were numbers", read.get());
}

#[test]
fn any_row_of_tokens_is_read_or_refused_alike() {
    let tokens = [
        "{",
        "}",
        "[",
        "]",
        ",",
        ":",
        " ",
        "\n",
        "\t",
        "\u{a0}",
        "null",
        "true",
        "false",
        "nul",
        "tru",
        "0",
        "-",
        "7",
        "1.5",
        "e",
        "E+",
        ".",
        "\"",
        "\"a\"",
        "\"a\":",
        "\"b\":1",
        "\\",
        "\\n",
        "\\u",
        "d83d",
        "dd27",
        "00e9",
        "\\ud83d\\udd27",
        "\u{1f527}",
        "\u{1}",
        "/",
        "[]",
        "{}",
        "'",
    ];
    always(60_000, &vec(select(tokens.to_vec()), 0..9), |row| agree(&row.concat()).map(drop));
}

#[test]
fn an_example_with_a_slip_in_it_is_read_or_refused_alike() {
    let whole = include_str!("../cases/example.json");
    assert!(agree(whole).expect("alike"), "the example is JSON");
    let put = ["", "\"", "\\", "{", "}", "[", "]", ",", ":", "0", "-", ".", "e9", "\n", "nul", "\u{1f527}", "\u{7}"];
    always(20_000, &(any::<Index>(), 0..4_usize, select(put.to_vec())), |(at, lost, put)| {
        let chars: Vec<char> = whole.chars().collect();
        let at = at.index(chars.len());
        let behind = &chars[(at + lost).min(chars.len())..];
        agree(&format!("{}{put}{}", String::from_iter(&chars[..at]), String::from_iter(behind))).map(drop)
    });
}

#[test]
fn as_deep_as_they_read_and_no_deeper() {
    for (open, close) in [("[", "]"), ("{\"a\":", "}")] {
        for deep in [DEEPEST - 1, DEEPEST, DEEPEST + 1, 100_000] {
            let text = open.repeat(deep) + "0" + &close.repeat(deep);
            assert_eq!(agree(&text).expect("alike"), deep <= DEEPEST, "{deep} times {open}");
        }
    }
}

#[test]
fn a_name_counts_once_and_too_many_are_refused() {
    assert!(agree(r#"{"a":1,"b":2,"a":{"c":3},"a":4}"#).expect("alike"), "the last one counts");
    let object = |n: usize| format!("{{{}}}", Vec::from_iter((0..n).map(|i| format!("\"{i}\":{i}"))).join(","));
    assert!(agree(&object(MOST_NAMES)).expect("alike"), "as many as may be");
    let refused = read(&object(MOST_NAMES + 1)).expect_err("one too many");
    assert_eq!(refused.what, "too many names in one object");
}
