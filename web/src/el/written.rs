//! What is said of the page written down as markup, as the HTML standard serialises it: for what stands there before the page
//! has started. Ears and what is done with made elements are left out.

#![cfg(test)]

use super::{El, How, Node, Value, Words};

/// Markup, and the places that its policy forbids it to hold: what `style` says is told apart, as rules.
#[derive(Default)]
pub(crate) struct Written {
    pub(crate) markup: String,
    pub(crate) rules: Vec<String>,
}

impl Written {
    /// Writes it behind what is written. A place that follows signals is written as it is now.
    pub(crate) fn put(&mut self, node: Node) {
        match node {
            Node::Words(words) => self.markup += &escaped(&words).replace('<', "&lt;").replace('>', "&gt;"),
            Node::Element(el) => self.put_element(el),
            Node::Many(nodes) => nodes.into_iter().for_each(|node| self.put(node)),
            Node::Live(say) => self.put(say()),
        }
    }

    fn put_element(&mut self, El(said): El) {
        let is_void = matches!(said.tag, "input" | "br");
        self.markup += &format!("<{}", said.tag);
        let mut style = String::new();
        for attribute in said.attributes {
            let value: Option<Words> = match attribute.value {
                Value::Fixed(value) => value,
                Value::Live(say) => say(),
            };
            let Some(value) = value else { continue };
            match attribute.how {
                How::Style => style += &format!("{}:{value};", attribute.name),
                How::Attribute | How::Property => {
                    self.markup += &format!(" {}=\"{}\"", attribute.name, escaped(&value).replace('"', "&quot;"));
                }
            }
        }
        if !style.is_empty() {
            let n = self.rules.len();
            self.markup += &format!(" data-at=\"{n}\"");
            self.rules.push(format!("[data-at=\"{n}\"] {{ {} }}", style.trim_end_matches(';').replace(';', "; ")));
        }
        self.markup += ">";
        if !is_void {
            said.inside.into_iter().for_each(|node| self.put(node));
            self.markup += &format!("</{}>", said.tag);
        }
    }
}

fn escaped(words: &str) -> String {
    words.replace('&', "&amp;").replace('\u{a0}', "&nbsp;")
}

mod tests {
    use super::*;
    use crate::el::{el, live, many, p};

    #[test]
    fn markup_is_written_as_the_html_standard_serialises_it() {
        // Reference: HTML Living Standard, 13.3 "Serializing HTML fragments" and "Escaping a string".
        let mut written = Written::default();
        let field = el("input").attr("title", "\"a\" & <b>").value(|| "16").style("left", "3%".to_owned());
        written.put(many![p("x", "1 < 2 & 3\u{a0}> 2 \"so\""), live(field_less), field]);
        let markup = "<p class=\"x\">1 &lt; 2 &amp; 3&nbsp;&gt; 2 \"so\"</p><br>\
            <input title=\"&quot;a&quot; &amp; <b>\" value=\"16\" data-at=\"0\">";
        assert_eq!(written.markup, markup);
        assert_eq!(written.rules, ["[data-at=\"0\"] { left:3% }"]);
    }

    fn field_less() -> Node {
        el("br").attr("hidden", None).into()
    }
}
