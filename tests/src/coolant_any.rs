//! What must hold of any coolant in any hose, whatever the numbers: drawn at random, the same ones every time.

use crate::coolant_properties::{celsius, mix};
use coolant::{Bend, Fluid, Glycol, Mix, Rest, Run, boils_at, expansion, flow_after, freezes_at, least_fraction};
use proptest::prelude::*;
use proptest::test_runner::{RngAlgorithm, TestRng, TestRunner};
use quantity::{Angle, Length, Pressure};

/// Runs `claim` on 2000 draws, the same ones every time.
fn for_any<S: Strategy>(drawn: &S, claim: impl Fn(S::Value) -> Result<(), TestCaseError>) {
    let config = ProptestConfig { cases: 2000, failure_persistence: None, ..ProptestConfig::default() };
    let mut runner = TestRunner::new_with_rng(config, TestRng::deterministic_rng(RngAlgorithm::ChaCha));
    if let Err(why) = runner.run(drawn, claim) {
        panic!("{why}");
    }
}

fn a_glycol() -> impl Strategy<Value = Glycol> {
    prop_oneof![Just(Glycol::Ethylene), Just(Glycol::Propylene)]
}

#[test]
fn more_glycol_more_pressure_less_height_boil_hotter() {
    let drawn = (a_glycol(), 0.0..0.58, 0.001..0.02, 0.0..2.0, 0.01..0.5, -400.0..5000.0, 10.0..2000.0);
    for_any(&drawn, |(glycol, fraction, more, cap, tighter, height, higher)| {
        let boils = |fraction: f64, cap: f64, height: f64| {
            let found = boils_at(mix(glycol, fraction), Pressure::bar(cap), Length::mm(1000.0 * height));
            found.map(quantity::Temperature::as_celsius).ok_or_else(|| TestCaseError::fail("no boiling point"))
        };
        let now = boils(fraction, cap, height)?;
        prop_assert!(boils(fraction + more, cap, height)? > now, "more glycol");
        prop_assert!(boils(fraction, cap + tighter, height)? > now, "more pressure");
        prop_assert!(boils(fraction, cap, height + higher)? < now, "more height");
        prop_assert!(boils(fraction, cap, height)? >= boils(0.0, cap, height)?, "than water");
        Ok(())
    });
}

#[test]
fn what_boils_has_the_pressure_it_boils_at() {
    // Raoult's law put together afresh at the temperature found.
    let drawn = (a_glycol(), 0.0..=0.6, 30.0..400.0);
    for_any(&drawn, |(glycol, fraction, absolute): (Glycol, f64, f64)| {
        let of = mix(glycol, fraction);
        let at = coolant::boils_under(of, Pressure::kpa(absolute)).expect("in range");
        let mass = of.mass_fraction();
        let molar = if glycol == Glycol::Ethylene { 62.067_84 } else { 76.094_42 };
        let (water, other) = ((1.0 - mass) / 18.015_28, mass / molar);
        let share = water / (water + other);
        let vapour = share * coolant::water_vapour_kpa(at) + (1.0 - share) * coolant::glycol_vapour_kpa(glycol, at);
        prop_assert!((vapour / absolute - 1.0).abs() < 1e-8, "{vapour} is not {absolute}");
        Ok(())
    });
}

#[test]
fn hotter_coolant_is_thinner_and_lighter_and_more_glycol_thicker() {
    let drawn = (a_glycol(), 0.02..0.58, 0.01..0.02, 5.0..124.0, 0.1..1.0);
    for_any(&drawn, |(glycol, fraction, more, at, warmer)| {
        let fluid = |fraction: f64, at: f64| Fluid::of(mix(glycol, fraction), celsius(at)).expect("a liquid");
        let (now, later, richer) = (fluid(fraction, at), fluid(fraction, at + warmer), fluid(fraction + more, at));
        prop_assert!(later.density < now.density && later.viscosity < now.viscosity, "warmer: {now:?} {later:?}");
        prop_assert!(richer.viscosity > now.viscosity, "richer: {now:?} {richer:?}");
        let grown = expansion(mix(glycol, fraction), celsius(at), celsius(at + warmer)).expect("liquid");
        prop_assert!(grown > 0.0, "it grows");
        Ok(())
    });
}

#[test]
fn the_least_fraction_protects_and_less_does_not() {
    let drawn = (a_glycol(), -51.0..-0.1);
    for_any(&drawn, |(glycol, to): (Glycol, f64)| {
        let Some(least) = least_fraction(glycol, celsius(to)) else {
            prop_assert!(to < freezes_at(mix(glycol, 0.6)).as_celsius(), "{to} is reached");
            return Ok(());
        };
        prop_assert!((freezes_at(mix(glycol, least)).as_celsius() - to).abs() < 1e-9, "{least}");
        prop_assert!(freezes_at(mix(glycol, 0.99 * least)).as_celsius() > to, "less");
        Ok(())
    });
}

fn hose(bore: f64, length: f64, bends: &[Bend]) -> Run<'_> {
    let spigot = Some(Length::mm(0.9 * bore));
    Run {
        bore: Length::mm(bore),
        length: Length::mm(length),
        bends,
        flats: &[],
        from: spigot,
        to: spigot,
        roughness: Length::ZERO,
        other: 0.0,
    }
}

#[test]
fn longer_narrower_more_bent_faster_cost_more_and_less_flows() {
    let drawn = (0.0..=0.6, 5.0..110.0, 6.0..40.0, 600.0..2000.0, 1.0..60.0, 5.0..170.0, 1.0..8.0, 0.0..20_000.0);
    for_any(&drawn, |(fraction, at, bore, length, flow, degrees, ratio, rest)| {
        let fluid = Fluid::of(mix(Glycol::Ethylene, fraction), celsius(at)).expect("a liquid");
        let bends = [Bend { angle: Angle::degrees(degrees), radius: Length::mm(ratio * bore) }];
        // Long enough that what is bent was straight before.
        let length = length + 25.0 * bore;
        let now = hose(bore, length, &[]);
        let cost = |run: &Run<'_>, flow: f64| run.loss(flow, &fluid).total_pa();
        let (longer, narrower, bent) =
            (hose(bore, 1.1 * length, &[]), hose(0.9 * bore, length, &[]), hose(bore, length, &bends));
        let rest = Rest { drop_pa: rest, at: 10.0, exponent: 2.0 };
        for (what, run) in [("longer", longer), ("narrower", narrower), ("bent", bent)] {
            prop_assert!(cost(&run, flow) > cost(&now, flow), "{what}");
            let ratio = flow_after(&[now], &[run], &rest, flow, &fluid).expect("a flow");
            prop_assert!(ratio < 1.0 && ratio > 0.0, "{what}: {ratio}");
            // The pressure across the branch is what it was.
            let across = |run: &Run<'_>, flow: f64| cost(run, flow) + rest.drop_pa * (flow / 10.0) * (flow / 10.0);
            let kept = across(&run, ratio * flow) / across(&now, flow);
            prop_assert!((kept - 1.0).abs() < 1e-6, "{what}: {kept}");
        }
        prop_assert!(cost(&now, 1.01 * flow) > cost(&now, flow), "faster");
        Ok(())
    });
}

#[test]
fn a_drop_of_glycol_changes_little() {
    // Water's own formulas meet those of the mixes.
    for glycol in [Glycol::Ethylene, Glycol::Propylene] {
        for at in [5.0, 20.0, 60.0, 90.0] {
            let (water, mixed) = (Fluid::of(Mix::WATER, celsius(at)), Fluid::of(mix(glycol, 1e-6), celsius(at)));
            let (water, mixed) = (water.expect("a liquid"), mixed.expect("a liquid"));
            assert!((mixed.density - water.density).abs() < 0.5, "{glycol:?} {at}: {water:?} {mixed:?}");
            assert!((mixed.viscosity / water.viscosity - 1.0).abs() < 0.015, "{glycol:?} {at}: {water:?} {mixed:?}");
        }
    }
}
