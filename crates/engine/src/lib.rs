//! Long jobs as ask and tell: split into chunks, run a chunk, merge in order, stop early.
pub mod host;
