//! The law of a count given its linear predictor, with the derivatives Laplace's approximation needs.

use numerics::maths::{exp, ln, ln_1p, ln_gamma, slices};

/// Law of a count.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Family {
    /// Poisson, log link.
    Poisson,
    /// Negative binomial with variance mu + mu^2/k (NB2), log link; k is estimated on the log scale.
    NegativeBinomial,
    /// Binomial with known numbers of trials, logit link.
    Binomial,
}

/// Derivatives in eta of one row: d1 first, w minus the second; and what others are made with, 1/(k + mean) (NB2).
#[derive(Clone, Copy, Default)]
pub(super) struct Slopes {
    pub d1: f64,
    pub w: f64,
    pub inv: f64,
}

/// Derivatives in log k of one row: of log f (without its digamma and logarithm, which are summed over all rows
/// at once), of d1 and of w.
#[derive(Clone, Copy, Default)]
pub(super) struct InLogK {
    pub rest: f64,
    pub d1: f64,
    pub w: f64,
}

/// The largest linear predictor that is taken: exp(300) and its square are still finite.
pub(super) const HIGHEST: f64 = 300.0;

/// A count's law with its parameter at hand.
#[derive(Clone, Copy)]
pub(super) struct Law {
    pub family: Family,
    pub k: f64,
}

impl Law {
    /// The means (for binomial: the probabilities) at `eta`.
    pub fn means(self, eta: &[f64], mean: &mut [f64]) {
        if self.family == Family::Binomial {
            for (m, e) in mean.iter_mut().zip(eta) {
                *m = -e.clamp(-HIGHEST, HIGHEST);
            }
            slices::exp(mean);
            mean.iter_mut().for_each(|m| *m = 1.0 / (1.0 + *m));
        } else {
            for (m, e) in mean.iter_mut().zip(eta) {
                *m = if *e > HIGHEST { HIGHEST } else { *e };
            }
            slices::exp(mean);
        }
    }

    /// Derivatives in eta at mean `m` for count `y` out of `trials`.
    #[inline(always)]
    pub fn slopes(self, y: f64, trials: f64, m: f64) -> Slopes {
        match self.family {
            Family::Poisson => Slopes {
                d1: y - m,
                w: m,
                inv: 0.0,
            },
            Family::NegativeBinomial => {
                let k = self.k;
                let inv = 1.0 / (k + m);
                let kinv = k * inv;
                let d1 = (y - m) * kinv;
                let w = (y + k) * kinv * (m * inv);
                Slopes { d1, w, inv }
            }
            Family::Binomial => {
                let w = trials * m * (1.0 - m);
                Slopes {
                    d1: y - trials * m,
                    w,
                    inv: 0.0,
                }
            }
        }
    }

    /// Derivative of w in eta.
    #[inline(always)]
    pub fn w1(self, m: f64, w: f64, inv: f64) -> f64 {
        match self.family {
            Family::Poisson => w,
            Family::NegativeBinomial => w * (self.k - m) * inv,
            Family::Binomial => w * (1.0 - 2.0 * m),
        }
    }

    /// Derivatives in log k.
    #[inline(always)]
    pub fn in_log_k(self, y: f64, m: f64, inv: f64) -> InLogK {
        let k = self.k;
        // dlogf/dk = digamma(y+k) - digamma(k) - ln(1 + m/k) + (m-y)/(k+m); only the last part is made here
        let rest = (m - y) * inv;
        let d1 = (y - m) * m * inv * inv;
        let w = m * (y * m + 2.0 * k * m - y * k) * inv * inv * inv;
        InLogK {
            rest: rest * k,
            d1: d1 * k,
            w: w * k,
        }
    }

    /// Log probability of the part that depends on eta.
    #[inline(always)]
    pub fn kernel(self, y: f64, trials: f64, eta: f64, m: f64) -> f64 {
        match self.family {
            Family::Poisson => y * eta - m,
            // k ln k - (y+k) ln(k+m) + y eta, less y ln k which log_constant adds back
            Family::NegativeBinomial => y * (eta - ln(self.k)) - (y + self.k) * ln_1p(m / self.k),
            Family::Binomial => {
                let eta = eta.clamp(-HIGHEST, HIGHEST);
                let softplus = if eta > 0.0 {
                    eta + ln_1p(exp(-eta))
                } else {
                    ln_1p(exp(eta))
                };
                y * eta - trials * softplus
            }
        }
    }

    /// Log probability of the part that depends on the count alone (for NB2 without the rising factorial of k).
    pub fn constant(self, y: f64, trials: f64) -> f64 {
        match self.family {
            Family::Poisson | Family::NegativeBinomial => -ln_gamma(y + 1.0),
            Family::Binomial => {
                ln_gamma(trials + 1.0) - ln_gamma(y + 1.0) - ln_gamma(trials - y + 1.0)
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use numerics::special::gamma::{digamma_rising, ln_rising};

    fn mean(law: Law, eta: f64) -> f64 {
        let mut m = [0.0];
        law.means(&[eta], &mut m);
        m[0]
    }

    fn log_f(law: Law, y: f64, n: f64, eta: f64) -> f64 {
        let rising = if law.family == Family::NegativeBinomial {
            ln_rising(law.k, y)
        } else {
            0.0
        };
        law.kernel(y, n, eta, mean(law, eta)) + law.constant(y, n) + rising
    }

    #[test]
    fn derivatives_match_differences() {
        for family in [Family::Poisson, Family::NegativeBinomial, Family::Binomial] {
            for (y, eta, k) in [(0.0, -1.0, 0.7), (3.0, 0.5, 2.0), (4.0, 2.0, 9.0)] {
                let (n, h) = (5.0, 1e-4);
                let law = Law { family, k };
                let at = |e: f64| law.slopes(y, n, mean(law, e));
                let s = at(eta);
                let d1 = (log_f(law, y, n, eta + h) - log_f(law, y, n, eta - h)) / (2.0 * h);
                assert!((s.d1 - d1).abs() < 1e-6, "{family:?} d1");
                assert!(
                    (s.w + (at(eta + h).d1 - at(eta - h).d1) / (2.0 * h)).abs() < 1e-6,
                    "{family:?} w"
                );
                assert!(
                    (law.w1(mean(law, eta), s.w, s.inv)
                        - (at(eta + h).w - at(eta - h).w) / (2.0 * h))
                        .abs()
                        < 1e-6,
                    "{family:?} w1"
                );
                if family == Family::NegativeBinomial {
                    let other = |d: f64| Law {
                        family,
                        k: k * exp(d),
                    };
                    let m = mean(law, eta);
                    let g = law.in_log_k(y, m, s.inv);
                    let ll = (log_f(other(h), y, n, eta) - log_f(other(-h), y, n, eta)) / (2.0 * h);
                    let whole = k * (digamma_rising(k, y) - ln_1p(m / k)) + g.rest;
                    assert!((whole - ll).abs() < 1e-6, "{whole} {ll}");
                    let (p, q) = (other(h).slopes(y, n, m), other(-h).slopes(y, n, m));
                    assert!((g.d1 - (p.d1 - q.d1) / (2.0 * h)).abs() < 1e-6);
                    assert!((g.w - (p.w - q.w) / (2.0 * h)).abs() < 1e-6);
                }
            }
        }
    }

    /// Each law is a probability: it sums to 1 over its counts.
    #[test]
    fn probabilities_sum_to_one() {
        for law in [
            Law {
                family: Family::Poisson,
                k: 1.0,
            },
            Law {
                family: Family::NegativeBinomial,
                k: 1.3,
            },
            Law {
                family: Family::NegativeBinomial,
                k: 1e5,
            },
        ] {
            let total: f64 = (0..400)
                .map(|y| exp(log_f(law, f64::from(y), 0.0, 1.6)))
                .sum();
            assert!((total - 1.0).abs() < 1e-9, "{total}");
        }
        let law = Law {
            family: Family::Binomial,
            k: 1.0,
        };
        let total: f64 = (0..=5)
            .map(|y| exp(log_f(law, f64::from(y), 5.0, -0.4)))
            .sum();
        assert!((total - 1.0).abs() < 1e-12);
    }
}
