//! Shorter or longer: what goes wrong on either side of the lengths that work, greater steps, and lengths one has.

use super::length;
use crate::form::Draft;
use crate::words;
use job::{CandidateReport, FindingReport};
use leptos::prelude::*;
use quantity::text::LengthUnit;

/// What goes wrong beyond the lengths that work, as a plain sentence.
fn goes_wrong(side: &str, finding: &FindingReport) -> String {
    let why = &finding.why;
    // The reasons of the checks are sentences about "it", most of them without the word.
    let subject = match why.split(' ').next() {
        Some("it" | "no") => "",
        Some("too" | "nearer" | "longer") => "it is ",
        _ => "it ",
    };
    let about = if finding.about.is_empty() { String::new() } else { format!(": {}", finding.about) };
    format!("{side}, {subject}{why}{about}. ")
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
            <p class="note">
                {best.shorter_fails.as_ref().map(|finding| goes_wrong("Shorter", finding))}
                {best.longer_fails.as_ref().map(|finding| goes_wrong("Longer", finding))}
            </p>
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

#[cfg(test)]
mod tests {
    use super::*;

    fn finding(check: &str, why: &str, about: &str) -> FindingReport {
        FindingReport {
            check: check.to_owned(),
            verdict: "fail".to_owned(),
            about: about.to_owned(),
            actual: None,
            allowed: None,
            unit: "mm".to_owned(),
            at_mm: None,
            why: why.to_owned(),
            source: String::new(),
            basis: String::new(),
            kink_radius_centre_mm: None,
            flattening_percent: None,
            six_times_bore_mm: None,
            must_move_mm: None,
        }
    }

    #[test]
    fn what_goes_wrong_is_a_plain_sentence() {
        for (check, why, about, said) in [
            ("kink", "it kinks at its tightest bend", "", "Shorter, it kinks at its tightest bend. "),
            (
                "reach",
                "too short to reach from spigot to spigot",
                "",
                "Shorter, it is too short to reach from spigot to spigot. ",
            ),
            (
                "reach",
                "would bend so tightly that no shape can be told",
                "",
                "Shorter, it would bend so tightly that no shape can be told. ",
            ),
            (
                "reach",
                "no shape was found in which it could rest",
                "",
                "Shorter, no shape was found in which it could rest. ",
            ),
            (
                "standoff",
                "too near something that moves",
                "throttle rod",
                "Shorter, it is too near something that moves: throttle rod. ",
            ),
            (
                "piece",
                "longer than your longest sound piece",
                "",
                "Shorter, it is longer than your longest sound piece. ",
            ),
            ("assembly", "cannot be put on: a part must move", "", "Shorter, it cannot be put on: a part must move. "),
        ] {
            assert_eq!(goes_wrong("Shorter", &finding(check, why, about)), said);
        }
    }
}
