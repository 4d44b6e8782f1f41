//! Reads and writes the job file.

mod fields;

use crate::json::{self, NotJson, Object, Value};
use fields::{Field, Reader, Wrong, put};
use job::input::{Input, RunInput};
use job::{Problem, Report};
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
        what: &'static str,
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
    /// What could not be read, and why.
    pub problems: Vec<Problem>,
    /// Place in the file of every entry of the other lists in `input`.
    lists: Vec<(&'static str, Vec<usize>)>,
}

impl From<NotJson> for BadFile {
    fn from(NotJson { line, column, what }: NotJson) -> Self {
        Self::NotJson { line, column, what }
    }
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
    let value = json::read(text)?;
    if value.get("format").and_then(Value::as_str) != Some(FORMAT) {
        return Err(BadFile::NotAJob);
    }
    match value.get("version").and_then(Value::as_u64) {
        Some(VERSION) => {}
        Some(version) if version > VERSION => return Err(BadFile::Newer { version }),
        _ => return Err(BadFile::Field { field: "version".to_owned(), what: format!("must be {VERSION}") }),
    }
    let mut reader = Reader::default();
    let names = ["format", "version", "car", "conditions", "runs", "parts", "lines", "relations", "stock", "system"];
    let fields = reader.fields(&value, &names);
    let car = reader.field(fields, "car");
    let conditions: Option<_> = reader.field(fields, "conditions");
    let runs = reader.values(fields, "runs");
    let system = reader.field(fields, "system");
    let lists = ["parts", "lines", "relations", "stock"].map(|name| reader.values_if_any(fields, name));
    let mut input =
        reader.end(Input { car, conditions: conditions.unwrap_or_default(), system, ..Input::default() })?;
    let mut problems = Vec::new();
    let [parts, lines, relations, stock] = lists;
    let lists = vec![
        ("parts", sound(parts, "parts", &mut input.parts, &mut problems)),
        ("lines", sound(lines, "lines", &mut input.lines, &mut problems)),
        ("relations", sound(relations, "relations", &mut input.relations, &mut problems)),
        ("stock", sound(stock, "stock", &mut input.stock, &mut problems)),
    ];
    let mut places = Vec::new();
    for (index, run) in runs.iter().enumerate() {
        match Reader::whole::<RunInput>(run) {
            Ok(run) => {
                input.runs.push(run);
                places.push(index);
            }
            Err(Wrong { path: field, what: wrong }) => problems.push(unread(Some(index), field, wrong)),
        }
    }
    Ok(Opened { input, places, problems, lists })
}

/// The entries of a list that can be read, with the place of each; the others are problems.
fn sound<T: Field>(entries: &[Value], list: &str, to: &mut Vec<T>, problems: &mut Vec<Problem>) -> Vec<usize> {
    let mut places = Vec::new();
    for (index, entry) in entries.iter().enumerate() {
        match Reader::whole(entry) {
            Ok(entry) => {
                to.push(entry);
                places.push(index);
            }
            Err(Wrong { path, what }) => {
                let dot = if path.is_empty() { "" } else { "." };
                problems.push(unread(None, format!("{list}[{index}]{dot}{path}"), what));
            }
        }
    }
    places
}

fn unread(run: Option<usize>, field: String, wrong: String) -> Problem {
    Problem { run, field, wrong, right: "the fields and units of the README's example".to_owned() }
}

/// Writes a job file. What is not known is left out.
#[must_use]
pub fn write(input: &Input) -> String {
    let Input { car, conditions, runs, parts, lines, relations, stock, system } = input;
    let mut fields = Object::new();
    fields.insert("format", FORMAT.into());
    fields.insert("version", (VERSION as f64).into());
    put(&mut fields, "car", car.write());
    put(&mut fields, "conditions", conditions.write());
    // A job without a run says so.
    fields.insert("runs", runs.write());
    put(&mut fields, "parts", parts.write());
    put(&mut fields, "lines", lines.write());
    put(&mut fields, "relations", relations.write());
    put(&mut fields, "stock", stock.write());
    put(&mut fields, "system", system.write());
    Value::Object(fields).to_string()
}

/// From the text of a job file to the report, with every problem in it under the run's place in the file.
///
/// # Errors
/// As [`read`].
pub fn answer(text: &str, stock: &stock::Stock) -> Result<Report, BadFile> {
    let opened = read(text)?;
    Ok(opened.placed(job::answer(&opened.input, stock)))
}

/// A job file being answered step by step; see [`job::Work`].
#[derive(Clone, Debug)]
pub struct Answering {
    opened: Opened,
    problems: Vec<Problem>,
    work: job::Work,
}

impl Answering {
    /// Begins, with what is known of jobs before.
    ///
    /// # Errors
    /// As [`read`].
    pub fn begin(text: &str, before: Option<Self>) -> Result<Self, BadFile> {
        let opened = read(text)?;
        let job::Accepted { job, problems } = job::accept(&opened.input);
        let work = job::Work::begin(job, before.map(|before| before.work));
        Ok(Self { opened, problems, work })
    }

    /// As [`job::Work::first`].
    pub fn first(&mut self, stock: &stock::Stock) -> Option<Report> {
        let report = self.work.first(stock)?;
        Some(self.told(report))
    }

    /// As [`job::Work::broad`].
    pub fn broad(&mut self, stock: &stock::Stock) -> Report {
        let report = self.work.broad(stock);
        self.told(report)
    }

    /// As [`job::Work::whole`].
    pub fn whole(&mut self, stock: &stock::Stock) -> Report {
        let report = self.work.whole(stock);
        self.told(report)
    }

    /// As [`job::Work::step`].
    pub fn step(&mut self, stock: &stock::Stock) -> (usize, usize) {
        self.work.step(stock)
    }

    /// As [`job::Work::car`].
    pub fn car(&mut self, stock: &stock::Stock) -> Report {
        let report = self.work.car(stock);
        self.told(report)
    }

    /// Whether it can be told at once, because all runs were solved before.
    #[must_use]
    pub fn is_known(&self) -> bool {
        self.work.is_known()
    }

    fn told(&self, report: Report) -> Report {
        self.opened.placed(Report { problems: self.problems.clone(), ..report })
    }
}

impl Opened {
    /// A field of an entry of a list, as `lines[2].from`, with the place the entry has in the file.
    fn field_in_file(&self, field: &str) -> String {
        let in_file = self.lists.iter().find_map(|(list, places)| {
            let (index, rest) = field.strip_prefix(list)?.strip_prefix('[')?.split_once(']')?;
            let place = places.get(index.parse::<usize>().ok()?)?;
            Some(format!("{list}[{place}]{rest}"))
        });
        in_file.unwrap_or_else(|| field.to_owned())
    }

    /// A report on the input with the places of its runs in the file, and what was wrong in the file.
    fn placed(&self, mut report: Report) -> Report {
        let place = |run: usize| self.places.get(run).copied().unwrap_or(run);
        for problem in &mut report.problems {
            problem.run = problem.run.map(place);
            if problem.run.is_none() {
                problem.field = self.field_in_file(&problem.field);
            }
        }
        for run in &mut report.runs {
            run.run = place(run.run);
        }
        for piece in report.cuts.iter_mut().flat_map(|cuts| &mut cuts.groups).flat_map(|group| &mut group.pieces) {
            piece.run = place(piece.run);
        }
        // Those of the whole job come first, then those of its runs in the order of the file.
        for problem in &self.problems {
            let behind = report.problems.partition_point(|other| other.run <= problem.run);
            report.problems.insert(behind, problem.clone());
        }
        report
    }
}
