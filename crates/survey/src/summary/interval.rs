//! The interval of a baseline's mean.
//!
//! On the log scale: mean times e^(-t c) to mean times e^(t c), with c the standard error over the mean and t Student's
//! two-sided value with sites less 1 degrees of freedom (the delta method for the log of a mean, as in Burnham et al.
//! 1987, Design and Analysis Methods for Fish Survival Experiments, American Fisheries Society Monograph 5, part 2,
//! for other positive quantities; cited from memory). Half its width over the mean is sinh(t c). Catches are skewed, and so is their mean:
//! mean -/+ t times the standard error misses a truth above it far too often. Of 10 and 120 sites with the usual spread
//! (SD .6, k 1) it holds 88.5 and 93.7 % of truths instead of 95, this one 91.9 and 94.2; of 60 sites with an SD of 1 and k
//! .5 it is 87.4 and 90.1 %, of 8 even ones (SD .2, k 5) 93.0 and 95.2 %
//! (`tests/suite/baseline.rs` holds the two against each other). A ratio estimate, all catch over all trap-weeks, covers
//! like the mean of sites, since losses at random leave sites nearly the same trap-weeks, and would weigh sites by luck.

use super::share::Share;
use crate::closed_form::half_width;
use crate::evaluate::Finding;
use crate::scenario::{Checked, Effect, Plan};
use numerics::maths::ln;
use numerics::special::student;

/// Makes intervals at one confidence.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Interval {
    level: f64,
    /// Degrees of freedom of a survey of which no site was lost, and t for them.
    usual: (f64, f64),
}

fn critical(level: f64, df: f64) -> f64 {
    -student::quantile(0.5 * level, df)
}

/// The wanted half-width of a baseline over the mean; `None` with any other question.
pub(super) fn wanted(scenario: &Checked) -> Option<f64> {
    match &scenario.question.effect {
        Effect::Baseline(b) => Some(b.within_percent / 100.0),
        _ => None,
    }
}

impl Interval {
    /// Of a scenario's significance level under a plan.
    pub fn new(scenario: &Checked, plan: &Plan) -> Self {
        let level = scenario.question.significance;
        let df = f64::from(plan.sites) - 1.0;
        Self {
            level,
            usual: (df, critical(level, df)),
        }
    }

    /// Student's t times the standard error over the mean; NaN of a survey that failed.
    fn reach(&self, f: &Finding) -> f64 {
        let (df, t) = self.usual;
        let t = if f.df == df {
            t
        } else if f.df >= 1.0 {
            critical(self.level, f.df)
        } else {
            f64::NAN
        };
        t * f.se / f.estimate
    }

    /// Half the width over the mean; infinite of a survey that failed.
    pub fn half_width(&self, f: &Finding) -> f64 {
        let width = half_width(self.reach(f));
        if width.is_nan() { f64::INFINITY } else { width }
    }

    /// Whether it holds the survey's truth; that of a survey that failed holds nothing.
    pub fn holds(&self, f: &Finding) -> bool {
        ln(f.truth / f.estimate).abs() <= self.reach(f)
    }

    /// Share of surveys whose interval misses their truth.
    pub fn misses(&self, surveys: &[Finding]) -> Share {
        let missed = surveys.iter().filter(|f| !self.holds(f)).count();
        Share::of(missed as u64, surveys.len() as u64)
    }

    /// Share of surveys whose interval holds their truth.
    pub fn coverage(&self, surveys: &[Finding]) -> Share {
        let held = surveys.iter().filter(|f| self.holds(f)).count();
        Share::of(held as u64, surveys.len() as u64)
    }

    /// The half-width over the mean that the share `wanted` of surveys reaches or betters; `None` when not so many
    /// tell anything.
    pub fn reached(&self, surveys: &[Finding], wanted: f64) -> Option<f64> {
        let mut widths: Vec<f64> = surveys.iter().map(|f| self.half_width(f)).collect();
        widths.sort_by(f64::total_cmp);
        let place = (wanted * widths.len() as f64).ceil().max(1.0) as usize;
        widths.get(place - 1).copied().filter(|w| w.is_finite())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::evaluate::Ending;
    use numerics::maths::exp;

    fn finding(se: f64, df: f64, truth: f64) -> Finding {
        Finding {
            estimate: 2.0,
            se,
            df,
            ending: Ending::Converged,
            truth,
            ..Finding::FAILED
        }
    }

    const INTERVAL: Interval = Interval {
        level: 0.05,
        usual: (10.0, 2.228_138_852),
    };

    /// t of 10 and of 4 degrees of freedom, 2.228 and 2.776 (Fisher & Yates 1938, Statistical Tables, table III).
    #[test]
    fn widths_and_ends() {
        let f = finding(0.2, 10.0, 2.0);
        let (low, high) = (2.0 * exp(-0.222_813_885_2), 2.0 * exp(0.222_813_885_2));
        assert!((INTERVAL.half_width(&f) - (high - low) / 4.0).abs() < 1e-12);
        for (truth, held) in [
            (0.999 * low, false),
            (1.001 * low, true),
            (0.999 * high, true),
            (1.001 * high, false),
        ] {
            assert_eq!(INTERVAL.holds(&finding(0.2, 10.0, truth)), held, "{truth}");
        }
        let few = INTERVAL.half_width(&finding(0.2, 4.0, 2.0));
        assert!((few - half_width(0.277_644_5)).abs() < 1e-6);
    }

    #[test]
    fn failures_miss_and_are_never_precise() {
        let failed = Finding {
            truth: 2.0,
            ..Finding::FAILED
        };
        assert_eq!(INTERVAL.half_width(&failed), f64::INFINITY);
        assert!(!INTERVAL.holds(&failed));
        let surveys = [finding(0.2, 10.0, 2.0), failed, finding(0.4, 10.0, 2.0)];
        assert_eq!(INTERVAL.misses(&surveys).estimate, 1.0 / 3.0);
        let reached = |w| INTERVAL.reached(&surveys, w);
        assert_eq!(reached(0.3), Some(INTERVAL.half_width(&surveys[0])));
        assert_eq!(reached(0.5), Some(INTERVAL.half_width(&surveys[2])));
        assert_eq!((reached(0.9), INTERVAL.reached(&[], 0.5)), (None, None));
    }
}
