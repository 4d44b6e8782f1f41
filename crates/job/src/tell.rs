//! From solved runs to the report: every number rounded as it is told, every verdict in words.

use crate::Run;
use crate::accept::Elbow;
use crate::report::{
    BendReport, CandidateReport, ChangeReport, ClampReport, ClipReport, FindingReport, GapReport, HeldReport,
    HoseReport, LieReport, REPORT_VERSION, RejectedReport, RemedyReport, Report, RestReport, RunReport, WantedReport,
    WayReport,
};
use crate::run::Clip;
use crate::size::{Candidate, Chances, Rejected, Remedy, Wanted, What, bow, buy, marks, told_legs, why_behind};
use crate::solve::{GOOD_CHANCE, SolvedRun};
use checks::{Check, Finding, MountedOn, Neighbour, Spigot, Unit, Verdict, clamps_for};
use quantity::{Angle, Basis, Length, Source, Window};
use shape::{Bend, Contact, Guide, Held, Lie, Vec3, Way};
use stock::{ClampKind, Hose, Stock};

/// Points told of a lie, equally spaced; every one a node of the solver's mesh.
const POINTS: usize = 41;
/// Steps from the knife end to the mouth, for what is told of a seat.
const SEAT_STEPS: usize = 5;

/// What stands beside every answer.
const CAUTIONS: [&str; 5] = [
    "This is an estimate: offer the hose up before you cut it.",
    "Never open a hot cooling system: let it cool, then turn the cap slowly.",
    "Coolant is poisonous and tastes sweet to animals: catch it, and dispose of it as your local rules say.",
    "Engine off and cold; keep hands and hose away from belts and fans; if you go under the car, support it on stands.",
    "When in doubt, ask a licensed mechanic.",
];

pub(crate) fn tell(solved: &[SolvedRun], stock: &Stock) -> Report {
    Report {
        format: "hosewright-report".to_owned(),
        version: REPORT_VERSION,
        problems: Vec::new(),
        runs: solved.iter().map(|run| tell_run(run, stock)).collect(),
    }
}

fn tell_run(solved: &SolvedRun, stock: &Stock) -> RunReport {
    let run = &solved.run;
    let first = solved.candidates.first();
    RunReport {
        run: run.index,
        name: run.name.clone(),
        candidates: solved
            .candidates
            .iter()
            .enumerate()
            .map(|(i, candidate)| {
                let behind = first.filter(|_| i > 0).map_or("", |best| why_behind(candidate, best));
                tell_candidate(solved, candidate, behind, stock)
            })
            .collect(),
        rejected: solved.rejected.iter().map(tell_rejected).collect(),
        remedies: solved.remedies.iter().map(|remedy| tell_remedy(remedy, run)).collect(),
        wanted: solved.wanted.as_ref().map(|wanted| tell_wanted(wanted, run)),
        turned_round: solved.turned_round.map(str::to_owned),
        assumed: run.assumed.clone(),
        cautions: CAUTIONS.map(str::to_owned).to_vec(),
    }
}

fn pair(window: Window<Length>) -> [f64; 2] {
    [window.least().as_mm(), window.greatest().as_mm()].map(tenth)
}

/// A length as it is told: to a tenth of a millimetre, no tape shows more.
fn tenth(mm: f64) -> f64 {
    (mm * 10.0).round() / 10.0
}

/// A measured number as it is told: to a thousandth.
fn thousandth(x: f64) -> f64 {
    (x * 1000.0).round() / 1000.0
}

fn tell_candidate(solved: &SolvedRun, candidate: &Candidate, behind: &str, stock: &Stock) -> CandidateReport {
    let (run, hose) = (&solved.run, &candidate.hose);
    // Only the best is told with how its window moves with the stiffness.
    let if_stiffness = if behind.is_empty() { solved.if_stiffness } else { [None; 2] };
    let chance = candidate.chance(run);
    let mut findings: Vec<FindingReport> = candidate.at.findings.iter().map(tell_finding).collect();
    findings.push(tell_finding(&tape_error(candidate, chance)));
    CandidateReport {
        hose: tell_hose(hose),
        verdict: candidate.verdict().name().to_owned(),
        headline: headline(candidate, run),
        why_behind: behind.to_owned(),
        cut_window_mm: candidate.sound.first().copied().map(pair),
        more_windows_mm: candidate.sound.iter().skip(1).copied().map(pair).collect(),
        calm_window_mm: candidate.calm.map(pair),
        shorter_fails: candidate.outside[0].as_ref().map(tell_finding),
        longer_fails: candidate.outside[1].as_ref().map(tell_finding),
        cut_mm: tenth(candidate.cut.as_mm()),
        chance,
        chances: candidate.chances.as_ref().map_or(Vec::new(), |chances| tell_chances(chances, run)),
        nearest: candidate.nearest,
        lie: candidate.at.lie().map(|lie| LieReport { rests: tell_rests(candidate, run), ..tell_lie(lie, run, hose) }),
        ways: candidate.at.ways.iter().filter(|way| way.of_itself).count(),
        ways_to_lie: tell_ways(candidate),
        marks: marks(run, candidate.cut),
        buy: buy(candidate.cut),
        clamps: [("A", &run.from), ("B", &run.to)]
            .into_iter()
            .flat_map(|(end, spigot)| tell_clamps(end, spigot, hose, stock))
            .collect(),
        cut_window_if_half_as_stiff_mm: if_stiffness[0].map(pair),
        cut_window_if_twice_as_stiff_mm: if_stiffness[1].map(pair),
        findings,
    }
}

/// The worst verdict in words. "Fits" is never said alone while rocking, or heat beside something hot, is unchecked.
fn headline(candidate: &Candidate, run: &Run) -> String {
    let of = |verdict: Verdict| candidate.at.findings.iter().filter(move |finding| finding.verdict == verdict);
    // The reason names the check itself.
    let told = |finding: &Finding| match finding.about.as_str() {
        "" => finding.why.clone().into_owned(),
        about => format!("{about}: {}", finding.why),
    };
    if let Some(fail) = of(Verdict::Fail).next() {
        let what = if candidate.nearest { "No length works" } else { "Does not fit" };
        return format!("{what}: {}.", told(fail));
    }
    if candidate.nearest {
        return "No length works: those that would are closer together than a knife can hit.".to_owned();
    }
    let hot = of(Verdict::NotChecked)
        .any(|finding| finding.check == Check::Heat && finding.extra.iter().any(|(name, _)| *name == "hot_things"));
    let heat = if hot { ", heat not checked" } else { "" };
    let unrocked = of(Verdict::NotChecked).any(|finding| finding.check == Check::Rock);
    let standing = match (unrocked, run.moves_together) {
        (true, _) => format!("Fits standing still; rocking not checked{heat}"),
        (false, true) => format!("Fits{heat}"),
        (false, false) => format!("Fits, standing and rocking{heat}"),
    };
    match of(Verdict::Warn).next() {
        Some(warn) => format!("{standing}. Mind: {}.", told(warn)),
        None => format!("{standing}."),
    }
}

const CHANCE_SOURCE: Source =
    Source::new("512 ways for tape, cut and eye to be off; below 80 % it warns: our choice", Basis::OurChoice);

/// The finding on what an error of the tape does; `chance` is that of the cut.
fn tape_error(candidate: &Candidate, chance: Option<f64>) -> Finding {
    let Some(chance) = chance else {
        let why = if candidate.nearest {
            "no length works as measured"
        } else if candidate.chances.is_some() {
            "this cut lies outside the lengths that work"
        } else {
            "worked out for the first hose, once it is found; not for one that rests against something"
        };
        return Finding::not_checked(Check::TapeError, why);
    };
    let good = chance >= GOOD_CHANCE;
    let why = if good {
        "leaves room for errors of tape and eye"
    } else {
        "a small error of tape or eye may spoil it: cut to the long end, offer up, trim"
    };
    Finding {
        verdict: if good { Verdict::Pass } else { Verdict::Warn },
        actual: Some(100.0 * chance),
        allowed: Some(100.0 * GOOD_CHANCE),
        unit: Unit::Percent,
        source: CHANCE_SOURCE,
        ..Finding::not_checked(Check::TapeError, why)
    }
}

fn tell_remedy(remedy: &Remedy, run: &Run) -> RemedyReport {
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
            let said = format!("Put {}, with a joiner and two more clamps each.", said.join(" and "));
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

fn tell_rests(candidate: &Candidate, run: &Run) -> Vec<RestReport> {
    let touched: Vec<&Neighbour> = run.neighbours.iter().filter(|thing| thing.may_touch).collect();
    let rest = |contact: &Contact| {
        Some(RestReport {
            about: touched.get(contact.solid)?.name.clone(),
            from_mm: tenth(contact.from),
            to_mm: tenth(contact.to),
            force_n: thousandth(contact.force.norm()),
        })
    };
    candidate.at.contacts.iter().filter_map(rest).collect()
}

fn tell_held((clip, held): (&Clip, &Held)) -> HeldReport {
    HeldReport { holds: clip.holds.clone(), at_mm: tenth(held.at), force_n: thousandth(held.force.norm()) }
}

fn tell_wanted(wanted: &Wanted, run: &Run) -> WantedReport {
    let triple = |v: Vec3| <[f64; 3]>::from(v).map(thousandth);
    let Wanted { path, bends, off, astray, clips } = wanted;
    let half = path.outside() / 2.0;
    WantedReport {
        free_mm: tenth(path.length()),
        cut_mm: tenth(path.length() + run.seats().as_mm()),
        bends: path
            .bends()
            .iter()
            .zip(bends)
            .map(|(arc, verdict)| BendReport {
                at_mm: tenth(arc.from),
                bend_deg: tenth(Angle::radians(arc.angle).as_degrees()),
                inside_mm: tenth(arc.radius - half),
                verdict: verdict.name().to_owned(),
            })
            .collect(),
        off_mm: tenth(*off),
        off_deg: tenth(astray.as_degrees()),
        clips: clips.as_ref().map_or(Vec::new(), |clips| {
            let one = |(guide, along): (&Guide, &f64)| ClipReport {
                at_mm: triple(guide.at),
                along: guide.direction.map(triple),
                from_a_mm: tenth(*along),
            };
            clips.guides.iter().zip(&clips.along).map(one).collect()
        }),
        strays_mm: match clips {
            Ok(clips) => Some(tenth(clips.off)),
            Err(nearest) => nearest.map(tenth),
        },
        points_mm: path.places(POINTS - 1).into_iter().map(triple).collect(),
    }
}

fn tell_chances(chances: &Chances, run: &Run) -> Vec<[f64; 2]> {
    let seats = run.seats().as_mm();
    chances.0.iter().map(|(free, chance)| [tenth(free + seats), thousandth(*chance)]).collect()
}

/// Every way to lie, named by where it bows beside the others.
fn tell_ways(candidate: &Candidate) -> Vec<WayReport> {
    let at = &candidate.at;
    let bows: Vec<Vec3> = at.ways.iter().map(|way| bow(&way.lie)).collect();
    let least = at.ways.iter().map(|way| way.lie.bending_energy()).fold(f64::INFINITY, f64::min);
    let names = names(&bows);
    at.ways
        .iter()
        .zip(bows)
        .zip(names)
        .enumerate()
        .map(|(k, ((way, bow), name))| WayReport {
            name,
            bows: <[f64; 3]>::from(bow).map(thousandth),
            told: k == at.told,
            of_itself: way.of_itself,
            energy_over_least: thousandth(way.lie.bending_energy() / least.max(f64::MIN_POSITIVE)),
            verdict: way.worst.as_ref().map(|worst| worst.verdict.name().to_owned()),
            why: way.worst.as_ref().map(|worst| match worst.about.as_str() {
                "" => worst.why.clone().into_owned(),
                about => format!("{about}: {}", worst.why),
            }),
            points_mm: told_points(&way.lie),
        })
        .collect()
}

/// A part of a bow smaller than this part of the whole is not named. Our choice.
const NAMED: f64 = 0.4;
/// A bow of less than this part of the length is none. Our choice.
const STRAIGHT: f64 = 0.005;

/// A name for each of several bows, by what tells it from the middle of them all; for one alone, by its own way.
fn names(bows: &[Vec3]) -> Vec<String> {
    let share = 1.0 / bows.len().max(1) as f64;
    let middle = bows.iter().fold(Vec3::ZERO, |sum, bow| sum + *bow * share);
    let apart = |bow: &Vec3| if bows.len() > 1 { *bow - middle } else { *bow };
    let mut names: Vec<String> = bows.iter().map(|bow| name_of(apart(bow))).collect();
    // What bows the same way is told apart by how far.
    for k in 1..names.len() {
        if names[..k].contains(&names[k]) {
            let further = names[k].clone();
            names[k] = format!("{further}, another way round");
        }
    }
    names
}

fn name_of(bow: Vec3) -> String {
    if bow.norm() < STRAIGHT {
        return "lies nearly straight".to_owned();
    }
    let parts = [(bow.z, "up", "down"), (bow.y, "to the left", "to the right"), (bow.x, "forward", "back")];
    let named = parts.iter().filter(|(part, ..)| part.abs() >= NAMED * bow.norm());
    let words: Vec<&str> = named.map(|(part, more, less)| if *part > 0.0 { *more } else { *less }).collect();
    format!("bows {}", words.join(" and "))
}

fn told_points(lie: &Lie) -> Vec<[f64; 3]> {
    let step = (lie.points().len() - 1) / (POINTS - 1);
    lie.points().iter().step_by(step).map(|p| [p.x, p.y, p.z].map(thousandth)).collect()
}

fn tell_hose(hose: &Hose) -> HoseReport {
    HoseReport {
        kind: hose.kind.clone().into_owned(),
        sold_as: hose.sold_as.clone().into_owned(),
        rubber: hose.rubber.map(|rubber| rubber.name().to_owned()),
        class: hose.class.as_ref().map(ToString::to_string),
        limit_c: hose.limit.as_ref().map(|limit| limit.value.as_celsius()),
        bore_mm: hose.bore.as_mm(),
        outside_mm: hose.outside.as_mm(),
        source: hose.source.what.clone().into_owned(),
        basis: hose.source.basis.as_str().to_owned(),
    }
}

fn tell_lie(lie: &Lie, run: &Run, hose: &Hose) -> LieReport {
    let limit = checks::KinkLimit::of(hose);
    let (a, b) = (lie.points()[0], lie.point_at(lie.length()));
    let line = (b - a).direction().unwrap_or(shape::Vec3::ZERO);
    let bow = lie.points().iter().map(|p| (*p - a).across(line).norm()).fold(0.0, f64::max);
    let inside = |curvature: f64| thousandth(limit.inside(curvature).min(2000.0));
    let places = places(lie.length(), [run.from.seat.as_mm(), run.to.seat.as_mm()]);
    LieReport {
        free_mm: thousandth(lie.length()),
        points_mm: told_points(lie),
        bend_inside_mm: (0..POINTS)
            .map(|k| inside(lie.curvature_at(lie.length() * k as f64 / (POINTS - 1) as f64)))
            .collect(),
        tightest_bend_mm: thousandth(limit.inside(lie.peak().curvature)),
        at_mm: thousandth(lie.peak().at),
        bow_mm: thousandth(bow),
        bend_fails_below_mm: limit.fail.map(thousandth),
        bend_warns_below_mm: limit.warn.map(thousandth),
        gaps: run.neighbours.iter().map(|thing| tell_gap(lie, run, hose, thing, &places)).collect(),
        clips: run.clips.iter().zip(lie.held()).map(tell_held).collect(),
        rests: Vec::new(),
        gap_places_mm: places.into_iter().map(thousandth).collect(),
    }
}

/// From knife end to knife end: the points that are told of the lie, and some on both seats.
fn places(free: f64, seats: [f64; 2]) -> Vec<f64> {
    let on_seat = |k: usize| k as f64 / SEAT_STEPS as f64;
    let a = (0..SEAT_STEPS).map(|k| (on_seat(k) - 1.0) * seats[0]);
    let between = (0..POINTS).map(|k| free * k as f64 / (POINTS - 1) as f64);
    let b = (1..=SEAT_STEPS).map(|k| free + on_seat(k) * seats[1]);
    a.chain(between).chain(b).collect()
}

fn tell_gap(lie: &Lie, run: &Run, hose: &Hose, thing: &Neighbour, places: &[f64]) -> GapReport {
    let bound = checks::standoff_bound(thing);
    let gap = |at: &f64| tenth(checks::skin_gap(lie, [&run.from, &run.to], hose, thing, *at));
    GapReport {
        about: thing.name.clone(),
        gap_mm: places.iter().map(gap).collect(),
        fails_below_mm: bound.fail.map(thousandth),
        warns_below_mm: bound.warn.map(thousandth),
    }
}

fn tell_clamps(end: &str, spigot: &Spigot, hose: &Hose, stock: &Stock) -> Vec<ClampReport> {
    clamps_for(spigot, hose, stock)
        .into_iter()
        .map(|choice| ClampReport {
            end: end.to_owned(),
            spigot: spigot.name.clone(),
            kind: match choice.clamp.kind {
                ClampKind::WormDrive => "worm drive".to_owned(),
                ClampKind::SpringBand => "spring band".to_owned(),
            },
            standard: choice.clamp.standard.clone().into_owned(),
            size: choice.clamp.size.clone().into_owned(),
            range_mm: [choice.clamp.least.as_mm(), choice.clamp.greatest.as_mm()],
            band_mm: [choice.clamp.band_least.as_mm(), choice.clamp.band_greatest.as_mm()],
            closes_on_mm: thousandth(choice.closes_on.as_mm()),
            opens_over_mm: thousandth(choice.opens_over.as_mm()),
            band_from_end_mm: thousandth(choice.band_from_end.as_mm()),
            torque_nm: choice.torque.map(|torque| torque.torque.as_nm()),
            torque_plus_minus_nm: choice.torque.map(|torque| torque.plus_minus.as_nm()),
            torque_source: choice.torque.map(|torque| told(&torque.source)),
            not_smaller: choice.not_smaller,
            source: choice.clamp.source.what.clone().into_owned(),
            basis: choice.clamp.source.basis.as_str().to_owned(),
        })
        .collect()
}

fn told(source: &Source) -> String {
    format!("{} ({})", source.what, source.basis.as_str())
}

fn tell_finding(finding: &Finding) -> FindingReport {
    let extra = |name: &str| finding.extra.iter().find(|(key, _)| *key == name).map(|(_, value)| thousandth(*value));
    FindingReport {
        check: finding.check.name().to_owned(),
        verdict: finding.verdict.name().to_owned(),
        about: finding.about.clone(),
        actual: finding.actual.map(thousandth),
        allowed: finding.allowed.map(thousandth),
        unit: finding.unit.symbol().to_owned(),
        at_mm: finding.at.map(thousandth),
        why: match finding.verdict {
            Verdict::NotChecked => format!("not checked: {}", finding.why),
            _ => finding.why.clone().into_owned(),
        },
        source: finding.source.what.clone().into_owned(),
        basis: if finding.source.what.is_empty() { String::new() } else { finding.source.basis.as_str().to_owned() },
        kink_radius_centre_mm: extra("kink_radius_centre_mm"),
        flattening_percent: extra("flattening_percent"),
        six_times_bore_mm: extra("six_times_bore_mm"),
        must_move_mm: extra("must_move_mm"),
        rock_shift_mm: extra("rock_x_mm").zip(extra("rock_y_mm")).zip(extra("rock_z_mm")).map(|((x, y), z)| [x, y, z]),
        rock_turn_deg: extra("rock_turn_deg").filter(|turn| *turn != 0.0),
        bare_c: extra("bare_c"),
        sleeve_new_c: extra("sleeve_new_c"),
        sleeve_dirty_c: extra("sleeve_dirty_c"),
        behind_shield_c: extra("behind_shield_c"),
        standing_c: extra("standing_c"),
        standoff_needed_mm: extra("standoff_needed_mm"),
        standoff_needed_sleeve_new_mm: extra("standoff_needed_sleeve_new_mm"),
        standoff_needed_sleeve_dirty_mm: extra("standoff_needed_sleeve_dirty_mm"),
        in_plume_c: extra("in_plume_c"),
    }
}

fn tell_rejected(rejected: &Rejected) -> RejectedReport {
    RejectedReport {
        bore_mm: rejected.hose.bore.as_mm(),
        outside_mm: rejected.hose.outside.as_mm(),
        sold_as: rejected.hose.sold_as.clone().into_owned(),
        finding: tell_finding(&rejected.finding),
    }
}
