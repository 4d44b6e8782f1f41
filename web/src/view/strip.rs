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
        <svg class="pic bare" viewBox="0 0 328 62" role="img" aria-label=says>
            <defs>
                <pattern id="dots" width="5" height="5" patternUnits="userSpaceOnUse"><circle cx="1.5" cy="1.5" r="1" class="fi"/></pattern>
            </defs>
            <rect x="8" y="6" width="312" height="28" class="fp"/>
            <rect x="8" y="6" width="58" height="28" fill="url(#dots)"/>
            <rect x="262" y="6" width="58" height="28" fill="url(#dots)"/>
            <path d="M74 20H152M178 20H254" class="c"/>
            <path d="M158 6H8V34H160M168 6H320V34H170" class="o"/>
            <path d="M156 2l6 36M166 2l6 36" class="d"/>
            <path d="M66 1V39M262 1V39" class="m"/>
            <path d="M8 44H66M8 40v8M66 40v8M262 44H320M262 40v8M320 40v8" class="d"/>
            <text x="8" y="60">{format!("A seat {seat_a}")}</text>
            <text x="164" y="54" class="mi b">{format!("({free} free)")}</text>
            <text x="320" y="60" class="e">{format!("B seat {seat_b}")}</text>
        </svg>
    }
}
