//! From the parts and lines that were typed to the car: names become places, and what names nothing is a problem.

use super::end::bead;
use super::{Reader, SPIGOT};
use crate::car::{Car, InStock, Line, Part, Port, PortAt, Relation};
use crate::input::{Input, LineInput, PartInput, PartKindInput, PortAtInput, PortInput, RoleInput, StockInput};
use checks::Bead;
use quantity::Length;

/// Longest line and longest length for sale, mm: our choice, wide.
const LONG: (f64, f64) = (10.0, 100_000.0);
/// Money for a metre or a length, in any money: our choice, wide.
const PRICE: (f64, f64) = (0.0, 1e7);

/// The car, without what is not sound in it.
pub(super) fn car(input: &Input, reader: &mut Reader) -> Car {
    let mut car = Car::default();
    for (i, typed) in input.parts.iter().enumerate() {
        let at = format!("parts[{i}]");
        if is_new(&typed.name, car.parts.iter().map(|part| &part.name), &format!("{at}.name"), reader) {
            let part = part(&at, typed, reader);
            car.parts.push(part);
        }
    }
    for (i, typed) in input.lines.iter().enumerate() {
        let at = format!("lines[{i}]");
        if is_new(&typed.name, car.lines.iter().map(|line| &line.name), &format!("{at}.name"), reader) {
            let line = line(&at, typed, &car, input, reader);
            car.lines.extend(line);
        }
    }
    for (i, typed) in input.relations.iter().enumerate() {
        let (what, of) = (typed.what.trim(), typed.of.trim());
        if what.is_empty() || of.is_empty() || what == of {
            reader.wrong(
                &format!("relations[{i}]"),
                "must name two different things",
                "what is in the way, and of what",
            );
        } else {
            car.relations.push(Relation { what: what.to_owned(), is: typed.is, of: of.to_owned() });
        }
    }
    for (i, typed) in input.stock.iter().enumerate() {
        let stock = in_stock(&format!("stock[{i}]"), typed, reader);
        car.stock.extend(stock);
    }
    car
}

/// Whether a name says something and is not taken.
fn is_new<'a>(name: &str, mut others: impl Iterator<Item = &'a String>, field: &str, reader: &mut Reader) -> bool {
    if name.trim().is_empty() {
        reader.wrong(field, "has no name", "what you call it");
        return false;
    }
    if others.any(|other| other == name) {
        reader.wrong(field, format!("\"{name}\" is there already"), "a name that no other has");
        return false;
    }
    true
}

fn part(at: &str, typed: &PartInput, reader: &mut Reader) -> Part {
    let mut ports: Vec<Port> = Vec::new();
    for (i, typed) in typed.spigots.iter().enumerate() {
        let at = format!("{at}.spigots[{i}]");
        if is_new(&typed.name, ports.iter().map(|port| &port.name), &format!("{at}.name"), reader) {
            ports.push(port(&at, typed, reader));
        }
    }
    let has = |role: RoleInput| ports.iter().any(|port| port.role == Some(role));
    let one_way = matches!(typed.kind, PartKindInput::Pump | PartKindInput::NonReturnValve);
    if one_way && !(has(RoleInput::Inlet) && has(RoleInput::Outlet)) {
        reader.wrong(
            &format!("{at}.spigots"),
            format!("{} has no inlet, or no outlet", typed.name),
            "the role inlet on one of its spigots, outlet on another",
        );
    }
    Part {
        name: typed.name.clone(),
        kind: typed.kind,
        ports,
        needs: typed.needs_flow,
        goes: typed.leave_out == Some(true),
    }
}

fn port(at: &str, typed: &PortInput, reader: &mut Reader) -> Port {
    let diameter = reader.optional(&format!("{at}.spigot_mm"), typed.spigot_mm, SPIGOT);
    Port {
        name: typed.name.clone(),
        diameter,
        bead: typed
            .spigot_mm
            .and_then(|across| bead(&format!("{at}.bead_mm"), typed.bead_mm.as_ref(), across, reader))
            .unwrap_or(Bead::NotKnown),
        straight: reader.optional(&format!("{at}.straight_mm"), typed.straight_mm, (0.0, 500.0)),
        thread: typed.thread.clone().filter(|thread| !thread.trim().is_empty()),
        made_of: typed.made_of.clone(),
        role: typed.role,
        closed_by: typed.closed_by,
    }
}

fn line(at: &str, typed: &LineInput, car: &Car, input: &Input, reader: &mut Reader) -> Option<Line> {
    let from = port_at(&format!("{at}.from"), &typed.from, car, reader);
    let to = port_at(&format!("{at}.to"), &typed.to, car, reader);
    let ends = [from?, to?];
    if ends[0] == ends[1] {
        reader.wrong(&format!("{at}.to"), "both ends are one spigot", "the spigot at its other end");
        return None;
    }
    let mut run = None;
    if let Some(name) = &typed.run {
        let mut named = input.runs.iter().enumerate().filter(|(_, run)| run.name.as_ref() == Some(name));
        run = named.next().map(|(index, _)| index);
        if run.is_none() {
            reader.wrong(&format!("{at}.run"), format!("no run is called \"{name}\""), "the name of a run");
        } else if named.next().is_some() {
            reader.wrong(&format!("{at}.run"), format!("two runs are called \"{name}\""), "a name for each run");
        }
    }
    Some(Line {
        name: typed.name.clone(),
        kind: typed.kind,
        ends,
        bore: reader.optional(&format!("{at}.bore_mm"), typed.bore_mm, SPIGOT),
        length: reader.optional(&format!("{at}.length_mm"), typed.length_mm, LONG),
        state: typed.state,
        can_buy: typed.can_buy,
        decision: typed.decision,
        run,
        inside: typed.inside.clone(),
    })
}

fn port_at(at: &str, typed: &PortAtInput, car: &Car, reader: &mut Reader) -> Option<PortAt> {
    let Some(part) = car.parts.iter().position(|part| part.name == typed.part) else {
        let wrong = match typed.part.as_str() {
            "" => "nobody said where this end is".to_owned(),
            part => format!("no part is called \"{part}\""),
        };
        reader.wrong(&format!("{at}.part"), wrong, "the name of a part");
        return None;
    };
    let port = car.parts[part].ports.iter().position(|port| port.name == typed.spigot);
    if port.is_none() {
        reader.wrong(
            &format!("{at}.spigot"),
            match typed.spigot.as_str() {
                "" => format!("nobody said at which spigot of {} this end is", typed.part),
                spigot => format!("{} has no spigot \"{spigot}\"", typed.part),
            },
            "the name of one of its spigots",
        );
    }
    Some(PortAt { part, port: port? })
}

fn in_stock(at: &str, typed: &StockInput, reader: &mut Reader) -> Option<InStock> {
    let bore = reader.number(&format!("{at}.bore_mm"), typed.bore_mm, SPIGOT).map(Length::mm);
    let pieces = typed.pieces_mm.iter().enumerate();
    let pieces = pieces
        .filter_map(|(i, piece)| reader.number(&format!("{at}.pieces_mm[{i}]"), *piece, LONG).map(Length::mm))
        .collect();
    let mut lengths = Vec::new();
    for (i, sold) in typed.lengths.iter().enumerate() {
        let at = format!("{at}.lengths[{i}]");
        let length = reader.number(&format!("{at}.length_mm"), sold.length_mm, LONG).map(Length::mm);
        let price = sold.price.and_then(|price| reader.number(&format!("{at}.price"), price, PRICE));
        lengths.extend(length.map(|length| (length, price)));
    }
    Some(InStock {
        bore: bore?,
        wall: reader.optional(&format!("{at}.wall_mm"), typed.wall_mm, (0.5, 20.0)),
        pieces,
        sold_by: reader.optional(&format!("{at}.sold_by_mm"), typed.sold_by_mm, (1.0, LONG.1)),
        longest: reader.optional(&format!("{at}.longest_mm"), typed.longest_mm, LONG),
        price_per_m: typed.price_per_m.and_then(|price| reader.number(&format!("{at}.price_per_m"), price, PRICE)),
        lengths,
    })
}
