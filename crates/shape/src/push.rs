//! Does a lie stay when someone leans on it: the hose under a point force at mid-length, and what it does when let go.
//!
//! A force P at s = 1/2 does the work P·r(1/2), and r(1/2) is the integral of the tangents before it: so it is one more
//! pull on those, n(s) = λ + γ(1-s) + P for s < 1/2. In `chain` that is an extra term of the fields; the equations stay
//! as they are.

use crate::solver::{Asked, STEPS, STEPS_NEAR};
use crate::{Ends, Lie, NoShape, Section, Solver, Vec3};

/// The first part of a push that is tried at once.
const FIRST: f64 = 0.5;
/// The smallest part: where even that moves the hose further than [`MOVED`], the lie has come to its end and snaps.
const LEAST: f64 = 1.0 / 64.0;
/// How far any place may move in one step of the push, in hose lengths, for the new lie to be the old one pushed.
const MOVED: f64 = 0.05;
/// The cosines and sines of eight directions round the hose.
const HALF: f64 = std::f64::consts::FRAC_1_SQRT_2;
const AROUND: [(f64, f64); 8] =
    [(1.0, 0.0), (HALF, HALF), (0.0, 1.0), (-HALF, HALF), (-1.0, 0.0), (-HALF, -HALF), (0.0, -1.0), (HALF, -HALF)];

impl Solver {
    /// The lie that `lie` becomes as the force at its mid-length grows slowly from what it is ([`Lie::push`]) to `force`. Where
    /// it comes to its end on the way, the hose snaps to the lie that the search finds from there. What comes back is at
    /// rest under the force.
    ///
    /// # Errors
    /// As [`crate::rest`]; a mesh of which a half cannot be halved twice ([`Solver::rest_on_mesh`] with 20, say) is bad
    /// input.
    pub fn pushed(
        &mut self,
        lie: &Lie,
        ends: &Ends,
        length: f64,
        section: &Section,
        force: Vec3,
    ) -> Result<Lie, NoShape> {
        let mut asked = Asked::new(ends, length, section)?;
        if !(force.is_finite() && (lie.tangents().len() - 1).is_multiple_of(8)) {
            return Err(NoShape::BadInput);
        }
        let unit = length * length / section.stiffness;
        let (from, way) = (lie.push() * unit, (force - lie.push()) * unit);
        let coaxial = asked.q.coaxial;
        let (mut at, mut step) = (lie.clone(), FIRST);
        let mut done = 0.0;
        while done < 1.0 {
            let to = f64::min(1.0, done + step);
            asked.q.push = from + way * to;
            asked.q.coaxial = coaxial && asked.q.push == Vec3::ZERO;
            let snap = step <= LEAST;
            let next = self.take_up(&at, &asked, if snap { STEPS } else { STEPS_NEAR });
            match next {
                Ok(next) if snap || moved(&at, &next) < MOVED * length => {
                    at = next;
                    done = to;
                    step *= 2.0;
                }
                Err(why) if snap => return Err(why),
                _ => step *= 0.5,
            }
        }
        Ok(at)
    }

    /// True if the lie is another after someone has leant on its mid-length with `newtons` (force in the units of the
    /// section) and let go, from any of eight sides. A lie that slides freely about the line of its spigots has not left when it
    /// has only turned. True also where no lie is found under the force: it is not shown to stay.
    pub fn leaves_when_pushed(&mut self, lie: &Lie, ends: &Ends, length: f64, section: &Section, newtons: f64) -> bool {
        let (u, v) = sides(lie, ends, length);
        AROUND.iter().any(|(cos, sin)| {
            let force = (u * *cos + v * *sin) * newtons;
            let back = self
                .pushed(lie, ends, length, section, force)
                .and_then(|pushed| self.pushed(&pushed, ends, length, section, Vec3::ZERO));
            !back.is_ok_and(|back| back.same_as(lie) || back.same_but_turned(lie))
        })
    }
}

/// Two directions square to the hose at mid-length and to each other, the first the way in which it bows: they turn with
/// the layout.
fn sides(lie: &Lie, ends: &Ends, length: f64) -> (Vec3, Vec3) {
    let (place, t) = (lie.point_at(0.5 * length), lie.tangent_at(0.5 * length));
    let bow = (place - (ends.a + ends.b) * 0.5).across(t);
    let u = if bow.norm() > 1e-9 * length { bow.direction() } else { None }.unwrap_or_else(|| t.frame().0);
    (u, t.cross(u))
}

/// How far the place that moves most has moved.
fn moved(before: &Lie, after: &Lie) -> f64 {
    let length = before.length();
    (1..20)
        .map(|k| length * f64::from(k) / 20.0)
        .map(|s| (before.point_at(s) - after.point_at(s)).norm())
        .fold(0.0, f64::max)
}
