//! From solved runs to the report: every number rounded as it is told, every verdict in words.

mod lie;
mod remedy;

use crate::car::cuts::tell_cuts;
use crate::car::shopping::tell_shopping;
use crate::car::to_close;
use crate::refill::{self, Refill};
use crate::report::{
    AdviceReport, BendReport, CandidateReport, ClampReport, ClipReport, Extra, FindingReport, HoseReport, LieReport,
    REPORT_VERSION, RejectedReport, Report, RunReport, WantedReport, WayReport,
};
use crate::size::{Candidate, Chances, Rejected, Wanted, bow, buy, marks, why_behind};
use crate::solve::{GOOD_CHANCE, SolvedRun};
use crate::{Job, Run};
use checks::{Advice, Check, ClampChoice, Conditions, Finding, Spigot, Unit, Verdict, clamps_for_ends};
use lie::{POINTS, tell_heat, tell_lie, tell_rests, told_points};
use quantity::{Angle, Basis, Length, Source, Window};
use remedy::tell_remedy;
use shape::{Guide, Vec3};
use stock::{ClampKind, Hose, Stock};

/// What stands beside every answer.
const CAUTIONS: [&str; 5] = [
    "This is an estimate: offer the hose up before you cut it.",
    "Never open a hot cooling system: let it cool, then turn the cap slowly.",
    "Coolant is poisonous and tastes sweet to animals: catch it, and dispose of it as your local rules say.",
    "Engine off and cold; keep hands and hose away from belts and fans; if you go under the car, support it on stands.",
    "When in doubt, ask a licensed mechanic.",
];

pub(crate) fn tell(solved: &[SolvedRun], job: &Job, stock: &Stock) -> Report {
    let cuts = tell_cuts(solved, job);
    Report {
        format: "hosewright-report".to_owned(),
        version: REPORT_VERSION,
        problems: Vec::new(),
        runs: solved.iter().map(|run| tell_run(run, job, stock)).collect(),
        coolant: refill::coolant(job),
        refill: job.refill.as_ref().and_then(Refill::told),
        shopping: tell_shopping(solved, cuts.as_ref(), job, stock, to_close(&job.closures(stock))),
        cuts,
        circuit: None,
        closures: None,
        order: None,
        fill: None,
    }
}

fn tell_run(solved: &SolvedRun, job: &Job, stock: &Stock) -> RunReport {
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
                tell_candidate(solved, candidate, behind, &job.conditions, stock)
            })
            .collect(),
        rejected: solved.rejected.iter().map(tell_rejected).collect(),
        remedies: solved.remedies.iter().map(|remedy| tell_remedy(remedy, run)).collect(),
        wanted: solved.wanted.as_ref().map(|wanted| tell_wanted(wanted, run)),
        turned_round: solved.turned_round.map(str::to_owned),
        advice: first.map_or(Vec::new(), |best| {
            let said = checks::advice(&best.hose, &run.neighbours, run.oil);
            said.into_iter().map(tell_advice).collect()
        }),
        assumed: run.assumed.clone(),
        cautions: CAUTIONS.map(str::to_owned).to_vec(),
    }
}

fn tell_advice(advice: Advice) -> AdviceReport {
    let Source { what, basis } = advice.source;
    AdviceReport { what: advice.what.to_owned(), source: what.into_owned(), basis: basis.as_str().to_owned() }
}

fn pair(window: Window<Length>) -> [f64; 2] {
    [window.least().as_mm(), window.greatest().as_mm()].map(tenth)
}

/// A length as it is told: to a tenth of a millimetre, no tape shows more.
pub(crate) fn tenth(mm: f64) -> f64 {
    (mm * 10.0).round() / 10.0
}

/// A measured number as it is told: to a thousandth.
fn thousandth(x: f64) -> f64 {
    // A sum of nothing is -0.
    (x * 1000.0).round() / 1000.0 + 0.0
}

/// A number that is some hundredths, as it is told.
fn millionth(x: f64) -> f64 {
    (x * 1e6).round() / 1e6
}

fn tell_candidate(
    solved: &SolvedRun,
    candidate: &Candidate,
    behind: &str,
    conditions: &Conditions,
    stock: &Stock,
) -> CandidateReport {
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
        lie: candidate.at.lie().map(|lie| LieReport {
            rests: tell_rests(candidate, run),
            heat: tell_heat(run, conditions, stock, (hose, lie), behind.is_empty()),
            ..tell_lie(lie, run, hose)
        }),
        ways: candidate.at.ways.iter().filter(|way| way.of_itself).count(),
        ways_to_lie: tell_ways(candidate),
        marks: marks(run, candidate.cut),
        buy: buy(candidate.cut),
        clamps: [("A", &run.from), ("B", &run.to)]
            .into_iter()
            .zip(clamps_for_ends([&run.from, &run.to], hose, stock))
            .flat_map(|((end, spigot), choices)| tell_clamps(end, spigot, choices))
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

pub(crate) fn tell_hose(hose: &Hose) -> HoseReport {
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

fn tell_clamps(end: &str, spigot: &Spigot, choices: Vec<ClampChoice<'_>>) -> Vec<ClampReport> {
    choices
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
            again_nm: choice.again.map(|torque| torque.torque.as_nm()),
            again_plus_minus_nm: choice.again.map(|torque| torque.plus_minus.as_nm()),
            follows: choice.clamp.kind == ClampKind::SpringBand,
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

/// Numbers that have a field of their own, or are for the headline alone.
const APART: [&str; 9] = [
    "kink_radius_centre_mm",
    "flattening_percent",
    "six_times_bore_mm",
    "must_move_mm",
    "rock_x_mm",
    "rock_y_mm",
    "rock_z_mm",
    "rock_turn_deg",
    "hot_things",
];

/// Its further numbers, in the order of their names.
fn tell_extra(finding: &Finding) -> Extra {
    let mut told: Vec<(String, f64)> = Vec::new();
    for (name, x) in finding.extra.iter().filter(|(name, _)| !APART.contains(name)) {
        let number = if *name == "friction_factor" { millionth(*x) } else { thousandth(*x) };
        told.insert(told.partition_point(|(known, _)| known.as_str() < name), ((*name).to_owned(), number));
    }
    Extra(told)
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
        extra: tell_extra(finding),
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
