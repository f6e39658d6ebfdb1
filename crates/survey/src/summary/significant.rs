//! What the significant results of simulated surveys are worth, and how honest their intervals are.

use super::judge::Judge;
use super::share::Share;
use crate::evaluate::Finding;
use crate::scenario::Checked;
use numerics::special::normal;
use serde::{Deserialize, Serialize};

/// Significant results in the world of change; of a baseline, surveys as precise as wanted.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Significant {
    /// How many there are.
    pub found: u64,
    /// Share of them with the wrong sign; `null` without any.
    pub wrong_sign: Option<f64>,
    /// Mean size of their estimates over the true size; `null` without any. Above 1: those who publish only what is
    /// significant overstate the change.
    pub exaggeration: Option<f64>,
}

impl Significant {
    /// Of surveys of the world of change, whose true change is `truth`.
    pub(super) fn of(judge: &Judge, change: &[Finding], truth: f64) -> Self {
        let found = change.iter().filter(|f| judge.finds(f));
        Self::of_estimates(found.map(|f| judge.pair(f).0), truth)
    }

    /// Of a baseline, where the surveys that are as precise as wanted stand for the significant ones: no sign is wrong, and
    /// each estimate is held against its own truth.
    pub(super) fn of_precise(judge: &Judge, surveys: &[Finding]) -> Self {
        let precise = surveys.iter().filter(|f| judge.finds(f));
        let ratios: Vec<f64> = precise.map(|f| f.estimate / f.truth).collect();
        let found = ratios.len() as u64;
        Self {
            found,
            wrong_sign: None,
            exaggeration: (found > 0).then(|| ratios.iter().sum::<f64>() / found as f64),
        }
    }

    /// From the significant estimates.
    fn of_estimates(estimates: impl Iterator<Item = f64>, truth: f64) -> Self {
        let (mut found, mut wrong, mut size) = (0u64, 0u64, 0.0);
        for estimate in estimates {
            found += 1;
            wrong += u64::from(estimate * truth < 0.0);
            size += estimate.abs();
        }
        let per = |sum: f64| (found > 0).then(|| sum / found as f64);
        Self {
            found,
            wrong_sign: per(wrong as f64),
            exaggeration: per(size / truth.abs()),
        }
    }
}

/// Share of surveys whose interval, estimate -/+ critical value times standard error, holds the truth; failed fits
/// hold nothing.
pub(super) fn coverage(two_sided: &Judge, change: &[Finding], truth: f64) -> Share {
    let holds = |f: &&Finding| {
        let (estimate, se) = two_sided.pair(f);
        let off = (estimate - truth).abs() / se;
        off.is_finite() && !two_sided.exceeds(f, off)
    };
    Share::of(
        change.iter().filter(holds).count() as u64,
        change.len() as u64,
    )
}

/// Share of surveys whose profile-likelihood interval, at one less the significance level, holds the truth; failed fits
/// hold nothing. `None` where no survey has one.
pub(super) fn profile_coverage(scenario: &Checked, change: &[Finding]) -> Option<Share> {
    let quantile = -normal::quantile(0.5 * scenario.question.significance);
    let taken = change.iter().any(|f| f.from_truth.is_finite());
    let holds = |f: &&Finding| f.from_truth <= quantile;
    taken.then(|| {
        Share::of(
            change.iter().filter(holds).count() as u64,
            change.len() as u64,
        )
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn counts_signs_and_sizes() {
        let s = Significant::of_estimates([-2.0, 1.5].into_iter(), -1.0);
        assert_eq!(
            (s.found, s.wrong_sign, s.exaggeration),
            (2, Some(0.5), Some(1.75))
        );
        let none = Significant::of_estimates([].into_iter(), -1.0);
        assert_eq!(
            (none.found, none.wrong_sign, none.exaggeration),
            (0, None, None)
        );
    }
}
