//! A share of replicates with its Monte Carlo interval.

use numerics::interval::{wilson, wilson_of};
use numerics::sequential::confidence_sequence;
use serde::{Deserialize, Serialize};

/// A share of replicates with its 95 % interval: Wilson's, or of a plan that was stopped early one that holds whenever
/// one stops.
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

    /// The same share with an interval widened by the standard error `extra_se` of what else it hangs on.
    pub(super) fn with_extra(self, extra_se: f64) -> Self {
        let (p, n) = (self.estimate, self.replicates);
        let by_luck = p * (1.0 - p) / n as f64;
        if n == 0 || by_luck == 0.0 {
            return self;
        }
        let worth = p * (1.0 - p) / (by_luck + extra_se * extra_se);
        let (low, high) = wilson_of(p, worth, 0.95);
        Self { low, high, ..self }
    }

    /// The same share with an interval that holds although the hits so far decided when to stop, `extra_se` being the
    /// standard error that a critical value taken from nulls brings to it (0 without one; it is then allowed for
    /// at 2.8 standard errors, half the error of the interval and a margin for having looked before).
    pub fn whenever_stopped(self, extra_se: f64) -> Self {
        let n = self.replicates;
        let hits = (self.estimate * n as f64).round() as u64;
        let error = if extra_se > 0.0 { 0.025 } else { 0.05 };
        let (low, high) = confidence_sequence(hits, n, error);
        let margin = 2.8 * extra_se;
        Self {
            low: (low - margin).max(0.0),
            high: (high + margin).min(1.0),
            ..self
        }
    }
}
