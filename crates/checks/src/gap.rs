//! True distances: from a place, and from a whole hose, to a rod, a ball or a box.

use crate::Form;
use shape::{Lie, Vec3};

/// Distance from the place `p` to the surface, mm; negative inside.
pub(crate) fn to_surface(form: &Form, p: Vec3) -> f64 {
    match *form {
        Form::Rod { from, to, diameter } => {
            let along = to - from;
            let square = along.dot(along);
            let x = if square > 0.0 { ((p - from).dot(along) / square).clamp(0.0, 1.0) } else { 0.0 };
            (p - from - along * x).norm() - diameter.as_mm() / 2.0
        }
        Form::Ball { at, diameter } => (p - at).norm() - diameter.as_mm() / 2.0,
        Form::Box { least, greatest } => {
            let beyond = |p: f64, lo: f64, hi: f64| f64::max(lo - p, p - hi);
            let (x, y, z) =
                (beyond(p.x, least.x, greatest.x), beyond(p.y, least.y, greatest.y), beyond(p.z, least.z, greatest.z));
            let outside = Vec3::new(x.max(0.0), y.max(0.0), z.max(0.0)).norm();
            if outside > 0.0 { outside } else { x.max(y).max(z) }
        }
        Form::Disc { at, along, diameter, thick } => {
            let from = p - at;
            let (up, out) =
                (from.dot(along).abs() - thick.as_mm() / 2.0, from.across(along).norm() - diameter.as_mm() / 2.0);
            let (x, y) = (up.max(0.0), out.max(0.0));
            let outside = (x * x + y * y).sqrt();
            if outside > 0.0 { outside } else { up.max(out) }
        }
    }
}

/// Steps of a golden section; 24 narrow an interval to 1e-5 of it.
const GOLDEN_STEPS: usize = 24;

/// The least of `f` between `lo` and `hi`, where it has one low place: `(where, how much)`.
pub(crate) fn least_between(f: impl Fn(f64) -> f64, mut lo: f64, mut hi: f64) -> (f64, f64) {
    const R: f64 = 0.618_033_988_749_894_9;
    let (mut a, mut b) = (hi - R * (hi - lo), lo + R * (hi - lo));
    let (mut fa, mut fb) = (f(a), f(b));
    for _ in 0..GOLDEN_STEPS {
        if fa < fb {
            (hi, b, fb) = (b, a, fa);
            a = hi - R * (hi - lo);
            fa = f(a);
        } else {
            (lo, a, fa) = (a, b, fb);
            b = lo + R * (hi - lo);
            fb = f(b);
        }
    }
    if fa < fb { (a, fa) } else { (b, fb) }
}

/// Where the centre line comes nearest to a surface, and how near: `(along the hose, distance)`.
///
/// Every node whose distance is less than both neighbours' and near enough to hide a smaller one between them is
/// looked at more closely. Between nodes the distance cannot fall faster than one goes along.
pub(crate) fn nearest(lie: &Lie, distance: impl Fn(Vec3) -> f64) -> (f64, f64) {
    let points = lie.points();
    let n = points.len() - 1;
    let h = lie.length() / n as f64;
    let at_node: Vec<f64> = points.iter().map(|p| distance(*p)).collect();
    let mut best = (0..=n).map(|i| (i as f64 * h, at_node[i])).fold((0.0, f64::INFINITY), nearer);
    for i in 0..=n {
        let (before, after) = (i.saturating_sub(1), (i + 1).min(n));
        let low = at_node[i] <= at_node[before] && at_node[i] <= at_node[after];
        if low && at_node[i] - h < best.1 {
            let f = |s: f64| distance(lie.point_at(s));
            best = nearer(best, least_between(f, before as f64 * h, after as f64 * h));
        }
    }
    best
}

/// Whether the centre line comes nearer to a surface than `limit` anywhere: the same, but it stops at the first such place.
pub(crate) fn comes_nearer(lie: &Lie, limit: f64, distance: impl Fn(Vec3) -> f64) -> bool {
    let points = lie.points();
    let n = points.len() - 1;
    let h = lie.length() / n as f64;
    let (mut before, mut here) = (f64::INFINITY, distance(points[0]));
    for i in 0..=n {
        let after = points.get(i + 1).map_or(f64::INFINITY, |p| distance(*p));
        if here < limit {
            return true;
        }
        if here <= before && here <= after && here - h < limit {
            let span = (i.saturating_sub(1) as f64 * h, (i + 1).min(n) as f64 * h);
            if least_between(|s| distance(lie.point_at(s)), span.0, span.1).1 < limit {
                return true;
            }
        }
        (before, here) = (here, after);
    }
    false
}

/// The nearer of two.
pub(crate) fn nearer(a: (f64, f64), b: (f64, f64)) -> (f64, f64) {
    if b.1 < a.1 { b } else { a }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Kind, MountedOn, Neighbour};
    use quantity::Length;
    use shape::{Ends, Section, rest};

    #[test]
    fn distances_to_the_forms_are_those_of_geometry() {
        let rod = Form::Rod { from: Vec3::ZERO, to: Vec3::new(100.0, 0.0, 0.0), diameter: Length::mm(20.0) };
        let ball = Form::Ball { at: Vec3::ZERO, diameter: Length::mm(20.0) };
        let cube = Form::Box { least: Vec3::ZERO, greatest: Vec3::new(10.0, 10.0, 10.0) };
        let fan = Form::Disc {
            at: Vec3::new(0.0, 0.0, 100.0),
            along: Vec3::new(0.0, 0.0, 1.0),
            diameter: Length::mm(300.0),
            thick: Length::mm(40.0),
        };
        // By hand: 3-4-5 triangles beyond an end, a side, an edge, a corner (1-2-2), and 2 below the top inside.
        // The fan: 30 before its face, 20 beyond its rim, a 3-4-5 triangle off the edge of it, 5 deep in its face.
        for (form, at, want) in [
            (&rod, [50.0, 30.0, 0.0], 20.0),
            (&rod, [103.0, 4.0, 0.0], -5.0),
            (&ball, [30.0, 0.0, 40.0], 40.0),
            (&cube, [5.0, 5.0, 25.0], 15.0),
            (&cube, [13.0, 14.0, 5.0], 5.0),
            (&cube, [11.0, 12.0, 12.0], 3.0),
            (&cube, [5.0, 5.0, 8.0], -2.0),
            (&fan, [100.0, 0.0, 50.0], 30.0),
            (&fan, [0.0, 170.0, 100.0], 20.0),
            (&fan, [153.0, 0.0, 124.0], 5.0),
            (&fan, [0.0, 0.0, 115.0], -5.0),
        ] {
            let got = to_surface(form, at.into());
            assert!((got - want).abs() < 1e-12, "{form:?} {at:?}: {got} against {want}");
        }
    }

    #[test]
    fn what_moves_sweeps_all_between_its_two_places() {
        // By hand: a ball of 20 mm that goes 100 mm along x and back sweeps a rod; a point beside the middle of its way.
        let thing = Neighbour {
            name: String::new(),
            form: Form::Ball { at: Vec3::ZERO, diameter: Length::mm(20.0) },
            kind: Kind::Moving,
            on: MountedOn::Engine,
            standoff: None,
            travel: Vec3::new(100.0, 0.0, 0.0),
            may_touch: false,
            shield: None,
        };
        for (at, want) in [([50.0, 30.0, 0.0], 20.0), ([-30.0, 40.0, 0.0], 40.0), ([103.0, 0.0, 4.0], -5.0)] {
            let got = thing.distance(at.into());
            assert!((got - want).abs() < 1e-6, "{at:?}: {got} against {want}");
        }
    }

    #[test]
    fn the_nearest_place_lies_between_nodes_too() {
        // A quarter circle of radius 150 about (0, 150), and a ball on the ray at 33 degrees: by hand 150 - 100 - 10.
        let ends = Ends {
            a: Vec3::ZERO,
            tangent_a: Vec3::new(1.0, 0.0, 0.0),
            b: Vec3::new(150.0, 150.0, 0.0),
            tangent_b: Vec3::new(0.0, 1.0, 0.0),
        };
        let length = 75.0 * std::f64::consts::PI;
        let lie = rest(&ends, length, &Section { stiffness: 1.0, weight: Vec3::ZERO }).expect("an arc");
        let (sin, cos) = (0.544_639_035_015_027_1, 0.838_670_567_945_424);
        let ball = Form::Ball { at: Vec3::new(100.0 * sin, 150.0 - 100.0 * cos, 0.0), diameter: Length::mm(20.0) };
        let (at, gap) = nearest(&lie, |p| to_surface(&ball, p));
        assert!((gap - 40.0).abs() < 1e-3, "{gap}");
        assert!((at - length * 33.0 / 90.0).abs() < 0.1, "{at}");
    }
}
