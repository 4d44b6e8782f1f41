//! The survey: does coolant go round, the picture, every line with what is decided, the parts, the hoses measured.

use super::fit::close_at;
use super::lists::Copied;
use super::lists::{ring, tag};
use super::picture::picture;
use super::print::{has_lines, job_text};
use super::{AtOnce, Surveying, Told, sample};
use crate::el::{
    El, Node, afterwards, button, details, div, el, how_known, link, live, many, note, p, section, small, unseen, when,
};
use crate::example::EXAMPLE_CAR;
use crate::form::{Draft, car_fields, one_field};
use crate::keep::Keeper;
use crate::measure::Screen;
use crate::send::print;
use crate::view::{length, mark};
use crate::words;
use job::{CircuitFinding, Report, RunReport};
use leptos::prelude::*;
use quantity::text::LengthUnit;
use share::json::Value;
use wasm_bindgen::{JsCast, UnwrapThrowExt};
use web_sys::{Element, HtmlElement};

/// The screen of the whole car.
pub(crate) fn survey(surveying: Surveying) -> Node {
    let Surveying { draft, at_once, .. } = surveying;
    let is_empty = move || draft.with(|draft| draft.list("parts").is_empty() && draft.list("lines").is_empty());
    many![
        bring_back(surveying),
        when(is_empty, move || beginning(draft)),
        when(move || !is_empty(), move || live(move || at_once.get().map(|now| circuit(&now, draft)))),
        lines(surveying),
        runs(surveying),
        parts(surveying),
        el("section").put(one_field(car_fields::name(), draft, surveying.problems)),
        when(move || draft.with(has_lines), move || hand_on(surveying)),
    ]
}

/// What was taken away last can be brought back, from wherever one stands in the lists.
pub(super) fn bring_back(Surveying { draft, gone, .. }: Surveying) -> Node {
    let can = move || gone.with(|gone| draft.with(|draft| gone.as_ref().is_some_and(|gone| gone.after == *draft)));
    let back = move || {
        if let Some(gone) = gone.try_update(Option::take).flatten() {
            draft.set(gone.before);
        }
    };
    // What was pressed is gone: whoever works by keyboard stands at the button that brings it back.
    let stand_here = move |button: &Element| {
        if gone.try_update_untracked(|gone| gone.as_mut().is_some_and(|gone| std::mem::take(&mut gone.is_new)))
            == Some(true)
        {
            let button: HtmlElement = button.clone().unchecked_into();
            afterwards(move || button.focus().unwrap_throw());
        }
    };
    when(can, move || {
        div("taken line")
            .put(el("span").attr("role", "status").put(words::TAKEN))
            .put(button("bt", words::UNDO, back).made(stand_here))
    })
}

/// The job sheet, and the same as text.
fn hand_on(Surveying { draft, told, at_once, printing, .. }: Surveying) -> El {
    let text = move || {
        at_once.with_untracked(|now| {
            told.with_untracked(|told| {
                let report = if let Told::Answer(report) = told { Some(report.as_ref()) } else { None };
                draft.with_untracked(|draft| now.as_ref().map(|now| job_text(draft, now, report)))
            })
        })
    };
    let is_told = move || told.with(|told| matches!(told, Told::Answer(_)));
    let waits = move || (!is_told()).then(|| note(words::STARTING));
    let copied = Copied::new();
    section(words::HAND_CAR_ON)
        .put(button("bt", words::PRINT_CAR, move || print(printing)).live("disabled", move || !is_told()))
        .put(button("bt", words::COPY_CAR, move || copied.copy(text().unwrap_or_default())))
        .put(copied.said())
        .put(live(waits))
}

/// What can be begun with.
fn beginning(draft: RwSignal<Draft>) -> El {
    let plain = move || draft.update(sample::plain_car);
    section(words::SURVEY)
        .put(note(words::SURVEY_HOW))
        .put(button("bt m", words::PLAIN_CAR, plain))
        .put(note(words::PLAIN_CAR_IS))
}

/// Whether coolant goes round, in one line and a picture, and below it everything that was found.
fn circuit(AtOnce { circuit, layout, .. }: &AtOnce, draft: RwSignal<Draft>) -> El {
    let count = |verdict: &str| circuit.findings.iter().filter(|finding| finding.verdict == verdict).count();
    let is_dry =
        |finding: &CircuitFinding| ["no flow", "no way round", "no pump", "bulb"].contains(&finding.kind.as_str());
    let round = if circuit.findings.iter().any(is_dry) { "" } else { words::ROUND };
    let (worst, says) = match (count("fail"), count("warn")) {
        (0, 0) => ("pass", words::ROUND.to_owned()),
        (0, warns) => ("warn", format!("{round} {}", things(warns, "is to be looked at", "are to be looked at"))),
        (fails, _) => ("fail", format!("{round} {}", things(fails, "is not right", "are not right"))),
    };
    let rows = circuit.findings.iter().map(|finding| found(finding, draft));
    el("section")
        .put(el("h2").class("sr").put(words::GOES_ROUND))
        .put(
            p(if worst == "fail" { "vd stop" } else { "vd" }, mark(worst))
                .put(el("span").put(says.trim_start().to_owned()))
                .attr("role", "status"),
        )
        .put(draft.with_untracked(|draft| picture(layout, circuit, draft)))
        .put(note(words::PENS))
        .put(el("ul").class("ls").put_all(rows))
}

fn things(count: usize, one: &str, several: &str) -> String {
    if count == 1 { format!("One thing {one}.") } else { format!("{count} things {several}.") }
}

/// One thing found, with ways to the lines and parts it is about.
fn found(finding: &CircuitFinding, draft: RwSignal<Draft>) -> El {
    let place = |list: &str, name: &str| {
        draft.with_untracked(|draft| {
            draft.list(list).iter().position(|entry| entry.get("name").and_then(Value::as_str) == Some(name))
        })
    };
    let lines = finding.lines.iter().filter_map(|name| Some((Screen::Line(place("lines", name)?), name)));
    let parts = finding.parts.iter().filter_map(|name| Some((Screen::Part(place("parts", name)?), name)));
    let mut ways: Vec<(Screen, &String)> = lines.chain(parts).collect();
    ways.truncate(4);
    let ways = ways.into_iter().map(|(to, name)| link("bt", to.hash(), name.clone()));
    let part = finding.parts.first().and_then(|name| place("parts", name));
    let to_close = || link("bt", Screen::Fit.at(&close_at(part)), words::CLOSE_IT);
    let close = (finding.kind == "open end").then(to_close);
    // Where the sentence says the state itself it is not said twice.
    let said = finding.when.is_empty() || finding.why.contains(&finding.when);
    let when = if said { String::new() } else { format!(" ({})", finding.when) };
    el("li")
        .put(mark(&finding.verdict))
        .put(el("h3").put(unseen(words::verdict(&finding.verdict))).put(format!("{}{when}", finding.why)))
        .put(div("row").put(close).put_all(ways))
        .put(how_known(format!("{} ({}).", finding.source, finding.basis)))
}

/// Every line, with what is decided on it.
fn lines(surveying: Surveying) -> El {
    let Surveying { draft, told, .. } = surveying;
    let rows = move || {
        draft.with(|draft| (0..draft.list("lines").len()).map(|i| line_row(i, draft, &told.get())).collect::<Vec<_>>())
    };
    let add = move || {
        let end = || Value::object([("part", "".into()), ("spigot", "".into())]);
        let line = Value::object([
            ("name", draft.with_untracked(|draft| draft.new_entry_name("lines", "hose")).into()),
            ("kind", "hose".into()),
            ("from", end()),
            ("to", end()),
        ]);
        let place = draft.with_untracked(|draft| draft.list("lines").len());
        Screen::Line(place).go_with(move || draft.update(|draft| draft.add_entry("lines", line)));
    };
    section(words::LINES).put(el("ul").class("ls go").put(live(rows))).put(button("bt m", words::ADD_LINE, add))
}

fn line_row(i: usize, draft: &Draft, told: &Told) -> El {
    let at = |name: &str| draft.said(&format!("/lines/{i}/{name}"));
    let decided = if at("kind") == "passage" { "passage" } else { at("decision") };
    let shown = if decided.is_empty() { words::UNDECIDED } else { decided };
    let run = draft.run_named(at("run")).filter(|_| !at("run").is_empty());
    let answer = match (decided, run) {
        ("universal hose", None) => Some(words::NOT_MEASURED.to_owned()),
        ("universal hose", Some(run)) => Some(said_of_run(told, run, draft.unit)),
        _ => None,
    };
    let ends = format!("{} – {}", at("from/part"), at("to/part"));
    let state = [at("kind"), at("state")].into_iter().filter(|word| !word.is_empty() && *word != "passage");
    let mut says: Vec<String> = vec![ends];
    says.extend(state.map(str::to_owned));
    says.extend(answer);
    let name = if at("name").is_empty() { words::NO_NAME } else { at("name") };
    el("li")
        .key(format!("line{i}"))
        .put(ring(i + 1))
        .put(link("row-link", Screen::Line(i).hash(), el("b").put(name.to_owned())).put(small(says.join(" · "))))
        .put(tag(shown))
}

/// The answer to a run in a few words.
fn said_of_run(told: &Told, run: usize, unit: LengthUnit) -> String {
    match told {
        Told::Answer(report) => match answer_of(report, run) {
            Some(best) => {
                let hose = &best.candidates[0];
                let verdict = match hose.verdict.as_str() {
                    "fail" => "fails",
                    "warn" => "fits, take care",
                    _ => "fits",
                };
                let cut = format!("cut {}", length(hose.cut_mm, unit));
                let cut = if hose.nearest { words::NO_LENGTH.to_owned() } else { cut };
                format!("{} bore, {cut}, {verdict}", length(hose.hose.bore_mm, unit))
            }
            None if report.runs.iter().any(|told| told.run == run) => words::NO_HOSE.to_owned(),
            None => words::NOT_MEASURED.to_owned(),
        },
        Told::Stopped(_) => words::SOLVER_STOPPED.to_owned(),
        Told::Nothing | Told::Progress(..) => words::STARTING.to_owned(),
    }
}

fn answer_of(report: &Report, run: usize) -> Option<&RunReport> {
    report.runs.iter().find(|told| told.run == run && !told.candidates.is_empty())
}

/// The parts, each with its spigots.
fn parts(Surveying { draft, .. }: Surveying) -> El {
    let row = |i: usize, draft: &Draft| {
        let at = |name: &str| draft.said(&format!("/parts/{i}/{name}"));
        let spigots = draft.job.pointer(&format!("/parts/{i}/spigots")).and_then(Value::as_array).map_or(0, <[_]>::len);
        let goes = draft.job.pointer(&format!("/parts/{i}/leave_out")).and_then(Value::as_bool) == Some(true);
        let says = format!("{} · {spigots} {}", at("kind"), if spigots == 1 { "spigot" } else { "spigots" });
        el("li")
            .key(format!("part{i}"))
            .put(link("row-link", Screen::Part(i).hash(), el("b").put(at("name").to_owned())).put(small(says)))
            .put(goes.then(|| tag("leave out")))
    };
    let rows = move || draft.with(|draft| (0..draft.list("parts").len()).map(|i| row(i, draft)).collect::<Vec<_>>());
    let add = move || {
        let add = move |draft: &mut Draft| {
            let name = draft.new_entry_name("parts", "part");
            draft.add_entry("parts", Value::object([("name", name.into()), ("kind", "other".into())]));
        };
        Screen::Part(draft.with_untracked(|draft| draft.list("parts").len())).go_with(move || draft.update(add));
    };
    section(words::PARTS).put(el("ul").class("ls go plain").put(live(rows))).put(button("bt", words::ADD_PART, add))
}

/// The hoses measured: each can be taken in hand, copied, taken away and brought back.
fn runs(surveying: Surveying) -> El {
    let Surveying { draft, told, .. } = surveying;
    let row = move |i: usize, name: String, says: String, last: bool| {
        let open = move || Screen::Sheet.go_with(move || draft.update(|draft| draft.go_to(i)));
        let copy = move || draft.update(|draft| draft.copy_run(i));
        let away = move || surveying.take_away(|draft| draft.take_run_away(i));
        let up = move || draft.update(|draft| draft.move_run(i, -1));
        let more = details(words::MORE).class("how more").put(
            div("row")
                .put(button("bt", words::COPY_RUN, copy))
                .put((i > 0).then(|| button("bt", words::UP, up)))
                .put((!last).then(|| button("bt", words::TAKE_AWAY, away))),
        );
        el("li")
            .key(format!("run{i}"))
            .put(
                el("button")
                    .attrs([("type", "button"), ("class", "row-link")])
                    .put(el("b").put(name))
                    .put(small(says))
                    .on_click(open),
            )
            .put(more)
    };
    let rows = move || {
        let told = told.get();
        draft.with(|draft| {
            let count = draft.runs().0;
            let all = (0..count).map(|i| row(i, draft.run_name(i), said_of_run(&told, i, draft.unit), count < 2));
            all.collect::<Vec<_>>()
        })
    };
    let add = move || {
        let add = |draft: &mut Draft| {
            let fresh = Draft::fresh(Some(draft), draft.unit);
            let mut run = fresh.run(0).cloned().unwrap_or_default();
            if let Value::Object(fields) = &mut run {
                fields.insert("name", draft.new_name("hose").into());
            }
            draft.add_run(run);
        };
        Screen::Spigot(crate::form::sketch::Letter::A).go_with(move || draft.update(add));
    };
    section(words::HOSES_MEASURED).put(el("ul").class("ls go plain").put(live(rows))).put(button(
        "bt",
        words::MEASURE_ANOTHER,
        add,
    ))
}

/// The way from one hose to the whole car, at the foot of its sheet.
pub(crate) fn more_hoses(keeper: Keeper) -> Node {
    let draft = keeper.draft;
    let show = move || {
        if let Some(car) = Draft::open(EXAMPLE_CAR) {
            Screen::Car.go_with(move || keeper.open(car));
        }
    };
    let example = move || button("bt", words::EXAMPLE_CAR, show);
    when(
        move || draft.with(|draft| !draft.is_car()),
        move || {
            section(words::MORE_HOSES)
                .put(note(words::MORE_HOSES_HOW))
                .put(link("bt", Screen::Car.hash(), words::TO_CAR))
                .put(when(move || keeper.at_example(), example))
        },
    )
}
