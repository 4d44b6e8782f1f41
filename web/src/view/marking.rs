//! Mark it and cut it: in order, with what to slide on first; the clamps; how much to buy.

use super::held::to_mark;
use super::length;
use crate::el::{El, Node, div, el, how_known, many, note, section};
use crate::words;
use job::input::{BeadInput, RunInput, SpigotInput};
use job::{CandidateReport, ClampReport};
use quantity::text::LengthUnit;

/// How to mark, cut and clamp the piece.
pub(crate) fn marking(best: &CandidateReport, run: Option<&RunInput>, unit: LengthUnit) -> Node {
    let say = move |mm: f64| length(mm, unit);
    let held = to_mark(best);
    let thread = if held.iter().any(|(name, _)| name.starts_with("grommet")) { words::THREAD } else { "" };
    let places: Vec<_> = held.into_iter().map(|(name, mm)| format!("{name} {}", say(mm))).collect();
    let places = match places.is_empty() {
        true => String::new(),
        false => format!(" Mark where it is held, from end A: {}.", places.join(", ")),
    };
    let steps = [
        format!("Trim one end square; that is end A. Mark {} from it.", say(best.cut_mm)),
        "Offer it up along the way it will lie. Does it reach, clear of everything? Then cut at the mark, square."
            .to_owned(),
        format!(
            "Mark {} from end A and {} from end B: there the spigots' mouths come.{places}",
            say(best.marks.mouth_a_mm),
            say(best.cut_mm - best.marks.mouth_b_mm)
        ),
        format!(
            "Slide both clamps on first.{thread} Wet the spigots with coolant or soapy water, never grease or oil."
        ),
        format!(
            "Push each end on to its mark, let the hose turn as it likes, then close the clamps {}, screws towards your tool.",
            where_clamps_go(run)
        ),
    ];
    let play = (best.marks.seat_play_mm >= 1.0).then(|| {
        format!(
            "The seats have {} of play together: a piece a little long or short can be pushed on more or less.",
            say(best.marks.seat_play_mm)
        )
    });
    let buy = to_buy(best, &say);
    let mark = section(words::MARK)
        .attr("id", "marking")
        .put(el("ol").class("steps").put_all(steps.map(|step| el("li").put(step))))
        .put(note(play).put(" ").put(buy));
    let clamps = section(words::CLAMPS)
        .put(el("ul").class("ls plain").put_all(best.clamps.iter().map(|clamp| one_clamp(clamp, unit))))
        .put(note(
            "One clamp per end. The trade is split between spring bands and screws: a spring band follows the rubber as it sets; \
             a screw wants nipping up after the first heat cycle.",
        ));
    many![mark, clamps]
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
        "Buy at least {}: {} by the 100 mm, {} by the half metre, {:.0} m by the metre, {:.0} ft by the foot.",
        say(best.buy.at_least_mm),
        say(best.buy.by_100_mm),
        say(best.buy.by_half_metre_mm),
        (best.buy.at_least_mm / 1e3).ceil(),
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

fn one_clamp(clamp: &ClampReport, unit: LengthUnit) -> El {
    let [lo, hi] = clamp.range_mm;
    let torque = clamp_torque(clamp);
    let head = format!("{}: {} {}, {} band", clamp.end, clamp.kind, clamp.size, length(clamp.band_mm[1], unit));
    let body = format!(
        "{}, for {} to {}; closes on {} here. Middle of the band {} from the end of the hose.",
        clamp.standard,
        length(lo, unit),
        length(hi, unit),
        length(clamp.closes_on_mm, unit),
        length(clamp.band_from_end_mm, unit)
    );
    let again = clamp.again_nm.zip(clamp.again_plus_minus_nm);
    let again =
        again.map(|(nm, pm)| format!(" Nip it up to {nm} ± {pm} N·m when it is cold again after the first heat."));
    let keeps = again.or_else(|| clamp.follows.then(|| format!(" {}", words::FOLLOWS)));
    let why = clamp.not_smaller.as_ref().map(|why| format!("Not smaller: {why}."));
    let source = format!("{} ({}). {}", clamp.source, clamp.basis, clamp.torque_source.as_deref().unwrap_or_default());
    el("li")
        .put(el("h3").put(head))
        .put(div("fg").put(torque))
        .put(el("p").put(body).put(keeps).put(" ").put(why))
        .put(how_known(source))
}
