//! The way a hose is wanted, read off a bent wire or an old moulded hose: its length, its bends, and the clips that keep a
//! straight hose to it; and the other way about, the bent hose to look for where no straight one will do.

use crate::Run;
use checks::{KinkLimit, Verdict};
use quantity::Angle;
use shape::{Arc, Bend, Clips, Leg, NoClips, Path, Section, Solver, Vec3};
use stock::Hose;

/// A hose that strays from the way wanted by more than this is held to it by clips, mm; our choice.
const STRAYS: f64 = 15.0;
/// Straight legs of a bent hose that is looked for, and the radius to the inside of its bends, in bores; our choice, after
/// moulded hoses as they are sold.
const LEG: f64 = 1.5;
const INSIDE: f64 = 1.0;
/// How far the corners are moved out from each mouth, in bores, in search of the shortest bent hose that clears all.
const REACHES: [f64; 9] = [2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 13.0, 17.0];
/// Bends as moulded hoses have them, degrees; common practice.
const MADE: [f64; 5] = [0.0, 45.0, 60.0, 90.0, 120.0];
/// A bend under this is none, degrees; our choice.
const LEAST_BEND: f64 = 5.0;

/// What a way wanted comes to with one hose.
#[derive(Clone, Debug)]
pub(crate) struct Wanted {
    pub(crate) path: Path,
    /// Verdict on each bend.
    pub(crate) bends: Vec<Verdict>,
    /// From where the way ends to mouth B, mm, and by how much its direction differs.
    pub(crate) off: f64,
    pub(crate) astray: Angle,
    /// The clips, if they keep a straight hose to it; else how near the nearest found comes.
    pub(crate) clips: Result<Clips, Option<f64>>,
}

/// The way a run is wanted, with this hose; nothing if none was said.
pub(crate) fn wanted(run: &Run, hose: &Hose) -> Option<Wanted> {
    let path = Path::from_legs(run.from.mouth, run.from.points, &run.legs, hose.outside.as_mm()).ok()?;
    if run.legs.is_empty() {
        return None;
    }
    let limit = KinkLimit::of(hose);
    let bends =
        path.bends().iter().map(|arc| limit.reading(checks::Check::Kink, 0, 1.0 / arc.radius, arc.from).verdict());
    let bends = bends.collect();
    let (end, along) = path.end();
    let into = -run.to.points;
    let weight = Vec3::new(0.0, 0.0, -hose.filled_weight_per_mm());
    let section = Section { stiffness: hose.bend_stiffness(), weight };
    let clips = match Solver::new().clips_for(&path, None, path.length(), &section, STRAYS) {
        Ok(clips) => Ok(clips),
        Err(NoClips::NotNear(nearest)) => Err(Some(nearest.off)),
        Err(NoClips::NoLie(_)) => Err(None),
    };
    Some(Wanted {
        bends,
        off: (end - run.to.mouth).norm(),
        astray: Angle::radians(libm::atan2(along.cross(into).norm(), along.dot(into))),
        clips,
        path,
    })
}

/// The bent hose to look for on a rack: from mouth to mouth by two corners, straight along both spigots; the shortest that
/// clears everything near.
pub(super) fn bent_hose(run: &Run, hose: &Hose) -> Option<Path> {
    let bore = hose.bore.as_mm();
    let (a, b) = (run.from.mouth, run.to.mouth);
    let mut best: Option<Path> = None;
    for from_a in REACHES {
        for from_b in REACHES {
            let (p, q) = (a + run.from.points * (from_a * bore), b + run.to.points * (from_b * bore));
            let Some(path) = through(a, b, [p, q], hose) else { continue };
            let shorter = best.as_ref().is_none_or(|best| oddness(&path) < oddness(best));
            if shorter && clears(run, hose, &path) {
                best = Some(path);
            }
        }
    }
    best
}

/// How hard it is to find such a hose: its length, and how far its bends are from those that are made, five millimetres a
/// degree. Our choice.
fn oddness(path: &Path) -> f64 {
    let off = |arc: &Arc| {
        let angle = Angle::radians(arc.angle).as_degrees();
        MADE.iter().map(|made| (angle - made).abs()).fold(f64::INFINITY, f64::min)
    };
    path.length() + 5.0 * path.bends().iter().map(off).sum::<f64>()
}

/// A path by corners, with a leg at each end that a clamp needs.
fn through(a: Vec3, b: Vec3, [p, q]: [Vec3; 2], hose: &Hose) -> Option<Path> {
    let bore = hose.bore.as_mm();
    let path = Path::from_corners(&[a, p, q, b], &[INSIDE * bore, INSIDE * bore], hose.outside.as_mm()).ok()?;
    let long = |leg: Option<&Leg>| leg.is_some_and(|leg| leg.straight >= LEG * bore);
    let legs = path.legs();
    let bends = legs.iter().filter_map(|leg| leg.bend.as_ref());
    let sharp = bends.fold(0.0_f64, |most, bend| most.max(bend.angle));
    (long(legs.first()) && long(legs.last()) && sharp <= Angle::degrees(135.0).as_radians()).then_some(path)
}

fn clears(run: &Run, hose: &Hose, path: &Path) -> bool {
    let radius = hose.outside.as_mm() / 2.0;
    let places = path.places(60);
    run.neighbours.iter().all(|thing| {
        let keep = checks::standoff_bound(thing).fail.unwrap_or(0.0) + radius;
        places.iter().all(|place| thing.distance(*place) >= keep)
    })
}

/// The legs of a path as they are told, every bend by how it is twisted against the one before; one that is hardly a bend is
/// left out.
pub(crate) fn told_legs(path: &Path) -> Vec<Leg> {
    let hardly = |bend: &Bend| bend.angle < Angle::degrees(LEAST_BEND).as_radians();
    let mut told: Vec<Leg> = Vec::new();
    let mut carried = 0.0;
    for leg in path.legs_by_twist() {
        let straight = leg.straight + carried;
        match leg.bend.filter(hardly) {
            Some(_) => carried = straight,
            None => {
                carried = 0.0;
                told.push(Leg { straight, bend: leg.bend });
            }
        }
    }
    told
}
