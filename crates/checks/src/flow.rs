//! Flow: the pressure the run loses as it lies, and the flow that is left beside the hose it takes the place of.
//!
//! The pressure across the branch stays as it is; the rest of the branch (heater core, pipes) loses what is said, or taken.

use crate::kink::flattening;
use crate::limits::{Limit, our_choice};
use crate::{Bound, Check, ElbowBelow, Finding, Laid, Reading, Sense, Spigot, Unit, Verdict};
use coolant::{Bend, Flat, Rest, Run, flow_after};
use core::f64::consts::FRAC_PI_2;
use quantity::{Angle, Length, Source};
use shape::Lie;

/// Flow below this part of what it was warns, percent.
const WARN: f64 = 85.0;
/// Wall of a spigot, mm; a bend that turns less is none, rad; a bore flattened by less is round.
const SPIGOT_WALL: f64 = 1.0;
const TURNS: f64 = 0.05;
const ROUND: f64 = 0.05;
/// A flattened place is so many bores long.
const FLAT_BORES: f64 = 2.0;
/// The hose before is taken to have two bends of 90° with so many bores of radius.
const BEFORE_BENDS: usize = 2;
const BEFORE_RADIUS: f64 = 3.0;

const MODEL: Source = our_choice(
    "Churchill 1977 and Rennels & Hudson 2012, straight within 5 %, bends within 17 %; taken are spigot walls of 1 mm, and two \
     bends of 90° in the hose before; a warning below 85 %",
);

/// The hose that was there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Replaced {
    /// Its length, with its seats, if known.
    pub length: Option<Length>,
    /// Its bore, if known.
    pub bore: Option<Length>,
}

/// The bends of a lie: stretches that turn one way, each with the mean of its radius.
fn bends(lie: &Lie) -> Vec<Bend> {
    let tangents = lie.tangents();
    let step = lie.length() / (tangents.len() - 1) as f64;
    let mut bends: Vec<(f64, f64)> = Vec::new();
    let mut before = None;
    for pair in tangents.windows(2) {
        let axis = pair[0].cross(pair[1]);
        let angle = libm::atan2(axis.norm(), pair[0].dot(pair[1]));
        let goes_on = before.is_some_and(|before: shape::Vec3| before.dot(axis) >= 0.0);
        match bends.last_mut().filter(|_| goes_on) {
            Some((turned, long)) => (*turned, *long) = (*turned + angle, *long + step),
            None => bends.push((angle, step)),
        }
        before = Some(axis);
    }
    let bend = |(turned, long): (f64, f64)| Bend { angle: Angle::radians(turned), radius: Length::mm(long / turned) };
    bends.into_iter().filter(|(turned, _)| *turned > TURNS).map(bend).collect()
}

/// The bend of an elbow.
fn bend_of(elbow: &ElbowBelow) -> Bend {
    Bend { angle: elbow.bend, radius: elbow.radius }
}

/// Inside diameter of a spigot.
fn inside(diameter: Length) -> Option<Length> {
    Some(diameter - Length::mm(2.0 * SPIGOT_WALL))
}

/// The elbow below the joiner that a run ends on: as a hose from the spigot of the part to the other stub of the joiner.
fn through<'a>(joiner: &Spigot, bends: &'a [Bend; 1]) -> Run<'a> {
    let (bore, length, spigot) = joiner
        .elbow
        .map_or((joiner.diameter, Length::ZERO, joiner.diameter), |elbow| (elbow.bore, elbow.length, elbow.spigot));
    let (from, to) = (inside(spigot), inside(joiner.diameter));
    Run { bore, length, bends, flats: &[], from, to, roughness: Length::ZERO, other: 0.0 }
}

/// Bore area left where the outside is flattened so much: fitted to a finite-element study of a 16/24 hose, within 0.01.
fn area_left(flattened: f64) -> f64 {
    1.0 - flattened * (0.30 + 1.90 * flattened)
}

pub(crate) fn find(laid: &Laid<'_>, out: &mut Vec<Finding>) {
    let conditions = laid.conditions;
    let Some(fluid) = &conditions.fluid else {
        out.push(Finding::not_checked(
            Check::Flow,
            "needs a coolant whose properties are known: up to 125 °C, not frozen",
        ));
        return;
    };
    let bends = bends(laid.lie);
    let flattened = flattening(laid.hose, laid.lie.peak().curvature) / 100.0;
    let long = FLAT_BORES * laid.hose.bore;
    let flat = [Flat { area_left: area_left(flattened), length: long }];
    let flats: &[Flat] = if flattened > ROUND && !laid.hose.wire_supported { &flat } else { &[] };
    let run = Run {
        bore: laid.hose.bore,
        length: Length::mm(laid.lie.length()),
        bends: &bends,
        flats,
        from: inside(laid.from.diameter),
        to: inside(laid.to.diameter),
        roughness: Length::ZERO,
        other: 0.0,
    };
    let loss = run.loss(conditions.flow, fluid);
    let elbow_bends = [laid.from, laid.to].map(|spigot| spigot.elbow.map(|elbow| [bend_of(&elbow)]));
    let ends = [laid.from, laid.to].into_iter().zip(&elbow_bends);
    let elbows: Vec<Run<'_>> = ends.filter_map(|(end, bends)| Some(through(end, bends.as_ref()?))).collect();
    let elbows_pa: f64 = elbows.iter().map(|elbow| elbow.loss(conditions.flow, fluid).total_pa()).sum();
    let mut extra = vec![
        ("loss_pa", loss.total_pa()),
        ("loss_straight_pa", loss.straight_pa),
        ("loss_bends_pa", loss.bends_pa),
        ("loss_spigots_pa", loss.spigots_pa),
        ("loss_flattened_pa", loss.flattened_pa + 0.0),
        ("reynolds", loss.reynolds),
        ("friction_factor", loss.friction),
    ];
    if !elbows.is_empty() {
        extra.insert(1, ("loss_elbows_pa", elbows_pa));
    }
    let seats = laid.from.seat + laid.to.seat;
    let replaced = laid.replaced.and_then(|replaced| Some((replaced.length? - seats, replaced.bore)));
    let Some((length, bore)) = replaced.filter(|(length, _)| *length > Length::ZERO) else {
        let why = "needs the length of the hose it takes the place of; what it loses is worked out";
        out.push(Finding { extra, ..Finding::not_checked(Check::Flow, why) });
        return;
    };
    let bore = bore.unwrap_or(laid.hose.bore);
    let before_bends = [Bend { angle: Angle::radians(FRAC_PI_2), radius: BEFORE_RADIUS * bore }; BEFORE_BENDS];
    let before = Run { bore, length, bends: &before_bends, flats: &[], ..run };
    let after: Vec<Run<'_>> = std::iter::once(run).chain(elbows).collect();
    let rest = Rest { drop_pa: 1e3 * conditions.rest.as_kpa(), at: conditions.flow, exponent: 2.0 };
    let Some(part) = flow_after(&[before], &after, &rest, conditions.flow, fluid) else {
        out.push(Finding { extra, ..Finding::not_checked(Check::Flow, "needs a flow in the circuit") });
        return;
    };
    let bound = Bound { warn: Some(WARN), fail: None, sense: Sense::AtLeast };
    let reading = Reading { check: Check::Flow, which: 0, actual: 100.0 * part, at: laid.lie.peak().at, bound };
    let throttled = loss.flattened_pa > loss.straight_pa + loss.bends_pa;
    let why = match reading.verdict() {
        Verdict::Warn if throttled => "less flows than before: it is flattened at its tightest bend",
        Verdict::Warn if loss.spigots_pa > loss.straight_pa => {
            "less flows than before: the step at a spigot throttles it"
        }
        Verdict::Warn => "less flows than before: the heater will be weaker",
        _ => "as good as the flow before, with what the rest of the branch loses as it was",
    };
    let mut finding = reading.worded("", Unit::Percent, why, MODEL);
    finding.at = finding.at.filter(|_| throttled);
    finding.extra = extra;
    out.push(finding);
}

pub(crate) fn limits() -> Vec<Limit> {
    vec![
        Limit::new("flow: warns below this part of what it was", WARN, "%", MODEL),
        Limit::new("wall of a spigot", SPIGOT_WALL, "mm", MODEL),
        Limit::new("bend radius in the hose before, bores", BEFORE_RADIUS, "", MODEL),
    ]
}
