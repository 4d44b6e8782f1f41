//! The run with the engine out of its place: laid again in every pose, and the worst of each reading.

use super::cut_window::{SNAP, turned};
use super::fitting::{has_a_say, margin};
use super::judge::{Judged, Margin, Wanted};
use super::lay::Lay;
use crate::Run;
use checks::{Finding, Laid, MountedOn, Pose, Reading, Spigot};
use shape::{Lie, Solver};

/// One pose: where it puts the spigots, and what is laid there.
#[derive(Clone, Debug)]
struct Posed {
    pose: Pose,
    from: Spigot,
    to: Spigot,
    lay: Lay,
    /// The same at rest.
    rest: Lay,
    /// Whether it moves the ends against each other or against the weight: a lie is the same in a pose that does not.
    moves_lie: bool,
}

/// A reading in its worst pose, with how bad it is there.
type Worst<'a> = Option<((f64, f64), Reading, &'a Posed)>;

/// Every pose of a run that rocks, none if it does not; and whether one way to lie was picked.
#[derive(Clone, Debug)]
pub(crate) struct Rocked(Vec<Posed>, bool);

/// Lies followed into every pose: hoses of one size share them, whatever their rubber bears.
#[derive(Debug, Default)]
pub(crate) struct Followed(Vec<Led>);

/// A lie at rest, by the bits of its length and energy, and where it comes to in each pose, with how much of the way it goes.
#[derive(Debug)]
struct Led {
    rest: [u64; 2],
    there: Vec<Option<(Lie, f64)>>,
}

/// Lies at rest that are kept; our choice: a search asks for some 150, and each takes some 3 kB in every pose.
const KEPT: usize = 400;

impl Followed {
    /// Where a lie at rest comes to in each of so many poses, as far as that is known.
    fn of(&mut self, rest: &Lie, poses: usize) -> &mut [Option<(Lie, f64)>] {
        let key = [rest.length(), rest.total_energy()].map(f64::to_bits);
        let k = self.0.iter().position(|known| known.rest == key).unwrap_or_else(|| {
            if self.0.len() == KEPT {
                self.0.clear();
            }
            self.0.push(Led { rest: key, there: vec![None; poses] });
            self.0.len() - 1
        });
        &mut self.0[k].there
    }
}

fn posed(spigot: &Spigot, pose: &Pose) -> Spigot {
    match spigot.on {
        MountedOn::Body => spigot.clone(),
        MountedOn::Engine => {
            Spigot { mouth: pose.moved(spigot.mouth), points: pose.turned(spigot.points), ..spigot.clone() }
        }
    }
}

impl Rocked {
    pub(crate) fn new(run: &Run, lay: &Lay) -> Self {
        let poses = run.rock.iter().filter(|_| !run.moves_together).flat_map(checks::Rock::poses);
        Self(poses.map(|pose| Posed::new(run, pose, lay)).collect(), run.bows.is_some())
    }

    pub(crate) fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// The worst margin of every reading over all poses, and at last that of staying in its way to lie; always the same ones
    /// in one order. True if the heat of the skin has a say in some pose.
    ///
    /// `laid` is the hose at rest. Of one reading that is wanted, poses are left out which beside are so much better than the
    /// worst that they cannot be the worst here.
    pub(crate) fn margins(
        &self,
        solver: &mut Solver,
        laid: &Laid<'_>,
        wanted: Option<Wanted<'_>>,
        followed: &mut Followed,
        out: &mut Judged,
    ) -> bool {
        if self.0.is_empty() {
            return false;
        }
        let mut hot = false;
        let begin = out.margins.len();
        let readings = checks::rocked_readings(laid);
        out.margins.resize(begin + readings + 1, GOOD);
        let worst = &mut out.margins[begin..];
        let may_be_worst = wanted.and_then(|wanted| may_be_worst(wanted.reading - begin, wanted));
        let mut here = Vec::new();
        for (k, (posed, there)) in self.0.iter().zip(followed.of(laid.lie, self.0.len())).enumerate() {
            if may_be_worst.as_ref().is_some_and(|may| !may[k]) {
                continue;
            }
            let how = posed.read(solver, laid, false, there, &mut here);
            let mut pose: Vec<Margin> = here.iter().map(margin).collect();
            hot |= has_a_say(&here, &pose);
            // Where it cannot be laid all is broken; where it jumps away, what it jumps into is judged by itself.
            pose.resize(readings, if how == How::Lost { BROKEN } else { GOOD });
            let stays = match how {
                How::Laid | How::Lost => GOOD,
                How::Jumps if self.is_judged_alone(solver, laid) => BROKEN,
                How::Jumps => Margin { fail: GOOD.fail, warn: -1.0 },
            };
            pose.push(stays);
            for (worst, m) in worst.iter_mut().zip(&pose) {
                *worst = Margin { fail: worst.fail.min(m.fail), warn: worst.warn.min(m.warn) };
            }
            out.poses.push(pose);
        }
        hot
    }

    /// Whether no other lie is judged beside this one: it was picked, or it is the only one. A hose through clips is taken so:
    /// to look for its other lies takes long, and one that jumps in its clips is not wanted.
    fn is_judged_alone(&self, solver: &mut Solver, laid: &Laid<'_>) -> bool {
        self.1
            || self.0.iter().any(|posed| posed.is_guided())
            || self
                .0
                .iter()
                .take(1)
                .all(|posed| posed.rest.lies(solver, laid.lie.length()).map_or(0, |lies| lies.len()) < 2)
    }

    /// What is found over all poses: each reading in its worst one. Where it does not reach, or cannot be laid, that is told
    /// alone: what was read in the other poses says nothing more.
    pub(crate) fn findings(&self, solver: &mut Solver, laid: &Laid<'_>) -> Vec<Finding> {
        let readings = checks::rocked_readings(laid);
        let mut worst: Vec<Worst<'_>> = vec![None; readings];
        let mut here = Vec::new();
        let (mut lost, mut jumps) = (None, None);
        for posed in &self.0 {
            match posed.read(solver, laid, true, &mut None, &mut here) {
                How::Laid => {}
                How::Lost => lost = Some(posed),
                How::Jumps => jumps = Some(posed),
            }
            for (worst, reading) in worst.iter_mut().zip(&here) {
                let Margin { fail, warn } = margin(reading);
                let rank = (fail.min(0.0), fail.min(warn));
                if worst.as_ref().is_none_or(|known| rank < known.0) {
                    *worst = Some((rank, *reading, posed));
                }
            }
        }
        let found = |(_, reading, posed): &(_, Reading, &Posed)| checks::rock_finding(laid, reading, &posed.pose);
        let out_of_reach = worst.first().iter().copied().flatten().find_map(found);
        if let Some(alone) = out_of_reach.or_else(|| lost.map(|posed| checks::lost_when_rocked(&posed.pose))) {
            return vec![alone];
        }
        let mut all: Vec<Finding> = worst.iter().flatten().filter_map(found).collect();
        if let Some(posed) = jumps {
            all.push(checks::jumps_when_rocked(&posed.pose, self.is_judged_alone(solver, laid)));
        }
        all
    }
}

/// How far between two lies a margin may be off the straight line from the one to the other, in the greatest difference that
/// it makes in any pose. Our choice: the search looks at lengths so close together that most lines are nearly straight.
const OFF_THE_LINE: f64 = 0.5;

/// In which poses a reading may be the worst at a lie between two that [`Rocked::margins`] judged; `None` if that cannot be
/// told.
fn may_be_worst(reading: usize, Wanted { beside, part, .. }: Wanted<'_>) -> Option<Vec<bool>> {
    let [a, b] = beside.map(|judged| &judged.poses);
    if a.is_empty() || a.len() != b.len() {
        return None;
    }
    let mut may = vec![false; a.len()];
    for of in [|margin: &Margin| margin.fail, |margin: &Margin| margin.warn] {
        let sides = || a.iter().zip(b).map(|(a, b)| (of(&a[reading]), of(&b[reading])));
        let line = |(a, b): (f64, f64)| a + part * (b - a);
        let worst = sides().map(line).fold(f64::INFINITY, f64::min);
        let off = OFF_THE_LINE * sides().map(|(a, b)| (b - a).abs()).fold(0.0, f64::max);
        may.iter_mut().zip(sides()).for_each(|(may, sides)| *may |= line(sides) <= worst + off);
    }
    Some(may)
}

/// Finite, so that an edge beside it can be told.
const GOOD: Margin = Margin { fail: 1.0, warn: 1.0 };
const BROKEN: Margin = Margin { fail: -1.0, warn: -1.0 };

/// How a lie gets into a pose.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum How {
    /// It changes smoothly.
    Laid,
    /// Its way to lie ceases to exist: it jumps into another.
    Jumps,
    /// None was found.
    Lost,
}

/// How often the way into a pose is halved before a jump of the lie is one.
const HALVINGS: u32 = 4;

impl Posed {
    /// `lay` is the run at rest.
    fn new(run: &Run, pose: Pose, lay: &Lay) -> Self {
        let (from, to) = (posed(&run.from, &pose), posed(&run.to, &pose));
        let there = lay.posed(run, Run::ends_of(&from, &to), &pose);
        Self { moves_lie: there.differs(lay), lay: there, rest: lay.clone(), pose, from, to }
    }

    fn is_guided(&self) -> bool {
        !self.lay.guides.is_empty()
    }

    /// The readings in this pose; of a lie that jumps, those just before; only that of reach if the hose cannot be laid. `there`
    /// is where the lie comes to, if that is known, and is filled in if not.
    fn read(
        &self,
        solver: &mut Solver,
        laid: &Laid<'_>,
        told: bool,
        there: &mut Option<(Lie, f64)>,
        out: &mut Vec<Reading>,
    ) -> How {
        if !self.moves_lie {
            checks::rocked(&self.laid(laid, laid.lie), told, out);
            return How::Laid;
        }
        let length = laid.lie.length();
        let (lie, part) = &*there.get_or_insert_with(|| self.followed(solver, laid.lie));
        if *part >= 1.0 {
            checks::rocked(&self.laid(laid, lie), told, out);
            return How::Laid;
        }
        // Through clips what it would jump into is not looked for, only whether it reaches.
        let is_lost = match self.is_guided() {
            true => length < self.lay.chord(),
            false => self.lay.any(solver, length).is_err(),
        };
        if is_lost {
            out.clear();
            out.push(checks::reach(length, self.lay.chord()));
            return How::Lost;
        }
        let pose = self.pose.part(*part);
        let (from, to) = (posed(laid.from, &pose), posed(laid.to, &pose));
        checks::rocked(&Laid { from: &from, to: &to, pose: Some(&pose), lie, ..*laid }, told, out);
        How::Jumps
    }

    /// The hose in this pose.
    fn laid<'a>(&'a self, rest: &Laid<'a>, lie: &'a Lie) -> Laid<'a> {
        Laid { from: &self.from, to: &self.to, pose: Some(&self.pose), lie, ..*rest }
    }

    /// The lie at rest followed into this pose, and how much of the way it goes: all of it, or as far as it exists.
    fn followed(&self, solver: &mut Solver, rest: &Lie) -> (Lie, f64) {
        let length = rest.length();
        if !self.rest.solids.is_empty() {
            let there = self.lay.near(solver, rest, length).or_else(|_| self.lay.any(solver, length));
            return there.map_or_else(|_| (rest.clone(), 0.0), |there| (there, 1.0));
        }
        let (mut here, mut at, mut step) = (rest.clone(), 0.0, 1.0);
        while at < 1.0 {
            let next = f64::min(at + step, 1.0);
            let near = if next < 1.0 {
                self.rest.part(&self.lay, next).near(solver, &here, length)
            } else {
                self.lay.near(solver, &here, length)
            };
            match near {
                Ok(lie) if turned(&here, &lie) <= SNAP => (here, at) = (lie, next),
                _ if step > 1.0 / f64::from(1_u32 << HALVINGS) => step *= 0.5,
                _ => break,
            }
        }
        (here, at)
    }
}
