//! What was checked: mark, name, figure with its limit, one reason; the source one tap below.

use super::{length, mark};
use crate::words;
use job::FindingReport;
use leptos::prelude::*;
use quantity::text::LengthUnit;

/// A measured number in the reader's unit.
fn number(value: f64, unit: &str, reader: LengthUnit) -> String {
    match unit {
        "mm" => length(value, reader),
        "%" => format!("{value:.1} %"),
        _ => format!("{value:.2} {unit}"),
    }
}

fn limit(finding: &FindingReport, reader: LengthUnit) -> Option<String> {
    let allowed = finding.allowed?;
    let least = matches!(finding.check.as_str(), "reach" | "kink" | "spigot mouth" | "standoff" | "seat" | "assembly");
    Some(format!("{} {}", if least { "needs" } else { "at most" }, number(allowed, &finding.unit, reader)))
}

fn order(verdict: &str) -> u8 {
    match verdict {
        "fail" => 0,
        "warn" => 1,
        "not checked" => 2,
        _ => 3,
    }
}

/// All findings, what fails first.
#[component]
pub(crate) fn Findings(findings: Vec<FindingReport>, seat_a_mm: f64, unit: LengthUnit) -> impl IntoView {
    let mut findings = findings;
    findings.sort_by_key(|finding| order(&finding.verdict));
    view! {
        <section>
            <h2>{words::CHECKED}</h2>
            <ul class="ls">
                {findings.into_iter().map(|finding| view! { <Row finding seat_a_mm unit /> }).collect_view()}
            </ul>
            <p class="note">{words::UNKNOWN}</p>
        </section>
    }
}

#[component]
fn Row(finding: FindingReport, seat_a_mm: f64, unit: LengthUnit) -> impl IntoView {
    let name = match finding.about.as_str() {
        "" => words::check(&finding.check).to_owned(),
        about => format!("{}: {about}", words::check(&finding.check)),
    };
    let reason = sentence(&finding.why);
    let at = finding.at_mm.filter(|_| matches!(finding.check.as_str(), "kink" | "standoff" | "sag" | "air trap"));
    let place = at.map(|at| format!(" At {} from the knife end at A.", length(at + seat_a_mm, unit)));
    let rule = finding
        .six_times_bore_mm
        .map(|six| format!(" A supplier's rule, six times the bore, would ask for {}.", length(six, unit)));
    let source = (!finding.source.is_empty()).then(|| format!("{} ({}).", finding.source, finding.basis));
    view! {
        <li class:no=finding.verdict == "fail">
            {mark(&finding.verdict)}
            <h3>{name} <span class="sr">{words::verdict(&finding.verdict)}</span></h3>
            <div class="fg">
                {finding.actual.map(|actual| number(actual, &finding.unit, unit))}
                <small>" " {limit(&finding, unit)}</small>
            </div>
            <p>{reason}{place}</p>
            {source.map(|source| view! { <details class="how"><summary>"How do you know?"</summary><p>{source}{rule}</p></details> })}
        </li>
    }
}

/// With a capital and a full stop.
fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    let first = letters.next().map(|c| c.to_uppercase().collect::<String>()).unwrap_or_default();
    format!("{first}{}.", letters.as_str())
}
