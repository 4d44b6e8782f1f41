//! How it will lie: three flat views of the hose, its spigots and the things near it, to one scale.

use super::held::{marked, sentences};
use super::place::{across, along, place, seat, stub};
use super::projection::{Frame, Point, View, path, rim};
use super::{length, wanted};
use crate::el::{El, Node, circle, el, label, list, many, note, section, stroke};
use crate::form::stand::Stand;
use crate::language;
use crate::words;
use job::input::{ElbowInput, EndInput, FormInput, NeighbourInput, RunInput, SpigotInput};
use job::{CandidateReport, LieReport, WantedReport, WayReport};
use leptos::prelude::*;
use quantity::text::LengthUnit;

/// Paper around the hose, mm of the car.
const MARGIN: f64 = 45.0;

/// The three views, each with the part of it that is drawn: the hose, its spigots and some paper around them.
pub(super) fn views(
    run: &RunInput,
    lie: &LieReport,
    wanted: Option<&WantedReport>,
    outside: f64,
) -> [(View, Frame); 3] {
    let way: &[Point] = wanted.map_or(&[], |wanted| &wanted.points_mm);
    View::square(run.stood.as_deref().map(Stand::from_word).unwrap_or_default()).map(|view| {
        let ends = [&run.from, &run.to].into_iter().flat_map(stub);
        let points = lie.points_mm.iter().chain(way).copied().chain(ends).map(move |p| view.flat(p));
        let frame = Frame::round(points.collect::<Vec<_>>().into_iter(), MARGIN + outside / 2.0, 0.45..=1.3);
        (view, frame)
    })
}

/// The three views of a run.
pub(crate) fn drawings(
    run: &RunInput,
    best: &CandidateReport,
    wanted: Option<&WantedReport>,
    // The place touched, mm of free length from mouth A.
    touched: RwSignal<Option<f64>>,
    unit: LengthUnit,
) -> El {
    let Some(lie) = &best.lie else {
        return section(words::LIES).put(note("It cannot lie here at all."));
    };
    let outside = best.hose.outside_mm;
    let views = views(run, lie, wanted, outside);
    // One scale for all three: millimetres of the car per width of the widest.
    let widest = views.iter().map(|(_, frame)| frame.width).fold(0.0, f64::max);
    let px = widest / 328.0;
    let held = sentences(best, &|mm| length(mm, unit));
    let legend = legend(!held.is_empty(), wanted.is_some());
    let pictures = views.into_iter().map(|(view, frame)| {
        let width = format!("{:.1}%", 100.0 * frame.width / widest);
        el("figure")
            .class("view")
            .put(
                one_view(run, lie, best, touched, (view, &frame), width, px)
                    .put_all(others(best, view, px))
                    .put(wanted.map(|wanted| wanted::line(wanted, view, px)))
                    .put_all(marked(run, lie, outside, view, px)),
            )
            .put(el("figcaption").put(view.caption()))
    });
    section(words::LIES)
        .put_all(pictures)
        .put(
            note(format!("It bows {} out of the straight line from mouth to mouth. ", length(lie.bow_mm, unit)))
                .put("All three to one scale. The blue stroke marks the place you touched along the hose, at first the tightest bend. Dots are the gripped seats.")
                .put(legend),
        )
        .put(list(held))
}

/// What else is drawn in the views.
pub(super) fn legend(held: bool, wanted: bool) -> String {
    let lines = [(held, words::HELD_MARKS), (wanted, words::WANTED_LINE)];
    lines.iter().filter(|(there, _)| *there).map(|(_, words)| format!(" {words}")).collect()
}

/// An elbow on a spigot, by its corner, to where the hose goes on from the joiner.
fn elbow_line(elbow: &ElbowInput, run: &RunInput, lie: &LieReport) -> [Point; 3] {
    let (spigot, to) = match elbow.end {
        EndInput::A => (&run.from, lie.points_mm.first()),
        EndInput::B => (&run.to, lie.points_mm.last()),
    };
    // As the report puts it there: the wall of the elbow is taken as 4 mm.
    let radius = elbow.inside_mm + spigot.spigot_mm / 2.0 + 4.0;
    let half = (0.5 * elbow.bend_deg).clamp(0.0, 80.0).to_radians();
    let corner = along(spigot.at_mm, spigot.points, elbow.leg_mm + radius * libm::tan(half));
    [spigot.at_mm, corner, to.copied().unwrap_or(corner)]
}

/// The other ways in which the hose could lie, as broken lines.
fn others(best: &CandidateReport, view: View, px: f64) -> Vec<El> {
    let ways = best.ways_to_lie.iter().filter(|way| !way.told);
    let line = |way: &WayReport| {
        stroke("centre", &path(view, &way.points_mm), 1.6 * px).attr("stroke-dasharray", format!("{0} {0}", 4.0 * px))
    };
    ways.map(line).collect()
}

/// One view, as wide as `width` says.
pub(super) fn one_view(
    run: &RunInput,
    lie: &LieReport,
    best: &CandidateReport,
    touched: RwSignal<Option<f64>>,
    (view, frame): (View, &Frame),
    width: String,
    // Millimetres of the car to a pixel: lines and letters come out alike in all views.
    px: f64,
) -> El {
    let line = |at: &[Point]| path(view, at);
    let (outside, headline) = (best.hose.outside_mm, &best.headline);
    let name = |spigot: &SpigotInput, letter: &str| spigot.name.clone().unwrap_or_else(|| letter.to_owned());
    let (from, to) = (name(&run.from, "A"), name(&run.to, "B"));
    let things: Vec<_> = run.neighbours.iter().filter_map(|thing| thing.name.clone()).collect();
    let says = match things.is_empty() {
        true => format!("{}: the hose runs from {from} to {to}. {headline}", view.caption()),
        false => {
            format!("{}: the hose runs from {from} to {to}, past {}. {headline}", view.caption(), things.join(", "))
        }
    };
    let spigots = [(&run.from, "A"), (&run.to, "B")];
    let hose = line(&lie.points_mm);
    let stubs: Vec<(String, f64)> = spigots.iter().map(|(s, _)| (line(&stub(s)), s.spigot_mm)).collect();
    let elbows: Vec<String> = run.elbows.iter().map(|elbow| line(&elbow_line(elbow, run, lie))).collect();
    let seats: Vec<String> = spigots.iter().map(|(s, _)| line(&seat(s))).collect();
    let letters: Vec<((f64, f64), &str)> = spigots.iter().map(|(s, name)| (view.flat(stub(s)[0]), *name)).collect();
    let names: Vec<((f64, f64), String)> =
        run.neighbours.iter().map(|n| (name_at(n, view, frame, px), n.name.clone().unwrap_or_default())).collect();
    let things: Vec<_> = run.neighbours.iter().map(|n| thing(&n.shape, view, px)).collect();
    let (run, lie) = (run.clone(), lie.clone());
    // A stroke across the hose, square to it as it is seen.
    let touched_at = move || {
        let (at, way) = place(&run, &lie, touched.get().unwrap_or(lie.at_mm));
        let [(x0, y0), (x1, y1)] = across([at, along(at, way, 1.0)].map(|p| view.flat(p)), 0.5 * outside + 6.0);
        format!("M{x0:.1} {y0:.1}L{x1:.1} {y1:.1}")
    };
    let named = |class, at, words: String, size: f64, halo: f64| {
        label(class, at, words).attr("font-size", size * px).attr("stroke-width", halo * px)
    };
    el("svg")
        .class("pic")
        .attr("viewBox", frame.view_box())
        .style("width", width)
        .attr("role", "img")
        .attr("aria-label", says)
        .put_all(things)
        .put_all(stubs.iter().map(|(d, thick)| pipe(d, *thick, 3.0 * px)))
        .put_all(seats.iter().map(|d| stroke("wide ink", d, outside + 2.0 * px)))
        .put_all(elbows.iter().map(|d| pipe(d, outside, 5.0 * px)))
        .put(stroke("wide halo", &hose, outside + 10.0 * px))
        .put(pipe(&hose, outside, 5.0 * px))
        .put_all(seats.iter().map(|d| {
            let dots = stroke("wide ink round", d, 3.2 * px).attr("stroke-dasharray", format!("0 {:.2}", 6.0 * px));
            many![stroke("wide sheet", d, outside - 3.0 * px), dots]
        }))
        .put(stroke("centre", &hose, 0.9 * px).attr("stroke-dasharray", dashes(px)))
        .put(el("path").live("d", touched_at).class("markline").attr("stroke-width", 2.8 * px))
        .put_all(names.into_iter().map(|(at, name)| named("mi letter", at, name, 13.0, 4.0)))
        .put_all(
            letters
                .into_iter()
                .map(|((x, y), name)| named("l mi letter", (x, y + 6.0 * px), name.to_owned(), 17.0, 5.0)),
        )
}

/// Something round seen from its side: ink as wide as it is, and between its rims the sheet.
pub(super) fn pipe(d: &str, thick: f64, rims: f64) -> Node {
    many![stroke("wide ink", d, thick), stroke("wide sheet", d, (thick - rims).max(1.0))]
}

/// A centre line: long, gap, short, gap.
pub(super) fn dashes(px: f64) -> String {
    format!("{0} {1} {2} {1}", 9.0 * px, 3.0 * px, 2.0 * px)
}

/// The outline of a thing near it.
pub(super) fn thing(form: &FormInput, view: View, px: f64) -> Node {
    match form {
        FormInput::Rod { from_mm, to_mm, diameter_mm } => {
            let d = path(view, &[*from_mm, *to_mm]);
            let inside = (diameter_mm - 3.2 * px).max(0.5);
            many![stroke("wide ink round", &d, *diameter_mm), stroke("wide sheet round", &d, inside)]
        }
        FormInput::Ball { at_mm, diameter_mm } => {
            circle("thing", view.flat(*at_mm), diameter_mm / 2.0).attr("stroke-width", 1.6 * px).into()
        }
        FormInput::Disc { at_mm, along, diameter_mm, thick_mm } => {
            let rims =
                [-0.5, 0.5].map(|side| path(view, &rim(*at_mm, *along, side * thick_mm, diameter_mm / 2.0)) + "Z");
            stroke("thing", &rims.concat(), 1.6 * px).attr("stroke-linejoin", "round").into()
        }
        // The faces that look at the eye; seen square that is one of them.
        FormInput::Box { from_mm, to_mm } => {
            stroke("thing", &faces(*from_mm, *to_mm, view), 1.6 * px).attr("stroke-linejoin", "round").into()
        }
    }
}

/// The faces of a box that look at the eye.
fn faces(from: Point, to: Point, view: View) -> String {
    let nearer = |axis: usize| {
        let mut end = [0.0; 3];
        end[axis] = 1.0;
        let (lo, hi) = (from[axis].min(to[axis]), from[axis].max(to[axis]));
        if view.nearness(end) > 0.0 { hi } else { lo }
    };
    let mut d = String::new();
    for axis in 0..3 {
        let (u, v) = ((axis + 1) % 3, (axis + 2) % 3);
        let corner = |cu: f64, cv: f64| {
            let mut at = [0.0; 3];
            (at[axis], at[u], at[v]) = (nearer(axis), cu, cv);
            at
        };
        d += &path(
            view,
            &[corner(from[u], from[v]), corner(to[u], from[v]), corner(to[u], to[v]), corner(from[u], to[v])],
        );
        d.push('Z');
    }
    d
}

/// Where the name of a thing stands: at its middle, or as near to that as the picture reaches.
fn name_at(neighbour: &NeighbourInput, view: View, frame: &Frame, px: f64) -> (f64, f64) {
    let middle = |a: &Point, b: &Point| view.flat(std::array::from_fn(|i| 0.5 * (a[i] + b[i])));
    let (x, y) = match &neighbour.shape {
        FormInput::Rod { from_mm, to_mm, .. } | FormInput::Box { from_mm, to_mm } => middle(from_mm, to_mm),
        FormInput::Ball { at_mm, .. } | FormInput::Disc { at_mm, .. } => view.flat(*at_mm),
    };
    // Half of a letter is some 3.7 pixels wide.
    let letters = neighbour.name.as_deref().map_or(0, |name| language::say(name).chars().count());
    let side = (3.7 * px * letters as f64).min(frame.width / 2.0);
    (
        // No `clamp`: in a picture as narrow as a name the bounds may cross, by a hair of rounding.
        x.min(frame.left + frame.width - side).max(frame.left + side),
        y.min(frame.top + frame.height - 6.0 * px).max(frame.top + 16.0 * px),
    )
}
