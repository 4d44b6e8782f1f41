//! What would help, in a sentence, and what it changes in the run.

use super::lie::{POINTS, told_points};
use super::{headline, name_of, pair, tenth, thousandth};
use crate::Run;
use crate::accept::Elbow;
use crate::report::{ChangeReport, RemedyReport};
use crate::run::Clip;
use crate::size::{Remedy, What, bow, told_legs};
use checks::{MountedOn, Spigot, Verdict};
use quantity::{Angle, Length};
use shape::{Bend, Vec3, Way};

pub(super) fn tell_remedy(remedy: &Remedy, run: &Run) -> RemedyReport {
    let (kind, what, change) = remedy_in_words(remedy, run);
    match (&remedy.what, &remedy.laid) {
        (_, Some((run, candidate))) => {
            let limit = checks::KinkLimit::of(&candidate.hose);
            let lie = candidate.at.lie();
            RemedyReport {
                kind: kind.to_owned(),
                what,
                change,
                verdict: candidate.verdict().name().to_owned(),
                headline: headline(candidate, run),
                cut_mm: tenth(candidate.cut.as_mm()),
                cut_window_mm: candidate.sound.first().copied().map(pair),
                tightest_bend_mm: lie.map_or(0.0, |lie| thousandth(limit.inside(lie.peak().curvature))),
                points_mm: lie.map_or(Vec::new(), told_points),
            }
        }
        (What::Bent(path), None) => RemedyReport {
            kind: kind.to_owned(),
            what,
            change,
            verdict: Verdict::NotChecked.name().to_owned(),
            headline: "Keeps clear where it is drawn; the hose you find decides.".to_owned(),
            cut_mm: tenth(path.length() + run.seats().as_mm()),
            cut_window_mm: None,
            tightest_bend_mm: path
                .bends()
                .iter()
                .map(|arc| arc.radius - path.outside() / 2.0)
                .fold(f64::INFINITY, f64::min),
            points_mm: path.places(POINTS - 1).into_iter().map(|p| <[f64; 3]>::from(p).map(thousandth)).collect(),
        },
        _ => unreachable!("only a bent hose is not laid"),
    }
}

/// What kind it is, what is done, and what that changes in the run.
fn remedy_in_words(remedy: &Remedy, run: &Run) -> (&'static str, String, Vec<ChangeReport>) {
    let end = |end: usize| if end == 0 { ("A", "from") } else { ("B", "to") };
    let change = |field: String, value: String| ChangeReport { field, value };
    let list = |v: Vec3| {
        let [x, y, z] = <[f64; 3]>::from(v).map(thousandth);
        format!("[{x},{y},{z}]")
    };
    match &remedy.what {
        What::OtherWay { bows } => {
            let lie = remedy.laid.as_ref().and_then(|(_, candidate)| candidate.at.lie());
            let way = lie.map_or_else(String::new, |lie| name_of(bow(lie)));
            let said = format!("Lead it as you fit it, so that it {way}: of its ways to lie this one does.");
            ("other way", said, vec![change("bows".to_owned(), list(*bows))])
        }
        What::Sleeve => (
            "sleeve",
            "Pull a heat sleeve with a bright face over the whole hose, and keep it clean.".to_owned(),
            vec![change("sleeve".to_owned(), "\"new\"".to_owned())],
        ),
        What::Shield { thing, off } => {
            let name = &run.neighbours[*thing].name;
            let said = format!(
                "Set a flat bright shield between {name} and the hose, {off} mm off its surface and wider than it."
            );
            ("shield", said, vec![change(format!("neighbours/{thing}/shield"), format!("{{\"gap_mm\":{off}}}"))])
        }
        What::Turn { end: which, degrees } => {
            let (letter, field) = end(*which);
            let said = format!("Turn spigot {letter} by {}°.", degrees.abs());
            ("turn", said, vec![change(format!("{field}/turned_deg"), format!("{degrees}"))])
        }
        What::Wire { inside } => {
            let (bore, outside) = remedy
                .laid
                .as_ref()
                .map_or((0.0, 0.0), |(_, candidate)| (candidate.hose.bore.as_mm(), candidate.hose.outside.as_mm()));
            let said = format!("Use wire-supported hose that may be bent to {inside} mm, to the inside.");
            let value = format!(
                "{{\"bore_mm\":{bore},\"outside_mm\":{outside},\"wire_supported\":true,\"min_bend_radius_mm\":{inside}}}"
            );
            ("wire", said, vec![change("hose".to_owned(), value)])
        }
        What::Clip { at } => {
            let clips = remedy.laid.iter().flat_map(|(run, _)| &run.clips);
            let one = |clip: &Clip| {
                let on = if clip.on == MountedOn::Engine { "engine" } else { "body" };
                let along = clip.guide.direction.map_or(String::new(), |along| format!(",\"along\":{}", list(along)));
                format!("{{\"at_mm\":{},\"holds\":\"{}\",\"on\":\"{on}\"{along}}}", list(clip.guide.at), clip.holds)
            };
            let all: Vec<String> = clips.map(one).collect();
            let [x, y, z] = <[f64; 3]>::from(*at - run.from.mouth);
            let parts = [(x, "forward", "back"), (y, "to the left", "to the right"), (z, "up", "down")];
            let way = |(part, more, less): (f64, &str, &str)| {
                format!("{:.0} mm {}", part.abs(), if part < 0.0 { less } else { more })
            };
            let said = format!("Hold it with a P-clip, from A's mouth {}.", parts.map(way).join(", "));
            ("clip", said, vec![change("via".to_owned(), format!("[{}]", all.join(",")))])
        }
        What::Elbows(elbows) => {
            let one = |(which, elbow): &(usize, Elbow)| {
                let (letter, _) = end(*which);
                let bend = elbow.bend.as_degrees().round();
                let value = format!(
                    "{{\"end\":\"{letter}\",\"leg_mm\":{},\"bend_deg\":{bend},\"towards\":{},\"inside_mm\":{},\"far_leg_mm\":{}}}",
                    thousandth(elbow.leg),
                    list(elbow.towards),
                    thousandth(elbow.inside),
                    thousandth(elbow.far_leg)
                );
                let way = name_of(elbow.towards).replace("bows ", "");
                (format!("an elbow of {bend}° on {letter}, bent {way}"), value)
            };
            let (said, values): (Vec<_>, Vec<_>) = elbows.iter().map(one).unzip();
            let said = format!(
                "Put {}, with a joiner and two more clamps each. The leg lengths are our choice: what is found on \
                 a rack decides.",
                said.join(" and ")
            );
            ("elbow", said, vec![change("elbows".to_owned(), format!("[{}]", values.join(",")))])
        }
        What::Bent(path) => {
            let mut said = Vec::new();
            for leg in told_legs(path) {
                said.push(format!("{:.0} mm straight", leg.straight));
                if let Some(bend) = leg.bend {
                    said.push(format!("a bend of {:.0}°{}", Angle::radians(bend.angle).as_degrees(), twist(&bend)));
                }
            }
            let bore = |spigot: &Spigot| format!("{:.0}", spigot.diameter.as_mm());
            let trim = |seat: Length| format!("{:.0}", seat.as_mm());
            let what = format!(
                "Look on a rack for a moulded hose, bore {} and {} mm, that goes: {}. Trim it so that {} mm more goes on A and {} mm on B.",
                bore(&run.from),
                bore(&run.to),
                said.join(", "),
                trim(run.from.seat),
                trim(run.to.seat)
            );
            ("bent hose", what, Vec::new())
        }
    }
}

/// How a bend lies to the one before.
fn twist(bend: &Bend) -> String {
    let Way::Twist(turn) = bend.way else { return String::new() };
    match Angle::radians(turn).as_degrees().abs() {
        t if t < 20.0 => " the same way".to_owned(),
        t if t > 160.0 => " the other way".to_owned(),
        t => format!(" turned by {t:.0}°"),
    }
}
