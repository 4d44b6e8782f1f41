//! The lengths that work: every lie of every length followed from long to short, and the edges where a check turns.
//!
//! A hose of a given length may lie in more than one way. Lies of neighbouring lengths belong together: followed from
//! length to length they make a *branch*, which ends where its lie snaps into another or gets too tight. A length works
//! if every lie passes in which the hose would lie of itself.
//!
//! Each branch is sampled at 120 lengths. Between two samples every reading that changes sign gives an edge, refined by
//! false position. A reading may also turn twice between two samples, so at every local extremum on the wrong side of
//! zero that could reach it, a golden section looks for a narrower window (or a narrower gap). The shortest windows are
//! where a straight hose makes nearly a circular arc: there the bend radius has a sharp peak.

use super::judge::{Judge, Judged, Margin, Wanted};
use super::lay::Lay;
use shape::{Lie, Solver, Vec3};

/// Lengths at which a branch is sampled.
const SAMPLES: usize = 120;
/// The same within a window that is known already.
const SAMPLES_INSIDE: usize = 24;
/// Lengths, one in so many, at which all lies are looked for: a lie may exist in the middle of the range only.
const LOOK_EVERY: usize = 20;
/// Lengths are looked for up to this many times the straight distance.
const LONGEST: f64 = 3.0;
/// The same for a hose that may rest against something, which takes fifty times as long to lay. Our choice.
const LONGEST_AGAINST: f64 = 1.7;
/// The shortest length looked at is this much longer than the straight distance: a hose that is not quite taut.
const SHORTEST_SLACK: f64 = 1e-5;
/// Edges are found to this, mm.
const EDGE: f64 = 0.01;
/// Steps of false position; it takes six to nine.
const EDGE_STEPS: usize = 40;
/// Steps of a golden section: 0.618^22 of two samples is about 0.3 thousandths of a sample.
const GOLDEN_STEPS: usize = 22;
/// A tangent that turns by more than this between two samples has snapped, unless smaller steps say otherwise.
pub(super) const SNAP: f64 = 0.25;
/// A lie that takes more than this many times the bending energy of the easiest one is none in which the hose would
/// lie of itself: it would have to be led round on purpose, like a loop tied into it. Our choice.
pub(crate) const LED_ROUND: f64 = 1.5;
/// Length over the radius of its tightest bend at which a lie is nearly too tight to be told at all.
const TIGHT: f64 = 60.0;
/// A warning at this part of the samples of a span is not avoided by choosing a length. Our choice.
const NEARLY_ALL: f64 = 0.8;
/// One in so many of the lengths is laid where the hose may rest against something.
const EACH: usize = 3;
/// Steps over a span in search of the mildest warning.
const MILDEST: usize = 24;
/// How far from the mildest length is as good, mm; our choice.
const AS_MILD: f64 = 5.0;
/// A span narrower than this is hard to hit with a knife, mm; our choice.
pub(crate) const PRACTICAL: f64 = 2.0;
/// Such a warning still counts where it is by so much of its limit worse than at the best length. Our choice.
const MUCH_WORSE: f64 = 0.5;
/// How often a step is halved before a jump is called a snap.
const HALVINGS: u32 = 6;
/// The same where the lie is nearly too tight: it fails long before, and how it ends does not matter.
const HALVINGS_TIGHT: u32 = 3;

/// From one free length to another, mm.
pub(crate) type Span = (f64, f64);

/// What was found.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Windows {
    /// Where nothing fails, shortest first.
    pub(crate) sound: Vec<Span>,
    /// Where nothing warns either.
    pub(crate) calm: Vec<Span>,
    /// Where nothing warns but what warns nearly everywhere in the first sound span, and that hardly more than it must.
    pub(crate) quiet: Vec<Span>,
    /// True if there is no such place, and `quiet` is only about the length whose worst warning is the mildest.
    pub(crate) mild: bool,
    /// Where nothing is sound: the length with the least worst shortfall, and that (negative) margin to failing.
    pub(crate) best: Option<(f64, f64)>,
}

/// A lie at one length, judged.
struct Sample {
    lie: Lie,
    /// Bending energy, for telling whether it would lie so of itself.
    energy: f64,
    judged: Judged,
}

/// One way of lying, at the lengths at which it exists, longest first.
struct Branch {
    samples: Vec<Sample>,
}

impl Branch {
    fn span(&self) -> Span {
        let length = |sample: Option<&Sample>| sample.map_or(f64::NAN, |sample| sample.lie.length());
        (length(self.samples.last()), length(self.samples.first()))
    }

    fn has(&self, length: f64) -> bool {
        let span = self.span();
        (span.0..=span.1).contains(&length)
    }

    /// The lie at one of the lengths at which it was sampled.
    fn lie_at(&self, length: f64) -> Option<&Lie> {
        self.samples.iter().map(|sample| &sample.lie).find(|lie| lie.length().to_bits() == length.to_bits())
    }
}

struct Search<'a, J> {
    lay: &'a Lay,
    judge: &'a mut J,
    solver: Solver,
    lengths: Vec<f64>,
    branches: Vec<Branch>,
    /// The readings whose warning hardly any length avoids.
    unavoidable: Vec<Unavoidable>,
}

/// A reading that warns at nearly every length, and the best it comes to at any of them.
#[derive(Clone, Copy, Debug)]
struct Unavoidable {
    reading: usize,
    best: f64,
}

impl Unavoidable {
    /// Lets it warn only where it is much worse than it need be.
    fn forgive(&self, margins: &mut [Margin]) {
        if let Some(Margin { warn, .. }) = margins.get_mut(self.reading) {
            *warn = *warn - self.best + MUCH_WORSE;
        }
    }
}

/// The lengths that work between the straight distance and three times that. With `bows` only the lie counts that bows
/// most nearly so: the one the person picked.
pub(crate) fn windows<J: Judge>(lay: &Lay, bows: Option<Vec3>, mut judge: J) -> Windows {
    let chord = lay.chord();
    let longest = if lay.solids.is_empty() { LONGEST } else { LONGEST_AGAINST };
    search(lay, bows, (chord, chord * longest), SAMPLES, &mut judge)
}

/// The lengths that work within spans that are known to do but for a judge who asks more.
pub(crate) fn windows_inside<J: Judge>(lay: &Lay, bows: Option<Vec3>, spans: &[Span], mut judge: J) -> Windows {
    let mut all = Windows { sound: Vec::new(), calm: Vec::new(), quiet: Vec::new(), mild: false, best: None };
    for span in spans {
        let Windows { sound, calm, quiet, mild, best } = search(lay, bows, *span, SAMPLES_INSIDE, &mut judge);
        // What is suggested lies in the first window that is sound.
        if all.sound.is_empty() {
            all.mild = mild;
        }
        all.sound.extend(sound);
        all.calm.extend(calm);
        all.quiet.extend(quiet);
        all.best = [all.best, best].into_iter().flatten().reduce(|a, b| if b.1 > a.1 { b } else { a });
    }
    if !all.sound.is_empty() {
        all.best = None;
    }
    all
}

fn search<J: Judge>(lay: &Lay, bows: Option<Vec3>, span: Span, samples: usize, judge: &mut J) -> Windows {
    let chord = lay.chord();
    let (shortest, longest) = (f64::max(span.0, chord * (1.0 + SHORTEST_SLACK)), span.1);
    let step = (longest - shortest) / (samples - 1) as f64;
    let lengths: Vec<f64> = (0..samples).map(|k| longest - step * k as f64).collect();
    let mut search =
        Search { lay, judge, solver: Solver::new(), lengths, branches: Vec::new(), unavoidable: Vec::new() };
    if lay.solids.is_empty() {
        for k in (0..samples).step_by(LOOK_EVERY.min(samples / 2)) {
            search.begin_at(k);
        }
        search.fill_gaps();
    } else {
        search.sample_each();
    }
    if let Some(bows) = bows {
        search.keep_only(bows);
    }
    let sound = search.passing(|margin| margin.fail);
    let all = |margin: &Margin| margin.fail.min(margin.warn);
    let calm = search.passing(all);
    let inside = |spans: &[Span], first: &Span| {
        spans.iter().any(|span| span.0 >= first.0 - EDGE && span.1 <= first.1 + EDGE && span.1 - span.0 > PRACTICAL)
    };
    let (quiet, mild) = match sound.first() {
        Some(first) if !inside(&calm, first) => search.quiet(*first, inside),
        _ => (calm.clone(), false),
    };
    // Spigots in line take a taut hose: the search begins a hair above it.
    let down_to_taut = |spans: Vec<Span>| -> Vec<Span> {
        let taut = span.0 <= chord;
        spans.into_iter().map(|(lo, hi)| (if taut && lo <= shortest { chord } else { lo }, hi)).collect()
    };
    let best = if sound.is_empty() { search.best() } else { None };
    Windows { sound: down_to_taut(sound), calm: down_to_taut(calm), quiet: down_to_taut(quiet), mild, best }
}

impl<J: Judge> Search<'_, J> {
    /// A lie with all its margins.
    fn judged(&mut self, lie: Lie) -> Sample {
        let mut judged = Judged::default();
        (self.judge)(&mut self.solver, &lie, None, &mut judged);
        self.unavoidable.iter().for_each(|forgiven| forgiven.forgive(&mut judged.margins));
        Sample { energy: lie.bending_energy(), lie, judged }
    }

    /// Finds the readings that warn nearly everywhere in a span, and lets them warn only where they need not be so bad. True if
    /// there are any.
    fn forgive(&mut self, span: Span) -> bool {
        let inside = |sample: &&Sample| (span.0..=span.1).contains(&sample.lie.length());
        let samples: Vec<&Sample> = self.branches.iter().flat_map(|branch| &branch.samples).filter(inside).collect();
        let readings = samples.first().map_or(0, |sample| sample.judged.margins.len());
        let warns = |r: &usize| samples.iter().filter(|sample| sample.judged.margins[*r].warn < 0.0).count();
        let nearly_all = |r: &usize| warns(r) as f64 >= NEARLY_ALL * samples.len() as f64;
        let best =
            |r: usize| samples.iter().map(|sample| sample.judged.margins[r].warn).fold(f64::NEG_INFINITY, f64::max);
        let unavoidable = (0..readings).filter(nearly_all).map(|r| Unavoidable { reading: r, best: best(r).min(0.0) });
        self.unavoidable = unavoidable.collect();
        for sample in self.branches.iter_mut().flat_map(|branch| &mut branch.samples) {
            self.unavoidable.iter().for_each(|forgiven| forgiven.forgive(&mut sample.judged.margins));
        }
        !self.unavoidable.is_empty()
    }

    /// The part of a sound span to choose a length from, where no part of it is calm: without the warnings that can be
    /// avoided; else about the length whose worst warning is the mildest, and true.
    fn quiet(&mut self, first: Span, inside: impl Fn(&[Span], &Span) -> bool) -> (Vec<Span>, bool) {
        let all = |margin: &Margin| margin.fail.min(margin.warn);
        if self.forgive(first) {
            let quiet = self.passing(all);
            if inside(&quiet, &first) {
                return (quiet, false);
            }
        }
        let step = (first.1 - first.0) / MILDEST as f64;
        let mildest = (0..=MILDEST)
            .map(|k| first.0 + step * k as f64)
            .map(|length| (length, self.worst(length, all)))
            .reduce(|a, b| if b.1 > a.1 { b } else { a });
        let Some((about, _)) = mildest else { return (Vec::new(), false) };
        let (lo, hi) = (f64::max(first.0, about - step), f64::min(first.1, about + step));
        let (at, _) = self.summit(lo, hi, |search, length| search.worst(length, all), |_| false);
        (vec![(f64::max(first.0, at - AS_MILD), f64::min(first.1, at + AS_MILD))], true)
    }

    /// A hose that rests against something is laid anew at a third of the lengths: led on along a solid it sticks where one
    /// that is laid would not. What is laid at lengths side by side makes a branch.
    fn sample_each(&mut self) {
        let mut samples = Vec::new();
        let last = self.lengths.len() - 1;
        for k in (0..last).step_by(EACH).chain([last]) {
            match self.lay.any(&mut self.solver, self.lengths[k]) {
                Ok(lie) => samples.push(self.judged(lie)),
                Err(_) if samples.is_empty() => {}
                Err(_) => self.branches.push(Branch { samples: std::mem::take(&mut samples) }),
            }
        }
        if !samples.is_empty() {
            self.branches.push(Branch { samples });
        }
    }

    /// Begins a branch at the grid length `k` for every lie there that is not on a known one.
    fn begin_at(&mut self, k: usize) -> bool {
        let Ok(lies) = self.lay.lies(&mut self.solver, self.lengths[k]) else { return false };
        let mut new = false;
        for lie in lies {
            let same = |known: &Lie| known.same_as(&lie) || known.same_but_turned(&lie);
            if !self.branches.iter().filter_map(|branch| branch.lie_at(self.lengths[k])).any(same) {
                self.follow(k, lie);
                new = true;
            }
        }
        new
    }

    /// Leaves only the branch that bows most nearly as the lie that was picked.
    fn keep_only(&mut self, bows: Vec3) {
        let astray = |branch: &Branch| {
            let sum: f64 = branch.samples.iter().map(|sample| (bow(&sample.lie) - bows).norm()).sum();
            sum / branch.samples.len() as f64
        };
        let kept = self
            .branches
            .drain(..)
            .map(|branch| (astray(&branch), branch))
            .reduce(|a, b| if b.0 < a.0 { b } else { a });
        self.branches.extend(kept.map(|(_, branch)| branch));
    }

    /// Follows a lie from the grid length `k` to both sides as far as it goes.
    fn follow(&mut self, k: usize, lie: Lie) {
        let mut longer = Vec::new();
        self.follow_to(lie.clone(), (0..k).rev(), &mut longer);
        longer.reverse();
        let mut samples = longer;
        samples.push(self.judged(lie.clone()));
        self.follow_to(lie, k + 1..self.lengths.len(), &mut samples);
        self.branches.push(Branch { samples });
    }

    fn follow_to(&mut self, from: Lie, grid: impl Iterator<Item = usize>, samples: &mut Vec<Sample>) {
        let mut at = from;
        for k in grid {
            match self.step(at, self.lengths[k], samples) {
                Some(lie) => at = lie,
                None => return,
            }
        }
    }

    /// A lie followed to another length, in smaller steps where it is lost, snaps or gets too tight. Every lie on the
    /// way is a sample; gives the one at the end, or nothing if it did not get there.
    fn step(&mut self, from: Lie, to: f64, samples: &mut Vec<Sample>) -> Option<Lie> {
        let whole = to - from.length();
        let (mut here, mut part) = (from, whole);
        loop {
            let last = part.abs() >= (to - here.length()).abs();
            let target = if last { to } else { here.length() + part };
            match self.lay.near(&mut self.solver, &here, target) {
                Ok(next) if turned(&here, &next) <= SNAP => {
                    here = next.clone();
                    samples.push(self.judged(next));
                    if last {
                        return Some(here);
                    }
                }
                _ => {
                    part *= 0.5;
                    let tight = here.peak().curvature * here.length() > TIGHT;
                    let halvings = if tight { HALVINGS_TIGHT } else { HALVINGS };
                    if part.abs() < whole.abs() / f64::from(1u32 << halvings) {
                        return None;
                    }
                }
            }
        }
    }

    /// Where all known branches have ended by a snap, a hose must lie in some other way: begins branches there too.
    fn fill_gaps(&mut self) {
        for k in 1..self.lengths.len() {
            let (before, here) = (self.lengths[k - 1], self.lengths[k]);
            let covered = |length: f64| self.branches.iter().any(|branch| branch.has(length));
            if covered(here) || !covered(before) {
                continue;
            }
            // Branches that end because they get too tight leave nothing to look for.
            let last =
                self.branches.iter().filter(|branch| branch.has(before)).filter_map(|branch| branch.samples.last());
            let tight =
                last.map(|sample| sample.lie.peak().curvature * sample.lie.length()).fold(0.0, f64::max) > TIGHT;
            if tight || !self.begin_at(k) {
                return;
            }
        }
    }

    /// The lie of a branch at a length between its samples; `None` where it cannot be told.
    fn lie_between(&mut self, branch: usize, length: f64) -> Option<Lie> {
        if !self.lay.solids.is_empty() {
            return self.lay.any(&mut self.solver, length).ok();
        }
        let samples = self.branches[branch].samples.iter().map(|sample| &sample.lie);
        let near = samples.min_by(|a, b| (a.length() - length).abs().total_cmp(&(b.length() - length).abs()))?;
        self.lay.near(&mut self.solver, near, length).ok()
    }

    /// The same, judged.
    fn between(&mut self, branch: usize, length: f64) -> Option<Sample> {
        let lie = self.lie_between(branch, length)?;
        Some(self.judged(lie))
    }

    /// One reading of a branch at a length; broken where the hose is too tight to be told.
    fn reading(&mut self, branch: usize, r: usize, of: fn(&Margin) -> f64, length: f64) -> f64 {
        let Some(lie) = self.lie_between(branch, length) else { return -1.0 };
        let samples = &self.branches[branch].samples;
        let below = samples.partition_point(|sample| sample.lie.length() > length).clamp(1, samples.len() - 1);
        let (above, below) = (&samples[below - 1], &samples[below]);
        let part = (above.lie.length() - length) / (above.lie.length() - below.lie.length());
        let wanted = Wanted { reading: r, beside: [&above.judged, &below.judged], part };
        let mut judged = Judged::default();
        (self.judge)(&mut self.solver, &lie, Some(wanted), &mut judged);
        self.unavoidable.iter().for_each(|forgiven| forgiven.forgive(&mut judged.margins));
        of(&judged.margins[r])
    }

    /// Where `value` turns between two lengths, of which exactly one is on the good side: false position, with halving
    /// of the end that stays (Illinois), kept inside.
    fn edge(
        &mut self,
        mut value: impl FnMut(&mut Self, f64) -> f64,
        (mut a, mut fa): Span,
        (mut b, mut fb): Span,
    ) -> f64 {
        for _ in 0..EDGE_STEPS {
            if (b - a).abs() < EDGE {
                break;
            }
            let inside = 0.02 * (b - a).abs();
            let mid = (b - fb * (b - a) / (fb - fa)).clamp(a.min(b) + inside, a.max(b) - inside);
            let fm = value(self, mid);
            if (fm < 0.0) == (fb < 0.0) {
                fa *= 0.5;
            } else {
                (a, fa) = (b, fb);
            }
            (b, fb) = (mid, fm);
        }
        0.5 * (a + b)
    }

    /// All lengths at which a reading of a branch turns, or the branch ends.
    fn edges(&mut self, branch: usize, of: fn(&Margin) -> f64, out: &mut Vec<f64>) {
        let span = self.branches[branch].span();
        out.extend([span.0, span.1]);
        let readings = self.branches[branch].samples.first().map_or(0, |sample| sample.judged.margins.len());
        for r in 0..readings {
            let row: Vec<Span> = self.branches[branch]
                .samples
                .iter()
                .map(|sample| (sample.lie.length(), of(&sample.judged.margins[r])))
                .collect();
            for pair in row.windows(2) {
                if (pair[0].1 < 0.0) != (pair[1].1 < 0.0) {
                    out.push(self.edge(|search, x| search.reading(branch, r, of, x), pair[0], pair[1]));
                }
            }
            for three in row.windows(3) {
                self.hidden(branch, r, of, [three[0], three[1], three[2]], out);
            }
        }
    }

    /// The two edges of a window (or of a gap) hidden about the middle of three samples, if there is one.
    fn hidden(&mut self, branch: usize, r: usize, of: fn(&Margin) -> f64, [a, m, b]: [Span; 3], out: &mut Vec<f64>) {
        let sign = if m.1 < 0.0 { 1.0 } else { -1.0 };
        let same_side = (a.1 < 0.0) == (m.1 < 0.0) && (b.1 < 0.0) == (m.1 < 0.0);
        let top = sign * m.1 >= sign * a.1 && sign * m.1 >= sign * b.1;
        // However sharp the peak, it is not expected to rise by more than twice what the samples beside it fall.
        let reach = 2.0 * f64::max((m.1 - a.1).abs(), (m.1 - b.1).abs());
        if !(same_side && top) || m.1.abs() > reach {
            return;
        }
        let value = |search: &mut Self, x: f64| sign * search.reading(branch, r, of, x);
        // A margin of zero counts as the good side; a gap must be broken.
        let found = move |f: f64| if sign > 0.0 { f >= 0.0 } else { f > 0.0 };
        let (at, f) = self.summit(a.0.min(b.0), a.0.max(b.0), value, found);
        if found(f) {
            for side in [a, b] {
                out.push(self.edge(|search, x| search.reading(branch, r, of, x), side, (at, sign * f)));
            }
        }
    }

    /// Where a branch begins or ceases to be one in which the hose would lie of itself.
    fn edges_of_ease(&mut self, branch: usize, out: &mut Vec<f64>) {
        let lengths: Vec<f64> = self.branches[branch].samples.iter().map(|sample| sample.lie.length()).collect();
        let ease: Vec<f64> = lengths.iter().map(|length| self.ease(branch, *length)).collect();
        for k in 1..lengths.len() {
            if (ease[k] < 0.0) != (ease[k - 1] < 0.0) {
                let (a, b) = ((lengths[k - 1], ease[k - 1]), (lengths[k], ease[k]));
                out.push(self.edge(|search, x| search.ease(branch, x), a, b));
            }
        }
    }

    /// How far the bending energy of a branch is under [`LED_ROUND`] times the least of all lies of that length.
    fn ease(&mut self, branch: usize, length: f64) -> f64 {
        if self.branches.len() == 1 {
            return 1.0;
        }
        let mut least = f64::INFINITY;
        let mut own = f64::INFINITY;
        for b in 0..self.branches.len() {
            if self.branches[b].has(length)
                && let Some(lie) = self.lie_between(b, length)
            {
                let energy = lie.bending_energy();
                least = least.min(energy);
                own = if b == branch { energy } else { own };
            }
        }
        if own.is_finite() { LED_ROUND - own / least.max(f64::MIN_POSITIVE) } else { -1.0 }
    }

    /// The highest place of `value` between two lengths, by golden section, or the first that is high enough.
    fn summit(
        &mut self,
        mut lo: f64,
        mut hi: f64,
        mut value: impl FnMut(&mut Self, f64) -> f64,
        enough: impl Fn(f64) -> bool,
    ) -> Span {
        const R: f64 = 0.618_033_988_749_894_9;
        let (mut x, mut y) = (hi - R * (hi - lo), lo + R * (hi - lo));
        let (mut fx, mut fy) = (value(self, x), value(self, y));
        for _ in 0..GOLDEN_STEPS {
            if enough(fx) || enough(fy) {
                break;
            }
            if fx > fy {
                (hi, y, fy) = (y, x, fx);
                x = hi - R * (hi - lo);
                fx = value(self, x);
            } else {
                (lo, x, fx) = (x, y, fy);
                y = lo + R * (hi - lo);
                fy = value(self, y);
            }
        }
        if fx > fy { (x, fx) } else { (y, fy) }
    }

    /// The spans in which every lie there is passes, shortest first.
    fn passing(&mut self, of: fn(&Margin) -> f64) -> Vec<Span> {
        let mut found = Vec::new();
        for branch in 0..self.branches.len() {
            self.edges(branch, of, &mut found);
            if self.branches.len() > 1 {
                self.edges_of_ease(branch, &mut found);
            }
        }
        let mut edges: Vec<f64> = Vec::new();
        for edge in found {
            edges.insert(edges.partition_point(|shorter| *shorter < edge), edge);
        }
        edges.dedup_by(|a, b| (*a - *b).abs() < EDGE);
        let mut spans: Vec<Span> = Vec::new();
        for pair in edges.windows(2) {
            let (lo, hi) = (pair[0], pair[1]);
            if self.worst(0.5 * (lo + hi), of) < 0.0 {
                continue;
            }
            match spans.last_mut() {
                Some(last) if last.1.to_bits() == lo.to_bits() => last.1 = hi,
                _ => spans.push((lo, hi)),
            }
        }
        spans
    }

    /// The worst margin of all lies in which a hose of that length would lie of itself; broken if it has none.
    fn worst(&mut self, length: f64, of: fn(&Margin) -> f64) -> f64 {
        let mut lies = Vec::new();
        for branch in 0..self.branches.len() {
            if self.branches[branch].has(length) {
                lies.extend(self.between(branch, length));
            }
        }
        let least = lies.iter().map(|sample| sample.energy).fold(f64::INFINITY, f64::min);
        lies.iter()
            .filter(|sample| sample.energy <= LED_ROUND * least)
            .flat_map(|sample| sample.judged.margins.iter().map(of))
            .min_by(f64::total_cmp)
            .unwrap_or(-1.0)
    }

    /// The length whose worst lie is least far from passing.
    fn best(&mut self) -> Option<Span> {
        let of = |margin: &Margin| margin.fail;
        let at: Vec<Span> = self.lengths.clone().into_iter().map(|length| (length, self.worst(length, of))).collect();
        let (k, sample) = at.iter().copied().enumerate().max_by(|a, b| a.1.1.total_cmp(&b.1.1))?;
        let (lo, hi) = (self.lengths[(k + 1).min(self.lengths.len() - 1)], self.lengths[k.saturating_sub(1)]);
        let between = self.summit(lo, hi, |search, x| search.worst(x, of), |_| false);
        Some(if between.1 > sample.1 { between } else { sample })
    }
}

/// The largest turn of a tangent between two lies, in radians, at twentieths of the length.
pub(super) fn turned(a: &Lie, b: &Lie) -> f64 {
    let (p, q) = ((a.tangents().len() - 1) / 20, (b.tangents().len() - 1) / 20);
    (0..=20).map(|k| (a.tangents()[k * p] - b.tangents()[k * q]).norm()).fold(0.0, f64::max)
}

/// Where a lie bows to: from the middle of the chord to the middle of the hose, in lengths of the hose. It tells the lies
/// of one run apart, and is what is stored of the lie that was picked.
pub(crate) fn bow(lie: &Lie) -> Vec3 {
    let (a, b) = (lie.point_at(0.0), lie.point_at(lie.length()));
    (lie.point_at(0.5 * lie.length()) - (a + b) * 0.5) * (1.0 / lie.length())
}
