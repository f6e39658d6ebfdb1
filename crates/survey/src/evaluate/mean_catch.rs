//! The planned analysis of a baseline: the mean over sites of each site's catch per trap-week, with its standard error
//! between sites.
//!
//! Sites are the units that were chosen; all that is counted at one is one number, its catch over its trap-weeks counted
//! in all years. With n sites seen, mean m and standard deviation s of these numbers, the standard error is s/sqrt(n), on
//! n - 1 degrees of freedom. The interval is made on the log scale (`summary::interval`).

use super::analyser::{Finding, Sample};
use super::replicate::Ending;
use crate::scenario::Plan;

/// Analyses surveys of one plan.
#[derive(Clone, Debug)]
pub(super) struct MeanCatch {
    years: usize,
}

impl MeanCatch {
    /// The analysis of a plan.
    pub fn new(plan: &Plan) -> Self {
        Self {
            years: plan.years as usize,
        }
    }

    /// Analyses one survey. It fails, and tells nothing, when fewer than two sites have a trap-week left or when nothing
    /// at all was caught: no percentage can then be told.
    pub fn analyse(&self, sample: Sample) -> Finding {
        let truth = sample.totals.region;
        let failed = Finding {
            truth,
            ..Finding::FAILED
        };
        let efforts = sample.totals.effort.chunks_exact(self.years);
        let sites = sample.totals.counts.chunks_exact(self.years).zip(efforts);
        let rates: Vec<f64> = sites
            .filter_map(|(counts, effort)| {
                let effort: f64 = effort.iter().sum();
                (effort > 0.0).then(|| counts.iter().sum::<f64>() / effort)
            })
            .collect();
        let n = rates.len() as f64;
        if n < 2.0 {
            return failed;
        }
        let mean = rates.iter().sum::<f64>() / n;
        if mean <= 0.0 {
            return failed;
        }
        let scatter: f64 = rates.iter().map(|r| (r - mean) * (r - mean)).sum();
        Finding {
            estimate: mean,
            se: (scatter / (n - 1.0) / n).sqrt(),
            df: n - 1.0,
            ending: Ending::Converged,
            truth,
            ..Finding::FAILED
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::generator::Drawn;

    fn analyse(years: usize, counts: &[f64], effort: &[f64]) -> Finding {
        let totals = Drawn {
            counts: counts.into(),
            effort: effort.into(),
            region: 3.0,
            ..Drawn::default()
        };
        MeanCatch { years }.analyse(Sample {
            counts: &[],
            effort: &[],
            totals: &totals,
        })
    }

    /// Three sites, two years; by hand: catches per trap-week 2, 4 and 3 (one year of the last was lost).
    #[test]
    fn by_hand() {
        let f = analyse(
            2,
            &[10.0, 6.0, 12.0, 20.0, 0.0, 9.0],
            &[4.0, 4.0, 4.0, 4.0, 0.0, 3.0],
        );
        assert!((f.estimate - 3.0).abs() < 1e-15);
        assert!((f.se - (1.0f64 / 3.0).sqrt()).abs() < 1e-15);
        assert_eq!((f.df, f.truth, f.ending), (2.0, 3.0, Ending::Converged));
    }

    /// A site without a trap-week is not seen; one site alone, or nothing caught, tells nothing.
    #[test]
    fn failures() {
        let f = analyse(1, &[5.0, 0.0, 7.0], &[1.0, 0.0, 1.0]);
        assert_eq!((f.estimate, f.df), (6.0, 1.0));
        for (counts, effort) in [
            ([5.0, 0.0], [1.0, 0.0]),
            ([0.0, 0.0], [1.0, 1.0]),
            ([0.0, 0.0], [0.0, 0.0]),
        ] {
            let f = analyse(1, &counts, &effort);
            assert_eq!((f.ending, f.truth), (Ending::Failed, 3.0));
            assert!(f.estimate.is_nan() && f.se.is_nan());
        }
    }
}
