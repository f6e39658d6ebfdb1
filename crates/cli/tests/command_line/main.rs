//! The program as a person or a script meets it: arguments, files, JSON, messages, exit codes.

mod analysis;
mod answer;
mod cost;
mod curve;
mod determinism;
mod gentle;
mod inventory;
mod least;
mod least_ways;
mod limiting;
mod looks;
mod mistakes;
mod own;
mod patterns;
mod premises;
mod questions;
mod refused;
mod refused_pilot;
mod schema;
mod season;
mod several;
mod stop_lines;
mod support;
mod usage;
