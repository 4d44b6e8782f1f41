//! How long lies take to find, beside what the study of solvers took and what is asked; a table comes at the end.

use criterion::Criterion;
use shape::{Ends, Guide, Lie, NoShape, Section, Solid, Solver, Touching, Vec3};
use std::hint::black_box;
use std::time::{Duration, Instant};

/// Samples of each bench; the table tells their median.
const SAMPLES: usize = 50;
/// Nanoseconds of a step of [`multiply_and_add`] on the machine for which the targets were set; on another, or on the same
/// under load, they are scaled by its own.
const STEP_OF_TARGETS: f64 = 2.77;

/// A question, in mm and N.
struct Layout {
    ends: Ends,
    length: f64,
    section: Section,
}

/// From a water rail to a heater core, the run that the page opens with: a filled 16 mm hose, invented.
const HEATER: Layout = Layout {
    ends: Ends {
        a: Vec3::ZERO,
        tangent_a: Vec3::new(0.0, 1.0, 0.0),
        b: Vec3::new(-280.0, 210.0, 70.0),
        tangent_b: Vec3::new(-1.0, 0.0, 0.0),
    },
    length: 425.0,
    section: Section { stiffness: 57_843.0, weight: Vec3::new(0.0, 0.0, -4.865e-3) },
};

/// Case P01 of `tests/reference/lie_cases.json`: a plane elbow, without weight.
const P01: Layout = Layout {
    ends: Ends {
        a: Vec3::ZERO,
        tangent_a: Vec3::new(1.0, 0.0, 0.0),
        b: Vec3::new(150.0, 150.0, 0.0),
        tangent_b: Vec3::new(0.0, 1.0, 0.0),
    },
    length: 245.0,
    section: Section { stiffness: 56_000.0, weight: Vec3::ZERO },
};

/// Case G02 of `tests/reference/lie_cases.json`: in space, under its weight.
const G02: Layout = Layout {
    ends: Ends {
        a: Vec3::ZERO,
        tangent_a: Vec3::new(1.0, 0.0, 0.0),
        b: Vec3::new(300.0, 100.0, -50.0),
        tangent_b: Vec3::new(0.0, 1.0, 0.0),
    },
    length: 390.0,
    section: Section { stiffness: 47_114.786_791_9, weight: Vec3::new(0.0, 0.0, -0.005_027_947_134_12) },
};

/// The heater hose, 20 mm longer, through one of these clips or both.
const CLIPS: [Guide; 2] = [
    Guide { at: Vec3::new(-75.0, 140.0, 40.0), direction: None },
    Guide { at: Vec3::new(-165.0, 180.0, 65.0), direction: None },
];
const CLIPPED: Layout = Layout { length: 445.0, ..HEATER };

/// Half the thickness of that hose, and a pipe that it brushes: the free lie would be 2.4 mm deep in it.
const RADIUS: f64 = 12.0;
const PIPE: Solid =
    Solid::Capsule { a: Vec3::new(150.0, 50.0, -50.7), b: Vec3::new(190.0, -100.0, -50.7), radius: 15.0 };

/// The lengths of a search for the cut window, from long to short.
const SWEEP: (f64, f64, u32) = (650.0, 375.0, 120);

impl Layout {
    fn cold(&self, solver: &mut Solver) -> Result<Lie, NoShape> {
        solver.rest(black_box(&self.ends), black_box(self.length), black_box(&self.section))
    }

    fn near(&self, solver: &mut Solver, near: &Lie, length: f64) -> Result<Lie, NoShape> {
        solver.rest_near(black_box(near), black_box(&self.ends), black_box(length), black_box(&self.section))
    }

    fn clipped(&self, solver: &mut Solver, clips: usize) -> Result<Lie, NoShape> {
        let guides = black_box(&CLIPS[..clips]);
        solver.rest_guided(black_box(&self.ends), guides, black_box(self.length), black_box(&self.section))
    }

    fn clipped_near(&self, solver: &mut Solver, near: &Lie, clips: usize, length: f64) -> Result<Lie, NoShape> {
        let (ends, guides) = (black_box(&self.ends), black_box(&CLIPS[..clips]));
        solver.rest_guided_near(black_box(near), ends, guides, black_box(length), black_box(&self.section))
    }

    fn against(&self, solver: &mut Solver, solids: &[Solid]) -> Result<Touching, NoShape> {
        solver.rest_against(black_box(&self.ends), self.length, &self.section, RADIUS, black_box(solids))
    }

    /// All lengths of [`SWEEP`], each from the one before.
    fn sweep(&self, solver: &mut Solver) -> Result<Lie, NoShape> {
        let (long, short, count) = SWEEP;
        let mut lie = solver.rest(&self.ends, long, &self.section)?;
        for k in 1..count {
            lie = self.near(solver, &lie, long + (short - long) * f64::from(k) / f64::from(count - 1))?;
        }
        Ok(lie)
    }
}

/// Targets of a run with clips, microseconds.
const CLIPPED_COLD: Option<f64> = Some(300.0);
const CLIPPED_WARM: Option<f64> = Some(100.0);
/// Target of a cold solve, microseconds.
const COLD: Option<f64> = Some(12.0);

/// Times in microseconds.
struct Row {
    what: &'static str,
    /// Of [`multiply_and_add`] just before, in nanoseconds.
    step: f64,
    median: f64,
    study: Option<f64>,
    target: Option<f64>,
}

struct Table {
    criterion: Criterion,
    rows: Vec<Row>,
}

impl Table {
    /// Times `run`, which must find what it looks for, and adds its row unless the command line left it out.
    fn time<T>(
        &mut self,
        what: &'static str,
        study: impl Into<Option<f64>>,
        target: Option<f64>,
        mut run: impl FnMut() -> Result<T, NoShape>,
    ) {
        let step = multiply_and_add();
        let mut samples = Vec::new();
        self.criterion.bench_function(what, |bencher| {
            bencher.iter_custom(|times| {
                let begin = Instant::now();
                for _ in 0..times {
                    black_box(run().expect("every layout of this file has a lie"));
                }
                let spent = begin.elapsed();
                samples.push(spent.as_secs_f64() * 1e6 / times as f64);
                spent
            });
        });
        // The runs that warm up come first.
        samples.drain(..samples.len().saturating_sub(SAMPLES));
        samples.sort_by(f64::total_cmp);
        if samples.len() == SAMPLES {
            self.rows.push(Row { what, step, median: samples[SAMPLES / 2], study: study.into(), target });
        }
    }

    #[expect(clippy::print_stdout, reason = "the table is what a bench is for")]
    fn print(&self) {
        println!(
            "\nMicroseconds; targets for {STEP_OF_TARGETS} ns a step of multiply and add, scaled by those of this machine."
        );
        println!(
            "{:30}{:>10}{:>10}{:>10}{:>10}{:>15}",
            "what", "median", "study", "target", "ns/step", "scaled target"
        );
        for Row { what, step, median, study, target } in &self.rows {
            let told = |micros: Option<f64>| micros.map_or_else(|| "-".to_owned(), |micros| format!("{micros:.1}"));
            let (study, target, scaled) =
                (told(*study), told(*target), told(target.map(|t| t * step / STEP_OF_TARGETS)));
            println!("{what:30}{median:10.2}{study:>10}{target:>10}{step:10.2}{scaled:>15}");
        }
    }
}

/// Nanoseconds of one step of a fixed loop in which every multiply and add waits for the one before and goes through
/// memory, so that no compiler can shorten it: the speed of the machine and of nothing of ours.
fn multiply_and_add() -> f64 {
    const STEPS: u32 = 100_000_000;
    let begin = Instant::now();
    let mut a = 0.0;
    for _ in 0..STEPS {
        a = black_box(a * 0.999_999 + 1.000_001);
    }
    begin.elapsed().as_secs_f64() * 1e9 / f64::from(STEPS)
}

fn main() {
    let criterion = Criterion::default()
        .sample_size(SAMPLES)
        .warm_up_time(Duration::from_millis(500))
        .measurement_time(Duration::from_secs(2))
        .configure_from_args();
    let mut table = Table { criterion, rows: Vec::new() };
    let solver = &mut Solver::new();
    let known = |layout: &Layout| layout.cold(&mut Solver::new()).expect("every layout of this file has a lie");

    // The study's figures are those of N = 40 on its own layouts of this kind; at N = 80, between its 64 and 100.
    table.time("cold", 9.2, COLD, || HEATER.cold(solver));
    table.time("cold, solver made anew", 9.2, COLD, || HEATER.cold(&mut Solver::new()));
    table.time("cold, P01", 9.1, COLD, || P01.cold(solver));
    table.time("cold, G02", 9.1, COLD, || G02.cold(solver));
    for (what, study, layout) in
        [("warm, 2 mm longer", 4.7, HEATER), ("warm, 2 mm longer, P01", 4.6, P01), ("warm, 2 mm longer, G02", 4.7, G02)]
    {
        let lie = known(&layout);
        table.time(what, study, Some(6.0), || layout.near(solver, &lie, layout.length + 2.0));
    }
    table.time("120 lengths, long to short", 530.0, Some(700.0), || HEATER.sweep(solver));
    table.time("eight starts", 130.0, Some(200.0), || {
        solver.lies(black_box(&HEATER.ends), black_box(HEATER.length), black_box(&HEATER.section))
    });
    let lie = known(&HEATER);
    table.time("leant on with 5 N, eight sides", None, None, || {
        let Layout { ends, length, section } = &HEATER;
        Ok(solver.leaves_when_pushed(black_box(&lie), black_box(ends), *length, section, 5.0))
    });
    table.time("cold, N = 80", 15.5, None, || {
        solver.rest_on_mesh(black_box(&HEATER.ends), black_box(HEATER.length), black_box(&HEATER.section), 80)
    });
    for (clips, cold, warm) in
        [(1, "one clip, cold", "one clip, warm, 2 mm longer"), (2, "two clips, cold", "two clips, warm, 2 mm longer")]
    {
        // No study of these: the plan's own wish.
        table.time(cold, None, CLIPPED_COLD, || CLIPPED.clipped(solver, clips));
        let lie = CLIPPED.clipped(&mut Solver::new(), clips).expect("every layout of this file has a lie");
        table.time(warm, None, CLIPPED_WARM, || CLIPPED.clipped_near(solver, &lie, clips, CLIPPED.length + 2.0));
    }
    table.time("against one pipe, G02", 56.0, Some(100.0), || G02.against(solver, &[PIPE]));
    let touching = G02.against(solver, &[PIPE]).expect("it passes");
    table.time("the same, warm, 2 mm longer", 56.0, None, || {
        let Layout { ends, length, section } = &G02;
        solver.rest_against_near(black_box(&touching.lie), ends, length + 2.0, section, RADIUS, black_box(&[PIPE]))
    });
    table.criterion.final_summary();
    table.print();
}
