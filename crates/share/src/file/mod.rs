//! Reads and writes the job file.

mod fields;

use fields::{Field, Fields, Wrong};
use job::input::{Input, RunInput};
use job::{Problem, Report};
use serde_json::Value;
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

impl From<Wrong> for BadFile {
    fn from(Wrong { path, what }: Wrong) -> Self {
        Self::Field { field: path, what }
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
    if value.get("format").and_then(Value::as_str) != Some(FORMAT) {
        return Err(BadFile::NotAJob);
    }
    match value.get("version").and_then(Value::as_u64) {
        Some(VERSION) => {}
        Some(version) if version > VERSION => return Err(BadFile::Newer { version }),
        _ => return Err(BadFile::Field { field: "version".to_owned(), what: format!("must be {VERSION}") }),
    }
    let mut fields = Fields::of(value, &["format", "version", "car", "conditions", "runs"])?;
    let mut input = Input { car: fields.take("car")?, conditions: fields.take("conditions")?, runs: Vec::new() };
    let Some(runs) = fields.take::<Option<Vec<Value>>>("runs")? else {
        return Err(BadFile::Field { field: "runs".to_owned(), what: "missing".to_owned() });
    };
    let (mut places, mut problems) = (Vec::new(), Vec::new());
    for (index, value) in runs.into_iter().enumerate() {
        match RunInput::read(value) {
            Ok(run) => {
                input.runs.push(run);
                places.push(index);
            }
            Err(Wrong { path: field, what: wrong }) => problems.push(Problem {
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
    let Input { car, conditions, runs } = input;
    let mut fields = Fields::default();
    fields.put("format", FORMAT.into());
    fields.put("version", VERSION.into());
    fields.put("car", car.write());
    fields.put("conditions", conditions.write());
    let mut file = Value::from(fields);
    // A job without a run says so.
    file["runs"] = runs.write();
    file.to_string()
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
