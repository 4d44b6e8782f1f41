//! Legs and bends against handbook lengths, points worked out by hand, brute force, and back again.

use crate::layouts::Draw;
use shape::{Bend, Leg, NoPath, Path, Vec3, Way};
use std::f64::consts::{FRAC_PI_2, PI};

const X: Vec3 = Vec3::new(1.0, 0.0, 0.0);
const Y: Vec3 = Vec3::new(0.0, 1.0, 0.0);
const Z: Vec3 = Vec3::new(0.0, 0.0, 1.0);

fn leg(straight: f64, angle: f64, way: Way, inside: f64) -> Leg {
    Leg { straight, bend: Some(Bend { angle, way, inside }) }
}

fn end_leg(straight: f64) -> Leg {
    Leg { straight, bend: None }
}

fn close(what: &str, ours: Vec3, theirs: Vec3) {
    assert!((ours - theirs).norm() < 1e-9, "{what}: {ours:?} against {theirs:?}");
}

#[test]
fn arcs_are_as_long_as_the_handbooks_say() {
    // Developed length of a bend = centre-line radius x angle; for degrees 0.017453 R A (Machinery's Handbook, lengths of circular
    // arcs; from memory). A 90 degree elbow of 24 mm hose, 50 mm to the inside: R = 62, arc 97.389 mm.
    let elbow =
        Path::from_legs(Vec3::ZERO, X, &[leg(40.0, FRAC_PI_2, Way::Towards(Y), 50.0), end_leg(60.0)], 24.0).unwrap();
    assert!((elbow.length() - (40.0 + 97.389_4 + 60.0)).abs() < 1e-4, "{}", elbow.length());
    assert!((elbow.bends()[0].radius - 62.0).abs() < 1e-12, "centre-line radius");
    close("corner", elbow.bends()[0].corner().unwrap(), Vec3::new(102.0, 0.0, 0.0));
    close("centre", elbow.bends()[0].centre(), Vec3::new(40.0, 62.0, 0.0));
    close("end", elbow.end().0, Vec3::new(102.0, 122.0, 0.0));
    close("direction", elbow.end().1, Y);
    // For 30, 45, 60 degrees and R = 100: 52.360, 78.540, 104.720 mm.
    for (degrees, long) in [(30.0, 52.360), (45.0, 78.540), (60.0, 104.720)] {
        let legs = [leg(0.0, f64::to_radians(degrees), Way::Towards(Z), 88.0), end_leg(0.0)];
        let path = Path::from_legs(Vec3::ZERO, X, &legs, 24.0).unwrap();
        assert!((path.length() - long).abs() < 5e-4, "{degrees} degrees: {}", path.length());
    }
}

#[test]
fn a_twist_of_nothing_goes_on_round_and_a_half_turn_goes_back() {
    let bent = |twist: f64| {
        let legs =
            [leg(10.0, FRAC_PI_2, Way::Towards(Y), 20.0), leg(30.0, FRAC_PI_2, Way::Twist(twist), 20.0), end_leg(5.0)];
        Path::from_legs(Vec3::ZERO, X, &legs, 0.0).unwrap()
    };
    // A U: back along -x, 20 + 30 + 20 up.
    close("U, end", bent(0.0).end().0, Vec3::new(5.0, 70.0, 0.0));
    close("U, direction", bent(0.0).end().1, -X);
    // An S: on along x.
    close("S, end", bent(PI).end().0, Vec3::new(10.0 + 20.0 + 20.0 + 5.0, 70.0, 0.0));
    close("S, direction", bent(PI).end().1, X);
    // A quarter twist, right-handed about +y, from -x to +z.
    close("quarter, direction", bent(FRAC_PI_2).end().1, Z);
    close("quarter, end", bent(FRAC_PI_2).end().0, Vec3::new(30.0, 70.0, 25.0));
}

#[test]
fn a_half_turn_is_a_bend_without_a_corner() {
    let legs = [leg(50.0, PI, Way::Towards(Y), 30.0), end_leg(80.0)];
    let path = Path::from_legs(Vec3::ZERO, X, &legs, 20.0).unwrap();
    close("end", path.end().0, Vec3::new(-30.0, 80.0, 0.0));
    assert!((path.length() - (130.0 + 40.0 * PI)).abs() < 1e-9, "{}", path.length());
    assert!(path.corners().is_none() && path.bends()[0].corner().is_none(), "a corner at infinity");
    assert_eq!(path.legs().len(), 2, "two legs");
}

/// Up to five bends, any way, up to 170 degrees.
fn drawn(draw: &mut Draw) -> (Vec3, Vec3, Vec<Leg>, f64) {
    let bends = draw.between(1.0, 5.99).floor();
    let mut legs = Vec::new();
    let mut k = 0.0;
    while k < bends {
        let way = if k < 0.5 || draw.between(0.0, 1.0) < 0.5 {
            Way::Towards(draw.direction())
        } else {
            Way::Twist(draw.between(-PI, PI))
        };
        legs.push(leg(draw.between(0.0, 200.0), draw.between(0.05, 2.967), way, draw.between(5.0, 120.0)));
        k += 1.0;
    }
    legs.push(end_leg(draw.between(1.0, 200.0)));
    (draw.direction() * draw.between(0.0, 500.0), draw.direction(), legs, draw.between(8.0, 60.0))
}

fn same(what: &str, one: &Path, other: &Path) {
    assert!((one.length() - other.length()).abs() < 1e-9, "{what}: {} and {}", one.length(), other.length());
    assert_eq!(one.bends().len(), other.bends().len(), "{what}");
    for k in 0..=100 {
        let s = one.length() * f64::from(k) / 100.0;
        let ((p, t), (q, u)) = (one.at(s), other.at(s));
        assert!((p - q).norm() < 1e-9 && (t - u).norm() < 1e-9, "{what} at {s}: {p:?} and {q:?}");
    }
    for (a, b) in one.legs().iter().zip(other.legs()) {
        assert!((a.straight - b.straight).abs() < 1e-9, "{what}: {a:?} and {b:?}");
        if let (Some(a), Some(b)) = (a.bend, b.bend) {
            assert!((a.angle - b.angle).abs() < 1e-9 && (a.inside - b.inside).abs() < 1e-9, "{what}: {a:?} and {b:?}");
        }
    }
}

#[test]
fn a_thousand_paths_come_back_from_their_corners_and_their_twists() {
    let mut draw = Draw(51);
    for _ in 0..1000 {
        let (start, direction, legs, outside) = drawn(&mut draw);
        let path = Path::from_legs(start, direction, &legs, outside).unwrap();
        for (given, back) in legs.iter().zip(path.legs()) {
            assert!((given.straight - back.straight).abs() < 1e-9, "{given:?} came back as {back:?}");
            if let (Some(given), Some(back)) = (given.bend, back.bend) {
                assert!((given.angle - back.angle).abs() < 1e-9, "{given:?} came back as {back:?}");
                assert!((given.inside - back.inside).abs() < 1e-9, "{given:?} came back as {back:?}");
            }
        }
        for (given, back) in legs.iter().zip(path.legs_by_twist()) {
            if let (Some(Way::Twist(given)), Some(Way::Twist(back))) =
                (given.bend.map(|bend| bend.way), back.bend.map(|bend| bend.way))
            {
                assert!((given - back).abs() < 1e-9, "a twist of {given} came back as {back}");
            }
        }
        for legs in [path.legs(), path.legs_by_twist()] {
            same("legs", &path, &Path::from_legs(start, direction, &legs, outside).unwrap());
        }
        let insides: Vec<f64> = legs.iter().filter_map(|leg| leg.bend).map(|bend| bend.inside).collect();
        let corners = path.corners().unwrap();
        same("corners", &path, &Path::from_corners(&corners, &insides, outside).unwrap());
    }
}

#[test]
fn places_are_as_far_along_as_is_said_and_distances_are_the_least() {
    let mut draw = Draw(52);
    for _ in 0..60 {
        let (start, direction, legs, outside) = drawn(&mut draw);
        let path = Path::from_legs(start, direction, &legs, outside).unwrap();
        let fine = 20_000;
        let places = path.places(fine);
        let step = path.length() / fine as f64;
        close("begins", places[0], start);
        close("ends", places[fine], path.end().0);
        // Chords of a curve traversed at speed one: the length, but for R (step/R)³/24 each.
        let long: f64 = places.windows(2).map(|pair| (pair[1] - pair[0]).norm()).sum();
        assert!((long / path.length() - 1.0).abs() < 1e-6, "{long} of {}", path.length());
        for _ in 0..20 {
            let place = start + draw.direction() * draw.between(0.0, 400.0);
            let (apart, s) = path.distance(place);
            let (there, _) = path.at(s);
            assert!((apart - (place - there).norm()).abs() < 1e-9, "the distance is that to the place told");
            let least = places.iter().map(|p| (place - *p).norm()).fold(f64::INFINITY, f64::min);
            assert!(apart <= least + 1e-9 && apart > least - step, "{apart} told, {least} by brute force");
        }
        // Square off an arc by no more than its radius the arc is nearest, unless another part of the path is nearer still.
        for arc in path.bends() {
            let (p, t) = path.at(0.5 * (arc.from + arc.to));
            let off = t.cross(arc.side).direction().unwrap() * (0.3 * arc.radius);
            assert!(path.distance(p + off).0 <= 0.3 * arc.radius + 1e-9, "off an arc");
        }
    }
}

#[test]
fn what_makes_no_path_says_which_leg() {
    let build = |legs: &[Leg]| Path::from_legs(Vec3::ZERO, X, legs, 20.0).map(|_| ());
    let good = leg(10.0, 1.0, Way::Towards(Y), 10.0);
    assert_eq!(build(&[good, end_leg(10.0)]), Ok(()), "good legs");
    assert_eq!(build(&[]), Err(NoPath::BadLeg(0)), "no legs");
    assert_eq!(build(&[good]), Err(NoPath::BadLeg(0)), "a bend at the very end");
    assert_eq!(build(&[end_leg(1.0), end_leg(1.0)]), Err(NoPath::BadLeg(0)), "no bend between");
    assert_eq!(
        build(&[leg(10.0, 1.0, Way::Twist(0.0), 10.0), end_leg(1.0)]),
        Err(NoPath::NoBendBefore),
        "a twist first"
    );
    assert_eq!(build(&[leg(10.0, 1.0, Way::Towards(X), 10.0), end_leg(1.0)]), Err(NoPath::BadLeg(0)), "along the leg");
    for angle in [0.0, -1.0, 3.2, f64::NAN] {
        let legs = [good, leg(10.0, angle, Way::Twist(0.0), 10.0), end_leg(1.0)];
        assert_eq!(build(&legs), Err(NoPath::BadLeg(1)), "an angle of {angle}");
    }
    let corners = [Vec3::ZERO, X * 50.0, X * 50.0 + Y * 30.0, X * 90.0 + Y * 30.0];
    assert!(Path::from_corners(&corners, &[5.0, 5.0], 10.0).is_ok(), "15 of 30 mm for either bend");
    assert_eq!(
        Path::from_corners(&corners, &[20.0, 20.0], 10.0),
        Err(NoPath::Overlap(1)),
        "25 of 30 mm for either bend"
    );
}
