//! What holds the hose on its way and what it rests against: in words, and as it is marked in the pictures.

use super::place::{across, along, on_line, place};
use super::projection::{Point, View, path};
use crate::el::{Node, label, many, stroke};
use job::input::RunInput;
use job::{CandidateReport, LieReport};

/// A P-clip, a hole or a rest; places are mm from mouth A.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Hold {
    pub(super) name: String,
    /// What it rests against touches it over a length, a clip at one place.
    pub(super) rests: bool,
    pub(super) from: f64,
    pub(super) to: f64,
    force: f64,
}

impl Hold {
    pub(super) fn middle(&self) -> f64 {
        0.5 * (self.from + self.to)
    }

    /// What it is, where it is from the knife end, and with what it presses.
    fn says(&self, seat_a: f64, say: &dyn Fn(f64) -> String) -> String {
        let [from, to] = [self.from, self.to].map(|at| say((at + seat_a).round()));
        let (name, force) = (&self.name, self.force);
        if self.rests && from == to {
            format!("{name} {from} from the knife end at A, pressed with {force:.1} N.")
        } else if self.rests {
            format!("{name} from {from} to {to} from the knife end at A, pressed with {force:.1} N.")
        } else {
            format!("{name} {from} from the knife end at A; it holds with {force:.1} N.")
        }
    }
}

/// All of them, from A to B: clips and holes, then rests. Clips are numbered where there are several.
pub(super) fn holds(lie: &LieReport) -> Vec<Hold> {
    let several = lie.clips.len() > 1;
    let clips = lie.clips.iter().enumerate().map(|(i, clip)| Hold {
        name: if several { format!("{} {}", clip.holds, i + 1) } else { clip.holds.clone() },
        rests: false,
        from: clip.at_mm,
        to: clip.at_mm,
        force: clip.force_n,
    });
    let rests = lie.rests.iter().map(|rest| Hold {
        name: format!("Rests against {}", rest.about),
        rests: true,
        from: rest.from_mm,
        to: rest.to_mm,
        force: rest.force_n,
    });
    clips.chain(rests).collect()
}

/// Each in a sentence, lengths said by `say`.
pub(super) fn sentences(best: &CandidateReport, say: &dyn Fn(f64) -> String) -> Vec<String> {
    let holds = best.lie.as_ref().map(holds).unwrap_or_default();
    holds.iter().map(|hold| hold.says(best.marks.mouth_a_mm, say)).collect()
}

/// Where clips and holes are marked on the piece, mm from its end A.
pub(super) fn to_mark(best: &CandidateReport) -> Vec<(String, f64)> {
    let mut holds = best.lie.as_ref().map(holds).unwrap_or_default();
    holds.retain(|hold| !hold.rests);
    holds.into_iter().map(|hold| (hold.name, (hold.from + best.marks.mouth_a_mm).round())).collect()
}

/// How they are marked in a flat view: a band across the hose with its name, a thick line where it rests.
pub(super) fn marked(run: &RunInput, lie: &LieReport, outside: f64, view: View, px: f64) -> Vec<Node> {
    let mark = |hold: Hold| {
        if hold.rests {
            // Long enough to be seen where it touches at one place.
            let (from, to) = (hold.from - 8.0 * px, hold.to + 8.0 * px);
            let on = |k: u32| place(run, lie, from + (to - from) * f64::from(k) / 8.0).0;
            let line: Vec<Point> = (0..=8).map(on).collect();
            return stroke("wide ink round", &path(view, &line), 5.0 * px).into();
        }
        let (at, way) = place(run, lie, hold.from);
        let ends = [at, along(at, way, 1.0)].map(|p| view.flat(p));
        // Its name stands beyond the upper end.
        let (x, y) = across(ends, 0.5 * outside + 14.0 * px)
            .into_iter()
            .fold((0.0, f64::INFINITY), |up, p| if p.1 < up.1 { p } else { up });
        let name = label("mi letter", (x, y + 4.0 * px), hold.name);
        many![band(ends, outside, px), name.attr("font-size", 13.0 * px).attr("stroke-width", 4.0 * px)]
    };
    holds(lie).into_iter().map(mark).collect()
}

/// A band across the hose, at the first of two places along it.
fn band(ends: [(f64, f64); 2], outside: f64, px: f64) -> Node {
    let [(x0, y0), (x1, y1)] = across(ends, 0.5 * outside + 3.0 * px);
    stroke("wide ink", &format!("M{x0:.1} {y0:.1}L{x1:.1} {y1:.1}"), 6.0 * px).into()
}

/// Where clips sit on the hose, and the way it runs there, for a picture that knows no more of the lie.
pub(crate) fn bands(lie: &LieReport) -> Vec<[Point; 2]> {
    lie.clips
        .iter()
        .map(|clip| {
            let (at, way) = on_line(lie, clip.at_mm);
            [at, along(at, way, 1.0)]
        })
        .collect()
}

/// The same bands, drawn.
pub(super) fn drawn(bands: &[[Point; 2]], outside: f64, px: f64, flat: impl Fn(Point) -> (f64, f64)) -> Vec<Node> {
    bands.iter().map(|ends| band(ends.map(&flat), outside, px)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use job::{HeldReport, RestReport};

    #[test]
    fn a_place_is_told_from_the_knife_end() {
        let lie = LieReport {
            clips: vec![HeldReport { holds: "P-clip".to_owned(), at_mm: 180.2, force_n: 1.26 }],
            rests: vec![RestReport { about: "inner wing".to_owned(), from_mm: 90.0, to_mm: 130.0, force_n: 3.0 }],
            ..LieReport::default()
        };
        let say = |mm: f64| format!("{mm} mm");
        // 90 and 130 from mouth A, over a seat of 30.
        let said: Vec<_> = holds(&lie).iter().map(|hold| hold.says(30.0, &say)).collect();
        assert_eq!(
            said,
            [
                "P-clip 210 mm from the knife end at A; it holds with 1.3 N.",
                "Rests against inner wing from 120 mm to 160 mm from the knife end at A, pressed with 3.0 N.",
            ]
        );
    }
}
