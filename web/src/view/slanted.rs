//! The run in one slanted picture, as the person stands before it: what is known so far, with a button over every part.

use super::drawing::{dashes, pipe, thing};
use super::held;
use super::place::stub_at;
use super::projection::{Point, View, path};
use crate::el::{El, circle, div, el, link, many, stroke};
use crate::form::sketch::{End, Letter, Sketch, Thing, whole};
use crate::form::stand::{Way, dot, minus, norm, plus};
use job::input::FormInput;

/// The picture, in its own pixels; it is drawn as wide as the sheet is.
pub(crate) const WIDTH: f64 = 328.0;
/// Smallest thing to press, in the same pixels.
const PRESS: f64 = 48.0;
/// Room kept beside the run, and above and below it, for what names it.
const BESIDE: f64 = 40.0;
const ABOVE: f64 = 26.0;
/// No finer than this, mm of the car in the picture's width: a spigot alone must not fill it.
const LEAST: f64 = 160.0;

/// More lines than the floor ever has.
const MOST_LINES: u32 = 99;

/// The hose as it will lie, if that is known.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Laid {
    pub(crate) points: Vec<Point>,
    pub(crate) outside: f64,
    /// Where clips hold it: a place, and one a millimetre further along.
    pub(crate) bands: Vec<[Point; 2]>,
}

/// From millimetres of the car to pixels of the picture.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Fit {
    view: View,
    /// Millimetres to a pixel.
    pub(super) mm: f64,
    /// Top left corner of the picture, in millimetres on the paper.
    left: f64,
    top: f64,
}

impl Fit {
    /// So that all the points are in the picture, as large as they can be.
    fn round(view: View, points: &[Point], height: f64) -> Self {
        let flat: Vec<_> = points.iter().map(|p| view.flat(*p)).collect();
        let span = |of: fn(&(f64, f64)) -> f64| {
            let (lo, hi) =
                flat.iter().map(of).fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), x| (lo.min(x), hi.max(x)));
            if lo > hi { (0.0, 0.0) } else { (lo, hi) }
        };
        let ((x0, x1), (y0, y1)) = (span(|p| p.0), span(|p| p.1));
        let mm = ((x1 - x0) / (WIDTH - 2.0 * BESIDE)).max((y1 - y0) / (height - 2.0 * ABOVE)).max(LEAST / WIDTH);
        Self { view, mm, left: (x0 + x1 - WIDTH * mm) / 2.0, top: (y0 + y1 - height * mm) / 2.0 }
    }

    /// Where a place of the car is in the picture.
    pub(super) fn at(&self, point: Point) -> (f64, f64) {
        let (x, y) = self.view.flat(point);
        ((x - self.left) / self.mm, (y - self.top) / self.mm)
    }

    fn view_box(&self, height: f64) -> String {
        format!("{:.1} {:.1} {:.1} {:.1}", self.left, self.top, WIDTH * self.mm, height * self.mm)
    }
}

/// Something to press in the picture: its middle, its size, what it says, where it leads.
#[derive(Clone, Debug, Default, PartialEq)]
struct Tag {
    x: f64,
    y: f64,
    width: f64,
    name: String,
    /// What it is, said in full.
    says: String,
    to: String,
    round: bool,
}

impl Tag {
    /// Whether it would be covered by one as wide as that, with its middle there.
    fn is_covered(&self, (x, y): (f64, f64), width: f64) -> bool {
        (self.x - x).abs() < (self.width + width) / 2.0 && (self.y - y).abs() < PRESS
    }
}

/// Moves what would be pressed together apart, and keeps everything in the picture.
fn apart(tags: Vec<Tag>, height: f64) -> Vec<Tag> {
    // In two corners of the sheet's picture other buttons stand.
    let corner = |x: f64, y: f64, width: f64| Tag { x, y, width, ..Tag::default() };
    let mut placed = vec![corner(66.0, 20.0, 132.0), corner(WIDTH - 24.0, height - 26.0, 52.0)];
    for mut tag in tags {
        let half = tag.width / 2.0;
        let (xs, ys) = (half..=WIDTH - half, PRESS / 2.0..=height - PRESS / 2.0);
        (tag.x, tag.y) = (tag.x.clamp(*xs.start(), *xs.end()), tag.y.clamp(*ys.start(), *ys.end()));
        // The nearest free place; where there is none it stays where it belongs, and the list below still has it.
        let step = PRESS / 8.0;
        let moves =
            (-16_i32..=16).flat_map(|i| (-32_i32..=32).map(move |j| (f64::from(i) * step, f64::from(j) * step)));
        let free = moves
            .map(|(dx, dy)| (dx * dx + dy * dy, (tag.x + dx, tag.y + dy)))
            .filter(|(_, (x, y))| {
                xs.contains(x) && ys.contains(y) && !placed.iter().any(|other| other.is_covered((*x, *y), tag.width))
            })
            .min_by(|a, b| a.0.total_cmp(&b.0));
        if let Some((_, free)) = free {
            (tag.x, tag.y) = free;
        }
        placed.push(tag);
    }
    placed.split_off(2)
}

/// A thing's form, if all of it is known.
fn form(thing: &Thing) -> Option<FormInput> {
    use crate::form::sketch::Form;
    let places = thing.placed()?;
    let first = *places.first()?;
    Some(match (thing.form, places.get(1)) {
        (Form::Rod, Some(to)) => FormInput::Rod { from_mm: first, to_mm: *to, diameter_mm: thing.thick },
        (Form::Disc, _) => {
            let (along, thick_mm) = thing.disc?;
            FormInput::Disc { at_mm: first, along, diameter_mm: thing.thick, thick_mm }
        }
        (Form::Box, Some(to)) => FormInput::Box { from_mm: first, to_mm: *to },
        _ => FormInput::Ball { at_mm: first, diameter_mm: thing.thick },
    })
}

/// The point of a thing's middle line that is nearest to a place.
fn nearest(form: &FormInput, to: Point) -> Point {
    match form {
        FormInput::Ball { at_mm, .. } | FormInput::Disc { at_mm, .. } => *at_mm,
        FormInput::Rod { from_mm, to_mm, .. } => {
            let along = minus(*to_mm, *from_mm);
            let part = dot(minus(to, *from_mm), along) / dot(along, along).max(1e-9);
            plus(*from_mm, along, part.clamp(0.0, 1.0))
        }
        FormInput::Box { from_mm, to_mm } => {
            std::array::from_fn(|i| to[i].clamp(from_mm[i].min(to_mm[i]), from_mm[i].max(to_mm[i])))
        }
    }
}

/// The way an end points, as long as one.
fn way(end: &End) -> Option<Point> {
    end.points.map(|points| points.map(|x| x / norm(points).max(1e-9)))
}

/// Whether a thing covers the hose where the two cross in the picture, or is covered by it.
fn is_nearer(form: &FormInput, hose: &[Point], view: View) -> bool {
    let flat = |p: Point| view.flat(p);
    let crossing = hose.iter().min_by(|a, b| {
        let away = |p: &Point| {
            let ((x, y), (u, v)) = (flat(*p), flat(nearest(form, *p)));
            libm::hypot(x - u, y - v)
        };
        away(a).total_cmp(&away(b))
    });
    crossing.is_some_and(|at| view.nearness(nearest(form, *at)) > view.nearness(*at))
}

/// What the picture holds and how large it is.
struct Scene {
    fit: Fit,
    ends: Vec<(Letter, Point, End)>,
    things: Vec<(usize, FormInput, Thing)>,
}

impl Scene {
    fn of(sketch: &Sketch, laid: Option<&Laid>, height: f64) -> Self {
        let view = View::slanted(sketch.stand);
        let ends: Vec<_> = Letter::BOTH
            .into_iter()
            .filter_map(|letter| {
                let end = sketch.end(letter);
                whole(end.at.map(|x| end.at.iter().any(Option::is_some).then(|| x.unwrap_or(0.0))))
                    .map(|at| (letter, at, end.clone()))
            })
            .collect();
        let things: Vec<_> = sketch
            .things
            .iter()
            .enumerate()
            .filter_map(|(i, thing)| form(thing).map(|form| (i, form, thing.clone())))
            .collect();
        let middle = ends.iter().fold([0.0; 3], |sum, (_, at, _)| plus(sum, *at, 1.0 / ends.len().max(1) as f64));
        let mut points: Vec<Point> = laid.map(|laid| laid.points.clone()).unwrap_or_default();
        for (_, at, end) in &ends {
            points.push(*at);
            points.extend(way(end).map(|way| plus(*at, way, -50.0)));
        }
        points.extend(things.iter().map(|(_, form, _)| nearest(form, middle)));
        Self { fit: Fit::round(view, &points, height), ends, things }
    }

    /// Buttons over the picture: the ends first, then the things near it.
    fn tags(&self, height: f64) -> Vec<Tag> {
        let mut tags = Vec::new();
        for (letter, at, end) in &self.ends {
            // Behind the mouth and a little above it, out of the way of the hose.
            let back = way(end).map_or([0.0; 3], |way| way.map(|x| -x));
            let (x, y) = self.fit.at(plus(*at, back, 40.0 * self.fit.mm));
            tags.push(Tag {
                x,
                y: y - 26.0,
                width: PRESS,
                name: letter.name().to_owned(),
                says: match &end.name {
                    Some(name) => format!("Spigot {}: {name}", letter.name()),
                    None => format!("Spigot {}", letter.name()),
                },
                to: format!("#{}", letter.name().to_ascii_lowercase()),
                round: true,
            });
        }
        let middle = self.ends.first().map_or([0.0; 3], |(_, at, _)| *at);
        for (i, form, thing) in &self.things {
            let (x, y) = self.fit.at(nearest(form, plus(middle, [0.0, 0.0, 1.0], 120.0 * self.fit.mm)));
            let letters = u32::try_from(thing.name.chars().count()).unwrap_or(u32::MAX);
            tags.push(Tag {
                x,
                y,
                width: (7.6 * f64::from(letters) + 14.0).clamp(PRESS, 0.6 * WIDTH),
                says: format!("Thing near it: {}", thing.name),
                name: thing.name.clone(),
                to: format!("#thing-{}", i + 1),
                round: false,
            });
        }
        apart(tags, height)
    }

    /// Lines every so many millimetres on the level of mouth A, so that depth can be read.
    fn floor(&self, sketch: &Sketch) -> String {
        let [right, away] = [Way::Right, Way::Away].map(|way| sketch.stand.vector(way));
        let zero = self.ends.first().map_or([0.0; 3], |(_, at, _)| *at);
        let spread = |along: Point| {
            let all = self.ends.iter().map(|(_, at, _)| dot(minus(*at, zero), along));
            all.fold((0.0_f64, 0.0_f64), |(lo, hi), x| (lo.min(x), hi.max(x)))
        };
        let ((r0, r1), (a0, a1)) = (spread(right), spread(away));
        // Not more than some ten lines either way.
        let step = [50.0, 100.0, 200.0, 500.0, 1000.0]
            .into_iter()
            .find(|step| (r1 - r0).max(a1 - a0) < 8.0 * step)
            .unwrap_or(2000.0);
        let (r0, r1) = ((r0 / step).floor() - 1.0, (r1 / step).ceil() + 1.0);
        let (a0, a1) = ((a0 / step).floor() - 1.0, (a1 / step).ceil() + 1.0);
        let on = |r: f64, a: f64| plus(plus(zero, right, r * step), away, a * step);
        let lines =
            |from: f64, to: f64| (0..=MOST_LINES).map(move |n| from + f64::from(n)).take_while(move |x| *x <= to);
        let across = lines(a0, a1).map(|a| path(self.fit.view, &[on(r0, a), on(r1, a)]));
        let along = lines(r0, r1).map(|r| path(self.fit.view, &[on(r, a0), on(r, a1)]));
        across.chain(along).collect()
    }
}

/// What the picture says to who cannot see it.
fn sentence(sketch: &Sketch, laid: Option<&Laid>) -> String {
    let points = |letter: Letter| {
        let end = sketch.end(letter);
        end.points
            .map_or_else(String::new, |points| format!("; {} points {}", letter.name(), sketch.stand.direction(points)))
    };
    let hose = if laid.is_some() { "the hose as it will lie from A to B" } else { "no hose yet" };
    let near: Vec<_> = sketch.things.iter().map(|thing| thing.name.as_str()).collect();
    let near = if near.is_empty() { String::new() } else { format!("; near it: {}", near.join(", ")) };
    format!("As you stand {}: {hose}{}{}{near}.", sketch.stand.name(), points(Letter::A), points(Letter::B))
}

/// The picture of a run, with buttons over its parts; `walk` is a way of the tape that is drawn with it.
pub(crate) fn slanted(sketch: &Sketch, laid: Option<&Laid>, walk: &[Point], height: f64) -> El {
    let scene = Scene::of(sketch, laid, height);
    let (fit, view) = (scene.fit, scene.fit.view);
    let px = fit.mm;
    let hose: Vec<Point> = laid.map(|laid| laid.points.clone()).unwrap_or_default();
    let (over, under): (Vec<_>, Vec<_>) =
        scene.things.iter().partition(|(_, form, _)| !hose.is_empty() && is_nearer(form, &hose, view));
    let draw = |things: Vec<&(usize, FormInput, Thing)>| {
        things.into_iter().map(|(_, form, _)| thing(form, view, px)).collect::<Vec<_>>()
    };
    let stubs = scene.ends.iter().map(|(_, at, end)| {
        let thick = end.spigot.unwrap_or(16.0).max(6.0 * px);
        match way(end) {
            Some(way) => {
                let d = path(view, &stub_at(*at, way, end.seat));
                pipe(&d, thick, 3.0 * px)
            }
            None => circle("thing", view.flat(*at), thick / 2.0).attr("stroke-width", 2.0 * px).into(),
        }
    });
    let laid_pipe = laid.map(|laid| {
        let d = path(view, &laid.points);
        let outside = laid.outside.max(8.0 * px);
        many![
            stroke("wide halo", &d, outside + 8.0 * px),
            pipe(&d, outside, 5.0 * px),
            stroke("centre", &d, 0.9 * px).attr("stroke-dasharray", dashes(px)),
            held::drawn(&laid.bands, outside, px, |p| view.flat(p)),
        ]
    });
    // From the mouths straight to the level of A, so that height can be read.
    let level = scene.ends.first().map_or(0.0, |(_, at, _)| at[2]);
    let drops = scene.ends.iter().skip(1).map(|(_, at, _)| path(view, &[*at, [at[0], at[1], level]]));
    let drops: String = drops.collect();
    let walked = (walk.len() > 1).then(|| path(view, walk));
    let tags = scene.tags(height);
    let percent = |part: f64, whole: f64| format!("{:.2}%", 100.0 * part / whole);
    let picture = el("svg")
        .attr("viewBox", fit.view_box(height))
        .attr("role", "img")
        .attr("aria-label", sentence(sketch, laid))
        .put(stroke("floor", &scene.floor(sketch), px))
        .put(stroke("d", &drops, px).attr("stroke-dasharray", format!("{0} {0}", 3.0 * px)))
        .put(draw(under))
        .put_all(stubs)
        .put(laid_pipe)
        .put(draw(over))
        .put(walked.map(|d| stroke("markline", &d, 3.0 * px).attr("stroke-linejoin", "round")));
    let tags = tags.into_iter().map(|tag| {
        link(if tag.round { "tag round" } else { "tag" }, tag.to, el("span").put(tag.name))
            .attr("aria-label", tag.says)
            .style("left", percent(tag.x, WIDTH))
            .style("top", percent(tag.y, height))
    });
    div("scene").put(picture).put_all(tags)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn example() -> Sketch {
        Sketch::of(&share::json::read(crate::example::EXAMPLE).expect("a job file"), 0)
    }

    #[test]
    fn everything_pressed_is_in_the_picture_and_nothing_covers_another() {
        let scene = Scene::of(&example(), None, 180.0);
        let tags = scene.tags(180.0);
        assert_eq!(tags.len(), 4);
        for (i, tag) in tags.iter().enumerate() {
            assert!(tag.x >= 24.0 && tag.x <= WIDTH - 24.0 && tag.y >= 24.0 && tag.y <= 156.0, "{tag:?}");
            assert!(!tags[..i].iter().any(|other| other.is_covered((tag.x, tag.y), tag.width)), "{tags:?}");
        }
    }

    #[test]
    fn the_pipe_before_the_hose_covers_it_and_the_one_behind_does_not() {
        // At the front: the pipe stands 190 mm away, the hose passes before and behind it.
        let pipe = FormInput::Rod { from_mm: [-190.0, 75.0, -150.0], to_mm: [-190.0, 75.0, 250.0], diameter_mm: 50.0 };
        let view = View::slanted(example().stand);
        let hose = |x: f64| -> Vec<Point> { (0..20_u8).map(|i| [x, f64::from(i) * 10.0, 0.0]).collect() };
        assert!(!is_nearer(&pipe, &hose(-100.0), view), "the hose is nearer the eye");
        assert!(is_nearer(&pipe, &hose(-290.0), view), "the pipe is");
    }
}
