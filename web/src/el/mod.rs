//! Elements of the page, made from data: all of them have one type, so that none costs code of its own.
//!
//! An [`El`] says what is to stand there. Building it makes the nodes and keeps, beside them, what is alive in them: ears
//! and effects, which end with the node. What is said anew for the same place is put on the nodes that are there already,
//! so that whoever types or stands on a button stays where they are.

mod kept;
mod parts;
mod turns;
mod written;

pub(crate) use kept::stand;
pub(crate) use parts::{
    button, circle, details, div, how_known, label, link, list, note, p, path, pattern, rect, section, small, stroke,
    unseen,
};
pub(crate) use turns::{Turns, after_paint, next_task};
#[cfg(test)]
pub(crate) use written::Written;

use gloo_timers::callback::Timeout;
use leptos::prelude::*;
use std::borrow::Cow;
use std::rc::Rc;
use wasm_bindgen::{JsCast, UnwrapThrowExt};
use web_sys::{Element, Event, HtmlElement};

type Words = Cow<'static, str>;

/// What can stand in an element.
pub(crate) enum Node {
    Words(Words),
    Element(El),
    Many(Vec<Self>),
    Live(Rc<dyn Fn() -> Self>),
}

/// An element that is to be made. Boxed, so that handing it on costs next to nothing.
pub(crate) struct El(Box<Said>);

struct Said {
    tag: &'static str,
    key: Option<String>,
    attributes: Vec<Attribute>,
    ears: Vec<(&'static str, Hears)>,
    inside: Vec<Node>,
    /// What is made behind `inside` once it is opened: folded away it costs nothing.
    folded: Option<Rc<dyn Fn() -> Node>>,
    made: Vec<Made>,
}

type Hears = Rc<dyn Fn(&Event)>;

type Made = Box<dyn FnOnce(&Element)>;

struct Attribute {
    how: How,
    name: &'static str,
    value: Value,
}

/// Where a value is put.
#[derive(Clone, Copy, PartialEq, Eq)]
enum How {
    Attribute,
    Property,
    /// Through the object model: the page's policy forbids style attributes.
    Style,
}

enum Value {
    Fixed(Option<Words>),
    Live(Rc<dyn Fn() -> Option<Words>>),
}

/// What can be the value of an attribute; without one the attribute is not there.
pub(crate) trait Plain {
    fn plain(self) -> Option<Words>;
}

impl Plain for &'static str {
    fn plain(self) -> Option<Words> {
        Some(self.into())
    }
}

impl Plain for String {
    fn plain(self) -> Option<Words> {
        Some(self.into())
    }
}

impl Plain for f64 {
    fn plain(self) -> Option<Words> {
        Some(self.to_string().into())
    }
}

impl Plain for Option<&'static str> {
    fn plain(self) -> Option<Words> {
        self.map(Into::into)
    }
}

/// Whether it is there.
impl Plain for bool {
    fn plain(self) -> Option<Words> {
        self.then(|| "".into())
    }
}

/// An element without anything.
#[inline(never)]
pub(crate) fn el(tag: &'static str) -> El {
    El(Box::new(Said {
        tag,
        key: None,
        attributes: Vec::new(),
        ears: Vec::new(),
        inside: Vec::new(),
        folded: None,
        made: Vec::new(),
    }))
}

/// What is made anew whenever a signal changes that is read for it.
pub(crate) fn live<T: Into<Node>>(say: impl Fn() -> T + 'static) -> Node {
    Node::Live(Rc::new(move || say().into()))
}

/// What stands there only at times.
pub(crate) fn when<T: Into<Node>>(
    is_so: impl Fn() -> bool + Send + Sync + 'static,
    say: impl Fn() -> T + 'static,
) -> Node {
    // It is made anew only if that changes, not with every signal that is read for it.
    let is_so = memo(is_so);
    live(move || is_so.get().then(&say))
}

/// A truth that tells of its changes alone.
pub(crate) fn memo(is_so: impl Fn() -> bool + Send + Sync + 'static) -> Memo<bool> {
    fn made(is_so: Box<dyn Fn() -> bool + Send + Sync>) -> Memo<bool> {
        Memo::new(move |_| is_so())
    }
    made(Box::new(is_so))
}

/// Runs once the page stands, and again whenever a signal changes that is read in it.
pub(crate) fn afterwards(run: impl FnMut() + 'static) {
    let run: Box<dyn FnMut()> = Box::new(run);
    Effect::new(run);
}

/// Keeps something, an ear for instance, as long as the part of the page lives that is being made.
pub(crate) fn keep<T: 'static>(thing: T) {
    StoredValue::new_local(Box::new(thing) as Box<dyn std::any::Any>);
}

/// Goes on from an element that stands once the change at hand has been made, for whoever works by keys.
pub(crate) fn go_to(id: String) {
    let go = move || {
        if let Some(element) = document().get_element_by_id(&id) {
            element.unchecked_into::<HtmlElement>().focus().unwrap_throw();
        }
    };
    Timeout::new(0, go).forget();
}

impl El {
    #[inline(never)]
    fn put_value(mut self, how: How, name: &'static str, value: Value) -> Self {
        self.0.attributes.push(Attribute { how, name, value });
        self
    }

    fn put_live<T: Plain>(self, how: How, name: &'static str, say: impl Fn() -> T + 'static) -> Self {
        self.put_value(how, name, Value::Live(Rc::new(move || say().plain())))
    }

    #[inline(never)]
    pub(crate) fn attr(self, name: &'static str, value: impl Plain) -> Self {
        self.put_value(How::Attribute, name, Value::Fixed(value.plain()))
    }

    /// Attributes whose values stand fast.
    #[inline(never)]
    pub(crate) fn attrs<const N: usize>(mut self, attributes: [(&'static str, &'static str); N]) -> Self {
        self.0.attributes.extend(attributes.into_iter().map(|(name, value)| Attribute {
            how: How::Attribute,
            name,
            value: Value::Fixed(Some(value.into())),
        }));
        self
    }

    /// An attribute that follows the signals that are read for it.
    pub(crate) fn live<T: Plain>(self, name: &'static str, say: impl Fn() -> T + 'static) -> Self {
        self.put_live(How::Attribute, name, say)
    }

    #[inline(never)]
    pub(crate) fn class(self, class: &'static str) -> Self {
        self.attr("class", class)
    }

    /// What is written in a field: its value now, not the one it began with.
    pub(crate) fn value<T: Plain>(self, say: impl Fn() -> T + 'static) -> Self {
        self.put_live(How::Property, "value", say)
    }

    #[inline(never)]
    pub(crate) fn style(self, name: &'static str, value: String) -> Self {
        self.put_value(How::Style, name, Value::Fixed(value.plain()))
    }

    pub(crate) fn live_style(self, name: &'static str, say: impl Fn() -> String + 'static) -> Self {
        self.put_live(How::Style, name, say)
    }

    /// Hears an event.
    pub(crate) fn on<E: JsCast>(mut self, event: &'static str, hears: impl Fn(&E) + 'static) -> Self {
        self.0.ears.push((event, Rc::new(move |event| hears(event.unchecked_ref()))));
        self
    }

    pub(crate) fn on_click(mut self, press: impl Fn() + 'static) -> Self {
        self.0.ears.push(("click", Rc::new(move |_| press())));
        self
    }

    /// Hears what is typed into it or chosen in it.
    pub(crate) fn on_value(mut self, event: &'static str, take: impl Fn(String) + 'static) -> Self {
        self.0.ears.push((event, Rc::new(move |event| take(event_target_value(event)))));
        self
    }

    /// Among its neighbours the one with the same key is the same, wherever it stands.
    pub(crate) fn key(mut self, key: String) -> Self {
        self.0.key = Some(key);
        self
    }

    /// Is called with the element as soon as it is there.
    pub(crate) fn made(mut self, with: impl FnOnce(&Element) + 'static) -> Self {
        self.0.made.push(Box::new(with));
        self
    }

    /// Puts something in it, behind what is there.
    #[inline(never)]
    pub(crate) fn put(mut self, node: impl Into<Node>) -> Self {
        self.0.inside.push(node.into());
        self
    }

    /// Folds something away in it, behind what is there: it is made once it is opened.
    pub(crate) fn fold(mut self, inside: impl Fn() -> Node + 'static) -> Self {
        self.0.folded = Some(Rc::new(inside));
        self
    }

    pub(crate) fn put_all<T: Into<Node>>(mut self, nodes: impl IntoIterator<Item = T>) -> Self {
        self.0.inside.extend(nodes.into_iter().map(Into::into));
        self
    }
}

impl From<&'static str> for Node {
    fn from(words: &'static str) -> Self {
        Self::Words(words.into())
    }
}

impl From<String> for Node {
    fn from(words: String) -> Self {
        Self::Words(words.into())
    }
}

impl From<El> for Node {
    fn from(el: El) -> Self {
        Self::Element(el)
    }
}

impl<T: Into<Self>> From<Option<T>> for Node {
    fn from(maybe: Option<T>) -> Self {
        maybe.map_or_else(|| Self::Many(Vec::new()), Into::into)
    }
}

impl<T: Into<Self>> From<Vec<T>> for Node {
    fn from(nodes: Vec<T>) -> Self {
        Self::Many(nodes.into_iter().map(Into::into).collect())
    }
}

impl<T: Into<Self>, const N: usize> From<[T; N]> for Node {
    fn from(nodes: [T; N]) -> Self {
        Self::Many(nodes.into_iter().map(Into::into).collect())
    }
}

/// Several things one behind the other, of whatever sort.
macro_rules! many {
    ($($node:expr),* $(,)?) => { $crate::el::Node::Many(vec![$($crate::el::Node::from($node)),*]) };
}
pub(crate) use many;
