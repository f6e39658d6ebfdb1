//! Standard errors from the full observed information: central differences of the exact gradient.

use super::family::Family;
use super::fit::{Fitter, Sds};
use numerics::linalg::cholesky;

/// Half width of a central difference in any outer parameter (log or link scale).
const STEP: f64 = 1e-4;

/// Standard errors at an optimum.
pub(super) struct Errors {
    /// Fixed effects at the mode (restricted likelihood only; empty otherwise).
    pub beta: Vec<f64>,
    pub covariance: Vec<f64>,
    pub sd: Sds,
    pub ln_k: f64,
}

impl Fitter {
    /// Hessian of minus the log likelihood at `theta`; `None` where it is undefined.
    pub(super) fn hessian(&mut self, theta: &[f64]) -> Option<Vec<f64>> {
        let n = theta.len();
        let free: Vec<usize> = (0..n).collect();
        self.differences(theta, &free).map(|d| d.hessian)
    }

    fn differences(&mut self, theta: &[f64], free: &[usize]) -> Option<Differences> {
        let n = theta.len();
        let m = free.len();
        let mut g = vec![0.0; n];
        if !self.evaluate(theta, &mut g).is_finite() {
            return None;
        }
        let mode = self.state.z.clone();
        let years = self.state.years;
        let width = self.state.q - years;
        let beta = mode.dense[years..].to_vec();
        let mut hessian = vec![0.0; m * m];
        let mut shift = vec![0.0; m * width];
        let mut low = vec![0.0; n];
        let mut moved = theta.to_vec();
        let mut ok = true;
        for (a, &j) in free.iter().enumerate() {
            moved[j] = theta[j] + STEP;
            self.state.z.copy_from(&mode);
            ok &= self.evaluate(&moved, &mut g).is_finite();
            let up = self.state.z.dense[years..].to_vec();
            moved[j] = theta[j] - STEP;
            self.state.z.copy_from(&mode);
            ok &= self.evaluate(&moved, &mut low).is_finite();
            moved[j] = theta[j];
            for (b, &l) in free.iter().enumerate() {
                hessian[a * m + b] = (g[l] - low[l]) / (2.0 * STEP);
            }
            for (l, (u, d)) in up.iter().zip(&self.state.z.dense[years..]).enumerate() {
                shift[a * width + l] = (u - d) / (2.0 * STEP);
            }
        }
        self.state.z.copy_from(&mode);
        for a in 0..m {
            for b in 0..a {
                let mean = 0.5 * (hessian[a * m + b] + hessian[b * m + a]);
                hessian[a * m + b] = mean;
                hessian[b * m + a] = mean;
            }
        }
        ok.then_some(Differences {
            hessian,
            shift,
            beta,
        })
    }

    /// Standard errors at the optimum `theta`. A standard deviation of exactly 0 is left out: the likelihood is
    /// even in it, so that it does not mix with the others.
    pub(super) fn standard_errors(&mut self, theta: &[f64]) -> Errors {
        let n = theta.len();
        let p = self.layout.columns;
        let outer_beta = self.outer_beta();
        let nb = self.model.family == Family::NegativeBinomial;
        let sds = outer_beta..n - usize::from(nb);
        let (low, high) = super::fit::K_RANGE;
        let k_ends = nb && !(1.01 * low..0.99 * high).contains(&numerics::maths::exp(theta[n - 1]));
        let free: Vec<usize> = (0..n)
            .filter(|&j| {
                let zero = sds.contains(&j) && theta[j] == 0.0;
                let end = k_ends && j == n - 1;
                !zero && !end
            })
            .collect();
        let m = free.len();
        let nan = Errors {
            beta: vec![f64::NAN; p],
            covariance: vec![f64::NAN; p * p],
            sd: Sds {
                site: f64::NAN,
                year: f64::NAN,
                site_year: f64::NAN,
            },
            ln_k: f64::NAN,
        };
        let Some(d) = self.differences(theta, &free) else {
            return nan;
        };
        let mut l = d.hessian;
        let mut v = vec![0.0; m * m];
        let definite = cholesky::factor(&mut l, m);
        if definite {
            cholesky::inverse(&l, m, &mut v);
        } else if !self.state.inner_fixed {
            return nan;
        } else {
            // The mode's own covariance still stands; what the variances add to it is unknown.
            return Errors {
                beta: d.beta,
                ..nan
            };
        }
        let place = |j: usize| free.iter().position(|&f| f == j);
        let se = |j: usize| place(j).map_or(f64::NAN, |a| v[a * m + a].sqrt());
        let mut covariance = vec![0.0; p * p];
        if self.state.inner_fixed {
            // Current state is at the last difference; the covariance wants the mode's own inverse.
            let mut g = vec![0.0; n];
            self.evaluate(theta, &mut g);
            let (q, years) = (self.state.q, self.state.years);
            for i in 0..p {
                for j in 0..p {
                    let mut sum = self.state.inverse[(years + i) * q + years + j];
                    for a in 0..m {
                        for b in 0..m {
                            sum += d.shift[a * p + i] * v[a * m + b] * d.shift[b * p + j];
                        }
                    }
                    covariance[i * p + j] = sum;
                }
            }
        } else {
            for i in 0..p {
                for j in 0..p {
                    covariance[i * p + j] = v[i * m + j];
                }
            }
        }
        let t = self.model.terms;
        let mut next = outer_beta;
        let mut take = |on: bool| {
            if on {
                next += 1;
                se(next - 1)
            } else {
                f64::NAN
            }
        };
        let sd = Sds {
            site: take(t.site),
            year: take(t.year),
            site_year: take(t.site_year),
        };
        Errors {
            beta: d.beta,
            covariance,
            sd,
            ln_k: if nb { se(n - 1) } else { f64::NAN },
        }
    }
}

struct Differences {
    hessian: Vec<f64>,
    /// Change of the fixed effects at the mode for each free parameter (restricted likelihood).
    shift: Vec<f64>,
    beta: Vec<f64>,
}
