//! What recurs on the page and in its pictures.

use super::{El, Node, Plain, el};
use crate::words;

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

/// Lines one below the other, if there are any.
#[inline(never)]
pub(crate) fn list(lines: Vec<String>) -> Option<El> {
    let all = !lines.is_empty();
    all.then(|| el("ul").class("small").put_all(lines.into_iter().map(|line| el("li").put(line))))
}

/// What opens at a tap.
#[inline(never)]
pub(crate) fn details(summary: impl Into<Node>) -> El {
    el("details").class("how").put(el("summary").put(summary))
}

/// How something is known, one tap below it.
#[inline(never)]
pub(crate) fn how_known(source: String) -> El {
    details(words::HOW_KNOWN).fold(move || el("p").put(source.clone()).into())
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
