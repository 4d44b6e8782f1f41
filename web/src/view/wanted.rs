//! The way the hose should go, as it was read off: its length, its bends, whether it ends at B, the P-clips that keep to it.

use super::projection::{Point, View, path};
use super::{length, mark, readback};
use crate::el::{El, button, el, list, note, p, section, stroke, unseen};
use crate::form::Draft;
use crate::words;
use job::input::RunInput;
use job::{BendReport, CandidateReport, WantedReport};
use leptos::prelude::*;
use quantity::text::LengthUnit;
use share::json::Value;

/// A way that ends further from B than this, mm, or points away from it by more than this, degrees, was read wrong
/// somewhere. Our choice: a few times the error of a tape.
const OFF_MM: f64 = 15.0;
const OFF_DEG: f64 = 10.0;

/// The section; nothing where no way was said.
pub(crate) fn wanted(
    wanted: Option<&WantedReport>,
    best: &CandidateReport,
    run: &RunInput,
    draft: RwSignal<Draft>,
    unit: LengthUnit,
) -> Option<El> {
    let wanted = wanted?;
    let say = move |mm: f64| length(mm, unit);
    let seat = best.marks.mouth_a_mm;
    let bends = wanted.bends.iter().enumerate().map(|(i, one)| {
        let verdict = one.verdict.as_str();
        let at = format!("It begins {} from the knife end at A.", say((one.at_mm + seat).round()));
        el("li")
            .attr("class", (verdict == "fail").then_some("no"))
            .put(mark(verdict))
            .put(el("h3").class("wide-row").put(bend(i, one, &say)).put(" ").put(unseen(words::verdict(verdict))))
            .put(el("p").put(at))
    });
    let ends = off(wanted, &say);
    let astray = is_astray(wanted);
    let clips = clips(wanted, run, seat, unit);
    let guides: Vec<_> = wanted.clips.iter().map(|clip| (clip.at_mm, clip.along)).collect();
    let hold = move || {
        let one = |(at, along): &(Point, Option<Point>)| {
            let along = along.map_or(Value::Null, Value::from);
            Value::object([
                ("at_mm", (*at).into()),
                ("holds", "P-clip".into()),
                ("on", "body".into()),
                ("along", along),
            ])
        };
        draft.update(|draft| draft.set(0, "via", Value::Array(guides.iter().map(one).collect())));
    };
    Some(
        section(words::WAY_WANTED)
            .put(p("", read_off(wanted, &say)))
            .put(el("ul").class("ls").put_all(bends))
            .put(p("", if astray { el("b").put(ends) } else { el("span").put(ends) }))
            .put(note(kept(wanted, &say)))
            .put(list(clips))
            .put((!astray && !wanted.clips.is_empty()).then(|| button("bt", words::HOLD_IT_SO, hold))),
    )
}

/// The same in lines, for paper.
pub(super) fn lines(
    wanted: &WantedReport,
    best: &CandidateReport,
    run: &RunInput,
    unit: LengthUnit,
    say: &dyn Fn(f64) -> String,
) -> Vec<String> {
    let bends = wanted.bends.iter().enumerate().map(|(i, one)| format!("{}.", bend(i, one, say)));
    std::iter::once(read_off(wanted, say))
        .chain(bends)
        .chain([off(wanted, say), kept(wanted, say)])
        .chain(clips(wanted, run, best.marks.mouth_a_mm, unit))
        .collect()
}

/// Its line in a view: long dashes and two dots.
pub(super) fn line(wanted: &WantedReport, view: View, px: f64) -> El {
    let dashes = format!("{} {1} {2} {1} {2} {1}", 14.0 * px, 3.0 * px, 2.0 * px);
    stroke("centre", &path(view, &wanted.points_mm), 1.6 * px).attr("stroke-dasharray", dashes)
}

fn read_off(wanted: &WantedReport, say: &dyn Fn(f64) -> String) -> String {
    let [free, cut] = [wanted.free_mm, wanted.cut_mm].map(|mm| say(mm.round()));
    format!("{free} long from mouth to mouth; a hose held to it is cut {cut} long.")
}

fn bend(i: usize, bend: &BendReport, say: &dyn Fn(f64) -> String) -> String {
    let takes = match bend.verdict.as_str() {
        "pass" => "a straight hose takes it",
        "warn" => "tight for a straight hose",
        "fail" => "too tight for a straight hose",
        _ => "not checked",
    };
    format!("Bend {}, {:.0}° at {} to the inside: {takes}", i + 1, bend.bend_deg, say(bend.inside_mm))
}

fn is_astray(wanted: &WantedReport) -> bool {
    wanted.off_mm > OFF_MM || wanted.off_deg > OFF_DEG
}

fn off(wanted: &WantedReport, say: &dyn Fn(f64) -> String) -> String {
    let read = if is_astray(wanted) { words::READ_WRONG } else { words::READ_RIGHT };
    format!("It ends {} from mouth B, its direction {:.0}° off: {read}", say(wanted.off_mm), wanted.off_deg)
}

/// How near to it a straight hose is kept.
fn kept(wanted: &WantedReport, say: &dyn Fn(f64) -> String) -> String {
    match (wanted.strays_mm, wanted.clips.len()) {
        (None, _) => words::NO_CLIPS_KEEP.to_owned(),
        (Some(by), 0) => format!("At best a straight hose strays from it by {}; no P-clip is told for it.", say(by)),
        (Some(by), _) => format!("Held by P-clips here, a straight hose strays from it by {} at most:", say(by)),
    }
}

/// Where each P-clip would sit.
fn clips(wanted: &WantedReport, run: &RunInput, seat: f64, unit: LengthUnit) -> Vec<String> {
    let one = |(i, clip): (usize, &job::ClipReport)| {
        format!(
            "P-clip {}: {} from the knife end at A; from A's mouth {}.",
            i + 1,
            length((clip.from_a_mm + seat).round(), unit),
            readback::from_a(run, clip.at_mm, unit)
        )
    };
    wanted.clips.iter().enumerate().map(one).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_way_that_misses_b_is_said_to_be_read_wrong() {
        let way = |off_mm: f64, off_deg: f64| WantedReport {
            free_mm: 400.0,
            cut_mm: 460.0,
            bends: Vec::new(),
            off_mm,
            off_deg,
            clips: Vec::new(),
            strays_mm: None,
            points_mm: Vec::new(),
        };
        let say = |mm: f64| format!("{mm} mm");
        assert!(off(&way(4.0, 3.0), &say).ends_with(words::READ_RIGHT));
        for (mm, deg) in [(16.0, 0.0), (0.0, 11.0)] {
            assert!(off(&way(mm, deg), &say).ends_with(words::READ_WRONG), "{mm} {deg}");
        }
    }
}
