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
mod tests;
