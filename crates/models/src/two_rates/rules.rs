//! Rules of thumb for the comparison of two groups, each beside the form it rounds.
//!
//! van Belle (2008), Statistical Rules of Thumb, 2nd edition, chapter 2; the first is Lehr's (1992, Statistics in
//! Medicine 11:1099-1102). Two-sided level .05 and power .8 make 2 (z(1 - a/2) + z(1 - b))^2 = 15.7, rounded to 16.
//! Numbers are units in each group, not rounded; infinite when the groups are equal, NaN out of bounds.

use super::{Risks, critical};
use numerics::maths::{ln, ln_1p};
use numerics::special::normal;

/// The rounded 2 (z(1 - a/2) + z(1 - b))^2 at level .05 and power .8.
const SIXTEEN: f64 = 16.0;

/// What distinguishes two groups.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Contrast {
    /// Means a number of standard deviations apart.
    Standardised {
        /// Difference over the standard deviation of a unit.
        difference: f64,
    },
    /// Poisson counts, compared on the scale of square roots, where their variance is 1/4.
    Poisson {
        /// Mean count of a unit of the first group, 0 or more.
        first: f64,
        /// Mean count of a unit of the second group, 0 or more.
        second: f64,
    },
    /// Means in a ratio, with the same coefficient of variation, compared on the log scale.
    Ratio {
        /// First mean over the second, above 0.
        ratio: f64,
        /// Standard deviation of a unit over its mean, above 0.
        cv: f64,
    },
}

impl Contrast {
    /// Difference in standard deviations of a unit, on the scale of the comparison.
    pub fn standardised(&self) -> f64 {
        match *self {
            Self::Standardised { difference } => difference.abs(),
            Self::Poisson { first, second } if first >= 0.0 && second >= 0.0 => {
                let sum = first.sqrt() + second.sqrt();
                // Twice the difference of the roots, without cancellation.
                if sum == 0.0 {
                    0.0
                } else {
                    2.0 * (first - second).abs() / sum
                }
            }
            Self::Ratio { ratio, cv } if ratio > 0.0 && cv > 0.0 => {
                let log = if (ratio - 1.0).abs() < 0.5 {
                    ln_1p(ratio - 1.0)
                } else {
                    ln(ratio)
                };
                log.abs() / cv
            }
            _ => f64::NAN,
        }
    }

    /// The rule of thumb at level .05 and power .8: 16/difference^2; for Poisson counts 4/(sqrt l1 - sqrt l2)^2, for
    /// ratios 16 CV^2/(ln ratio)^2.
    pub fn rule(&self) -> f64 {
        let d = self.standardised();
        SIXTEEN / (d * d)
    }

    /// What the rule rounds, 2 (z(1 - a/2) + z(1 - b))^2/difference^2.
    pub fn samples(&self, risks: Risks) -> f64 {
        let d = self.standardised();
        2.0 * risks.square(1.0, 1.0) / (d * d)
    }

    /// Power of n units in each group at a two-sided level.
    pub fn power(&self, samples: f64, level: f64) -> f64 {
        if samples.is_nan() || samples < 0.0 {
            return f64::NAN;
        }
        let z = critical(level);
        normal::cdf(self.standardised() * (0.5 * samples).sqrt() - z)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn risks(power: f64) -> Risks {
        Risks { level: 0.05, power }
    }

    const ONE: Contrast = Contrast::Standardised { difference: 1.0 };

    /// 2 (z + z)^2 by scipy 1.17; Lehr's 16 is the first rounded up.
    #[test]
    fn lehrs_rule() {
        for (power, want) in [(0.8, 15.697_759_468_7), (0.9, 21.014_846_122_9)] {
            let got = ONE.samples(risks(power));
            assert!((got / want - 1.0).abs() < 1e-10, "{got}");
        }
        assert_eq!(Contrast::Standardised { difference: -0.5 }.rule(), 64.0);
    }

    /// van Belle (2008): 4/(sqrt 10 - sqrt 15)^2, and 16 CV^2/(ln ratio)^2 with CV .4 and ratio .8; by scipy 1.17.
    #[test]
    fn rules_for_counts_and_ratios() {
        let poisson = Contrast::Poisson {
            first: 10.0,
            second: 15.0,
        };
        assert!((poisson.rule() / 7.919_183_588_4 - 1.0).abs() < 1e-10);
        for ratio in [0.8, 1.25] {
            let cv = Contrast::Ratio { ratio, cv: 0.4 };
            assert!((cv.rule() / 51.412_803_255_2 - 1.0).abs() < 1e-10);
        }
    }

    /// The power of the exact number is the power asked for; the rule's is a little more than .8.
    #[test]
    fn power_undoes_number() {
        for contrast in [
            ONE,
            Contrast::Poisson {
                first: 1e-200,
                second: 4e-200,
            },
            Contrast::Poisson {
                first: 1e100,
                second: 1.1e100,
            },
            Contrast::Ratio {
                ratio: 0.1,
                cv: 3.0,
            },
            Contrast::Ratio {
                ratio: 1.0 + 1e-9,
                cv: 0.01,
            },
        ] {
            for want in [0.3, 0.8, 0.99] {
                let n = contrast.samples(risks(want));
                assert!(
                    (contrast.power(n, 0.05) - want).abs() < 1e-12,
                    "{contrast:?}"
                );
            }
            assert!((contrast.power(contrast.rule(), 0.05) - 0.807_430).abs() < 1e-6);
        }
    }

    #[test]
    fn equal_groups_and_out_of_bounds() {
        for equal in [
            Contrast::Standardised { difference: 0.0 },
            Contrast::Poisson {
                first: 3.0,
                second: 3.0,
            },
            Contrast::Poisson {
                first: 0.0,
                second: 0.0,
            },
            Contrast::Ratio {
                ratio: 1.0,
                cv: 0.4,
            },
        ] {
            assert_eq!(equal.rule(), f64::INFINITY);
            assert!((equal.power(100.0, 0.05) - 0.025).abs() < 1e-12);
        }
        let negative = Contrast::Poisson {
            first: -1.0,
            second: 3.0,
        };
        assert!(negative.rule().is_nan());
        assert!(
            Contrast::Ratio {
                ratio: 0.8,
                cv: 0.0
            }
            .rule()
            .is_nan()
        );
        assert!(
            ONE.samples(Risks {
                level: 0.05,
                power: f64::NAN
            })
            .is_nan()
        );
        assert!(ONE.power(-3.0, 0.05).is_nan());
    }
}
