//! Reads and writes the job file.

use job::input::{ConditionsInput, Input, RunInput};
use job::{Problem, Report};
use serde::de::DeserializeOwned;
use serde_json::{Map, Value, json};
use std::fmt;

/// First field of every job file.
pub const FORMAT: &str = "hosewright-job";
/// The version this program writes.
pub const VERSION: u64 = 1;
/// Longest text that is read at all, bytes.
pub const LONGEST: usize = 1 << 20;

/// Why a text is not a job file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum BadFile {
    /// Longer than [`LONGEST`].
    TooLong,
    /// Not JSON; where, and what was expected.
    NotJson {
        /// Line, from 1.
        line: usize,
        /// Column, from 1.
        column: usize,
        /// What the reader says.
        what: String,
    },
    /// JSON, but not a job file.
    NotAJob,
    /// Written by a newer program.
    Newer {
        /// Its version.
        version: u64,
    },
    /// A field of the whole job is unknown, missing, or of the wrong type.
    Field {
        /// Its path.
        field: String,
        /// What is wrong.
        what: String,
    },
}

impl fmt::Display for BadFile {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooLong => write!(f, "longer than {LONGEST} bytes: not a job file"),
            Self::NotJson { line, column, what } => write!(f, "line {line}, column {column}: not JSON: {what}"),
            Self::NotAJob => write!(f, "field format: must be \"{FORMAT}\""),
            Self::Newer { version } => {
                write!(f, "field version: {version} is newer than this program, which reads up to {VERSION}: update it")
            }
            Self::Field { field, what } => write!(f, "field {field}: {what}"),
        }
    }
}

impl std::error::Error for BadFile {}

/// A file that was read.
#[derive(Clone, Debug)]
pub struct Opened {
    /// The job, with every run that could be read.
    pub input: Input,
    /// Place in the file of every run in `input`.
    pub places: Vec<usize>,
    /// The runs that could not be read, and why.
    pub problems: Vec<Problem>,
}

/// A value read with the path of what is wrong in it.
fn typed<T: DeserializeOwned>(value: Value) -> Result<T, (String, String)> {
    serde_path_to_error::deserialize(value).map_err(|why| {
        let path = why.path().to_string();
        (if path == "." { String::new() } else { path }, why.into_inner().to_string())
    })
}

fn field<T: DeserializeOwned>(map: &mut Map<String, Value>, name: &str) -> Result<Option<T>, BadFile> {
    match map.remove(name) {
        None | Some(Value::Null) => Ok(None),
        Some(value) => typed(value).map(Some).map_err(|(path, what)| {
            let dot = if path.is_empty() { "" } else { "." };
            BadFile::Field { field: format!("{name}{dot}{path}"), what }
        }),
    }
}

/// Reads a job file.
///
/// # Errors
/// [`BadFile`] if the text as a whole is not a job file that this program knows. Something wrong inside one run is not
/// an error: that run is left out and listed in [`Opened::problems`].
pub fn read(text: &str) -> Result<Opened, BadFile> {
    if text.len() > LONGEST {
        return Err(BadFile::TooLong);
    }
    let value: Value = serde_json::from_str(text).map_err(|why| BadFile::NotJson {
        line: why.line(),
        column: why.column(),
        what: why.to_string(),
    })?;
    let Value::Object(mut map) = value else { return Err(BadFile::NotAJob) };
    if map.remove("format").as_ref().and_then(Value::as_str) != Some(FORMAT) {
        return Err(BadFile::NotAJob);
    }
    match map.remove("version").as_ref().and_then(Value::as_u64) {
        Some(VERSION) => {}
        Some(version) if version > VERSION => return Err(BadFile::Newer { version }),
        _ => return Err(BadFile::Field { field: "version".to_owned(), what: format!("must be {VERSION}") }),
    }
    let car = field(&mut map, "car")?;
    let conditions: Option<ConditionsInput> = field(&mut map, "conditions")?;
    let runs: Option<Vec<Value>> = field(&mut map, "runs")?;
    let Some(runs) = runs else {
        return Err(BadFile::Field { field: "runs".to_owned(), what: "missing".to_owned() });
    };
    if let Some(name) = map.keys().next() {
        return Err(BadFile::Field { field: name.clone(), what: "not a field of a job file".to_owned() });
    }
    let mut input = Input { car, conditions: conditions.unwrap_or_default(), runs: Vec::new() };
    let (mut places, mut problems) = (Vec::new(), Vec::new());
    for (index, value) in runs.into_iter().enumerate() {
        match typed::<RunInput>(value) {
            Ok(run) => {
                input.runs.push(run);
                places.push(index);
            }
            Err((field, wrong)) => problems.push(Problem {
                run: Some(index),
                field,
                wrong,
                right: "the fields and units of the README's example".to_owned(),
            }),
        }
    }
    Ok(Opened { input, places, problems })
}

/// Writes a job file. What is not known is left out.
#[must_use]
pub fn write(input: &Input) -> String {
    let mut value = json!({ "format": FORMAT, "version": VERSION, "car": input.car, "conditions": input.conditions, "runs": input.runs });
    drop_nulls(&mut value);
    value.to_string()
}

/// Null, an empty list and an empty object all mean "not known"; none of them need be stored.
fn drop_nulls(value: &mut Value) {
    match value {
        Value::Object(map) => {
            map.values_mut().for_each(drop_nulls);
            map.retain(|name, value| {
                let empty = match value {
                    Value::Null => true,
                    Value::Object(inner) => inner.is_empty(),
                    Value::Array(inner) => inner.is_empty() && name != "runs",
                    _ => false,
                };
                !empty
            });
        }
        Value::Array(list) => list.iter_mut().for_each(drop_nulls),
        _ => {}
    }
}

/// From the text of a job file to the report, with every problem in it under the run's place in the file.
///
/// # Errors
/// As [`read`].
pub fn answer(text: &str, stock: &stock::Stock) -> Result<Report, BadFile> {
    let opened = read(text)?;
    let mut report = job::answer(&opened.input, stock);
    let place = |run: usize| opened.places.get(run).copied().unwrap_or(run);
    for problem in &mut report.problems {
        problem.run = problem.run.map(place);
    }
    for run in &mut report.runs {
        run.run = place(run.run);
    }
    report.problems.extend(opened.problems);
    report.problems.sort_by_key(|problem| problem.run);
    Ok(report)
}
