//! Elliptic integrals and Jacobi's functions for the closed forms, and what vouches for them.
//!
//! The integrals are those of the crate `ellip`, which ports Boost's routines by Carlson's duplication (DLMF chapter 19;
//! J. Open Source Software 11(118), 9386, 2026). It has no Jacobi functions: the amplitude is F(φ, m) solved for φ.
//! All take the parameter m = k².

/// K(m), the complete integral of the first kind.
pub(crate) fn k(m: f64) -> f64 {
    ellip::ellipk(m).expect("m is below one")
}

/// E(m), the complete integral of the second kind.
pub(crate) fn e(m: f64) -> f64 {
    ellip::ellipe(m).expect("m is below one")
}

/// F(φ, m), the incomplete integral of the first kind.
pub(crate) fn f(phi: f64, m: f64) -> f64 {
    ellip::ellipf(phi, m).expect("m is below one")
}

/// E(φ, m), the incomplete integral of the second kind.
pub(crate) fn e_to(phi: f64, m: f64) -> f64 {
    ellip::ellipeinc(phi, m).expect("m is below one")
}

/// Jacobi's functions at one argument u: amplitude φ, sine, cosine and delta amplitude.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Jacobi {
    pub(crate) am: f64,
    pub(crate) sn: f64,
    pub(crate) cn: f64,
    pub(crate) dn: f64,
}

impl Jacobi {
    /// Newton's method on F(φ, m) = u, whose slope is 1/√(1 − m sin²φ).
    pub(crate) fn at(u: f64, m: f64) -> Self {
        let of = |am: f64| {
            let (sn, cn) = libm::sincos(am);
            Self { am, sn, cn, dn: (1.0 - m * sn * sn).sqrt() }
        };
        let mut now = of(u * std::f64::consts::FRAC_PI_2 / k(m));
        for _ in 0..10 {
            now = of(now.am - (f(now.am, m) - u) * now.dn);
        }
        assert!((f(now.am, m) - u).abs() < 1e-14 * (1.0 + u.abs()), "am({u}, {m}) was not found");
        now
    }
}

#[test]
fn integrals_and_amplitude_are_those_of_mpmath() {
    let mut rows = 0;
    for row in include_str!("../reference/elliptic.csv").lines().skip(3) {
        let fields: Vec<&str> = row.split(',').collect();
        let [m, want] = [fields[2], fields[3]].map(|text| text.parse::<f64>().unwrap());
        let argument = || fields[1].parse::<f64>().unwrap();
        let ours = match (fields[0], fields[1]) {
            ("K", _) => k(m),
            ("E", "") => e(m),
            ("F", _) => f(argument(), m),
            ("E", _) => e_to(argument(), m),
            ("am", _) => Jacobi::at(argument(), m).am,
            _ => unreachable!("{row}"),
        };
        assert!((ours / want - 1.0).abs() < 4e-15, "{row}: {ours}");
        rows += 1;
    }
    assert_eq!(rows, 6 * 13, "rows of the table");
}

#[test]
fn the_integrals_obey_legendres_relation() {
    // E K' + E' K - K K' = π/2, with ' for the parameter 1 - m: NIST Digital Library of Mathematical Functions, 19.7.1.
    for m in [0.05, 0.3, 0.5, 0.77, 0.95] {
        let (rest, right) = (1.0 - m, std::f64::consts::FRAC_PI_2);
        let left = e(m) * k(rest) + e(rest) * k(m) - k(m) * k(rest);
        assert!((left / right - 1.0).abs() < 1e-14, "m = {m}: {left}");
    }
}
