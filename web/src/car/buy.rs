//! What to buy: one list to tick off or to send, and which piece is cut from which length.

use super::lists::{Copied, sources, tick};
use super::survey::bring_back;
use super::{Surveying, Told};
use crate::el::{El, Node, button, div, el, go_to, link, list, live, many, note, p, section, small};
use crate::form::{Draft, car_fields, one_field};
use crate::measure::Screen;
use crate::solver::worker::Solving;
use crate::view::{at_work, length};
use crate::words;
use job::{CutGroupReport, ItemReport, Report, shopping_text};
use leptos::prelude::*;
use quantity::text::LengthUnit;
use share::json::Value;

/// The screen.
pub(crate) fn buy(surveying: Surveying) -> Node {
    let Surveying { draft, told, solver, .. } = surveying;
    let lists = move || match told.get() {
        Told::Answer(report) => shopping(&report, draft),
        other => waiting(&other, solver).into(),
    };
    let missing = Memo::new(move |_| draft.with(not_in_the_list));
    many![live(move || missing.with(|missing| still_missing(missing))), live(lists), stock(surveying)]
}

/// Lines of which nothing can be on the list yet: their place and name, and why.
fn not_in_the_list(draft: &Draft) -> Vec<(usize, String, &'static str)> {
    let why = |i: &usize| {
        let at = |name: &str| draft.said(&format!("/lines/{i}/{name}"));
        match (at("kind"), at("decision")) {
            ("passage", _) => None,
            (_, "") => Some(words::UNDECIDED),
            (_, "universal hose") if draft.run_named(at("run")).is_none() => Some(words::NOT_MEASURED),
            _ => None,
        }
    };
    let all = (0..draft.list("lines").len()).filter_map(|i| Some((i, why(&i)?)));
    all.map(|(i, why)| (i, draft.said(&format!("/lines/{i}/name")).to_owned(), why)).collect()
}

fn still_missing(missing: &[(usize, String, &'static str)]) -> Option<El> {
    let row = |(i, name, why): &(usize, String, &'static str)| {
        el("li").put(link("row-link", Screen::Line(*i).hash(), el("b").put(name.clone())).put(small(*why)))
    };
    (!missing.is_empty())
        .then(|| section(words::STILL_MISSING).put(el("ul").class("ls plain").put_all(missing.iter().map(row))))
}

/// What is said until the solver has told all of the car.
fn waiting(told: &Told, solver: Solving) -> El {
    let says = match told {
        Told::Progress(done, of) => format!("{done} of {of} hoses worked out …"),
        Told::Stopped(what) => {
            return el("section").put(p("vd stop", format!("The solver stopped: {what}")).attr("role", "alert"));
        }
        Told::Nothing | Told::Answer(_) => words::STARTING.to_owned(),
    };
    at_work(says, solver)
}

fn shopping(report: &Report, draft: RwSignal<Draft>) -> Node {
    let Some(shopping) = &report.shopping else {
        return el("section").put(p("vd", words::NOTHING_TO_BUY)).into();
    };
    let unit = draft.with(|draft| draft.unit);
    let mut groups: Vec<(&str, Vec<&ItemReport>)> = Vec::new();
    for item in &shopping.items {
        match groups.last_mut().filter(|(group, _)| *group == item.group) {
            Some((_, items)) => items.push(item),
            None => groups.push((&item.group, vec![item])),
        }
    }
    let sections = groups.into_iter().map(|(group, items)| {
        el("section")
            .key(group.to_owned())
            .put(el("h2").put(group_name(group)))
            .put(el("ul").class("ls ticks").put_all(items.iter().map(|item| row(item, draft, unit))))
            .put(sources(items.iter().map(|item| (item.what.as_str(), item.source.as_str(), item.basis.as_str()))))
    });
    let out = shopping.left_out.iter().map(|name| format!("{name}: {}", words::NO_HOSE_YET)).collect();
    let text = StoredValue::new(shopping_text(shopping));
    let copied = Copied::new();
    many![
        sections.collect::<Vec<_>>(),
        el("section")
            .put(list(out))
            .put(button("bt m", words::COPY_LIST, move || copied.copy(text.get_value())))
            .put(copied.said()),
        report.cuts.as_ref().map(|cuts| {
            section(words::CUT_LIST)
                .put(note(format!(
                    "{} ({}).",
                    words::ALLOWED.replace("{}", &length(cuts.allowance_mm, unit)),
                    cuts.basis
                )))
                .put_all(cuts.groups.iter().map(|group| cut_group(group, unit)))
        }),
    ]
}

/// What a group of the list is called.
fn group_name(group: &str) -> String {
    match group {
        "at hand" => "You have it",
        "hose" => "Hose",
        "clamps" => "Clamps",
        "fittings" => "Elbows and joiners",
        "sleeves" => "Heat sleeve",
        "clips" => "P-clips",
        "closures" => "To close open ends",
        "moulded hoses" => "Moulded hoses",
        "coolant" => "Coolant",
        "while it is open" => "Worth doing while it is open",
        other => other,
    }
    .to_owned()
}

fn row(item: &ItemReport, draft: RwSignal<Draft>, unit: LengthUnit) -> El {
    let amount = match (item.unit.as_str(), item.length_mm) {
        ("l", _) => format!("{} l", item.amount),
        (_, Some(mm)) if item.amount > 1.0 => format!("{} × {}", item.amount, length(mm, unit)),
        (_, Some(mm)) => length(mm, unit),
        _ => item.amount.to_string(),
    };
    let spare = if item.spare > 0 { format!(", {} of them spare", item.spare) } else { String::new() };
    let serves = if item.serves.is_empty() { String::new() } else { format!("For {}{spare}.", item.serves.join(", ")) };
    el("li")
        .key(item.key.clone())
        .put(tick(draft, &item.key, format!("{}: {amount}", item.what)))
        .put(el("h3").put(item.what.clone()))
        .put(div("fg").put(amount))
        .put(el("p").put(serves))
}

/// Which piece comes from which length.
fn cut_group(group: &CutGroupReport, unit: LengthUnit) -> El {
    let named = |k: &usize| {
        group.pieces.get(*k).map(|piece| format!("{} {}", piece.name, length(piece.cut_mm, unit))).unwrap_or_default()
    };
    let lengths = group.lengths.iter().map(|from| {
        let pieces: Vec<_> = from.pieces.iter().map(named).collect();
        let which = if from.at_hand { words::OF_YOURS } else { words::OF_NEW };
        format!("{} {which}: {}. {} left.", length(from.length_mm, unit), pieces.join(", "), length(from.left_mm, unit))
    });
    let too_long: Vec<_> = group.too_long.iter().map(named).collect();
    let too_long = (!too_long.is_empty()).then(|| note(format!("{} {}.", words::TOO_LONG, too_long.join(", "))));
    let proven = if group.proven {
        words::FEWEST.to_owned()
    } else {
        match group.at_least_mm {
            Some(least) => format!("{} {}.", words::NOT_PROVEN, length(least, unit)),
            None => words::BEST_FOUND.to_owned(),
        }
    };
    let name = format!(
        "{} × {} {}",
        length(group.hose.bore_mm, unit),
        length(group.hose.outside_mm, unit),
        group.hose.rubber.clone().unwrap_or_default()
    );
    div("group")
        .put(el("h3").put(name))
        .put(list(lengths.collect()))
        .put(too_long)
        .put(note(proven))
        .put(list(group.assumed.clone()))
}

/// Hose at hand and how it is sold.
fn stock(surveying: Surveying) -> El {
    let Surveying { draft, problems, .. } = surveying;
    let count = Memo::new(move |_| draft.with(|draft| draft.list("stock").len()));
    let one = move |i: usize| {
        let at = StoredValue::new(format!("/stock/{i}/pieces_mm"));
        let pieces = move || {
            // Only as it stood when the field was made: what is being typed is not printed anew under one's fingers.
            draft.with_untracked(|draft| {
                let all = at.with_value(|at| draft.job.pointer(at).and_then(Value::as_array).map(<[_]>::to_vec));
                let all = all.unwrap_or_default();
                all.iter().filter_map(Value::as_f64).map(|mm| length(mm, draft.unit)).collect::<Vec<_>>().join("; ")
            })
        };
        let typed = RwSignal::new(pieces());
        // Judged once it is left, as `one_field` judges.
        let is_read = StoredValue::new(true);
        let wrong = RwSignal::new(false);
        let take = move |text: String| {
            let unit = draft.with_untracked(|draft| draft.unit);
            let read: Option<Vec<Value>> = text
                .split(';')
                .filter(|piece| !piece.trim().is_empty())
                .map(|piece| Some(quantity::text::read_length(piece.trim(), unit).ok()?.as_mm().into()))
                .collect();
            is_read.set_value(read.is_some());
            if let Some(read) = read {
                wrong.set(false);
                draft.update(|draft| at.with_value(|at| draft.set_at(at, Value::Array(read))));
            }
            typed.set(text);
        };
        let id = format!("pieces-{i}");
        let input = el("input")
            .attr("id", id.clone())
            .attrs([("type", "text"), ("autocomplete", "off")])
            .value(move || typed.get())
            .on_value("input", take)
            .on_value("change", move |_| wrong.set(!is_read.get_value()));
        let away = move || surveying.take_away(|draft| draft.take_entry("stock", i, None));
        let not_read = move || wrong.get().then(|| el("p").put(words::PIECES_WRONG));
        div("group")
            .key(format!("stock{i}"))
            .put(
                div("fields")
                    .put_all(car_fields::stock(i).into_iter().map(|field| one_field(field, draft, problems)))
                    .put(
                        div("field all")
                            .put(el("label").attr("for", id).put(words::PIECES).put(" ").put(small(words::PIECES_HOW)))
                            .put(input)
                            .put(div("err").attr("role", "status").put(live(not_read))),
                    ),
            )
            .put(button("bt", words::TAKE_AWAY, away))
    };
    let add = move || {
        draft.update(|draft| {
            draft.add_entry("stock", Value::object([("bore_mm", 16.0.into())]));
        });
        go_to(format!("f-stock-{}-bore_mm", count.get_untracked() - 1));
    };
    section(words::STOCK)
        .put(note(words::STOCK_HOW))
        .put(live(move || (0..count.get()).map(one).collect::<Vec<_>>()))
        .put(bring_back(surveying))
        .put(button("bt", words::ADD_STOCK, add))
}
