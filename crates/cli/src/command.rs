//! One file for each command.

pub mod answer;
pub mod curve;
pub mod futures;
pub mod ignoring;
pub mod inventory;
pub mod least;
pub mod patterns;
pub mod premises;
pub mod returns;
pub mod schema;
pub mod several;
pub mod stop_lines;
