//! Random but repeatable layouts: two spigots, a length and a hose, with and without weight.

use shape::{Ends, Section, Vec3};
use std::f64::consts::PI;

/// One question to the solver, in mm and N.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Layout {
    pub(crate) ends: Ends,
    pub(crate) length: f64,
    pub(crate) section: Section,
}

impl Layout {
    pub(crate) fn distance(&self) -> f64 {
        (self.ends.b - self.ends.a).norm()
    }
}

/// `SplitMix64`: G. Steele, D. Lea and C. Flood, Fast splittable pseudorandom number generators, OOPSLA 2014 (constants from
/// memory). Chosen because its whole state is one number: the same layouts on every machine, every time.
#[derive(Debug)]
pub(crate) struct Draw(pub(crate) u64);

impl Draw {
    /// Any 64 bits.
    pub(crate) fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let z = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        let z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// Even in `from..to`: 53 bits, as many as a number between one half and one can hold.
    pub(crate) fn between(&mut self, from: f64, to: f64) -> f64 {
        let unit = (self.bits() >> 11) as f64 / (1_u64 << 53) as f64;
        from + (to - from) * unit
    }

    /// Even on the sphere: by Archimedes, height and longitude are even.
    pub(crate) fn direction(&mut self) -> Vec3 {
        let (height, longitude) = (self.between(-1.0, 1.0), self.between(-PI, PI));
        on_sphere(height, longitude)
    }

    /// Spigots 50 to 800 mm apart, all directions, length 1.02 to 3 times the distance.
    pub(crate) fn layout(&mut self, heavy: bool) -> Layout {
        let a = Vec3::new(self.between(-400.0, 400.0), self.between(-400.0, 400.0), self.between(-400.0, 400.0));
        let b = a + self.direction() * self.between(50.0, 800.0);
        let ends = Ends { a, tangent_a: self.direction(), b, tangent_b: self.direction() };
        let length = self.between(1.02, 3.0) * (b - a).norm();
        Layout { ends, length, section: hose(self.between(10.0, 50.0), heavy) }
    }
}

/// The unit vector at a height (-1 to 1) and a longitude (radians).
pub(crate) fn on_sphere(height: f64, longitude: f64) -> Vec3 {
    let (sin, cos) = libm::sincos(longitude);
    let across = (1.0 - height * height).max(0.0).sqrt();
    Vec3::new(across * cos, across * sin, height)
}

/// A filled rubber hose hanging along -z: wall 4 mm, modulus 4.43 N/mm² (65 Shore A by Gent's relation, Rubber Chem. Technol.
/// 31(4), 1958, 896-906), rubber 1.20 and coolant 1.05 g/cm³ (our assumptions). Inputs only: no expected value depends on them.
pub(crate) fn hose(bore: f64, heavy: bool) -> Section {
    let outside = bore + 8.0;
    let (bore2, outside2) = (bore * bore, outside * outside);
    let stiffness = 4.43 * PI / 64.0 * (outside2 * outside2 - bore2 * bore2);
    let grams = PI / 4.0 * ((outside2 - bore2) * 1.20e-3 + bore2 * 1.05e-3);
    let weight = if heavy { grams * 9.80665e-3 } else { 0.0 };
    Section { stiffness, weight: Vec3::new(0.0, 0.0, -weight) }
}

/// The layouts in which a symmetry invites the solver to sit on a saddle.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Symmetry {
    /// Spigots along the same direction, offset.
    Parallel,
    /// Everything in one plane, weight too.
    Planar,
    /// Facing each other on one line; weight along it.
    Coaxial,
    /// Side by side, out and back.
    U,
    /// On one line, both pointing away from the other.
    BackToBack,
}

impl Symmetry {
    pub(crate) const ALL: [Self; 5] = [Self::Parallel, Self::Planar, Self::Coaxial, Self::U, Self::BackToBack];

    pub(crate) fn layout(self, draw: &mut Draw, heavy: bool) -> Layout {
        let in_plane = |angle: f64| {
            let (sin, cos) = libm::sincos(angle);
            Vec3::new(cos, 0.0, sin)
        };
        let (x, z) = (Vec3::new(1.0, 0.0, 0.0), Vec3::new(0.0, 0.0, 1.0));
        let (chord, tangent_a, tangent_b) = match self {
            Self::Parallel => (in_plane(draw.between(0.2, PI - 0.2)), x, x),
            Self::Planar => {
                let mut any = || in_plane(draw.between(-PI, PI));
                (any(), any(), any())
            }
            Self::Coaxial => (z, z, z),
            Self::U => (x, z, -z),
            Self::BackToBack => (x, -x, -x),
        };
        let distance = draw.between(50.0, 800.0);
        let a = Vec3::new(0.0, 0.0, 0.0);
        let length = draw.between(1.02, 3.0) * distance;
        let ends = Ends { a, tangent_a, b: a + chord * distance, tangent_b };
        Layout { ends, length, section: hose(draw.between(10.0, 50.0), heavy) }
    }
}

#[test]
fn the_draw_is_even() {
    // Mean of n even numbers in 0..1 is 1/2 with deviation 1/√(12 n): five deviations for n = 30,000.
    let mut draw = Draw(7);
    let n = 30_000;
    let mean = (0..n).map(|_| draw.between(0.0, 1.0)).sum::<f64>() / f64::from(n);
    assert!((mean - 0.5).abs() < 0.0084, "{mean}");
    let mut sum = Vec3::new(0.0, 0.0, 0.0);
    for _ in 0..n {
        sum += draw.direction();
    }
    // Each component of an even direction has variance 1/3: five deviations of the mean are 0.0167.
    assert!(sum.norm() / f64::from(n) < 0.03, "{sum:?}");
}
