//! The cars kept on this phone: a list to open from, files in and out, earlier states, what could not be read.

mod file;

pub(crate) use file::chosen;

use crate::el::{El, Node, afterwards, button, div, el, link, list, live, many, note, p, section, small};
use crate::form::{Draft, differs};
use crate::keep::{Keeper, LATE};
use crate::measure::Screen;
use crate::store::record::{Hand, Record, Unread, are_copies};
use crate::store::{self, Brought, Fault, Gone, Row, Shelf, family};
use crate::words;
use gloo_timers::callback::Timeout;
use leptos::prelude::*;
use leptos::task::spawn_local;
use std::cell::RefCell;
use std::pin::Pin;
use std::rc::Rc;
use web_sys::{Event, File};

/// What the screen shows of the store; what it holds is told by signals of few types, since each type costs code.
#[derive(Clone)]
struct Listing {
    keeper: Keeper,
    held: Rc<Held>,
    /// Counts what is held anew.
    looked: RwSignal<u32>,
    /// Which car is unfolded.
    unfolded: RwSignal<Option<String>>,
    /// What became of a file: of the car of that id, or of all where it is empty.
    filed: RwSignal<Option<(String, String)>>,
}

#[derive(Default)]
struct Held {
    shelf: RefCell<Option<Shelf>>,
    /// Of the one that is unfolded.
    states: RefCell<States>,
    gone: RefCell<Option<Gone>>,
    /// What a file brought, or why it did not.
    came: RefCell<Vec<String>>,
}

/// A car with what it was.
#[derive(Default)]
struct States {
    now: Option<Draft>,
    earlier: Vec<(Record, Draft)>,
    /// The one that it is a copy of, or that is a copy of it, with its name.
    beside: Option<(String, Draft)>,
}

/// The screen.
pub(crate) fn cars(keeper: Keeper) -> Node {
    let listing = Listing {
        keeper,
        held: Rc::new(Held::default()),
        looked: RwSignal::new(0),
        unfolded: RwSignal::new(None),
        filed: RwSignal::new(None),
    };
    // What was typed last is among them, too.
    keeper.keep();
    let looks = listing.clone();
    afterwards(move || {
        keeper.kept.track();
        looks.look();
    });
    live(move || shown(&listing))
}

/// All of it, as it is held now.
fn shown(listing: &Listing) -> Node {
    let keeper = listing.keeper;
    listing.looked.track();
    let new = move || {
        let unit = keeper.draft.with_untracked(|draft| draft.unit);
        Screen::Car.go_with(move || keeper.open(Draft::fresh(None, unit)));
    };
    let undo = listing.held.gone.borrow().is_some().then(|| {
        let back = listing.clone();
        div("row")
            .put(note(words::CAR_GONE).attr("role", "status"))
            .put(button("bt", words::UNDO, move || back.bring_back()))
    });
    let saves = listing.clone();
    let shelf = listing.held.shelf.borrow();
    let save_all = shelf.as_ref().filter(|shelf| !shelf.cars.is_empty()).map(|_| {
        let press = move || saves.export_all();
        let said = listing.filed("");
        many![div("row").put(button("bt", words::EXPORT_ALL, press)), said, note(words::EXPORT_ALL_HOW)]
    });
    let is_empty = shelf.as_ref().is_some_and(|shelf| shelf.cars.is_empty());
    let rows = shelf.iter().flat_map(|shelf| &shelf.cars).map(|car| row(car, listing));
    let aside = shelf.as_ref().filter(|shelf| !shelf.aside.is_empty()).map(|shelf| unread(&shelf.aside, listing));
    many![
        el("section")
            .put(note(words::CARS_HOW))
            .put(undo)
            .put(is_empty.then(|| p("vd", words::NO_CARS)))
            .put(button("bt m", words::NEW_CAR, new))
            .put(el("ul").class("ls plain cars").put_all(rows))
            .put(save_all),
        aside,
        take_in(listing),
        p("row", link("bt", Screen::Car.hash(), words::BACK_TO_CAR)),
    ]
}

impl Listing {
    /// Does something at the store; a fault is told.
    fn at_store(&self, deed: impl Future<Output = Result<(), Fault>> + 'static) {
        let (keeper, deed): (_, Pin<Box<dyn Future<Output = _>>>) = (self.keeper, Box::pin(deed));
        // A browser may neither do it nor refuse it.
        let late = Timeout::new(LATE, move || keeper.fail(Fault::Lost));
        spawn_local(async move {
            let done = deed.await;
            drop(late);
            if let Err(fault) = done {
                keeper.fail(fault);
            }
        });
    }

    /// Shows what is held now, if the screen still stands.
    fn show(&self) {
        self.looked.try_update(|looked| *looked += 1).unwrap_or_default();
    }

    fn look(&self) {
        let listing = self.clone();
        self.at_store(async move {
            let shelf = store::list().await?;
            listing.held.shelf.replace(Some(shelf));
            listing.show();
            Ok(())
        });
    }

    /// Reads a car and does something with it; of one that cannot be read it is told.
    fn with_car(&self, id: &str, then: impl FnOnce(Draft, Hand) + 'static) {
        let (id, keeper): (_, _) = (id.to_owned(), self.keeper);
        let then: Box<dyn FnOnce(Draft, Hand)> = Box::new(then);
        self.at_store(async move {
            let unread = match store::look_into(&id).await? {
                Some(Ok(car)) => match Draft::from_kept(&car.kept) {
                    Some(draft) => {
                        then(draft, hand_at(id, car.rev));
                        return Ok(());
                    }
                    None => Some(words::CAR_UNREAD),
                },
                Some(Err(Unread::Damaged)) => Some(words::CAR_UNREAD),
                Some(Err(Unread::Newer)) => Some(words::CAR_NEWER),
                None => None,
            };
            keeper.tell(unread.map(str::to_owned));
            keeper.tell_tabs();
            Ok(())
        });
    }

    fn open(&self, id: &str) {
        let keeper = self.keeper;
        if keeper.is_at_hand(id) {
            show(&keeper.draft.get_untracked());
            return;
        }
        self.with_car(id, move |draft, hand| {
            show(&draft);
            keeper.open_kept(draft, Some(hand));
        });
    }

    fn export(&self, id: &str) {
        let (filed, its) = (self.filed, id.to_owned());
        let write = move |draft: &Draft| {
            let saved = file::save(&file::name(&draft.car_name()), &draft.whole().to_string());
            let said = if saved.is_ok() { words::SAVED } else { words::NOT_SAVED_ONE };
            drop(filed.try_set(Some((its, said.to_owned()))));
        };
        if self.keeper.is_at_hand(id) {
            self.keeper.draft.with_untracked(write);
        } else {
            self.with_car(id, move |draft, _| write(&draft));
        }
    }

    /// Takes in the car of a job file, which is at hand then; what is to be said.
    async fn take_in_one(&self, file: &File) -> Vec<String> {
        match file::text_of(file).await.and_then(|text| file::take_in(&text)) {
            Ok((draft, out)) => {
                let mut said = vec![words::CAME_IN.replace("{}", &or_no_name(&draft.car_name()))];
                said.extend((!out.is_empty()).then(|| words::LEFT_OUT_OF_FILE.to_owned()));
                said.extend(out);
                // A car of its own, whatever it is equal to.
                self.keeper.open_kept(draft, Some(hand_at(store::random(12), 0)));
                said
            }
            Err(why) => vec![format!("{} {why}", words::FILE_REFUSED)],
        }
    }

    /// What a file of all cars brought. A car that is at hand and came in a later state is opened in that.
    fn tell_brought(&self, brought: Vec<Brought>) -> Vec<String> {
        let keeper = self.keeper;
        let said = brought.into_iter().map(|one| match one {
            Brought::In { id, name, is_later } => {
                if keeper.is_at_hand(&id) {
                    self.with_car(&id, move |draft, hand| keeper.open_kept(draft, Some(hand)));
                }
                let says = if is_later { words::BROUGHT_LATER } else { words::BROUGHT };
                says.replace("{}", &or_no_name(&name))
            }
            Brought::Known { name } => words::KNOWN.replace("{}", &or_no_name(&name)),
            Brought::Unread => words::BROUGHT_UNREAD.to_owned(),
            Brought::OtherPhotos(lines) => words::OTHER_PHOTOS.replace("{}", &lines.join(", ")),
        });
        let said = said.collect();
        keeper.tell_tabs();
        said
    }

    /// Has all cars saved as one file.
    fn export_all(&self) {
        self.keeper.keep();
        let filed = self.filed;
        spawn_local(async move {
            let saved = file::save_all().await;
            let said = saved.map_or(Some(words::NOT_SAVED.to_owned()), |missing| missing.as_string());
            drop(filed.try_set(Some((String::new(), said.unwrap_or_else(|| words::SAVED.to_owned())))));
        });
    }

    /// What became of a file, below the button that makes it.
    fn filed(&self, id: &str) -> El {
        let (filed, id) = (self.filed, id.to_owned());
        let said = move || filed.with(|filed| filed.as_ref().filter(|(of, _)| *of == id).map(|(_, said)| said.clone()));
        note(live(said)).attr("role", "status")
    }

    fn take_away(&self, id: String, from_aside: bool) {
        let listing = self.clone();
        self.at_store(async move {
            let gone = store::take_away(&id, from_aside).await?;
            listing.held.gone.replace(Some(gone));
            if listing.keeper.is_at_hand(&id) {
                listing.keeper.let_go();
            }
            listing.keeper.tell_tabs();
            Ok(())
        });
    }

    fn bring_back(&self) {
        let listing = self.clone();
        self.at_store(async move {
            let gone = listing.held.gone.take();
            if let Some(gone) = gone {
                let back = store::bring_back(&gone).await;
                if back.is_err() {
                    listing.held.gone.replace(Some(gone));
                }
                back?;
            }
            listing.keeper.tell_tabs();
            Ok(())
        });
    }

    fn unfold(&self, id: &str) {
        self.held.states.take();
        if self.unfolded.with_untracked(|at| at.as_deref() == Some(id)) {
            self.unfolded.set(None);
            return;
        }
        self.unfolded.set(Some(id.to_owned()));
        let (id, listing) = (id.to_owned(), self.clone());
        self.at_store(async move {
            let earlier = store::states(&id).await?.into_iter().filter_map(|state| {
                let draft = Draft::from_kept(&state.kept)?;
                Some((state, draft))
            });
            let mut states = States { now: None, earlier: earlier.collect(), beside: None };
            for its in [Some(id.clone()), listing.beside(&id)].into_iter().flatten() {
                let read = store::look_into(&its).await?.and_then(Result::ok);
                let draft = read.and_then(|car| Draft::from_kept(&car.kept).map(|draft| (car.name, draft)));
                match its == id {
                    true => states.now = draft.map(|(_, now)| now),
                    false => states.beside = draft,
                }
            }
            listing.held.states.replace(states);
            drop(listing.unfolded.try_set(Some(id)));
            Ok(())
        });
    }

    /// The car of which one is a copy, or that is a copy of it: the one at hand if it can be, else the last one changed.
    fn beside(&self, id: &str) -> Option<String> {
        let shelf = self.held.shelf.borrow();
        let all = || shelf.iter().flat_map(|shelf| &shelf.cars);
        let name = |row: &Row| Some(row.car.as_ref()?.name.clone());
        let own = all().find(|row| row.id == id).and_then(name)?;
        let is_copy = |row: &&Row| {
            row.id != id && name(row).is_some_and(|name| family(&row.id) == family(id) || are_copies(&name, &own))
        };
        let copies = || all().filter(is_copy);
        copies().find(|row| self.keeper.is_at_hand(&row.id)).or_else(|| copies().next()).map(|row| row.id.clone())
    }

    /// Goes back to an earlier state of a car, which is at hand then.
    fn go_back(&self, id: &str, state: Draft) {
        let keeper = self.keeper;
        show(&state);
        if keeper.is_at_hand(id) {
            keeper.go_back_to(state);
            return;
        }
        self.with_car(id, move |draft, hand| {
            keeper.open_kept(draft, Some(hand));
            keeper.go_back_to(state);
        });
    }
}

/// A car taken in hand at that state; the keeper says in which tab.
fn hand_at(id: String, rev: u32) -> Hand {
    Hand { id, rev, by: String::new() }
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
fn row(Row { id, car }: &Row, listing: &Listing) -> El {
    let li = el("li").key(id.clone());
    let Some(car) = car else {
        return li.put(div("").put(el("b").put(words::NEWER_CAR)).put(small(words::CAR_NEWER)));
    };
    let (day, time) = day(car.saved_at);
    let at_hand = if listing.keeper.is_at_hand(id) { words::AT_HAND } else { "" };
    let says = format!("{day}, {time} · {}{at_hand}", hoses(car.hoses));
    let name = or_no_name(&car.name);
    let here: Rc<(String, Listing)> = Rc::new((id.clone(), listing.clone()));
    let (opens, unfolds, is, below) = (Rc::clone(&here), Rc::clone(&here), Rc::clone(&here), here);
    let is_unfolded = |(id, listing): &(String, Listing)| listing.unfolded.with(|at| at.as_ref() == Some(id));
    let unfold = button("bt short", words::MORE, move || unfolds.1.unfold(&unfolds.0))
        .attr("aria-label", format!("{}: {name}", words::MORE))
        .live("aria-expanded", move || if is_unfolded(&is) { "true" } else { "false" });
    li.put(
        el("button")
            .attrs([("type", "button"), ("class", "row-link")])
            .put(el("b").put(name))
            .put(small(says))
            .on_click(move || opens.1.open(&opens.0)),
    )
    .put(unfold)
    .put(live(move || is_unfolded(&below).then(|| more_of(&below.0, &below.1))))
}

/// What can be done with a car, and its earlier states.
fn more_of(id: &str, listing: &Listing) -> El {
    let here: Rc<(String, Listing)> = Rc::new((id.to_owned(), listing.clone()));
    let (out, away) = (Rc::clone(&here), here);
    let states = listing.held.states.borrow();
    let now = states.now.as_ref();
    let beside = now.zip(states.beside.as_ref()).map(|(now, (name, other))| {
        let said = match in_few(differs(now, other)) {
            None => format!("All as in “{name}”."),
            Some(names) => format!("Not as in “{name}”: {names}."),
        };
        note(said)
    });
    let states = states.earlier.iter().map(|(state, draft)| earlier(state, draft.clone(), now, id, listing));
    div("wide-row")
        .put(beside)
        .put(div("row").put(button("bt", words::EXPORT, move || out.1.export(&out.0))).put(button(
            "bt",
            words::TAKE_AWAY,
            move || away.1.take_away(away.0.clone(), false),
        )))
        .put(listing.filed(id))
        .put_all(states)
}

/// How many names are told of what differs (our choice: two lines on a small phone).
const TOLD: usize = 4;

/// Names in a row, or the first of many; nothing if there are none.
fn in_few(mut names: Vec<String>) -> Option<String> {
    let more = names.len().saturating_sub(TOLD);
    names.truncate(TOLD);
    let said = names.join(", ");
    match more {
        0 => Some(said).filter(|said| !said.is_empty()),
        _ => Some(format!("{said} and {more} more")),
    }
}

/// An earlier state: when, and what was not as it is now.
fn earlier(state: &Record, draft: Draft, now: Option<&Draft>, id: &str, listing: &Listing) -> El {
    let (day, time) = day(state.saved_at);
    let other = now.map(|now| match in_few(differs(&draft, now)) {
        None => words::AS_NOW.to_owned(),
        Some(names) => format!("not as now: {names}"),
    });
    let says = format!("{} · {}", or_no_name(&state.name), other.unwrap_or_default());
    let (id, listing) = (id.to_owned(), listing.clone());
    div("line")
        .put(el("span").put(format!("{} {time} ({day})", words::AS_IT_WAS)).put(" ").put(small(says)))
        .put(button("bt", words::BRING_BACK, move || listing.go_back(&id, draft.clone())))
}

/// What could not be read: it can be had as a text, and taken away.
fn unread(ids: &[String], listing: &Listing) -> El {
    let one = |id: &String| {
        let here: Rc<(String, Listing)> = Rc::new((id.clone(), listing.clone()));
        let (out, away) = (Rc::clone(&here), here);
        let export = move || {
            let id = out.0.clone();
            out.1.at_store(async move {
                let text = store::aside(&id).await?;
                file::save(words::UNREAD_FILE, &text).ok();
                Ok(())
            });
        };
        el("li").key(id.clone()).put(el("b").put(words::COULD_NOT_READ)).put(
            div("wide-row row").put(button("bt", words::EXPORT_RAW, export)).put(button(
                "bt",
                words::TAKE_AWAY,
                move || away.1.take_away(away.0.clone(), true),
            )),
        )
    };
    section(words::SET_ASIDE).put(el("ul").class("ls plain").put_all(ids.iter().map(one)))
}

/// A car from a file.
fn take_in(listing: &Listing) -> El {
    let here = listing.clone();
    let take = move |event: &Event| {
        let Some(file) = file::chosen(event) else { return };
        let listing = here.clone();
        // Not `at_store`: a file of many photos may take longer than a deed there is given.
        spawn_local(async move {
            let say = |said| {
                listing.held.came.replace(said);
                listing.show();
            };
            say(vec![words::READING.to_owned()]);
            let mut brought = Vec::new();
            let all = file::take_in_all(&file, &mut brought).await;
            say(match all {
                Ok(false) => listing.take_in_one(&file).await,
                Ok(true) if brought.is_empty() => vec![words::NOTHING_BROUGHT.to_owned()],
                Ok(true) => listing.tell_brought(brought),
                Err(_) => {
                    let mut said = listing.tell_brought(brought);
                    said.push(words::NOT_ALL_BROUGHT.to_owned());
                    said
                }
            });
            if let Err(fault) = all {
                listing.keeper.fail(fault);
            }
        });
    };
    let input = el("input")
        .attrs([("id", "car-file"), ("type", "file"), ("accept", "application/json,.json")])
        .on("change", take);
    section(words::FROM_FILE)
        .put(div("field").put(el("label").attr("for", "car-file").put(words::JOB_FILE)).put(input))
        .put(el("div").attr("role", "status").put(list(listing.held.came.borrow().clone())))
}
