//! The picture of random circuits: boxes apart, every line from edge to edge, through no box and on no other line.

use crate::circuit::Loop;
use crate::circuit_any::{change, engine, pick, wild};
use crate::layouts::Draw;
use job::input::PartKindInput;
use job::{BoxPlace, Layout};

fn picture(car: &Loop) -> Layout {
    job::layout(car.accepted().job.car())
}

/// Whether a stretch runs through the inside of a box.
fn through(place: &BoxPlace, [from, to]: [[f64; 2]; 2]) -> bool {
    let inside = |least: f64, most: f64, low: f64, high: f64| most > low && least < high;
    inside(from[0].min(to[0]), from[0].max(to[0]), place.x, place.x + place.width)
        && inside(from[1].min(to[1]), from[1].max(to[1]), place.y, place.y + place.height)
}

fn on_edge(place: &BoxPlace, [x, y]: [f64; 2]) -> bool {
    let side = (x - place.x).abs() < 1e-9 || (x - place.x - place.width).abs() < 1e-9;
    side && y > place.y && y < place.y + place.height
}

/// Whether two upright or level stretches share more than a point.
fn on_each_other([a, b]: [[f64; 2]; 2], [c, d]: [[f64; 2]; 2]) -> bool {
    (0..2).any(|along| {
        let across = 1 - along;
        let level = [b, c, d].iter().all(|point| (point[across] - a[across]).abs() < 1e-9);
        level
            && a[along].max(b[along]).min(c[along].max(d[along])) - a[along].min(b[along]).max(c[along].min(d[along]))
                > 1e-9
    })
}

fn judge(car: &Loop, draws: &Layout) {
    let about = || share::write(&car.0);
    assert_eq!((draws.boxes.len(), draws.lines.len()), (car.0.parts.len(), car.0.lines.len()), "one each");
    for (b, place) in draws.boxes.iter().enumerate() {
        let fits = place.x >= 0.0 && place.y >= 0.0 && place.x + place.width <= draws.width;
        assert!(fits && place.y + place.height <= draws.height, "{place:?} is off the page\n{}", about());
        assert!(place.rows.iter().all(|row| row.chars().count() as f64 * 6.0 <= place.width), "{place:?}");
        assert!(place.rows.len() as f64 * 14.0 <= place.height, "{place:?}");
        assert_eq!(place.rows.concat().replace(' ', ""), place.name.replace(' ', ""), "the whole name");
        for other in &draws.boxes[..b] {
            let apart = place.x >= other.x + other.width
                || other.x >= place.x + place.width
                || place.y >= other.y + other.height
                || other.y >= place.y + place.height;
            assert!(apart, "{place:?} and {other:?}\n{}", about());
        }
    }
    let mut stretches: Vec<(usize, [[f64; 2]; 2])> = Vec::new();
    for (l, line) in draws.lines.iter().enumerate() {
        let typed = &car.0.lines[l];
        let box_of = |part: &str| draws.boxes.iter().find(|place| place.name == part).expect("a box");
        let (first, last) = (line.points[0], line.points[line.points.len() - 1]);
        assert!(on_edge(box_of(&typed.from.part), first), "{line:?}\n{}", about());
        assert!(on_edge(box_of(&typed.to.part), last), "{line:?}\n{}", about());
        for stretch in line.points.windows(2).map(|pair| [pair[0], pair[1]]) {
            assert!(
                !draws.boxes.iter().any(|place| through(place, stretch)),
                "{line:?} runs through a box\n{}",
                about()
            );
            for (other, earlier) in &stretches {
                assert!(*other == l || !on_each_other(stretch, *earlier), "{line:?} lies on another\n{}", about());
            }
            stretches.push((l, stretch));
        }
    }
}

#[test]
fn no_two_boxes_of_random_circuits_overlap_and_no_line_runs_through_one() {
    let mut draw = Draw(7);
    for round in 0..400 {
        let mut car = if round % 2 == 0 { engine(&mut draw) } else { wild(&mut draw) };
        for _ in 0..pick(&mut draw, 8) {
            change(&mut car, &mut draw);
        }
        judge(&car, &picture(&car));
    }
}

#[test]
fn forty_parts_with_long_names_have_a_picture() {
    let mut draw = Draw(8);
    let mut car = engine(&mut draw);
    while car.0.parts.len() < 40 {
        let name = format!("a long name of the steel line under floor{}", "number".repeat(pick(&mut draw, 5)));
        let new = car.part(PartKindInput::SteelLine, &format!("{name} {}", car.0.parts.len()));
        for _ in 0..2 {
            let to = pick(&mut draw, new);
            let name = format!("line {}", car.0.lines.len());
            car.line(&name, (new, None), (to, Some(job::input::RoleInput::Inlet)));
        }
    }
    let draws = picture(&car);
    judge(&car, &draws);
    assert!(draws.width <= 340.0 && draws.height < 3000.0, "{} by {}", draws.width, draws.height);
    assert_eq!(draws, picture(&car), "the same each time");
}
