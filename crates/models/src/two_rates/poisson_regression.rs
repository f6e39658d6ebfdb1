//! Sample size of a Poisson regression on one covariate.
//!
//! Signorini (1991), Biometrika 78:446-450: the count of a unit seen for a time t has mean t e^(b0 + b1 x), and
//!   N = phi (z(1 - a/2) sqrt V0 + z(1 - b) sqrt V1)^2 / (t e^b0 b1^2),
//! with V(b1) the variance of the estimate of b1 times N t e^b0, from the information
//! E[e^(b1 x) (1, x)(1, x)'] over the law of x, and V0 = V(0).

use super::{Risks, power};
use numerics::maths::{exp, exp_m1};

/// The law of the covariate x.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Covariate {
    /// Standard normal: V = e^(-b1^2/2).
    Normal,
    /// 1 with this chance (between 0 and 1), otherwise 0: V = 1/(1 - pi) + 1/(pi e^b1).
    Bernoulli {
        /// Chance of a 1.
        share: f64,
    },
    /// Even between 0 and 1: V from the moments of e^(b1 x), here in closed form.
    Uniform,
}

impl Covariate {
    /// The variance factor V at a slope.
    pub fn variance(&self, slope: f64) -> f64 {
        match *self {
            Self::Normal => exp(-0.5 * slope * slope),
            Self::Bernoulli { share } if share > 0.0 && share < 1.0 => {
                1.0 / (1.0 - share) + exp(-slope) / share
            }
            Self::Bernoulli { .. } => f64::NAN,
            // 1/V is the mass E[e^(bx)] = (e^b - 1)/b times the variance of x weighted by e^(bx).
            Self::Uniform if slope.abs() < 1e-8 => 12.0,
            Self::Uniform => slope / exp_m1(slope) / weighted_variance(slope),
        }
    }
}

/// Variance on (0, 1) of a density as e^(bx): 1/b^2 - 1/(4 sinh^2(b/2)).
fn weighted_variance(b: f64) -> f64 {
    let b = b.abs();
    if b < 0.3 {
        // Its series; the next term is below 1e-12 of it.
        let s = b * b;
        return 1.0 / 12.0
            - s * (1.0 / 240.0
                - s * (1.0 / 6048.0
                    - s * (1.0 / 172_800.0
                        - s * (1.0 / 5_322_240.0 - s * 691.0 / 118_879_488_000.0))));
    }
    // 4 sinh^2(b/2) = e^b (1 - e^-b)^2.
    let fall = exp_m1(-b);
    1.0 / b / b - exp(-b) / (fall * fall)
}

/// A Poisson regression that is to find the effect of one covariate.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PoissonRegression {
    /// Mean count per unit of time where the covariate is 0, e^b0, above 0.
    pub rate: f64,
    /// Mean time a unit is seen, above 0.
    pub exposure: f64,
    /// Log of the ratio of rates for one unit of the covariate, b1, not 0.
    pub slope: f64,
    /// Overdispersion phi, variance over mean, above 0; 1 for Poisson.
    pub overdispersion: f64,
    /// Law of the covariate.
    pub covariate: Covariate,
}

impl PoissonRegression {
    /// Number of units (not rounded). Infinite without an effect, NaN out of bounds.
    pub fn samples(&self, risks: Risks) -> f64 {
        let square = risks.square(
            self.covariate.variance(0.0),
            self.covariate.variance(self.slope),
        );
        square / self.unit() / (self.slope * self.slope)
    }

    /// Power of N units at a two-sided level.
    pub fn power(&self, samples: f64, level: f64) -> f64 {
        let (v0, v1) = (
            self.covariate.variance(0.0),
            self.covariate.variance(self.slope),
        );
        power(self.slope, samples * self.unit(), v0, v1, level)
    }

    /// Mean count of a unit at a covariate of 0, over the overdispersion.
    fn unit(&self) -> f64 {
        if self.rate > 0.0 && self.exposure > 0.0 && self.overdispersion > 0.0 {
            self.rate * self.exposure / self.overdispersion
        } else {
            f64::NAN
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use numerics::maths::ln;

    const LAWS: [Covariate; 3] = [
        Covariate::Normal,
        Covariate::Bernoulli { share: 0.5 },
        Covariate::Uniform,
    ];

    fn regression(rate: f64, ratio: f64, covariate: Covariate) -> PoissonRegression {
        PoissonRegression {
            rate,
            exposure: 1.0,
            slope: ln(ratio),
            overdispersion: 1.0,
            covariate,
        }
    }

    /// Signorini (1991), two-sided .05: e^b0, ratio of rates, power; normal, Bernoulli(.5), uniform. From his formula
    /// by scipy 1.17, the uniform by numeric moments.
    #[test]
    fn three_laws() {
        for (rate, ratio, power, row) in [
            (0.85, 1.3, 0.80, [132.774_918, 517.587_898, 1_549.195_657]),
            (0.85, 1.3, 0.90, [177.169_568, 684.960_324, 2_048.632_002]),
            (1.0, 1.2, 0.80, [234.946_787, 920.473_633, 2_758.308_999]),
            (2.0, 0.8, 0.80, [78.230_295, 326.854_654, 978.788_464]),
        ] {
            let risks = Risks { level: 0.05, power };
            for (law, want) in LAWS.into_iter().zip(row) {
                let r = regression(rate, ratio, law);
                let got = r.samples(risks);
                assert!(
                    (got / want - 1.0f64).abs() < 1e-8,
                    "{rate} {ratio} {law:?}: {got}"
                );
                assert!((r.power(got, 0.05) - power).abs() < 1e-12);
            }
        }
    }

    /// The variance factors against the inverse of the information, its moments summed over the law of x.
    #[test]
    fn variances_from_the_information() {
        let n = 4000;
        for slope in [-6.0, -1.0, -0.31, -0.29, 0.002, 0.29, 0.31, 2.0, 6.0] {
            for law in LAWS {
                // Midpoints of the uniform, a grid of the normal, both points of the Bernoulli.
                let points: Vec<(f64, f64)> = match law {
                    Covariate::Uniform => (0..n)
                        .map(|i| ((f64::from(i) + 0.5) / f64::from(n), 1.0 / f64::from(n)))
                        .collect(),
                    Covariate::Normal => (0..n)
                        .map(|i| -20.0 + 0.01 * f64::from(i))
                        .map(|x| (x, 0.01 * numerics::special::normal::pdf(x)))
                        .collect(),
                    Covariate::Bernoulli { share } => vec![(0.0, 1.0 - share), (1.0, share)],
                };
                let moment = |j: u32| -> f64 {
                    points
                        .iter()
                        .map(|(x, w)| w * exp(slope * x) * [1.0, *x, x * x][j as usize])
                        .sum()
                };
                let (m0, m1, m2) = (moment(0), moment(1), moment(2));
                let want = m0 / (m0 * m2 - m1 * m1);
                let got = law.variance(slope);
                assert!(
                    (got / want - 1.0).abs() < 1e-5,
                    "{slope} {law:?}: {got} {want}"
                );
            }
        }
        // The series meets the closed form.
        for b in [0.3, -0.3] {
            let (below, above) = (weighted_variance(b * 0.999_999_9), weighted_variance(b));
            assert!((below / above - 1.0).abs() < 1e-8);
        }
        assert!(
            (Covariate::Uniform.variance(0.0) / Covariate::Uniform.variance(1e-7) - 1.0).abs()
                < 1e-6
        );
        assert!(Covariate::Uniform.variance(800.0) >= 0.0);
    }

    /// Twice the time or half the overdispersion halves the number; power rises with it.
    #[test]
    fn exposure_and_overdispersion() {
        let risks = Risks {
            level: 0.05,
            power: 0.8,
        };
        let one = regression(0.85, 1.3, Covariate::Normal);
        let longer = PoissonRegression {
            exposure: 2.0,
            ..one
        };
        let even = PoissonRegression {
            overdispersion: 0.5,
            ..one
        };
        for half in [longer, even] {
            assert!((half.samples(risks) * 2.0 / one.samples(risks) - 1.0).abs() < 1e-14);
        }
        assert!(one.power(100.0, 0.05) < 0.8 && one.power(200.0, 0.05) > 0.8);
        assert!((one.power(0.0, 0.05) - 0.025).abs() < 0.01);
    }

    #[test]
    fn out_of_bounds() {
        let risks = Risks {
            level: 0.05,
            power: 0.8,
        };
        let one = regression(0.85, 1.3, Covariate::Normal);
        assert_eq!(
            PoissonRegression { slope: 0.0, ..one }.samples(risks),
            f64::INFINITY
        );
        assert!(
            PoissonRegression { rate: 0.0, ..one }
                .samples(risks)
                .is_nan()
        );
        assert!(
            one.samples(Risks {
                level: 0.0,
                ..risks
            })
            .is_nan()
        );
        assert!(
            one.samples(Risks {
                power: 1.0,
                ..risks
            })
            .is_nan()
        );
        assert!(one.power(-1.0, 0.05).is_nan());
        let covariate = Covariate::Bernoulli { share: 1.0 };
        assert!(
            PoissonRegression { covariate, ..one }
                .samples(risks)
                .is_nan()
        );
    }
}
