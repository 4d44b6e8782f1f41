//! The job sheet: the whole car on paper, lists to tick off by hand, then a sheet for every hose; and the same as plain text.

use super::fill::volume;
use super::picture::picture;
use super::{AtOnce, filling};
use crate::el::{El, Node, div, el, list, many, p};
use crate::form::Draft;
use crate::solver::messages::build;
use crate::view::{block, both, mark, run_of, run_sheet, table};
use crate::words;
use job::{ItemReport, Report, RunReport, SaidReport};
use share::json::Value;

/// A box to tick by hand.
const BOX: &str = "☐ ";

/// The job sheet of all that is known; `None` until the solver has told of the car.
pub(crate) fn job_sheet(draft: &Draft, now: Option<&AtOnce>, report: Option<&Report>) -> Option<Node> {
    let (now, report) = (now?, report?);
    let fill = filling(&draft.whole().to_string(), Some(report));
    let ticks = |said: &[SaidReport]| list(said.iter().map(|said| format!("{BOX}{}", said.what)).collect());
    // Numbered through, as on the page.
    let steps = |from: usize, steps: &[job::OrderStepReport]| {
        el("ol")
            .attr("start", (from + 1).to_string())
            .put_all(steps.iter().map(|step| el("li").put(format!("{BOX}{}", step.what))))
    };
    let open = now.closures.open.iter().map(|open| {
        let way = open.options.first().map(|option| option.what.as_str()).unwrap_or_default();
        format!("{BOX}{}, {}: {way}", open.part, open.spigot)
    });
    let weeps = fill.iter().flat_map(|fill| &fill.weeps).map(|weep| {
        let look: Vec<_> = weep.look.iter().map(|look| look.what.as_str()).collect();
        format!("{}: {}", weep.when, look.join(" "))
    });
    let cuts = report.cuts.as_ref().map(|cuts| {
        let lines = cuts.groups.iter().flat_map(|group| {
            group.lengths.iter().map(move |from| {
                let pieces: Vec<_> = from
                    .pieces
                    .iter()
                    .filter_map(|k| group.pieces.get(*k))
                    .map(|piece| format!("{} {}", piece.name, both(piece.cut_mm)))
                    .collect();
                let which = if from.at_hand { words::OF_YOURS } else { words::OF_NEW };
                format!("{} {which}: {}", both(from.length_mm), pieces.join(", "))
            })
        });
        block(words::CUT_LIST, list(lines.collect()))
    });
    Some(many![
        head(draft),
        found(now),
        block(words::LINES, many![picture(&now.layout, &now.circuit, draft), lines(draft, report)]),
        block(words::BEFORE, many![p("", words::COLD_ONLY), ticks(&now.order.first)]),
        block(words::TAKE_OFF, steps(0, &now.order.off)),
        block(words::CLOSE, list(open.collect())),
        block(words::PUT_ON, many![p("", words::PUT_ON_HOW), steps(now.order.off.len(), &now.order.on)]),
        block(words::SHOPPING, shopping(report)),
        cuts,
        fill.as_ref().map(|fill| {
            many![
                block(words::HOLDS_NOW, list(volume(&fill.volume))),
                block(words::FILL_STEPS, ticks(&fill.steps)),
                block(words::IF_IT_WEEPS, list(weeps.collect())),
            ]
        }),
        runs(draft, report),
    ])
}

fn head(draft: &Draft) -> El {
    let car = draft.said("/car").to_owned();
    let lines = [car, format!("{}, {}", super::fill::today(), build()), words::BOTH_UNITS.to_owned()];
    let heading = el("h1").put(words::TITLE).put(": ").put(words::JOB_SHEET);
    div("head")
        .put(el("div").put(heading).put_all(lines.map(|line| el("p").put(line))))
        .put_all(words::JOB_BLANKS.map(|blank| div("blank").put(blank)))
}

/// What is wrong with the circuit, or that nothing is.
fn found(now: &AtOnce) -> Node {
    if now.circuit.findings.is_empty() {
        return p("vd", mark("pass")).put(" ").put(words::ROUND).into();
    }
    let one = |finding: &job::CircuitFinding| {
        let when = if finding.when.is_empty() { String::new() } else { format!(" ({})", finding.when) };
        el("p").put(mark(&finding.verdict)).put(" ").put(format!("{}{when}", finding.why))
    };
    now.circuit.findings.iter().map(one).collect::<Vec<_>>().into()
}

fn lines(draft: &Draft, report: &Report) -> El {
    let row = |i: usize| {
        let at = |name: &str| draft.said(&format!("/lines/{i}/{name}")).to_owned();
        let end = |end: &str| format!("{}, {}", at(&format!("{end}/part")), at(&format!("{end}/spigot")));
        let decided = if at("kind") == "passage" { "passage".to_owned() } else { at("decision") };
        let told = draft.run_named(&at("run")).filter(|_| !at("run").is_empty()).and_then(|run| best_of(report, run));
        let cut = told.map(|told| both(told.candidates[0].cut_mm)).unwrap_or_default();
        let cells = [(i + 1).to_string(), at("name"), end("from"), end("to"), at("state"), decided, cut];
        cells.into_iter().map(Node::from).collect()
    };
    let rows = (0..draft.list("lines").len()).map(row).collect();
    table(&["", "Line", "From", "To", "State", "Decided", "Cut"], rows)
}

fn best_of(report: &Report, run: usize) -> Option<&RunReport> {
    report.runs.iter().find(|told| told.run == run && told.candidates.first().is_some_and(|best| !best.nearest))
}

fn shopping(report: &Report) -> Option<El> {
    let items = &report.shopping.as_ref()?.items;
    let row = |item: &ItemReport| {
        let amount = match (item.unit.as_str(), item.length_mm) {
            ("l", _) => format!("{} l", item.amount),
            (_, Some(mm)) => format!("{} × {}", item.amount, both(mm)),
            _ => item.amount.to_string(),
        };
        vec![BOX.into(), item.what.clone().into(), amount.into(), item.serves.join(", ").into()]
    };
    Some(table(&["", "What", "How much", "For"], items.iter().map(row).collect()))
}

/// A sheet of its own for every hose that works.
fn runs(draft: &Draft, report: &Report) -> Vec<El> {
    let one = |i: usize| {
        let told = best_of(report, i)?;
        let mut in_hand = draft.clone();
        in_hand.go_to(i);
        let run = run_of(&in_hand.text())?;
        let problems: Vec<_> = report.problems.iter().filter(|problem| problem.run == Some(i)).cloned().collect();
        Some(div("next-page").put(run_sheet(&in_hand, told, &told.candidates[0], &problems, &run)))
    };
    (0..draft.runs().0).filter_map(one).collect()
}

/// The same in plain text, for a message.
pub(crate) fn job_text(draft: &Draft, now: &AtOnce, report: Option<&Report>) -> String {
    let mut text = String::new();
    let mut part = |title: &str, lines: Vec<String>| {
        if !lines.is_empty() {
            text += &format!("{title}\n{}\n\n", lines.join("\n"));
        }
    };
    part(draft.said("/car"), vec![words::COLD_ONLY.to_owned()]);
    let line = |i: usize| {
        let at = |name: &str| draft.said(&format!("/lines/{i}/{name}"));
        let told = report.and_then(|report| best_of(report, draft.run_named(at("run"))?));
        let cut = told.map(|told| format!(", cut {}", both(told.candidates[0].cut_mm))).unwrap_or_default();
        let decided = Some(at("decision")).filter(|word| !word.is_empty()).unwrap_or(words::UNDECIDED);
        format!("{}. {}: {decided}{cut}", i + 1, at("name"))
    };
    let listed = (0..draft.list("lines").len()).filter(|i| draft.said(&format!("/lines/{i}/kind")) != "passage");
    part(words::LINES, listed.map(line).collect());
    part(words::FOUND, now.circuit.findings.iter().map(|finding| finding.why.clone()).collect());
    part(words::TAKE_OFF, now.order.off.iter().map(|step| step.what.clone()).collect());
    part(words::PUT_ON, now.order.on.iter().map(|step| step.what.clone()).collect());
    if let Some(shopping) = report.and_then(|report| report.shopping.as_ref()) {
        text += &format!("{}\n{}", words::SHOPPING, job::shopping_text(shopping));
    }
    text
}

/// Whether there is a list of lines to print.
pub(super) fn has_lines(draft: &Draft) -> bool {
    draft.job.get("lines").and_then(Value::as_array).is_some_and(|lines| !lines.is_empty())
}
