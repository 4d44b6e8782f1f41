//! A straight hose: what is known of it, and what its section weighs and how stiff it is.

use crate::{COOLANT_DENSITY, GRAVITY, RUBBER_DENSITY, Rubber, hose_modulus};
use core::f64::consts::PI;
use quantity::{Basis, Length, Pressure, Source, Sourced, Temperature};
use std::borrow::Cow;

/// From kg/m³ to kg/mm³.
const KG_M3_IN_KG_MM3: f64 = 1e-9;

/// A straight hose of one bore and wall.
///
/// From the tables, or one that a person has: [`Hose::own`].
#[derive(Clone, Debug, PartialEq)]
pub struct Hose {
    /// What it is, in words of the trade: "EPDM heater hose"; of one's own, what is printed on it.
    pub kind: Cow<'static, str>,
    /// The size as it is asked for: "16 mm or 5/8 in". Empty for a hose of one's own.
    pub sold_as: Cow<'static, str>,
    /// What it is made of, if that is known.
    pub rubber: Option<Rubber>,
    /// Its SAE J20 class, if that is known.
    pub class: Option<Cow<'static, str>>,
    /// The hottest it bears for long, if that is known.
    pub limit: Option<Sourced<Temperature>>,
    /// Bore: nominal from the tables, measured on one's own. Greater than nothing.
    pub bore: Length,
    /// Outside diameter. Greater than the bore.
    pub outside: Length,
    /// Whether a wire in the wall keeps it round.
    pub wire_supported: bool,
    /// The smallest bend radius its maker or a standard allows, to the inside of the bend.
    pub least_bend_inside: Option<Sourced<Length>>,
    /// The bend radius, to the inside, at which it was seen to crease.
    pub creases_at_inside: Option<Sourced<Length>>,
    /// The working pressure printed on it, if that is known.
    pub rated: Option<Pressure>,
    /// The step it is sold in; `None` for a hose that is not bought.
    pub sold_by: Option<Length>,
    /// Whether the person has it already.
    pub own: bool,
    /// Where bore, wall and size come from.
    pub source: Source,
}

/// What a person knows of a hose they have.
#[derive(Clone, Debug)]
pub struct OwnHose {
    /// What is printed on it, or what they call it.
    pub kind: String,
    /// What it is made of, if that is known.
    pub rubber: Option<Rubber>,
    /// The class in its marking, if there is one: "D-1".
    pub class: Option<String>,
    /// The hottest it bears, if that is known: from its class or its marking.
    pub limit: Option<Sourced<Temperature>>,
    /// Measured bore.
    pub bore: Length,
    /// Measured outside diameter.
    pub outside: Length,
    /// Whether there is a wire in the wall.
    pub wire_supported: bool,
    /// The smallest bend radius allowed, to the inside, if its maker gives one.
    pub least_bend_inside: Option<Sourced<Length>>,
    /// The bend radius, to the inside, at which it creased when it was tried.
    pub creases_at_inside: Option<Sourced<Length>>,
    /// The working pressure printed on it, if there is one.
    pub rated: Option<Pressure>,
}

impl Hose {
    /// A hose the person has; `None` unless the bore is greater than nothing, the outside greater than the bore, and
    /// both finite.
    ///
    /// ```
    /// use quantity::Length;
    /// use stock::{Hose, OwnHose};
    ///
    /// let roll = |bore: f64, outside: f64| Hose::own(OwnHose {
    ///     kind: "roll in the garage".into(),
    ///     rubber: None,
    ///     class: None,
    ///     limit: None,
    ///     bore: Length::mm(bore),
    ///     outside: Length::mm(outside),
    ///     wire_supported: false,
    ///     least_bend_inside: None,
    ///     creases_at_inside: None,
    ///     rated: None,
    /// });
    /// assert_eq!(roll(16.0, 24.0).unwrap().wall(), Length::mm(4.0));
    /// assert_eq!(roll(24.0, 16.0), None);
    /// ```
    #[must_use]
    pub fn own(own: OwnHose) -> Option<Self> {
        let a_tube = own.bore > Length::ZERO && own.outside > own.bore && own.outside.as_mm().is_finite();
        a_tube.then(|| Self {
            kind: own.kind.into(),
            sold_as: Cow::Borrowed(""),
            rubber: own.rubber,
            class: own.class.map(Cow::Owned),
            limit: own.limit,
            bore: own.bore,
            outside: own.outside,
            wire_supported: own.wire_supported,
            least_bend_inside: own.least_bend_inside,
            creases_at_inside: own.creases_at_inside,
            rated: own.rated,
            sold_by: None,
            own: true,
            source: Source::new("measured on the hose", Basis::Measured),
        })
    }

    /// Thickness of the wall.
    #[must_use]
    pub fn wall(&self) -> Length {
        (self.outside - self.bore) / 2.0
    }

    /// Radius to the middle of the wall.
    #[must_use]
    pub fn mean_radius(&self) -> Length {
        (self.outside + self.bore) / 4.0
    }

    /// Second moment of area of the rubber section about a diameter, mm⁴: π (D⁴ − d⁴) / 64.
    #[must_use]
    pub fn section_inertia(&self) -> f64 {
        let fourth = |diameter: Length| {
            let square = diameter.as_mm() * diameter.as_mm();
            square * square
        };
        PI / 64.0 * (fourth(self.outside) - fourth(self.bore))
    }

    /// Bending stiffness E·I, N·mm², with the modulus of [`hose_modulus`].
    ///
    /// Weak: for plain rubber; the yarn of a reinforced hose makes it one to three times as stiff.
    #[must_use]
    pub fn bend_stiffness(&self) -> f64 {
        hose_modulus().value.as_mpa() * self.section_inertia()
    }

    /// Weight of the hose full of coolant, N per mm of length.
    #[must_use]
    pub fn filled_weight_per_mm(&self) -> f64 {
        let disc = |diameter: Length| PI / 4.0 * diameter.as_mm() * diameter.as_mm();
        let (rubber, coolant) = (disc(self.outside) - disc(self.bore), disc(self.bore));
        let mass = RUBBER_DENSITY.value * rubber + COOLANT_DENSITY.value * coolant;
        GRAVITY.value * KG_M3_IN_KG_MM3 * mass
    }

    /// Outside diameter where the hose is gripped on a spigot of this diameter: √(S² + D² − d²).
    ///
    /// Rubber keeps its volume and the hose its length, so the area of the wall stays as it is, whether the hose is
    /// stretched over a thicker spigot or drawn down on a thinner one.
    ///
    /// ```
    /// use quantity::Length;
    /// let stock = stock::Stock::built_in();
    /// let hose = stock.hoses.iter().find(|hose| hose.bore == Length::mm(16.0)).unwrap();
    /// // By hand: √(17² + 24² − 16²) = √609 = 24.678.
    /// assert!((hose.outside_on(Length::mm(17.0)).as_mm() - 24.678).abs() < 0.000_5);
    /// ```
    #[must_use]
    pub fn outside_on(&self, spigot: Length) -> Length {
        let square = |length: Length| length.as_mm() * length.as_mm();
        Length::mm((square(spigot) + square(self.outside) - square(self.bore)).sqrt())
    }
}
