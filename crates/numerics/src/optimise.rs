//! Minimising a smooth function of a few variables.

mod bfgs;

pub use bfgs::{Bfgs, Ending, Minimum};
