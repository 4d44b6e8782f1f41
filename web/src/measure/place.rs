//! Where something is, walked off with a tape from A: a number on the keypad, then the way.

use super::keypad::{hear, keypad, typed};
use super::typing::Typing;
use super::{Measuring, Screen, act, how, next};
use crate::el::{Node, button, div, el, link, live, many, note, p, when};
use crate::form::fields_of;
use crate::form::sketch::{End, Form, Letter, Sketch, Steps, Thing, whole};
use crate::form::stand::{Stand, Way, dot, norm, plus};
use crate::view::{length, slanted};
use crate::words;
use job::input::Triple;
use leptos::prelude::*;
use share::json::Value;

/// How far a long pipe is drawn out beyond both ends of the run, mm (our choice: further than any bow).
const BEYOND: f64 = 400.0;
/// No step is longer, mm (as `job::accept` takes places).
const FARTHEST: f64 = 5000.0;
/// Height of the picture; lower where more is asked below it.
const HEIGHT: f64 = 160.0;
const LOW: f64 = 112.0;

/// What is being placed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Target {
    B,
    Thing(usize),
}

/// Where on a round thing the tape ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Touch {
    Near,
    Middle,
    Far,
}

impl Touch {
    fn says(self) -> &'static str {
        match self {
            Self::Near => "to its near side",
            Self::Middle => "to its middle",
            Self::Far => "to its far side",
        }
    }

    /// So much is added to the tape to come to the middle.
    fn adds(self, thick: f64) -> f64 {
        match self {
            Self::Near => thick / 2.0,
            Self::Middle => 0.0,
            Self::Far => -thick / 2.0,
        }
    }
}

/// The axis of the car along which a way runs.
fn axis(stand: Stand, way: Way) -> usize {
    let vector = stand.vector(way);
    (0..3).find(|i| vector[*i] != 0.0).unwrap_or(0)
}

/// The axis along which a long pipe runs, if its ends differ along one alone.
fn runs_along(thing: &Thing) -> Option<usize> {
    let [from, to] = thing.places.as_slice() else { return None };
    let differ: Vec<_> = (0..3).filter(|i| from[*i].is_some() && to[*i].is_some() && from[*i] != to[*i]).collect();
    match differ.as_slice() {
        [one] => Some(*one),
        _ => None,
    }
}

impl Target {
    /// The fields of the places, and what each is called.
    fn places(self, sketch: &Sketch) -> Vec<(String, &'static str)> {
        match self {
            Self::B => vec![("to/at_mm".to_owned(), "B")],
            Self::Thing(i) => {
                let form = sketch.things.get(i).map_or(Form::Ball, |thing| thing.form);
                let field = |name: &str| format!("neighbours/{i}/shape/{}/{name}", form.field());
                match form {
                    Form::Ball | Form::Disc => vec![(field("at_mm"), "its middle")],
                    Form::Box => vec![(field("from_mm"), "one corner of it"), (field("to_mm"), "the corner opposite")],
                    Form::Rod => vec![(field("from_mm"), "it"), (field("to_mm"), "it")],
                }
            }
        }
    }

    /// What is known of the place that is being walked to.
    fn steps(self, sketch: &Sketch, place: usize) -> Steps {
        match self {
            Self::B => sketch.end(Letter::B).at,
            Self::Thing(i) => {
                sketch.things.get(i).and_then(|thing| thing.places.get(place).copied()).unwrap_or_default()
            }
        }
    }

    fn thing(self, sketch: &Sketch) -> Option<Thing> {
        match self {
            Self::B => None,
            Self::Thing(i) => sketch.things.get(i).cloned(),
        }
    }
}

/// How a pipe runs: straight and long both ways along an axis.
fn lay(sketch: &Sketch, along: usize) -> [f64; 2] {
    let ends = sketch.ends.iter().filter_map(|end: &End| end.at[along]);
    let (lo, hi) = ends.fold((0.0_f64, 0.0_f64), |(lo, hi), x| (lo.min(x), hi.max(x)));
    [lo - BEYOND, hi + BEYOND]
}

/// The corners of a walk from A: to the right or left, then away or to you, then up or down.
fn walk(stand: Stand, from: Triple, steps: Steps) -> Vec<Triple> {
    let mut at = from;
    let mut corners = vec![at];
    for way in [Way::Right, Way::Away, Way::Up] {
        let along = axis(stand, way);
        if let Some(to) = steps[along]
            && (to - at[along]).abs() > 1e-9
        {
            at[along] = to;
            corners.push(at);
        }
    }
    corners
}

/// A place so much further off from where the tape began, but not along the axis of a long pipe: where a tape touched a
/// round thing stays when its thickness is said, and its middle moves.
fn further(steps: Steps, from: Triple, along: Option<usize>, more: f64) -> Steps {
    std::array::from_fn(|i| {
        let to = steps[i]?;
        let in_line = (to - from[i]).abs() < 1e-9;
        Some(if in_line || along == Some(i) { to } else { to + more * (to - from[i]).signum() })
    })
}

/// A keypad, its number, and what the ways make of it.
pub(super) fn place(target: Target, Measuring { draft, problems, laid }: Measuring) -> Node {
    let sketch = Memo::new(move |_| draft.with(|draft| draft.sketch(0)));
    let unit = Memo::new(move |_| draft.with(|draft| draft.unit));
    let typing = RwSignal::new(Typing::default());
    let said = RwSignal::new(String::new());
    let touch = RwSignal::new(Touch::Near);
    let from_b = RwSignal::new(false);
    // Which of the places is walked to: the first that is not all known.
    let at_place = RwSignal::new(sketch.with_untracked(|sketch| {
        let places = target.places(sketch).len();
        (0..places).find(|place| whole(target.steps(sketch, *place)).is_none()).unwrap_or(0)
    }));
    let is_rod = move || sketch.with(|sketch| target.thing(sketch).is_some_and(|thing| thing.form == Form::Rod));
    let pipe_along = move || sketch.with(|sketch| target.thing(sketch).as_ref().and_then(runs_along));
    let origin = move || {
        sketch.with(|sketch| {
            let end = sketch.end(if from_b.get() { Letter::B } else { Letter::A });
            whole(end.at).unwrap_or_default()
        })
    };
    // Writes a step of the place, of both ends for a long pipe.
    let put = move |along: usize, mm: f64| {
        draft.update(|draft| {
            let sketch = draft.sketch(0);
            let long = target.thing(&sketch).is_some_and(|thing| thing.form == Form::Rod);
            for (place, (field, _)) in target.places(&sketch).into_iter().enumerate() {
                if long || place == at_place.get_untracked() {
                    let mut steps = target.steps(&sketch, place);
                    steps[along] = Some(mm);
                    draft.set(0, &field, Value::from(steps));
                }
            }
        });
    };
    // Whoever corrects a place that was known has as many steps to say as they like.
    let was_known = sketch.with_untracked(|sketch| {
        (0..target.places(sketch).len()).all(|place| whole(target.steps(sketch, place)).is_some())
    });
    // On, once every step is known: to the next place, or to what is asked next.
    let on = move || {
        if was_known {
            return;
        }
        let places = sketch.with_untracked(|sketch| {
            target
                .places(sketch)
                .iter()
                .enumerate()
                .map(|(i, _)| whole(target.steps(sketch, i)).is_some())
                .collect::<Vec<_>>()
        });
        match places.iter().position(|known| !known) {
            Some(place) => at_place.set(place),
            None => draft.with_untracked(next).go(),
        }
    };
    let step = move |way: Way| {
        let Some(mm) = typing.with_untracked(|typing| typing.mm(unit.get_untracked())) else {
            said.set(words::NUMBER_FIRST.to_owned());
            return;
        };
        if mm > FARTHEST {
            said.set(words::TOO_FAR.to_owned());
            return;
        }
        let (stand, along) = sketch.with_untracked(|sketch| (sketch.stand, axis(sketch.stand, way)));
        let round = sketch.with_untracked(|sketch| target.thing(sketch)).filter(|thing| thing.form != Form::Box);
        let more = round.map_or(0.0, |thing| touch.get_untracked().adds(thing.thick));
        let sign = dot(stand.vector(way), [1.0, 1.0, 1.0]);
        put(along, origin()[along] + sign * (mm + more));
        said.set(String::new());
        typing.set(Typing::default());
        on();
    };
    let in_line = move || {
        let steps = sketch.with_untracked(|sketch| target.steps(sketch, at_place.get_untracked()));
        for along in (0..3).filter(|i| steps[*i].is_none()) {
            put(along, origin()[along]);
        }
        on();
    };
    let straight_on = move || {
        let Some(mm) = typing.with_untracked(|typing| typing.mm(unit.get_untracked())) else {
            said.set(words::NUMBER_FIRST.to_owned());
            return;
        };
        let a = sketch.with_untracked(|sketch| sketch.end(Letter::A).clone());
        let (Some(at), Some(points)) = (whole(a.at), a.points) else {
            said.set("Say first which way A points.".to_owned());
            return;
        };
        let way = points.map(|x| x / norm(points));
        draft.update(|draft| {
            draft.set(0, "to/at_mm", Value::from(plus(at, way, mm).map(|x| (x * 10.0).round() / 10.0)));
            draft.set(0, "to/points", Value::from(points.map(|x| 0.0 - x)));
        });
        typing.set(Typing::default());
        Screen::Spigot(Letter::B).go();
    };
    let across = move || {
        let Some(mm) = typing.with_untracked(|typing| typing.mm(unit.get_untracked())) else {
            said.set("First the number, then across.".to_owned());
            return;
        };
        if let (Target::Thing(i), Some(thing)) = (target, sketch.with_untracked(|sketch| target.thing(sketch))) {
            let (from, along, touch) = (origin(), runs_along(&thing), touch.get_untracked());
            let more = touch.adds(mm) - touch.adds(thing.thick);
            draft.update(|draft| {
                draft.set(0, &format!("neighbours/{i}/shape/{}/diameter_mm", thing.form.field()), Value::from(mm));
                for ((field, _), steps) in target.places(&draft.sketch(0)).iter().zip(&thing.places) {
                    draft.set(0, field, Value::from(further(*steps, from, along, more)));
                }
            });
        }
        typing.set(Typing::default());
    };
    let lay_along = move |way: Way| {
        let Target::Thing(i) = target else { return };
        let (along, [lo, hi]) = sketch.with_untracked(|sketch| {
            let along = axis(sketch.stand, way);
            (along, lay(sketch, along))
        });
        draft.update(|draft| {
            let places = draft.sketch(0).things.get(i).map(|thing| thing.places.clone()).unwrap_or_default();
            let was = draft.sketch(0).things.get(i).and_then(runs_along);
            for (name, end) in [("from_mm", lo), ("to_mm", hi)] {
                let mut steps = places.first().copied().unwrap_or_default();
                if let Some(was) = was.filter(|was| *was != along) {
                    steps[was] = None;
                }
                steps[along] = Some(end);
                draft.set(0, &format!("neighbours/{i}/shape/rod/{name}"), Value::from(steps));
            }
        });
    };
    let way_key = move |way: Way| {
        let off = move || sketch.with(|sketch| pipe_along() == Some(axis(sketch.stand, way)));
        let name = live(move || sketch.with(|s| s.stand.says(way)));
        button("bt way", name, move || step(way)).live("disabled", off)
    };
    let last_row = match target {
        Target::B => button("bt way wide-key", words::STRAIGHT_ON, straight_on).into(),
        Target::Thing(_) => {
            let other = live(move || if from_b.get() { "from A" } else { "from B" });
            many![button("bt way", "across", across), button("bt way", other, move || from_b.update(|f| *f = !*f))]
        }
    };
    let both = |one: Way, other: Way| many![way_key(one), way_key(other)];
    let beside = [both(Way::Left, Way::Right), both(Way::ToYou, Way::Away), both(Way::Down, Way::Up), last_row];
    let steps_said = move || {
        sketch.with(|sketch| {
            let steps = target.steps(sketch, at_place.get());
            let from = origin();
            let skip = pipe_along();
            // As it was taped: to that side of a round thing.
            let round = target.thing(sketch).filter(|thing| thing.form != Form::Box);
            let more = round.map_or(0.0, |thing| touch.get().adds(thing.thick));
            [Way::Right, Way::Away, Way::Up]
                .into_iter()
                .filter_map(|way| {
                    let along = axis(sketch.stand, way);
                    let (says, other) = (sketch.stand.says(way), sketch.stand.says(way.opposite()));
                    (skip != Some(along)).then(|| match steps[along] {
                        None => format!("{other} or {says}?"),
                        Some(to) => {
                            let by = (to - from[along]) * dot(sketch.stand.vector(way), [1.0, 1.0, 1.0]);
                            if by.abs() < 0.05 {
                                format!("{says}: in line")
                            } else {
                                format!(
                                    "{} {}",
                                    length(by.abs() - more, unit.get()),
                                    if by < 0.0 { other } else { says }
                                )
                            }
                        }
                    })
                })
                .map(|text| el("li").put(text))
                .collect::<Vec<_>>()
        })
    };
    let ask = move || {
        sketch.with(|sketch| match target {
            Target::B => words::TAPE.to_owned(),
            Target::Thing(_) => {
                let places = target.places(sketch);
                let name = places.get(at_place.get()).map_or("it", |(_, name)| *name);
                let from = if from_b.get() { "B" } else { "A" };
                format!("From the middle of mouth {from} to {name}.")
            }
        })
    };
    let runs = move || {
        is_rod().then(|| {
            let keys = [(Way::Up, Way::Down), (Way::Left, Way::Right), (Way::ToYou, Way::Away)].map(|(one, other)| {
                let pressed = move || sketch.with(|sketch| pipe_along() == Some(axis(sketch.stand, one))).to_string();
                let name = move || sketch.with(|s| format!("{}–{}", s.stand.says(one), s.stand.says(other)));
                button("bt chip", live(name), move || lay_along(one)).live("aria-pressed", pressed)
            });
            div("row chips").attrs([("role", "group"), ("aria-label", "It runs")]).put_all(keys)
        })
    };
    let what = move || {
        sketch.with(|sketch| {
            target.thing(sketch).map(|thing| match thing.form {
                Form::Box => thing.name,
                _ => format!("{}, {} across", thing.name, length(thing.thick, unit.get())),
            })
        })
    };
    let is_round = move || sketch.with(|s| target.thing(s).is_some_and(|t| t.form != Form::Box));
    let touched = move || {
        div("row chips").put_all([Touch::Near, Touch::Middle, Touch::Far].map(|one| {
            button("bt chip", one.says(), move || touch.set(one))
                .live("aria-pressed", move || (touch.get() == one).to_string())
        }))
    };
    let top = match target {
        Target::B => None,
        Target::Thing(_) => Some(many![live(runs), when(is_round, touched),]),
    };
    let change = match target {
        Target::B => None,
        Target::Thing(i) => Some(link("bt", Screen::Near(Some(i)).hash(), live(what))),
    };
    let picture = move || {
        let sketch = sketch.get();
        let walked = walk(sketch.stand, origin(), target.steps(&sketch, at_place.get()));
        let walked = if pipe_along().is_some() { Vec::new() } else { walked };
        slanted(&sketch, laid.get().as_ref(), &walked, if target == Target::B { HEIGHT } else { LOW })
    };
    let list = match target {
        Target::B => fields_of(draft, problems, "/runs/0/to/".to_owned()),
        Target::Thing(i) => fields_of(draft, problems, format!("/runs/0/neighbours/{i}/")),
    };
    let rest = move || {
        sketch.with(|sketch| {
            let steps = target.steps(sketch, at_place.get());
            steps.iter().any(Option::is_some) && steps.iter().any(Option::is_none)
        })
    };
    let done = move || sketch.with(|sketch| whole(target.steps(sketch, at_place.get())).is_some());
    let onward = move || {
        let to = draft.with(next);
        link("bt m", to.hash(), act(to))
    };
    hear(typing);
    let ask = el("section")
        .class("ask pad")
        .put(top)
        .put(
            el("ul")
                .class("steps-said")
                .attrs([("aria-live", "polite"), ("aria-atomic", "true")])
                .put(live(steps_said)),
        )
        .put(div("typed").put(note(live(ask))).put(typed(typing, unit)))
        .put(p("err", live(move || said.get())).attr("role", "alert"))
        .put(keypad(typing, unit, beside))
        .put(when(rest, move || button("bt", words::REST_IN_LINE, in_line)))
        .put(when(done, move || live(onward)))
        .put(change)
        .put(match target {
            Target::B => how(Screen::Place, "place", words::HOW),
            Target::Thing(i) => how(Screen::Thing(i), "near", words::HOW),
        })
        .put(list);
    many![live(picture), ask]
}

#[cfg(test)]
#[expect(clippy::float_cmp, reason = "numbers that are exact: whole, or never calculated with")]
mod tests {
    use super::*;

    #[test]
    fn a_walk_turns_at_every_step_and_ends_at_the_place() {
        let corners = walk(Stand::Front, [0.0; 3], [Some(-280.0), Some(210.0), Some(70.0)]);
        assert_eq!(corners, [[0.0; 3], [0.0, 210.0, 0.0], [-280.0, 210.0, 0.0], [-280.0, 210.0, 70.0]]);
        assert_eq!(walk(Stand::Front, [0.0; 3], [None, Some(210.0), None]).len(), 2);
    }

    #[test]
    fn the_tape_to_the_near_side_ends_half_a_pipe_before_its_middle() {
        assert_eq!(50.0 + Touch::Near.adds(50.0), 75.0);
        assert_eq!(100.0 + Touch::Far.adds(50.0), 75.0);
    }

    #[test]
    fn where_the_tape_touched_stays_when_the_thickness_is_said_afterwards() {
        // Taped to the near side of a pipe of 50: 50 right, 165 away. It is one of 60, so its middle is 5 further off.
        let more = Touch::Near.adds(60.0) - Touch::Near.adds(50.0);
        let steps = [Some(-190.0), Some(75.0), Some(-400.0)];
        assert_eq!(further(steps, [0.0; 3], Some(2), more), [Some(-195.0), Some(80.0), Some(-400.0)]);
        assert_eq!(further([None, Some(0.0), None], [0.0; 3], None, more), [None, Some(0.0), None], "in line stays so");
    }

    #[test]
    fn a_pipe_runs_along_the_one_axis_along_which_its_ends_differ() {
        let sketch = Sketch::of(&share::json::read(crate::example::EXAMPLE).expect("a job file"), 0);
        assert_eq!(runs_along(&sketch.things[0]), Some(2), "up and down");
        assert_eq!(runs_along(&sketch.things[1]), None, "a box runs nowhere");
        assert_eq!(lay(&sketch, 2), [-400.0, 470.0]);
    }
}
