//! What is not worked out: said beside the answer, never passed in silence.

use crate::{Check, Finding, Laid, Side};

pub(crate) fn find(laid: &Laid<'_>, out: &mut Vec<Finding>) {
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
