//! Which surveys find a change, under one test.

use super::calibration::Calibration;
use super::interval::{self, Interval};
use super::share::Share;
use crate::closed_form;
use crate::evaluate::Finding;
use crate::scenario::{Checked, Direction, Effect, Plan, Test};
use models::wald::{Alternative, WaldTest};
use numerics::special::{normal, student};

/// The statistic a test looks at.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Statistic {
    /// Estimate over standard error.
    Wald,
    /// Signed root of the likelihood ratio.
    Root,
    /// Slope over standard error of the annual-index regression.
    Index,
    /// Animals caught.
    Caught,
    /// Less half the width of the interval over the estimate.
    Precision,
    /// The share of a community recorded.
    Recorded,
}

/// What a statistic must exceed.
#[derive(Clone, Debug, PartialEq)]
enum Threshold {
    /// A fixed value.
    Fixed(f64),
    /// Student's t value at the survey's own degrees of freedom.
    OwnDegrees,
    /// A value taken from nulls.
    Calibrated(Calibration),
}

/// Judges surveys by one test.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Judge {
    pub test: Test,
    statistic: Statistic,
    threshold: Threshold,
    alternative: Alternative,
    level: f64,
    /// Of a baseline alone.
    interval: Option<Interval>,
    /// Degrees of freedom of the statistic's law; NaN where they differ from survey to survey or there is none.
    df: f64,
}

/// Which results count for the scenario's question.
pub(super) fn alternative(scenario: &Checked) -> Alternative {
    let rises = closed_form::truth(scenario) > 0.0;
    match scenario.question.direction {
        Direction::Either => Alternative::TwoSided,
        Direction::Stated if rises => Alternative::Above,
        Direction::Stated => Alternative::Below,
    }
}

/// The test that needs no nulls: what stands in for one that lacks them.
pub(super) fn plain_test(scenario: &Checked) -> Test {
    if scenario.by_occupancy() {
        Test::Z
    } else {
        Test::T
    }
}

/// A statistic with its side in mind: large speaks for a change.
fn sided(statistic: f64, alternative: Alternative) -> f64 {
    match alternative {
        Alternative::TwoSided => statistic.abs(),
        Alternative::Below => -statistic,
        Alternative::Above => statistic,
    }
}

/// A survey's own degrees of freedom. No degrees at all (the information did not allow them) stand for the least there
/// can be, so that nothing is found too easily.
pub(super) fn own_degrees(finding: &Finding) -> f64 {
    if finding.df >= 1.0 { finding.df } else { 1.0 }
}

/// The statistic if the true effect were elsewhere: its error in standard errors stays, the effect moves by
/// `by` and the standard error becomes `ratio` times as large.
#[derive(Clone, Copy, Debug)]
pub(super) struct Moved {
    pub truth: f64,
    pub to: f64,
    pub ratio: f64,
}

impl Judge {
    /// The judge of a question asked two-sided or one-sided as `alternative` says. `None` where the test needs more
    /// nulls than there are, or does not belong to the question.
    pub fn new(
        scenario: &Checked,
        plan: &Plan,
        test: Test,
        alternative: Alternative,
        nulls: &[Finding],
        centre: f64,
    ) -> Option<Self> {
        let level = scenario.question.significance;
        if let Some(wanted) = interval::wanted(scenario) {
            // Just as wanted is precise enough.
            return Some(Self {
                test,
                statistic: Statistic::Precision,
                threshold: Threshold::Fixed(-wanted * (1.0 + 1e-12)),
                alternative: Alternative::Above,
                level,
                interval: Some(Interval::new(scenario, plan)),
                df: f64::NAN,
            });
        }
        if matches!(scenario.question.effect, Effect::Absence(_)) {
            // One animal is enough, whatever the test is called.
            return Some(Self {
                test,
                statistic: Statistic::Caught,
                threshold: Threshold::Fixed(0.0),
                alternative: Alternative::Above,
                level,
                interval: None,
                df: f64::NAN,
            });
        }
        if let Effect::Inventory(i) = &scenario.question.effect {
            return Some(Self {
                test,
                statistic: Statistic::Recorded,
                // Just the share is enough, but for the rounding of sums.
                threshold: Threshold::Fixed(i.wanted_share - 1e-9),
                alternative: Alternative::Above,
                level,
                interval: None,
                df: f64::NAN,
            });
        }
        let statistic = match test {
            Test::Calibrated | Test::T | Test::Satterthwaite | Test::Z => Statistic::Wald,
            Test::LikelihoodRatio => Statistic::Root,
            Test::AnnualIndex => Statistic::Index,
        };
        let df = match test {
            Test::T => closed_form::t_degrees(scenario, plan),
            Test::Z | Test::LikelihoodRatio => f64::INFINITY,
            Test::AnnualIndex => f64::from(plan.turns()) - 2.0,
            Test::Satterthwaite | Test::Calibrated => f64::NAN,
        };
        let fixed = |df: f64| {
            let test = WaldTest {
                df,
                level,
                alternative,
            };
            Threshold::Fixed(test.critical())
        };
        let threshold = match test {
            Test::T | Test::Z | Test::LikelihoodRatio | Test::AnnualIndex => fixed(df),
            Test::Satterthwaite => Threshold::OwnDegrees,
            Test::Calibrated => {
                let of = nulls
                    .iter()
                    .map(|f| sided((f.estimate - centre) / f.se, alternative));
                Threshold::Calibrated(Calibration::of(of, level)?)
            }
        };
        Some(Self {
            test,
            statistic,
            threshold,
            alternative,
            level,
            interval: None,
            df,
        })
    }

    /// Estimate and standard error the test looks at.
    pub fn pair(&self, finding: &Finding) -> (f64, f64) {
        match self.statistic {
            Statistic::Wald
            | Statistic::Root
            | Statistic::Caught
            | Statistic::Precision
            | Statistic::Recorded => (finding.estimate, finding.se),
            Statistic::Index => finding.index,
        }
    }

    fn statistic(&self, finding: &Finding) -> f64 {
        let (estimate, se) = self.pair(finding);
        match self.statistic {
            Statistic::Root => finding.root,
            Statistic::Caught | Statistic::Recorded => finding.estimate,
            Statistic::Precision => self
                .interval
                .as_ref()
                .map_or(f64::NAN, |i| -i.half_width(finding)),
            Statistic::Wald | Statistic::Index => estimate / se,
        }
    }

    /// Whether a statistic of this survey, its side in mind, is beyond what it must exceed.
    pub fn exceeds(&self, finding: &Finding, statistic: f64) -> bool {
        let tail = if self.alternative == Alternative::TwoSided {
            0.5 * self.level
        } else {
            self.level
        };
        match &self.threshold {
            Threshold::Fixed(c) => statistic > *c,
            Threshold::Calibrated(c) => statistic > c.critical,
            Threshold::OwnDegrees => {
                // The tail is looked up only where the normal's is passed: t's is wider.
                normal::cdf(-statistic) < tail
                    && student::cdf(-statistic, own_degrees(finding)) < tail
            }
        }
    }

    /// What every statistic must exceed; `None` when that differs from survey to survey.
    pub fn fixed_critical(&self) -> Option<f64> {
        match &self.threshold {
            // Not a test's.
            Threshold::Fixed(_) if self.interval.is_some() => None,
            Threshold::Fixed(c) => Some(*c),
            Threshold::Calibrated(c) => Some(c.critical),
            Threshold::OwnDegrees => None,
        }
    }

    /// Degrees of freedom of the statistic's law; NaN where they differ from survey to survey or there is none.
    pub fn degrees(&self) -> f64 {
        self.df
    }

    /// The critical value from nulls, when the test has one.
    pub fn calibration(&self) -> Option<&Calibration> {
        match &self.threshold {
            Threshold::Calibrated(c) => Some(c),
            _ => None,
        }
    }

    /// The statistic with its side in mind: large speaks for a change; NaN of a failed fit.
    pub fn sided_statistic(&self, finding: &Finding) -> f64 {
        sided(self.statistic(finding), self.alternative)
    }

    /// The p-value of a survey by its statistic's own law; 1 of a failed fit. NaN where the test has no law.
    pub fn p_value(&self, finding: &Finding) -> f64 {
        let statistic = self.sided_statistic(finding);
        if statistic.is_nan() {
            return 1.0;
        }
        let df = match self.threshold {
            Threshold::OwnDegrees => own_degrees(finding),
            _ => self.df,
        };
        let tail = if df.is_infinite() {
            normal::cdf(-statistic)
        } else {
            student::cdf(-statistic, df)
        };
        match self.alternative {
            Alternative::TwoSided => (2.0 * tail).min(1.0),
            _ => tail,
        }
    }

    /// Whether a survey finds a change.
    pub fn finds(&self, finding: &Finding) -> bool {
        self.exceeds(finding, sided(self.statistic(finding), self.alternative))
    }

    /// Whether it would, were the true effect elsewhere.
    pub fn finds_moved(&self, finding: &Finding, moved: Moved) -> bool {
        if self.interval.is_some() || self.statistic == Statistic::Recorded {
            // A precision, and what is recorded, are those of the survey, whatever the truth.
            return self.finds(finding);
        }
        let (_, se) = self.pair(finding);
        let statistic = self.statistic(finding) - moved.truth / se + moved.to / (moved.ratio * se);
        self.exceeds(finding, sided(statistic, self.alternative))
    }

    /// The share of surveys of the world of change that find it.
    pub fn power(&self, change: &[Finding]) -> Share {
        self.power_from(change, 0.0)
    }

    /// The same when a statistic counts from `centre` instead of 0.
    fn power_from(&self, surveys: &[Finding], centre: f64) -> Share {
        match &self.threshold {
            Threshold::Calibrated(c) => c.share(&self.sided_from(surveys, centre)),
            _ => Share::of(self.hits(surveys, centre), surveys.len() as u64),
        }
    }

    /// The standard error that a critical value taken from nulls brings to the power; 0 with any other.
    pub fn extra_se(&self, change: &[Finding]) -> f64 {
        match &self.threshold {
            Threshold::Calibrated(c) => c.share_se(&self.sided_from(change, 0.0)),
            _ => 0.0,
        }
    }

    fn sided_from(&self, surveys: &[Finding], centre: f64) -> Vec<f64> {
        let of = surveys.iter().map(|f| {
            let (estimate, se) = self.pair(f);
            sided((estimate - centre) / se, self.alternative)
        });
        of.collect()
    }

    /// How many surveys find a change from `centre`.
    pub fn hits(&self, surveys: &[Finding], centre: f64) -> u64 {
        let moved = Moved {
            truth: centre,
            to: 0.0,
            ratio: 1.0,
        };
        let found = |f: &&Finding| self.finds_moved(f, moved);
        surveys.iter().filter(found).count() as u64
    }

    /// The share of surveys of the world without a change that find one all the same; of a baseline, of those whose
    /// interval misses the truth; of an inventory, of those that claim the share by their own estimate although they have
    /// not reached it.
    pub fn false_alarm(&self, still: &[Finding]) -> Share {
        if self.statistic == Statistic::Recorded {
            let claims = still.iter().filter(|f| self.is_false(f)).count() as u64;
            return Share::of(claims, still.len() as u64);
        }
        match &self.interval {
            Some(interval) => interval.misses(still),
            None => self.false_from(still, 0.0),
        }
    }

    /// Whether a survey of the world without a change finds one all the same; of a baseline, misses the truth; of an
    /// inventory, claims falsely.
    pub fn is_false(&self, finding: &Finding) -> bool {
        match &self.interval {
            Some(interval) => interval.misses(std::slice::from_ref(finding)).estimate > 0.5,
            None if self.statistic == Statistic::Recorded => {
                !self.finds(finding) && self.exceeds(finding, finding.se)
            }
            None => self.finds(finding),
        }
    }

    /// The interval of a baseline; `None` with any other question.
    pub fn interval(&self) -> Option<&Interval> {
        self.interval.as_ref()
    }

    fn false_from(&self, nulls: &[Finding], centre: f64) -> Share {
        match &self.threshold {
            Threshold::Calibrated(c) => c.false_alarm(),
            _ => Share::of(self.hits(nulls, centre), nulls.len() as u64),
        }
    }
}

/// Power and false alarms of the claim "no worse than the stated change": the interval must lie above `margin`
/// (negative: a fall). A claim is true in the world without a change, and false in the world of change, where the
/// fall is just the margin.
pub(super) fn no_worse(
    scenario: &Checked,
    plan: &Plan,
    test: Test,
    margin: f64,
    change: &[Finding],
    still: &[Finding],
) -> Option<(Share, Share)> {
    let test = if test == Test::LikelihoodRatio {
        Test::Z
    } else {
        test
    };
    let judge = Judge::new(scenario, plan, test, Alternative::Above, change, margin)?;
    let power = judge.power_from(still, margin);
    Some((power, judge.false_from(change, margin)))
}
