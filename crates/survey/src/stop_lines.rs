//! When to stop in the field: the plan's rule to stop within one round of visits, as lines, with what it does.
//!
//! A sample is the catch of one site's traps in one visit ([`Sample`]); sites are visited in random order, and after each
//! the total so far is held against the rule's line or lines ([`models::sampling`], with the sources). What happens then
//! is worked out for counts of the premises' law at a range of true means, exactly where that is affordable.

mod course;
mod fixed;
mod lines;
mod sample;

pub use course::{Approximate, AtMean, Exact};
pub use fixed::FixedNumber;
pub use lines::StopTotals;
pub use sample::Sample;

use crate::scenario::{Checked, Effect, GreenRule, KunoRule, RatioRule, Scenario, StopRule};
use lines::Lines;
use models::sampling::stop_lines::StopLines;
use numerics::maths::pow;
use numerics::special::normal;
use serde::Serialize;
use thiserror::Error;

/// The rule with all that is told of it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct StopPlan {
    /// The rule as in the scenario.
    pub rule: StopRule,
    /// One sample by the premises.
    pub sample: Sample,
    /// Of a test, animals per sample by which both lines rise, and where they begin.
    pub ratio: Option<RatioLines>,
    /// Totals at which one stops, by number of samples, from the first look at the line on.
    pub table: Vec<StopTotals>,
    /// Numbers of samples fixed beforehand, at the premises' mean.
    pub fixed: Vec<FixedNumber>,
    /// The fixed number that the rule is compared with; `null` where there is none.
    pub fixed_number: Option<u64>,
    /// The rule at a range of true means.
    pub means: Vec<AtMean>,
}

/// The standard error in per cent of the mean that the question's interval comes to with many samples: its half width over
/// the normal quantile of its confidence; `None` for other questions.
pub fn error_asked(scenario: &Scenario) -> Option<f64> {
    let Effect::Baseline(b) = &scenario.question.effect else {
        return None;
    };
    Some(b.within_percent / normal::quantile(1.0 - 0.5 * scenario.question.significance))
}

/// The lines of a probability ratio test: slope x samples + intercept.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct RatioLines {
    /// Animals per sample.
    pub slope: f64,
    /// Intercept of the lower line.
    pub lower: f64,
    /// Intercept of the upper line.
    pub upper: f64,
}

/// Why there are no stop lines.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum NoLines {
    /// The plan has no rule.
    #[error(
        "plan.stop_rule: missing: this scenario has no rule to stop; give one of green, kuno and probability_ratio to the question of a baseline"
    )]
    NoRule,
    /// With Kuno's rule, and samples as clumped as the premises say, no total is precise enough before the end.
    #[error(
        "plan.stop_rule.kuno.most_samples is {most}: give at least {first} samples, since with fewer no total is precise enough by the premises; or allow a larger relative_error_percent"
    )]
    TooFew {
        /// The first number of samples at which there is a line.
        first: u64,
        /// The largest number of samples.
        most: u32,
    },
    /// Its numbers are too near each other, or too far, for the arithmetic.
    #[error(
        "plan.stop_rule: these numbers make no line: the two means are too near or too far apart"
    )]
    TooNear,
}

/// The stop lines of a scenario.
///
/// # Errors
/// Without a rule, or when its numbers make no line.
pub fn stop_plan(scenario: &Checked) -> Result<StopPlan, NoLines> {
    let rule = scenario.plan.stop_rule.clone().ok_or(NoLines::NoRule)?;
    let sample = Sample::of(scenario);
    let lines = Lines::of(scenario, &sample).ok_or(NoLines::TooNear)?;
    let most = rule.most_samples();
    let first = match lines {
        // Beyond all bounds it is as good as infinite.
        Lines::Kuno(k) => k.fewest().unwrap_or(u64::MAX),
        _ => lines.first(),
    };
    if first > u64::from(most) {
        return Err(NoLines::TooFew { first, most });
    }
    let fixed_number = fixed::compared_with(scenario, &sample, &lines);
    let means = course::means(scenario, &sample, &lines);
    Ok(StopPlan {
        ratio: match lines {
            Lines::Ratio(r) => Some(RatioLines {
                slope: r.slope,
                lower: r.lower,
                upper: r.upper,
            }),
            _ => None,
        },
        table: lines::totals(&lines, first as u32, most),
        fixed: fixed::numbers(scenario, &sample),
        fixed_number,
        means: means
            .into_iter()
            .map(|mean| course::at(&sample, &lines, most, fixed_number, mean))
            .collect(),
        rule,
        sample,
    })
}

/// The keys of the rules in files.
pub const RULES: [&str; 3] = ["green", "kuno", "probability_ratio"];

/// Numbers for a rule to begin with, by its key; `None` for a key that is none. A precision of 25 %; Taylor's law as it
/// touches the premises' own at their mean; half and one and a half times the premises' mean, each taken for the other in
/// one case of ten.
pub fn usual(scenario: &Scenario, key: &str) -> Option<StopRule> {
    const ERROR: f64 = 25.0;
    let sample = Sample::of(scenario);
    let m = sample.mean;
    let digits = |v: f64| (100.0 * v).round() / 100.0;
    Some(match key {
        "green" => {
            let clumped = m * (sample.beta - 1.0);
            let b = digits((1.0 + 2.0 * clumped) / (1.0 + clumped)).clamp(0.0, 1.95);
            let a = sample.law(m).variance() / pow(m, b);
            StopRule::Green(GreenRule {
                relative_error_percent: ERROR,
                a: digits(a).clamp(0.01, 1000.0),
                b,
                most_samples: 60,
            })
        }
        "kuno" => {
            let first = (sample.beta - 1.0) / (ERROR * ERROR / 10_000.0);
            // Where clumps are so dense that 500 samples would not do, a smaller precision.
            let wider = (first / 200.0).sqrt().max(1.0);
            StopRule::Kuno(KunoRule {
                relative_error_percent: (ERROR * wider).ceil().min(100.0),
                most_samples: (2.0 * first).clamp(60.0, 500.0) as u32,
            })
        }
        "probability_ratio" => {
            let low = digits(0.5 * m).clamp(0.01, 300_000.0);
            StopRule::ProbabilityRatio(RatioRule {
                low,
                high: digits(1.5 * m).clamp(2.0 * low, 1_000_000.0),
                alpha: 0.1,
                beta: 0.1,
                most_samples: 60,
            })
        }
        _ => return None,
    })
}

#[cfg(test)]
mod tests;
