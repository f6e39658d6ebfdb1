//! Data in, fit out: generalised linear mixed models of counts by Laplace's approximation, and their tests.
