//! The built-in tables against the standards they were taken from and against each other.

use quantity::{Basis, Length, Moment, Temperature, Window};
use stock::{ClampKind, Making, Rubber, Stock, Tightening};

static STOCK: Stock = Stock::built_in();

fn bores_mm() -> Vec<f64> {
    let mut bores: Vec<f64> = STOCK.hoses.iter().map(|hose| hose.bore.as_mm()).collect();
    bores.dedup();
    bores
}

fn limits_mm(nominal: Length) -> Option<(f64, f64)> {
    let window = STOCK.bore_limits(nominal)?.value;
    Some((window.least().as_mm(), window.greatest().as_mm()))
}

#[test]
fn bore_limits_are_those_of_iso_1307() {
    // EN ISO 1307:2008, Table 1, as transcribed on an industrial hose page.
    let of = |nominal: f64, making| {
        let rows = STOCK.bores.iter().find(|row| row.nominal == Length::mm(nominal) && row.making == making);
        rows.map(|row| (row.least.as_mm(), row.greatest.as_mm()))
    };
    assert_eq!(of(16.0, Making::RigidMandrel), Some((15.5, 16.7)));
    assert_eq!(of(16.0, Making::NoMandrel), Some((15.1, 16.7)));
    assert_eq!(of(19.0, Making::FlexibleMandrel), Some((18.6, 19.8)));
    assert_eq!(of(25.0, Making::NoMandrel), Some((24.2, 26.6)));
    assert_eq!(of(38.0, Making::RigidMandrel), Some((37.7, 39.3)));
    assert_eq!(of(50.0, Making::FlexibleMandrel), None);
    assert_eq!(STOCK.bores.len(), 48);
}

#[test]
fn bore_limits_are_the_widest_of_every_way_of_making() {
    // By hand from the same table.
    assert_eq!(limits_mm(Length::mm(16.0)), Some((15.1, 16.7)));
    assert_eq!(limits_mm(Length::mm(10.0)), Some((8.7, 10.3)));
    assert_eq!(limits_mm(Length::mm(19.0)), Some((18.3, 19.9)));
}

#[test]
fn an_inch_size_within_a_fifth_of_a_millimetre_is_the_metric_size() {
    assert_eq!(limits_mm(Length::inches(0.625)), limits_mm(Length::mm(16.0)));
    assert_eq!(limits_mm(Length::inches(0.5)), limits_mm(Length::mm(12.5)));
    assert_eq!(limits_mm(Length::inches(2.0)), limits_mm(Length::mm(51.0)), "51 − 50.8 rounds to more than 0.2");
    assert!(limits_mm(Length::inches(2.0)).is_some());
    for between in [Length::inches(1.0), Length::mm(28.0), Length::mm(13.0), Length::mm(200.0), Length::mm(f64::NAN)] {
        assert_eq!(limits_mm(between), None, "{between:?}");
    }
    assert!(Stock { bores: Vec::new().into(), ..Stock::built_in() }.bore_limits(Length::mm(16.0)).is_none());
}

#[test]
fn every_nominal_bore_lies_inside_its_own_limits_or_a_little_below() {
    // ISO 1307 puts the least bore of a rigid mandrel at or below nominal, but for 63, where it is 63.1.
    for row in STOCK.bores.iter() {
        let window = Window::new(row.least, row.greatest).unwrap();
        assert!(
            window.contains(row.nominal.max(row.least)) && row.least - row.nominal <= Length::mm(0.1 + 1e-9),
            "{row:?}"
        );
    }
}

#[test]
fn the_inch_sizes_of_the_trade_are_there() {
    // 1/2 and 1 1/8 in are the ends of the range of A-A-52426A type I; the others are common practice.
    for inches in [0.375, 0.5, 0.625, 0.75, 0.875, 1.0, 1.125, 1.25, 1.375, 1.5, 1.75, 2.0] {
        let size = Length::inches(inches);
        assert!(bores_mm().iter().any(|bore| (bore - size.as_mm()).abs() <= 0.2), "{inches} in");
    }
}

#[test]
fn no_two_bores_are_the_same_hose_under_two_names() {
    for pair in bores_mm().windows(2) {
        assert!(pair[1] - pair[0] > 0.2, "{pair:?}");
    }
}

#[test]
fn every_bore_comes_in_the_same_three_classes() {
    for bore in bores_mm() {
        let classes: Vec<&str> = STOCK
            .hoses
            .iter()
            .filter(|hose| hose.bore == Length::mm(bore))
            .filter_map(|hose| hose.class.as_deref())
            .collect();
        assert_eq!(classes, ["A", "D-1", "D-3"], "{bore}");
    }
}

#[test]
fn outside_diameters_are_near_those_of_a_published_table() {
    // GOST 10362-76, Table 1, 0.63 MPa, a thread-reinforced hose for other duties: bore and outside diameter, mm. It
    // says nothing about coolant, but a wall assigned to the wrong bore would miss its diameters; its own tolerance is
    // 1.0 mm to 25 and 1.5 mm above.
    for (bore, outside) in [(10.0, 17.5), (16.0, 24.0), (25.0, 34.0), (32.0, 41.5), (38.0, 47.5), (50.0, 60.0)] {
        let hose = STOCK.hoses.iter().find(|hose| hose.bore == Length::mm(bore)).unwrap();
        assert!((hose.outside.as_mm() - outside).abs() <= 1.0, "{hose:?}");
    }
}

#[test]
fn walls_are_those_of_din_73411() {
    // DIN 73411-1:1996-10, Table 1: 3.5, 4.0 and 4.5 mm for cars, 5.0 mm among those for commercial vehicles.
    for hose in STOCK.hoses.iter() {
        let wall = hose.wall().as_mm();
        assert!([3.5, 4.0, 4.5, 5.0].iter().any(|listed| (wall - listed).abs() < 1e-9), "{hose:?}");
        assert!(!hose.own && !hose.wire_supported && hose.least_bend_inside.is_none(), "{hose:?}");
    }
}

#[test]
fn temperatures_are_those_of_sae_j20() {
    // SAE J20:2022 as given in a summary: A 175, B and C 100, D-1, D-2 and E 125, D-3 150 °C.
    for (name, rubber, greatest) in [
        ("A", Rubber::Silicone, 175.0),
        ("B", Rubber::Nbr, 100.0),
        ("C", Rubber::Cr, 100.0),
        ("D-1", Rubber::Epdm, 125.0),
        ("D-2", Rubber::Epdm, 125.0),
        ("D-3", Rubber::Epdm, 150.0),
        ("E", Rubber::Epdm, 125.0),
    ] {
        let class = STOCK.class(name).unwrap();
        assert_eq!((class.rubber, class.limit().value), (rubber, Temperature::celsius(greatest)), "{name}");
        let least = if name == "A" { -55.0 } else { -40.0 };
        assert_eq!(class.least, Temperature::celsius(least), "{name}");
    }
    assert_eq!(STOCK.class("d-1"), None);
    for hose in STOCK.hoses.iter() {
        let class = STOCK.class(hose.class.as_deref().unwrap()).unwrap();
        assert_eq!((hose.rubber, hose.limit.as_ref()), (Some(class.rubber), Some(&class.limit())), "{hose:?}");
    }
}

#[test]
fn clamp_sizes_are_those_of_their_standards() {
    let of = |standard: &str, size: &str| {
        let clamp = STOCK.clamps.iter().find(|clamp| clamp.standard == standard && clamp.size == size).unwrap();
        (clamp.least.as_mm(), clamp.greatest.as_mm(), clamp.band_greatest.as_mm())
    };
    // SAE J1508 type F as transcribed in an article; DIN 3021-1 Table 1 as a dealer transcribed it.
    assert_eq!(of("SAE J1508 type F", "06"), (11.2, 19.8, 14.5));
    assert_eq!(of("SAE J1508 type F", "28"), (33.3, 57.1, 14.5));
    assert_eq!(of("DIN 3021-1", "24"), (22.0, 26.0, 12.0));
    assert_eq!(of("DIN 3021-1", "51"), (44.0, 54.0, 12.0));
    for clamp in STOCK.clamps.iter().filter(|clamp| clamp.standard == "DIN 3017-1 form A") {
        assert_eq!(clamp.source.basis, Basis::FromMemory, "nobody has read that table yet");
    }
}

#[test]
fn a_worm_drive_closes_from_its_least_to_its_greatest() {
    // SAE J1508 type F size 28: 33.3 to 57.1 mm, band 12.6 to 14.5 mm, as transcribed in an article.
    let clamp = STOCK.clamps.iter().find(|clamp| clamp.size == "28" && clamp.kind == ClampKind::WormDrive).unwrap();
    for (outside, holds, opens_over) in
        [(33.2, false, true), (33.3, true, true), (57.1, true, true), (57.2, false, false)]
    {
        let outside = Length::mm(outside);
        assert_eq!((clamp.holds(outside), clamp.opens_over(outside)), (holds, opens_over), "{outside:?}");
    }
    // Its band is the one that TM 5-3895-382-24, Table 11, calls 13.5 mm.
    assert_eq!(STOCK.torque_for(clamp.band(), Tightening::NewHose).unwrap().band, Some(Length::mm(13.5)));
}

#[test]
fn a_spring_band_is_meant_for_a_diameter_it_holds() {
    for clamp in STOCK.clamps.iter().filter(|clamp| clamp.kind == ClampKind::SpringBand) {
        assert!(clamp.nominal.is_some_and(|nominal| clamp.holds(nominal)), "{clamp:?}");
    }
}

#[test]
fn every_hose_on_its_own_bore_and_on_a_tenth_more_can_be_clamped() {
    for hose in STOCK.hoses.iter().filter(|hose| hose.outside >= Length::mm(14.0)) {
        for spigot in [hose.bore, hose.bore * 1.1] {
            let gripped = hose.outside_on(spigot);
            let screws = |kind| STOCK.clamps.iter().any(|clamp| clamp.kind == kind && clamp.holds(gripped));
            assert!(screws(ClampKind::WormDrive), "{gripped:?}");
            // Spring bands end at size 51.
            assert!(screws(ClampKind::SpringBand) || gripped > Length::mm(54.0), "{gripped:?}");
        }
    }
}

#[test]
fn torques_are_those_of_the_manual() {
    // TM 5-3895-382-24, Table 11: band 7.9, 13.5 and 15.9 mm, new hose and again, N·m.
    for (band, tightening, torque, plus_minus) in [
        (7.9, Tightening::NewHose, 0.9, 0.2),
        (13.5, Tightening::NewHose, 4.5, 0.5),
        (15.9, Tightening::NewHose, 7.5, 0.5),
        (7.9, Tightening::Again, 0.7, 0.2),
        (13.5, Tightening::Again, 3.0, 0.5),
        (15.9, Tightening::Again, 4.5, 0.5),
    ] {
        let row = STOCK.torque_for(Length::mm(band), tightening).unwrap();
        assert_eq!((row.torque, row.plus_minus), (Moment::nm(torque), Moment::nm(plus_minus)), "{band} {tightening:?}");
        assert_eq!(row.band, Some(Length::mm(band)));
        assert_eq!(row.source.basis, Basis::Published);
    }
    assert_eq!(STOCK.torque_for(Length::mm(5.0), Tightening::NewHose), None);
    assert_eq!(STOCK.torque_for(Length::mm(f64::NAN), Tightening::NewHose), None);
}

#[test]
fn answers_do_not_hang_on_the_order_of_the_rows() {
    let backwards = Stock {
        bores: STOCK.bores.iter().rev().cloned().collect(),
        torques: STOCK.torques.iter().rev().cloned().collect(),
        ..Stock::built_in()
    };
    for nominal in STOCK.bores.iter().map(|row| row.nominal) {
        assert_eq!(backwards.bore_limits(nominal), STOCK.bore_limits(nominal));
    }
    for band in [7.5, 9.0, 12.0, 13.5, 20.0].map(Length::mm) {
        for tightening in [Tightening::NewHose, Tightening::Again] {
            assert_eq!(backwards.torque_for(band, tightening), STOCK.torque_for(band, tightening));
        }
    }
}

#[test]
fn the_second_sheet_agrees_with_the_manual_within_both_tolerances() {
    for other in STOCK.torques.iter().filter(|torque| torque.source.basis != Basis::Published) {
        let manual = STOCK.torque_for(other.band_from, other.tightening).unwrap();
        let apart = (manual.torque - other.torque).abs();
        assert!(apart <= manual.plus_minus + other.plus_minus + Moment::nm(1e-9), "{manual:?} {other:?}");
    }
}
