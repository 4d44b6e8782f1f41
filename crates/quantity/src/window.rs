//! A window: the values from a least to a greatest, both of them included.

use core::ops::{Add, Mul, Sub};

/// The values from a least to a greatest, both included; never empty.
///
/// ```
/// use quantity::{Length, Window};
/// let works = Window::new(Length::mm(410.0), Length::mm(450.0)).unwrap();
/// assert!(works.contains(Length::mm(450.0)));
/// assert_eq!(works.centre(), Length::mm(430.0));
/// assert_eq!(works.width(), Length::mm(40.0));
///
/// let also = Window::new(Length::mm(440.0), Length::mm(500.0)).unwrap();
/// assert_eq!(works.intersect(also), Window::new(Length::mm(440.0), Length::mm(450.0)));
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Window<T> {
    least: T,
    greatest: T,
}

impl<T: Copy + PartialOrd> Window<T> {
    /// From `least` to `greatest`; `None` when the least is above the greatest or either is not a number.
    /// The two may be equal: that window holds one value.
    #[must_use]
    pub fn new(least: T, greatest: T) -> Option<Self> {
        (least <= greatest).then_some(Self { least, greatest })
    }

    /// The lower end.
    #[must_use]
    pub const fn least(self) -> T {
        self.least
    }

    /// The upper end.
    #[must_use]
    pub const fn greatest(self) -> T {
        self.greatest
    }

    /// Whether the value lies inside or on an end.
    #[must_use]
    pub fn contains(self, value: T) -> bool {
        self.least <= value && value <= self.greatest
    }

    /// What both windows hold; `None` when they do not touch.
    #[must_use]
    pub fn intersect(self, other: Self) -> Option<Self> {
        let least = if other.least > self.least { other.least } else { self.least };
        let greatest = if other.greatest < self.greatest { other.greatest } else { self.greatest };
        Self::new(least, greatest)
    }

    /// From end to end. For temperatures this is a difference of temperatures.
    #[must_use]
    pub fn width<D>(self) -> D
    where
        T: Sub<Output = D>,
    {
        self.greatest - self.least
    }

    /// The middle.
    #[must_use]
    pub fn centre<D>(self) -> T
    where
        T: Sub<Output = D> + Add<D, Output = T>,
        D: Mul<f64, Output = D>,
    {
        self.least + self.width() * 0.5
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Length, Temperature, TemperatureDifference, for_all};
    use proptest::prelude::*;

    fn window(least: f64, greatest: f64) -> Option<Window<Length>> {
        Window::new(Length::mm(least), Length::mm(greatest))
    }

    #[test]
    fn a_window_is_never_empty() {
        assert_eq!(window(2.0, 1.0), None);
        assert_eq!(window(f64::NAN, 1.0), None);
        assert_eq!(window(1.0, f64::NAN), None);
        assert!(window(1.0, 1.0).unwrap().contains(Length::mm(1.0)));
    }

    #[test]
    fn temperatures_have_a_middle_and_a_width_in_kelvin() {
        let range = Window::new(Temperature::celsius(-40.0), Temperature::celsius(125.0)).unwrap();
        assert_eq!(range.centre(), Temperature::celsius(42.5));
        assert_eq!(range.width(), TemperatureDifference::kelvin(165.0));
    }

    #[test]
    fn an_intersection_holds_what_both_hold() {
        for_all((-9.0..9.0, -9.0..9.0, -9.0..9.0, -9.0..9.0, -9.0..9.0), |(a, b, c, d, x)| {
            let (one, two) =
                (window(f64::min(a, b), f64::max(a, b)).unwrap(), window(f64::min(c, d), f64::max(c, d)).unwrap());
            let x = Length::mm(x);
            let in_both = one.intersect(two).is_some_and(|both| both.contains(x));
            prop_assert_eq!(in_both, one.contains(x) && two.contains(x));
            prop_assert_eq!(one.intersect(two), two.intersect(one));
            Ok(())
        });
    }

    #[test]
    fn the_middle_is_inside() {
        for_all((-1e6..1e6, -1e6..1e6), |(a, b)| {
            let one = window(f64::min(a, b), f64::max(a, b)).unwrap();
            prop_assert!(one.contains(one.centre()));
            Ok(())
        });
    }
}
