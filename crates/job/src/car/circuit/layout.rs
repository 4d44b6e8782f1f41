//! Places for a picture of the circuit: two columns of boxes, and lines in the gap between them, where no box is.
//!
//! Boxes of the left column and their lines' ends stand on one grid of heights, those of the right column half a row
//! lower, and every line has an upright of its own: no two lines lie on each other, they only cross.

use crate::car::{Car, PartKind};
use serde::{Deserialize, Serialize};

/// A picture of the circuit, in units of which a narrow page is 340 wide; y goes down.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Layout {
    /// How wide it is.
    pub width: f64,
    /// How high.
    pub height: f64,
    /// A box for every part, in their order.
    pub boxes: Vec<BoxPlace>,
    /// A way for every line, in their order.
    pub lines: Vec<LinePlace>,
}

/// Where a part stands.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct BoxPlace {
    /// What the part is called.
    pub name: String,
    /// The same in rows that fit the box at 6 units a letter; a row is 14 high.
    pub rows: Vec<String>,
    /// Its left edge.
    pub x: f64,
    /// Its upper edge.
    pub y: f64,
    /// How wide it is.
    pub width: f64,
    /// How high.
    pub height: f64,
    /// Whether the part goes.
    pub goes: bool,
}

/// Where a line is drawn.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct LinePlace {
    /// What it is called.
    pub name: String,
    /// Its corners, from the edge of the box it begins on to the edge of the box it ends on.
    pub points: Vec<[f64; 2]>,
    /// The middle of its upright, for a mark.
    pub mark: [f64; 2],
    /// Whether it goes.
    pub goes: bool,
}

const WIDTH: f64 = 340.0;
const MARGIN: f64 = 4.0;
const BOX: f64 = 104.0;
const ROW: f64 = 14.0;
/// Letters in a row, at 6 units each.
const LETTERS: usize = 16;
/// How often the boxes are put in order anew; they hardly move after a few times.
const SWEEPS: usize = 8;
/// How far apart two boxes stand, at most, that change places.
const NEAR: usize = 4;

/// The columns.
const LEFT: usize = 0;
const RIGHT: usize = 1;

/// Places for the parts and lines of a car: engine parts on the left, body parts on the right, what stands in a line
/// where there is room.
#[must_use]
pub fn layout(car: &Car) -> Layout {
    let rows: Vec<Vec<String>> = car.parts.iter().map(|part| in_rows(&part.name)).collect();
    let mut ends = vec![Vec::new(); car.parts.len()];
    for (l, line) in car.lines.iter().enumerate() {
        (0..2).for_each(|e| ends[line.ends[e].part].push((l, e)));
    }
    // How many rows high every box is: one above and below, if only half of each.
    let high: Vec<usize> = rows.iter().zip(&ends).map(|(rows, ends)| rows.len().max(ends.len()) + 1).collect();
    let (column, mut order) = columns(car, &high);
    let top = ordered(car, &mut order, &high, &ends);
    let boxes: Vec<BoxPlace> = (0..car.parts.len())
        .map(|part| BoxPlace {
            name: car.parts[part].name.clone(),
            rows: rows[part].clone(),
            x: if column[part] == LEFT { MARGIN } else { WIDTH - MARGIN - BOX },
            y: row(top[part]) + if column[part] == LEFT { 0.0 } else { ROW / 2.0 } + ROW / 2.0,
            width: BOX,
            height: row(high[part]),
            goes: car.parts[part].goes,
        })
        .collect();
    // Where on its box every line begins and ends. Those that go up in its own column leave above, the shortest first,
    // those that go down below, the shortest last, so that one lies inside the other; the rest by height between them.
    let mut at = vec![[0.0; 2]; car.lines.len()];
    for (part, ends) in ends.iter_mut().enumerate() {
        in_order(ends, |(line, end)| {
            let other = car.lines[*line].ends[1 - end].part;
            let side = if column[other] != column[part] { 1 } else { 2 * usize::from(top[other] >= top[part]) };
            (side, if side == 1 { top[other] * 2 + high[other] } else { usize::MAX - top[other] })
        });
        let first = boxes[part].y + row((high[part] - ends.len()) / 2 + 1) - ROW / 2.0;
        for (place, (line, end)) in ends.iter().enumerate() {
            at[*line][*end] = first + row(place);
        }
    }
    let uprights = uprights(car, &column, &at);
    let lines = car.lines.iter().zip(at.iter().zip(&uprights)).map(|(line, (at, upright))| {
        let edge = |end: usize| {
            let place = &boxes[line.ends[end].part];
            [if column[line.ends[end].part] == LEFT { place.x + BOX } else { place.x }, at[end]]
        };
        LinePlace {
            name: line.name.clone(),
            points: vec![edge(0), [*upright, at[0]], [*upright, at[1]], edge(1)],
            mark: [*upright, f64::midpoint(at[0], at[1])],
            goes: !car.stays(line),
        }
    });
    let height = boxes.iter().map(|place| place.y + place.height).fold(0.0, f64::max) + ROW / 2.0;
    Layout { width: WIDTH, height, lines: lines.collect(), boxes }
}

/// A name in rows, broken between words where it can be.
fn in_rows(name: &str) -> Vec<String> {
    let mut rows = vec![String::new()];
    let mut letters = 0;
    for word in name.split_whitespace() {
        let long = word.chars().count();
        if letters > 0 && letters + 1 + long <= LETTERS {
            letters += 1;
            rows.last_mut().into_iter().for_each(|row| row.push(' '));
        } else if letters > 0 {
            rows.push(String::new());
            letters = 0;
        }
        for letter in word.chars() {
            if letters == LETTERS {
                rows.push(String::new());
                letters = 0;
            }
            rows.last_mut().into_iter().for_each(|row| row.push(letter));
            letters += 1;
        }
    }
    rows
}

fn row(count: usize) -> f64 {
    count as f64 * ROW
}

/// The column of every part, and the parts of each column from top to bottom as they were typed.
fn columns(car: &Car, high: &[usize]) -> (Vec<usize>, [Vec<usize>; 2]) {
    let own = |kind: PartKind| match kind {
        PartKind::Pump
        | PartKind::Block
        | PartKind::Head
        | PartKind::Thermostat
        | PartKind::ThrottleBody
        | PartKind::OilCooler
        | PartKind::Vaporiser => Some(LEFT),
        PartKind::Radiator | PartKind::HeaterCore | PartKind::ExpansionBottle => Some(RIGHT),
        _ => None,
    };
    let mut filled = [0, 0];
    for (part, high) in car.parts.iter().zip(high) {
        own(part.kind).into_iter().for_each(|column| filled[column] += high + 1);
    }
    let mut order = [Vec::new(), Vec::new()];
    let mut column = Vec::new();
    for (place, part) in car.parts.iter().enumerate() {
        let into = own(part.kind).unwrap_or_else(|| {
            let shorter = if filled[LEFT] < filled[RIGHT] { LEFT } else { RIGHT };
            filled[shorter] += high[place] + 1;
            shorter
        });
        column.push(into);
        order[into].push(place);
    }
    (column, order)
}

/// The upper edge of every box, in rows, with a row between two.
fn tops(order: &[Vec<usize>; 2], high: &[usize]) -> Vec<usize> {
    let mut top = vec![0; high.len()];
    for order in order {
        let mut next = 0;
        for part in order {
            top[*part] = next;
            next += high[*part] + 1;
        }
    }
    top
}

/// Puts the boxes of each column in an order in which lines are short, and gives their upper edges.
fn ordered(car: &Car, order: &mut [Vec<usize>; 2], high: &[usize], ends: &[Vec<(usize, usize)>]) -> Vec<usize> {
    let mut top = tops(order, high);
    for sweep in 0..SWEEPS {
        let middle = |part: usize| top[part] * 2 + high[part];
        let wanted: Vec<usize> = (0..car.parts.len()).map(|part| wanted(car, &ends[part], part, &middle)).collect();
        in_order(&mut order[sweep % 2], |part| wanted[*part]);
        top = tops(order, high);
    }
    // Then two that stand near each other change places wherever that shortens the whole.
    let length = |top: &[usize]| -> usize {
        let middle = |end: usize| top[end] * 2 + high[end];
        car.lines.iter().map(|line| middle(line.ends[0].part).abs_diff(middle(line.ends[1].part))).sum()
    };
    let mut best = length(&top);
    for _ in 0..SWEEPS {
        let before = best;
        for column in [LEFT, RIGHT] {
            for (one, far) in (0..order[column].len()).flat_map(|one| (1..=NEAR).map(move |far| (one, far))) {
                if one + far >= order[column].len() {
                    continue;
                }
                order[column].swap(one, one + far);
                let tried = tops(order, high);
                if length(&tried) < best {
                    (best, top) = (length(&tried), tried);
                } else {
                    order[column].swap(one, one + far);
                }
            }
        }
        if best == before {
            break;
        }
    }
    top
}

/// Where a part would best stand: at the mean of what it is joined to, in two hundred and fifty-sixths of half a row.
fn wanted(car: &Car, ends: &[(usize, usize)], part: usize, middle: &dyn Fn(usize) -> usize) -> usize {
    let others = ends.iter().map(|(line, end)| car.lines[*line].ends[1 - end].part).filter(|other| *other != part);
    let (sum, count) = others.fold((0, 0), |(sum, count), other| (sum + middle(other), count + 1));
    (sum * 256).checked_div(count).unwrap_or(middle(part) * 256)
}

/// Puts a short list in order; equal ones stay as they were.
fn in_order<T, K: PartialOrd>(list: &mut [T], key: impl Fn(&T) -> K) {
    for end in 1..list.len() {
        let mut place = end;
        while place > 0 && key(&list[place - 1]) > key(&list[place]) {
            list.swap(place - 1, place);
            place -= 1;
        }
    }
}

/// Where between the columns every line goes up or down: those between two boxes of one column near it, short ones
/// nearest; no two on top of each other.
fn uprights(car: &Car, column: &[usize], at: &[[f64; 2]]) -> Vec<f64> {
    let group = |line: usize| match car.lines[line].ends.map(|end| column[end.part]) {
        [LEFT, LEFT] => 0,
        [RIGHT, RIGHT] => 2,
        _ => 1,
    };
    let span = |line: usize| [at[line][0].min(at[line][1]), at[line][0].max(at[line][1])];
    let mut lanes: Vec<Vec<usize>> = Vec::new();
    for own in 0..3 {
        let mut lines: Vec<_> = (0..car.lines.len()).filter(|line| group(*line) == own).collect();
        in_order(&mut lines, |line| span(*line)[1] - span(*line)[0]);
        let mut new: Vec<Vec<usize>> = Vec::new();
        for line in lines {
            let free = |lane: &Vec<usize>| {
                lane.iter().all(|other| span(*other)[1] < span(line)[0] || span(line)[1] < span(*other)[0])
            };
            match new.iter().position(free) {
                Some(lane) => new[lane].push(line),
                None => new.push(vec![line]),
            }
        }
        if own == 2 {
            new.reverse();
        }
        lanes.extend(new);
    }
    let (from, to) = (MARGIN + BOX, WIDTH - MARGIN - BOX);
    let mut x = vec![0.0; car.lines.len()];
    for (lane, lines) in lanes.iter().enumerate() {
        for line in lines {
            x[*line] = from + (to - from) * (lane + 1) as f64 / (lanes.len() + 1) as f64;
        }
    }
    x
}
