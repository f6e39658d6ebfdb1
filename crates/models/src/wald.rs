//! Wald tests: an estimate over its standard error.

use numerics::special::{normal, student};

/// What is looked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Alternative {
    /// A difference either way.
    TwoSided,
    /// Only a negative value.
    Below,
    /// Only a positive value.
    Above,
}

/// The statistic's reference distribution: Student's t with these degrees of freedom (infinite for the normal).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WaldTest {
    /// Degrees of freedom.
    pub df: f64,
    /// Significance level, 0 to 1.
    pub level: f64,
    /// What is looked for.
    pub alternative: Alternative,
}

impl WaldTest {
    /// The value the statistic (in the direction looked for) must exceed.
    pub fn critical(&self) -> f64 {
        let tail = if self.alternative == Alternative::TwoSided {
            0.5 * self.level
        } else {
            self.level
        };
        if self.df.is_infinite() {
            -normal::quantile(tail)
        } else {
            -student::quantile(tail, self.df)
        }
    }

    /// Whether a statistic is significant against `critical` (from [`WaldTest::critical`]).
    pub fn rejects(&self, statistic: f64, critical: f64) -> bool {
        match self.alternative {
            Alternative::TwoSided => statistic.abs() > critical,
            Alternative::Below => statistic < -critical,
            Alternative::Above => statistic > critical,
        }
    }
}

/// A ratio -n/(2 d) and its standard error by the delta method, from the variances and covariance of n and d.
pub fn ratio_minus_half(n: f64, d: f64, var_n: f64, var_d: f64, cov: f64) -> (f64, f64) {
    let value = -0.5 * n / d;
    let by_n = -0.5 / d;
    let by_d = 0.5 * n / (d * d);
    let variance = by_n * by_n * var_n + by_d * by_d * var_d + 2.0 * by_n * by_d * cov;
    (value, variance.sqrt())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn critical_values_and_sides() {
        let two = WaldTest {
            df: 8.0,
            level: 0.05,
            alternative: Alternative::TwoSided,
        };
        let c = two.critical();
        assert!((c - 2.306_004_135_204_166).abs() < 1e-11);
        assert!(two.rejects(-2.4, c) && two.rejects(2.4, c) && !two.rejects(2.2, c));
        let below = WaldTest {
            alternative: Alternative::Below,
            ..two
        };
        assert!(
            below.critical() < c
                && below.rejects(-2.0, below.critical())
                && !below.rejects(3.0, 2.0)
        );
        assert!(!two.rejects(f64::NAN, c));
    }
}
