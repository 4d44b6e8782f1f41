//! What is laid: the two ends, the clips on the way and the section, asked for its lies at any length.

use crate::Run;
use checks::{MountedOn, Pose};
use shape::{Ends, Guide, Lie, NoShape, Section, Solver, Vec3};

/// A run with one hose, all but its length.
#[derive(Clone, Debug)]
pub(crate) struct Lay {
    pub(crate) ends: Ends,
    pub(crate) guides: Vec<Guide>,
    pub(crate) section: Section,
}

impl Lay {
    pub(crate) fn new(run: &Run, section: Section) -> Self {
        Self { ends: run.ends(), guides: run.clips.iter().map(|clip| clip.guide).collect(), section }
    }

    /// The clips of a run where a pose of the engine puts them.
    pub(crate) fn guides_in(run: &Run, pose: &Pose) -> Vec<Guide> {
        let posed = |clip: &crate::run::Clip| match clip.on {
            MountedOn::Body => clip.guide,
            MountedOn::Engine => Guide {
                at: pose.moved(clip.guide.at),
                direction: clip.guide.direction.map(|direction| pose.turned(direction)),
            },
        };
        run.clips.iter().map(posed).collect()
    }

    /// The shortest way from mouth to mouth, over the clips.
    pub(crate) fn chord(&self) -> f64 {
        let stops = self.guides.iter().map(|guide| guide.at).chain([self.ends.b]);
        stops.fold((0.0, self.ends.a), |(way, from), to| (way + (to - from).norm(), to)).0
    }

    /// The lie that a known one changes into at this length.
    pub(crate) fn near(&self, solver: &mut Solver, known: &Lie, length: f64) -> Result<Lie, NoShape> {
        solver.rest_guided_near(known, &self.ends, &self.guides, length, &self.section)
    }

    /// The same to within 0.2 % of its tightest bend.
    pub(crate) fn near_roughly(&self, solver: &mut Solver, known: &Lie, length: f64) -> Result<Lie, NoShape> {
        if self.guides.is_empty() {
            solver.rest_near_roughly(known, &self.ends, length, &self.section)
        } else {
            self.near(solver, known, length)
        }
    }

    /// The lie of the standard start.
    pub(crate) fn any(&self, solver: &mut Solver, length: f64) -> Result<Lie, NoShape> {
        solver.rest_guided(&self.ends, &self.guides, length, &self.section)
    }

    /// Every lie found, lowest energy first.
    pub(crate) fn lies(&self, solver: &mut Solver, length: f64) -> Result<Vec<Lie>, NoShape> {
        solver.lies_guided(&self.ends, &self.guides, length, &self.section)
    }

    /// So much of the way from this to another.
    pub(crate) fn part(&self, there: &Self, part: f64) -> Self {
        let between = |a: Vec3, b: Vec3| a + (b - a) * part;
        let ends = Ends {
            a: between(self.ends.a, there.ends.a),
            tangent_a: between(self.ends.tangent_a, there.ends.tangent_a),
            b: between(self.ends.b, there.ends.b),
            tangent_b: between(self.ends.tangent_b, there.ends.tangent_b),
        };
        let guide = |(a, b): (&Guide, &Guide)| Guide {
            at: between(a.at, b.at),
            direction: a.direction.zip(b.direction).map(|(a, b)| between(a, b)),
        };
        Self { ends, guides: self.guides.iter().zip(&there.guides).map(guide).collect(), section: self.section }
    }

    /// True if something of it stands elsewhere in the other.
    pub(crate) fn differs(&self, other: &Self) -> bool {
        self.ends != other.ends || self.guides != other.guides
    }
}
