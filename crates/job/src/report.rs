//! What is told: the report, as plain data that crosses to a file or to the page.

use crate::Run;
use crate::accept::Problem;
use crate::size::{Buy, Candidate, Marks, Rejected, buy, marks, why_behind};
use crate::solve::SolvedRun;
use checks::{Check, Finding, Neighbour, Spigot, Verdict, clamps_for};
use quantity::{Length, Source, Window};
use serde::{Deserialize, Serialize};
use shape::Lie;
use stock::{ClampKind, Hose, Stock};

/// Version of the report's form.
pub const REPORT_VERSION: u32 = 1;

/// Points told of a lie, equally spaced; every one a node of the solver's mesh.
const POINTS: usize = 41;
/// Steps from the knife end to the mouth, for what is told of a seat.
const SEAT_STEPS: usize = 5;

/// The answer to a job.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Report {
    /// "hosewright-report".
    pub format: String,
    /// See [`REPORT_VERSION`].
    pub version: u32,
    /// What was wrong with what was typed.
    pub problems: Vec<Problem>,
    /// The runs that could be sized.
    pub runs: Vec<RunReport>,
}

/// The answer to one run.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct RunReport {
    /// Its place among the runs as they were typed, from 0.
    pub run: usize,
    /// What it is called.
    pub name: String,
    /// Hoses that could serve, best first.
    pub candidates: Vec<CandidateReport>,
    /// Sizes that could not, and why.
    pub rejected: Vec<RejectedReport>,
    /// What would help where nothing passes; none are tried yet.
    pub remedies: Vec<String>,
    /// Where no length works: "A", "B" or "A and B", if a length would work with these ends turned round. To be asked.
    pub turned_round: Option<String>,
    /// What was taken for granted because it was not said.
    pub assumed: Vec<String>,
    /// Cautions for the work.
    pub cautions: Vec<String>,
}

/// One hose on one run.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct CandidateReport {
    /// The hose.
    pub hose: HoseReport,
    /// The worst verdict of its findings.
    pub verdict: String,
    /// The verdict in words, with what was not checked.
    pub headline: String,
    /// Why it stands behind the first; empty for the first.
    pub why_behind: String,
    /// The shortest window of cut lengths free of fails; null if there is none.
    pub cut_window_mm: Option<[f64; 2]>,
    /// Further windows: longer loops.
    pub more_windows_mm: Vec<[f64; 2]>,
    /// The part of the first window that is free of warnings too.
    pub calm_window_mm: Option<[f64; 2]>,
    /// What goes wrong with a cut just shorter than the first window.
    pub shorter_fails: Option<FindingReport>,
    /// What goes wrong with a cut just longer than the first window.
    pub longer_fails: Option<FindingReport>,
    /// The cut: suggested, or the one that was to be tried, or the nearest to passing.
    pub cut_mm: f64,
    /// Chance that it passes in spite of tape and angle errors; null as long as it is not worked out.
    pub chance: Option<f64>,
    /// True if no length passes and this is only the nearest.
    pub nearest: bool,
    /// How it lies at that cut; null if it cannot.
    pub lie: Option<LieReport>,
    /// In how many ways it can lie there; the one told does worst.
    pub ways: usize,
    /// Where to mark it.
    pub marks: Marks,
    /// How much to buy for this run alone.
    pub buy: Buy,
    /// Clamps for both ends, A first.
    pub clamps: Vec<ClampReport>,
    /// The first window if the hose is half as stiff as taken.
    pub cut_window_if_half_as_stiff_mm: Option<[f64; 2]>,
    /// The first window if the hose is twice as stiff as taken.
    pub cut_window_if_twice_as_stiff_mm: Option<[f64; 2]>,
    /// What was found.
    pub findings: Vec<FindingReport>,
}

/// A hose as it is told.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct HoseReport {
    /// What it is.
    pub kind: String,
    /// The size as it is asked for.
    pub sold_as: String,
    /// What it is made of, if known.
    pub rubber: Option<String>,
    /// Its SAE J20 class, if known.
    pub class: Option<String>,
    /// The hottest it bears for long, if known.
    pub limit_c: Option<f64>,
    /// Bore.
    pub bore_mm: f64,
    /// Outside diameter.
    pub outside_mm: f64,
    /// Where the size is from.
    pub source: String,
    /// On what that rests.
    pub basis: String,
}

/// How a hose lies.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct LieReport {
    /// Length along the centre line between the mouths.
    pub free_mm: f64,
    /// Points of the centre line, equally spaced, mouth A to mouth B.
    pub points_mm: Vec<[f64; 3]>,
    /// Bend radius to the inside at those points; no more than 2000.
    pub bend_inside_mm: Vec<f64>,
    /// Below this bend radius to the inside it fails; null if that is not known.
    pub bend_fails_below_mm: Option<f64>,
    /// Below this it warns.
    pub bend_warns_below_mm: Option<f64>,
    /// The tightest bend, to the inside.
    pub tightest_bend_mm: f64,
    /// Where it is, from mouth A.
    pub at_mm: f64,
    /// How far it bows out of the straight line between the mouths.
    pub bow_mm: f64,
    /// Places from knife end to knife end, from mouth A along the centre line: negative on the seat of A.
    pub gap_places_mm: Vec<f64>,
    /// How near every thing comes at those places.
    pub gaps: Vec<GapReport>,
}

/// How near one thing comes all along the hose.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct GapReport {
    /// Name of the thing.
    pub about: String,
    /// From the skin of the hose to its surface; negative inside. Clamps are left out: they count in the finding.
    pub gap_mm: Vec<f64>,
    /// Below this it fails.
    pub fails_below_mm: Option<f64>,
    /// Below this it warns.
    pub warns_below_mm: Option<f64>,
}

/// A clamp for one end.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ClampReport {
    /// "A" or "B".
    pub end: String,
    /// Name of the spigot.
    pub spigot: String,
    /// "worm drive" or "spring band".
    pub kind: String,
    /// The standard of the size.
    pub standard: String,
    /// The size.
    pub size: String,
    /// What it closes on, from and to.
    pub range_mm: [f64; 2],
    /// Width of the band, from and to.
    pub band_mm: [f64; 2],
    /// Diameter it closes on here.
    pub closes_on_mm: f64,
    /// Diameter it opens over here.
    pub opens_over_mm: f64,
    /// Centre of the band from the end of the hose.
    pub band_from_end_mm: f64,
    /// Torque on a new hose, if it has a screw.
    pub torque_nm: Option<f64>,
    /// Its tolerance.
    pub torque_plus_minus_nm: Option<f64>,
    /// Where the torque is from.
    pub torque_source: Option<String>,
    /// Why not the next smaller size.
    pub not_smaller: Option<String>,
    /// Where the size is from.
    pub source: String,
    /// On what that rests.
    pub basis: String,
}

/// One finding.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct FindingReport {
    /// The check.
    pub check: String,
    /// "pass", "warn", "fail" or "not checked".
    pub verdict: String,
    /// The spigot or thing it is about.
    pub about: String,
    /// What was measured.
    pub actual: Option<f64>,
    /// The limit the verdict speaks of.
    pub allowed: Option<f64>,
    /// Unit of both.
    pub unit: String,
    /// Where, from mouth A along the centre line.
    pub at_mm: Option<f64>,
    /// Why.
    pub why: String,
    /// Where the limit is from.
    pub source: String,
    /// On what that rests.
    pub basis: String,
    /// Radius of the centre line at which the hose kinks, before any factor.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub kink_radius_centre_mm: Option<f64>,
    /// Flattening of the outside diameter at the tightest bend.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub flattening_percent: Option<f64>,
    /// Six times the bore: a supplier's rule, shown beside the verdict.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub six_times_bore_mm: Option<f64>,
    /// How far a part must move, or the hose bow, to be put on.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub must_move_mm: Option<f64>,
}

/// A size that could not serve.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct RejectedReport {
    /// Bore.
    pub bore_mm: f64,
    /// Outside diameter.
    pub outside_mm: f64,
    /// The size as it is asked for.
    pub sold_as: String,
    /// The finding that rules it out.
    pub finding: FindingReport,
}

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
        remedies: Vec::new(),
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
    CandidateReport {
        hose: tell_hose(hose),
        verdict: candidate.verdict().name().to_owned(),
        headline: headline(candidate),
        why_behind: behind.to_owned(),
        cut_window_mm: candidate.sound.first().copied().map(pair),
        more_windows_mm: candidate.sound.iter().skip(1).copied().map(pair).collect(),
        calm_window_mm: candidate.calm.map(pair),
        shorter_fails: candidate.outside[0].as_ref().map(tell_finding),
        longer_fails: candidate.outside[1].as_ref().map(tell_finding),
        cut_mm: tenth(candidate.cut.as_mm()),
        chance: None,
        nearest: candidate.nearest,
        lie: candidate.lie.as_ref().map(|lie| tell_lie(lie, run, hose)),
        ways: candidate.ways,
        marks: marks(run, candidate.cut),
        buy: buy(candidate.cut),
        clamps: [("A", &run.from), ("B", &run.to)]
            .into_iter()
            .flat_map(|(end, spigot)| tell_clamps(end, spigot, hose, stock))
            .collect(),
        cut_window_if_half_as_stiff_mm: candidate.if_stiffness[0].map(pair),
        cut_window_if_twice_as_stiff_mm: candidate.if_stiffness[1].map(pair),
        findings: candidate.findings.iter().map(tell_finding).collect(),
    }
}

/// The worst verdict in words. "Fits" is never said alone while rocking, or heat beside something hot, is unchecked.
fn headline(candidate: &Candidate) -> String {
    let of = |verdict: Verdict| candidate.findings.iter().filter(move |finding| finding.verdict == verdict);
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
    let standing = format!("Fits standing still; rocking not checked{heat}");
    match of(Verdict::Warn).next() {
        Some(warn) => format!("{standing}. Mind: {}.", told(warn)),
        None => format!("{standing}."),
    }
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
    let step = (lie.points().len() - 1) / (POINTS - 1);
    let (a, b) = (lie.points()[0], lie.point_at(lie.length()));
    let line = (b - a).direction().unwrap_or(shape::Vec3::ZERO);
    let bow = lie.points().iter().map(|p| (*p - a).across(line).norm()).fold(0.0, f64::max);
    let inside = |curvature: f64| thousandth(limit.inside(curvature).min(2000.0));
    let places = places(lie.length(), [run.from.seat.as_mm(), run.to.seat.as_mm()]);
    LieReport {
        free_mm: thousandth(lie.length()),
        points_mm: lie.points().iter().step_by(step).map(|p| [p.x, p.y, p.z].map(thousandth)).collect(),
        bend_inside_mm: (0..POINTS)
            .map(|k| inside(lie.curvature_at(lie.length() * k as f64 / (POINTS - 1) as f64)))
            .collect(),
        tightest_bend_mm: thousandth(limit.inside(lie.peak().curvature)),
        at_mm: thousandth(lie.peak().at),
        bow_mm: thousandth(bow),
        bend_fails_below_mm: limit.fail.map(thousandth),
        bend_warns_below_mm: limit.warn.map(thousandth),
        gaps: run.neighbours.iter().map(|thing| tell_gap(lie, run, hose, thing, &places)).collect(),
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
