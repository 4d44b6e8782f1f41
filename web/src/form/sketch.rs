//! A run as far as it is known: what the drawing shows while it is being measured, and what is still to be said.

use super::stand::Stand;
use job::input::{BLOCK, DISC, KindInput, LUMP, PIPE, Triple, called};
use share::json::Value;

/// Length of a seat until it is measured, as the answer takes it.
pub(crate) const SEAT_TAKEN: f64 = 30.0;

/// One of the two ends of a run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Letter {
    A,
    B,
}

impl Letter {
    pub(crate) const BOTH: [Self; 2] = [Self::A, Self::B];

    /// Its name in the job file.
    pub(crate) fn field(self) -> &'static str {
        match self {
            Self::A => "from",
            Self::B => "to",
        }
    }

    pub(crate) fn name(self) -> &'static str {
        match self {
            Self::A => "A",
            Self::B => "B",
        }
    }
}

/// A place of which each step may still be unknown, in the car's axes.
pub(crate) type Steps = [Option<f64>; 3];

/// An end as far as it is known.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct End {
    pub(crate) name: Option<String>,
    pub(crate) spigot: Option<f64>,
    pub(crate) seat: Option<f64>,
    pub(crate) at: Steps,
    pub(crate) points: Option<Triple>,
    /// On the engine or on the body, if it was said.
    pub(crate) on: Option<String>,
}

/// The form of a thing near the run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Form {
    Rod,
    Ball,
    Box,
    Disc,
}

impl Form {
    /// Its name in the job file.
    pub(crate) fn field(self) -> &'static str {
        match self {
            Self::Rod => "rod",
            Self::Ball => "ball",
            Self::Box => "box",
            Self::Disc => "disc",
        }
    }

    /// The word for it.
    fn says(self) -> &'static str {
        match self {
            Self::Rod => PIPE,
            Self::Ball => LUMP,
            Self::Box => BLOCK,
            Self::Disc => DISC,
        }
    }

    /// Its places in the job file.
    pub(crate) fn places(self) -> &'static [&'static str] {
        match self {
            Self::Ball | Self::Disc => &["at_mm"],
            Self::Rod | Self::Box => &["from_mm", "to_mm"],
        }
    }
}

/// A thing near the run as far as it is known.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Thing {
    pub(crate) name: String,
    pub(crate) kind: KindInput,
    pub(crate) form: Form,
    pub(crate) places: Vec<Steps>,
    pub(crate) thick: f64,
    /// The axle and the thickness of a disc.
    pub(crate) disc: Option<(Triple, f64)>,
}

impl Thing {
    /// Its places, if all of them are known.
    pub(crate) fn placed(&self) -> Option<Vec<Triple>> {
        self.places.iter().map(|place| whole(*place)).collect()
    }
}

/// What has not been said yet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Unsaid {
    Across(Letter),
    Place,
    Points(Letter),
    Thing(usize),
}

/// A run as far as it is known.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Sketch {
    pub(crate) stand: Stand,
    pub(crate) ends: [End; 2],
    pub(crate) things: Vec<Thing>,
}

/// The place, if every step of it is known.
pub(crate) fn whole(steps: Steps) -> Option<Triple> {
    match steps {
        [Some(x), Some(y), Some(z)] => Some([x, y, z]),
        _ => None,
    }
}

fn number(value: Option<&Value>) -> Option<f64> {
    value.and_then(Value::as_f64)
}

fn text(value: Option<&Value>) -> Option<String> {
    value.and_then(Value::as_str).map(str::to_owned)
}

fn steps(value: Option<&Value>) -> Steps {
    std::array::from_fn(|i| number(value.and_then(Value::as_array).and_then(|steps| steps.get(i))))
}

fn kind(word: Option<&Value>) -> KindInput {
    match word.and_then(Value::as_str) {
        Some("moving") => KindInput::Moving,
        Some("sharp") => KindInput::Sharp,
        Some("solid") => KindInput::Solid,
        _ => KindInput::Hot,
    }
}

impl Sketch {
    /// The run of this number in a job.
    pub(crate) fn of(job: &Value, run: usize) -> Self {
        let run = job.pointer(&format!("/runs/{run}"));
        let at = |path: &str| run.and_then(|run| run.pointer(path));
        let end = |letter: Letter| {
            let field = |name: &str| at(&format!("/{}/{name}", letter.field()));
            End {
                name: text(field("name")),
                spigot: number(field("spigot_mm")),
                seat: number(field("seat_mm")),
                at: steps(field("at_mm")),
                points: whole(steps(field("points"))).filter(|points| points.iter().any(|x| *x != 0.0)),
                on: text(field("on")),
            }
        };
        let things = at("/neighbours").and_then(Value::as_array).unwrap_or_default();
        let mut things: Vec<Thing> = things.iter().map(thing).collect();
        let names =
            called(things.iter().map(|thing| (Some(thing.name.clone()), thing.kind, thing.form.says())).collect());
        for (thing, name) in things.iter_mut().zip(names) {
            thing.name = name;
        }
        Self {
            stand: at("/stood").and_then(Value::as_str).map(Stand::from_word).unwrap_or_default(),
            ends: Letter::BOTH.map(end),
            things,
        }
    }

    pub(crate) fn end(&self, letter: Letter) -> &End {
        match letter {
            Letter::A => &self.ends[0],
            Letter::B => &self.ends[1],
        }
    }

    /// What is still to be said before the run can be answered, in the order in which it is asked.
    pub(crate) fn unsaid(&self) -> Vec<Unsaid> {
        let mut unsaid = Vec::new();
        for letter in Letter::BOTH {
            let end = self.end(letter);
            unsaid.extend(end.spigot.is_none().then_some(Unsaid::Across(letter)));
            unsaid.extend((whole(end.at).is_none()).then_some(Unsaid::Place));
            unsaid.extend(end.points.is_none().then_some(Unsaid::Points(letter)));
        }
        unsaid.extend((0..self.things.len()).filter(|i| self.things[*i].placed().is_none()).map(Unsaid::Thing));
        unsaid
    }
}

/// A thing, without a name if it has none of its own.
fn thing(value: &Value) -> Thing {
    let form = [Form::Ball, Form::Box, Form::Disc]
        .into_iter()
        .find(|form| value.pointer(&format!("/shape/{}", form.field())).is_some());
    let form = form.unwrap_or(Form::Rod);
    let field = |name: &str| value.pointer(&format!("/shape/{}/{name}", form.field()));
    Thing {
        name: text(value.get("name")).unwrap_or_default(),
        kind: kind(value.get("kind")),
        form,
        places: form.places().iter().map(|name| steps(field(name))).collect(),
        thick: number(field("diameter_mm")).unwrap_or(0.0),
        disc: whole(steps(field("along"))).zip(number(field("thick_mm"))),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use share::json;

    #[test]
    fn the_example_leaves_nothing_unsaid() {
        let job = json::read(crate::example::EXAMPLE).expect("a job file");
        let sketch = Sketch::of(&job, 0);
        assert!(sketch.unsaid().is_empty(), "{:?}", sketch.unsaid());
        assert_eq!(sketch.things.len(), 2);
        assert_eq!((sketch.things[0].thick, sketch.things[1].form), (50.0, Form::Box));
    }

    #[test]
    fn what_is_not_said_is_asked_in_order() {
        let job = json::read(
            r#"{ "runs": [{
                "from": { "spigot_mm": 16, "at_mm": [0, 0, 0], "points": [0, 0, 0] },
                "to": { "at_mm": [null, 210, null] },
                "neighbours": [{ "kind": "hot", "shape": { "rod": { "from_mm": null, "diameter_mm": 50 } } }]
            }] }"#,
        );
        let job = job.expect("JSON");
        let (a, b) = (Letter::A, Letter::B);
        assert_eq!(
            Sketch::of(&job, 0).unsaid(),
            [Unsaid::Points(a), Unsaid::Across(b), Unsaid::Place, Unsaid::Points(b), Unsaid::Thing(0)]
        );
    }
}
