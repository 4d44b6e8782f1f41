//! Elements of the page, made from data: all of them have one type, so that none costs code of its own.
//!
//! An [`El`] says what is to stand there. Building it makes the nodes and keeps, beside them, what is alive in them: ears
//! and effects, which end with the node. What is said anew for the same place is put on the nodes that are there already,
//! so that whoever types or stands on a button stays where they are.

use gloo_events::{EventListener, EventListenerOptions};
use leptos::prelude::*;
use std::borrow::Cow;
use std::cell::RefCell;
use std::rc::Rc;
use wasm_bindgen::{JsCast, UnwrapThrowExt};
use web_sys::{Comment, CssStyleDeclaration, Element, Event};

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

/// What stands on the page, with what is alive in it.
enum Kept {
    Words(web_sys::Text, Words),
    Element(Box<KeptEl>),
    /// Ends with a mark, so that it has a place even if it is empty.
    Many(Vec<Self>, Comment),
    Live(KeptLive),
}

struct KeptEl {
    element: Element,
    tag: &'static str,
    key: Option<String>,
    attributes: Vec<KeptAttribute>,
    ears: Vec<Ear>,
    inside: Vec<Kept>,
}

/// The effect ends when it is dropped.
struct KeptLive {
    now: Rc<RefCell<Option<Kept>>>,
    _effect: RenderEffect<()>,
}

struct KeptAttribute {
    how: How,
    name: &'static str,
    now: Rc<RefCell<Option<Words>>>,
    effect: Option<RenderEffect<()>>,
}

/// Stops listening when it is dropped.
struct Ear {
    event: &'static str,
    hears: Rc<RefCell<Hears>>,
    _listener: EventListener,
}

/// Runs now and whenever a signal changes that is read in it.
fn effect(run: Box<dyn Fn()>) -> RenderEffect<()> {
    RenderEffect::new(move |_| run())
}

impl KeptAttribute {
    fn new(element: &Element, attribute: Attribute, now: Option<Words>) -> Self {
        let Attribute { how, name, value } = attribute;
        let now = Rc::new(RefCell::new(now));
        let effect = match value {
            Value::Fixed(value) => {
                put(element, how, name, &now, value);
                None
            }
            Value::Live(say) => {
                let (element, now) = (element.clone(), Rc::clone(&now));
                Some(effect(Box::new(move || put(&element, how, name, &now, say()))))
            }
        };
        Self { how, name, now, effect }
    }

    fn take_on(&mut self, element: &Element, attribute: Attribute) {
        // The effect of before ends first.
        self.effect = None;
        let now = self.now.take();
        *self = Self::new(element, attribute, now);
    }
}

/// Puts a value on an element, if it is another than before.
fn put(element: &Element, how: How, name: &str, now: &RefCell<Option<Words>>, value: Option<Words>) {
    if *now.borrow() == value {
        return;
    }
    let words = value.as_deref().unwrap_or_default();
    match how {
        How::Attribute if value.is_none() => element.remove_attribute(name).unwrap_throw(),
        How::Attribute => element.set_attribute(name, words).unwrap_throw(),
        How::Property => {
            js_sys::Reflect::set(element, &name.into(), &words.into()).unwrap_throw();
        }
        How::Style => {
            let style = js_sys::Reflect::get(element, &"style".into()).unwrap_throw();
            style.unchecked_ref::<CssStyleDeclaration>().set_property(name, words).unwrap_throw();
        }
    }
    *now.borrow_mut() = value;
}

impl Ear {
    fn new(element: &Element, event: &'static str, hears: Hears) -> Self {
        let hears = Rc::new(RefCell::new(hears));
        let now = Rc::clone(&hears);
        let hear: Box<dyn FnMut(&Event)> = Box::new(move |event| {
            let hears = Rc::clone(&now.borrow());
            hears(event);
        });
        let options = EventListenerOptions::enable_prevent_default();
        Self { event, hears, _listener: EventListener::new_with_options(element, event, options, hear) }
    }
}

impl KeptEl {
    fn new(el: Said) -> Self {
        const SVG: &str = "http://www.w3.org/2000/svg";
        let element = match el.tag {
            "svg" | "path" | "circle" | "rect" | "polygon" | "text" | "defs" | "pattern" => {
                document().create_element_ns(Some(SVG), el.tag)
            }
            tag => document().create_element(tag),
        };
        let element = element.unwrap_throw();
        let inside: Vec<_> = el.inside.into_iter().map(Kept::new).collect();
        for kept in &inside {
            kept.insert(&element, None);
        }
        // Behind its inside: the value of a choice must be among the choices.
        let attributes = el.attributes.into_iter().map(|one| KeptAttribute::new(&element, one, None)).collect();
        let ears = el.ears.into_iter().map(|(event, hears)| Ear::new(&element, event, hears)).collect();
        for made in el.made {
            made(&element);
        }
        Self { element, tag: el.tag, key: el.key, attributes, ears, inside }
    }

    /// Whether what is said can be put on what is there.
    fn fits(&self, el: &Said) -> bool {
        self.tag == el.tag
            && self.key == el.key
            && self.attributes.iter().map(|a| (a.how, a.name)).eq(el.attributes.iter().map(|a| (a.how, a.name)))
            && self.ears.iter().map(|ear| ear.event).eq(el.ears.iter().map(|ear| ear.0))
    }

    fn take_on(&mut self, el: Said) {
        take_all_on(&mut self.inside, el.inside, &self.element, None);
        for (kept, attribute) in self.attributes.iter_mut().zip(el.attributes) {
            kept.take_on(&self.element, attribute);
        }
        for (ear, (_, hears)) in self.ears.iter().zip(el.ears) {
            ear.hears.replace(hears);
        }
        for made in el.made {
            made(&self.element);
        }
    }
}

impl KeptLive {
    fn new(say: Rc<dyn Fn() -> Node>, now: Option<Kept>) -> Self {
        let now = Rc::new(RefCell::new(now));
        let shown = Rc::clone(&now);
        let effect = effect(Box::new(move || {
            let node = say();
            let mut now = shown.borrow_mut();
            match now.as_mut() {
                Some(kept) => kept.take_on(node),
                None => *now = Some(Kept::new(node)),
            }
        }));
        Self { now, _effect: effect }
    }
}

impl Kept {
    fn new(node: Node) -> Self {
        match node {
            Node::Words(words) => Self::Words(document().create_text_node(&words), words),
            Node::Element(el) => Self::Element(Box::new(KeptEl::new(*el.0))),
            Node::Many(nodes) => Self::Many(nodes.into_iter().map(Self::new).collect(), document().create_comment("")),
            Node::Live(say) => Self::Live(KeptLive::new(say, None)),
        }
    }

    /// Puts what is said anew on what is there, or in its place.
    fn take_on(&mut self, node: Node) {
        match (&mut *self, node) {
            (Self::Words(text, now), Node::Words(words)) => {
                if *now != words {
                    text.set_data(&words);
                    *now = words;
                }
            }
            (Self::Element(kept), Node::Element(el)) if kept.fits(&el.0) => kept.take_on(*el.0),
            (Self::Many(kept, end), Node::Many(nodes)) => {
                if let Some(parent) = end.parent_node() {
                    take_all_on(kept, nodes, &parent, Some(end));
                }
            }
            (Self::Live(kept), Node::Live(say)) => {
                let now = kept.now.take();
                *kept = KeptLive::new(say, now);
            }
            (_, node) => {
                let new = Self::new(node);
                if let Some((first, parent)) = self.first().and_then(|first| first.parent_node().map(|p| (first, p))) {
                    new.insert(&parent, Some(&first));
                }
                self.remove();
                *self = new;
            }
        }
    }

    fn key(&self) -> Option<&String> {
        match self {
            Self::Element(kept) => kept.key.as_ref(),
            _ => None,
        }
    }

    /// All nodes that stand on the page for it, one behind the other.
    fn each(&self, visit: &mut dyn FnMut(&web_sys::Node)) {
        match self {
            Self::Words(text, _) => visit(text),
            Self::Element(kept) => visit(&kept.element),
            Self::Many(all, end) => {
                all.iter().for_each(|kept| kept.each(visit));
                visit(end);
            }
            Self::Live(kept) => {
                if let Some(kept) = kept.now.borrow().as_ref() {
                    kept.each(visit);
                }
            }
        }
    }

    fn first(&self) -> Option<web_sys::Node> {
        let mut first = None;
        self.each(&mut |node| first = first.take().or_else(|| Some(node.clone())));
        first
    }

    fn insert(&self, parent: &web_sys::Node, before: Option<&web_sys::Node>) {
        self.each(&mut |node| {
            parent.insert_before(node, before).unwrap_throw();
        });
    }

    fn remove(&self) {
        self.each(&mut |node| {
            if let Some(parent) = node.parent_node() {
                parent.remove_child(node).unwrap_throw();
            }
        });
    }
}

/// The same for everything that stands in one place: by key where there are keys, else one behind the other.
fn take_all_on(kept: &mut Vec<Kept>, nodes: Vec<Node>, parent: &web_sys::Node, end: Option<&web_sys::Node>) {
    let mut before = std::mem::take(kept);
    for node in nodes {
        let key = match &node {
            Node::Element(el) => el.0.key.as_ref(),
            _ => None,
        };
        let same = match key {
            Some(_) => before.iter().position(|kept| kept.key() == key),
            None => before.first().is_some_and(|kept| kept.key().is_none()).then_some(0),
        };
        let one = match same {
            Some(i) => {
                let mut one = before.remove(i);
                one.take_on(node);
                one
            }
            None => Kept::new(node),
        };
        if same != Some(0) {
            one.insert(parent, before.first().and_then(Kept::first).as_ref().or(end));
        }
        kept.push(one);
    }
    before.iter().for_each(Kept::remove);
}

/// Makes what is said and puts it at the end of the page's body.
pub(crate) fn stand(node: impl Into<Node>) {
    let kept = Kept::new(node.into());
    if let Some(body) = document().body() {
        kept.insert(&body, None);
    }
    keep(kept);
}

/// A button.
pub(crate) fn button(class: &'static str, name: impl Into<Node>, press: impl Fn() + 'static) -> El {
    el("button").attrs([("type", "button"), ("class", class)]).put(name).on_click(press)
}

/// A way to somewhere else.
#[inline(never)]
pub(crate) fn link(class: &'static str, to: impl Plain, name: impl Into<Node>) -> El {
    el("a").class(class).attr("href", to).put(name)
}

/// A paragraph.
#[inline(never)]
pub(crate) fn p(class: &'static str, words: impl Into<Node>) -> El {
    el("p").class(class).put(words)
}

#[inline(never)]
pub(crate) fn note(words: impl Into<Node>) -> El {
    p("note", words)
}

#[inline(never)]
pub(crate) fn small(words: impl Into<Node>) -> El {
    el("small").put(words)
}

#[inline(never)]
pub(crate) fn div(class: &'static str) -> El {
    el("div").class(class)
}

/// A part of the sheet under its heading.
#[inline(never)]
pub(crate) fn section(heading: &'static str) -> El {
    el("section").put(el("h2").put(heading))
}

/// What opens at a tap.
#[inline(never)]
pub(crate) fn details(summary: impl Into<Node>) -> El {
    el("details").class("how").put(el("summary").put(summary))
}

/// Words for who does not see what is beside them.
pub(crate) fn unseen(words: &'static str) -> El {
    el("span").class("sr").put(words)
}

/// A line or an outline in a picture.
#[inline(never)]
pub(crate) fn path(class: &'static str, d: impl Plain) -> El {
    el("path").attr("d", d).class(class)
}

/// The same, so wide.
#[inline(never)]
pub(crate) fn stroke(class: &'static str, d: &str, width: f64) -> El {
    path(class, d.to_owned()).attr("stroke-width", width)
}

/// Words in a picture.
#[inline(never)]
pub(crate) fn label(class: &'static str, (x, y): (f64, f64), words: impl Into<Node>) -> El {
    el("text").attr("x", x).attr("y", y).class(class).put(words)
}

#[inline(never)]
pub(crate) fn circle(class: &'static str, (x, y): (f64, f64), r: f64) -> El {
    el("circle").attr("cx", x).attr("cy", y).attr("r", r).class(class)
}

#[inline(never)]
pub(crate) fn rect(x: f64, y: f64, width: f64, height: f64) -> El {
    el("rect").attr("x", x).attr("y", y).attr("width", width).attr("height", height)
}

/// A pattern of so many pixels, by which a surface is filled.
pub(crate) fn pattern(id: &'static str, size: &'static str, of: El) -> El {
    let pattern =
        el("pattern").attrs([("id", id), ("width", size), ("height", size), ("patternUnits", "userSpaceOnUse")]);
    pattern.put(of)
}
