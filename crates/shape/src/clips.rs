//! Where clips must hold a hose so that it stays near a path.
//!
//! One clip after the other, each where it helps most. In every round the clips that stand are tried with one more: where the
//! hose is farthest from the path, in the middle of every bend and of every straight leg, with the direction free and with
//! the path's own held; the one that leaves the hose nearest is kept. When it is near enough, every clip is taken away again on
//! trial, and left away if the hose stays near without it. This is greedy: a smaller set than it finds may exist.
//!
//! Distances are from the hose to the path, at places a quarter of a node apart. Each lie is followed from the shape of the
//! path, as a fitter would lay it in; the hose may have other lies that stray further.

use crate::legs::Path;
use crate::{Ends, Guide, Lie, NoShape, Section, Solver, Vec3};

/// Clips beyond which nothing is gained: a path that needs more is no path for this hose.
const MOST_CLIPS: usize = 10;
/// Two clips are no nearer to each other than this part of the path.
const APART: f64 = 0.04;
/// A held direction must bring the hose nearer by this part before it is asked of a clip.
const WORTH_HOLDING: f64 = 0.8;
/// Places at which the distance is taken, between two nodes of a lie.
const BETWEEN: usize = 4;

/// Clips, and the hose held by them.
#[derive(Clone, Debug)]
pub struct Clips {
    /// Where along the path each clip is, in their order.
    pub along: Vec<f64>,
    /// The clips.
    pub guides: Vec<Guide>,
    /// How the hose then lies.
    pub lie: Lie,
    /// How far it is from the path at most.
    pub off: f64,
}

/// Why no clips were found.
#[derive(Clone, Debug)]
pub enum NoClips {
    /// Without any clip there is no lie, for this reason, and none was found with clips.
    NoLie(NoShape),
    /// More clips bring it no nearer: the nearest that was found.
    NotNear(Box<Clips>),
}

/// What is asked.
struct Asked<'a> {
    path: &'a Path,
    ends: Ends,
    length: f64,
    section: &'a Section,
}

impl Asked<'_> {
    /// The hose held at these places of the path.
    fn held(&self, solver: &mut Solver, clips: &[(f64, bool)]) -> Result<Clips, NoShape> {
        let guide = |&(s, held): &(f64, bool)| {
            let (at, along) = self.path.at(s);
            Guide { at, direction: held.then_some(along) }
        };
        let guides: Vec<Guide> = clips.iter().map(guide).collect();
        let along: Vec<f64> = clips.iter().map(|clip| clip.0).collect();
        let laid = |s: f64| self.path.at(s).1;
        let lie = solver
            .rest_along(&self.ends, &guides, self.length, self.section, (self.path.length(), &along, &laid))
            .or_else(|_| solver.rest_guided(&self.ends, &guides, self.length, self.section))?;
        let off = self.farthest(&lie).0;
        Ok(Clips { along, guides, lie, off })
    }

    /// How far the hose is from the path at most, and where on the path that is.
    fn farthest(&self, lie: &Lie) -> (f64, f64) {
        let steps = BETWEEN * (lie.points().len() - 1);
        let at = |k: usize| self.path.distance(lie.point_at(lie.length() * k as f64 / steps as f64));
        (0..=steps).map(at).fold((0.0, 0.0), |worst, here| if here.0 > worst.0 { here } else { worst })
    }

    /// Places where one more clip could help.
    fn places(&self, lie: Option<&Lie>, clips: &[(f64, bool)]) -> Vec<f64> {
        let bends = self.path.bends();
        let mut places: Vec<f64> = lie.map(|lie| self.farthest(lie).1).into_iter().collect();
        let mut before = 0.0;
        for arc in bends {
            places.push(0.5 * (arc.from + arc.to));
            places.push(0.5 * (before + arc.from));
            before = arc.to;
        }
        places.push(0.5 * (before + self.path.length()));
        let least = APART * self.path.length();
        let clear = |s: &f64| *s > least && *s < self.path.length() - least;
        places.retain(|s| clear(s) && clips.iter().all(|clip| (clip.0 - s).abs() > least));
        places
    }
}

fn with(clips: &[(f64, bool)], more: (f64, bool)) -> Vec<(f64, bool)> {
    let mut clips = clips.to_vec();
    clips.insert(clips.partition_point(|clip| clip.0 < more.0), more);
    clips
}

impl Solver {
    /// The fewest clips that a greedy search finds with which the hose stays within `within` of `path`. The ends are those of
    /// the path unless others are given.
    ///
    /// # Errors
    /// [`NoClips`]: no lie at all, or none near enough, with the nearest one found.
    pub fn clips_for(
        &mut self,
        path: &Path,
        ends: Option<&Ends>,
        length: f64,
        section: &Section,
        within: f64,
    ) -> Result<Clips, NoClips> {
        let ((a, tangent_a), (b, tangent_b)) = (path.start(), path.end());
        let ends = ends.copied().unwrap_or(Ends { a, tangent_a, b, tangent_b });
        let asked = Asked { path, ends, length, section };
        let mut clips: Vec<(f64, bool)> = Vec::new();
        let first = asked.held(self, &clips);
        let why = first.as_ref().err().copied();
        let mut best = first.ok();
        while clips.len() < MOST_CLIPS && best.as_ref().is_none_or(|best| best.off > within) {
            let mut next: Option<(Vec<(f64, bool)>, Clips)> = None;
            for s in asked.places(best.as_ref().map(|best| &best.lie), &clips) {
                for held in [false, true] {
                    let tried = with(&clips, (s, held));
                    let Ok(found) = asked.held(self, &tried) else { continue };
                    let worth = if held { WORTH_HOLDING } else { 1.0 };
                    if next.as_ref().is_none_or(|(_, next)| found.off < worth * next.off) {
                        next = Some((tried, found));
                    }
                }
            }
            let Some((tried, found)) = next else { break };
            clips = tried;
            best = Some(found);
        }
        let Some(mut best) = best else { return Err(NoClips::NoLie(why.unwrap_or(NoShape::NotFound))) };
        if best.off > within {
            return Err(NoClips::NotNear(Box::new(best)));
        }
        let mut k = 0;
        while k < clips.len() {
            let mut fewer = clips.clone();
            fewer.remove(k);
            match asked.held(self, &fewer) {
                Ok(found) if found.off <= within => (clips, best) = (fewer, found),
                _ => k += 1,
            }
        }
        Ok(best)
    }
}

/// A curve to begin from: its length, where on it each guide is, and its tangents.
pub(crate) type Laid<'a> = (f64, &'a [f64], &'a dyn Fn(f64) -> Vec3);
