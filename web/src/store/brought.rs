//! Cars from a file of all that is stored (web/safe.js writes and reads it), from another phone or from this one. Nothing that
//! stands here is lost over it.

use super::base::Fault;
use super::record::{Hand, Record, Unread, check, revision_key};
use super::{CARS, Gone, Order, PHOTOS, REVISED, Saved, bring_back, look_into, now, random, read, save, states};
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
    /// It stands under this id now, by this name.
    In { id: String, name: String },
    /// It stood here already, in this state or in one that goes on from it.
    Known { name: String },
    /// It could not be read: a newer version wrote it, it is damaged, or none of the page's own.
    Unread,
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
        let Some(mut step) = file.step(id, value, here, &before) else {
            brought.push(Brought::Unread);
            continue;
        };
        if let Some(order) = &step.order {
            let saved = save(order).await?;
            step.saved(saved);
        }
        // Also where it stood here already: there may have been no room for its photos then.
        bring_back(&step.with(&file)).await?;
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

/// What is done with one car: it is kept like any other, and what belongs to it is put beside it, where nothing stands.
struct Step {
    order: Option<Order>,
    /// Under which id the file has it, and it stands here.
    ids: [String; 2],
    /// Whether its earlier states come with it.
    with_states: bool,
    becomes: Brought,
}

impl Parcels {
    fn of(file: &JsValue, at_hand: Vec<(Draft, Option<Hand>)>) -> Self {
        let [mut cars, states, photos] = [CARS, REVISED, PHOTOS].map(|name| entries(file, name));
        for (draft, hand) in at_hand {
            let kept = draft.kept();
            // One that had no number yet is the same car whenever the file is taken in.
            let unnumbered = || (format!("{:08x}", check(&kept)), 0);
            let (id, rev) = hand.map_or_else(unnumbered, |hand| (hand.id, hand.rev));
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

    /// Nothing if it cannot be read.
    fn step(&self, id: &str, value: &JsValue, here: Option<Result<Record, Unread>>, before: &[Record]) -> Option<Step> {
        // By these keys it is found again.
        let is_id = (1..=64).contains(&id.len()) && id.chars().all(|c| c.is_ascii_alphanumeric() || c == '-');
        let is_short = value.as_string().is_some_and(|text| text.len() <= LONGEST);
        let car = read(value).filter(|_| is_id && is_short)?.ok()?;
        if car.rev > MOST_SAVES || car.kept.matches("\"run\"").count() > MOST_RUNS {
            return None;
        }
        let lines = Draft::from_kept(&car.kept)?.line_names();
        let ids = [id.to_owned(), id.to_owned()];
        let is_new = matches!(here, None | Some(Err(Unread::Damaged)));
        let rev = match here {
            Some(Ok(here)) if here.kept == car.kept || before.iter().any(|state| state.kept == car.kept) => {
                let becomes = Brought::Known { name: car.name };
                return Some(Step { order: None, ids, with_states: true, becomes });
            }
            // It takes the place of nothing but what it goes on from: else `save` makes a copy of it. The car itself is among
            // that where this is what was typed last.
            Some(Ok(here)) => {
                let mut from = self.states_of(id).chain(self.cars.iter().filter(|(its, _)| its == id));
                let is_here = |state: &Record| state.kept == here.kept;
                let goes_on =
                    from.any(|(_, value)| read(value).is_some_and(|state| state.is_ok_and(|one| is_here(&one))));
                if goes_on { here.rev } else { 0 }
            }
            Some(Err(Unread::Newer)) => 0,
            // Of one that is gone or damaged the earlier states may still stand here.
            None | Some(Err(Unread::Damaged)) => {
                car.rev.saturating_sub(1).max(before.first().map_or(0, |newest| newest.rev))
            }
        };
        let becomes = Brought::In { id: id.to_owned(), name: car.name.clone() };
        let hand = Hand { id: id.to_owned(), rev, by: random(4) };
        let Record { name, hoses, kept, .. } = car;
        let order = Order { hand, name, hoses, kept, lines, tidies: false, marks: true };
        Some(Step { order: Some(order), ids, with_states: is_new, becomes })
    }

    /// Its earlier states: by the keys that the page gave them.
    fn states_of(&self, id: &str) -> impl Iterator<Item = &(String, JsValue)> {
        below(&self.states, id).into_iter().filter(move |(key, value)| {
            read(value).is_some_and(|state| state.is_ok_and(|state| revision_key(id, state.rev) == *key))
        })
    }
}

impl Step {
    /// Where it stands now.
    fn saved(&mut self, saved: Saved) {
        if let (Brought::In { id, name }, Saved::Copied { hand, name: other }) = (&mut self.becomes, saved) {
            (*id, *name) = (hand.id.clone(), other);
            self.ids[1] = hand.id;
        }
    }

    /// What belongs to it: its photos, and its earlier states where they are older than what stands here.
    fn with(&self, file: &Parcels) -> Gone {
        let [old, new] = &self.ids;
        let photos = below(&file.photos, old).into_iter().filter(|(_, photo)| !photo.is_undefined());
        let mut with: Vec<_> = photos.map(|(key, photo)| (PHOTOS, key.replacen(old, new, 1), photo.clone())).collect();
        if self.with_states && old == new {
            with.extend(file.states_of(old).map(|(key, state)| (REVISED, key.clone(), state.clone())));
        }
        Gone(with)
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
