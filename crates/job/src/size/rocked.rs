//! The run with the engine out of its place: laid again in every pose, and the worst of each reading.

use super::cut_window::Margin;
use super::fitting::margin;
use super::lay::Lay;
use crate::Run;
use checks::{Finding, Laid, MountedOn, Pose, Reading, Spigot};
use shape::Solver;

/// One pose: where it puts the spigots, and what is laid there.
#[derive(Clone, Debug)]
struct Posed {
    pose: Pose,
    from: Spigot,
    to: Spigot,
    lay: Lay,
    /// Whether it moves the ends against each other or against the weight: a lie is the same in a pose that does not.
    moves_lie: bool,
}

/// A reading in its worst pose, with how bad it is there.
type Worst<'a> = Option<((f64, f64), Reading, &'a Posed)>;

/// Every pose of a run that rocks; none if it does not.
#[derive(Clone, Debug)]
pub(crate) struct Rocked(Vec<Posed>);

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
        let posed = |pose: Pose| {
            let (from, to) = (posed(&run.from, &pose), posed(&run.to, &pose));
            let ends = Run::ends_of(&from, &to);
            Posed { moves_lie: ends != lay.ends, lay: Lay { ends, ..*lay }, pose, from, to }
        };
        Self(poses.map(posed).collect())
    }

    pub(crate) fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// The worst margin of every reading over all poses, always the same ones in one order.
    ///
    /// `laid` is the hose at rest.
    pub(crate) fn margins(&self, solver: &mut Solver, laid: &Laid<'_>, out: &mut Vec<Margin>) {
        if self.is_empty() {
            return;
        }
        let begin = out.len();
        let readings = checks::rocked_readings(laid.neighbours.len());
        out.resize(begin + readings, Margin { fail: f64::INFINITY, warn: f64::INFINITY });
        let mut here = Vec::new();
        for posed in &self.0 {
            posed.read(solver, laid, &mut here);
            // Where it cannot be laid all else is broken too.
            let lost = Margin { fail: -1.0, warn: -1.0 };
            let margins = here.iter().map(margin).chain(std::iter::repeat(lost));
            for (worst, m) in out[begin..].iter_mut().zip(margins) {
                *worst = Margin { fail: worst.fail.min(m.fail), warn: worst.warn.min(m.warn) };
            }
        }
    }

    /// What is found over all poses: each reading in its worst one. Where it does not reach, or cannot be laid, that is told
    /// alone: what was read in the other poses says nothing more.
    pub(crate) fn findings(&self, solver: &mut Solver, laid: &Laid<'_>) -> Vec<Finding> {
        let readings = checks::rocked_readings(laid.neighbours.len());
        let mut worst: Vec<Worst<'_>> = vec![None; readings];
        let mut here = Vec::new();
        let mut lost = None;
        for posed in &self.0 {
            posed.read(solver, laid, &mut here);
            if here.len() < readings {
                lost = Some(posed);
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
        worst.iter().flatten().filter_map(found).collect()
    }
}

impl Posed {
    /// The readings in this pose; only that of reach if the hose cannot be laid.
    fn read(&self, solver: &mut Solver, laid: &Laid<'_>, out: &mut Vec<Reading>) {
        let length = laid.lie.length();
        let lie = if self.moves_lie {
            let near = self.lay.near(solver, laid.lie, length);
            near.or_else(|_| self.lay.any(solver, length)).ok()
        } else {
            Some(laid.lie.clone())
        };
        match &lie {
            Some(lie) => {
                let here = Laid { from: &self.from, to: &self.to, pose: Some(&self.pose), lie, ..*laid };
                checks::rocked(&here, out);
            }
            None => {
                out.clear();
                out.push(checks::reach(length, self.lay.chord()));
            }
        }
    }
}
