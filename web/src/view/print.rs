//! The printed sheet: one run on at most two pages, A4 or Letter, with drawings true to a round scale.

use super::drawing::{OneView, views};
use super::findings::{limit, measured, name, not_checked, reason, sorted};
use super::marking::{clamp_torque, to_buy};
use super::projection::Frame;
use super::strip::Strip;
use super::{Shown, length, mark, minus};
use crate::form::{Draft, Reads, groups};
use crate::send::{code_of, link_of};
use crate::words;
use gloo_events::EventListener;
use job::input::RunInput;
use job::{CandidateReport, LieReport, Problem, RunReport};
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
#[component]
pub(crate) fn PrintedSheet(
    draft: RwSignal<Draft>,
    printing: RwSignal<bool>,
    shown: Memo<Option<Shown>>,
    problems: Memo<Vec<Problem>>,
    run: Memo<Option<RunInput>>,
) -> impl IntoView {
    let ear = EventListener::new(&window(), "beforeprint", move |_| printing.set(true));
    StoredValue::new_local(ear); // It listens as long as its owner lives.
    Effect::new(move |_| {
        draft.track();
        printing.set(false);
    });
    move || {
        printing.get().then(|| {
            let sheet = match (shown.get(), run.get()) {
                (Some(shown), Some(run)) => draft.with(|draft| sheet(draft, &shown, &problems.get(), &run)),
                _ => view! { <p class="vd">{words::NOTHING_TO_PRINT}</p> }.into_any(),
            };
            view! { <article class="paper" aria-label=words::PAPER>{sheet}</article> }
        })
    }
}

/// A length that is cut or bought: whichever tape is at hand.
fn both(mm: f64) -> String {
    format!("{} ({})", length(mm, LengthUnit::Millimetre), length(mm, LengthUnit::Inch))
}

fn block(title: String, body: AnyView) -> AnyView {
    view! { <section><h2>{title}</h2>{body}</section> }.into_any()
}

fn list(lines: Vec<String>) -> AnyView {
    view! { <ul>{lines.into_iter().map(|line| view! { <li>{line}</li> }.into_any()).collect_view()}</ul> }.into_any()
}

fn table(head: &[&'static str], rows: Vec<Vec<AnyView>>) -> AnyView {
    let head = head.iter().map(|name| view! { <th scope="col">{*name}</th> }.into_any()).collect_view();
    let cells = |row: Vec<AnyView>| row.into_iter().map(|cell| view! { <td>{cell}</td> }.into_any()).collect_view();
    let rows = rows.into_iter().map(|row| view! { <tr>{cells(row)}</tr> }.into_any()).collect_view();
    view! { <table><thead><tr>{head}</tr></thead><tbody>{rows}</tbody></table> }.into_any()
}

/// The whole sheet.
fn sheet(draft: &Draft, (told, best): &Shown, problems: &[Problem], run: &RunInput) -> AnyView {
    // Where no length works there is nothing to mark, cut or buy.
    let work = (!best.nearest).then(|| cut(best, run, draft.unit));
    let after = (!best.nearest).then(|| block(words::TO_BUY.to_owned(), to_get(best)));
    let lie = best.lie.as_ref().map(|lie| drawn(run, lie, best));
    view! {
        {title(draft, told, best)}
        {verdict(best)}
        {work}
        {lie}
        {block(words::BEFORE.to_owned(), list(told.cautions.clone()))}
        {after}
        {block(words::NOT_KNOWN.to_owned(), list(not_known(told, problems)))}
        {block(words::CHECKED.to_owned(), checked(best, draft.unit))}
        {block(words::ENTERED.to_owned(), entered(draft))}
        {block(words::SEND.to_owned(), handed_on(draft))}
    }
    .into_any()
}

fn title(draft: &Draft, told: &RunReport, best: &CandidateReport) -> AnyView {
    let car = draft.job.pointer("/car").and_then(|car| car.as_str()).unwrap_or_default().to_owned();
    let hose = &best.hose;
    let class = hose.class.as_ref().map(|class| format!(", class {class}")).unwrap_or_default();
    let hose = format!("{}{class}, {} bore, {} outside", hose.kind, both(hose.bore_mm), both(hose.outside_mm));
    let blanks = words::BLANKS.map(|blank| view! { <div class="blank">{blank}</div> }.into_any()).collect_view();
    view! {
        <div class="head">
            <div>
                <h1>{words::TITLE} ": " {told.name.clone()}</h1>
                <p>{car}</p>
                <p>{hose}</p>
                <p>{words::BOTH_UNITS}</p>
            </div>
            {blanks}
        </div>
    }
    .into_any()
}

fn verdict(best: &CandidateReport) -> AnyView {
    let shown = if best.verdict == "pass" { "not checked" } else { best.verdict.as_str() };
    let fails = shown == "fail";
    let stop = fails.then_some(if best.nearest { words::NO_CUT } else { words::DO_NOT_CUT });
    view! { <p class="vd" class:fails=fails>{mark(shown)} <span>{best.headline.clone()} " " {stop}</span></p> }
        .into_any()
}

/// The figure to cut, the marks, and the marked piece.
fn cut(best: &CandidateReport, run: &RunInput, unit: LengthUnit) -> AnyView {
    let marks = [
        ("End A, cut square", 0.0),
        ("Mouth of spigot A", best.marks.mouth_a_mm),
        ("Mouth of spigot B", best.marks.mouth_b_mm),
        ("End B, cut square", best.cut_mm),
    ]
    .into_iter()
    .map(|(what, mm)| {
        let [mm, inches] = [LengthUnit::Millimetre, LengthUnit::Inch].map(|unit| length(mm, unit).into_any());
        vec![what.into_any(), mm, inches]
    })
    .collect();
    let work =
        best.cut_window_mm.map(|[lo, hi]| format!("Lengths that work: {} to {}.", both(lo.ceil()), both(hi.floor())));
    let tried = run.try_cut_mm.map(|_| words::TRIED);
    view! {
        <div class="to-cut">
            <div>
                <p>{words::CUT_LENGTH}</p>
                <strong>{length(best.cut_mm, LengthUnit::Millimetre)}</strong>
                <b>{length(best.cut_mm, LengthUnit::Inch)}</b>
                <Strip best=best.clone() unit />
            </div>
            <div>{table(&["Marks, from end A", "mm", "inches"], marks)}<p>{work} " " {tried}</p></div>
        </div>
    }
    .into_any()
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
fn drawn(run: &RunInput, lie: &LieReport, best: &CandidateReport) -> AnyView {
    let views = views(run, lie, best.hose.outside_mm);
    let scale = scale_of(&views.map(|(_, frame)| frame));
    let [above, front, side] = views.map(|(view, frame)| {
        let width = format!("{:.3}mm", frame.width / scale);
        view! {
            <figure>
                <OneView run=run.clone() lie=lie.clone() outside=best.hose.outside_mm touched=RwSignal::new(None) view frame width px=scale * PIXEL />
                <figcaption>{view.caption()}</figcaption>
            </figure>
        }
        .into_any()
    });
    let ways =
        (best.ways > 1).then(|| format!(" It can lie in {} ways at this length; the worst is shown.", best.ways));
    let views = view! {
        <div class="views">{above}<div>{front}{side}</div></div>
        <p>{words::IN_THE_VIEWS} {ways}</p>
        <svg class="hundred" viewBox="0 0 100 2" role="img" aria-label="100 mm">
            <path d="M.15 0V2M99.85 0V2M0 1H100" class="ink" stroke-width=".3" />
        </svg>
        <p>{words::HUNDRED}</p>
    };
    block(format!("{}, drawn 1:{scale}", words::LIES), views.into_any())
}

/// A range that is bought, in both units.
fn both_of([lo, hi]: [f64; 2]) -> String {
    let range = |unit, name| format!("{} to {}", length(lo, unit).trim_end_matches(name), length(hi, unit));
    format!("{} ({})", range(LengthUnit::Millimetre, " mm"), range(LengthUnit::Inch, " in"))
}

/// Hose by length, and the clamps: those that are alike for both ends once.
fn to_get(best: &CandidateReport) -> AnyView {
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
    let rows = clamps.into_iter().map(|row| row.into_iter().map(IntoAny::into_any).collect()).collect();
    let head = ["End", "Clamp, one of", "Band", "Closes on", "Middle from the end", "Torque"];
    let around = format!("The clamps close on {}.", around.join(", "));
    let clamps =
        (!best.clamps.is_empty()).then(|| view! { <p>{around}</p> <div class="clamps">{table(&head, rows)}</div> });
    view! { <p>{to_buy(best, &both)}</p> {clamps} }.into_any()
}

/// What was checked; what was not stands in one line at the end.
fn checked(best: &CandidateReport, unit: LengthUnit) -> AnyView {
    let (done, not) = sorted(&best.findings);
    let rows = done
        .into_iter()
        .map(|finding| {
            vec![
                mark(&finding.verdict).into_any(),
                name(finding).into_any(),
                measured(finding, unit).into_any(),
                limit(finding, unit).into_any(),
                reason(finding, best.marks.mouth_a_mm, unit).into_any(),
            ]
        })
        .collect();
    let not = (!not.is_empty()).then(|| view! { <p>{mark("not checked")} <span>{not_checked(&not)} "."</span></p> });
    view! {
        <div class="found">{table(&["", "What", "Found", "Limit", "Why"], rows)}</div>
        {not}
    }
    .into_any()
}

/// The measurements as they stand in the form, a paragraph to a group. What is not known is left out.
fn entered(draft: &Draft) -> AnyView {
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
        (!text.is_empty()).then(|| view! { <p><b>{group.title}</b> ": " {text} "."</p> }.into_any())
    });
    view! { <div class="entered">{paragraphs.collect_view()}</div> }.into_any()
}

fn not_known(told: &RunReport, problems: &[Problem]) -> Vec<String> {
    let mut lines = vec![words::UNKNOWN.to_owned()];
    if !told.assumed.is_empty() {
        lines.push(format!("Taken as likely: {}.", told.assumed.join("; ")));
    }
    lines.extend(problems.iter().map(|problem| format!("Not used: {}.", problem.wrong)));
    lines
}

/// The code and the first letters of the link.
fn handed_on(draft: &Draft) -> AnyView {
    match link_of(draft) {
        Ok(link) => {
            let begins: String = link.chars().take(LINK_BEGINS).collect();
            view! { <div class="code">{code_of(draft)} <p>{words::OPENS} " " <span>{begins} "…"</span></p></div> }
                .into_any()
        }
        Err(why) => view! { <p>{why} "."</p> }.into_any(),
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
