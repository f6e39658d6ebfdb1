//! The search for the optimum: Newton's method, damped.
//!
//! Where the observed information J is not positive definite, or its step does not climb, it gives way to J + l C, with
//! C the information that known occupancy would give: the larger l, the nearer to the slow but sure EM gradient
//! algorithm (Lange 1995, J. R. Stat. Soc. B 57:425-437).

use super::design::DetectionKernel;
use super::likelihood::{Derivatives, Likelihood};
use numerics::linalg::cholesky;

/// How a search ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Ending {
    /// A step promises less than [`TOLERANCE`].
    Converged,
    /// No step climbs, though one promises to.
    Stalled,
    /// The evaluations were used up.
    Exhausted,
}

/// A promised gain of the log likelihood that is not worth a step. Where the likelihood rises to a supremum at infinity
/// as -e^-v, the promise is what is missing.
const TOLERANCE: f64 = 1e-9;
/// Evaluations of one search.
const EVALUATIONS: usize = 300;
/// The longest change of a row's predictor in one step, beside half of the largest there is.
const LONGEST: f64 = 5.0;
/// A step that promises less than this, from a place whose predictors are all within [`NEAR`] of those at an optimum that
/// is known, leads to it.
const NEAR_PROMISE: f64 = 0.01;
const NEAR: f64 = 0.2;
/// Kept above 0 in the matrix that is factored, per square of the covariates.
const RIDGE: f64 = 1e-13;

/// Where a search is, and room to work in.
#[derive(Clone, Debug, Default)]
pub(super) struct Climb {
    pub theta: Vec<f64>,
    pub here: Derivatives,
    pub evaluations: usize,
    there: Derivatives,
    next: Vec<f64>,
    step: Vec<f64>,
    factor: Vec<f64>,
    floor: Vec<f64>,
}

impl Climb {
    /// Climbs from `start` to an optimum; no farther than where it is plain that it is the optimum `known`, which an
    /// other search found.
    pub fn run(
        &mut self,
        likelihood: &mut Likelihood,
        kernel: DetectionKernel,
        start: &[f64],
        known: Option<&Self>,
    ) -> Ending {
        self.theta.clear();
        self.theta.extend_from_slice(start);
        self.evaluations = 1;
        likelihood.evaluate(&self.theta, kernel, &mut self.here);
        self.set_floor(likelihood, kernel);
        let mut damping = 0.0;
        loop {
            // Not a number: the start is beyond what can be evaluated.
            if !self.here.value.is_finite() {
                return Ending::Stalled;
            }
            let Some(promise) = self.direction(&mut damping) else {
                return Ending::Stalled;
            };
            if promise * (1.0 + damping) < TOLERANCE {
                // The step is at hand: it squares what is missing.
                self.offer(likelihood, kernel, 1.0);
                if self.there.value >= self.here.value - 1e-13 * self.here.value.abs() {
                    self.accept();
                }
                return Ending::Converged;
            }
            if promise < NEAR_PROMISE && known.is_some_and(|k| self.is_near(likelihood, k)) {
                return Ending::Converged;
            }
            let reach = likelihood.reach(&self.step);
            let longest = LONGEST + 0.5 * likelihood.reach(&self.theta);
            let mut share = if reach > longest {
                longest / reach
            } else {
                1.0
            };
            let full = share;
            let before = self.here.value;
            loop {
                if self.evaluations >= EVALUATIONS {
                    return Ending::Exhausted;
                }
                self.offer(likelihood, kernel, share);
                let gain = self.there.value - before;
                if gain >= 1e-4 * share * promise {
                    break;
                }
                // The parabola through the value, slope and new value; a tenth to a half of the step.
                let shrink = if gain.is_finite() {
                    (0.5 * share * promise / (share * promise - gain)).clamp(0.1, 0.5)
                } else {
                    0.1
                };
                share *= shrink;
                if share < 1e-3 * full {
                    break;
                }
            }
            if share < 1e-3 * full {
                if promise < 1e-7 {
                    // Rounding hides any further gain.
                    return Ending::Converged;
                }
                damping = if damping == 0.0 { 0.1 } else { damping * 10.0 };
                if damping > 1e6 {
                    return Ending::Stalled;
                }
                continue;
            }
            self.accept();
            let gain = self.here.value - before;
            if share == full {
                damping = if damping < 1e-3 { 0.0 } else { 0.1 * damping };
                if gain > 0.6 * share * promise {
                    self.lengthen(likelihood, kernel, share);
                }
            }
        }
    }

    /// Whether no row's predictor is far from that at an optimum, which is as high or higher.
    fn is_near(&mut self, likelihood: &Likelihood, optimum: &Self) -> bool {
        self.next.clear();
        let apart = optimum.theta.iter().zip(&self.theta).map(|(a, b)| a - b);
        self.next.extend(apart);
        self.here.value <= optimum.here.value && likelihood.reach(&self.next) < NEAR
    }

    /// More than foretold: a curve that flattens slower than a parabola, as on the way to infinity. The step is taken
    /// again, twice as long each time, as long as it climbs; no farther, since the information fades on the way.
    fn lengthen(&mut self, likelihood: &mut Likelihood, kernel: DetectionKernel, share: f64) {
        let mut share = share;
        while self.evaluations < EVALUATIONS {
            self.offer(likelihood, kernel, share);
            let gain = self.there.value - self.here.value;
            if !gain.is_finite() || gain < TOLERANCE {
                return;
            }
            self.accept();
            share *= 2.0;
        }
    }

    /// Evaluates a share of the step from here.
    fn offer(&mut self, likelihood: &mut Likelihood, kernel: DetectionKernel, share: f64) {
        self.next.clear();
        let moved = self
            .theta
            .iter()
            .zip(&self.step)
            .map(|(t, s)| t + share * s);
        self.next.extend(moved);
        likelihood.evaluate(&self.next, kernel, &mut self.there);
        self.evaluations += 1;
    }

    fn accept(&mut self) {
        std::mem::swap(&mut self.theta, &mut self.next);
        std::mem::swap(&mut self.here, &mut self.there);
    }

    /// The step, with its promise, the slope along it; damped as far as the matrix asks for.
    fn direction(&mut self, damping: &mut f64) -> Option<f64> {
        let m = self.theta.len();
        loop {
            self.factor.clear();
            let both = self.here.hessian.iter().zip(&self.here.complete);
            self.factor.extend(both.map(|(h, c)| *damping * c - h));
            for (j, floor) in self.floor.iter().enumerate() {
                self.factor[j * m + j] += floor * (1.0 + *damping);
            }
            if cholesky::factor(&mut self.factor, m) {
                break;
            }
            *damping = if *damping == 0.0 {
                0.01
            } else {
                *damping * 4.0
            };
            if *damping > 1e6 {
                return None;
            }
        }
        self.step.clear();
        self.step.extend_from_slice(&self.here.gradient);
        cholesky::solve(&self.factor, m, &mut self.step);
        let promise: f64 = self
            .step
            .iter()
            .zip(&self.here.gradient)
            .map(|(s, g)| s * g)
            .sum();
        promise.is_finite().then_some(promise)
    }

    fn set_floor(&mut self, likelihood: &Likelihood, kernel: DetectionKernel) {
        let design = &likelihood.design;
        self.floor.clear();
        self.floor.resize(likelihood.parameters(kernel), RIDGE);
        for (values, columns, at) in [
            (&design.x, design.columns, 0),
            (&design.z, design.detection_columns, design.columns),
        ] {
            let floor = &mut self.floor[at..at + columns];
            floor.fill(0.0);
            for row in values.chunks_exact(columns) {
                for (f, v) in floor.iter_mut().zip(row) {
                    *f += RIDGE * v * v;
                }
            }
        }
    }
}
