//! Thousands of hoses through clips: every answer is a sound lie or a named reason, at rest by statics, and a least energy.

use crate::layouts::{Draw, Layout};
use shape::{Ends, Guide, Lie, NoShape, Section, Solver, Vec3};

/// Statics, as for the free lies: of the largest term of each balance.
const ALLOWED: f64 = 2e-3;
/// Above this slack every layout has a lie that can be told.
const SLACK: f64 = 1.1;

/// A hose through clips.
#[derive(Clone, Debug)]
struct Threaded {
    layout: Layout,
    guides: Vec<Guide>,
    /// The straight way through all clips.
    straight: f64,
}

impl Threaded {
    /// Clips equally spread between the spigots, up to 0.4 of the distance off to any side; any directions.
    fn drawn(draw: &mut Draw, clips: u32, held: bool, heavy: bool) -> Self {
        let mut layout = draw.layout(heavy);
        let (a, b) = (layout.ends.a, layout.ends.b);
        let mut guides = Vec::new();
        for k in 1..=clips {
            let on_line = a + (b - a) * (f64::from(k) / f64::from(clips + 1));
            let at = on_line + draw.direction() * (layout.distance() * draw.between(0.0, 0.4));
            let direction = draw.direction();
            guides.push(Guide { at, direction: held.then_some(direction) });
        }
        let mut straight = 0.0;
        let mut from = a;
        for to in guides.iter().map(|guide| guide.at).chain([b]) {
            straight += (to - from).norm();
            from = to;
        }
        layout.length = straight * draw.between(1.02, 2.0);
        Self { layout, guides, straight }
    }

    fn rest(&self, solver: &mut Solver) -> Result<Lie, NoShape> {
        solver.rest_guided(&self.layout.ends, &self.guides, self.layout.length, &self.layout.section)
    }
}

/// n·t + EI κ²/2 + w·r at both ends of a piece, and the scale of its terms: the force with which it asks for more length.
fn asks(piece: &Lie, section: &Section, origin: Vec3) -> [(f64, f64); 2] {
    let last = piece.points().len() - 1;
    [(0, -piece.force_at_a(), piece.moment_at_a()), (last, piece.force_at_b(), piece.moment_at_b())].map(|(i, n, m)| {
        let terms = [
            n.dot(piece.tangents()[i]),
            m.dot(m) / (2.0 * section.stiffness),
            section.weight.dot(piece.points()[i] - origin),
        ];
        (terms.iter().sum(), terms.iter().fold(n.norm(), |most, term| most.max(term.abs())))
    })
}

/// ∫ (r - origin) ds along the whole, by Simpson's rule on every piece.
fn first_moment(lie: &Lie, origin: Vec3) -> Vec3 {
    let panels = 200;
    let mut sum = Vec3::ZERO;
    for piece in lie.pieces() {
        let step = piece.length() / f64::from(panels);
        for i in 0..=panels {
            let factor = if i == 0 || i == panels {
                1.0
            } else if i % 2 == 1 {
                4.0
            } else {
                2.0
            };
            sum += (piece.point_at(step * f64::from(i)) - origin) * (factor * step / 3.0);
        }
    }
    sum
}

/// What is wrong with a lie through clips, if anything is.
fn faults(asked: &Threaded, lie: &Lie) -> Vec<String> {
    let Threaded { layout: Layout { ends, length, section }, guides, .. } = asked;
    let mut faults = Vec::new();
    let mut claim = |what: &str, off: f64, allowed: f64| {
        if off.is_nan() || off > allowed {
            faults.push(format!("{what}: {off:.2e} over {allowed:.0e}"));
        }
    };
    let unit = |v: Vec3| v * (1.0 / v.norm());
    let last = lie.points().len() - 1;
    claim("begins at A", (lie.points()[0] - ends.a).norm(), 1e-6);
    claim("ends at B", (lie.points()[last] - ends.b).norm(), 1e-6);
    claim("along A", (lie.tangents()[0] - unit(ends.tangent_a)).norm(), 1e-9);
    claim("along B", (lie.tangents()[last] - unit(ends.tangent_b)).norm(), 1e-9);
    claim("as many clips", (lie.held().len() as f64 - guides.len() as f64).abs(), 0.0);
    claim("as long", (lie.pieces().iter().map(Lie::length).sum::<f64>() / length - 1.0).abs(), 1e-12);
    let forces = lie.held().iter().map(|held| held.force).chain([lie.force_at_a(), lie.force_at_b()]);
    let largest = forces.clone().map(Vec3::norm).fold(0.0, f64::max);
    // Forces, and moments about A with the weight in the centre of gravity.
    let left = forces.fold(section.weight * *length, |sum, force| sum + force);
    claim("forces cancel", left.norm() / largest, 1e-9);
    let arms = lie.held().iter().map(|held| (lie.point_at(held.at) - ends.a).cross(held.force) + held.moment);
    let arms: Vec<Vec3> = arms
        .chain([
            lie.moment_at_a(),
            lie.moment_at_b(),
            (ends.b - ends.a).cross(lie.force_at_b()),
            first_moment(lie, ends.a).cross(section.weight),
        ])
        .collect();
    let scale = arms.iter().map(|arm| arm.norm()).fold(0.0, f64::max);
    claim("moments cancel", arms.iter().fold(Vec3::ZERO, |sum, arm| sum + *arm).norm() / scale, ALLOWED);
    for (held, guide) in lie.held().iter().zip(guides) {
        claim("through the clip", (lie.point_at(held.at) - guide.at).norm(), 1e-6);
        if let Some(direction) = guide.direction {
            claim("along the clip", (held.tangent - unit(direction)).norm(), 1e-9);
        } else {
            claim("no moment in a free clip", held.moment.norm(), 0.0);
            claim("no friction", held.force.dot(held.tangent).abs() / largest, ALLOWED);
        }
    }
    let peak = lie.peak().curvature;
    for (pair, guide) in lie.pieces().windows(2).zip(guides) {
        let (m, n) = (pair[0].moment_at_b(), pair[1].moment_at_a());
        if guide.direction.is_none() {
            claim("the moment goes on", (m + n).norm() / (section.stiffness * peak), ALLOWED);
        }
    }
    let asking: Vec<_> = lie.pieces().iter().flat_map(|piece| asks(piece, section, ends.a)).collect();
    let scale = asking.iter().map(|ask| ask.1).fold(0.0, f64::max);
    for ask in &asking {
        claim("sliding gains nothing", (ask.0 - asking[0].0).abs() / scale, 2.0 * ALLOWED);
    }
    faults
}

#[test]
fn four_thousand_hoses_through_clips_are_at_rest_or_too_tight() {
    let mut solver = Solver::new();
    for (clips, held, start) in [(1, false, 31), (1, true, 32), (2, false, 33), (2, true, 34)] {
        let (mut draw, mut told, mut too_tight, mut wrong) = (Draw(start), 0, 0, Vec::new());
        for i in 0..1000 {
            let asked = Threaded::drawn(&mut draw, clips, held, i % 2 == 1);
            match asked.rest(&mut solver) {
                Ok(lie) => {
                    told += 1;
                    let faults = faults(&asked, &lie);
                    if !faults.is_empty() {
                        wrong.push(format!("{faults:?} in {asked:?}"));
                    }
                }
                Err(NoShape::TooTight) if asked.layout.length < SLACK * asked.straight => too_tight += 1,
                Err(why) => wrong.push(format!("{why}, slack {}: {asked:?}", asked.layout.length / asked.straight)),
            }
        }
        println!("{clips} clips, held {held}: {told} lies, {too_tight} too tight, {} wrong", wrong.len());
        let shown = wrong.iter().take(4).cloned().collect::<Vec<_>>().join("\n");
        assert!(wrong.is_empty(), "{clips} clips, held {held}: {} wrong\n{shown}", wrong.len());
        assert!(told >= 990, "{clips} clips, held {held}: only {told} lies");
    }
}

/// Energy of the two pieces, each a free lie of the ordinary solver, with another length and another direction in the clip.
fn split_energy(asked: &Threaded, lie: &Lie, first: f64, along: Vec3) -> Option<f64> {
    let Threaded { layout: Layout { ends, length, section }, guides, .. } = asked;
    let mut solver = Solver::new();
    let at = guides[0].at;
    let before = Ends { b: at, tangent_b: along, ..*ends };
    let after = Ends { a: at, tangent_a: along, ..*ends };
    let one = solver.rest_near(&lie.pieces()[0], &before, first, section).ok()?;
    let other = solver.rest_near(&lie.pieces()[1], &after, length - first, section).ok()?;
    let lifted = section.weight.dot(at - ends.a) * (length - first);
    Some(one.total_energy() + other.total_energy() - lifted)
}

#[test]
fn no_other_length_or_direction_in_the_clip_takes_less_energy() {
    let (mut draw, mut tried, mut solver) = (Draw(41), 0, Solver::new());
    for i in 0..150 {
        let asked = Threaded::drawn(&mut draw, 1, i % 3 == 0, i % 2 == 1);
        let Ok(lie) = asked.rest(&mut solver) else { continue };
        let held = lie.held()[0];
        if lie.peak().curvature * asked.layout.length > 25.0 {
            continue;
        }
        let least = lie.total_energy();
        let round_off = 1e-6 * lie.bending_energy();
        let same = split_energy(&asked, &lie, held.at, held.tangent);
        assert!(same.is_some_and(|same| (same - least).abs() < round_off), "{same:?} against {least}: {asked:?}");
        for _ in 0..6 {
            let slack = lie
                .pieces()
                .iter()
                .zip([asked.layout.ends.a, asked.guides[0].at])
                .zip([asked.guides[0].at, asked.layout.ends.b]);
            let slack = slack.map(|((piece, a), b)| piece.length() - (b - a).norm()).fold(f64::INFINITY, f64::min);
            let first = held.at + 0.3 * slack * draw.between(-1.0, 1.0);
            let turn = if asked.guides[0].direction.is_some() { 0.0 } else { 0.1 };
            let along = held.tangent + draw.direction() * turn;
            let Some(other) = split_energy(&asked, &lie, first, along * (1.0 / along.norm())) else { continue };
            tried += 1;
            assert!(other > least - round_off, "{other} below {least} at {first}: {asked:?}");
        }
    }
    println!("{tried} other lengths and directions");
    assert!(tried > 600, "only {tried} tried");
}

#[test]
fn a_known_lie_leads_to_that_of_another_length_and_of_moved_clips() {
    let (mut draw, mut found, mut same, mut solver) = (Draw(42), 0, 0, Solver::new());
    for i in 0..300 {
        let mut asked = Threaded::drawn(&mut draw, 1 + i % 2, i % 4 == 3, i % 8 > 3);
        asked.layout.length = asked.straight * draw.between(1.15, 1.6);
        let Ok(near) = asked.rest(&mut solver) else { continue };
        asked.layout.length *= 1.004;
        for guide in &mut asked.guides {
            guide.at += draw.direction() * (0.004 * asked.straight);
        }
        let Layout { ends, length, section } = asked.layout;
        let Ok(warm) = solver.rest_guided_near(&near, &ends, &asked.guides, length, &section) else { continue };
        found += 1;
        let faults = faults(&asked, &warm);
        assert!(faults.is_empty(), "{faults:?} in {asked:?}");
        let cold = asked.rest(&mut solver);
        same += u32::from(cold.is_ok_and(|cold| cold.same_as(&warm)));
    }
    println!("{found} of 300 followed, {same} the same as from scratch");
    // Where two lies lie side by side, from scratch may find the other one.
    assert!(found >= 297 && same >= 270, "{found} of 300 followed, {same} the same as from scratch");
}

#[test]
fn several_lies_are_sound_distinct_and_in_order_of_energy() {
    let (mut draw, mut several, mut solver) = (Draw(43), 0, Solver::new());
    for i in 0..120 {
        let asked = Threaded::drawn(&mut draw, 1 + i % 2, i % 4 > 1, i % 8 > 3);
        let Layout { ends, length, section } = asked.layout;
        let Ok(lies) = solver.lies_guided(&ends, &asked.guides, length, &section) else { continue };
        several += u32::from(lies.len() > 1);
        for (k, lie) in lies.iter().enumerate() {
            let faults = faults(&asked, lie);
            assert!(faults.is_empty(), "{faults:?} in {asked:?}");
            for other in &lies[..k] {
                assert!(other.total_energy() <= lie.total_energy(), "out of order: {asked:?}");
                let apart = |s: f64| (lie.point_at(s) - other.point_at(s)).norm();
                let most = (0..=40).map(|k| apart(length * f64::from(k) / 40.0)).fold(0.0, f64::max);
                assert!(most > 0.002 * length, "told twice: {asked:?}");
            }
        }
    }
    println!("{several} of 120 have several lies");
    assert!(several > 5, "only {several} of 120 have several lies");
}

#[test]
fn two_clips_close_together_do_not_tie_a_loop() {
    // On the free lie the clips change nothing; a loop between them would be another, far tighter lie.
    let layout = Draw(45).layout(true);
    let (section, length) = (layout.section, 1.3 * layout.distance());
    let free = shape::rest(&layout.ends, length, &section).expect("a lie");
    for apart in [0.002, 0.005, 0.02, 0.08] {
        for first in [0.02, 0.3, 0.6, 0.9] {
            let clip = |s: f64| Guide { at: free.point_at(s * length), direction: None };
            let lie = Solver::new().rest_guided(&layout.ends, &[clip(first), clip(first + apart)], length, &section);
            let lie = lie.unwrap_or_else(|why| panic!("{why}: clips {apart} apart at {first}"));
            assert!(lie.same_as(&free), "clips {apart} apart at {first}");
        }
    }
}

#[test]
fn what_cannot_be_answered_has_its_reason() {
    let asked = Threaded::drawn(&mut Draw(44), 2, false, true);
    let with = |change: &dyn Fn(&mut Threaded)| {
        let mut asked = asked.clone();
        change(&mut asked);
        asked.rest(&mut Solver::new()).map(|_| ())
    };
    assert_eq!(with(&|_| ()), Ok(()), "the layout itself");
    assert_eq!(with(&|t| t.layout.length = 0.999 * t.straight), Err(NoShape::TooShort), "shorter than the way");
    assert_eq!(with(&|t| t.guides[1].at.y = f64::NAN), Err(NoShape::BadInput), "no place");
    assert_eq!(with(&|t| t.guides[1].at = t.guides[0].at), Err(NoShape::BadInput), "two at one place");
    assert_eq!(with(&|t| t.guides[0].at = t.layout.ends.a), Err(NoShape::BadInput), "in the mouth");
    assert_eq!(with(&|t| t.guides[0].direction = Some(Vec3::ZERO)), Err(NoShape::BadInput), "no direction");
}
