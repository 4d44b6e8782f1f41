//! The order of the candidates: those that pass first, then those with the fewest worries, and why one lost to another.

use super::Candidate;
use checks::Verdict;
use std::cmp::Ordering;

fn count(candidate: &Candidate, verdict: Verdict) -> usize {
    candidate.at.findings.iter().filter(|finding| finding.verdict == verdict).count()
}

fn width(candidate: &Candidate) -> f64 {
    let window = candidate.calm.or(candidate.sound.first().copied());
    window.map_or(0.0, |window| window.width().as_mm())
}

fn heat_limit(candidate: &Candidate) -> f64 {
    candidate.hose.limit.as_ref().map_or(0.0, |limit| limit.value.as_celsius())
}

fn order(a: &Candidate, b: &Candidate) -> Ordering {
    // A length that works, then fewer fails, then fewer warnings, then the wider window; of hoses that lie alike the
    // plainest: a lower limit costs less, and what gets too hot has a warning or a fail already.
    let works = |c: &Candidate| c.sound.is_empty();
    works(a)
        .cmp(&works(b))
        .then(count(a, Verdict::Fail).cmp(&count(b, Verdict::Fail)))
        .then(count(a, Verdict::Warn).cmp(&count(b, Verdict::Warn)))
        .then(width(b).total_cmp(&width(a)))
        .then(heat_limit(a).total_cmp(&heat_limit(b)))
}

/// The best first. Equal candidates keep the order of the table.
pub(crate) fn best_first(candidates: Vec<Candidate>) -> Vec<Candidate> {
    let mut ranked: Vec<Candidate> = Vec::new();
    for candidate in candidates {
        let behind = ranked.partition_point(|other| order(other, &candidate).is_le());
        ranked.insert(behind, candidate);
    }
    ranked
}

/// Why this candidate stands behind the best.
pub(crate) fn why_behind(candidate: &Candidate, best: &Candidate) -> &'static str {
    if candidate.sound.is_empty() && !best.sound.is_empty() {
        "no length of it works"
    } else if count(candidate, Verdict::Fail) > count(best, Verdict::Fail) {
        "a check fails"
    } else if count(candidate, Verdict::Warn) > count(best, Verdict::Warn) {
        "more to mind"
    } else if width(candidate) < width(best) {
        "fewer lengths work"
    } else {
        "lies alike; bears more heat, costs more"
    }
}
