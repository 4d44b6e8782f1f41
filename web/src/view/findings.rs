//! What was checked: mark, name, figure with its limit, one reason; the source one tap below.

use super::{length, mark, minus};
use crate::words;
use job::FindingReport;
use leptos::prelude::*;
use quantity::text::LengthUnit;

/// A measured number in the reader's unit.
fn number(value: f64, unit: &str, reader: LengthUnit) -> String {
    match unit {
        "mm" => length(value, reader),
        "%" => minus(format!("{value:.1} %")),
        _ => minus(format!("{value:.2} {unit}")),
    }
}

/// The figure that is needed, or allowed.
pub(super) fn limit(finding: &FindingReport, reader: LengthUnit) -> Option<String> {
    let allowed = finding.allowed?;
    let least = matches!(finding.check.as_str(), "reach" | "kink" | "spigot mouth" | "standoff" | "seat" | "assembly");
    Some(format!("{} {}", if least { "needs" } else { "at most" }, number(allowed, &finding.unit, reader)))
}

/// What was checked, what fails first; and apart from it what was not.
pub(super) fn sorted(findings: &[FindingReport]) -> (Vec<&FindingReport>, Vec<&FindingReport>) {
    let (not, mut done): (Vec<_>, Vec<_>) = findings.iter().partition(|finding| finding.verdict == "not checked");
    done.sort_by_key(|finding| match finding.verdict.as_str() {
        "fail" => 0,
        "warn" => 1,
        _ => 2,
    });
    (done, not)
}

/// What was not checked, by name.
pub(super) fn not_checked(findings: &[&FindingReport]) -> String {
    let names: Vec<_> = findings.iter().map(|finding| name(finding)).collect();
    format!("Not checked: {}", names.join("; "))
}

/// All findings: what fails and what wants care, what was not checked, what passes.
#[component]
pub(crate) fn Findings(findings: Vec<FindingReport>, seat_a_mm: f64, unit: LengthUnit) -> impl IntoView {
    let (done, not) = sorted(&findings);
    let (passes, minds): (Vec<_>, Vec<_>) = done.into_iter().partition(|finding| finding.verdict == "pass");
    let rows = |findings: Vec<&FindingReport>| -> Vec<AnyView> {
        findings.into_iter().map(|finding| row(finding, seat_a_mm, unit)).collect()
    };
    view! {
        <section>
            <h2>{words::CHECKED}</h2>
            <ul class="ls">{rows(minds)} {(!not.is_empty()).then(|| unchecked(&not))} {rows(passes)}</ul>
            <p class="note">{words::UNKNOWN}</p>
        </section>
    }
}

/// One row for all that was not checked; its reasons one tap below.
fn unchecked(findings: &[&FindingReport]) -> AnyView {
    let reasons = findings.iter().map(|finding| {
        let why = finding.why.strip_prefix("not checked: ").unwrap_or(&finding.why);
        view! { <p>{format!("{}: {why}.", name(finding))}</p> }.into_any()
    });
    view! {
        <li>
            {mark("not checked")}
            <h3>{not_checked(findings)}</h3>
            <details class="how"><summary>"Why not?"</summary>{reasons.collect_view()}</details>
        </li>
    }
    .into_any()
}

fn row(finding: &FindingReport, seat_a_mm: f64, unit: LengthUnit) -> AnyView {
    let rule = finding
        .six_times_bore_mm
        .map(|six| format!(" A supplier's rule, six times the bore, would ask for {}.", length(six, unit)));
    let source = (!finding.source.is_empty()).then(|| format!("{} ({}).", finding.source, finding.basis));
    view! {
        <li class:no=finding.verdict == "fail">
            {mark(&finding.verdict)}
            <h3>{name(finding)} <span class="sr">{words::verdict(&finding.verdict)}</span></h3>
            <div class="fg">
                {measured(finding, unit)}
                <small>" " {limit(finding, unit)}</small>
            </div>
            <p>{reason(finding, seat_a_mm, unit)}</p>
            {source.map(|source| view! { <details class="how"><summary>"How do you know?"</summary><p>{source}{rule}</p></details> })}
        </li>
    }
    .into_any()
}

/// What was checked, and on what.
pub(super) fn name(finding: &FindingReport) -> String {
    let check = match (finding.check.as_str(), finding.unit.as_str()) {
        ("load", "N·m") => words::BENDING_LOAD,
        (check, _) => words::check(check),
    };
    if finding.about.is_empty() { check.to_owned() } else { format!("{check}: {}", finding.about) }
}

/// The figure found.
pub(super) fn measured(finding: &FindingReport, unit: LengthUnit) -> Option<String> {
    finding.actual.map(|actual| number(actual, &finding.unit, unit))
}

/// Why, in one sentence, and where along the hose if there is a place to look at.
pub(super) fn reason(finding: &FindingReport, seat_a_mm: f64, unit: LengthUnit) -> String {
    let at = finding.at_mm.filter(|_| matches!(finding.check.as_str(), "kink" | "standoff" | "sag" | "air trap"));
    let place = at.map(|at| format!(" At {} from end A.", length(at + seat_a_mm, unit)));
    sentence(&finding.why) + &place.unwrap_or_default()
}

/// With a capital and a full stop.
fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    let first = letters.next().map(|c| c.to_uppercase().collect::<String>()).unwrap_or_default();
    format!("{first}{}.", letters.as_str())
}
