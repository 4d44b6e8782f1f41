//! Rock: how the hose lies, and what it comes near, while what is on the engine moves against what is on the body.
//!
//! The engine may stand anywhere within a box of shifts about where it rests, and be turned about its crank line. The
//! corners of that box, and the turn alone in steps, are the [`Pose`]s in which the hose is laid again; nothing is
//! extrapolated. A study of 297 layouts with 15 mm and 3° found that the corners miss no worse bend inside the box,
//! and a nearer distance (by 3.5 mm at most) in three.
//!
//! Judged in every pose are reach, bend, distance, heat and load. Sag, air and fitting are matters of a standing engine.

use crate::kink::KinkLimit;
use crate::limits::our_choice;
use crate::{Bound, Check, Finding, Kind, Laid, Reading, Sense, Unit, Verdict, heat, kink, load, standoff};
use quantity::{Angle, Basis, Source};
use shape::Vec3;
use std::borrow::Cow;

/// Steps of the turn alone, to each side.
const TURN_STEPS: u32 = 4;
/// Readings of a pose beside the distances: reach, bend, force and moment on both spigots.
const BESIDE: usize = 6;

const REACH: Source = Source::new("the straight distance between the mouths, moved as you said", Basis::Measured);
const NOTHING_MOVES: Source = our_choice("engine and body were told apart, and nothing here moves against anything");

/// How far the engine moves, each way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rock {
    /// Shift along each axis, mm, each way.
    pub shift: Vec3,
    /// Turn about the crank line, if it turns.
    pub turn: Option<Turn>,
}

/// A turn about a line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Turn {
    /// How far, each way.
    pub most: Angle,
    /// A place on the line, mm in the axes of the car.
    pub through: Vec3,
    /// Its direction; a unit vector.
    pub along: Vec3,
}

/// The engine out of its place: turned about the crank line, then shifted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pose {
    /// Shift, mm.
    pub shift: Vec3,
    /// Turn, right-handed about the crank line.
    pub turn: Angle,
    /// The axes of the engine, turned.
    axes: [Vec3; 3],
    through: Vec3,
    along: Vec3,
}

impl Pose {
    /// Turned by `turn`, then shifted.
    fn new(shift: Vec3, turn: Angle, line: Option<&Turn>) -> Self {
        let (through, along) = line.map_or((Vec3::ZERO, Vec3::ZERO), |line| (line.through, line.along));
        let (sin, cos) = (libm::sin(turn.as_radians()), libm::cos(turn.as_radians()));
        let axes = [Vec3::new(1.0, 0.0, 0.0), Vec3::new(0.0, 1.0, 0.0), Vec3::new(0.0, 0.0, 1.0)];
        let axes = axes.map(|axis| axis.turned_about(along, sin, cos));
        Self { shift, turn, axes, through, along }
    }

    /// The pose so much of the way there.
    #[must_use]
    pub fn part(&self, part: f64) -> Self {
        let line = Turn { most: self.turn, through: self.through, along: self.along };
        Self::new(self.shift * part, self.turn * part, Some(&line))
    }

    /// Where a place on the engine goes.
    #[must_use]
    pub fn moved(&self, place: Vec3) -> Vec3 {
        self.through + self.turned(place - self.through) + self.shift
    }

    /// Where a direction on the engine goes.
    #[must_use]
    pub fn turned(&self, direction: Vec3) -> Vec3 {
        let [x, y, z] = self.axes;
        x * direction.x + y * direction.y + z * direction.z
    }

    /// Which place on the engine stands at `place` now.
    #[must_use]
    pub fn back(&self, place: Vec3) -> Vec3 {
        let from = place - self.shift - self.through;
        let [x, y, z] = self.axes;
        self.through + Vec3::new(x.dot(from), y.dot(from), z.dot(from))
    }
}

impl Rock {
    /// True if the engine does not move at all.
    #[must_use]
    pub fn is_none(&self) -> bool {
        self.poses().is_empty()
    }

    /// Every pose in which the hose is laid: the corners of the envelope, then the turn alone. None if nothing moves.
    #[must_use]
    pub fn poses(&self) -> Vec<Pose> {
        let both = |most: f64| if most > 0.0 { vec![-most, most] } else { vec![0.0] };
        let line = self.turn.as_ref().filter(|turn| turn.most > Angle::ZERO);
        let most = line.map_or(0.0, |turn| turn.most.as_degrees());
        let mut poses = Vec::new();
        for x in both(self.shift.x) {
            for y in both(self.shift.y) {
                for z in both(self.shift.z) {
                    for turn in both(most) {
                        poses.push(Pose::new(Vec3::new(x, y, z), Angle::degrees(turn), line));
                    }
                }
            }
        }
        let still = |pose: &Pose| pose.shift == Vec3::ZERO && pose.turn == Angle::ZERO;
        poses.retain(|pose| !still(pose));
        if line.is_some() {
            let steps = (1..=TURN_STEPS).flat_map(|k| [f64::from(k), -f64::from(k)]);
            let turns = steps.map(|k| Angle::degrees(most * k / f64::from(TURN_STEPS)));
            let path = turns.map(|turn| Pose::new(Vec3::ZERO, turn, line));
            let fresh: Vec<Pose> = path.filter(|pose| !poses.contains(pose)).collect();
            poses.extend(fresh);
        }
        poses
    }
}

/// How many readings [`rocked`] takes.
#[must_use]
pub fn rocked_readings(laid: &Laid<'_>) -> usize {
    BESIDE + laid.neighbours.len() + heat::readings(laid)
}

/// The readings of a hose laid in one pose of the engine; `laid` holds the spigots where the pose puts them. `told` if their
/// numbers are told, and not only which side of a limit they are on.
pub fn rocked(laid: &Laid<'_>, told: bool, out: &mut Vec<Reading>) {
    out.clear();
    out.push(reach(laid.lie.length(), (laid.to.mouth - laid.from.mouth).norm()));
    kink::read(laid, out);
    let near = standoff::near_all(laid);
    standoff::read(laid, &near, out);
    heat::read(laid, &near, told, out);
    load::read(laid, out);
}

/// Whether the hose reaches at all: its length against the distance between the mouths.
#[must_use]
pub fn reach(length: f64, apart: f64) -> Reading {
    let bound = Bound { warn: None, fail: Some(apart), sense: Sense::AtLeast };
    Reading { check: Check::Reach, which: 0, actual: length, at: 0.0, bound }
}

/// The finding on one reading in its worst pose; `None` for a load that does not warn.
#[must_use]
pub fn rock_finding(laid: &Laid<'_>, reading: &Reading, pose: &Pose) -> Option<Finding> {
    let verdict = reading.verdict();
    let touches = reading.actual < 0.0;
    let (about, unit, why, source) = match reading.check {
        Check::Reach => match verdict {
            Verdict::Fail => ("", Unit::Millimetre, "hose too short when the engine rocks", REACH),
            _ => return None,
        },
        Check::Standoff => {
            let thing = &laid.neighbours[reading.which];
            if thing.may_touch {
                return None;
            }
            let why = match (verdict, thing.kind) {
                (Verdict::Fail, _) if touches => "it would touch when the engine rocks",
                (Verdict::Fail, Kind::Hot(None)) if thing.standoff.is_none() => {
                    "too near something hot when the engine rocks, as long as it is not known how hot"
                }
                (Verdict::Fail, Kind::Hot(Some(_))) if thing.standoff.is_none() => {
                    "it would touch the shield when the engine rocks"
                }
                (Verdict::Fail, Kind::Moving) => "too near something that moves, when the engine rocks",
                (Verdict::Fail, _) => "nearer than you asked for, when the engine rocks",
                (Verdict::Warn, _) => "comes near when the engine rocks",
                _ => "keeps clear while the engine rocks",
            };
            (thing.name.as_str(), Unit::Millimetre, why, standoff::source(thing, verdict))
        }
        Check::Heat => {
            let why = match verdict {
                Verdict::Fail => "its skin gets hotter than the rubber bears when the engine rocks",
                Verdict::Warn => "its skin comes close to what the rubber bears when the engine rocks",
                _ => "its skin stays cool enough while the engine rocks",
            };
            reading.bound.fail?;
            (laid.neighbours[reading.which].name.as_str(), Unit::Celsius, why, heat::MODEL)
        }
        Check::Load => {
            if verdict != Verdict::Warn {
                return None;
            }
            let name = laid.spigots()[reading.which].name.as_str();
            (name, load::unit(reading), "strains the spigot when the engine rocks", load::CHOICE)
        }
        _ => {
            if !KinkLimit::of(laid.hose).is_known() {
                return None;
            }
            let why = match verdict {
                Verdict::Fail => "it kinks when the engine rocks",
                Verdict::Warn => "it flattens when the engine rocks",
                _ => "keeps its bend while the engine rocks",
            };
            ("", Unit::Millimetre, why, kink::source(laid.hose))
        }
    };
    let mut finding = reading.worded(about, unit, why, source);
    finding.check = Check::Rock;
    finding.extra = place_of(pose);
    Some(finding)
}

/// The finding where no lie was found in a pose that is within reach.
#[must_use]
pub fn lost_when_rocked(pose: &Pose) -> Finding {
    Finding {
        verdict: Verdict::Fail,
        extra: place_of(pose),
        source: our_choice("a shape that is not shown to be stable is none"),
        ..Finding::not_checked(Check::Rock, "no shape was found in which it could rest when the engine rocks")
    }
}

/// The finding where the way the hose lies ceases to exist in a pose. `alone` if what it jumps into is not judged by itself.
#[must_use]
pub fn jumps_when_rocked(pose: &Pose, alone: bool) -> Finding {
    Finding {
        verdict: if alone { Verdict::Fail } else { Verdict::Warn },
        extra: place_of(pose),
        source: our_choice("a hose that jumps rubs, and lies in a way that was not wanted"),
        ..Finding::not_checked(Check::Rock, "jumps into another way of lying when the engine rocks")
    }
}

fn place_of(pose: &Pose) -> Vec<(&'static str, f64)> {
    let Pose { shift, turn, .. } = pose;
    vec![("rock_x_mm", shift.x), ("rock_y_mm", shift.y), ("rock_z_mm", shift.z), ("rock_turn_deg", turn.as_degrees())]
}

/// What is said where there is nothing to lay again: nothing moves, or nobody said how far.
#[must_use]
pub fn no_rock(rock: Option<&Rock>, moves_together: bool) -> Finding {
    match rock {
        _ if moves_together => Finding {
            verdict: Verdict::Pass,
            why: Cow::Borrowed("nothing here moves against anything else"),
            source: NOTHING_MOVES,
            ..Finding::not_checked(Check::Rock, "")
        },
        Some(_) => Finding {
            verdict: Verdict::Pass,
            why: Cow::Borrowed("the engine does not move, as you said"),
            source: Source::new("what you said of the engine", Basis::Measured),
            ..Finding::not_checked(Check::Rock, "")
        },
        None => Finding::not_checked(Check::Rock, "needs how far the engine rocks"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(a: Vec3, b: [f64; 3]) -> bool {
        (a - Vec3::from(b)).norm() < 1e-12
    }

    #[test]
    fn a_turn_and_a_shift_are_those_of_geometry() {
        // By hand: a quarter turn about a line along z through (1, 0, 0) takes (2, 0, 0) to (1, 1, 0).
        let turn =
            Turn { most: Angle::degrees(90.0), through: Vec3::new(1.0, 0.0, 7.0), along: Vec3::new(0.0, 0.0, 1.0) };
        let pose = Pose::new(Vec3::new(0.0, 0.0, 5.0), Angle::degrees(90.0), Some(&turn));
        assert!(near(pose.moved(Vec3::new(2.0, 0.0, 0.0)), [1.0, 1.0, 5.0]), "{pose:?}");
        assert!(near(pose.turned(Vec3::new(0.0, 1.0, 0.0)), [-1.0, 0.0, 0.0]), "{pose:?}");
        assert!(near(pose.back(pose.moved(Vec3::new(3.0, -4.0, 0.5))), [3.0, -4.0, 0.5]), "{pose:?}");
    }

    #[test]
    fn the_poses_are_the_corners_and_the_turn_alone() {
        let shift = Vec3::new(5.0, 5.0, 8.0);
        assert_eq!(Rock { shift, turn: None }.poses().len(), 8);
        assert_eq!(Rock { shift: Vec3::new(10.0, 0.0, 0.0), turn: None }.poses().len(), 2);
        assert!(Rock { shift: Vec3::ZERO, turn: None }.is_none());
        let turn = Some(Turn { most: Angle::degrees(2.0), through: Vec3::ZERO, along: Vec3::new(1.0, 0.0, 0.0) });
        // 16 corners, and eight steps of the turn without a shift.
        assert_eq!(Rock { shift, turn }.poses().len(), 24);
        // Without a shift the corners are the ends of the turn.
        assert_eq!(Rock { shift: Vec3::ZERO, turn }.poses().len(), 8);
    }
}
