//! The run read back in words, so that a second person can check the measurements against the car.

use super::{length, minus};
use crate::el::{El, el, section};
use crate::form::stand::{self, Stand, Way};
use crate::words;
use job::input::{
    BeadInput, ElbowInput, EndInput, FormInput, KindInput, LegInput, NeighbourInput, OnInput, RunInput, SpigotInput,
    Triple, ViaInput,
};
use quantity::text::{LengthUnit, TemperatureUnit, print_angle, print_temperature};
use quantity::{Angle, Temperature};

/// The paragraph.
pub(crate) fn read_back(run: &RunInput, unit: LengthUnit) -> El {
    let sentences = Reader { stand: stand_of(run), unit }.run(run);
    section(words::READ_BACK).put_all(sentences.into_iter().map(|sentence| el("p").put(sentence)))
}

/// A place from A's mouth, as the person stands.
pub(super) fn from_a(run: &RunInput, at: Triple, unit: LengthUnit) -> String {
    Reader { stand: stand_of(run), unit }.apart(stand::minus(at, run.from.at_mm))
}

fn stand_of(run: &RunInput) -> Stand {
    run.stood.as_deref().map(Stand::from_word).unwrap_or_default()
}

/// How places and lengths are said.
#[derive(Clone, Copy, Debug)]
struct Reader {
    stand: Stand,
    unit: LengthUnit,
}

impl Reader {
    fn length(self, mm: f64) -> String {
        length(mm, self.unit)
    }

    /// Everything that was measured, in sentences.
    fn run(self, run: &RunInput) -> Vec<String> {
        let apart = stand::minus(run.to.at_mm, run.from.at_mm);
        let mut sentences = vec![
            format!("You are {}.", self.stand.name()),
            format!("A, {}", self.spigot(&run.from, "spigot A")),
            format!(
                "B, {} Its mouth, from A's: {}; straight {}.",
                self.spigot(&run.to, "spigot B"),
                self.apart(apart),
                self.length(stand::norm(apart))
            ),
        ];
        sentences.extend(run.neighbours.iter().map(|thing| self.thing(thing, run.from.at_mm)));
        let from_a = |at: Triple| self.apart(stand::minus(at, run.from.at_mm));
        let clip = |via: &ViaInput| {
            format!("On the way it passes a {}{}; from A's mouth: {}.", via.holds, on(via.on), from_a(via.at_mm))
        };
        sentences.extend(run.via.iter().map(clip));
        sentences.extend(run.legs.iter().enumerate().map(|(i, leg)| self.leg(i, leg)));
        sentences.extend(run.elbows.iter().map(|elbow| self.elbow(elbow)));
        for (letter, end) in [("A", &run.from), ("B", &run.to)] {
            let turned = end.turned_deg.map(|turn| format!("Spigot {letter} is to be turned by {}.", degrees(turn)));
            sentences.extend(turned);
        }
        if run.bows.is_some() {
            sentences.push("The hose is to be led to lie one of its ways, the one shown.".to_owned());
        }
        if let Some([x, y, z]) = run.rock_mm {
            sentences.push(format!(
                "The engine rocks {} fore and aft, {} side to side, {} up and down, each way.",
                self.length(x),
                self.length(y),
                self.length(z)
            ));
        }
        sentences
    }

    fn leg(self, i: usize, leg: &LegInput) -> String {
        let bend = leg.bend_deg.zip(leg.towards).zip(leg.inside_mm).map(|((bend, towards), inside)| {
            let (bend, inside, towards) = (degrees(bend), self.length(inside), self.stand.direction(towards));
            format!(", then a bend of {bend}, {inside} to the inside, {towards}")
        });
        let straight = self.length(leg.straight_mm);
        format!("The way it should go, leg {}: {straight} straight{}.", i + 1, bend.unwrap_or_default())
    }

    fn elbow(self, elbow: &ElbowInput) -> String {
        let end = if elbow.end == EndInput::A { "A" } else { "B" };
        format!(
            "On {end} stands an elbow of {} with a joiner: {} straight, inside radius {}, {} straight, bent {}.",
            degrees(elbow.bend_deg),
            self.length(elbow.leg_mm),
            self.length(elbow.inside_mm),
            self.length(elbow.far_leg_mm),
            self.stand.direction(elbow.towards)
        )
    }

    fn spigot(self, spigot: &SpigotInput, nameless: &str) -> String {
        let bead = match &spigot.bead_mm {
            None => "bead not known".to_owned(),
            Some(BeadInput::Diameter(mm)) => format!("bead {}", self.length(*mm)),
            Some(BeadInput::Word(_)) => "no bead".to_owned(),
        };
        let seat = match spigot.seat_mm {
            Some(mm) => format!("the hose goes on {}", self.length(mm)),
            None => "how far the hose goes on not known".to_owned(),
        };
        let made_of = spigot.made_of.as_ref().map(|made_of| format!("; {made_of}")).unwrap_or_default();
        format!(
            "{}: {} outside, {bead}, {seat}{made_of}{}. It points {}.",
            spigot.name.as_deref().unwrap_or(nameless),
            self.length(spigot.spigot_mm),
            on(spigot.on),
            self.stand.direction(spigot.points)
        )
    }

    /// "210 mm right, 280 mm further away, 70 mm higher".
    fn apart(self, apart: Triple) -> String {
        let steps: Vec<_> = self
            .stand
            .steps(apart)
            .into_iter()
            .map(|(way, by)| format!("{} {}", self.length(by), self.beside(way)))
            .collect();
        if steps.is_empty() { "at the same place".to_owned() } else { steps.join(", ") }
    }

    /// A way as one place lies from another.
    fn beside(self, way: Way) -> &'static str {
        match way {
            Way::Up => "higher",
            Way::Down => "lower",
            Way::Away if !self.stand.is_under() => "further away",
            Way::ToYou if !self.stand.is_under() => "nearer to you",
            other => self.stand.says(other),
        }
    }

    fn thing(self, thing: &NeighbourInput, a: Triple) -> String {
        let kind = match thing.kind {
            KindInput::Hot => "hot",
            KindInput::Moving => "moves",
            KindInput::Sharp => "sharp",
            KindInput::Solid => "solid",
        };
        let heat = thing.surface_c.map(|c| format!(", {}", heat(c))).unwrap_or_default();
        let at = |place: Triple| self.apart(stand::minus(place, a));
        let form = match &thing.shape {
            FormInput::Rod { from_mm, to_mm, diameter_mm } => {
                let along = stand::minus(*to_mm, *from_mm);
                let runs = match self.stand.steps(along).as_slice() {
                    [(Way::Up | Way::Down, _)] => "runs up and down".to_owned(),
                    [(Way::Left | Way::Right, _)] => "runs left and right".to_owned(),
                    [(way, _)] => format!("runs {} and {}", self.stand.says(*way), self.stand.says(way.opposite())),
                    _ => "runs aslant".to_owned(),
                };
                format!(
                    "{} thick, {runs}; its middle line, from A's mouth: {}, to {}",
                    self.length(*diameter_mm),
                    at(*from_mm),
                    at(*to_mm)
                )
            }
            FormInput::Ball { at_mm, diameter_mm } => {
                format!("round, {} thick; its middle, from A's mouth: {}", self.length(*diameter_mm), at(*at_mm))
            }
            FormInput::Disc { at_mm, diameter_mm, thick_mm, .. } => {
                format!(
                    "a disc {} across and {} thick; its middle, from A's mouth: {}",
                    self.length(*diameter_mm),
                    self.length(*thick_mm),
                    at(*at_mm)
                )
            }
            FormInput::Box { from_mm, to_mm } => {
                format!("a box; one corner, from A's mouth: {}, the opposite one {}", at(*from_mm), at(*to_mm))
            }
        };
        let keep =
            thing.standoff_mm.map(|mm| format!("; to be kept {} from the hose", self.length(mm))).unwrap_or_default();
        format!("Near it: {}, {kind}{heat}{}; {form}{keep}.", thing.name.as_deref().unwrap_or_default(), on(thing.on))
    }
}

fn degrees(degrees: f64) -> String {
    minus(print_angle(Angle::degrees(degrees)))
}

fn heat(celsius: f64) -> String {
    minus(print_temperature(Temperature::celsius(celsius), TemperatureUnit::Celsius))
}

fn on(on: Option<OnInput>) -> &'static str {
    match on {
        Some(OnInput::Engine) => ", on the engine",
        Some(OnInput::Body) => ", on the body",
        None => "",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn example() -> RunInput {
        share::read(crate::example::EXAMPLE).expect("a job").input.runs.remove(0)
    }

    #[test]
    fn what_was_added_to_a_run_is_read_back_too() {
        let mut run = example();
        run.via.push(ViaInput {
            at_mm: [-100.0, 160.0, 40.0],
            holds: "P-clip".to_owned(),
            on: Some(OnInput::Body),
            along: None,
        });
        run.elbows.push(ElbowInput {
            end: EndInput::B,
            leg_mm: 40.0,
            bend_deg: 90.0,
            towards: [0.0, 0.0, 1.0],
            inside_mm: 16.0,
            far_leg_mm: 35.0,
        });
        let said = Reader { stand: stand_of(&run), unit: LengthUnit::Millimetre }.run(&run);
        // The person is at the front: back is further away, the car's left is right.
        let clip = "On the way it passes a P-clip, on the body; from A's mouth: 160 mm right, 100 mm further away, 40 mm higher.";
        assert!(said.iter().any(|line| line == clip), "{said:?}");
        let elbow =
            "On B stands an elbow of 90° with a joiner: 40 mm straight, inside radius 16 mm, 35 mm straight, bent up.";
        assert!(said.iter().any(|line| line == elbow), "{said:?}");
    }

    #[test]
    fn the_example_is_read_back_as_it_was_measured() {
        let run = example();
        let said = Reader { stand: stand_of(&run), unit: LengthUnit::Millimetre }.run(&run);
        // From the file by hand: x forward, y to the car's left, z up, the person at the front. √(280² + 210² + 70²) = 356.9.
        assert_eq!(
            said,
            [
                "You are at the front.",
                "A, water rail: 16 mm outside, bead 17.2 mm, the hose goes on 30 mm; steel, on the engine. It points right.",
                "B, heater core: 15.9 mm outside, bead not known, the hose goes on 30 mm; brass, on the body. It points to you. \
                 Its mouth, from A's: 210 mm right, 280 mm further away, 70 mm higher; straight 356.9 mm.",
                "Near it: exhaust pipe, hot, 400 °C, on the engine; 50 mm thick, runs up and down; its middle line, from A's mouth: \
                 75 mm right, 190 mm further away, 150 mm lower, to 75 mm right, 190 mm further away, 250 mm higher.",
                "Near it: battery tray, solid, on the body; a box; one corner, from A's mouth: 250 mm right, 150 mm further away, \
                 80 mm lower, the opposite one 330 mm right, 60 mm higher.",
                "The engine rocks 5 mm fore and aft, 5 mm side to side, 8 mm up and down, each way.",
            ]
        );
    }

    #[test]
    fn the_words_follow_where_one_stands() {
        let mut run = example();
        run.stood = Some("rear".to_owned());
        let said = Reader { stand: stand_of(&run), unit: LengthUnit::Millimetre }.run(&run);
        assert!(said[1].ends_with("It points left."), "{}", said[1]);
        assert!(said[2].contains("210 mm left, 280 mm nearer to you, 70 mm higher"), "{}", said[2]);
        run.stood = Some("under, feet to the front".to_owned());
        let said = Reader { stand: stand_of(&run), unit: LengthUnit::Inch }.run(&run);
        assert!(said[2].contains("8 1/4 in left, 11 in past your head, 2 3/4 in higher"), "{}", said[2]);
    }
}
