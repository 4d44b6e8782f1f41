//! Job files with anything in them that a slip, a newer program or malice would put there.

use super::{Broken, Fate, Met, below, kind, one, rarely, slipped};
use crate::layouts::Draw;
use serde_json::{Map, Value, json};
use stock::Stock;

/// Stands before a text that is to be written without its quotes.
const RAW: &str = "@!";
/// Stands before a name that is to stand twice in its object: sorted in front of the letters, or behind them.
const TWICE: [&str; 2] = ["@@", "~~"];

/// Numbers at the limits of binary64 (IEEE 754-2019, table 3.5), words that are none in JSON, and spellings it does not have.
const EXTREMES: [&str; 32] = [
    "0",
    "-0",
    "-0.0",
    "1e308",
    "-1e308",
    "1.7976931348623157e308",
    "5e-324",
    "-5e-324",
    "2.2250738585072011e-308",
    "1e-300",
    "1e400",
    "-1e400",
    "NaN",
    "Infinity",
    "-Infinity",
    "nan",
    "1e-9",
    "1e9",
    "9007199254740993",
    "4294967296",
    "1e22",
    "01",
    "+1",
    ".5",
    "5.",
    "0x10",
    "1E5",
    "-1",
    "1e-160",
    "1e154",
    "1e-154",
    "18446744073709551616",
];

/// The limits of what is accepted, and what lies beside them.
const IN_RANGE: [&str; 36] = [
    "0",
    "-0.0",
    "1e-9",
    "1e-160",
    "5e-324",
    "0.5",
    "1",
    "4",
    "8",
    "16",
    "25.4",
    "30",
    "44.99999999",
    "45",
    "50",
    "80",
    "89.999999999",
    "90",
    "90.0000001",
    "100",
    "110",
    "120",
    "150",
    "179.9999",
    "180",
    "200",
    "300",
    "500",
    "1000",
    "1200",
    "2000",
    "5000",
    "-5000",
    "-40",
    "-0.001",
    "-90",
];

const WORDS: [&str; 24] = [
    "",
    " ",
    "none",
    "A",
    "B",
    "engine",
    "body",
    "water rail",
    "heater core",
    "heater flow",
    "EPDM",
    "D-1",
    "P-clip",
    "hot",
    "solid",
    "pump",
    "<script>alert(1)</script>",
    "\u{202e}txet\u{202c}",
    "\u{0}",
    "\u{1f527}",
    "\"&lt;",
    "hose",
    "leave out",
    "pump inlet",
];

fn raw(number: &str) -> Value {
    Value::String(format!("{RAW}{number}"))
}

/// The text of a job with what was marked in it written as it is to stand.
fn written(job: &Value) -> String {
    let text = job.to_string();
    let mut out = String::with_capacity(text.len());
    let mut rest = text.as_str();
    while let Some((before, behind)) = rest.split_once(&format!("\"{RAW}")) {
        let (number, behind) = behind.split_once('"').unwrap_or((behind, ""));
        out += before;
        out += number;
        rest = behind;
    }
    out += rest;
    TWICE.iter().fold(out, |text, mark| text.replace(&format!("\"{mark}"), "\""))
}

fn count(value: &Value) -> usize {
    1 + match value {
        Value::Array(list) => list.iter().map(count).sum(),
        Value::Object(map) => map.values().map(count).sum(),
        _ => 0,
    }
}

/// The value at a place of the tree, counted from its root.
fn nth<'a>(value: &'a mut Value, place: &mut usize) -> Option<&'a mut Value> {
    if *place == 0 {
        return Some(value);
    }
    *place -= 1;
    match value {
        Value::Array(list) => list.iter_mut().find_map(|inner| nth(inner, place)),
        Value::Object(map) => map.values_mut().find_map(|inner| nth(inner, place)),
        _ => None,
    }
}

fn any_of(value: &Value, draw: &mut Draw) -> Value {
    let mut copy = value.clone();
    let mut place = below(draw, count(value));
    nth(&mut copy, &mut place).map(|found| found.take()).unwrap_or_default()
}

/// The parts from which jobs are put together.
#[derive(Debug)]
pub(crate) struct Pool {
    jobs: Vec<Value>,
    /// Every name of a field with a value that it had somewhere.
    fields: Vec<(String, Value)>,
}

impl Pool {
    pub(crate) fn of(texts: impl IntoIterator<Item = String>) -> Self {
        let mut pool = Self { jobs: Vec::new(), fields: Vec::new() };
        for text in texts {
            pool.add(&text);
        }
        assert!(!pool.jobs.is_empty(), "jobs to begin with");
        pool
    }

    /// Adds a job, if another reader takes it for JSON.
    pub(crate) fn add(&mut self, text: &str) {
        fn fields(value: &Value, out: &mut Vec<(String, Value)>) {
            match value {
                Value::Array(list) => list.iter().for_each(|inner| fields(inner, out)),
                Value::Object(map) => {
                    for (name, inner) in map {
                        // A few values of each name are enough, and small ones.
                        if out.iter().filter(|(known, _)| known == name).count() < 4 && count(inner) < 60 {
                            out.push((name.clone(), inner.clone()));
                        }
                        fields(inner, out);
                    }
                }
                _ => {}
            }
        }
        if let Ok(job) = serde_json::from_str::<Value>(text) {
            fields(&job, &mut self.fields);
            self.jobs.push(job);
        }
    }

    fn job(&self, draw: &mut Draw) -> Value {
        self.jobs[below(draw, self.jobs.len())].clone()
    }

    fn field(&self, draw: &mut Draw) -> (String, Value) {
        self.fields[below(draw, self.fields.len())].clone()
    }

    /// A file with one to four things wrong with it, or with slips in its text, or no file at all.
    pub(crate) fn damaged(&self, draw: &mut Draw) -> String {
        let mut job = self.job(draw);
        match below(draw, 20) {
            0 => return (0..below(draw, 300)).map(|_| char::from(draw.bits().to_le_bytes()[0])).collect(),
            1 | 2 => return slipped(&job.to_string(), draw),
            _ => {}
        }
        for _ in 0..=below(draw, 4) {
            let mut place = below(draw, count(&job));
            let splice = any_of(&self.jobs[below(draw, self.jobs.len())], draw);
            if let Some(value) = nth(&mut job, &mut place) {
                self.damage(value, splice, draw);
            }
        }
        written(&job)
    }

    fn damage(&self, value: &mut Value, splice: Value, draw: &mut Draw) {
        if rarely(draw, 10) {
            *value = match below(draw, 5) {
                0 => Value::Null,
                1 => json!([]),
                2 => json!({}),
                3 => json!(one(draw, &WORDS)),
                _ => splice,
            };
            return;
        }
        match value {
            Value::Null | Value::Bool(_) => *value = json!(draw.bits() & 1 == 1),
            Value::Number(number) => {
                let was = number.as_f64().unwrap_or(0.0);
                *value = match below(draw, 6) {
                    0 | 1 => raw(one(draw, &EXTREMES)),
                    2 => raw(one(draw, &IN_RANGE)),
                    3 => json!(was * [0.1, 10.0, 25.4, -1.0, 1e3, 1.0000001][below(draw, 6)]),
                    _ => json!(was + draw.between(-50.0, 50.0)),
                };
            }
            Value::String(_) => {
                let long = ["x".repeat(below(draw, 5000)), "\u{202e}<b>\u{200b}".repeat(below(draw, 300))];
                let text = if rarely(draw, 20) { &long[below(draw, 2)] } else { one(draw, &WORDS) };
                *value = json!(text);
            }
            Value::Array(list) => {
                let at = below(draw, list.len());
                let to = below(draw, list.len());
                match below(draw, 6) {
                    0 if !list.is_empty() => drop(list.remove(at)),
                    1 if !list.is_empty() => {
                        let many = if rarely(draw, 50) { 400 } else { 1 + below(draw, 12) };
                        let again = list[at].clone();
                        list.splice(at..at, std::iter::repeat_n(again, many));
                    }
                    2 if !list.is_empty() => list.swap(at, to),
                    3 => list.clear(),
                    _ => list.push(splice),
                }
            }
            Value::Object(map) => self.damage_object(map, draw),
        }
    }

    fn damage_object(&self, map: &mut Map<String, Value>, draw: &mut Draw) {
        let own = map.keys().nth(below(draw, map.len())).cloned().unwrap_or_default();
        let (name, other) = self.field(draw);
        match below(draw, 6) {
            0 => drop(map.remove(&own)),
            1 => drop(map.insert(format!("{}{own}", one(draw, &TWICE)), other)),
            2 => drop(map.insert(own, other)),
            3 if rarely(draw, 4) => drop(map.insert("unheard_of".to_owned(), other)),
            _ => drop(map.insert(name, other)),
        }
    }

    /// A file that is likely to be accepted: numbers moved about or put on the limits of what is accepted, fields that were
    /// sound elsewhere, ends turned; of one or two runs, so that each is soon answered.
    pub(crate) fn moved(&self, draw: &mut Draw) -> String {
        let mut job = self.job(draw);
        let mut other = self.job(draw);
        let runs = |job: &'_ mut Value| job.get_mut("runs").and_then(Value::as_array_mut).map(std::mem::take);
        if let (Some(mut runs), Some(mut others)) = (runs(&mut job), runs(&mut other)) {
            if runs.len() > 1 {
                let at = below(draw, runs.len());
                runs = vec![runs.swap_remove(at)];
            }
            if rarely(draw, 8) && !others.is_empty() {
                runs.push(others.swap_remove(below(draw, others.len())));
            }
            for run in &mut runs {
                self.move_run(run, draw);
            }
            job["runs"] = Value::Array(runs);
        }
        if rarely(draw, 6)
            && job.is_object()
            && let Some(conditions) = other.get_mut("conditions")
        {
            job["conditions"] = conditions.take();
        }
        if rarely(draw, 3)
            && let Some(conditions) = job.get_mut("conditions")
        {
            move_numbers(conditions, draw);
        }
        written(&job)
    }

    fn move_run(&self, run: &mut Value, draw: &mut Draw) {
        if !run.is_object() {
            return;
        }
        for _ in 0..=below(draw, 3) {
            let mut place = below(draw, count(run));
            if let Some(value) = nth(run, &mut place) {
                move_numbers(value, draw);
            }
        }
        if rarely(draw, 3) {
            for end in ["from", "to"] {
                if let Some(end) = run.get_mut(end).filter(|end| end.is_object()) {
                    end["at_mm"] = json!([(); 3].map(|()| (draw.between(-300.0, 300.0) * 10.0).round() / 10.0));
                    end["points"] = json!([(); 3].map(|()| draw.between(-1.0, 1.0)));
                }
            }
        }
        if rarely(draw, 3) {
            const OF_A_RUN: [&str; 14] = [
                "via",
                "neighbours",
                "rock_mm",
                "rock",
                "hose",
                "replaces",
                "side",
                "flow_can_stop",
                "sleeve",
                "stood",
                "try_cut_mm",
                "bows",
                "legs",
                "elbows",
            ];
            let name = one(draw, &OF_A_RUN);
            let known: Vec<&Value> =
                self.fields.iter().filter(|(field, _)| field == name).map(|(_, value)| value).collect();
            if let Some(value) = known.get(below(draw, known.len())) {
                run[name] = (*value).clone();
            }
        }
        // Every pose of the rock is laid, and a hose that may rest against something takes fifty times as long.
        if let Some(run) = run.as_object_mut().filter(|_| !rarely(draw, 3)) {
            run.remove("rock_mm");
            run.remove("rock");
        }
        for thing in run.get_mut("neighbours").and_then(Value::as_array_mut).into_iter().flatten() {
            if let Some(thing) = thing.as_object_mut().filter(|_| !rarely(draw, 8)) {
                thing.remove("may_touch");
            }
        }
        // A hose of one's own is one candidate in place of six, and sooner answered.
        if !rarely(draw, 5) {
            let bore = [10.0, 13.0, 16.0, 19.0, 25.0, 32.0][below(draw, 6)];
            let wall = (draw.between(2.5, 6.0) * 10.0).round() / 10.0;
            run["hose"] =
                json!({ "bore_mm": bore, "wall_mm": wall, "rubber": one(draw, &["EPDM", "silicone", "NBR"]) });
            for end in ["from", "to"] {
                if let Some(end) = run.get_mut(end).filter(|end| end.is_object() && !rarely(draw, 8)) {
                    end["spigot_mm"] = json!(bore * draw.between(0.99, 1.06));
                }
            }
        }
        if rarely(draw, 12)
            && let Some(things) =
                run.get_mut("neighbours").and_then(Value::as_array_mut).filter(|things| !things.is_empty())
        {
            let again = things[below(draw, things.len())].clone();
            things.resize(things.len() + 1 + below(draw, 6), again);
        }
    }
}

/// Numbers of a part, each moved a little, or now and then put on a limit.
fn move_numbers(value: &mut Value, draw: &mut Draw) {
    match value {
        Value::Array(list) => list.iter_mut().for_each(|inner| move_numbers(inner, draw)),
        Value::Object(map) => map.values_mut().for_each(|inner| move_numbers(inner, draw)),
        Value::Number(number) if rarely(draw, 2) => {
            let was = number.as_f64().unwrap_or(0.0);
            *value = if rarely(draw, 6) { raw(one(draw, &IN_RANGE)) } else { json!(was * draw.between(0.6, 1.5)) };
        }
        _ => {}
    }
}

/// Reads a file and takes what is in it.
pub(crate) fn read(text: &str) -> Result<Met, Broken> {
    let opened = match share::read(text) {
        Err(why) => {
            let words = why.to_string();
            return if words.is_empty() { Err("refused without a word".to_owned()) } else { Ok(Met::refused(&words)) };
        }
        Ok(opened) => opened,
    };
    let input = opened.input;
    let written = share::write(&input);
    let back = share::read(&written).map_err(|why| format!("what was read is written so that it is refused: {why}"))?;
    if !back.problems.is_empty() || share::write(&back.input) != written {
        return Err(format!("what was read is not read back: {:?}", back.problems));
    }
    let accepted = job::accept(&input);
    for problem in accepted.problems.iter().chain(&opened.problems) {
        if problem.wrong.is_empty() || problem.right.is_empty() {
            return Err(format!("a problem without words: {problem:?}"));
        }
    }
    let mut seen: Vec<String> =
        accepted.problems.iter().chain(&opened.problems).map(|each| kind(&each.wrong)).collect();
    let runs = accepted.job.runs().len();
    seen.push(format!("{} runs", runs.min(4)));
    Ok(Met { fate: if runs > 0 { Fate::Accepted } else { Fate::Refused }, seen })
}

/// Answers a file and holds what must be true of every report.
pub(crate) fn answered(text: &str, stock: &Stock) -> Result<Met, Broken> {
    let report = match share::answer(text, stock) {
        Err(why) => return Ok(Met::refused(&why.to_string())),
        Ok(report) => report,
    };
    let long = format!("{report:?}");
    // A name may hold such a word; else no sentence does.
    let named = ["NaN", "inf"].iter().any(|word| text.contains(word));
    if let Some(around) = not_a_number(&long, !named) {
        return Err(format!("a number that is none: {around}"));
    }
    if serde_json::to_string(&report).is_err() {
        return Err("no JSON".to_owned());
    }
    let mut seen = Vec::new();
    for run in &report.runs {
        if run.candidates.is_empty() && run.rejected.is_empty() {
            return Err("no hose at all, and no reason".to_owned());
        }
        for finding in run.candidates.iter().flat_map(|candidate| &candidate.findings) {
            seen.push(format!("{}: {}", finding.check, finding.verdict));
        }
        seen.extend(run.rejected.iter().map(|rejected| kind(&format!("{rejected:?}"))));
        seen.extend(run.remedies.iter().map(|remedy| kind(&format!("{remedy:?}"))));
    }
    seen.sort_unstable();
    seen.dedup();
    Ok(Met { fate: if report.runs.is_empty() { Fate::Refused } else { Fate::Accepted }, seen })
}

/// Where the long form of a report has a number that is none; in its texts as well, if `in_texts`.
fn not_a_number(long: &str, in_texts: bool) -> Option<&str> {
    let bytes = long.as_bytes();
    let (mut quoted, mut escaped) = (false, false);
    for at in 0..bytes.len() {
        match bytes[at] {
            _ if escaped => escaped = false,
            b'\\' if quoted => escaped = true,
            b'"' => quoted = !quoted,
            b'N' | b'i' if !quoted || in_texts => {
                let word = |word: &[u8]| {
                    let apart = |c: Option<&u8>| c.is_none_or(|c| !(c.is_ascii_alphanumeric() || *c == b'_'));
                    bytes[at..].starts_with(word)
                        && apart(bytes.get(at + word.len()))
                        && apart(at.checked_sub(1).and_then(|before| bytes.get(before)))
                };
                if word(b"NaN") || word(b"inf") {
                    let from =
                        (0..=at.saturating_sub(200)).rev().find(|from| long.is_char_boundary(*from)).unwrap_or(0);
                    return long.get(from..at + 3);
                }
            }
            _ => {}
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_that_is_none_is_found_in_a_field_and_in_a_text() {
        for none in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
            assert!(not_a_number(&format!("{:?}", Some(none)), false).is_some(), "{none}");
        }
        assert!(not_a_number(r#"Told { why: "NaN mm" }"#, true).is_some(), "in a text");
        assert_eq!(not_a_number(r#"Told { why: "a \"NaN\" mm", x: 1.0, info: "inf" }"#, false), None, "a name");
        assert_eq!(not_a_number("Told { info: 1, infinite: 2, NaNs: 3 }", true), None, "longer words");
    }

    #[test]
    fn marks_become_what_no_writer_of_json_writes() {
        let job = json!({ "b": raw("1e400"), "@@b": [raw("NaN")], "~~b": 1 });
        assert_eq!(
            written(&job),
            r#"{"b":[NaN],"b":1e400,"b":1}"#,
            "a name three times, and words that are no numbers"
        );
    }
}
