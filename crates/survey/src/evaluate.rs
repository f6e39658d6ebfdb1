//! Evaluation of one plan: simulate a survey, analyse it, keep what the summaries need.

mod analyser;
mod counted;
mod covariates;
mod edge;
mod mean_catch;
mod model;
mod occupied;
mod replicate;
mod start;

pub use analyser::{Analyser, Finding, Sample};
pub use covariates::Covariates;
pub(crate) use edge::{EDGE_COLUMNS, EDGE_SHIFT, EdgeAxis};
pub use replicate::{Ending, Evaluator, Replicate, drawn_together};
