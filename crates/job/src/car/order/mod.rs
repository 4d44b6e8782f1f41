//! In which order things come off and go back on, from "in the way of" and "comes off with" alone.
//!
//! What comes off is the least: the lines that are worked on, the parts that go, and what has to come off for them.
//! Each thing comes off once and goes on once, and nothing that was fitted has to come off again. "A comes off with B"
//! is read both ways, for "A cannot come off without B, but B without A" is "B is in the way of A".
//! Which order among several that would do: that of typing, lines before parts before all else.
//! The graph is our own: an outside crate would save one of its five sums, for the order among equals and the ring that is
//! named are asked for here and the rest is a walk.

mod graph;

use super::said::{SaidReport, in_a_row, printed, trade};
use super::{Car, Line};
use crate::input::{
    DecisionInput as Decision, LineKindInput as LineKind, PartKindInput as PartKind, RelationKindInput as Kind,
    StateInput as State,
};
use graph::{Graph, Link};
use serde::{Deserialize, Serialize};

/// The order of the work.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct OrderReport {
    /// What to do and heed before anything comes off.
    pub first: Vec<SaidReport>,
    /// What comes off, in this order.
    pub off: Vec<OrderStepReport>,
    /// What goes on, and when clamps are tightened, in this order.
    pub on: Vec<OrderStepReport>,
    /// Relations that cannot all hold.
    pub knots: Vec<KnotReport>,
    /// Lines on a part that comes off of which nothing was said; a question each.
    pub ask: Vec<String>,
    /// Worth doing while it is open.
    pub while_open: Vec<SaidReport>,
}

/// One step.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct OrderStepReport {
    /// "take off", "fit" or "tighten".
    pub does: String,
    /// To what.
    pub things: Vec<ThingReport>,
    /// The step in a sentence.
    pub what: String,
    /// Place among the knots, if the relations leave no order for these things among themselves.
    pub knot: Option<usize>,
}

/// A thing that comes off or goes on.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ThingReport {
    /// Its name.
    pub name: String,
    /// "line", "part", or "thing" for what is neither.
    pub is: String,
    /// What becomes of it: "new" if another takes its place, "gone" if nothing does, "back" if it goes on again.
    pub then: String,
    /// Why it comes off.
    pub why: String,
}

/// Relations that cannot all hold.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct KnotReport {
    /// What is wrong, in a sentence that names each of them.
    pub what: String,
    /// The things between which no order is left.
    pub things: Vec<String>,
    /// The relations of one ring, each leading on to the next and the last to the first.
    pub relations: Vec<RelationReport>,
}

/// A relation as it was typed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct RelationReport {
    /// The one.
    pub what: String,
    /// "in the way of" or "comes off with".
    pub is: String,
    /// The other.
    pub of: String,
}

/// What a name names.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Of {
    Line(usize),
    Part(usize),
    Else,
}

#[derive(Debug)]
struct Thing<'a> {
    name: &'a str,
    of: Of,
}

struct Order<'a> {
    car: &'a Car,
    things: Vec<Thing<'a>>,
    graph: Graph,
    work: Vec<bool>,
    needed: Vec<bool>,
}

/// What comes off in which order, what goes on in which, and what is worth doing meanwhile.
#[must_use]
pub fn order(car: &Car) -> OrderReport {
    let order = Order::new(car);
    let steps = order.graph.steps(&order.needed);
    let rings: Vec<_> = steps.iter().map(|step| order.graph.ring(step)).collect();
    let mut knots = Vec::new();
    let mut knot_of = Vec::new();
    for (step, ring) in steps.iter().zip(rings) {
        knot_of.push(ring.as_ref().map(|_| knots.len()));
        knots.extend(ring.map(|ring| order.knot(step, &ring)));
    }
    let off = order.graph.sequence(&steps, false).into_iter();
    let off: Vec<_> = off.filter_map(|step| order.off(&steps[step], knot_of[step])).collect();
    OrderReport {
        first: if off.is_empty() { Vec::new() } else { first() },
        on: order.on(&steps, &knot_of),
        off,
        knots,
        ask: order.ask(),
        while_open: order.while_open(),
    }
}

/// Whether the hose or line itself is taken off: replaced, sized anew, left out, or on a part that goes.
fn worked_on(car: &Car, line: &Line) -> bool {
    let replaced = match line.decision {
        Some(Decision::Moulded | Decision::Universal) => true,
        None => line.run.is_some(),
        Some(Decision::Keep | Decision::LeaveOut) => false,
    };
    line.kind != LineKind::Passage && (replaced || !car.stays(line))
}

fn first() -> Vec<SaidReport> {
    let cap = printed("TM 5-3810-300-24&P-2: loosen the cap slowly, and pause");
    let catch = printed("US EPA leaflet on antifreeze: poisonous and sweet, never into a drain or the ground");
    let stuck = trade("common practice: slit and peel, never pull or lever; the free end first");
    let wet = trade("classic-car article; agrees with what is known of EPDM: no mineral oil or grease");
    vec![
        SaidReport::new("cold", "Engine off and cold. Turn the cap slowly, pause, then take it off.", &cap),
        SaidReport::new(
            "drain",
            "Drain what comes off into a clean vessel and cover it: coolant is poisonous and tastes sweet to animals. \
             Get rid of it as your local rules say.",
            &catch,
        ),
        SaidReport::new(
            "stuck",
            "A hose that is stuck: undo its free end, then slit the stuck end along the spigot and peel it off. Do not \
             lever; spigots of brass and plastic break.",
            &stuck,
        ),
        SaidReport::new(
            "wet",
            "A hose that goes on hard: warm it, and wet it with soapy water or coolant. No mineral oil or grease.",
            &wet,
        ),
    ]
}

impl<'a> Order<'a> {
    fn new(car: &'a Car) -> Self {
        let lines = car.lines.iter().enumerate().map(|(i, line)| Thing { name: line.name.trim(), of: Of::Line(i) });
        let parts = car.parts.iter().enumerate().map(|(i, part)| Thing { name: part.name.trim(), of: Of::Part(i) });
        let mut things: Vec<Thing<'a>> = lines.chain(parts).collect();
        let mut links = Vec::new();
        for relation in &car.relations {
            let [what, of] = [&relation.what, &relation.of].map(|name| {
                let known = things.iter().position(|thing| thing.name.eq_ignore_ascii_case(name));
                known.unwrap_or_else(|| {
                    things.push(Thing { name, of: Of::Else });
                    things.len() - 1
                })
            });
            // "Hose" and "hose" are one thing; nothing is in its own way.
            if what != of {
                links.push(Link { what, is: relation.is, of });
            }
        }
        let graph = Graph::new(things.len(), links);
        let works = |thing: &Thing<'_>| match thing.of {
            Of::Line(line) => worked_on(car, &car.lines[line]),
            Of::Part(part) => car.parts[part].goes,
            Of::Else => false,
        };
        let work: Vec<bool> = things.iter().map(works).collect();
        let needed = graph.needed(&work);
        Self { car, things, graph, work, needed }
    }

    fn line(&self, thing: usize) -> Option<&'a Line> {
        match self.things[thing].of {
            Of::Line(line) => Some(&self.car.lines[line]),
            Of::Part(_) | Of::Else => None,
        }
    }

    fn is_missing(&self, thing: usize) -> bool {
        self.line(thing).is_some_and(|line| line.state == Some(State::Missing))
    }

    fn is_gone(&self, thing: usize) -> bool {
        match self.things[thing].of {
            Of::Line(line) => !self.car.stays(&self.car.lines[line]),
            Of::Part(part) => self.car.parts[part].goes,
            Of::Else => false,
        }
    }

    /// Whether clamps close it once it is on: a steel line that stays one has unions, or hoses that are lines themselves.
    fn has_clamps(&self, thing: usize) -> bool {
        self.line(thing).is_some_and(|line| match line.kind {
            LineKind::Hose | LineKind::MouldedHose => true,
            LineKind::SteelLine => matches!(line.decision, Some(Decision::Moulded | Decision::Universal)),
            LineKind::Passage => false,
        })
    }

    fn is_in_the_way(&self, what: usize, of: usize) -> bool {
        let links = &self.graph.links;
        links.iter().any(|link| link.is == Kind::InTheWayOf && link.what == what && link.of == of)
    }

    fn why(&self, thing: usize) -> String {
        if self.work[thing] {
            return if self.is_gone(thing) { "it is left out" } else { "it is replaced" }.to_owned();
        }
        let name = |other: usize| self.things[other].name;
        for link in self.graph.links.iter().filter(|link| self.needed[link.of] && self.needed[link.what]) {
            match link.is {
                Kind::InTheWayOf if link.what == thing => return format!("it is in the way of {}", name(link.of)),
                Kind::ComesOffWith if link.what == thing => return format!("it comes off with {}", name(link.of)),
                Kind::ComesOffWith if link.of == thing => return format!("it comes off with {}", name(link.what)),
                Kind::InTheWayOf | Kind::ComesOffWith => {}
            }
        }
        String::new()
    }

    fn told(&self, thing: usize) -> ThingReport {
        let is = match self.things[thing].of {
            Of::Line(_) => "line",
            Of::Part(_) => "part",
            Of::Else => "thing",
        };
        let then = match (self.is_gone(thing), self.work[thing]) {
            (true, _) => "gone",
            (false, true) => "new",
            (false, false) => "back",
        };
        ThingReport {
            name: self.things[thing].name.to_owned(),
            is: is.to_owned(),
            then: then.to_owned(),
            why: self.why(thing),
        }
    }

    fn step(&self, does: &str, things: &[usize], what: String, knot: Option<usize>) -> OrderStepReport {
        let things = things.iter().map(|thing| self.told(*thing)).collect();
        OrderStepReport { does: does.to_owned(), things, what, knot }
    }

    fn names(&self, things: &[usize]) -> String {
        in_a_row(things.iter().map(|thing| self.things[*thing].name))
    }

    fn off(&self, step: &[usize], knot: Option<usize>) -> Option<OrderStepReport> {
        let there: Vec<usize> = step.iter().copied().filter(|thing| !self.is_missing(*thing)).collect();
        let (first, names) = (there.first()?, self.names(&there));
        let what = match (knot, there.as_slice()) {
            (Some(_), _) => format!("Take off {names}. Which of them first cannot be told from what was typed."),
            (None, [_]) => format!("Take off {names}: {}.", self.why(*first)),
            (None, _) => {
                let whys = there.iter().map(|thing| {
                    let why = self.why(*thing);
                    format!("{}: {why}", self.things[*thing].name)
                });
                format!("Take off {names} as one: {}.", whys.collect::<Vec<_>>().join("; "))
            }
        };
        Some(self.step("take off", &there, what, knot))
    }

    /// What goes on, with the clamps of each hose made tight as late as they can be: once all is in place, or just before
    /// something goes on that is in their way.
    fn on(&self, steps: &[Vec<usize>], knot_of: &[Option<usize>]) -> Vec<OrderStepReport> {
        let mut told = Vec::new();
        let mut loose: Vec<usize> = Vec::new();
        for i in self.graph.sequence(steps, true) {
            let step: Vec<usize> = steps[i].iter().copied().filter(|thing| !self.is_gone(*thing)).collect();
            if step.is_empty() {
                continue;
            }
            let covered = |hose: &usize| step.iter().any(|thing| self.is_in_the_way(*thing, *hose));
            let (now, later): (Vec<usize>, Vec<usize>) = loose.iter().copied().partition(covered);
            loose = later;
            if !now.is_empty() {
                let over =
                    step.iter().copied().filter(|thing| now.iter().any(|hose| self.is_in_the_way(*thing, *hose)));
                let over = self.names(&over.collect::<Vec<_>>());
                let what = format!("Tighten the clamps of {} now: {over} comes before them next.", self.names(&now));
                told.push(self.step("tighten", &now, what, None));
            }
            let hoses = step.iter().copied().filter(|thing| self.has_clamps(*thing));
            loose.extend(hoses);
            told.push(self.step("fit", &step, self.fit(&step), knot_of[i]));
        }
        if !loose.is_empty() {
            let what = format!("All is in place: tighten the clamps of {}.", self.names(&loose));
            told.push(self.step("tighten", &loose, what, None));
        }
        told
    }

    fn fit(&self, step: &[usize]) -> String {
        let (new, back): (Vec<usize>, Vec<usize>) = step.iter().partition(|thing| self.work[**thing]);
        let clamps = if step.iter().any(|thing| self.has_clamps(*thing)) {
            ", clamps finger-tight, their screws towards where the tool comes from"
        } else {
            ""
        };
        match (new.is_empty(), back.is_empty()) {
            (false, true) => format!("Fit the new {}{clamps}.", self.names(&new)),
            (true, _) => format!("Put {} back{clamps}.", self.names(&back)),
            (false, false) => format!("Fit the new {}, with {} back{clamps}.", self.names(&new), self.names(&back)),
        }
    }

    fn knot(&self, step: &[usize], ring: &[usize]) -> KnotReport {
        let relation = |link: &usize| {
            let Link { what, is, of } = self.graph.links[*link];
            let is = match is {
                Kind::InTheWayOf => "in the way of",
                Kind::ComesOffWith => "comes off with",
            };
            let [what, of] = [what, of].map(|thing| self.things[thing].name.to_owned());
            RelationReport { what, is: is.to_owned(), of }
        };
        let relations: Vec<RelationReport> = ring.iter().map(relation).collect();
        let said = relations.iter().map(|RelationReport { what, is, of }| {
            let is = if is == "in the way of" { "is in the way of" } else { is };
            format!("{what} {is} {of}")
        });
        let what = format!(
            "These cannot all hold: {}. Look at the car, and take one back.",
            said.collect::<Vec<_>>().join("; ")
        );
        KnotReport { what, things: step.iter().map(|thing| self.things[*thing].name.to_owned()).collect(), relations }
    }

    /// Lines on a part that comes off, and goes back, that do not come off themselves.
    fn ask(&self) -> Vec<String> {
        let mut ask = Vec::new();
        for (i, thing) in self.things.iter().enumerate() {
            let Of::Part(part) = thing.of else { continue };
            if !self.needed[i] || self.is_gone(i) {
                continue;
            }
            let stays_on = |(j, line): &(usize, &Line)| {
                let on_it = line.ends.iter().any(|end| end.part == part);
                // Lines are the first of the things.
                on_it && line.kind != LineKind::Passage && !self.needed[*j] && !self.is_missing(*j)
            };
            let lines = self.car.lines.iter().enumerate().filter(stays_on).map(|(_, line)| line.name.as_str());
            ask.extend(lines.map(|line| {
                format!(
                    "{} comes off, but not {line}, which is on it. If it must, say that {line} is in its way.",
                    thing.name
                )
            }));
        }
        ask
    }

    fn while_open(&self) -> Vec<SaidReport> {
        let open = trade("common practice: what lies open is cheap to do now, and the coolant is out");
        let mut told = Vec::new();
        let mut say = |key: String, what: String| told.push(SaidReport::new(&key, what, &open));
        for (i, part) in self.car.parts.iter().enumerate() {
            let thing = self.car.lines.len() + i;
            if self.is_gone(thing) {
                continue;
            }
            let on_it = |line: &Line| line.ends.iter().any(|end| end.part == i);
            let mut lines = self.car.lines.iter().enumerate();
            let opened = lines.find(|(j, line)| self.needed[*j] && on_it(line)).map(|(_, line)| line.name.as_str());
            let name = &part.name;
            match (part.kind, self.needed[thing], opened) {
                (PartKind::Thermostat, true, _) => say(
                    format!("thermostat {name}"),
                    format!("{name} comes off anyway: put a new thermostat in, with a new gasket."),
                ),
                (PartKind::Thermostat, false, Some(line)) => say(
                    format!("thermostat {name}"),
                    format!(
                        "The coolant is out and {line} is off {name}: a new thermostat and gasket are cheap to do now."
                    ),
                ),
                (_, true, _) => {
                    say(
                        format!("gasket {name}"),
                        format!("{name} comes off anyway: if it seals by a gasket or a ring, put a new one in."),
                    );
                }
                (_, false, _) => {}
            }
        }
        for (i, line) in self.car.lines.iter().enumerate() {
            let state = match line.state {
                Some(State::Sound | State::Missing) => continue,
                Some(State::Soft) => "it is soft",
                Some(State::Cracked) => "it is cracked or hard",
                Some(State::Weeping) => "it weeps",
                Some(State::Rusted) => "it is rusted",
                None => "it is as old as the rest, and nothing was said of its state",
            };
            if self.work[i] || line.kind == LineKind::Passage {
                continue;
            }
            let blocks = |link: &&Link| link.is == Kind::InTheWayOf && link.of == i;
            let mut behind = self.graph.links.iter().filter(blocks).map(|link| link.what);
            let first = behind.next();
            let all_off = first.is_some_and(|first| self.needed[first]) && behind.all(|thing| self.needed[thing]);
            let name = &line.name;
            if self.needed[i] {
                say(format!("line {name}"), format!("{name} comes off anyway, and {state}: put a new one on now."));
            } else if let Some(first) = first.filter(|_| all_off) {
                let before = self.things[first].name;
                say(
                    format!("line {name}"),
                    format!("{name} lies open once {before} is off, and {state}: cheap to do now."),
                );
            }
        }
        told
    }
}
