//! Standard errors from the full observed information: differences of the exact gradient.
//!
//! The mode at the moved parameters is not searched for: it is known to second order from its tangent, which makes
//! an error of the order of the step in the difference, as the one-sided difference itself does.

use super::evaluate::{evaluate, gradient_here, last_step};
use super::mode::LAST_STEP;
use super::satterthwaite::Conditional;
use super::search::{Search, Shape};
use numerics::linalg::cholesky;

/// Step of a difference in any outer parameter (log or link scale): an error of about 1e-5 of the result.
const STEP: f64 = 1e-6;
/// A row's weight above which the tangent is no longer enough: its error grows with the weights, so the mode is then
/// searched for, with a longer step.
const HEAVY: f64 = 50.0;
const HEAVY_STEP: f64 = 1e-5;

/// A standard deviation about which the counts hold less than this share of what they would were its term alone is not
/// seen in them (a year's effect beside a trend through two years): it stays where its search began.
const FLAT: f64 = 1e-4;
/// A variance parameter of whose information less than this share is left once the others are unknown too cannot be told
/// from them (a site's and a site-year's effect in a single year). Differences know no smaller share.
const TIED: f64 = 1e-4;

/// Standard errors at an optimum.
pub(super) struct Errors {
    /// Why there are none, if so.
    pub why: Option<&'static str>,
    /// Newton's step from where the search ended to the optimum, 0 where there is none.
    pub step: Vec<f64>,
    /// How much log likelihood that step promises.
    pub promise: f64,
    /// Fixed effects at the mode after that step (restricted likelihood only; empty otherwise).
    pub beta: Vec<f64>,
    pub covariance: Vec<f64>,
    /// Standard deviations; NaN at 0.
    pub sd: Vec<f64>,
    pub ln_k: f64,
    /// For degrees of freedom (restricted likelihood with a definite information only).
    pub conditional: Option<Conditional>,
}

/// Hessian of minus the log likelihood at `theta`; `None` where it is undefined.
pub(super) fn hessian<S: Search>(search: &mut S, theta: &[f64]) -> Option<Vec<f64>> {
    let free: Vec<usize> = (0..theta.len()).collect();
    differences(search, theta, &free).map(|d| d.hessian)
}

fn differences<S: Search>(search: &mut S, theta: &[f64], free: &[usize]) -> Option<Differences> {
    let n = theta.len();
    let m = free.len();
    let mut here = vec![0.0; n];
    if !evaluate(search, theta, &mut here).is_finite() {
        return None;
    }
    let heavy = search.heaviest() > HEAVY;
    let size = if heavy { HEAVY_STEP } else { STEP };
    // The mode there is only about known where the search stops early.
    let about = heavy && last_step(search) > LAST_STEP;
    if about && !gradient_here(search, theta, true, &mut here) {
        return None;
    }
    let mode = search.mode();
    let own = search.own_covariance();
    let mut unit = vec![0.0; n];
    let mut tangents = vec![mode.clone(); m];
    for (tangent, &j) in tangents.iter_mut().zip(free) {
        unit[j] = 1.0;
        search.mode_along(&unit, tangent);
        unit[j] = 0.0;
    }
    let mut hessian = vec![0.0; m * m];
    let mut shift = Vec::with_capacity(m * search.shape().columns);
    let mut slopes = Vec::with_capacity(m * own.len());
    let mut there = vec![0.0; n];
    let mut moved = theta.to_vec();
    let mut ok = true;
    for (a, (tangent, &j)) in tangents.iter().zip(free).enumerate() {
        moved[j] = theta[j] + size;
        let step = moved[j] - theta[j];
        search.put_mode(&mode, step, tangent);
        ok &= gradient_here(search, &moved, heavy, &mut there);
        moved[j] = theta[j];
        let near = search.own_covariance();
        slopes.extend(near.iter().zip(&own).map(|(n, o)| (n - o) / step));
        for (b, &l) in free.iter().enumerate() {
            hessian[a * m + b] = (there[l] - here[l]) / step;
        }
        shift.extend_from_slice(search.fixed(tangent));
    }
    search.put_mode(&mode, 0.0, &mode);
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
        beta: search.fixed(&mode).to_vec(),
        own,
        slopes,
    })
}

/// Standard errors at the optimum `theta`. A standard deviation of exactly 0 is left out: the likelihood is even in
/// it, so that it does not mix with the others; and log k is left out at an end of its range.
pub(super) fn standard_errors<S: Search>(search: &mut S, theta: &[f64]) -> Errors {
    let n = theta.len();
    let shape = search.shape();
    let p = shape.columns;
    let k_ends = shape.at_bound(theta);
    let free: Vec<usize> = (0..n)
        .filter(|&j| {
            let level = shape.sds().contains(&j) && theta[j] == 0.0;
            !(level || k_ends && j == n - 1)
        })
        .collect();
    let m = free.len();
    // Where `theta` was evaluated, before the differences move away.
    let mut here = vec![0.0; n];
    evaluate(search, theta, &mut here);
    let expected = search.expected_curvature();
    let nan = Errors {
        why: Some("the information matrix is not positive definite"),
        step: vec![0.0; n],
        promise: 0.0,
        beta: vec![f64::NAN; p],
        covariance: vec![f64::NAN; p * p],
        sd: vec![f64::NAN; shape.sds],
        ln_k: f64::NAN,
        conditional: None,
    };
    let Some(mut d) = differences(search, theta, &free) else {
        return nan;
    };
    let mut l = d.hessian.clone();
    let mut v = vec![0.0; m * m];
    let definite = cholesky::factor(&mut l, m);
    let confounded = confounded(&d.hessian, definite.then_some(&l), shape, &free, &expected);
    let nan = if confounded {
        Errors {
            why: Some("a random term cannot be told from the other terms"),
            ..nan
        }
    } else {
        nan
    };
    if definite && !confounded {
        cholesky::inverse(&l, m, &mut v);
    } else if !shape.inner_fixed {
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
    let slope: Vec<f64> = free.iter().map(|&j| here[j]).collect();
    let left: Vec<f64> = v
        .chunks_exact(m.max(1))
        .map(|row| -row.iter().zip(&slope).map(|(v, g)| v * g).sum::<f64>())
        .collect();
    let promise = -0.5 * left.iter().zip(&slope).map(|(s, g)| s * g).sum::<f64>();
    d.move_by(&left);
    let mut step = vec![0.0; n];
    for (&j, s) in free.iter().zip(left) {
        step[j] = s;
    }
    let mut covariance = vec![0.0; p * p];
    for i in 0..p {
        for j in 0..p {
            covariance[i * p + j] = if shape.inner_fixed {
                let mut sum = d.own[i * p + j];
                for a in 0..m {
                    for b in 0..m {
                        sum += d.shift[a * p + i] * v[a * m + b] * d.shift[b * p + j];
                    }
                }
                sum
            } else {
                v[i * m + j]
            };
        }
    }
    let sd = shape.sds().map(se).collect();
    let ln_k = if shape.dispersion {
        se(n - 1)
    } else {
        f64::NAN
    };
    let conditional = shape.inner_fixed.then(|| Conditional {
        own: d.own,
        slopes: d.slopes,
        free: v.clone(),
    });
    Errors {
        why: None,
        step,
        promise,
        beta: d.beta,
        covariance,
        sd,
        ln_k,
        conditional,
    }
}

/// Whether the information about the `free` parameters (m by m, and its Cholesky factor where it is definite) leaves a
/// variance parameter open.
fn confounded(
    information: &[f64],
    factor: Option<&Vec<f64>>,
    shape: Shape,
    free: &[usize],
    expected: &[f64],
) -> bool {
    let m = free.len();
    let fixed = free.iter().filter(|j| **j < shape.outer_beta()).count();
    let diagonal = |a: usize| information[a * m + a];
    let flat = (fixed..m).any(|a| {
        let alone = expected.get(free[a] - shape.outer_beta());
        alone.is_some_and(|e| diagonal(a) < FLAT * e)
    });
    let tied = match factor {
        Some(l) => (fixed..m).any(|a| l[a * m + a] * l[a * m + a] < TIED * diagonal(a)),
        // Indefinite: they are to blame where the fixed effects alone are sound.
        None => {
            let rows = information.chunks_exact(m).take(fixed);
            let mut own: Vec<f64> = rows.flat_map(|row| row[..fixed].iter().copied()).collect();
            cholesky::factor(&mut own, fixed)
        }
    };
    flat || tied
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

impl Differences {
    /// Takes the fixed effects and their own covariance along with a step of the free parameters, in a straight line.
    fn move_by(&mut self, step: &[f64]) {
        let along = |to: &mut [f64], slopes: &[f64]| {
            if to.is_empty() {
                return;
            }
            for (slopes, s) in slopes.chunks_exact(to.len()).zip(step) {
                for (to, slope) in to.iter_mut().zip(slopes) {
                    *to += s * slope;
                }
            }
        };
        along(&mut self.beta, &self.shift);
        along(&mut self.own, &self.slopes);
    }
}
