//! The turnable view's geometry: from where one looks, and in which order the parts are drawn so that nearer ones cover.

use super::place::{along, seat, stub};
use super::projection::Point;
use crate::form::stand::{Stand, Way};
use job::LieReport;
use job::input::{FormInput, NeighbourInput, RunInput};

/// Squares of the floor, mm.
pub(super) const SQUARE: f64 = 55.0;
/// A pipe is drawn in pieces of this length, a flat side in tiles; our choice: under the gap of anything that passes.
const PIECE: f64 = 12.0;
const TILE: f64 = 24.0;

/// From where one looks, in parallel lines.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Gaze {
    /// Degrees from the front of the car towards its left side.
    turn: f64,
    /// Degrees above level; below it from under the car.
    height: f64,
}

impl Gaze {
    /// As the person stands, looking down into the car; or lies under it, looking up.
    pub(super) fn standing(stand: Stand) -> Self {
        let [x, y, _] = stand.vector(if stand.is_under() { Way::Away } else { Way::ToYou });
        Self {
            turn: libm::atan2(y, x).to_degrees().rem_euclid(360.0),
            height: if stand.is_under() { -60.0 } else { 45.0 },
        }
    }

    /// At first, so that it shows what the flat views do not.
    pub(crate) const FIRST: Self = Self { turn: 30.0, height: 30.0 };

    /// More from the right, and higher, by so many degrees.
    pub(crate) fn moved(self, right: f64, up: f64) -> Self {
        Self { turn: (self.turn + right).rem_euclid(360.0), height: (self.height + up).clamp(-90.0, 90.0) }
    }

    /// The axes of the paper in the axes of the car: to the right, up, and towards the reader.
    fn axes(self) -> [Point; 3] {
        let (st, ct) = libm::sincos(self.turn.to_radians());
        let (sh, ch) = libm::sincos(self.height.to_radians());
        [[-st, ct, 0.0], [-sh * ct, -sh * st, ch], [ch * ct, ch * st, sh]]
    }

    /// Right and down on the paper, and how far towards the reader.
    pub(super) fn flat(self, p: Point) -> (f64, f64, f64) {
        let [x, y, z] = self.axes().map(|axis| dot(axis, p));
        (x, -y, z)
    }

    /// From where one looks, in words.
    pub(super) fn words(self) -> String {
        const SIDES: [&str; 4] = ["the front", "the car's left side", "the rear", "the car's right side"];
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to 4 quarter turns")]
        let quarter = (self.turn / 90.0).round() as usize;
        let beside = self.turn - 90.0 * quarter as f64;
        let (main, other) = (SIDES[quarter % 4], SIDES[if beside > 0.0 { quarter + 1 } else { quarter + 3 } % 4]);
        if self.height > 82.0 {
            return format!("From above, {main} at the bottom");
        }
        if self.height < -82.0 {
            return format!("From below, {main} at the top");
        }
        let side = match beside.abs() {
            x if x < 8.0 => format!("From {main}"),
            x if x < 38.0 => format!("From {main}, a little from {other}"),
            _ => format!("Half from {main}, half from {other}"),
        };
        let side_of = if self.height < 0.0 { "below" } else { "above" };
        match self.height.abs() {
            x if x < 8.0 => format!("{side}, level"),
            x if x < 38.0 => format!("{side}, a little from {side_of}"),
            x if x < 53.0 => format!("{side}, half from {side_of}"),
            _ => format!("{side}, mostly from {side_of}"),
        }
    }
}

fn dot(a: Point, b: Point) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

fn minus(a: Point, b: Point) -> Point {
    std::array::from_fn(|i| a[i] - b[i])
}

fn between(a: Point, b: Point, x: f64) -> Point {
    std::array::from_fn(|i| a[i] + (b[i] - a[i]) * x)
}

fn size(a: Point) -> f64 {
    dot(a, a).sqrt()
}

/// What a round thing is, and so how it ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    /// The hose, with so many pieces gripped at either end.
    Hose,
    /// A spigot behind the hose.
    Spigot,
    /// A thing with round ends.
    Rod,
}

/// A round thing along a line.
#[derive(Clone, Debug)]
pub(super) struct Tube {
    pub(super) kind: Kind,
    pub(super) line: Vec<Point>,
    pub(super) radius: f64,
}

impl Tube {
    fn straight(kind: Kind, [a, b]: [Point; 2], radius: f64) -> Self {
        let n = count(size(minus(b, a)) / PIECE, 90);
        Self { kind, line: (0..=n).map(|k| between(a, b, k as f64 / n as f64)).collect(), radius }
    }

    /// The points round a piece whose pale core is drawn again with it: as far as the ink round its ends can reach on the
    /// paper, but never more than a few radii along.
    pub(super) fn core(&self, flat: &[(f64, f64)], piece: usize, reach: f64) -> (usize, usize) {
        let apart = |i: usize, j: usize| {
            let (dx, dy) = (flat[i].0 - flat[j].0, flat[i].1 - flat[j].1);
            (dx * dx + dy * dy).sqrt()
        };
        let step = size(minus(self.line[1], self.line[0])).max(1e-3);
        let most = count(4.0 * self.radius / step, 60);
        let (mut from, mut to) = (piece, piece + 1);
        while from > 0 && piece - from < most && apart(from, piece) < reach {
            from -= 1;
        }
        while to < flat.len() - 1 && to - piece < most && apart(to, piece + 1) < reach {
            to += 1;
        }
        (from, to)
    }
}

fn count(parts: f64, most: usize) -> usize {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "kept small and positive")]
    let n = parts.ceil().clamp(1.0, 1e4) as usize;
    n.min(most)
}

/// A part that is drawn as one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Part {
    /// Of which tube, and from which of its points to the next.
    Piece {
        tube: usize,
        piece: usize,
    },
    /// The flat end of a tube.
    Disc {
        at: Point,
        way: Point,
        radius: f64,
    },
    Ball {
        at: Point,
        radius: f64,
    },
    /// Of a flat side: corners in turn, and which of the four lines from one to the next is an edge of the thing.
    Tile {
        corners: [Point; 4],
        edge: [bool; 4],
    },
}

/// All that is drawn.
#[derive(Clone, Debug)]
pub(super) struct Scene {
    /// The hose first.
    pub(super) tubes: Vec<Tube>,
    /// How many pieces of the hose are gripped at either end.
    pub(super) gripped: usize,
    parts: Vec<Part>,
    boxes: Vec<[Point; 2]>,
    /// Lines of the floor.
    pub(super) floor: Vec<[Point; 2]>,
    /// Where the hose stands over the floor, and lines down to it.
    pub(super) shadow: Vec<Point>,
    pub(super) drops: Vec<[Point; 2]>,
    /// Each stands at the higher of its two places.
    pub(super) names: Vec<([Point; 2], String)>,
    /// Middle of the picture, and how far from it the hose reaches.
    pub(super) centre: Point,
    pub(super) reach: f64,
}

impl Scene {
    pub(super) fn of(run: &RunInput, lie: &LieReport, outside: f64) -> Self {
        const GRIPPED: usize = 4;
        let (a, b) = (seat(&run.from), seat(&run.to));
        let on = |[end, mouth]: [Point; 2], k: usize| between(end, mouth, k as f64 / GRIPPED as f64);
        let line: Vec<Point> = (0..GRIPPED)
            .map(|k| on(a, k))
            .chain(lie.points_mm.iter().copied())
            .chain((0..GRIPPED).rev().map(|k| on(b, k)))
            .collect();
        let stubs = [&run.from, &run.to].map(|spigot| (stub(spigot)[0], seat(spigot)[0], spigot));
        let radius = outside / 2.0;
        let edge = |least: bool, i: usize| {
            let all = line.iter().chain(stubs.iter().map(|(end, ..)| end)).map(|p| p[i]);
            if least { all.fold(f64::INFINITY, f64::min) } else { all.fold(f64::NEG_INFINITY, f64::max) }
        };
        let (least, most): (Point, Point) =
            (std::array::from_fn(|i| edge(true, i)), std::array::from_fn(|i| edge(false, i)));
        let centre = between(least, most, 0.5);
        let reach = line.iter().map(|p| size(minus(*p, centre))).fold(60.0, f64::max) + radius + 34.0;

        let floor_z = least[2] - radius - 30.0;
        let down = |p: Point| [p[0], p[1], floor_z];
        let lines = |i: usize| {
            let (from, to) = ((least[i] - 40.0) / SQUARE, (most[i] + 40.0) / SQUARE);
            (0..=count(to.ceil() - from.floor(), 40)).map(move |k| (from.floor() + k as f64) * SQUARE)
        };
        let [xs, ys]: [Vec<f64>; 2] = [lines(0).collect(), lines(1).collect()];
        let (x, y) = ([xs[0], xs[xs.len() - 1]], [ys[0], ys[ys.len() - 1]]);
        let floor = xs.iter().map(|at| y.map(|y| [*at, y, floor_z]));
        let floor = floor.chain(ys.iter().map(|at| x.map(|x| [x, *at, floor_z]))).collect();

        let mut scene = Self {
            gripped: GRIPPED,
            parts: Vec::new(),
            boxes: Vec::new(),
            floor,
            shadow: line.iter().map(|p| down(*p)).collect(),
            drops: line.iter().skip(GRIPPED).step_by(10).map(|p| [*p, down(*p)]).collect(),
            names: Vec::new(),
            centre,
            reach,
            tubes: vec![Tube { kind: Kind::Hose, line, radius }],
        };
        for ((end, knife, spigot), name) in stubs.into_iter().zip(["A", "B"]) {
            scene.parts.push(Part::Disc { at: knife, way: spigot.points, radius });
            scene.parts.push(Part::Disc { at: end, way: spigot.points, radius: spigot.spigot_mm / 2.0 });
            scene.tubes.push(Tube::straight(Kind::Spigot, [end, knife], spigot.spigot_mm / 2.0));
            scene.names.push(([along(end, spigot.points, -18.0); 2], name.to_owned()));
        }
        for thing in &run.neighbours {
            scene.add(thing);
        }
        scene
    }

    /// Adds a thing near it, as far as the picture can reach.
    fn add(&mut self, thing: &NeighbourInput) {
        let far = 2.0 * self.reach;
        let places = match &thing.shape {
            FormInput::Rod { from_mm, to_mm, diameter_mm } => {
                let Some(ends) = within(*from_mm, *to_mm, self.centre, far) else { return };
                self.tubes.push(Tube::straight(Kind::Rod, ends, diameter_mm / 2.0));
                [0.1, 0.9].map(|x| between(ends[0], ends[1], x))
            }
            FormInput::Ball { at_mm, diameter_mm } => {
                self.parts.push(Part::Ball { at: *at_mm, radius: diameter_mm / 2.0 });
                [*at_mm; 2]
            }
            FormInput::Disc { at_mm, along: way, diameter_mm, thick_mm } => {
                let unit = way.map(|x| x / dot(*way, *way).sqrt().max(1e-9));
                for side in [-0.5, 0.5] {
                    let at = along(*at_mm, unit, side * thick_mm);
                    self.parts.push(Part::Disc { at, way: unit, radius: diameter_mm / 2.0 });
                }
                [*at_mm; 2]
            }
            FormInput::Box { from_mm, to_mm } => {
                let keep = |i: usize, x: f64| x.clamp(self.centre[i] - far, self.centre[i] + far);
                let least: Point = std::array::from_fn(|i| keep(i, from_mm[i].min(to_mm[i])));
                let most: Point = std::array::from_fn(|i| keep(i, from_mm[i].max(to_mm[i])));
                self.boxes.push([least, most]);
                [between(least, most, 0.5); 2]
            }
        };
        self.names.push((places, thing.name.clone().unwrap_or_default()));
    }

    /// All parts, the furthest first.
    pub(super) fn in_order(&self, gaze: Gaze) -> Vec<Part> {
        let depth = |p: Point| gaze.flat(p).2;
        let mut parts: Vec<(f64, Part)> = Vec::new();
        let mut add = |depth: f64, part: Part| parts.push((depth, part));
        for part in &self.parts {
            add(depth(middle(part)), *part);
        }
        for [least, most] in &self.boxes {
            for tile in tiles(*least, *most, gaze.axes()[2]) {
                add(depth(middle(&tile)), tile);
            }
        }
        for (tube, of) in self.tubes.iter().enumerate() {
            for piece in 0..of.line.len() - 1 {
                add(depth(between(of.line[piece], of.line[piece + 1], 0.5)), Part::Piece { tube, piece });
            }
        }
        // By insertion: a few hundred, mostly in order already, and the sort of the library costs the page 2.6 kB.
        for i in 1..parts.len() {
            let mut k = i;
            while k > 0 && parts[k - 1].0 > parts[k].0 {
                parts.swap(k - 1, k);
                k -= 1;
            }
        }
        parts.into_iter().map(|(_, part)| part).collect()
    }
}

fn middle(part: &Part) -> Point {
    match part {
        Part::Disc { at, .. } | Part::Ball { at, .. } => *at,
        Part::Tile { corners, .. } => between(corners[0], corners[2], 0.5),
        Part::Piece { .. } => [0.0; 3],
    }
}

/// The part of a line that lies within a ball.
fn within(from: Point, to: Point, centre: Point, radius: f64) -> Option<[Point; 2]> {
    let (way, off) = (minus(to, from), minus(from, centre));
    let (square, b) = (dot(way, way).max(1e-9), dot(way, off));
    let root = b * b - square * (dot(off, off) - radius * radius);
    let root = (root > 0.0).then(|| root.sqrt())?;
    let (lo, hi) = (((-b - root) / square).max(0.0), ((-b + root) / square).min(1.0));
    (lo <= hi).then(|| [between(from, to, lo), between(from, to, hi)])
}

/// The tiles of the sides of a box that face the reader.
fn tiles(least: Point, most: Point, towards: Point) -> Vec<Part> {
    let mut all = Vec::new();
    for (axis, facing) in towards.into_iter().enumerate() {
        if facing.abs() < 1e-6 {
            continue;
        }
        let (u, v) = ((axis + 1) % 3, (axis + 2) % 3);
        let [n, m] = [u, v].map(|i| count((most[i] - least[i]) / TILE, 24));
        let at = |i: usize, j: usize| {
            let mut p = if facing > 0.0 { most } else { least };
            p[u] = least[u] + (most[u] - least[u]) * i as f64 / n as f64;
            p[v] = least[v] + (most[v] - least[v]) * j as f64 / m as f64;
            p
        };
        for i in 0..n {
            for j in 0..m {
                let corners = [at(i, j), at(i + 1, j), at(i + 1, j + 1), at(i, j + 1)];
                all.push(Part::Tile { corners, edge: [j == 0, i + 1 == n, j + 1 == m, i == 0] });
            }
        }
    }
    all
}

#[cfg(test)]
mod tests {
    use super::super::projection::View;
    use super::*;

    fn gaze(turn: f64, height: f64) -> Gaze {
        Gaze { turn, height }
    }

    fn scene() -> Scene {
        let run = share::read(crate::example::EXAMPLE).expect("the example").input.runs.remove(0);
        let points_mm = (0..=40).map(|k| [-7.0 * f64::from(k), 5.25 * f64::from(k), 1.75 * f64::from(k)]).collect();
        Scene::of(&run, &LieReport { free_mm: 360.0, points_mm, ..LieReport::default() }, 24.0)
    }

    #[test]
    fn from_the_front_from_above_and_from_the_left_side_it_is_the_flat_views() {
        let p = [12.0, -34.0, 56.0];
        // The car's left side is at the right of the person before the car.
        for (view, gaze) in
            View::square(Stand::Front).into_iter().zip([gaze(0.0, 90.0), gaze(0.0, 0.0), gaze(90.0, 0.0)])
        {
            let ((x, y), (u, v, _)) = (view.flat(p), gaze.flat(p));
            assert!((x - u).abs() < 1e-9 && (y - v).abs() < 1e-9, "{view:?}: {x} {y} against {u} {v}");
        }
    }

    #[test]
    fn the_paper_is_square_and_what_comes_towards_the_reader_is_nearer() {
        let axes = gaze(37.0, 21.0).axes();
        for (i, a) in axes.iter().enumerate() {
            for (j, b) in axes.iter().enumerate() {
                assert!((dot(*a, *b) - f64::from(i == j)).abs() < 1e-12, "{i} {j}");
            }
        }
        // The person stands before the car and above: what is forward or up is nearer.
        let depth = |p| Gaze::standing(Stand::Front).flat(p).2;
        assert!(depth([10.0, 0.0, 0.0]) > depth([0.0; 3]) && depth([0.0, 0.0, 10.0]) > depth([0.0; 3]));
    }

    #[test]
    fn where_one_looks_from_is_told_in_words() {
        assert_eq!(Gaze::standing(Stand::Front).words(), "From the front, half from above");
        assert_eq!(
            gaze(0.0, 45.0).moved(-15.0, -45.0).words(),
            "From the front, a little from the car's right side, level"
        );
        assert_eq!(gaze(45.0, 60.0).words(), "Half from the car's left side, half from the front, mostly from above");
        assert_eq!(gaze(100.0, 15.0).words(), "From the car's left side, a little from the rear, a little from above");
        assert_eq!(gaze(350.0, 45.0).words(), "From the front, a little from the car's right side, half from above");
        assert_eq!(gaze(180.0, 0.0).moved(0.0, 120.0).words(), "From above, the rear at the bottom");
    }

    #[test]
    fn what_is_nearer_is_drawn_later() {
        let scene = scene();
        // The exhaust pipe stands at x -190, y 75: from the front the hose crosses before it, from the rear behind it.
        let pipe = scene.tubes.iter().position(|tube| tube.kind == Kind::Rod).expect("the pipe");
        // Of the hose the piece at x -77 and y 58, of the pipe the one at its height.
        let hose_piece = scene.gripped + 11;
        let z = scene.tubes[0].line[hose_piece][2];
        let pipe_piece = scene.tubes[pipe].line.windows(2).position(|pair| pair[0][2] <= z && z < pair[1][2]);
        let pipe_piece = pipe_piece.expect("at this height");
        for (turn, hose_is_nearer) in [(0.0, true), (180.0, false)] {
            let order = scene.in_order(gaze(turn, 0.0));
            let rank = |want: Part| order.iter().position(|part| *part == want).expect("it is drawn");
            let hose = rank(Part::Piece { tube: 0, piece: hose_piece });
            let pipe = rank(Part::Piece { tube: pipe, piece: pipe_piece });
            assert_eq!(hose > pipe, hose_is_nearer, "turned {turn}");
        }
    }

    #[test]
    fn of_a_box_only_the_sides_that_face_the_reader_are_drawn_with_their_edges() {
        let sides = |gaze: Gaze| tiles([0.0; 3], [20.0, 20.0, 20.0], gaze.axes()[2]);
        assert_eq!(sides(gaze(0.0, 0.0)).len(), 1, "from the front the front alone");
        let three = sides(gaze(30.0, 30.0));
        assert_eq!(three.len(), 3, "each smaller than a tile");
        let corner = [20.0, 20.0, 20.0];
        for side in three {
            let Part::Tile { corners, edge } = side else { panic!("{side:?}") };
            assert!(corners.contains(&corner), "front, right and top meet in one corner: {corners:?}");
            assert_eq!(edge, [true; 4]);
        }
    }

    #[test]
    fn the_hose_is_in_the_picture_from_wherever_one_looks() {
        let scene = scene();
        for k in 0..24 {
            let gaze = gaze(f64::from(k) * 15.0, f64::from(k % 7) * 15.0);
            let middle = gaze.flat(scene.centre);
            for p in &scene.tubes[0].line {
                let (x, y, _) = gaze.flat(*p);
                let apart = ((x - middle.0) * (x - middle.0) + (y - middle.1) * (y - middle.1)).sqrt();
                assert!(apart + 12.0 < scene.reach, "{p:?} at {gaze:?}");
            }
        }
        let low = scene.tubes[0].line.iter().map(|p| p[2]).fold(f64::INFINITY, f64::min);
        assert!(scene.floor.iter().flatten().all(|p| p[2] < low - 12.0), "the floor is under the hose");
    }

    #[test]
    fn a_long_pipe_is_drawn_as_far_as_the_picture_goes() {
        let ends = within([-5000.0, 3.0, 0.0], [5000.0, 3.0, 0.0], [0.0; 3], 5.0).expect("it passes through");
        assert!((ends[0][0] + 4.0).abs() < 1e-6 && (ends[1][0] - 4.0).abs() < 1e-6, "3-4-5: {ends:?}");
        assert!(within([-5000.0, 30.0, 0.0], [5000.0, 30.0, 0.0], [0.0; 3], 5.0).is_none());
    }
}
