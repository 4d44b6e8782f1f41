//! In line, side step, turn-back, long and low, over the top, cannot be fitted: how the hose lies, and what that means.

use crate::cases::{actual, best, centre_line, finding, near, run, told, verdict};
use crate::elliptic::{e, k};
use job::CandidateReport;
use shape::Vec3;

/// How far a hose of this length bows out between spigots in line: the clamped column in its first mode (Euler's
/// elastica), chord/length = 2E/K - 1 and bow = length·k/K, with k found by halving.
fn bow(chord: f64, length: f64) -> f64 {
    let (mut lo, mut hi) = (0.0, 0.8);
    for _ in 0..60 {
        let m = 0.5 * (lo + hi);
        (lo, hi) = if 2.0 * e(m) / k(m) - 1.0 > chord / length { (m, hi) } else { (lo, m) };
    }
    length * lo.sqrt() / k(lo)
}

#[test]
fn the_bow_of_the_formula_is_that_of_the_first_mode_when_it_is_small() {
    // y = a/2 (1 - cos 2πx/L) takes up a²π²/4L of length: a = 2/π √(slack · L), by hand 9.65 for 1 mm in 230.
    near(bow(230.0, 231.0), 9.65, 0.03, "1 mm of slack in 230");
}

#[test]
fn in_line_the_lengths_begin_taut_and_the_cut_keeps_clear_of_both_edges() {
    // A study of this layout by another program: taut at 230, to 259 free; seats 2 x 30.
    let report = told("in_line");
    let sized = run(&report, "in line");
    assert!(!sized.candidates.is_empty());
    for candidate in &sized.candidates {
        let [lo, hi] = candidate.cut_window_mm.expect("a window");
        near(lo, 290.0, 0.05, "taut");
        near(hi, 319.0, 1.0, "longest");
        assert!(candidate.cut_mm > lo + 5.0 && candidate.cut_mm < hi - 5.0, "{}", candidate.cut_mm);
        assert!(!candidate.nearest && candidate.hose.bore_mm.to_bits() == 16.0_f64.to_bits());
    }
}

#[test]
fn in_line_a_little_slack_is_a_wide_bow() {
    let report = told("in_line");
    // The study's millimetres, and the elastica, from which the weight of a short hose differs by under 1 %.
    for (slack, study) in [(1.0, 10.0), (5.0, 22.0), (10.0, 31.0)] {
        let candidate = best(run(&report, &format!("in line, {slack} mm of slack")));
        let out = centre_line(candidate).iter().map(|p| libm::hypot(p.y, p.z)).fold(0.0, f64::max);
        near(candidate.lie.as_ref().expect("a lie").bow_mm, out, 0.1, "the bow is said");
        near(out, study, 0.5, "bow of the study");
        near(out, bow(230.0, 230.0 + slack), 0.01 * study, "bow of the elastica");
    }
}

/// Width of the lie to the left, and to the right.
fn aside(candidate: &CandidateReport) -> (f64, f64) {
    let ys = || centre_line(candidate).into_iter().map(|p| p.y);
    (ys().fold(0.0, f64::max), ys().fold(0.0, |least, y| f64::max(least, -y)))
}

#[test]
fn a_side_step_with_slack_bows_out_to_either_side_and_is_judged_on_both() {
    let report = told("side_step");
    let free = best(run(&report, "nothing near"));
    let (left, right) = aside(free);
    assert!(left.max(right) > 30.0, "the plain S does not stay: {left} {right}");
    assert_eq!(free.ways, 2, "either way");
    // Mirror images of each other, so a bracket on either side is as bad as on the other, whichever way is drawn.
    let [on_left, on_right] = ["bracket on the left", "bracket on the right"].map(|name| best(run(&report, name)));
    for candidate in [on_left, on_right] {
        assert_eq!(verdict(candidate, "standoff", "bracket"), "fail", "it may lie by the bracket");
    }
    near(actual(on_left, "standoff", "bracket"), actual(on_right, "standoff", "bracket"), 0.01, "mirrored distance");
    assert!(aside(on_left).0 > 30.0 && aside(on_right).1 > 30.0, "the lie that is told is the one that fails");
    assert_eq!(on_left.cut_window_mm, on_right.cut_window_mm);
    let [[_, near_bracket], [_, nothing]] = [on_left, free].map(|candidate| candidate.cut_window_mm.expect("a window"));
    assert!(near_bracket < 312.0 && nothing > 312.0, "the bracket takes the length away: {near_bracket} {nothing}");
}

#[test]
fn nothing_shorter_than_560_turns_back() {
    // The study: nothing under 560 mm free passes, from there a loop some 230 mm deep and 130 wide that hangs.
    let report = told("turn_back");
    for (free, kinks) in [(200, true), (300, true), (400, true), (500, true), (550, true), (570, false), (600, false)] {
        let candidate = best(run(&report, &format!("{free} mm free")));
        assert_eq!(verdict(candidate, "kink", "") == "fail", kinks, "{free} mm free");
    }
    let loops = best(run(&report, "560 mm free"));
    let line = centre_line(loops);
    let span = |of: fn(&Vec3) -> f64| {
        let (lo, hi) = line.iter().map(of).fold((f64::MAX, f64::MIN), |(lo, hi), x| (lo.min(x), hi.max(x)));
        hi - lo
    };
    near(span(|p| p.x), 230.0, 5.0, "depth");
    near(span(|p| p.y), 130.0, 5.0, "width");
    assert_eq!(verdict(loops, "sag", ""), "warn", "it hangs");
    // Lengths are looked for up to three times the straight distance, here 180 mm: none works there.
    let sized = best(run(&report, "sized"));
    assert!(sized.nearest && sized.cut_window_mm.is_none() && sized.headline.starts_with("No length works"));
}

#[test]
fn long_and_low_sags_goes_unsupported_and_traps_no_air() {
    let report = told("long_and_low");
    let candidate = best(&report.runs[0]);
    // Depth of the elastica; the weight, which would make it a hanging rope of 83 mm if the hose had no stiffness,
    // pulls the other way by less than 1 %.
    near(actual(candidate, "sag", ""), bow(900.0, 920.0), 0.01 * 86.0, "sag");
    near(finding(candidate, "sag", "").at_mm.expect("a place"), 460.0, 1.0, "in the middle");
    assert_eq!(verdict(candidate, "sag", ""), "warn");
    // AC 43.13-1B, 9-30: supports at least every 24 in, 610 mm rounded up.
    let support = finding(candidate, "support", "");
    assert_eq!((support.verdict.as_str(), support.allowed), ("warn", Some(610.0)));
    near(actual(candidate, "support", ""), 920.0, 0.01, "unsupported length");
    assert_eq!(verdict(candidate, "air trap", ""), "pass");
    near(actual(candidate, "air trap", ""), 0.0, 0.01, "no crest");
}

#[test]
fn over_the_top_a_shorter_cut_lets_the_air_out() {
    let report = told("over_the_top");
    let [short, long] = ["short", "long"].map(|name| best(run(&report, name)));
    // The short one is an arc of 125/sin 6° that leans 6° at both ends: it crests by 125 tan 3° = 6.55 mm. Its weight
    // takes off no more than wL⁴/384EI = 0.86 mm, the clamped beam's (w 4.865e-3 N/mm, EI 57,840 N mm²).
    let crest = actual(short, "air trap", "");
    assert!((6.55 - 0.86 - 0.02..=6.55 + 0.02).contains(&crest), "{crest}");
    assert_eq!(verdict(short, "air trap", ""), "pass");
    let trap = finding(long, "air trap", "");
    assert_eq!((trap.verdict.as_str(), trap.allowed), ("warn", Some(8.0)), "half a bore");
    assert!(trap.why.contains("bleed"), "{}", trap.why);
    near(trap.at_mm.expect("a place"), 130.0, 1.0, "bled in the middle, by symmetry");
}

#[test]
fn a_hose_of_the_right_length_that_cannot_be_put_on_is_told_so() {
    let report = told("cannot_be_fitted");
    let fixed = best(run(&report, "fixed"));
    let assembly = finding(fixed, "assembly", "");
    assert_eq!(assembly.verdict, "fail");
    // By hand: the second end has 30 mm of seat to pass and slides back 10.
    assert_eq!(assembly.must_move_mm, Some(20.0));
    assert!(assembly.why.contains("joined") && assembly.why.contains("move"), "{}", assembly.why);
    let fails: Vec<_> = fixed.findings.iter().filter(|f| f.verdict == "fail").map(|f| f.check.as_str()).collect();
    assert_eq!(fails, ["assembly"], "the length is right");
    assert!(fixed.cut_window_mm.is_none());
    for name in ["a part that moves", "room to slide back"] {
        let candidate = best(run(&report, name));
        assert_eq!(verdict(candidate, "assembly", ""), "pass", "{name}");
        let [lo, hi] = candidate.cut_window_mm.expect("a window");
        near(lo, 180.0, 0.05, "taut");
        assert!(lo < 181.0 && 181.0 < hi, "{name}: {lo} {hi}");
    }
}
