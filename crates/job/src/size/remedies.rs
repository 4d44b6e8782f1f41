//! Where no length works, or the chance is low: what would help, each laid and judged like the run itself.
//!
//! Nothing here is guessed: a remedy is told only if a length of it passes every check that the run fails. The least work
//! comes first. What was measured is kept: a remedy adds to the run, and taking it away again gives the run as it was.

use super::candidates::{Candidate, candidates};
use super::cut_window::bow;
use super::fitting::Fitting;
use crate::Run;
use crate::accept::{Elbow, stand_elbow};
use checks::{Check, Conditions, Spigot, Verdict};
use quantity::{Angle, Basis, Length, Source, Sourced};
use shape::Vec3;
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
/// Halvings in the search for the widest bend radius that still does.
const HALVINGS: u32 = 6;
/// A remedy for a run that works but forgives little must give at least so much more room.
const MORE_ROOM: f64 = 1.5;

/// Something that would help.
#[derive(Clone, Debug)]
pub(crate) struct Remedy {
    pub(crate) what: What,
    /// The run with it.
    pub(crate) run: Run,
    /// The hose laid on that.
    pub(crate) candidate: Candidate,
}

/// What is done, the least work first.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum What {
    /// It is led to lie another way.
    OtherWay { bows: Vec3 },
    /// A spigot that can be turned is turned.
    Turn { end: usize, degrees: f64 },
    /// Hose on wire, that may be bent to this radius to the inside, mm.
    Wire { inside: f64 },
    /// Elbows with joiners, on the ends named.
    Elbows(Vec<(usize, Elbow)>),
}

/// Tries remedies for a run with its best candidate.
struct Trial<'a> {
    run: &'a Run,
    conditions: &'a Conditions,
    stock: &'a Stock,
    best: &'a Candidate,
}

/// What would help, the least work first.
pub(crate) fn remedies(run: &Run, conditions: &Conditions, stock: &Stock, best: &Candidate) -> Vec<Remedy> {
    let trial = Trial { run, conditions, stock, best };
    let mut found = trial.other_ways();
    found.extend(trial.turns());
    found.extend(trial.wire());
    found.extend(trial.elbows());
    found
}

impl Trial<'_> {
    /// The run changed, with the same hose, if a length of it passes and gives more room than there was.
    fn tried(&self, what: What, change: impl FnOnce(&mut Run)) -> Option<Remedy> {
        self.tried_with(&self.best.hose, what, change)
    }

    fn tried_with(&self, hose: &Hose, what: What, change: impl FnOnce(&mut Run)) -> Option<Remedy> {
        let mut run = Run { hose: Some(hose.clone()), try_cut: None, ..self.run.clone() };
        change(&mut run);
        if !Fitting::new(&run, self.conditions, self.stock, hose).may_pass() {
            return None;
        }
        let candidate = candidates(&run, self.conditions, self.stock).0.pop()?;
        let room = |candidate: &Candidate| candidate.sound.first().map_or(0.0, |window| window.width().as_mm());
        let helps = candidate.verdict() != Verdict::Fail && room(&candidate) > MORE_ROOM * room(self.best);
        helps.then_some(Remedy { what, run, candidate })
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
            let warns = remedy.candidate.at.findings.iter().filter(|f| f.verdict == Verdict::Warn).count();
            (warns, remedy.candidate.cut)
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
