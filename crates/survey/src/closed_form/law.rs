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

    /// What the share `level` of statistics exceed that are expected at `delta`. Below 0 where only one way counts and
    /// something, as a drift of the traps, holds the statistic there.
    pub fn critical(&self, level: f64, delta: f64, two: bool) -> f64 {
        match self {
            Self::T(_) => {
                let low = if two { 0.0 } else { -1e3 };
                bracketed(|c| level - self.power(c, delta, two), low, 1e3, 1e-9)
            }
            Self::Pooled(law) => law.critical(level, delta, two),
        }
    }

    /// Where the statistic must be expected to exceed `c` with this power; of two ways 0 when it does so anyway.
    pub fn delta_where(&self, c: f64, two: bool, power: f64) -> f64 {
        if let Self::Pooled(law) = self {
            return law.delta_where(c, two, power);
        }
        let short = |delta: f64| self.power(c, delta, two) - power;
        if short(0.0) >= 0.0 {
            if two {
                return 0.0;
            }
            let mut low = -2.0;
            while short(low) > 0.0 && low > -1e6 {
                low *= 1.6;
            }
            return bracketed(short, low, 0.0, 1e-9);
        }
        let mut high = c + 2.0;
        while short(high) < 0.0 && high < 1e6 {
            high *= 1.6;
        }
        bracketed(short, 0.0, high, 1e-9)
    }
}

#[cfg(test)]
mod tests {
    use crate::closed_form::preview;
    use crate::scenario::{Direction, read};

    /// Traps that catch more each year hide a fall: asked for a fall alone, the calibrated test takes what surveys without
    /// one exceed, and that lies below 0. Power, smallest fall by the integral of the same law worked out apart (the root
    /// sought from -20).
    #[test]
    fn a_drift_that_hides_the_change() {
        let text = include_str!("../../../../demo-data/meadow-beetles.json");
        for (drift, power, smallest) in [(3.0, 0.878, 27.1), (6.0, 0.774, 30.9)] {
            let mut s = read(text).unwrap();
            s.question.direction = Direction::Stated;
            s.premises.departures.detection_drift_percent.value = drift;
            let s = s.check().unwrap();
            let p = preview(&s, &s.plan);
            assert!((p.power - power).abs() < 0.001, "{drift}: {p:?}");
            assert!(
                (p.smallest_change - smallest).abs() < 0.06,
                "{drift}: {p:?}"
            );
            assert!((p.false_alarm - 0.05).abs() < 1e-6, "{drift}: {p:?}");
        }
    }

    /// A calibrated test of an edge keeps its level in the world in which the edge stays.
    #[test]
    fn an_edge_that_stays_is_judged_by_its_own_law() {
        let text = include_str!("../../../../demo-data/mountain-edge.json");
        let s = read(text).unwrap().check().unwrap();
        let p = preview(&s, &s.plan);
        assert!((p.false_alarm - 0.05).abs() < 1e-6, "{p:?}");
    }
}
