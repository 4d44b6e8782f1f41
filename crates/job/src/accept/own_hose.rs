//! A hose of one's own as accepted.

use super::{Reader, SPIGOT};
use crate::input::HoseInput;
use quantity::{Basis, Length, Pressure, Source, Sourced};
use stock::{Hose, OwnHose, Rubber, Stock};

pub(super) fn own_hose(typed: &HoseInput, reader: &mut Reader) -> Option<Hose> {
    let bore = reader.number("hose.bore_mm", typed.bore_mm, SPIGOT).map(Length::mm)?;
    let outside = match (typed.wall_mm, typed.outside_mm) {
        (Some(wall), None) => {
            reader.number("hose.wall_mm", wall, (0.5, 20.0)).map(|wall| bore + Length::mm(2.0 * wall))?
        }
        (None, Some(outside)) => reader.number("hose.outside_mm", outside, (5.0, 120.0)).map(Length::mm)?,
        (Some(_), Some(_)) => {
            reader.wrong("hose", "both the wall and the outside diameter are given", "one of the two");
            return None;
        }
        (None, None) => {
            reader.wrong("hose", "its thickness is missing", "wall_mm or outside_mm");
            return None;
        }
    };
    let rubber = match typed.rubber.as_deref() {
        None => None,
        Some(word) => {
            let Some(rubber) = Rubber::from_text(word) else {
                reader.wrong("hose.rubber", format!("\"{word}\" is not known"), "EPDM, silicone, NBR or CR");
                return None;
            };
            Some(rubber)
        }
    };
    let stock = Stock::built_in();
    let limit = match typed.class.as_deref() {
        None => None,
        Some(name) => {
            let Some(class) = stock.class(name) else {
                let names: Vec<_> = stock.classes.iter().map(|class| class.name.as_ref()).collect();
                reader.wrong("hose.class", format!("class \"{name}\" is not known"), names.join(", "));
                return None;
            };
            Some(class.limit())
        }
    };
    let measured =
        |value: Option<Length>, what| value.map(|value| Sourced::new(value, Source::new(what, Basis::Measured)));
    let least = reader.optional("hose.min_bend_radius_mm", typed.min_bend_radius_mm, (1.0, 2000.0));
    let crease = reader.optional("hose.creases_at_inside_mm", typed.creases_at_inside_mm, (0.0, 2000.0));
    let rated = typed.rated_kpa.and_then(|rated| reader.number("hose.rated_kpa", rated, (20.0, 5000.0)));
    let hose = Hose::own(OwnHose {
        kind: "your own hose".to_owned(),
        rubber,
        class: typed.class.clone(),
        limit,
        bore,
        outside,
        wire_supported: typed.wire_supported == Some(true),
        least_bend_inside: measured(least, "least bend radius from its seller or its marking"),
        creases_at_inside: measured(crease, "your bend test"),
        rated: rated.map(Pressure::kpa),
    });
    if hose.is_none() {
        reader.wrong("hose.outside_mm", "not thicker than its bore", "the outside diameter");
    }
    hose
}
