//! A lie that passes through guides: its pieces, each an ordinary lie, told as one.
//!
//! Whatever is asked of a place is asked of the piece in which it lies, so that a bend that is tightest at a guide, where the
//! curvature has a corner (or, with a held direction, a jump), is not smoothed away.

use super::{Lie, Peak, Piece};
use crate::solver::{FINEST, INTERVALS, REFINE_ABOVE};
use crate::{Section, Vec3};

/// Where along the hose a guide is, and what it does to the hose there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Held {
    /// Distance from mouth A along the centre line.
    pub at: f64,
    /// Unit tangent of the centre line in the guide.
    pub tangent: Vec3,
    /// Force of the guide on the hose; square to the tangent where the guide leaves the direction free.
    pub force: Vec3,
    /// Moment of the guide on the hose; none where it leaves the direction free.
    pub moment: Vec3,
}

/// The pieces from A to B, at least two.
#[derive(Clone, Debug)]
pub(crate) struct Threaded {
    pieces: Vec<Lie>,
    held: Vec<Held>,
}

impl Threaded {
    /// Where piece `p` begins.
    fn begin(&self, p: usize) -> f64 {
        if p == 0 { 0.0 } else { self.held[p - 1].at }
    }

    /// The piece in which `s` lies, and how far along it.
    // Out of the way of the free lie, which is asked far more often.
    #[cold]
    #[inline(never)]
    pub(super) fn piece_at(&self, s: f64) -> (&Lie, f64) {
        let p = self.held.partition_point(|held| held.at < s);
        (&self.pieces[p], s - self.begin(p))
    }

    pub(super) fn peak_between(&self, from: f64, to: f64) -> Peak {
        let mut best = Peak { curvature: 0.0, at: from };
        for (p, piece) in self.pieces.iter().enumerate() {
            let begin = self.begin(p);
            let (lo, hi) = (from.max(begin), to.min(begin + piece.length));
            if lo <= hi {
                let peak = piece.peak_between(lo - begin, hi - begin);
                if peak.curvature > best.curvature {
                    best = Peak { at: peak.at + begin, ..peak };
                }
            }
        }
        best
    }

    pub(super) fn force_at_a(&self) -> Vec3 {
        self.pieces[0].force_at_a()
    }
}

impl Lie {
    /// The guides that the hose passes, in their order; none on a free lie.
    #[must_use]
    pub fn held(&self) -> &[Held] {
        self.threaded.as_ref().map_or(&[], |threaded| &threaded.held)
    }

    /// The pieces from guide to guide, each told as a lie of its own; none on a free lie.
    #[must_use]
    pub fn pieces(&self) -> &[Self] {
        self.threaded.as_ref().map_or(&[], |threaded| &threaded.pieces)
    }

    /// A straight piece from `from`, pulled at its end with the force `pull`; its weight, if any, goes along it.
    pub(crate) fn straight(from: Vec3, apart: Vec3, pull: f64, section: &Section) -> Option<Self> {
        let (length, along) = (apart.norm(), apart.direction()?);
        let unit = length * length / section.stiffness;
        let part = |i: usize| i as f64 / INTERVALS as f64;
        Some(Self {
            length,
            stiffness: section.stiffness,
            points: (0..=INTERVALS).map(|i| from + apart * part(i)).collect(),
            tangents: vec![along; INTERVALS + 1],
            bend: vec![Piece { from: 0.0, wide: 1.0, ends: [(0.0, 0.0); 2] }],
            lambda: along * (pull * unit),
            gamma: section.weight * (unit * length),
            push: Vec3::ZERO,
            pressed: Vec3::ZERO,
            held: Vec::new(),
            peak: Peak { curvature: 0.0, at: 0.0 },
            bending: 0.0,
            total: -section.weight.dot(apart) * length / 2.0,
            moments: (Vec3::ZERO, Vec3::ZERO),
            neutral: false,
            threaded: None,
        })
    }

    /// One lie out of at least two pieces; `free` tells which guides leave the direction free.
    pub(crate) fn joined(pieces: Vec<Self>, free: &[bool], length: f64, section: &Section) -> Self {
        let mut held = Vec::with_capacity(free.len());
        let mut at = 0.0;
        for (pair, free) in pieces.windows(2).zip(free) {
            at += pair[0].length;
            let moment = pair[0].moments.1 + pair[1].moments.0;
            held.push(Held {
                at,
                tangent: pair[1].tangents[0],
                force: pair[0].force_at_b() + pair[1].force_at_a(),
                moment: if *free { Vec3::ZERO } else { moment },
            });
        }
        let (first, last) = (&pieces[0], &pieces[pieces.len() - 1]);
        let from = first.points[0];
        let (mut bending, mut total, mut begin) = (0.0, 0.0, 0.0);
        let mut peak = Peak { curvature: -1.0, at: 0.0 };
        for piece in &pieces {
            bending += piece.bending;
            total += piece.total - section.weight.dot(piece.points[0] - from) * piece.length;
            if piece.peak.curvature > peak.curvature {
                peak = Peak { at: begin + piece.peak.at, ..piece.peak };
            }
            begin += piece.length;
        }
        let mut n = INTERVALS;
        while n < FINEST && peak.curvature * length > REFINE_ABOVE * n as f64 {
            n *= 2;
        }
        let unit = length * length / section.stiffness;
        let mut lie = Self {
            length,
            stiffness: section.stiffness,
            points: Vec::new(),
            tangents: Vec::new(),
            bend: Vec::new(),
            lambda: last.force_at_b() * unit,
            gamma: section.weight * (unit * length),
            push: Vec3::ZERO,
            pressed: Vec3::ZERO,
            held: Vec::new(),
            peak,
            bending,
            total,
            moments: (first.moments.0, last.moments.1),
            neutral: pieces.iter().any(|piece| piece.neutral),
            threaded: None,
        };
        let (first, last) =
            ((from, first.tangents[0]), (last.points[last.points.len() - 1], last.tangents[last.tangents.len() - 1]));
        lie.threaded = Some(Box::new(Threaded { pieces, held }));
        let place = |i: usize| match i {
            0 => first,
            i if i == n => last,
            i => {
                let s = length * i as f64 / n as f64;
                (lie.point_at(s), lie.tangent_at(s))
            }
        };
        let (points, tangents) = (0..=n).map(place).unzip();
        (lie.points, lie.tangents) = (points, tangents);
        lie
    }
}
