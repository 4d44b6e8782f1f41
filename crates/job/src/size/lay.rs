//! What is laid: the two ends, the clips on the way, what the hose may rest against and the section, asked for its lies at any
//! length.

use crate::Run;
use checks::{Form, MountedOn, Neighbour, Pose};
use shape::{Contact, Ends, Guide, Lie, NoShape, Section, Solid, Solver, Vec3};

/// A run with one hose, all but its length.
#[derive(Clone, Debug)]
pub(crate) struct Lay {
    pub(crate) ends: Ends,
    pub(crate) guides: Vec<Guide>,
    /// What the hose may rest against, and half its outside diameter, mm.
    pub(crate) solids: Vec<Solid>,
    pub(crate) radius: f64,
    pub(crate) section: Section,
}

/// A thing that the hose may rest against, where a pose puts it; `None` for one that it must not touch, or whose form the
/// solver does not know.
fn solid(thing: &Neighbour, pose: Option<&Pose>) -> Option<Solid> {
    let pose = pose.filter(|_| thing.on == MountedOn::Engine);
    let moved = |place: Vec3| pose.map_or(place, |pose| pose.moved(place));
    match thing.form {
        _ if !thing.may_touch => None,
        Form::Rod { from, to, diameter } => {
            Some(Solid::Capsule { a: moved(from), b: moved(to), radius: diameter.as_mm() / 2.0 })
        }
        Form::Ball { at, diameter } => Some(Solid::Ball { centre: moved(at), radius: diameter.as_mm() / 2.0 }),
        // Its edges stay along the axes: a turn of some degrees moves its middle alone.
        Form::Box { least, greatest } => {
            let middle = (least + greatest) * 0.5;
            let by = moved(middle) - middle;
            Some(Solid::Block { low: least + by, high: greatest + by })
        }
        Form::Disc { .. } => None,
    }
}

impl Lay {
    pub(crate) fn new(run: &Run, section: Section, radius: f64) -> Self {
        Self {
            ends: run.ends(),
            guides: run.clips.iter().map(|clip| clip.guide).collect(),
            solids: run.neighbours.iter().filter_map(|thing| solid(thing, None)).collect(),
            radius,
            section,
        }
    }

    /// The same hose between ends that a pose of the engine has moved, with all else where the pose puts it.
    pub(crate) fn posed(&self, run: &Run, ends: Ends, pose: &Pose) -> Self {
        let solids = run.neighbours.iter().filter_map(|thing| solid(thing, Some(pose))).collect();
        Self { ends, guides: Self::guides_in(run, pose), solids, ..*self }
    }

    /// The clips of a run where a pose of the engine puts them.
    fn guides_in(run: &Run, pose: &Pose) -> Vec<Guide> {
        let posed = |clip: &crate::run::Clip| match clip.on {
            MountedOn::Body => clip.guide,
            MountedOn::Engine => Guide {
                at: pose.moved(clip.guide.at),
                direction: clip.guide.direction.map(|direction| pose.turned(direction)),
            },
        };
        run.clips.iter().map(posed).collect()
    }

    /// The shortest way from mouth to mouth, over the clips.
    pub(crate) fn chord(&self) -> f64 {
        let stops = self.guides.iter().map(|guide| guide.at).chain([self.ends.b]);
        stops.fold((0.0, self.ends.a), |(way, from), to| (way + (to - from).norm(), to)).0
    }

    /// The lie that a known one changes into at this length.
    pub(crate) fn near(&self, solver: &mut Solver, known: &Lie, length: f64) -> Result<Lie, NoShape> {
        if self.solids.is_empty() {
            return solver.rest_guided_near(known, &self.ends, &self.guides, length, &self.section);
        }
        Ok(self.against(solver, known, length)?.0)
    }

    /// The lie that a known one changes into among the solids, and where it rests against them.
    fn against(&self, solver: &mut Solver, known: &Lie, length: f64) -> Result<(Lie, Vec<Contact>), NoShape> {
        let touching = solver.rest_against_near(known, &self.ends, length, &self.section, self.radius, &self.solids)?;
        Ok((touching.lie, touching.contacts))
    }

    /// Where a lie rests against the solids.
    pub(crate) fn contacts(&self, solver: &mut Solver, lie: &Lie) -> Vec<Contact> {
        if self.solids.is_empty() {
            return Vec::new();
        }
        self.against(solver, lie, lie.length()).map_or(Vec::new(), |(_, contacts)| contacts)
    }

    /// The same to within 0.2 % of its tightest bend.
    pub(crate) fn near_roughly(&self, solver: &mut Solver, known: &Lie, length: f64) -> Result<Lie, NoShape> {
        if self.guides.is_empty() && self.solids.is_empty() {
            solver.rest_near_roughly(known, &self.ends, length, &self.section)
        } else {
            self.near(solver, known, length)
        }
    }

    /// The lie of the standard start.
    pub(crate) fn any(&self, solver: &mut Solver, length: f64) -> Result<Lie, NoShape> {
        if self.solids.is_empty() {
            return solver.rest_guided(&self.ends, &self.guides, length, &self.section);
        }
        let among = solver.rest_against(&self.ends, length, &self.section, self.radius, &self.solids)?;
        Ok(among.lie)
    }

    /// Every lie found, lowest energy first.
    pub(crate) fn lies(&self, solver: &mut Solver, length: f64) -> Result<Vec<Lie>, NoShape> {
        let free = solver.lies_guided(&self.ends, &self.guides, length, &self.section);
        if self.solids.is_empty() {
            return free;
        }
        // Among solids: what each free lie comes to, and what is found without one.
        let mut found: Vec<Lie> = Vec::new();
        let led = free.into_iter().flatten().map(|lie| self.near(solver, &lie, length)).collect::<Vec<_>>();
        let any = self.any(solver, length);
        let why = any.as_ref().err().copied();
        for lie in led.into_iter().chain([any]).flatten() {
            if !found.iter().any(|other| other.same_as(&lie)) {
                let behind = found.partition_point(|other| other.total_energy() <= lie.total_energy());
                found.insert(behind, lie);
            }
        }
        match why {
            Some(why) if found.is_empty() => Err(why),
            _ => Ok(found),
        }
    }

    /// So much of the way from this to another.
    pub(crate) fn part(&self, there: &Self, part: f64) -> Self {
        let between = |a: Vec3, b: Vec3| a + (b - a) * part;
        let ends = Ends {
            a: between(self.ends.a, there.ends.a),
            tangent_a: between(self.ends.tangent_a, there.ends.tangent_a),
            b: between(self.ends.b, there.ends.b),
            tangent_b: between(self.ends.tangent_b, there.ends.tangent_b),
        };
        let guide = |(a, b): (&Guide, &Guide)| Guide {
            at: between(a.at, b.at),
            direction: a.direction.zip(b.direction).map(|(a, b)| between(a, b)),
        };
        let solids = self.solids.iter().zip(&there.solids).map(|(a, b)| part_of_solid(a, b, part)).collect();
        Self { ends, guides: self.guides.iter().zip(&there.guides).map(guide).collect(), solids, ..*self }
    }

    /// True if something of it stands elsewhere in the other.
    pub(crate) fn differs(&self, other: &Self) -> bool {
        self.ends != other.ends || self.guides != other.guides || self.solids != other.solids
    }
}

fn part_of_solid(here: &Solid, there: &Solid, part: f64) -> Solid {
    let between = |a: Vec3, b: Vec3| a + (b - a) * part;
    match (*here, *there) {
        (Solid::Capsule { a, b, radius }, Solid::Capsule { a: to_a, b: to_b, .. }) => {
            Solid::Capsule { a: between(a, to_a), b: between(b, to_b), radius }
        }
        (Solid::Ball { centre, radius }, Solid::Ball { centre: to, .. }) => {
            Solid::Ball { centre: between(centre, to), radius }
        }
        (Solid::Block { low, high }, Solid::Block { low: to_low, high: to_high }) => {
            Solid::Block { low: between(low, to_low), high: between(high, to_high) }
        }
        (here, _) => here,
    }
}
