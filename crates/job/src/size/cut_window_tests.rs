//! The search for windows against brute force: nine starts at each of 3,000 lengths, on 300 seeded layouts.

use super::cut_window::{LED_ROUND, Windows, windows};
use super::judge::{Judged, Margin, Wanted};
use super::lay::Lay;
use shape::{Ends, Lie, Section, Solver, Vec3};
use std::thread;

/// Inside bend radius at which a 16/24 hose fails, mm (1.3 Brazier radii of the centre line, less 12).
const BEND: f64 = 47.7;
/// Lengths of the sweep.
const SWEEP: usize = 3000;
/// How far an edge may be off, mm.
const EDGE: f64 = 0.3;

/// A small repeatable generator: `SplitMix64` (Steele, Lea, Flood, OOPSLA 2014).
struct Draw(u64);

impl Draw {
    fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let z = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        let z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    fn between(&mut self, lo: f64, hi: f64) -> f64 {
        lo + (hi - lo) * (self.bits() >> 11) as f64 / (1u64 << 53) as f64
    }

    fn direction(&mut self) -> Vec3 {
        loop {
            let v = Vec3::new(self.between(-1.0, 1.0), self.between(-1.0, 1.0), self.between(-1.0, 1.0));
            if let Some(unit) = v.direction().filter(|_| v.norm() <= 1.0) {
                return unit;
            }
        }
    }
}

/// A layout: two spigots, a 16/24 hose under its weight, and pillars (centre line, mm apart) to keep from.
struct Layout {
    ends: Ends,
    section: Section,
    pillars: Vec<(Vec3, Vec3, f64)>,
}

impl Layout {
    fn draw(draw: &mut Draw) -> Self {
        let b = draw.direction() * draw.between(150.0, 450.0);
        let towards = b.direction().expect("a distance of at least 150");
        let lean = |draw: &mut Draw, about: Vec3| (about + draw.direction() * draw.between(0.0, 1.6)).direction();
        let tangent_a = lean(draw, towards).unwrap_or(towards);
        let tangent_b = lean(draw, towards).unwrap_or(towards);
        let pillars = (0..2)
            .map(|_| {
                (
                    b * draw.between(0.2, 0.8) + draw.direction() * draw.between(60.0, 180.0),
                    draw.direction(),
                    draw.between(30.0, 70.0),
                )
            })
            .collect();
        let section = Section { stiffness: 57_843.0, weight: Vec3::new(0.0, 0.0, -4.865e-3) };
        Self { ends: Ends { a: Vec3::ZERO, tangent_a, b, tangent_b }, section, pillars }
    }

    fn margins(&self, lie: &Lie, out: &mut Vec<Margin>) {
        out.clear();
        let radius = 1.0 / lie.peak().curvature.max(1e-6) - 12.0;
        out.push(Margin { fail: radius / BEND - 1.0, warn: f64::INFINITY });
        for (at, along, keep) in &self.pillars {
            // Distance to an endless line, by dense sampling: plain, slow, and not the code it referees.
            let fine = 100;
            let gap = (0..=fine)
                .map(|i| (lie.point_at(lie.length() * f64::from(i) / f64::from(fine)) - *at).cross(*along).norm())
                .fold(f64::INFINITY, f64::min);
            out.push(Margin { fail: gap / keep - 1.0, warn: f64::INFINITY });
        }
    }

    fn found(&self) -> Windows {
        windows(
            &Lay { ends: self.ends, guides: Vec::new(), solids: Vec::new(), radius: 12.0, section: self.section },
            None,
            |_: &mut Solver, lie: &Lie, _: Option<Wanted<'_>>, Judged { margins: out, .. }: &mut Judged| {
                self.margins(lie, out)
            },
        )
    }

    /// Whether every lie passes in which the hose would lie of itself.
    fn passes(&self, lies: &[Lie]) -> bool {
        let least = lies.iter().map(Lie::bending_energy).fold(f64::INFINITY, f64::min);
        let mut margins = Vec::new();
        let mut easy = lies.iter().filter(|lie| lie.bending_energy() <= LED_ROUND * least);
        !lies.is_empty()
            && easy.all(|lie| {
                self.margins(lie, &mut margins);
                margins.iter().all(|margin| margin.fail >= 0.0)
            })
    }

    /// All lies at the lengths of the sweep, shortest first.
    ///
    /// From long to short in steps of under a millimetre, each lie followed into the next length; nine starts at every
    /// twentieth length and wherever a lie is lost; then from short to long, for lies that only begin on the way.
    fn swept(&self) -> Vec<(f64, Vec<Lie>)> {
        let chord = self.ends.chord();
        let mut solver = Solver::new();
        let lengths = (0..SWEEP).map(|k| chord * (1.0 + 2.0 * (k as f64 + 0.5) / SWEEP as f64));
        let mut swept: Vec<(f64, Vec<Lie>)> = lengths.map(|length| (length, Vec::new())).collect();
        let add = |lies: &mut Vec<Lie>, lie: Lie| {
            if !lies.iter().any(|other| other.same_as(&lie)) {
                lies.push(lie);
            }
        };
        for k in (0..SWEEP).rev() {
            let length = swept[k].0;
            let longer = swept.get(k + 1).map_or(Vec::new(), |(_, lies)| lies.clone());
            let mut lies = Vec::new();
            for lie in &longer {
                if let Ok(lie) = solver.rest_near(lie, &self.ends, length, &self.section) {
                    add(&mut lies, lie);
                }
            }
            if lies.len() < longer.len() || lies.is_empty() || k % 20 == 0 {
                let all = solver.lies(&self.ends, length, &self.section).unwrap_or_default();
                all.into_iter().for_each(|lie| add(&mut lies, lie));
            }
            swept[k].1 = lies;
        }
        for k in 1..SWEEP {
            let (length, shorter) = (swept[k].0, swept[k - 1].1.clone());
            for lie in shorter {
                if !swept[k].1.iter().any(|other| other.same_as(&lie))
                    && let Ok(lie) = solver.rest_near(&lie, &self.ends, length, &self.section)
                {
                    add(&mut swept[k].1, lie);
                }
            }
        }
        swept
    }

    /// The lengths at which search and sweep differ, further than [`EDGE`] from every edge found.
    fn differences(&self) -> Vec<String> {
        let found = self.found();
        let near_edge =
            |length: f64| found.sound.iter().any(|s| (s.0 - length).abs() < EDGE || (s.1 - length).abs() < EDGE);
        let told = |length: f64| found.sound.iter().any(|s| (s.0..=s.1).contains(&length));
        self.swept()
            .into_iter()
            .filter(|(length, lies)| !near_edge(*length) && told(*length) != self.passes(lies))
            .map(|(length, lies)| {
                format!("{length:.2}: told {} ({} lies), {:?}", told(length), lies.len(), found.sound)
            })
            .collect()
    }
}

#[test]
fn the_windows_are_those_of_a_fine_sweep_on_300_layouts() {
    let half = |start: u64| {
        thread::spawn(move || {
            let mut draw = Draw(start);
            (0..150)
                .filter_map(|i| {
                    let layout = Layout::draw(&mut draw);
                    let wrong = layout.differences();
                    (!wrong.is_empty())
                        .then(|| format!("layout {i} of {start}, {} lengths, first {}", wrong.len(), wrong[0]))
                })
                .collect::<Vec<_>>()
        })
    };
    let wrong: Vec<String> = [half(1), half(2)].into_iter().flat_map(|t| t.join().expect("no panic")).collect();
    assert!(wrong.is_empty(), "{} of 300 differ:\n{}", wrong.len(), wrong.join("\n"));
}

#[test]
fn a_square_corner_has_the_windows_of_the_study() {
    // An independent study of the same corner (150 mm each way, no weight) by another program, its edges within 0.21 mm:
    // with a bend limit of 60 mm of the centre line 225.4-326.2 and from 482.0; with 149 only 235.55-235.77.
    let ends = Ends {
        a: Vec3::ZERO,
        tangent_a: Vec3::new(1.0, 0.0, 0.0),
        b: Vec3::new(150.0, 150.0, 0.0),
        tangent_b: Vec3::new(0.0, 1.0, 0.0),
    };
    let section = Section { stiffness: 57_843.0, weight: Vec3::ZERO };
    let at = |limit: f64| {
        windows(
            &Lay { ends, guides: Vec::new(), solids: Vec::new(), radius: 12.0, section },
            None,
            |_: &mut Solver, lie: &Lie, _: Option<Wanted<'_>>, Judged { margins: out, .. }: &mut Judged| {
                out.clear();
                out.push(Margin { fail: 1.0 / lie.peak().curvature.max(1e-6) / limit - 1.0, warn: f64::INFINITY });
            },
        )
        .sound
    };
    let near = |a: f64, b: f64, within: f64| (a - b).abs() <= within;
    let loose = at(60.0);
    assert!(loose.len() == 2 && near(loose[0].0, 225.4, 0.21) && near(loose[0].1, 326.2, 0.21), "{loose:?}");
    assert!(near(loose[1].0, 482.0, 0.21), "{loose:?}");
    let narrow = at(149.0);
    assert!(near(narrow[0].0, 235.55, 0.01) && near(narrow[0].1, 235.77, 0.01), "{narrow:?}");
}

#[test]
fn spigots_in_line_take_hose_from_the_straight_distance_on() {
    let ends = Ends {
        a: Vec3::ZERO,
        tangent_a: Vec3::new(1.0, 0.0, 0.0),
        b: Vec3::new(230.0, 0.0, 0.0),
        tangent_b: Vec3::new(1.0, 0.0, 0.0),
    };
    let section = Section { stiffness: 57_843.0, weight: Vec3::new(0.0, 0.0, -4.865e-3) };
    let found = windows(
        &Lay { ends, guides: Vec::new(), solids: Vec::new(), radius: 12.0, section },
        None,
        |_: &mut Solver, lie: &Lie, _: Option<Wanted<'_>>, Judged { margins: out, .. }: &mut Judged| {
            out.clear();
            out.push(Margin { fail: (1.0 / lie.peak().curvature.max(1e-6) - 12.0) / BEND - 1.0, warn: f64::INFINITY });
        },
    );
    let first = found.sound[0];
    assert!((first.0 - 230.0).abs() < 1e-9 && (first.1 - 259.0).abs() < 1.0, "taut at 230, window to 259: {first:?}");
}
