//! Sparse symmetric positive definite matrices: A = L D L' with an order of elimination that keeps L sparse.
//!
//! What does not hang on the numbers is worked out once ([`Pattern`]): the order (minimum degree), where L has
//! entries, and which entry of L each update meets. The variables eliminated last, among which nearly every pair is
//! linked, are kept as one dense block (the tail) and factored as such; the ones before them are the head.
//! [`Factor`] holds the numbers: entries, then their factor, then on wish those entries of the inverse that lie on
//! the pattern (Takahashi, Fagan & Chin 1973; Erisman & Tinney 1975, Comm. ACM 18:177).

mod factor;
mod ordering;
mod pattern;
mod selected;

pub use factor::Factor;
pub use pattern::Pattern;
