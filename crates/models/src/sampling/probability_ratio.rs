//! Wald's sequential probability ratio test of a low against a high mean.
//!
//! Wald (1947), Sequential Analysis; for negative binomial counts Waters (1955), Forest Science 1:68-79. With
//! A = ln((1 - beta)/alpha), B = ln(beta/(1 - alpha)) and the log likelihood ratio of one sample d (y - slope), one
//! goes on while the total is between slope n + B/d and slope n + A/d.
//!
//! Wald's approximations (the total is taken to stop on a line, not beyond it): with h such that
//! E exp(h d (y - slope)) = 1 at the true mean m,
//!   L = (e^(Ah) - 1) / (e^(Ah) - e^(Bh)),   E n = (L B + (1 - L) A) / (d (m - slope)),
//! and at m = slope, where h is 0, L = A/(A - B) and E n = -A B / (d^2 variance). [`super::exact_walk`] has neither
//! approximation.

use super::stop_lines::{StopLines, at_least, at_most};
use numerics::maths::{exp, exp_m1, ln, ln_1p};
use numerics::root::bracketed;

/// What is counted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Counts {
    /// Poisson counts, means above 0.
    Poisson,
    /// Negative binomial counts, means above 0.
    NegativeBinomial {
        /// Dispersion, above 0 and finite; the same at both means.
        k: f64,
    },
    /// One unit a sample, infested or not; means are proportions between 0 and 1.
    Binomial,
}

/// The two means and the two accepted errors.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hypotheses {
    /// What is counted.
    pub counts: Counts,
    /// The low mean per sample.
    pub low: f64,
    /// The high mean per sample.
    pub high: f64,
    /// Accepted chance to decide for high at the low mean, above 0.
    pub alpha: f64,
    /// Accepted chance to decide for low at the high mean, above 0; the two together below 1.
    pub beta: f64,
}

/// Where a total stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Decision {
    /// At or below the lower line: the mean is low.
    Low,
    /// At or above the upper line: the mean is high.
    High,
    /// Between the lines: take another sample.
    GoOn,
}

/// Wald's test: two parallel lines of the total against the number of samples.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ProbabilityRatio {
    /// Slope of both lines, animals per sample; between the two means.
    pub slope: f64,
    /// Intercept of the lower line, below 0.
    pub lower: f64,
    /// Intercept of the upper line, above 0.
    pub upper: f64,
    counts: Counts,
    /// Log likelihood ratio of one more animal.
    animal: f64,
    /// ln((1 - beta)/alpha), above 0.
    a: f64,
    /// ln(beta/(1 - alpha)), below 0.
    b: f64,
}

/// Wald's approximations at a true mean.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Approximation {
    /// Chance to decide for low: the operating characteristic.
    pub low: f64,
    /// Average sample number.
    pub samples: f64,
}

impl ProbabilityRatio {
    /// The test's lines. `None` when a number is out of its bounds, the high mean is not above the low one, or the two
    /// are too near for the arithmetic.
    pub fn new(hypotheses: Hypotheses) -> Option<Self> {
        let Hypotheses {
            counts,
            low,
            high,
            alpha,
            beta,
        } = hypotheses;
        let in_order = low > 0.0 && high > low && high.is_finite();
        if !(in_order && alpha > 0.0 && beta > 0.0 && alpha + beta < 1.0) {
            return None;
        }
        let gap = high - low;
        // Ratios as ln(1 + ...), so that near means do not cancel and far ones do not overflow.
        let (animal, sample) = match counts {
            Counts::Poisson => (log_ratio(gap, low), gap),
            Counts::NegativeBinomial { k } if k > 0.0 && k.is_finite() => (
                if k < low {
                    ln_1p(k / (k + high) * (gap / low))
                } else {
                    log_ratio(gap, low) - ln_1p(gap / (k + low))
                },
                k * ln_1p(gap / (k + low)),
            ),
            Counts::Binomial if high < 1.0 => {
                let none = log_ratio(gap, 1.0 - high);
                (log_ratio(gap, low) + none, none)
            }
            _ => return None,
        };
        let a = ln_1p(-beta) - ln(alpha);
        let b = ln(beta) - ln_1p(-alpha);
        let test = Self {
            slope: sample / animal,
            lower: b / animal,
            upper: a / animal,
            counts,
            animal,
            a,
            b,
        };
        let usable = animal > 0.0 && test.slope > 0.0 && test.upper.is_finite();
        (usable && test.slope.is_finite() && test.lower.is_finite()).then_some(test)
    }

    /// The lines' verdict on the total after n samples, 1 or more.
    pub fn decide(&self, samples: u64, total: u64) -> Decision {
        let total = total as f64;
        if total <= at_most(StopLines::lower(self, samples)) {
            Decision::Low
        } else if total >= at_least(StopLines::upper(self, samples)) {
            Decision::High
        } else {
            Decision::GoOn
        }
    }

    /// Wald's operating characteristic and average sample number at a true mean per sample (0 or more; a proportion for
    /// [`Counts::Binomial`]). NaN out of bounds.
    pub fn at_mean(&self, mean: f64) -> Approximation {
        let most = if self.counts == Counts::Binomial {
            1.0
        } else {
            f64::MAX
        };
        if !(0.0..=most).contains(&mean) {
            return Approximation {
                low: f64::NAN,
                samples: f64::NAN,
            };
        }
        let h = self.h_at(mean);
        if h == 0.0 {
            return self.on_the_slope();
        }
        let low = self.low_at(h);
        // From h, not from the mean, where the two are near: then it cancels with what is above it.
        let gap = self.gap_at(h * self.animal).unwrap_or(mean - self.slope);
        Approximation {
            low,
            samples: self.log_ratio_at_end(h, low) / (self.animal * gap),
        }
    }

    /// The same at the mean that belongs to h: h = 1 is the low mean, -1 the high one, 0 the slope.
    pub fn at_h(&self, h: f64) -> Approximation {
        self.at_mean(self.mean_at(h))
    }

    /// The true mean that belongs to h, falling in h.
    pub fn mean_at(&self, h: f64) -> f64 {
        exp(ln(self.slope) + self.ln_over_slope(h * self.animal))
    }

    /// The h that belongs to a true mean: infinite at a mean of 0, minus infinite at a proportion of 1.
    pub fn h_at(&self, mean: f64) -> f64 {
        if mean == 0.0 {
            return f64::INFINITY;
        }
        if self.counts == Counts::Binomial && mean == 1.0 {
            return f64::NEG_INFINITY;
        }
        let ratio = (mean - self.slope) / self.slope;
        if ratio == 0.0 {
            return 0.0;
        }
        let wanted = if ratio.abs() < 0.5 {
            ln_1p(ratio)
        } else {
            ln(mean) - ln(self.slope)
        };
        let short = |u: f64| self.ln_over_slope(u) - wanted;
        // Falls in u; the root is on the side that the slope tells, and looked for from h = 1 or -1 outwards or
        // inwards.
        let side = if mean < self.slope { 1.0 } else { -1.0 };
        let mut far = side * self.animal;
        let mut near = 0.5 * far;
        while short(far) * side > 0.0 {
            near = far;
            far *= 2.0;
            if f64::is_infinite(far) {
                return far;
            }
        }
        while short(near) * side < 0.0 && near != 0.0 {
            far = near;
            near *= 0.5;
        }
        bracketed(short, near, far, 1e-15) / self.animal
    }

    /// ln of the true mean over the slope s at u = h d, from E exp(u y) = exp(u s):
    /// Poisson m = s u / (e^u - 1); negative binomial m = k (1 - e^(-s u/k)) / (e^u - 1); binomial
    /// p = (e^(s u) - 1) / (e^u - 1).
    fn ln_over_slope(&self, u: f64) -> f64 {
        let s = self.slope;
        if let Some(gap) = self.gap_at(u) {
            return ln_1p(gap / s);
        }
        let top = match self.counts {
            Counts::Poisson => ln(u.abs()),
            Counts::NegativeBinomial { k } => ln_exp_m1(-s * u / k) + ln(k) - ln(s),
            Counts::Binomial => ln_exp_m1(s * u) - ln(s),
        };
        top - ln_exp_m1(u)
    }

    /// The true mean less the slope at a small u, without cancellation: with f(x) = e^(-x) - 1 + x,
    /// (e^u - 1)(m - s) is -s f(-u) for Poisson, -s f(-u) - k f(s u/k) for negative binomial and f(-s u) - s f(-u) for
    /// binomial counts. `None` where u is not small.
    fn gap_at(&self, u: f64) -> Option<f64> {
        let s = self.slope;
        let other = match self.counts {
            Counts::Poisson => 0.0,
            Counts::NegativeBinomial { k } => s * u / k,
            Counts::Binomial => -s * u,
        };
        if u == 0.0 {
            return Some(0.0);
        }
        if u.abs() >= 0.5 || other.abs() >= 0.5 {
            return None;
        }
        let over = match self.counts {
            Counts::Poisson => 0.0,
            Counts::NegativeBinomial { k } => -k * beyond_the_line(other),
            Counts::Binomial => beyond_the_line(other),
        };
        Some((over - s * beyond_the_line(-u)) / exp_m1(u))
    }

    fn low_at(&self, h: f64) -> f64 {
        let (a, c) = (self.a, self.a - self.b);
        if h == 0.0 {
            a / c
        } else if h > 0.0 {
            exp_m1(-a * h) / exp_m1(-c * h)
        } else {
            // e^(Ch) instead of e^(-Ch): both parts divided by what would overflow.
            exp(-self.b * h) * (exp_m1(a * h) / exp_m1(c * h))
        }
    }

    /// L B + (1 - L) A: the mean log likelihood ratio at the end. Where h is small both parts cancel, and with
    /// f(x) = e^(-x) - 1 + x it is (A f(Ch) - C f(Ah)) / (e^(-Ch) - 1), C = A - B.
    fn log_ratio_at_end(&self, h: f64, low: f64) -> f64 {
        let (a, c) = (self.a, self.a - self.b);
        if (c * h).abs() > 0.5 {
            return self.b * low + a * (1.0 - low);
        }
        (a * beyond_the_line(c * h) - c * beyond_the_line(a * h)) / exp_m1(-c * h)
    }

    fn on_the_slope(&self) -> Approximation {
        let s = self.slope;
        let variance = match self.counts {
            Counts::Poisson => s,
            Counts::NegativeBinomial { k } => s + s * (s / k),
            Counts::Binomial => s * (1.0 - s),
        };
        Approximation {
            low: self.low_at(0.0),
            samples: -(self.upper * self.lower) / variance,
        }
    }
}

impl StopLines for ProbabilityRatio {
    fn lower(&self, samples: u64) -> f64 {
        self.slope * samples as f64 + self.lower
    }

    fn upper(&self, samples: u64) -> f64 {
        self.slope * samples as f64 + self.upper
    }
}

/// ln((base + gap)/base).
fn log_ratio(gap: f64, base: f64) -> f64 {
    let ratio = gap / base;
    if ratio.is_finite() {
        ln_1p(ratio)
    } else {
        ln(gap) - ln(base)
    }
}

/// e^-x - 1 + x for |x| up to 1/2, by its series.
fn beyond_the_line(x: f64) -> f64 {
    let mut term = 0.5 * x * x;
    let mut sum = term;
    for j in 3..16 {
        term *= -x / f64::from(j);
        sum += term;
    }
    sum
}

/// ln |e^x - 1|, for x of any size but 0.
fn ln_exp_m1(x: f64) -> f64 {
    if x > 1.0 {
        x + ln_1p(-exp(-x))
    } else if x < -1.0 {
        ln_1p(-exp(x))
    } else {
        ln(exp_m1(x).abs())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn test(counts: Counts, low: f64, high: f64, alpha: f64, beta: f64) -> ProbabilityRatio {
        ProbabilityRatio::new(Hypotheses {
            counts,
            low,
            high,
            alpha,
            beta,
        })
        .unwrap()
    }

    fn nb(k: f64) -> Counts {
        Counts::NegativeBinomial { k }
    }

    fn close(got: f64, want: f64, tolerance: f64) {
        assert!((got / want - 1.0).abs() < tolerance, "{got} {want}");
    }

    /// Waters (1955), from the formulas by scipy 1.17: m0, m1, k, errors; slope, intercept.
    #[test]
    fn negative_binomial_lines() {
        for (low, high, k, error, slope, intercept) in [
            (10.0, 20.0, 0.8, 0.1, 13.892_976, 58.219_541),
            (1.0, 2.0, 1.5, 0.1, 1.415_037, 6.160_300),
            (5.0, 10.0, 1.5, 0.05, 6.980_433, 24.016_176),
            (2.0, 4.0, 2.0, 0.1, 2.818_842, 7.637_683),
        ] {
            let t = test(nb(k), low, high, error, error);
            close(t.slope, slope, 1e-6);
            close(t.upper, intercept, 1e-6);
            close(t.lower, -intercept, 1e-6);
        }
    }

    /// Wald (1947), from the formulas by scipy 1.17; for the binomial the NIST/SEMATECH e-Handbook of Statistical
    /// Methods, 6.2.6, prints -.939 + .0397 n and 1.205 + .0397 n.
    #[test]
    fn poisson_and_binomial_lines() {
        for (t, slope, lower, upper) in [
            (
                test(Counts::Binomial, 0.01, 0.10, 0.05, 0.10),
                0.039_747_432_2,
                -0.938_861_602_6,
                1.205_378_646_3,
            ),
            (
                test(Counts::Poisson, 1.0, 2.0, 0.1, 0.1),
                std::f64::consts::LOG2_E,
                -3.169_925_001_4,
                3.169_925_001_4,
            ),
            (
                test(Counts::Poisson, 2.0, 5.0, 0.05, 0.1),
                3.274_070_003_8,
                -2.456_962_315_9,
                3.154_426_490_8,
            ),
        ] {
            close(t.slope, slope, 1e-9);
            close(t.lower, lower, 1e-9);
            close(t.upper, upper, 1e-9);
        }
        let t = test(Counts::Binomial, 0.01, 0.10, 0.05, 0.10);
        assert_eq!(
            format!("{:.3} {:.4} {:.3}", t.lower, t.slope, t.upper),
            "-0.939 0.0397 1.205"
        );
    }

    /// The first row above: mean, L and average sample number by scipy 1.17, at h = 1.5, 1, .5, -.5, -1.
    #[test]
    fn approximations_of_the_first_row() {
        let t = test(nb(0.8), 10.0, 20.0, 0.1, 0.1);
        for (h, mean, low, samples) in [
            (1.5, 8.596_379, 0.964_285_7, 10.206_743),
            (1.0, 10.0, 0.9, 11.964_017),
            (0.5, 11.734_724, 0.75, 13.487_662),
            (-0.5, 16.595_406, 0.25, 10.771_702),
            (-1.0, 20.0, 0.1, 7.626_568),
        ] {
            close(t.mean_at(h), mean, 1e-6);
            for got in [t.at_h(h), t.at_mean(t.mean_at(h))] {
                close(got.low, low, 1e-6);
                close(got.samples, samples, 1e-6);
            }
            close(t.h_at(t.mean_at(h)), h, 1e-12);
        }
    }

    const ALL: [(Counts, f64, f64); 11] = [
        (Counts::Poisson, 1.0, 1.0 + 1e-6),
        (Counts::NegativeBinomial { k: 2.0 }, 5.0, 5.0 + 1e-6),
        (Counts::Poisson, 1.0, 2.0),
        (Counts::Poisson, 1e-200, 1e-199),
        (Counts::Poisson, 1e12, 1.1e12),
        (Counts::NegativeBinomial { k: 0.8 }, 10.0, 20.0),
        (Counts::NegativeBinomial { k: 0.8 }, 1e-100, 1e-50),
        (Counts::NegativeBinomial { k: 0.01 }, 1e100, 1e101),
        (Counts::NegativeBinomial { k: 1e9 }, 3.0, 5.0),
        (Counts::Binomial, 0.01, 0.1),
        (Counts::Binomial, 1e-9, 1e-8),
    ];

    /// At the two means the chances are the accepted errors, whatever the size of the means.
    #[test]
    fn accepted_errors_at_the_two_means() {
        for (counts, low, high) in ALL {
            let t = test(counts, low, high, 0.02, 0.2);
            assert!(t.slope > low && t.slope < high, "{counts:?} {t:?}");
            close(t.h_at(low), 1.0, 1e-7);
            close(t.h_at(high), -1.0, 1e-7);
            close(t.at_mean(low).low, 0.98, 1e-7);
            close(t.at_mean(high).low, 0.2, 1e-6);
            assert!(t.at_mean(low).samples > 0.0 && t.at_mean(high).samples > 0.0);
        }
    }

    /// L falls with the mean from 1 to 0, and h solves its equation; at a mean of 0 every sample adds -d slope.
    #[test]
    fn over_all_means() {
        for (counts, low, high) in ALL {
            let t = test(counts, low, high, 0.05, 0.1);
            let mut last = 1.0 + 1e-12;
            for j in -60..=60 {
                let h = 0.25 * f64::from(j);
                let mean = t.mean_at(h);
                if j != 0 && (1e-300..1e300).contains(&mean) && mean < 0.999_999 * most(counts) {
                    close(t.h_at(mean), h, 1e-5);
                }
                let l = t.at_mean(t.mean_at(-h)).low;
                assert!(l <= last && l >= 0.0, "{counts:?} {h}: {l} {last}");
                last = l;
            }
            let none = t.at_mean(0.0);
            close(none.low, 1.0, 1e-15);
            close(none.samples, -t.lower / t.slope, 1e-12);
        }
        let t = test(Counts::Binomial, 0.01, 0.1, 0.05, 0.1);
        let all = t.at_mean(1.0);
        assert_eq!(all.low, 0.0);
        close(all.samples, t.upper / (1.0 - t.slope), 1e-12);
        let many = test(Counts::Poisson, 1.0, 2.0, 0.05, 0.1).at_mean(1e300);
        assert!(many.low == 0.0 && many.samples > 0.0 && many.samples < 1e-290);
    }

    fn most(counts: Counts) -> f64 {
        if counts == Counts::Binomial {
            1.0
        } else {
            f64::MAX
        }
    }

    /// The limit h -> 0 joins its neighbours on both sides, and the small forms join the others.
    #[test]
    fn about_the_slope() {
        for (counts, low, high) in ALL {
            let t = test(counts, low, high, 0.05, 0.1);
            let at = t.at_mean(t.slope);
            close(at.low, t.a / (t.a - t.b), 1e-14);
            for h in [1e-3, 1e-5, -1e-5, -1e-3] {
                // L = A/(A - B) (1 - B h/2 + ...); the sample number has a like slope.
                let near = t.at_h(h);
                close(
                    near.low,
                    at.low * (1.0 - 0.5 * t.b * h),
                    20.0 * h * h + 1e-9,
                );
                close(near.samples, at.samples, 10.0 * h.abs() * (1.0 + t.animal));
            }
            for edge in [0.5, -0.5] {
                for h in [edge / (t.a - t.b), edge / t.animal] {
                    let (below, above) = (t.at_h(h * 0.999_999), t.at_h(h * 1.000_001));
                    if above.low > 1e-9 && (1e-100..1e100).contains(&above.samples) {
                        close(below.low, above.low, 1e-4);
                        close(below.samples, above.samples, 1e-4);
                    }
                }
                let h = edge / (t.a - t.b);
                let low = |h| t.log_ratio_at_end(h, t.low_at(h));
                close(low(h * 0.999_999_9), low(h * 1.000_000_1), 1e-5);
            }
        }
    }

    /// The NIST example's plan: accept without any of 24 units, reject with 2 infested among the first 10.
    #[test]
    fn decisions() {
        let t = test(Counts::Binomial, 0.01, 0.10, 0.05, 0.10);
        assert_eq!(t.decide(23, 0), Decision::GoOn);
        assert_eq!(t.decide(24, 0), Decision::Low);
        assert_eq!(t.decide(2, 2), Decision::High);
        assert_eq!(t.decide(10, 1), Decision::GoOn);
        assert_eq!(t.decide(10, 2), Decision::High);
    }

    #[test]
    fn out_of_bounds() {
        let good = Hypotheses {
            counts: Counts::Poisson,
            low: 1.0,
            high: 2.0,
            alpha: 0.1,
            beta: 0.1,
        };
        assert!(ProbabilityRatio::new(good).is_some());
        for bad in [
            Hypotheses { low: 0.0, ..good },
            Hypotheses { low: 2.0, ..good },
            Hypotheses {
                high: f64::NAN,
                ..good
            },
            Hypotheses {
                high: f64::INFINITY,
                ..good
            },
            Hypotheses { alpha: 0.0, ..good },
            Hypotheses { beta: 0.95, ..good },
            Hypotheses {
                counts: Counts::Binomial,
                low: 0.5,
                high: 1.0,
                ..good
            },
            Hypotheses {
                counts: nb(0.0),
                ..good
            },
            Hypotheses {
                counts: nb(f64::NAN),
                ..good
            },
        ] {
            assert!(ProbabilityRatio::new(bad).is_none(), "{bad:?}");
        }
        let t = ProbabilityRatio::new(good).unwrap();
        assert!(t.at_mean(-1.0).low.is_nan() && t.at_mean(f64::NAN).samples.is_nan());
    }
}
