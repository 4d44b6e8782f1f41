//! The fields of the whole car's lists: what is typed of a line, a part, a spigot, a hose in stock.

use super::fields::{Field, Reads, count, field};
use crate::words;
use share::json::Value;

pub(crate) const MADE_OF: &[&str] = &["", "steel", "cast iron", "aluminium", "brass", "copper", "plastic"];
const LINE_KIND: &[&str] = &["hose", "moulded hose", "steel line", "passage"];
const PART_KIND: &[&str] = &[
    "pump",
    "block",
    "head",
    "thermostat",
    "radiator",
    "heater core",
    "expansion bottle",
    "throttle body",
    "oil cooler",
    "vaporiser",
    "tee",
    "tap",
    "restrictor",
    "bleed screw",
    "non-return valve",
    "joiner",
    "steel line",
    "other",
];
const ON: &[&str] = &["", "engine", "body"];
const NEEDS: &[&str] = &["", "always", "thermostat open", "no"];
const ROLE: &[&str] = &["", "inlet", "outlet", "valve", "bypass"];
const CLOSED_BY: &[&str] = &["", "thread plug", "cap", "hose and plug", "blank"];

/// What the car is called.
pub(crate) fn name() -> Field {
    field("/car".to_owned(), words::ITS_NAME, Reads::Words)
}

/// What is typed of a line.
pub(crate) fn line(i: usize) -> Vec<Field> {
    let at = |name: &str| format!("/lines/{i}/{name}");
    vec![
        field(at("name"), "its name", Reads::Words),
        field(at("kind"), "what it is", Reads::One(LINE_KIND)),
        field(at("bore_mm"), "its bore", Reads::Length),
        field(at("length_mm"), "its length", Reads::Length),
        field(at("inside"), "found inside it, as a restrictor", Reads::Words),
        field(at("note"), "note", Reads::Words),
    ]
}

/// What is typed of a part.
pub(crate) fn part(i: usize) -> Vec<Field> {
    let at = |name: &str| format!("/parts/{i}/{name}");
    vec![
        field(at("name"), "its name", Reads::Words),
        field(at("kind"), "what it is", Reads::One(PART_KIND)),
        field(at("on"), "bolted to the", Reads::One(ON)),
        field(at("needs_flow"), "coolant must go through it", Reads::One(NEEDS)),
        field(at("note"), "note", Reads::Words),
    ]
}

/// What is typed of a spigot of a part.
pub(crate) fn spigot(part: usize, i: usize) -> Vec<Field> {
    let at = |name: &str| format!("/parts/{part}/spigots/{i}/{name}");
    vec![
        field(at("name"), "its name", Reads::Words),
        field(at("spigot_mm"), "outside diameter", Reads::Length),
        field(at("bead_mm"), "bead, or none", Reads::Bead),
        field(at("straight_mm"), "straight length for a hose", Reads::Length),
        field(at("thread"), "thread it is screwed in by, as M16x1.5", Reads::Words),
        field(at("made_of"), "made of", Reads::One(MADE_OF)),
        field(at("role"), "in a pump, valve or thermostat", Reads::One(ROLE)),
        field(at("closed_by"), "closed by, if nothing is on it", Reads::One(CLOSED_BY)),
    ]
}

/// What is typed of a hose at hand or for sale.
pub(crate) fn stock(i: usize) -> Vec<Field> {
    let at = |name: &str| format!("/stock/{i}/{name}");
    vec![
        field(at("bore_mm"), "bore", Reads::Length),
        field(at("wall_mm"), "wall, if only this", Reads::Length),
        field(at("sold_by_mm"), "sold by the", Reads::Length),
        field(at("longest_mm"), "longest in one piece", Reads::Length),
        field(at("price_per_m"), "price of a metre", Reads::Number),
    ]
}

/// All of them, of a job.
pub(crate) fn car_fields(job: &Value) -> Vec<Field> {
    let mut fields: Vec<Field> = (0..count(job, "/lines")).flat_map(line).collect();
    for i in 0..count(job, "/parts") {
        fields.extend(part(i));
        fields.extend((0..count(job, &format!("/parts/{i}/spigots"))).flat_map(|k| spigot(i, k)));
    }
    fields.extend((0..count(job, "/stock")).flat_map(stock));
    fields.push(name());
    fields
}
