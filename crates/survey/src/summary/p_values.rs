//! The p-values of simulated surveys.
//!
//! Of a test with a law of its own: the chance of a statistic as far out. Of the calibrated test: the rank among the n
//! simulated surveys without a change, (1 + number of them at least as far out)/(n + 1), which is at most p with chance p
//! at most (Davison & Hinkley 1997, Bootstrap Methods and their Application, section 4.2). A survey without a change is
//! ranked among the others. A failed fit has a p-value of 1.

use super::judge::Judge;
use crate::evaluate::Finding;

/// P-values of one species' surveys.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct PValues {
    /// In the world of change.
    pub change: Vec<f64>,
    /// In the world without the change.
    pub still: Vec<f64>,
    /// Surveys without change that they are ranked among; `None` where the statistic has a law of its own.
    pub ranked_among: Option<u64>,
}

impl PValues {
    pub fn of(judge: &Judge, change: &[Finding], still: &[Finding]) -> Self {
        if judge.calibration().is_none() {
            let each = |of: &[Finding]| of.iter().map(|f| judge.p_value(f)).collect();
            return Self {
                change: each(change),
                still: each(still),
                ranked_among: None,
            };
        }
        let statistics =
            |of: &[Finding]| -> Vec<f64> { of.iter().map(|f| judge.sided_statistic(f)).collect() };
        Self::ranked(&statistics(change), &statistics(still))
    }

    /// From statistics of which large ones speak for a change.
    pub fn ranked(change: &[f64], still: &[f64]) -> Self {
        let n = still.len();
        let mut sorted: Vec<f64> = still.iter().copied().filter(|s| !s.is_nan()).collect();
        sorted.sort_by(f64::total_cmp);
        let as_large = |s: f64| (sorted.len() - sorted.partition_point(|x| *x < s)) as f64;
        let rank = |s: f64, more: f64, of: usize| {
            if s.is_nan() {
                1.0
            } else {
                (more + as_large(s)) / of as f64
            }
        };
        Self {
            change: change.iter().map(|&s| rank(s, 1.0, n + 1)).collect(),
            // Itself is among those as large.
            still: still.iter().map(|&s| rank(s, 0.0, n)).collect(),
            ranked_among: Some(n as u64),
        }
    }

    /// A p-value moved by so many standard errors of its rank.
    pub fn moved(&self, p: f64, by: f64) -> f64 {
        match self.ranked_among {
            Some(n) if !p.is_nan() => (p + by * (p * (1.0 - p) / n as f64).sqrt()).clamp(0.0, 1.0),
            _ => p,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ranks_by_hand() {
        let nan = f64::NAN;
        let p = PValues::ranked(&[5.0, 2.0, 0.0, nan], &[1.0, 3.0, 2.0, nan]);
        // Of four without a change one failed, which is never as far out.
        assert_eq!(p.change, [0.2, 0.6, 0.8, 1.0]);
        assert_eq!(p.still, [0.75, 0.25, 0.5, 1.0]);
        assert_eq!(p.ranked_among, Some(4));
        assert!(p.moved(0.2, 2.0) > 0.5 && p.moved(0.2, -2.0) == 0.0);
    }
}
