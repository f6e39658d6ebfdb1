//! Data in, fit out: mixed models of counts by Laplace's approximation, occupancy models of detections, and the tests
//! made from them.
//!
//! Architecture invariant: knows nothing of surveys, traps or plans; only of counts, detections, groups and
//! covariates. A fit that does not converge is a status, not an error; only data that no model can be made of is an
//! error.

pub mod annual_index;
pub mod estimator;
pub mod glmm;
pub mod information;
pub mod inventory;
mod mixed_equations;
pub mod multiplicity;
pub mod occupancy;
pub mod pooled;
pub mod ratio;
pub mod sampling;
pub mod sequential;
pub mod significance_filter;
pub mod trend_power;
pub mod two_rates;
pub mod wald;
