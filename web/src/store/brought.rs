//! Cars from a file of all that is stored (web/safe.js writes and reads it), from another phone or from this one. Nothing that
//! stands here is lost over it.

use super::base::Fault;
use super::record::{Hand, Record, Unread};
use super::{ASIDE, CARS, Gone, Order, PHOTOS, REVISED, Saved, bring_back, look_into, now, random, read, save, states};
use crate::form::Draft;
use js_sys::{Array, Object, Reflect};
use wasm_bindgen::{JsCast, JsValue};

/// What became of a car that a file brought.
#[derive(Debug)]
pub(crate) enum Brought {
    /// It stands under this id now, by this name.
    In { id: String, name: String },
    /// It stood here already, in this state or in one that goes on from it.
    Known { name: String },
    /// It could not be read, and is set aside.
    Aside,
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
        let (here, before) = (look_into(id).await?, states(id).await?);
        let mut step = file.step(id, value, here, &before);
        if let Some(order) = &step.order {
            let saved = save(order).await?;
            step.saved(&file, saved);
        }
        bring_back(&step.with).await?;
        brought.push(step.becomes);
    }
    Ok(())
}

/// What a file holds, by its keys.
struct Parcels {
    cars: Vec<(String, JsValue)>,
    states: Vec<(String, JsValue)>,
    photos: Vec<(String, JsValue)>,
}

/// What is done with one car: it is kept like any other, and what belongs to it is put beside it.
struct Step {
    order: Option<Order>,
    with: Gone,
    becomes: Brought,
}

impl Parcels {
    fn of(file: &JsValue, at_hand: Vec<(Draft, Option<Hand>)>) -> Self {
        let [mut cars, states, photos] = [CARS, REVISED, PHOTOS].map(|name| entries(file, name));
        for (draft, hand) in at_hand {
            let (id, rev) = hand.map_or_else(|| (random(12), 0), |hand| (hand.id, hand.rev));
            let kept = draft.kept();
            let is_told = |(its, value): &(String, JsValue)| {
                *its == id && read(value).is_some_and(|car| car.is_ok_and(|car| car.rev > rev || car.kept == kept))
            };
            if !cars.iter().any(is_told) {
                let (name, hoses) = (draft.car_name(), draft.runs().0);
                let last = Record { rev: rev.saturating_add(1), saved_at: now(), by: String::new(), name, hoses, kept };
                cars.push((id, last.write().into()));
            }
        }
        Self { cars, states, photos }
    }

    fn step(&self, id: &str, value: &JsValue, here: Option<Result<Record, Unread>>, before: &[Record]) -> Step {
        let (car, lines) = match read(value) {
            Some(Ok(car)) if let Some(draft) = Draft::from_kept(&car.kept) => (car, draft.line_names()),
            // A car of a newer version is left to that.
            Some(Err(Unread::Newer)) if here.is_none() => {
                let becomes = Brought::In { id: id.to_owned(), name: String::new() };
                return Step { order: None, with: Gone(vec![(CARS, id.to_owned(), value.clone())]), becomes };
            }
            _ => {
                let with = Gone(vec![(ASIDE, random(12), value.clone())]);
                return Step { order: None, with, becomes: Brought::Aside };
            }
        };
        let states = below(&self.states, id);
        let mut with = Gone::default();
        let rev = match here {
            Some(Ok(here)) if here.kept == car.kept || before.iter().any(|state| state.kept == car.kept) => {
                return Step { order: None, with, becomes: Brought::Known { name: car.name } };
            }
            // It takes the place of nothing but what it goes on from: else `save` makes a copy of it. The car itself is among
            // that where this is what was typed last.
            Some(Ok(here)) => {
                let from = states.iter().copied().chain(self.cars.iter().filter(|(its, _)| its == id));
                let is_here = |value| read(value).is_some_and(|state| state.is_ok_and(|state| state.kept == here.kept));
                let goes_on = from.map(|(_, value)| value).any(is_here);
                if goes_on { here.rev } else { 0 }
            }
            Some(Err(_)) => 0,
            None => {
                with.0.extend(states.iter().map(|(key, state)| (REVISED, key.clone(), state.clone())));
                car.rev.saturating_sub(1)
            }
        };
        let becomes = Brought::In { id: id.to_owned(), name: car.name.clone() };
        let hand = Hand { id: id.to_owned(), rev, by: random(4) };
        let Record { name, hoses, kept, .. } = car;
        Step { order: Some(Order { hand, name, hoses, kept, lines, tidies: false, marks: true }), with, becomes }
    }
}

impl Step {
    /// Takes the photos along to where the car is now.
    fn saved(&mut self, file: &Parcels, saved: Saved) {
        let Brought::In { id, name } = &mut self.becomes else { return };
        let old = id.clone();
        if let Saved::Copied { hand, name: other } = saved {
            (*id, *name) = (hand.id, other);
        }
        let photos = below(&file.photos, &old).into_iter().filter(|(_, photo)| !photo.is_undefined());
        self.with.0.extend(photos.map(|(key, photo)| (PHOTOS, key.replacen(&old, id, 1), photo.clone())));
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
