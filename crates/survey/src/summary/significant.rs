//! What the significant results of simulated surveys are worth, and how honest their intervals are.

use super::share::Share;
use serde::{Deserialize, Serialize};

/// Significant results in the world of change.
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
    /// From pairs of estimate and standard error, the truth, and which pairs are significant.
    pub(super) fn of(pairs: &[(f64, f64)], truth: f64, rejects: impl Fn(f64, f64) -> bool) -> Self {
        let (mut found, mut wrong, mut size) = (0u64, 0u64, 0.0);
        for &(estimate, _) in pairs.iter().filter(|(e, se)| rejects(*e, *se)) {
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

/// Share of fits whose interval, estimate -/+ `critical` standard errors, holds the truth; failed fits hold nothing.
pub(super) fn coverage(pairs: &[(f64, f64)], truth: f64, critical: f64) -> Share {
    let hits = pairs
        .iter()
        .filter(|(e, se)| (e - truth).abs() <= critical * se)
        .count();
    Share::of(hits as u64, pairs.len() as u64)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn counts_signs_sizes_and_coverage() {
        let pairs = [(-2.0, 0.5), (1.5, 0.5), (-0.2, 0.5), (f64::NAN, f64::NAN)];
        let s = Significant::of(&pairs, -1.0, |e, se| (e / se).abs() > 2.0);
        assert_eq!(
            (s.found, s.wrong_sign, s.exaggeration),
            (2, Some(0.5), Some(1.75))
        );
        assert_eq!(coverage(&pairs, -1.0, 2.0).estimate, 0.5);
        let none = Significant::of(&[], -1.0, |_, _| true);
        assert_eq!(
            (none.found, none.wrong_sign, none.exaggeration),
            (0, None, None)
        );
    }
}
