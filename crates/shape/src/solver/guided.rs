//! A run through guides: clips and holes which hold a point of the centre line and let the hose slide.
//!
//! See `newton/sliding.rs` for the equations. Here are the starts. Tangents at free guides begin as that of the parabola through
//! the guide and its neighbours; lengths begin as the straight ways d plus a share of the slack, and a piece that must
//! turn more gets more of it:
//!
//! ```text
//! t_j ~ d_{j+1} c_j/d_j + d_j c_{j+1}/d_{j+1}          ℓ_p = d_p + (1 - Σd) s_p/Σs
//! s_p = x (LEAST + EVEN x² + Σ over its two ends of 1 - cos of the angle to its chord),   x = d_p/Σd
//! ```
//!
//! (Slack that a piece does not need for its turns costs it 4π² EI/d², Euler's load, a length of it: hence the third power. With
//! even shares a short piece between two close clips would begin, and often end, as a loop.)
//!
//! **Straight pieces.** Between two directions held along one line, with no weight across it, a piece may lie exactly
//! straight: its length is the distance, it costs nothing, and no step finds it, for it cannot get shorter. It drops out of
//! the unknowns (its ends do not turn). The tension in it is what the others pull with, n·t = P - w·r, and it stays
//! straight while that is no more compression than a clamped column bears, 4π² EI/d² (Euler; with the weight along it, the
//! greatest compression is held against that, which is the safe side). If it is more, it is let go and bows like any other.

use super::{COARSEN_BELOW, FINEST, INTERVALS, REFINE_ABOVE, STEPS, STEPS_NEAR, Solver, TOO_TIGHT_ABOVE, least_mesh};
use crate::clips::Laid;
use crate::ends::{NoShape, Question};
use crate::lie::Lie;
use crate::newton::{Piece, Run, settle};
use crate::{Ends, Section, Vec3, start};
use std::f64::consts::PI;

/// A P-clip or a grommet: a point through which the centre line goes, free to slide, without friction.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Guide {
    /// Where the centre line passes.
    pub at: Vec3,
    /// The direction of travel there if the guide holds it, of any length but zero; `None` if the hose may turn in it.
    pub direction: Option<Vec3>,
}

/// Weights of the slack that a piece gets whatever it turns.
const EVEN: f64 = 0.1;
const LEAST: f64 = 1e-4;
/// Slack below this part of the length is a taut hose.
const TAUT: f64 = 1e-9;
/// Two guides, or a guide and a spigot, nearer than this part of the length are at one place.
const APART: f64 = 1e-6;
/// Off the line by less than this is on it.
const ON_LINE: f64 = 1e-9;
/// Part of the slack that a start of its own gives to one piece.
const MOST: f64 = 0.85;
/// Least share of the length by which a piece of a curve is taken to be longer than straight.
const LEAST_LAID: f64 = 1e-3;
/// Share of the slack that a known piece which had none begins with.
const LEAST_SHARE: f64 = 1e-9;

/// How one search begins: side of the bow of each piece, and which piece gets most of the slack.
#[derive(Clone, Copy, Debug)]
struct Attempt {
    side: Option<usize>,
    /// Added to the side from piece to piece.
    turn: usize,
    most: Option<usize>,
}

impl Attempt {
    const STANDARD: Self = Self { side: None, turn: 0, most: None };
}

/// The starts for a run of so many pieces: the standard one, eight bows to one side, four from side to side, and the slack
/// for the most part in one piece.
fn attempts(pieces: usize) -> impl Iterator<Item = Attempt> {
    let bow = |side: usize, turn: usize| Attempt { side: Some(side), turn, most: None };
    let bows = (0..8).map(move |side| bow(side, 0)).chain((0..4).map(move |side| bow(2 * side, 4)));
    let most = (0..pieces)
        .flat_map(move |most| [None, Some(0), Some(4)].map(|side| Attempt { side, turn: 0, most: Some(most) }));
    std::iter::once(Attempt::STANDARD).chain(bows).chain(most)
}

/// Begins piece `p` with the tangents of one of the starts.
fn begin(piece: &mut Piece, attempt: Attempt, p: usize) {
    let n = least_mesh(&piece.q).unwrap_or(FINEST);
    match attempt.side {
        None => start::standard(&piece.q, n, &mut piece.chain.t),
        Some(side) => start::bowed(&piece.q, side + attempt.turn * p, n, &mut piece.chain.t),
    }
    piece.chain.lambda = Vec3::ZERO;
    piece.chain.remesh();
    // Closed first with the lengths of the start: an open piece would reach for the slack of the others. What does not
    // settle so goes on as it is.
    let _ = settle(&mut piece.chain, &piece.q, STEPS);
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
        let unit = |v: Vec3| (v * (1.0 / v.x.abs().max(v.y.abs()).max(v.z.abs()))).direction().ok_or(NoShape::BadInput);
        let mut places = vec![Vec3::ZERO];
        let mut held = vec![Some(q.ta)];
        for guide in guides {
            places.push((guide.at - ends.a) * (1.0 / length));
            held.push(guide.direction.map(unit).transpose()?);
        }
        places.push(q.c);
        held.push(Some(q.tb));
        if !places.iter().all(|place| place.is_finite()) {
            return Err(NoShape::BadInput);
        }
        let threading = Self { q, places, held, ends, guides, length, section };
        if (0..threading.pieces()).any(|p| threading.chord(p).norm() < APART) && !guides.is_empty() {
            return Err(NoShape::BadInput);
        }
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

    /// Place `j`, in units of the question.
    fn place(&self, j: usize) -> Vec3 {
        match j {
            0 => self.ends.a,
            j => self.guides.get(j - 1).map_or(self.ends.b, |guide| guide.at),
        }
    }

    /// The tangent with which the search begins at place `j`.
    fn tangent(&self, j: usize) -> Vec3 {
        self.held[j].unwrap_or_else(|| {
            let (before, after) = (self.chord(j - 1), self.chord(j));
            let (d, e) = (before.norm().max(TAUT), after.norm().max(TAUT));
            let mean = before * (e / d) + after * (d / e);
            mean.direction().or(after.direction()).or(before.direction()).unwrap_or(self.q.ta)
        })
    }

    /// What share of the slack each piece begins with.
    fn shares(&self, bent: &[usize], most: Option<usize>) -> Vec<f64> {
        let straight = self.straight().max(TAUT);
        let weight = |p: usize| {
            if !bent.contains(&p) {
                return 0.0;
            }
            let chord = self.chord(p);
            let turned = |t: Vec3| chord.direction().map_or(1.0, |along| 1.0 - t.dot(along));
            let part = chord.norm() / straight;
            part * (LEAST + EVEN * part * part + turned(self.tangent(p)) + turned(self.tangent(p + 1)))
        };
        let weights: Vec<f64> = (0..self.pieces()).map(weight).collect();
        let sum: f64 = weights.iter().sum();
        let share = |p: usize| match most {
            None => weights[p] / sum,
            Some(most) => weights[p] / sum * (1.0 - MOST) + if bent[most] == p { MOST } else { 0.0 },
        };
        (0..self.pieces()).map(share).collect()
    }

    /// The line on which everything from place `from` to place `to` lies: places, held tangents, weight.
    fn line(&self, from: usize, to: usize) -> Option<Vec3> {
        let along = |axis: Vec3, v: Vec3| v.across(axis).norm() < ON_LINE;
        let axis = (self.places[to] - self.places[from]).direction().or(self.held[from])?;
        let on_line = |j: usize| {
            along(axis, self.places[j] - self.places[from]) && self.held[j].is_none_or(|held| along(axis, held))
        };
        (along(axis, self.q.gamma) && (from..=to).all(on_line)).then_some(axis)
    }

    /// True if the lie, or the part of it between two held tangents, may turn freely about a line.
    fn may_turn(&self, bent: &[usize]) -> bool {
        let held: Vec<usize> = (0..self.held.len()).filter(|j| self.held[*j].is_some()).collect();
        held.windows(2).any(|pair| bent.contains(&pair[0]) && self.line(pair[0], pair[1]).is_some())
    }

    /// True if piece `p` may lie exactly straight.
    fn may_be_straight(&self, p: usize) -> bool {
        let forward = |axis: Vec3, j: usize| self.held[j].is_some_and(|held| held.dot(axis) > 0.0);
        self.chord(p).norm() > TAUT && self.line(p, p + 1).is_some_and(|axis| forward(axis, p) && forward(axis, p + 1))
    }

    /// Which pieces bend: first only those that must, then one more, the longest first.
    fn bent(&self) -> Vec<Vec<usize>> {
        let (others, must): (Vec<_>, Vec<_>) = (0..self.pieces()).partition(|p| self.may_be_straight(*p));
        let mut longest: Vec<usize> = Vec::with_capacity(others.len());
        for p in others {
            let behind = longest.partition_point(|q| self.chord(*q).norm() >= self.chord(p).norm());
            longest.insert(behind, p);
        }
        let with = |more: usize| {
            let mut bent = must.clone();
            bent.insert(bent.partition_point(|p| *p < more), more);
            bent
        };
        let more: Vec<_> = longest.into_iter().map(with).collect();
        if must.is_empty() { more } else { std::iter::once(must).chain(more).collect() }
    }

    /// Sets up the pieces that bend, with their lengths and without tangents.
    fn lay_out(&self, run: &mut Run, bent: &[usize], parts: impl Fn(usize) -> f64) {
        run.pieces.resize_with(bent.len(), Default::default);
        run.gamma = self.q.gamma;
        run.free.clear();
        run.free.extend(bent[1..].iter().map(|p| self.held[*p].is_none()));
        run.may_be_neutral = self.may_turn(bent);
        run.number();
        for (&p, piece) in bent.iter().zip(&mut run.pieces) {
            (piece.q.ta, piece.q.tb) = (self.tangent(p), self.tangent(p + 1));
            piece.set(self.places[p], self.chord(p), self.q.gamma, parts(p));
        }
    }

    /// Sets up one of the starts.
    fn start(&self, run: &mut Run, bent: &[usize], attempt: Attempt) {
        let (slack, shares) = (1.0 - self.straight(), self.shares(bent, attempt.most));
        self.lay_out(run, bent, |p| self.chord(p).norm() + slack * shares[p]);
        for (&p, piece) in bent.iter().zip(&mut run.pieces) {
            begin(piece, attempt, p);
        }
    }

    /// Takes up a curve: each piece gets the slack that the curve has there, and its tangents.
    fn lay_along(&self, run: &mut Run, bent: &[usize], (length, along, tangent): Laid<'_>) {
        let at = |j: usize| match j {
            0 => 0.0,
            j => along.get(j - 1).copied().unwrap_or(length),
        };
        let share = |p: usize| {
            let slack = (at(p + 1) - at(p)) / length - self.chord(p).norm() * self.length / length;
            if bent.contains(&p) { slack.max(LEAST_LAID) } else { 0.0 }
        };
        let shares: Vec<f64> = (0..self.pieces()).map(share).collect();
        let slack = (1.0 - self.straight()) / shares.iter().sum::<f64>();
        self.lay_out(run, bent, |p| self.chord(p).norm() + slack * shares[p]);
        for (&p, piece) in bent.iter().zip(&mut run.pieces) {
            let n = least_mesh(&piece.q).unwrap_or(FINEST);
            let t = &mut piece.chain.t;
            t.clear();
            t.extend((0..=n).map(|i| tangent(at(p) + (at(p + 1) - at(p)) * i as f64 / n as f64)));
            (t[0], t[n]) = (self.held[p].unwrap_or(t[0]), self.held[p + 1].unwrap_or(t[n]));
            (piece.q.ta, piece.q.tb) = (t[0], t[n]);
            piece.chain.lambda = Vec3::ZERO;
            piece.chain.remesh();
            let _ = settle(&mut piece.chain, &piece.q, STEPS);
        }
    }

    /// Takes up a known lie: the same shares of the slack, its tangents and forces. Tells which pieces bend.
    fn take_up(&self, run: &mut Run, near: &Lie) -> Result<Vec<usize>, NoShape> {
        let known = near.pieces();
        if known.len() != self.pieces() {
            return Err(NoShape::NotFound);
        }
        let lay_straight = |p: usize| known[p].bending_energy() <= 0.0;
        let bent: Vec<usize> = (0..self.pieces()).filter(|p| !(lay_straight(*p) && self.may_be_straight(*p))).collect();
        let share = |p: usize| {
            let points = known[p].points();
            let slack = known[p].length() - (points[points.len() - 1] - points[0]).norm();
            if bent.contains(&p) { f64::max(slack / near.length(), LEAST_SHARE) } else { 0.0 }
        };
        let shares: Vec<f64> = (0..self.pieces()).map(share).collect();
        let slack = (1.0 - self.straight()) / shares.iter().sum::<f64>();
        self.lay_out(run, &bent, |p| self.chord(p).norm() + slack * shares[p]);
        for (&p, piece) in bent.iter().zip(&mut run.pieces) {
            if lay_straight(p) {
                begin(piece, Attempt::STANDARD, p);
                continue;
            }
            let (chain, lie) = (&mut piece.chain, &known[p]);
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
        Ok(bent)
    }

    /// Settles, halving the mesh of every piece that turns too much between two nodes.
    fn settle_and_refine(&self, run: &mut Run, bent: &[usize], steps: usize) -> Result<Lie, NoShape> {
        loop {
            let neutral = run.settle(steps)?;
            let mut lies = Vec::with_capacity(self.pieces());
            let mut refined = false;
            for (&p, piece) in bent.iter().zip(&mut run.pieces) {
                let ends = Ends { a: self.place(p), ..*self.ends };
                let length = piece.part * self.length;
                let lie = Lie::read(&piece.chain, &piece.q, &ends, length, self.section, neutral);
                let turn = lie.as_ref().map_or(f64::INFINITY, Lie::sharpest_turn);
                if turn > REFINE_ABOVE && piece.chain.n() < FINEST {
                    piece.chain.refine();
                    refined = true;
                } else if turn > TOO_TIGHT_ABOVE {
                    return Err(if turn.is_finite() { NoShape::TooTight } else { NoShape::NotFound });
                }
                lies.extend(lie);
            }
            if !refined && self.guides.is_empty() {
                return lies.pop().ok_or(NoShape::NotFound);
            }
            if !refined {
                let pieces = self.with_straight(bent, lies).ok_or(NoShape::NotFound)?;
                let free: Vec<bool> = self.guides.iter().map(|guide| guide.direction.is_none()).collect();
                return Ok(Lie::joined(pieces, &free, self.length, self.section));
            }
        }
    }

    /// Puts the straight pieces between the bent ones; none if one of them would buckle.
    fn with_straight(&self, bent: &[usize], mut lies: Vec<Lie>) -> Option<Vec<Lie>> {
        let Section { stiffness, weight } = *self.section;
        let up = |j: usize| weight.dot(self.place(j) - self.ends.a);
        // P is the same all along: read where the first bent piece begins.
        let (moment, pull) = (lies[0].moment_at_a(), -lies[0].force_at_a());
        let push = moment.dot(moment) / (2.0 * stiffness) + pull.dot(lies[0].tangents()[0]) + up(bent[0]);
        for p in (0..self.pieces()).filter(|p| !bent.contains(p)) {
            let apart = self.place(p + 1) - self.place(p);
            let euler = 4.0 * PI * PI * stiffness / apart.dot(apart);
            let tensions = (push - up(p), push - up(p + 1));
            if f64::min(tensions.0, tensions.1) <= -euler {
                return None;
            }
            lies.insert(p, Lie::straight(self.place(p), apart, tensions.1, self.section)?);
        }
        Some(lies)
    }
}

impl Solver {
    /// The lie of a hose that passes guides in the order given, sliding in them without friction: lengths between them
    /// fall out so that sliding either way gains nothing. Without guides, [`Solver::rest`].
    ///
    /// If several lies exist it need not be the one of lowest energy; see [`Solver::lies_guided`].
    ///
    /// # Errors
    /// As [`crate::rest`]; too short is shorter than the straight way through all guides, and two guides at one place are bad
    /// input.
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
        for bent in asked.bent() {
            for attempt in attempts(bent.len()) {
                asked.start(&mut self.run, &bent, attempt);
                match asked.settle_and_refine(&mut self.run, &bent, STEPS) {
                    Err(NoShape::NotFound) => {}
                    answer => return answer,
                }
            }
        }
        Err(NoShape::NotFound)
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
        let bent = asked.take_up(&mut self.run, near)?;
        asked.settle_and_refine(&mut self.run, &bent, STEPS_NEAR)
    }

    /// The lie into which a hose goes that is laid along a curve through the guides.
    pub(crate) fn rest_along(
        &mut self,
        ends: &Ends,
        guides: &[Guide],
        length: f64,
        section: &Section,
        laid: Laid<'_>,
    ) -> Result<Lie, NoShape> {
        let asked = Threading::new(ends, guides, length, section)?;
        let bent = asked.bent().swap_remove(0);
        asked.lay_along(&mut self.run, &bent, laid);
        asked.settle_and_refine(&mut self.run, &bent, STEPS)
    }

    /// The distinct lies found from several starts, lowest total energy first. They are what a search found, not a proof
    /// that there are no more.
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
        for bent in asked.bent() {
            for attempt in attempts(bent.len()) {
                asked.start(&mut self.run, &bent, attempt);
                match asked.settle_and_refine(&mut self.run, &bent, STEPS) {
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
        }
        if found.is_empty() { Err(why.unwrap_or(NoShape::NotFound)) } else { Ok(found) }
    }
}
