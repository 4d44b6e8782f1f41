//! Stiffness and weight of a hose against a table made outside this code, and the modulus against Gent's relation.

use quantity::Length;
use stock::{GRAVITY, Hose, OwnHose, hose_modulus, modulus_of_hardness};

/// See the lines on top of the file for its origin.
const MECHANICS: &str = include_str!("../../../tests/reference/hose_sizes_mechanics.csv");

/// A hose of which only the two diameters are known.
fn tube(bore_mm: f64, outside_mm: f64) -> Option<Hose> {
    Hose::own(OwnHose {
        kind: "roll".into(),
        rubber: None,
        class: None,
        limit: None,
        bore: Length::mm(bore_mm),
        outside: Length::mm(outside_mm),
        wire_supported: false,
        least_bend_inside: None,
        creases_at_inside: None,
        rated: None,
    })
}

/// Ours rounds to what is printed.
fn check(what: &str, ours: f64, printed: f64, half_of_the_last_digit: f64) {
    // A value that ends in 5 may round either way, hence the last thousandth.
    let allowed = half_of_the_last_digit * 1.001;
    assert!((ours - printed).abs() <= allowed, "{what}: {ours} is not {printed}");
}

#[test]
fn stiffness_and_filled_mass_are_those_of_the_reference_table() {
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(MECHANICS.as_bytes());
    let mut rows = 0;
    for record in reader.records() {
        let row: Vec<f64> = record.unwrap().iter().map(|cell| cell.parse().unwrap()).collect();
        let [bore, wall, outside, inertia, stiffness_n_m2, mass_kg_m] = row[..] else { panic!("six columns: {row:?}") };
        let hose = tube(bore, bore + 2.0 * wall).unwrap();
        let name = format!("bore {bore}");
        check(&name, hose.outside.as_mm(), outside, 0.05);
        check(&name, hose.wall().as_mm(), wall, 1e-12);
        check(&name, hose.section_inertia(), inertia, 0.5);
        check(&name, hose.bend_stiffness() * 1e-6, stiffness_n_m2, 0.5e-5);
        check(&name, hose.filled_weight_per_mm() * 1000.0 / GRAVITY.value, mass_kg_m, 0.5e-4);
        rows += 1;
    }
    assert_eq!(rows, 15, "every row of the table was compared");
}

#[test]
fn the_section_of_16_by_24_is_that_worked_by_hand() {
    // π/64 (24⁴ − 16⁴) = π/64 · 266 240 = π · 4160 = 13 069.03 mm⁴; mean radius (8 + 12)/2 = 10 mm.
    let hose = tube(16.0, 24.0).unwrap();
    check("inertia", hose.section_inertia(), 13_069.03, 0.005);
    assert_eq!(hose.mean_radius(), Length::mm(10.0));
    // √(18² + 24² − 16²) = √644 = 25.377 on a spigot of 18; on one of its own bore it stays 24.
    check("gripped on 18", hose.outside_on(Length::mm(18.0)).as_mm(), 25.377, 0.0005);
    check("gripped on 16", hose.outside_on(Length::mm(16.0)).as_mm(), 24.0, 1e-12);
}

#[test]
fn the_modulus_follows_gent() {
    // Gent's relation tabulated outside this code, to four decimals; the paper itself was not seen.
    for (shore_a, mpa) in
        [(20.0, 0.7319), (50.0, 2.4558), (60.0, 3.6051), (65.0, 4.4260), (70.0, 5.5205), (80.0, 9.3514)]
    {
        check("modulus", modulus_of_hardness(shore_a).unwrap().as_mpa(), mpa, 0.5e-4);
    }
    check("every hose", hose_modulus().value.as_mpa(), 4.4260, 0.5e-4);
    for outside in [19.9, 80.1, f64::NAN, f64::INFINITY] {
        assert_eq!(modulus_of_hardness(outside), None, "{outside}");
    }
}

#[test]
fn what_is_no_tube_is_no_hose() {
    for (bore, outside) in [(0.0, 8.0), (-1.0, 8.0), (8.0, 8.0), (8.0, 7.0), (f64::NAN, 8.0), (8.0, f64::NAN)] {
        assert_eq!(tube(bore, outside), None, "{bore} in {outside}");
    }
    assert_eq!(tube(8.0, f64::INFINITY), None);
    assert!(tube(8.0, 15.0).is_some_and(|hose| hose.own && hose.sold_by.is_none()));
}
