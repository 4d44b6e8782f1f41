//! What an outside source says of one lie, how far ours is from it, and the limits that must hold.

use crate::how_good;
use shape::{Ends, Lie, Section, Vec3};

/// One lie as an outside source gives it; lengths in mm, forces in N.
#[derive(Debug)]
pub(crate) struct Referee {
    pub(crate) name: String,
    pub(crate) ends: Ends,
    pub(crate) length: f64,
    pub(crate) section: Section,
    /// The centre line at equal steps of arc length, both ends included.
    pub(crate) line: Vec<Vec3>,
    /// The tangents at the same places.
    pub(crate) tangents: Vec<Vec3>,
    pub(crate) peak: f64,
    pub(crate) energy: f64,
    /// What spigot A and spigot B do to the hose.
    pub(crate) forces: [Vec3; 2],
    pub(crate) moments: [Vec3; 2],
    /// The lie may turn freely about the chord: its place and its moments have no one answer.
    pub(crate) neutral: bool,
}

const MEASURES: [&str; 5] =
    ["centre line, mm per 400 mm", "peak curvature", "bending energy", "end force", "end moment"];

/// The limits of the design, in the order of [`MEASURES`]. They were met by the study's prototype with a factor of two
/// to five in hand and must not be loosened.
const LIMITS: [f64; 5] = [0.02, 5e-4, 2e-4, 1e-3, 5e-4];

/// The distance of a lie from its referee, in the order of [`MEASURES`].
pub(crate) type Misses = [f64; 5];

impl Referee {
    /// How far `lie` is from this referee. A force or moment near zero is measured against a twentieth of EI/L² or EI/L.
    pub(crate) fn misses(&self, lie: &Lie) -> Misses {
        let scale = self.section.stiffness / self.length;
        let steps = (self.line.len() - 1) as f64;
        let off = |(i, &place): (usize, &Vec3)| (lie.point_at(self.length * i as f64 / steps) - place).norm();
        let line = self.line.iter().enumerate().map(off).fold(0.0, f64::max) * 400.0 / self.length;
        let force = worst_vector([lie.force_at_a(), lie.force_at_b()], self.forces, 0.05 * scale / self.length);
        let moment = worst_vector([lie.moment_at_a(), lie.moment_at_b()], self.moments, 0.05 * scale);
        let peak = (lie.peak().curvature / self.peak - 1.0).abs();
        let energy = (lie.bending_energy() / self.energy - 1.0).abs();
        if self.neutral { [0.0, peak, energy, force, 0.0] } else { [line, peak, energy, force, moment] }
    }

    /// The lie of several that this referee speaks of: the one whose centre line is nearest.
    pub(crate) fn nearest<'a>(&self, lies: &'a [Lie]) -> &'a Lie {
        lies.iter().min_by(|p, q| self.misses(p)[0].total_cmp(&self.misses(q)[0])).expect("at least one lie")
    }
}

fn worst_vector(ours: [Vec3; 2], theirs: [Vec3; 2], floor: f64) -> f64 {
    (0..2).map(|i| (ours[i] - theirs[i]).norm() / theirs[i].norm().max(floor)).fold(0.0, f64::max)
}

/// Collects what was found over many cases and speaks at the end.
#[derive(Debug, Default)]
pub(crate) struct Tally {
    worst: [(f64, String); 5],
    over: Vec<String>,
    cases: usize,
}

impl Tally {
    /// Takes one case: its name and how far it was, or why there was no answer.
    pub(crate) fn take(&mut self, name: &str, found: Result<Misses, String>) {
        self.cases += 1;
        let misses = match found {
            Ok(misses) => misses,
            Err(why) => return self.over.push(format!("{name}: {why}")),
        };
        for (i, &miss) in misses.iter().enumerate() {
            if miss.is_nan() || miss > self.worst[i].0 {
                self.worst[i] = (miss, name.to_owned());
            }
            if miss.is_nan() || miss > LIMITS[i] {
                self.over.push(format!("{name}: {} {miss:.2e}, allowed {:.0e}", MEASURES[i], LIMITS[i]));
            }
        }
    }

    /// Fails if any case was over a limit or `cases` is not their number; the message holds the worst of each measure.
    pub(crate) fn close(self, cases: usize) {
        let worst: Vec<_> =
            (0..5).map(|i| format!("  {}: {:.2e} ({})", MEASURES[i], self.worst[i].0, self.worst[i].1)).collect();
        let report = format!("{} cases, worst\n{}\n{}", self.cases, worst.join("\n"), self.over.join("\n"));
        println!("{report}");
        for (i, (worst, _)) in self.worst.iter().enumerate() {
            how_good::note(MEASURES[i], *worst, LIMITS[i], self.cases);
        }
        assert_eq!(self.cases, cases, "{report}");
        assert!(self.over.is_empty(), "{report}");
    }
}

#[test]
fn a_miss_over_a_limit_or_not_a_number_is_told() {
    for bad in [[0.0, 6e-4, 0.0, 0.0, 0.0], [0.0, 0.0, 0.0, 0.0, f64::NAN]] {
        let mut tally = Tally::default();
        tally.take("bad", Ok(bad));
        assert_eq!(tally.over.len(), 1, "{tally:?}");
    }
}
