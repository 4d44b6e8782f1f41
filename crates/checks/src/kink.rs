//! Kink: how tightly the hose bends, against the bend at which its wall gives way.
//!
//! A plain tube bent more and more flattens, and at a certain radius its moment has a maximum: there it folds (Brazier).
//! For rubber (Poisson's ratio 1/2) that radius of the centre line is 3/√2 · √(1-ν²) · r²/t, r to the middle of the
//! wall, t its thickness. It does not depend on how stiff the rubber is. Cold and without pressure decides.
//! No thick-wall factor: a finite-element study of neo-Hookean tubes differs from it by under 2 % up to t/r = 0.45,
//! well inside the factors below.

use crate::limits::{Limit, our_choice};
use crate::{Bound, Check, Finding, Laid, Reading, Sense, Unit, Verdict};
use quantity::{Basis, Source};
use stock::Hose;

/// Brazier's coefficient for ν = 1/2: 3/√2 · √3/2.
const BRAZIER: f64 = 1.837_117_307_087_383_6;
/// Below this many Brazier radii the hose fails.
const FAIL: f64 = 1.3;
/// Below this many it warns: there a plain hose is flattened by 1/18 of its diameter.
const WARN: f64 = 2.0;
/// The stretch behind a mouth that should be straight, in outside diameters.
const MOUTH_DIAMETERS: f64 = 2.0;

const MODEL: Source = Source::new(
    "Brazier, Proc. R. Soc. A 116 (1927) 104: limit of bending of a thin tube; 1.3 and 2 times that radius are our choice",
    Basis::Published,
);
const CREASE: Source =
    Source::new("your own bend test; 1.3 and 2 times the crease radius are our choice", Basis::Measured);
const MOUTH: Source = Source::new(
    "FAA-H-8083-30 p. 7-19: two diameters straight from the end fitting; judged by the same bend limits",
    Basis::Published,
);

/// Radius of the centre line at which a plain rubber hose kinks, mm: Brazier's limit point.
///
/// ```
/// let stock = stock::Stock::built_in();
/// let hose = stock.hoses.iter().find(|hose| hose.bore.as_mm() == 16.0).unwrap();
/// // 16 bore, 4 wall: 1.837 x 10²/4.
/// assert!((checks::brazier_radius(hose) - 45.93).abs() < 0.005);
/// ```
#[must_use]
pub fn brazier_radius(hose: &Hose) -> f64 {
    let r = hose.mean_radius().as_mm();
    BRAZIER * r * r / hose.wall().as_mm()
}

/// The bend limits of one hose, mm, to the inside of the bend.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct KinkLimit {
    /// Radius of the centre line at which it kinks, before any factor; `None` if a wire holds it round.
    pub kink_radius_centre: Option<f64>,
    /// Below this it fails.
    pub fail: Option<f64>,
    /// Below this it warns.
    pub warn: Option<f64>,
    half_outside: f64,
}

impl KinkLimit {
    /// The limits of this hose: from its own bend test if there is one, else from Brazier's formula, which knows nothing
    /// of wire. A least bend radius given for the hose warns; for a hose on wire it is all that is known, and fails.
    #[must_use]
    pub fn of(hose: &Hose) -> Self {
        let half_outside = hose.outside.as_mm() / 2.0;
        let least = hose.least_bend_inside.as_ref().map(|least| least.value.as_mm());
        let crease = hose.creases_at_inside.as_ref().map(|crease| crease.value.as_mm() + half_outside);
        let kinks = crease.or_else(|| (!hose.wire_supported).then(|| brazier_radius(hose)));
        let Some(radius) = kinks else {
            return Self { kink_radius_centre: None, fail: least, warn: least, half_outside };
        };
        let inside = |factor: f64| factor * radius - half_outside;
        let warn = least.map_or(inside(WARN), |least| least.max(inside(WARN)));
        Self { kink_radius_centre: Some(radius), fail: Some(inside(FAIL)), warn: Some(warn), half_outside }
    }

    /// Whether anything is known of how tightly the hose may bend.
    #[must_use]
    pub fn is_known(&self) -> bool {
        self.fail.is_some()
    }

    /// Bend radius to the inside (ISO 8330) for a curvature of the centre line. The one place where it is converted.
    #[must_use]
    pub fn inside(&self, curvature: f64) -> f64 {
        // A straight hose has no bend radius; a kilometre is straight enough and stays a number.
        1.0 / curvature.max(1e-6) - self.half_outside
    }

    fn bound(&self) -> Bound {
        Bound { warn: self.warn, fail: self.fail, sense: Sense::AtLeast }
    }

    /// Reading of a bend of this curvature at `at`.
    #[must_use]
    pub fn reading(&self, check: Check, which: usize, curvature: f64, at: f64) -> Reading {
        Reading { check, which, actual: self.inside(curvature), at, bound: self.bound() }
    }
}

pub(crate) fn read(laid: &Laid<'_>, out: &mut Vec<Reading>) {
    let limit = KinkLimit::of(laid.hose);
    let peak = laid.lie.peak();
    out.push(limit.reading(Check::Kink, 0, peak.curvature, peak.at));
}

/// Flattening of the outside diameter at this curvature, percent: ζ = (1-ν²)(κ r²/t)², no more than at the limit point.
pub(crate) fn flattening(hose: &Hose, curvature: f64) -> f64 {
    let r = hose.mean_radius().as_mm();
    let bend = curvature * r * r / hose.wall().as_mm();
    100.0 * (0.75 * bend * bend).min(2.0 / 9.0)
}

/// On whose word the bend of this hose is judged.
pub(crate) fn source(hose: &Hose) -> Source {
    match (&hose.creases_at_inside, &hose.least_bend_inside) {
        (Some(_), _) => CREASE,
        (None, Some(least)) if hose.wire_supported => least.source.clone(),
        _ => MODEL,
    }
}

pub(crate) fn find(laid: &Laid<'_>, out: &mut Vec<Finding>) {
    let limit = KinkLimit::of(laid.hose);
    if !limit.is_known() {
        out.push(Finding::not_checked(
            Check::Kink,
            "needs the least bend radius of this wire-supported hose, from its seller",
        ));
        return;
    }
    let source = source(laid.hose);
    let peak = laid.lie.peak();
    let reading = limit.reading(Check::Kink, 0, peak.curvature, peak.at);
    let why = match reading.verdict() {
        Verdict::Fail => "it kinks at its tightest bend",
        Verdict::Warn => "it flattens at its tightest bend",
        _ => "its tightest bend keeps it round",
    };
    let mut finding = reading.worded("", Unit::Millimetre, why, source.clone());
    if let Some(radius) = limit.kink_radius_centre {
        finding.extra.push(("kink_radius_centre_mm", radius));
        finding.extra.push(("flattening_percent", flattening(laid.hose, peak.curvature)));
    }
    finding.extra.push(("six_times_bore_mm", 6.0 * laid.hose.bore.as_mm()));
    out.push(finding);

    let reach = (MOUTH_DIAMETERS * laid.hose.outside.as_mm()).min(laid.lie.length());
    let ends = [(0.0, reach), (laid.lie.length() - reach, laid.lie.length())];
    for (which, (spigot, (from, to))) in laid.spigots().into_iter().zip(ends).enumerate() {
        let peak = laid.lie.peak_between(from, to);
        let reading = limit.reading(Check::SpigotMouth, which, peak.curvature, peak.at);
        let why = match reading.verdict() {
            Verdict::Fail => "it kinks where it leaves the spigot",
            Verdict::Warn => "it flattens where it leaves the spigot",
            _ => "it leaves the spigot gently",
        };
        out.push(reading.worded(&spigot.name, Unit::Millimetre, why, MOUTH));
    }
}

pub(crate) fn limits() -> Vec<Limit> {
    vec![
        Limit::new("kink: fails below this many kink radii of the centre line", FAIL, "", MODEL),
        Limit::new("kink: warns below this many", WARN, "", MODEL),
        Limit::new("spigot mouth: outside diameters that should stay gentle", MOUTH_DIAMETERS, "", MOUTH),
        Limit::new(
            "a supplier's rule shown beside it, times the bore; gives no verdict",
            6.0,
            "",
            our_choice("shown, not judged"),
        ),
    ]
}
