//! How long a run takes: its lengths standing and rocking, with chances, and how that grows with the things near it.

use criterion::{BenchmarkId, Criterion, criterion_group, criterion_main};
use job::Work;
use job::input::{FormInput, Input};
use std::hint::black_box;
use stock::Stock;

/// The example with one hose and so many things near it, of which all but two stand far off.
fn example(things: usize, rock: [f64; 3]) -> Input {
    let mut input = share::read(include_str!("../../../tests/cases/example.json")).expect("the example is a job").input;
    let run = &mut input.runs[0];
    run.rock_mm = Some(rock);
    run.hose = Some(job::input::HoseInput {
        bore_mm: 16.0,
        wall_mm: Some(4.0),
        outside_mm: None,
        rubber: None,
        class: Some("D-1".to_owned()),
        min_bend_radius_mm: None,
        creases_at_inside_mm: None,
        piece_mm: None,
        rated_kpa: None,
        wire_supported: None,
    });
    let far = run.neighbours[0].clone();
    run.neighbours.truncate(things);
    while run.neighbours.len() < things {
        let mut thing = far.clone();
        let off = 600.0 + 20.0 * run.neighbours.len() as f64;
        if let FormInput::Rod { from_mm, to_mm, .. } = &mut thing.shape {
            (from_mm[0], to_mm[0]) = (off, off);
        }
        run.neighbours.push(thing);
    }
    input
}

fn benches(criterion: &mut Criterion) {
    let stock = Stock::built_in();
    let mut group = criterion.benchmark_group("a run");
    group.sample_size(10);
    for (what, rock) in [("standing", [0.0; 3]), ("rocking, 8 corners", [5.0, 5.0, 8.0])] {
        for things in [1, 10, 100] {
            let job = job::accept(&example(things, rock)).job;
            group.bench_function(BenchmarkId::new(what, things), |bencher| {
                bencher.iter(|| Work::begin(black_box(&job).clone(), None).broad(&stock));
            });
        }
    }
    let job = job::accept(&example(2, [5.0, 5.0, 8.0])).job;
    let mut known = Work::begin(job.clone(), None);
    known.whole(&stock);
    group.bench_function("another cut of a known run", |bencher| bencher.iter(|| known.whole(&stock)));
    group.bench_function("all, with how it moves with the stiffness", |bencher| {
        bencher.iter(|| Work::begin(black_box(&job).clone(), None).whole(&stock));
    });
    group.finish();
}

criterion_group!(all, benches);
criterion_main!(all);
