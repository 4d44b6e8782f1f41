//! From a question to its lies: the starts that are tried, a finer mesh where the bend asks for it, the reason if none.

use crate::chain::Chain;
use crate::contact::Press;
use crate::ends::{NoShape, Question};
use crate::lie::Lie;
use crate::newton::{Run, settle};
use crate::{Ends, Section, Vec3, start};

mod guided;
pub use guided::Guide;

/// Intervals of the default mesh: with them the centre line is within 0.001 mm per 400 mm of hose on the reference
/// cases (see `tests`). A multiple of 20, so that every twentieth of the length is a node, and of 4.
pub const INTERVALS: usize = 40;
/// The finest mesh; what turns too much per interval on it (a bend under L/190) is called too tight. Half as fine would
/// leave 0.5 % of random layouts without an answer, all of them with under a tenth of slack.
pub const FINEST: usize = 320;
/// Intervals where only pass or fail is asked.
const ROUGH: usize = 20;
/// The mesh of the last rescues.
const FINE: usize = 160;
/// Turn per interval, in radians, above which the mesh is halved: up to it the peak curvature is within 1.4e-3 for
/// 3,000 random shapes even without extrapolation.
pub(crate) const REFINE_ABOVE: f64 = 0.3;
/// Turn per interval below which a known lie is taken up on a mesh half as fine.
const COARSEN_BELOW: f64 = 0.1;
/// Turn per interval above which the curvature may be wrong by half: no number is told.
pub(crate) const TOO_TIGHT_ABOVE: f64 = 0.6;
/// Newton steps before a start is given up; the worst of 100,000 random layouts took 28.
pub(crate) const STEPS: usize = 60;
/// Newton steps before a known lie is given up as the start of its neighbour; three to six are usual.
pub(crate) const STEPS_NEAR: usize = 25;
/// Part of the slack that the mesh may lose: a clamped tangent weighs h/3 on it whatever the others do.
const LOST_TO_CLAMPS: f64 = 0.5;
/// Where no lie is found and a taut hose would bend tighter than this part of its length, it is called too tight.
const TAUT_RADIUS: f64 = 0.01;

/// Starts tried after the standard one has failed: mesh and side of the bow.
const RESCUES: [(usize, Option<usize>); 7] = [
    (INTERVALS, Some(0)),
    (INTERVALS, Some(2)),
    (INTERVALS, Some(4)),
    (INTERVALS, Some(6)),
    (FINE, None),
    (FINE, Some(0)),
    (FINE, Some(4)),
];

/// Finds lies; keeps its working memory from one question to the next, so a sweep does not allocate it again.
#[derive(Default)]
pub struct Solver {
    pub(crate) chain: Chain,
    pub(crate) press: Press,
    /// The pieces of a run with guides.
    run: Run,
}

impl std::fmt::Debug for Solver {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Solver").finish_non_exhaustive()
    }
}

/// A question with what is needed to give its answer units again.
pub(crate) struct Asked<'a> {
    pub(crate) q: Question,
    pub(crate) ends: &'a Ends,
    pub(crate) length: f64,
    pub(crate) section: &'a Section,
}

impl<'a> Asked<'a> {
    pub(crate) fn new(ends: &'a Ends, length: f64, section: &'a Section) -> Result<Self, NoShape> {
        Ok(Self { q: Question::new(ends, length, section)?, ends, length, section })
    }

    /// The chain at rest as a lie with units; not found if it is not closed after all.
    fn read(&self, chain: &Chain, neutral: bool) -> Result<Lie, NoShape> {
        Lie::read(chain, &self.q, self.ends, self.length, self.section, neutral).ok_or(NoShape::NotFound)
    }
}

impl Solver {
    /// A solver with no memory yet.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// The lie found from the standard start; see [`crate::rest`].
    ///
    /// # Errors
    /// As [`crate::rest`].
    pub fn rest(&mut self, ends: &Ends, length: f64, section: &Section) -> Result<Lie, NoShape> {
        self.standard(&Asked::new(ends, length, section)?)
    }

    /// The lie that a known lie of nearly the same question changes into; faster than [`Solver::rest`].
    ///
    /// # Errors
    /// As [`crate::rest`]; no other start is tried, so [`NoShape::NotFound`] may only mean that this lie ends here.
    pub fn rest_near(&mut self, near: &Lie, ends: &Ends, length: f64, section: &Section) -> Result<Lie, NoShape> {
        self.take_up(near, &Asked::new(ends, length, section)?, STEPS_NEAR)
    }

    /// Settles from a known lie.
    pub(crate) fn take_up(&mut self, near: &Lie, asked: &Asked<'_>, steps: usize) -> Result<Lie, NoShape> {
        self.take_tangents(near, &asked.q)?;
        self.settle_and_refine(asked, steps)
    }

    /// Puts the tangents of a known lie into the chain, with the ends that are asked.
    pub(crate) fn take_tangents(&mut self, near: &Lie, q: &Question) -> Result<(), NoShape> {
        let least = least_mesh(q)?;
        let chain = &mut self.chain;
        chain.t.clear();
        // A mesh that was refined for a tighter bend is not carried along for ever.
        let coarser = near.tangents().len() - 1 > INTERVALS && near.sharpest_turn() < COARSEN_BELOW;
        chain.t.extend(near.tangents().iter().step_by(if coarser { 2 } else { 1 }));
        let last = chain.t.len() - 1;
        chain.t[0] = q.ta;
        chain.t[last] = q.tb;
        chain.lambda = near.pull();
        chain.remesh();
        while chain.n() < least {
            chain.refine();
        }
        Ok(())
    }

    /// The same on half the default mesh, not refined: for thousands of lies of which only pass or fail is asked. Its peak
    /// curvature is within about 0.2 %.
    ///
    /// # Errors
    /// As [`Solver::rest_near`]; too tight sooner, where the coarse mesh cannot tell a number.
    pub fn rest_near_roughly(
        &mut self,
        near: &Lie,
        ends: &Ends,
        length: f64,
        section: &Section,
    ) -> Result<Lie, NoShape> {
        let asked = Asked::new(ends, length, section)?;
        if least_mesh(&asked.q)? > INTERVALS {
            return self.rest_near(near, ends, length, section);
        }
        let chain = &mut self.chain;
        chain.t.clear();
        chain.t.extend(near.tangents().iter().step_by((near.tangents().len() - 1) / ROUGH));
        chain.t[0] = asked.q.ta;
        chain.t[ROUGH] = asked.q.tb;
        chain.lambda = near.pull();
        chain.remesh();
        let neutral = settle(chain, &asked.q, STEPS_NEAR)?;
        let lie = asked.read(&self.chain, neutral)?;
        if lie.sharpest_turn() > TOO_TIGHT_ABOVE { Err(NoShape::TooTight) } else { Ok(lie) }
    }

    /// The lie on a mesh of exactly `n` intervals (a multiple of 4), for studies of convergence.
    ///
    /// # Errors
    /// As [`crate::rest`], but a coarse mesh is not refined and not called too tight.
    pub fn rest_on_mesh(&mut self, ends: &Ends, length: f64, section: &Section, n: usize) -> Result<Lie, NoShape> {
        let asked = Asked::new(ends, length, section)?;
        if n < 4 || !n.is_multiple_of(4) {
            return Err(NoShape::BadInput);
        }
        start::standard(&asked.q, n, &mut self.chain.t);
        self.begin();
        let neutral = settle(&mut self.chain, &asked.q, STEPS)?;
        asked.read(&self.chain, neutral)
    }

    /// The lie that a hose comes to which is let go with the given tangents, one at each of its equally spaced nodes (a
    /// multiple of 4 intervals). They need not close; those at the clamps are the spigots' own whatever is given.
    ///
    /// # Errors
    /// As [`crate::rest`], and no other start is tried.
    pub fn rest_from(
        &mut self,
        tangents: &[Vec3],
        ends: &Ends,
        length: f64,
        section: &Section,
    ) -> Result<Lie, NoShape> {
        let asked = Asked::new(ends, length, section)?;
        let [_, inner @ .., _] = tangents else { return Err(NoShape::BadInput) };
        if inner.is_empty() || !(inner.len() + 1).is_multiple_of(4) {
            return Err(NoShape::BadInput);
        }
        let least = least_mesh(&asked.q)?;
        let chain = &mut self.chain;
        chain.t.clear();
        chain.t.push(asked.q.ta);
        for tangent in inner {
            chain.t.push(tangent.direction().ok_or(NoShape::BadInput)?);
        }
        chain.t.push(asked.q.tb);
        self.begin();
        while self.chain.n() < least {
            self.chain.refine();
        }
        self.settle_and_refine(&asked, STEPS)
    }

    /// The distinct lies found from eight starts; see [`crate::lies`].
    ///
    /// # Errors
    /// As [`crate::lies`].
    pub fn lies(&mut self, ends: &Ends, length: f64, section: &Section) -> Result<Vec<Lie>, NoShape> {
        let asked = Asked::new(ends, length, section)?;
        let least = least_mesh(&asked.q)?;
        let mut found: Vec<Lie> = Vec::new();
        // What a coarse mesh is too stiff for, the long hose under its weight above all, is tried again on a fine one: after
        // the others, so that a lie is told on the mesh on which its mirror image is.
        let mut failed = [true; start::SIDES];
        for n in [least, least.max(FINE)] {
            for (side, failed) in failed.iter_mut().enumerate().filter(|(_, failed)| **failed) {
                start::bowed(&asked.q, side, n, &mut self.chain.t);
                self.begin();
                // Each spigot holds one half of the weight until better is known: so a hose asked from its other end begins
                // alike.
                self.chain.lambda = asked.q.gamma * -0.5;
                let answer = self.settle_and_refine(&asked, STEPS);
                *failed = matches!(answer, Err(NoShape::NotFound));
                let Ok(lie) = answer else { continue };
                let same = |other: &Lie| other.same_as(&lie) || other.same_but_turned(&lie);
                if !found.iter().any(same) {
                    let behind = found.partition_point(|other| other.total_energy() <= lie.total_energy());
                    found.insert(behind, lie);
                }
            }
        }
        if found.is_empty() {
            found.push(self.standard(&asked)?);
        }
        Ok(found)
    }

    /// Solves from the standard start, then from sideways bows, then on a finer mesh.
    pub(crate) fn standard(&mut self, asked: &Asked<'_>) -> Result<Lie, NoShape> {
        let least = least_mesh(&asked.q)?;
        start::standard(&asked.q, least, &mut self.chain.t);
        self.begin();
        let mut answer = self.settle_and_refine(asked, STEPS);
        for (n, side) in RESCUES {
            if !matches!(answer, Err(NoShape::NotFound)) {
                break;
            }
            let n = n.max(least);
            match side {
                None => start::standard(&asked.q, n, &mut self.chain.t),
                Some(side) => start::bowed(&asked.q, side, n, &mut self.chain.t),
            }
            self.begin();
            answer = self.settle_and_refine(asked, STEPS);
        }
        match answer {
            Err(NoShape::NotFound) if taut_radius(&asked.q) < TAUT_RADIUS => Err(NoShape::TooTight),
            answer => answer,
        }
    }

    pub(crate) fn begin(&mut self) {
        self.chain.lambda = Vec3::ZERO;
        self.chain.remesh();
    }

    /// Settles, halving the mesh while the hose turns too much between two nodes.
    pub(crate) fn settle_and_refine(&mut self, asked: &Asked<'_>, steps: usize) -> Result<Lie, NoShape> {
        loop {
            let neutral = settle(&mut self.chain, &asked.q, steps)?;
            let lie = asked.read(&self.chain, neutral)?;
            let turn = lie.sharpest_turn();
            if turn <= REFINE_ABOVE || (self.chain.n() >= FINEST && turn <= TOO_TIGHT_ABOVE) {
                return Ok(lie);
            }
            if self.chain.n() >= FINEST {
                return Err(NoShape::TooTight);
            }
            self.chain.refine();
        }
    }
}

/// The coarsest mesh on which the hose can close. The two clamped tangents cannot turn, and weigh h/3 each: what they
/// do not go along the chord is lost to the slack, and where that is more than the slack no chain closes.
pub(crate) fn least_mesh(q: &Question) -> Result<usize, NoShape> {
    let chord = q.c.norm();
    let astray = q.c.direction().map_or(0.0, |along| 2.0 - (q.ta + q.tb).dot(along));
    let mut n = INTERVALS;
    while astray > LOST_TO_CLAMPS * (1.0 - chord) * 3.0 * n as f64 {
        if n >= FINEST {
            return Err(NoShape::TooTight);
        }
        n *= 2;
    }
    Ok(n)
}

/// The tightest bend of a nearly taut hose, in hose lengths: it is straight but for a bend at each clamp, and with the
/// slack D and the angles a of the spigots to the chord its radius is D / (4 sin(a/2) Σ (1-cos(a/2))), the larger a in
/// the sine. Solved radii are 0.86 to 0.99 of it up to a tenth of slack.
fn taut_radius(q: &Question) -> f64 {
    let chord = q.c.norm();
    let Some(along) = q.c.direction() else { return f64::INFINITY };
    // Half angles: cos a/2 and sin a/2 from cos a.
    let half =
        |t: Vec3| (f64::max(0.0, 0.5 + 0.5 * t.dot(along)).sqrt(), f64::max(0.0, 0.5 - 0.5 * t.dot(along)).sqrt());
    let ((cos_a, sin_a), (cos_b, sin_b)) = (half(q.ta), half(q.tb));
    (1.0 - chord) / (4.0 * sin_a.max(sin_b) * (2.0 - cos_a - cos_b))
}
