//! Keeps the run on this phone: after every change, when the page goes out of sight, and over a restart.

use crate::el::{El, Node, afterwards, button, div, el, keep, live, many, memo, note, p, when};
use crate::example::{EXAMPLE, EXAMPLE_CAR};
use crate::form::Draft;
use crate::words;
use gloo_events::EventListener;
use leptos::prelude::*;
use std::time::Duration;
use wasm_bindgen::{JsCast, JsValue, UnwrapThrowExt};
use web_sys::{DomException, Element, HtmlElement, Storage, VisibilityState};

/// Where the run stands that was typed last. The tabs of a browser share it: the last one to change wins.
const LAST: &str = "hosewright.last";

/// Where the run stands that another took the place of, until it is taken back.
const BEFORE: &str = "hosewright.before";

/// Where a text is put that this version cannot read.
const ASIDE: &str = "hosewright.aside";

/// The form of the text, which stands in front of it.
const FORM: u32 = 2;

/// How long nothing must be typed before it is written (our choice: longer than between two keys, shorter than it takes
/// to put the phone away).
const PAUSE: Duration = Duration::from_millis(300);

/// Why the run was not kept, or is not shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Trouble {
    Damaged,
    Newer,
    Refused,
    Full,
}

impl Trouble {
    fn sentence(self) -> &'static str {
        match self {
            Self::Damaged => words::DAMAGED,
            Self::Newer => words::NEWER,
            Self::Refused => words::REFUSED,
            Self::Full => words::FULL,
        }
    }
}

impl From<JsValue> for Trouble {
    fn from(thrown: JsValue) -> Self {
        // The Storage interface of the HTML standard throws this when there is no room.
        let full = thrown.dyn_ref::<DomException>().is_some_and(|thrown| thrown.name() == "QuotaExceededError");
        if full { Self::Full } else { Self::Refused }
    }
}

/// The draft as it is stored.
fn packed(draft: &Draft) -> String {
    format!("{FORM} {}", draft.kept())
}

/// A stored draft.
fn unpacked(text: &str) -> Result<Draft, Trouble> {
    let (form, kept) = text.split_once(' ').ok_or(Trouble::Damaged)?;
    match form.parse::<u32>() {
        Ok(1..=FORM) => Draft::from_kept(kept).ok_or(Trouble::Damaged),
        Ok(newer) if newer > FORM => Err(Trouble::Newer),
        _ => Err(Trouble::Damaged),
    }
}

fn storage() -> Result<Storage, Trouble> {
    window().local_storage()?.ok_or(Trouble::Refused)
}

/// The draft that was kept, if there is one; what cannot be read is set aside.
fn restore() -> Result<Option<Draft>, Trouble> {
    let storage = storage()?;
    let Some(text) = storage.get_item(LAST)? else { return Ok(None) };
    unpacked(&text).map(Some).inspect_err(|_| {
        // If there is no room for it, it stays where it is until something is typed.
        storage.set_item(ASIDE, &text).and_then(|()| storage.remove_item(LAST)).ok();
    })
}

/// Keeps a draft. The untouched example is not kept: a later version may bring a better one.
fn store(draft: &Draft) -> Result<(), Trouble> {
    if *draft == example() {
        storage()?.remove_item(LAST)?;
    } else {
        storage()?.set_item(LAST, &packed(draft))?;
    }
    Ok(())
}

/// The run that another took the place of, if it can be read.
fn restore_before() -> Option<Draft> {
    unpacked(&storage().ok()?.get_item(BEFORE).ok()??).ok()
}

/// Whether it is the example run, or the example car, untouched; in whatever unit it is read.
fn is_run(draft: &Draft) -> bool {
    draft.whole() == example().whole()
}

fn is_example_car(draft: &Draft) -> bool {
    Draft::open(EXAMPLE_CAR).is_some_and(|car| draft.whole() == car.whole())
}

fn example() -> Draft {
    Draft::open(EXAMPLE).expect("a test reads the example")
}

/// Holds the draft and keeps it.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Keeper {
    /// What is being typed.
    pub(crate) draft: RwSignal<Draft>,
    /// Whether it is the example, untouched; the unit in which it is read may be another.
    is_example: Memo<bool>,
    /// What stood there before it was started afresh or another run was opened; kept too, so that no link overwrites it.
    before: RwSignal<Option<Draft>>,
    trouble: RwSignal<Option<Trouble>>,
    /// Whether something was typed that is not stored yet. Only then is anything written, so that a tab that is merely
    /// closed does not undo what was typed in another.
    unsaved: StoredValue<bool>,
}

impl Keeper {
    /// Begins with what was kept, or with the example.
    pub(crate) fn start() -> Self {
        let (kept, trouble) = match restore() {
            Ok(kept) => (kept, None),
            Err(trouble) => (None, Some(trouble)),
        };
        let draft = RwSignal::new(kept.unwrap_or_else(example));
        let is_example = move || draft.with(|draft| draft.is_sound() && (is_run(draft) || is_example_car(draft)));
        let keeper = Self {
            draft,
            is_example: memo(is_example),
            before: RwSignal::new(restore_before()),
            trouble: RwSignal::new(trouble),
            unsaved: StoredValue::new(false),
        };
        let mut after_pause = debounce(PAUSE, move |()| keeper.keep());
        let changed = move |_: &(), _: Option<&()>, _: Option<()>| {
            keeper.unsaved.set_value(true);
            after_pause(());
        };
        Effect::watch(move || keeper.draft.track(), changed, false);
        // A phone may end a page that is out of sight without a further word.
        let out_of_sight = move || document().visibility_state() == VisibilityState::Hidden;
        let ears = [
            EventListener::new(&document(), "visibilitychange", move |_| {
                if out_of_sight() {
                    keeper.keep();
                }
            }),
            EventListener::new(&window(), "pagehide", move |_| keeper.keep()),
        ];
        keep(ears);
        keeper
    }

    /// Stores at once what is not stored yet.
    pub(crate) fn keep(self) {
        if self.unsaved.try_update_value(std::mem::take) == Some(true) {
            self.trouble.set(self.draft.with_untracked(store).err());
        }
    }

    fn start_afresh(self) {
        self.open(example());
    }

    /// Puts another run in the place of the one at hand, which can be taken back.
    pub(crate) fn open(self, draft: Draft) {
        let at_hand = self.draft.get_untracked();
        if at_hand != example() {
            // Without storage it can be taken back as long as the page is open; that it keeps nothing has been said.
            storage().and_then(|storage| Ok(storage.set_item(BEFORE, &packed(&at_hand))?)).ok();
            self.before.set(Some(at_hand));
        }
        self.draft.set(draft);
        // At once: a link opens before the page watches for changes, and it is gone from the address.
        self.unsaved.set_value(true);
        self.keep();
    }

    /// The same without being told when it changes.
    pub(crate) fn at_example_untracked(self) -> bool {
        self.is_example.get_untracked()
    }

    /// Whether the run at hand is the example, untouched.
    pub(crate) fn at_example(self) -> bool {
        self.is_example.get()
    }

    fn undo(self) {
        if let Some(before) = self.before.try_update(Option::take).flatten() {
            storage().and_then(|storage| Ok(storage.remove_item(BEFORE)?)).ok();
            self.draft.set(before);
        }
    }
}

/// Says in one sentence when something could not be kept or shown.
pub(crate) fn keeping_trouble(keeper: Keeper) -> El {
    let said = move || keeper.trouble.get().map(|trouble| p("ex", trouble.sentence()));
    el("div").attr("role", "status").put(live(said))
}

/// Goes back to the example, and back from there.
pub(crate) fn start_afresh(keeper: Keeper) -> Node {
    let afresh = move || div("row").put(button("bt", words::AFRESH, move || keeper.start_afresh()));
    let back = move || {
        // The button that was pressed is gone: whoever works by keyboard stands at the one that takes it back.
        let stand_here = |button: &Element| {
            let button: HtmlElement = button.clone().unchecked_into();
            afterwards(move || button.focus().unwrap_throw());
        };
        div("row")
            .put(note(words::AFRESH_DONE).attr("role", "status"))
            .put(button("bt", words::UNDO, move || keeper.undo()).made(stand_here))
    };
    many![when(move || !keeper.at_example(), afresh), when(move || keeper.before.with(Option::is_some), back),]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_packed_is_unpacked() {
        let mut draft = example();
        draft.swap_unit();
        assert_eq!(unpacked(&packed(&draft)), Ok(draft));
    }

    #[test]
    fn a_newer_form_is_told_from_a_damaged_text() {
        let kept = example().kept();
        assert_eq!(unpacked(&format!("{} {kept}", FORM + 1)), Err(Trouble::Newer));
        for text in ["", " ", "1", "1 ", "1 {}", "0 {}", "-1 {}", "one {}", &kept] {
            assert_eq!(unpacked(text), Err(Trouble::Damaged), "{text}");
        }
    }
}
