//! Air: its properties, and what a cylinder lying in still air gives to it or takes from it.

/// Kelvin at 0 °C.
pub(crate) const KELVIN: f64 = 273.15;
/// Standard gravity, m/s².
const G: f64 = 9.806_65;
/// Standard atmosphere, Pa, and the gas constant of dry air, J/(kg·K).
const ATMOSPHERE: f64 = 101_325.0;
const GAS: f64 = 287.05;

/// Properties of dry air at one atmosphere.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Air {
    /// Density, kg/m³.
    pub density: f64,
    /// Heat capacity at constant pressure, J/(kg·K).
    pub capacity: f64,
    /// Dynamic viscosity, Pa·s.
    pub viscosity: f64,
    /// Heat conductivity, W/(m·K).
    pub conductivity: f64,
}

impl Air {
    /// At a temperature in °C, 0 to 700; outside that range a little worse: ideal gas; the rest by polynomials fitted to
    /// `CoolProp`'s air (`HEOS::Air`), within 0.15 % of it.
    #[must_use]
    pub fn at(celsius: f64) -> Self {
        let t = celsius.clamp(-60.0, 1200.0);
        let viscosity = 1e-6 * (17.2396 + t * (4.900_96e-2 + t * (-2.735_18e-5 + t * 1.286_77e-8)));
        let conductivity = 2.438_4e-2 + t * (7.530_26e-5 + t * (-3.288_44e-8 + t * 1.568_94e-11));
        let capacity = 1006.033 + t * (-6.879_87e-3 + t * (6.317_26e-4 + t * (-6.316_16e-7 + t * 1.728_19e-10)));
        Self { density: ATMOSPHERE / (GAS * (t + KELVIN)), capacity, viscosity, conductivity }
    }

    /// Prandtl's number.
    #[must_use]
    pub fn prandtl(&self) -> f64 {
        self.viscosity * self.capacity / self.conductivity
    }
}

/// Nusselt's number of a long horizontal cylinder in still air: Churchill and Chu, Int. J. Heat Mass Transfer 18 (1975) 1049;
/// Rayleigh's number on the diameter, up to 1e12.
#[must_use]
pub fn nusselt(prandtl: f64, rayleigh: f64) -> f64 {
    // Powers of 9/16, 8/27 and 1/6 as roots of roots: half the time of three calls of pow.
    let half = (0.559 / prandtl).sqrt();
    let sixteenth = half.sqrt().sqrt().sqrt();
    let of_27 = libm::cbrt(libm::cbrt(libm::cbrt(1.0 + half * sixteenth)));
    let eighth_power = |x: f64| (x * x) * (x * x) * ((x * x) * (x * x));
    let root = 0.60 + 0.387 * libm::cbrt(rayleigh.max(0.0).sqrt()) / eighth_power(of_27);
    root * root
}

/// Heat given to still air by a horizontal cylinder, W/(m²·K): its skin and the air in °C, its diameter in m.
#[must_use]
pub fn film(skin: f64, air: f64, diameter: f64) -> f64 {
    let between = 0.5 * (skin + air);
    let at = Air::at(between);
    let (kinematic, diffusive) = (at.viscosity / at.density, at.conductivity / (at.density * at.capacity));
    let rayleigh =
        G / (between + KELVIN) * (skin - air).abs() * diameter * diameter * diameter / (kinematic * diffusive);
    nusselt(at.prandtl(), rayleigh) * at.conductivity / diameter
}

/// Integral of the similarity solution of a laminar plume above a line of heat at Prandtl's number 0.7: own solution of the
/// equations of Gebhart, Pera and Schorr, Int. J. Heat Mass Transfer 13 (1970) 161.
const PLUME_INTEGRAL: f64 = 1.2117;
/// Rounds in which the air's properties and its temperature are brought together.
const PLUME_ROUNDS: usize = 12;

/// Temperature in the middle of the plume `z` m above the axis of a pipe that gives `heat` W per m to the air of the bay, °C.
/// Weak: nearer than three diameters it is an extrapolation.
#[must_use]
pub fn plume(bay: f64, heat: f64, z: f64) -> f64 {
    let square = |x: f64| x * x;
    let mut found = bay;
    for _ in 0..PLUME_ROUNDS {
        let between = 0.5 * (found + bay);
        let air = Air::at(between);
        let buoyancy = G / (between + KELVIN);
        let by = 64.0
            * buoyancy
            * square(air.density * air.viscosity * air.capacity * air.capacity)
            * square(square(PLUME_INTEGRAL));
        found = bay + libm::pow(square(square(heat)) / by, 0.2) * libm::pow(z, -0.6);
    }
    found
}
