//! The survey: question, premises and plan; the count model; toll, closed forms and the evaluation of one plan.
//!
//! Architecture invariant: knows nothing of files, browsers, threads, clocks or entropy. A result depends on
//! (scenario, seed, replicate) alone.

pub mod axis;
pub mod closed_form;
pub mod cost;
pub mod evaluate;
pub mod frontier;
pub mod futures;
pub mod generator;
pub mod gentle;
pub mod heat;
pub mod ignoring;
pub mod index_trend;
pub mod inventory;
pub mod limiting;
pub mod looks;
pub mod mistakes;
pub mod patterns;
pub mod returns;
pub mod scenario;
pub mod search;
pub mod season;
pub mod several;
pub mod stop_lines;
pub mod summary;
