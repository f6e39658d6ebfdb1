//! Small dense algebra: symmetric matrices in row-major slices, factored in place.

pub mod cholesky;
