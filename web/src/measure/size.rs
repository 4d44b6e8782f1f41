//! How thick a spigot is: a tap for the common sizes, the keypad's number for any other.

use crate::el::{Node, button, div, el, live, many, p, when};
use crate::form::Draft;
use crate::form::sketch::Letter;
use crate::words;
use leptos::prelude::*;
use quantity::text::{LengthUnit, read_length};
use share::json::Value;
use std::ops::RangeInclusive;

/// Common sizes of coolant spigots (common practice), each one number in one unit, and one for which hose is sold.
const MILLIMETRES: [&str; 4] = ["13", "16", "19", "25"];
/// How thick a spigot may be, mm, as `job::accept` takes it.
const ACROSS: RangeInclusive<f64> = 4.0..=80.0;
const INCHES: [&str; 4] = ["1/2", "5/8", "3/4", "1"];

/// The row of sizes for an end. B is taken as thick as A until it is said otherwise.
pub(super) fn sizes(letter: Letter, draft: RwSignal<Draft>) -> Node {
    let now = Memo::new(move |_| draft.with(|draft| draft.sketch(0).end(letter).spigot));
    let is_as_a = move || now.get().is_some() && now.get() == draft.with(|draft| draft.sketch(0).end(Letter::A).spigot);
    let unit = Memo::new(move |_| draft.with(|draft| draft.unit));
    let other = RwSignal::new(false);
    let take = move |mm: f64| {
        draft.update(|draft| {
            draft.set(0, &format!("{}/spigot_mm", letter.field()), Value::from(mm));
            draft.take_b_as_a();
        });
        other.set(false);
    };
    let chips = move || {
        let unit = unit.get();
        let texts = if unit == LengthUnit::Inch { INCHES } else { MILLIMETRES };
        texts.map(|text| {
            let mm = read_length(text, unit).map_or(0.0, quantity::Length::as_mm);
            let pressed = move || now.get().is_some_and(|now| (now - mm).abs() < 0.05).to_string();
            button("bt chip", text, move || take(mm)).live("aria-pressed", pressed)
        })
    };
    let wrong = RwSignal::new(None::<String>);
    let typed = move |text: String| match read_length(&text, unit.get_untracked()) {
        Ok(length) if !ACROSS.contains(&length.as_mm()) => {
            let unit = unit.get_untracked();
            wrong.set(Some(format!(
                "Right would be: {} to {}.",
                crate::view::length(*ACROSS.start(), unit),
                crate::view::length(*ACROSS.end(), unit)
            )));
        }
        Ok(length) => {
            wrong.set(None);
            take(length.as_mm());
            other.set(true);
        }
        Err(why) => wrong.set(Some(why.to_string())),
    };
    let unit_word = move || crate::words::unit(unit.get());
    let field = move || {
        let input = el("input")
            .attrs([("id", "across"), ("type", "text"), ("autocomplete", "off"), ("aria-describedby", "across-wrong")])
            .live("inputmode", move || if unit.get() == LengthUnit::Inch { "text" } else { "decimal" })
            .live("aria-invalid", move || wrong.with(Option::is_some).then_some("true"))
            .on_value("change", typed);
        el("div")
            .live("class", move || if wrong.with(Option::is_some) { "field bad" } else { "field" })
            .put(el("label").attr("for", "across").put(live(move || format!("Outside diameter, {}", unit_word()))))
            .put(input)
            .put(div("err").attrs([("id", "across-wrong"), ("role", "status")]).put(live(move || wrong.get())))
    };
    let others = button("bt chip", "other", move || other.update(|o| *o = !*o))
        .live("aria-expanded", move || other.get().to_string());
    let chips = div("row chips")
        .attr("role", "group")
        .live("aria-label", move || format!("Across the spigot, behind the bead, {}", unit_word()))
        .put(live(chips))
        .put(others);
    many![
        chips,
        p("note tight", live(move || format!("Across the pipe, behind the bead, {}.", unit_word()))),
        when(move || letter == Letter::B && is_as_a(), || p("note tight", words::AS_A)),
        when(move || other.get(), field),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;
    use stock::Stock;

    #[test]
    fn for_every_size_offered_a_hose_is_in_the_tables() {
        let stock = Stock::built_in();
        for (texts, unit) in [(MILLIMETRES, LengthUnit::Millimetre), (INCHES, LengthUnit::Inch)] {
            for text in texts {
                let size = read_length(text, unit).expect("a length").as_mm();
                let sold = stock.hoses.iter().any(|hose| (hose.bore.as_mm() - size).abs() < 0.5);
                assert!(sold, "{text}");
            }
        }
    }
}
