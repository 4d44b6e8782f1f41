//! The cars kept on this phone: a list to open from, files in and out, earlier states, what could not be read.

mod file;

use crate::el::{El, Node, button, div, el, link, list, live, many, note, p, section, small, when};
use crate::form::Draft;
use crate::keep::Keeper;
use crate::measure::Screen;
use crate::store::record::{Hand, Record, Unread};
use crate::store::{self, Fault, Gone, Row, Shelf};
use crate::words;
use leptos::prelude::*;
use leptos::task::spawn_local;
use wasm_bindgen::JsCast;
use web_sys::{Event, HtmlInputElement};

/// What the screen shows of the store.
#[derive(Clone, Copy)]
struct Listing {
    keeper: Keeper,
    shelf: RwSignal<Option<Shelf>>,
    /// Which car is unfolded.
    unfolded: RwSignal<Option<String>>,
    /// Its earlier states.
    states: RwSignal<Vec<Record>>,
    gone: RwSignal<Option<Gone>, LocalStorage>,
    /// What a file brought, or why it did not.
    came: RwSignal<Vec<String>>,
}

/// The screen.
pub(crate) fn cars(keeper: Keeper) -> Node {
    let listing = Listing {
        keeper,
        shelf: RwSignal::new(None),
        unfolded: RwSignal::new(None),
        states: RwSignal::new(Vec::new()),
        gone: RwSignal::new_local(None),
        came: RwSignal::new(Vec::new()),
    };
    // What was typed last is among them, too.
    keeper.keep();
    Effect::new(move |_| {
        keeper.kept.track();
        listing.look();
    });
    let undo = move || {
        let back = move || listing.bring_back();
        div("row").put(note(words::CAR_GONE).attr("role", "status")).put(button("bt", words::UNDO, back))
    };
    let new = move || {
        let unit = keeper.draft.with_untracked(|draft| draft.unit);
        keeper.open(Draft::fresh(None, unit));
        Screen::Car.go();
    };
    let rows = move || {
        let at_hand = keeper.hand.get().map(|hand| hand.id);
        listing.shelf.with(|shelf| {
            let shelf = shelf.as_ref()?;
            let all = shelf.cars.iter().map(|car| row(car, at_hand.as_deref() == Some(&car.id), listing));
            Some(all.collect::<Vec<_>>())
        })
    };
    let is_empty = move || listing.shelf.with(|shelf| shelf.as_ref().is_some_and(|shelf| shelf.cars.is_empty()));
    let aside = move || {
        let ids = listing.shelf.with(|shelf| shelf.as_ref().map(|shelf| shelf.aside.clone()).unwrap_or_default());
        (!ids.is_empty()).then(|| unread(ids, listing))
    };
    many![
        el("section")
            .put(note(words::CARS_HOW))
            .put(when(move || listing.gone.with(Option::is_some), undo))
            .put(when(is_empty, || p("vd", words::NO_CARS)))
            .put(el("ul").class("ls plain cars").put(live(rows)))
            .put(button("bt m", words::NEW_CAR, new)),
        live(aside),
        take_in(listing),
        p("row", link("bt", Screen::Car.hash(), words::BACK_TO_CAR)),
    ]
}

impl Listing {
    /// Does something at the store; a fault is told.
    fn at_store<T: 'static>(
        self,
        deed: impl Future<Output = Result<T, Fault>> + 'static,
        then: impl FnOnce(T) + 'static,
    ) {
        spawn_local(async move {
            match deed.await {
                Ok(done) => then(done),
                Err(fault) => self.keeper.fail(fault),
            }
        });
    }

    fn look(self) {
        self.at_store(store::list(), move |shelf| drop(self.shelf.try_set(Some(shelf))));
    }

    /// Reads a car and goes on with it; of one that cannot be read it is told.
    fn with_car(self, id: &str, then: impl FnOnce(Draft, Record) + 'static) {
        let id = id.to_owned();
        let deed = async move { store::look_into(&id).await };
        self.at_store(deed, move |car| {
            match car {
                Some(Ok(car)) => match Draft::from_kept(&car.kept) {
                    Some(draft) => return then(draft, car),
                    None => self.keeper.tell(words::CAR_UNREAD.to_owned()),
                },
                Some(Err(Unread::Damaged)) => self.keeper.tell(words::CAR_UNREAD.to_owned()),
                Some(Err(Unread::Newer)) => self.keeper.tell(words::CAR_NEWER.to_owned()),
                None => {}
            }
            self.keeper.tell_tabs();
        });
    }

    fn is_at_hand(self, id: &str) -> bool {
        self.keeper.hand.with_untracked(|hand| hand.as_ref().is_some_and(|hand| hand.id == id))
    }

    fn open(self, id: &str) {
        if self.is_at_hand(id) {
            show(&self.keeper.draft.get_untracked());
            return;
        }
        let at = id.to_owned();
        self.with_car(id, move |draft, car| {
            show(&draft);
            self.keeper.open_kept(draft, Some(hand_at(&at, car.rev)));
        });
    }

    fn export(self, id: &str) {
        let write = |draft: &Draft| {
            file::save(&file::name(&draft.car_name()), &draft.whole().to_string()).ok();
        };
        if self.is_at_hand(id) {
            self.keeper.draft.with_untracked(write);
        } else {
            self.with_car(id, move |draft, _| write(&draft));
        }
    }

    fn take_away(self, id: String, from_aside: bool) {
        let taken = id.clone();
        self.at_store(async move { store::take_away(&taken, from_aside).await }, move |gone| {
            self.gone.set(Some(gone));
            if self.is_at_hand(&id) {
                self.keeper.let_go();
            }
            self.keeper.tell_tabs();
        });
    }

    fn bring_back(self) {
        let Some(gone) = self.gone.get_untracked() else { return };
        self.at_store(async move { store::bring_back(&gone).await }, move |()| {
            self.gone.set(None);
            self.keeper.tell_tabs();
        });
    }

    fn unfold(self, id: &str) {
        self.states.set(Vec::new());
        if self.unfolded.get_untracked().as_deref() == Some(id) {
            self.unfolded.set(None);
            return;
        }
        self.unfolded.set(Some(id.to_owned()));
        let id = id.to_owned();
        self.at_store(async move { store::states(&id).await }, move |states| drop(self.states.try_set(states)));
    }

    /// Goes back to an earlier state of a car, which is at hand then.
    fn go_back(self, id: &str, state: Draft) {
        let keeper = self.keeper;
        if self.is_at_hand(id) {
            show(&state);
            keeper.go_back_to(state);
            return;
        }
        let at = id.to_owned();
        self.with_car(id, move |draft, car| {
            show(&state);
            keeper.open_kept(draft, Some(hand_at(&at, car.rev)));
            keeper.go_back_to(state);
        });
    }
}

/// A car taken in hand at that state; the keeper says in which tab.
fn hand_at(id: &str, rev: u32) -> Hand {
    Hand { id: id.to_owned(), rev, by: String::new() }
}

/// Shows a car that is at hand: the whole of it, or its one run.
fn show(draft: &Draft) {
    if draft.is_car() { Screen::Car } else { Screen::Sheet }.go();
}

/// Day and time as ISO 8601 writes them, in the phone's own zone.
fn day(ms: f64) -> (String, String) {
    let date = js_sys::Date::new(&ms.into());
    let two = |number: u32| format!("{number:02}");
    let day = format!("{}-{}-{}", date.get_full_year(), two(date.get_month() + 1), two(date.get_date()));
    (day, format!("{}:{}", two(date.get_hours()), two(date.get_minutes())))
}

fn hoses(count: usize) -> String {
    format!("{count} {}", if count == 1 { "hose" } else { "hoses" })
}

fn or_no_name(name: &str) -> String {
    if name.is_empty() { words::NO_NAME } else { name }.to_owned()
}

/// One car.
fn row(Row { id, car }: &Row, is_at_hand: bool, listing: Listing) -> El {
    let li = el("li").key(id.clone());
    let Some(car) = car else {
        return li.put(div("").put(el("b").put(words::NEWER_CAR)).put(small(words::CAR_NEWER)));
    };
    let (day, time) = day(car.saved_at);
    let says = format!("{day}, {time} · {}{}", hoses(car.hoses), if is_at_hand { words::AT_HAND } else { "" });
    let name = or_no_name(&car.name);
    let (open, more, unfolded) = (id.clone(), id.clone(), id.clone());
    let is_unfolded = move || listing.unfolded.with(|at| at.as_ref() == Some(&unfolded));
    let is_unfolded = Memo::new(move |_| is_unfolded());
    let unfold = button("bt short", words::MORE, move || listing.unfold(&more))
        .attr("aria-label", format!("{}: {name}", words::MORE))
        .live("aria-expanded", move || is_unfolded.get().to_string());
    let below = id.clone();
    li.put(
        el("button")
            .attrs([("type", "button"), ("class", "row-link")])
            .put(el("b").put(name))
            .put(small(says))
            .on_click(move || listing.open(&open)),
    )
    .put(unfold)
    .put(live(move || is_unfolded.get().then(|| more_of(&below, listing))))
}

/// What can be done with a car, and its earlier states.
fn more_of(id: &str, listing: Listing) -> El {
    let (out, away, back) = (id.to_owned(), id.to_owned(), id.to_owned());
    let states = move || {
        let back = back.clone();
        listing.states.with(|states| {
            let all = states.iter().filter_map(|state| Some((state, Draft::from_kept(&state.kept)?)));
            all.map(|(state, draft)| earlier(state, draft, &back, listing)).collect::<Vec<_>>()
        })
    };
    div("wide-row")
        .put(div("row").put(button("bt", words::EXPORT, move || listing.export(&out))).put(button(
            "bt",
            words::TAKE_AWAY,
            move || listing.take_away(away.clone(), false),
        )))
        .put(live(states))
}

/// An earlier state: when, and what was in it.
fn earlier(state: &Record, draft: Draft, id: &str, listing: Listing) -> El {
    let (day, time) = day(state.saved_at);
    let names = (0..draft.runs().0).map(|i| draft.run_name(i)).collect::<Vec<_>>().join(", ");
    let says = format!("{}: {names}", or_no_name(&state.name));
    let id = id.to_owned();
    div("line")
        .put(el("span").put(format!("{} {time} ({day})", words::AS_IT_WAS)).put(" ").put(small(says)))
        .put(button("bt", words::BRING_BACK, move || listing.go_back(&id, draft.clone())))
}

/// What could not be read: it can be had as a text, and taken away.
fn unread(ids: Vec<String>, listing: Listing) -> El {
    let one = |id: String| {
        let (out, away) = (id.clone(), id.clone());
        let export = move || {
            let id = out.clone();
            listing.at_store(async move { store::aside(&id).await }, |text| {
                file::save(words::UNREAD_FILE, &text).ok();
            });
        };
        el("li").key(id).put(el("b").put(words::COULD_NOT_READ)).put(
            div("wide-row row").put(button("bt", words::EXPORT_RAW, export)).put(button(
                "bt",
                words::TAKE_AWAY,
                move || listing.take_away(away.clone(), true),
            )),
        )
    };
    section(words::SET_ASIDE).put(el("ul").class("ls plain").put_all(ids.into_iter().map(one)))
}

/// A car from a file.
fn take_in(listing: Listing) -> El {
    let take = move |event: &Event| {
        let Some(input) = event.target().and_then(|target| target.dyn_into::<HtmlInputElement>().ok()) else { return };
        let Some(file) = input.files().and_then(|files| files.get(0)) else { return };
        // The same file can be chosen again.
        input.set_value("");
        spawn_local(async move {
            let said = match file::text_of(&file).await.and_then(|text| file::take_in(&text)) {
                Ok((draft, out)) => {
                    let mut said = vec![words::CAME_IN.replace("{}", &or_no_name(&draft.car_name()))];
                    if !out.is_empty() {
                        said.push(words::LEFT_OUT_OF_FILE.to_owned());
                    }
                    said.extend(out);
                    // A car of its own, whatever it is equal to.
                    listing.keeper.open_kept(draft, Some(hand_at(&store::random(12), 0)));
                    said
                }
                Err(why) => vec![format!("{} {why}", words::FILE_REFUSED)],
            };
            listing.came.try_set(said);
        });
    };
    let input = el("input")
        .attrs([("id", "car-file"), ("type", "file"), ("accept", "application/json,.json")])
        .on("change", take);
    section(words::FROM_FILE)
        .put(div("field").put(el("label").attr("for", "car-file").put(words::JOB_FILE)).put(input))
        .put(el("div").attr("role", "status").put(live(move || list(listing.came.get()))))
}
