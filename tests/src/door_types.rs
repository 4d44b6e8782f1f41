//! The types that the solver's JavaScript door gives to job file and report, field by field against the structs themselves.

use crate::tidy::{fail_if_any, root, tracked};
use std::collections::{BTreeMap, BTreeSet};

/// A field: its name, whether it may be absent, and its type as TypeScript writes it.
type Field = (String, bool, String);
/// Structs or interfaces with their fields, in their order.
type Records = BTreeMap<String, Vec<Field>>;

/// The structs of a Rust file. What is typed may be absent and null where it may be empty; what is told is there.
fn structs(text: &str, typed: bool) -> Records {
    let mut all = Records::new();
    let (mut inside, mut may_be_absent, mut renamed, mut flat) = (None, false, None, false);
    for line in text.lines() {
        let words = line.trim();
        if let Some(name) = line.strip_prefix("pub struct ").and_then(|rest| rest.strip_suffix(" {")) {
            inside = Some(name.to_owned());
            all.insert(name.to_owned(), Vec::new());
        } else if line == "}" {
            inside = None;
        } else if words.starts_with("#[serde(") {
            may_be_absent |= words.contains("skip_serializing_if");
            flat |= words.contains("flatten");
            renamed = words.split_once("rename = \"").and_then(|(_, rest)| rest.split('"').next());
        } else if let (Some(own), Some(field)) = (&inside, words.strip_prefix("pub ")) {
            let (name, kind) = field.trim_end_matches(',').split_once(": ").expect("a field and its type");
            let can_be_empty =
                ["Option<", "Vec<", "BTreeMap<"].iter().any(|head| kind.starts_with(head)) || kind == "ConditionsInput";
            let is_list_of_runs = kind == "Vec<RunInput>";
            let (absent, kind) = match (typed && can_be_empty && !is_list_of_runs, may_be_absent) {
                (true, _) => (true, format!("{} | null", as_ts(kind).trim_end_matches(" | null"))),
                (false, true) => (true, as_ts(kind).trim_end_matches(" | null").to_owned()),
                (false, false) => (false, as_ts(kind)),
            };
            if !flat {
                let fields = all.get_mut(own).expect("the struct begins before its fields");
                fields.push((renamed.unwrap_or(name).to_owned(), absent, kind));
            }
            (may_be_absent, renamed, flat) = (false, None, false);
        }
    }
    all
}

/// A type of Rust in TypeScript.
fn as_ts(kind: &str) -> String {
    let inner = |head: &str| kind.strip_prefix(head).and_then(|rest| rest.strip_suffix('>'));
    match kind {
        "f64" | "usize" | "u32" => "number".to_owned(),
        "bool" => "boolean".to_owned(),
        "String" => "string".to_owned(),
        "[f64; 2]" => "Pair".to_owned(),
        "[f64; 3]" => "Triple".to_owned(),
        "(String, f64)" => "[string, number]".to_owned(),
        "BTreeMap<String, String>" => "Record<string, string>".to_owned(),
        _ => match (inner("Option<"), inner("Vec<")) {
            (Some(some), _) => format!("{} | null", as_ts(some)),
            (_, Some(each)) => format!("{}[]", as_ts(each)),
            _ => kind.to_owned(),
        },
    }
}

/// The interfaces of a file of types, and what in it is not said: a field without its words, or without its unit.
fn interfaces(text: &str) -> (Records, Vec<String>) {
    let (mut all, mut silent, mut inside, mut doc) = (Records::new(), Vec::new(), None, String::new());
    for line in text.lines() {
        let words = line.trim();
        let is_doc = words.starts_with("/**") || (!doc.is_empty() && !doc.ends_with("*/"));
        if is_doc {
            doc.push_str(words);
            continue;
        }
        if let Some(name) = line.strip_prefix("export interface ").and_then(|rest| rest.strip_suffix(" {")) {
            inside = Some(name.to_owned());
            all.insert(name.to_owned(), Vec::new());
        } else if line == "}" {
            inside = None;
        } else if let (Some(own), Some((name, kind))) = (&inside, words.trim_end_matches(';').split_once(": ")) {
            let bare = name.trim_end_matches('?');
            let unit = unit_of(bare).map(|unit| format!("In {unit}."));
            if doc.is_empty() || unit.is_some_and(|unit| !doc.contains(&unit)) {
                silent.push(format!("{own}.{bare}: {doc}"));
            }
            // Narrower words for what is a text or a number in the struct.
            let kind = kind.replace("Verdict", "string").replace("Basis", "string");
            let kind = if kind.starts_with('\'') { "string".to_owned() } else { kind };
            let kind = if kind == "1" { "number".to_owned() } else { kind };
            let fields = all.get_mut(own).expect("the interface begins before its fields");
            fields.push((bare.to_owned(), bare != name, kind));
        }
        doc.clear();
    }
    (all, silent)
}

/// The unit that a name ends with, in words.
fn unit_of(name: &str) -> Option<&'static str> {
    const UNITS: [(&str, &str); 14] = [
        ("_kg_m3", "kg/m³"),
        ("_l_min", "l/min"),
        ("_per_m", "money a metre"),
        ("_kpa", "kPa"),
        ("_pa", "Pa"),
        ("_mm", "mm"),
        ("_deg", "degrees"),
        ("_nm", "N·m"),
        ("_percent", "%"),
        ("_by_volume", "%"),
        ("_c", "°C"),
        ("_l", "litres"),
        ("_n", "N"),
        ("_m", "m"),
    ];
    UNITS.iter().find(|(ending, _)| name.ends_with(ending)).map(|(_, unit)| *unit)
}

/// All structs that `first` holds, itself among them.
fn held_by(first: &str, all: &Records) -> BTreeSet<String> {
    let (mut held, mut open) = (BTreeSet::new(), vec![first.to_owned()]);
    while let Some(name) = open.pop() {
        let Some(fields) = all.get(&name) else { continue };
        if held.insert(name) {
            let bare = |kind: &str| kind.trim_end_matches(" | null").trim_end_matches("[]").to_owned();
            open.extend(fields.iter().map(|(_, _, kind)| bare(kind)));
        }
    }
    held
}

fn types() -> BTreeMap<String, String> {
    let ours = |path: &String| path.starts_with("crates/door/js/") && path.ends_with(".d.ts");
    tracked().into_iter().filter(|(path, _)| ours(path)).collect()
}

#[test]
fn every_field_of_job_file_and_report_has_its_type_and_unit_and_no_other_has() {
    let (mut typed, mut told) = (Records::new(), Records::new());
    for (path, text) in tracked().iter().filter(|(path, _)| path.starts_with("crates/job/src/")) {
        let is_typed = path.contains("/src/input");
        let records = if is_typed { &mut typed } else { &mut told };
        records.extend(structs(text, is_typed));
    }
    // Where the struct of the job begins the file says what it is.
    let job = typed.get_mut("Input").expect("the job");
    let head =
        [("format", "string"), ("version", "number")].map(|(name, kind)| (name.to_owned(), false, kind.to_owned()));
    job.splice(0..0, head);
    let mut ours: Records =
        held_by("Input", &typed).into_iter().map(|name| (name.clone(), typed[&name].clone())).collect();
    ours.extend(held_by("Report", &told).into_iter().map(|name| (name.clone(), told[&name].clone())));
    let job = ours.remove("Input").expect("the job");
    ours.insert("Job".to_owned(), job);

    let (mut theirs, mut faults) = (Records::new(), Vec::new());
    for text in types().values() {
        let (records, silent) = interfaces(text);
        theirs.extend(records);
        faults.extend(silent);
    }
    assert!(ours.len() > 60, "{} structs", ours.len());
    // The four forms of a thing are variants of an enum.
    for form in ["RodInput", "BallInput", "BoxInput", "DiscInput"] {
        assert!(theirs.remove(form).is_some(), "{form}");
    }
    // A finding may have further numbers by name, all of which may be absent.
    let finding = theirs.get_mut("FindingReport").expect("a finding");
    let known = ours["FindingReport"].len();
    assert!(finding.split_off(known).iter().all(|(_, absent, kind)| *absent && kind == "number"), "further numbers");

    for name in ours.keys().chain(theirs.keys()).collect::<BTreeSet<_>>() {
        let (own, given) = (ours.get(name), theirs.get(name));
        if own != given {
            faults.push(format!("{name}:\n  {own:?}\n  {given:?}"));
        }
    }
    fail_if_any(&faults, "crates/door/js/*.d.ts say what the structs are, with words and unit for every field");
}

/// The names in a text that begin a pair of a name and a number, as `("boils_c", boils)`.
fn pairs(text: &str) -> BTreeSet<&str> {
    let is_name = |word: &str| !word.is_empty() && word.bytes().all(|byte| byte.is_ascii_lowercase() || byte == b'_');
    let begun = text.split("(\"").skip(1).filter_map(|rest| rest.split_once("\", "));
    begun.filter(|(name, then)| is_name(name) && !then.starts_with('"')).map(|(name, _)| name).collect()
}

#[test]
fn every_further_number_of_a_finding_has_its_name_and_no_other_has() {
    let files = tracked();
    let checks = files.iter().filter(|(path, _)| path.starts_with("crates/checks/src/"));
    let shipped = checks.map(|(_, text)| text.split("#[cfg(test)]").next().unwrap_or_default());
    let mut ours: BTreeSet<_> = shipped.flat_map(pairs).collect();
    // Told in fields of their own, or not at all.
    let (_, apart) = files["crates/job/src/tell.rs"].split_once("const APART").expect("the list of those apart");
    let apart: Vec<_> = apart.split("];\n").next().unwrap_or_default().split('"').skip(1).step_by(2).collect();
    assert!(apart.len() > 5, "{apart:?}");
    ours.retain(|name| !apart.contains(name));
    assert!(ours.remove("filler"), "the only pair that is no number");

    let (_, finding) = files["crates/door/js/report.d.ts"].split_once("interface FindingReport {").expect("a finding");
    let fields =
        finding.split("\n}").next().unwrap_or_default().lines().filter_map(|line| line.split_once("?: number;"));
    let given: BTreeSet<_> = fields.map(|(name, _)| name.trim()).filter(|name| !apart.contains(name)).collect();
    assert!(given.len() > 15, "{given:?}");
    assert_eq!(given, ours, "crates/door/js/report.d.ts names the numbers that the checks give");
}

/// `name: "word" Variant, …` of a choice as the job file's reader has it.
fn words_of(choice: &str) -> (String, Vec<String>) {
    let (name, rest) = choice.split_once(':').expect("a name");
    (name.trim().to_owned(), rest.split('"').skip(1).step_by(2).map(str::to_owned).collect())
}

#[test]
fn every_choice_has_the_words_that_the_reader_takes() {
    let reader = std::fs::read_to_string(root().join("crates/share/src/file/fields.rs")).expect("the reader");
    let choices = reader.split("\nchoice!(").skip(1).map(|rest| words_of(rest.split(");").next().expect("its end")));
    let choices: BTreeMap<_, _> = choices.collect();
    assert!(choices.len() > 10, "{} choices", choices.len());
    let types: String = types().into_values().collect();
    let mut faults = Vec::new();
    for (name, words) in choices {
        let given = types.split_once(&format!("export type {name} =")).and_then(|(_, rest)| rest.split(';').next());
        let given: Vec<_> = given.unwrap_or_default().split('\'').skip(1).step_by(2).map(str::to_owned).collect();
        if given != words {
            faults.push(format!("{name}: {given:?}, not {words:?}"));
        }
    }
    fail_if_any(&faults, "a choice in crates/door/js/*.d.ts has the words of the job file");
}

#[test]
fn a_field_that_differs_is_seen() {
    let ours = structs("pub struct A {\n    pub b_mm: Option<f64>,\n    pub c: Vec<B>,\n}\n", false);
    let theirs = |text: &str| interfaces(&format!("export interface A {{\n{text}\n}}\n"));
    let right = "  /** B. In mm. */\n  b_mm: number | null;\n  /** C,\n      and more. */\n  c: B[];";
    assert_eq!(theirs(right), (ours.clone(), Vec::new()));
    let no_unit = theirs(&right.replace(" In mm.", ""));
    assert_eq!((no_unit.0 == ours, no_unit.1.len()), (true, 1), "a unit that is not said");
    for (from, to) in [(" | null", ""), ("c: B[]", "c: B"), ("c:", "d:"), ("c:", "c?:")] {
        assert_ne!(theirs(&right.replace(from, to)).0, ours, "{from} as {to}");
    }
}
