//! Other hoses: those that would do as well, and the sizes that will not go on, each with its reason.

use super::{figure, length, mark, which};
use crate::el::{El, details, div, el, section, unseen};
use crate::words;
use job::RunReport;
use quantity::text::LengthUnit;

/// The hoses behind the best.
pub(crate) fn hoses(run: &RunReport, unit: LengthUnit) -> El {
    let name = if run.candidates.len() > 1 { words::OTHERS } else { words::SIZES };
    let others = run.candidates.iter().skip(1).map(|other| {
        let window = other.cut_window_mm.map_or_else(
            || "none".to_owned(),
            |[lo, hi]| format!("{}–{}", figure(lo.ceil(), unit), figure(hi.floor(), unit)),
        );
        let verdict = if other.verdict == "pass" { "not checked" } else { other.verdict.as_str() };
        el("li")
            .put(mark(verdict))
            .put(el("h3").put(which(&other.hose, unit)).put(" ").put(unseen(words::verdict(verdict))))
            .put(div("fg").put(window))
            .put(el("p").put(other.why_behind.clone()).put("."))
    });
    let sizes = run.rejected.iter().map(|size| {
        let allowed =
            size.finding.allowed.zip(size.finding.actual).map(|(allowed, actual)| match size.finding.unit.as_str() {
                "mm" => format!("{} where {} is allowed", length(actual, unit), length(allowed, unit)),
                other => format!("{actual:.1} {other} where {allowed:.1} {other} is allowed"),
            });
        let about = Some(&size.finding.about).filter(|about| !about.is_empty());
        let of: Vec<_> = [&size.sold_as].into_iter().chain(about).map(String::as_str).collect();
        el("li").put(format!("{}: {}, {}", of.join(", "), size.finding.why, allowed.unwrap_or_default()))
    });
    section(name)
        .put(el("ul").class("ls").put_all(others))
        .put(details("Sizes that do not go on").put(el("ul").class("small").put_all(sizes)))
}
