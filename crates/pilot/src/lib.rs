//! Pilot catches in, premises out.
//!
//! A pilot file is a long table: one row for each count, with its site, trap, time, effort and group. [`premises()`]
//! reads it, fits the count model to each group and says what the catches tell of rate, spread and season, with
//! standard errors. What the file cannot tell (a year SD from one year) is filled with the common practice of the
//! trade and marked so; nothing is repaired in silence: whatever is unclear is an error or a note.
//!
//! Steps, one module each: bytes to text (`text`), text to cells (`table`), headers to roles (`header`), cells to
//! records (`record`, with `number` and `date`), records to samples with their zeros (`samples`), samples to
//! fits (`model`, `season`, `moments`), fits to premises (`group`, `premises`) and into a scenario
//! (`scenario`). A species table (`species`) becomes a community for an inventory.
//!
//! Architecture invariant: knows nothing of files or the clock. Text comes in, premises go out; a date in the future
//! can therefore not be told from one in the past.

#[cfg(test)]
mod bad_input;
mod date;
mod error;
mod estimate;
mod group;
mod header;
mod model;
mod moments;
mod number;
mod options;
mod premises;
mod problem;
mod record;
mod samples;
mod scenario;
mod season;
mod species;
mod table;
mod text;

pub use error::{MOST_ERRORS, PilotError};
pub use estimate::Estimate;
pub use options::{Columns, EffortUnit, Options, Role, SiteYear};
pub use premises::{BycatchPremises, PilotPremises, Summary, TargetPremises, premises};
pub use problem::Problem;
pub use samples::MOST_GROUPS;
pub use species::{SpeciesTable, species_table};
