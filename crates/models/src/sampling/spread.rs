//! How the variance of a sample's count goes with its mean.

use numerics::maths::pow;

/// The variance of counts at a mean.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Spread {
    /// The same variance at every mean.
    Normal {
        /// Variance of a sample, 0 or more, in squared counts.
        variance: f64,
    },
    /// Variance equal to the mean.
    Poisson,
    /// Variance m + m^2/k.
    NegativeBinomial {
        /// Dispersion, above 0; larger is closer to Poisson.
        k: f64,
    },
    /// Taylor's (1961, Nature 189:732-735) power law, variance a m^b.
    Taylor {
        /// Variance at a mean of 1, above 0.
        a: f64,
        /// Power of the mean.
        b: f64,
    },
    /// Iwao's (1968, Researches on Population Ecology 10:1-20) regression of mean crowding on the mean, m* = alpha +
    /// beta m: variance (alpha + 1) m + (beta - 1) m^2.
    Iwao {
        /// Mean crowding at a mean of 0, -1 or more.
        alpha: f64,
        /// Slope of mean crowding on the mean.
        beta: f64,
    },
    /// One unit a sample, infested or not; the mean is the proportion p, the variance p (1 - p).
    Binomial,
}

impl Spread {
    /// Variance over squared mean. NaN for a mean that is not above 0 (not above 0 and at most 1 for
    /// [`Spread::Binomial`]), a parameter out of its bounds, or where the regression gives a negative variance.
    pub fn relative_variance(&self, mean: f64) -> f64 {
        if mean.is_nan() || mean <= 0.0 {
            return f64::NAN;
        }
        let ratio = match *self {
            Self::Normal { variance } => variance / mean / mean,
            Self::Poisson => 1.0 / mean,
            Self::NegativeBinomial { k } if k > 0.0 => 1.0 / mean + 1.0 / k,
            Self::Taylor { a, b } if a > 0.0 => a * pow(mean, b - 2.0),
            Self::Iwao { alpha, beta } if alpha >= -1.0 => (alpha + 1.0) / mean + (beta - 1.0),
            Self::Binomial if mean <= 1.0 => (1.0 - mean) / mean,
            _ => f64::NAN,
        };
        if ratio >= 0.0 { ratio } else { f64::NAN }
    }

    /// Variance of one sample's count, in squared counts; NaN as for [`Spread::relative_variance`].
    pub fn variance(&self, mean: f64) -> f64 {
        match *self {
            Self::Normal { variance } if variance >= 0.0 => variance,
            Self::Taylor { a, b } if a > 0.0 && mean > 0.0 => a * pow(mean, b),
            _ => self.relative_variance(mean) * mean * mean,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn variances_by_hand() {
        for (spread, mean, want) in [
            (Spread::Normal { variance: 25.0 }, 10.0, 25.0),
            (Spread::Poisson, 10.0, 10.0),
            (Spread::NegativeBinomial { k: 2.0 }, 10.0, 60.0),
            (Spread::Taylor { a: 2.5, b: 2.0 }, 3.0, 22.5),
            (
                Spread::Iwao {
                    alpha: 0.5,
                    beta: 1.2,
                },
                10.0,
                35.0,
            ),
            (Spread::Binomial, 0.3, 0.21),
        ] {
            let got = spread.variance(mean);
            assert!((got / want - 1.0).abs() < 1e-14, "{spread:?}: {got}");
            let relative = spread.relative_variance(mean);
            assert!((relative * mean * mean / want - 1.0).abs() < 1e-14);
        }
    }

    #[test]
    fn very_small_and_very_large_means() {
        let nb = Spread::NegativeBinomial { k: 0.5 };
        assert!((nb.relative_variance(1e-300) / 1e300 - 1.0).abs() < 1e-14);
        assert_eq!(nb.relative_variance(1e200), 2.0);
        let taylor = Spread::Taylor { a: 2.0, b: 1.5 };
        assert!((taylor.relative_variance(1e200) / 2e-100 - 1.0).abs() < 1e-12);
        assert!((taylor.variance(1e-200) / 2e-300 - 1.0).abs() < 1e-12);
    }

    #[test]
    fn out_of_bounds() {
        assert!(Spread::Poisson.relative_variance(0.0).is_nan());
        assert!(Spread::Poisson.variance(-1.0).is_nan());
        assert!(Spread::Binomial.variance(1.5).is_nan());
        assert!(Spread::NegativeBinomial { k: 0.0 }.variance(1.0).is_nan());
        assert!(Spread::Taylor { a: -1.0, b: 1.0 }.variance(1.0).is_nan());
        let falling = Spread::Iwao {
            alpha: 0.0,
            beta: 0.5,
        };
        assert!(falling.variance(1.0) > 0.0 && falling.variance(10.0).is_nan());
        let crowded = |alpha| Spread::Iwao { alpha, beta: 1.5 };
        assert_eq!(crowded(-1.0).variance(2.0), 2.0);
        assert!(crowded(-1.1).variance(2.0).is_nan());
    }
}
