//! The order of the work: what comes off, how open ends are closed, what goes on, when clamps are tightened.

use super::lists::{ring, sources, tick};
use super::{AtOnce, Surveying};
use crate::el::{El, Node, button, div, el, go_to, how_known, link, list, live, many, note, p, section};
use crate::form::Draft;
use crate::measure::Screen;
use crate::view::{length, mark};
use crate::words;
use job::{ClosureReport, OpenEndReport, OrderStepReport, SaidReport};
use leptos::prelude::*;
use quantity::text::LengthUnit;
use share::json::Value;

/// The screen.
pub(crate) fn fit(Surveying { draft, at_once, .. }: Surveying) -> Node {
    live(move || at_once.get().map(|now| work(&now, draft)))
}

fn work(AtOnce { order, closures, .. }: &AtOnce, draft: RwSignal<Draft>) -> Node {
    let unit = draft.with(|draft| draft.unit);
    let knots = order.knots.iter().map(|knot| el("li").put(mark("fail")).put(el("h3").put(knot.what.clone())));
    let off = order.off.iter().enumerate().map(|(i, step)| step_row(i + 1, step, draft));
    let behind = order.off.len();
    let on = order.on.iter().enumerate().map(|(i, step)| step_row(behind + i + 1, step, draft));
    let nothing = order.off.is_empty() && order.on.is_empty();
    many![
        el("section").put(p("vd", mark("warn")).put(el("span").put(words::COLD_ONLY))).put(
            (!order.first.is_empty())
                .then(|| many![el("h2").class("later").put(words::BEFORE), said_list(&order.first, draft)]),
        ),
        (!order.knots.is_empty()).then(|| section(words::KNOTS).put(el("ul").class("ls").put_all(knots))),
        nothing.then(|| el("section").put(note(words::NO_WORK))),
        (!order.ask.is_empty()).then(|| section(words::ASK).put(list(order.ask.clone()))),
        (!nothing).then(|| section(words::TAKE_OFF).put(el("ul").class("ls ticks").put_all(off))),
        (!closures.open.is_empty()).then(|| {
            section(words::CLOSE)
                .attr("id", close_at(None))
                .put_all((0..closures.open.len()).map(|i| open_end(&closures.open, i, draft, unit)))
                .put(el("h3").put(words::NOT_TO_USE))
                .put(list(closures.not_to_use.iter().map(|said| said.what.clone()).collect()))
                .put(said_sources(&closures.not_to_use))
        }),
        (!nothing)
            .then(|| section(words::PUT_ON).put(note(words::PUT_ON_HOW)).put(el("ul").class("ls ticks").put_all(on))),
        (!order.while_open.is_empty()).then(|| section(words::WHILE_OPEN).put(said_list(&order.while_open, draft))),
    ]
}

/// The place where it is decided how the open ends of a part are closed.
pub(super) fn close_at(part: Option<usize>) -> String {
    part.map_or_else(|| "close".to_owned(), |part| format!("close-{}", part + 1))
}

/// A step with its number, and why; to be ticked off.
fn step_row(number: usize, step: &OrderStepReport, draft: RwSignal<Draft>) -> El {
    let names: Vec<_> = step.things.iter().map(|thing| thing.name.as_str()).collect();
    let key = format!("{}: {}", step.does, names.join(", "));
    el("li").key(key.clone()).put(ring(number)).put(el("h3").put(step.what.clone())).put(tick(
        draft,
        &key,
        step.what.clone(),
    ))
}

/// Sentences to tick off, with their sources below them.
pub(super) fn said_list(said: &[SaidReport], draft: RwSignal<Draft>) -> Node {
    let rows = said.iter().map(|said| {
        el("li")
            .key(said.key.clone())
            .put(tick(draft, &said.key, said.what.clone()))
            .put(div("plain-h").put(said.what.clone()))
    });
    many![el("ul").class("ls ticks").put_all(rows), said_sources(said)]
}

/// On whose word each of them is.
fn said_sources(said: &[SaidReport]) -> El {
    sources(said.iter().map(|said| (said.what.as_str(), said.source.as_str(), said.basis.as_str())))
}

/// An open end with the ways to close it, best first.
fn open_end(all: &[OpenEndReport], i: usize, draft: RwSignal<Draft>, unit: LengthUnit) -> El {
    let open = &all[i];
    let mut facts = Vec::new();
    facts.extend(open.spigot_mm.map(|mm| format!("{} across", length(mm, unit))));
    facts.extend(open.push_off_n.map(|n| format!("{n:.0} N push it off at the cap's pressure")));
    facts.push(format!("one band needs {} of straight stub", length(open.seat_needed_mm, unit)));
    facts.extend(open.opened_by.as_ref().map(|by| format!("opened by {by}")));
    let of_part = draft.with(|draft| {
        draft.list("parts").iter().position(|part| part.get("name").and_then(Value::as_str) == Some(&open.part))
    });
    let to_part = of_part
        .filter(|_| !open.needs.is_empty())
        .map(|i| link("bt", Screen::Part(i).hash(), words::SAY_SPIGOT.replace("{}", &open.part)));
    let needs = (!open.needs.is_empty()).then(|| many![note(words::TO_BE_MEASURED), list(open.needs.clone()), to_part]);
    let options = open.options.iter().map(|option| closure(open, option, draft, unit));
    // The first of a part stands for all of it.
    let is_first = all.iter().position(|other| other.part == open.part) == Some(i);
    let id = of_part.filter(|_| is_first).map(|part| close_at(Some(part)));
    let group = id.map_or_else(|| div("group"), |id| div("group").attr("id", id));
    group
        .put(el("h3").put(format!("{}, {}", open.part, open.spigot)))
        .put(note(format!("{}.", facts.join("; "))))
        .put(needs)
        .put(el("ul").class("ls").put_all(options))
}

fn closure(open: &OpenEndReport, option: &ClosureReport, draft: RwSignal<Draft>, unit: LengthUnit) -> El {
    let mut facts: Vec<String> = Vec::new();
    facts.extend((!option.why.is_empty()).then(|| option.why.clone()));
    facts.extend(option.hose.clone());
    facts.extend(option.hose_mm.map(|mm| format!("hose cut {}", length(mm, unit))));
    facts.extend(option.plug_mm.zip(option.plug_long_mm).map(|(across, long)| {
        format!("plug {} across, {} long in the hose at least", length(across, unit), length(long, unit))
    }));
    facts.extend(option.clamps.iter().map(|clamp| format!("{} {}", clamp.kind, clamp.size)));
    facts.extend(option.torque_nm.map(|nm| match option.torque_in_aluminium_nm {
        Some(soft) => format!("{nm} N·m, in aluminium {soft} N·m"),
        None => format!("{nm} N·m"),
    }));
    let torque = option.torque_source.as_ref().map(|source| format!("; torque: {source}")).unwrap_or_default();
    let head = if option.decided { format!("{} ({})", option.what, words::DECIDED_ON) } else { option.what.clone() };
    let (part, spigot) = (open.part.clone(), open.spigot.clone());
    let (kind, to) = (option.kind.clone(), option.to_spigot.clone());
    let is_decided = option.decided;
    let plain = |c: char| if c.is_ascii_alphanumeric() { c } else { '-' };
    let id: String = format!("{part}-{spigot}-{kind}").chars().map(plain).collect();
    let press_id = StoredValue::new(id.clone());
    let decide = move || {
        draft.update(|draft| match is_decided {
            true => draft.open_again(&part, &spigot),
            false => draft.close(&part, &spigot, &kind, to.as_deref()),
        });
        // What was decided moves up: whoever pressed it by a key moves with it.
        go_to(press_id.get_value());
    };
    // Who does not see what it stands below hears whose it is.
    let whose = el("span").class("sr").put(format!(": {}, {}: {}", open.part, open.spigot, option.kind));
    let may = option.decided || option.verdict != "fail";
    let act = if option.decided { words::NOT_SO } else { words::CLOSE_SO };
    el("li")
        .key(option.kind.clone() + option.to_spigot.as_deref().unwrap_or_default())
        .put(mark(&option.verdict))
        .put(el("h3").put(head))
        .put(el("p").put(facts.join(". ")))
        .put(may.then(|| button("bt", many![act, whose], decide).attr("id", id)))
        .put(how_known(format!("{}{torque} ({}).", option.source, option.basis)))
}
