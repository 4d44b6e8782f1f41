//! Values that know their unit, the windows they may lie in, where they come from, and how people write them.
//!
//! # Units
//! Inside, a [`Length`] is millimetres, a [`Force`] newtons, a [`Moment`] N·mm; stress and modulus are N/mm², which is
//! the megapascal. That set is consistent: a modulus in N/mm² times a section inertia in mm⁴ is a stiffness in N·mm²
//! with no factor between. SI base units would be consistent too, but the tape, the tables and the person all say
//! millimetres, and 16 mm kept as 0.016 m comes back as 16.0 only by luck of rounding. Here a typed 16 stays 16 to
//! the last bit, in the answer, in a link and in a comparison with a limit. [`Pressure`] is kept in kPa,
//! [`Temperature`] in °C and [`Angle`] in degrees for the same reason: that is what the cap and the gauge say.
//! Formulas take what they need from the readers ([`Pressure::as_mpa`], [`Temperature::as_kelvin`],
//! [`Angle::as_radians`]).
//!
//! # What it does not do
//! No derived units by type arithmetic: the few products that mean something (force times length) are written out.
//! No storing, no wording of answers.
//!
//! ```
//! use quantity::{Basis, Length, Source, Sourced, Window, text};
//!
//! let spigot = text::read_length("5/8 in", text::LengthUnit::Millimetre).unwrap();
//! assert_eq!(spigot, Length::mm(15.875));
//!
//! // Bore of a 16 mm hose built on a rigid mandrel.
//! let bore = Sourced::new(
//!     Window::new(Length::mm(15.5), Length::mm(16.7)).unwrap(),
//!     Source::new("ISO 1307:2006, Table 1, type A", Basis::Published),
//! );
//! assert!(bore.value.contains(spigot));
//! assert_eq!(bore.source.basis.as_str(), "published");
//! ```

mod define;
mod kinds;
mod source;
pub mod text;
mod window;

pub use kinds::{Angle, Force, Length, Moment, Pressure, Temperature, TemperatureDifference, Volume};
pub use source::{Basis, Source, Sourced};
pub use window::Window;

/// Tries a claim on the same two thousand inputs on every machine.
#[cfg(test)]
fn for_all<S: proptest::strategy::Strategy>(
    inputs: S,
    claim: impl Fn(S::Value) -> Result<(), proptest::test_runner::TestCaseError>,
) {
    use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};
    let config = Config { cases: 2000, failure_persistence: None, ..Config::default() };
    let mut runner = TestRunner::new_with_rng(config, TestRng::deterministic_rng(RngAlgorithm::ChaCha));
    if let Err(failed) = runner.run(&inputs, claim) {
        panic!("{failed}");
    }
}
