//! The fit: start, search, and what is made of where it ended.

use super::design::{DetectionKernel, OccupancyDesign, OccupancyError, OccupancyStart};
use super::likelihood::{Likelihood, dot, logistic};
use super::outcome::{OccupancyFit, OccupancyOutcome};
use super::search::{Climb, Ending};
use numerics::linalg::cholesky;
use numerics::maths::{exp, ln, ln_1p};

/// A predictor beyond this (a probability within 6e-6 of 0 or 1) ...
const BOUNDARY: f64 = 12.0;
/// ... with a standard error above this has run off to the end of its range; with such a standard error and not beyond
/// it, the data do not tell it.
const UNTOLD: f64 = 100.0;
/// A log likelihood higher by no more than this is not worth a correlation of detections.
const AS_GOOD: f64 = 1e-7;
/// The intra-class correlation a search begins with.
const RHO: f64 = 0.1;

/// Fits the occupancy model of one design to any number of data sets.
#[derive(Clone, Debug)]
pub struct OccupancyFitter {
    likelihood: Likelihood,
    /// Coefficients whose predictors are nearest to 1.
    ones: Vec<f64>,
    plain: Climb,
    correlated: Climb,
    spare: Climb,
}

impl OccupancyFitter {
    /// Checks the design.
    ///
    /// # Errors
    /// When there are no rows, no columns or unequal numbers of rows, when a value is not finite, or when the columns of
    /// a predictor are not independent.
    pub fn new(design: OccupancyDesign) -> Result<Self, OccupancyError> {
        let ones = design.ones()?;
        Ok(Self {
            likelihood: Likelihood::new(design),
            ones,
            plain: Climb::default(),
            correlated: Climb::default(),
            spare: Climb::default(),
        })
    }

    /// Number of rows.
    pub fn rows(&self) -> usize {
        self.likelihood.visits.len()
    }

    /// Maximum likelihood from `detections` of `visits` at each row, from `start` or, without one, from the overall
    /// shares; and, since the likelihood may have more than one optimum, from occupancy nearly everywhere, of which the
    /// higher is kept. With covariates in both predictors and few rows there can be others still: who must be sure fits
    /// from several starts, and a larger model from the coefficients of the smaller it is compared with. With the
    /// beta-binomial kernel the binomial one is fitted too, so that the log likelihood is never below
    /// its; each evaluation of it takes a time that grows with the visits.
    ///
    /// # Errors
    /// When there are not as many detections or visits as rows, when a row has more detections than visits, or when the
    /// start is not one of this design. A fit that finds no estimate is no error but an outcome.
    pub fn fit(
        &mut self,
        detections: &[u32],
        visits: &[u32],
        start: Option<&OccupancyStart>,
    ) -> Result<OccupancyFit, OccupancyError> {
        self.take(detections, visits)?;
        if let Some(start) = start {
            self.check(start)?;
        }
        if visits.iter().all(|n| *n == 0) {
            return Ok(self.nothing("nothing was visited"));
        }
        if detections.iter().all(|d| *d == 0) {
            return Ok(self.nothing("nothing was detected"));
        }
        let from = match start {
            Some(s) => [&s.beta[..], &s.gamma[..]].concat(),
            None => self.overall(),
        };
        let everywhere = self.everywhere();
        let plain = highest(
            &mut self.plain,
            &mut self.spare,
            &mut self.likelihood,
            DetectionKernel::Binomial,
            [&from, &everywhere],
        );
        if self.likelihood.design.kernel == DetectionKernel::Binomial {
            return Ok(self.ended(DetectionKernel::Binomial, plain));
        }
        let rho = start.and_then(|s| s.rho).unwrap_or(RHO);
        let from = if self.plain.theta.iter().all(|v| v.abs() < BOUNDARY) {
            self.plain.theta.clone()
        } else {
            from
        };
        let logit = ln(rho) - ln_1p(-rho);
        let correlated = highest(
            &mut self.correlated,
            &mut self.spare,
            &mut self.likelihood,
            DetectionKernel::BetaBinomial,
            [
                &[&from[..], &[logit]].concat(),
                &[&everywhere[..], &[logit]].concat(),
            ],
        );
        self.correlated.evaluations += self.plain.evaluations;
        let better = self.correlated.here.value > self.plain.here.value + AS_GOOD;
        if better || (plain != Ending::Converged && correlated == Ending::Converged) {
            return Ok(self.ended(DetectionKernel::BetaBinomial, correlated));
        }
        let mut fit = self.ended(DetectionKernel::Binomial, plain);
        fit.evaluations = self.correlated.evaluations;
        fit.rho = Some(if fit.usable() { 0.0 } else { f64::NAN });
        fit.covariance = bordered(&fit.covariance, fit.beta.len() + fit.gamma.len());
        if fit.usable() {
            fit.outcome = OccupancyOutcome::AtBoundary;
        }
        Ok(fit)
    }

    /// Takes the data in.
    fn take(&mut self, detections: &[u32], visits: &[u32]) -> Result<(), OccupancyError> {
        let want = self.rows();
        for (what, got) in [("detections", detections.len()), ("visits", visits.len())] {
            if got != want {
                return Err(OccupancyError::Length { what, got, want });
            }
        }
        for (row, (&d, &n)) in detections.iter().zip(visits).enumerate() {
            if d > n {
                return Err(OccupancyError::Detections {
                    row: row + 1,
                    detections: d,
                    visits: n,
                });
            }
            self.likelihood.detections[row] = f64::from(d);
            self.likelihood.visits[row] = f64::from(n);
        }
        Ok(())
    }

    fn check(&self, start: &OccupancyStart) -> Result<(), OccupancyError> {
        let design = &self.likelihood.design;
        let fits = start.beta.len() == design.columns
            && start.gamma.len() == design.detection_columns
            && start.beta.iter().chain(&start.gamma).all(|v| v.is_finite())
            && start.rho.is_none_or(|r| r > 0.0 && r < 1.0);
        if fits {
            Ok(())
        } else {
            Err(OccupancyError::Start)
        }
    }

    /// The same psi and p everywhere: the share of visits with a detection where there were any, somewhat lower since
    /// sites with few are missed, and the share of rows with a detection over the chance of one.
    fn overall(&self) -> Vec<f64> {
        let rows = || {
            let l = &self.likelihood;
            l.detections
                .iter()
                .zip(&l.visits)
                .filter(|(_, n)| **n > 0.0)
        };
        let (mut found, mut detections, mut visits) = (0.0, 0.0, 0.0);
        for (d, n) in rows().filter(|(d, _)| **d > 0.0) {
            found += 1.0;
            detections += d;
            visits += n;
        }
        let p: f64 = (0.8 * detections / visits).clamp(0.02, 0.9);
        let seen: f64 = rows().map(|(_, n)| 1.0 - exp(n * ln_1p(-p))).sum();
        let psi: f64 = (found / seen).clamp(0.05, 0.95);
        self.alike(psi, p)
    }

    /// Nearly every site occupied, and the share of visits with a detection that makes.
    fn everywhere(&self) -> Vec<f64> {
        const PSI: f64 = 0.95;
        let l = &self.likelihood;
        let (d, n): (f64, f64) = (l.detections.iter().sum(), l.visits.iter().sum());
        self.alike(PSI, (d / (PSI * n)).clamp(0.01, 0.97))
    }

    /// Coefficients of the same psi and p in all rows.
    fn alike(&self, psi: f64, p: f64) -> Vec<f64> {
        let logit = |v: f64| ln(v) - ln_1p(-v);
        let (x, z) = self.ones.split_at(self.likelihood.design.columns);
        let beta = x.iter().map(|v| v * logit(psi));
        beta.chain(z.iter().map(|v| v * logit(p))).collect()
    }

    /// A fit without estimates.
    fn nothing(&self, reason: &'static str) -> OccupancyFit {
        let design = &self.likelihood.design;
        let m = self.likelihood.parameters(design.kernel);
        OccupancyFit {
            outcome: OccupancyOutcome::Failed(reason),
            log_likelihood: 0.0,
            beta: vec![f64::NAN; design.columns],
            gamma: vec![f64::NAN; design.detection_columns],
            rho: (design.kernel == DetectionKernel::BetaBinomial).then_some(f64::NAN),
            covariance: vec![f64::NAN; m * m],
            evaluations: 0,
            psi: vec![f64::NAN; self.rows()],
            p: vec![f64::NAN; self.rows()],
        }
    }

    /// What is made of a search.
    fn ended(&mut self, kernel: DetectionKernel, ending: Ending) -> OccupancyFit {
        let climb = match kernel {
            DetectionKernel::Binomial => &self.plain,
            DetectionKernel::BetaBinomial => &self.correlated,
        };
        let covariance = inverse_information(&climb.here.hessian, climb.theta.len());
        let outcome = match ending {
            Ending::Converged => self.judge(&climb.theta, covariance.as_deref()),
            Ending::Stalled => OccupancyOutcome::Failed("no step raises the likelihood"),
            Ending::Exhausted => OccupancyOutcome::Failed("the evaluations were used up"),
        };
        let (theta, value, evaluations) =
            (climb.theta.clone(), climb.here.value, climb.evaluations);
        if matches!(outcome, OccupancyOutcome::Failed(_)) {
            let mut fit = self.nothing("");
            fit.outcome = outcome;
            fit.log_likelihood = value;
            fit.evaluations = evaluations;
            return fit;
        }
        let design = &self.likelihood.design;
        let m = theta.len();
        let (columns, coefficients) = (design.columns, design.coefficients());
        let (beta, gamma) = (&theta[..columns], &theta[columns..coefficients]);
        let chance = |v: f64| logistic(v, exp(-v.abs())).0;
        let rows = 0..self.rows();
        OccupancyFit {
            outcome,
            log_likelihood: value,
            beta: beta.to_vec(),
            gamma: gamma.to_vec(),
            rho: theta.get(coefficients).map(|r| chance(*r)),
            covariance: covariance.unwrap_or_else(|| vec![f64::NAN; m * m]),
            evaluations,
            psi: rows
                .clone()
                .map(|i| chance(dot(design.x_row(i), beta)))
                .collect(),
            p: rows.map(|i| chance(dot(design.z_row(i), gamma))).collect(),
        }
    }

    /// Whether an optimum is inside, at a boundary, or one of many.
    fn judge(&self, theta: &[f64], covariance: Option<&[f64]>) -> OccupancyOutcome {
        let design = &self.likelihood.design;
        let (columns, coefficients) = (design.columns, design.coefficients());
        let m = theta.len();
        // The predictor of `weights` on the parameters from `at`, and its standard error.
        let predictor = |weights: &[f64], at: usize| {
            let value = dot(weights, &theta[at..at + weights.len()]);
            let variance = covariance.map_or(f64::INFINITY, |c| {
                (0..weights.len())
                    .map(|i| {
                        let row = &c[(at + i) * m + at..];
                        weights[i] * dot(weights, &row[..weights.len()])
                    })
                    .sum()
            });
            (value, variance.sqrt())
        };
        let mut told = true;
        let mut inside = true;
        let mut look = |(value, se): (f64, f64), boundary: f64| {
            // Rounding may make the variance of what is all but untold negative.
            if se.is_nan() || se > UNTOLD {
                told = false;
                inside &= value.abs() <= boundary;
            }
        };
        for i in (0..self.rows()).filter(|&i| self.likelihood.visits[i] > 0.0) {
            look(predictor(design.x_row(i), 0), BOUNDARY);
            look(predictor(design.z_row(i), columns), BOUNDARY);
        }
        if m > coefficients {
            // Only towards 0 or 1 does the likelihood become level in it.
            look(predictor(&[1.0], coefficients), 0.0);
        }
        match (told && covariance.is_some(), inside) {
            (_, false) => OccupancyOutcome::AtBoundary,
            (true, true) => OccupancyOutcome::Converged,
            (false, true) => {
                OccupancyOutcome::Failed("the visits do not tell occupancy from detection")
            }
        }
    }
}

/// Climbs from both starts and leaves the higher optimum in `climb`, with the evaluations of both.
fn highest(
    climb: &mut Climb,
    spare: &mut Climb,
    likelihood: &mut Likelihood,
    kernel: DetectionKernel,
    starts: [&[f64]; 2],
) -> Ending {
    let first = climb.run(likelihood, kernel, starts[0], None);
    let known = (first == Ending::Converged).then_some(&*climb);
    let second = spare.run(likelihood, kernel, starts[1], known);
    let evaluations = climb.evaluations + spare.evaluations;
    let sound = |e: Ending| e == Ending::Converged;
    let other = if sound(first) == sound(second) {
        spare.here.value > climb.here.value + AS_GOOD
    } else {
        sound(second)
    };
    if other {
        std::mem::swap(climb, spare);
    }
    climb.evaluations = evaluations;
    if other { second } else { first }
}

/// The inverse of the information, the Hessian's negative; `None` when that is not positive definite.
fn inverse_information(hessian: &[f64], m: usize) -> Option<Vec<f64>> {
    /// The share of a parameter's information that must be its own.
    const OWN: f64 = 1e-13;
    let information: Vec<f64> = hessian.iter().map(|h| -h).collect();
    let mut factor = information.clone();
    if !cholesky::factor(&mut factor, m) {
        return None;
    }
    let own = |i: usize| factor[i * m + i] * factor[i * m + i];
    if (0..m).any(|i| own(i) < OWN * information[i * m + i]) {
        return None;
    }
    let mut out = vec![0.0; m * m];
    cholesky::inverse(&factor, m, &mut out);
    Some(out)
}

/// The matrix with one more row and column, which are not known.
fn bordered(matrix: &[f64], m: usize) -> Vec<f64> {
    if matrix.len() != m * m {
        return matrix.to_vec();
    }
    let mut out = vec![f64::NAN; (m + 1) * (m + 1)];
    for i in 0..m {
        out[i * (m + 1)..i * (m + 1) + m].copy_from_slice(&matrix[i * m..(i + 1) * m]);
    }
    out
}

#[cfg(test)]
mod tests;
