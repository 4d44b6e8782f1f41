//! How the error falls when the mesh is halved, against the outside referees: the design promises fourth order.

use crate::referee::Referee;
use crate::{closed_forms, lie_cases};
use shape::rest_on_mesh;

const MESHES: [usize; 3] = [20, 40, 80];

/// Largest turn per interval, in radians, on which the design takes an answer; a coarser mesh says nothing of the order.
/// What turns more on the coarsest mesh is studied on meshes twice as fine.
const TURN: f64 = 0.3;

/// The order that must be seen; four is expected, less is a defect of the discretisation.
const ORDER: f64 = 3.5;

/// Worst centre line (mm per 400 mm) and worst peak curvature (relative) over all referees on one mesh.
fn worst(referees: &[Referee], n: usize) -> [f64; 2] {
    let mut worst = [0.0_f64; 2];
    for referee in referees {
        let lie = rest_on_mesh(&referee.ends, referee.length, &referee.section, n);
        let lie = lie.unwrap_or_else(|why| panic!("{} at {n} intervals: {why}", referee.name));
        let misses = referee.misses(&lie);
        worst = [worst[0].max(misses[0]), worst[1].max(misses[1])];
    }
    worst
}

/// The order over all three meshes, which is the slope of the straight line fitted through the logarithms of their errors:
/// with equal steps of the mesh the middle one has no say. A single step scatters, because a peak between nodes comes to lie
/// elsewhere in its element when the mesh is halved.
fn order(errors: [f64; 3]) -> f64 {
    libm::log2(errors[0] / errors[2]) / 2.0
}

fn check(name: &str, referees: Vec<Referee>) {
    let gentle = |r: &Referee| r.peak * r.length <= TURN * MESHES[0] as f64;
    let (gentle, sharp): (Vec<_>, Vec<_>) = referees.into_iter().partition(gentle);
    check_on(name, &gentle, MESHES);
    if !sharp.is_empty() {
        check_on(&format!("{name}, sharp"), &sharp, MESHES.map(|n| 2 * n));
    }
}

fn check_on(name: &str, referees: &[Referee], meshes: [usize; 3]) {
    let errors = meshes.map(|n| worst(referees, n));
    let mut table = format!("{name}, {} cases\n    N   centre line  step   peak      step\n", referees.len());
    for (i, n) in meshes.iter().enumerate() {
        let step = |k: usize| match i {
            0 => "    ".to_owned(),
            _ => format!("{:.2}", libm::log2(errors[i - 1][k] / errors[i][k])),
        };
        table += &format!("  {n:3}   {:.2e}     {}   {:.2e}  {}\n", errors[i][0], step(0), errors[i][1], step(1));
    }
    let orders = [0, 1].map(|k| order(errors.map(|error| error[k])));
    table += &format!("  order {:.2}            {:.2}\n", orders[0], orders[1]);
    println!("{table}");
    assert!(orders.iter().all(|&order| order >= ORDER), "below {ORDER}\n{table}");
}

#[test]
fn shape_and_peak_converge_with_the_fourth_order_to_the_shooting_solver() {
    check("shooting solver", lie_cases::single_referees());
}

#[test]
fn shape_and_peak_converge_with_the_fourth_order_to_the_closed_forms() {
    check("closed forms", closed_forms::single_referees());
}
