//! What must come off, which things come off as one, and a sequence in which nothing stands in the way.
//!
//! Things and the links between them, in the order in which they were typed. A thing that is in the way of another comes
//! off before it; two that come off together are each before the other. The strongly connected parts of that graph are
//! the steps: a step with an "in the way" inside it can be done in no order, and is a knot.

use crate::input::RelationKindInput as Kind;

/// Two things in a relation, by their places.
#[derive(Clone, Copy, Debug)]
pub(super) struct Link {
    pub(super) what: usize,
    pub(super) is: Kind,
    pub(super) of: usize,
}

impl Link {
    /// Where one comes to from `at`, going the way things come off, or against it.
    fn from(&self, at: usize, against: bool) -> Option<usize> {
        let with = self.is == Kind::ComesOffWith;
        let forth = self.what == at && (!against || with);
        let back = self.of == at && (against || with);
        forth.then_some(self.of).or_else(|| back.then_some(self.what))
    }
}

/// The links, and those that touch each thing.
#[derive(Debug)]
pub(super) struct Graph {
    pub(super) links: Vec<Link>,
    touching: Vec<Vec<usize>>,
}

impl Graph {
    pub(super) fn new(n_things: usize, links: Vec<Link>) -> Self {
        let mut touching = vec![Vec::new(); n_things];
        for (i, link) in links.iter().enumerate() {
            touching[link.what].push(i);
            touching[link.of].push(i);
        }
        Self { links, touching }
    }

    /// Each link that leads on from a thing, and where to.
    fn on_from(&self, thing: usize, against: bool) -> impl Iterator<Item = (usize, usize)> {
        let touching = self.touching[thing].iter();
        touching.filter_map(move |link| self.links[*link].from(thing, against).map(|next| (*link, next)))
    }

    /// All that must come off so that what is in `work` can: what is in its way, what comes off with it, and so on.
    ///
    /// It is the least: whoever takes off a thing of `work` has to take off each of these, by the meaning of the links.
    pub(super) fn needed(&self, work: &[bool]) -> Vec<bool> {
        let mut needed = work.to_vec();
        let mut todo: Vec<usize> = (0..work.len()).filter(|thing| work[*thing]).collect();
        while let Some(thing) = todo.pop() {
            for (_, next) in self.on_from(thing, true) {
                if !needed[next] {
                    needed[next] = true;
                    todo.push(next);
                }
            }
        }
        needed
    }

    /// The link by which a thing is first come to, going from one, on a shortest way; nothing where no way leads.
    fn reached(&self, from: usize, against: bool, among: &[bool]) -> Vec<Option<usize>> {
        let mut by = vec![None; among.len()];
        let mut todo = vec![from];
        let mut done = 0;
        while let Some(&thing) = todo.get(done) {
            done += 1;
            for (link, next) in self.on_from(thing, against) {
                if among[next] && next != from && by[next].is_none() {
                    by[next] = Some(link);
                    todo.push(next);
                }
            }
        }
        by
    }

    /// What comes off as one: steps, and the things of each, in the order of typing.
    pub(super) fn steps(&self, among: &[bool]) -> Vec<Vec<usize>> {
        let mut taken: Vec<bool> = among.iter().map(|needed| !needed).collect();
        let mut steps = Vec::new();
        for thing in 0..among.len() {
            if taken[thing] {
                continue;
            }
            let [after, before] = [false, true].map(|against| self.reached(thing, against, among));
            let both = |other: &usize| *other == thing || (after[*other].is_some() && before[*other].is_some());
            let step: Vec<usize> = (thing..among.len()).filter(both).collect();
            for one in &step {
                taken[*one] = true;
            }
            steps.push(step);
        }
        steps
    }

    /// The steps in an order in which none is done before one that is in its way, or, `against`, after one. Among those
    /// that could be next the one typed first is.
    pub(super) fn sequence(&self, steps: &[Vec<usize>], against: bool) -> Vec<usize> {
        let mut step_of = vec![None; self.touching.len()];
        for (i, step) in steps.iter().enumerate() {
            for thing in step {
                step_of[*thing] = Some(i);
            }
        }
        let mut waits = vec![0_usize; steps.len()];
        let mut then: Vec<Vec<usize>> = vec![Vec::new(); steps.len()];
        for link in &self.links {
            let (Some(what), Some(of)) = (step_of[link.what], step_of[link.of]) else { continue };
            if what != of {
                let [sooner, later] = if against { [of, what] } else { [what, of] };
                then[sooner].push(later);
                waits[later] += 1;
            }
        }
        let mut done = vec![false; steps.len()];
        let mut order = Vec::with_capacity(steps.len());
        while let Some(next) = (0..steps.len()).find(|step| !done[*step] && waits[*step] == 0) {
            done[next] = true;
            order.push(next);
            for later in &then[next] {
                waits[*later] -= 1;
            }
        }
        order
    }

    /// A shortest ring of links within one step that cannot all hold; nothing if its things simply come off together.
    pub(super) fn ring(&self, step: &[usize]) -> Option<Vec<usize>> {
        let mut within = vec![false; self.touching.len()];
        for thing in step {
            within[*thing] = true;
        }
        let mut shortest: Option<Vec<usize>> = None;
        for (i, link) in self.links.iter().enumerate() {
            if link.is != Kind::InTheWayOf || !within[link.what] || !within[link.of] {
                continue;
            }
            // From what it is in the way of, round to itself.
            let by = self.reached(link.of, false, &within);
            let mut ring = Vec::new();
            let mut at = link.what;
            while let Some(last) = by[at] {
                ring.push(last);
                let link = self.links[last];
                at = if link.of == at { link.what } else { link.of };
            }
            ring.push(i);
            ring.reverse();
            if shortest.as_ref().is_none_or(|known| ring.len() < known.len()) {
                shortest = Some(ring);
            }
        }
        shortest
    }
}
