//! A spigot: how thick it is, and which way it points, by tags round its mouth as water would leave it.

use super::size::sizes;
use super::{Measuring, Screen, how, onward};
use crate::el::{El, Node, button, circle, details, div, el, label, link, live, many, note, p, path, stroke, when};
use crate::form::sketch::{Letter, SEAT_TAKEN, whole};
use crate::form::stand::{Stand, Way, minus, norm};
use crate::form::{Draft, fields_of};
use crate::view::length;
use crate::view::projection::View;
use crate::words;
use job::input::Triple;
use leptos::prelude::*;
use share::json::Value;

/// The picture of the mouth and the tags round it, in its own pixels.
const WIDTH: f64 = 328.0;
const HEIGHT: f64 = 218.0;
const MOUTH: (f64, f64) = (WIDTH / 2.0, HEIGHT / 2.0);
/// Size of a tag without its point, and how far the point stands out.
const TAG: (f64, f64) = (82.0, 48.0);
const POINT: f64 = 11.0;

/// The middle of the tag of a way, and to which side of it the point stands.
fn tag(way: Way) -> ((f64, f64), (f64, f64)) {
    let (x, y) = MOUTH;
    match way {
        Way::Right => ((x + 94.0, y), (1.0, 0.0)),
        Way::Left => ((x - 94.0, y), (-1.0, 0.0)),
        Way::Up => ((x, y - 72.0), (0.0, -1.0)),
        Way::Down => ((x, y + 72.0), (0.0, 1.0)),
        Way::Away => ((x + 104.0, y - 58.0), (1.0, -1.0)),
        Way::ToYou => ((x - 104.0, y + 58.0), (-1.0, 1.0)),
    }
}

/// The outline of a tag: a card with one side, or one corner, drawn out to a point.
fn outline(way: Way) -> String {
    let ((x, y), (px, py)) = tag(way);
    let (w, h) = (TAG.0 / 2.0, TAG.1 / 2.0);
    let corners = [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)];
    let mut points: Vec<(f64, f64)> = Vec::new();
    for (i, (cx, cy)) in corners.into_iter().enumerate() {
        // A corner that points stands out itself.
        let out = if (cx, cy) == (px, py) { POINT * 0.7 } else { 0.0 };
        points.push((x + cx * (w + out), y + cy * (h + out)));
        // The middle of the side after it stands out where that side points.
        let (nx, ny) = corners[(i + 1) % 4];
        let middle = ((cx + nx) / 2.0, (cy + ny) / 2.0);
        if middle == (px, py) {
            points.push((x + px * (w + POINT), y + py * (h + POINT)));
        }
    }
    points.iter().map(|(x, y)| format!("{x:.1},{y:.1}")).collect::<Vec<_>>().join(" ")
}

/// What a tap on a way makes of the direction: that way; half-way to it from one square to it; straight again if it was
/// half-way there already.
fn tapped(stand: Stand, now: Option<Triple>, way: Way) -> Triple {
    let is = |points: Triple, wanted: Triple| norm(minus(points, wanted)) < 1e-6;
    let straight = now.and_then(|now| Way::ALL.into_iter().find(|way| is(now, stand.vector(*way))));
    match straight {
        Some(before) if before != way && before != way.opposite() => stand.half_way(before, way),
        _ => stand.vector(way),
    }
}

/// The water: from the mouth, in the slanted view, wider as it goes.
fn water(stand: Stand, points: Triple) -> String {
    let (dx, dy) = View::slanted(stand).flat(points);
    let size = (dx * dx + dy * dy).sqrt().max(0.3);
    // At right angles to it on the paper.
    let (nx, ny) = (-dy / size, dx / size);
    let from = |out: f64, side: f64| (MOUTH.0 + dx * out + nx * side, MOUTH.1 + dy * out + ny * side);
    [(-1.0, 6.0), (0.0, 0.0), (1.0, -6.0)]
        .map(|(side, end)| {
            let ((x0, y0), (x1, y1), (x2, y2)) =
                (from(8.0, side * 3.0), from(30.0, side * 4.0), from(54.0, -end * 1.4));
            format!("M{x0:.1} {y0:.1}Q{x1:.1} {y1:.1} {x2:.1} {y2:.1}")
        })
        .concat()
}

/// The pipe behind the mouth.
fn pipe(stand: Stand, points: Triple) -> String {
    let (dx, dy) = View::slanted(stand).flat(points);
    format!("M{:.1} {:.1}L{:.1} {:.1}", MOUTH.0 - 40.0 * dx, MOUTH.1 - 40.0 * dy, MOUTH.0, MOUTH.1)
}

/// The words of a tag, in one or two lines.
fn lines(word: &'static str) -> Vec<&'static str> {
    match word.rsplit_once(' ') {
        Some((first, last)) if word.len() > 8 => vec![first, last],
        _ => vec![word],
    }
}

/// The screen of a spigot.
pub(super) fn spigot(letter: Letter, Measuring { draft, problems, .. }: Measuring) -> Node {
    let end = Memo::new(move |_| draft.with(|draft| draft.sketch(0).end(letter).clone()));
    let stand = Memo::new(move |_| draft.with(|draft| draft.sketch(0).stand));
    let field = move |name: &str| format!("{}/{name}", letter.field());
    let set = move |points: Triple| {
        draft.update(|draft| {
            draft.set(0, &field("points"), Value::from(points));
            draft.take_b_as_a();
        });
    };
    let fifteen = RwSignal::new(true);
    let says = move || {
        let end = end.get();
        let across = end.spigot.map(|mm| format!("{} across", length(mm, draft.with(|d| d.unit))));
        let points = end.points.map(|points| format!("points {}", stand.get().direction(points)));
        match (points, across) {
            (Some(points), Some(across)) => format!("{} {points}, {across}.", letter.name()),
            (Some(one), None) => format!("{} {one}.", letter.name()),
            (None, Some(across)) => format!("{}: {across}.", letter.name()),
            (None, None) => String::new(),
        }
    };
    let picture = move || {
        let (points, stand) = (end.get().points, stand.get());
        let chosen = move |way| points.is_some_and(|points| norm(minus(points, stand.vector(way))) < 1.0);
        let half = move |way| {
            points.is_some_and(|p| {
                Way::ALL.into_iter().any(|w| w != way && w != way.opposite() && norm(minus(p, stand.vector(w))) < 1e-6)
            })
        };
        let draw = points.map(|points| {
            let pipe = pipe(stand, points);
            many![stroke("wide ink", &pipe, 18.0), stroke("wide sheet", &pipe, 13.4), path("m", water(stand, points))]
        });
        let tags = Way::ALL.map(|way| {
            let ((x, y), _) = tag(way);
            let lines = lines(stand.says(way));
            let up = 6.5 * (lines.len() - 1) as f64;
            let on = chosen(way);
            let outline = el("polygon").attr("points", outline(way)).class(match (on, half(way)) {
                (true, true) => "jet on half",
                (true, false) => "jet on",
                (false, true) => "jet half",
                (false, false) => "jet",
            });
            let words = lines
                .into_iter()
                .enumerate()
                .map(|(i, line)| label(if on { "mi b on" } else { "mi b" }, (x, y + 5.0 - up + 14.0 * i as f64), line));
            many![outline, words.collect::<Vec<_>>()]
        });
        el("svg")
            .attr("viewBox", format!("0 0 {WIDTH} {HEIGHT}"))
            .attr("aria-hidden", "true")
            .put(draw)
            .put(circle("thing", MOUTH, 9.0).attr("stroke-width", "2.4"))
            .put_all(tags)
    };
    let percent = |part: f64, whole: f64| format!("{:.2}%", 100.0 * part / whole);
    let buttons = Way::ALL.map(|way| {
        let ((x, y), _) = tag(way);
        let pressed =
            move || end.get().points.is_some_and(|p| norm(minus(p, stand.get().vector(way))) < 1.0).to_string();
        el("button")
            .attr("type", "button")
            .live("aria-label", move || format!("{} points {}", letter.name(), stand.get().says(way)))
            .live("aria-pressed", pressed)
            .style("left", percent(x - TAG.0 / 2.0, WIDTH))
            .style("top", percent(y - TAG.1 / 2.0, HEIGHT))
            .style("width", percent(TAG.0, WIDTH))
            .style("height", percent(TAG.1, HEIGHT))
            .on_click(move || set(tapped(stand.get_untracked(), end.get_untracked().points, way)))
    });
    let lean = move || {
        Way::ALL.map(|way| {
            let press = move || {
                if let Some(points) = end.get_untracked().points {
                    let by = if fifteen.get_untracked() { 15.0 } else { 5.0 };
                    set(stand.get_untracked().tilted(points, way, by));
                }
            };
            button("bt", live(move || stand.get().says(way)), press)
        })
    };
    let pointed = move || end.get().points.is_some();
    let hint = move || if pointed() { words::HALF_WAY } else { words::SQUIRT };
    let step = move || if fifteen.get() { 15 } else { 5 };
    let scene =
        div("scene jets").attrs([("role", "group"), ("aria-label", words::SQUIRT)]).put(live(picture)).put_all(buttons);
    let leaning = move || {
        many![
            note(live(move || format!("{}° a tap, towards:", step()))),
            div("row").put_all(lean()),
            button("bt", live(move || if fifteen.get() { "5° a tap" } else { "15° a tap" }), move || {
                fifteen.update(|f| *f = !*f);
            }),
        ]
    };
    let first_thing = move || letter == Letter::B && draft.with(|d| d.sketch(0).things.is_empty());
    let ask = el("section")
        .class("ask")
        .put(p("vd", live(says)).attr("aria-live", "polite"))
        .put(note(live(hint)).put(" ").put(live(move || (!pointed()).then_some(words::ONE_PLACE))))
        .put(sizes(letter, draft))
        .put(when(move || letter == Letter::B && pointed(), move || live(move || tape(draft))))
        .put(when(pointed, move || frame(letter, draft)))
        .put(
            div("row")
                .put(when(first_thing, move || button("bt", words::HOT_PIPE, move || hot_pipe(draft))))
                .put(onward(Screen::Spigot(letter), draft)),
        )
        .put(details(words::LEAN).fold(leaning))
        .put(note(live(move || gripped(draft, letter))))
        .put(how(Screen::Spigot(letter), "direction", words::HOW_POINTS))
        .put(how(Screen::Spigot(letter), "spigot", words::HOW_SIZE))
        .put(fields_of(draft, problems, format!("/runs/0/{}/", letter.field())));
    many![scene, ask]
}

/// What goes into the cut besides: the seat, the bead, what it is made of; the list below holds them.
fn gripped(draft: RwSignal<Draft>, letter: Letter) -> String {
    draft.with(|draft| {
        let typed = |name: &str| draft.word(0, &format!("{}/{name}", letter.field()));
        let seat = match draft.number(0, &format!("{}/seat_mm", letter.field())) {
            Some(mm) => format!("The hose goes on {}", length(mm, draft.unit)),
            None => format!("The hose is taken to go on {} until you measure it", length(SEAT_TAKEN, draft.unit)),
        };
        let bead = match draft.number(0, &format!("{}/bead_mm", letter.field())) {
            Some(mm) => format!("bead {}", length(mm, draft.unit)),
            None if typed("bead_mm").is_some() => "no bead".to_owned(),
            None => "bead not known".to_owned(),
        };
        let made_of = typed("made_of").unwrap_or_else(|| "what it is made of not known".to_owned());
        format!("{seat}; {bead}; {made_of}.")
    })
}

/// A pipe that is hot, the likeliest thing near, with its place still to be said.
fn hot_pipe(draft: RwSignal<Draft>) {
    use crate::form::sketch::Form;
    draft.update(|draft| draft.add_neighbour(0, "hot", Form::Rod));
    let last = draft.with_untracked(|draft| draft.sketch(0).things.len()).saturating_sub(1);
    Screen::Thing(last).go();
}

/// To what the end is bolted: one key, which says what stands and changes it.
fn frame(letter: Letter, draft: RwSignal<Draft>) -> El {
    let on = move || draft.with(|draft| draft.sketch(0).end(letter).on.clone());
    let swap = move || {
        let other = if on().as_deref() == Some("engine") { "body" } else { "engine" };
        draft.update(|draft| draft.set(0, &format!("{}/on", letter.field()), Value::from(other)));
    };
    let is_on = move || format!("{} is on the {}.", letter.name(), on().unwrap_or_else(|| "body".to_owned()));
    let other = move || if on().as_deref() == Some("engine") { "It is on the body" } else { "It is on the engine" };
    p("line", live(is_on)).put(button("bt", live(other), swap))
}

/// The free check: what a tape from mouth to mouth should read, and where B should be seen.
fn tape(draft: RwSignal<Draft>) -> Option<El> {
    let sketch = draft.with(|draft| draft.sketch(0));
    let unit = draft.with(|draft| draft.unit);
    let from_a = minus(whole(sketch.end(Letter::B).at)?, whole(sketch.end(Letter::A).at)?);
    let where_it_is: Vec<_> = sketch
        .stand
        .steps(from_a)
        .into_iter()
        .map(|(way, _)| match way {
            Way::Right | Way::Left => format!("on the {}", sketch.stand.says(way)),
            Way::Away => "further away".to_owned(),
            Way::ToYou => "nearer to you".to_owned(),
            Way::Up => "higher".to_owned(),
            Way::Down => "lower".to_owned(),
        })
        .collect();
    let where_it_is = match where_it_is.split_last() {
        Some((last, [])) => last.clone(),
        Some((last, rest)) => format!("{} and {last}", rest.join(", ")),
        None => String::new(),
    };
    // Every step hardly longer than a seat (our choice): no two mouths are so near.
    let small = from_a.iter().all(|x| x.abs() < 40.0);
    let doubt = small.then_some(" That is inside the stub: were they inches?");
    let question = format!(
        "Tape straight from A to B: {}. Yours within 5 mm? Seen from A, is B {where_it_is}?",
        length(norm(from_a), unit)
    );
    Some(p("line", question).put(doubt).put(link("bt", "#place", "Change")))
}

#[cfg(test)]
#[expect(clippy::float_cmp, reason = "numbers that are exact: whole, or never calculated with")]
mod tests {
    use super::*;

    #[test]
    fn one_tap_is_square_two_are_half_way_and_a_third_is_square_again() {
        let stand = Stand::Front;
        let right = tapped(stand, None, Way::Right);
        assert_eq!(right, stand.vector(Way::Right));
        let between = tapped(stand, Some(right), Way::Away);
        assert_eq!(stand.direction(between), "half-way between right and away");
        assert_eq!(tapped(stand, Some(between), Way::Away), stand.vector(Way::Away));
        assert_eq!(tapped(stand, Some(right), Way::Left), stand.vector(Way::Left), "the opposite is no half-way");
        assert_eq!(tapped(stand, Some(right), Way::Right), right);
    }

    #[test]
    fn no_tag_covers_another_or_leaves_the_picture() {
        for (i, way) in Way::ALL.into_iter().enumerate() {
            let ((x, y), _) = tag(way);
            assert!((41.0..=WIDTH - 41.0).contains(&x) && (24.0..=HEIGHT - 24.0).contains(&y), "{way:?}");
            for other in &Way::ALL[..i] {
                let ((u, v), _) = tag(*other);
                assert!((x - u).abs() >= TAG.0 || (y - v).abs() >= TAG.1, "{way:?} and {other:?}");
            }
        }
    }
}
