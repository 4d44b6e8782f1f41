//! What to pour: the worked example, and the balance of volumes done over.

use coolant::{BadSum, Refill, System, after_rounds, refill, rounds_needed};
use proptest::prelude::*;
use proptest::test_runner::{RngAlgorithm, TestRng, TestRunner};
use quantity::Volume;

fn system(holds: f64, left: f64, left_strength: f64) -> System {
    System { holds: Volume::litres(holds), left: Volume::litres(left), left_strength }
}

fn close(ours: f64, want: f64) {
    assert!((ours - want).abs() < 1e-12, "{ours} is not {want}");
}

#[test]
fn the_worked_example_is_four_litres_and_one() {
    // 8 l, 3 l of plain water stay, half and half is wanted: half of 8 is 4; 8 less 3 less 4 is 1.
    let Ok(Refill::Pour { poured, water }) = refill(&system(8.0, 3.0, 0.0), 0.5, 1.0) else {
        panic!("it can be reached")
    };
    close(poured.as_litres(), 4.0);
    close(water.as_litres(), 1.0);
}

#[test]
fn too_much_left_behind_says_how_much_more_to_drain() {
    // 8 l with 6 l of 10 % left: 2 l of concentrate end at (0.6 + 2)/8 = 0.325. At most 8 x 0.5/0.9 = 4.444 l may stay.
    let Ok(Refill::DrainMore { leave_at_most, drain, ends_at }) = refill(&system(8.0, 6.0, 0.1), 0.5, 1.0) else {
        panic!("it cannot be reached")
    };
    close(leave_at_most.as_litres(), 40.0 / 9.0);
    close(drain.as_litres(), 6.0 - 40.0 / 9.0);
    close(ends_at, 0.325);
}

#[test]
fn strong_coolant_left_behind_gets_water_only() {
    // 5 l of 60 % in 8 l: 3 l of water end at 3/8 = 0.375, above the 0.3 wanted; 8 x 0.3/0.6 = 4 l could stay.
    let Ok(Refill::OnlyWater { water, ends_at, leave_at_most }) = refill(&system(8.0, 5.0, 0.6), 0.3, 1.0) else {
        panic!("it is stronger than asked")
    };
    close(water.as_litres(), 3.0);
    close(ends_at, 0.375);
    close(leave_at_most.as_litres(), 4.0);
}

#[test]
fn a_ready_mix_reaches_no_more_than_its_own_strength() {
    // Half and half into a system that drained dry: 8 l of it, no water. With 3 l of water left: (5 x 0.5)/8 = 0.3125.
    let Ok(Refill::Pour { poured, water }) = refill(&system(8.0, 0.0, 0.0), 0.5, 0.5) else { panic!("just reached") };
    close(poured.as_litres(), 8.0);
    close(water.as_litres(), 0.0);
    let Ok(Refill::DrainMore { leave_at_most, ends_at, .. }) = refill(&system(8.0, 3.0, 0.0), 0.5, 0.5) else {
        panic!("only if it is dry")
    };
    close(leave_at_most.as_litres(), 0.0);
    close(ends_at, 0.3125);
    let Ok(Refill::PouredTooWeak { ends_at }) = refill(&system(8.0, 3.0, 0.0), 0.5, 0.4) else { panic!("never") };
    close(ends_at, 0.25);
}

#[test]
fn a_sum_that_cannot_be_is_refused_by_name() {
    for (of, wanted, poured, why) in [
        (system(0.0, 0.0, 0.0), 0.5, 1.0, BadSum::Holds),
        (system(f64::NAN, 0.0, 0.0), 0.5, 1.0, BadSum::Holds),
        (system(8.0, 8.1, 0.0), 0.5, 1.0, BadSum::Left),
        (system(8.0, -0.1, 0.0), 0.5, 1.0, BadSum::Left),
        (system(8.0, 3.0, 1.1), 0.5, 1.0, BadSum::Strength),
        (system(8.0, 3.0, 0.0), f64::NAN, 1.0, BadSum::Strength),
        (system(8.0, 3.0, 0.0), 0.5, 0.0, BadSum::Strength),
    ] {
        assert_eq!(refill(&of, wanted, poured), Err(why), "{of:?} {wanted} {poured}");
    }
}

#[test]
fn rounds_of_draining_are_those_done_one_by_one() {
    // 10 % coolant, 60 % of the system drained, filled with half and half: 0.34, 0.436, 0.4744 by hand.
    for (rounds, want) in [(0, 0.1), (1, 0.34), (2, 0.436), (3, 0.4744)] {
        close(after_rounds(0.1, 0.6, 0.5, rounds), want);
    }
    assert_eq!(rounds_needed(0.1, 0.6, 0.5, 0.45), Some(3));
    assert_eq!(rounds_needed(0.1, 0.6, 0.5, 0.1), Some(0));
    assert_eq!(rounds_needed(0.1, 0.6, 0.5, 0.51), None, "never above what is filled in");
    // Rinsing with water: 0.5, 0.2, 0.08, 0.032.
    assert_eq!(rounds_needed(0.5, 0.6, 0.0, 0.05), Some(3));
}

#[test]
fn the_balance_of_coolant_closes_whatever_is_asked() {
    let config = ProptestConfig { cases: 4000, failure_persistence: None, ..ProptestConfig::default() };
    let mut runner = TestRunner::new_with_rng(config, TestRng::deterministic_rng(RngAlgorithm::ChaCha));
    let asked = (1.0..20.0, 0.0..=1.0, 0.0..=0.7, 0.0..=0.6, 0.2..=1.0);
    let claim = |(holds, share, strength, wanted, poured): (f64, f64, f64, f64, f64)| {
        let of = system(holds, share * holds, strength);
        let left = of.left.as_litres();
        // Filled with so much of what is poured and so much water: the strength, counted afresh.
        let strength_with = |pour: f64| (strength * left + poured * pour) / holds;
        let told = refill(&of, wanted, poured).map_err(|why| TestCaseError::fail(format!("{why:?}")))?;
        let is = |ours: f64, want: f64, what: &str| {
            prop_assert!((ours - want).abs() < 1e-9, "{what}: {ours} is not {want} ({told:?})");
            Ok(())
        };
        match told {
            Refill::Pour { poured: pour, water } => {
                prop_assert!(pour >= Volume::ZERO && water >= Volume::ZERO, "{told:?}");
                is((of.left + pour + water).as_litres(), holds, "full")?;
                is(strength_with(pour.as_litres()), wanted, "strength")?;
            }
            Refill::OnlyWater { water, ends_at, leave_at_most } => {
                is((of.left + water).as_litres(), holds, "full")?;
                is(strength_with(0.0), ends_at, "strength")?;
                prop_assert!(ends_at > wanted && leave_at_most < of.left, "{told:?}");
                is(strength * leave_at_most.as_litres() / holds, wanted, "with the rest drained")?;
            }
            Refill::DrainMore { leave_at_most, drain, ends_at } => {
                is(strength_with(holds - left), ends_at, "strength")?;
                prop_assert!(ends_at < wanted && drain > Volume::ZERO, "{told:?}");
                is((leave_at_most + drain).as_litres(), left, "what stays")?;
                // Drained so far, the same sum says: pour, and no water.
                let drained = System { left: leave_at_most, ..of };
                let again = refill(&drained, wanted, poured);
                let Ok(Refill::Pour { water, .. }) = again else {
                    return Err(TestCaseError::fail(format!("{told:?} then {again:?}")));
                };
                is(water.as_litres(), 0.0, "water")?;
                // And a litre less drained is closer to it than not draining.
                let half_way = System { left: leave_at_most + 0.5 * drain, ..of };
                let Ok(Refill::DrainMore { ends_at: closer, .. }) = refill(&half_way, wanted, poured) else {
                    return Err(TestCaseError::fail("half of it is not enough"));
                };
                prop_assert!(ends_at < closer && closer < wanted, "{told:?}: {closer}");
            }
            Refill::PouredTooWeak { ends_at } => {
                prop_assert!(poured < wanted && ends_at < wanted, "{told:?}");
                is(strength_with(holds - left), ends_at, "strength")?;
            }
        }
        Ok(())
    };
    if let Err(why) = runner.run(&asked, claim) {
        panic!("{why}");
    }
}
