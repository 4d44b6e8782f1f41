//! What stands on the page: the nodes that were made, and what is alive in them.

use super::{Attribute, Hears, How, Node, Said, Value, Words, keep};
use crate::language;
use gloo_events::{EventListener, EventListenerOptions};
use leptos::prelude::*;
use std::borrow::Cow;
use std::cell::RefCell;
use std::rc::Rc;
use wasm_bindgen::{JsCast, UnwrapThrowExt};
use web_sys::{Comment, CssStyleDeclaration, Element, Event};

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
    fold: Option<Fold>,
}

/// Whether it was opened yet: what is folded in it is made then, and stays.
struct Fold {
    opened: ArcRwSignal<bool>,
    /// A press comes before the browser unfolds it, so that it is full when it does; its word that it did comes in any case.
    _ears: [EventListener; 2],
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
    let words = &*if is_read_out(name) { language::say(words) } else { words.into() };
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

/// Whether an attribute holds words for people.
fn is_read_out(name: &str) -> bool {
    matches!(name, "aria-label" | "aria-valuetext" | "alt" | "placeholder" | "title")
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
    fn new(mut el: Said) -> Self {
        const SVG: &str = "http://www.w3.org/2000/svg";
        let element = match el.tag {
            "svg" | "g" | "path" | "circle" | "rect" | "polygon" | "text" | "defs" | "pattern" => {
                document().create_element_ns(Some(SVG), el.tag)
            }
            tag => document().create_element(tag),
        };
        let element = element.unwrap_throw();
        let fold = el.folded.take().map(|say| {
            let fold = Fold::new(&element);
            el.inside.push(fold.node(say));
            fold
        });
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
        Self { element, tag: el.tag, key: el.key, attributes, ears, inside, fold }
    }

    /// Whether what is said can be put on what is there.
    fn fits(&self, el: &Said) -> bool {
        self.tag == el.tag
            && self.key == el.key
            && self.attributes.iter().map(|a| (a.how, a.name)).eq(el.attributes.iter().map(|a| (a.how, a.name)))
            && self.ears.iter().map(|ear| ear.event).eq(el.ears.iter().map(|ear| ear.0))
            && self.fold.is_some() == el.folded.is_some()
    }

    fn take_on(&mut self, mut el: Said) {
        if let Some((fold, say)) = self.fold.as_ref().zip(el.folded) {
            el.inside.push(fold.node(say));
        }
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

impl Fold {
    fn new(element: &Element) -> Self {
        let opened = ArcRwSignal::new(false);
        let ear = |event| {
            let opened = opened.clone();
            EventListener::new(element, event, move |_| {
                if !opened.get_untracked() {
                    opened.set(true);
                }
            })
        };
        Self { _ears: [ear("click"), ear("toggle")], opened }
    }

    fn node(&self, say: Rc<dyn Fn() -> Node>) -> Node {
        let opened = self.opened.clone();
        Node::Live(Rc::new(move || opened.get().then(|| say()).into()))
    }
}

impl Drop for KeptLive {
    /// The effect's own hold on what it shows ends only with its task: until then what is shown would follow signals that
    /// have ended with the effect.
    fn drop(&mut self) {
        self.now.take();
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

/// The words as they are shown: a mark that turns the direction of what follows (Unicode Standard Annex 9, section 2), left
/// open in a name, would turn the figures behind that name as well. A sign stands in its place.
fn shown(words: &str) -> Cow<'_, str> {
    let turns = |c: char| matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
    if words.contains(turns) { words.replace(turns, "\u{fffd}").into() } else { words.into() }
}

impl Kept {
    fn new(node: Node) -> Self {
        match node {
            Node::Words(words) => Self::Words(document().create_text_node(&shown(&language::say(&words))), words),
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
                    text.set_data(&shown(&language::say(&words)));
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

#[cfg(test)]
mod tests {
    use super::shown;

    #[test]
    fn marks_that_turn_the_direction_are_shown_as_signs_and_letters_of_any_script_as_they_are() {
        assert_eq!(shown("a\u{202e}b\u{2066}"), "a\u{fffd}b\u{fffd}");
        for plain in ["<b>&lt;", "\u{5e6}\u{5d9}\u{5e0}\u{5d5}\u{5e8} 480 mm", "\u{200b}\u{200d}\u{1f527}"] {
            assert_eq!(shown(plain), plain);
        }
    }
}
