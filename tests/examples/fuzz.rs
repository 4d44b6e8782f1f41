//! Any input at all, for so many minutes: new cases through reading, accepting and solving, with totals that are kept.
//!
//! Run by `cargo xtask fuzz [minutes]`. Every case has a seed of its own that was never used before; its input is made from
//! kept ones by the code of `../src/fuzz`. An input that shows something new (a sentence, a finding) is kept in `fuzz/`, so
//! that later cases begin from it. A claim that breaks, a panic, or a case that takes two minutes ends the run with 1, and
//! its input lies in `fuzz/found`.
#![expect(clippy::print_stdout, reason = "totals are what this program is for")]

#[expect(dead_code, reason = "of the random layouts only the numbers are used")]
#[path = "../src/layouts.rs"]
mod layouts;

#[expect(dead_code, reason = "the texts of sound links are for the test of the wrapping")]
#[path = "../src/fuzz/mod.rs"]
mod fuzz;

#[path = "../../crates/stock/tests/damaged/mod.rs"]
mod damaged;
#[path = "../../crates/stock/build/table.rs"]
mod table;
#[path = "../../crates/stock/build/tables.rs"]
mod tables;

use fuzz::{Broken, Fate, Met, jobs, links, numbers};
use layouts::Draw;
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant, SystemTime};
use stock::Stock;

/// What is tried, and its part of the time, in hundredths.
const KINDS: [(&str, u32); 5] = [("links", 20), ("jobs read", 25), ("jobs solved", 45), ("numbers", 5), ("tables", 5)];
/// A case that takes longer hangs. It is no test that it does not: the steps of each are bounded in the code.
const HANGS: Duration = Duration::from_secs(120);
/// Inputs kept of each kind, and the longest.
const MOST_KEPT: usize = 150;
const LONGEST_KEPT: usize = 2000;
/// Broken claims after which enough is known.
const ENOUGH: usize = 8;

/// The totals of one kind, as they stand in the file.
#[derive(Clone, Debug, Default)]
struct Total {
    refused: u64,
    accepted: u64,
    date: String,
}

impl Total {
    /// Every case has the next seed.
    fn cases(&self) -> u64 {
        self.refused + self.accepted
    }
}

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("fuzz")
}

const HEAD: &str = "kind,cases,refused,accepted,seeds,date";

fn read_totals(text: &str) -> BTreeMap<String, Total> {
    let rows = text.lines().skip(1).map(|line| line.split(',').collect::<Vec<_>>());
    let total = |cells: &[&str]| {
        let number = |at: usize| cells[at].parse().unwrap_or_else(|why| panic!("totals, {cells:?}: {why}"));
        Total { refused: number(2), accepted: number(3), date: cells[5].to_owned() }
    };
    rows.map(|cells| (cells[0].to_owned(), total(&cells))).collect()
}

fn written(totals: &BTreeMap<String, Total>) -> String {
    let mut text = format!("{HEAD}\n");
    for (kind, total) in totals {
        let (cases, Total { refused, accepted, date }) = (total.cases(), total);
        let last = cases.saturating_sub(1);
        writeln!(text, "{kind},{cases},{refused},{accepted},0 to {last},{date}").expect("a String takes any text");
    }
    text
}

/// The day in the calendar, from the seconds since 1970 (H. Hinnant, `chrono`-compatible low-level date algorithms, from
/// memory).
fn today() -> String {
    let seconds = SystemTime::now().duration_since(SystemTime::UNIX_EPOCH).map_or(0, |since| since.as_secs());
    let days = seconds / 86_400 + 719_468;
    let (era, of_era) = (days / 146_097, days % 146_097);
    let year_of_era = (of_era - of_era / 1460 + of_era / 36_524 - of_era / 146_096) / 365;
    let of_year = of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
    let shifted = (5 * of_year + 2) / 153;
    let (day, month) = (of_year - (153 * shifted + 2) / 5 + 1, if shifted < 10 { shifted + 3 } else { shifted - 9 });
    format!("{}-{month:02}-{day:02}", year_of_era + era * 400 + u64::from(month <= 2))
}

/// All that cases are made from.
struct Makings {
    /// Jobs to damage, and jobs to move about, which should stay sound.
    pool: jobs::Pool,
    sound_pool: jobs::Pool,
    sound: Vec<links::Sound>,
    bare: Vec<links::Bare>,
    tables: BTreeMap<String, String>,
    stock: Stock,
    /// What was seen of every kind, and the texts that showed it first.
    seen: BTreeSet<String>,
    kept: BTreeMap<&'static str, Vec<String>>,
}

const KEPT: [(&str, &str); 3] =
    [("links", "links.txt"), ("jobs read", "jobs_read.jsonl"), ("jobs solved", "jobs_solved.jsonl")];

fn text_of(path: &Path) -> String {
    std::fs::read_to_string(path).unwrap_or_else(|why| panic!("{}: {why}", path.display()))
}

impl Makings {
    fn new() -> Self {
        let tests = Path::new(env!("CARGO_MANIFEST_DIR"));
        let frozen: String = (1..=3).map(|version| text_of(&tests.join(format!("links/v{version}.txt")))).collect();
        let pairs: Vec<(&str, &str)> = frozen.lines().filter_map(|line| line.split_once('\t')).collect();
        let folders =
            std::fs::read_dir(tests.join("cases")).expect("cases/ is there").map(|entry| entry.expect("an entry"));
        let cases = folders.map(|entry| entry.path());
        let cases = cases.map(|path| text_of(&if path.is_dir() { path.join("job.json") } else { path }));
        let texts: Vec<String> = cases.chain(pairs.iter().map(|(_, job)| (*job).to_owned())).collect();
        let mut makings = Self {
            pool: jobs::Pool::of(texts.clone()),
            sound_pool: jobs::Pool::of(texts),
            sound: pairs.iter().filter_map(|(link, _)| links::Sound::of(link)).collect(),
            bare: Vec::new(),
            tables: damaged::files(&tests.join("../crates/stock/data")),
            stock: Stock::built_in(),
            seen: BTreeSet::new(),
            kept: BTreeMap::new(),
        };
        makings.bare = makings.sound.iter().map(|link| link.bare().clone()).collect();
        for (kind, file) in KEPT {
            for text in std::fs::read_to_string(folder().join(file)).unwrap_or_default().lines() {
                // What the kept ones show is known.
                let met = match kind {
                    "links" => links::read(&links::Drawn::Any(text.to_owned())),
                    "jobs read" => jobs::read(text),
                    _ => jobs::answered(text, &makings.stock),
                };
                let seen = met.map(|met| met.seen).unwrap_or_default();
                makings.seen.extend(seen.into_iter().map(|seen| format!("{kind}: {seen}")));
                makings.keep(kind, text.to_owned());
            }
        }
        makings
    }

    fn keep(&mut self, kind: &'static str, text: String) {
        let list = self.kept.entry(kind).or_default();
        if list.len() >= MOST_KEPT || text.len() > LONGEST_KEPT || text.contains(['\n', '\r']) || text.trim().is_empty()
        {
            return;
        }
        match kind {
            "links" => {
                self.sound.extend(links::Sound::of(&text));
                self.bare.extend(links::Bare::of(&text));
            }
            "jobs solved" => {
                self.pool.add(&text);
                self.sound_pool.add(&text);
            }
            _ => self.pool.add(&text),
        }
        list.push(text);
    }

    /// Keeps the text if it shows what none before did.
    fn look(&mut self, kind: &'static str, text: &str, met: &Met) {
        let new = met.seen.iter().filter(|seen| self.seen.insert(format!("{kind}: {seen}"))).count();
        if new > 0 && KEPT.iter().any(|(kept, _)| *kept == kind) {
            self.keep(kind, text.to_owned());
        }
    }

    /// Writes what was kept of a kind.
    fn write_kept(&self, kind: &str) {
        if let Some((_, file)) = KEPT.iter().find(|(kept, _)| *kept == kind) {
            let lines = self.kept.get(kind).map(|list| list.join("\n") + "\n").unwrap_or_default();
            std::fs::write(folder().join(file), lines).expect("the kept inputs can be written");
        }
    }
}

/// What a thread has in hand, for the watch; nothing between two cases.
type InHand = Mutex<Option<(Instant, String)>>;

fn held<T>(lock: &Mutex<T>) -> std::sync::MutexGuard<'_, T> {
    lock.lock().unwrap_or_else(std::sync::PoisonError::into_inner)
}

/// Ends the program if one case takes too long.
fn watch(in_hand: Arc<Vec<InHand>>) {
    std::thread::spawn(move || {
        loop {
            std::thread::sleep(Duration::from_secs(1));
            for each in in_hand.iter() {
                if let Some((since, text)) = held(each).as_ref().filter(|(since, _)| since.elapsed() > HANGS) {
                    println!("no end after {} s: {}", since.elapsed().as_secs(), found("hang", text).display());
                    std::process::exit(1);
                }
            }
        }
    });
}

/// Puts an input that broke something where it is found.
fn found(name: &str, text: &str) -> PathBuf {
    let path = folder().join("found").join(name.replace(' ', "_") + ".txt");
    std::fs::create_dir_all(folder().join("found")).expect("a folder for what was found");
    std::fs::write(&path, text).expect("what was found can be written");
    path
}

/// The case of a seed: its text, and what became of it.
type Case = (u64, String, Result<Met, Broken>);

/// One case of a kind.
fn case(kind: &str, makings: &Makings, seed: u64, in_hand: &InHand) -> Case {
    let draw = &mut Draw(seed);
    let drawn = (kind == "links").then(|| links::drawn(&makings.sound, &makings.bare, draw));
    let tables = (kind == "tables").then(|| {
        let mut pick = |n: usize| fuzz::below(draw, n);
        damaged::damaged(makings.tables.clone(), &mut pick)
    });
    let text = match kind {
        "jobs read" => makings.pool.damaged(draw),
        "jobs solved" => makings.sound_pool.moved(draw),
        "numbers" => numbers::drawn(draw),
        "tables" => tables.as_ref().map(|(file, all)| all[file].clone()).unwrap_or_default(),
        _ => drawn.as_ref().map(|drawn| drawn.text().to_owned()).unwrap_or_default(),
    };
    *held(in_hand) = Some((Instant::now(), text.clone()));
    let claim = || match kind {
        "jobs read" => jobs::read(&text),
        "jobs solved" => jobs::answered(&text, &makings.stock),
        "numbers" => numbers::read(&text),
        "tables" => {
            let (_, all) = tables.as_ref().expect("tables were drawn");
            let fate = |taken| if taken { Fate::Accepted } else { Fate::Refused };
            damaged::read(all).map(|taken| Met { fate: fate(taken), seen: Vec::new() })
        }
        _ => links::read(drawn.as_ref().expect("a link was drawn")),
    };
    let met = std::panic::catch_unwind(std::panic::AssertUnwindSafe(claim));
    *held(in_hand) = None;
    (seed, text, met.unwrap_or_else(|_| Err("a panic".to_owned())))
}

/// All cases from a seed on that are begun within a time, by every thread.
fn cases(kind: &str, makings: &Makings, first: u64, time: Duration, in_hand: &[InHand]) -> Vec<Case> {
    let (next, start) = (AtomicU64::new(first), Instant::now());
    std::thread::scope(|scope| {
        let threads = in_hand.iter().map(|in_hand| {
            let next = &next;
            scope.spawn(move || {
                let mut done = Vec::new();
                while start.elapsed() < time {
                    done.push(case(kind, makings, next.fetch_add(1, Ordering::Relaxed), in_hand));
                }
                done
            })
        });
        let threads: Vec<_> = threads.collect();
        threads.into_iter().flat_map(|thread| thread.join().expect("panics of a case are caught")).collect()
    })
}

/// Writes the total of one kind; those of the others stand in the file.
fn save(kind: &str, total: &Total) {
    let path = folder().join("totals.csv");
    let mut totals = std::fs::read_to_string(&path).map(|text| read_totals(&text)).unwrap_or_default();
    totals.insert(kind.to_owned(), total.clone());
    std::fs::write(path, written(&totals)).expect("totals can be written");
}

fn main() -> ExitCode {
    let minutes: f64 = std::env::args().nth(1).and_then(|word| word.parse().ok()).unwrap_or(5.0);
    let only = std::env::args().nth(2);
    let path = folder().join("totals.csv");
    let totals = std::fs::read_to_string(&path).map(|text| read_totals(&text)).unwrap_or_default();
    let mut makings = Makings::new();
    let threads = std::thread::available_parallelism().map_or(1, usize::from);
    let in_hand: Arc<Vec<InHand>> = Arc::new((0..threads).map(|_| Mutex::new(None)).collect());
    watch(Arc::clone(&in_hand));
    let date = today();
    let mut broken = BTreeSet::new();
    for (kind, part) in KINDS.into_iter().filter(|(kind, _)| only.as_deref().is_none_or(|only| only == *kind)) {
        let part = if only.is_some() { 100 } else { part };
        let each = Duration::from_secs(if kind == "jobs solved" { 20 } else { 1 });
        let mut total = totals.get(kind).cloned().unwrap_or_default();
        let (start, mut saved) = (Instant::now(), Instant::now());
        while start.elapsed().as_secs_f64() < minutes * 0.6 * f64::from(part) && broken.len() < ENOUGH {
            for (seed, text, met) in cases(kind, &makings, total.cases(), each, &in_hand) {
                match met {
                    Ok(met) => {
                        *(if met.fate == Fate::Accepted { &mut total.accepted } else { &mut total.refused }) += 1;
                        makings.look(kind, &text, &met);
                    }
                    Err(why) => {
                        // It counts as tried, or its seed would be tried for ever.
                        total.refused += 1;
                        if broken.insert(fuzz::kind(&why)) {
                            println!(
                                "{kind}, seed {seed}: {why}\n{}",
                                found(&format!("{kind} {seed}"), &text).display()
                            );
                        }
                    }
                }
            }
            total.date.clone_from(&date);
            if saved.elapsed().as_secs() >= 20 {
                saved = Instant::now();
                save(kind, &total);
                makings.write_kept(kind);
            }
        }
        save(kind, &total);
        makings.write_kept(kind);
    }
    println!("{}", std::fs::read_to_string(&path).unwrap_or_default());
    if broken.is_empty() { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}
