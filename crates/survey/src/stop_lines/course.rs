//! What the rule does at a true mean: by the exact recursion where it is affordable, and by approximation.

use super::Sample;
use super::lines::Lines;
use crate::scenario::{Scenario, StopRule};
use models::sampling::exact_walk::{AtEnd, Course, walk_within};
use serde::Serialize;

/// Most products of the exact recursion at one mean: some hundredths of a second.
const MOST_PRODUCTS: u64 = 50_000_000;

/// The rule at one true mean per sample.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct AtMean {
    /// True mean per sample.
    pub mean: f64,
    /// Exactly, for negative binomial (or Poisson) counts; `null` where that takes too long.
    pub exact: Option<Exact>,
    /// Why there is no exact form.
    pub not_exact: Option<String>,
    /// Approximately.
    pub approximate: Approximate,
}

/// By the exact recursion.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Exact {
    /// Chance to decide for the low mean; 0 of a precision.
    pub low: f64,
    /// Chance to decide for the high mean; of a precision, to meet the line.
    pub high: f64,
    /// Chance to come to the largest number of samples without having met a line.
    pub undecided: f64,
    /// Average sample number.
    pub mean_samples: f64,
    /// Samples that are enough 95 times of 100.
    pub samples_95: u64,
    /// Bias of the estimate total/samples over the mean.
    pub relative_bias: f64,
    /// Its standard deviation over the mean.
    pub relative_error: f64,
    /// Chance to stop before the fixed number of samples.
    pub before_fixed: Option<f64>,
    /// Animals spared on average against the fixed number, target and by-catch; below 0 when more are killed.
    pub spared: Option<f64>,
}

/// Of a test by Wald (1947); of a precision, the number of samples at which a total that keeps to the mean meets the
/// line. Neither knows a largest number of samples.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Approximate {
    /// Chance to decide for the low mean: the operating characteristic; `null` of a precision.
    pub low: Option<f64>,
    /// Average sample number; `null` where there is none.
    pub mean_samples: Option<f64>,
}

/// The true means that are looked at, rising: shares and multiples of the premises' mean, of a test those of its own.
pub(super) fn means(scenario: &Scenario, sample: &Sample, lines: &Lines) -> Vec<f64> {
    let mut means = match (scenario.plan.stop_rule.as_ref(), lines) {
        (Some(StopRule::ProbabilityRatio(r)), Lines::Ratio(l)) => {
            vec![
                0.5 * r.low,
                r.low,
                0.5 * (r.low + l.slope),
                l.slope,
                0.5 * (r.high + l.slope),
                r.high,
                1.5 * r.high,
                sample.mean,
            ]
        }
        _ => [0.25, 0.5, 0.75, 1.0, 1.5, 2.0, 4.0]
            .map(|f| f * sample.mean)
            .to_vec(),
    };
    means.sort_by(f64::total_cmp);
    means.dedup_by(|a, b| (*a - *b).abs() < 1e-9 * *b);
    means
}

/// The rule at one of them.
pub(super) fn at(
    sample: &Sample,
    lines: &Lines,
    most_samples: u32,
    fixed: Option<u64>,
    mean: f64,
) -> AtMean {
    let course = Course {
        fewest: 1,
        most: u64::from(most_samples),
        at_end: AtEnd::Undecided,
    };
    let ends = walk_within(sample.law(mean), lines, course, MOST_PRODUCTS);
    let not_exact = ends.as_ref().err().map(ToString::to_string);
    let exact = ends.ok().map(|e| {
        let before = |fixed: u64| {
            let early = e.stops.iter().filter(|s| s.samples < fixed);
            early.map(|s| s.low + s.high).sum::<f64>()
        };
        let spared = |fixed: u64| (fixed as f64 - e.mean_samples()) * (mean + sample.bycatch);
        Exact {
            low: e.low(),
            high: e.high(),
            undecided: e.undecided(),
            mean_samples: e.mean_samples(),
            samples_95: e.samples_quantile(0.95),
            relative_bias: e.relative_bias(),
            relative_error: e.relative_error(),
            before_fixed: fixed.map(before),
            spared: fixed.map(spared),
        }
    });
    AtMean {
        mean,
        exact,
        not_exact,
        approximate: approximate(lines, mean),
    }
}

fn approximate(lines: &Lines, mean: f64) -> Approximate {
    let finite = |v: f64| v.is_finite().then_some(v);
    match lines {
        Lines::Ratio(r) => {
            let wald = r.at_mean(mean);
            Approximate {
                low: finite(wald.low),
                mean_samples: finite(wald.samples),
            }
        }
        Lines::Green(g) => Approximate {
            low: None,
            mean_samples: finite(g.samples_at(mean)),
        },
        Lines::Kuno(k) => Approximate {
            low: None,
            mean_samples: finite(k.samples_at(mean)),
        },
    }
}
