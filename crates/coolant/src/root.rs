//! Where a function of one number is zero, within a bracket.

/// Steps after which the search ends at the latest; bisection alone would gain 15 digits in 50, and every third step at
/// least halves the bracket.
const MOST_STEPS: usize = 150;

/// The zero of `f` between `from` and `to`, within `within`; `None` if `f` has the same sign at both, or is no number.
///
/// Chandrupatla, Adv. Eng. Software 28 (1997) 145 (from memory): a parabola through three points where it is safe, else
/// the middle. It never leaves the bracket.
pub(crate) fn zero_between(f: impl Fn(f64) -> f64, from: f64, to: f64, within: f64) -> Option<f64> {
    let (mut a, mut b) = (to, from);
    let (mut fa, mut fb) = (f(a), f(b));
    for (end, value) in [(a, fa), (b, fb)] {
        if value.abs() <= 0.0 {
            return Some(end);
        }
    }
    if fa * fb > 0.0 || (fa * fb).is_nan() {
        return None;
    }
    let mut part = 0.5;
    for _ in 0..MOST_STEPS {
        let x = a + part * (b - a);
        let fx = f(x);
        let (c, fc);
        if (fx > 0.0) == (fa > 0.0) {
            (c, fc) = (a, fa);
        } else {
            (c, fc) = (b, fb);
            (b, fb) = (a, fa);
        }
        (a, fa) = (x, fx);
        let least = within / (b - a).abs();
        // Either end will do once the bracket is that small; the better of the two.
        if fa.abs() <= 0.0 || least > 0.5 {
            return Some(if fa.abs() < fb.abs() { a } else { b });
        }
        let xi = (a - b) / (c - b);
        let phi = (fa - fb) / (fc - fb);
        let safe = phi * phi < xi && (1.0 - phi) * (1.0 - phi) < 1.0 - xi;
        part = if safe {
            fa / (fb - fa) * fc / (fb - fc) + (c - a) / (b - a) * fa / (fc - fa) * fb / (fc - fb)
        } else {
            0.5
        };
        // Not `clamp`: its panic would print floats, which is 20 kB of the page where nothing else does.
        part = part.min(1.0 - least).max(least);
    }
    None
}

#[cfg(test)]
mod tests {
    use super::zero_between;

    #[test]
    fn known_zeros_are_found_within_what_is_asked() {
        // The square root of two, one and a half of a cube that is flat at its zero, and a step.
        for (f, want) in [
            ((|x| x * x - 2.0) as fn(f64) -> f64, core::f64::consts::SQRT_2),
            (|x| (x - 1.5) * (x - 1.5) * (x - 1.5), 1.5),
            (|x| if x < 0.3 { -1.0 } else { 1e6 }, 0.3),
            (|x| 1.0 / (x + 1e-3) - 2.0, 0.499),
        ] {
            let found = zero_between(f, 0.0, 2.0, 1e-9).unwrap();
            assert!((found - want).abs() <= 2e-9, "{found} is not {want}");
        }
    }

    #[test]
    fn without_a_change_of_sign_there_is_no_answer() {
        assert_eq!(zero_between(|x| x + 1.0, 0.0, 1.0, 1e-9), None);
        assert_eq!(zero_between(|_| f64::NAN, 0.0, 1.0, 1e-9), None);
    }

    #[test]
    fn a_zero_at_an_end_counts() {
        let found = zero_between(|x| x - 1.0, 0.0, 1.0, 1e-9).unwrap();
        assert!((found - 1.0).abs() <= 1e-9, "{found}");
    }
}
