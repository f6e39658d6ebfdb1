//! The program as a person or a script meets it: arguments, files, JSON, messages, exit codes.

mod analysis;
mod answer;
mod curve;
mod determinism;
mod inventory;
mod least;
mod patterns;
mod premises;
mod questions;
mod refused;
mod refused_pilot;
mod schema;
mod several;
mod stop_lines;
mod support;
mod usage;
