//! What is not worked out: said beside the answer, never passed in silence.

use crate::{Check, Finding, Kind, Laid, Side};

pub(crate) fn find(laid: &Laid<'_>, out: &mut Vec<Finding>) {
    let hot = laid.neighbours.iter().filter(|neighbour| matches!(neighbour.kind, Kind::Hot(_))).count();
    let heat = if hot > 0 {
        "the skin temperature is not worked out: only the distance is judged"
    } else {
        "nothing hot was named near it"
    };
    let mut finding = Finding::not_checked(Check::Heat, heat);
    if hot > 0 {
        finding.extra.push(("hot_things", hot as f64));
    }
    out.push(finding);
    out.push(Finding::not_checked(Check::Pressure, "compare the rating printed on the hose with the cap"));
    if laid.side == Some(Side::PumpInlet) {
        out.push(Finding::not_checked(Check::Collapse, "whether the pump can suck it flat is not worked out"));
    }
    out.push(Finding::not_checked(
        Check::Hold,
        "what pushes the hose off is not worked out: clamp both ends behind the bead",
    ));
    out.push(Finding::not_checked(Check::Flow, "the loss of the run is not worked out"));
}
