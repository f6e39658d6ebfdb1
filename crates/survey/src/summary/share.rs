//! A share of replicates with its Monte Carlo interval.

use numerics::interval::wilson;
use serde::{Deserialize, Serialize};

/// A share of replicates with its 95 % Wilson interval.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Share {
    /// Share of replicates.
    pub estimate: f64,
    /// Low end of the 95 % interval.
    pub low: f64,
    /// High end of the 95 % interval.
    pub high: f64,
    /// Number of replicates.
    pub replicates: u64,
}

impl Share {
    /// `hits` out of `n`.
    pub fn of(hits: u64, n: u64) -> Self {
        let (low, high) = wilson(hits, n, 0.95);
        let estimate = if n == 0 {
            f64::NAN
        } else {
            hits as f64 / n as f64
        };
        Self {
            estimate,
            low,
            high,
            replicates: n,
        }
    }
}
