//! The sheet: the report as it is seen.

mod along;
mod answer;
mod cut_bar;
mod drawing;
mod findings;
mod held;
mod hoses;
mod marking;
mod place;
mod pour;
mod print;
pub(crate) mod projection;
mod readback;
mod remedies;
mod scene;
mod shorter;
mod slanted;
mod strip;
mod turn;
mod wanted;
mod ways;

pub(crate) use along::along_the_hose;
pub(crate) use answer::{Shown, answer};
pub(crate) use drawing::drawings;
pub(crate) use findings::findings;
pub(crate) use held::bands;
pub(crate) use hoses::hoses;
pub(crate) use marking::marking;
pub(crate) use pour::{pour, rubber};
pub(crate) use print::{block, both, printed_sheet, sheet as run_sheet, table};
pub(crate) use readback::read_back;
pub(crate) use remedies::remedies;
pub(crate) use scene::Gaze;
pub(crate) use shorter::shorter_or_longer;
pub(crate) use slanted::{Laid, slanted};
pub(crate) use turn::turn_it;
pub(crate) use wanted::wanted;
pub(crate) use ways::ways;

use crate::el::{El, button, el, p, path};
use crate::solver::worker::{Solver, Solving};
use crate::words;
use job::HoseReport;
use job::input::RunInput;
use leptos::prelude::WithValue;
use quantity::Length;
use quantity::text::{LengthUnit, print_length};

/// The run as it stands in a job's text, for what is drawn and said of it; what is near has its name in any case.
pub(crate) fn run_of(text: &str) -> Option<RunInput> {
    let mut run = share::read(text).ok()?.input.runs.into_iter().next()?;
    let names = run.names_near();
    for (thing, name) in run.neighbours.iter_mut().zip(names) {
        thing.name = Some(name);
    }
    Some(run)
}

/// Says that it is being worked out; once that takes a while it can be stopped.
pub(crate) fn at_work(says: String, solver: Solving) -> El {
    let halt = button("bt halt", words::HALT, move || solver.with_value(Solver::halt));
    el("section").class("wait").put(p("vd", says).attr("role", "status")).put(halt)
}

/// A figure with the minus sign of print for the one of a keyboard.
pub(crate) fn minus(figure: String) -> String {
    match figure.strip_prefix('-') {
        Some(rest) => format!("−{rest}"),
        None => figure,
    }
}

/// A length in the reader's unit, with its unit.
pub(crate) fn length(mm: f64, unit: LengthUnit) -> String {
    minus(print_length(Length::mm(mm), unit))
}

/// A length in the reader's unit, without it; whole millimetres.
pub(crate) fn figure(mm: f64, unit: LengthUnit) -> String {
    let text = match unit {
        LengthUnit::Millimetre => length(mm.round(), unit),
        LengthUnit::Inch => length(mm, unit),
    };
    text.trim_end_matches(" mm").trim_end_matches(" in").to_owned()
}

/// Which hose it is, as it is bought: kind, bore and class.
pub(crate) fn which(hose: &HoseReport, unit: LengthUnit) -> String {
    format!("{}, {} bore{}", hose.kind, length(hose.bore_mm, unit), class(hose))
}

/// Kind and class of a hose.
pub(crate) fn kind(hose: &HoseReport) -> String {
    format!("{}{}", hose.kind, class(hose))
}

fn class(hose: &HoseReport) -> String {
    hose.class.as_ref().map(|class| format!(", class {class}")).unwrap_or_default()
}

/// The mark of a verdict: a shape and a sign of its own for each, so that no colour is needed.
pub(crate) fn mark(verdict: &str) -> El {
    // Outline, whether it is filled, and the sign in it.
    let (outline, filled, sign) = match verdict {
        "pass" => ("M12 2a10 10 0 1 0 .01 0z", false, "M7 12.5l3.5 3.5L17 8.5"),
        "warn" => ("M12 2.5L22.5 21.5h-21z", false, "M12 9v6.5M12 18.2v.6"),
        "fail" => ("M8 1.5h8L22.5 8v8L16 22.5H8L1.5 16V8z", true, "M8 8l8 8M16 8l-8 8"),
        _ => ("M12 2a10 10 0 1 0 .01 0z", false, "M9 9.5a3 3 0 1 1 4 2.8c-.7.3-1 .8-1 1.7M12 17.2v.6"),
    };
    let broken = if verdict == "not checked" { "4 2.5" } else { "none" };
    el("svg")
        .attrs([("class", "mk"), ("viewBox", "0 0 24 24"), ("width", "24"), ("height", "24"), ("aria-hidden", "true")])
        .put(path(if filled { "fi" } else { "ob" }, outline).attr("stroke-dasharray", broken))
        .put(path(if filled { "oi" } else { "o" }, sign))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_negative_figure_has_a_real_minus() {
        assert_eq!(length(-12.5, LengthUnit::Millimetre), "−12.5 mm");
        assert_eq!(figure(-25.4, LengthUnit::Inch), "−1");
        assert_eq!(length(-0.01, LengthUnit::Millimetre), "0", "nothing has no sign");
    }
}
