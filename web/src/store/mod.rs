//! The cars kept on this phone: beside the one at hand, which `keep.rs` keeps, all that the person worked on, each with
//! its last states and the photos of its lines.
//!
//! | store | key | value |
//! |---|---|---|
//! | `cars` | id | a record (`record.rs`) |
//! | `summaries` | id | the same without the car: the list reads no more |
//! | `revisions` | id/rev | a record |
//! | `aside` | id | what could not be read, as it was |
//! | `photos` | id/name of the line | a picture |

mod base;
mod brought;
mod descent;
pub(crate) mod record;

pub(crate) use base::{Fault, on_given_up};
pub(crate) use brought::{Brought, take_in};

use crate::form::Draft;
use base::{Transaction, twice};
use descent::Past;
pub(crate) use descent::family;
use leptos::prelude::window;
use record::{Hand, REVISIONS, Record, Unread, Verdict, copy_name, decide, is_worth_keeping, renamed, revision_key};
use wasm_bindgen::{JsCast, JsValue};
use web_sys::Blob;

const CARS: &str = "cars";
const SUMMARIES: &str = "summaries";
const REVISED: &str = "revisions";
const ASIDE: &str = "aside";
const PHOTOS: &str = "photos";

const STORES: [&str; 5] = [CARS, SUMMARIES, REVISED, ASIDE, PHOTOS];

/// Something to tell one from another: so many random bytes in hexadecimal figures.
pub(crate) fn random(bytes: usize) -> String {
    let mut random = vec![0; bytes];
    // Without it the clock: two tabs do not start in the same millisecond.
    let drawn = window().crypto().and_then(|crypto| crypto.get_random_values_with_u8_array(&mut random));
    match drawn {
        Ok(_) => random.iter().map(|byte| format!("{byte:02x}")).collect(),
        Err(_) => now().to_string(),
    }
}

fn now() -> f64 {
    js_sys::Date::now()
}

/// A car that is to be kept.
#[derive(Clone, Debug)]
pub(crate) struct Order {
    pub(crate) hand: Hand,
    pub(crate) name: String,
    pub(crate) hoses: usize,
    /// As `Draft::kept` gives it.
    pub(crate) kept: String,
    /// The names of its lines: photos follow a line that was called something else.
    pub(crate) lines: Vec<String>,
    /// Whether photos of lines that are no more go.
    pub(crate) tidies: bool,
    /// Whether the state it goes on from is kept, however short it stood.
    pub(crate) marks: bool,
    /// Of one that a file brings.
    pub(crate) from: Option<Origin>,
}

/// Where a car comes from that a file brings.
#[derive(Clone, Debug)]
pub(crate) struct Origin {
    /// The states it goes on from, there and here.
    past: Past,
    /// As in a record.
    copy_of: Option<u32>,
}

/// What became of it.
#[derive(Debug)]
pub(crate) enum Saved {
    /// It is this state of the car.
    As { rev: u32 },
    /// The car had been changed elsewhere: it is another car now, under this name.
    Copied { hand: Hand, name: String },
}

/// A record as it is stored; nothing if there is none.
fn read(value: &JsValue) -> Option<Result<Record, Unread>> {
    (!value.is_undefined()).then(|| Record::read(&value.as_string().unwrap_or_default()))
}

/// Keeps a car, if what stands there is what it goes on from; else as a copy.
pub(crate) async fn save(order: &Order) -> Result<Saved, Fault> {
    twice(async || save_once(order).await).await
}

async fn save_once(order: &Order) -> Result<Saved, Fault> {
    let Hand { id, by, .. } = &order.hand;
    let work = Transaction::to_write(&STORES).await?;
    let value = work.get(CARS, id).await?;
    let stored = read(&value);
    let (verdict, record) = order.record(stored.as_ref(), now());
    let saved = match verdict {
        Verdict::Same { rev } => Saved::As { rev },
        Verdict::Copy => {
            let hand = Hand { id: random(12), rev: record.rev, by: by.clone() };
            put(&work, &hand.id, &record)?;
            Saved::Copied { hand, name: record.name }
        }
        Verdict::Write { rev } => {
            match &stored {
                Some(Err(_)) => work.put(ASIDE, id, &value)?,
                Some(Ok(old)) => keep_state(&work, id, old, &value, record.saved_at, order.marks).await?,
                None => {}
            }
            put(&work, id, &record)?;
            Saved::As { rev }
        }
    };
    if let Saved::As { .. } = saved {
        move_photos(&work, order, stored.and_then(Result::ok)).await?;
    }
    work.done().await?;
    Ok(saved)
}

/// Has the photos follow their lines, by the names in the state before and now.
async fn move_photos(work: &Transaction, order: &Order, before: Option<Record>) -> Result<(), Fault> {
    let below = photo_key(&order.hand.id, "");
    let keys = work.keys(PHOTOS, &below).await?;
    if keys.is_empty() {
        return Ok(());
    }
    let before = before.and_then(|before| Draft::from_kept(&before.kept));
    let renamed = renamed(&before.map(|before| before.line_names()).unwrap_or_default(), &order.lines);
    for key in keys {
        let name = key.strip_prefix(&below).unwrap_or_default();
        let new = renamed.iter().find(|(old, _)| old == name).map(|(_, new)| new);
        if let Some(new) = new {
            let photo = work.get(PHOTOS, &key).await?;
            work.put(PHOTOS, &photo_key(&order.hand.id, new), &photo)?;
        }
        if new.is_some() || order.tidies && order.lines.iter().all(|line| line != name) {
            work.delete(PHOTOS, &key)?;
        }
    }
    Ok(())
}

impl Order {
    /// What a save does to what stands there, and what it writes.
    fn record(&self, stored: Option<&Result<Record, Unread>>, now: f64) -> (Verdict, Record) {
        let Self { hand, name, hoses, kept, from, .. } = self.clone();
        let verdict = decide(stored, &hand, &kept);
        let past = match (verdict, stored) {
            (Verdict::Write { .. }, Some(Ok(old))) => old.past_and_now(),
            _ => Past::default(),
        };
        let Origin { past, copy_of } = from.unwrap_or(Origin { past, copy_of: None });
        let rev = if let Verdict::Write { rev } = verdict { rev } else { 1 };
        let mut record = Record { rev, saved_at: now, by: hand.by, name, hoses, kept, past, copy_of };
        if verdict == Verdict::Copy {
            record.call_copy();
        }
        (verdict, record)
    }
}

impl Record {
    /// Gives it the name of a copy.
    fn call_copy(&mut self) {
        self.name = copy_name(&self.name);
        if let Some(mut draft) = Draft::from_kept(&self.kept) {
            draft.set_at("/car", self.name.as_str().into());
            self.kept = draft.kept();
        }
    }
}

fn put(work: &Transaction, id: &str, record: &Record) -> Result<(), Fault> {
    work.put(CARS, id, &record.write().into())?;
    work.put(SUMMARIES, id, &record.summary().write().into())
}

/// Keeps the state that is written over, if it is worth it, and lets the oldest go.
async fn keep_state(
    work: &Transaction,
    id: &str,
    old: &Record,
    value: &JsValue,
    now: f64,
    marks: bool,
) -> Result<(), Fault> {
    let keys = work.keys(REVISED, &format!("{id}/")).await?;
    let last = match keys.last() {
        Some(key) => read(&work.get(REVISED, key).await?).and_then(Result::ok).map(|state| state.saved_at),
        None => None,
    };
    if marks || is_worth_keeping(old.saved_at, last, now) {
        work.put(REVISED, &revision_key(id, old.rev), value)?;
        for key in keys.iter().take((keys.len() + 1).saturating_sub(REVISIONS)) {
            work.delete(REVISED, key)?;
        }
    }
    Ok(())
}

/// A row of the list.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Row {
    pub(crate) id: String,
    /// Nothing is known of one that a newer version wrote.
    pub(crate) car: Option<Record>,
}

/// All that is kept.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Shelf {
    /// The newest first, those of a newer version last.
    pub(crate) cars: Vec<Row>,
    /// The ids of what could not be read.
    pub(crate) aside: Vec<String>,
}

/// What is kept, by its summaries. A car without a sound one is looked into: it is given one, or set aside.
pub(crate) async fn list() -> Result<Shelf, Fault> {
    let (shelf, doubtful) = twice(async || {
        let look = Transaction::to_read(&STORES).await?;
        let ids = look.keys(CARS, "").await?;
        let known = look.keys(SUMMARIES, "").await?;
        let summaries = look.all(SUMMARIES, "").await?;
        let mut shelf = Shelf { cars: Vec::new(), aside: look.keys(ASIDE, "").await? };
        let mut doubtful = Vec::new();
        for id in ids {
            // Both are sorted.
            let at = known.binary_search(&id).ok();
            match at.and_then(|at| read(&summaries.get(u32::try_from(at).ok()?))) {
                Some(Ok(car)) => shelf.put(Row { id, car: Some(car) }),
                _ => doubtful.push(id),
            }
        }
        Ok((shelf, doubtful))
    })
    .await?;
    let mut shelf = shelf;
    for id in doubtful {
        match look_into(&id).await? {
            Some(Ok(car)) => shelf.put(Row { id, car: Some(car.summary()) }),
            Some(Err(Unread::Newer)) => shelf.put(Row { id, car: None }),
            Some(Err(Unread::Damaged)) => shelf.aside.push(id),
            None => {}
        }
    }
    Ok(shelf)
}

impl Shelf {
    fn put(&mut self, row: Row) {
        let saved_at = |row: &Row| row.car.as_ref().map_or(f64::NEG_INFINITY, |car| car.saved_at);
        let place = self.cars.partition_point(|other| saved_at(other) >= saved_at(&row));
        self.cars.insert(place, row);
    }
}

/// Reads a car. One that cannot be read is set aside; one without a summary is given one; one of a newer version is left.
pub(crate) async fn look_into(id: &str) -> Result<Option<Result<Record, Unread>>, Fault> {
    twice(async || {
        let work = Transaction::to_write(&STORES).await?;
        let value = work.get(CARS, id).await?;
        let mut car = read(&value);
        if car.as_ref().is_some_and(|car| car.as_ref().is_ok_and(|car| Draft::from_kept(&car.kept).is_none())) {
            car = Some(Err(Unread::Damaged));
        }
        match &car {
            Some(Ok(car)) => work.put(SUMMARIES, id, &car.summary().write().into())?,
            Some(Err(Unread::Damaged)) => {
                work.put(ASIDE, id, &value)?;
                work.delete(CARS, id)?;
                work.delete(SUMMARIES, id)?;
            }
            Some(Err(Unread::Newer)) | None => {}
        }
        work.done().await?;
        Ok(car)
    })
    .await
}

/// The earlier states of a car that can be read, the newest first.
pub(crate) async fn states(id: &str) -> Result<Vec<Record>, Fault> {
    twice(async || {
        let look = Transaction::to_read(&[REVISED]).await?;
        let all = look.all(REVISED, &format!("{id}/")).await?;
        Ok(all.iter().filter_map(|value| read(&value)?.ok()).rev().collect())
    })
    .await
}

/// What could not be read, as a text.
pub(crate) async fn aside(id: &str) -> Result<String, Fault> {
    twice(async || {
        let value = Transaction::to_read(&[ASIDE]).await?.get(ASIDE, id).await?;
        let text = || js_sys::JSON::stringify(&value).map(String::from).unwrap_or_default();
        Ok(value.as_string().unwrap_or_else(text))
    })
    .await
}

/// What was taken away, to be brought back.
#[derive(Clone, Debug, Default)]
pub(crate) struct Gone(Vec<(&'static str, String, JsValue)>);

/// Takes a car away with all that belongs to it; or what was set aside under that id.
pub(crate) async fn take_away(id: &str, from_aside: bool) -> Result<Gone, Fault> {
    twice(async || {
        let work = Transaction::to_write(&STORES).await?;
        let mut gone = Gone::default();
        let below = format!("{id}/");
        let all: &[(&'static str, &str)] = match from_aside {
            true => &[(ASIDE, id)],
            false => &[(CARS, id), (SUMMARIES, id), (REVISED, &below), (PHOTOS, &below)],
        };
        for (store, first) in all {
            for key in work.keys(store, first).await?.into_iter().filter(|key| key == first || *first == below) {
                gone.0.push((store, key.clone(), work.get(store, &key).await?));
                work.delete(store, &key)?;
            }
        }
        work.done().await?;
        Ok(gone)
    })
    .await
}

/// Brings back what was taken away. What stands in its place by now stays; gives the keys of the photos for which another
/// stands.
pub(crate) async fn bring_back(gone: &Gone) -> Result<Vec<String>, Fault> {
    // Two pictures of as many bytes are taken for the same: hardly two shots are (our choice).
    let size = |value: &JsValue| value.dyn_ref::<Blob>().map(|photo| photo.size().to_bits());
    twice(async || {
        let work = Transaction::to_write(&STORES).await?;
        let mut others = Vec::new();
        for (store, key, value) in &gone.0 {
            let here = work.get(store, key).await?;
            if here.is_undefined() {
                work.put(store, key, value)?;
            } else if size(&here) != size(value) {
                others.push(key.clone());
            }
        }
        work.done().await?;
        Ok(others)
    })
    .await
}

fn photo_key(id: &str, line: &str) -> String {
    format!("{id}/{line}")
}

/// The photo of a line.
pub(crate) async fn photo(id: &str, line: &str) -> Result<Option<Blob>, Fault> {
    twice(async || {
        let photo = Transaction::to_read(&[PHOTOS]).await?.get(PHOTOS, &photo_key(id, line)).await?;
        Ok(photo.dyn_into().ok())
    })
    .await
}

/// Keeps a photo of a line, or takes it away.
pub(crate) async fn set_photo(id: &str, line: &str, photo: Option<&Blob>) -> Result<(), Fault> {
    twice(async || {
        let work = Transaction::to_write(&[PHOTOS]).await?;
        let key = photo_key(id, line);
        match photo {
            Some(photo) => work.put(PHOTOS, &key, photo)?,
            None => work.delete(PHOTOS, &key)?,
        }
        work.done().await
    })
    .await
}
