//! Evaluation of one plan: simulate a survey, analyse it, keep what the summaries need.

mod covariates;
mod replicate;

pub use covariates::Covariates;
pub use replicate::{Ending, Evaluator, Replicate};
