//! Values that know their unit.
