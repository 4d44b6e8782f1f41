//! The car as chambers and what joins them, and where a pump makes coolant flow.
//!
//! A part is one chamber in which all its spigots meet. A pump and a non-return valve have two; a spigot behind a
//! thermostat's valve, and every spigot of a tap, has one of its own, joined to the rest by what can shut it.

use super::graph::{blocks, edges_at, other_end};
use super::states::State;
use crate::car::{Car, Part, PartKind, Role};

/// How sure it is that coolant flows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Flow {
    /// It never does.
    No,
    /// It goes out from a part and comes back to the same part: what is between its two spigots decides.
    Ring,
    /// What holds a non-return valve shut or open decides.
    Valve,
    /// However wide or narrow anything is.
    Yes,
}

/// What joins two chambers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Joins {
    Line(usize),
    /// From the inlet's chamber of a pump to the outlet's.
    Pump(usize),
    /// From inlet to outlet, and never back.
    OneWay(usize),
    /// Open with the thermostat.
    Valve,
    /// Shut once the thermostat is open.
    Bypass,
    /// Open unless this tap is shut.
    Tap(usize),
}

/// Chambers, and what joins them.
#[derive(Debug)]
pub(super) struct Network {
    nodes: usize,
    edges: Vec<[usize; 2]>,
    joins: Vec<Joins>,
    /// The part of every chamber.
    part_of: Vec<usize>,
    /// The edges of the first pumps that have an inlet and an outlet.
    pumps: Vec<usize>,
}

/// Steps after which the ways through non-return valves are no longer followed: our choice, far above what a car has.
const STEPS: usize = 20_000;

/// Pumps that drive: our choice, more than a car has.
pub(super) const MOST_PUMPS: usize = 4;
/// Non-return valves that are opened in turn to look for rings that hang on a chamber: our choice, more than a car has.
const MOST_VALVES: usize = 8;

pub(super) fn has_role(part: &Part, role: Role) -> bool {
    part.ports.iter().any(|port| port.role == Some(role))
}

/// Whether a part has two chambers.
pub(super) fn one_way(part: &Part) -> bool {
    matches!(part.kind, PartKind::Pump | PartKind::NonReturnValve)
        && has_role(part, Role::Inlet)
        && has_role(part, Role::Outlet)
}

impl Network {
    pub(super) fn new(car: &Car) -> Self {
        let parts = car.parts.len();
        // The first chambers are those of the parts, in their order.
        let mut network = Self {
            nodes: parts,
            edges: Vec::new(),
            joins: Vec::new(),
            part_of: (0..parts).collect(),
            pumps: Vec::new(),
        };
        let mut chambers: Vec<Vec<usize>> = Vec::with_capacity(parts);
        for (p, part) in car.parts.iter().enumerate() {
            let mut of_ports = vec![p; part.ports.len()];
            if one_way(part) {
                let joins = if part.kind == PartKind::Pump { Joins::Pump(p) } else { Joins::OneWay(p) };
                let outlet = network.add(p, joins);
                if part.kind == PartKind::Pump && !part.goes && network.pumps.len() < MOST_PUMPS {
                    network.pumps.push(network.edges.len() - 1);
                }
                for (chamber, port) in of_ports.iter_mut().zip(&part.ports) {
                    if port.role == Some(Role::Outlet) {
                        *chamber = outlet;
                    }
                }
            }
            for (chamber, port) in of_ports.iter_mut().zip(&part.ports) {
                match (part.kind, port.role) {
                    (PartKind::Thermostat, Some(Role::Valve)) => *chamber = network.add(p, Joins::Valve),
                    (PartKind::Thermostat, Some(Role::Bypass)) => *chamber = network.add(p, Joins::Bypass),
                    (PartKind::Tap, _) => *chamber = network.add(p, Joins::Tap(p)),
                    _ => {}
                }
            }
            chambers.push(of_ports);
        }
        for (l, line) in car.lines.iter().enumerate().filter(|(_, line)| car.stays(line)) {
            let ends = line.ends.map(|end| chambers[end.part][end.port]);
            network.edges.push(ends);
            network.joins.push(Joins::Line(l));
        }
        network
    }

    /// Another chamber of a part, and what joins it to the first.
    fn add(&mut self, part: usize, joins: Joins) -> usize {
        let node = self.nodes;
        self.nodes += 1;
        self.part_of.push(part);
        self.edges.push([part, node]);
        self.joins.push(joins);
        node
    }

    pub(super) fn is_driven(&self) -> bool {
        !self.pumps.is_empty()
    }

    /// What flows through every edge in a state, whichever pump makes it flow; nothing through the parts that are `but`.
    pub(super) fn flows(&self, state: State, but: impl Fn(usize) -> bool) -> Vec<Flow> {
        let mut flows = vec![Flow::No; self.edges.len()];
        let is_open = |(ends, joins): (&[usize; 2], &Joins)| {
            let open = match joins {
                Joins::Valve => state.open != Some(false),
                Joins::Bypass => state.open != Some(true),
                Joins::Tap(tap) => state.tap != Some(*tap),
                _ => true,
            };
            open && !ends.iter().any(|end| but(self.part_of[*end]))
        };
        let open: Vec<bool> = self.edges.iter().zip(&self.joins).map(is_open).collect();
        for &pump in &self.pumps {
            for (flow, driven) in flows.iter_mut().zip(self.driven(pump, open.clone())) {
                *flow = (*flow).max(driven);
            }
        }
        flows
    }

    /// What one pump makes flow; another that stands lets coolant through.
    fn driven(&self, pump: usize, mut open: Vec<bool>) -> Vec<Flow> {
        let round = self.round(pump, &open);
        let mut flows: Vec<_> = round.iter().map(|on| if *on { Flow::Yes } else { Flow::No }).collect();
        let valves: Vec<_> =
            (0..self.edges.len()).filter(|e| round[*e] && matches!(self.joins[*e], Joins::OneWay(_))).collect();
        if !valves.is_empty() {
            let ways = self.ways(pump, &round);
            // What may be shut is taken as shut for what surely flows, and as open for what may.
            let mut surely = open.clone();
            for &valve in &valves {
                let (forward, backward) = ways.as_ref().map_or((true, true), |w| (w.on[valve], w.backward[valve]));
                // On no way at all it may still lie on a ring that hangs on one chamber.
                open[valve] = forward || !backward;
                surely[valve] = forward && !backward && self.pumps.len() == 1;
            }
            let may = ways.map_or_else(|| self.round(pump, &open), |ways| ways.on);
            let sure = self.round(pump, &surely);
            for (edge, flow) in flows.iter_mut().enumerate() {
                *flow = if sure[edge] {
                    Flow::Yes
                } else if may[edge] {
                    Flow::Valve
                } else {
                    Flow::No
                };
            }
            // A ring may hang on a chamber only while some valve is shut and another open.
            self.rings(pump, &surely, &mut flows);
            for valve in valves.into_iter().take(MOST_VALVES) {
                let was = std::mem::replace(&mut surely[valve], true);
                self.rings(pump, &surely, &mut flows);
                surely[valve] = was;
            }
        }
        self.rings(pump, &open, &mut flows);
        flows
    }

    /// The open edges that lie on a ring with the pump's.
    fn round(&self, pump: usize, open: &[bool]) -> Vec<bool> {
        let block = blocks(self.nodes, &self.edges, open);
        let own = block[pump];
        if block.iter().filter(|other| **other == own).count() < 2 {
            return vec![false; self.edges.len()];
        }
        block.iter().map(|other| other.is_some() && *other == own).collect()
    }

    /// Marks rings that hang on one chamber through which coolant flows.
    fn rings(&self, pump: usize, open: &[bool], flows: &mut [Flow]) {
        let block = blocks(self.nodes, &self.edges, open);
        let mut size = vec![0; self.edges.len()];
        for number in block.iter().flatten() {
            size[*number] += 1;
        }
        let is_ring = |edge: usize| {
            let [a, b] = self.edges[edge];
            open[edge] && (a == b || block[edge].is_some_and(|number| size[number] > 1 && block[edge] != block[pump]))
        };
        let mut live = vec![false; self.nodes];
        for (ends, flow) in self.edges.iter().zip(flows.iter()) {
            if *flow > Flow::No {
                ends.iter().for_each(|end| live[*end] = true);
            }
        }
        let mut hangs = vec![false; self.edges.len()];
        let mut changed = true;
        while changed {
            changed = false;
            for edge in (0..self.edges.len()).filter(|edge| is_ring(*edge)) {
                let known = block[edge].is_some_and(|number| hangs[number]);
                let touches = self.edges[edge].iter().any(|end| live[*end]);
                if flows[edge] == Flow::No && (known || touches) {
                    flows[edge] = Flow::Ring;
                    self.edges[edge].iter().for_each(|end| live[*end] = true);
                    block[edge].into_iter().for_each(|number| hangs[number] = true);
                    changed = true;
                }
            }
        }
    }

    /// Follows every way from the pump's outlet to its inlet that passes no chamber twice and at most one non-return valve
    /// against it; nothing if there are too many.
    fn ways(&self, pump: usize, round: &[bool]) -> Option<Ways> {
        let at = edges_at(self.nodes, &self.edges, round);
        let [inlet, outlet] = self.edges[pump];
        let none = vec![false; self.edges.len()];
        let mut ways = Ways { on: none.clone(), backward: none };
        let mut passed = vec![false; self.nodes];
        let mut next = vec![0; self.nodes];
        let mut way: Vec<usize> = Vec::new();
        let mut against: Option<usize> = None;
        let mut here = outlet;
        passed[outlet] = true;
        for _ in 0..STEPS {
            let edge = if here == inlet { None } else { at[here].get(next[here]).copied() };
            if let Some(edge) = edge {
                next[here] += 1;
                let there = other_end(self.edges[edge], here);
                let wrong = matches!(self.joins[edge], Joins::OneWay(_)) && self.edges[edge][1] == here;
                if edge == pump || passed[there] || wrong && against.is_some() {
                    continue;
                }
                if wrong {
                    against = Some(edge);
                }
                way.push(edge);
                (passed[there], next[there]) = (true, 0);
                here = there;
                continue;
            }
            if here == inlet {
                match against {
                    None => way.iter().for_each(|edge| ways.on[*edge] = true),
                    Some(valve) => ways.backward[valve] = true,
                }
            }
            let Some(edge) = way.pop() else {
                ways.on[pump] = ways.on.contains(&true);
                return Some(ways);
            };
            if against == Some(edge) {
                against = None;
            }
            passed[here] = false;
            here = other_end(self.edges[edge], here);
        }
        None
    }

    /// What flows through every part, from what flows through every edge.
    pub(super) fn in_parts(&self, car: &Car, flows: &[Flow]) -> Vec<Flow> {
        let mut in_parts = vec![Flow::No; car.parts.len()];
        for ((ends, joins), flow) in self.edges.iter().zip(&self.joins).zip(flows) {
            for &end in ends {
                let part = self.part_of[end];
                let own = match joins {
                    Joins::Pump(own) | Joins::OneWay(own) => *own == part,
                    // Two chambers: what goes from one to the other counts. A valve's own chamber: what comes from behind it.
                    _ => end == part && !one_way(&car.parts[part]),
                };
                if own {
                    in_parts[part] = in_parts[part].max(*flow);
                }
            }
        }
        in_parts
    }

    /// What flows through every line; nothing through one that goes.
    pub(super) fn in_lines(&self, car: &Car, flows: &[Flow]) -> Vec<Flow> {
        let mut in_lines = vec![Flow::No; car.lines.len()];
        for (joins, flow) in self.joins.iter().zip(flows) {
            if let Joins::Line(line) = joins {
                in_lines[*line] = *flow;
            }
        }
        in_lines
    }

    /// For every part a number that it shares with the parts it is joined to, whatever is shut.
    pub(super) fn pieces(&self) -> Vec<usize> {
        let mut piece: Vec<usize> = (0..self.nodes).collect();
        let head = |piece: &[usize], mut node: usize| {
            while piece[node] != node {
                node = piece[node];
            }
            node
        };
        for &[a, b] in &self.edges {
            let (a, b) = (head(&piece, a), head(&piece, b));
            piece[a.max(b)] = a.min(b);
        }
        (0..self.nodes).map(|node| head(&piece, node)).collect()
    }

    /// The edges on some way from a pump to a part that takes up coolant or lets air out.
    pub(super) fn to_ends(&self, car: &Car) -> Vec<Flow> {
        let mut on = vec![Flow::No; self.edges.len()];
        let ends = car.parts.iter().enumerate();
        let ends = ends.filter(|(_, part)| matches!(part.kind, PartKind::ExpansionBottle | PartKind::BleedScrew));
        for (end, _) in ends {
            for &pump in &self.pumps {
                let mut edges = self.edges.clone();
                edges.push([self.edges[pump][0], end]);
                let block = blocks(self.nodes, &edges, &vec![true; edges.len()]);
                for (edge, on) in on.iter_mut().enumerate() {
                    if block[edge].is_some() && block[edge] == block[edges.len() - 1] {
                        *on = Flow::Yes;
                    }
                }
            }
        }
        on
    }
}

/// What lies on a way from the pump's outlet to its inlet.
struct Ways {
    /// On a way that passes every non-return valve rightly.
    on: Vec<bool>,
    /// The one valve that is passed against its direction on some way.
    backward: Vec<bool>,
}
