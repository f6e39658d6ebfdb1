//! Small dense algebra on symmetric matrices in row-major slices, factored in place; and the factor of a sparse one.

pub mod cholesky;
pub mod sparse;
