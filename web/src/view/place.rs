//! A place along the hose: where it is in the car, which way the hose runs there, and a stroke across it.

use super::projection::Point;
use crate::form::sketch::SEAT_TAKEN;
use job::LieReport;
use job::input::{RunInput, SpigotInput};

/// How far a spigot is drawn behind the seat, mm.
const STUB: f64 = 18.0;

/// From `at`, so far that way.
pub(super) fn along(at: Point, way: Point, by: f64) -> Point {
    let norm = way.iter().map(|x| x * x).sum::<f64>().sqrt().max(1e-9);
    std::array::from_fn(|i| at[i] + way[i] / norm * by)
}

/// From the end of the hose over its mouth: the seat.
pub(super) fn seat(spigot: &SpigotInput) -> [Point; 2] {
    [along(spigot.at_mm, spigot.points, -spigot.seat_mm.unwrap_or(SEAT_TAKEN)), spigot.at_mm]
}

/// The spigot as far as it is drawn, its mouth last.
pub(super) fn stub(spigot: &SpigotInput) -> [Point; 2] {
    stub_at(spigot.at_mm, spigot.points, spigot.seat_mm)
}

/// The same of a spigot of which only so much is known.
pub(super) fn stub_at(mouth: Point, points: Point, seat_mm: Option<f64>) -> [Point; 2] {
    [along(mouth, points, -seat_mm.unwrap_or(SEAT_TAKEN) - STUB), mouth]
}

/// The point of the centre line `at` mm from mouth A, and the way from A to B there. On the seats, too: below nothing on
/// that of A, past the free length on that of B.
pub(super) fn place(run: &RunInput, lie: &LieReport, at: f64) -> (Point, Point) {
    if at < 0.0 {
        return (along(run.from.at_mm, run.from.points, at), run.from.points);
    }
    if at > lie.free_mm {
        return (along(run.to.at_mm, run.to.points, lie.free_mm - at), run.to.points.map(|x| -x));
    }
    on_line(lie, at)
}

/// The same between the mouths.
pub(super) fn on_line(lie: &LieReport, at: f64) -> (Point, Point) {
    let parts = lie.points_mm.len() - 1;
    let x = at / lie.free_mm.max(1e-9) * parts as f64;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to the number of parts")]
    let i = (x as usize).min(parts - 1);
    let (p, q) = (lie.points_mm[i], lie.points_mm[i + 1]);
    let way: Point = std::array::from_fn(|k| q[k] - p[k]);
    (std::array::from_fn(|k| p[k] + way[k] * (x - i as f64)), way)
}

/// A stroke on the paper across the first of two points that lie one behind the other along the hose.
pub(super) fn across([(x, y), (x1, y1)]: [(f64, f64); 2], reach: f64) -> [(f64, f64); 2] {
    let (dx, dy) = (x1 - x, y1 - y);
    let norm = (dx * dx + dy * dy).sqrt();
    // Seen end on, any stroke is as good.
    let (dx, dy) = if norm < 0.02 { (1.0, 0.0) } else { (dx / norm, dy / norm) };
    [(x - dy * reach, y + dx * reach), (x + dy * reach, y - dx * reach)]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_stroke_lies_square_to_the_hose() {
        // By hand: along 3, 4 the square way is -4, 3.
        assert_eq!(across([(10.0, 20.0), (13.0, 24.0)], 5.0), [(6.0, 23.0), (14.0, 17.0)]);
        assert_eq!(across([(0.0, 0.0), (0.0, 0.0)], 5.0), [(0.0, 5.0), (0.0, -5.0)]);
    }

    #[test]
    fn a_place_is_found_on_both_seats_and_between() {
        let mut run = share::read(crate::example::EXAMPLE).expect("the example").input.runs.remove(0);
        (run.from.at_mm, run.from.points) = ([0.0; 3], [0.0, 2.0, 0.0]);
        (run.to.at_mm, run.to.points) = ([0.0, 400.0, 0.0], [0.0, -1.0, 0.0]);
        let lie = LieReport {
            free_mm: 400.0,
            points_mm: (0..=40).map(|k| [0.0, 10.0 * f64::from(k), 0.0]).collect(),
            ..LieReport::default()
        };
        for (at, y) in [(-12.0, -12.0), (0.0, 0.0), (137.0, 137.0), (400.0, 400.0), (415.0, 415.0)] {
            let (p, way) = place(&run, &lie, at);
            assert!((p[1] - y).abs() < 1e-9 && p[0].abs() < 1e-9, "{at}: {p:?}");
            assert!(way[1] > 0.0, "{at}: the way is from A to B, not {way:?}");
        }
    }
}
