//! Every hose that could serve a run: its windows, the cut suggested, how it would lie there, and what is found.

use super::cut_window::{LED_ROUND, Margin, Span, Windows, windows};
use crate::Run;
use checks::{Conditions, Finding, Laid, Reading, Verdict};
use quantity::{Length, Window};
use shape::{Lie, NoShape, Section, Solver, Vec3};
use stock::{Hose, Stock};

/// A window narrower than this cannot be hit with a tape and a knife; our choice.
const PRACTICAL: f64 = 2.0;
/// How far outside a window is looked for what goes wrong there, mm; our choice.
const BEYOND: f64 = 2.0;
/// A distance limit of nothing (do not touch) is measured against this; our choice.
const TOUCH_SCALE: f64 = 12.0;

/// One hose on one run.
#[derive(Clone, Debug)]
pub(crate) struct Candidate {
    pub(crate) hose: Hose,
    /// Cut lengths free of fails, shortest window first.
    pub(crate) sound: Vec<Window<Length>>,
    /// Of the first of them, the widest part free of warnings.
    pub(crate) calm: Option<Window<Length>>,
    /// The cut: suggested, or tried, or the nearest to passing.
    pub(crate) cut: Length,
    /// True if no length passes and `cut` is only the nearest.
    pub(crate) nearest: bool,
    /// How it lies at that cut: of several ways, the one that does worst. `None` if it cannot lie there at all.
    pub(crate) lie: Option<Lie>,
    /// In how many ways it can lie there.
    pub(crate) ways: usize,
    pub(crate) findings: Vec<Finding>,
    /// What goes wrong just below the first window, and just above it.
    pub(crate) outside: [Option<Finding>; 2],
    /// The first window if the hose is half, and twice, as stiff as taken.
    pub(crate) if_stiffness: [Option<Window<Length>>; 2],
}

impl Candidate {
    /// The worst verdict of all findings.
    pub(crate) fn verdict(&self) -> Verdict {
        self.findings.iter().map(|finding| finding.verdict).max().unwrap_or(Verdict::Fail)
    }
}

/// A hose that was not laid, and why.
#[derive(Clone, Debug)]
pub(crate) struct Rejected {
    pub(crate) hose: Hose,
    pub(crate) finding: Finding,
}

/// One run with one hose, ready to be asked.
struct Fitting<'a> {
    run: &'a Run,
    conditions: &'a Conditions,
    stock: &'a Stock,
    hose: &'a Hose,
    bore: Option<Window<Length>>,
    section: Section,
}

impl<'a> Fitting<'a> {
    fn new(run: &'a Run, conditions: &'a Conditions, stock: &'a Stock, hose: &'a Hose) -> Self {
        // The bore of one's own hose was measured; of any other only its nominal size is known.
        let bore = if hose.own { None } else { stock.bore_limits(hose.bore).map(|limits| limits.value) };
        let weight = Vec3::new(0.0, 0.0, -hose.filled_weight_per_mm());
        Self { run, conditions, stock, hose, bore, section: Section { stiffness: hose.bend_stiffness(), weight } }
    }

    fn laid<'b>(&'b self, lie: &'b Lie) -> Laid<'b> {
        Laid {
            from: &self.run.from,
            to: &self.run.to,
            neighbours: &self.run.neighbours,
            conditions: self.conditions,
            side: self.run.side,
            hose: self.hose,
            bore: self.bore,
            stock: self.stock,
            lie,
        }
    }

    /// The lie while the second end is put on, if the hose must bow for it and can.
    fn bowed(&self, solver: &mut Solver, lie: &Lie) -> Option<Lie> {
        let more = checks::must_bow(&self.run.from, &self.run.to).filter(|more| *more > Length::ZERO)?;
        solver.rest_near(lie, &self.run.ends(), lie.length() + more.as_mm(), &self.section).ok()
    }

    fn windows(&self, section: &Section) -> Windows {
        let mut readings = Vec::new();
        let must_bow = checks::must_bow(&self.run.from, &self.run.to).is_some_and(|more| more > Length::ZERO);
        windows(&self.run.ends(), section, |solver, lie, out| {
            let bowed = self.bowed(solver, lie);
            checks::readings(&self.laid(lie), bowed.as_ref(), &mut readings);
            out.clear();
            out.extend(readings.iter().map(margin));
            if must_bow && bowed.is_none() {
                out.push(Margin { fail: -1.0, warn: -1.0 });
            }
        })
    }

    /// All lies at a free length in which the hose would lie of itself, the worst by margin chosen: `(lie, number of lies, findings)`.
    fn at(&self, free: f64) -> (Option<Lie>, usize, Vec<Finding>) {
        let mut solver = Solver::new();
        let mut lies = match solver.lies(&self.run.ends(), free, &self.section) {
            Ok(lies) => lies,
            Err(why) => {
                let mut findings = vec![Finding::no_lie(why, free, self.run.ends().chord())];
                findings.extend(checks::before_it_lies(&self.run.from, &self.run.to, self.hose, self.bore));
                return (None, 0, findings);
            }
        };
        let least = lies.iter().map(Lie::bending_energy).fold(f64::INFINITY, f64::min);
        lies.retain(|lie| lie.bending_energy() <= LED_ROUND * least);
        let ways = lies.len();
        let mut readings = Vec::new();
        let mut shortfall = |lie: &Lie| {
            checks::readings(&self.laid(lie), None, &mut readings);
            // A lie that passes is as good as another that passes: only what it falls short by counts.
            let none = (0.0_f64, 0.0_f64);
            readings.iter().map(margin).fold(none, |worst, m| (worst.0.min(m.fail), worst.1.min(m.warn)))
        };
        // A lie that fails, or warns, displaces the one of lowest energy, which stands first.
        let judged = lies.into_iter().map(|lie| (shortfall(&lie), lie));
        let Some((_, lie)) = judged.reduce(|a, b| if b.0 < a.0 { b } else { a }) else {
            return (None, 0, vec![Finding::no_lie(NoShape::NotFound, free, self.run.ends().chord())]);
        };
        let bowed = self.bowed(&mut solver, &lie);
        let findings = checks::all(&self.laid(&lie), bowed.as_ref());
        (Some(lie), ways, findings)
    }
}

/// Margin of a reading relative to its limit.
fn margin(reading: &Reading) -> Margin {
    let relative = |limit: Option<f64>| {
        limit.map_or(f64::INFINITY, |limit| {
            let scale = if limit > 0.0 { limit } else { TOUCH_SCALE };
            (reading.margin(limit) / scale).min(1e6)
        })
    };
    Margin { fail: relative(reading.bound.fail).min(1e6), warn: relative(reading.bound.warn).min(1e6) }
}

fn practical(span: &Span) -> bool {
    span.1 - span.0 >= PRACTICAL
}

/// All hoses of the first size that goes on both spigots, unsorted, without how the window moves with the stiffness.
pub(crate) fn first_candidates(run: &Run, conditions: &Conditions, stock: &Stock) -> Vec<Candidate> {
    let hoses = run.hose.as_ref().map_or(&stock.hoses[..], std::slice::from_ref);
    let goes_on = |hose: &&Hose| {
        let bore = Fitting::new(run, conditions, stock, hose).bore;
        !checks::before_it_lies(&run.from, &run.to, hose, bore).iter().any(|f| f.verdict == Verdict::Fail)
    };
    let Some(first) = hoses.iter().find(goes_on) else { return Vec::new() };
    let fitting = Fitting::new(run, conditions, stock, first);
    let sized = Sized { windows: fitting.windows(&fitting.section), if_stiffness: [None; 2] };
    let alike = hoses.iter().filter(|hose| hose.bore == first.bore && hose.outside == first.outside).filter(goes_on);
    alike.map(|hose| sized.candidate(run, hose, &Fitting::new(run, conditions, stock, hose))).collect()
}

/// Every hose that could serve, unsorted, and those that could not, one of each size.
pub(crate) fn candidates(run: &Run, conditions: &Conditions, stock: &Stock) -> (Vec<Candidate>, Vec<Rejected>) {
    let (mut found, mut rejected) = (Vec::new(), Vec::<Rejected>::new());
    let mut sized: Vec<(Length, Length, Sized)> = Vec::new();
    // A hose the person chose is the only candidate, and is laid whatever is wrong with it.
    let hoses = run.hose.as_ref().map_or(&stock.hoses[..], std::slice::from_ref);
    for hose in hoses {
        let fitting = Fitting::new(run, conditions, stock, hose);
        let before = checks::before_it_lies(&run.from, &run.to, hose, fitting.bore);
        let misfit = before.into_iter().find(|f| f.verdict == Verdict::Fail && f.check == checks::Check::Fit);
        if let Some(finding) = misfit.filter(|_| run.hose.is_none()) {
            if !rejected.iter().any(|other| other.hose.bore == hose.bore && other.hose.outside == hose.outside) {
                rejected.push(Rejected { hose: hose.clone(), finding });
            }
            continue;
        }
        // Hoses of one bore and wall lie alike whatever their rubber: they are laid once.
        let known = sized.iter().position(|(bore, outside, _)| *bore == hose.bore && *outside == hose.outside);
        let index = known.unwrap_or_else(|| {
            sized.push((hose.bore, hose.outside, Sized::of(&fitting)));
            sized.len() - 1
        });
        found.push(sized[index].2.candidate(run, hose, &fitting));
    }
    (found, rejected)
}

/// What is the same for every hose of one bore and wall.
struct Sized {
    windows: Windows,
    if_stiffness: [Option<Span>; 2],
}

impl Sized {
    fn of(fitting: &Fitting<'_>) -> Self {
        let stiffer = |factor: f64| Section { stiffness: fitting.section.stiffness * factor, ..fitting.section };
        let first = |windows: &Windows| windows.sound.iter().copied().find(practical);
        Self {
            windows: fitting.windows(&fitting.section),
            if_stiffness: [0.5, 2.0].map(|factor| first(&fitting.windows(&stiffer(factor)))),
        }
    }

    fn candidate(&self, run: &Run, hose: &Hose, fitting: &Fitting<'_>) -> Candidate {
        let seats = run.seats();
        let cut = |span: Span| Window::new(Length::mm(span.0) + seats, Length::mm(span.1) + seats);
        let sound: Vec<Span> = self.windows.sound.iter().copied().filter(practical).collect();
        let widest_of = |spans: &[Span]| {
            let first = sound.first()?;
            let inside = spans.iter().filter(|calm| calm.0 >= first.0 - 0.1 && calm.1 <= first.1 + 0.1);
            inside.copied().filter(practical).max_by(|a, b| (a.1 - a.0).total_cmp(&(b.1 - b.0)))
        };
        let calm = widest_of(&self.windows.calm);
        let quiet = calm.or_else(|| widest_of(&self.windows.quiet));
        // A window too narrow for any knife is still where it comes nearest.
        let sliver = self.windows.sound.first().map(|span| 0.5 * (span.0 + span.1));
        let nearest = sliver.or(self.windows.best.map(|best| best.0)).unwrap_or_else(|| run.ends().chord());
        let suggested = quiet.or(sound.first().copied()).map(|span| on_tape(span, seats));
        let cut_length = run.try_cut.or(suggested).unwrap_or(Length::mm(nearest) + seats);
        let (lie, ways, mut findings) = fitting.at((cut_length - seats).as_mm());
        findings.extend(run.piece.map(|piece| Finding::piece(cut_length.as_mm(), piece.as_mm())));
        let chord = run.ends().chord();
        let outside =
            [sound.first().map(|span| span.0 - BEYOND), sound.first().map(|span| span.1 + BEYOND)].map(|free| {
                fitting.at(free?.max(chord * 1.001)).2.into_iter().find(|finding| finding.verdict == Verdict::Fail)
            });
        Candidate {
            hose: hose.clone(),
            sound: sound.into_iter().filter_map(cut).collect(),
            calm: calm.and_then(cut),
            cut: cut_length,
            nearest: suggested.is_none(),
            lie,
            ways,
            findings,
            outside,
            if_stiffness: self.if_stiffness.map(|span| span.and_then(cut)),
        }
    }
}

/// The middle of a span as a cut length that a tape shows: whole five millimetres if the span is wide enough to keep
/// clear of both edges, else whole millimetres.
fn on_tape(span: Span, seats: Length) -> Length {
    let middle = Length::mm(0.5 * (span.0 + span.1)) + seats;
    let step = if span.1 - span.0 >= 20.0 { 5.0 } else { 1.0 };
    Length::mm((middle.as_mm() / step).round() * step)
}
