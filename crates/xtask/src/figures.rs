//! The figures of a bench: read off what programs print, and set beside those that are kept from another day.

use std::{fmt::Write, fs, io::ErrorKind};

use crate::{failure::Failure, project::Project};

/// Where the figures of a bench go.
pub(crate) const FIGURES: &str = "target/bench.txt";

/// Those that are kept; to keep others, copy the file there.
const KEPT: &str = "docs/bench.txt";

/// By how much two runs of the same differ on a machine that does something else as well (our choice).
const NOISE: f64 = 0.2;

/// The page tells whole milliseconds, and paints no more often than every 16.
const FRAME_MS: f64 = 16.0;

/// What was measured: the line it stands in begins with its name, then a colon.
#[derive(Debug, PartialEq)]
struct Figure<'a> {
    name: &'a str,
    /// As it is written.
    written: &'a str,
    unit: &'a str,
}

impl Figure<'_> {
    fn value(&self) -> f64 {
        self.written.parse().unwrap_or(f64::NAN)
    }

    /// Whether the two differ by more than chance has them differ.
    fn differs(&self, kept: &Self) -> bool {
        let (now, then) = (self.value(), kept.value());
        let whole_ms = self.unit == "ms" && !self.written.contains('.');
        let least = if whole_ms { FRAME_MS } else { 0.0 };
        self.unit != kept.unit || (now - then).abs() > least.max(NOISE * then.abs())
    }
}

/// The figure of a line: `name: 12 ms`, or `name: what comes before it, median 12 ms of 10, 12, 14`.
fn figure(line: &str) -> Option<Figure<'_>> {
    let (name, rest) = line.split_once(": ")?;
    let rest = rest.split_once("median ").map_or(rest, |(_, after)| after);
    let mut words = rest.split_whitespace();
    let written = words.next()?.trim_end_matches(',');
    written.parse::<f64>().ok()?;
    Some(Figure { name, written, unit: words.next().unwrap_or("").trim_end_matches([',', ';']) })
}

/// What a package's benches print, as lines of figures in microseconds: criterion's estimates, and of tables of our own the
/// rows of which end in a median, a worst and a count.
pub(crate) fn of_bench(package: &str, printed: &str) -> String {
    let mut lines = String::new();
    let mut above = "";
    for line in printed.lines() {
        let found = criterion(line)
            .map(|(name, micros)| (if name.is_empty() { above } else { name }, micros))
            .or_else(|| row(line));
        if let Some((name, micros)) = found {
            writeln!(lines, "{package}, {}: {micros:.2} µs", name.replace(": ", " ")).expect("a String takes any text");
        }
        above = line.trim();
    }
    lines
}

/// `name  time: [1.2 ms 1.3 ms 1.4 ms]`; the name stands on the line above where it is long.
fn criterion(line: &str) -> Option<(&str, f64)> {
    let (name, rest) = line.split_once("time:")?;
    let mut words = rest.trim().strip_prefix('[')?.split_whitespace().skip(2);
    Some((name.trim(), micros(words.next()?, words.next()?)?))
}

/// `name  1.20 ms  3.40 ms 98`
fn row(line: &str) -> Option<(&str, f64)> {
    let (name, rest) = line.split_once("  ")?;
    let words: Vec<&str> = rest.split_whitespace().collect();
    let [median, unit, _worst, _of_worst, _count] = words[..] else { return None };
    Some((name, micros(median, unit)?))
}

fn micros(number: &str, unit: &str) -> Option<f64> {
    let each = match unit {
        "ns" => 1e-3,
        "µs" => 1.0,
        "ms" => 1e3,
        "s" => 1e6,
        _ => return None,
    };
    Some(number.parse::<f64>().ok()? * each)
}

/// Puts the figures of the native benches before those that the page's wrote, and tells which differ from the kept ones.
///
/// # Errors
/// If a file cannot be read or written.
pub(crate) fn compare(project: &Project, native: &str) -> Result<(), Failure> {
    let page = read(project, FIGURES)?;
    let now = format!("{native}{page}");
    fs::write(project.path(FIGURES), &now).map_err(Failure::io(FIGURES))?;
    println!("{}written to {FIGURES}; to keep them, copy it to {KEPT}", beside(&now, &read(project, KEPT)?));
    Ok(())
}

/// What stands in a file; nothing where there is none.
fn read(project: &Project, file: &str) -> Result<String, Failure> {
    match fs::read_to_string(project.path(file)) {
        Err(error) if error.kind() == ErrorKind::NotFound => Ok(String::new()),
        read => read.map_err(Failure::io(file)),
    }
}

/// Every figure that differs from the kept one of its name, and how many do not.
fn beside(now: &str, kept: &str) -> String {
    let kept: Vec<Figure<'_>> = kept.lines().filter_map(figure).collect();
    let (mut text, mut alike, mut new) = (String::new(), 0, 0);
    for now in now.lines().filter_map(figure) {
        match kept.iter().find(|kept| kept.name == now.name) {
            None => new += 1,
            Some(then) if !now.differs(then) => alike += 1,
            Some(then) => {
                let by = 100.0 * (now.value() / then.value() - 1.0);
                let Figure { name, written, unit } = now;
                writeln!(text, "{name}: {written} {unit}, kept {} {}: {by:+.0} %", then.written, then.unit)
                    .expect("a String takes any text");
            }
        }
    }
    let percent = 100.0 * NOISE;
    writeln!(text, "{alike} figures differ by no more than {percent:.0} % from those kept, {new} are not kept")
        .expect("a String takes any text");
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_figure_is_read_off_its_line() {
        let told = |line| figure(line).map(|Figure { name, written, unit }| (name, written, unit));
        assert_eq!(told("warm: median 491 ms of 524, 428 (aim 800 ms)"), Some(("warm", "491", "ms")), "a median");
        assert_eq!(told("download: 543061 bytes packed"), Some(("download", "543061", "bytes")), "bytes");
        assert_eq!(
            told("job, a run/standing/1: 1234.50 µs"),
            Some(("job, a run/standing/1", "1234.50", "µs")),
            "a solve"
        );
        assert_eq!(told("# the page, CPU slowed 4 times"), None, "a heading");
    }

    #[test]
    fn benches_are_read_as_they_print() {
        let printed = "one lie/all findings    time:   [1.0 ms 1.5 ms 2.0 ms]\n\
            a run/all, with how it moves\n                        time:   [1.0 s 2.0 s 3.0 s]\n\
            \x20                       change: [-1.0% +0.1% +1.1%] (p = 0.10 > 0.05)\n\
            by the metre to 2 m                        0.52 ms  103.20 ms 98\n";
        let lines = "job, one lie/all findings: 1500.00 µs\njob, a run/all, with how it moves: 2000000.00 µs\n\
            job, by the metre to 2 m: 520.00 µs\n";
        assert_eq!(of_bench("job", printed), lines, "criterion on one line and on two, and a row of a table");
    }

    #[test]
    fn what_differs_is_told_and_chance_is_not() {
        let kept = "a: 100.0 µs\nb: 100.0 µs\nc: 24 ms\nd: median 400 ms of 400\n";
        let now = "a: 119.0 µs\nb: 125.0 µs\nc: 40 ms\nd: median 300 ms of 300\ne: 1 ms\n";
        let told = "b: 125.0 µs, kept 100.0 µs: +25 %\nd: 300 ms, kept 400 ms: -25 %\n\
            2 figures differ by no more than 20 % from those kept, 1 are not kept\n";
        assert_eq!(beside(now, kept), told, "b by more than a fifth, d too; c is one frame later");
    }
}
