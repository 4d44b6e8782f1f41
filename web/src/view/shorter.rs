//! Shorter or longer: the length axis with the lengths that work, what goes wrong on either side, and buttons to try.

use super::{figure, length};
use crate::form::Draft;
use crate::words;
use job::{CandidateReport, FindingReport};
use leptos::prelude::*;
use quantity::text::LengthUnit;

/// The bar is drawn over this many pixels, with the window in the middle part of it.
const LEFT: f64 = 8.0;
const RIGHT: f64 = 320.0;

/// Where a length stands on the bar.
#[derive(Clone, Copy, Debug)]
struct Axis {
    from: f64,
    to: f64,
}

impl Axis {
    /// Round the window and the cut, with a fifth of room on either side.
    fn round(best: &CandidateReport) -> Self {
        let [lo, hi] = best.cut_window_mm.unwrap_or([best.cut_mm, best.cut_mm]);
        let (lo, hi) = (lo.min(best.cut_mm), hi.max(best.cut_mm));
        let room = f64::max(20.0, 0.2 * (hi - lo));
        Self { from: lo - room, to: hi + room }
    }

    fn at(self, mm: f64) -> f64 {
        LEFT + (RIGHT - LEFT) * (mm - self.from) / (self.to - self.from)
    }
}

fn goes_wrong(side: &str, finding: Option<FindingReport>) -> Option<String> {
    finding.map(|finding| {
        let about = if finding.about.is_empty() { String::new() } else { format!(" ({})", finding.about) };
        format!("{side}: {}{about}, {}.", words::check(&finding.check).to_lowercase(), finding.why)
    })
}

/// The length axis of the best hose, and buttons that try other cuts.
#[component]
pub(crate) fn ShorterOrLonger(best: CandidateReport, draft: RwSignal<Draft>, unit: LengthUnit) -> impl IntoView {
    let axis = Axis::round(&best);
    let cut = best.cut_mm;
    let steps: [f64; 4] = match unit {
        LengthUnit::Millimetre => [-10.0, -1.0, 1.0, 10.0],
        LengthUnit::Inch => [-12.7, -1.5875, 1.5875, 12.7],
    };
    let name = move |step: f64| format!("{} {}", if step < 0.0 { "−" } else { "+" }, length(step.abs(), unit));
    let window = best.cut_window_mm.map(|[lo, hi]| (axis.at(lo), axis.at(hi), lo, hi));
    let calm = best.calm_window_mm.map(|[lo, hi]| (axis.at(lo), axis.at(hi)));
    let says = match best.cut_window_mm {
        Some([lo, hi]) => format!(
            "Cut lengths from {} to {} work; this cut is {}.",
            length(lo, unit),
            length(hi, unit),
            length(cut, unit)
        ),
        None => "No cut length works.".to_owned(),
    };
    let trying = move || draft.with(|draft| draft.tried(0).is_some());
    view! {
        <section>
            <h2>{words::SHORTER}</h2>
            <svg class="pic bare" viewBox="0 0 328 84" role="img" aria-label=says>
                <defs>
                    <pattern id="not-here" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
                        <path d="M0 0V7" class="d"/>
                    </pattern>
                </defs>
                <rect x=LEFT y="24" width=RIGHT - LEFT height="26" class="fp"/>
                <rect x=LEFT y="24" width=RIGHT - LEFT height="26" fill="url(#not-here)"/>
                {window.map(|(x0, x1, lo, hi)| view! {
                    <rect x=x0 y="24" width=x1 - x0 height="26" class="fp"/>
                    <path d=format!("M{x0:.1} 20V54M{x1:.1} 20V54") class="o"/>
                    <text x=x0 y="68" class="mi b">{figure(lo.ceil(), unit)}</text>
                    <text x=x1 y="68" class="mi b">{figure(hi.floor(), unit)}</text>
                })}
                {calm.map(|(x0, x1)| view! { <path d=format!("M{x0:.1} 46H{x1:.1}") class="o"/> })}
                <path d=format!("M{LEFT} 24H{RIGHT}V50H{LEFT}Z") class="d"/>
                <path d=format!("M{0:.1} 18V56", axis.at(cut)) class="m"/>
                <text x=axis.at(cut).clamp(24.0, 304.0) y="13" class="mi b">{figure(cut, unit)}</text>
            </svg>
            <p class="note">
                "The open part works; the line in it marks where there is nothing to mind. "
                {goes_wrong("Shorter", best.shorter_fails)} " " {goes_wrong("Longer", best.longer_fails)}
            </p>
            <div class="row">
                {steps
                    .into_iter()
                    .map(|step| view! {
                        <button type="button" class="bt" on:click=move |_| draft.update(|draft| draft.try_cut(0, Some(cut + step)))>{name(step)}</button>
                    })
                    .collect_view()}
            </div>
            <Show when=trying>
                <button type="button" class="bt" on:click=move |_| draft.update(|draft| draft.try_cut(0, None))>"Back to the cut suggested"</button>
            </Show>
        </section>
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_axis_runs_from_left_to_right() {
        let axis = Axis { from: 400.0, to: 600.0 };
        assert!((axis.at(400.0) - LEFT).abs() < 1e-9 && (axis.at(600.0) - RIGHT).abs() < 1e-9, "{axis:?}");
    }
}
