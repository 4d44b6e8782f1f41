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

//!
//! # The whole car
//!
//! A job file may hold more than runs. Everything is referred to by its name, so that a file can be read and mended by eye;
//! an entry that cannot be read, or names what is not there, is left out and told. Fields, words and units stand in
//! [`job::input`].
//!
//! | list | an entry |
//! |---|---|
//! | `parts` | `name`, `kind`, `spigots`, `on`, `needs_flow`, `leave_out`, `note`; a spigot: `name`, `spigot_mm`, `bead_mm`, `straight_mm`, `thread`, `made_of`, `role` (of a pump, a valve, a thermostat), `closed_by` |
//! | `lines` | `name`, `kind`, `from` and `to` (`part`, `spigot`), `bore_mm`, `length_mm`, `state`, `can_buy`, `decision`, `run` (the name of the run that sizes it), `inside`, `note` |
//! | `relations` | `what` `is` (`in the way of`, `comes off with`) `of`: of lines, parts, or anything else by name |
//! | `stock` | `bore_mm`, `wall_mm`, `pieces_mm` at hand, and how it is sold: `sold_by_mm`, `longest_mm`, `price_per_m`, `lengths` (`length_mm`, `price`) |
//! | `system` | one object: `ticked` (what was ticked off the lists), `log` (`on`, `what`, `look_again`) |
//!
//! The report of such a job adds `loop`, `closures`, `order`, `cuts`, `shopping` and `fill`.
//!
//! ```
//! let file = r#"{"format":"hosewright-job","version":1,"runs":[],
//!   "parts":[
//!     {"name":"pump","kind":"pump","spigots":[{"name":"in","role":"inlet"},{"name":"out","role":"outlet"},{"name":"stub","spigot_mm":16}]},
//!     {"name":"heater core","kind":"heater core","spigots":[{"name":"flow"},{"name":"return"}]}],
//!   "lines":[
//!     {"name":"flow hose","kind":"hose","from":{"part":"pump","spigot":"out"},"to":{"part":"heater core","spigot":"flow"},"decision":"keep"},
//!     {"name":"return hose","kind":"hose","from":{"part":"heater core","spigot":"return"},"to":{"part":"pump","spigot":"in"},"decision":"keep"}]}"#;
//! let report = share::answer(file, &stock::Stock::built_in())?;
//! let circuit = report.circuit.expect("a car");
//! assert!(circuit.parts.iter().all(|part| !part.flows.is_empty()), "coolant goes round");
//! let closures = report.closures.expect("a car");
//! assert_eq!(closures.open[0].spigot, "stub");
//! # Ok::<(), share::BadFile>(())
//! ```

#[macro_use]
mod records;

mod file;
pub mod json;
pub mod link;

pub use file::{Answering, BadFile, FORMAT, LONGEST, Opened, VERSION, answer, read, write};
