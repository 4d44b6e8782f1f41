//! The piece to cut, with the seats dotted and a mark where each mouth comes; broken in the middle, figures true.

use super::figure;
use crate::el::{El, el, label, path, rect};
use job::CandidateReport;
use quantity::text::LengthUnit;

/// The marked piece.
pub(super) fn strip(best: &CandidateReport, unit: LengthUnit) -> El {
    let (a, b) = (best.marks.mouth_a_mm, best.marks.mouth_b_mm);
    let (seat_a, free, seat_b) = (figure(a, unit), figure(b - a, unit), figure(best.cut_mm - b, unit));
    let says =
        format!("The piece: a seat of {seat_a} at end A, {free} between the marks, a seat of {seat_b} at end B.");
    // Rows of dots, not a pattern: a pattern's name would have to be another for every strip in the page.
    let dots = "M12 10H64M12 15H64M12 20H64M12 25H64M12 30H64M266 10H318M266 15H318M266 20H318M266 25H318M266 30H318";
    el("svg")
        .attrs([("class", "pic bare"), ("viewBox", "0 0 328 62"), ("role", "img")])
        .attr("aria-label", says)
        .put(rect(8.0, 6.0, 312.0, 28.0).class("fp"))
        .put(path("dots", dots))
        .put(path("c", "M74 20H152M178 20H254"))
        .put(path("o", "M158 6H8V34H160M168 6H320V34H170"))
        .put(path("d", "M156 2l6 36M166 2l6 36"))
        .put(path("m", "M66 1V39M262 1V39"))
        .put(path("d", "M8 44H66M8 40v8M66 40v8M262 44H320M262 40v8M320 40v8"))
        .put(label("", (8.0, 60.0), format!("A seat {seat_a}")))
        .put(label("mi b", (164.0, 54.0), format!("({free} free)")))
        .put(label("e", (320.0, 60.0), format!("B seat {seat_b}")))
}
