//! Special functions of the tests and the likelihoods.

pub mod beta;
pub mod chi_square;
pub mod gamma;
pub mod noncentral_t;
pub mod normal;
pub mod student;
