//! Measuring a run at the car: one screen for one question, each with its own address, so that the phone's way back works.

mod jets;
mod keypad;
mod near;
mod piece;
mod place;
mod rocking;
mod size;
mod standing;
mod typing;

pub(crate) use standing::plan;

use crate::el::{El, Node, keep, link, live};
use crate::form::Draft;
use crate::form::sketch::{Letter, Unsaid};
use crate::view::Laid;
use crate::words;
use gloo_events::EventListener;
use gloo_timers::callback::Timeout;
use job::Problem;
use leptos::prelude::*;
use wasm_bindgen::JsCast;
use web_sys::{Element, Event, FocusOptions, HtmlDetailsElement, HtmlElement, ScrollBehavior, ScrollToOptions};

/// The event that tells of another fragment in the address (HTML standard).
const MOVED: &str = "hashchange";

/// What the page shows.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum Screen {
    /// The answer and everything below it.
    #[default]
    Sheet,
    /// A spigot: how thick it is and which way it points.
    Spigot(Letter),
    /// Where B is from A.
    Place,
    /// What is near: a new thing, or another kind for one that is there.
    Near(Option<usize>),
    /// Where a thing near it is.
    Thing(usize),
    /// Where the person stands.
    Standing,
    /// A piece that is cut already, or the old hose.
    Piece,
    /// How far the engine rocks.
    Rocking,
    /// The whole car.
    Car,
    /// One line of it.
    Line(usize),
    /// One part of it.
    Part(usize),
    /// What to buy.
    Buy,
    /// The order of work.
    Fit,
    /// To fill and prove.
    Fill,
    /// The cars kept on this phone.
    Cars,
}

impl Screen {
    /// From the fragment of an address; a place on the screen may stand behind a stroke.
    fn from_hash(hash: &str) -> Self {
        let fragment = hash.trim_start_matches('#');
        let own = fragment.split_once('/').map_or(fragment, |(own, _)| own);
        let (word, number) = match own.split_once('-') {
            Some((word, number)) => (word, number.parse::<usize>().ok().and_then(|n| n.checked_sub(1))),
            None => (own, None),
        };
        match (word, number) {
            ("a", None) => Self::Spigot(Letter::A),
            ("b", None) => Self::Spigot(Letter::B),
            ("place", None) => Self::Place,
            ("near", thing) => Self::Near(thing),
            ("thing", Some(thing)) => Self::Thing(thing),
            ("standing", None) => Self::Standing,
            ("piece", None) => Self::Piece,
            ("rocking", None) => Self::Rocking,
            ("car", None) => Self::Car,
            ("line", Some(line)) => Self::Line(line),
            ("part", Some(part)) => Self::Part(part),
            ("buy", None) => Self::Buy,
            ("fit", None) => Self::Fit,
            ("fill", None) => Self::Fill,
            ("cars", None) => Self::Cars,
            _ => Self::Sheet,
        }
    }

    /// Its fragment.
    pub(crate) fn hash(self) -> String {
        match self {
            Self::Sheet => "#sheet".to_owned(),
            Self::Spigot(letter) => format!("#{}", letter.name().to_ascii_lowercase()),
            Self::Place => "#place".to_owned(),
            Self::Near(None) => "#near".to_owned(),
            Self::Near(Some(thing)) => format!("#near-{}", thing + 1),
            Self::Thing(thing) => format!("#thing-{}", thing + 1),
            Self::Standing => "#standing".to_owned(),
            Self::Piece => "#piece".to_owned(),
            Self::Rocking => "#rocking".to_owned(),
            Self::Car => "#car".to_owned(),
            Self::Line(line) => format!("#line-{}", line + 1),
            Self::Part(part) => format!("#part-{}", part + 1),
            Self::Buy => "#buy".to_owned(),
            Self::Fit => "#fit".to_owned(),
            Self::Fill => "#fill".to_owned(),
            Self::Cars => "#cars".to_owned(),
        }
    }

    /// The fragment of a place on it.
    pub(crate) fn at(self, place: &str) -> String {
        format!("{}/{place}", self.hash())
    }

    /// Whether it is about the whole car.
    pub(crate) fn is_of_car(self) -> bool {
        matches!(self, Self::Car | Self::Line(_) | Self::Part(_) | Self::Buy | Self::Fit | Self::Fill)
    }

    /// The screen on which something is said.
    pub(crate) fn of(unsaid: Unsaid) -> Self {
        match unsaid {
            Unsaid::Across(letter) | Unsaid::Points(letter) => Self::Spigot(letter),
            Unsaid::Place => Self::Place,
            Unsaid::Thing(thing) => Self::Thing(thing),
        }
    }

    /// Goes there; the way back leads here.
    pub(crate) fn go(self) {
        // Refused only to a page that is being left.
        window().location().set_hash(&self.hash()).ok();
    }

    /// Goes there and makes the change that is to be seen there, both in one go: the screen that is left does not follow the
    /// change first.
    pub(crate) fn go_with(self, change: impl FnOnce()) {
        self.go();
        // The browser says so too, but in a task of its own.
        Event::new(MOVED).and_then(|moved| window().dispatch_event(&moved)).ok();
        change();
    }
}

/// The screen that the address names, now and whenever it changes.
pub(crate) fn screen() -> RwSignal<Screen> {
    let read = || Screen::from_hash(&window().location().hash().unwrap_or_default());
    let screen = RwSignal::new(read());
    let ear = EventListener::new(&window(), MOVED, move |_| {
        let next = read();
        if screen.get_untracked() != next {
            screen.set(next);
            let top = ScrollToOptions::new();
            top.set_top(0.0);
            top.set_behavior(ScrollBehavior::Instant);
            window().scroll_to_with_scroll_to_options(&top);
            // What was pressed is gone: whoever works by keys, or listens, goes on from the head of the new screen.
            if let Ok(Some(head)) = document().query_selector(".tb h1") {
                head.unchecked_ref::<HtmlElement>().focus().ok();
            }
        }
        let hash = window().location().hash().unwrap_or_default();
        if let Some((_, place)) = hash.split_once('/') {
            Seek { place: place.to_owned(), left: SEEKS, found: None }.look();
        }
    });
    keep(ear);
    screen
}

/// How often a place is looked for on a new screen, and how long it is waited between, ms: its parts come one after the other,
/// and the answer later still (our choice).
const SEEKS: u32 = 50;
const SEEK_AFTER: u32 = 100;

/// A place to which the address leads, while what stands round it still comes.
struct Seek {
    place: String,
    left: u32,
    /// How far the page was scrolled to it, and where it stood then.
    found: Option<(f64, f64)>,
}

impl Seek {
    fn look(mut self) {
        let scrolled = || window().scroll_y().unwrap_or_default();
        if let Some(element) = document().get_element_by_id(&self.place) {
            let top = || element.get_bounding_client_rect().top();
            match self.found {
                // Somebody scrolls, or the browser itself keeps it where it is.
                Some((at, _)) if (scrolled() - at).abs() > 1.0 => return,
                Some((_, stood)) if (top() - stood).abs() <= 1.0 => {}
                found => {
                    element.scroll_into_view();
                    if found.is_none() {
                        stand_at(&element);
                    }
                    self.found = Some((scrolled(), top()));
                }
            }
        }
        self.left -= 1;
        if self.left > 0 {
            Timeout::new(SEEK_AFTER, move || self.look()).forget();
        }
    }
}

/// Whoever works by keys, or listens, goes on from there; what is folded is unfolded.
fn stand_at(place: &Element) {
    let at = match place.dyn_ref::<HtmlDetailsElement>() {
        Some(folded) => {
            folded.set_open(true);
            folded.query_selector("summary").ok().flatten()
        }
        None => None,
    };
    let at: HtmlElement = at.unwrap_or_else(|| place.clone()).unchecked_into();
    if at.local_name() != "summary" {
        at.set_tab_index(-1);
    }
    let stays = FocusOptions::new();
    stays.set_prevent_scroll(true);
    at.focus_with_options(&stays).ok();
}

/// What is asked next, or the sheet.
pub(crate) fn next(draft: &Draft) -> Screen {
    draft.sketch(0).unsaid().first().map_or(Screen::Sheet, |unsaid| Screen::of(*unsaid))
}

/// What the button says that leads to a screen.
pub(crate) fn act(screen: Screen) -> String {
    match screen {
        Screen::Place => "Now place B".to_owned(),
        Screen::Spigot(letter) => format!("Now spigot {}", letter.name()),
        Screen::Thing(_) | Screen::Near(_) => "Now the thing near it".to_owned(),
        _ => words::SHOW_CUT.to_owned(),
    }
}

/// What is being measured, as every screen needs it.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Measuring {
    pub(crate) draft: RwSignal<Draft>,
    pub(crate) problems: Memo<Vec<Problem>>,
    /// The hose of the last answer, if it is that of the run at hand.
    pub(crate) laid: Memo<Option<Laid>>,
}

/// The screen for one question.
pub(crate) fn measure(screen: Screen, measuring: Measuring) -> Node {
    match screen {
        Screen::Spigot(letter) => jets::spigot(letter, measuring),
        Screen::Place => place::place(place::Target::B, measuring),
        Screen::Thing(thing) => place::place(place::Target::Thing(thing), measuring),
        Screen::Near(thing) => near::near(thing, measuring).into(),
        Screen::Standing => standing::standing(measuring).into(),
        Screen::Piece => piece::piece(measuring).into(),
        Screen::Rocking => rocking::rocking(measuring).into(),
        _ => Node::Many(Vec::new()),
    }
}

/// What a screen is about, for the head of the page.
pub(crate) fn title(screen: Screen, draft: &Draft) -> String {
    match screen {
        Screen::Sheet => draft.name(0),
        Screen::Spigot(letter) => format!("Spigot {}", letter.name()),
        Screen::Place => "Where is B?".to_owned(),
        Screen::Near(None) => words::WHAT_NEAR.to_owned(),
        Screen::Near(Some(_)) => words::WHAT_IS_IT.to_owned(),
        Screen::Thing(thing) => draft.sketch(0).things.get(thing).map_or_else(String::new, |thing| thing.name.clone()),
        Screen::Standing => words::WHERE_YOU.to_owned(),
        Screen::Piece => "How long is it?".to_owned(),
        Screen::Rocking => words::HOW_IT_ROCKS.to_owned(),
        Screen::Car => words::THE_CAR.to_owned(),
        Screen::Line(line) => draft.said(&format!("/lines/{line}/name")).to_owned(),
        Screen::Part(part) => draft.said(&format!("/parts/{part}/name")).to_owned(),
        Screen::Buy => words::SHOPPING.to_owned(),
        Screen::Fit => words::ORDER.to_owned(),
        Screen::Fill => words::FILLING.to_owned(),
        Screen::Cars => words::CARS.to_owned(),
    }
}

/// The button that leads on from here to what is asked next, once everything is said that is asked here.
fn onward(here: Screen, draft: RwSignal<Draft>) -> Node {
    live(move || {
        let to = draft.with(next);
        (to != here).then(|| link("bt m", to.hash(), act(to)))
    })
}

/// The link to where it is told how to measure something, on a page by itself, which leads back `here`.
#[inline(never)]
pub(crate) fn how(here: Screen, section: &str, says: &'static str) -> El {
    link("bt", format!("measuring.html?{}#{section}", here.hash().trim_start_matches('#')), says)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_screen_has_an_address_of_its_own() {
        let screens = [
            Screen::Sheet,
            Screen::Spigot(Letter::A),
            Screen::Spigot(Letter::B),
            Screen::Place,
            Screen::Near(None),
            Screen::Near(Some(0)),
            Screen::Thing(11),
            Screen::Standing,
            Screen::Piece,
            Screen::Rocking,
            Screen::Car,
            Screen::Line(0),
            Screen::Part(39),
            Screen::Buy,
            Screen::Fit,
            Screen::Fill,
            Screen::Cars,
        ];
        for screen in screens {
            assert_eq!(Screen::from_hash(&screen.hash()), screen);
            // The longest word of the page's own is shorter than any link with a run in it.
            assert!(screen.hash().len() < 16, "{}", screen.hash());
            assert_eq!(Screen::from_hash(&screen.at("place-1")), screen, "and a place on it");
        }
        for other in ["", "#", "#measurements", "#thing-0", "#thing-x", "#a-1", "#near-0"] {
            let screen = Screen::from_hash(other);
            assert!(matches!(screen, Screen::Sheet | Screen::Near(None)), "{other}: {screen:?}");
        }
    }
}
