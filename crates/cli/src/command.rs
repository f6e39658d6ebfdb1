//! One file for each command.

pub mod answer;
pub mod cost;
pub mod curve;
pub mod futures;
pub mod gentle;
pub mod ignoring;
pub mod inventory;
pub mod least;
pub mod limiting;
pub mod looks;
pub mod map;
pub mod mistakes;
pub mod own;
pub mod patterns;
pub mod premises;
pub mod returns;
pub mod schema;
pub mod season;
pub mod several;
pub mod stop_lines;
