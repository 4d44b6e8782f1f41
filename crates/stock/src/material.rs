//! What hose rubber and coolant weigh, and how stiff the rubber is.

use crate::tables::RUBBER_HARDNESS;
use quantity::{Basis, Pressure, Source, Sourced};

/// Standard acceleration of free fall, m/s²; exact by convention.
pub static GRAVITY: Sourced<f64> =
    Sourced::new(9.806_65, Source::new("3rd General Conference on Weights and Measures, 1901", Basis::Published));

/// Young's modulus of rubber of a hardness in Shore A; `None` outside 20 to 80, where the relation does not hold.
///
/// E = 0.0981 (56 + 7.62336 S) / (0.137505 (254 − 2.54 S)) in N/mm².
/// Source: A. N. Gent, Transactions of the Institution of the Rubber Industry 34 (1958) 46, in the form in which it is
/// widely printed; the paper itself was not seen, so the basis is `from memory`. Weak: at 65 Shore A two other
/// relations give 1.3 and 1.7 times as much.
///
/// ```
/// let modulus = stock::modulus_of_hardness(65.0).unwrap();
/// assert!((modulus.as_mpa() - 4.43).abs() < 0.005);
/// assert_eq!(stock::modulus_of_hardness(95.0), None);
/// ```
#[must_use]
pub fn modulus_of_hardness(shore_a: f64) -> Option<Pressure> {
    (20.0..=80.0)
        .contains(&shore_a)
        .then(|| Pressure::mpa(0.0981 * (56.0 + 7.623_36 * shore_a) / (0.137_505 * (254.0 - 2.54 * shore_a))))
}

/// Young's modulus taken for every hose, from the hardness in `materials.csv`.
///
/// It moves no kink limit, only forces and sag, and those by half to twice.
///
/// # Panics
/// Never: the build refuses a hardness for which the relation does not hold.
#[must_use]
pub fn hose_modulus() -> Sourced<Pressure> {
    let modulus = modulus_of_hardness(RUBBER_HARDNESS.value).expect("the build refuses any other hardness");
    let source = Source::new(
        "Gent 1958, modulus from Shore A hardness, in the form widely printed; the paper was not seen",
        Basis::FromMemory,
    );
    Sourced::new(modulus, source)
}
