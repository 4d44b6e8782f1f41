//! A hose on its spigot and a hose sucked flat: grip, what pushes it off, modulus and collapse against tables made elsewhere.

use crate::cases::near;
use crate::kink::own;
use crate::table::rows;
use checks::{Bead, MountedOn, Spigot, collapse_pressure, grip_alone, grip_pressure, push_off};
use core::f64::consts::PI;
use quantity::{Length, Pressure};
use shape::Vec3;
use stock::{hose_modulus, modulus_of_hardness};

fn spigot(diameter: f64, seat: f64) -> Spigot {
    Spigot {
        name: "stub".to_owned(),
        diameter: Length::mm(diameter),
        bead: Bead::Plain,
        seat: Length::mm(seat),
        mouth: Vec3::ZERO,
        points: Vec3::new(1.0, 0.0, 0.0),
        on: MountedOn::Body,
        made_of: None,
        straight: None,
        can_move: None,
        turns: None,
        elbow: None,
    }
}

#[test]
fn the_pressure_on_a_spigot_is_that_of_the_closed_form_and_of_quadrature() {
    let table = rows(include_str!("../reference/spigot_stretch.csv"));
    assert_eq!(table.len(), 40);
    for row in table {
        let (bore, wall, on) = (row["bore_mm"], row["wall_mm"], row["spigot_OD_mm"]);
        let hose = own(bore, wall);
        let ours = grip_pressure(&hose, Length::mm(on)).as_mpa();
        for column in ["p_contact_MPa_lz1", "p_contact_quadrature"] {
            near(ours, row[column], 1e-5 * row[column] + 5.1e-7, &format!("{column}, {row:?}"));
        }
        let outside = hose.outside_on(Length::mm(on)).as_mm();
        near(outside, row["clamped_free_OD_mm_lz1"], 5.1e-5, &format!("{row:?}"));
        // Rubber keeps its volume, and here its length.
        let square = |x: f64| x * x;
        let kept = square(bore + 2.0 * wall) - square(bore);
        near((square(outside) - square(on)) / kept, 1.0, 1e-12, &format!("volume, {row:?}"));
        // With no force along it, it is shorter and grips less: never more than we say.
        assert!(ours >= row["p_contact_MPa_free"] - 1e-6, "{row:?}");
    }
}

#[test]
fn stretched_by_little_it_is_lames_tube() {
    // Lamé, small stretch e: 2 G e (1 - A²/B²), G = E/3.
    let shear = hose_modulus().value.as_mpa() / 3.0;
    for (bore, wall) in [(13.0, 3.5), (16.0, 4.0), (25.0, 4.5), (38.0, 5.0)] {
        let square = |x: f64| x * x;
        let thin = 1.0 - square(bore / (bore + 2.0 * wall));
        let ratio = |stretch: f64| {
            let on = Length::mm(bore * (1.0 + stretch));
            grip_pressure(&own(bore, wall), on).as_mpa() / (2.0 * shear * stretch * thin)
        };
        near(ratio(1e-3), 1.0, 0.003, &format!("{bore}"));
        near(ratio(1e-5), 1.0, 3e-5, &format!("{bore}"));
        let on = |on: f64| grip_pressure(&own(bore, wall), Length::mm(on)).as_kpa();
        assert!(on(bore).abs() < 1e-12 && on(bore - 1.0).abs() < 1e-12, "a loose hose grips nothing");
    }
}

#[test]
pub(crate) fn what_pushes_it_off_and_what_it_grips_with_are_those_of_the_table() {
    let table = rows(include_str!("../reference/blowoff.csv"));
    assert_eq!(table.len(), 36);
    for row in table {
        let (bore, on, friction) = (row["bore_mm"], row["spigot_mm"], row["mu_friction"]);
        let (wall, seat) = match bore {
            b if b < 14.0 => (3.5, 20.0),
            b if b < 20.0 => (4.0, 25.0),
            b if b < 26.0 => (4.5, 25.0),
            _ => (5.0, 30.0),
        };
        let force = push_off(Pressure::kpa(100.0 * row["p_bar"]), Length::mm(on));
        near(force, row["F_blowoff_N"], 0.0501, &format!("{row:?}"));
        let hose = own(bore, wall);
        let pressure = grip_pressure(&hose, Length::mm(on)).as_mpa();
        near(pressure, row["p_contact_MPa"], 5.01e-5, &format!("{row:?}"));
        near(grip_alone(&hose, &spigot(on, seat), friction), row["grip_no_clamp_N"], 0.0501, &format!("{row:?}"));
    }
    // By hand: 110 kPa on a stub of 16 mm is 0.11 π/4 16² = 22.1 N.
    near(push_off(Pressure::kpa(110.0), Length::mm(16.0)), 0.11 * PI / 4.0 * 256.0, 1e-9, "a stub left open");
}

#[test]
fn the_modulus_of_every_hardness_is_gents() {
    let table = rows(include_str!("../reference/modulus_vs_hardness.csv"));
    let mut compared = 0;
    for row in table.iter().filter(|row| (20.0..=80.0).contains(&row["Shore_A"])) {
        let ours = modulus_of_hardness(row["Shore_A"]).expect("in its range").as_mpa();
        near(ours, row["E_Gent_MPa"], 5.01e-5, &format!("{row:?}"));
        compared += 1;
    }
    assert_eq!(compared, 13);
}

#[test]
pub(crate) fn every_hose_is_sucked_flat_where_the_ring_of_the_tables_buckles() {
    let table = rows(include_str!("../reference/ring_collapse.csv"));
    assert_eq!(table.len(), 15);
    for row in table {
        let ours = collapse_pressure(&own(row["bore_mm"], row["wall_mm"])).as_kpa() / 100.0;
        near(ours, row["p_collapse_ring_bar"], 5.01e-4, &format!("{row:?}"));
    }
    // The finite-element study has E = 4.4 MPa: the collapse goes with the modulus.
    let study = rows(include_str!("../reference/kink_pressure_fe.csv"));
    assert_eq!(study.len(), 54);
    for row in study {
        let hose = own(row["bore_mm"], row["wall_mm"]);
        let ours = collapse_pressure(&hose).as_kpa() / 100.0 * 4.4 / hose_modulus().value.as_mpa();
        near(ours, row["pc_bar"], 5.01e-4, &format!("{row:?}"));
        if row["p_bar_gauge"].abs() < 1e-9 {
            near(checks::brazier_radius(&hose) / row["R_kink_FE_mm"], 1.0, 0.02, &format!("{row:?}"));
        }
    }
}
