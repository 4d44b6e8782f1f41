//! A place, a direction or a force in space: three numbers and the few operations the lie needs.

use std::ops::{Add, AddAssign, Mul, Neg, Sub};

/// Three components along the axes of the car (or any right-handed axes).
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Vec3 {
    /// Along the first axis.
    pub x: f64,
    /// Along the second axis.
    pub y: f64,
    /// Along the third axis.
    pub z: f64,
}

impl Vec3 {
    /// The zero vector.
    pub const ZERO: Self = Self::new(0.0, 0.0, 0.0);

    /// From three components.
    #[must_use]
    pub const fn new(x: f64, y: f64, z: f64) -> Self {
        Self { x, y, z }
    }

    /// Scalar product.
    #[must_use]
    #[inline(always)]
    pub fn dot(self, other: Self) -> f64 {
        self.x * other.x + self.y * other.y + self.z * other.z
    }

    /// Vector product, right-handed.
    #[must_use]
    #[inline(always)]
    pub fn cross(self, other: Self) -> Self {
        Self::new(
            self.y * other.z - self.z * other.y,
            self.z * other.x - self.x * other.z,
            self.x * other.y - self.y * other.x,
        )
    }

    /// Length of the vector.
    #[must_use]
    #[inline(always)]
    pub fn norm(self) -> f64 {
        self.dot(self).sqrt()
    }

    /// The same direction with length 1; `None` for a vector too short to have a direction, or not finite.
    #[must_use]
    pub fn direction(self) -> Option<Self> {
        let norm = self.norm();
        (norm > 1e-12 && norm.is_finite()).then(|| self * (1.0 / norm))
    }

    /// The part of this vector at right angles to the unit vector `axis`.
    #[must_use]
    #[inline(always)]
    pub fn across(self, axis: Self) -> Self {
        self - axis * self.dot(axis)
    }

    /// This vector turned about the unit vector `axis`, right-handed, by the angle of this sine and cosine (Rodrigues).
    #[must_use]
    pub fn turned_about(self, axis: Self, sin: f64, cos: f64) -> Self {
        self * cos + axis.cross(self) * sin + axis * (axis.dot(self) * (1.0 - cos))
    }

    /// True if all three components are finite numbers.
    #[must_use]
    pub fn is_finite(self) -> bool {
        self.x.is_finite() && self.y.is_finite() && self.z.is_finite()
    }

    /// Two unit vectors that make a right-handed frame with this unit vector, by the branchless construction of
    /// Duff et al., "Building an Orthonormal Basis, Revisited", J. Computer Graphics Techniques 6(1), 2017.
    #[must_use]
    #[inline(always)]
    pub fn frame(self) -> (Self, Self) {
        let sign = 1.0_f64.copysign(self.z);
        let a = -1.0 / (sign + self.z);
        let b = self.x * self.y * a;
        let u = Self::new(1.0 + sign * self.x * self.x * a, sign * b, -sign * self.x);
        let v = Self::new(b, sign + self.y * self.y * a, -self.y);
        (u, v)
    }
}

impl Add for Vec3 {
    type Output = Self;
    #[inline(always)]
    fn add(self, other: Self) -> Self {
        Self::new(self.x + other.x, self.y + other.y, self.z + other.z)
    }
}

impl AddAssign for Vec3 {
    #[inline(always)]
    fn add_assign(&mut self, other: Self) {
        *self = *self + other;
    }
}

impl Sub for Vec3 {
    type Output = Self;
    #[inline(always)]
    fn sub(self, other: Self) -> Self {
        Self::new(self.x - other.x, self.y - other.y, self.z - other.z)
    }
}

impl Neg for Vec3 {
    type Output = Self;
    #[inline(always)]
    fn neg(self) -> Self {
        Self::new(-self.x, -self.y, -self.z)
    }
}

impl Mul<f64> for Vec3 {
    type Output = Self;
    #[inline(always)]
    fn mul(self, factor: f64) -> Self {
        Self::new(self.x * factor, self.y * factor, self.z * factor)
    }
}

impl From<[f64; 3]> for Vec3 {
    fn from([x, y, z]: [f64; 3]) -> Self {
        Self::new(x, y, z)
    }
}

impl From<Vec3> for [f64; 3] {
    fn from(v: Vec3) -> Self {
        [v.x, v.y, v.z]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_frame_is_right_handed_and_square_for_every_direction() {
        for d in [[1.0, 0.0, 0.0], [0.0, 0.0, 1.0], [0.0, 0.0, -1.0], [0.3, -0.4, -0.1], [-1.0, 2.0, 1e-9]] {
            let t = Vec3::from(d).direction().expect("a direction");
            let (u, v) = t.frame();
            for (value, want) in [(u.dot(v), 0.0), (u.dot(t), 0.0), (u.norm(), 1.0), (u.cross(v).dot(t), 1.0)] {
                assert!((value - want).abs() < 1e-12, "{d:?}: {value} against {want}");
            }
        }
    }

    #[test]
    fn what_has_no_direction_says_so() {
        assert_eq!(Vec3::ZERO.direction(), None, "zero vector");
        assert_eq!(Vec3::new(f64::NAN, 0.0, 1.0).direction(), None, "not a number");
    }
}
