//! One part of the car: what it is, its spigots, whether it goes, what is in its way.

use super::Surveying;
use super::line::in_the_way;
use super::lists::problems_at;
use crate::el::{El, Node, button, div, el, link, live, many, note, p, section, when};
use crate::form::{car_fields, one_field};
use crate::measure::Screen;
use crate::words;
use leptos::prelude::*;
use share::json::Value;

/// The screen of one part.
pub(crate) fn part(i: usize, surveying: Surveying) -> Node {
    let Surveying { draft, problems, .. } = surveying;
    let is_there = move || draft.with(|draft| i < draft.list("parts").len());
    let fields =
        move || div("fields").put_all(car_fields::part(i).into_iter().map(|field| one_field(field, draft, problems)));
    let at = format!("/parts/{i}/leave_out");
    let out = StoredValue::new(at);
    let goes =
        move || draft.with(|draft| out.with_value(|at| draft.job.pointer(at).and_then(Value::as_bool) == Some(true)));
    let leave = move || {
        let next = if goes() { Value::Null } else { true.into() };
        draft.update(|draft| out.with_value(|at| draft.set_at(at, next)));
    };
    let away = move || Screen::Car.go_with(move || surveying.take_away(|draft| draft.take_entry("parts", i, None)));
    let count = Memo::new(move |_| {
        draft.with(|draft| {
            draft.job.pointer(&format!("/parts/{i}/spigots")).and_then(Value::as_array).map_or(0, <[_]>::len)
        })
    });
    let spigots = move || (0..count.get()).map(|k| spigot(i, k, surveying)).collect::<Vec<_>>();
    let add = move || {
        draft.update(|draft| {
            let part = draft.said(&format!("/parts/{i}/name")).to_owned();
            draft.add_spigot(&part);
        });
    };
    when(is_there, move || {
        many![
            el("section")
                .class("ask")
                .put(fields())
                .put(problems_at(surveying, format!("parts[{i}]")))
                .put(button("bt", words::PART_GOES, leave).live("aria-pressed", move || goes().to_string()))
                .put(when(goes, || note(words::PART_GOES_HOW))),
            section(words::SPIGOTS).class("list").put(live(spigots)).put(button("bt", words::ADD_SPIGOT, add)),
            in_the_way(surveying, format!("/parts/{i}/name")),
            section(words::THIS_PART).put(div("row").put(button("bt", words::TAKE_AWAY, away))),
            p("row", link("bt", Screen::Car.hash(), words::BACK_TO_CAR)),
        ]
    })
}

/// A spigot, folded until it is wanted.
fn spigot(part: usize, k: usize, surveying: Surveying) -> El {
    let Surveying { draft, problems, .. } = surveying;
    let at = format!("/parts/{part}/spigots/{k}");
    let name_at = StoredValue::new(format!("{at}/name"));
    let name = move || draft.with(|draft| name_at.with_value(|at| draft.said(at).to_owned()));
    let across = StoredValue::new(format!("{at}/spigot_mm"));
    let says = move || {
        draft.with(|draft| {
            let number = across.with_value(|at| draft.job.pointer(at).and_then(Value::as_f64));
            number.map(|mm| format!(" – {}", crate::view::length(mm, draft.unit)))
        })
    };
    let away = move || surveying.take_away(|draft| draft.take_spigot(part, k));
    // By its name, too: where one is taken away the next does not open in its place.
    el("details")
        .key(format!("{at} {}", name_at.with_value(|at| draft.with_untracked(|draft| draft.said(at).to_owned()))))
        .put(el("summary").put(live(name)).put(live(says)))
        .put(
            div("fields")
                .put_all(car_fields::spigot(part, k).into_iter().map(|field| one_field(field, draft, problems))),
        )
        .put(button("bt", words::TAKE_AWAY, away))
}
