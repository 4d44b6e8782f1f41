//! A run through guides: clips and holes which hold a point of the centre line and let the hose slide.
//!
//! See `newton/sliding.rs` for the equations. Here are the starts. Tangents at free guides begin as that of the parabola through
//! the guide and its neighbours; lengths begin as the straight ways plus a share of the slack, and a piece that must
//! turn more gets more of it:
//!
//! ```text
//! t_j ~ d_{j+1} c_j/d_j + d_j c_{j+1}/d_{j+1}          ℓ_p = d_p + (1 - Σd) s_p/Σs
//! s_p = d_p/Σd EVEN + Σ over its two ends of (1 - cos of the angle to its chord) d_p/Σd
//! ```

use super::{COARSEN_BELOW, FINEST, INTERVALS, REFINE_ABOVE, STEPS, STEPS_NEAR, Solver, TOO_TIGHT_ABOVE, least_mesh};
use crate::ends::{NoShape, Question};
use crate::lie::Lie;
use crate::newton::{Run, settle};
use crate::{Ends, Section, Vec3, start};

/// A P-clip or a grommet: a point through which the centre line goes, free to slide, without friction.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Guide {
    /// Where the centre line passes.
    pub at: Vec3,
    /// The direction of travel there if the guide holds it, of any length but zero; `None` if the hose may turn in it.
    pub direction: Option<Vec3>,
}

/// Slack that a piece gets for its length alone.
const EVEN: f64 = 0.1;
/// Slack below this part of the length is a taut hose.
const TAUT: f64 = 1e-9;
/// Off the line by less than this is on it.
const ON_LINE: f64 = 1e-9;
/// Part of the slack that a start of its own gives to one piece.
const MOST: f64 = 0.85;

/// The start of one attempt: finer mesh, side of the bow of each piece, and which piece gets most of the slack.
#[derive(Clone, Copy, Debug)]
struct Attempt {
    mesh: usize,
    side: Option<usize>,
    /// Added to the side from piece to piece.
    turn: usize,
    most: Option<usize>,
}

impl Attempt {
    const STANDARD: Self = Self { mesh: INTERVALS, side: None, turn: 0, most: None };
}

/// A question with guides.
struct Threading<'a> {
    /// The run as if there were no guides.
    q: Question,
    /// A, the guides and B, from A, in lengths of the hose.
    places: Vec<Vec3>,
    /// The tangent at each of them, where it is held.
    held: Vec<Option<Vec3>>,
    ends: &'a Ends,
    guides: &'a [Guide],
    length: f64,
    section: &'a Section,
}

impl<'a> Threading<'a> {
    fn new(ends: &'a Ends, guides: &'a [Guide], length: f64, section: &'a Section) -> Result<Self, NoShape> {
        let q = Question::new(ends, length, section)?;
        let mut places = vec![Vec3::ZERO];
        let mut held = vec![Some(q.ta)];
        for guide in guides {
            places.push((guide.at - ends.a) * (1.0 / length));
            held.push(match guide.direction {
                None => None,
                Some(v) => {
                    Some((v * (1.0 / v.x.abs().max(v.y.abs()).max(v.z.abs()))).direction().ok_or(NoShape::BadInput)?)
                }
            });
        }
        places.push(q.c);
        held.push(Some(q.tb));
        if !places.iter().all(|place| place.is_finite()) {
            return Err(NoShape::BadInput);
        }
        let threading = Self { q, places, held, ends, guides, length, section };
        if threading.straight() >= 1.0 - TAUT { Err(NoShape::TooShort) } else { Ok(threading) }
    }

    fn chord(&self, p: usize) -> Vec3 {
        self.places[p + 1] - self.places[p]
    }

    fn pieces(&self) -> usize {
        self.places.len() - 1
    }

    /// The straight way from A through all guides to B.
    fn straight(&self) -> f64 {
        (0..self.pieces()).map(|p| self.chord(p).norm()).sum()
    }

    /// The tangent with which the search begins at place `j`.
    fn tangent(&self, j: usize) -> Vec3 {
        self.held[j].unwrap_or_else(|| {
            let (before, after) = (self.chord(j - 1), self.chord(j));
            let (d, e) = (before.norm().max(1e-9), after.norm().max(1e-9));
            let mean = before * (e / d) + after * (d / e);
            mean.direction().or(after.direction()).or(before.direction()).unwrap_or(self.q.ta)
        })
    }

    /// What share of the slack each piece begins with.
    fn shares(&self, most: Option<usize>) -> Vec<f64> {
        let straight = self.straight().max(1e-9);
        let weight = |p: usize| {
            let chord = self.chord(p);
            let turned = |t: Vec3| chord.direction().map_or(1.0, |along| 1.0 - t.dot(along));
            (chord.norm() / straight + 1e-3) * (EVEN + turned(self.tangent(p)) + turned(self.tangent(p + 1)))
        };
        let weights: Vec<f64> = (0..self.pieces()).map(weight).collect();
        let sum: f64 = weights.iter().sum();
        let even = |p: usize| weights[p] / sum;
        match most {
            None => (0..self.pieces()).map(even).collect(),
            Some(most) => {
                (0..self.pieces()).map(|p| even(p) * (1.0 - MOST) + if p == most { MOST } else { 0.0 }).collect()
            }
        }
    }

    /// True if the lie, or one piece of it between held tangents, may turn freely about a line.
    fn may_turn(&self) -> bool {
        let along = |axis: Vec3, v: Vec3| v.across(axis).norm() < ON_LINE;
        let of = |from: usize, to: usize| {
            let Some(axis) = (self.places[to] - self.places[from]).direction().or(self.held[from]) else {
                return false;
            };
            let on_line = |j: usize| {
                along(axis, self.places[j] - self.places[from]) && self.held[j].is_none_or(|held| along(axis, held))
            };
            along(axis, self.q.gamma) && (from..=to).all(on_line)
        };
        let held: Vec<usize> = (0..self.held.len()).filter(|j| self.held[*j].is_some()).collect();
        held.windows(2).any(|pair| of(pair[0], pair[1]))
    }

    /// Sets up the pieces, with their lengths and without tangents.
    fn lay_out(&self, run: &mut Run, parts: impl Fn(usize) -> f64) {
        run.pieces.resize_with(self.pieces(), Default::default);
        run.gamma = self.q.gamma;
        run.free.clear();
        run.free.extend(self.guides.iter().map(|guide| guide.direction.is_none()));
        run.may_be_neutral = self.may_turn();
        run.number();
        for (p, piece) in run.pieces.iter_mut().enumerate() {
            (piece.q.ta, piece.q.tb) = (self.tangent(p), self.tangent(p + 1));
            piece.set(self.places[p], self.chord(p), self.q.gamma, parts(p));
        }
    }

    /// Sets up one of the starts.
    fn start(&self, run: &mut Run, attempt: Attempt) {
        let (slack, shares) = (1.0 - self.straight(), self.shares(attempt.most));
        self.lay_out(run, |p| self.chord(p).norm() + slack * shares[p]);
        for (p, piece) in run.pieces.iter_mut().enumerate() {
            let n = least_mesh(&piece.q).unwrap_or(FINEST).max(attempt.mesh);
            match attempt.side {
                None => start::standard(&piece.q, n, &mut piece.chain.t),
                Some(side) => start::bowed(&piece.q, side + attempt.turn * p, n, &mut piece.chain.t),
            }
            piece.chain.lambda = Vec3::ZERO;
            piece.chain.remesh();
            // Closed first with the lengths of the start: an open piece would reach for the slack of the others. What does
            // not settle so goes on as it is.
            let _ = settle(&mut piece.chain, &piece.q, STEPS);
        }
    }

    /// Takes up a known lie: the same shares of the slack, its tangents and forces.
    fn take_up(&self, run: &mut Run, near: &Lie) -> Result<(), NoShape> {
        let known = near.pieces();
        if known.len() != self.pieces() {
            return Err(NoShape::NotFound);
        }
        let slack = |lie: &Lie| {
            let points = lie.points();
            lie.length() - (points[points.len() - 1] - points[0]).norm()
        };
        let old: f64 = known.iter().map(slack).sum();
        let new = 1.0 - self.straight();
        self.lay_out(run, |p| self.chord(p).norm() + new * (slack(&known[p]) / old).max(1e-9));
        for (p, (piece, lie)) in run.pieces.iter_mut().zip(known).enumerate() {
            let chain = &mut piece.chain;
            let tangents = lie.tangents();
            let coarser = tangents.len() - 1 > INTERVALS && lie.sharpest_turn() < COARSEN_BELOW;
            chain.t.clear();
            chain.t.extend(tangents.iter().step_by(if coarser { 2 } else { 1 }));
            let last = chain.t.len() - 1;
            for (end, node) in [(p, 0), (p + 1, last)] {
                if let Some(held) = self.held[end] {
                    chain.t[node] = held;
                }
            }
            (piece.q.ta, piece.q.tb) = (chain.t[0], chain.t[last]);
            chain.lambda = lie.pull();
            chain.remesh();
            let least = least_mesh(&piece.q).unwrap_or(FINEST);
            while chain.n() < least {
                chain.refine();
            }
        }
        Ok(())
    }

    /// Settles, halving the mesh of every piece that turns too much between two nodes.
    fn settle_and_refine(&self, run: &mut Run, steps: usize) -> Result<Lie, NoShape> {
        loop {
            let neutral = run.settle(steps)?;
            let mut lies = Vec::with_capacity(self.pieces());
            let mut refined = false;
            for (p, piece) in run.pieces.iter_mut().enumerate() {
                let place = |j: usize| if j == 0 { self.ends.a } else { self.guides[j - 1].at };
                let ends = Ends { a: place(p), ..*self.ends };
                let length = piece.part * self.length;
                let lie = Lie::read(&piece.chain, &piece.q, &ends, length, self.section, neutral);
                let turn = lie.as_ref().map_or(f64::INFINITY, Lie::sharpest_turn);
                if turn > REFINE_ABOVE {
                    if piece.chain.n() < FINEST {
                        piece.chain.refine();
                        refined = true;
                    } else if turn > TOO_TIGHT_ABOVE {
                        return Err(if turn.is_finite() { NoShape::TooTight } else { NoShape::NotFound });
                    }
                }
                lies.extend(lie);
            }
            if !refined {
                return Ok(Lie::joined(lies, &run.free, self.length, self.section));
            }
        }
    }
}

impl Solver {
    /// The lie of a hose that passes guides in the order given, sliding in them without friction: lengths between them
    /// fall out so that sliding either way gains nothing. Without guides, [`Solver::rest`].
    ///
    /// # Errors
    /// As [`crate::rest`]; too short is shorter than the straight way through all guides.
    pub fn rest_guided(
        &mut self,
        ends: &Ends,
        guides: &[Guide],
        length: f64,
        section: &Section,
    ) -> Result<Lie, NoShape> {
        if guides.is_empty() {
            return self.rest(ends, length, section);
        }
        let asked = Threading::new(ends, guides, length, section)?;
        let mut answer = Err(NoShape::NotFound);
        for attempt in attempts(asked.pieces()) {
            asked.start(&mut self.run, attempt);
            answer = asked.settle_and_refine(&mut self.run, STEPS);
            if !matches!(answer, Err(NoShape::NotFound)) {
                break;
            }
        }
        answer
    }

    /// The lie that a known lie through as many guides changes into; faster than [`Solver::rest_guided`].
    ///
    /// # Errors
    /// As [`Solver::rest_guided`]; no other start is tried, so [`NoShape::NotFound`] may only mean that this lie ends here.
    pub fn rest_guided_near(
        &mut self,
        near: &Lie,
        ends: &Ends,
        guides: &[Guide],
        length: f64,
        section: &Section,
    ) -> Result<Lie, NoShape> {
        if guides.is_empty() {
            return self.rest_near(near, ends, length, section);
        }
        let asked = Threading::new(ends, guides, length, section)?;
        asked.take_up(&mut self.run, near)?;
        asked.settle_and_refine(&mut self.run, STEPS_NEAR)
    }

    /// The distinct lies found from several starts, lowest total energy first.
    ///
    /// # Errors
    /// As [`Solver::rest_guided`], when no start led to a lie.
    pub fn lies_guided(
        &mut self,
        ends: &Ends,
        guides: &[Guide],
        length: f64,
        section: &Section,
    ) -> Result<Vec<Lie>, NoShape> {
        if guides.is_empty() {
            return self.lies(ends, length, section);
        }
        let asked = Threading::new(ends, guides, length, section)?;
        let (mut found, mut why) = (Vec::<Lie>::new(), None);
        for attempt in attempts(asked.pieces()) {
            asked.start(&mut self.run, attempt);
            match asked.settle_and_refine(&mut self.run, STEPS) {
                Ok(lie) => {
                    let same = |other: &Lie| other.same_as(&lie) || other.same_but_turned(&lie);
                    if !found.iter().any(same) {
                        let behind = found.partition_point(|other| other.total_energy() <= lie.total_energy());
                        found.insert(behind, lie);
                    }
                }
                Err(no) => why = why.or(Some(no)),
            }
        }
        match why {
            Some(why) if found.is_empty() => Err(why),
            _ => Ok(found),
        }
    }
}

/// The starts for a run of so many pieces: the standard one, eight bows to one side, four from side to side, and the slack
/// for the most part in one piece.
fn attempts(pieces: usize) -> impl Iterator<Item = Attempt> {
    let bow = |side: usize, turn: usize| Attempt { side: Some(side), turn, ..Attempt::STANDARD };
    let bows = (0..8).map(move |side| bow(side, 0)).chain((0..4).map(move |side| bow(2 * side, 4)));
    let most = (0..pieces).flat_map(move |most| {
        [None, Some(0), Some(4)].map(|side| Attempt { side, most: Some(most), ..Attempt::STANDARD })
    });
    std::iter::once(Attempt::STANDARD).chain(bows).chain(most)
}
