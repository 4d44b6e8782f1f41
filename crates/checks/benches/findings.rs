//! How long the checks of one lie take: all that is told of it, what bounds the lengths, and pass or fail alone.

use checks::{
    Bead, Conditions, Cover, Form, Kind, Laid, MadeOf, MountedOn, Neighbour, Replaced, Spigot, all, passes, readings,
    too_near,
};
use coolant::{Fluid, Glycol, Mix};
use criterion::{Criterion, criterion_group, criterion_main};
use quantity::{Angle, Length, Pressure, Temperature};
use shape::{Ends, Section, Vec3, rest};
use std::hint::black_box;
use stock::Stock;

fn spigot(name: &str, mouth: Vec3, points: Vec3, on: MountedOn) -> Spigot {
    Spigot {
        name: name.to_owned(),
        diameter: Length::mm(16.0),
        bead: Bead::Of(Length::mm(17.2)),
        seat: Length::mm(30.0),
        mouth,
        points,
        on,
        made_of: Some(MadeOf::Steel),
        straight: None,
        can_move: None,
        turns: None,
        elbow: None,
    }
}

fn thing(name: &str, form: Form, kind: Kind, on: MountedOn) -> Neighbour {
    let name = name.to_owned();
    Neighbour { name, form, kind, on, standoff: None, travel: Vec3::ZERO, may_touch: false, shield: None }
}

/// The example of the page: an invented car, a hot pipe and a tray.
fn benches(criterion: &mut Criterion) {
    let stock = Stock::built_in();
    let hose = stock.hoses.iter().find(|hose| hose.bore == Length::mm(16.0)).expect("sold");
    let from = spigot("water rail", Vec3::ZERO, Vec3::new(0.0, 1.0, 0.0), MountedOn::Engine);
    let to = spigot("heater core", Vec3::new(-280.0, 210.0, 70.0), Vec3::new(1.0, 0.0, 0.0), MountedOn::Body);
    let (low, high) = (Vec3::new(-190.0, 75.0, -150.0), Vec3::new(-190.0, 75.0, 250.0));
    let pipe = Form::Rod { from: low, to: high, diameter: Length::mm(50.0) };
    let tray = Form::Box { least: Vec3::new(-150.0, 250.0, -80.0), greatest: Vec3::new(0.0, 330.0, 60.0) };
    let neighbours = [
        thing("exhaust pipe", pipe, Kind::Hot(Some(Temperature::celsius(400.0))), MountedOn::Engine),
        thing("battery tray", tray, Kind::Solid, MountedOn::Body),
    ];
    let coolant = Temperature::celsius(95.0);
    let mix = Mix::new(Glycol::Ethylene, 0.5).expect("half");
    let conditions = Conditions {
        filler_z: None,
        nose_up: Angle::ZERO,
        coolant,
        bay_air: Temperature::celsius(90.0),
        cap: Some(Pressure::kpa(110.0)),
        boils: coolant::boils_at(mix, Pressure::kpa(110.0), Length::ZERO),
        fluid: Fluid::of(mix, coolant),
        flow: 10.0,
        rest: Pressure::kpa(8.0),
    };
    let ends = Ends { a: from.mouth, tangent_a: from.points, b: to.mouth, tangent_b: -to.points };
    let weight = Vec3::new(0.0, 0.0, -hose.filled_weight_per_mm());
    let lie = rest(&ends, 425.0, &Section { stiffness: hose.bend_stiffness(), weight }).expect("a lie");
    let replaced = Some(Replaced { length: Some(Length::mm(560.0)), bore: Some(Length::mm(16.0)) });
    let laid = Laid {
        from: &from,
        to: &to,
        neighbours: &neighbours,
        conditions: &conditions,
        side: None,
        flow_can_stop: false,
        cover: Cover::Bare,
        replaced,
        hose,
        bore: None,
        stock: &stock,
        pose: None,
        lie: &lie,
    };
    let mut group = criterion.benchmark_group("one lie");
    group.bench_function("all findings", |bencher| bencher.iter(|| all(black_box(&laid), None)));
    let standing = Laid { flow_can_stop: true, ..laid };
    group.bench_function("all findings, coolant standing", |bencher| bencher.iter(|| all(black_box(&standing), None)));
    let mut out = Vec::new();
    group.bench_function("what bounds the lengths", |bencher| {
        bencher.iter(|| readings(black_box(&laid), None, &mut out));
    });
    group.bench_function("the same, coolant standing", |bencher| {
        bencher.iter(|| readings(black_box(&standing), None, &mut out));
    });
    let too_hot = too_near(&laid);
    group.bench_function("pass or fail", |bencher| bencher.iter(|| passes(black_box(&laid), &too_hot)));
    group.finish();
}

criterion_group!(findings, benches);
criterion_main!(findings);
