//! Sample sizes to tell two rates of counts apart, and their power: by regression and by rules of thumb.
//!
//! All are two-sided tests whose power counts the true direction alone. Numbers are not rounded.

pub mod negative_binomial_rates;
pub mod poisson_regression;
pub mod rules;

use numerics::special::normal;

/// The accepted risk of a false alarm and the power wanted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Risks {
    /// Two-sided significance level, above 0 and below 1.
    pub level: f64,
    /// Power, above 0 and below 1.
    pub power: f64,
}

impl Risks {
    /// z(1 - level/2), the standard errors a difference must exceed.
    fn critical(&self) -> f64 {
        critical(self.level)
    }

    /// (z(1 - level/2) sqrt(v0) + z(power) sqrt(v1))^2, with the variance v0 without and v1 with the effect. 0 when
    /// the power is reached without any data (below level/2).
    fn square(&self, v0: f64, v1: f64) -> f64 {
        let sum = self.critical() * v0.sqrt() + quantile(self.power) * v1.sqrt();
        if sum < 0.0 { 0.0 } else { sum * sum }
    }
}

fn critical(level: f64) -> f64 {
    -quantile(0.5 * level)
}

/// NaN outside 0 to 1 and at its ends.
fn quantile(p: f64) -> f64 {
    let z = normal::quantile(p);
    if z.is_finite() { z } else { f64::NAN }
}

/// Power at `size` times the information of one unit: the effect's size over its standard error is `effect`
/// sqrt(size/v1), and it must exceed the critical value times sqrt(v0/v1).
fn power(effect: f64, size: f64, v0: f64, v1: f64, level: f64) -> f64 {
    if size.is_nan() || size < 0.0 {
        return f64::NAN;
    }
    normal::cdf((effect.abs() * size.sqrt() - critical(level) * v0.sqrt()) / v1.sqrt())
}
