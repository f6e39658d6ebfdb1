//! Standard errors from the full observed information: differences of the exact gradient.
//!
//! The mode at the moved parameters is not searched for: it is known to second order from its tangent, which makes
//! an error of the order of the step in the difference, as the one-sided difference itself does.

use super::family::Family;
use super::fit::Fitter;
use super::outcome::Sds;
use super::satterthwaite::Conditional;
use numerics::linalg::cholesky;

/// Step of a difference in any outer parameter (log or link scale): an error of about 1e-5 of the result.
const STEP: f64 = 1e-6;
/// A row's weight above which the tangent is no longer enough: its error grows with the weights, so the mode is then
/// searched for, with a longer step.
const HEAVY: f64 = 50.0;
const HEAVY_STEP: f64 = 1e-5;

/// Standard errors at an optimum.
pub(super) struct Errors {
    /// Fixed effects at the mode (restricted likelihood only; empty otherwise).
    pub beta: Vec<f64>,
    pub covariance: Vec<f64>,
    pub sd: Sds,
    pub ln_k: f64,
    /// For degrees of freedom (restricted likelihood with a definite information only).
    pub conditional: Option<Conditional>,
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
        let mut here = vec![0.0; n];
        if !self.evaluate(theta, &mut here).is_finite() {
            return None;
        }
        let law = self.law();
        let heavy = self.state.w.iter().any(|&w| w > HEAVY);
        let size = if heavy { HEAVY_STEP } else { STEP };
        let years = self.state.years;
        let width = self.state.q - years;
        let mode = self.state.z.clone();
        let own = self.own_covariance();
        let mut unit = vec![0.0; n];
        let mut tangents = vec![mode.clone(); m];
        for (tangent, &j) in tangents.iter_mut().zip(free) {
            unit[j] = 1.0;
            let by = self.named(&unit);
            self.state.tangent(&self.layout, law, &by, tangent);
            unit[j] = 0.0;
        }
        self.at = None;
        let mut hessian = vec![0.0; m * m];
        let mut shift = vec![0.0; m * width];
        let mut slopes = Vec::with_capacity(m * own.len());
        let mut there = vec![0.0; n];
        let mut moved = theta.to_vec();
        let mut ok = true;
        for (a, (tangent, &j)) in tangents.iter().zip(free).enumerate() {
            moved[j] = theta[j] + size;
            let step = moved[j] - theta[j];
            self.state.z.copy_from(&mode);
            self.state.z.add(step, tangent);
            ok &= self.gradient_here(&moved, heavy, &mut there);
            moved[j] = theta[j];
            let near = self.own_covariance();
            slopes.extend(near.iter().zip(&own).map(|(n, o)| (n - o) / step));
            for (b, &l) in free.iter().enumerate() {
                hessian[a * m + b] = (there[l] - here[l]) / step;
            }
            shift[a * width..(a + 1) * width].copy_from_slice(&tangent.dense[years..]);
        }
        self.unpack(theta);
        self.state.z.copy_from(&mode);
        for a in 0..m {
            for b in 0..a {
                let mean = 0.5 * (hessian[a * m + b] + hessian[b * m + a]);
                hessian[a * m + b] = mean;
                hessian[b * m + a] = mean;
            }
        }
        let finite = hessian.iter().all(|h| h.is_finite());
        (ok && finite).then(|| Differences {
            hessian,
            shift,
            beta: mode.dense[years..].to_vec(),
            own,
            slopes,
        })
    }

    /// The gradient at `theta`, taking the state's z for the mode there, or for its start if `search`. False where H
    /// cannot be factored.
    fn gradient_here(&mut self, theta: &[f64], search: bool, gradient: &mut [f64]) -> bool {
        self.evaluations += 1;
        self.unpack(theta);
        let law = self.law();
        if search {
            if !self.state.find_mode(&self.layout, law) {
                return false;
            }
        } else {
            self.state.predict(&self.layout, false);
            self.state.derive(&self.layout, law);
            if !self.state.factor(&self.layout) {
                return false;
            }
        }
        if law.family == Family::NegativeBinomial {
            self.state.log_sums(law);
        }
        self.state.gradient(&self.layout, law, &mut self.gradient);
        self.put_gradient(gradient);
        true
    }

    /// Covariance of the fixed effects given the variances (restricted likelihood; empty otherwise).
    fn own_covariance(&self) -> Vec<f64> {
        let (q, years) = (self.state.q, self.state.years);
        let rows = self.state.inverse.chunks_exact(q.max(1)).skip(years);
        rows.flat_map(|row| row[years..].iter().copied()).collect()
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
            conditional: None,
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
            for i in 0..p {
                for j in 0..p {
                    let mut sum = d.own[i * p + j];
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
        let ln_k = if nb { se(n - 1) } else { f64::NAN };
        let conditional = self.state.inner_fixed.then(|| Conditional {
            own: d.own,
            slopes: d.slopes,
            free: v.clone(),
        });
        Errors {
            beta: d.beta,
            covariance,
            sd,
            ln_k,
            conditional,
        }
    }
}

struct Differences {
    hessian: Vec<f64>,
    /// Change of the fixed effects at the mode for each free parameter (restricted likelihood).
    shift: Vec<f64>,
    beta: Vec<f64>,
    /// Their covariance given the variances (restricted likelihood).
    own: Vec<f64>,
    /// Change of that covariance for each free parameter.
    slopes: Vec<f64>,
}
