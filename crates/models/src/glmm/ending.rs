//! The end of a search: the last step, the standard errors there, and what the ending is called.
//!
//! A search may stop early ([`Bfgs::tolerance`](numerics::optimise::Bfgs)). The differences that make the standard
//! errors know the likelihood's shape there, so that Newton's step makes up for what was left, in the parameters, the
//! fixed effects and their covariance alike. Where the step is long or there is none, the search goes on instead.

use super::covariance::{Errors, standard_errors};
use super::evaluate::evaluate;
use super::outcome::{Fit, Outcome};
use super::search::{LARGEST_SD, Search, Shape, metric_at, minimise};
use super::settle::settle;
use numerics::maths::exp;
use numerics::optimise::{Ending, Minimum};

/// A linear predictor with a standard error above this (of its fixed part) is on its way to infinity.
const LOST: f64 = 100.0;
/// Tolerance of a search that goes on.
const TIGHT: f64 = 1e-9;
/// The last step may promise so many times the tolerance.
const NEAR: f64 = 2.0;
/// And change a standard deviation by no more than this share of it, and log k by no more than that.
const SHORT_IN_SD: f64 = 0.2;
const SHORT_IN_LN_K: f64 = 0.5;

/// A fit that has no estimates.
pub(super) fn failed<S: Search>(search: &mut S, why: &'static str) -> Fit<S::Sds> {
    let shape = search.shape();
    let p = shape.columns;
    let nan = vec![f64::NAN; shape.sds];
    Fit {
        outcome: Outcome::Failed(why),
        log_likelihood: f64::NAN,
        beta: vec![f64::NAN; p],
        covariance: vec![f64::NAN; p * p],
        sd: search.by_term(&nan, f64::NAN),
        sd_se: search.by_term(&nan, f64::NAN),
        k: f64::NAN,
        ln_k_se: f64::NAN,
        conditional: None,
        evaluations: search.trail().evaluations,
    }
}

/// Whether a last step is short enough for straight lines: near an SD of 0 the likelihood is even in it, and far out in
/// log k it is level.
fn is_short(shape: Shape, theta: &[f64], step: &[f64]) -> bool {
    let sds = shape.sds();
    let near = |j: usize| step[j].abs() <= SHORT_IN_SD * theta[j].abs();
    let ln_k = step.last().filter(|_| shape.dispersion);
    sds.into_iter().all(near) && ln_k.is_none_or(|s| s.abs() <= SHORT_IN_LN_K)
}

/// The fit where a search ended.
pub(super) fn finish<S: Search>(search: &mut S, mut found: Minimum) -> Fit<S::Sds> {
    if let Some(why) = reason(found.ending) {
        return failed(search, why);
    }
    let mut errors = standard_errors(search, &found.x);
    let tolerance = search.optimiser().tolerance;
    let near = errors.why.is_none()
        && errors.promise <= NEAR * tolerance
        && is_short(search.shape(), &found.x, &errors.step);
    if tolerance > TIGHT && !near {
        search.optimiser().tolerance = TIGHT;
        for _ in 0..2 {
            let metric = metric_at(search, &found.x);
            found = minimise(search, &found.x, &metric);
            if found.ending != Ending::Exhausted {
                break;
            }
        }
        settle(search, &mut found);
        search.optimiser().tolerance = tolerance;
        if let Some(why) = reason(found.ending) {
            return failed(search, why);
        }
        errors = standard_errors(search, &found.x);
    }
    let mut gradient = vec![0.0; found.x.len()];
    let value = evaluate(search, &found.x, &mut gradient) - errors.promise;
    let theta: Vec<f64> = found
        .x
        .iter()
        .zip(&errors.step)
        .map(|(x, s)| x + s)
        .collect();
    let theta = &theta[..];
    let shape = search.shape();
    let outcome = outcome(search, theta, &errors);
    let beta = if shape.inner_fixed {
        errors.beta
    } else {
        theta[..shape.columns].to_vec()
    };
    let sds: Vec<f64> = theta[shape.sds()].iter().map(|sd| sd.abs()).collect();
    Fit {
        outcome,
        log_likelihood: -value,
        beta,
        covariance: errors.covariance,
        sd: search.by_term(&sds, 0.0),
        sd_se: search.by_term(&errors.sd, f64::NAN),
        k: if shape.dispersion {
            exp(theta[theta.len() - 1])
        } else {
            f64::INFINITY
        },
        ln_k_se: errors.ln_k,
        conditional: errors.conditional,
        evaluations: search.trail().evaluations,
    }
}

/// Why a search did not end in an optimum, if so.
fn reason(ending: Ending) -> Option<&'static str> {
    match ending {
        Ending::Converged => None,
        Ending::Stalled => Some("the likelihood could not be raised further, but is not level"),
        Ending::Exhausted => Some("no optimum within the allowed steps"),
        Ending::Undefined => Some("the likelihood is not defined at the start"),
    }
}

/// Whether all variances of a covariance matrix of p fixed effects are above 0.
fn has_variances(covariance: &[f64], p: usize) -> bool {
    covariance.iter().step_by(p + 1).all(|v| *v > 0.0)
}

/// What an optimum is called.
fn outcome<S: Search>(search: &S, theta: &[f64], errors: &Errors) -> Outcome {
    let shape = search.shape();
    let p = shape.columns;
    // Counts that are all 0 (or all of their trials) for a value of a covariate: its effect has no end, and the search
    // stopped where the likelihood no longer rises by more than its tolerance.
    let lost = |x: &[f64]| {
        let rows = errors.covariance.chunks_exact(p).zip(x);
        let variance = rows.map(|(row, a)| a * row.iter().zip(x).map(|(v, b)| v * b).sum::<f64>());
        variance.sum::<f64>() > LOST * LOST
    };
    if let Some(why) = errors.why {
        Outcome::Failed(why)
    } else if !errors.covariance.iter().all(|v| v.is_finite())
        || !has_variances(&errors.covariance, p)
    {
        Outcome::Failed("the information matrix is not positive definite")
    } else if theta[shape.sds()]
        .iter()
        .any(|sd| sd.abs() > 0.999 * LARGEST_SD)
    {
        Outcome::Failed("a standard deviation grew out of all bounds")
    } else if p > 0 && search.covariates().any(lost) {
        Outcome::Failed("a fixed effect grew out of all bounds: it separates the counts")
    } else if shape.at_bound(theta) {
        Outcome::AtBound
    } else if theta[shape.sds()].iter().any(|sd| sd.abs() < 1e-3) {
        Outcome::Singular
    } else {
        Outcome::Converged
    }
}
