//! Mark it and cut it: in order, with what to slide on first; the clamps; how much to buy.

use super::length;
use crate::words;
use job::input::{BeadInput, RunInput, SpigotInput};
use job::{CandidateReport, ClampReport};
use leptos::prelude::*;
use quantity::text::LengthUnit;

/// How to mark, cut and clamp the piece.
#[component]
pub(crate) fn Marking(best: CandidateReport, run: Option<RunInput>, unit: LengthUnit) -> impl IntoView {
    let say = move |mm: f64| length(mm, unit);
    let steps = [
        format!("Trim one end square; that is end A. Mark {} from it.", say(best.cut_mm)),
        "Offer it up along the way it will lie. Does it reach, clear of everything? Then cut at the mark, square."
            .to_owned(),
        format!(
            "Mark {} from end A and {} from end B: there the spigots' mouths come.",
            say(best.marks.mouth_a_mm),
            say(best.cut_mm - best.marks.mouth_b_mm)
        ),
        "Slide both clamps on first. Wet the spigots with coolant or soapy water, never grease or oil.".to_owned(),
        format!(
            "Push each end on to its mark, let the hose turn as it likes, then close the clamps {}, screws towards your tool.",
            where_clamps_go(run.as_ref())
        ),
    ];
    let play = (best.marks.seat_play_mm >= 1.0).then(|| {
        format!(
            "The seats have {} of play together: a piece a little long or short can be pushed on more or less.",
            say(best.marks.seat_play_mm)
        )
    });
    let buy = to_buy(&best, &say);
    view! {
        <section id="marking">
            <h2>{words::MARK}</h2>
            <ol class="steps">{steps.into_iter().map(|step| view! { <li>{step}</li> }).collect_view()}</ol>
            <p class="note">{play} " " {buy}</p>
        </section>
        <section>
            <h2>{words::CLAMPS}</h2>
            <ul class="ls plain">
                {best.clamps.into_iter().map(|clamp| view! { <Clamp clamp unit /> }).collect_view()}
            </ul>
            <p class="note">
                "One clamp per end. The trade is split between spring bands and screws: a spring band follows the rubber as it sets; \
                 a screw wants nipping up after the first heat cycle."
            </p>
        </section>
    }
}

/// Where on the spigots the clamps are closed: only a bead has a behind.
fn where_clamps_go(run: Option<&RunInput>) -> &'static str {
    let plain = |spigot: &SpigotInput| matches!(&spigot.bead_mm, Some(BeadInput::Word(_)));
    match run.map(|run| (plain(&run.from), plain(&run.to))) {
        Some((true, true)) => "as far from the ends as is told below",
        Some((true, false)) => "behind the bead at B, and at A as far from the end as is told below",
        Some((false, true)) => "behind the bead at A, and at B as far from the end as is told below",
        _ => "behind the beads",
    }
}

/// How much hose to buy, lengths said by `say`.
pub(super) fn to_buy(best: &CandidateReport, say: &dyn Fn(f64) -> String) -> String {
    format!(
        "Buy at least {}: {} by the 100 mm, {} by the half metre, {:.0} ft by the foot.",
        say(best.buy.at_least_mm),
        say(best.buy.by_100_mm),
        say(best.buy.by_half_metre_mm),
        best.buy.by_foot
    )
}

/// How tight, if it has a screw.
pub(super) fn clamp_torque(clamp: &ClampReport) -> Option<String> {
    clamp.torque_nm.map(|nm| match clamp.torque_plus_minus_nm {
        Some(pm) => format!("{nm} ± {pm} N·m"),
        None => format!("{nm} N·m"),
    })
}

#[component]
fn Clamp(clamp: ClampReport, unit: LengthUnit) -> impl IntoView {
    let [lo, hi] = clamp.range_mm;
    let torque = clamp_torque(&clamp);
    let head = format!("{}: {} {}, {} band", clamp.end, clamp.kind, clamp.size, length(clamp.band_mm[1], unit));
    let body = format!(
        "{}, for {} to {}; closes on {} here. Middle of the band {} from the end of the hose.",
        clamp.standard,
        length(lo, unit),
        length(hi, unit),
        length(clamp.closes_on_mm, unit),
        length(clamp.band_from_end_mm, unit)
    );
    let why = clamp.not_smaller.map(|why| format!("Not smaller: {why}."));
    let source = format!("{} ({}). {}", clamp.source, clamp.basis, clamp.torque_source.unwrap_or_default());
    view! {
        <li>
            <h3>{head}</h3>
            <div class="fg">{torque}</div>
            <p>{body} " " {why}</p>
            <details class="how"><summary>"How do you know?"</summary><p>{source}</p></details>
        </li>
    }
}
