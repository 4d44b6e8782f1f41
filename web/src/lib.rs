//! The page: what was typed, the solver that answers it, and the sheet that shows the answer.

pub mod app;
mod car;
mod cars;
mod el;
mod example;
mod first;
mod form;
mod home;
mod in_hand;
mod keep;
mod language;
mod measure;
mod offline;
mod photo;
mod send;
pub mod solver;
mod store;
mod upper;
mod view;
mod words;

pub use app::app;
