//! The solver as a JavaScript module: the text of a job file in, the text of its report out.
//!
//! `cargo xtask door` builds it into `dist-door/`, with a worker and a class around it (`crates/door/js`); the page knows
//! nothing of it.

use stock::Stock;
use wasm_bindgen::prelude::{JsError, wasm_bindgen};

/// Answers a job file: its report as JSON.
///
/// # Errors
/// The sentence on what cannot be read, thrown as an `Error`.
#[wasm_bindgen]
pub fn solve(job: &str) -> Result<String, JsError> {
    report(job).map_err(|why| JsError::new(&why))
}

/// The same without JavaScript, for any machine.
///
/// ```
/// let told = door::report(r#"{"format":"hosewright-job","version":1,"runs":[]}"#)?;
/// assert!(told.starts_with("{\n  \"format\": \"hosewright-report\""));
/// assert_eq!(door::report("a letter"), Err("line 1, column 1: not JSON: a value is expected".to_owned()));
/// # Ok::<(), String>(())
/// ```
///
/// # Errors
/// The sentence on what cannot be read.
pub fn report(job: &str) -> Result<String, String> {
    let report = share::answer(job, &Stock::built_in()).map_err(|why| why.to_string())?;
    serde_json::to_string_pretty(&report).map_err(|why| format!("the report cannot be written: {why}"))
}
