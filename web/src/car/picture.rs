//! The circuit as a picture: parts as boxes, lines between them with the numbers of the list.

use crate::el::{El, el, label, path, rect};
use crate::form::Draft;
use job::{BoxPlace, CircuitReport, Layout, LinePlace};

/// The letters of a box are so high.
const ROW: f64 = 14.0;

/// The picture, with the sentence it says for who does not see it.
pub(super) fn picture(layout: &Layout, circuit: &CircuitReport, draft: &Draft) -> El {
    // Lines of which an end is not known yet stand in the list, not here.
    let mut rest = 0..draft.list("lines").len();
    let mut place = |line: &LinePlace| rest.find(|i| draft.said(&format!("/lines/{i}/name")) == line.name);
    let placed: Vec<_> = layout.lines.iter().filter_map(|line| Some((place(line)?, line))).collect();
    let lines = placed.iter().map(|(i, line)| drawn(*i, line, draft));
    let marks = placed.iter().map(|(i, line)| number(*i, line));
    el("svg")
        .class("pic circuit")
        .attr("viewBox", format!("0 0 {} {}", layout.width, layout.height))
        .attr("role", "img")
        .attr("aria-label", says(circuit))
        .put_all(lines)
        .put_all(layout.boxes.iter().map(part))
        .put_all(marks)
}

/// A sentence that says what the picture says.
fn says(circuit: &CircuitReport) -> String {
    let stays = |all: &[job::FlowReport]| all.iter().filter(|one| one.stays).count();
    let still: Vec<&str> = circuit
        .parts
        .iter()
        .filter(|part| part.stays && part.flows.is_empty() && part.unsure.is_empty())
        .map(|part| part.name.as_str())
        .collect();
    let still = if still.is_empty() { String::new() } else { format!(" Nothing flows through {}.", still.join(", ")) };
    format!("{} parts and {} lines stay.{still}", stays(&circuit.parts), stays(&circuit.lines))
}

/// A line: thick if a new hose takes its place, thin if it stays, dotted while nothing is decided, broken if it is left out.
fn drawn(i: usize, line: &LinePlace, draft: &Draft) -> El {
    let corners: Vec<String> = line.points.iter().map(|[x, y]| format!("{x} {y}")).collect();
    let said = |name: &str| draft.said(&format!("/lines/{i}/{name}"));
    let class = match said("decision") {
        _ if line.goes => "d dash",
        "universal hose" | "moulded hose" => "m",
        "" if said("kind") != "passage" => "o dots",
        _ => "o",
    };
    path(class, format!("M{}", corners.join("L")))
}

fn number(i: usize, line: &LinePlace) -> El {
    let [x, y] = line.mark;
    el("g")
        .put(el("circle").attr("cx", x).attr("cy", y).attr("r", 8.0).class("fp"))
        .put(el("circle").attr("cx", x).attr("cy", y).attr("r", 8.0).class("d"))
        .put(label("b mi tiny", (x, y + 3.5), (i + 1).to_string()))
}

fn part(part: &BoxPlace) -> El {
    let BoxPlace { x, y, width, height, .. } = *part;
    let edge = if part.goes { "d dash" } else { "o" };
    let first = y + 0.5 * (height - ROW * part.rows.len() as f64) + 10.5;
    let rows = part.rows.iter().enumerate();
    el("g")
        .put(rect(x, y, width, height).class("fp"))
        .put(rect(x, y, width, height).class(edge))
        .put_all(rows.map(|(k, row)| label("mi row", (x + 0.5 * width, first + ROW * k as f64), row.clone())))
}
