//! What is known when it comes to filling, and how it is gathered from the answers to the runs.

use crate::Job;
use crate::refill::Refill;
use crate::report::{CandidateReport, CoolantReport, RefillReport, RunReport};
use quantity::{Length, Moment, Pressure, Volume};
use shape::Vec3;

/// What is known when it comes to filling.
#[derive(Clone, Debug, Default)]
pub struct FillFacts<'a> {
    /// The coolant as it is.
    pub coolant: Option<&'a CoolantReport>,
    /// What to pour.
    pub refill: Option<&'a RefillReport>,
    /// What the system held before the work.
    pub holds: Option<Volume>,
    /// Pressure printed on the cap.
    pub cap: Option<Pressure>,
    /// Height above the sea.
    pub altitude: Option<Length>,
    /// The new hoses.
    pub runs: Vec<NewRun>,
    /// Where runs go up and down again.
    pub high_points: Vec<HighPoint>,
    /// The clamps that were chosen; empty: not known.
    pub clamps: Vec<ClampAt>,
}

/// A new hose.
#[derive(Clone, Debug, PartialEq)]
pub struct NewRun {
    /// Its place among the runs as they were typed; the line that names it tells what was there before.
    pub run: usize,
    /// What it is called.
    pub name: String,
    /// Its bore.
    pub bore: Length,
    /// Its cut length.
    pub length: Length,
}

/// The highest place of a run.
#[derive(Clone, Debug, PartialEq)]
pub struct HighPoint {
    /// What the run is called.
    pub run: String,
    /// Above the higher of its ends; nothing if it only rises or falls.
    pub above_ends: Option<Length>,
    /// Above the filler, if its height is known; negative below it.
    pub above_filler: Option<Length>,
    /// The name of its higher spigot.
    pub higher_end: Option<String>,
}

/// A clamp that was chosen.
#[derive(Clone, Debug, PartialEq)]
pub struct ClampAt {
    /// On which spigot.
    pub place: String,
    /// Whether it keeps its pull by itself: a spring band.
    pub follows: bool,
    /// Torque when it is nipped up, and what that may miss by.
    pub again: TorqueAgain,
}

/// A torque and what it may miss by, if they are known.
pub type TorqueAgain = Option<(Moment, Moment)>;

impl<'a> FillFacts<'a> {
    /// From the job and what was told of its runs, its coolant and what to pour: the first hose of each run, at its cut.
    #[must_use]
    pub fn gather(job: &Job, runs: &[RunReport], coolant: &'a CoolantReport, refill: Option<&'a RefillReport>) -> Self {
        let mut facts = Self {
            coolant: Some(coolant),
            refill,
            holds: job.refill.as_ref().map(Refill::holds),
            cap: job.conditions.cap,
            altitude: job.refill.as_ref().map(Refill::altitude),
            ..Self::default()
        };
        for run in runs {
            // What only comes nearest to fitting is not fitted.
            let Some(first) = run.candidates.first().filter(|first| !first.nearest) else { continue };
            facts.runs.push(NewRun {
                run: run.run,
                name: run.name.clone(),
                bore: Length::mm(first.hose.bore_mm),
                length: Length::mm(first.cut_mm),
            });
            facts.high_points.extend(high_point(job, run, first));
            for clamp in &first.clamps {
                let [least, greatest] = clamp.band_mm;
                let place = if least < greatest {
                    format!("bands of {least:.1} to {greatest:.1} mm")
                } else {
                    format!("bands of {greatest:.0} mm")
                };
                if !facts.clamps.iter().any(|known| known.place == place && known.follows == clamp.follows) {
                    let again = clamp.again_nm.zip(clamp.again_plus_minus_nm);
                    let again = again.map(|(torque, off)| (Moment::nm(torque), Moment::nm(off)));
                    facts.clamps.push(ClampAt { place, follows: clamp.follows, again });
                }
            }
        }
        facts
    }
}

/// Where the check of trapped air found something in this run.
fn high_point(job: &Job, told: &RunReport, first: &CandidateReport) -> Option<HighPoint> {
    let found = |about: &str| {
        let mut traps =
            first.findings.iter().filter(|finding| finding.check == "air trap" && finding.verdict == "warn");
        traps.find(|finding| finding.about == about).and_then(|finding| finding.actual).map(Length::mm)
    };
    let (above_ends, above_filler) = (found(""), found("filler"));
    if above_ends.is_none() && above_filler.is_none() {
        return None;
    }
    let run = job.runs.iter().find(|run| run.index == told.run)?;
    let nose = job.conditions.nose_up.as_radians();
    let up = Vec3::new(libm::sin(nose), 0.0, libm::cos(nose));
    let higher = if run.from.mouth.dot(up) >= run.to.mouth.dot(up) { &run.from } else { &run.to };
    Some(HighPoint { run: told.name.clone(), above_ends, above_filler, higher_end: Some(higher.name.clone()) })
}
