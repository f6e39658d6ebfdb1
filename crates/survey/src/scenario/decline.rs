//! A fall of the catch over the years, and the claim that it falls by no more than a margin.

use numerics::maths::{exp_m1, ln_1p};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A fall of so many per cent over so many years, at a constant yearly rate.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Decline {
    /// Total fall in per cent.
    pub change_percent: f64,
    /// Years over which it happens.
    pub over_years: f64,
}

/// The claim that the catch has fallen by no more than a margin: a non-inferiority test. It is false when the fall is
/// just the margin, and true when it is the smaller one that is believed in.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct NoWorse {
    /// The margin: a fall in per cent that would just be too much.
    pub margin_percent: f64,
    /// Years over which it would happen.
    pub over_years: f64,
    /// The fall in per cent over the same years that is believed in; 0 for none, below 0 for a rise.
    #[serde(default)]
    pub change_percent: f64,
}

fn slope(fall_percent: f64, years: f64) -> f64 {
    ln_1p(-fall_percent / 100.0) / years
}

impl Decline {
    /// Change a year on the log scale: ln(1 - fall) / years, negative.
    pub fn log_slope(&self) -> f64 {
        slope(self.change_percent, self.over_years)
    }

    /// Fall a year in per cent: 1 - (1 - total)^(1/years), the compound rate.
    pub fn percent_a_year(&self) -> f64 {
        -100.0 * exp_m1(self.log_slope())
    }
}

impl NoWorse {
    /// The margin as a change a year on the log scale.
    pub fn margin_slope(&self) -> f64 {
        slope(self.margin_percent, self.over_years)
    }

    /// The change a year on the log scale that is believed in, above the margin's.
    pub fn true_slope(&self) -> f64 {
        slope(self.change_percent, self.over_years)
    }
}

/// Fall in per cent over `years` at a change of `slope` a year on the log scale.
pub fn percent_fall(slope: f64, years: f64) -> f64 {
    -100.0 * exp_m1(slope * years)
}

#[cfg(test)]
mod tests {
    use super::*;
    use numerics::maths::ln;

    /// Compound rates: annual = 1 - (1 - total)^(1/T).
    #[test]
    fn totals_to_yearly_rates() {
        for (total, years, annual) in [
            (30.0, 10.0, 0.035_038_904_9),
            (50.0, 10.0, 0.066_967_008_5),
            (80.0, 10.0, 0.148_660_077_5),
        ] {
            let d = Decline {
                change_percent: total,
                over_years: years,
            };
            assert!((d.percent_a_year() / 100.0 - annual).abs() < 1e-9);
            assert!((percent_fall(d.log_slope(), years) - total).abs() < 1e-9);
        }
        // A fall of 75 % in 27 years is 5.0048 % a year; at 5 % a year the catch is halved in 13.5134 years.
        let d = Decline {
            change_percent: 75.0,
            over_years: 27.0,
        };
        assert!((d.percent_a_year() - 5.0048).abs() < 5e-5);
        assert!((ln(0.5) / ln(0.95) - 13.513_407_334_0).abs() < 1e-9);
    }

    /// Yearly rates to totals over 5, 10, 20 and 27 years.
    #[test]
    fn yearly_rates_to_totals() {
        for (r, totals) in [
            (0.01, [0.049_010, 0.095_618, 0.182_093, 0.237_657]),
            (0.02, [0.096_079, 0.182_927, 0.332_392, 0.420_432]),
            (0.05, [0.226_219, 0.401_263, 0.641_514, 0.749_656]),
        ] {
            for (years, total) in [5.0, 10.0, 20.0, 27.0].into_iter().zip(totals) {
                assert!((percent_fall(ln_1p(-r), years) / 100.0 - total).abs() < 5e-7);
            }
        }
    }
}
