//! How tight a plug is made in its thread, for the threads two printed tables have.
//!
//! Metric plugs with a washer, in iron or steel and in aluminium; taper pipe plugs, of which the sheet does not say in
//! what. Nothing is read between the rows.

use crate::car::said::trade;
use quantity::{Moment, Source};

const METRIC: Source = trade("engine workshop sheet of metric plugs (maker withheld), iron or steel and aluminium");
const PIPE: Source = trade("engine manual, table of pipe plugs (maker withheld)");

/// Thread, torque in iron or steel, torque in aluminium, N·m.
const METRIC_ROWS: [(&str, f64, f64); 6] = [
    ("m10x1", 20.0, 10.0),
    ("m12x1.5", 35.0, 14.0),
    ("m14x1.5", 45.0, 15.0),
    ("m16x1.5", 55.0, 18.0),
    ("m18x1.5", 70.0, 23.0),
    ("m22x1.5", 100.0, 33.0),
];

/// Size in inches, torque, N·m.
const PIPE_ROWS: [(&str, f64); 6] =
    [("1/8", 8.0), ("1/4", 12.0), ("3/8", 15.0), ("1/2", 24.0), ("3/4", 36.0), ("1", 45.0)];

/// How tight a plug is made.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct PlugTorque {
    /// In iron or steel; of a pipe plug in whatever it is.
    pub(super) torque: Moment,
    /// In aluminium, where the table tells it apart.
    pub(super) in_aluminium: Option<Moment>,
    pub(super) source: Source,
}

/// What seals a thread of this kind.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Seals {
    Washer,
    Sealant,
    NotKnown,
}

/// The thread without what people write in several ways: spaces, capitals, the cross, noughts after the point.
fn plain(typed: &str) -> String {
    let mut plain = String::new();
    for c in typed.chars() {
        match c {
            ' ' | '"' | '″' | '”' => {}
            '×' | '*' => plain.push('x'),
            ',' => plain.push('.'),
            c => plain.push(c.to_ascii_lowercase()),
        }
    }
    let noughts = plain.contains('.') && plain.starts_with('m');
    if noughts { plain.trim_end_matches('0').trim_end_matches('.').to_owned() } else { plain }
}

/// The size of a taper pipe thread: "1/4 NPT", "NPTF 1/4-18", "1/4in npt".
fn pipe_size(plain: &str) -> Option<&str> {
    let (before, after) = plain.split_once("npt")?;
    let size = if before.is_empty() { after.trim_start_matches('f') } else { before };
    let size = size.split('-').find(|piece| !piece.is_empty())?;
    Some(size.trim_end_matches("in"))
}

pub(super) fn plug_torque(typed: &str) -> Option<PlugTorque> {
    let plain = plain(typed);
    if let Some(size) = pipe_size(&plain) {
        let (_, nm) = PIPE_ROWS.iter().find(|(row, _)| *row == size)?;
        return Some(PlugTorque { torque: Moment::nm(*nm), in_aluminium: None, source: PIPE });
    }
    let (_, iron, aluminium) = METRIC_ROWS.iter().find(|(row, ..)| *row == plain)?;
    Some(PlugTorque { torque: Moment::nm(*iron), in_aluminium: Some(Moment::nm(*aluminium)), source: METRIC })
}

pub(super) fn seals(typed: &str) -> Seals {
    let plain = plain(typed);
    if pipe_size(&plain).is_some() {
        Seals::Sealant
    } else if plain.starts_with('m') || plain.starts_with('g') {
        Seals::Washer
    } else {
        Seals::NotKnown
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_thread_is_known_however_it_is_written() {
        for typed in ["M16x1.5", "m16 x 1,5", "M16×1.50", " M16 X 1.5 "] {
            let torque = plug_torque(typed).unwrap_or_else(|| panic!("{typed}"));
            assert_eq!((torque.torque, torque.in_aluminium), (Moment::nm(55.0), Some(Moment::nm(18.0))), "{typed}");
            assert_eq!(seals(typed), Seals::Washer);
        }
        assert_eq!(plug_torque("M10x1.0"), plug_torque("M10x1"));
        for typed in ["1/4 NPT", "NPT 1/4", "1/4-18 NPTF", "nptf 1/4", "1/4\" npt", "1/4 in NPT"] {
            let torque = plug_torque(typed).unwrap_or_else(|| panic!("{typed}"));
            assert_eq!((torque.torque, torque.in_aluminium), (Moment::nm(12.0), None), "{typed}");
            assert_eq!(seals(typed), Seals::Sealant);
        }
    }

    #[test]
    fn no_torque_is_made_up() {
        // No row; another pitch; a parallel pipe thread, which no table here has; taper of the other standard; no thread.
        for typed in ["M20x1.5", "M16x2", "M10", "G 1/4", "R 1/4", "1/4", "5/8 NPT", "NPT", "", "big", "M160x1.5"] {
            assert_eq!(plug_torque(typed), None, "{typed}");
        }
    }
}
