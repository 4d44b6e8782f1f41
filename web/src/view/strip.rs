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
            <rect x="8" y="6" width="312" height="28" class="fp"/>
            // Rows of dots, not a pattern: a pattern's name would have to be another for every strip in the page.
            <path d="M12 10H64M12 15H64M12 20H64M12 25H64M12 30H64M266 10H318M266 15H318M266 20H318M266 25H318M266 30H318" class="dots"/>
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
