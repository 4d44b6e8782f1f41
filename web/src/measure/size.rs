//! How thick a spigot is: a tap for the common sizes, the keypad's number for any other.

use crate::form::Draft;
use crate::form::sketch::Letter;
use leptos::prelude::*;
use quantity::text::{LengthUnit, read_length};
use serde_json::json;

/// Common sizes of coolant spigots, as the hose is sold for them: each one number in one unit.
const MILLIMETRES: [&str; 4] = ["13", "16", "19", "25"];
const INCHES: [&str; 4] = ["1/2", "5/8", "3/4", "1"];

/// The row of sizes for an end. B is taken as thick as A until it is said otherwise.
pub(super) fn sizes(letter: Letter, draft: RwSignal<Draft>) -> AnyView {
    let now = Memo::new(move |_| draft.with(|draft| draft.sketch(0).end(letter).spigot));
    let unit = Memo::new(move |_| draft.with(|draft| draft.unit));
    let other = RwSignal::new(false);
    let take = move |mm: f64| {
        draft.update(|draft| {
            let same = draft.sketch(0).end(Letter::B).spigot.is_none();
            draft.set(0, &format!("{}/spigot_mm", letter.field()), json!(mm));
            if letter == Letter::A && same {
                draft.set(0, "to/spigot_mm", json!(mm));
            }
        });
        other.set(false);
    };
    let chips = move || {
        let unit = unit.get();
        let texts = if unit == LengthUnit::Inch { INCHES } else { MILLIMETRES };
        let chips = texts.map(|text| {
            let mm = read_length(text, unit).map_or(0.0, quantity::Length::as_mm);
            let pressed = move || now.get().is_some_and(|now| (now - mm).abs() < 0.05);
            view! {
                <button type="button" class="bt chip" aria-pressed=move || pressed().to_string() on:click=move |_| take(mm)>{text}</button>
            }
            .into_any()
        });
        chips.into_iter().collect_view()
    };
    let wrong = RwSignal::new(None::<String>);
    let typed = move |event| match read_length(&event_target_value(&event), unit.get_untracked()) {
        Ok(length) => {
            wrong.set(None);
            take(length.as_mm());
            other.set(true);
        }
        Err(why) => wrong.set(Some(why.to_string())),
    };
    let unit_word = move || crate::words::unit(unit.get());
    view! {
        <div class="row chips" role="group" aria-label=move || format!("Across the spigot, behind the bead, {}", unit_word())>
            {chips}
            <button type="button" class="bt chip" aria-expanded=move || other.get().to_string() on:click=move |_| other.update(|o| *o = !*o)>"other"</button>
        </div>
        <p class="note tight">{move || format!("Across the pipe, behind the bead, {}.", unit_word())}</p>
        <Show when=move || other.get()>
            <div class="field" class:bad=move || wrong.with(Option::is_some)>
                <label for="across">{move || format!("Outside diameter, {}", unit_word())}</label>
                <input id="across" type="text" inputmode=move || if unit.get() == LengthUnit::Inch { "text" } else { "decimal" } autocomplete="off" aria-describedby="across-wrong" on:change=typed />
                <div id="across-wrong" class="err" role="status">{move || wrong.get()}</div>
            </div>
        </Show>
    }
    .into_any()
}
