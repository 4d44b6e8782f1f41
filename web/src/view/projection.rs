//! From the axes of the car to a flat view: which way is right, which way is up, and how large.

use std::ops::RangeInclusive;

/// A point in the axes of the car, mm.
pub(crate) type Point = [f64; 3];

/// From where one looks. The person stands at the front of the car.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum View {
    /// From above, the front of the car at the bottom.
    Above,
    /// From the front.
    Front,
    /// From the car's left side.
    Left,
}

impl View {
    /// Right and down on the paper for a point: SVG's y runs down.
    pub(crate) fn flat(self, [x, y, z]: Point) -> (f64, f64) {
        match self {
            // Standing before the car, its left is to the right; away is to the rear.
            Self::Above => (y, x),
            Self::Front => (y, -z),
            // From the car's left side its front is to the left.
            Self::Left => (-x, -z),
        }
    }

    /// What stands under the view.
    pub(crate) fn caption(self) -> &'static str {
        match self {
            Self::Above => "From above, front of the car at the bottom",
            Self::Front => "From the front of the car",
            Self::Left => "From the car's left side, front to the left",
        }
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_words_of_the_person_at_the_front_go_the_right_way() {
        // ISO 8855: x forward, y to the left, z up. At the front, the car's left is the person's right, away is back.
        let (right, away, up) = ([0.0, 1.0, 0.0], [-1.0, 0.0, 0.0], [0.0, 0.0, 1.0]);
        assert_eq!(View::Above.flat(right), (1.0, 0.0));
        assert_eq!(View::Above.flat(away), (0.0, -1.0), "away is up on the paper");
        assert_eq!(View::Front.flat(right), (1.0, 0.0));
        assert_eq!(View::Front.flat(up), (0.0, -1.0));
        assert_eq!(View::Left.flat(away), (1.0, 0.0), "from the left side, the rear is to the right");
    }

    #[test]
    fn a_frame_holds_its_points_and_keeps_its_shape() {
        let frame = Frame::round([(0.0, 0.0), (100.0, 10.0)].into_iter(), 5.0, 0.5..=1.5);
        assert!(frame.left <= -5.0 && frame.left + frame.width >= 105.0 && frame.top <= -5.0, "{frame:?}");
        assert!(frame.height / frame.width >= 0.5 - 1e-12, "{frame:?}");
    }
}
