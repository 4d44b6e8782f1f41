//! Heat of the skin: view factors, air, the balance, sleeve and shield, standing coolant.

use crate::cases::near;
use crate::table::rows;
use checks::heat::air::{Air, film, nusselt, plume};
use checks::heat::balance::{Bay, Beside, Seen, Wall, air_near, film_thickness, shield};
use checks::heat::view::{in_front, seen, turned_away};
use checks::{Cover, Form};
use core::f64::consts::PI;
use quantity::Length;
use shape::Vec3;

/// The hose, the pipe and the bay of the reference tables.
const BORE: f64 = 16.0;
const OUTSIDE: f64 = 24.0;
const PIPE: f64 = 50.0;
const BAY: Bay = Bay { coolant: 95.0, air: 90.0 };
const STEEL: f64 = 0.80;

fn pipe(diameter: f64) -> Form {
    let (from, to) = (Vec3::new(0.0, -500.0, 0.0), Vec3::new(0.0, 500.0, 0.0));
    Form::Rod { from, to, diameter: Length::mm(diameter) }
}

/// The skin beside the pipe of the tables.
fn skin(hot: f64, gap: f64, cover: Cover, inner: f64) -> f64 {
    let part = in_front(&pipe(PIPE), gap);
    let air = air_near(hot, BAY.air, gap, film_thickness(hot, BAY.air, PIPE));
    let one = Seen { celsius: hot, emissivity: STEEL, part };
    Wall::new(BORE, OUTSIDE, cover, inner).skin(&[one], air, BAY.air, BAY.coolant)
}

#[test]
pub(crate) fn air_is_that_of_a_reference_equation_of_state() {
    // CoolProp 8.0.0, HEOS::Air.
    for row in rows(include_str!("../reference/heat/air_properties.csv")) {
        let air = Air::at(row["T_C"]);
        near(air.density / row["rho"], 1.0, 0.002, &format!("density {row:?}"));
        near(air.capacity / row["cp"], 1.0, 0.002, &format!("capacity {row:?}"));
        near(air.viscosity * 1e6 / row["mu_uPas"], 1.0, 0.002, &format!("viscosity {row:?}"));
        near(air.conductivity / row["k"], 1.0, 0.002, &format!("conductivity {row:?}"));
    }
}

#[test]
pub(crate) fn still_air_round_a_cylinder_is_that_of_churchill_and_chu() {
    // ht 1.2.0, printed to six digits.
    let table = rows(include_str!("../reference/heat/natural_convection_hcyl.csv"));
    assert!(table.len() > 50);
    for row in table {
        let ours = nusselt(row["Pr"], row["Ra"]);
        near(ours / row["Nu_ChurchillChu_lib"], 1.0, 1e-6, &format!("{row:?}"));
    }
    // Incropera, 6th and 7th ed., example 9.4: a pipe of 0.1 m at 165 °C in a room of 23 °C. With the book's air Ra is
    // 5.071e6, Nu 23.09 and h 7.227 W/(m²·K) by this formula; with ours within 1 %.
    near(nusselt(0.697, 5.071e6), 23.09, 0.01, "steam pipe");
    near(film(165.0, 23.0, 0.1), 7.227, 0.072, "steam pipe");
}

#[test]
fn a_piece_of_skin_sees_a_pipe_as_the_catalogue_says() {
    for row in rows(include_str!("../reference/heat/viewfactor_parallel_cylinders.csv")) {
        let (r1, r2, gap) = (row["r1_mm"], row["r2_mm"], row["gap_mm"]);
        let ours = seen(&pipe(2.0 * r1), Vec3::new(r1 + gap, 0.0, 0.0));
        near(ours.norm(), row["F_local_nearest"], 1e-6, &format!("{row:?}"));
        near(in_front(&pipe(2.0 * r1), gap), row["F_local_nearest"], 1e-6, &format!("{row:?}"));
        // Round the whole hose it is the mean exchange between two cylinders: Hottel's crossed strings.
        let pieces = 4000;
        let mean = |k: i32| {
            let round = PI * (f64::from(k) + 0.5) / f64::from(pieces);
            let (x, y) = (r1 + gap + r2 * (1.0 - libm::cos(round)), r2 * libm::sin(round));
            turned_away(r1 / libm::hypot(x, y), round + libm::atan2(y, x))
        };
        let sum: f64 = (0..pieces).map(mean).sum();
        near(sum / f64::from(pieces), row["F21"], 2e-6, &format!("mean, {row:?}"));
    }
    for row in rows(include_str!("../reference/heat/viewfactor_crossing90.csv")) {
        // A hose that crosses under the pipe: the piece on its side, off along the hose.
        let place = Vec3::new(row["r_pipe_mm"] + row["gap_mm"], 0.0, row["offset_mm"]);
        let ours = seen(&pipe(2.0 * row["r_pipe_mm"]), place);
        let turned = libm::atan2(place.z, place.x);
        let part = turned_away(ours.norm(), turned);
        near(part, row["F_local"], 1e-6, &format!("{row:?}"));
    }
    for row in rows(include_str!("../reference/heat/viewfactor_element_cylinder.csv")) {
        // We take a pipe as long: never less than a short one, and what its two halves see is all it has.
        let ours = in_front(&pipe(2.0 * row["r_mm"]), row["gap_mm"]);
        near(ours, row["F_infinite"], 1e-6, &format!("{row:?}"));
        assert!(ours >= row["F_closed"] - 1e-6, "{row:?}");
        if row["half_length_mm"] >= 50.0 + 2.0 * row["gap_mm"] {
            near(row["F_closed"] / ours, 1.0, 0.03, &format!("long enough, {row:?}"));
        }
    }
}

#[test]
fn a_piece_of_skin_sees_a_face_as_the_handbook_says() {
    // Element to a parallel rectangle, its normal through a corner: Incropera, 7th ed., Table 13.2 and Howell's B-4, here in
    // the form of two arc tangents.
    let corner = |a: f64, b: f64, c: f64| {
        let (x, y) = (a / c, b / c);
        let (u, v) = ((1.0 + x * x).sqrt(), (1.0 + y * y).sqrt());
        (x / u * libm::atan(y / u) + y / v * libm::atan(x / v)) / (2.0 * PI)
    };
    let plate = Form::Box { least: Vec3::new(-60.0, -40.0, -9.0), greatest: Vec3::new(60.0, 40.0, 0.0) };
    for up in [5.0, 20.0, 80.0, 300.0] {
        near(seen(&plate, Vec3::new(0.0, 0.0, up)).norm(), 4.0 * corner(60.0, 40.0, up), 1e-9, "over the middle");
        near(in_front(&plate, up), 4.0 * corner(60.0, 40.0, up), 1e-9, "in front");
        let at = seen(&plate, Vec3::new(60.0, 40.0, up));
        near(-at.z, corner(120.0, 80.0, up), 1e-9, "over a corner");
    }
    // A disc seen from its axis: r²/(r² + h²); 24 corners make it 1.2 % smaller.
    let (at, along) = (Vec3::ZERO, Vec3::new(0.0, 0.0, 1.0));
    let disc = Form::Disc { at, along, diameter: Length::mm(100.0), thick: Length::mm(10.0) };
    for up in [10.0, 50.0, 200.0] {
        let want = 2500.0 / (2500.0 + up * up);
        near(seen(&disc, Vec3::new(0.0, 0.0, 5.0 + up)).norm() / want, 1.0, 0.013, "disc");
        near(in_front(&disc, up), want, 1e-12, "disc in front");
    }
    // A ball: (r/ρ)². Far off, a box is what its outline is over π ρ².
    let ball = Form::Ball { at, diameter: Length::mm(100.0) };
    near(seen(&ball, Vec3::new(0.0, 200.0, 0.0)).norm(), 0.0625, 1e-12, "ball");
    let cube = Form::Box { least: Vec3::new(-10.0, -10.0, -10.0), greatest: Vec3::new(10.0, 10.0, 10.0) };
    let far = Vec3::new(3000.0, 3000.0, 0.0);
    near(seen(&cube, far).norm() * PI * far.dot(far), 400.0 * 2.0_f64.sqrt(), 1.0, "cube from its edge");
}

#[test]
pub(crate) fn the_skin_is_as_hot_as_in_the_tables() {
    // Another program, in Python; peak with the film of hot air. Within 0.3 K.
    for row in rows(include_str!("../reference/heat/hose_temperature_cases.csv")) {
        let (hot, gap) = (row["T_pipe_C"], row["gap_mm"]);
        let at = |cover| skin(hot, gap, cover, 3000.0);
        near(in_front(&pipe(PIPE), gap), row["F_local"], 1e-4, &format!("{row:?}"));
        near(at(Cover::Bare), row["T_peak_1D_with_hot_air_film_C"], 0.3, &format!("bare, {row:?}"));
        near(at(Cover::NewSleeve), row["T_rubber_under_sleeve_eps0.10_C"], 0.3, &format!("new, {row:?}"));
        near(at(Cover::DirtySleeve), row["T_rubber_under_sleeve_eps0.40_C"], 0.3, &format!("dirty, {row:?}"));
        near(film_thickness(hot, BAY.air, PIPE), row["film_thickness_mm"], 0.1, &format!("film, {row:?}"));
        // With heat going round the wall it is up to 8.2 K cooler, never hotter: on the safe side.
        let safe = at(Cover::Bare) - row["T_peak_2D_C"];
        assert!((-0.1..8.3).contains(&safe), "{safe}: {row:?}");
    }
}

#[test]
fn a_shield_is_as_hot_as_in_the_tables() {
    for row in rows(include_str!("../reference/heat/hose_temperature_shield.csv")) {
        let (hot, gap, face) = (row["T_pipe_C"], row["gap_pipe_to_hose_mm"], row["eps_front"]);
        let plate = shield(hot, in_front(&pipe(PIPE), gap / 2.0), face, BAY.air);
        // Printed in whole degrees.
        near(plate, row["T_shield_C"], 0.6, &format!("{row:?}"));
        let one = Seen { celsius: plate, emissivity: face, part: 1.0 };
        let skin = Wall::new(BORE, OUTSIDE, Cover::Bare, 3000.0).skin(&[one], BAY.air, BAY.air, BAY.coolant);
        near(skin, row["T_hose_peak_C"], 0.3, &format!("{row:?}"));
    }
}

#[test]
pub(crate) fn a_plume_is_as_hot_as_in_the_tables() {
    for row in rows(include_str!("../reference/heat/plume_above_pipe.csv")) {
        let (hot, gap) = (row["T_pipe_C"], row["gap_mm"]);
        let heat = film(hot, BAY.air, 1e-3 * PIPE) * PI * 1e-3 * PIPE * (hot - BAY.air);
        near(heat / row["Q_conv_W_m"], 1.0, 0.015, &format!("{row:?}"));
        // It rises with heat to the power 0.8: one percent is up to 3 K here.
        let air = plume(BAY.air, row["Q_conv_W_m"], 1e-3 * (gap + PIPE / 2.0));
        near((air - BAY.air) / (row["T_air_centreline_C"] - BAY.air), 1.0, 0.012, &format!("{row:?}"));
    }
    for row in rows(include_str!("../reference/heat/hose_above_pipe.csv")) {
        let (hot, gap) = (row["T_pipe_C"], row["gap_mm"]);
        let one = Seen { celsius: hot, emissivity: STEEL, part: in_front(&pipe(PIPE), gap) };
        let wall = Wall::new(BORE, OUTSIDE, Cover::Bare, 3000.0);
        let skin = wall.skin_in_plume(&[one], row["T_plume_C"], BAY.air, BAY.coolant);
        // Printed in whole degrees.
        near(skin, row["T_peak_h15"], 0.6, &format!("{row:?}"));
    }
}

#[test]
pub(crate) fn coolant_that_stands_still_gets_as_hot_as_on_a_grid() {
    // Finite volumes over the ring of the wall, heat going round it too: reference/heat/standing.py, another program.
    for row in rows(include_str!("../reference/heat/standing.csv")) {
        let (hot, gap) = (row["T_pipe_C"], row["gap_mm"]);
        let part = in_front(&pipe(PIPE), gap);
        let film = film_thickness(hot, BAY.air, PIPE);
        let beside = Beside { celsius: hot, emissivity: STEEL, part, gap, film };
        let wall = Wall::new(BORE, OUTSIDE, Cover::Bare, 200.0);
        let coolant = wall.standing(&beside, BAY);
        // What goes round the wall, which we leave out, moves it by up to 1 % of what it rises above the bay.
        let rise = row["T_coolant_standing_C"] - BAY.air;
        near(coolant, row["T_coolant_standing_C"], 0.3 + 0.01 * rise, &format!("{row:?}"));
        let one = Seen { celsius: hot, emissivity: STEEL, part };
        let peak = wall.skin(&[one], air_near(hot, BAY.air, gap, film), BAY.air, coolant);
        let safe = peak - row["T_peak_standing_C"];
        assert!((-0.1..12.0).contains(&safe), "{safe}: {row:?}");
        // Flowing, the same grid against the table above.
        let flowing = skin(hot, gap, Cover::Bare, 3000.0) - row["T_peak_flowing_C"];
        assert!((-0.1..12.0).contains(&flowing), "{flowing}: {row:?}");
    }
}

#[test]
fn between_planes_the_balance_is_that_of_the_textbook() {
    // Holman, 10th ed., example 8-10: planes of emissivity 0.3 and 0.8 pass 0.279 σ (T1⁴ - T2⁴); a shield of 0.04 between
    // them leaves 0.01902 of it. Here: the shield's own balance, without air, is half way in T⁴ where both sides are alike.
    let exchange = |e1: f64, e2: f64| 1.0 / (1.0 / e1 + 1.0 / e2 - 1.0);
    near(exchange(0.3, 0.8), 0.279, 5e-4, "planes");
    let through = 1.0 / (1.0 / exchange(0.3, 0.04) + 1.0 / exchange(0.04, 0.8));
    near(through, 0.01902, 5e-6, "with a shield");
    // The same heat through our wall: a face that sees nothing but one hot plane settles where that exchange, less what the
    // air takes, goes into the coolant.
    let one = Seen { celsius: 300.0, emissivity: 0.3, part: 1.0 };
    let wall = Wall::new(BORE, OUTSIDE, Cover::Bare, 3000.0);
    let skin = wall.skin(&[one], BAY.air, BAY.air, BAY.coolant);
    let fourth = |c: f64| (c + 273.15) * (c + 273.15) * (c + 273.15) * (c + 273.15);
    let taken = 5.670_374_419e-8 * exchange(0.3, 0.92) * (fourth(300.0) - fourth(skin))
        - film(skin, BAY.air, 0.024) * (skin - BAY.air);
    let through = (skin - BAY.coolant) / (0.012 * (libm::log(1.5) / 0.25 + 1.0 / (0.008 * 3000.0)));
    near(taken / through, 1.0, 1e-6, "what comes in goes through");
}

#[test]
fn hotter_things_make_hotter_skin_and_a_sleeve_never_does() {
    for gap in [5.0, 20.0, 60.0, 150.0] {
        let mut before = 0.0;
        for hot in [150.0, 250.0, 350.0, 450.0, 600.0, 800.0] {
            let bare = skin(hot, gap, Cover::Bare, 3000.0);
            assert!(bare > before, "{hot} at {gap}");
            before = bare;
            let (new, dirty) = (skin(hot, gap, Cover::NewSleeve, 3000.0), skin(hot, gap, Cover::DirtySleeve, 3000.0));
            assert!(new <= dirty && dirty <= bare, "{new} {dirty} {bare}");
            assert!(skin(hot, gap + 5.0, Cover::Bare, 3000.0) < bare, "further off is cooler");
        }
    }
    // Nothing hotter than the coolant, and the bay as hot: the skin is the coolant.
    let one = Seen { celsius: 95.0, emissivity: STEEL, part: 0.4 };
    near(Wall::new(BORE, OUTSIDE, Cover::Bare, 3000.0).skin(&[one], 95.0, 95.0, 95.0), 95.0, 1e-6, "all alike");
}
