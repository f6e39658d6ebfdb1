//! The law of a sample's count: Poisson, negative binomial or binomial.
//!
//! Probabilities in Loader's saddle-point form, so that neither small nor large means overflow or cancel. The total
//! of n independent samples has a law of the same kind.

use super::saddle_point::{deviance, stirling_error};
use numerics::maths::{exp, ln_1p};

const TWO_PI: f64 = std::f64::consts::TAU;
/// Beyond this counts have gaps as floating-point numbers.
const MOST_UNITS: u64 = 1 << 53;

/// The law of one sample's count.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum CountLaw {
    /// Animals at random.
    Poisson {
        /// Mean per sample, 0 or more.
        mean: f64,
    },
    /// Animals in clumps: variance m + m^2/k.
    NegativeBinomial {
        /// Mean per sample, 0 or more.
        mean: f64,
        /// Dispersion, above 0 (infinite: Poisson).
        k: f64,
    },
    /// Infested units among those of a sample.
    Binomial {
        /// Units in a sample, 1 or more, at most 2^53.
        units: u64,
        /// Chance that a unit is infested, 0 to 1.
        p: f64,
    },
}

impl CountLaw {
    /// Whether the parameters are within their bounds and finite.
    pub fn is_valid(&self) -> bool {
        match *self {
            Self::Poisson { mean } => mean.is_finite() && mean >= 0.0,
            Self::NegativeBinomial { mean, k } => mean.is_finite() && mean >= 0.0 && k > 0.0,
            Self::Binomial { units, p } => {
                (1..=MOST_UNITS).contains(&units) && (0.0..=1.0).contains(&p)
            }
        }
    }

    /// Mean count of a sample.
    pub fn mean(&self) -> f64 {
        match *self {
            Self::Poisson { mean } | Self::NegativeBinomial { mean, .. } => mean,
            Self::Binomial { units, p } => units as f64 * p,
        }
    }

    /// Variance of a sample's count.
    pub fn variance(&self) -> f64 {
        match *self {
            Self::Poisson { mean } => mean,
            Self::NegativeBinomial { mean, k } => mean + mean * (mean / k),
            Self::Binomial { units, p } => units as f64 * p * (1.0 - p),
        }
    }

    /// Logarithm of the chance that a sample holds none.
    pub fn ln_none(&self) -> f64 {
        match *self {
            Self::NegativeBinomial { mean, k } if k.is_finite() => -k * ln_1p(mean / k),
            Self::Poisson { mean } | Self::NegativeBinomial { mean, .. } => -mean,
            Self::Binomial { units, p } => units as f64 * ln_1p(-p),
        }
    }

    /// The law of the total of `samples` (1 or more) independent samples.
    pub fn total(&self, samples: u64) -> Self {
        let n = samples as f64;
        match *self {
            Self::Poisson { mean } => Self::Poisson { mean: n * mean },
            Self::NegativeBinomial { mean, k } => Self::NegativeBinomial {
                mean: n * mean,
                k: n * k,
            },
            Self::Binomial { units, p } => Self::Binomial {
                units: units.saturating_mul(samples),
                p,
            },
        }
    }

    /// Chance of exactly this count; relative error about 1e-14. NaN out of bounds.
    pub fn chance(&self, count: u64) -> f64 {
        if !self.is_valid() {
            return f64::NAN;
        }
        let y = count as f64;
        match *self {
            _ if count == 0 => exp(self.ln_none()),
            Self::Poisson { mean } | Self::NegativeBinomial { mean, .. } if mean == 0.0 => 0.0,
            Self::NegativeBinomial { mean, k } if k.is_finite() => {
                // A binomial chance of k out of k + y, times k/(k + y).
                let share = (k + y) / (k + mean);
                let exponent = stirling_error(k + y)
                    - stirling_error(k)
                    - stirling_error(y)
                    - deviance(k, k * share)
                    - deviance(y, mean * share);
                exp(exponent) * (k / (k + y) / (TWO_PI * y)).sqrt()
            }
            Self::Poisson { mean } | Self::NegativeBinomial { mean, .. } => {
                exp(-stirling_error(y) - deviance(y, mean)) / (TWO_PI * y).sqrt()
            }
            Self::Binomial { units, .. } if count > units => 0.0,
            Self::Binomial { units, p } if count == units => {
                exp(units as f64 * numerics::maths::ln(p))
            }
            Self::Binomial { p, .. } if p == 0.0 || p == 1.0 => 0.0,
            Self::Binomial { units, p } => {
                let n = units as f64;
                let rest = (units - count) as f64;
                let exponent = stirling_error(n)
                    - stirling_error(y)
                    - stirling_error(rest)
                    - deviance(y, n * p)
                    - deviance(rest, n * (1.0 - p));
                exp(exponent) * (n / rest / (TWO_PI * y)).sqrt()
            }
        }
    }

    /// The smallest and the largest count whose chance is not below `least` (above 0), the law being unimodal. Counts
    /// beyond 2^53 are not looked at: then the largest is 2^53.
    pub(super) fn range(&self, least: f64) -> (u64, u64) {
        const FAR: u64 = MOST_UNITS;
        let mode = match *self {
            Self::Poisson { mean } => mean,
            Self::NegativeBinomial { mean, k } => (mean - mean / k).max(0.0),
            Self::Binomial { units, p } => ((units as f64 + 1.0) * p).min(units as f64),
        };
        let mode = (mode.floor() as u64).min(FAR);
        let rare = |count: u64| self.chance(count) < least;
        // Between a count that is not rare (or the mode) and one that is, on either side.
        let between = |mut inside: u64, mut outside: u64| {
            while inside.abs_diff(outside) > 1 {
                let middle = inside.min(outside) + inside.abs_diff(outside) / 2;
                if rare(middle) {
                    outside = middle;
                } else {
                    inside = middle;
                }
            }
            inside
        };
        let low = if rare(0) { between(mode, 0) } else { 0 };
        let mut step = 1;
        while mode + step < FAR && !rare(mode + step) {
            step *= 2;
        }
        (low, between(mode, (mode + step).min(FAR)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use numerics::maths::ln;
    use numerics::special::gamma::ln_rising;

    const LAWS: [CountLaw; 10] = [
        CountLaw::Poisson { mean: 1e-6 },
        CountLaw::Poisson { mean: 3.7 },
        CountLaw::Poisson { mean: 2e4 },
        CountLaw::NegativeBinomial {
            mean: 10.0,
            k: 0.05,
        },
        CountLaw::NegativeBinomial { mean: 0.2, k: 0.8 },
        CountLaw::NegativeBinomial {
            mean: 300.0,
            k: 40.0,
        },
        CountLaw::NegativeBinomial { mean: 7.0, k: 1e14 },
        CountLaw::Binomial { units: 1, p: 0.3 },
        CountLaw::Binomial {
            units: 60,
            p: 0.999,
        },
        CountLaw::Binomial {
            units: 100_000,
            p: 1e-3,
        },
    ];

    /// Chances sum to 1, and have the mean and variance of the law.
    #[test]
    fn moments() {
        for law in LAWS {
            let (low, high) = law.range(1e-25);
            let (mut p, mut m, mut v) = (0.0, 0.0, 0.0);
            for y in low..=high {
                let (c, gap) = (law.chance(y), y as f64 - law.mean());
                p += c;
                m += c * gap;
                v += c * gap * gap;
            }
            assert!((p - 1.0).abs() < 1e-12, "{law:?}: {p}");
            let sd = law.variance().sqrt();
            assert!(m.abs() < 1e-11 * sd.max(1.0), "{law:?}: {m}");
            assert!((v / law.variance() - 1.0).abs() < 1e-10, "{law:?}: {v}");
        }
    }

    /// Against the defining formulas, by logarithms of rising factorials.
    #[test]
    fn defining_formulas() {
        for y in [0u64, 1, 2, 5, 19, 60] {
            let f = y as f64;
            let factorial = ln_rising(1.0, f);
            let poisson = exp(f * ln(3.7) - 3.7 - factorial);
            let got = CountLaw::Poisson { mean: 3.7 }.chance(y);
            assert!((got / poisson - 1.0).abs() < 1e-12, "{y}");
            for (m, k) in [(10.0, 0.05), (0.2, 0.8), (5.0, 12.0)] {
                let want =
                    exp(ln_rising(k, f) - factorial - k * ln_1p(m / k) + f * ln(m / (k + m)));
                let got = CountLaw::NegativeBinomial { mean: m, k }.chance(y);
                assert!(
                    (got / want - 1.0).abs() < 1e-12,
                    "{y} {m} {k}: {got} {want}"
                );
            }
            let want = exp(ln_rising(61.0 - f, f) - factorial + f * ln(0.2) + (60.0 - f) * ln(0.8));
            let got = CountLaw::Binomial { units: 60, p: 0.2 }.chance(y);
            assert!((got / want - 1.0).abs() < 1e-12, "{y}: {got} {want}");
        }
    }

    /// The total of n samples has the n-fold convolution of one sample's law.
    #[test]
    fn totals_are_convolutions() {
        for law in [
            CountLaw::Poisson { mean: 0.9 },
            CountLaw::NegativeBinomial { mean: 2.0, k: 0.6 },
            CountLaw::Binomial { units: 2, p: 0.35 },
        ] {
            let one: Vec<f64> = (0..40).map(|y| law.chance(y)).collect();
            let mut sum = one.clone();
            for n in 2..6 {
                sum = (0..40)
                    .map(|t| (0..=t).map(|y| one[y] * sum[t - y]).sum())
                    .collect();
                for (t, want) in sum.iter().enumerate() {
                    let got = law.total(n).chance(t as u64);
                    assert!((got - want).abs() < 1e-13, "{law:?} {n} {t}");
                }
            }
        }
    }

    /// Large dispersion tends to Poisson, and infinite dispersion is Poisson.
    #[test]
    fn towards_poisson() {
        for mean in [1e-9, 0.3, 40.0, 1e6] {
            for y in [0, 1, 3, 40, 1_000_000] {
                let p = CountLaw::Poisson { mean }.chance(y);
                for k in [1e20, 1e300] {
                    let nb = CountLaw::NegativeBinomial { mean, k }.chance(y);
                    assert!((nb - p).abs() <= 1e-9 * p, "{mean} {y} {k}: {nb} {p}");
                }
                let k = f64::INFINITY;
                assert_eq!(CountLaw::NegativeBinomial { mean, k }.chance(y), p);
            }
        }
    }

    #[test]
    fn ends_of_the_bounds() {
        assert_eq!(CountLaw::Poisson { mean: 0.0 }.chance(0), 1.0);
        assert_eq!(CountLaw::Poisson { mean: 0.0 }.chance(2), 0.0);
        let sure = CountLaw::Binomial { units: 3, p: 1.0 };
        assert_eq!(
            (sure.chance(3), sure.chance(2), sure.chance(0)),
            (1.0, 0.0, 0.0)
        );
        let never = CountLaw::Binomial { units: 3, p: 0.0 };
        assert_eq!(
            (never.chance(3), never.chance(1), never.chance(0)),
            (0.0, 0.0, 1.0)
        );
        assert!(CountLaw::Poisson { mean: -1.0 }.chance(1).is_nan());
        assert!(
            CountLaw::NegativeBinomial { mean: 1.0, k: 0.0 }
                .chance(0)
                .is_nan()
        );
        assert_eq!(CountLaw::Binomial { units: 4, p: 0.5 }.range(1e-40), (0, 4));
        assert_eq!(CountLaw::Poisson { mean: 0.0 }.range(1e-40), (0, 0));
        assert_eq!(sure.range(1e-40), (3, 3));
    }
}
