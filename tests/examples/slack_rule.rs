//! How the lengths that work lie beside two rules of the trade: 5 to 8 % of slack, and two diameters straight at each end.
//! Prints the table of tests/README.md, which tells what of it is whose. Run: `cargo run -p tests --example slack_rule`.
#![expect(clippy::print_stdout, reason = "the table is what this program is for")]

#[expect(dead_code, reason = "of the random layouts only the numbers are used")]
#[path = "../src/layouts.rs"]
mod layouts;

use job::CandidateReport;
use layouts::Draw;
use serde_json::{Value, json};
use shape::Vec3;
use stock::Stock;

const RUNS: usize = 200;
/// A 16/24 hose on bare 16 mm spigots, 30 mm seats: millimetres.
const OUTSIDE: f64 = 24.0;
const SEAT: f64 = 30.0;
/// FAA-H-8083-30, p 7-19.
const SLACK: [f64; 2] = [0.05, 0.08];
const STRAIGHT: f64 = 2.0 * OUTSIDE;
/// A bend of this radius of the centre line or more counts as straight: over two diameters it bows by a fiftieth of a
/// diameter. Our choice; the rule gives none.
const AS_STRAIGHT: f64 = 25.0 * OUTSIDE;

/// What one run has to say.
struct Told {
    /// How far the two spigots look off the straight line between them, together, degrees.
    turn: f64,
    /// Slack of the shortest length of the first window, of its middle and of its longest, as parts of the distance.
    window: [f64; 3],
    /// Slack of the suggested length.
    suggested: f64,
    /// Tightest bend within two diameters of a mouth at the middle, centre line, mm.
    near_mouth: f64,
    /// Tightest bend anywhere there, centre line, mm.
    anywhere: f64,
}

/// The only candidate for a run of one hose, at the cut that is suggested or at one that is to be tried.
fn candidate(run: &Value, cut: Option<f64>) -> Option<CandidateReport> {
    let mut run = run.clone();
    run["try_cut_mm"] = json!(cut);
    let text = json!({ "format": "hosewright-job", "version": 1, "car": "invented", "runs": [run] }).to_string();
    let report = share::answer(&text, &Stock::built_in()).expect("the job reads");
    assert!(report.problems.is_empty(), "{:?}", report.problems);
    report.runs.into_iter().next()?.candidates.into_iter().next()
}

/// Two spigots 80 to 500 mm apart, each leaning off the line between them by up to 80 degrees or so, or by more.
fn drawn(draw: &mut Draw) -> Option<Told> {
    let along = draw.direction();
    let distance = draw.between(80.0, 500.0);
    let mut lean = |about: Vec3| (about + draw.direction() * draw.between(0.0, 1.4)).direction().unwrap_or(about);
    let (points_a, points_b) = (lean(along), lean(-along));
    let end = |at: Vec3, points: Vec3, on: &str| {
        let triple = |v: Vec3| [v.x, v.y, v.z];
        json!({ "spigot_mm": 16.0, "bead_mm": "none", "seat_mm": SEAT, "at_mm": triple(at), "points": triple(points), "on": on })
    };
    let run = json!({
        "from": end(Vec3::ZERO, points_a, "engine"),
        "to": end(along * distance, points_b, "body"),
        "hose": { "bore_mm": 16, "wall_mm": 4 },
    });
    let told = candidate(&run, None)?;
    let [shortest, longest] = told.cut_window_mm?;
    let slack = |cut: f64| (cut - 2.0 * SEAT) / distance - 1.0;
    let middle = 0.5 * (shortest + longest);
    let lie = candidate(&run, Some(middle))?.lie?;
    let last = (lie.bend_inside_mm.len() - 1) as f64;
    let bends = lie
        .bend_inside_mm
        .iter()
        .enumerate()
        .map(|(i, inside)| (lie.free_mm * i as f64 / last, inside + OUTSIDE / 2.0));
    let near_mouth =
        bends.filter(|(s, _)| s.min(lie.free_mm - s) <= STRAIGHT).map(|(_, bend)| bend).fold(f64::INFINITY, f64::min);
    let off = |points: Vec3, way: Vec3| libm::acos(points.dot(way).clamp(-1.0, 1.0)).to_degrees();
    Some(Told {
        turn: off(points_a, along) + off(points_b, -along),
        window: [shortest, middle, longest].map(slack),
        suggested: slack(told.cut_mm),
        near_mouth,
        anywhere: lie.tightest_bend_mm + OUTSIDE / 2.0,
    })
}

/// The value below which a part of the list lies.
fn quantile(list: &[f64], part: f64) -> f64 {
    let mut sorted = list.to_vec();
    sorted.sort_by(f64::total_cmp);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a place in a short list")]
    let i = ((sorted.len() - 1) as f64 * part).round() as usize;
    sorted[i]
}

fn main() {
    let mut draw = Draw(91);
    let told: Vec<_> = (0..RUNS).filter_map(|_| drawn(&mut draw)).collect();
    println!("{} of {RUNS} runs have a length that works.\n", told.len());
    let columns = [
        "spigots off the line, together",
        "runs",
        "slack of the shortest, median",
        "of the middle: tenth, median, nine tenths",
        "of the suggested",
        "5 to 8 % works",
        "the middle has 5 to 8 %",
        "the suggested has",
        "at the middle: tightest near a mouth, median mm",
        "straight near both",
        "tightest of all is near a mouth",
    ];
    println!("| {} |\n|{}", columns.join(" | "), "---|".repeat(columns.len()));
    for (from, to) in [(0.0, 30.0), (30.0, 60.0), (60.0, 90.0), (90.0, 120.0), (120.0, 360.0), (0.0, 360.0)] {
        let bin: Vec<_> = told.iter().filter(|run| (from..to).contains(&run.turn)).collect();
        if bin.is_empty() {
            continue;
        }
        let of = |what: &dyn Fn(&Told) -> f64| bin.iter().map(|run| what(run)).collect::<Vec<_>>();
        let share = |what: &dyn Fn(&Told) -> bool| bin.iter().filter(|run| what(run)).count();
        let percent = |part: f64| format!("{:.0}", 100.0 * part);
        let three = |list: &[f64]| [0.1, 0.5, 0.9].map(|part| percent(quantile(list, part))).join(", ") + " %";
        let within = |slack: f64| (SLACK[0]..=SLACK[1]).contains(&slack);
        println!(
            "| {from:.0} to {to:.0} degrees | {} | {} % | {} | {} | {} | {} | {} | {:.0} | {} | {} |",
            bin.len(),
            percent(quantile(&of(&|run| run.window[0]), 0.5)),
            three(&of(&|run| run.window[1])),
            three(&of(&|run| run.suggested)),
            share(&|run| run.window[0] <= SLACK[1] && run.window[2] >= SLACK[0]),
            share(&|run| within(run.window[1])),
            share(&|run| within(run.suggested)),
            quantile(&of(&|run| run.near_mouth), 0.5),
            share(&|run| run.near_mouth >= AS_STRAIGHT),
            share(&|run| run.near_mouth <= 1.02 * run.anywhere),
        );
    }
}
