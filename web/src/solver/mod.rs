//! The solver: the worker that runs it, what crosses to it and back, and which question waits.

mod crossing;
pub mod messages;
pub mod queue;
pub mod worker;
