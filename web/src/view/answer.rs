//! The answer on the first screen: worst verdict in words, the figure to cut, the marked piece, the lengths that work.

use super::strip::Strip;
use super::{figure, length, mark};
use crate::words;
use job::{CandidateReport, RunReport};
use leptos::prelude::*;
use quantity::text::LengthUnit;

fn window(window: Option<[f64; 2]>, unit: LengthUnit) -> String {
    window.map_or_else(
        || "none".to_owned(),
        |[lo, hi]| format!("{} to {}", figure(lo.ceil(), unit), figure(hi.floor(), unit)),
    )
}

/// The answer for the best hose of a run.
#[component]
pub(crate) fn Answer(run: RunReport, best: CandidateReport, unit: LengthUnit) -> impl IntoView {
    let other = match unit {
        LengthUnit::Millimetre => LengthUnit::Inch,
        LengthUnit::Inch => LengthUnit::Millimetre,
    };
    // A pass with things unchecked beside it is not shown as a plain pass.
    let verdict = if best.verdict == "pass" { "not checked" } else { best.verdict.as_str() };
    let stop = verdict == "fail";
    let what = if best.nearest { "comes nearest" } else { words::CUT_LENGTH };
    let ways = match best.ways {
        0 | 1 => String::new(),
        n => format!("It can lie in {n} ways at this length; the worst is shown. "),
    };
    view! {
        <section class="answer" aria-live="polite">
            <p class="vd" class:stop=stop>{mark(verdict)} <span>{best.headline.clone()}</span></p>
            <p class="sr">
                {if best.nearest {
                    format!("No cut length: {} comes nearest.", length(best.cut_mm, unit))
                } else {
                    format!("Cut length: {}, {}", length(best.cut_mm, unit), length(best.cut_mm, other))
                }}
            </p>
            <div class="big" aria-hidden="true">
                <strong>{figure(best.cut_mm, unit)}</strong>
                <em>{words::unit(unit)}</em>
                <div>{what}<br/><b>{length(best.cut_mm, other)}</b></div>
            </div>
            <Strip best=best.clone() unit />
            <div class="pair">
                <div><b>{window(best.cut_window_mm, unit)}</b>"lengths that work, cut"</div>
                <div><b>{window(best.calm_window_mm, unit)}</b>"of these, nothing to mind"</div>
            </div>
            <p class="note">{ways}{format!("{}, {} bore, {} outside.", best.hose.kind, length(best.hose.bore_mm, unit), length(best.hose.outside_mm, unit))}</p>
            {(!run.assumed.is_empty()).then(|| view! { <p class="note">{run.assumed.join("; ")}"."</p> })}
            <a class="bt m" href="#measurements">{words::CHANGE}</a>
        </section>
    }
}
