//! The thin layer over the browser's IndexedDB: open, read, write, and what can go wrong. It knows nothing of cars.

use crate::words;
use js_sys::{Array, Function, Promise};
use leptos::prelude::window;
use std::cell::RefCell;
use std::rc::Rc;
use wasm_bindgen::prelude::*;
use wasm_bindgen_futures::JsFuture;
use web_sys::{DomException, Event, IdbDatabase, IdbKeyRange, IdbObjectStore, IdbRequest, IdbTransaction};

#[wasm_bindgen]
extern "C" {
    /// The database, for what web-sys counts as unstable: how durable a transaction is (in every engine since 2024).
    type Durable;

    #[wasm_bindgen(method, catch)]
    fn transaction(this: &Durable, stores: &Array, mode: &str, options: &JsValue) -> Result<IdbTransaction, JsValue>;
}

const NAME: &str = "hosewright";
const VERSION: u32 = 1;

/// Why something was not kept or not read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Fault {
    /// This browser has no such storage.
    Missing,
    /// It does not let the page use it.
    Refused,
    Full,
    /// A newer version of the page, in another tab, has made the storage its own.
    Newer,
    /// The connection broke.
    Lost,
}

impl Fault {
    pub(crate) fn sentence(self) -> &'static str {
        match self {
            Self::Missing => words::NO_SHELF,
            Self::Refused => words::SHELF_REFUSED,
            Self::Full => words::SHELF_FULL,
            Self::Newer => words::SHELF_NEWER,
            Self::Lost => words::SHELF_LOST,
        }
    }

    /// By the names that Indexed Database API 3.0 (W3C) and Web IDL give to what is thrown.
    fn of(thrown: Option<&DomException>) -> Self {
        match thrown.map(DomException::name).as_deref() {
            Some("QuotaExceededError") => Self::Full,
            Some("VersionError") => Self::Newer,
            // A connection that broke shows in several ways, and so does a transaction that the browser ended.
            Some("InvalidStateError" | "UnknownError" | "AbortError" | "TransactionInactiveError") => Self::Lost,
            _ => Self::Refused,
        }
    }
}

impl From<JsValue> for Fault {
    fn from(thrown: JsValue) -> Self {
        Self::of(thrown.dyn_ref())
    }
}

/// The connection of this tab.
enum Line {
    Closed,
    Open(IdbDatabase),
    /// Given up for a newer version.
    GivenUp,
}

thread_local! {
    static LINE: RefCell<Line> = const { RefCell::new(Line::Closed) };
    /// Is called when the storage was given up.
    static GIVEN_UP: RefCell<Option<Rc<dyn Fn()>>> = const { RefCell::new(None) };
}

/// Is called when another tab, of a newer version, needs the storage for itself.
pub(crate) fn on_given_up(tell: impl Fn() + 'static) {
    GIVEN_UP.with(|told| told.replace(Some(Rc::new(tell))));
}

/// Waits until one of two handlers is called; whether it was the first.
async fn either(set: impl Fn(&Function, &Function)) -> bool {
    let promise = Promise::new(&mut |done, failed| set(&done, &failed));
    JsFuture::from(promise).await.is_ok()
}

/// Waits for a request.
async fn answer(request: &IdbRequest) -> Result<JsValue, Fault> {
    let done = either(|done, failed| {
        request.set_onsuccess(Some(done));
        request.set_onerror(Some(failed));
    });
    match done.await {
        true => Ok(request.result()?),
        false => Err(Fault::of(request.error()?.as_ref())),
    }
}

async fn open() -> Result<IdbDatabase, Fault> {
    let at_hand = LINE.with_borrow(|line| match line {
        Line::Open(base) => Some(Ok(base.clone())),
        Line::GivenUp => Some(Err(Fault::Newer)),
        Line::Closed => None,
    });
    if let Some(at_hand) = at_hand {
        return at_hand;
    }
    let request = window().indexed_db()?.ok_or(Fault::Missing)?.open_with_u32(NAME, VERSION)?;
    let fresh = request.clone();
    let make = Closure::once_into_js(move || {
        if let Ok(base) = fresh.result() {
            for store in super::STORES {
                base.unchecked_ref::<IdbDatabase>().create_object_store(store).ok();
            }
        }
    });
    request.set_onupgradeneeded(Some(make.unchecked_ref()));
    let base: IdbDatabase = answer(&request).await?.unchecked_into();
    let old = base.clone();
    let give_up = Closure::<dyn FnMut(Event)>::new(move |event: Event| {
        // It is taken away, not replaced: the next deed makes it anew.
        if js_sys::Reflect::get(&event, &"newVersion".into()).is_ok_and(|version| version.is_null()) {
            return forget();
        }
        old.close();
        LINE.set(Line::GivenUp);
        if let Some(tell) = GIVEN_UP.with_borrow(Option::clone) {
            tell();
        }
    });
    base.set_onversionchange(Some(give_up.into_js_value().unchecked_ref()));
    let closed = Closure::<dyn FnMut()>::new(forget);
    base.set_onclose(Some(closed.into_js_value().unchecked_ref()));
    LINE.set(Line::Open(base.clone()));
    Ok(base)
}

/// Forgets a connection that broke; the next deed opens another.
fn forget() {
    LINE.with_borrow_mut(|line| {
        if let Line::Open(base) = line {
            base.close();
            *line = Line::Closed;
        }
    });
}

/// Does something; if the connection breaks over it, once more with a new one.
pub(super) async fn twice<T>(deed: impl AsyncFn() -> Result<T, Fault>) -> Result<T, Fault> {
    let mut again = true;
    loop {
        match deed().await {
            Err(Fault::Lost) if again => {
                again = false;
                forget();
            }
            result => return result,
        }
    }
}

/// A transaction over some of the stores. If it is dropped before it is done, nothing of it stands.
pub(super) struct Transaction(IdbTransaction);

impl Drop for Transaction {
    fn drop(&mut self) {
        // Refused if it is over, as every one is that was waited for.
        self.0.abort().ok();
    }
}

impl Transaction {
    async fn begin(stores: &[&str], mode: &str) -> Result<Self, Fault> {
        let base = open().await?;
        let names: Array = stores.iter().map(|name| JsValue::from_str(name)).collect();
        // Browsers that do not know the word take no notice of it.
        let options = js_sys::Object::new();
        js_sys::Reflect::set(&options, &"durability".into(), &"strict".into())?;
        Ok(Self(base.unchecked_ref::<Durable>().transaction(&names, mode, &options)?))
    }

    pub(super) async fn to_read(stores: &[&str]) -> Result<Self, Fault> {
        Self::begin(stores, "readonly").await
    }

    pub(super) async fn to_write(stores: &[&str]) -> Result<Self, Fault> {
        Self::begin(stores, "readwrite").await
    }

    fn store(&self, name: &str) -> Result<IdbObjectStore, Fault> {
        Ok(self.0.object_store(name)?)
    }

    /// What stands under a key; undefined if nothing does.
    pub(super) async fn get(&self, store: &str, key: &str) -> Result<JsValue, Fault> {
        answer(&self.store(store)?.get(&key.into())?).await
    }

    /// All keys that begin so, sorted.
    pub(super) async fn keys(&self, store: &str, first: &str) -> Result<Vec<String>, Fault> {
        let keys = answer(&self.store(store)?.get_all_keys_with_key(&range(first)?)?).await?;
        Ok(keys.unchecked_into::<Array>().iter().map(|key| key.as_string().unwrap_or_default()).collect())
    }

    /// What stands under all keys that begin so, in their order.
    pub(super) async fn all(&self, store: &str, first: &str) -> Result<Array, Fault> {
        Ok(answer(&self.store(store)?.get_all_with_key(&range(first)?)?).await?.unchecked_into())
    }

    pub(super) fn put(&self, store: &str, key: &str, value: &JsValue) -> Result<(), Fault> {
        self.store(store)?.put_with_key(value, &key.into())?;
        Ok(())
    }

    pub(super) fn delete(&self, store: &str, key: &str) -> Result<(), Fault> {
        self.store(store)?.delete(&key.into())?;
        Ok(())
    }

    /// Waits until all that was written stands.
    pub(super) async fn done(self) -> Result<(), Fault> {
        let done = either(|done, failed| {
            self.0.set_oncomplete(Some(done));
            self.0.set_onabort(Some(failed));
        });
        match done.await {
            true => Ok(()),
            false => Err(Fault::of(self.0.error().as_ref())),
        }
    }
}

/// All keys that begin so; every key is made of characters before U+FFFF.
fn range(first: &str) -> Result<JsValue, Fault> {
    Ok(IdbKeyRange::bound(&first.into(), &format!("{first}\u{ffff}").into())?.into())
}
