//! The judge of the circuit: a network of resistances fed by the pump, solved densely, and every way listed.
//!
//! Built from what was typed, not from what was accepted. Two networks: one in which all that meets in a part meets in one
//! point, and one in which every two things that meet there have a resistance of their own between them. What flows in the
//! second alone "leaves a part and comes back to it". Non-return valves are diodes: of all ways to have them open or shut
//! the one is taken in which every open one carries and every shut one is pressed shut.

use crate::layouts::Draw;
use job::input::{DecisionInput, Input, LineKindInput, PartKindInput, PortAtInput, RoleInput};

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum What {
    Line(usize),
    /// A thermostat's valve or a way of a tap, open.
    Link,
    Diode(usize),
    Pump(usize),
}

/// The open things between the points of a car in one state.
#[derive(Clone, Debug)]
pub(crate) struct Net {
    pub(crate) points: usize,
    pub(crate) things: Vec<([usize; 2], What)>,
    /// The first point of every part.
    pub(crate) first: Vec<usize>,
}

/// The thermostat and the tap that is shut; `None` for the first opens everything at once.
pub(crate) type State<'a> = (Option<bool>, Option<&'a str>);

pub(crate) fn stays(input: &Input, line: usize) -> bool {
    let line = &input.lines[line];
    let kept = line.kind == LineKindInput::Passage || line.decision != Some(DecisionInput::LeaveOut);
    kept && [&line.from, &line.to].iter().all(|end| input.parts[part_of(input, end)].leave_out != Some(true))
}

pub(crate) fn part_of(input: &Input, at: &PortAtInput) -> usize {
    input.parts.iter().position(|part| part.name == at.part).expect("a part of that name")
}

pub(crate) fn net(input: &Input, (open, shut): State) -> Net {
    let mut net = Net { points: 0, things: Vec::new(), first: Vec::new() };
    let mut point_of = Vec::new();
    for (p, part) in input.parts.iter().enumerate() {
        let mut fresh = || {
            net.points += 1;
            net.points - 1
        };
        let first = fresh();
        let second = fresh();
        net.first.push(first);
        match part.kind {
            PartKindInput::Pump => net.things.push(([first, second], What::Pump(p))),
            PartKindInput::NonReturnValve => net.things.push(([first, second], What::Diode(p))),
            _ => {}
        }
        for spigot in &part.spigots {
            let point = match (part.kind, spigot.role) {
                (PartKindInput::Pump | PartKindInput::NonReturnValve, Some(RoleInput::Outlet)) => second,
                (PartKindInput::Thermostat, Some(role @ (RoleInput::Valve | RoleInput::Bypass))) => {
                    net.points += 1;
                    let own = net.points - 1;
                    if open.is_none_or(|open| open == (role == RoleInput::Valve)) {
                        net.things.push(([first, own], What::Link));
                    }
                    own
                }
                (PartKindInput::Tap, _) => {
                    net.points += 1;
                    let own = net.points - 1;
                    if shut != Some(part.name.as_str()) {
                        net.things.push(([first, own], What::Link));
                    }
                    own
                }
                _ => first,
            };
            point_of.push((part.name.as_str(), spigot.name.as_str(), point));
        }
    }
    for (l, line) in input.lines.iter().enumerate().filter(|(l, _)| stays(input, *l)) {
        let ends = [&line.from, &line.to].map(|end| {
            let found = point_of.iter().find(|(part, spigot, _)| *part == end.part && *spigot == end.spigot);
            found.expect("a spigot of that name").2
        });
        net.things.push((ends, What::Line(l)));
    }
    net
}

impl Net {
    /// Whether something flows through every part, from what flows through every thing.
    pub(crate) fn in_parts(&self, input: &Input, flows: &[bool]) -> Vec<bool> {
        let through = |p: usize| {
            let two = matches!(input.parts[p].kind, PartKindInput::Pump | PartKindInput::NonReturnValve);
            self.things.iter().zip(flows).any(|((ends, what), flows)| {
                let own =
                    if two { *what == What::Pump(p) || *what == What::Diode(p) } else { ends.contains(&self.first[p]) };
                own && *flows
            })
        };
        (0..input.parts.len()).map(through).collect()
    }

    pub(crate) fn in_lines(&self, input: &Input, flows: &[bool]) -> Vec<bool> {
        let through =
            |l: usize| self.things.iter().zip(flows).any(|((_, what), flows)| *what == What::Line(l) && *flows);
        (0..input.lines.len()).map(through).collect()
    }

    pub(crate) fn diodes(&self) -> Vec<usize> {
        (0..self.things.len()).filter(|t| matches!(self.things[*t].1, What::Diode(_))).collect()
    }

    pub(crate) fn pumps(&self) -> Vec<usize> {
        (0..self.things.len()).filter(|t| matches!(self.things[*t].1, What::Pump(_))).collect()
    }

    /// The current through every thing, pumps driving, for these conductances.
    pub(crate) fn currents(&self, conductance: &[f64], split: bool, draw: &mut Draw) -> Vec<f64> {
        let count = self.things.len();
        let mut branches = Vec::new();
        for (t, (ends, what)) in self.things.iter().enumerate() {
            let drive = if matches!(what, What::Pump(_)) { draw.between(0.5, 2.0) } else { 0.0 };
            let ends = if split { [2 * t, 2 * t + 1] } else { *ends };
            branches.push(Branch { ends, conductance: conductance[t], drive });
        }
        let nodes = if split { 2 * count } else { self.points };
        if split {
            let at = |end: usize| self.things[end / 2].0[end % 2];
            for a in 0..nodes {
                for b in (0..a).filter(|b| at(a) == at(*b)) {
                    branches.push(Branch { ends: [a, b], conductance: draw.between(0.5, 2.0), drive: 0.0 });
                }
            }
        }
        let diodes = self.diodes();
        for shut in 0..1_usize << diodes.len() {
            let is_shut = |t: usize| diodes.iter().position(|d| *d == t).is_some_and(|place| shut >> place & 1 == 1);
            let mut tried = branches.clone();
            (0..count).filter(|t| is_shut(*t)).for_each(|t| tried[t].conductance = 0.0);
            let (volts, piece) = solve(nodes, &tried);
            let drop = |t: usize| volts[branches[t].ends[0]] - volts[branches[t].ends[1]];
            let joined = |t: usize| piece[branches[t].ends[0]] == piece[branches[t].ends[1]];
            let holds = |t: &usize| match is_shut(*t) {
                true => !joined(*t) || drop(*t) <= NOTHING,
                false => drop(*t) >= -NOTHING,
            };
            if diodes.iter().all(holds) {
                let flow = |t: usize| (drop(t) + tried[t].drive) * tried[t].conductance;
                return (0..count).map(flow).collect();
            }
        }
        panic!("no way to have the valves agrees with itself");
    }

    /// Every way, as the things passed with whether each is passed from its first end, between two points; no point twice.
    pub(crate) fn ways(&self, from: usize, to: usize, but: usize) -> Vec<Vec<(usize, bool)>> {
        let mut ways = Vec::new();
        self.follow(from, to, but, &mut vec![from], &mut Vec::new(), &mut ways);
        ways
    }

    fn follow(
        &self,
        here: usize,
        to: usize,
        but: usize,
        passed: &mut Vec<usize>,
        way: &mut Vec<(usize, bool)>,
        ways: &mut Vec<Vec<(usize, bool)>>,
    ) {
        assert!(ways.len() < 100_000, "too many ways to list");
        if here == to {
            ways.push(way.clone());
            return;
        }
        for (t, ([a, b], _)) in self.things.iter().enumerate().filter(|(t, _)| *t != but) {
            for (near, far, first) in [(*a, *b, true), (*b, *a, false)] {
                if near == here && !passed.contains(&far) {
                    passed.push(far);
                    way.push((t, first));
                    self.follow(far, to, but, passed, way, ways);
                    way.pop();
                    passed.pop();
                }
            }
        }
    }
}

/// Below this, of a drive of about one, nothing flows; the gap round it is measured.
pub(crate) const NOTHING: f64 = 1e-12;

#[derive(Clone, Copy, Debug)]
pub(crate) struct Branch {
    pub(crate) ends: [usize; 2],
    pub(crate) conductance: f64,
    /// Lifts the potential from the first end to the second.
    pub(crate) drive: f64,
}

/// The potential of every node by Gauss, one node of every piece held at nothing; and the piece of every node.
pub(crate) fn solve(nodes: usize, branches: &[Branch]) -> (Vec<f64>, Vec<usize>) {
    let mut piece: Vec<usize> = (0..nodes).collect();
    let mut changed = true;
    while changed {
        changed = false;
        for Branch { ends: [a, b], .. } in branches.iter().filter(|branch| branch.conductance > 0.0) {
            let least = piece[*a].min(piece[*b]);
            for end in [*a, *b] {
                changed |= piece[end] != least;
                piece[end] = least;
            }
        }
    }
    let mut matrix = vec![vec![0.0; nodes + 1]; nodes];
    for Branch { ends: [a, b], conductance, drive } in branches {
        for (own, other, drive) in [(*a, *b, *drive), (*b, *a, -*drive)] {
            matrix[own][own] += conductance;
            matrix[own][other] -= conductance;
            matrix[own][nodes] -= conductance * drive;
        }
    }
    for node in (0..nodes).filter(|node| piece[*node] == *node) {
        matrix[node].fill(0.0);
        matrix[node][node] = 1.0;
    }
    for step in 0..nodes {
        let pivot = (step..nodes).max_by(|a, b| matrix[*a][step].abs().total_cmp(&matrix[*b][step].abs()));
        matrix.swap(step, pivot.expect("a row"));
        let top = matrix[step].clone();
        for row in matrix.iter_mut().skip(step + 1) {
            let factor = row[step] / top[step];
            if factor.abs() > 0.0 {
                row[step..].iter_mut().zip(&top[step..]).for_each(|(x, y)| *x -= factor * y);
            }
        }
    }
    let mut volts = vec![0.0; nodes];
    for step in (0..nodes).rev() {
        let known: f64 = (step + 1..nodes).map(|other| matrix[step][other] * volts[other]).sum();
        volts[step] = (matrix[step][nodes] - known) / matrix[step][step];
    }
    (volts, piece)
}

#[test]
fn a_bridge_of_resistances_by_hand() {
    // Wheatstone: 1 and 2 ohms, 2 and 1 ohms, 1 ohm across, 1 volt without resistance of its own but 1 ohm in series.
    let branch = |a: usize, b: usize, ohms: f64, drive: f64| Branch { ends: [a, b], conductance: 1.0 / ohms, drive };
    let bridge = [
        branch(0, 1, 1.0, 1.0),
        branch(1, 2, 1.0, 0.0),
        branch(1, 3, 2.0, 0.0),
        branch(2, 0, 2.0, 0.0),
        branch(3, 0, 1.0, 0.0),
        branch(2, 3, 1.0, 0.0),
    ];
    let (volts, _) = solve(4, &bridge);
    // By symmetry the bridge is worth 7/5 ohm: I = 5/12 A, U = 7/12 V; across the bridge U/7.
    let drop = |a: usize, b: usize| volts[a] - volts[b];
    assert!((drop(1, 0) - 7.0 / 12.0).abs() < 1e-12, "{volts:?}");
    assert!((drop(2, 3) - 1.0 / 12.0).abs() < 1e-12, "{volts:?}");
}
