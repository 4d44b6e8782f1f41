//! Every field of one run, in the order of the link.
//!
//! Each version has more fields than the one before; `records.rs` tells which. A run is written in the oldest that says all of
//! it.
//!
//! Records are their fields in the order below, nothing between. A field that may be absent is one bit, 1 if it is there,
//! and then the field. A list is a 1 before every entry and a 0 after the last. A choice is its place in the list below,
//! in so many bits. Texts and numbers: `text.rs` and `number.rs`.
//!
//! | what | how |
//! |---|---|
//! | a place or direction | 0 and three numbers; or 1 and 3 bits: 0 the origin, 1 to 6 the unit vectors +x −x +y −y +z −z |
//! | a second place (rod, box) | for x, y, z: 1 if it is that of the first, else 0 and a number |
//! | bead, turns | 0 and a number or a place; 1 and a text |
//! | form | 2 bits: 0 rod (from, to, diameter), 1 ball (at, diameter), 2 box (from, to); from version 2 on 3 disc (at, along, diameter, thickness) |
//! | typed | a list of two texts, sorted by the first as UTF-8 bytes |

use super::bits::{Reader, Writer};
use super::{number, text};
use job::input::{
    BeadInput, ConditionsInput, CoolantInput, CrankLineInput, ElbowInput, EndInput, FormInput, GlycolInput, HoseInput,
    KindInput, LegInput, NeighbourInput, OnInput, RefillInput, ReplacesInput, RockInput, RunInput, SeatFromInput,
    ShieldInput, SideInput, SleeveInput, SpigotInput, StandsInput, Triple, TurnsInput, ViaInput,
};
use std::collections::BTreeMap;

/// What can stand in a link. Neither way fails here: the writer and the reader keep what was wrong until their end.
pub(super) trait Field: Sized {
    fn write(&self, to: &mut Writer);
    fn read(from: &mut Reader<'_>) -> Self;
}

/// A record: every field of it, in this order. A field of the struct that is missing here does not compile. What is newer
/// than the version of the link is left out, and not known when it is read.
macro_rules! record {
    ($name:ident: $($field:ident),+ $(; 2: $($newer:ident),+)? $(; 3: $($newest:ident),+)?) => {
        impl Field for $name {
            fn write(&self, to: &mut Writer) {
                let Self { $($field),+ $(, $($newer),+)? $(, $($newest),+)? } = self;
                $($field.write(to);)+
                $(if to.version() >= 2 {
                    $($newer.write(to);)+
                })?
                $(if to.version() >= 3 {
                    $($newest.write(to);)+
                })?
            }

            fn read(from: &mut Reader<'_>) -> Self {
                Self {
                    $($field: Field::read(from),)+
                    $($($newer: if from.version() >= 2 { Field::read(from) } else { Default::default() },)+)?
                    $($($newest: if from.version() >= 3 { Field::read(from) } else { Default::default() },)+)?
                }
            }
        }
    };
}

/// A choice in so many bits: the places of what can be chosen. A variant that is missing here does not compile.
macro_rules! choice {
    ($name:ident, $bits:literal, $what:literal: 0 $first:ident, $($place:literal $variant:ident),+) => {
        impl Field for $name {
            fn write(&self, to: &mut Writer) {
                to.bits(match self { Self::$first => 0, $(Self::$variant => $place),+ }, $bits);
            }

            fn read(from: &mut Reader<'_>) -> Self {
                match from.few($bits) {
                    0 => Self::$first,
                    $($place => Self::$variant,)+
                    _ => {
                        from.unknown($what);
                        Self::$first
                    }
                }
            }
        }
    };
}

every_record!(record);

choice!(GlycolInput, 1, "a glycol": 0 Ethylene, 1 Propylene);
choice!(OnInput, 1, "what a part is bolted to": 0 Engine, 1 Body);
choice!(EndInput, 1, "an end": 0 A, 1 B);
choice!(SeatFromInput, 1, "where a seat is from": 0 Measured, 1 Taken);
choice!(KindInput, 2, "a kind of thing": 0 Hot, 1 Moving, 2 Sharp, 3 Solid);
choice!(SideInput, 1, "a side of the pump": 0 PumpInlet, 1 Other);
choice!(SleeveInput, 2, "a sleeve": 0 None, 1 New, 2 Dirty);

impl Field for bool {
    fn write(&self, to: &mut Writer) {
        to.bit(*self);
    }

    fn read(from: &mut Reader<'_>) -> Self {
        from.bit()
    }
}

impl Field for f64 {
    fn write(&self, to: &mut Writer) {
        number::write(*self, to);
    }

    fn read(from: &mut Reader<'_>) -> Self {
        number::read(from)
    }
}

impl Field for String {
    fn write(&self, to: &mut Writer) {
        text::write(self, to);
    }

    fn read(from: &mut Reader<'_>) -> Self {
        text::read(from)
    }
}

impl<T: Field> Field for Option<T> {
    fn write(&self, to: &mut Writer) {
        to.bit(self.is_some());
        if let Some(value) = self {
            value.write(to);
        }
    }

    fn read(from: &mut Reader<'_>) -> Self {
        from.bit().then(|| T::read(from))
    }
}

impl<T: Field> Field for Vec<T> {
    fn write(&self, to: &mut Writer) {
        for entry in self {
            to.bit(true);
            entry.write(to);
        }
        to.bit(false);
    }

    // No count is read, so none can ask for memory: the list grows with the bits that are there.
    fn read(from: &mut Reader<'_>) -> Self {
        let mut list = Self::new();
        while from.bit() {
            list.push(T::read(from));
        }
        list
    }
}

impl Field for BTreeMap<String, String> {
    fn write(&self, to: &mut Writer) {
        for (name, typed) in self {
            to.bit(true);
            name.write(to);
            typed.write(to);
        }
        to.bit(false);
    }

    fn read(from: &mut Reader<'_>) -> Self {
        let mut typed = Self::new();
        while from.bit() {
            let name = String::read(from);
            if typed.last_key_value().is_some_and(|(last, _)| *last >= name) {
                from.unknown("the order of what was typed");
            }
            typed.insert(name, String::read(from));
        }
        typed
    }
}

/// The places that are written in 3 bits: mouth A, and the directions along the axes.
const PLAIN: [Triple; 7] = [
    [0.0, 0.0, 0.0],
    [1.0, 0.0, 0.0],
    [-1.0, 0.0, 0.0],
    [0.0, 1.0, 0.0],
    [0.0, -1.0, 0.0],
    [0.0, 0.0, 1.0],
    [0.0, 0.0, -1.0],
];

impl Field for Triple {
    fn write(&self, to: &mut Writer) {
        // By bits: a zero with a minus is another zero.
        let plain = PLAIN.iter().zip(0..).find(|(plain, _)| plain.map(f64::to_bits) == self.map(f64::to_bits));
        to.bit(plain.is_some());
        match plain {
            Some((_, place)) => to.bits(place, 3),
            None => self.iter().for_each(|number| number.write(to)),
        }
    }

    fn read(from: &mut Reader<'_>) -> Self {
        if from.bit() {
            let plain = PLAIN.get(usize::from(from.few(3)));
            if plain.is_none() {
                from.unknown("a direction");
            }
            return plain.copied().unwrap_or_default();
        }
        [f64::read(from), f64::read(from), f64::read(from)]
    }
}

/// A second place, of which most of the numbers are those of the first.
fn write_second(first: &Triple, second: &Triple, to: &mut Writer) {
    for (first, second) in first.iter().zip(second) {
        let same = first.to_bits() == second.to_bits();
        to.bit(same);
        if !same {
            second.write(to);
        }
    }
}

fn read_second(first: &Triple, from: &mut Reader<'_>) -> Triple {
    let mut second = *first;
    for number in &mut second {
        if !from.bit() {
            *number = f64::read(from);
        }
    }
    second
}

impl Field for FormInput {
    fn write(&self, to: &mut Writer) {
        match self {
            Self::Rod { from_mm, to_mm, diameter_mm } => {
                to.bits(0, 2);
                from_mm.write(to);
                write_second(from_mm, to_mm, to);
                diameter_mm.write(to);
            }
            Self::Ball { at_mm, diameter_mm } => {
                to.bits(1, 2);
                at_mm.write(to);
                diameter_mm.write(to);
            }
            Self::Box { from_mm, to_mm } => {
                to.bits(2, 2);
                from_mm.write(to);
                write_second(from_mm, to_mm, to);
            }
            Self::Disc { at_mm, along, diameter_mm, thick_mm } => {
                to.bits(3, 2);
                at_mm.write(to);
                along.write(to);
                diameter_mm.write(to);
                thick_mm.write(to);
            }
        }
    }

    fn read(from: &mut Reader<'_>) -> Self {
        let form = from.few(2);
        if form > 2 && from.version() < 2 {
            from.unknown("a form");
        }
        let first = Triple::read(from);
        match form {
            0 => Self::Rod { from_mm: first, to_mm: read_second(&first, from), diameter_mm: f64::read(from) },
            1 => Self::Ball { at_mm: first, diameter_mm: f64::read(from) },
            2 => Self::Box { from_mm: first, to_mm: read_second(&first, from) },
            _ => {
                let (along, diameter_mm) = (Triple::read(from), f64::read(from));
                Self::Disc { at_mm: first, along, diameter_mm, thick_mm: f64::read(from) }
            }
        }
    }
}

impl Field for BeadInput {
    fn write(&self, to: &mut Writer) {
        match self {
            Self::Diameter(diameter) => {
                to.bit(false);
                diameter.write(to);
            }
            Self::Word(word) => {
                to.bit(true);
                word.write(to);
            }
        }
    }

    fn read(from: &mut Reader<'_>) -> Self {
        if from.bit() { Self::Word(String::read(from)) } else { Self::Diameter(f64::read(from)) }
    }
}

impl Field for TurnsInput {
    fn write(&self, to: &mut Writer) {
        match self {
            Self::About { about } => {
                to.bit(false);
                about.write(to);
            }
            Self::Word(word) => {
                to.bit(true);
                word.write(to);
            }
        }
    }

    fn read(from: &mut Reader<'_>) -> Self {
        if from.bit() { Self::Word(String::read(from)) } else { Self::About { about: Triple::read(from) } }
    }
}
