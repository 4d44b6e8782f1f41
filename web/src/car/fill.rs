//! To fill and prove: what changes, what to pour, each step, where to look when it weeps, and what was done when.

use super::fit::said_list;
use super::survey::bring_back;
use super::{Surveying, Told, filling};
use crate::el::{El, Node, button, div, el, list, live, many, note, section};
use crate::form::Draft;
use crate::view::pour;
use crate::words;
use job::{FillReport, VolumeReport, WeepReport};
use leptos::prelude::*;
use share::json::Value;

/// The screen.
pub(crate) fn fill(surveying: Surveying) -> Node {
    let Surveying { draft, told, .. } = surveying;
    let whole = Memo::new(move |_| draft.with(|draft| draft.whole().to_string()));
    let filled = Memo::new(move |_| {
        told.with(|told| {
            let report = if let Told::Answer(report) = told { Some(report.as_ref()) } else { None };
            whole.with(|text| filling(text, report))
        })
    });
    let to_pour = move || {
        told.with(|told| match told {
            Told::Answer(report) => Some(pour(&report.coolant, report.refill.as_ref())),
            _ => None,
        })
    };
    many![live(to_pour), live(move || filled.get().map(|filled| steps(&filled, draft))), log(surveying)]
}

fn steps(filled: &FillReport, draft: RwSignal<Draft>) -> Node {
    let looks: Vec<_> = filled
        .next_looks
        .iter()
        .map(|look| {
            let days =
                if look.after_days == 1 { "After a day".to_owned() } else { format!("After {} days", look.after_days) };
            format!("{days}: {} ({})", look.look.what, look.look.basis)
        })
        .collect();
    many![
        section(words::HOLDS_NOW).put(list(volume(&filled.volume))),
        section(words::FILL_STEPS).put(said_list(&filled.steps, draft)),
        section(words::IF_IT_WEEPS).put_all(filled.weeps.iter().map(|weep| weeps(weep, draft))),
        section(words::NEXT_LOOK).put(list(looks)),
    ]
}

/// What the work changes of what the system holds, in sentences.
pub(super) fn volume(volume: &VolumeReport) -> Vec<String> {
    let mut says = Vec::new();
    let change = volume.change_l;
    if change.abs() >= 0.005 {
        let way = if change > 0.0 { "more" } else { "less" };
        says.push(format!("The new hoses hold {:.2} l {way} than what was there.", change.abs()));
    } else if volume.new_l + volume.left_out_l > 0.0 && volume.not_counted.is_empty() {
        // Not said where something is not counted.
        says.push("The new hoses hold as much as what was there.".to_owned());
    }
    says.extend(volume.holds_l.map(|holds| format!("The system then holds {holds:.1} l.")));
    if !volume.not_counted.is_empty() {
        says.push(format!(
            "Not counted, since bore or length before or after the work is not known: {}.",
            volume.not_counted.join(", ")
        ));
    }
    says
}

fn weeps(weep: &WeepReport, draft: RwSignal<Draft>) -> El {
    let name = match weep.when.as_str() {
        "cold only" => "Only while it is cold",
        "hot only" => "Only while it is hot",
        _ => "Always",
    };
    div("group").put(el("h3").put(name)).put(said_list(&weep.look, draft))
}

/// What was done and when, with the next look.
fn log(surveying: Surveying) -> El {
    let draft = surveying.draft;
    let day = RwSignal::new(today());
    let what = RwSignal::new(String::new());
    let next = RwSignal::new(String::new());
    let is_empty = RwSignal::new(false);
    let rows = move || {
        draft.with(|typed| {
            let all = typed.job.pointer("/system/log").and_then(Value::as_array).unwrap_or_default();
            let row = |(i, entry): (usize, &Value)| {
                let word = |name: &str| entry.get(name).and_then(Value::as_str).unwrap_or_default().to_owned();
                let again = word("look_again");
                let again = if again.is_empty() { String::new() } else { format!("Look again: {again}.") };
                let away = move || surveying.take_away(|draft| draft.take_from_log(i));
                el("li")
                    .key(format!("log{i}"))
                    .put(el("h3").put(format!("{} {}", word("on"), word("what"))))
                    .put(button("bt short", words::TAKE_AWAY, away))
                    .put(el("p").put(again))
            };
            all.iter().enumerate().map(row).collect::<Vec<_>>()
        })
    };
    let add = move || {
        is_empty.set(what.with_untracked(|what| what.trim().is_empty()));
        if is_empty.get_untracked() {
            return;
        }
        let again = next.get_untracked();
        let again = if again.is_empty() { Value::Null } else { again.into() };
        let entry = Value::object([
            ("on", day.get_untracked().into()),
            ("what", what.get_untracked().into()),
            ("look_again", again),
        ]);
        draft.update(|draft| draft.add_to_log(entry));
        what.set(String::new());
        next.set(String::new());
    };
    let field = |name: &'static str, id: &'static str, kind: &'static str, signal: RwSignal<String>| {
        div("field").put(el("label").attr("for", id).put(name)).put(
            el("input")
                .attrs([("id", id), ("type", kind)])
                .value(move || signal.get())
                .on_value("input", move |text| signal.set(text)),
        )
    };
    section(words::LOG)
        .put(el("ul").class("ls plain").put(live(rows)))
        .put(bring_back(surveying))
        .put(
            div("fields")
                .put(field(words::LOG_DAY, "log-day", "date", day))
                .put(field(words::LOG_WHAT, "log-what", "text", what))
                .put(field(words::LOG_NEXT, "log-next", "date", next)),
        )
        .put(div("err").attr("role", "status").put(live(move || is_empty.get().then_some(words::LOG_EMPTY))))
        .put(button("bt", words::LOG_ADD, add))
        .put(note(words::LOG_HOW))
}

/// The day by the phone's clock, as 2026-11-26.
pub(super) fn today() -> String {
    let now = js_sys::Date::new_0();
    format!("{:04}-{:02}-{:02}", now.get_full_year(), now.get_month() + 1, now.get_date())
}
