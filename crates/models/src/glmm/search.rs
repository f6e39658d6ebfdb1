//! The search for an optimum, shared by the fast engine and the general one: where it starts, how it goes on from a
//! poor ending, and what its ending is called.
//!
//! The outer parameters are, in this order: the fixed effects (maximum likelihood only), the standard deviations (of
//! either sign: the likelihood is even in each), and log k (NB2).

use super::covariance::hessian;
use super::ending::{failed, finish};
use super::evaluate::evaluate;
use super::fit::{K_RANGE, ln_start};
use super::outcome::Fit;
use super::settle::settle;
use numerics::linalg::cholesky;
use numerics::maths::{exp, ln};
use numerics::optimise::{Bfgs, Ending, Minimum};
use std::ops::Range;

/// Which outer parameters there are.
#[derive(Clone, Copy, Debug)]
pub(super) struct Shape {
    /// Fixed effects in all.
    pub columns: usize,
    /// They are integrated out (restricted likelihood).
    pub inner_fixed: bool,
    /// Standard deviations.
    pub sds: usize,
    /// Log k is one of them.
    pub dispersion: bool,
}

impl Shape {
    /// Fixed effects among the outer parameters.
    pub fn outer_beta(self) -> usize {
        if self.inner_fixed { 0 } else { self.columns }
    }

    /// Where the standard deviations stand.
    pub fn sds(self) -> Range<usize> {
        self.outer_beta()..self.outer_beta() + self.sds
    }

    /// Whether log k, last in `theta`, is at an end of its range.
    pub fn at_bound(self, theta: &[f64]) -> bool {
        let (low, high) = K_RANGE;
        let inside = |ln_k: f64| (1.01 * low..0.99 * high).contains(&exp(ln_k));
        self.dispersion && theta.last().is_some_and(|&v| !inside(v))
    }
}

/// What is kept of the place last evaluated.
#[derive(Clone, Debug, Default)]
pub(super) struct Trail {
    /// Where the mode, its factor and the gradient belong, and minus the log likelihood there.
    pub at: Option<(Vec<f64>, f64)>,
    /// Evaluations of the likelihood so far.
    pub evaluations: usize,
}

/// A likelihood whose integrated effects have a mode.
pub(super) trait Search {
    /// Starting values.
    type Start;
    /// A vector in the space of the integrated effects.
    type Mode: Clone + Default;
    /// Standard deviations by term.
    type Sds;

    fn shape(&self) -> Shape;
    fn optimiser(&mut self) -> &mut Bfgs;
    fn trail(&mut self) -> &mut Trail;
    /// The counts that are being fitted.
    fn counts(&self) -> &[f64];
    /// Readies a search from `start`, or, if `nearer`, from a place nearer to what the counts are like; the outer
    /// parameters there.
    fn begin(&mut self, start: &Self::Start, nearer: bool) -> Vec<f64>;
    /// A start from the counts alone.
    fn plain(&self) -> Self::Start;
    /// Takes the outer parameters `theta`.
    fn unpack(&mut self, theta: &[f64]);
    /// About how curved the likelihood is expected to be in each standard deviation.
    fn expected_curvature(&self) -> Vec<f64>;
    /// Estimates by term; `absent` for a term that the model lacks.
    fn by_term(&self, values: &[f64], absent: f64) -> Self::Sds;

    /// Moves the integrated effects to their mode, the last of Newton's steps being one that gains less than `last`, and
    /// leaves predictor, derivatives and factor current there. False when there is none to be found.
    fn find_mode(&mut self, last: f64) -> bool;
    /// The same where the effects stand, taken for the mode.
    fn stay(&mut self) -> bool;
    /// Sets the effects to 0; the fixed effects among them only if asked to, or where they are not finite.
    fn clear_mode(&mut self, fixed: bool);
    /// The log likelihood at the mode.
    fn log_likelihood(&mut self) -> f64;
    /// Works out the gradient of the log likelihood at the mode, the sums of logarithms being those of its place.
    fn differentiate(&mut self);
    /// Brings the sum of logarithms that the gradient wants to the mode's place (NB2).
    fn log_sum(&mut self);
    /// Minus the gradient worked out last.
    fn put_gradient(&self, gradient: &mut [f64]);

    /// The largest weight of a row.
    fn heaviest(&self) -> f64;
    fn mode(&self) -> Self::Mode;
    /// A vector of that space to work with.
    fn scratch(&mut self) -> &mut Self::Mode;
    /// Puts the mode at `mode + step * along`, no longer that of the place last evaluated.
    fn put_mode(&mut self, mode: &Self::Mode, step: f64, along: &Self::Mode);
    /// Adds a step to the mode if none of its entries is as large as `far`.
    fn step_mode(&mut self, step: &Self::Mode, far: f64);
    /// How the mode moves when the outer parameters move by `by`.
    fn mode_along(&mut self, by: &[f64], out: &mut Self::Mode);
    /// Fixed effects in a mode (restricted likelihood; empty otherwise).
    fn fixed<'a>(&self, mode: &'a Self::Mode) -> &'a [f64];
    /// Their covariance given the variances (restricted likelihood; empty otherwise).
    fn own_covariance(&self) -> Vec<f64>;
    /// The covariates of each row, or of each kind of row.
    fn covariates(&self) -> impl Iterator<Item = &[f64]>;
}

/// What each integrated fixed effect adds to the log likelihood.
pub(super) const HALF_LN_2PI: f64 = 0.918_938_533_204_672_7;
/// The largest standard deviation that is tried, of the predictor.
pub(super) const LARGEST_SD: f64 = 20.0;

/// What a fitter learns from one set of counts.
#[derive(Clone, Debug)]
pub(super) struct Learned {
    /// The inverse of the Hessian of minus the log likelihood at the start.
    inverse: Vec<f64>,
    /// How curved the likelihood was expected to be there in each standard deviation.
    expected: Vec<f64>,
    /// How far the optimum's log k was from where the search for it began; 0 if unknown.
    ln_k: f64,
}

impl Learned {
    /// From the counts at hand.
    pub fn at<S: Search>(search: &mut S, start: &S::Start) -> Self {
        let theta = search.begin(start, false);
        let inverse = metric_at(search, &theta);
        evaluate(search, &theta, &mut vec![0.0; theta.len()]);
        let mut learned = Self {
            inverse,
            expected: search.expected_curvature(),
            ln_k: 0.0,
        };
        let theta = search.begin(start, true);
        let metric = learned.metric(search, &theta);
        let found = minimise(search, &theta, &metric);
        if let (true, Some(from), Some(to)) = (
            search.shape().dispersion && found.ending == Ending::Converged,
            theta.last(),
            found.x.last(),
        ) {
            learned.ln_k = (to - from).clamp(-LONGEST_SHIFT, LONGEST_SHIFT);
        }
        learned
    }

    /// Moves the start by what is known of such starts.
    fn shift<S: Search>(&self, search: &S, theta: &mut [f64]) {
        if let (true, Some(ln_k)) = (search.shape().dispersion, theta.last_mut()) {
            *ln_k = (*ln_k + self.ln_k).min(ln_start(f64::INFINITY));
        }
    }

    /// The inverse Hessian at `theta`: the learned one, stretched as the expected curvatures of the standard deviations
    /// differ.
    fn metric<S: Search>(&self, search: &mut S, theta: &[f64]) -> Vec<f64> {
        let n = theta.len();
        let mut inverse = self.inverse.clone();
        if !evaluate(search, theta, &mut vec![0.0; n]).is_finite() {
            return inverse;
        }
        let here = search.expected_curvature();
        for ((j, here), there) in search.shape().sds().zip(here).zip(&self.expected) {
            let stretch = (there / here).sqrt();
            if !(1.0 / FARTHEST..FARTHEST).contains(&stretch) {
                continue;
            }
            for i in 0..n {
                inverse[i * n + j] *= stretch;
                inverse[j * n + i] *= stretch;
            }
        }
        inverse
    }
}

/// How curved the likelihood is taken to be in log k at the least.
const LEAST_IN_LN_K: f64 = 1e-2;
/// A start's log k is moved by no more than this.
const LONGEST_SHIFT: f64 = 0.5;
/// Curvatures further apart than the square of this say nothing of each other.
const FARTHEST: f64 = 10.0;

/// The optimum, from `start` with a learned metric if given, and once more from a plain start if that ends poorly.
fn find<S: Search>(search: &mut S, start: Option<&S::Start>, learned: Option<&Learned>) -> Minimum {
    let plain;
    let start = match start {
        Some(start) => start,
        None => {
            plain = search.plain();
            &plain
        }
    };
    let mut theta = search.begin(start, true);
    let metric = match learned {
        Some(learned) => {
            learned.shift(search, &mut theta);
            learned.metric(search, &theta)
        }
        None => metric_at(search, &theta),
    };
    let mut found = minimise(search, &theta, &metric);
    if found.ending == Ending::Undefined || found.ending == Ending::Stalled {
        let plain = search.plain();
        let theta = search.begin(&plain, false);
        let metric = metric_at(search, &theta);
        found = minimise(search, &theta, &metric);
    }
    if found.ending == Ending::Exhausted {
        // A long narrow valley (counts of a million): on from there, with the shape that the likelihood has there.
        let metric = metric_at(search, &found.x);
        found = minimise(search, &found.x, &metric);
    }
    settle(search, &mut found);
    found
}

/// The optimum from `theta`, with `metric` for the inverse of the Hessian.
pub(super) fn minimise<S: Search>(search: &mut S, theta: &[f64], metric: &[f64]) -> Minimum {
    let (n, shape) = (theta.len(), search.shape());
    let mut bounds = vec![(-1e3, 1e3); n];
    for b in &mut bounds[shape.outer_beta()..] {
        *b = (-LARGEST_SD, LARGEST_SD);
    }
    if shape.dispersion {
        bounds[n - 1] = (ln(K_RANGE.0), ln(K_RANGE.1));
    }
    let optimiser = search.optimiser().clone();
    optimiser.minimise(|x, g| evaluate(search, x, g), theta, &bounds, metric)
}

/// The shape of the likelihood at the start of a search: the inverse Hessian of minus the log likelihood at `theta`,
/// made safe for a first step.
pub(super) fn metric_at<S: Search>(search: &mut S, theta: &[f64]) -> Vec<f64> {
    let n = theta.len();
    let mut inverse = vec![0.0; n * n];
    if let Some(mut hessian) = hessian(search, theta) {
        // One set of counts may be much less curved in a standard deviation than counts are on the whole, and
        // the first step would then be far too long: the expectation is the least. A ridge keeps a flat
        // or slightly negative direction (an SD near 0) within a step of about 1.
        let mut least = vec![1.0_f64; n];
        let expected = search.expected_curvature();
        for (l, e) in least[search.shape().sds()].iter_mut().zip(expected) {
            *l = l.max(e);
        }
        if search.shape().dispersion {
            // Where catches are rare the likelihood is truly that level in log k, and its optimum far.
            least[n - 1] = LEAST_IN_LN_K;
        }
        for i in 0..n {
            hessian[i * n + i] = hessian[i * n + i].abs().max(least[i]);
        }
        if cholesky::factor(&mut hessian, n) {
            cholesky::inverse(&hessian, n, &mut inverse);
            return inverse;
        }
    }
    inverse.fill(0.0);
    for i in 0..n {
        inverse[i * n + i] = 0.01;
    }
    inverse
}

/// Fits the counts at hand, from `start` or from plain values.
pub(super) fn fit<S: Search>(
    search: &mut S,
    start: Option<&S::Start>,
    learned: Option<&Learned>,
) -> Fit<S::Sds> {
    search.trail().evaluations = 0;
    if search.counts().iter().all(|&y| y == 0.0) {
        return failed(search, "every count is 0");
    }
    if search.counts().len() <= search.shape().columns {
        return failed(search, "fewer counts than fixed effects");
    }
    let found = find(search, start, learned);
    finish(search, found)
}
