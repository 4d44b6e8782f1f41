//! The printed sheet: one run on at most two pages, A4 or Letter, with drawings true to a round scale.

use super::drawing::{legend, one_view, views};
use super::findings::{limit, measured, name, not_checked, reason, sorted};
use super::held::{marked, sentences, to_mark};
use super::marking::{clamp_torque, to_buy};
use super::projection::Frame;
use super::strip::strip;
use super::{Shown, kind, length, mark, minus, wanted};
use crate::el::{El, Node, afterwards, div, el, keep, list, live, many, p, path};
use crate::form::{Draft, Reads, groups};
use crate::send::{code_of, link_of};
use crate::words;
use gloo_events::EventListener;
use job::input::RunInput;
use job::{CandidateReport, FindingReport, LieReport, Problem, RunReport, WantedReport};
use leptos::prelude::*;
use quantity::text::LengthUnit;

/// Room for the three views, mm: across, the narrower of A4 (210) and Letter (216) less two margins of 12; down, what
/// the first page leaves beside the figures to cut (our choice).
const WIDE: f64 = 186.0;
const HIGH: f64 = 104.0;
/// Between two views side by side, and for what stands under one, mm; `style.css` has them too.
const GAP: f64 = 6.0;
const CAPTION: f64 = 6.0;
/// One to how much the views may be drawn: steps that a rule shows easily (our choice; those of ISO 5455 and, between,
/// 2.5, 4 and 25).
const SCALES: [f64; 11] = [1.0, 2.0, 2.5, 4.0, 5.0, 10.0, 20.0, 25.0, 50.0, 100.0, 200.0];
/// A pixel of CSS on paper, mm: 96 to the inch.
const PIXEL: f64 = 25.4 / 96.0;
/// So much of the link is printed for those who hold two sheets side by side; nobody types a whole one (our choice).
const LINK_BEGINS: usize = 60;

/// Keeps the sheet in the page from when someone prints until something is changed. It is out of sight on the screen.
pub(crate) fn printed_sheet(
    draft: RwSignal<Draft>,
    printing: RwSignal<bool>,
    shown: Memo<Option<Shown>>,
    problems: Memo<Vec<Problem>>,
    run: Memo<Option<RunInput>>,
    // The whole car's, where that is what is looked at.
    of_car: impl Fn() -> Option<Node> + 'static,
) -> Node {
    let ear = EventListener::new(&window(), "beforeprint", move |_| printing.set(true));
    keep(ear);
    afterwards(move || {
        draft.track();
        printing.set(false);
    });
    live(move || {
        printing.get().then(|| {
            let (name, sheet) = match (of_car(), shown.get(), run.get()) {
                (Some(sheet), ..) => (words::JOB_SHEET, sheet),
                (None, Some(shown), Some(run)) => {
                    (words::PAPER, draft.with(|draft| sheet(draft, shown.run(), shown.best(), &problems.get(), &run)))
                }
                _ => (words::PAPER, p("vd", words::NOTHING_TO_PRINT).into()),
            };
            el("article").class("paper").attr("aria-label", name).put(sheet)
        })
    })
}

/// A length that is cut or bought: whichever tape is at hand.
pub(crate) fn both(mm: f64) -> String {
    format!("{} ({})", length(mm, LengthUnit::Millimetre), length(mm, LengthUnit::Inch))
}

/// A part of a sheet under its heading.
pub(crate) fn block(title: impl Into<Node>, body: impl Into<Node>) -> El {
    el("section").put(el("h2").put(title)).put(body)
}

/// A table with a head.
pub(crate) fn table(head: &[&'static str], rows: Vec<Vec<Node>>) -> El {
    let head = head.iter().map(|name| el("th").attr("scope", "col").put(*name));
    let rows = rows.into_iter().map(|row| el("tr").put_all(row.into_iter().map(|cell| el("td").put(cell))));
    el("table").put(el("thead").put(el("tr").put_all(head))).put(el("tbody").put_all(rows))
}

/// The whole sheet of the run in hand.
pub(crate) fn sheet(
    draft: &Draft,
    told: &RunReport,
    best: &CandidateReport,
    problems: &[Problem],
    run: &RunInput,
) -> Node {
    // Where no length works there is nothing to mark, cut or buy.
    let work = (!best.nearest).then(|| cut(best, run, draft.unit));
    let after = (!best.nearest).then(|| block(words::TO_BUY, to_get(best)));
    let lie = best.lie.as_ref().map(|lie| drawn(run, lie, told.wanted.as_ref(), best));
    let wanted = told
        .wanted
        .as_ref()
        .map(|wanted| block(words::WAY_WANTED, list(wanted::lines(wanted, best, run, draft.unit, &both))));
    many![
        title(draft, told, best),
        verdict(best),
        work,
        lie,
        wanted,
        block(words::BEFORE, list(told.cautions.clone())),
        after,
        block(words::NOT_KNOWN, list(not_known(told, problems))),
        block(words::CHECKED, checked(best, draft.unit)),
        block(words::MEASURES, entered(draft)),
        block(words::SEND, handed_on(draft)),
    ]
}

fn title(draft: &Draft, told: &RunReport, best: &CandidateReport) -> El {
    let car = draft.job.pointer("/car").and_then(|car| car.as_str()).unwrap_or_default().to_owned();
    let hose = &best.hose;
    let hose = format!("{}, {} bore, {} outside", kind(hose), both(hose.bore_mm), both(hose.outside_mm));
    let heading = el("h1").put(words::TITLE).put(": ").put(told.name.clone());
    let lines = [car.into(), hose.into(), Node::from(words::BOTH_UNITS)].map(|line| el("p").put(line));
    div("head").put(el("div").put(heading).put_all(lines)).put_all(words::BLANKS.map(|blank| div("blank").put(blank)))
}

fn verdict(best: &CandidateReport) -> El {
    let shown = if best.verdict == "pass" { "not checked" } else { best.verdict.as_str() };
    let fails = shown == "fail";
    let stop = fails.then_some(if best.nearest { words::NO_CUT } else { words::DO_NOT_CUT });
    let words = el("span").put(best.headline.clone()).put(" ").put(stop);
    p(if fails { "vd fails" } else { "vd" }, mark(shown)).put(" ").put(words)
}

/// The figure to cut, the marks, and the marked piece.
fn cut(best: &CandidateReport, run: &RunInput, unit: LengthUnit) -> El {
    let end = |what: &str, mm: f64| (what.to_owned(), mm);
    let mut marks = vec![end("End A, cut square", 0.0), end("Mouth of spigot A", best.marks.mouth_a_mm)];
    marks.extend(to_mark(best));
    marks.extend([end("Mouth of spigot B", best.marks.mouth_b_mm), end("End B, cut square", best.cut_mm)]);
    let marks = marks
        .into_iter()
        .map(|(what, mm)| {
            let [mm, inches] = [LengthUnit::Millimetre, LengthUnit::Inch].map(|unit| Node::from(length(mm, unit)));
            vec![what.into(), mm, inches]
        })
        .collect();
    let work =
        best.cut_window_mm.map(|[lo, hi]| format!("Lengths that work: {} to {}.", both(lo.ceil()), both(hi.floor())));
    let tried = run.try_cut_mm.map(|_| words::TRIED);
    let figure = el("div")
        .put(el("p").put(words::CUT_LENGTH))
        .put(el("strong").put(length(best.cut_mm, LengthUnit::Millimetre)))
        .put(el("b").put(length(best.cut_mm, LengthUnit::Inch)))
        .put(strip(best, unit));
    let marks =
        el("div").put(table(&["Marks, from end A", "mm", "inches"], marks)).put(el("p").put(work).put(" ").put(tried));
    div("to-cut").put(figure).put(marks)
}

/// One to how much the views are drawn: the largest of the scales at which they have room.
fn scale_of(frames: &[Frame; 3]) -> f64 {
    let fits = |scale: &f64| {
        let [above, front, side] = frames.map(|frame| (frame.width / scale, frame.height / scale + CAPTION));
        let beside = (above.0 + GAP + f64::max(front.0, side.0), f64::max(above.1, front.1 + side.1));
        let below = (above.0.max(front.0).max(side.0), above.1 + front.1 + side.1);
        [beside, below].into_iter().any(|(wide, high)| wide <= WIDE && high <= HIGH)
    };
    SCALES.into_iter().find(fits).unwrap_or(SCALES[SCALES.len() - 1])
}

/// The three views, with a line to see whether the printer kept the scale.
fn drawn(run: &RunInput, lie: &LieReport, wanted: Option<&WantedReport>, best: &CandidateReport) -> El {
    let views = views(run, lie, wanted, best.hose.outside_mm);
    let scale = scale_of(&views.map(|(_, frame)| frame));
    let [above, front, side] = views.map(|(view, frame)| {
        let width = format!("{:.3}mm", frame.width / scale);
        let (outside, px) = (best.hose.outside_mm, scale * PIXEL);
        el("figure")
            .put(
                one_view(run, lie, best, RwSignal::new(None), (view, &frame), width, px)
                    .put(wanted.map(|wanted| wanted::line(wanted, view, px)))
                    .put_all(marked(run, lie, outside, view, px)),
            )
            .put(el("figcaption").put(view.caption()))
    });
    let ways =
        (best.ways > 1).then(|| format!(" It can lie in {} ways at this length; the worst is shown.", best.ways));
    let held = sentences(best, &both);
    let hundred = el("svg")
        .attrs([("class", "hundred"), ("viewBox", "0 0 100 2"), ("role", "img"), ("aria-label", "100 mm")])
        .put(path("ink", "M.15 0V2M99.85 0V2M0 1H100").attr("stroke-width", ".3"));
    let views = many![
        div("views").put(above).put(el("div").put(front).put(side)),
        el("p").put(words::IN_THE_VIEWS).put(legend(!held.is_empty(), wanted.is_some())).put(" ").put(ways),
        list(held),
        hundred,
        el("p").put(words::HUNDRED),
    ];
    block(format!("{}, drawn 1:{scale}", words::LIES), views)
}

/// A range that is bought, in both units.
fn both_of([lo, hi]: [f64; 2]) -> String {
    let range = |unit, name| format!("{} to {}", length(lo, unit).trim_end_matches(name), length(hi, unit));
    format!("{} ({})", range(LengthUnit::Millimetre, " mm"), range(LengthUnit::Inch, " in"))
}

/// Hose by length, and the clamps: those that are alike for both ends once.
fn to_get(best: &CandidateReport) -> Node {
    let mut clamps: Vec<[String; 6]> = Vec::new();
    let mut around: Vec<String> = Vec::new();
    for clamp in &best.clamps {
        let row = [
            clamp.end.clone(),
            format!("{} {}, {}", clamp.kind, clamp.size, clamp.standard),
            both(clamp.band_mm[1]),
            both_of(clamp.range_mm),
            both(clamp.band_from_end_mm),
            clamp_torque(clamp).unwrap_or_default(),
        ];
        match clamps.iter_mut().find(|had| had[1..] == row[1..]) {
            Some(had) => had[0] = format!("{}, {}", had[0], row[0]),
            None => clamps.push(row),
        }
        let closed = format!("{} at {}", both(clamp.closes_on_mm), clamp.end);
        if !around.contains(&closed) {
            around.push(closed);
        }
    }
    let rows = clamps.into_iter().map(|row| row.into_iter().map(Node::from).collect()).collect();
    let head = ["End", "Clamp, one of", "Band", "Closes on", "Middle from the end", "Torque"];
    let around = format!("The clamps close on {}.", around.join(", "));
    let clamps =
        (!best.clamps.is_empty()).then(|| many![el("p").put(around), " ", div("clamps").put(table(&head, rows))]);
    many![el("p").put(to_buy(best, &both)), " ", clamps]
}

/// What was checked; what was not stands in one line at the end.
fn checked(best: &CandidateReport, unit: LengthUnit) -> Node {
    let (done, not) = sorted(&best.findings);
    // What passes and has no figure to be kept in mind stands in one line below.
    let plain = |finding: &&FindingReport| {
        let checks =
            ["load", "rock", "sag", "air trap", "support", "snap", "pressure", "rating", "collapse", "hold", "flow"];
        finding.verdict == "pass" && checks.contains(&finding.check.as_str())
    };
    let (passed, done): (Vec<_>, Vec<_>) = done.into_iter().partition(plain);
    let too = (!passed.is_empty()).then(|| {
        let names: Vec<_> = passed.iter().map(|finding| name(finding)).collect();
        el("p").put(mark("pass")).put(" ").put(el("span").put(format!("{} {}.", words::PASSES_TOO, names.join("; "))))
    });
    let rows = done
        .into_iter()
        .map(|finding| {
            vec![
                mark(&finding.verdict).into(),
                name(finding).into(),
                measured(finding, unit).into(),
                limit(finding, unit).into(),
                reason(finding, best.marks.mouth_a_mm, unit).into(),
            ]
        })
        .collect();
    let not = (!not.is_empty())
        .then(|| el("p").put(mark("not checked")).put(" ").put(el("span").put(not_checked(&not)).put(".")));
    many![div("found").put(table(&["", "What", "Found", "Limit", "Why"], rows)), too, " ", not]
}

/// The measurements as they stand in the form, a paragraph to a group. What is not known is left out.
fn entered(draft: &Draft) -> El {
    let paragraphs = groups(&draft.job, 0).into_iter().filter_map(|group| {
        let mut text = String::new();
        let mut part_before = "";
        for field in &group.fields {
            let shown = draft.shown(field);
            // Names stand in the titles.
            if shown.is_empty() || field.at.ends_with("/name") || field.at == "/car" {
                continue;
            }
            // "mouth: forward", "mouth: to the left": the first word once.
            let (part, label) = field.label.split_once(": ").unwrap_or(("", field.label));
            let before = match (text.as_str(), part) {
                ("", "") => String::new(),
                ("", part) => format!("{part} "),
                (_, "") => "; ".to_owned(),
                (_, part) if part == part_before => ", ".to_owned(),
                (_, part) => format!("; {part} "),
            };
            text += &format!("{before}{label} {}", minus(shown));
            // What was typed may have its unit with it.
            let unit = match field.reads {
                Reads::Length | Reads::Bead => words::unit(draft.unit),
                _ => field.unit.split(',').next().unwrap_or_default(),
            };
            if !unit.is_empty() && text.ends_with(|c: char| c.is_ascii_digit()) {
                text += &format!(" {unit}");
            }
            part_before = part;
        }
        (!text.is_empty()).then(|| el("p").put(el("b").put(group.title)).put(": ").put(text).put("."))
    });
    div("entered").put_all(paragraphs)
}

fn not_known(told: &RunReport, problems: &[Problem]) -> Vec<String> {
    let mut lines = vec![words::UNKNOWN.to_owned()];
    if !told.assumed.is_empty() {
        lines.push(format!("{} {}.", words::LIKELY, told.assumed.join("; ")));
    }
    lines.extend(problems.iter().map(|problem| format!("Not used: {}.", problem.wrong)));
    lines
}

/// The code and the first letters of the link.
fn handed_on(draft: &Draft) -> El {
    match link_of(draft) {
        Ok(link) => {
            let begins: String = link.chars().take(LINK_BEGINS).collect();
            let begins = el("span").put(begins).put("…");
            div("code").put(code_of(draft)).put(" ").put(el("p").put(words::OPENS).put(" ").put(begins))
        }
        Err(why) => el("p").put(why).put("."),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn frame(width: f64, height: f64) -> Frame {
        Frame { left: 0.0, top: 0.0, width, height }
    }

    #[test]
    fn the_views_are_drawn_as_large_as_the_paper_lets_them() {
        // By hand: at 1:5, 75 + 6 + 88 = 169 across and 41 + 41 + 12 = 94 down; at 1:4, 94 + 6 + 110 = 210 across.
        let run = [frame(377.0, 440.0), frame(377.0, 205.0), frame(440.0, 205.0)];
        assert!((scale_of(&run) - 5.0).abs() < 1e-9, "{}", scale_of(&run));
        let short = [frame(90.0, 40.0), frame(90.0, 40.0), frame(90.0, 40.0)];
        assert!((scale_of(&short) - 1.0).abs() < 1e-9, "{}", scale_of(&short));
        // No place lies further out than 5 m either way.
        let long = [frame(10_100.0, 10_100.0); 3];
        assert!((scale_of(&long) - 200.0).abs() < 1e-9, "{}", scale_of(&long));
    }
}
