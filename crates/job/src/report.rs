//! What is told: the report, as plain data that crosses to a file or to the page.

use crate::accept::Problem;
use crate::car::circuit::CircuitReport;
use crate::car::cuts::CutsReport;
use crate::car::shopping::ShoppingReport;
use crate::car::{ClosuresReport, FillReport, OrderReport};
use crate::size::{Buy, Marks};
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::collections::BTreeMap;
use std::ops::Index;

/// Version of the report's form.
pub const REPORT_VERSION: u32 = 1;

/// The answer to a job.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Report {
    /// "hosewright-report".
    pub format: String,
    /// See [`REPORT_VERSION`].
    pub version: u32,
    /// What was wrong with what was typed.
    pub problems: Vec<Problem>,
    /// The runs that could be sized.
    pub runs: Vec<RunReport>,
    /// What the coolant does as it is.
    pub coolant: CoolantReport,
    /// What to pour, if it was said what the system holds.
    pub refill: Option<RefillReport>,
    /// What to buy and how to cut it, told of several runs, and of a car.
    pub cuts: Option<CutsReport>,
    /// All there is to buy, told with the cut list.
    pub shopping: Option<ShoppingReport>,
    /// Where coolant flows in the car, and what is wrong with that.
    #[serde(rename = "loop")]
    pub circuit: Option<CircuitReport>,
    /// How its open ends can be closed.
    pub closures: Option<ClosuresReport>,
    /// In which order things come off and go on.
    pub order: Option<OrderReport>,
    /// How to fill and prove it.
    pub fill: Option<FillReport>,
}

/// What the coolant does.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct CoolantReport {
    /// "ethylene" or "propylene".
    pub glycol: String,
    /// Glycol by volume.
    pub percent: f64,
    /// Where it begins to freeze.
    pub freezes_c: f64,
    /// Where it boils under the cap, if that is known.
    pub boils_c: Option<f64>,
    /// Its temperature as it flows.
    pub hot_c: f64,
    /// How much it grows from 20 °C to that.
    pub grows_percent: Option<f64>,
    /// Its density when hot.
    pub density_kg_m3: Option<f64>,
}

/// What to pour.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct RefillReport {
    /// "pour", "only water", "drain more" or "too weak".
    pub kind: String,
    /// What to do, in a sentence.
    pub what: String,
    /// Glycol by volume that is wanted.
    pub wanted_percent: f64,
    /// Glycol by volume that it ends at.
    pub ends_percent: f64,
    /// Concentrate, or ready mix, to pour in.
    pub pour_l: Option<f64>,
    /// Water to pour in.
    pub water_l: Option<f64>,
    /// What must be drained first.
    pub drain_l: Option<f64>,
    /// What may stay in it at most.
    pub leave_at_most_l: Option<f64>,
    /// Where what it ends at begins to freeze.
    pub freezes_c: Option<f64>,
    /// Where it boils under the cap.
    pub boils_c: Option<f64>,
    /// How much it grows from 20 °C to the coolant's temperature.
    pub grows_l: Option<f64>,
}

/// The answer to one run.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct RunReport {
    /// Its place among the runs as they were typed, from 0.
    pub run: usize,
    /// What it is called.
    pub name: String,
    /// Hoses that could serve, best first.
    pub candidates: Vec<CandidateReport>,
    /// Sizes that could not, and why.
    pub rejected: Vec<RejectedReport>,
    /// What would help where no length works or the chance is low, the least work first; each was laid and passes.
    pub remedies: Vec<RemedyReport>,
    /// The way the hose is wanted, if that was said.
    pub wanted: Option<WantedReport>,
    /// Where no length works: "A", "B" or "A and B", if a length would work with these ends turned round. To be asked.
    pub turned_round: Option<String>,
    /// Which rubber with the best hose, and what not to use.
    pub advice: Vec<AdviceReport>,
    /// What was taken for granted because it was not said.
    pub assumed: Vec<String>,
    /// Cautions for the work.
    pub cautions: Vec<String>,
}

/// A piece of advice on the material.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct AdviceReport {
    /// What to take or leave, and why.
    pub what: String,
    /// On whose word.
    pub source: String,
    /// What that is worth.
    pub basis: String,
}

/// Something that would help.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct RemedyReport {
    /// "other way", "sleeve", "shield", "turn", "wire", "clip", "elbow", "bent hose".
    pub kind: String,
    /// What is done, in a sentence.
    pub what: String,
    /// What it changes in the run: a field of the job file and its value, as JSON.
    pub change: Vec<ChangeReport>,
    /// The worst verdict with it.
    pub verdict: String,
    /// The same in words.
    pub headline: String,
    /// The cut suggested with it.
    pub cut_mm: f64,
    /// The lengths that work with it.
    pub cut_window_mm: Option<[f64; 2]>,
    /// Its tightest bend, to the inside.
    pub tightest_bend_mm: f64,
    /// Points of the centre line at that cut.
    pub points_mm: Vec<[f64; 3]>,
}

/// A field of the run and what it is to be.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct ChangeReport {
    /// Its place in the run, as `from/turned_deg`.
    pub field: String,
    /// The value, as JSON.
    pub value: String,
}

/// One hose on one run.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct CandidateReport {
    /// The hose.
    pub hose: HoseReport,
    /// The worst verdict of its findings.
    pub verdict: String,
    /// The verdict in words, with what was not checked.
    pub headline: String,
    /// Why it stands behind the first; empty for the first.
    pub why_behind: String,
    /// The shortest window of cut lengths free of fails; null if there is none.
    pub cut_window_mm: Option<[f64; 2]>,
    /// Further windows: longer loops.
    pub more_windows_mm: Vec<[f64; 2]>,
    /// The part of the first window that is free of warnings too.
    pub calm_window_mm: Option<[f64; 2]>,
    /// What goes wrong with a cut just shorter than the first window.
    pub shorter_fails: Option<FindingReport>,
    /// What goes wrong with a cut just longer than the first window.
    pub longer_fails: Option<FindingReport>,
    /// The cut: suggested, or the one that was to be tried, or the nearest to passing.
    pub cut_mm: f64,
    /// Chance that it passes in spite of tape and angle errors; worked out for the best hose, if a length of it works.
    pub chance: Option<f64>,
    /// The chance of each cut length over the first window and a little beyond: pairs of cut and chance, shortest first.
    pub chances: Vec<[f64; 2]>,
    /// True if no length passes and this is only the nearest.
    pub nearest: bool,
    /// How it lies at that cut; null if it cannot.
    pub lie: Option<LieReport>,
    /// In how many ways it can lie there of itself; unless one was picked, the one told does worst.
    pub ways: usize,
    /// Every way, lowest energy first.
    pub ways_to_lie: Vec<WayReport>,
    /// Where to mark it.
    pub marks: Marks,
    /// How much to buy for this run alone.
    pub buy: Buy,
    /// Clamps for both ends, A first.
    pub clamps: Vec<ClampReport>,
    /// The first window if the hose is half as stiff as taken.
    pub cut_window_if_half_as_stiff_mm: Option<[f64; 2]>,
    /// The first window if the hose is twice as stiff as taken.
    pub cut_window_if_twice_as_stiff_mm: Option<[f64; 2]>,
    /// What was found.
    pub findings: Vec<FindingReport>,
}

/// One of the ways in which a hose can lie.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct WayReport {
    /// Where it bows: "bows up and to the left".
    pub name: String,
    /// The same as it is stored of a way that is picked: from the middle between the mouths to the middle of the hose, in
    /// lengths of the hose.
    pub bows: [f64; 3],
    /// True for the one that is told.
    pub told: bool,
    /// False if it would have to be led round on purpose to lie so.
    pub of_itself: bool,
    /// Its bending energy over that of the easiest.
    pub energy_over_least: f64,
    /// Its worst verdict, where there are several ways.
    pub verdict: Option<String>,
    /// What is worst about it.
    pub why: Option<String>,
    /// Points of the centre line, equally spaced.
    pub points_mm: Vec<[f64; 3]>,
}

/// A hose as it is told.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct HoseReport {
    /// What it is.
    pub kind: String,
    /// The size as it is asked for.
    pub sold_as: String,
    /// What it is made of, if known.
    pub rubber: Option<String>,
    /// Its SAE J20 class, if known.
    pub class: Option<String>,
    /// The hottest it bears for long, if known.
    pub limit_c: Option<f64>,
    /// Bore.
    pub bore_mm: f64,
    /// Outside diameter.
    pub outside_mm: f64,
    /// Where the size is from.
    pub source: String,
    /// On what that rests.
    pub basis: String,
}

/// How a hose lies.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct LieReport {
    /// Length along the centre line between the mouths.
    pub free_mm: f64,
    /// Points of the centre line, equally spaced, mouth A to mouth B.
    pub points_mm: Vec<[f64; 3]>,
    /// Bend radius to the inside at those points; no more than 2000.
    pub bend_inside_mm: Vec<f64>,
    /// Below this bend radius to the inside it fails; null if that is not known.
    pub bend_fails_below_mm: Option<f64>,
    /// Below this it warns.
    pub bend_warns_below_mm: Option<f64>,
    /// The tightest bend, to the inside.
    pub tightest_bend_mm: f64,
    /// Where it is, from mouth A.
    pub at_mm: f64,
    /// How far it bows out of the straight line between the mouths.
    pub bow_mm: f64,
    /// Places from knife end to knife end, from mouth A along the centre line: negative on the seat of A.
    pub gap_places_mm: Vec<f64>,
    /// The clips and holes it passes, in their order.
    pub clips: Vec<HeldReport>,
    /// Where it rests against what it may touch.
    pub rests: Vec<RestReport>,
    /// How near every thing comes at those places.
    pub gaps: Vec<GapReport>,
    /// How hot the skin gets there beside every hot thing.
    pub heat: Vec<HeatReport>,
}

/// How hot the skin gets beside one thing all along the hose.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct HeatReport {
    /// Name of the thing.
    pub about: String,
    /// Temperature of the skin at the places of the gaps.
    pub skin_c: Vec<f64>,
    /// Above this it fails; null if it is not known what the rubber bears.
    pub fails_above_c: Option<f64>,
    /// Above this it warns.
    pub warns_above_c: Option<f64>,
    /// The same in other states than the one that is judged; for the best hose only.
    pub also: Vec<HeatStateReport>,
}

/// How hot the skin gets along the hose in another state.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct HeatStateReport {
    /// "bare", "under a new sleeve", "under a dirty sleeve", or "bare, coolant standing still".
    pub state: String,
    /// Temperature of the skin at the places of the gaps.
    pub skin_c: Vec<f64>,
}

/// How near one thing comes all along the hose.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct GapReport {
    /// Name of the thing.
    pub about: String,
    /// From the skin of the hose to its surface; negative inside. Clamps are left out: they count in the finding.
    pub gap_mm: Vec<f64>,
    /// Below this it fails.
    pub fails_below_mm: Option<f64>,
    /// Below this it warns.
    pub warns_below_mm: Option<f64>,
}

/// A clip or hole on the way.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct HeldReport {
    /// "P-clip" or "grommet".
    pub holds: String,
    /// Where along the hose it sits, from mouth A along the centre line.
    pub at_mm: f64,
    /// Force of the clip on the hose.
    pub force_n: f64,
}

/// Where a hose rests against something.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct RestReport {
    /// Name of the thing.
    pub about: String,
    /// Where along the hose it begins to touch, from mouth A, and where it ends.
    pub from_mm: f64,
    /// See `from_mm`.
    pub to_mm: f64,
    /// With what force they press on each other.
    pub force_n: f64,
}

/// The way a hose is wanted, with the best hose.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct WantedReport {
    /// Length of its centre line, mouth to mouth.
    pub free_mm: f64,
    /// The cut length: with both seats.
    pub cut_mm: f64,
    /// Its bends, in their order.
    pub bends: Vec<BendReport>,
    /// How far its end is from mouth B.
    pub off_mm: f64,
    /// How far its direction there is off.
    pub off_deg: f64,
    /// Where P-clips keep a straight hose within `strays_mm` of it.
    pub clips: Vec<ClipReport>,
    /// How far the hose strays with them; null if no clips keep it to the way at all.
    pub strays_mm: Option<f64>,
    /// Points of its centre line.
    pub points_mm: Vec<[f64; 3]>,
}

/// A bend of the way wanted.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct BendReport {
    /// Where it begins, from mouth A.
    pub at_mm: f64,
    /// By how much.
    pub bend_deg: f64,
    /// Its radius to the inside.
    pub inside_mm: f64,
    /// Whether a straight hose can be bent so.
    pub verdict: String,
}

/// Where a clip is wanted.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ClipReport {
    /// Its place.
    pub at_mm: [f64; 3],
    /// The way the hose goes through it, if that is to be held.
    pub along: Option<[f64; 3]>,
    /// Where it is along the way, from mouth A.
    pub from_a_mm: f64,
}

/// A clamp for one end.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ClampReport {
    /// "A" or "B".
    pub end: String,
    /// Name of the spigot.
    pub spigot: String,
    /// "worm drive" or "spring band".
    pub kind: String,
    /// The standard of the size.
    pub standard: String,
    /// The size.
    pub size: String,
    /// What it closes on, from and to.
    pub range_mm: [f64; 2],
    /// Width of the band, from and to.
    pub band_mm: [f64; 2],
    /// Diameter it closes on here.
    pub closes_on_mm: f64,
    /// Diameter it opens over here.
    pub opens_over_mm: f64,
    /// Centre of the band from the end of the hose.
    pub band_from_end_mm: f64,
    /// Torque on a new hose, if it has a screw.
    pub torque_nm: Option<f64>,
    /// Its tolerance.
    pub torque_plus_minus_nm: Option<f64>,
    /// Where the torque is from.
    pub torque_source: Option<String>,
    /// Torque when it is nipped up, after the first heat and cooling, if it has a screw.
    pub again_nm: Option<f64>,
    /// Its tolerance.
    pub again_plus_minus_nm: Option<f64>,
    /// Whether it keeps its pull by itself while the rubber takes a set.
    pub follows: bool,
    /// Why not the next smaller size.
    pub not_smaller: Option<String>,
    /// Where the size is from.
    pub source: String,
    /// On what that rests.
    pub basis: String,
}

/// One finding.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct FindingReport {
    /// The check.
    pub check: String,
    /// "pass", "warn", "fail" or "not checked".
    pub verdict: String,
    /// The spigot or thing it is about.
    pub about: String,
    /// What was measured.
    pub actual: Option<f64>,
    /// The limit the verdict speaks of.
    pub allowed: Option<f64>,
    /// Unit of both.
    pub unit: String,
    /// Where, from mouth A along the centre line.
    pub at_mm: Option<f64>,
    /// Why.
    pub why: String,
    /// Where the limit is from.
    pub source: String,
    /// On what that rests.
    pub basis: String,
    /// Radius of the centre line at which the hose kinks, before any factor.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub kink_radius_centre_mm: Option<f64>,
    /// Flattening of the outside diameter at the tightest bend.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub flattening_percent: Option<f64>,
    /// Six times the bore: a supplier's rule, shown beside the verdict.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub six_times_bore_mm: Option<f64>,
    /// How far a part must move, or the hose bow, to be put on.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub must_move_mm: Option<f64>,
    /// How far the engine is shifted where this was found.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub rock_shift_mm: Option<[f64; 3]>,
    /// How far it is turned there.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub rock_turn_deg: Option<f64>,
    /// Further numbers by name, unit in the name: `bare_c`, `boils_c`, `loss_pa`…
    #[serde(flatten)]
    pub extra: Extra,
}

/// Further numbers by name.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Extra(pub Vec<(String, f64)>);

impl Extra {
    /// The number of that name.
    #[must_use]
    pub fn get(&self, name: &str) -> Option<&f64> {
        self.0.iter().find(|(known, _)| known == name).map(|(_, number)| number)
    }
}

impl Index<&str> for Extra {
    type Output = f64;

    /// The number of that name.
    ///
    /// # Panics
    /// If there is none.
    fn index(&self, name: &str) -> &f64 {
        self.get(name).unwrap_or_else(|| panic!("no {name}"))
    }
}

// Names and numbers as fields of the finding itself; a list, for a map would make the page's module larger.
impl Serialize for Extra {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_map(self.0.iter().map(|(name, number)| (name, number)))
    }
}

impl<'de> Deserialize<'de> for Extra {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let fields: BTreeMap<String, f64> = Deserialize::deserialize(deserializer)?;
        Ok(Self(fields.into_iter().collect()))
    }
}

/// A size that could not serve.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct RejectedReport {
    /// Bore.
    pub bore_mm: f64,
    /// Outside diameter.
    pub outside_mm: f64,
    /// The size as it is asked for.
    pub sold_as: String,
    /// The finding that rules it out.
    pub finding: FindingReport,
}
