//! What could not be done, and what the person can do about it.

use std::fmt;

/// A step that cannot go on: what happened and, where we know one, the remedy.
#[derive(Debug)]
pub(crate) struct Failure {
    what: String,
    remedy: Option<String>,
}

impl Failure {
    pub(crate) fn new(what: impl Into<String>) -> Self {
        Self { what: what.into(), remedy: None }
    }

    /// Adds what the person can do, usually a command to type.
    pub(crate) fn remedy(mut self, remedy: impl Into<String>) -> Self {
        self.remedy = Some(remedy.into());
        self
    }

    /// Turns an input or output error into a failure that says what was being done.
    pub(crate) fn io(doing: impl fmt::Display) -> impl FnOnce(std::io::Error) -> Self {
        move |error| Self::new(format!("{doing}: {error}"))
    }
}

impl fmt::Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "xtask: {}", self.what)?;
        match &self.remedy {
            Some(remedy) => write!(f, "\n       {remedy}"),
            None => Ok(()),
        }
    }
}
