//! The two macros that make a quantity: a number with a unit, and the arithmetic that makes sense for it.

/// A number with a unit: made, read, ordered and shown, but not added.
macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident, $unit:literal, $make:ident, $read:ident) => {
        $(#[$doc])*
        #[derive(Clone, Copy, PartialEq, PartialOrd)]
        pub struct $name(f64);

        impl $name {
            #[doc = concat!("From a number of ", $unit, ", kept to the last bit.")]
            #[must_use]
            pub const fn $make(value: f64) -> Self {
                Self(value)
            }

            #[doc = concat!("In ", $unit, ".")]
            #[must_use]
            pub const fn $read(self) -> f64 {
                self.0
            }

            /// The smaller of two; a value that is not a number loses.
            #[must_use]
            pub const fn min(self, other: Self) -> Self {
                Self(self.0.min(other.0))
            }

            /// The greater of two; a value that is not a number loses.
            #[must_use]
            pub const fn max(self, other: Self) -> Self {
                Self(self.0.max(other.0))
            }

            /// Order for sorting, defined for every bit pattern (IEEE 754 `totalOrder`).
            #[must_use]
            pub fn total_cmp(&self, other: &Self) -> core::cmp::Ordering {
                self.0.total_cmp(&other.0)
            }
        }

        impl core::fmt::Debug for $name {
            fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
                write!(f, concat!("{} ", $unit), self.0)
            }
        }
    };
}

/// Sums, differences, multiples and ratios of a quantity whose zero means "none of it".
macro_rules! additive {
    ($name:ident) => {
        impl $name {
            /// None of it.
            pub const ZERO: Self = Self(0.0);

            /// Without its sign.
            #[must_use]
            pub const fn abs(self) -> Self {
                Self(self.0.abs())
            }
        }

        impl core::ops::Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }

        impl core::ops::AddAssign for $name {
            fn add_assign(&mut self, other: Self) {
                self.0 += other.0;
            }
        }

        impl core::ops::Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }

        impl core::ops::SubAssign for $name {
            fn sub_assign(&mut self, other: Self) {
                self.0 -= other.0;
            }
        }

        impl core::ops::Neg for $name {
            type Output = Self;
            fn neg(self) -> Self {
                Self(-self.0)
            }
        }

        impl core::ops::Mul<f64> for $name {
            type Output = Self;
            fn mul(self, times: f64) -> Self {
                Self(self.0 * times)
            }
        }

        impl core::ops::Mul<$name> for f64 {
            type Output = $name;
            fn mul(self, one: $name) -> $name {
                $name(self * one.0)
            }
        }

        impl core::ops::Div<f64> for $name {
            type Output = Self;
            fn div(self, parts: f64) -> Self {
                Self(self.0 / parts)
            }
        }

        impl core::ops::Div for $name {
            type Output = f64;
            fn div(self, other: Self) -> f64 {
                self.0 / other.0
            }
        }

        impl core::iter::Sum for $name {
            fn sum<I: Iterator<Item = Self>>(all: I) -> Self {
                all.fold(Self::ZERO, |total, one| total + one)
            }
        }
    };
}

pub(crate) use {additive, quantity};
