//! How many samples, fixed beforehand, would do.

use super::Sample;
use super::lines::Lines;
use crate::scenario::{Effect, Scenario, StopRule};
use models::sampling::Spread;
use models::sampling::fixed_number::{Criterion, Factor, samples};
use models::sampling::whole;
use numerics::special::normal;
use serde::Serialize;

/// Numbers of samples for a precision at the premises' mean, by one law of the variance (Karandinos 1976, Bulletin of the
/// Entomological Society of America 22:417-421). Not rounded; `null` where there is no such number.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct FixedNumber {
    /// `normal` (the variance of the premises, known), `poisson`, `negative_binomial` or `taylor` (the rule's a and b).
    pub form: &'static str,
    /// For the rule's standard error over the mean; `null` of a test.
    pub for_error: Option<f64>,
    /// For the question's half-width of the interval, by the normal distribution.
    pub for_interval: Option<f64>,
    /// The same by Student's t, the variance being estimated from the samples.
    pub for_interval_by_t: Option<f64>,
}

/// By every form that the scenario has numbers for.
pub(super) fn numbers(scenario: &Scenario, sample: &Sample) -> Vec<FixedNumber> {
    let variance = sample.spread().variance(sample.mean);
    let mut forms = vec![
        ("normal", Spread::Normal { variance }),
        ("poisson", Spread::Poisson),
    ];
    if let Some(k) = sample.k {
        forms.push(("negative_binomial", Spread::NegativeBinomial { k }));
    }
    let rule = scenario.plan.stop_rule.as_ref();
    if let Some(StopRule::Green(r)) = rule {
        forms.push(("taylor", Spread::Taylor { a: r.a, b: r.b }));
    }
    let error = rule.and_then(StopRule::relative_error);
    let interval = match &scenario.question.effect {
        Effect::Baseline(b) => Some(Criterion::RelativeHalfWidth {
            ratio: b.within_percent / 100.0,
            confidence: 1.0 - scenario.question.significance,
        }),
        _ => None,
    };
    let number = |spread, criterion: Option<Criterion>, factor| {
        let n = samples(spread, sample.mean, criterion?, factor);
        n.is_finite().then_some(n)
    };
    let row = |(form, spread)| FixedNumber {
        form,
        for_error: number(
            spread,
            error.map(|ratio| Criterion::RelativeError { ratio }),
            Factor::Normal,
        ),
        for_interval: number(spread, interval, Factor::Normal),
        for_interval_by_t: number(spread, interval, Factor::Student),
    };
    forms.into_iter().map(row).collect()
}

/// What the rule spares is counted against: for a precision, the number for the premises' mean by the rule's own law of
/// the variance; for a test, that of a test of as many samples with the same two errors, the total being taken as normal:
/// ((z_alpha sd_low + z_beta sd_high)/(high - low))^2.
pub(super) fn compared_with(scenario: &Scenario, sample: &Sample, lines: &Lines) -> Option<u64> {
    match scenario.plan.stop_rule.as_ref()? {
        StopRule::ProbabilityRatio(r) => {
            let sd = |mean: f64| sample.law(mean).variance().sqrt();
            let apart =
                -normal::quantile(r.alpha) * sd(r.low) - normal::quantile(r.beta) * sd(r.high);
            let root = apart / (r.high - r.low);
            whole(root * root)
        }
        rule => {
            let ratio = rule.relative_error()?;
            let criterion = Criterion::RelativeError { ratio };
            whole(samples(
                lines.spread()?,
                sample.mean,
                criterion,
                Factor::Normal,
            ))
        }
    }
}
