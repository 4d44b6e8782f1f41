//! The tables of `data/` as the build wrote them.

use crate::{BoreRow, Clamp, ClampKind, Class, Hose, Making, Rubber, Tightening, Torque};
use quantity::{Basis, Length, Moment, Source, Sourced, Temperature};
use std::borrow::Cow;

include!(concat!(env!("OUT_DIR"), "/tables.rs"));
