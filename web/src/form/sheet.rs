//! The form as it is seen: groups of fields, what is wrong beside the place, the likely right value to tap.

use super::draft::{Draft, Slip, pointer_of};
use super::fields::{Field, Group, Reads, groups};
use crate::el::{El, Node, Turns, afterwards, button, div, el, link, live, many, memo, note, p, section, small, when};
use crate::measure::{Screen, how};
use crate::words;
use gloo_timers::callback::Timeout;
use job::Problem;
use leptos::prelude::*;
use quantity::text::{LengthUnit, read_decimal};
use share::json::Value;
use wasm_bindgen::JsCast;
use web_sys::{Element, Event, HtmlDetailsElement};

/// The measurements of one run.
pub(crate) fn measurements(draft: RwSignal<Draft>, problems: Memo<Vec<Problem>>) -> El {
    section(words::MEASURES)
        .attrs([("id", "measurements"), ("class", "list")])
        .put(note(words::AXES))
        .put(grouped(draft, problems, String::new()))
        .put(p("row", link("bt", "#near", words::ADD_NEAR)))
        .put(p("row", button("bt", words::ADD_CLIP, move || draft.update(|draft| draft.add_clip(0)))))
        .put(p("row", button("bt", words::ADD_LEG, move || draft.update(|draft| draft.add(0, "legs", new_leg())))))
        .put(p("row", how(Screen::Sheet, "wire", words::HOW_WAY)))
}

/// The groups whose fields stand at these places of the job file, as a list below the drawing: it holds what has no place
/// there, and serves whoever does not tap.
pub(crate) fn fields_of(draft: RwSignal<Draft>, problems: Memo<Vec<Problem>>, place: String) -> El {
    div("list").put(grouped(draft, problems, place))
}

/// The groups one below the other.
fn grouped(draft: RwSignal<Draft>, problems: Memo<Vec<Problem>>, place: String) -> Node {
    // The fields change only when a thing is added, taken away, or changes its kind; not with every number.
    let shown = Memo::new(move |_| {
        let mut groups = draft.with(|draft| groups(&draft.job, 0));
        groups.retain(|group| key_of(group).starts_with(&place));
        groups
    });
    // They follow in a task of their own: what was pressed, and what is looked at, is painted first.
    let turns = Turns::of(1);
    afterwards(move || {
        shown.track();
        turns.begin(0, || ());
    });
    turns.part(0, move || shown.get().into_iter().map(|group| folded(group, draft, problems)).collect::<Vec<_>>())
}

/// The first field of the group of what is poured, to which the page leads from where that is worked out.
const POURED: &str = "/conditions/refill/holds_l";

/// By its first field a group is known from the others.
fn key_of(group: &Group) -> &str {
    group.fields.first().map_or("", |field| field.at.as_str())
}

/// One group, folded until it is wanted; open where something is wrong.
fn folded(group: Group, draft: RwSignal<Draft>, problems: Memo<Vec<Problem>>) -> El {
    let key = key_of(&group).to_owned();
    let place = entry_of(&key);
    let fields = group.fields.clone();
    let wrong = memo(move || {
        problems
            .with(|problems| draft.with(|draft| fields.iter().any(|field| slip_of(draft, problems, field).is_some())))
    });
    // Something wrong unfolds the group; nothing folds it again but the person, or it would shut under a thumb that is
    // still typing: the first key of "-280" alone is no number.
    let unfold = move |folder: &Element| {
        let folder: HtmlDetailsElement = folder.clone().unchecked_into();
        afterwards(move || {
            if wrong.get() {
                folder.set_open(true);
            }
        });
    };
    let inside = move || {
        let fields = group.fields.iter().map(|field| one_field(field.clone(), draft, problems));
        let away =
            |(list, i)| button("bt", words::TAKE_AWAY, move || draft.update(|draft| draft.take_away(0, list, i)));
        many![div("fields").put_all(fields), place.map(away)]
    };
    // Where it is open the field itself says it.
    let not_right = || el("strong").class("folded").put(" – not right yet");
    el("details")
        .attr("id", (key == POURED).then_some("to-pour"))
        .key(key)
        .made(unfold)
        .put(el("summary").put(group.title).put(when(move || wrong.get(), not_right)))
        .fold(inside)
}

/// A leg of the way it should go, the last one as yet.
fn new_leg() -> Value {
    Value::object([("straight_mm", 100.0.into())])
}

/// The list of the run and the place in it to which a group with this first field belongs.
fn entry_of(at: &str) -> Option<(&'static str, usize)> {
    let mut parts = at.strip_prefix("/runs/0/")?.split('/');
    let list = parts.next()?;
    let list = ["neighbours", "via", "legs", "elbows"].into_iter().find(|known| *known == list)?;
    Some((list, parts.next()?.parse().ok()?))
}

/// The place of a problem as a person finds it in the form: the title of its group and the name of its field.
pub(crate) fn place_of(draft: &Draft, problem: &Problem) -> String {
    for group in groups(&draft.job, 0) {
        if let Some(field) = group.fields.iter().find(|field| is_of(problem, field)) {
            return format!("{}, {}", group.title, field.label);
        }
    }
    problem.field.clone()
}

/// Whether a problem stands at this field. One of a whole place, direction or leg stands at its first number.
fn is_of(problem: &Problem, field: &Field) -> bool {
    let named = pointer_of(problem.run, &problem.field);
    named == field.at
        || field.at.strip_suffix("/0").is_some_and(|place| place == named)
        || field.at.strip_suffix("/straight_mm").is_some_and(|leg| leg == named)
        || (named.ends_with("/hose") && field.at == format!("{named}/outside_mm"))
}

/// What is wrong with a field: its text, or what the job says of its value.
fn slip_of(draft: &Draft, problems: &[Problem], field: &Field) -> Option<Slip> {
    if let Some(slip) = draft.slip(&field.at) {
        return Some(slip.clone());
    }
    problems.iter().find(|problem| is_of(problem, field)).map(|problem| {
        let a_number = read_decimal(&problem.right).is_some();
        let what = if a_number {
            problem.wrong.clone()
        } else {
            format!("{}; right would be: {}", problem.wrong, problem.right)
        };
        Slip { what, likely: a_number.then(|| problem.right.clone()) }
    })
}

/// So long after the last key what stands in a field is judged, ms; where the field is left, at once (our choice).
const JUDGED_AFTER: u32 = 1500;

/// One field under its name, with what is wrong in it.
pub(crate) fn one_field(field: Field, draft: RwSignal<Draft>, problems: Memo<Vec<Problem>>) -> El {
    let id = format!("f{}", field.at.replace('/', "-"));
    let key = field.at.clone();
    let hint = format!("{id}-wrong");
    let (label, unit, reads) = (field.label, field.unit, field.reads);
    // A keypad of figures may lack the minus of a place or direction (one of three), and the stroke of a fraction.
    let one_of_three = field.at.ends_with(|c: char| c.is_ascii_digit());
    let needs_letters = one_of_three || matches!(reads, Reads::Words | Reads::Bead);
    let hot = field.at.ends_with("/surface_c");
    let field = StoredValue::new(field);
    let slip = Memo::new(move |_| field.with_value(|field| draft.with(|d| problems.with(|p| slip_of(d, p, field)))));
    // Whoever still types is not judged yet: the first figure of 17 is no size of a hose. What was said stands until it is mended.
    let types = RwSignal::new(false);
    let rests = StoredValue::new_local(None::<Timeout>);
    let slip = Memo::new(move |before: Option<&Option<Slip>>| {
        let is_new = before.is_none_or(Option::is_none);
        slip.get().filter(|_| !(is_new && types.get()))
    });
    let text = move || field.with_value(|field| draft.with(|draft| draft.shown(field)));
    let take = move |text: String| field.with_value(|field| draft.update(|draft| draft.type_in(field, &text)));
    let typed = move |text: String| {
        types.set(true);
        rests.set_value(Some(Timeout::new(JUDGED_AFTER, move || types.set(false))));
        take(text);
    };
    let control = match reads.choices() {
        Some(words) => {
            el("select").attr("id", id.clone()).value(text).on_value("change", take).put_all(words.iter().map(|word| {
                let shown = if word.is_empty() { "not known" } else { *word };
                el("option").attr("value", *word).live("selected", move || text() == *word).put(shown)
            }))
        }
        None => {
            let letters = move || needs_letters || draft.with(|draft| draft.unit == LengthUnit::Inch);
            el("input")
                .attr("id", id.clone())
                .attrs([("type", "text"), ("autocomplete", "off"), ("autocapitalize", "off"), ("spellcheck", "false")])
                .live("inputmode", move || if letters() { "text" } else { "decimal" })
                .live("aria-invalid", move || slip.with(|slip| slip.is_some().to_string()))
                .attr("aria-describedby", hint.clone())
                .value(text)
                .on_value("input", typed)
                .on("blur", move |_: &Event| {
                    // It may go with its field.
                    types.try_set(false);
                })
        }
    };
    let wrong = move || {
        slip.get().map(|slip| {
            let likely = slip.likely.map(|likely| button("bt m", likely.clone(), move || take(likely.clone())));
            many![el("p").put(slip.what), " ", likely]
        })
    };
    let unit = (!unit.is_empty()).then(|| small(" ").put(unit));
    // How hot such things get, for one to tap.
    let typical = hot.then(|| {
        let one = |(name, celsius): (&str, f64)| {
            button("bt", format!("{name} {celsius:.0}"), move || take(format!("{celsius:.0}")))
        };
        many![note(words::SURFACES), div("row").put_all(job::SURFACES.map(one))]
    });
    el("div")
        .key(key)
        .live("class", move || match (slip.with(Option::is_some), hot) {
            (true, false) => "field bad",
            (true, true) => "field bad all",
            (false, true) => "field all",
            (false, false) => "field",
        })
        .put(el("label").attr("for", id).put(label).put(" ").put(unit))
        .put(control)
        .put(div("err").attr("id", hint).attr("role", "status").put(live(wrong)))
        .put(typical)
}
