//! The piece to cut, with the seats dotted and a mark where each mouth comes; broken in the middle, figures true.

use super::figure;
use job::CandidateReport;
use leptos::prelude::*;
use quantity::text::LengthUnit;

/// The marked piece.
#[component]
pub(crate) fn Strip(best: CandidateReport, unit: LengthUnit) -> impl IntoView {
    let (a, b) = (best.marks.mouth_a_mm, best.marks.mouth_b_mm);
    let (seat_a, free, seat_b) = (figure(a, unit), figure(b - a, unit), figure(best.cut_mm - b, unit));
    let says =
        format!("The piece: a seat of {seat_a} at end A, {free} between the marks, a seat of {seat_b} at end B.");
    view! {
        <svg class="pic bare" viewBox="0 0 328 92" role="img" aria-label=says>
            <defs>
                <pattern id="dots" width="5" height="5" patternUnits="userSpaceOnUse"><circle cx="1.5" cy="1.5" r="1" class="fi"/></pattern>
            </defs>
            <rect x="8" y="10" width="312" height="34" class="fp"/>
            <rect x="8" y="10" width="58" height="34" fill="url(#dots)"/>
            <rect x="262" y="10" width="58" height="34" fill="url(#dots)"/>
            <path d="M74 27H152M178 27H254" class="c"/>
            <path d="M158 10H8V44H160M168 10H320V44H170" class="o"/>
            <path d="M156 5l6 44M166 5l6 44" class="d"/>
            <path d="M66 4V50M262 4V50" class="m"/>
            <path d="M8 56H66M8 52v8M66 52v8M262 56H320M262 52v8M320 52v8M66 56H132M196 56H262" class="d"/>
            <text x="37" y="73" class="mi b">{seat_a}</text>
            <text x="164" y="61" class="mi b">{format!("({free} free)")}</text>
            <text x="291" y="73" class="mi b">{seat_b}</text>
            <text x="8" y="89" class="q">"A seat"</text>
            <text x="320" y="89" class="q e">"seat B"</text>
        </svg>
    }
}
