//! Keeps the car at hand on this phone: after every change, when the page goes out of sight, and over a restart. It stands
//! in two places: at once where a killed tab cannot lose it, and then among all cars that are kept (`store`).

use crate::el::{El, Node, afterwards, button, div, el, keep, link, live, many, memo, note, p, when};
use crate::example::{EXAMPLE, EXAMPLE_CAR};
use crate::form::Draft;
use crate::measure::Screen;
use crate::store::record::Hand;
use crate::store::{self, Fault, Order, Saved};
use crate::words;
use gloo_events::EventListener;
use gloo_timers::callback::Timeout;
use leptos::prelude::*;
use leptos::task::spawn_local;
use share::json::Value;
use std::time::Duration;
use wasm_bindgen::{JsCast, JsValue, UnwrapThrowExt};
use web_sys::{BroadcastChannel, DomException, Element, HtmlElement, Storage, VisibilityState};

/// Where the run stands that was typed last. The tabs of a browser share it: the last one to change wins.
const LAST: &str = "hosewright.last";

/// Where the run stands that another took the place of, until it is taken back.
const BEFORE: &str = "hosewright.before";

/// Which of the kept cars each of them is.
const HAND: &str = "hosewright.car";
const HAND_BEFORE: &str = "hosewright.before-car";

/// Where a text is put that this version cannot read.
const ASIDE: &str = "hosewright.aside";

/// The form of the text, which stands in front of it.
const FORM: u32 = 2;

/// How long nothing must be typed before it is written (our choice: longer than between two keys, shorter than it takes
/// to put the phone away).
const PAUSE: Duration = Duration::from_millis(300);

/// How long a save or a look may take before it is told that it is not done, ms (our choice: it takes a few).
pub(crate) const LATE: u32 = 10_000;

/// Why the run was not kept, or is not shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Trouble {
    Damaged,
    Newer,
    Refused,
    Full,
}

impl Trouble {
    fn sentence(self) -> String {
        match self {
            Self::Damaged => words::DAMAGED,
            Self::Newer => words::NEWER,
            Self::Refused => words::REFUSED,
            Self::Full => words::FULL,
        }
        .to_owned()
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
fn restore() -> Result<Option<Kept>, Trouble> {
    let storage = storage()?;
    let Some(text) = storage.get_item(LAST)? else { return Ok(None) };
    let draft = unpacked(&text).inspect_err(|_| {
        // If there is no room for it, it stays where it is until something is typed.
        let aside = storage.set_item(ASIDE, &text).and_then(|()| storage.remove_item(LAST));
        aside.and_then(|()| storage.remove_item(HAND)).ok();
    });
    Ok(Some((draft?, hand_of(&storage, HAND, &text))))
}

/// A draft, and which of the kept cars it is.
type Kept = (Draft, Option<Hand>);

fn hand_of(storage: &Storage, at: &str, text: &str) -> Option<Hand> {
    Hand::read(&storage.get_item(at).ok()??, text)
}

/// Keeps a draft, and which car it is. The untouched example is not kept: a later version may bring a better one.
fn put(draft: &Draft, hand: Option<&Hand>) -> Result<(), Trouble> {
    if *draft == example() {
        storage()?.remove_item(LAST)?;
        storage()?.remove_item(HAND)?;
    } else {
        put_at((LAST, HAND), draft, hand)?;
    }
    Ok(())
}

fn put_at((at, hand_at): (&str, &str), draft: &Draft, hand: Option<&Hand>) -> Result<(), Trouble> {
    let (storage, text) = (storage()?, packed(draft));
    storage.set_item(at, &text)?;
    match hand {
        Some(hand) => storage.set_item(hand_at, &hand.write(&text))?,
        None => storage.remove_item(hand_at)?,
    }
    Ok(())
}

/// The run that another took the place of, if it can be read.
fn restore_before() -> Option<Kept> {
    let storage = storage().ok()?;
    let text = storage.get_item(BEFORE).ok()??;
    Some((unpacked(&text).ok()?, hand_of(&storage, HAND_BEFORE, &text)))
}

/// The runs that a file of all that is stored holds apart from the cars (`store::take_in`), and which of them each is; not those
/// of which nothing is said.
pub(crate) fn at_hand_in(text_at: impl Fn(&str) -> Option<String>) -> Vec<Kept> {
    let one = |(at, hand_at)| {
        let text = text_at(at)?;
        let (draft, hand) = (unpacked(&text).ok()?, text_at(hand_at).and_then(|line| Hand::read(&line, &text)));
        let says = hand.is_some() || !(draft.is_blank() || is_run(&draft) || is_example_car(&draft));
        says.then_some((draft, hand))
    };
    [(LAST, HAND), (BEFORE, HAND_BEFORE)].into_iter().filter_map(one).collect()
}

/// Whether it is the example run, or the example car, untouched; in whatever unit it is read.
fn is_run(draft: &Draft) -> bool {
    thread_local! {
        static WHOLE: Value = example().whole();
    }
    draft.runs().0 == 1 && WHOLE.with(|whole| draft.whole() == *whole)
}

fn is_example_car(draft: &Draft) -> bool {
    // It has several hoses: while one alone is typed, its file is not read with every key.
    draft.runs().0 > 1 && Draft::open(EXAMPLE_CAR).is_some_and(|car| draft.whole() == car.whole())
}

fn example() -> Draft {
    Draft::open(EXAMPLE).expect("a test reads the example")
}

/// Holds the draft and keeps it.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Keeper {
    /// What is being typed.
    pub(crate) draft: RwSignal<Draft>,
    /// Counts what was kept or taken away, here or in another tab.
    pub(crate) kept: RwSignal<u32>,
    /// Whether it is the example, untouched; the unit in which it is read may be another.
    is_example: Memo<bool>,
    /// What stood there before it was started afresh or another run was opened; kept too, so that no link overwrites it.
    before: RwSignal<Option<Draft>>,
    /// Why the car at hand is not kept, why it is not among the kept ones, and what is to be told of those: sentences.
    trouble: RwSignal<Option<String>>,
    fault: RwSignal<Option<String>>,
    told: RwSignal<Option<String>>,
    /// Whether something was typed that is not stored yet. Only then is anything written, so that a tab that is merely
    /// closed does not undo what was typed in another.
    unsaved: StoredValue<bool>,
    shelving: StoredValue<Shelving>,
}

thread_local! {
    /// By this the tabs hear each other, where the browser has it.
    static CHANNEL: Option<BroadcastChannel> = BroadcastChannel::new("hosewright").ok();
}

/// What is on its way to the cars that are kept.
#[derive(Debug, Default)]
struct Shelving {
    /// By this name this tab knows its own saves.
    by: String,
    /// Which of the kept cars is at hand; none until there is something to keep.
    hand: Option<Hand>,
    /// Which of them stood there before.
    hand_before: Option<Hand>,
    /// Not begun yet; one for each car at most.
    orders: Vec<Order>,
    is_busy: bool,
    /// Whether the state that is written over next is kept in any case.
    marks: bool,
    /// Whether what is kept next takes the photos away whose lines are no more: what was taken away can be taken back
    /// only as long as the tab lives.
    tidies: bool,
}

impl Keeper {
    /// Begins with what was kept, or with the example.
    pub(crate) fn start() -> Self {
        let (kept, trouble) = match restore() {
            Ok(kept) => (kept, None),
            Err(trouble) => (None, Some(trouble)),
        };
        let was_kept = kept.is_some();
        let (draft, hand) = kept.unwrap_or_else(|| (example(), None));
        let (before, hand_before) = restore_before().map_or((None, None), |(draft, hand)| (Some(draft), hand));
        let shelving = Shelving { by: store::random(4), hand, hand_before, tidies: true, ..Shelving::default() };
        let draft = RwSignal::new(draft);
        let is_example = move || draft.with(|draft| draft.is_sound() && (is_run(draft) || is_example_car(draft)));
        let keeper = Self {
            draft,
            kept: RwSignal::new(0),
            is_example: memo(is_example),
            before: RwSignal::new(before),
            trouble: RwSignal::new(trouble.map(Trouble::sentence)),
            fault: RwSignal::new(None),
            told: RwSignal::new(None),
            unsaved: StoredValue::new(false),
            shelving: StoredValue::new(shelving),
        };
        let mut after_pause = debounce(PAUSE, move |()| keeper.keep());
        let changed = move |_: &(), _: Option<&()>, _: Option<()>| {
            keeper.unsaved.set_value(true);
            after_pause(());
        };
        Effect::watch(move || keeper.draft.track(), changed, false);
        // A phone may end a page that is out of sight without a further word.
        let out_of_sight = move || document().visibility_state() == VisibilityState::Hidden;
        let mut ears = vec![
            EventListener::new(&document(), "visibilitychange", move |_| {
                if out_of_sight() {
                    keeper.keep();
                }
            }),
            EventListener::new(&window(), "pagehide", move |_| keeper.keep()),
        ];
        ears.extend(CHANNEL.with(|channel| {
            let hear = move |_: &_| keeper.kept.update(|count| *count += 1);
            channel.as_ref().map(|channel| EventListener::new(channel, "message", hear))
        }));
        keep(ears);
        store::on_given_up(move || keeper.fail(Fault::Newer));
        if was_kept {
            keeper.catch_up();
        }
        keeper
    }

    /// Stores at once what is not stored yet.
    pub(crate) fn keep(self) {
        if self.unsaved.try_update_value(std::mem::take) == Some(true) {
            self.take_number();
            let hand = self.hand();
            let stored = self.draft.with_untracked(|draft| put(draft, hand.as_ref()));
            self.trouble.set(stored.err().map(Trouble::sentence));
            self.order();
        }
        self.shelve();
    }

    /// What the tab did not get done before it ended.
    fn catch_up(self) {
        self.take_number();
        self.order();
        self.shelve();
    }

    /// Keeps the car at hand even if it is an example as it came: something else belongs to it now.
    pub(crate) fn keep_at_all(self) -> Option<Hand> {
        if self.hand().is_none() {
            self.set_hand(Some(Hand { id: store::random(12), rev: 0, by: String::new() }));
            self.unsaved.set_value(true);
        }
        self.keep();
        self.hand()
    }

    /// Gives the car at hand its number among those that are kept, if it has something to keep.
    fn take_number(self) {
        if self.hand().is_none() && !self.at_example_untracked() && !self.draft.with_untracked(Draft::is_blank) {
            self.set_hand(Some(Hand { id: store::random(12), rev: 0, by: String::new() }));
            self.note_hand();
        }
    }

    /// Which of the kept cars is at hand.
    pub(crate) fn hand(self) -> Option<Hand> {
        self.shelving.with_value(|shelving| shelving.hand.clone())
    }

    fn set_hand(self, hand: Option<Hand>) {
        self.shelving.update_value(|shelving| {
            let by = shelving.by.clone();
            shelving.hand = hand.map(|hand| Hand { by, ..hand });
        });
    }

    pub(crate) fn is_at_hand(self, id: &str) -> bool {
        self.shelving.with_value(|shelving| shelving.hand.as_ref().is_some_and(|hand| hand.id == id))
    }

    /// Notes which car it is beside its text, if that is still what stands there.
    fn note_hand(self) {
        let note = || {
            let (storage, text) = (storage()?, self.draft.with_untracked(packed));
            let hand = self.hand();
            if let Some(hand) = hand.filter(|_| storage.get_item(LAST).is_ok_and(|last| last.as_ref() == Some(&text))) {
                storage.set_item(HAND, &hand.write(&text))?;
            }
            Ok::<_, Trouble>(())
        };
        // That it keeps nothing has been said; it is a car of its own after a restart then.
        note().ok();
    }

    /// Puts the car at hand among what is to be kept.
    fn order(self) {
        let Some(hand) = self.hand() else { return };
        self.draft.with_untracked(|draft| {
            self.shelving.update_value(|shelving| {
                let mut order = Order {
                    hand,
                    name: draft.car_name(),
                    hoses: draft.runs().0,
                    kept: draft.kept(),
                    lines: draft.line_names(),
                    tidies: std::mem::take(&mut shelving.tidies),
                    marks: std::mem::take(&mut shelving.marks),
                    from: None,
                };
                if let Some(at) = shelving.orders.iter().position(|other| other.hand.id == order.hand.id) {
                    let before = shelving.orders.remove(at);
                    order.tidies |= before.tidies;
                    order.marks |= before.marks;
                }
                shelving.orders.push(order);
            });
        });
    }

    /// Keeps what is to be kept, one after the other.
    fn shelve(self) {
        let next = |shelving: &mut Shelving| {
            let next = (!shelving.is_busy && !shelving.orders.is_empty()).then(|| shelving.orders.remove(0));
            shelving.is_busy |= next.is_some();
            next
        };
        let Some(order) = self.shelving.try_update_value(next).flatten() else { return };
        // A browser may neither do it nor refuse it.
        let late = Timeout::new(LATE, move || self.fail(Fault::Lost));
        spawn_local(async move {
            let saved = store::save(&order).await;
            drop(late);
            self.shelving.update_value(|shelving| shelving.is_busy = false);
            self.fault.set(saved.as_ref().err().map(|fault| fault.sentence().to_owned()));
            match saved {
                Ok(saved) => {
                    self.saved(&order, saved);
                    self.tell_tabs();
                    self.shelve();
                }
                // It is tried again with the next change.
                Err(_) => self.shelving.update_value(|shelving| {
                    if shelving.orders.iter().all(|other| other.hand.id != order.hand.id) {
                        shelving.orders.push(order);
                    }
                }),
            }
        });
    }

    /// What became of a save.
    fn saved(self, order: &Order, saved: Saved) {
        let is_at_hand = self.is_at_hand(&order.hand.id);
        let by = order.hand.by.clone();
        let (hand, name) = match saved {
            Saved::As { rev } => (Hand { id: order.hand.id.clone(), rev, by }, None),
            Saved::Copied { hand, name } => (hand, Some(name)),
        };
        // What goes on from it goes on from here.
        self.shelving.update_value(|shelving| {
            let Shelving { by, orders, hand: at_hand, hand_before, .. } = shelving;
            let hands = orders.iter_mut().map(|order| &mut order.hand).chain(at_hand).chain(hand_before);
            for other in hands.filter(|other| other.id == order.hand.id) {
                *other = Hand { by: by.clone(), ..hand.clone() };
            }
        });
        if is_at_hand {
            self.note_hand();
        }
        if let Some(name) = name {
            self.told.set(Some(words::KEPT_AS_COPY.replace("{}", &name)));
            if is_at_hand {
                self.draft.update(|draft| draft.set_at("/car", name.into()));
            }
        }
    }

    /// Tells this tab and the others that something was kept or taken away.
    pub(crate) fn tell_tabs(self) {
        self.kept.update(|count| *count += 1);
        // Refused only to a channel that was closed, which this one never is.
        CHANNEL.with(|channel| channel.as_ref().map(|channel| channel.post_message(&JsValue::NULL).ok()));
    }

    /// Tells something of the cars that are kept, or that they cannot be.
    pub(crate) fn tell(self, what: impl Into<Option<String>>) {
        self.told.set(what.into());
    }

    /// Tells why a deed at the kept cars failed.
    pub(crate) fn fail(self, fault: Fault) {
        self.fault.set(Some(fault.sentence().to_owned()));
    }

    fn start_afresh(self) {
        self.open(example());
    }

    /// Puts another run in the place of the one at hand, which can be taken back.
    pub(crate) fn open(self, draft: Draft) {
        self.open_kept(draft, None);
    }

    /// The same with one of the kept cars.
    pub(crate) fn open_kept(self, draft: Draft, hand: Option<Hand>) {
        // What was typed last belongs to the car before.
        self.keep();
        let at_hand = self.draft.get_untracked();
        if at_hand != example() {
            let its = self.hand();
            // Without storage it can be taken back as long as the page is open; that it keeps nothing has been said.
            put_at((BEFORE, HAND_BEFORE), &at_hand, its.as_ref()).ok();
            self.shelving.update_value(|shelving| shelving.hand_before = its);
            self.before.set(Some(at_hand));
        }
        self.take(draft, hand);
    }

    fn take(self, draft: Draft, hand: Option<Hand>) {
        self.set_hand(hand);
        self.draft.set(draft);
        // At once: a link opens before the page watches for changes, and it is gone from the address.
        self.unsaved.set_value(true);
        self.keep();
    }

    /// Goes back to an earlier state of the car at hand; the state it is in stays among the earlier ones.
    pub(crate) fn go_back_to(self, draft: Draft) {
        self.keep();
        self.shelving.update_value(|shelving| shelving.marks = true);
        self.draft.set(draft);
        self.unsaved.set_value(true);
        self.keep();
    }

    /// Lets the car at hand go: it was taken away from those that are kept.
    pub(crate) fn let_go(self) {
        self.shelving.update_value(|shelving| {
            let Shelving { orders, hand, .. } = shelving;
            orders.retain(|order| hand.as_ref().is_none_or(|hand| hand.id != order.hand.id));
        });
        self.unsaved.set_value(false);
        self.take(example(), None);
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
        self.keep();
        if let Some(before) = self.before.try_update(Option::take).flatten() {
            for at in [BEFORE, HAND_BEFORE] {
                storage().and_then(|storage| Ok(storage.remove_item(at)?)).ok();
            }
            let hand = self.shelving.try_update_value(|shelving| shelving.hand_before.take()).flatten();
            self.take(before, hand);
        }
    }
}

/// Says in one sentence when something could not be kept or shown.
pub(crate) fn keeping_trouble(keeper: Keeper) -> El {
    let said = |what: RwSignal<Option<String>>| live(move || what.get().map(|said| p("ex", said)));
    let all = [keeper.trouble, keeper.fault, keeper.told];
    el("div").attr("role", "status").put_all(all.map(said))
}

/// Goes back to the example, and back from there.
pub(crate) fn start_afresh(keeper: Keeper) -> Node {
    let pressed = StoredValue::new(false);
    let press = move || {
        pressed.set_value(true);
        keeper.start_afresh();
    };
    let afresh = move || div("row").put(button("bt", words::AFRESH, press));
    let back = move || {
        // The button that was pressed is gone: whoever works by keyboard stands at the one that takes it back.
        let stand_here = move |button: &Element| {
            if pressed.try_update_value(std::mem::take) == Some(true) {
                let button: HtmlElement = button.clone().unchecked_into();
                afterwards(move || button.focus().unwrap_throw());
            }
        };
        div("row")
            .put(note(words::AFRESH_DONE).attr("role", "status"))
            .put(button("bt", words::UNDO, move || keeper.undo()).made(stand_here))
    };
    many![
        when(move || !keeper.at_example(), afresh),
        when(move || keeper.before.with(Option::is_some), back),
        p("row", link("bt", Screen::Cars.hash(), words::CARS)),
    ]
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
