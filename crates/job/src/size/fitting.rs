//! One run with one hose: its lengths that work, standing and rocking, and every way it lies at one of them.

use super::cut_window::{LED_ROUND, SNAP, Windows, bow, turned, windows, windows_inside};
use super::judge::{Judged, Margin, Wanted};
use super::lay::Lay;
use super::rocked::{Followed, Rocked};
use crate::Run;
use checks::{Check, Conditions, Cover, Finding, Kind, Laid, Reading, Verdict};
use quantity::{Length, Window};
use shape::{Contact, Lie, NoShape, Section, Solver, Vec3};
use stock::{Hose, Stock};

/// Lengths of a quick look: what works over less than a twentieth of the straight distance may be missed.
const LOOKS: u32 = 40;
/// Steps to one tape error off.
const SNAP_STEPS: u32 = 4;
/// A distance limit of nothing (do not touch) is measured against this; our choice.
const TOUCH_SCALE: f64 = 12.0;

/// The margin of a skin that no heat reaches.
const COOL: Margin = Margin { fail: 1e6, warn: 1e6 };

/// One run with one hose, ready to be asked.
pub(super) struct Fitting<'a> {
    run: &'a Run,
    conditions: &'a Conditions,
    stock: &'a Stock,
    hose: &'a Hose,
    pub(super) bore: Option<Window<Length>>,
    pub(super) lay: Lay,
    rocked: Rocked,
}

impl<'a> Fitting<'a> {
    pub(super) fn new(run: &'a Run, conditions: &'a Conditions, stock: &'a Stock, hose: &'a Hose) -> Self {
        // The bore of one's own hose was measured; of any other only its nominal size is known.
        let bore = if hose.own { None } else { stock.bore_limits(hose.bore).map(|limits| limits.value) };
        let weight = Vec3::new(0.0, 0.0, -hose.filled_weight_per_mm());
        let section = Section { stiffness: hose.bend_stiffness(), weight };
        let lay = Lay::new(run, section, hose.outside.as_mm() / 2.0);
        let rocked = Rocked::new(run, &lay);
        Self { run, conditions, stock, hose, bore, lay, rocked }
    }

    pub(super) fn laid<'b>(&'b self, lie: &'b Lie) -> Laid<'b> {
        Laid {
            from: &self.run.from,
            to: &self.run.to,
            neighbours: &self.run.neighbours,
            conditions: self.conditions,
            side: self.run.side,
            flow_can_stop: self.run.flow_can_stop,
            cover: self.run.cover,
            replaced: self.run.replaced,
            hose: self.hose,
            bore: self.bore,
            stock: self.stock,
            pose: None,
            lie,
        }
    }

    /// The lie while the second end is put on, if the hose must bow for it and can.
    fn bowed(&self, solver: &mut Solver, lie: &Lie) -> Option<Lie> {
        let more = checks::must_bow(&self.run.from, &self.run.to).filter(|more| *more > Length::ZERO)?;
        self.lay.near(solver, lie, lie.length() + more.as_mm()).ok()
    }

    /// The margins of a lie while nothing rocks.
    fn standing(&self, solver: &mut Solver, lie: &Lie, readings: &mut Vec<Reading>, out: &mut Vec<Margin>) {
        let bowed = self.bowed(solver, lie);
        checks::readings(&self.laid(lie), bowed.as_ref(), readings);
        out.extend(readings.iter().map(margin));
        let must_bow = checks::must_bow(&self.run.from, &self.run.to).is_some_and(|more| more > Length::ZERO);
        if must_bow && bowed.is_none() {
            out.push(Margin { fail: -1.0, warn: -1.0 });
        }
    }

    /// The lengths that work while nothing rocks, whatever the heat: the same for all hoses of a size.
    pub(super) fn still(&self) -> Windows {
        let mut readings = Vec::new();
        windows(&self.lay, self.run.bows, |solver: &mut Solver, lie: &Lie, _: Option<Wanted<'_>>, out: &mut Judged| {
            let out = &mut out.margins;
            self.standing(solver, lie, &mut readings, out);
            let hot = readings.iter().zip(out).filter(|(reading, _)| reading.check == Check::Heat);
            hot.for_each(|(_, margin)| *margin = COOL);
        })
    }

    /// Of those the lengths that work with the heat too, and rocking; and whether the heat had a say in them. What fails
    /// standing still is not rocked. `followed` is shared by all hoses of a size.
    pub(super) fn windows(&self, still: &Windows, followed: &mut Followed) -> (Windows, bool) {
        let is_hot = self.run.neighbours.iter().any(|thing| matches!(thing.kind, Kind::Hot(Some(_))));
        if (self.rocked.is_empty() && !is_hot) || still.sound.is_empty() {
            return (still.clone(), false);
        }
        let (mut readings, mut hot) = (Vec::new(), false);
        let windows = windows_inside(
            &self.lay,
            self.run.bows,
            &still.sound,
            |solver: &mut Solver, lie: &Lie, wanted: Option<Wanted<'_>>, out: &mut Judged| {
                self.standing(solver, lie, &mut readings, &mut out.margins);
                hot |= has_a_say(&readings, &out.margins);
                // What is wanted standing still need not be rocked.
                if wanted.is_none_or(|wanted| wanted.reading >= out.margins.len()) {
                    hot |= self.rocked.margins(solver, &self.laid(lie), wanted, followed, out);
                }
            },
        );
        (windows, hot)
    }

    /// Whether some length may pass, standing still: a quick look at one lie of each of a few lengths.
    pub(super) fn may_pass(&self) -> bool {
        let chord = self.lay.chord();
        let (mut solver, mut readings, mut margins) = (Solver::new(), Vec::new(), Vec::new());
        let mut here: Option<Lie> = None;
        (0..LOOKS).any(|k| {
            let length = chord * (1.0 + 2.0 * f64::from(LOOKS - k) / f64::from(LOOKS));
            let near = here.as_ref().and_then(|here| self.lay.near(&mut solver, here, length).ok());
            here = near.or_else(|| self.lay.any(&mut solver, length).ok());
            let Some(lie) = &here else { return false };
            margins.clear();
            self.standing(&mut solver, lie, &mut readings, &mut margins);
            margins.iter().all(|margin| margin.fail >= 0.0)
        })
    }

    /// The same hose with another stiffness.
    pub(super) fn stiffer(&self, factor: f64) -> Self {
        let section = Section { stiffness: self.lay.section.stiffness * factor, ..self.lay.section };
        let lay = Lay { section, ..self.lay.clone() };
        let rocked = Rocked::new(self.run, &lay);
        Self { lay, rocked, ..*self }
    }

    /// Every way the hose lies at a free length, lowest energy first, and which of them is told: the one picked, else of
    /// those in which it would lie of itself the one that does worst.
    pub(super) fn at(&self, free: f64) -> At {
        let mut solver = Solver::new();
        let lies = match self.lay.lies(&mut solver, free) {
            Ok(lies) => lies,
            Err(why) => {
                let mut findings = vec![Finding::no_lie(why, free, self.lay.chord())];
                findings.extend(checks::before_it_lies(&self.run.from, &self.run.to, self.hose, self.bore));
                return At { ways: Vec::new(), told: 0, contacts: Vec::new(), findings };
            }
        };
        let least = lies.iter().map(Lie::bending_energy).fold(f64::INFINITY, f64::min);
        let mut told = (0, (f64::INFINITY, f64::INFINITY));
        let mut ways = Vec::new();
        for (k, lie) in lies.into_iter().enumerate() {
            let of_itself = lie.bending_energy() <= LED_ROUND * least;
            let rank = match self.run.bows {
                Some(bows) => ((bow(&lie) - bows).norm(), 0.0),
                None if !of_itself => (f64::INFINITY, f64::INFINITY),
                None => {
                    let mut judged = Judged::default();
                    self.standing(&mut solver, &lie, &mut Vec::new(), &mut judged.margins);
                    self.rocked.margins(&mut solver, &self.laid(&lie), None, &mut Followed::default(), &mut judged);
                    // A lie that passes is as good as another that passes: only what it falls short by counts.
                    judged
                        .margins
                        .iter()
                        .fold((0.0_f64, 0.0_f64), |worst, m| (worst.0.min(m.fail), worst.1.min(m.warn)))
                }
            };
            if rank < told.1 {
                told = (k, rank);
            }
            ways.push(Way { lie, of_itself, worst: None });
        }
        let told = told.0;
        let findings = self.findings(&mut solver, &ways[told].lie);
        if ways.len() > 1 {
            for way in &mut ways {
                let found = self.findings(&mut solver, &way.lie);
                way.worst = found.into_iter().filter(|f| f.verdict != Verdict::NotChecked).reduce(worse);
            }
        }
        let contacts = self.lay.contacts(&mut solver, &ways[told].lie);
        At { ways, told, contacts, findings }
    }

    /// Whether the lie that is told stays as it is when leant on, and when the cut is off by the tape error; nothing to find
    /// where no other was found.
    pub(super) fn snap(&self, at: &At) -> Option<Finding> {
        let lie = at.lie()?;
        let ways = at.ways.len();
        if ways < 2 || !self.lay.solids.is_empty() {
            return Some(checks::snap_finding(ways, false, false));
        }
        let mut solver = Solver::new();
        let length = lie.length();
        let tape = self.run.errors.tape;
        let ends = [-tape, tape].into_iter().any(|off| {
            let steps = (1..=SNAP_STEPS).map(|k| length + off * f64::from(k) / f64::from(SNAP_STEPS));
            let mut here = lie.clone();
            steps.into_iter().any(|length| match self.lay.near(&mut solver, &here, length) {
                Ok(next) if turned(&here, &next) <= SNAP => {
                    here = next;
                    false
                }
                // Out of reach, or too tight, is for other checks to say.
                Err(NoShape::TooShort | NoShape::TooTight) => false,
                _ => true,
            })
        });
        // A hose held by clips, or against something, is not leant on.
        let Lay { ends: mouths, guides, solids, section, .. } = &self.lay;
        let leaves = guides.is_empty()
            && solids.is_empty()
            && solver.leaves_when_pushed(lie, mouths, length, section, checks::LEANT_ON);
        Some(checks::snap_finding(ways, leaves, ends))
    }

    /// Everything found about one lie.
    fn findings(&self, solver: &mut Solver, lie: &Lie) -> Vec<Finding> {
        let bowed = self.bowed(solver, lie);
        let laid = self.laid(lie);
        let mut findings = checks::all(&laid, bowed.as_ref());
        if self.rocked.is_empty() {
            findings.push(checks::no_rock(self.run.rock.as_ref(), self.run.moves_together));
        } else {
            findings.extend(self.rocked.findings(solver, &laid));
        }
        findings
    }
}

/// The skin beside every thing at so many places along the hose, °C; nothing beside one whose temperature is not known.
pub(crate) fn skin_along(
    run: &Run,
    conditions: &Conditions,
    stock: &Stock,
    (hose, lie): (&Hose, &Lie),
    places: &[f64],
    (cover, standing): (Cover, bool),
) -> Vec<Option<Vec<f64>>> {
    let fitting = Fitting::new(run, conditions, stock, hose);
    let laid = fitting.laid(lie);
    (0..run.neighbours.len()).map(|which| checks::skin_along(&laid, which, places, cover, standing)).collect()
}

/// The worse of two findings; of equals the first.
fn worse(a: Finding, b: Finding) -> Finding {
    if b.verdict > a.verdict { b } else { a }
}

/// One way in which the hose can lie.
#[derive(Clone, Debug)]
pub(crate) struct Way {
    pub(crate) lie: Lie,
    /// False if it would have to be led round on purpose to lie so.
    pub(crate) of_itself: bool,
    /// The worst thing found about it, where there are several ways.
    pub(crate) worst: Option<Finding>,
}

/// How the hose lies at one length.
#[derive(Clone, Debug)]
pub(crate) struct At {
    /// Every way, lowest energy first; none if it cannot lie at all.
    pub(crate) ways: Vec<Way>,
    /// Which of them is told.
    pub(crate) told: usize,
    /// Where it rests against what it may touch.
    pub(crate) contacts: Vec<Contact>,
    /// What is found about it.
    pub(crate) findings: Vec<Finding>,
}

impl At {
    /// The way that is told.
    pub(crate) fn lie(&self) -> Option<&Lie> {
        self.ways.get(self.told).map(|way| &way.lie)
    }
}

/// Whether one of the readings of heat warns or fails where nothing else fails. Margins beyond the readings are not looked at.
pub(super) fn has_a_say(readings: &[Reading], margins: &[Margin]) -> bool {
    let heat = |reading: &Reading| reading.check == Check::Heat;
    let both = || readings.iter().zip(margins);
    both().any(|(reading, margin)| heat(reading) && margin.warn.min(margin.fail) < 0.0)
        && both().all(|(reading, margin)| heat(reading) || margin.fail >= 0.0)
}

/// Margin of a reading relative to its limit.
pub(super) fn margin(reading: &Reading) -> Margin {
    let relative = |limit: Option<f64>| {
        limit.map_or(f64::INFINITY, |limit| {
            let scale = if limit > 0.0 { limit } else { TOUCH_SCALE };
            (reading.margin(limit) / scale).min(1e6)
        })
    };
    Margin { fail: relative(reading.bound.fail).min(1e6), warn: relative(reading.bound.warn).min(1e6) }
}
