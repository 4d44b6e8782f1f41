//! How long a person waits: one job from its file's text to the report, as the worker does it.
//!
//! The example has one run; three window searches (as stiff as taken, half, twice) and three hoses that lie alike.

use criterion::{Criterion, criterion_group, criterion_main};
use std::hint::black_box;
use stock::Stock;

const EXAMPLE: &str = include_str!("../../../tests/cases/example.json");

fn answer(c: &mut Criterion) {
    let stock = Stock::built_in();
    c.bench_function("the example, from file to report", |b| b.iter(|| share::answer(black_box(EXAMPLE), &stock)));
}

criterion_group!(benches, answer);
criterion_main!(benches);
