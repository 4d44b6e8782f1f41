//! The page: what was typed, the solver that answers it, and the sheet that shows the answer.

#![expect(unreachable_pub, reason = "the component macro makes the properties of a private component public")]

pub mod app;
mod example;
mod form;
mod keep;
mod measure;
mod offline;
mod send;
pub mod solver;
mod view;
mod words;

pub use app::App;
