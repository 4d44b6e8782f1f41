//! The set of lies of a layout that is mirrored, turned, asked from its other end or scaled is the set mirrored, turned,
//! asked from its other end or scaled: none more, none fewer, each in its place.

use crate::layouts::{Draw, Layout, Symmetry};
use shape::{Ends, Lie, Section, Solver, Vec3};

/// How far a lie may be from the image of its twin, in hose lengths. In 3,000 symmetric layouts one lie was further off, by 5e-5:
/// it lies where two lies part, and moves with the square root of any change.
const SAME: f64 = 1e-7;

#[derive(Clone, Copy, Debug)]
enum Change {
    Mirror,
    Turn,
    /// The other spigot is named first.
    Swap,
    /// All lengths, and with the stiffness kept the weight so that w L³/EI is as it was.
    Scale,
}

fn mirror(v: Vec3) -> Vec3 {
    // Across a plane square to (1, 2, 2)/3.
    let n = Vec3::new(1.0, 2.0, 2.0) * (1.0 / 3.0);
    v - n * (2.0 * n.dot(v))
}

/// A rotation that has no axis in common with any layout here.
fn turn(v: Vec3) -> Vec3 {
    let [x, y, z] = [[6.0, -2.0, -3.0], [3.0, 6.0, 2.0], [2.0, -3.0, 6.0]].map(|row| Vec3::from(row) * (1.0 / 7.0));
    Vec3::new(x.dot(v), y.dot(v), z.dot(v))
}

/// Not a power of two: that would only change the exponents.
const SCALE: f64 = 2.7;

impl Change {
    fn layout(self, layout: &Layout) -> Layout {
        let Layout { ends: Ends { a, tangent_a, b, tangent_b }, length, section } = *layout;
        let with = |f: &dyn Fn(Vec3) -> Vec3| Layout {
            ends: Ends { a: f(a), tangent_a: f(tangent_a), b: f(b), tangent_b: f(tangent_b) },
            length,
            section: Section { weight: f(section.weight), ..section },
        };
        match self {
            Self::Mirror => with(&mirror),
            Self::Turn => with(&turn),
            Self::Swap => {
                Layout { ends: Ends { a: b, tangent_a: -tangent_b, b: a, tangent_b: -tangent_a }, length, section }
            }
            Self::Scale => Layout {
                ends: Ends { a: a * SCALE, b: b * SCALE, tangent_a, tangent_b },
                length: length * SCALE,
                section: Section {
                    stiffness: section.stiffness,
                    weight: section.weight * (1.0 / (SCALE * SCALE * SCALE)),
                },
            },
        }
    }

    /// The image of the place at a part of the length, by the length of the image.
    fn at(self, lie: &Lie, part: f64) -> Vec3 {
        let l = lie.length();
        match self {
            Self::Mirror => mirror(lie.point_at(part * l)),
            Self::Turn => turn(lie.point_at(part * l)),
            Self::Swap => lie.point_at((1.0 - part) * l),
            Self::Scale => lie.point_at(part * l) * SCALE,
        }
    }
}

/// How far the image of `before` is from `after`, in hose lengths. Lies that slide freely about the line of the spigots are
/// compared by their places along it and their distances from it.
fn apart(change: Change, before: &Lie, after: &Lie, ends: &Ends) -> f64 {
    let axis = (ends.b - ends.a).direction().unwrap_or(ends.tangent_a);
    let free = before.is_neutral() && after.is_neutral();
    let far = |part: f64| {
        let (x, y) = (change.at(before, part) - ends.a, after.point_at(part * after.length()) - ends.a);
        let (away, along) = (x.across(axis).norm() - y.across(axis).norm(), (x - y).dot(axis));
        if free { (away * away + along * along).sqrt() } else { (x - y).norm() }
    };
    (0..=40).map(|i| far(f64::from(i) / 40.0)).fold(0.0, f64::max) / after.length()
}

fn check(name: &str, layouts: &[Layout]) {
    let mut solver = Solver::new();
    for change in [Change::Mirror, Change::Turn, Change::Swap, Change::Scale] {
        let (mut lies, mut several, mut worst, mut wrong) = (0, 0, 0.0_f64, Vec::new());
        for layout in layouts {
            let there = change.layout(layout);
            let before = solver.lies(&layout.ends, layout.length, &layout.section).unwrap_or_default();
            let after = solver.lies(&there.ends, there.length, &there.section).unwrap_or_default();
            if before.len() != after.len() {
                wrong.push(format!("{} lies against {}, {layout:?}", before.len(), after.len()));
            }
            several += usize::from(before.len() > 1);
            for lie in &before {
                lies += 1;
                let off = after.iter().map(|twin| apart(change, lie, twin, &there.ends)).fold(1.0, f64::min);
                worst = worst.max(off);
                if off > SAME {
                    wrong.push(format!("{off:.1e} apart, {layout:?}"));
                }
            }
        }
        println!("{name}, {change:?}: {lies} lies, {several} layouts with several, worst {worst:.1e}");
        let shown = wrong.iter().take(3).cloned().collect::<Vec<_>>().join("\n");
        assert!(wrong.is_empty(), "{name}, {change:?}: {} wrong, first\n{shown}", wrong.len());
    }
}

#[test]
fn random_layouts_have_the_images_of_their_lies() {
    for (name, heavy) in [("without weight", false), ("under weight", true)] {
        let mut draw = Draw(61);
        let layouts: Vec<_> = (0..500).map(|_| draw.layout(heavy)).collect();
        check(name, &layouts);
    }
}

#[test]
fn symmetric_layouts_have_the_images_of_their_lies() {
    for symmetry in Symmetry::ALL {
        let mut draw = Draw(62);
        let layouts: Vec<_> = (0..200).map(|i| symmetry.layout(&mut draw, i % 2 == 1)).collect();
        check(&format!("{symmetry:?}"), &layouts);
    }
}
