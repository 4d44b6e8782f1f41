//! A hose that rests against solids: from its free lie to one that presses on them, and what that lie tells.
//!
//! The springs of [`contact`](super::contact) begin soft where the hose is deep in a solid, so that it finds its way
//! out, and are made ten times firmer whenever the hose has settled. At last the forces are held and the hose settles
//! again until nothing is deeper than [`REST_DEPTH`]. Where that does not lead past the solids, they begin thin and
//! grow, so that each pushes the hose to the side of its middle on which it is; then other starts are tried. A hose that is
//! still deeper than [`DEEPEST`] is blocked: it is too short for the way round, or there is none.

use crate::chain::{Chain, weights};
use crate::contact::Press;
use crate::ends::{NoShape, Question};
use crate::lie::{Bend, Lie, Piece, peak};
use crate::newton::{LENT, NEUTRAL, OFF_SADDLE, SHIFT, SHIFT_GROWS, SHIFT_MOST, Search};
use crate::solid::Solid;
use crate::solver::{Asked, REFINE_ABOVE, TOO_TIGHT_ABOVE, least_mesh};
use crate::{Ends, FINEST, Section, Solver, Vec3, start};

/// A lie with what it rests against.
#[derive(Clone, Debug)]
pub struct Touching {
    /// Where the hose runs, its bends, and what its spigots do; the solids are in all of it.
    pub lie: Lie,
    /// Where it rests against what, from mouth A to mouth B; empty for a hose that lies free.
    pub contacts: Vec<Contact>,
}

/// One place at which the hose rests against a solid.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Contact {
    /// Which of the solids, by its place in the list.
    pub solid: usize,
    /// Where along the centre line from mouth A the contact begins.
    pub from: f64,
    /// Where it ends; the same for a contact at a point.
    pub to: f64,
    /// Where along the centre line the force acts, in the mean.
    pub at: f64,
    /// What the solid does to the hose: force.
    pub force: Vec3,
    /// What the solid does to the hose: moment about mouth A.
    pub moment: Vec3,
}

/// The hose may be this deep in a solid at rest, in lengths of the hose, and bears on it from this far.
const REST_DEPTH: f64 = 1e-5;
/// A free lie no deeper than this in a solid is clear of it.
const CLEAR: f64 = 1e-5;
/// Deeper than this there is no answer.
const DEEPEST: f64 = 5e-4;
/// Deeper than this on a mesh that is too coarse for its bends, a finer one will not help.
const HOPELESS: f64 = 5e-3;
/// A hose no further from a solid than this between two stretches that press lies on it.
const LIES_ON: f64 = 1e-4;
/// A shape whose ends are further apart than this has not been closed.
const OPEN: f64 = 1e-5;
/// Stretches are so short that a surface rises by no more than this between their ends; and their number at most.
const HIDDEN: f64 = 1e-4;
const MOST_STRETCHES: usize = 1280;
/// Force of a contact, times L²/EI and the square of an interval, above which the mesh is halved: the curvature has a
/// corner where a force presses, and an element has none.
const REFINE_FORCE: f64 = 0.02;
/// A hose no deeper than this is pushed out by springs that are rather firm at once.
const SHALLOW: f64 = 0.01;
/// Stiffness per length of the springs, times L⁴/EI: at first for a deep hose, for a shallow one, for solids that grow;
/// how it rises; at which forces are held; and the most, where holding them does not help.
const SOFT: f64 = 1e4;
const RATHER_FIRM: f64 = 1e5;
const GROWING: f64 = 1e6;
const FIRMER: f64 = 10.0;
const FIRM: f64 = 1e7;
const FIRMEST: f64 = 1e9;
/// The part of their thickness that growing solids have at first, and gain at each settling.
const GROWS: f64 = 0.1;
/// Turn of a step, in radians, below which the hose has settled well enough to make the springs firmer, to hold forces, to
/// ask what kind of rest it is, and below which it rests: between firm springs a small turn is a large force.
const SETTLED: f64 = 0.05;
const HELD: f64 = 1e-3;
const NEARLY: f64 = 1e-5;
const AT_REST: f64 = 1e-7;
/// Change of the force of B, as a part of it, below which forces no longer change.
const FORCES_AT_REST: f64 = 1e-4;
/// A step with more shift than this is too small to tell whether the hose has settled.
const STIFFENED: f64 = 100.0;
/// How the shift falls after a step: faster than for a free hose, as most of it is owed to springs that have let go.
const SHIFT_FALLS: f64 = 0.03;
/// How often forces are held at most.
const HOLDS: usize = 8;
/// Newton steps before a start is given up, and before a known lie is as the start of its free neighbour.
const STEPS: usize = 100;
const STEPS_NEAR: usize = 40;

/// Newton steps from the tangents at hand to a stable rest against the solids. True if it is neutral.
fn settle(chain: &mut Chain, press: &mut Press, mut goal: Goal, q: &Question, steps: usize) -> Result<bool, NoShape> {
    let mut lent = if q.coaxial { LENT } else { 0.0 };
    let (mut shift, mut last_shift) = (lent, 0.0);
    let at_hand = |chain: &mut Chain, press: &mut Press| {
        let t = std::mem::take(&mut chain.t);
        let at = press.potential(chain, &t, q);
        chain.t = t;
        at
    };
    let mut search = Search::from(at_hand(chain, press), 0);
    for _ in 0..steps {
        press.look(chain, q);
        while !press.eliminate(chain, shift).stable() {
            shift = if shift <= lent { f64::max(SHIFT, 0.3 * last_shift) } else { SHIFT_GROWS * shift };
            if shift > SHIFT_MOST {
                return Err(NoShape::NotFound);
            }
        }
        let (dl, largest) = press.step(chain, search.at.1);
        if !(dl.is_finite() && largest.is_finite()) {
            return Err(NoShape::NotFound);
        }
        let still = search.at.1.norm() < AT_REST && goal.reached(press);
        if still && shift > lent && largest < NEARLY {
            // It rests but for the shift: which kind of rest is it without?
            if press.eliminate(chain, lent).stable() {
                (last_shift, shift) = (shift, lent);
                continue;
            }
            if !press.eliminate(chain, NEUTRAL).stable() {
                step_off(chain, press, shift);
                search = Search::from(at_hand(chain, press), 0);
                (last_shift, shift) = (shift, lent);
                continue;
            }
            lent = LENT;
            (last_shift, shift) = (shift, lent);
            continue;
        }
        if still && largest < AT_REST && dl.norm() < FORCES_AT_REST * (1.0 + chain.lambda.norm()) {
            chain.lambda += dl;
            chain.try_step(1.0);
            chain.take_step();
            at_hand(chain, press);
            press.look(chain, q);
            return Ok(lent > 0.0);
        }
        let part = search.along(chain, dl, largest, |chain| press.potential(chain, &chain.trial, q));
        chain.take_step();
        chain.lambda += dl * part;
        last_shift = shift;
        shift = if shift < 2.0 * SHIFT { lent } else { SHIFT_FALLS * shift };
        if last_shift <= STIFFENED && goal.harden(chain, press, part * largest) {
            search.at = at_hand(chain, press);
        }
    }
    Err(NoShape::NotFound)
}

/// What the springs are to become.
struct Goal {
    firmness: f64,
    /// How often forces may still be held, and how far the touches were from bearing as walls do when last they were.
    holds: usize,
    off: f64,
}

impl Goal {
    fn firm(&self, press: &Press) -> bool {
        press.firmness >= self.firmness && press.grown >= 1.0
    }

    /// True if there is nothing left to change.
    fn reached(&self, press: &Press) -> bool {
        self.firm(press) && (self.holds == 0 || off(press) < REST_DEPTH)
    }

    /// The next step towards it, after a step that turned some tangent by `turn`. Returns whether there was one to take.
    fn harden(&mut self, chain: &Chain, press: &mut Press, turn: f64) -> bool {
        if turn > SETTLED {
            return false;
        }
        if press.grown < 1.0 {
            press.grow(f64::min(1.0, press.grown + GROWS));
        } else if press.firmness < self.firmness {
            press.firmness = f64::min(self.firmness, press.firmness * FIRMER);
        } else if self.holds > 0 && turn < HELD {
            let off = off(press);
            if off > 0.5 * self.off && press.firmness < FIRMEST {
                press.firmness *= FIRMER;
            }
            self.off = off;
            self.holds -= 1;
            press.hold(chain);
        } else {
            return false;
        }
        true
    }
}

/// How far the touches are from bearing as walls do.
fn off(press: &Press) -> f64 {
    press.touches.iter().map(|touch| touch.depth.abs()).fold(0.0, f64::max)
}

/// Turns the tangents off a saddle, along the mode that lowers the potential most; `shift` just makes it stable.
fn step_off(chain: &mut Chain, press: &mut Press, shift: f64) {
    for (i, turn) in chain.turn.iter_mut().enumerate() {
        let wave = (i * 7 % 11) as f64 - 5.0;
        *turn = Vec3::new(1.0 + 0.3 * wave, 0.7 - 0.2 * wave, 0.4 + 0.1 * wave);
    }
    for _ in 0..6 {
        let size = chain.mass_of_turn().sqrt();
        chain.load_with_turns(1.0 / size);
        press.eliminate(chain, shift);
        press.step(chain, Vec3::ZERO);
    }
    let off = chain.turn.iter().fold(0.0_f64, |most, x| most.max(x.dot(*x))).sqrt();
    chain.try_step(OFF_SADDLE / off);
    chain.take_step();
}

/// The chain at rest and what presses on it, with units.
fn read(chain: &Chain, press: &Press, asked: &Asked<'_>, neutral: bool) -> Option<Touching> {
    let (q, n, h) = (&asked.q, chain.n(), chain.h());
    let (w1, w2) = weights(h);
    let t = &chain.t;
    let gap = press.places[n] - q.c;
    if gap.norm().is_nan() || gap.norm() > OPEN {
        return None;
    }
    let points = press.places.iter().enumerate();
    let points = points.map(|(i, p)| asked.ends.a + (*p - gap * (h * i as f64)) * asked.length).collect();
    // t' at the clamps, from the local field of the clamped nodes.
    let pressed = press.touches.iter().fold(Vec3::ZERO, |sum, touch| sum + touch.near.out * touch.force);
    let at_a = chain.lambda + q.gamma + pressed;
    let bend_a = (t[1] * w1 + t[2] * w2 + at_a * (h / 3.0) + (press.pushes[0] - pressed * (h / 3.0))).across(t[0]);
    let bend_b = -(t[n - 1] * w1 + t[n - 2] * w2 + chain.lambda * (h / 3.0) + press.pushes[n]).across(t[n]);
    let moment_a = t[0].cross(bend_a);
    let mut walk = Walk { at_a, moment_a, gamma: q.gamma, ..Walk::default() };
    let mut bend: Vec<Piece> = Vec::with_capacity(n + press.touches.len());
    let mut before = walk.go(0.0, (Vec3::ZERO, t[0]));
    let mut touches = press.touches.iter().peekable();
    for node in 1..=n {
        let end = node as f64 * h;
        loop {
            let touch = touches.next_if(|touch| touch.at < end);
            let (from, to) = (walk.at, touch.map_or(end, |touch| touch.at));
            let here = walk.go(to, press.at(chain, to));
            if to > from {
                bend.push(Piece { from, wide: to - from, ends: [before, here] });
            }
            let Some(touch) = touch else {
                before = here;
                break;
            };
            before = walk.pass(touch.place, touch.near.out * touch.force);
        }
    }
    let (total, _) = chain.potential(t, q);
    let (bending, _) = chain.potential(t, &Question { gamma: Vec3::ZERO, ..*q });
    let unit = asked.section.stiffness / asked.length;
    let lie = Lie {
        length: asked.length,
        stiffness: asked.section.stiffness,
        points,
        tangents: t.clone(),
        peak: peak(&bend, asked.length),
        bend,
        lambda: chain.lambda,
        gamma: q.gamma,
        pressed,
        held: press.told(chain),
        bending: bending * unit,
        total: total * unit,
        moments: (-moment_a * unit, t[n].cross(bend_b) * unit),
        push: Vec3::ZERO,
        threaded: None,
        neutral,
    };
    total.is_finite().then(|| Touching { contacts: contacts(chain, press, asked), lie })
}

/// A walk along the hose from A: m(s) = m(0) - r×n - (∫ r ds)×γ - Σ r×F of what presses before s, and n falls by F where
/// something presses.
#[derive(Default)]
struct Walk {
    at_a: Vec3,
    moment_a: Vec3,
    gamma: Vec3,
    /// Where it has come to, as a part of the length, and place and tangent there.
    at: f64,
    place: Vec3,
    tangent: Vec3,
    swept: Vec3,
    /// Forces passed, and their moments about A.
    forces: Vec3,
    moments: Vec3,
}

impl Walk {
    /// Goes on to a place within the same interval.
    fn go(&mut self, at: f64, (place, tangent): (Vec3, Vec3)) -> Bend {
        // The place is a cubic there, so this is its integral.
        let step = at - self.at;
        self.swept += (self.place + place) * (0.5 * step) + (self.tangent - tangent) * (step * step / 12.0);
        (self.at, self.place, self.tangent) = (at, place, tangent);
        self.bend()
    }

    /// Passes something that presses.
    fn pass(&mut self, place: Vec3, force: Vec3) -> Bend {
        self.forces += force;
        self.moments += place.cross(force);
        self.bend()
    }

    fn bend(&self) -> Bend {
        let pull = self.at_a - self.gamma * self.at - self.forces;
        let moment = self.moment_a - self.place.cross(pull) - self.swept.cross(self.gamma) - self.moments;
        let rate = moment.cross(self.tangent);
        // EI t'' = -n + (…) t, and t' is square to t: so (κ²)' = -2 n·t'.
        (rate.dot(rate), -2.0 * pull.dot(rate))
    }
}

/// Gathers the stretches that press on one solid: those no further apart than an element, or between which the hose lies on
/// the solid all the way, are one contact.
fn contacts(chain: &Chain, press: &Press, asked: &Asked<'_>) -> Vec<Contact> {
    let unit = asked.section.stiffness / (asked.length * asked.length);
    let mut all: Vec<(Contact, f64, usize)> = Vec::new();
    for touch in &press.touches {
        let at = touch.at * asked.length;
        let place = touch.place * asked.length;
        let force = touch.near.out * (touch.force * unit);
        let (moment, weight) = (place.cross(force), touch.force);
        let solid = &press.solids[touch.solid];
        let clear = |stretch: usize| {
            solid.distance(press.at(chain, (stretch as f64 - 0.5) / press.stretches(chain) as f64).0) - press.reach
                > LIES_ON
        };
        let same = |c: &(Contact, f64, usize)| {
            c.0.solid == touch.solid && (touch.stretch - c.2 <= 2 * press.parts || !(c.2..touch.stretch).any(clear))
        };
        match all.iter_mut().find(|c| same(c)) {
            Some((contact, sum, last)) => {
                *last = touch.stretch;
                contact.to = at;
                contact.at += (at - contact.at) * weight / (*sum + weight);
                contact.force += force;
                contact.moment += moment;
                *sum += weight;
            }
            None => {
                all.push((Contact { solid: touch.solid, from: at, to: at, at, force, moment }, weight, touch.stretch))
            }
        }
    }
    all.into_iter().map(|(contact, ..)| contact).collect()
}

/// A hose of some thickness among solids, with the rest of the question.
struct Among<'a> {
    asked: Asked<'a>,
    /// Stretches wanted along the hose.
    stretches: usize,
    /// Stiffness of the solids per length, times L⁴/EI, if they yield.
    yields: Option<f64>,
}

impl<'a> Among<'a> {
    /// Puts hose and solids into `press`.
    fn new(asked: Asked<'a>, radius: f64, solids: &[Solid], press: &mut Press) -> Result<Self, NoShape> {
        let sound = radius >= 0.0 && radius.is_finite() && solids.iter().all(Solid::is_sound);
        if !sound {
            return Err(NoShape::BadInput);
        }
        press.whole.clear();
        press.whole.extend(solids.iter().map(|solid| solid.scaled(asked.ends.a, asked.length)));
        press.radius = radius / asked.length;
        // From the middle of a stretch δ long to its ends a surface of radius R falls by δ²/8R.
        let sharpest = press.whole.iter().fold(f64::INFINITY, |least, solid| least.min(solid.sharpest()));
        let wanted = (8.0 * HIDDEN * (sharpest + press.radius)).sqrt().recip();
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "kept within bounds")]
        let stretches = wanted.clamp(1.0, MOST_STRETCHES as f64) as usize;
        Ok(Self { asked, stretches, yields: None })
    }

    /// Stretches to an interval of the chain: a power of two, so that a chain with half the interval has the same ones.
    fn parts(&self, chain: &Chain) -> usize {
        let mut parts = 1;
        while parts * chain.n() < self.stretches {
            parts *= 2;
        }
        parts
    }
}

/// How the hose is brought into contact.
#[derive(Clone, Copy)]
enum Way {
    /// The springs are firm at once: for a hose that is nearly clear, or was in contact before.
    Firm,
    /// They begin soft.
    Soft,
    /// Solids and hose begin thin, so that each solid pushes the hose to the side of its middle on which it is.
    Growing,
}

impl Solver {
    /// The lie of a hose of this radius that may rest against solids but not run through them; nothing holds it there
    /// by friction. If the free lie of [`Solver::rest`] is clear of them all, it is the answer.
    ///
    /// # Errors
    /// As [`crate::rest`], and [`NoShape::Blocked`] where the hose cannot get past.
    pub fn rest_against(
        &mut self,
        ends: &Ends,
        length: f64,
        section: &Section,
        radius_of_hose: f64,
        solids: &[Solid],
    ) -> Result<Touching, NoShape> {
        let among = Among::new(Asked::new(ends, length, section)?, radius_of_hose, solids, &mut self.press)?;
        self.among(&among)
    }

    /// The lie in contact that a known lie of nearly the same question changes into; faster than
    /// [`Solver::rest_against`].
    ///
    /// # Errors
    /// As [`Solver::rest_against`]; no other start is tried, so the reason may only mean that this lie ends here.
    pub fn rest_against_near(
        &mut self,
        near: &Lie,
        ends: &Ends,
        length: f64,
        section: &Section,
        radius_of_hose: f64,
        solids: &[Solid],
    ) -> Result<Touching, NoShape> {
        let among = Among::new(Asked::new(ends, length, section)?, radius_of_hose, solids, &mut self.press)?;
        self.mouths_clear(&among)?;
        self.take_tangents(near, &among.asked.q)?;
        if near.held.is_empty() {
            match self.free(&among, STEPS_NEAR) {
                Ok(touching) => return Ok(touching),
                Err(None) => {}
                Err(Some(why)) => return Err(why),
            }
        }
        self.ready(&among, 1.0);
        self.press.take_up(&self.chain, &near.held);
        self.press_out(&among, Way::Firm)
    }

    /// As [`Solver::rest_against`], but the solids yield: they push with `stiffness` times the depth, per length of the
    /// hose, and the hose may be in them as deep as that takes. For studies, and against programs that reckon so.
    ///
    /// # Errors
    /// As [`Solver::rest_against`]; a stiffness that is not above zero is bad input.
    pub fn rest_against_yielding(
        &mut self,
        ends: &Ends,
        length: f64,
        section: &Section,
        radius_of_hose: f64,
        solids: &[Solid],
        stiffness: f64,
    ) -> Result<Touching, NoShape> {
        let among = Among::new(Asked::new(ends, length, section)?, radius_of_hose, solids, &mut self.press)?;
        let firmness = stiffness * (length * length * length * length) / section.stiffness;
        if !(firmness > 0.0 && firmness.is_finite()) {
            return Err(NoShape::BadInput);
        }
        self.among(&Among { yields: Some(firmness), stretches: MOST_STRETCHES, ..among })
    }

    fn among(&mut self, among: &Among<'_>) -> Result<Touching, NoShape> {
        self.mouths_clear(among)?;
        let mut why = None;
        // From the free lie: by springs as firm as it is shallow, or with solids that grow.
        match self.standard(&among.asked) {
            Err(other) => why = Some(other),
            Ok(lie) => {
                let (t, lambda) = (self.chain.t.clone(), self.chain.lambda);
                let depth = self.depth(among);
                if depth < CLEAR {
                    return Ok(Touching { lie, contacts: Vec::new() });
                }
                let first = if depth < SHALLOW { Way::Firm } else { Way::Soft };
                for way in [first, Way::Growing] {
                    self.chain.t.clone_from(&t);
                    self.chain.lambda = lambda;
                    self.chain.remesh();
                    match self.press_out(among, way) {
                        Ok(touching) => return Ok(touching),
                        Err(other) => why = Some(worse(why, other)),
                    }
                }
            }
        }
        let least = least_mesh(&among.asked.q)?;
        for side in 0..8 {
            start::bowed(&among.asked.q, side, least, &mut self.chain.t);
            self.begin();
            match self.press_out(among, Way::Soft) {
                Ok(touching) => return Ok(touching),
                Err(other) => why = Some(worse(why, other)),
            }
        }
        Err(why.unwrap_or(NoShape::NotFound))
    }

    /// Blocked if a mouth, which cannot move, is in a solid.
    fn mouths_clear(&mut self, among: &Among<'_>) -> Result<(), NoShape> {
        let press = &self.press;
        let inside = |place| press.whole.iter().any(|solid| press.radius - solid.distance(place) > DEEPEST);
        let stuck = among.yields.is_none() && (inside(Vec3::ZERO) || inside(among.asked.q.c));
        if stuck { Err(NoShape::Blocked) } else { Ok(()) }
    }

    /// The free lie from the chain at hand if it is clear of all solids; no reason if only that is wrong with it.
    fn free(&mut self, among: &Among<'_>, steps: usize) -> Result<Touching, Option<NoShape>> {
        let lie = self.settle_and_refine(&among.asked, steps)?;
        if self.depth(among) < CLEAR { Ok(Touching { lie, contacts: Vec::new() }) } else { Err(None) }
    }

    /// How deep the chain at hand is in the solids, without yielding.
    fn depth(&mut self, among: &Among<'_>) -> f64 {
        self.ready(among, 1.0);
        self.press.deepest(&self.chain)
    }

    /// Stretches for the chain at hand, and solids with this part of their thickness.
    fn ready(&mut self, among: &Among<'_>, grown: f64) {
        self.press.remesh(&self.chain, among.parts(&self.chain));
        self.press.grow(grown);
    }

    /// Settles the chain at hand against the solids, halving the mesh while the hose turns too much between two nodes.
    fn press_out(&mut self, among: &Among<'_>, way: Way) -> Result<Touching, NoShape> {
        let (firmness, grown) = match way {
            Way::Firm => (RATHER_FIRM, 1.0),
            Way::Soft => (SOFT, 1.0),
            Way::Growing => (GROWING, GROWS),
        };
        if !matches!(way, Way::Firm) {
            self.ready(among, grown);
        }
        let firmest = among.yields.unwrap_or(FIRM);
        self.press.sliding = among.yields.is_none();
        self.press.firmness = firmness.min(firmest);
        loop {
            let goal =
                Goal { firmness: firmest, holds: if among.yields.is_some() { 0 } else { HOLDS }, off: f64::INFINITY };
            let neutral = settle(&mut self.chain, &mut self.press, goal, &among.asked.q, STEPS)?;
            let n = self.chain.n();
            let deepest = self.press.deepest(&self.chain);
            if self.press.touches.is_empty() {
                return self.free(among, STEPS).map_err(|why| why.unwrap_or(NoShape::NotFound));
            }
            let touching = read(&self.chain, &self.press, &among.asked, neutral).ok_or(NoShape::NotFound)?;
            let turn = touching.lie.sharpest_turn();
            let unit = among.asked.section.stiffness / (among.asked.length * among.asked.length);
            let hardest = touching.contacts.iter().map(|contact| contact.force.norm() / unit).fold(0.0, f64::max);
            let coarse = turn > REFINE_ABOVE || (n < FINEST && hardest > REFINE_FORCE * (n * n) as f64);
            let passes = among.yields.is_some() || deepest < DEEPEST;
            if passes && (!coarse || (n >= FINEST && turn <= TOO_TIGHT_ABOVE)) {
                return Ok(touching);
            }
            if !passes && (!coarse || deepest > HOPELESS) {
                return Err(NoShape::Blocked);
            }
            if n >= FINEST {
                return Err(NoShape::TooTight);
            }
            self.chain.refine();
            self.ready(among, 1.0);
            self.press.take_up(&self.chain, &touching.lie.held);
            self.press.firmness = firmest;
        }
    }
}

/// Of two reasons the one that says more: that the hose came to rest pressed into a solid.
fn worse(one: Option<NoShape>, other: NoShape) -> NoShape {
    match one {
        Some(NoShape::Blocked) => NoShape::Blocked,
        _ => other,
    }
}
