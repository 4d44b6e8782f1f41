//! What is laid: the two ends and the section, asked for its lies at any length.

use shape::{Ends, Lie, NoShape, Section, Solver};

/// A run with one hose, all but its length.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Lay {
    pub(crate) ends: Ends,
    pub(crate) section: Section,
}

impl Lay {
    /// The shortest way from mouth to mouth.
    pub(crate) fn chord(&self) -> f64 {
        self.ends.chord()
    }

    /// The lie that a known one changes into at this length.
    pub(crate) fn near(&self, solver: &mut Solver, known: &Lie, length: f64) -> Result<Lie, NoShape> {
        solver.rest_near(known, &self.ends, length, &self.section)
    }

    /// The same to within 0.2 % of its tightest bend.
    pub(crate) fn near_roughly(&self, solver: &mut Solver, known: &Lie, length: f64) -> Result<Lie, NoShape> {
        solver.rest_near_roughly(known, &self.ends, length, &self.section)
    }

    /// The lie of the standard start.
    pub(crate) fn any(&self, solver: &mut Solver, length: f64) -> Result<Lie, NoShape> {
        solver.rest(&self.ends, length, &self.section)
    }

    /// Every lie found, lowest energy first.
    pub(crate) fn lies(&self, solver: &mut Solver, length: f64) -> Result<Vec<Lie>, NoShape> {
        solver.lies(&self.ends, length, &self.section)
    }
}
