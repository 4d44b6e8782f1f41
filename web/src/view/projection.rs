//! From the axes of the car to a flat view: which way is right, which way is up, and how large.

use crate::form::stand::{Stand, Way, dot, plus};
use std::ops::RangeInclusive;

/// A point in the axes of the car, mm.
pub(crate) type Point = [f64; 3];

/// A parallel look at the car: which way runs to the right of the paper and which way down it. Slanted or square, turned
/// or straight, a look is these two ways and no more.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct View {
    right: Point,
    down: Point,
    /// The way towards the eye: what is further along it covers what is not.
    near: Point,
    caption: &'static str,
}

/// How much of the depth shows in the slanted view: half of it, at 45° (a cabinet projection, ISO 5456-3).
const SLANT: f64 = 0.5 * std::f64::consts::FRAC_1_SQRT_2;

impl View {
    /// The three square views from where the person stands: from above (or below), as one stands, from the right.
    pub(crate) fn square(stand: Stand) -> [Self; 3] {
        let [right, away, up] = [Way::Right, Way::Away, Way::Up].map(|way| stand.vector(way));
        let [to_you, down] = [away, up].map(|way| way.map(|x| -x));
        // Under the car one looks up, and from the head to the feet; seen from the right, the feet are to the right.
        let (overlooked, eye, side) = if stand.is_under() { (down, away, to_you) } else { (up, to_you, away) };
        let [above, front, beside] = captions(stand);
        [
            Self { right, down: to_you, near: overlooked, caption: above },
            Self { right, down, near: eye, caption: front },
            Self { right: side, down, near: right, caption: beside },
        ]
    }

    /// The slanted view as one stands (or lies), with half the depth.
    pub(crate) fn slanted(stand: Stand) -> Self {
        let [right, away, up] = [Way::Right, Way::Away, Way::Up].map(|way| stand.vector(way));
        // Lying under the car one looks up: past the head is up the paper, and up is into it.
        let (high, deep) = if stand.is_under() { (away, up) } else { (up, away) };
        Self {
            right: plus(right, deep, SLANT),
            down: plus(high, deep, SLANT).map(|x| -x),
            // The line of sight itself: along it nothing moves on the paper.
            near: plus(plus(deep.map(|x| -x), right, SLANT), high, SLANT),
            caption: if stand.is_under() { "Seen from below, as you lie" } else { "As you stand" },
        }
    }

    /// Right and down on the paper for a point: SVG's y runs down.
    pub(crate) fn flat(self, point: Point) -> (f64, f64) {
        (dot(point, self.right), dot(point, self.down))
    }

    /// How near the eye a point is.
    pub(crate) fn nearness(self, point: Point) -> f64 {
        dot(point, self.near)
    }

    /// What stands under the view.
    pub(crate) fn caption(self) -> &'static str {
        self.caption
    }
}

fn captions(stand: Stand) -> [&'static str; 3] {
    match stand {
        Stand::Front => [
            "From above, front of the car at the bottom",
            "As you stand, from the front",
            "From your right, the car's left side",
        ],
        Stand::Rear => [
            "From above, rear of the car at the bottom",
            "As you stand, from the rear",
            "From your right, the car's right side",
        ],
        Stand::Left => [
            "From above, the car's left side at the bottom",
            "As you stand, from the car's left side",
            "From your right, the rear of the car",
        ],
        Stand::Right => [
            "From above, the car's right side at the bottom",
            "As you stand, from the car's right side",
            "From your right, the front of the car",
        ],
        _ => ["From below, past your head at the top", "From your head to your feet", "From your right, as you lie"],
    }
}

/// The part of the paper a drawing takes: left, top, width, height.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Frame {
    pub(crate) left: f64,
    pub(crate) top: f64,
    pub(crate) width: f64,
    pub(crate) height: f64,
}

impl Frame {
    /// Round the points, with a margin, no flatter or narrower than a picture should be.
    pub(crate) fn round(points: impl Iterator<Item = (f64, f64)>, margin: f64, shape: RangeInclusive<f64>) -> Self {
        let (mut left, mut right, mut top, mut bottom) =
            (f64::INFINITY, f64::NEG_INFINITY, f64::INFINITY, f64::NEG_INFINITY);
        for (x, y) in points {
            (left, right) = (left.min(x), right.max(x));
            (top, bottom) = (top.min(y), bottom.max(y));
        }
        if left > right {
            return Self { left: 0.0, top: 0.0, width: 1.0, height: 1.0 };
        }
        let (width, height) = (right - left + 2.0 * margin, bottom - top + 2.0 * margin);
        let (wide, high) = (width.max(height / shape.end()), height.max(width * shape.start()));
        Self {
            left: left - margin - (wide - width) / 2.0,
            top: top - margin - (high - height) / 2.0,
            width: wide,
            height: high,
        }
    }

    /// As the viewBox of an SVG.
    pub(crate) fn view_box(&self) -> String {
        format!("{:.1} {:.1} {:.1} {:.1}", self.left, self.top, self.width, self.height)
    }
}

/// The points as a path.
pub(crate) fn path(view: View, points: &[Point]) -> String {
    points
        .iter()
        .enumerate()
        .map(|(i, p)| {
            let (x, y) = view.flat(*p);
            format!("{}{x:.1} {y:.1}", if i == 0 { 'M' } else { 'L' })
        })
        .collect()
}

/// The rim of a face of a disc, `off` along its axle from its centre.
pub(super) fn rim(at: Point, axle: Point, off: f64, radius: f64) -> Vec<Point> {
    const CORNERS: u32 = 32;
    let unit = |v: Point| v.map(|x| x / dot(v, v).sqrt().max(1e-9));
    let axle = unit(axle);
    // Any direction that is not nearly the axle's gives a frame.
    let other = if axle[0].abs() < 0.6 { [1.0, 0.0, 0.0] } else { [0.0, 1.0, 0.0] };
    let cross = |a: Point, b: Point| [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
    let u = unit(cross(axle, other));
    let v = cross(axle, u);
    let centre = plus(at, axle, off);
    (0..CORNERS)
        .map(|k| {
            let turn = core::f64::consts::TAU * f64::from(k) / f64::from(CORNERS);
            plus(plus(centre, u, radius * libm::cos(turn)), v, radius * libm::sin(turn))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_words_of_the_person_at_the_front_go_the_right_way() {
        // ISO 8855: x forward, y to the left, z up. At the front, the car's left is the person's right, away is back.
        let (right, away, up) = ([0.0, 1.0, 0.0], [-1.0, 0.0, 0.0], [0.0, 0.0, 1.0]);
        let [above, front, beside] = View::square(Stand::Front);
        assert_eq!((above.flat(right), above.flat(away)), ((1.0, 0.0), (0.0, -1.0)), "away is up on the paper");
        assert_eq!((front.flat(right), front.flat(up)), ((1.0, 0.0), (0.0, -1.0)));
        assert_eq!(beside.flat(away), (1.0, 0.0), "from the car's left side, the rear is to the right");
    }

    #[test]
    fn along_the_line_of_sight_nothing_moves_on_the_paper() {
        for stand in Stand::ALL {
            let [above, front, beside] = View::square(stand);
            for view in [above, front, beside, View::slanted(stand)] {
                let (x, y) = view.flat(view.near);
                assert!(x.abs() < 1e-12 && y.abs() < 1e-12, "{stand:?}: {view:?}");
            }
        }
    }

    #[test]
    fn every_square_view_shows_the_car_and_not_its_mirror_image() {
        for stand in Stand::ALL {
            for view in View::square(stand) {
                // Right and up on the paper and towards the eye are a right-handed set, wherever the eye is.
                let (r, u, n) = (view.right, view.down.map(|x| -x), view.near);
                let cross = [r[1] * u[2] - r[2] * u[1], r[2] * u[0] - r[0] * u[2], r[0] * u[1] - r[1] * u[0]];
                assert!((dot(cross, n) - 1.0).abs() < 1e-12, "{stand:?}: {view:?}");
            }
        }
    }

    #[test]
    fn a_frame_holds_its_points_and_keeps_its_shape() {
        let frame = Frame::round([(0.0, 0.0), (100.0, 10.0)].into_iter(), 5.0, 0.5..=1.5);
        assert!(frame.left <= -5.0 && frame.left + frame.width >= 105.0 && frame.top <= -5.0, "{frame:?}");
        assert!(frame.height / frame.width >= 0.5 - 1e-12, "{frame:?}");
    }
}
