//! Pressure: where the coolant boils under its cap, and whether the hose is rated for it.

use crate::limits::{Limit, our_choice};
use crate::{Bound, Check, Finding, Laid, Reading, Sense, Unit, Verdict};
use quantity::{Basis, Source, Temperature};

/// So far below its boiling point the coolant should stay, K.
const MARGIN: f64 = 10.0;
/// The pressure rises above that of the cap for a moment, kPa.
const SURGE: f64 = 30.0;

const BOILS: Source = Source::new(
    "Raoult's law with IAPWS-IF97 and DIPPR 101, within 1.5 K of a handbook table; 10 K below it is our choice",
    Basis::Published,
);
const RATED: Source = our_choice("cap and 30 kPa of surge against the working pressure printed on the hose");

pub(crate) fn find(laid: &Laid<'_>, out: &mut Vec<Finding>) {
    let conditions = laid.conditions;
    let coolant = conditions.coolant.as_celsius();
    match conditions.boils.map(Temperature::as_celsius) {
        None => out.push(Finding::not_checked(Check::Pressure, "needs the pressure printed on the cap")),
        Some(boils) => {
            let bound = Bound { warn: Some(coolant + MARGIN), fail: Some(coolant), sense: Sense::AtLeast };
            let reading = Reading { check: Check::Pressure, which: 0, actual: boils, at: 0.0, bound };
            let why = match reading.verdict() {
                Verdict::Fail => "the coolant boils under this cap before it is as hot as you said",
                Verdict::Warn => "the coolant comes close to boiling under this cap; once the flow stops it may boil",
                _ => "the coolant boils well above its temperature",
            };
            let mut finding = reading.worded("", Unit::Celsius, why, BOILS);
            finding.at = None;
            finding.extra.push(("boils_c", boils));
            out.push(finding);
        }
    }
    match (conditions.cap, laid.hose.rated) {
        (Some(cap), Some(rated)) => {
            let bound = Bound { warn: None, fail: Some(rated.as_kpa()), sense: Sense::AtMost };
            let reading = Reading { check: Check::Rating, which: 0, actual: cap.as_kpa() + SURGE, at: 0.0, bound };
            let why = match reading.verdict() {
                Verdict::Fail => "the cap lets more pressure build up than the hose is rated for",
                _ => "rated for the cap and its surge",
            };
            let mut finding = reading.worded("", Unit::Kilopascal, why, RATED);
            finding.at = None;
            out.push(finding);
        }
        _ => out.push(Finding::not_checked(
            Check::Rating,
            "compare the working pressure printed on the hose with the cap: its standard's figures were not to be had",
        )),
    }
}

pub(crate) fn limits() -> Vec<Limit> {
    vec![
        Limit::new("boiling: warns nearer to the coolant's temperature than", MARGIN, "K", BOILS),
        Limit::new("surge above the cap's pressure", SURGE, "kPa", RATED),
    ]
}
