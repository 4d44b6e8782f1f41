//! Where no length works, or the chance is low: what would help, each laid and judged like the run itself.
//!
//! Nothing here is guessed: a remedy is told only if a length of it passes every check that the run fails. The least work
//! comes first. What was measured is kept: a remedy adds to the run, and taking it away again gives the run as it was.

use super::candidates::{Candidate, candidates};
use super::cut_window::bow;
use super::fitting::Fitting;
use super::path::bent_hose;
use crate::Run;
use crate::accept::{Elbow, stand_elbow};
use crate::run::Clip;
use checks::{Check, Conditions, Cover, Finding, MountedOn, Neighbour, Spigot, Unit, Verdict};
use quantity::{Angle, Basis, Length, Source, Sourced};
use shape::{Guide, Path, Vec3};
use stock::{Hose, Stock};

/// Steps in which a spigot is turned, degrees; our choice: about as near as one sets it by eye.
const TURN_STEP: u32 = 15;
/// Bends of elbows that any shop has, degrees; common practice.
const ELBOW_BENDS: [f64; 2] = [90.0, 45.0];
/// Legs of an elbow, and the radius to its inside, in bores. Our choice until it is measured.
const ELBOW_LEG: f64 = 2.5;
const ELBOW_INSIDE: f64 = 1.0;
/// The tightest bend asked of wire-supported hose, in bores; tighter is not sold. Our choice.
const WIRE_LEAST: f64 = 1.5;
/// A shield stands so far off what is hot, mm; our choice.
const SHIELD_OFF: f64 = 20.0;
/// A clip is set so much further from a thing than is wanted, mm; our choice.
const CLIP_FURTHER: f64 = 15.0;
/// A clip must leave no more than this part of the sag; our choice.
const HANGS_LESS: f64 = 0.7;
/// Halvings in the search for the widest bend radius that still does.
const HALVINGS: u32 = 6;
/// A remedy for a run that works but forgives little must give at least so much more room.
const MORE_ROOM: f64 = 1.5;

/// Something that would help.
#[derive(Clone, Debug)]
pub(crate) struct Remedy {
    pub(crate) what: What,
    /// The run with it, and the hose laid on that; a bent hose is not laid.
    pub(crate) laid: Option<(Run, Candidate)>,
}

/// What is done, the least work first.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum What {
    /// It is led to lie another way.
    OtherWay { bows: Vec3 },
    /// A heat sleeve over the hose.
    Sleeve,
    /// A flat shield before this hot thing, so far off its surface, mm.
    Shield { thing: usize, off: f64 },
    /// A spigot that can be turned is turned.
    Turn { end: usize, degrees: f64 },
    /// Hose on wire, that may be bent to this radius to the inside, mm.
    Wire { inside: f64 },
    /// A P-clip on the body at this place.
    Clip { at: Vec3 },
    /// Elbows with joiners, on the ends named.
    Elbows(Vec<(usize, Elbow)>),
    /// A bent hose, picked from a rack and trimmed.
    Bent(Path),
}

/// Tries remedies for a run with its best candidate.
struct Trial<'a> {
    run: &'a Run,
    conditions: &'a Conditions,
    stock: &'a Stock,
    best: &'a Candidate,
}

/// What would help, the least work first. Where lengths work and forgive enough, only a sleeve and a shield are tried, if the
/// skin gets hot, and a clip, if the hose hangs.
pub(crate) fn remedies(
    run: &Run,
    conditions: &Conditions,
    stock: &Stock,
    best: &Candidate,
    works: bool,
) -> Vec<Remedy> {
    let trial = Trial { run, conditions, stock, best };
    let mut found = trial.against_heat();
    if works {
        found.extend(trial.clip());
        return found;
    }
    found.extend(trial.other_ways());
    found.extend(trial.turns());
    found.extend(trial.wire());
    found.extend(trial.clip());
    found.extend(trial.elbows());
    found.extend(bent_hose(run, &best.hose).map(|path| Remedy { what: What::Bent(path), laid: None }));
    found
}

fn warns(candidate: &Candidate) -> usize {
    candidate.at.findings.iter().filter(|finding| finding.verdict == Verdict::Warn).count()
}

/// How far it hangs below both ends, mm.
fn sag(candidate: &Candidate) -> f64 {
    let found = candidate.at.findings.iter().find(|finding| finding.check == Check::Sag);
    found.and_then(|finding| finding.actual).unwrap_or(0.0)
}

/// The way from a thing at a place near it: where the distance grows fastest.
fn away_from(thing: &Neighbour, p: Vec3) -> Option<Vec3> {
    const STEP: f64 = 0.5;
    let slope = |way: Vec3| thing.distance(p + way * STEP) - thing.distance(p - way * STEP);
    let [x, y, z] = [Vec3::new(1.0, 0.0, 0.0), Vec3::new(0.0, 1.0, 0.0), Vec3::new(0.0, 0.0, 1.0)].map(slope);
    Vec3::new(x, y, z).direction()
}

impl Trial<'_> {
    /// The run changed, with the same hose, if a length of it passes and gives more room than there was.
    fn tried(&self, what: What, change: impl FnOnce(&mut Run)) -> Option<Remedy> {
        self.tried_with(&self.best.hose, what, change)
    }

    fn tried_with(&self, hose: &Hose, what: What, change: impl FnOnce(&mut Run)) -> Option<Remedy> {
        let mut run = Run { hose: Some(hose.clone()), ..self.run.clone() };
        change(&mut run);
        if !Fitting::new(&run, self.conditions, self.stock, hose).may_pass() {
            return None;
        }
        let candidate = candidates(&run, self.conditions, self.stock).0.pop()?;
        let room = |candidate: &Candidate| candidate.sound.first().map_or(0.0, |window| window.width().as_mm());
        let more_room = room(&candidate) > MORE_ROOM * room(self.best);
        let hangs_less = sag(&candidate) < HANGS_LESS * sag(self.best) && warns(&candidate) <= warns(self.best);
        let calmer = !self.best.sound.is_empty() && (warns(&candidate) < warns(self.best) || hangs_less);
        let helps = candidate.verdict() != Verdict::Fail && (more_room || calmer);
        helps.then_some(Remedy { what, laid: Some((run, candidate)) })
    }

    /// A sleeve, and a shield before the thing beside which the skin gets too hot, or nearly.
    fn against_heat(&self) -> Vec<Remedy> {
        let hot = |f: &&Finding| f.verdict >= Verdict::Warn && f.unit == Unit::Celsius && !f.about.is_empty();
        let Some(worst) = self.best.at.findings.iter().filter(hot).max_by_key(|f| f.verdict) else { return Vec::new() };
        let bare = self.run.cover == Cover::Bare;
        let sleeve = bare.then(|| self.tried(What::Sleeve, |run| run.cover = Cover::NewSleeve)).flatten();
        let open = |thing: &Neighbour| thing.name == worst.about && thing.shield.is_none();
        let thing = self.run.neighbours.iter().position(open);
        let shield = thing.and_then(|thing| {
            self.tried(What::Shield { thing, off: SHIELD_OFF }, |run| {
                run.neighbours[thing].shield = Some(Length::mm(SHIELD_OFF));
            })
        });
        sleeve.into_iter().chain(shield).collect()
    }

    /// A clip where the hose comes too near something, as much further off as it wants; or half way where it hangs.
    fn clip(&self) -> Option<Remedy> {
        let lie = self.best.at.lie()?;
        let findings = &self.best.at.findings;
        let too_near = findings.iter().find(|f| {
            f.verdict == Verdict::Fail
                && matches!(f.check, Check::Standoff | Check::Rock)
                && f.unit == Unit::Millimetre
                && f.at.is_some()
        });
        let thing = too_near.and_then(|f| self.run.neighbours.iter().find(|thing| thing.name == f.about));
        let hangs = |f: &&Finding| f.verdict == Verdict::Warn && matches!(f.check, Check::Sag | Check::Support);
        let at = match (too_near, thing, findings.iter().find(hangs)) {
            (Some(near), Some(thing), _) => {
                let p = lie.point_at(near.at?);
                let lacks = near.allowed? - near.actual? + CLIP_FURTHER;
                p + away_from(thing, p)? * lacks
            }
            (_, _, Some(_)) if self.run.clips.is_empty() => {
                let ends = self.run.ends();
                (ends.a + ends.b) * 0.5
            }
            _ => return None,
        };
        let at = Vec3::from(<[f64; 3]>::from(at).map(f64::round));
        let guide = Guide { at, direction: None };
        let along = |p: Vec3| {
            let ends = self.run.ends();
            (p - ends.a).dot(ends.b - ends.a)
        };
        self.tried(What::Clip { at }, |run| {
            let place = run.clips.partition_point(|clip| along(clip.guide.at) < along(at));
            run.clips.insert(place, Clip { holds: "P-clip".to_owned(), guide, on: MountedOn::Body });
        })
    }

    /// One of the ways in which it lies, taken alone: the hose is led to lie so.
    fn other_ways(&self) -> Vec<Remedy> {
        if self.best.at.ways.len() < 2 || self.run.bows.is_some() {
            return Vec::new();
        }
        let ways = self.best.at.ways.iter().map(|way| bow(&way.lie));
        ways.filter_map(|bows| self.tried(What::OtherWay { bows }, |run| run.bows = Some(bows))).collect()
    }

    /// The smallest turn of each spigot that can be turned.
    fn turns(&self) -> Vec<Remedy> {
        let turn = |end: usize| {
            let about = self.end(end).turns?;
            let steps = (1..=180 / TURN_STEP).flat_map(|k| [f64::from(k * TURN_STEP), -f64::from(k * TURN_STEP)]);
            steps.into_iter().find_map(|degrees| {
                let radians = Angle::degrees(degrees).as_radians();
                let (sin, cos) = (libm::sin(radians), libm::cos(radians));
                self.tried(What::Turn { end, degrees }, |run| {
                    let spigot = run.end_mut(end);
                    spigot.points = spigot.points.turned_about(about, sin, cos);
                })
            })
        };
        [0, 1].into_iter().filter_map(turn).collect()
    }

    fn end(&self, end: usize) -> &Spigot {
        if end == 0 { &self.run.from } else { &self.run.to }
    }

    /// The widest bend radius of a hose on wire that does, where it is the bend that fails.
    fn wire(&self) -> Option<Remedy> {
        let bends = |check: Check| matches!(check, Check::Kink | Check::SpigotMouth | Check::Rock | Check::Reach);
        let hose = &self.best.hose;
        let fails = self.best.at.findings.iter().any(|f| f.verdict == Verdict::Fail && bends(f.check));
        let limit = checks::KinkLimit::of(hose).fail?;
        if !fails || hose.wire_supported {
            return None;
        }
        let on_wire = |inside: f64| {
            let least =
                Sourced::new(Length::mm(inside), Source::new("the least bend radius looked for", Basis::OurChoice));
            let hose =
                Hose { wire_supported: true, least_bend_inside: Some(least), creases_at_inside: None, ..hose.clone() };
            self.tried_with(&hose, What::Wire { inside }, |_| {})
        };
        let (mut lo, mut hi) = (WIRE_LEAST * hose.bore.as_mm(), limit);
        let mut best = on_wire(lo)?;
        for _ in 0..HALVINGS {
            let middle = (0.5 * (lo + hi)).floor();
            match on_wire(middle) {
                Some(found) => (lo, best) = (middle, found),
                None => hi = middle,
            }
        }
        Some(best)
    }

    /// An elbow with a joiner at one end; at both where one does not do.
    fn elbows(&self) -> Option<Remedy> {
        let bore = self.best.hose.bore.as_mm();
        let (a, b) = (&self.run.from, &self.run.to);
        // Towards the other mouth, away from it, and to both sides.
        let ways = |end: usize| {
            let (own, other) = if end == 0 { (a, b) } else { (b, a) };
            let to = (other.mouth - own.mouth).across(own.points).direction().unwrap_or_else(|| own.points.frame().0);
            let side = own.points.cross(to);
            [to, side, -side, -to]
        };
        let elbow = |towards: Vec3, bend: f64| Elbow {
            leg: ELBOW_LEG * bore,
            bend: Angle::degrees(bend),
            towards,
            inside: ELBOW_INSIDE * bore,
            far_leg: ELBOW_LEG * bore,
        };
        let with = |elbows: Vec<(usize, Elbow)>| {
            self.tried(What::Elbows(elbows.clone()), |run| {
                for (end, elbow) in &elbows {
                    let spigot = run.end_mut(*end);
                    *spigot = stand_elbow(spigot, elbow, Length::mm(bore));
                }
            })
        };
        // What warns least, and of those the shortest hose: a loop round the elbow would do, too.
        let worries = |remedy: &Remedy| {
            remedy.laid.as_ref().map_or((usize::MAX, Length::ZERO), |(_, candidate)| (warns(candidate), candidate.cut))
        };
        let mut one = Vec::new();
        for end in [0, 1] {
            for bend in ELBOW_BENDS {
                one.extend(ways(end).into_iter().filter_map(|towards| with(vec![(end, elbow(towards, bend))])));
            }
        }
        let one = one.into_iter().reduce(|a, b| if worries(&b) < worries(&a) { b } else { a });
        // Two are more work: they must save a warning, or half the hose.
        let both = |bend: f64| with(vec![(0, elbow(ways(0)[0], bend)), (1, elbow(ways(1)[0], bend))]);
        let two = ELBOW_BENDS.into_iter().find_map(both);
        match (one, two) {
            (Some(one), Some(two)) => {
                let ((warns, cut), (both_warn, both_cut)) = (worries(&one), worries(&two));
                Some(if both_warn < warns || both_cut < cut * 0.5 { two } else { one })
            }
            (one, two) => one.or(two),
        }
    }
}
