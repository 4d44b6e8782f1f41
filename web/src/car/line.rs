//! One line of the car: what it joins, its state, what can be bought, what is decided, what is in its way.

use super::Surveying;
use super::lists::{Choosing, choice, problems_at};
use super::survey::bring_back;
use crate::el::{El, Node, button, div, el, link, live, many, note, p, section, when};
use crate::form::car_fields;
use crate::form::sketch::Letter;
use crate::form::{Draft, one_field};
use crate::measure::Screen;
use crate::words;
use leptos::prelude::*;
use share::json::Value;

const STATES: &[(&str, &str)] = &[
    ("sound", "sound"),
    ("soft", "soft"),
    ("cracked", "cracked"),
    ("weeping", "weeping"),
    ("rusted", "rusted"),
    ("missing", "missing"),
];
const CAN_BUY: &[(&str, &str)] =
    &[("moulded hose", "the moulded hose"), ("straight hose", "straight hose only"), ("nothing", "nothing that fits")];
const DECISIONS: &[(&str, &str)] = &[
    ("keep", "keep it"),
    ("moulded hose", "new moulded hose"),
    ("universal hose", "universal hose"),
    ("leave out", "leave it out"),
];

/// The screen of one line.
pub(crate) fn line(i: usize, surveying: Surveying) -> Node {
    let Surveying { draft, problems, .. } = surveying;
    let at = move |name: &str| format!("/lines/{i}/{name}");
    let is_there = move || draft.with(|draft| i < draft.list("lines").len());
    let is_passage = move || draft.with(|draft| draft.said(&at("kind")) == "passage");
    let fields =
        move || div("fields").put_all(car_fields::line(i).into_iter().map(|field| one_field(field, draft, problems)));
    let decided = move |word: &'static str| move || draft.with(|draft| draft.said(&at("decision")) == word);
    when(is_there, move || {
        many![
            el("section")
                .class("ask")
                .put(div("fields").put_all([Letter::A, Letter::B].map(|letter| end(i, letter, surveying))))
                .put(problems_at(surveying, format!("lines[{i}]")))
                .put(when(
                    move || !is_passage(),
                    move || {
                        many![
                            choice(surveying, words::ITS_STATE, at("state"), STATES),
                            choice(surveying, words::CAN_BE_BOUGHT, at("can_buy"), CAN_BUY),
                            choice(surveying, words::DECIDED, at("decision"), DECISIONS),
                        ]
                    }
                ))
                .put(when(decided("universal hose"), move || live(move || its_run(i, draft))))
                .put(when(decided("leave out"), || note(words::LEFT_OUT_HOW))),
            section(words::MORE_OF_IT).put(fields()),
            in_the_way(surveying, at("name")),
            section(words::THIS_LINE).put(moves(i, surveying)),
            p("row", link("bt", Screen::Car.hash(), words::BACK_TO_CAR))
                .put(live(move || draft.with(|draft| next_line(i, draft)))),
        ]
    })
}

/// The way to the next line that is no passage: the list is gone through one by one.
fn next_line(i: usize, draft: &Draft) -> Option<El> {
    let said = |k: &usize, name: &str| draft.said(&format!("/lines/{k}/{name}")).to_owned();
    let next = (i + 1..draft.list("lines").len()).find(|k| said(k, "kind") != "passage")?;
    Some(link("bt", Screen::Line(next).hash(), format!("{} {}", words::NEXT_LINE, said(&next, "name"))))
}

/// The part and the spigot on which an end of the line sits.
fn end(i: usize, letter: Letter, Surveying { draft, .. }: Surveying) -> El {
    let (name, field) = match letter {
        Letter::A => (words::FROM_PART, "from"),
        Letter::B => (words::TO_PART, "to"),
    };
    let at = move |what: &str| format!("/lines/{i}/{field}/{what}");
    let now = move |what: &'static str| move || draft.with(|draft| draft.said(&at(what)).to_owned());
    let parts = move || {
        let mut all = vec![(String::new(), words::CHOOSE.to_owned())];
        draft.with(|draft| {
            let names = draft.list("parts").iter().filter_map(|part| part.get("name").and_then(Value::as_str));
            all.extend(names.map(|name| (name.to_owned(), name.to_owned())));
        });
        all
    };
    // Whoever goes through the parts by keys and back finds the spigot as it was.
    let was =
        StoredValue::new(draft.with_untracked(|draft| ["part", "spigot"].map(|what| draft.said(&at(what)).to_owned())));
    let take_part = move |part: String| {
        let spigot = was.with_value(|[known, spigot]| if *known == part { spigot.clone() } else { String::new() });
        draft.update(|draft| {
            draft.set_at(&at("part"), part.into());
            draft.set_at(&at("spigot"), spigot.into());
        });
    };
    let new_part = move || {
        let add = move |draft: &mut Draft| {
            let name = draft.new_entry_name("parts", "part");
            draft.add_entry("parts", Value::object([("name", name.as_str().into()), ("kind", "other".into())]));
            draft.set_at(&at("part"), name.into());
            draft.set_at(&at("spigot"), "".into());
        };
        Screen::Part(draft.with_untracked(|draft| draft.list("parts").len())).go_with(move || draft.update(add));
    };
    let spigots = move || {
        let mut all = vec![(String::new(), words::CHOOSE.to_owned())];
        draft.with(|draft| {
            all.extend(draft.spigots_of(draft.said(&at("part"))).map(|name| (name.to_owned(), name.to_owned())));
        });
        all
    };
    let take_spigot = move |spigot: String| draft.update(|draft| draft.set_at(&at("spigot"), spigot.into()));
    let new_spigot = move || {
        draft.update(|draft| {
            let part = draft.said(&at("part")).to_owned();
            let spigot = draft.add_spigot(&part).unwrap_or_default();
            draft.set_at(&at("spigot"), spigot.into());
        });
    };
    let spigot_name = if letter == Letter::A { words::FROM_SPIGOT } else { words::TO_SPIGOT };
    let part = Choosing { name, id: format!("line-{field}-part"), new: words::NEW_PART };
    let spigot = Choosing { name: spigot_name, id: format!("line-{field}-spigot"), new: words::NEW_SPIGOT };
    div("two-fields").put(part.field(now("part"), parts, take_part, new_part)).put(spigot.field(
        now("spigot"),
        spigots,
        take_spigot,
        new_spigot,
    ))
}

/// The way to the hose that takes the line's place: to measure it, or to its sheet.
fn its_run(i: usize, draft: RwSignal<Draft>) -> El {
    let run = draft.with(|draft| {
        let name = draft.said(&format!("/lines/{i}/run"));
        draft.run_named(name).filter(|_| !name.is_empty())
    });
    match run {
        Some(run) => {
            let open = move || Screen::Sheet.go_with(move || draft.update(|draft| draft.go_to(run)));
            button("bt m", words::ITS_SHEET, open)
        }
        None => {
            let measure =
                move || Screen::Spigot(Letter::A).go_with(move || draft.update(|draft| draft.measure_line(i)));
            // A hose that was measured before the car was listed.
            let is_it = |run: usize| {
                let name = draft.with(|draft| draft.run_name(run));
                button("bt", name, move || draft.update(|draft| draft.put_in_place(run, i)))
            };
            let free = draft.with(Draft::runs_of_no_line);
            let measured =
                (!free.is_empty()).then(|| many![note(words::IT_IS), div("row").put_all(free.into_iter().map(is_it))]);
            div("").put(button("bt m", words::MEASURE_IT, measure)).put(measured)
        }
    }
}

/// To copy, move and take a line away.
fn moves(i: usize, surveying: Surveying) -> El {
    let draft = surveying.draft;
    let copy = move || {
        let add = move |draft: &mut Draft| {
            if let Some(mut line) = draft.list("lines").get(i).cloned() {
                let name = draft.new_entry_name("lines", draft.said(&format!("/lines/{i}/name")));
                if let Value::Object(fields) = &mut line {
                    fields.insert("name", name.into());
                    fields.insert("run", Value::Null);
                }
                draft.add_entry("lines", line);
            }
        };
        Screen::Line(draft.with_untracked(|draft| draft.list("lines").len())).go_with(move || draft.update(add));
    };
    let up = move || {
        Screen::Line(i.saturating_sub(1)).go_with(move || draft.update(|draft| draft.take_entry("lines", i, Some(-1))));
    };
    let away = move || Screen::Car.go_with(move || surveying.take_away(|draft| draft.take_entry("lines", i, None)));
    div("row").put(button("bt", words::COPY_LINE, copy)).put((i > 0).then(|| button("bt", words::UP, up))).put(button(
        "bt",
        words::TAKE_AWAY,
        away,
    ))
}

/// What must come off before it, and what comes off with it.
pub(super) fn in_the_way(surveying: Surveying, name_at: String) -> El {
    let Surveying { draft, .. } = surveying;
    let name_at = StoredValue::new(name_at);
    let name = move || draft.with(|draft| name_at.with_value(|at| draft.said(at).to_owned()));
    let typed = RwSignal::new(String::new());
    let no_name = RwSignal::new(false);
    let rows = move || {
        let name = name();
        draft.with(|draft| {
            let all = draft.list("relations").iter().enumerate();
            let about = all.filter_map(|(k, relation)| {
                let word = |field: &str| relation.get(field).and_then(Value::as_str).unwrap_or_default();
                let mine = word("what") == name || word("of") == name;
                mine.then(|| (k, sentence(word("what"), word("is"), word("of"))))
            });
            about.map(|(k, says)| relation(k, says, surveying)).collect::<Vec<_>>()
        })
    };
    let add = move |is: &'static str| {
        move || {
            let what = typed.get_untracked().trim().to_owned();
            let of = draft.with_untracked(|draft| name_at.with_value(|at| draft.said(at).to_owned()));
            no_name.set(what.is_empty());
            if what.is_empty() || of.is_empty() || what == of {
                return;
            }
            draft.update(|draft| {
                let relation = Value::object([("what", what.into()), ("is", is.into()), ("of", of.into())]);
                draft.add_entry("relations", relation);
            });
            typed.set(String::new());
        }
    };
    let known = move || {
        draft.with(|draft| {
            let names = draft.names().into_iter();
            names.map(|name| el("option").attr("value", name)).collect::<Vec<_>>()
        })
    };
    let input = el("input")
        .attrs([("id", "in-the-way"), ("type", "text"), ("list", "known-things"), ("autocomplete", "off")])
        .value(move || typed.get())
        .on_value("input", move |text| typed.set(text));
    section(words::IN_THE_WAY)
        .put(el("ul").class("ls plain").put(live(rows)))
        .put(bring_back(surveying))
        .put(div("field").put(el("label").attr("for", "in-the-way").put(words::WHAT_THING)).put(input))
        .put(el("datalist").attr("id", "known-things").put(live(known)))
        .put(div("err").attr("role", "status").put(live(move || no_name.get().then_some(words::NAME_FIRST))))
        .put(div("row").put(button("bt", words::IS_IN_THE_WAY, add("in the way of"))).put(button(
            "bt",
            words::COMES_OFF_WITH,
            add("comes off with"),
        )))
}

fn sentence(what: &str, is: &str, of: &str) -> String {
    match is {
        "in the way of" => format!("{what} is in the way of {of}"),
        _ => format!("{what} comes off with {of}"),
    }
}

fn relation(k: usize, says: String, surveying: Surveying) -> El {
    let away = move || surveying.take_away(|draft| draft.take_entry("relations", k, None));
    el("li").put(el("h3").put(says)).put(button("bt short", words::TAKE_AWAY, away))
}
