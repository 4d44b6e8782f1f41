//! Shorter or longer: what goes wrong on either side of the lengths that work, greater steps, and lengths one has.

use super::length;
use crate::form::Draft;
use crate::words;
use job::{CandidateReport, FindingReport};
use leptos::prelude::*;
use quantity::text::LengthUnit;

fn goes_wrong(side: &str, finding: Option<FindingReport>) -> Option<String> {
    finding.map(|finding| {
        let about = if finding.about.is_empty() { String::new() } else { format!(" ({})", finding.about) };
        format!("{side}: {}{about}, {}.", words::check(&finding.check).to_lowercase(), finding.why)
    })
}

/// What goes wrong on either side, and buttons that try other cuts.
#[component]
pub(crate) fn ShorterOrLonger(best: CandidateReport, draft: RwSignal<Draft>, unit: LengthUnit) -> impl IntoView {
    let cut = best.cut_mm;
    let steps: [f64; 4] = match unit {
        LengthUnit::Millimetre => [-10.0, -5.0, 5.0, 10.0],
        LengthUnit::Inch => [-12.7, -6.35, 6.35, 12.7],
    };
    let name = move |step: f64| format!("{} {}", if step < 0.0 { "−" } else { "+" }, length(step.abs(), unit));
    let try_cut = move |mm: f64| draft.update(|draft| draft.try_cut(0, Some(mm)));
    let trying = move || draft.with(|draft| draft.number(0, "try_cut_mm").is_some());
    let old = draft.with_untracked(|draft| draft.number(0, "replaces/length_mm")).map(|old| {
        view! {
            <button type="button" class="bt" on:click=move |_| try_cut(old)>{format!("Try the old hose's {}", length(old, unit))}</button>
        }
        .into_any()
    });
    view! {
        <section>
            <h2>{words::SHORTER}</h2>
            <p class="note">{goes_wrong("Shorter", best.shorter_fails)} " " {goes_wrong("Longer", best.longer_fails)}</p>
            <div class="row">
                {steps
                    .into_iter()
                    .map(|step| view! {
                        <button type="button" class="bt" on:click=move |_| try_cut(cut + step)>{name(step)}</button>
                    })
                    .collect_view()}
            </div>
            {old}
            <a class="bt" href="#piece">{words::HAVE_PIECE}</a>
            <Show when=trying>
                <button type="button" class="bt" on:click=move |_| draft.update(|draft| draft.try_cut(0, None))>"Back to the cut suggested"</button>
            </Show>
        </section>
    }
}
