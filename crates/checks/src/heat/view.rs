//! How much of what a small piece of the hose's skin sees is a hot thing: view factors, as vectors.
//!
//! The vector at a place has the way in which a piece of skin would see most of the thing, and the part of its view that the
//! thing then takes. Of a piece that faces otherwise the part is that vector's share along its own way, as long as no part
//! of the thing is below its horizon.

use crate::Form;
use core::f64::consts::TAU;
use shape::Vec3;

/// Corners of a round face.
const ROUND: usize = 24;

/// What a hot thing of this form is to a piece of skin at `place`, mm; zero inside it.
///
/// A pipe is taken as long (element to infinite cylinder, r/ρ; Howell's catalogue of configuration factors, from memory):
/// a short one is a little less. A ball: (r/ρ)². A box and the face of a disc: Lambert's sum over the edges.
#[must_use]
pub fn seen(form: &Form, place: Vec3) -> Vec3 {
    match *form {
        Form::Rod { from, to, diameter } => {
            let along = to - from;
            let square = along.dot(along);
            let x = if square > 0.0 { ((place - from).dot(along) / square).clamp(0.0, 1.0) } else { 0.0 };
            let way = from + along * x - place;
            let away = way.norm();
            if away > 0.0 { way * (0.5 * diameter.as_mm() / (away * away)).min(1.0 / away) } else { Vec3::ZERO }
        }
        Form::Ball { at, diameter } => {
            let way = at - place;
            let away = way.norm();
            let part = 0.5 * diameter.as_mm() / away;
            if away > 0.0 { way * ((part * part).min(1.0) / away) } else { Vec3::ZERO }
        }
        Form::Box { least, greatest } => {
            let (lo, hi, at) = (<[f64; 3]>::from(least), <[f64; 3]>::from(greatest), <[f64; 3]>::from(place));
            let mut sum = Vec3::ZERO;
            for axis in 0..3 {
                let face = if at[axis] > hi[axis] {
                    hi[axis]
                } else if at[axis] < lo[axis] {
                    lo[axis]
                } else {
                    continue;
                };
                let (u, v) = ((axis + 1) % 3, (axis + 2) % 3);
                let corner = |a: f64, b: f64| {
                    let mut corner = [face; 3];
                    (corner[u], corner[v]) = (a, b);
                    Vec3::from(corner) - place
                };
                let (a, b) = (corner(lo[u], lo[v]), corner(hi[u], lo[v]));
                let (c, d) = (corner(hi[u], hi[v]), corner(lo[u], hi[v]));
                sum += edges(&[a, b, c, d]);
            }
            sum
        }
        Form::Disc { at, along, diameter, thick } => {
            let side = if (place - at).dot(along) < 0.0 { -along } else { along };
            if (place - at).dot(side) <= 0.5 * thick.as_mm() {
                // Beside its rim: as thick a pipe bent round.
                let out = (place - at).across(along);
                let rim = out.norm();
                let part = 0.5 * thick.as_mm() / (rim - 0.5 * diameter.as_mm() + 0.5 * thick.as_mm());
                return out.direction().map_or(Vec3::ZERO, |out| -out * part.clamp(0.0, 1.0));
            }
            let (u, v) = side.frame();
            let face = at + side * (0.5 * thick.as_mm()) - place;
            let corners: [Vec3; ROUND] = core::array::from_fn(|k| {
                let (sin, cos) = {
                    let turn = TAU * k as f64 / ROUND as f64;
                    (libm::sin(turn), libm::cos(turn))
                };
                face + (u * cos + v * sin) * (0.5 * diameter.as_mm())
            });
            edges(&corners)
        }
    }
}

/// Lambert's sum over the edges of a flat face, given by its corners as seen from the place; towards the face.
fn edges(corners: &[Vec3]) -> Vec3 {
    let mut sum = Vec3::ZERO;
    for (k, a) in corners.iter().enumerate() {
        let b = corners[(k + 1) % corners.len()];
        let across = a.cross(b);
        let sin = across.norm();
        if sin > 0.0 {
            sum += across * (libm::atan2(sin, a.dot(b)) / (sin * TAU));
        }
    }
    // Whichever way round the corners were given.
    let middle = corners.iter().fold(Vec3::ZERO, |sum, corner| sum + *corner);
    if sum.dot(middle) < 0.0 { -sum } else { sum }
}

/// The part of its view that a thing takes of a piece of skin right in front of the middle of it, `gap` mm off. Of a box the
/// greatest of its faces.
#[must_use]
pub fn in_front(form: &Form, gap: f64) -> f64 {
    match *form {
        Form::Rod { diameter, .. } => pipe(0.5 * diameter.as_mm(), gap),
        Form::Ball { diameter, .. } => pipe(0.5 * diameter.as_mm(), gap) * pipe(0.5 * diameter.as_mm(), gap),
        Form::Box { least, greatest } => {
            let middle = (least + greatest) * 0.5;
            let off = |way: Vec3, deep: f64| seen(form, middle + way * (0.5 * deep + gap.max(1e-6))).norm();
            let size = greatest - least;
            off(Vec3::new(1.0, 0.0, 0.0), size.x)
                .max(off(Vec3::new(0.0, 1.0, 0.0), size.y))
                .max(off(Vec3::new(0.0, 0.0, 1.0), size.z))
        }
        Form::Disc { diameter, .. } => {
            let radius = 0.5 * diameter.as_mm();
            radius * radius / (radius * radius + gap * gap)
        }
    }
}

/// A long pipe of this radius, seen across a gap: r / (r + gap).
fn pipe(radius: f64, gap: f64) -> f64 {
    radius / (radius + gap.max(0.0))
}

/// How thick the thing is that the air rises along: the diameter of a pipe or ball, the least edge of a box.
#[must_use]
pub fn thickness(form: &Form) -> f64 {
    match *form {
        Form::Rod { diameter, .. } | Form::Ball { diameter, .. } => diameter.as_mm(),
        Form::Box { least, greatest } => {
            let size = greatest - least;
            size.x.min(size.y).min(size.z)
        }
        Form::Disc { thick, .. } => thick.as_mm(),
    }
}

/// Part of the view of a piece of skin that looks `turned` away from a long pipe, whose radius is `part` of the distance to
/// its axis: all of it, the part above the horizon, or nothing (element to infinite cylinder, Howell, from memory). Up to one
/// and a half right angles, either way.
#[must_use]
pub fn turned_away(part: f64, turned: f64) -> f64 {
    turned_away_by(part, libm::sin(turned.abs()), libm::cos(turned))
}

/// The same by the sine and cosine of the turn; the sine is negative beyond two right angles.
pub(super) fn turned_away_by(part: f64, sin: f64, cos: f64) -> f64 {
    let part = part.clamp(0.0, 1.0);
    if cos >= part {
        part * cos
    } else if cos > -part && sin > 0.0 {
        // Of the pipe's half width, whose sine is `part`, as much as is above the horizon.
        let half_cos = (1.0 - part * part).sqrt();
        0.5 * (1.0 - sin * half_cos + cos * part)
    } else {
        0.0
    }
}
