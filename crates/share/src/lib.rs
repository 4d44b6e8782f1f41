//! What outlives the page: the job file and the link. Versioned; frozen once released.
//!
//! A job file holds a whole car; [`link`] carries one run, short enough for a chat message and a QR code.
//!
//! A job file is JSON with `format`, `version`, an optional `car`, `conditions` and `runs`; units stand in the field
//! names. [`read`] is strict about the whole and lenient about a run: a file that is not a job file is refused with the
//! place named, but a run with something wrong in it is only left out, so that one bad run does not lose the others.
//!
//! ```
//! let file = r#"{"format":"hosewright-job","version":1,"runs":[{"from":{"spigot_mm":16,"at_mm":[0,0,0],"points":[1,0,0]},
//!     "to":{"spigot_mm":16,"at_mm":[230,0,0],"points":[-1,0,0]}}, {"from":7}]}"#;
//! let opened = share::read(file)?;
//! assert_eq!(opened.input.runs.len(), 1);
//! assert_eq!(opened.problems.len(), 1, "the second run is named, not lost in silence");
//! # Ok::<(), share::BadFile>(())
//! ```

#[macro_use]
mod records;

mod file;
pub mod json;
pub mod link;

pub use file::{Answering, BadFile, FORMAT, LONGEST, Opened, VERSION, answer, read, write};
