//! The heat that the skin of a hose takes in and gives off: what it comes to with the coolant flowing, and standing still.
//!
//! For each small piece of skin, steady and one-dimensional (no heat goes round the hose or along it):
//!
//! ```text
//! Σ F σ (T⁴ − Ts⁴) / (1/ε + 1/εs − 1)  +  (1 − Σ F) εs σ (Tbay⁴ − Ts⁴)  +  h (Tair − Ts)  =  (Ts − Tc) / R
//! from hot things                         from the bay                     from the air       into the coolant
//! ```
//!
//! with R = r (ln(ro/ri)/k + 1/(ri hi)), per area of the face of radius r. A sleeve adds a layer of glass and one of air.
//! In the air film of a hot pipe the air is hotter: Tair = Tbay + (T − Tbay)(1 − s/d)², d = 2 k/h.
//! Textbook heat transfer (Incropera, 7th ed., ch. 3, 9 and 13). Against the same with heat going round the wall it
//! is up to 8 K too hot. All in all good to ± 20 K.
//!
//! **Standing still** the coolant takes the temperature at which as much heat comes in on one side of the hose as goes out on
//! the other: the mean of the right side over the ring of skin is nothing. It cannot pass its boiling point.

use super::air::{Air, KELVIN, film};
use super::view::turned_away_by;

/// Stefan's and Boltzmann's constant, W/(m²·K⁴), CODATA 2018.
const SIGMA: f64 = 5.670_374_419e-8;
/// Heat conductivity of hose rubber, W/(m·K): between 0.20 unfilled (a materials database quoting The Rubber Formulary, 1999)
/// and 0.35 filled (from memory).
pub(crate) const RUBBER: f64 = 0.25;
/// Emissivity of black rubber: 0.86 to 0.94 in Incropera's Table A.11, from memory.
pub(crate) const RUBBER_FACE: f64 = 0.92;
/// Emissivity of oxidised steel, as on an exhaust: from memory.
pub(crate) const HOT_FACE: f64 = 0.80;
/// Film of the coolant on the bore, W/(m²·K): flowing, and hardly moving. Our choice; flowing it hardly matters.
pub(crate) const FLOWING: f64 = 3000.0;
pub(crate) const STANDING: f64 = 200.0;
/// A sleeve: glass 1.5 mm thick of 0.06 W/(m·K), on 1 mm of air of 0.03. Our choice.
pub(crate) const GLASS: f64 = 1.5e-3;
pub(crate) const GLASS_CONDUCTS: f64 = 0.06;
pub(crate) const UNDER: f64 = 1.0e-3;
pub(crate) const UNDER_CONDUCTS: f64 = 0.03;
/// Emissivity of its bright face, new and dirty: 0.05 to 0.15 and up to 0.4, from memory.
pub(crate) const SLEEVE_NEW: f64 = 0.10;
pub(crate) const SLEEVE_DIRTY: f64 = 0.40;
/// Emissivity of a weathered bright shield on both faces, and the air's film on each, W/(m²·K). Our choice.
pub(crate) const SHIELD_FACE: f64 = 0.40;
pub(crate) const SHIELD_FILM: f64 = 6.0;
/// Film of the rising air on a hose above a hot pipe, W/(m²·K). Our choice.
const RISING: f64 = 15.0;
/// Half of a ring of skin is looked at in so many places: half way round in so many equal parts, from the middle of the first
/// to that of the last, each by its sine and cosine.
const RING: usize = 8;
const ROUND: [(f64, f64); RING] = {
    // Of 1, 3, 5 and 7 sixteenths of half a turn.
    const S: [f64; 4] =
        [0.195_090_322_016_128_27, 0.555_570_233_019_602_2, 0.831_469_612_302_545_2, 0.980_785_280_403_230_4];
    [(S[0], S[3]), (S[1], S[2]), (S[2], S[1]), (S[3], S[0]), (S[3], -S[0]), (S[2], -S[1]), (S[1], -S[2]), (S[0], -S[3])]
};
/// Newton steps at most, and how little the last may move, K.
const STEPS: usize = 60;
const STILL: f64 = 1e-7;
/// The same for coolant that stands still: each step leaves a tenth of what is missing, or less.
const MOVED: f64 = 1e-4;

/// What is on the hose.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cover {
    /// Nothing.
    Bare,
    /// A new heat sleeve.
    NewSleeve,
    /// The same, dirty.
    DirtySleeve,
}

impl Cover {
    /// How far its face stands off the skin of the hose, mm.
    #[must_use]
    pub fn thick(self) -> f64 {
        if self == Self::Bare { 0.0 } else { 1e3 * (GLASS + UNDER) }
    }
}

/// Coolant and air of the bay, °C.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bay {
    /// Coolant, as it flows.
    pub coolant: f64,
    /// Air of the bay, and what stands round about.
    pub air: f64,
}

/// A hot thing as a piece of skin sees it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Seen {
    /// Its temperature, °C.
    pub celsius: f64,
    /// Emissivity of its face.
    pub emissivity: f64,
    /// The part of the view it takes, 0 to 1.
    pub part: f64,
}

/// The wall of a hose from its face to the coolant.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wall {
    /// Radius of the face, m.
    radius: f64,
    emissivity: f64,
    /// From face to coolant, and of that from the skin of the rubber on, m²·K/W.
    through: f64,
    of_hose: f64,
}

fn radiated(celsius: f64) -> f64 {
    let kelvin = celsius + KELVIN;
    SIGMA * (kelvin * kelvin) * (kelvin * kelvin)
}

impl Wall {
    /// A hose of this bore and outside diameter, mm; `inner` is the film of the coolant.
    #[must_use]
    pub fn new(bore: f64, outside: f64, cover: Cover, inner: f64) -> Self {
        let (ri, ro) = (0.5e-3 * bore, 0.5e-3 * outside);
        let radius = ro + 1e-3 * cover.thick();
        let of_hose = radius * (libm::log(ro / ri) / RUBBER + 1.0 / (ri * inner));
        let sleeve = GLASS / GLASS_CONDUCTS + UNDER / UNDER_CONDUCTS;
        let (emissivity, through) = match cover {
            Cover::Bare => (RUBBER_FACE, of_hose),
            Cover::NewSleeve => (SLEEVE_NEW, of_hose + sleeve),
            Cover::DirtySleeve => (SLEEVE_DIRTY, of_hose + sleeve),
        };
        Self { radius, emissivity, through, of_hose }
    }

    /// Heat into the face at a temperature of it, W/m², and how that falls with it.
    fn taken(&self, face: f64, seen: &[Seen], air: f64, bay: f64, fixed: Option<f64>) -> (f64, f64) {
        let mut sky = 1.0;
        let (mut heat, mut falls) = (0.0, 0.0);
        let own = radiated(face);
        for one in seen {
            let by = one.part / (1.0 / one.emissivity + 1.0 / self.emissivity - 1.0);
            heat += by * (radiated(one.celsius) - own);
            falls += by;
            sky -= one.part;
        }
        let by = sky.max(0.0) * self.emissivity;
        heat += by * (radiated(bay) - own);
        falls = (falls + by) * 4.0 * own / (face + KELVIN);
        let h = fixed.unwrap_or_else(|| film(face, air, 2.0 * self.radius));
        (heat + h * (air - face), falls + 1.25 * h)
    }

    /// Temperature of the face, °C; `air` is that of the air at it.
    fn face(&self, seen: &[Seen], air: f64, bay: f64, coolant: f64, fixed: Option<f64>) -> f64 {
        let all = seen.iter().filter(|one| one.part > 0.0).map(|one| one.celsius).chain([air, bay, coolant]);
        let (mut lo, mut hi) = all.fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), t| (lo.min(t), hi.max(t)));
        let mut at = coolant.max(bay);
        for _ in 0..STEPS {
            let (taken, falls) = self.taken(at, seen, air, bay, fixed);
            let over = taken - (at - coolant) / self.through;
            if over > 0.0 {
                lo = at;
            } else {
                hi = at;
            }
            let step = over / (falls + 1.0 / self.through);
            let next = at + step;
            let next = if next > lo && next < hi { next } else { 0.5 * (lo + hi) };
            let moved = (next - at).abs();
            at = next;
            if moved < STILL {
                break;
            }
        }
        at
    }

    /// Temperature of the skin of the rubber where the face is so hot, °C.
    fn skin_under(&self, face: f64, coolant: f64) -> f64 {
        coolant + (face - coolant) * self.of_hose / self.through
    }

    /// Temperature of the skin of the rubber, °C, with hot things in view, `air` at it and this coolant in it.
    #[must_use]
    pub fn skin(&self, seen: &[Seen], air: f64, bay: f64, coolant: f64) -> f64 {
        self.skin_under(self.face(seen, air, bay, coolant, None), coolant)
    }

    /// No less than [`Wall::skin`], where neither bay nor air is hotter than the coolant: as if the skin gave nothing back.
    #[must_use]
    pub fn skin_at_most(&self, seen: &[Seen], coolant: f64) -> f64 {
        let own = radiated(coolant);
        let heat = |one: &Seen| {
            let by = one.part / (1.0 / one.emissivity + 1.0 / self.emissivity - 1.0);
            by * (radiated(one.celsius) - own).max(0.0)
        };
        coolant + self.of_hose * seen.iter().map(heat).sum::<f64>()
    }

    /// Temperature of the skin in a plume of rising air, °C.
    #[must_use]
    pub fn skin_in_plume(&self, seen: &[Seen], plume: f64, bay: f64, coolant: f64) -> f64 {
        self.skin_under(self.face(seen, plume, bay, coolant, Some(RISING)), coolant)
    }

    /// Temperature that coolant which stands still in it comes to, °C, beside a hot thing like a long pipe.
    #[must_use]
    pub fn standing(&self, beside: &Beside, bay: Bay) -> f64 {
        self.standing_from(beside, bay, &mut None)
    }

    /// The same, beginning with the temperatures of a case like it, and leaving its own.
    pub(super) fn standing_from(&self, beside: &Beside, bay: Bay, known: &mut Option<Still>) -> f64 {
        let ring = ROUND.map(|round| beside.round(1e3 * self.radius, round, bay.air));
        // One Newton step of every piece of skin and of the coolant with them, again and again: what a piece passes on falls
        // with its own temperature, and that follows the coolant's.
        let cold = Still { coolant: bay.coolant, faces: [bay.coolant.max(bay.air); RING] };
        let Still { mut coolant, mut faces } = known.unwrap_or(cold);
        for _ in 0..STEPS {
            let (mut into, mut falls_with) = (0.0, 0.0);
            let (mut errors, mut slopes) = ([0.0; RING], [0.0; RING]);
            for (k, (seen, air)) in ring.iter().enumerate() {
                let (taken, falls) = self.taken(faces[k], core::slice::from_ref(seen), *air, bay.air, None);
                let slope = falls + 1.0 / self.through;
                let error = taken - (faces[k] - coolant) / self.through;
                (errors[k], slopes[k]) = (error, slope);
                into += (faces[k] + error / slope - coolant) / self.through;
                falls_with += (1.0 - 1.0 / (self.through * slope)) / self.through;
            }
            let step = into / falls_with;
            coolant += step;
            for k in 0..RING {
                let lowest = bay.air.min(bay.coolant) - 50.0;
                faces[k] = (faces[k] + (errors[k] + step / self.through) / slopes[k]).clamp(lowest, 1e4);
            }
            if step.abs() < MOVED {
                break;
            }
        }
        *known = Some(Still { coolant, faces });
        coolant
    }
}

/// The temperatures of coolant that stands still, and of half a ring of skin round it, °C.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Still {
    coolant: f64,
    faces: [f64; RING],
}

/// A hot thing beside a hose, reduced to a long pipe.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Beside {
    /// Its temperature, °C.
    pub celsius: f64,
    /// Emissivity of its face.
    pub emissivity: f64,
    /// Part of the view of a piece of skin in front of it.
    pub part: f64,
    /// From its surface to the skin (or sleeve), mm.
    pub gap: f64,
    /// Thickness of its film of hot air, mm.
    pub film: f64,
}

impl Beside {
    /// What a piece of skin sees that looks away from the thing by so much round the hose, by sine and cosine, on a hose of this
    /// radius in mm, and the air at it.
    fn round(&self, radius: f64, (sin, cos): (f64, f64), bay: f64) -> (Seen, f64) {
        // The pipe whose part of the view this is: r/(r + gap).
        let pipe = self.gap.max(1e-3) * self.part / (1.0 - self.part).max(1e-9);
        // From the piece of skin to the axis of the pipe, in the plane square to both.
        let (along, across) = (pipe + self.gap + radius * (1.0 - cos), radius * sin);
        let away = (along * along + across * across).sqrt();
        // It looks past the axis by what it is turned and by what the axis lies aside.
        let (turned_sin, turned_cos) = ((sin * along + cos * across) / away, (cos * along - sin * across) / away);
        let part = turned_away_by(pipe / away, turned_sin, turned_cos);
        let air = air_near(self.celsius, bay, away - pipe, self.film);
        (Seen { celsius: self.celsius, emissivity: self.emissivity, part }, air)
    }
}

/// Air at `gap` mm from a hot surface with a film so thick, °C.
#[must_use]
pub fn air_near(hot: f64, bay: f64, gap: f64, thick: f64) -> f64 {
    let rest = 1.0 - gap.max(0.0) / thick;
    if rest > 0.0 { bay + (hot - bay) * rest * rest } else { bay }
}

/// Thickness of the film of hot air round a thing so hot and thick, mm: 2 k/h (integral profile of Squire and Eckert, from
/// memory).
#[must_use]
pub fn film_thickness(hot: f64, bay: f64, thick: f64) -> f64 {
    let h = film(hot, bay, 1e-3 * thick.max(1.0));
    2e3 * Air::at(0.5 * (hot + bay)).conductivity / h
}

/// Temperature of a flat shield, wider than the thing, °C: `part` is what the thing takes of its view.
#[must_use]
pub fn shield(hot: f64, part: f64, face: f64, bay: f64) -> f64 {
    let by = part / (1.0 / HOT_FACE + 1.0 / face - 1.0);
    let (mut lo, mut hi) = (bay.min(hot), bay.max(hot));
    // Halved: asked once for each shield.
    for _ in 0..50 {
        let at = 0.5 * (lo + hi);
        let own = radiated(at);
        let taken = by * (radiated(hot) - own) + (1.0 - part) * face * (radiated(bay) - own);
        let given = face * (own - radiated(bay)) + 2.0 * SHIELD_FILM * (at - bay);
        if taken > given {
            lo = at;
        } else {
            hi = at;
        }
    }
    0.5 * (lo + hi)
}
