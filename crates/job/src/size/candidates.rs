//! Every hose that could serve a run: its windows, the cut suggested, how it would lie there, and what is found.

use super::chance::Chances;
use super::cut_window::{PRACTICAL, Span, Windows};
use super::fitting::{At, Fitting};
use super::rocked::Followed;
use crate::Run;
use checks::{Conditions, Finding, Verdict};
use quantity::{Length, Window};
use stock::{Hose, Stock};

/// Chances that differ by less are alike; our choice.
const HARDLY: f64 = 0.01;
/// A chance that needs no better one at the price of a warning; our choice.
const SURE: f64 = 0.95;
/// How far outside a window is looked for what goes wrong there, mm; our choice.
const BEYOND: f64 = 2.0;

/// One hose on one run.
#[derive(Clone, Debug)]
pub(crate) struct Candidate {
    pub(crate) hose: Hose,
    /// Cut lengths free of fails, shortest window first.
    pub(crate) sound: Vec<Window<Length>>,
    /// Of the first of them, the widest part free of warnings.
    pub(crate) calm: Option<Window<Length>>,
    /// The free lengths among which the cut is suggested, mm: without a warning that can be avoided, if there are such.
    suggest: Option<Span>,
    /// True if they warn all the same, but mildly: a length that forgives more is worth more.
    mild: bool,
    /// The cut: suggested, or tried, or the nearest to passing.
    pub(crate) cut: Length,
    /// The chance of each length to pass although tape and eye err; worked out for the best candidate.
    pub(crate) chances: Option<Chances>,
    /// True if no length passes and `cut` is only the nearest.
    pub(crate) nearest: bool,
    /// How it lies at that cut, and what is found about it.
    pub(crate) at: At,
    /// What goes wrong just below the first window, and just above it.
    pub(crate) outside: [Option<Finding>; 2],
}

impl Candidate {
    /// The worst verdict of all findings.
    pub(crate) fn verdict(&self) -> Verdict {
        self.at.findings.iter().map(|finding| finding.verdict).max().unwrap_or(Verdict::Fail)
    }

    /// The chance of its cut, if that was worked out.
    pub(crate) fn chance(&self, run: &Run) -> Option<f64> {
        self.chances.as_ref()?.at((self.cut - run.seats()).as_mm())
    }
}

/// A hose that was not laid, and why.
#[derive(Clone, Debug)]
pub(crate) struct Rejected {
    pub(crate) hose: Hose,
    pub(crate) finding: Finding,
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
    let of_size = hoses.iter().filter(|hose| hose.bore == first.bore && hose.outside == first.outside).filter(goes_on);
    let mut all = AllSized::default();
    let of_size: Vec<&Hose> = of_size.collect();
    let mut found = Vec::new();
    for hose in &of_size {
        let fitting = Fitting::new(run, conditions, stock, hose);
        let sized = all.of(run, conditions, stock, hose, &of_size);
        found.extend(sized.map(|sized| sized.candidate(run, hose, &fitting)));
    }
    found
}

/// The lengths of all hoses that were asked for.
#[derive(Default)]
struct AllSized<'a> {
    /// Of each size whatever the heat, with its lies in every pose of the engine.
    still: Vec<(&'a Hose, Windows, Followed)>,
    sized: Vec<(&'a Hose, Sized)>,
}

impl<'a> AllSized<'a> {
    /// Those of a hose among others: they are looked for once for all that are judged alike, the one that bears least heat
    /// first, for where heat has no say with that it has none with the others.
    fn of(
        &mut self,
        run: &Run,
        conditions: &Conditions,
        stock: &Stock,
        hose: &'a Hose,
        others: &[&'a Hose],
    ) -> Option<&Sized> {
        let bears = |hose: &Hose| hose.limit.as_ref().map_or(f64::INFINITY, |limit| limit.value.as_celsius());
        let mut first: Vec<&Hose> = Vec::new();
        for other in others.iter().filter(|other| same_size(other, hose) && bears(other) <= bears(hose)) {
            first.insert(first.partition_point(|known| bears(known) <= bears(other)), other);
        }
        for other in first.into_iter().chain([hose]) {
            if self.known(run, other).is_none() {
                let fitting = Fitting::new(run, conditions, stock, other);
                if !self.still.iter().any(|(known, ..)| same_size(known, other)) {
                    self.still.push((other, fitting.still(), Followed::default()));
                }
                let (_, still, followed) = self.still.iter_mut().find(|(known, ..)| same_size(known, other))?;
                let (windows, hot) = fitting.windows(still, followed);
                self.sized.push((other, Sized { windows, hot }));
            }
        }
        self.known(run, hose)
    }

    fn known(&self, run: &Run, hose: &Hose) -> Option<&Sized> {
        let bears = |hose: &Hose| hose.limit.as_ref().map(|limit| limit.value.as_celsius());
        let serves = |(other, sized): &&(&Hose, Sized)| {
            let cooler = !sized.hot && bears(other).zip(bears(hose)).is_some_and(|(known, own)| known <= own);
            alike(run, other, hose) || (cooler && same_size(other, hose))
        };
        self.sized.iter().find(serves).map(|(_, sized)| sized)
    }
}

fn same_size(a: &Hose, b: &Hose) -> bool {
    a.bore == b.bore && a.outside == b.outside && a.wire_supported == b.wire_supported
}

/// Whether all lengths of two hoses are judged alike: hoses of one bore and wall lie alike whatever their rubber, and if
/// something is hot they must bear as much heat.
fn alike(run: &Run, a: &Hose, b: &Hose) -> bool {
    let bears = |hose: &Hose| hose.limit.as_ref().map(|limit| limit.value);
    let cold = !run.neighbours.iter().any(|thing| matches!(thing.kind, checks::Kind::Hot(Some(_))));
    same_size(a, b) && (cold || bears(a) == bears(b))
}

/// Every hose that could serve, unsorted, and those that could not, one of each size.
pub(crate) fn candidates(run: &Run, conditions: &Conditions, stock: &Stock) -> (Vec<Candidate>, Vec<Rejected>) {
    let (mut found, mut rejected, mut goes_on) = (Vec::new(), Vec::<Rejected>::new(), Vec::new());
    let mut sized = AllSized::default();
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
        goes_on.push(hose);
    }
    for hose in &goes_on {
        let fitting = Fitting::new(run, conditions, stock, hose);
        found
            .extend(sized.of(run, conditions, stock, hose, &goes_on).map(|sized| sized.candidate(run, hose, &fitting)));
    }
    (found, rejected)
}

/// What is the same for every hose of one bore and wall.
struct Sized {
    windows: Windows,
    /// Whether the heat of the skin had a say in them.
    hot: bool,
}

impl Sized {
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
        let nearest = sliver.or(self.windows.best.map(|best| best.0)).unwrap_or_else(|| fitting.lay.chord());
        let suggest = quiet.or(sound.first().copied());
        let middle = |span: Span| 0.5 * (span.0 + span.1);
        let suggested = match (suggest, sound.first()) {
            // The mildest warning is often at the edge of what works: two tape errors inside of it, until the chances are known.
            (Some(span), Some(first)) if self.windows.mild => {
                let inside = f64::min(2.0 * run.errors.tape, 0.25 * (first.1 - first.0));
                let (lo, hi) = (first.0 + inside, first.1 - inside);
                Some(on_tape(middle(span).clamp(lo, hi), *first, seats))
            }
            (span, _) => span.map(|span| on_tape(middle(span), span, seats)),
        };
        let cut_length = suggested.unwrap_or(Length::mm(nearest) + seats);
        let at = at_cut(run, fitting, cut_length);
        let chord = fitting.lay.chord();
        let outside =
            [sound.first().map(|span| span.0 - BEYOND), sound.first().map(|span| span.1 + BEYOND)].map(|free| {
                fitting
                    .at(free?.max(chord * 1.001))
                    .findings
                    .into_iter()
                    .find(|finding| finding.verdict == Verdict::Fail)
            });
        Candidate {
            hose: hose.clone(),
            sound: sound.into_iter().filter_map(cut).collect(),
            calm: calm.and_then(cut),
            suggest,
            mild: self.windows.mild,
            cut: cut_length,
            chances: None,
            nearest: suggested.is_none(),
            at,
            outside,
        }
    }
}

/// The first window of a hose if it is half, and twice, as stiff as taken.
pub(crate) fn if_stiffness(
    run: &Run,
    conditions: &Conditions,
    stock: &Stock,
    hose: &Hose,
) -> [Option<Window<Length>>; 2] {
    let fitting = Fitting::new(run, conditions, stock, hose);
    // What rests against something, or goes through clips, would take too long.
    if !fitting.lay.solids.is_empty() || !fitting.lay.guides.is_empty() {
        return [None; 2];
    }
    [0.5, 2.0].map(|factor| {
        let stiffer = fitting.stiffer(factor);
        let (windows, _) = stiffer.windows(&stiffer.still(), &mut Followed::default());
        let first = windows.sound.into_iter().find(practical)?;
        Window::new(Length::mm(first.0) + run.seats(), Length::mm(first.1) + run.seats())
    })
}

/// How a hose lies at a cut length, with what is found about the piece it is cut from.
fn at_cut(run: &Run, fitting: &Fitting<'_>, cut: Length) -> At {
    let mut at = fitting.at((cut - run.seats()).as_mm());
    let snap = fitting.snap(&at);
    at.findings.extend(snap);
    at.findings.extend(run.piece.map(|piece| Finding::piece(cut.as_mm(), piece.as_mm())));
    at
}

/// Works out the chances of a candidate, and moves its cut to the length that forgives most.
pub(crate) fn weigh(candidate: &mut Candidate, run: &Run, conditions: &Conditions, stock: &Stock) {
    let (Some(suggest), Some(window)) = (candidate.suggest, candidate.sound.first()) else { return };
    let seats = run.seats();
    let window = ((window.least() - seats).as_mm(), (window.greatest() - seats).as_mm());
    let hose = candidate.hose.clone();
    let fitting = Fitting::new(run, conditions, stock, &hose);
    let middle = fitting.at(0.5 * (suggest.0 + suggest.1));
    let Some(lie) = middle.lie() else { return };
    // Thousands of hoses that rest against something would take too long.
    if !fitting.lay.solids.is_empty() {
        return;
    }
    let chances = Chances::over(&fitting, &run.errors, window, lie);
    // Where there are lengths without a warning the cut is one of them; else a better chance is worth another warning, or more
    // of one that is there anyway.
    let good = match (&candidate.calm, candidate.mild) {
        (Some(_), _) => 0.0,
        (None, true) => f64::INFINITY,
        (None, false) => SURE,
    };
    let free = chances.most_forgiving(suggest, window, good);
    let within = if free < suggest.0 || free > suggest.1 { window } else { suggest };
    // Of the two lengths beside it that a tape shows well, the one that forgives more.
    let chance = |cut: &Length| chances.at((*cut - seats).as_mm()).unwrap_or(0.0);
    let beside = [on_tape(free - 2.0, within, seats), on_tape(free + 2.0, within, seats)];
    let [shorter, longer] = beside;
    let cut = if chance(&longer) > chance(&shorter) { longer } else { shorter };
    let near = on_tape(free, within, seats);
    let cut = if chance(&near) >= chance(&cut) - HARDLY { near } else { cut };
    if cut != candidate.cut {
        candidate.cut = cut;
        candidate.at = at_cut(run, &fitting, cut);
    }
    candidate.chances = Some(chances);
}

/// Gives a candidate the chances and the cut of another that lies alike, being of one bore and wall. False if it is not.
pub(crate) fn weigh_alike(
    candidate: &mut Candidate,
    other: &Candidate,
    run: &Run,
    conditions: &Conditions,
    stock: &Stock,
) -> bool {
    let alike = alike(run, &candidate.hose, &other.hose);
    if alike {
        candidate.chances.clone_from(&other.chances);
        if candidate.cut != other.cut {
            lay_at(candidate, other.cut, run, conditions, stock);
        }
    }
    alike
}

/// Lays a candidate at another cut.
pub(crate) fn lay_at(candidate: &mut Candidate, cut: Length, run: &Run, conditions: &Conditions, stock: &Stock) {
    let hose = candidate.hose.clone();
    candidate.at = at_cut(run, &Fitting::new(run, conditions, stock, &hose), cut);
    candidate.cut = cut;
}

/// A free length as a cut length that a tape shows: whole five millimetres if the span is wide enough to keep clear of
/// both edges, else whole millimetres.
fn on_tape(free: f64, span: Span, seats: Length) -> Length {
    let step = if span.1 - span.0 >= 20.0 { 5.0 } else { 1.0 };
    let inside = (span.0 + 0.25 * step, span.1 - 0.25 * step);
    let shown = |free: f64| ((free + seats.as_mm()) / step).round() * step;
    let cut = shown(free.min(inside.1).max(inside.0));
    // Rounding may have left the span by its edge.
    let astray = |cut: f64| cut - seats.as_mm() < span.0 || cut - seats.as_mm() > span.1;
    let steps = [cut, cut + step, cut - step];
    Length::mm(steps.into_iter().find(|cut| !astray(*cut)).unwrap_or(cut))
}
