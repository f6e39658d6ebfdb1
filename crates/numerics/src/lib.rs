//! Special functions, distributions, random streams, small dense algebra, sparse factors, optimisers and root finding.
//!
//! Architecture invariant: knows nothing of statistical models, and nothing of browser, clock, files, threads or
//! entropy. Every elementary function goes through [`maths`], which is libm compiled from source, so that native
//! and WebAssembly builds agree to the last bit.

pub mod draws;
pub mod interval;
pub mod linalg;
pub mod maths;
pub mod optimise;
pub mod quadrature;
pub mod quantile;
pub mod random;
pub mod root;
pub mod sequential;
pub mod special;
