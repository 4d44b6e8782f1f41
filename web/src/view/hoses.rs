//! Other hoses: those that would do as well, and the sizes that will not go on, each with its reason.

use super::{figure, length, mark};
use crate::words;
use job::RunReport;
use leptos::prelude::*;
use quantity::text::LengthUnit;

/// The hoses behind the best.
#[component]
pub(crate) fn Hoses(run: RunReport, unit: LengthUnit) -> impl IntoView {
    let others = run.candidates.into_iter().skip(1).map(|other| {
        let window = other.cut_window_mm.map_or_else(
            || "none".to_owned(),
            |[lo, hi]| format!("{}–{}", figure(lo.ceil(), unit), figure(hi.floor(), unit)),
        );
        let verdict = if other.verdict == "pass" { "not checked".to_owned() } else { other.verdict };
        let name = format!(
            "{}, {} bore{}",
            other.hose.kind,
            length(other.hose.bore_mm, unit),
            other.hose.class.map(|c| format!(", class {c}")).unwrap_or_default()
        );
        view! {
            <li>
                {mark(&verdict)}
                <h3>{name} <span class="sr">{words::verdict(&verdict)}</span></h3>
                <div class="fg">{window}</div>
                <p>{other.why_behind}"."</p>
            </li>
        }
    });
    let others = others.collect_view();
    let sizes = run.rejected.into_iter().map(|size| {
        let allowed =
            size.finding.allowed.zip(size.finding.actual).map(|(allowed, actual)| match size.finding.unit.as_str() {
                "mm" => format!("{} where {} is allowed", length(actual, unit), length(allowed, unit)),
                other => format!("{actual:.1} {other} where {allowed:.1} {other} is allowed"),
            });
        view! { <li>{format!("{}: {}, {}", size.sold_as, size.finding.why, allowed.unwrap_or_default())}</li> }
    });
    let sizes = sizes.collect_view();
    view! {
        <section>
            <h2>{words::OTHERS}</h2>
            <ul class="ls">{others}</ul>
            <details class="how"><summary>"Sizes that do not go on"</summary><ul class="small">{sizes}</ul></details>
        </section>
    }
}
