//! The quantities of the trade: length, angle, pressure, temperature, force, moment, volume.

use crate::define::{additive, quantity};

/// An inch is 25.4 mm, exact by definition (NIST SP 811, appendix B.8), and 25.4 is 127/5. With the two whole numbers
/// every inch size of a tape or a table, down to 1/64, is the nearest double to its millimetres: 1 1/2 in is 38.1 mm
/// to the last bit, which 1.5 × 25.4 is not.
const MM_PER_5_INCHES: f64 = 127.0;

/// Kilopascals in a pound-force per square inch: 0.45359237 kg × 9.80665 m/s² ÷ (0.0254 m)², all three exact.
/// NIST SP 811 appendix B.8 prints it to seven digits, 6.894 757.
const KPA_PER_PSI: f64 = 6.894_757_293_168_361;

/// Freezing point of water on the kelvin scale, exact by the definition of the degree Celsius (NIST SP 811, B.8).
const KELVIN_AT_0_C: f64 = 273.15;

quantity! {
    /// A length or diameter, kept in millimetres.
    ///
    /// ```
    /// use quantity::Length;
    /// let cut = Length::mm(420.0) + 2.0 * Length::inches(1.0);
    /// assert_eq!(cut, Length::mm(470.8));
    /// assert_eq!(format!("{cut:?}"), "470.8 mm");
    /// ```
    Length, "mm", mm, as_mm
}
additive!(Length);

quantity! {
    /// An angle, kept in degrees.
    Angle, "°", degrees, as_degrees
}
additive!(Angle);

quantity! {
    /// A gauge pressure, a stress or a modulus, kept in kilopascals.
    Pressure, "kPa", kpa, as_kpa
}
additive!(Pressure);

quantity! {
    /// A temperature, kept in degrees Celsius.
    ///
    /// Two temperatures are not added; their difference is a [`TemperatureDifference`], which can be.
    ///
    /// ```
    /// use quantity::{Temperature, TemperatureDifference};
    /// let limit = Temperature::celsius(125.0);
    /// let close = limit - TemperatureDifference::kelvin(20.0);
    /// assert_eq!(close, Temperature::celsius(105.0));
    /// assert_eq!(limit - close, TemperatureDifference::kelvin(20.0));
    /// ```
    Temperature, "°C", celsius, as_celsius
}

quantity! {
    /// A difference of two temperatures, in kelvin.
    TemperatureDifference, "K", kelvin, as_kelvin
}
additive!(TemperatureDifference);

quantity! {
    /// A force, in newtons.
    Force, "N", newtons, as_newtons
}
additive!(Force);

quantity! {
    /// A moment or a tightening torque, kept in N·mm.
    Moment, "N·mm", n_mm, as_n_mm
}
additive!(Moment);

quantity! {
    /// A volume of coolant, in litres.
    Volume, "l", litres, as_litres
}
additive!(Volume);

impl Length {
    /// From inches of 25.4 mm.
    #[must_use]
    pub const fn inches(value: f64) -> Self {
        Self::mm(value * MM_PER_5_INCHES / 5.0)
    }

    /// In inches of 25.4 mm.
    #[must_use]
    pub const fn as_inches(self) -> f64 {
        self.as_mm() * 5.0 / MM_PER_5_INCHES
    }
}

impl Angle {
    /// From radians.
    #[must_use]
    pub const fn radians(value: f64) -> Self {
        Self::degrees(value * (180.0 / core::f64::consts::PI))
    }

    /// In radians.
    #[must_use]
    pub const fn as_radians(self) -> f64 {
        self.as_degrees() * (core::f64::consts::PI / 180.0)
    }
}

impl Pressure {
    /// From bar of 100 kPa.
    #[must_use]
    pub const fn bar(value: f64) -> Self {
        Self::kpa(value * 100.0)
    }

    /// In bar of 100 kPa.
    #[must_use]
    pub const fn as_bar(self) -> f64 {
        self.as_kpa() / 100.0
    }

    /// From pound-force per square inch.
    #[must_use]
    pub const fn psi(value: f64) -> Self {
        Self::kpa(value * KPA_PER_PSI)
    }

    /// In pound-force per square inch.
    #[must_use]
    pub const fn as_psi(self) -> f64 {
        self.as_kpa() / KPA_PER_PSI
    }

    /// From megapascals, N/mm².
    #[must_use]
    pub const fn mpa(value: f64) -> Self {
        Self::kpa(value * 1000.0)
    }

    /// In megapascals, N/mm²: the unit that goes with millimetres and newtons.
    #[must_use]
    pub const fn as_mpa(self) -> f64 {
        self.as_kpa() / 1000.0
    }
}

impl Temperature {
    /// From degrees Fahrenheit: °C = (°F − 32) / 1.8, exact (NIST SP 811, appendix B.8).
    #[must_use]
    pub const fn fahrenheit(value: f64) -> Self {
        Self::celsius((value - 32.0) / 1.8)
    }

    /// In degrees Fahrenheit.
    #[must_use]
    pub const fn as_fahrenheit(self) -> f64 {
        self.as_celsius() * 1.8 + 32.0
    }

    /// From absolute zero, in kelvin.
    #[must_use]
    pub const fn as_kelvin(self) -> f64 {
        self.as_celsius() + KELVIN_AT_0_C
    }
}

impl core::ops::Sub for Temperature {
    type Output = TemperatureDifference;
    fn sub(self, other: Self) -> TemperatureDifference {
        TemperatureDifference::kelvin(self.as_celsius() - other.as_celsius())
    }
}

impl core::ops::Add<TemperatureDifference> for Temperature {
    type Output = Self;
    fn add(self, by: TemperatureDifference) -> Self {
        Self::celsius(self.as_celsius() + by.as_kelvin())
    }
}

impl core::ops::Sub<TemperatureDifference> for Temperature {
    type Output = Self;
    fn sub(self, by: TemperatureDifference) -> Self {
        Self::celsius(self.as_celsius() - by.as_kelvin())
    }
}

impl Moment {
    /// From newton metres, as torque tables print it.
    #[must_use]
    pub const fn nm(value: f64) -> Self {
        Self::n_mm(value * 1000.0)
    }

    /// In newton metres.
    #[must_use]
    pub const fn as_nm(self) -> f64 {
        self.as_n_mm() / 1000.0
    }
}

impl core::ops::Mul<Length> for Force {
    type Output = Moment;
    fn mul(self, arm: Length) -> Moment {
        Moment::n_mm(self.as_newtons() * arm.as_mm())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Relative rounding of two or three operations in double precision.
    const ROUNDING: f64 = 1e-15;

    fn check(ours: f64, reference: f64, relative: f64) {
        assert!((ours - reference).abs() <= relative * reference.abs(), "{ours} is not {reference}");
    }

    #[test]
    fn an_inch_is_25_4_mm() {
        // NIST SP 811 (2008), appendix B.8: inch to millimetre, 2.54 E+01, printed bold, which means exact.
        assert_eq!(Length::inches(1.0), Length::mm(25.4));
        // The trade sizes of heater and radiator hose, multiplied out by hand.
        for (inches, mm) in
            [(0.375, 9.525), (0.625, 15.875), (0.875, 22.225), (1.125, 28.575), (1.5, 38.1), (1.75, 44.45)]
        {
            assert_eq!(Length::inches(inches), Length::mm(mm));
            assert_eq!(Length::mm(mm).as_inches().to_bits(), inches.to_bits(), "{mm} mm");
        }
        check(Length::mm(304.8).as_inches(), 12.0, ROUNDING);
    }

    #[test]
    fn a_psi_is_what_nist_prints() {
        // NIST SP 811 (2008), appendix B.8: psi to kilopascal, 6.894 757 E+00, seven digits; inch exact, pound exact.
        let printed = 6.894_757;
        assert!((Pressure::psi(1.0).as_kpa() - printed).abs() <= 0.5e-6, "SP 811 rounds to six decimals");
        check(Pressure::psi(15.0).as_psi(), 15.0, ROUNDING);
        // The exact definition behind it, from the three exact factors of SP 811.
        check(Pressure::psi(1.0).as_kpa(), 0.453_592_37 * 9.806_65 / (0.025_4 * 0.025_4) / 1000.0, ROUNDING);
    }

    #[test]
    fn bar_and_mpa_are_powers_of_ten() {
        // NIST SP 811 (2008), appendix B.8: bar to kilopascal, 1.0 E+02, exact.
        assert_eq!(Pressure::bar(1.0), Pressure::kpa(100.0));
        check(Pressure::mpa(4.43).as_kpa(), 4430.0, ROUNDING);
        check(Pressure::kpa(4430.0).as_mpa(), 4.43, ROUNDING);
    }

    #[test]
    fn fahrenheit_meets_celsius_where_it_is_known_to() {
        // Fixed points of the relation t/°C = (t/°F − 32)/1.8, NIST SP 811 (2008), appendix B.8.
        assert_eq!(Temperature::fahrenheit(32.0), Temperature::celsius(0.0));
        check(Temperature::fahrenheit(212.0).as_celsius(), 100.0, ROUNDING);
        check(Temperature::fahrenheit(-40.0).as_celsius(), -40.0, ROUNDING);
        check(Temperature::celsius(95.0).as_fahrenheit(), 203.0, ROUNDING);
        check(Temperature::celsius(0.0).as_kelvin(), 273.15, ROUNDING);
    }

    #[test]
    fn a_right_angle_is_half_pi() {
        check(Angle::degrees(90.0).as_radians(), core::f64::consts::FRAC_PI_2, ROUNDING);
        check(Angle::radians(core::f64::consts::PI).as_degrees(), 180.0, ROUNDING);
    }

    #[test]
    fn a_force_on_an_arm_is_a_moment() {
        assert_eq!(Force::newtons(20.0) * Length::mm(50.0), Moment::nm(1.0));
    }

    #[test]
    fn arithmetic_is_that_of_the_numbers() {
        let mut sum: Length = [Length::mm(1.5), Length::mm(2.0)].into_iter().sum();
        sum += Length::mm(1.0);
        sum -= Length::mm(0.5);
        assert_eq!(sum, Length::mm(4.0));
        assert_eq!(-(sum / 2.0), Length::mm(-2.0));
        assert_eq!((-sum).abs().max(Length::ZERO), sum);
        assert_eq!(sum.min(Length::ZERO), Length::ZERO);
        check(sum / Length::mm(8.0), 0.5, 0.0);
        assert_eq!(Length::mm(f64::NAN).total_cmp(&sum), core::cmp::Ordering::Greater, "NaN sorts last");
    }
}
