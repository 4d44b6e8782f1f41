//! The words of the page in other languages: every sentence of the sources stands in `web/words.pot`, and every language has it.
//!
//! The files are those of GNU gettext (PO). A sentence is its own key; what is filled in stands as `{1}`, `{2}`. With
//! `HOSEWRIGHT_WRITE=1` the list is written from the sources; a translation is written by a person.

use crate::how_good;
use crate::tidy::{fail_if_any, root, tracked};
use proc_macro2::{TokenStream, TokenTree};
use std::collections::{BTreeMap, BTreeSet};

/// Where words for people stand.
const SOURCES: [&str; 7] = [
    "crates/quantity/src/",
    "crates/stock/src/",
    "crates/coolant/src/",
    "crates/checks/src/",
    "crates/job/src/",
    "crates/share/src/",
    "web/src/",
];

/// The languages beside English.
const LANGUAGES: [&str; 2] = ["de", "es"];

/// Columns of `crates/stock/data` that are shown: words of the trade, and where a value is from.
const COLUMNS: [(&str, &str); 3] = [("hoses.csv", "kind"), ("sources.csv", "title"), ("sources.csv", "where")];

/// The examples that the page begins with, and what of them is a name.
const EXAMPLES: [&str; 2] = ["tests/cases/example.json", "tests/cases/car.json"];
const NAMES: [&str; 4] = ["name", "car", "what", "note"];

/// What a thing near the hose is called until it has a name: a kind and a form (`crates/job/src/input.rs`).
const KINDS: [&str; 4] = ["hot", "moving", "sharp", "solid"];
const FORMS: [&str; 4] = ["pipe", "lump", "block", "disc"];

/// What each language is called by those who speak it stays as it is.
const NAMES_OF_LANGUAGES: &str = "web/src/language.rs";

/// Calls whose texts are for programmers, or names of files, classes and addresses.
const NOT_SHOWN: [&str; 20] = [
    "expect",
    "panic",
    "unreachable",
    "assert",
    "assert_eq",
    "debug_assert",
    "doc",
    "class",
    "style",
    "live_style",
    "include_str",
    "cfg",
    "allow",
    "serde",
    "starts_with",
    "ends_with",
    "strip_prefix",
    "from_hash",
    "todo",
    "create_element",
];

/// Calls whose first text is a class.
const CLASS_FIRST: [&str; 9] = ["button", "div", "link", "list", "p", "path", "rect", "stroke", "section"];

/// Literals that look like words and are none: classes, keys, errors and events of browsers, marks of files, names of fields.
const NO_WORDS: &str = "(display-mode: standalone)|(forced-colors: active)|(prefers-color-scheme: dark)|.tb h1|AbortError|ArrowDown|\
    ArrowLeft|ArrowRight|ArrowUp|Backspace|CARGO_PKG_VERSION|End|Home|Hosewright {1}|InvalidStateError|OUT_DIR|PageDown|PageUp|Pa|\
    Enter|QuotaExceededError|TransactionInactiveError|UnknownError|VersionError|c dash|d dash|ob dash|q mi|mi b|mi letter|mi row|field all|\
    field bad|field bad all|tag round|tag-word new|tag-word open|tag-word out|touch off|vd fails|vd stop|{1} {2}px {3}|clamp {1} {2} {3} band {4}|hose {1} x {2}|100 mm|pic bare|pic turn|mi b on|\
    Solver|ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_|N·m|N·mm|W/(m·K)|EPDM|NBR|CR|bt m|note here|note tight|b mi tiny|l mi letter|ls go|ls plain|ls go plain|how more|o dots|50% 0px|\
    button, a, input|header, main|hosewright solver {1}|text/html; charset=utf-8|GET|SHA-256";

/// Words that stand alone: among the literals nothing tells them from names of fields and elements.
const SINGLE: &str = "above across air alternator altitude aluminium always arch away axis back ball band bare battery bay bead before \
    behind below belt bleed block body boils bolt boss bottom box bracket brake brass bulb bulkhead bypass cap car carburettor cars \
    chassis choose clamp clamps class clip clips closed clutch cold collapse column coolant cooler copper core corner cracked \
    crossmember crust day dirt dirty disc down drain durability edge elbow elbows engine ethylene exhaust expansion fails fan filler \
    filter fit fits flat floor forward frame from front frost gasket gearbox glycol goes grommet head heat heater height higher hold \
    hose hoses hot hotter housing in inlet invented joiner left less level line lines liquid longer loom lower lump main manifold \
    manual measured medium missing mix more mount moves near nearer new next none nothing off oil outlet panel part parts pass passes \
    pipe plan plastic plate plug pour pressure propylene published pulley pump radiator rail rating reach rear restrictor return right \
    rock rocking rod role room rubber run runs rusted sag seat sensor servo sharp shield side silicone sleeve small snap soft solid \
    sound spigot spigots spring starter steel steering strong strut stub stuck subframe sump sure system tank tap tee tensioner \
    thermostat thing thread throttle to top touches towards tray tunnel turbo up upper valve vaporiser warm water weak week weeping \
    name taken degrees hottest concentrate blank tighten loop slowly volume squeeze proof opens dispose closures crack end start vacuum \
     kind moving bore other litres least needs drains note keep passage branch it on \
    higher lower further back by aside bend check slope tin \
    wet wheel wing wire with year years yes no";

/// A page beside the start page, and its script; what is said where the page cannot start, starts without what is stored, or
/// is gone.
const PAGES: [&str; 5] = ["web/public/measuring.html", "web/tilt.js", "web/boot.js", "web/safe.js", "web/sw.js"];

/// The start page; of what stands in it only what is shown where it is late is said in another language.
const START: &str = "index.html";

/// Where in the sources a sentence stands, by the sentence.
type Sentences = BTreeMap<String, BTreeSet<String>>;

/// A literal as a sentence: without the white space round it, what is filled in as `{1}`, `{2}`; two that touch are one.
fn sentence(literal: &str) -> String {
    let (mut said, mut slots, mut rest, mut touches) = (String::new(), 0, literal.trim(), false);
    while let Some(c) = rest.chars().next() {
        let slot = rest.strip_prefix('{').and_then(|inside| inside.split_once('}')).filter(|(name, _)| {
            let name = name.split(':').next().unwrap_or_default();
            !rest.starts_with("{{") && name.chars().all(|c| c.is_ascii_alphanumeric() || "_.".contains(c))
        });
        if let Some((_, after)) = slot {
            if !touches {
                slots += 1;
                said.push_str(&format!("{{{slots}}}"));
            }
            (rest, touches) = (after, true);
        } else {
            let doubled = rest.starts_with("{{") || rest.starts_with("}}");
            said.push(c);
            (rest, touches) = (&rest[c.len_utf8() * if doubled { 2 } else { 1 }..], false);
        }
    }
    said
}

/// Whether a sentence is for people: several words, one that begins like a sentence, or one that is listed.
fn is_for_people(said: &str) -> bool {
    if SINGLE.split_whitespace().any(|word| word == said) {
        return true;
    }
    let fixed: String = said.split('{').map(|part| part.split_once('}').map_or(part, |(_, after)| after)).collect();
    let word = |word: &str| word.chars().filter(|c| c.is_alphabetic()).count() > 1;
    fixed.split_whitespace().any(word)
        && (said.contains(' ') || said.chars().next().is_some_and(char::is_uppercase))
        && !NO_WORDS.split('|').any(|none| none == said)
        && !is_path(&fixed)
}

/// Whether it is the path of a drawing.
fn is_path(fixed: &str) -> bool {
    fixed.starts_with('M') && fixed.chars().all(|c| "MmHhVvLlQqCcAaZz0123456789.,- ".contains(c))
}

/// The texts of a page, and what is read out in place of its pictures.
fn of_markup(markup: &str) -> Vec<String> {
    let mut all = Vec::new();
    for piece in markup.split('<').skip(1) {
        let (tag, text) = piece.split_once('>').expect("a tag has its end");
        let label = tag.split_once("aria-label=\"").and_then(|(_, label)| label.split('"').next());
        all.extend(label.into_iter().chain([text]).map(str::to_owned));
    }
    all
}

/// The literals of a script, what is filled in as a slot; of markup the texts.
fn of_script(script: &str) -> Vec<String> {
    let (mut all, mut rest) = (Vec::new(), script);
    while let Some(at) = rest.find(['/', '\'', '`']) {
        let (mark, behind) = rest[at..].split_at(1);
        let end = match (mark, behind.chars().next()) {
            ("/", Some('/')) => "\n",
            ("/", Some('*')) => "*/",
            ("/", _) => "",
            (quote, _) => quote,
        };
        let (inside, after) = behind.split_once(end).expect("what begins has an end");
        if mark != "/" {
            let mut parts = inside.split("${");
            let first = parts.next().unwrap_or_default().to_owned();
            let said = parts.fold(first, |said, part| said + "{0}" + part.split_once('}').map_or("", |(_, text)| text));
            if said.starts_with('<') { all.extend(of_markup(&said)) } else { all.push(said) }
        }
        rest = after;
    }
    all
}

/// Gathers the literals of one file that are for people.
fn gather(tokens: TokenStream, path: &str, into: &mut Sentences) {
    let tokens: Vec<_> = tokens.into_iter().collect();
    let name = |tree: Option<&TokenTree>| match tree {
        Some(TokenTree::Ident(name)) => name.to_string(),
        Some(TokenTree::Punct(mark)) => mark.to_string(),
        _ => String::new(),
    };
    let mut i = 0;
    while i < tokens.len() {
        match &tokens[i] {
            TokenTree::Group(group) => {
                let before = |back: usize| name(i.checked_sub(back).and_then(|at| tokens.get(at)));
                let called = if before(1) == "!" { before(2) } else { before(1) };
                let attribute = before(1) == "#" || (before(1) == "!" && before(2) == "#");
                if attribute && group.stream().to_string() == "cfg (test)" {
                    // What stands behind it up to its own block or its semicolon is for tests.
                    while i + 1 < tokens.len()
                        && !matches!(&tokens[i + 1], TokenTree::Group(_))
                        && name(tokens.get(i + 1)) != ";"
                    {
                        i += 1;
                    }
                    i += 1;
                } else if !attribute && !NOT_SHOWN.contains(&called.as_str()) {
                    let skipped = usize::from(CLASS_FIRST.contains(&called.as_str()));
                    gather(group.stream().into_iter().skip(skipped).collect(), path, into);
                }
            }
            TokenTree::Literal(literal) => {
                if let Ok(text) = syn::parse_str::<syn::LitStr>(&literal.to_string()) {
                    let said = sentence(&text.value());
                    if is_for_people(&said) {
                        into.entry(said).or_default().insert(path.to_owned());
                    }
                }
            }
            _ => (),
        }
        i += 1;
    }
}

/// Puts those that are for people among the sentences.
fn put(all: &[String], path: &str, into: &mut Sentences) {
    for one in all.iter().map(|text| sentence(text)).filter(|one| is_for_people(one)) {
        into.entry(one).or_default().insert(path.to_owned());
    }
}

/// Every sentence of the sources.
fn of_the_sources() -> Sentences {
    let mut said = Sentences::new();
    for (path, text) in tracked() {
        if path == NAMES_OF_LANGUAGES {
            continue;
        }
        let is_source = SOURCES.iter().any(|folder| path.starts_with(folder)) && path.ends_with(".rs");
        let is_test = path.ends_with("tests.rs") || path.contains("/tests/") || text.contains("\n#![cfg(test)]\n");
        if is_source && !is_test {
            let tokens = text.parse().unwrap_or_else(|why| panic!("{path}: {why}"));
            gather(tokens, &path, &mut said);
        }
        if PAGES.contains(&path.as_str()) {
            let all = if path.ends_with(".js") { of_script(&text) } else { of_markup(&text) };
            put(&all, &path, &mut said);
        }
        if path == START {
            let (_, late) = text.split_once("id=\"late\"").expect("what it says when it is late");
            put(&of_markup(&format!("<section {late}")), &path, &mut said);
        }
    }
    put(&how_good::sentences(), "tests/src/how_good.rs", &mut said);
    for (file, column) in COLUMNS {
        let path = format!("crates/stock/data/{file}");
        let mut table = csv::Reader::from_path(root().join(&path)).expect("the table opens");
        let at = table.headers().expect("a head").iter().position(|name| name == column).expect("the column");
        for row in table.records() {
            said.entry(row.expect("a row")[at].to_owned()).or_default().insert(path.clone());
        }
    }
    for thing in KINDS.iter().flat_map(|kind| FORMS.map(|form| format!("{kind} {form}"))) {
        said.entry(thing).or_default().insert("crates/job/src/input.rs".to_owned());
    }
    for path in EXAMPLES {
        let text = std::fs::read_to_string(root().join(path)).expect("the example is there");
        name_in(&serde_json::from_str(&text).expect("an example is JSON"), path, &mut said);
    }
    said
}

/// The names in an example.
fn name_in(value: &serde_json::Value, path: &str, into: &mut Sentences) {
    for (key, value) in value.as_object().into_iter().flatten() {
        if let Some(name) = value.as_str().filter(|_| NAMES.contains(&key.as_str())) {
            into.entry(name.to_owned()).or_default().insert(path.to_owned());
        }
        name_in(value, path, into);
    }
    value.as_array().into_iter().flatten().for_each(|value| name_in(value, path, into));
}

/// The list of all sentences, as a template of a translation.
fn template() -> String {
    let mut pot = String::from(
        "# Every sentence of the page. Written from the sources: HOSEWRIGHT_WRITE=1 cargo test -p tests words\n\
         msgid \"\"\nmsgstr \"Content-Type: text/plain; charset=UTF-8\\n\"\n",
    );
    for (said, at) in of_the_sources() {
        let at: Vec<_> = at.into_iter().collect();
        pot.push_str(&format!("\n#: {}\nmsgid {}\nmsgstr \"\"\n", at.join(" "), quoted(&said)));
    }
    pot
}

/// As gettext writes it, which here is as JSON does.
fn quoted(text: &str) -> String {
    serde_json::to_string(text).expect("a text has a form in JSON")
}

/// The sentences of a translation, by the English ones.
///
/// # Errors
/// The line that is none of such a file.
fn read(po: &str) -> Result<BTreeMap<String, String>, String> {
    let mut said = BTreeMap::new();
    let mut id = None;
    for line in po.lines().map(str::trim).filter(|line| !line.is_empty() && !line.starts_with('#')) {
        let text = |quoted: &str| serde_json::from_str::<String>(quoted.trim()).map_err(|why| format!("{line}: {why}"));
        if let Some(quoted) = line.strip_prefix("msgid ") {
            id = Some(text(quoted)?);
        } else if let Some(quoted) = line.strip_prefix("msgstr ") {
            let id = id.take().ok_or_else(|| format!("{line}: without its msgid"))?;
            if said.insert(id, text(quoted)?).is_some() {
                return Err(format!("{line}: its msgid stands there twice"));
            }
        } else {
            return Err(line.to_owned());
        }
    }
    said.remove("");
    Ok(said)
}

/// The slots of a sentence, in order of their numbers.
fn slots(said: &str) -> Vec<&str> {
    let mut slots: Vec<_> =
        said.split('{').skip(1).filter_map(|part| part.split_once('}')).map(|(slot, _)| slot).collect();
    slots.retain(|slot| slot.chars().all(|c| c.is_ascii_digit()));
    slots.sort_unstable();
    slots
}

#[test]
fn the_list_of_sentences_is_that_of_the_sources() {
    let (at, now) = (root().join("web/words.pot"), template());
    if std::env::var_os("HOSEWRIGHT_WRITE").is_some() {
        std::fs::write(&at, &now).expect("the list can be written");
    }
    let kept = std::fs::read_to_string(&at).unwrap_or_default();
    assert!(kept == now, "web/words.pot is not of these sources: HOSEWRIGHT_WRITE=1 cargo test -p tests words");
}

#[test]
fn every_language_has_every_sentence_and_none_besides_with_the_same_slots() {
    let english = of_the_sources();
    for language in LANGUAGES {
        let path = format!("web/public/words/{language}.po");
        let text = std::fs::read_to_string(root().join(&path)).unwrap_or_else(|why| panic!("{path}: {why}"));
        let said = read(&text).unwrap_or_else(|why| panic!("{path}: {why}"));
        let mut faults: Vec<_> =
            english.keys().filter(|id| !said.contains_key(*id)).map(|id| format!("{path} lacks {id:?}")).collect();
        for (id, words) in &said {
            if !english.contains_key(id) {
                faults.push(format!("{path}: nothing says {id:?} any more"));
            }
            if words.trim().is_empty() || words.trim() != words {
                faults.push(format!("{path}: empty, or with white space at an end: {id:?}"));
            }
            if slots(id) != slots(words) {
                faults.push(format!("{path}: {id:?} has other slots than {words:?}"));
            }
        }
        fail_if_any(&faults, "every sentence in every language");
    }
}

#[test]
fn what_is_filled_in_is_numbered_and_what_is_none_is_left() {
    for (literal, said) in [
        ("cut {}, {x:.1} long", "cut {1}, {2} long"),
        (" {a}{b} then", "{1} then"),
        ("{\"about\": [0, 0, 1]}", "{\"about\": [0, 0, 1]}"),
        ("{{one}} {}", "{one} {1}"),
        ("over\n lines", "over\n lines"),
    ] {
        assert_eq!(sentence(literal), said);
    }
    assert_eq!(slots("{2} of {1}"), ["1", "2"]);
}

#[test]
fn sentences_are_found_inside_of_macros_and_not_in_tests_or_names() {
    let source = r#"
        /// Not this comment.
        fn f() { format!("{n} hoses fit"); button("bt short", "Cut it now"); g().expect("not this one"); el("div") }
        #[cfg(test)]
        mod tests { fn t() { say("Not this either"); } }
        const AFTER: &str = "This one again";
    "#;
    let mut said = Sentences::new();
    gather(source.parse().expect("tokens"), "here", &mut said);
    assert_eq!(said.into_keys().collect::<Vec<_>>(), ["Cut it now", "This one again", "{1} hoses fit"]);
}

#[test]
fn a_translation_that_is_broken_is_refused() {
    assert_eq!(read("msgid \"a\"\nmsgstr \"b\"\n").map(|said| said.len()), Ok(1));
    for broken in ["msgstr \"b\"", "msgid \"a", "nothing", "msgid \"a\"\nmsgstr \"b\"\nmsgid \"a\"\nmsgstr \"c\""] {
        assert!(read(broken).is_err(), "{broken}");
    }
}
