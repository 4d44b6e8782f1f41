//! The form: every number of a run as it was typed, and the job file it makes.

mod car;
pub(crate) mod car_fields;
mod differs;
mod draft;
mod fields;
mod sheet;
pub(crate) mod sketch;
pub(crate) mod stand;

pub(crate) use differs::differs;
pub(crate) use draft::Draft;
pub(crate) use fields::{Reads, groups};
pub(crate) use sheet::{fields_of, measurements, one_field, place_of};
