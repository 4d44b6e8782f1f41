//! The run that is there at first start: our own invented car, and it says so.

/// The example as a job file. Everything in it is invented.
pub(crate) const EXAMPLE: &str = include_str!("../../tests/cases/example.json");

/// The example of a whole car, which is the same with its other hoses. Everything in it is invented.
pub(crate) const EXAMPLE_CAR: &str = include_str!("../../tests/cases/car.json");
