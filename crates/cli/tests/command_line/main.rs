//! The program as a person or a script meets it: arguments, files, JSON, messages, exit codes.

mod analysis;
mod answer;
mod curve;
mod determinism;
mod least;
mod premises;
mod refused;
mod refused_pilot;
mod schema;
mod several;
mod support;
mod usage;
