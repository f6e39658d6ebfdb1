//! How large the catch is, within a stated precision; and a rule for the field that says when enough samples are in.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The mean catch per trap-week over all sites of the region in the years trapped, known within so many per cent.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Baseline {
    /// Half the width of the mean's confidence interval in per cent of the estimate; the confidence is one less
    /// question.significance.
    pub within_percent: f64,
}

/// A rule to stop sampling within one round of visits. A sample is what one site's traps catch in one visit (a week of
/// the plan); after each sample the total so far is held against a line.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum StopRule {
    /// Green's line for a fixed precision, on Taylor's power law.
    Green(GreenRule),
    /// Kuno's line for a fixed precision, on the regression of mean crowding on the mean that the premises make.
    Kuno(KunoRule),
    /// Wald's sequential probability ratio test: is the mean catch per sample low or high?
    ProbabilityRatio(RatioRule),
}

/// Green's rule.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct GreenRule {
    /// Wanted standard error in per cent of the mean.
    pub relative_error_percent: f64,
    /// Variance of a sample at a mean of 1, a of Taylor's law: variance = a mean^b.
    pub a: f64,
    /// Power of the mean, b of Taylor's law, below 2.
    pub b: f64,
    /// Samples after which one stops anyway.
    pub most_samples: u32,
}

/// Kuno's rule.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct KunoRule {
    /// Wanted standard error in per cent of the mean.
    pub relative_error_percent: f64,
    /// Samples after which one stops anyway.
    pub most_samples: u32,
}

/// Wald's rule.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RatioRule {
    /// The low mean catch per sample.
    pub low: f64,
    /// The high mean catch per sample.
    pub high: f64,
    /// Accepted chance to decide for high at the low mean.
    pub alpha: f64,
    /// Accepted chance to decide for low at the high mean.
    pub beta: f64,
    /// Samples after which one stops anyway, without a decision.
    pub most_samples: u32,
}

impl StopRule {
    /// Its key in files.
    pub fn key(&self) -> &'static str {
        match self {
            Self::Green(_) => "green",
            Self::Kuno(_) => "kuno",
            Self::ProbabilityRatio(_) => "probability_ratio",
        }
    }

    /// Samples after which one stops anyway.
    pub fn most_samples(&self) -> u32 {
        match self {
            Self::Green(r) => r.most_samples,
            Self::Kuno(r) => r.most_samples,
            Self::ProbabilityRatio(r) => r.most_samples,
        }
    }

    /// Wanted standard error over the mean; `None` for a test.
    pub fn relative_error(&self) -> Option<f64> {
        match self {
            Self::Green(r) => Some(r.relative_error_percent / 100.0),
            Self::Kuno(r) => Some(r.relative_error_percent / 100.0),
            Self::ProbabilityRatio(_) => None,
        }
    }
}
