//! Long jobs as ask and tell: split into chunks, run a chunk, merge in order, stop early.
//!
//! A shell (page or command line) makes a [`Job`], asks it for tasks, has a [`Runner`] run them wherever it likes,
//! and tells the results back in any order. The answer depends on (scenario, seed, replicates) alone: not on the
//! number of workers, the size of chunks or the order of arrival.
//!
//! Architecture invariant: no threads, no clock, no files. The one entry for both shells.

mod futures;
pub mod host;
mod ignoring;
mod job;
pub mod least;
mod looks;
mod plan_run;
mod runner;
mod several;
mod task;
mod together;

pub use futures::FUTURES;
pub use ignoring::{Ignoring, NotCompared};
pub use job::{Job, Kind, Progress, Refusal, Report};
pub use looks::looks_foreseen;
pub use runner::Runner;
pub use survey::futures::{Beside, Future, Futures, Shown, Stamp, beside};
pub use task::{Courses, Outcome, Size, Task, Told, Work};

pub use pilot;
pub use survey::axis::Axis;
pub use survey::closed_form;
pub use survey::cost;
pub use survey::generator::World;
pub use survey::gentle;
pub use survey::ignoring::{Cost, Side, relevant};
pub use survey::inventory;
pub use survey::looks as planned_looks;
pub use survey::patterns;
pub use survey::returns;
pub use survey::scenario;
pub use survey::season;
pub use survey::several::{about, species};
pub use survey::stop_lines;
pub use survey::summary;

/// Most replicates of one plan in each world.
pub const MOST_REPLICATES: u64 = 100_000;
/// Replicates when none are asked for.
pub const USUAL_REPLICATES: u64 = 1000;
/// The seed when none is given.
pub const USUAL_SEED: u64 = 1;
