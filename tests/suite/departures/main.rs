//! What the world may do beyond the plain model: each departure's law against theory, by simulation. Bounds are four
//! standard errors of the simulation unless a test says otherwise.

mod bounds;
mod closed_forms;
mod drift;
mod loss;
mod plain;
mod season;
mod sites;
mod support;
mod weekly;
mod weeks;
mod years;
