//! The form as it is seen: groups of fields, what is wrong beside the place, the likely right value to tap.

use super::draft::{Draft, Slip, pointer_of};
use super::fields::{Field, Group, Reads, groups};
use crate::words;
use job::Problem;
use leptos::{html, prelude::*};
use quantity::text::LengthUnit;

/// The measurements of one run.
#[component]
pub(crate) fn Measurements(draft: RwSignal<Draft>, problems: Memo<Vec<Problem>>) -> impl IntoView {
    // The fields change only when a thing is added, taken away, or changes its kind; not with every number.
    let shown = Memo::new(move |_| draft.with(|draft| groups(&draft.job, 0)));
    view! {
        <section id="measurements" class="list">
            <h2>{words::MEASURES}</h2>
            <p class="note">{words::AXES}</p>
            <For each=move || shown.get() key=|group| group.fields.first().map(|f| f.at.clone()) let(group)>
                <Fields group draft problems shown />
            </For>
            <p class="row"><a class="bt" href="#near">{words::ADD_NEAR}</a></p>
        </section>
    }
}

/// The groups whose fields stand at these places of the job file, as a list below the drawing: it holds what has no place
/// there, and serves whoever does not tap.
pub(crate) fn fields_of(draft: RwSignal<Draft>, problems: Memo<Vec<Problem>>, place: String) -> AnyView {
    let shown = Memo::new(move |_| {
        let mut groups = draft.with(|draft| groups(&draft.job, 0));
        groups.retain(|group| group.fields.first().is_some_and(|field| field.at.starts_with(&place)));
        groups
    });
    view! {
        <div class="list">
            <For each=move || shown.get() key=|group| group.fields.first().map(|f| f.at.clone()) let(group)>
                <Fields group draft problems shown />
            </For>
        </div>
    }
    .into_any()
}

/// One group, folded until it is wanted; open where something is wrong.
#[component]
fn Fields(
    group: Group,
    draft: RwSignal<Draft>,
    problems: Memo<Vec<Problem>>,
    shown: Memo<Vec<Group>>,
) -> impl IntoView {
    let key = group.fields.first().map(|field| field.at.clone()).unwrap_or_default();
    let now = {
        let key = key.clone();
        Memo::new(move |_| {
            shown.with(|groups| groups.iter().find(|g| g.fields.first().is_some_and(|f| f.at == key)).cloned())
        })
    };
    let place = neighbour_place(&key);
    let wrong = Memo::new(move |_| {
        now.with(|group| {
            group.as_ref().is_some_and(|group| {
                group.fields.iter().any(|field| draft.with(|draft| slip_of(draft, &problems.get(), field).is_some()))
            })
        })
    });
    // Something wrong unfolds the group; nothing folds it again but the person, or it would shut under a thumb that is
    // still typing: the first key of "-280" alone is no number.
    let folder = NodeRef::<html::Details>::new();
    Effect::new(move |_| {
        if let Some(folder) = folder.get().filter(|_| wrong.get()) {
            folder.set_open(true);
        }
    });
    view! {
        <details node_ref=folder>
            <summary>
                {move || now.get().map(|group| group.title)}
                <Show when=move || wrong.get()><strong>" – not right yet"</strong></Show>
            </summary>
            <div class="fields">
                <For each=move || now.get().map(|group| group.fields).unwrap_or_default() key=|field| field.at.clone() let(field)>
                    <OneField field draft problems />
                </For>
            </div>
            {place.map(|i| {
                view! {
                    <button type="button" class="bt" on:click=move |_| draft.update(|d| d.remove_neighbour(0, i))>{words::TAKE_AWAY}</button>
                }
            })}
        </details>
    }
}

/// The number of the thing near it whose group begins with this field.
fn neighbour_place(at: &str) -> Option<usize> {
    at.split_once("/neighbours/")?.1.split('/').next()?.parse().ok()
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

/// Whether a problem stands at this field. One of a whole place or direction stands at its first number.
fn is_of(problem: &Problem, field: &Field) -> bool {
    let named = pointer_of(problem.run, &problem.field);
    named == field.at
        || field.at.strip_suffix("/0").is_some_and(|place| place == named)
        || (named.ends_with("/hose") && field.at == format!("{named}/outside_mm"))
}

/// What is wrong with a field: its text, or what the job says of its value.
fn slip_of(draft: &Draft, problems: &[Problem], field: &Field) -> Option<Slip> {
    if let Some(slip) = draft.slip(&field.at) {
        return Some(slip.clone());
    }
    problems.iter().find(|problem| is_of(problem, field)).map(|problem| {
        let a_number = problem.right.parse::<f64>().is_ok();
        let what = if a_number {
            problem.wrong.clone()
        } else {
            format!("{}; right would be: {}", problem.wrong, problem.right)
        };
        Slip { what, likely: a_number.then(|| problem.right.clone()) }
    })
}

#[component]
fn OneField(field: Field, draft: RwSignal<Draft>, problems: Memo<Vec<Problem>>) -> impl IntoView {
    let id = format!("f{}", field.at.replace('/', "-"));
    let field = StoredValue::new(field);
    let slip = Memo::new(move |_| field.with_value(|field| draft.with(|draft| slip_of(draft, &problems.get(), field))));
    let text = move || field.with_value(|field| draft.with(|draft| draft.shown(field)));
    let take = move |text: String| field.with_value(|field| draft.update(|draft| draft.type_in(field, &text)));
    let (label, unit, reads) = field.with_value(|field| (field.label, field.unit, field.reads));
    let hint = format!("{id}-wrong");
    let described = hint.clone();
    // A keypad of figures may lack the minus of a place or direction (one of three), and the stroke of a fraction.
    let one_of_three = field.with_value(|field| field.at.ends_with(|c: char| c.is_ascii_digit()));
    let needs_letters = one_of_three || matches!(reads, Reads::Words | Reads::Bead);
    let control = match reads.choices() {
        Some(words) => view! {
            <select id=id.clone() prop:value=text on:change=move |event| take(event_target_value(&event))>
                {words
                    .iter()
                    .map(|word| {
                        let word = *word;
                        let shown = if word.is_empty() { "not known" } else { word };
                        view! { <option value=word selected=move || text() == word>{shown}</option> }
                    })
                    .collect_view()}
            </select>
        }
        .into_any(),
        None => view! {
            <input
                id=id.clone()
                type="text"
                inputmode=move || if needs_letters || draft.with(|d| d.unit == LengthUnit::Inch) { "text" } else { "decimal" }
                autocomplete="off"
                autocapitalize="off"
                spellcheck="false"
                aria-invalid=move || slip.with(|slip| slip.is_some().to_string())
                aria-describedby=described.clone()
                prop:value=text
                on:input=move |event| take(event_target_value(&event))
            />
        }
        .into_any(),
    };
    view! {
        <div class="field" class:bad=move || slip.with(Option::is_some)>
            <label for=id.clone()>{label} {(!unit.is_empty()).then(|| view! { <small>" "{unit}</small> })}</label>
            {control}
            <div id=hint class="err" role="status">
                {move || slip.get().map(|slip| {
                    let likely = slip.likely.map(|likely| {
                        let text = likely.clone();
                        view! {
                            <button type="button" class="bt m" on:click=move |_| take(text.clone())>{likely}</button>
                        }
                    });
                    view! { <p>{slip.what}</p> {likely} }
                })}
            </div>
        </div>
    }
}
