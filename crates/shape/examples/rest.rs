//! Scripting door: one question a line in (JSON), its lies out, one line each; see README, "From a script".

use serde::Deserialize;
use serde_json::{Value, json};
use shape::{Ends, Lie, Section, Solver, Vec3};
use std::io::{BufRead, Write};
use std::process::ExitCode;
use std::time::Instant;

/// Points told per lie, equally spaced in arc length.
const POINTS: usize = 21;

#[derive(Deserialize)]
#[expect(non_snake_case, reason = "the names of the door")]
struct Question {
    id: String,
    A_mm: [f64; 3],
    tangent_A: [f64; 3],
    B_mm: [f64; 3],
    tangent_B: [f64; 3],
    length_mm: f64,
    EI_Nmm2: f64,
    weight_N_per_mm: [f64; 3],
    #[serde(default = "one")]
    lies: usize,
}

fn one() -> usize {
    1
}

fn list(v: Vec3) -> [f64; 3] {
    v.into()
}

fn told(lie: &Lie, micros: f64) -> Value {
    let step = (lie.points().len() - 1) / (POINTS - 1);
    json!({
        "centreline_mm": lie.points().iter().step_by(step).map(|p| list(*p)).collect::<Vec<_>>(),
        "peak_curvature_per_mm": lie.peak().curvature,
        "peak_curvature_at_mm": lie.peak().at,
        "bending_energy_Nmm": lie.bending_energy(),
        "force_on_hose_at_A_N": list(lie.force_at_a()),
        "moment_on_hose_at_A_Nmm": list(lie.moment_at_a()),
        "stable": true,
        "neutral": lie.is_neutral(),
        "solve_us": micros,
    })
}

fn answer(solver: &mut Solver, q: &Question) -> Value {
    let ends =
        Ends { a: q.A_mm.into(), tangent_a: q.tangent_A.into(), b: q.B_mm.into(), tangent_b: q.tangent_B.into() };
    let section = Section { stiffness: q.EI_Nmm2, weight: q.weight_N_per_mm.into() };
    let begin = Instant::now();
    let found = if q.lies <= 1 {
        solver.rest(&ends, q.length_mm, &section).map(|lie| vec![lie])
    } else {
        solver.lies(&ends, q.length_mm, &section)
    };
    let micros = begin.elapsed().as_secs_f64() * 1e6;
    match found {
        Ok(lies) => json!({
            "id": q.id,
            "lies": lies.iter().take(q.lies.max(1)).map(|lie| told(lie, micros)).collect::<Vec<_>>(),
        }),
        Err(why) => json!({ "id": q.id, "no_shape": why.to_string() }),
    }
}

fn main() -> ExitCode {
    let mut solver = Solver::new();
    let mut out = std::io::stdout().lock();
    for (k, line) in std::io::stdin().lock().lines().enumerate() {
        let line = match line {
            Ok(line) => line,
            Err(why) => {
                eprintln!("line {}: cannot be read: {why}", k + 1);
                return ExitCode::FAILURE;
            }
        };
        if line.trim().is_empty() {
            continue;
        }
        let question: Question = match serde_json::from_str(&line) {
            Ok(question) => question,
            Err(why) => {
                eprintln!("line {}: {why}", k + 1);
                return ExitCode::FAILURE;
            }
        };
        if writeln!(out, "{}", answer(&mut solver, &question)).is_err() {
            return ExitCode::FAILURE;
        }
    }
    ExitCode::SUCCESS
}
