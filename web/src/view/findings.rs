//! What was checked: mark, name, figure with its limit, one reason; the source one tap below.

use super::{length, mark, minus};
use crate::el::{El, Node, details, div, el, many, note, section, small, unseen};
use crate::words;
use job::FindingReport;
use quantity::text::LengthUnit;

/// A measured number in the reader's unit.
fn number(value: f64, unit: &str, reader: LengthUnit) -> String {
    match unit {
        "mm" => length(value, reader),
        "%" => minus(format!("{value:.1} %")),
        "°C" | "kPa" | "N" => minus(format!("{value:.0} {unit}")),
        _ => minus(format!("{value:.2} {unit}")),
    }
}

/// The figure that is needed, or allowed.
pub(super) fn limit(finding: &FindingReport, reader: LengthUnit) -> Option<String> {
    let allowed = finding.allowed?;
    let least = match finding.check.as_str() {
        "reach" | "kink" | "spigot mouth" | "standoff" | "seat" | "assembly" | "pressure" | "flow" | "tape error" => {
            true
        }
        "rock" => finding.unit != "°C",
        _ => false,
    };
    Some(format!("{} {}", if least { "needs" } else { "at most" }, number(allowed, &finding.unit, reader)))
}

/// What was checked, what fails first; and apart from it what was not.
pub(super) fn sorted(findings: &[FindingReport]) -> (Vec<&FindingReport>, Vec<&FindingReport>) {
    let of = |verdict: &'static str| findings.iter().filter(move |finding| finding.verdict == verdict);
    let done = of("fail").chain(of("warn")).chain(of("pass")).collect();
    (done, of("not checked").collect())
}

/// What was not checked, by name.
pub(super) fn not_checked(findings: &[&FindingReport]) -> String {
    let names: Vec<_> = findings.iter().map(|finding| name(finding)).collect();
    format!("Not checked: {}", names.join("; "))
}

/// All findings: what fails and what wants care, what was not checked, what passes.
pub(crate) fn findings(findings: &[FindingReport], seat_a_mm: f64, unit: LengthUnit) -> El {
    let (done, not) = sorted(findings);
    let (passes, minds): (Vec<_>, Vec<_>) = done.into_iter().partition(|finding| finding.verdict == "pass");
    let rows = |findings: Vec<&FindingReport>| -> Vec<El> {
        findings.into_iter().map(|finding| row(finding, seat_a_mm, unit)).collect()
    };
    let rows = many![rows(minds), " ", (!not.is_empty()).then(|| unchecked(&not)), " ", rows(passes)];
    section(words::CHECKED).put(el("ul").class("ls").put(rows)).put(note(words::UNKNOWN))
}

/// One row for all that was not checked; its reasons one tap below.
fn unchecked(findings: &[&FindingReport]) -> El {
    let reasons = findings.iter().map(|finding| {
        let why = finding.why.strip_prefix("not checked: ").unwrap_or(&finding.why);
        el("p").put(format!("{}: {why}.", name(finding)))
    });
    el("li").put(mark("not checked")).put(el("h3").put(not_checked(findings))).put(details("Why not?").put_all(reasons))
}

fn row(finding: &FindingReport, seat_a_mm: f64, unit: LengthUnit) -> El {
    let rule = finding
        .six_times_bore_mm
        .map(|six| format!(" A supplier's rule, six times the bore, would ask for {}.", length(six, unit)));
    let known = {
        let finding = finding.clone();
        move || {
            let source = (!finding.source.is_empty()).then(|| format!("{} ({}).", finding.source, finding.basis));
            many![how(&finding), el("p").put(source).put(rule.clone())]
        }
    };
    el("li")
        .attr("class", (finding.verdict == "fail").then_some("no"))
        .put(mark(&finding.verdict))
        .put(el("h3").put(name(finding)).put(" ").put(unseen(words::verdict(&finding.verdict))))
        .put(div("fg").put(measured(finding, unit)).put(small(" ").put(limit(finding, unit))))
        .put(el("p").put(reason(finding, seat_a_mm, unit)))
        .put(details(words::HOW_KNOWN).fold(known))
}

/// The formula in words, what went into it, what else came of it, and what that is worth.
fn how(finding: &FindingReport) -> Node {
    let Some(how) = job::how(&finding.check) else { return many![] };
    let also = finding.extra.0.iter().filter_map(|(name, value)| {
        let (what, unit) = words::extra(name)?;
        Some(format!(
            "{what} {}",
            minus(match unit {
                "°C" | "Pa" | "N" | "mm" | "kPa" => format!("{value:.0} {unit}"),
                "" if *value >= 100.0 => format!("{value:.0}"),
                _ => format!("{value:.3}"),
            })
        ))
    });
    let also: Vec<_> = also.collect();
    let also = (!also.is_empty()).then(|| el("p").put(format!("Also worked out: {}.", also.join("; "))));
    many![
        el("p").put(sentence(how.formula)),
        el("p").put(format!("From: {}.", how.from)),
        also,
        el("p").put(format!("Worth: {}.", how.worth.name())),
    ]
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
    sentence(&finding.why) + &place.unwrap_or_default() + &pose(finding, unit)
}

/// Where the engine stood when this was found.
fn pose(finding: &FindingReport, unit: LengthUnit) -> String {
    let Some(shift) = finding.rock_shift_mm else { return String::new() };
    let ways = [("forward", "back"), ("to the left", "to the right"), ("up", "down")];
    let moved = shift.iter().zip(ways).filter(|(by, _)| **by != 0.0);
    let moved =
        moved.map(|(by, (more, less))| format!("{} {}", length(by.abs(), unit), if *by > 0.0 { more } else { less }));
    let turned = finding.rock_turn_deg.map(|turn| format!("turned {:.1}°", turn.abs()));
    format!(" With the engine {}.", moved.chain(turned).collect::<Vec<_>>().join(", "))
}

/// With a capital and a full stop.
pub(super) fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    let first = letters.next().map(|c| c.to_ascii_uppercase().to_string()).unwrap_or_default();
    format!("{first}{}.", letters.as_str())
}
