//! Cars from a file of all that is stored (web/safe.js writes and reads it), from another phone or from this one. Nothing that
//! stands here is lost over it.

use super::base::{Fault, Transaction};
use super::descent::{Kin, family, kin};
use super::record::{Hand, Record, Unread, check, revision_key};
use super::{
    CARS, Gone, Order, Origin, PHOTOS, REVISED, Saved, bring_back, look_into, now, random, read, save, states,
};
use crate::form::Draft;
use js_sys::{Array, Object, Reflect};
use wasm_bindgen::{JsCast, JsValue};

/// No record that the page wrote is longer or holds more runs or has been saved so often (our choice: a job file is 1 MB at most,
/// and a car has some forty hoses); what is, is not read, since reading it could take the page for itself.
const LONGEST: usize = 2 * share::LONGEST;
const MOST_RUNS: usize = 1000;
const MOST_SAVES: u32 = 1_000_000_000;

/// What became of a car that a file brought.
#[derive(Debug)]
pub(crate) enum Brought {
    /// It stands under this id now, by this name; in place of a state that it goes on from, or as one more.
    In { id: String, name: String, is_later: bool },
    /// It stood here already, in this state or in one that goes on from it.
    Known { name: String },
    /// It could not be read: a newer version wrote it, it is damaged, or none of the page's own.
    Unread,
    /// Of these lines of the one before the file has a photo, and another stands here, which stays.
    OtherPhotos(Vec<String>),
}

/// Takes in what a file holds: its cars one after the other, so that those before a fault are kept. `at_hand` are the drafts
/// that were kept apart from the cars, and which of these each is.
pub(crate) async fn take_in(
    file: &JsValue,
    at_hand: Vec<(Draft, Option<Hand>)>,
    brought: &mut Vec<Brought>,
) -> Result<(), Fault> {
    let file = Parcels::of(file, at_hand);
    for (id, value) in &file.cars {
        let Some(car) = sound(id, value) else {
            brought.push(Brought::Unread);
            continue;
        };
        let mut step = Family::of(id).await?.step(id, car, random(4));
        if let Some(order) = &step.order
            && let Saved::Copied { hand, name } = save(order).await?
        {
            // What stands here was changed meanwhile.
            step = Step { id: hand.id, name, with_states: false, ..step };
        }
        // Also where it stood here already: there may have been no room for its photos then.
        let others = bring_back(&file.with(id, &step)).await?;
        let Step { order, id, name, with_states } = step;
        let is_later = !with_states;
        brought.push(if order.is_some() { Brought::In { id, name, is_later } } else { Brought::Known { name } });
        let line = |key: String| key.split_once('/').map(|(_, line)| line.to_owned());
        let others: Vec<_> = others.into_iter().filter_map(line).collect();
        brought.extend((!others.is_empty()).then_some(Brought::OtherPhotos(others)));
    }
    Ok(())
}

/// What a file holds, by its keys.
struct Parcels {
    cars: Vec<(String, JsValue)>,
    states: Vec<(String, JsValue)>,
    photos: Vec<(String, JsValue)>,
}

impl Parcels {
    fn of(file: &JsValue, at_hand: Vec<(Draft, Option<Hand>)>) -> Self {
        let [mut cars, states, photos] = [CARS, REVISED, PHOTOS].map(|name| entries(file, name));
        for (draft, hand) in at_hand {
            let kept = draft.kept();
            // One that had no number yet is the same car whenever the file is taken in.
            let unnumbered = || (format!("{:08x}", check(&kept)), 0);
            let (id, rev) = hand.map_or_else(unnumbered, |hand| (hand.id, hand.rev));
            let before = cars.iter().find_map(|(its, value)| (*its == id).then(|| read(value)?.ok()).flatten());
            if before.as_ref().is_some_and(|car| car.rev > rev || car.kept == kept) {
                continue;
            }
            let last = Record {
                rev: rev.saturating_add(1),
                saved_at: now(),
                by: String::new(),
                name: draft.car_name(),
                hoses: draft.runs().0,
                past: before.as_ref().map(Record::past_and_now).unwrap_or_default(),
                copy_of: None,
                kept,
            };
            cars.push((id, last.write().into()));
        }
        Self { cars, states, photos }
    }

    /// What belongs to a car: its photos, and its earlier states where they are older than what stands here.
    fn with(&self, old: &str, step: &Step) -> Gone {
        let moved = |store, (key, value): &(String, JsValue)| (store, key.replacen(old, &step.id, 1), value.clone());
        let photos = below(&self.photos, old).into_iter().filter(|(_, photo)| !photo.is_undefined());
        let states = self.states_of(old).filter(|_| step.with_states);
        Gone(photos.map(|photo| moved(PHOTOS, photo)).chain(states.map(|state| moved(REVISED, state))).collect())
    }

    /// The earlier states of a car: by the keys that the page gave them.
    fn states_of(&self, id: &str) -> impl Iterator<Item = &(String, JsValue)> {
        below(&self.states, id).into_iter().filter(move |(key, value)| {
            read(value).is_some_and(|state| state.is_ok_and(|state| revision_key(id, state.rev) == *key))
        })
    }
}

/// A car of a file, with the names of its lines; nothing if it cannot be read.
fn sound(id: &str, value: &JsValue) -> Option<(Record, Vec<String>)> {
    // By these keys it is found again.
    let is_id = !family(id).is_empty() && id.len() <= 64 && id.chars().all(|c| c.is_ascii_alphanumeric() || c == '-');
    let is_short = value.as_string().is_some_and(|text| text.len() <= LONGEST);
    let car = read(value).filter(|_| is_id && is_short)?.ok()?;
    let is_like_ours = car.rev <= MOST_SAVES && car.kept.matches("\"run\"").count() <= MOST_RUNS;
    let lines = Draft::from_kept(&car.kept).filter(|_| is_like_ours)?.line_names();
    Some((car, lines))
}

/// The cars here that may be the one that a file brings: what stands under its id, and the copies that a file brought before.
struct Family {
    /// What stands under its id comes first.
    cars: Vec<(String, Record)>,
    /// Whether something stands under its id.
    is_taken: bool,
    /// The last save of which an earlier state still stands under its id.
    last_rev: u32,
}

/// What is done with one car: it is kept like any other, and what belongs to it is put beside it, where nothing stands.
struct Step {
    /// Nothing if it stands here already.
    order: Option<Order>,
    /// Where it stands here, and by which name.
    id: String,
    name: String,
    /// Whether its earlier states come with it.
    with_states: bool,
}

impl Family {
    async fn of(id: &str) -> Result<Self, Fault> {
        let first = family(id);
        let ids = Transaction::to_read(&[CARS]).await?.keys(CARS, first).await?;
        let last_rev = states(id).await?.first().map_or(0, |newest| newest.rev);
        let mut here = Self { cars: Vec::new(), is_taken: false, last_rev };
        for its in ids.into_iter().filter(|its| family(its) == first) {
            let is_it = its == id;
            match look_into(&its).await? {
                Some(Ok(car)) => here.cars.insert(if is_it { 0 } else { here.cars.len() }, (its, car)),
                Some(Err(Unread::Newer)) => {}
                None | Some(Err(Unread::Damaged)) => continue,
            }
            here.is_taken |= is_it;
        }
        Ok(here)
    }

    /// It takes the place of nothing but a state it goes on from. `by` is a word that was not used before.
    fn step(self, id: &str, (mut car, lines): (Record, Vec<String>), by: String) -> Step {
        let kin_of = |like: Kin| self.cars.iter().find(|(_, here)| kin(&car, here) == like);
        if let Some((its, _)) = kin_of(Kin::Known) {
            return Step { order: None, id: its.clone(), name: car.name, with_states: true };
        }
        let later = kin_of(Kin::Later);
        let (id, rev, is_copy) = match later {
            Some((its, here)) => (its.clone(), here.rev, here.copy_of.is_some()),
            None if self.is_taken => (format!("{}-{by}", family(id)), car.rev.saturating_sub(1), true),
            // Of one that is gone or damaged the earlier states may still stand here.
            None => (id.to_owned(), car.rev.saturating_sub(1).max(self.last_rev), false),
        };
        let past = later.map_or_else(|| car.past.clone(), |(_, here)| here.past_of(&car));
        let with_states = later.is_none();
        let of = is_copy.then(|| check(&car.kept));
        if is_copy {
            car.call_copy();
        }
        let Record { name, hoses, kept, copy_of, .. } = car;
        let from = Some(Origin { past, copy_of: copy_of.or(of) });
        let hand = Hand { id: id.clone(), rev, by };
        let order = Order { hand, name: name.clone(), hoses, kept, lines, tidies: false, marks: true, from };
        Step { order: Some(order), id, name, with_states }
    }
}

/// What belongs to a car.
fn below<'a>(all: &'a [(String, JsValue)], id: &str) -> Vec<&'a (String, JsValue)> {
    all.iter().filter(|(key, _)| key.strip_prefix(id).is_some_and(|rest| rest.starts_with('/'))).collect()
}

/// What stands under a name of the file, by its keys; nothing where it is of another form.
fn entries(file: &JsValue, name: &str) -> Vec<(String, JsValue)> {
    let held = Reflect::get(file, &name.into()).unwrap_or_default();
    let pairs = held.dyn_ref::<Object>().map(Object::entries).unwrap_or_default();
    let pair = |pair: JsValue| {
        let pair: Array = pair.unchecked_into();
        Some((pair.get(0).as_string()?, pair.get(1)))
    };
    pairs.iter().filter_map(pair).collect()
}

#[cfg(test)]
mod tests {
    use super::super::record::Verdict;
    use super::*;
    use quantity::text::LengthUnit;
    use std::collections::{HashMap, HashSet};

    /// The cars on a phone.
    #[derive(Clone, Debug, Default)]
    struct Phone(Vec<(String, Record)>);

    /// What really happened: which text was made from which, and how many names were given.
    #[derive(Default)]
    struct Truth(HashMap<String, Vec<String>>, u32);

    impl Truth {
        fn count(&mut self) -> u32 {
            self.1 += 1;
            self.1
        }

        fn made(&mut self, new: &str, from: &str) {
            self.0.entry(new.to_owned()).or_default().push(from.to_owned());
        }

        /// Whether a text is another, or was made from it over any number of steps.
        fn goes_on(&self, text: &str, from: &str) -> bool {
            let (mut seen, mut look) = (HashSet::new(), vec![text]);
            while let Some(text) = look.pop() {
                if text == from {
                    return true;
                }
                if seen.insert(text) {
                    look.extend(self.0.get(text).into_iter().flatten().map(String::as_str));
                }
            }
            false
        }
    }

    impl Phone {
        /// As `save_once` does.
        fn save(&mut self, order: &Order, truth: &mut Truth) -> Saved {
            let at = self.0.iter().position(|(id, _)| *id == order.hand.id);
            let stored = at.map(|at| Ok(self.0[at].1.clone()));
            let (verdict, record) = order.record(stored.as_ref(), 0.0);
            match (verdict, at) {
                (Verdict::Same { rev }, _) => return Saved::As { rev },
                (Verdict::Write { .. }, Some(at)) => self.0[at].1 = record.clone(),
                (Verdict::Write { .. }, None) => self.0.push((order.hand.id.clone(), record.clone())),
                (Verdict::Copy, _) => {
                    let hand = Hand { id: format!("tab{}", truth.count()), rev: 1, by: String::new() };
                    self.0.push((hand.id.clone(), record.clone()));
                    return Saved::Copied { hand, name: record.name };
                }
            }
            Saved::As { rev: record.rev }
        }

        /// The car is called this from now on.
        fn call(&mut self, at: usize, name: &str, truth: &mut Truth) {
            let (id, car) = self.0[at].clone();
            let mut draft = Draft::from_kept(&car.kept).expect("a car");
            draft.set_at("/car", name.into());
            let hand = Hand { id, rev: car.rev, by: String::new() };
            let (kept, lines) = (draft.kept(), Vec::new());
            let order =
                Order { hand, name: name.into(), hoses: 1, kept, lines, tidies: false, marks: false, from: None };
            truth.made(&order.kept, &car.kept);
            self.save(&order, truth);
        }

        /// As `super::take_in` does.
        fn take_in(&mut self, file: &Self, truth: &mut Truth) {
            for (id, car) in &file.0 {
                let mut family = Family { cars: Vec::new(), is_taken: false, last_rev: 0 };
                for (its, here) in self.0.iter().filter(|(its, _)| super::family(its) == super::family(id)) {
                    family.is_taken |= its == id;
                    family.cars.insert(if its == id { 0 } else { family.cars.len() }, (its.clone(), here.clone()));
                }
                let step = family.step(id, (car.clone(), Vec::new()), format!("n{}", truth.count()));
                if let Some(order) = &step.order {
                    if order.kept != car.kept {
                        // A copy is the same but for its name.
                        truth.made(&order.kept, &car.kept);
                        truth.made(&car.kept, &order.kept);
                    }
                    assert!(matches!(self.save(order, truth), Saved::As { .. }), "nobody else saves here");
                }
            }
        }

        fn texts(&self) -> Vec<&String> {
            self.0.iter().map(|(_, car)| &car.kept).collect()
        }
    }

    /// Phones that all hold one car.
    fn phones<const N: usize>() -> [Phone; N] {
        let mut draft = Draft::fresh(None, LengthUnit::Millimetre);
        draft.set_at("/car", "car".into());
        let car = Record { rev: 1, name: "car".into(), hoses: 1, kept: draft.kept(), ..Record::default() };
        std::array::from_fn(|_| Phone(vec![("c0".into(), car.clone())]))
    }

    /// Takes in a file: what stood on either phone stands there, or what was really made from it; and once more changes nothing.
    fn hand_over(phones: &mut [Phone], from: usize, to: usize, truth: &mut Truth, told: &str) {
        let (file, before) = (phones[from].clone(), phones[to].clone());
        phones[to].take_in(&file, truth);
        for (_, car) in file.0.iter().chain(&before.0) {
            let is_there = phones[to].texts().into_iter().any(|text| truth.goes_on(text, &car.kept));
            assert!(is_there, "{} is lost in {told}: {:#?}", car.name, phones[to]);
        }
        let once = phones[to].clone();
        phones[to].take_in(&file, truth);
        assert_eq!(once.texts(), phones[to].texts(), "once more: {told}");
    }

    /// A deed: the first or the last car of a phone is changed, it goes back to an earlier state, or its file goes to the next phone.
    fn does(deed: usize, phones: &mut [Phone], truth: &mut Truth, told: &str) {
        let (phone, what) = (deed / 4 % phones.len(), deed % 4);
        let next = (phone + 1) % phones.len();
        let last = phones[phone].0.len() - 1;
        let name = format!("call {}", truth.count());
        match what {
            0 => phones[phone].call(0, &name, truth),
            1 => phones[phone].call(last, &name, truth),
            2 => phones[phone].call(0, "car", truth),
            _ => hand_over(phones, phone, next, truth, told),
        }
    }

    /// Every phone hands its file on, round and round: nothing is lost, and in the end nothing changes any more.
    fn come_to_rest(phones: &mut [Phone], truth: &mut Truth, told: &str) {
        let mut round = |phones: &mut [Phone]| {
            (0..phones.len()).for_each(|phone| hand_over(phones, phone, (phone + 1) % phones.len(), truth, told));
        };
        (0..phones.len()).for_each(|_| round(phones));
        let rest = phones.to_vec();
        round(phones);
        for (before, after) in rest.iter().zip(&*phones) {
            assert_eq!(before.texts(), after.texts(), "no rest: {told}");
        }
    }

    // However far it went on since, and also where it went back: what is older never takes the place of what is newer.
    #[test]
    fn a_phone_on_which_nothing_is_changed_follows_the_other() {
        let (mut phones, mut truth) = (phones::<2>(), Truth::default());
        let names = (0..100).map(|i| format!("call {i}")).chain(["car", "call 99", "car"].map(str::to_owned));
        for (i, name) in names.enumerate() {
            phones[0].call(0, &name, &mut truth);
            if i >= 90 {
                hand_over(&mut phones, 1, 0, &mut truth, &name);
                assert_eq!(phones[0].0[0].1.name, name, "it stays as it is");
                hand_over(&mut phones, 0, 1, &mut truth, &name);
                assert_eq!(phones[0].texts(), phones[1].texts());
            }
        }
        assert_eq!(phones[1].0.len(), 1);
    }

    // Every order of four deeds.
    #[test]
    fn two_phones_lose_nothing_over_their_files_and_come_to_rest() {
        for order in 0..8_usize.pow(4) {
            let deeds: Vec<usize> = (0..4).map(|step| order / 8_usize.pow(step) % 8).collect();
            let (mut phones, mut truth, told) = (phones::<2>(), Truth::default(), format!("{deeds:?}"));
            deeds.iter().for_each(|deed| does(*deed, &mut phones, &mut truth, &told));
            come_to_rest(&mut phones, &mut truth, &told);
            let changed = deeds.iter().filter(|deed| *deed % 4 < 3).count();
            assert!(phones[0].0.len() <= 1 + changed, "more cars than changes: {told} {phones:#?}");
        }
    }

    // Ten deeds in an order drawn by lot (Knuth's MMIX generator), 500 times.
    #[test]
    fn three_phones_too() {
        let mut state = 1_u64;
        let mut any = move || {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            (state >> 33) as usize
        };
        for _ in 0..500 {
            let deeds: Vec<usize> = (0..10).map(|_| any() % 12).collect();
            let (mut phones, mut truth, told) = (phones::<3>(), Truth::default(), format!("{deeds:?}"));
            deeds.iter().for_each(|deed| does(*deed, &mut phones, &mut truth, &told));
            come_to_rest(&mut phones, &mut truth, &told);
        }
    }
}
