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
    nusselt_by(libm::pow(1.0 + libm::pow(0.559 / prandtl, 9.0 / 16.0), -8.0 / 27.0), rayleigh)
}

/// The same with Prandtl's part of it worked out.
fn nusselt_by(prandtls: f64, rayleigh: f64) -> f64 {
    let root = 0.60 + 0.387 * libm::cbrt(rayleigh.max(0.0).sqrt()) * prandtls;
    root * root
}

/// Prandtl's part of [`nusselt`] for air, of which Prandtl's number is between 0.69 and 0.74: within 1e-7 of it. This is asked
/// thousands of times for one hose.
fn prandtls_of_air(prandtl: f64) -> f64 {
    let x = prandtl - 0.7;
    0.829_256_970_8 + x * (9.248_810_175e-2 + x * (-8.071_781_615e-2 + x * 7.708_050_529e-2))
}

/// Heat given to still air by a horizontal cylinder, W/(m²·K): its skin and the air in °C, its diameter in m.
#[must_use]
pub fn film(skin: f64, air: f64, diameter: f64) -> f64 {
    let between = 0.5 * (skin + air);
    let at = Air::at(between);
    let (kinematic, diffusive) = (at.viscosity / at.density, at.conductivity / (at.density * at.capacity));
    let rayleigh =
        G / (between + KELVIN) * (skin - air).abs() * diameter * diameter * diameter / (kinematic * diffusive);
    nusselt_by(prandtls_of_air(at.prandtl()), rayleigh) * at.conductivity / diameter
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_film_in_air_is_that_of_the_general_formula() {
        for celsius in -60..=1200 {
            let prandtl = Air::at(f64::from(celsius)).prandtl();
            for rayleigh in [1.0, 1e4, 1e8] {
                let (air, any) = (nusselt_by(prandtls_of_air(prandtl), rayleigh), nusselt(prandtl, rayleigh));
                assert!((air / any - 1.0).abs() < 3e-7, "{celsius} degrees, {rayleigh}: {air} and {any}");
            }
        }
    }
}
