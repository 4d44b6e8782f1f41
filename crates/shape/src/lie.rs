//! A lie: where the hose runs, how sharply it bends, and what it does to its spigots.

use crate::chain::Chain;
use crate::contact;
use crate::ends::Question;
use crate::{Ends, Section, Vec3};

mod threaded;
pub use threaded::Held;
use threaded::Threaded;

/// The tightest bend of a lie.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Peak {
    /// Curvature of the centre line there, 1/length.
    pub curvature: f64,
    /// Distance from mouth A along the centre line.
    pub at: f64,
}

/// Two lies whose nodes differ by less than this part of the length (root mean square) are the same.
const SAME: f64 = 0.002;

/// A shape whose ends are further apart than this part of the length has not been closed.
const OPEN: f64 = 1e-5;

/// One of the shapes in which a hose can come to rest, shown to be stable.
#[derive(Clone, Debug)]
pub struct Lie {
    pub(crate) length: f64,
    pub(crate) stiffness: f64,
    pub(crate) points: Vec<Vec3>,
    pub(crate) tangents: Vec<Vec3>,
    pub(crate) bend: Vec<Piece>,
    /// Force of B on the hose, without units.
    pub(crate) lambda: Vec3,
    pub(crate) gamma: Vec3,
    /// Force at mid-length, without units.
    pub(crate) push: Vec3,
    /// Sum of what presses on the hose, without units.
    pub(crate) pressed: Vec3,
    /// Where and how hard it is pressed, to take it up again.
    pub(crate) held: Vec<contact::Held>,
    pub(crate) peak: Peak,
    pub(crate) bending: f64,
    pub(crate) total: f64,
    pub(crate) moments: (Vec3, Vec3),
    pub(crate) neutral: bool,
    /// The pieces between guides, if there are any: they then answer in its place.
    pub(crate) threaded: Option<Box<Threaded>>,
}

/// Square of the curvature, times length², and its derivative along the unit length.
pub(crate) type Bend = (f64, f64);

/// A piece of hose on which nothing presses but at its ends, in lengths of the hose, with its bend at both: between two
/// pieces the derivative jumps by what presses there.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Piece {
    pub(crate) from: f64,
    pub(crate) wide: f64,
    pub(crate) ends: [Bend; 2],
}

/// Cubic Hermite over an element of width `w`: value at the fraction `x`.
fn cubic(w: f64, (f0, d0): (f64, f64), (f1, d1): (f64, f64), x: f64) -> f64 {
    let y = 1.0 - x;
    f0 * y * y * (1.0 + 2.0 * x) + f1 * x * x * (1.0 + 2.0 * y) + w * x * y * (d0 * y - d1 * x)
}

impl Lie {
    pub(crate) fn read(
        chain: &Chain,
        q: &Question,
        ends: &Ends,
        length: f64,
        section: &Section,
        neutral: bool,
    ) -> Option<Self> {
        let (n, h) = (chain.n(), chain.h());
        // Places from mouth A in hose lengths, by the quartic through five tangents: at every fourth node the closing
        // condition's own sum.
        let mut places = Vec::with_capacity(n + 1);
        let mut at = Vec3::ZERO;
        places.push(at);
        for t in chain.t.windows(5).step_by(4) {
            let sum = |w: [f64; 5]| t.iter().zip(w).fold(Vec3::ZERO, |sum, (t, w)| sum + *t * w);
            places.push(at + sum([251.0, 646.0, -264.0, 106.0, -19.0]) * (h / 720.0));
            places.push(at + sum([29.0, 124.0, 24.0, 4.0, -1.0]) * (h / 90.0));
            places.push(at + sum([27.0, 102.0, 72.0, 42.0, -3.0]) * (h / 80.0));
            at += sum([7.0, 32.0, 12.0, 32.0, 7.0]) * (2.0 * h / 45.0);
            places.push(at);
        }
        // What the last step's square leaves open (some 1e-8 of the length) is shared out along the hose.
        let gap = at - q.c;
        if gap.norm().is_nan() || gap.norm() > OPEN {
            return None;
        }
        let open = gap * h;
        for (i, place) in places.iter_mut().enumerate() {
            *place = *place - open * i as f64;
        }
        // The moment anywhere follows from that at A by statics, m(s) = m(0) - r×n - (∫ r ds)×γ, and EI t' = m × t.
        let (bend_a, bend_b) = chain.clamp_bends(q);
        let moment_a = chain.t[0].cross(bend_a);
        let mut bend: Vec<Piece> = Vec::with_capacity(n / 2);
        let mut before = (0.0, 0.0);
        let mut swept = Vec3::ZERO;
        // A push at mid-length is in the pull before it; beyond, its moment about A is.
        let middle = places[n / 2].cross(q.push);
        for i in (0..=n).step_by(2) {
            let (push, arm) = if 2 * i < n { (q.push, Vec3::ZERO) } else { (Vec3::ZERO, middle) };
            let pull = chain.lambda + q.gamma * (1.0 - i as f64 * h) + push;
            let rate = (moment_a - places[i].cross(pull) - swept.cross(q.gamma) - arm).cross(chain.t[i]);
            // EI t'' = -n + (…) t, and t' is square to t: so (κ²)' = 2 t'·t'' = -2 n·t'. At mid-length the push is in the
            // pull of the piece before.
            let here = (rate.dot(rate), -2.0 * pull.dot(rate));
            if i > 0 {
                let pushed = if 2 * i == n { -2.0 * q.push.dot(rate) } else { 0.0 };
                bend.push(Piece { from: (i - 2) as f64 * h, wide: 2.0 * h, ends: [before, (here.0, here.1 + pushed)] });
            }
            before = here;
            if i < n {
                swept += (places[i] + places[i + 1] * 4.0 + places[i + 2]) * (h / 3.0);
            }
        }
        let (bending, total) = energies(chain, q);
        let unit = section.stiffness / length;
        total.is_finite().then(|| Self {
            length,
            stiffness: section.stiffness,
            points: places.iter().map(|p| ends.a + *p * length).collect(),
            tangents: chain.t.clone(),
            peak: peak(&bend, length),
            bend,
            lambda: chain.lambda,
            gamma: q.gamma,
            push: q.push,
            pressed: Vec3::ZERO,
            held: Vec::new(),
            bending: bending * unit,
            total: total * unit,
            moments: (-moment_a * unit, chain.t[n].cross(bend_b) * unit),
            neutral,
            threaded: None,
        })
    }

    /// The largest turn between two neighbouring nodes, in radians.
    pub(crate) fn sharpest_turn(&self) -> f64 {
        self.peak.curvature * self.length / (self.points.len() - 1) as f64
    }

    /// Length of the hose between the mouths.
    #[must_use]
    pub fn length(&self) -> f64 {
        self.length
    }

    /// Points of the centre line, equally spaced in arc length, first mouth A and last mouth B: 41 or, on a finer
    /// mesh, 81, 161 or 321, so every twentieth of the length is one of them.
    #[must_use]
    pub fn points(&self) -> &[Vec3] {
        &self.points
    }

    /// Unit tangents at [`Lie::points`], in the direction from A to B.
    #[must_use]
    pub fn tangents(&self) -> &[Vec3] {
        &self.tangents
    }

    /// The place `s` along the centre line from mouth A (kept within 0 and the length).
    #[must_use]
    pub fn point_at(&self, s: f64) -> Vec3 {
        if let Some(threaded) = &self.threaded {
            let (piece, s) = threaded.piece_at(s);
            return piece.point_at(s);
        }
        let (i, x) = self.interval(s, self.points.len() - 1);
        let w = self.length / (self.points.len() - 1) as f64;
        let (p, t) = (&self.points[i..], &self.tangents[i..]);
        let y = 1.0 - x;
        p[0] * (y * y * (1.0 + 2.0 * x)) + p[1] * (x * x * (1.0 + 2.0 * y)) + (t[0] * y - t[1] * x) * (w * x * y)
    }

    /// The unit tangent at `s` along the centre line.
    #[must_use]
    pub fn tangent_at(&self, s: f64) -> Vec3 {
        if let Some(threaded) = &self.threaded {
            let (piece, s) = threaded.piece_at(s);
            return piece.tangent_at(s);
        }
        let elements = (self.tangents.len() - 1) / 2;
        let (e, x) = self.interval(s, elements);
        let (a, m, b) = (self.tangents[2 * e], self.tangents[2 * e + 1], self.tangents[2 * e + 2]);
        let t = a * ((1.0 - x) * (1.0 - 2.0 * x)) + m * (4.0 * x * (1.0 - x)) + b * (x * (2.0 * x - 1.0));
        t.direction().unwrap_or(m)
    }

    /// Curvature of the centre line at `s`, 1/length, never negative.
    #[must_use]
    pub fn curvature_at(&self, s: f64) -> f64 {
        if let Some(threaded) = &self.threaded {
            let (piece, s) = threaded.piece_at(s);
            return piece.curvature_at(s);
        }
        let at = (s / self.length).clamp(0.0, 1.0);
        let piece = &self.bend[self.bend.partition_point(|piece| piece.from <= at).max(1) - 1];
        let [from, to] = piece.ends;
        cubic(piece.wide, from, to, (at - piece.from) / piece.wide).max(0.0).sqrt() / self.length
    }

    /// Which of `parts` equal intervals `s` lies in, and how far along it (0 to 1).
    fn interval(&self, s: f64, parts: usize) -> (usize, f64) {
        let x = (s / self.length).clamp(0.0, 1.0) * parts as f64;
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 <= x <= parts")]
        let i = (x as usize).min(parts - 1);
        (i, x - i as f64)
    }

    /// The tightest bend, also between nodes and at the clamps.
    #[must_use]
    pub fn peak(&self) -> Peak {
        self.peak
    }

    /// The tightest bend between `from` and `to` along the centre line, to within a sixteenth of an element.
    #[must_use]
    pub fn peak_between(&self, from: f64, to: f64) -> Peak {
        if let Some(threaded) = &self.threaded {
            return threaded.peak_between(from, to);
        }
        let w = self.length / (8 * (self.points.len() - 1)) as f64;
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a count of small steps")]
        let steps = ((to - from) / w).clamp(1.0, 1e6) as usize + 1;
        (0..=steps)
            .map(|k| from + (to - from) * k as f64 / steps as f64)
            .map(|at| Peak { curvature: self.curvature_at(at), at })
            .fold(Peak { curvature: 0.0, at: from }, |best, p| if p.curvature > best.curvature { p } else { best })
    }

    /// Bending energy, ½ ∫ EI κ² ds.
    #[must_use]
    pub fn bending_energy(&self) -> f64 {
        self.bending
    }

    /// Bending energy plus that of the weight, counted from the height of mouth A.
    #[must_use]
    pub fn total_energy(&self) -> f64 {
        self.total
    }

    fn force_unit(&self) -> f64 {
        self.stiffness / (self.length * self.length)
    }

    /// What spigot A does to the hose: force.
    #[must_use]
    pub fn force_at_a(&self) -> Vec3 {
        if let Some(threaded) = &self.threaded {
            return threaded.force_at_a();
        }
        -(self.lambda + self.gamma + self.push + self.pressed) * self.force_unit()
    }

    /// What spigot B does to the hose: force.
    #[must_use]
    pub fn force_at_b(&self) -> Vec3 {
        self.lambda * self.force_unit()
    }

    /// What spigot A does to the hose: moment about its mouth.
    #[must_use]
    pub fn moment_at_a(&self) -> Vec3 {
        self.moments.0
    }

    /// What spigot B does to the hose: moment about its mouth.
    #[must_use]
    pub fn moment_at_b(&self) -> Vec3 {
        self.moments.1
    }

    /// True if the lie may slide freely about the line of its spigots: which way it bows is chance.
    #[must_use]
    pub fn is_neutral(&self) -> bool {
        self.neutral
    }

    pub(crate) fn pull(&self) -> Vec3 {
        self.lambda
    }

    /// The force with which it is pushed at mid-length; zero for a lie that is left alone.
    #[must_use]
    pub fn push(&self) -> Vec3 {
        self.push * self.force_unit()
    }

    /// True if both lies run the same way, within 0.002 of the length (root mean square): for telling distinct lies of one
    /// question apart.
    #[must_use]
    pub fn same_as(&self, other: &Self) -> bool {
        const PLACES: usize = 20;
        let apart = |k: usize| {
            let part = k as f64 / PLACES as f64;
            let d = self.point_at(part * self.length) - other.point_at(part * other.length);
            d.dot(d)
        };
        let sum: f64 = (1..PLACES).map(apart).sum();
        (sum / PLACES as f64).sqrt() < SAME * self.length
    }

    /// True if both are neutral and one is the other turned about the line of the spigots.
    #[must_use]
    pub fn same_but_turned(&self, other: &Self) -> bool {
        self.neutral && other.neutral && (self.total - other.total).abs() < 1e-6 * self.bending
    }
}

/// Bending energy and total potential, without units.
fn energies(chain: &Chain, q: &Question) -> (f64, f64) {
    let let_go = Question { push: Vec3::ZERO, ..*q };
    let weightless = Question { gamma: Vec3::ZERO, ..let_go };
    (chain.sharp_potential(&chain.t, &weightless).0, chain.sharp_potential(&chain.t, &let_go).0)
}

/// The largest curvature of the cubics of κ².
pub(crate) fn peak(bend: &[Piece], length: f64) -> Peak {
    let mut best = (bend[0].ends[0].0, 0.0);
    for &Piece { from, wide: w, ends } in bend {
        let [(f0, d0), (f1, d1)] = ends;
        let mut offer = |f: f64, x: f64| {
            if f > best.0 {
                best = (f, from + x * w);
            }
        };
        offer(f1, 1.0);
        if d0 > 0.0 && d1 < 0.0 {
            // Derivative of the cubic: c0 + c1 x + c2 x², from d0 > 0 at 0 to d1 < 0 at 1: one root between.
            let rise = (f1 - f0) / w;
            let (c1, c2) = (6.0 * rise - 4.0 * d0 - 2.0 * d1, 3.0 * (d0 + d1) - 6.0 * rise);
            let root = (c1 * c1 - 4.0 * c2 * d0).max(0.0).sqrt();
            let x = 2.0 * d0 / (root - c1);
            if (0.0..=1.0).contains(&x) {
                offer(cubic(w, ends[0], ends[1], x), x);
            }
        }
    }
    Peak { curvature: best.0.max(0.0).sqrt() / length, at: best.1 * length }
}
