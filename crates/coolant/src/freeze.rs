//! When ice begins to form in the coolant, and how much concentrate keeps it away.
//!
//! Ethylene glycol: the table of inhibited coolant by volume of a fluid maker's engineering manual (2001), as the data
//! files of the package egasp 0.1.9 carry it; the same figures stand in ASHRAE Fundamentals (from memory). Pure glycol
//! freezes 2 to 3 K lower at the same mass: not used, it promises too much.
//! Propylene glycol: Lange's Handbook of Chemistry, 15th ed., table 5.13, to 50 %.
//! Between the rows a straight line. Error about 1 K.

use crate::{Glycol, Mix};
use quantity::Temperature;

/// Strongest mix spoken of, by volume: our choice. Laboratories agree on freezing points only to about 60 % (published).
pub const STRONGEST: f64 = 0.6;

/// Thousandths by volume and tenths of a degree. The last row is our choice: the last step of the table carried on to
/// 60 %; an engine maker's manual reads -52 there.
const ETHYLENE: [(u16, i16); 46] = [
    (0, 0),
    (44, -14),
    (89, -32),
    (136, -54),
    (181, -78),
    (192, -84),
    (201, -89),
    (210, -95),
    (220, -102),
    (229, -107),
    (239, -114),
    (248, -120),
    (258, -127),
    (267, -133),
    (277, -141),
    (287, -148),
    (296, -154),
    (306, -162),
    (316, -170),
    (326, -179),
    (335, -186),
    (345, -194),
    (355, -203),
    (365, -213),
    (375, -223),
    (385, -232),
    (395, -243),
    (405, -253),
    (415, -264),
    (425, -275),
    (435, -288),
    (445, -298),
    (455, -311),
    (466, -326),
    (476, -338),
    (486, -351),
    (496, -364),
    (506, -379),
    (516, -393),
    (527, -411),
    (537, -426),
    (547, -442),
    (557, -456),
    (568, -471),
    (578, -483),
    (600, -509),
];

/// The same. The last two rows are our choice: Melinder's (2010) pure glycol, raised by the 0.3 K by which it lies
/// below Lange at 50 %.
const PROPYLENE: [(u16, i16); 13] = [
    (0, 0),
    (50, -11),
    (100, -22),
    (150, -39),
    (200, -67),
    (250, -89),
    (300, -128),
    (350, -161),
    (400, -206),
    (450, -267),
    (500, -333),
    (550, -416),
    (600, -517),
];

const fn table(glycol: Glycol) -> &'static [(u16, i16)] {
    match glycol {
        Glycol::Ethylene => &ETHYLENE,
        Glycol::Propylene => &PROPYLENE,
    }
}

/// The temperature at which the first ice forms.
///
/// Published to 57.8 % ethylene and 50 % propylene glycol, our choice from there to 60 %. Error about 1 K.
#[must_use]
pub fn freezes_at(mix: Mix) -> Temperature {
    let rows = table(mix.glycol());
    let at = 1000.0 * mix.fraction();
    // The first row is 0 and the last 600, so that there are two rows around every mix.
    let upper = rows.iter().position(|row| f64::from(row.0) >= at).unwrap_or(rows.len() - 1).max(1);
    let ((v0, t0), (v1, t1)) = (rows[upper - 1], rows[upper]);
    let part = (at - f64::from(v0)) / f64::from(v1 - v0);
    Temperature::celsius((f64::from(t0) * (1.0 - part) + f64::from(t1) * part) / 10.0)
}

/// The least volume fraction of concentrate that freezes no sooner than at this temperature; `None` if 60 % do not reach it.
///
/// Zero for 0 °C and above. It is the bare least: what is poured is this rounded up.
#[must_use]
pub fn least_fraction(glycol: Glycol, protected_to: Temperature) -> Option<f64> {
    let wanted = 10.0 * protected_to.as_celsius();
    if wanted >= 0.0 {
        return Some(0.0);
    }
    let rows = table(glycol);
    let upper = rows.iter().position(|row| f64::from(row.1) <= wanted)?;
    let ((v0, t0), (v1, t1)) = (rows[upper - 1], rows[upper]);
    let part = (f64::from(t0) - wanted) / f64::from(t0 - t1);
    Some((f64::from(v0) + part * f64::from(v1 - v0)) / 1000.0)
}
