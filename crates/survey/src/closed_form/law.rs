//! The law of the planned statistic when the estimate is off 0 by so many of its standard deviations.

use super::{Variances, within_degrees};
use crate::scenario::{Checked, Plan, Test};
use models::pooled::PooledStatistic;
use numerics::root::bracketed;
use numerics::special::noncentral_t;

/// A law.
pub(super) enum Law {
    /// Noncentral t with these degrees of freedom.
    T(f64),
    /// With a floor under the variance. A calibrated test knows it; the t test's critical value leaves it out, which is
    /// why its false alarms are then too few.
    Pooled(PooledStatistic),
}

impl Law {
    /// Of the question's planned test: with a floor for the calibrated test of a decline or of an edge by presence, else a t of `df`.
    pub fn of(scenario: &Checked, plan: &Plan, v: &Variances, df: f64) -> Self {
        let decline = scenario.question.effect.is_trend() || scenario.by_presence();
        let sound = v.believed > 0.0 && v.believed.is_finite() && v.floor > 0.0;
        if !(decline && scenario.analysis.test == Test::Calibrated && sound) {
            return Self::T(df);
        }
        let years = f64::from(plan.turns());
        let within = within_degrees(scenario, plan);
        let ratio = (v.floor / v.believed).min(1.0);
        Self::Pooled(PooledStatistic::new(years - 2.0, within, ratio))
    }

    /// Chance that the statistic, expected at `delta`, exceeds `c`, or if `two` lies beyond it either way.
    pub fn power(&self, c: f64, delta: f64, two: bool) -> f64 {
        match self {
            Self::T(df) => noncentral_t::power(c, *df, delta, two),
            Self::Pooled(law) => law.power(c, delta, two),
        }
    }

    /// What the share `level` of statistics exceed that are expected at `delta`.
    pub fn critical(&self, level: f64, delta: f64, two: bool) -> f64 {
        match self {
            Self::T(_) => bracketed(|c| level - self.power(c, delta, two), 0.0, 1e3, 1e-9),
            Self::Pooled(law) => law.critical(level, delta, two),
        }
    }

    /// Where the statistic must be expected to exceed `c` with this power; 0 when it does so anyway.
    pub fn delta_where(&self, c: f64, two: bool, power: f64) -> f64 {
        if let Self::Pooled(law) = self {
            return law.delta_where(c, two, power);
        }
        let short = |delta: f64| self.power(c, delta, two) - power;
        if short(0.0) >= 0.0 {
            return 0.0;
        }
        let mut high = c + 2.0;
        while short(high) < 0.0 && high < 1e6 {
            high *= 1.6;
        }
        bracketed(short, 0.0, high, 1e-9)
    }
}
