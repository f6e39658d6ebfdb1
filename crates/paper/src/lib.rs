//! What leaves the tool: sentences, tables and figures of a scenario and its answers, the same on the page, at the
//! command line and on paper.

pub mod audience;
pub mod cost;
pub mod curve_figure;
pub mod departures;
pub mod futures_figure;
pub mod gentle;
pub mod heat;
pub mod inventory_figure;
pub mod least_figure;
pub mod limiting;
pub mod looks;
pub mod meaning;
pub mod method;
pub mod mistakes;
pub mod number;
pub mod premises;
pub mod returns;
pub mod revisit;
pub mod season;
pub mod sentences;
pub mod stop_lines;
pub mod toll_figure;

#[cfg(test)]
mod reader_tests;

pub use curve_figure::curve_figure;
pub use futures_figure::{PlanFutures, futures_beside, futures_figure};
pub use inventory_figure::{gain_table, inventory_csv, inventory_figure, inventory_table};
pub use least_figure::least_figure;
