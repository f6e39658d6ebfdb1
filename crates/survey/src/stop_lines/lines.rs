//! The scenario's rule as lines of the total against the number of samples.

use super::Sample;
use crate::scenario::{Scenario, StopRule};
use models::sampling::Spread;
use models::sampling::probability_ratio::{Counts, Hypotheses, ProbabilityRatio};
use models::sampling::stop_lines::{Green, Kuno, StopLines, at_least, at_most};
use serde::Serialize;

/// Beyond this whole totals have gaps.
const LARGEST: f64 = 9_007_199_254_740_992.0;

/// Lines of a rule.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Lines {
    Green(Green),
    Kuno(Kuno),
    Ratio(ProbabilityRatio),
}

impl Lines {
    /// Of the scenario's rule; `None` without one, or where its numbers make no lines.
    pub fn of(scenario: &Scenario, sample: &Sample) -> Option<Self> {
        Some(match scenario.plan.stop_rule.as_ref()? {
            StopRule::Green(r) => Self::Green(Green {
                relative_error: r.relative_error_percent / 100.0,
                a: r.a,
                b: r.b,
            }),
            StopRule::Kuno(r) => Self::Kuno(Kuno {
                relative_error: r.relative_error_percent / 100.0,
                alpha: sample.alpha,
                beta: sample.beta,
            }),
            StopRule::ProbabilityRatio(r) => Self::Ratio(ProbabilityRatio::new(Hypotheses {
                counts: sample
                    .k
                    .map_or(Counts::Poisson, |k| Counts::NegativeBinomial { k }),
                low: r.low,
                high: r.high,
                alpha: r.alpha,
                beta: r.beta,
            })?),
        })
    }

    /// The law of variance a precision rests on; `None` of a test.
    pub fn spread(&self) -> Option<Spread> {
        match self {
            Self::Green(g) => Some(g.spread()),
            Self::Kuno(k) => Some(k.spread()),
            Self::Ratio(_) => None,
        }
    }
}

impl StopLines for Lines {
    fn first(&self) -> u64 {
        match self {
            Self::Green(g) => g.first(),
            Self::Kuno(k) => k.first(),
            Self::Ratio(r) => r.first(),
        }
    }

    fn lower(&self, samples: u64) -> f64 {
        match self {
            Self::Green(g) => g.lower(samples),
            Self::Kuno(k) => k.lower(samples),
            Self::Ratio(r) => StopLines::lower(r, samples),
        }
    }

    fn upper(&self, samples: u64) -> f64 {
        match self {
            Self::Green(g) => g.upper(samples),
            Self::Kuno(k) => k.upper(samples),
            Self::Ratio(r) => StopLines::upper(r, samples),
        }
    }
}

/// The whole totals at which one stops after some number of samples.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct StopTotals {
    /// Number of samples.
    pub samples: u32,
    /// Stop at this total or below (the mean is low); `null` where no total is low enough, or without such a line.
    pub at_most: Option<u64>,
    /// Stop at this total or above (precise enough, or the mean is high).
    pub at_least: Option<u64>,
}

/// For each number of samples from the first look on.
pub(super) fn totals(lines: &Lines, first: u32, most: u32) -> Vec<StopTotals> {
    let whole = |line: f64| (0.0..LARGEST).contains(&line).then_some(line as u64);
    let row = |samples: u32| StopTotals {
        samples,
        at_most: whole(at_most(lines.lower(u64::from(samples)))),
        at_least: whole(at_least(lines.upper(u64::from(samples))).max(0.0)),
    };
    (first..=most).map(row).collect()
}
