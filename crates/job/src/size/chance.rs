//! Tape error: the chance that a length passes although the tape, the cut and the eye for a direction err.
//!
//! Eight things are a little off: the place of mouth B along each axis, the cut (each within ± the tape error), and the way
//! each spigot points (within a cone of the angle error, two numbers each); all values within are as likely. They are taken
//! from a fixed sequence that fills eight dimensions evenly, so the same run gives the same chance on every phone: the
//! additive recurrence with the powers of the root of x⁹ = x + 1 (M. Roberts, "The unreasonable effectiveness of
//! quasirandom sequences", 2018; from memory).
//!
//! Of each sample only pass or fail is asked, of reach, bend, distance and heat (by the gap at which this hose gets too hot),
//! standing still, on the lie that is told.

use super::cut_window::Span;
use super::fitting::Fitting;
use super::lay::Lay;
use quantity::Angle;
use shape::{Ends, Lie, Solver, Vec3};

/// Samples of each length.
pub(crate) const SAMPLES: u32 = 512;
/// Lengths, spread over the window and one tape error beyond on both sides.
pub(crate) const LENGTHS: usize = 20;
/// The root of x⁹ = x + 1.
const ROOT: f64 = 1.085_070_245_491_451;
/// The same where it is bought with a warning. Our choice.
const NEARLY_AS_GOOD: f64 = 0.05;
/// Steps in which a curve is looked through.
const STEPS: u32 = 200;
/// Lengths whose chance is within this of the best are as good. Our choice: twice what one sample of a hundred says.
const AS_GOOD: f64 = 0.02;

/// How far a tape, and a direction read by eye, may be off.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Errors {
    /// Of each offset and of the cut, mm, each way.
    pub(crate) tape: f64,
    /// Of the direction of each spigot, A first.
    pub(crate) angle: [Angle; 2],
}

/// One way for all of it to be off, in the frame of the run: along the chord, to the side the spigots lean to, and across.
struct Sample {
    b: [f64; 3],
    cut: f64,
    /// Part of each direction along itself, and along two more that make a frame with it.
    tilt: [[f64; 3]; 2],
}

/// The samples, always the same ones: each with its mirror image across the plane of the run, so that a mirrored car has the
/// same chances.
fn samples(errors: &Errors) -> Vec<Sample> {
    let mut steps = [0.0; 8];
    let mut power = 1.0;
    for step in &mut steps {
        power /= ROOT;
        *step = power;
    }
    let sample = |k: u32| {
        let x = steps.map(|step| {
            let whole = 0.5 + step * f64::from(k);
            whole - whole.floor()
        });
        let off = |x: f64| errors.tape * (2.0 * x - 1.0);
        let tilt = |most: Angle, out: f64, round: f64| {
            // As many in equal parts of the cone's mouth.
            let angle = most.as_radians() * out.sqrt();
            let round = core::f64::consts::TAU * round;
            let sin = libm::sin(angle);
            [libm::cos(angle), sin * libm::cos(round), sin * libm::sin(round)]
        };
        Sample {
            b: [off(x[0]), off(x[1]), off(x[2])],
            cut: off(x[3]),
            tilt: [tilt(errors.angle[0], x[4], x[5]), tilt(errors.angle[1], x[6], x[7])],
        }
    };
    let mirrored = |Sample { b: [x, y, z], cut, tilt }: &Sample| Sample {
        b: [*x, *y, -*z],
        cut: *cut,
        tilt: tilt.map(|[along, out, across]| [along, out, -across]),
    };
    (1..=SAMPLES / 2)
        .map(sample)
        .flat_map(|sample| {
            let other = mirrored(&sample);
            [sample, other]
        })
        .collect()
}

/// A frame that turns and is mirrored with the run: along the chord, then to the side that the spigots or the weight lean
/// to.
fn frame(lay: &Lay) -> [Vec3; 3] {
    let ends = &lay.ends;
    let along = (ends.b - ends.a).direction().unwrap_or(ends.tangent_a);
    let leans = [ends.tangent_a, ends.tangent_b, lay.section.weight];
    let side = leans
        .into_iter()
        .find_map(|v| v.across(along).direction().filter(|_| v.across(along).norm() > 1e-6 * v.norm()));
    let side = side.unwrap_or_else(|| along.frame().0);
    [along, side, along.cross(side)]
}

/// A curve of chances over free lengths, mm, shortest first.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Chances(pub(crate) Vec<(f64, f64)>);

impl Chances {
    /// Over a window of free lengths; `near` is the lie that is told at one of them.
    pub(super) fn over(fitting: &Fitting<'_>, errors: &Errors, window: Span, near: &Lie) -> Self {
        let samples = samples(errors);
        let lengths = lengths(window, errors.tape);
        let at = |k: usize| lengths[k];
        let mut solver = Solver::new();
        // From the lie that is told outwards, so that every length begins at the one beside it.
        let middle = (0..LENGTHS)
            .min_by(|a, b| (at(*a) - near.length()).abs().total_cmp(&(at(*b) - near.length()).abs()))
            .unwrap_or(0);
        let mut lies = vec![near.clone(); LENGTHS];
        for order in [(middle..LENGTHS).collect::<Vec<_>>(), (0..middle).rev().collect()] {
            let mut here = near.clone();
            for k in order {
                if let Ok(lie) = fitting.lay.near(&mut solver, &here, at(k)) {
                    here = lie;
                }
                lies[k] = here.clone();
            }
        }
        let too_hot = checks::too_near(&fitting.laid(near));
        let mut passed = [0_u32; LENGTHS];
        for sample in &samples {
            let lay = Lay { ends: sample.ends(&fitting.lay), ..fitting.lay.clone() };
            let passes = |k: usize| {
                let lie = lay.near_roughly(&mut solver, &lies[k], at(k) + sample.cut);
                lie.is_ok_and(|lie| checks::passes(&fitting.laid(&lie), &too_hot))
            };
            if let Some((first, last)) = stretch(middle, passes) {
                passed[first..=last].iter_mut().for_each(|passed| *passed += 1);
            }
        }
        let share = |k: usize| (at(k), f64::from(passed[k]) / f64::from(SAMPLES));
        Self((0..LENGTHS).map(share).collect())
    }

    /// The best chance of any length.
    pub(crate) fn best(&self) -> f64 {
        self.0.iter().map(|(_, chance)| *chance).fold(0.0, f64::max)
    }

    /// The chance at a free length, between those that were sampled.
    pub(crate) fn at(&self, free: f64) -> Option<f64> {
        let pair = self.0.windows(2).find(|pair| (pair[0].0..=pair[1].0).contains(&free))?;
        let x = (free - pair[0].0) / (pair[1].0 - pair[0].0);
        Some(pair[0].1 + x * (pair[1].1 - pair[0].1))
    }

    /// The length to suggest: the middle of those among `first` that forgive most. Where none of them has a good chance, but
    /// some of the whole `window` do much better: the nearest of those, for a warning is better than a hose spoiled.
    pub(crate) fn most_forgiving(&self, first: Span, window: Span, good: f64) -> f64 {
        let grid = |span: Span| (0..=STEPS).map(move |k| span.0 + (span.1 - span.0) * f64::from(k) / f64::from(STEPS));
        let chance = |free: f64| self.at(free).unwrap_or(0.0);
        let best = |span: Span| grid(span).map(chance).fold(0.0, f64::max);
        let (best_first, best_all) = (best(first), best(window));
        if best_first < good && best_all > best_first + AS_GOOD {
            let away = |free: f64| f64::max(first.0 - free, free - first.1);
            let fair = grid(window).filter(|free| chance(*free) >= best_all - NEARLY_AS_GOOD);
            return fair.reduce(|a, b| if away(b) < away(a) { b } else { a }).unwrap_or(first.0);
        }
        // The longest stretch of lengths that are as good as the best.
        let (mut longest, mut begun): (Option<Span>, Option<f64>) = (None, None);
        for free in grid(first) {
            let as_good = chance(free) >= best_first - AS_GOOD;
            begun = if as_good { begun.or(Some(free)) } else { None };
            let known = longest.map_or(-1.0, |(begin, end)| end - begin);
            longest = begun.filter(|begin| free - begin > known).map(|begin| (begin, free)).or(longest);
        }
        longest.map_or(first.0, |(begin, end)| 0.5 * (begin + end))
    }
}

/// The lengths that are sampled, shortest first: even over a narrow window, close together at the edges of a wide one.
fn lengths(window: Span, tape: f64) -> [f64; LENGTHS] {
    /// Steps from an edge outwards and inwards, in tape errors.
    const EDGE: [f64; 7] = [-1.0, -0.5, 0.0, 0.5, 1.0, 2.0, 3.5];
    let step = tape.max(1.0);
    let even = |lo: f64, hi: f64, k: usize, last: usize| lo + (hi - lo) * k as f64 / last as f64;
    if window.1 - window.0 < 10.0 * step {
        return std::array::from_fn(|k| even(window.0 - tape, window.1 + tape, k, LENGTHS - 1));
    }
    let inner = (window.0 + EDGE[6] * step, window.1 - EDGE[6] * step);
    std::array::from_fn(|k| match (k, LENGTHS - 1 - k) {
        (k, _) if k < EDGE.len() => window.0 + EDGE[k] * step,
        (_, k) if k < EDGE.len() => window.1 - EDGE[k] * step,
        _ => even(inner.0, inner.1, k + 1 - EDGE.len(), LENGTHS + 1 - 2 * EDGE.len()),
    })
}

/// Lengths that are tried, one in so many, before it is said that none passes.
const TRY_EVERY: usize = 3;

/// From the first to the last length that passes, taken to be one stretch: its ends are halved in upon from one inside.
fn stretch(middle: usize, mut passes: impl FnMut(usize) -> bool) -> Option<(usize, usize)> {
    let others = (0..LENGTHS).step_by(TRY_EVERY);
    let inside = [middle].into_iter().chain(others).find(|k| passes(*k))?;
    let mut edge = |mut inside: usize, mut outside: usize| {
        if passes(outside) {
            return outside;
        }
        while inside.abs_diff(outside) > 1 {
            let between = usize::midpoint(inside, outside);
            if passes(between) {
                inside = between;
            } else {
                outside = between;
            }
        }
        inside
    };
    Some((edge(inside, 0), edge(inside, LENGTHS - 1)))
}

impl Sample {
    /// Where the ends are if all is off in this way.
    fn ends(&self, lay: &Lay) -> Ends {
        let ends = lay.ends;
        let [x, y, z] = frame(lay);
        // A direction, the way in the plane of the run square to it, and the way across both.
        let tilted = |along: Vec3, [own, out, across]: [f64; 3]| {
            let u = [y, x].into_iter().find_map(|v| Some(v.across(along)).filter(|u| u.norm() > 0.5)?.direction());
            let u = u.unwrap_or_else(|| z.cross(along));
            along * own + u * out + along.cross(u) * across
        };
        Ends {
            a: ends.a,
            tangent_a: tilted(ends.tangent_a, self.tilt[0]),
            b: ends.b + x * self.b[0] + y * self.b[1] + z * self.b[2],
            tangent_b: tilted(ends.tangent_b, self.tilt[1]),
        }
    }
}
