//! One file for each command.

pub mod answer;
pub mod curve;
pub mod ignoring;
pub mod inventory;
pub mod least;
pub mod premises;
pub mod schema;
