//! A car as a file: written to one, and taken in from one, as much of it as can be read; and all cars as one file.

use crate::form::Draft;
use crate::keep::at_hand_in;
use crate::store::{self, Brought, Fault};
use crate::words;
use js_sys::{Array, Reflect};
use leptos::prelude::document;
use share::json::{self, Value};
use wasm_bindgen::prelude::*;
use wasm_bindgen_futures::JsFuture;
use web_sys::{Blob, BlobPropertyBag, Event, File, HtmlAnchorElement, HtmlInputElement, Url};

#[wasm_bindgen]
extern "C" {
    /// Set by safe.js: saves all that is stored as a file; gives a sentence if some of it could not be had.
    #[wasm_bindgen(js_name = saveStored, catch)]
    pub(super) async fn save_all() -> Result<JsValue, JsValue>;

    /// Set by safe.js: what such a file holds, its pictures as pictures; undefined if it is another.
    #[wasm_bindgen(js_name = readStored, catch)]
    async fn read_all(file: &File) -> Result<JsValue, JsValue>;
}

/// Takes in a file of all cars; whether it is one. What it brought is told also where the rest of it could not be kept.
pub(super) async fn take_in_all(file: &File, brought: &mut Vec<Brought>) -> Result<bool, Fault> {
    let Some(all) = read_all(file).await.ok().filter(|all| !all.is_undefined()) else { return Ok(false) };
    let texts = Reflect::get(&all, &"texts".into())?;
    let at_hand = at_hand_in(|key| Reflect::get(&texts, &key.into()).ok()?.as_string());
    store::take_in(&all, at_hand, brought).await?;
    Ok(true)
}

/// The file that was chosen; the same can be chosen again.
pub(crate) fn chosen(event: &Event) -> Option<File> {
    let input: HtmlInputElement = event.target()?.dyn_into().ok()?;
    let file = input.files()?.get(0);
    input.set_value("");
    file
}

/// Has the browser save a text as a file.
pub(super) fn save(name: &str, text: &str) -> Result<(), JsValue> {
    let options = BlobPropertyBag::new();
    options.set_type("application/json");
    let blob = Blob::new_with_str_sequence_and_options(&Array::of1(&text.into()), &options)?;
    let url = Url::create_object_url_with_blob(&blob)?;
    let link: HtmlAnchorElement = document().create_element("a")?.unchecked_into();
    link.set_href(&url);
    link.set_download(name);
    link.click();
    // The browser has the file in hand by then (a minute is our choice).
    gloo_timers::callback::Timeout::new(60_000, move || drop(Url::revoke_object_url(&url))).forget();
    Ok(())
}

/// The name of a car's file: what every file system takes.
pub(super) fn name(car: &str) -> String {
    let plain = |c: char| if c.is_ascii_alphanumeric() || !c.is_ascii() { c } else { '-' };
    let name: String = car.chars().map(plain).take(60).collect();
    let name = name.trim_matches('-');
    format!("{}.json", if name.is_empty() { "car" } else { name })
}

/// The text of a file, if it is short enough for a job file.
pub(super) async fn text_of(file: &File) -> Result<String, String> {
    if file.size() > share::LONGEST as f64 {
        return Err(words::FILE_TOO_LONG.to_owned());
    }
    let text = JsFuture::from(file.text()).await.ok().and_then(|text| text.as_string());
    text.ok_or_else(|| words::FILE_UNREAD.to_owned())
}

/// A car from the text of a job file, and what had to be left out of it.
pub(super) fn take_in(text: &str) -> Result<(Draft, Vec<String>), String> {
    let problems = share::read(text).map_err(|why| format!("{why}."))?.problems;
    let mut job = json::read(text).unwrap_or_default();
    let mut out = Vec::new();
    // From behind, so that those before it keep their places.
    for problem in problems.iter().rev() {
        // What is not measured yet is no fault.
        if problem.wrong.ends_with(" is missing") || problem.wrong.ends_with("not null") {
            continue;
        }
        let entry = match problem.run {
            Some(run) => Some(("runs", run)),
            None => entry(&problem.field),
        };
        let Some((list, i)) = entry else { continue };
        if let Some(entries) = job.pointer_mut(&format!("/{list}")).and_then(Value::as_array_mut)
            && i < entries.len()
        {
            let gone = entries.remove(i);
            let name = gone.get("name").and_then(Value::as_str).unwrap_or_default();
            let field = problem.field.rsplit_once(']').map_or("", |(_, field)| field.trim_start_matches('.'));
            let field = if problem.run.is_some() { &problem.field } else { field };
            out.insert(0, format!("{list} {} {name}: {field}: {}.", i + 1, problem.wrong));
        }
    }
    if job.get("runs").and_then(Value::as_array).is_none_or(<[_]>::is_empty) {
        return Err(match out.first() {
            Some(first) => format!("{} {first}", words::NO_RUN),
            None => words::NO_RUN.to_owned(),
        });
    }
    let draft = Draft::open(&job.to_string()).ok_or_else(|| words::FILE_UNREAD.to_owned())?;
    Ok((draft, out))
}

/// `lines[2].from` as the list and the place in it.
fn entry(field: &str) -> Option<(&str, usize)> {
    let (list, rest) = field.split_once('[')?;
    Some((list, rest.split_once(']')?.0.parse().ok()?))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::example::{EXAMPLE, EXAMPLE_CAR};

    #[test]
    fn a_whole_file_is_taken_in_as_it_is_and_written_again_to_the_same() {
        for text in [EXAMPLE, EXAMPLE_CAR] {
            let (draft, out) = take_in(text).expect("a job file");
            assert_eq!((draft.whole(), out), (json::read(text).expect("JSON"), Vec::new()));
            let again = take_in(&draft.whole().to_string()).expect("a job file");
            assert_eq!(again, (draft, Vec::new()));
        }
    }

    #[test]
    fn a_bad_run_and_a_bad_line_are_left_out_and_told_and_the_others_stay() {
        let mut job = json::read(EXAMPLE_CAR).expect("JSON");
        let all = job.pointer("/runs").and_then(Value::as_array).expect("runs").len();
        *job.pointer_mut("/runs/1/from/spigot_mm").expect("a spigot") = "wide".into();
        *job.pointer_mut("/lines/2/kind").expect("a kind") = "rope".into();
        *job.pointer_mut("/lines/0/from").expect("an end") = 3.0.into();
        let lines = job.pointer("/lines").and_then(Value::as_array).expect("lines").len();
        let (draft, out) = take_in(&job.to_string()).expect("a job file");
        assert_eq!((draft.runs().0, draft.list("lines").len()), (all - 1, lines - 2));
        assert_eq!(out.len(), 3, "{out:?}");
        for part in ["runs 2 ", "from.spigot_mm", "\"wide\""] {
            assert!(out.iter().any(|line| line.contains(part)), "{part} in {out:?}");
        }
    }

    #[test]
    fn what_is_not_measured_yet_is_taken_in() {
        let fresh = Draft::fresh(None, quantity::text::LengthUnit::Millimetre);
        assert_eq!(take_in(&fresh.whole().to_string()), Ok((fresh.clone(), Vec::new())));
        let mut half = fresh;
        half.set(0, "to/at_mm", Value::Array(vec![120.0.into(), Value::Null, Value::Null]));
        assert_eq!(take_in(&half.whole().to_string()), Ok((half, Vec::new())));
    }

    #[test]
    fn what_is_no_job_file_is_refused_in_a_sentence() {
        let all_bad = r#"{"format":"hosewright-job","version":1,"runs":[3]}"#;
        for text in ["", "{}", "[1", r#"{"format":"hosewright-job","version":2,"runs":[]}"#, all_bad] {
            let why = take_in(text).expect_err(text);
            assert!(why.ends_with('.') && why.len() > 10, "{why}");
        }
        assert!(take_in(&" ".repeat(share::LONGEST + 1)).is_err(), "too long");
    }

    #[test]
    fn a_file_has_a_name_every_phone_takes() {
        for (car, file) in [
            ("invented estate car, gas", "invented-estate-car--gas.json"),
            ("../..", "car.json"),
            ("", "car.json"),
            ("Kübel 3/4", "Kübel-3-4.json"),
        ] {
            assert_eq!(name(car), file);
        }
    }
}
