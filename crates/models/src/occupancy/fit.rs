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
mod tests {
    use super::*;
    use crate::occupancy::precision::{SamplingDesign, standard_error};
    use numerics::random::Stream;

    /// Rows of a constant psi and p.
    fn constant(rows: usize, kernel: DetectionKernel) -> OccupancyFitter {
        OccupancyFitter::new(OccupancyDesign {
            x: vec![1.0; rows],
            columns: 1,
            z: vec![1.0; rows],
            detection_columns: 1,
            kernel,
        })
        .unwrap()
    }

    fn inverse(v: f64) -> f64 {
        1.0 / (1.0 + exp(-v))
    }

    /// Detections of n visits by the standard design; of the removal design with the visits made.
    fn draw(rng: &mut Stream, psi: f64, p: f64, n: u32, removal: bool) -> (u32, u32) {
        let occupied = rng.uniform() < psi;
        let mut d = 0;
        for visit in 1..=n {
            if rng.uniform() < p && occupied {
                d += 1;
                if removal {
                    return (d, visit);
                }
            }
        }
        (d, n)
    }

    fn binomial_ln(d: f64, n: f64) -> f64 {
        let term = |k: f64| if k > 0.0 { k * ln(k / n) } else { 0.0 };
        term(d) + term(n - d)
    }

    /// Means and Wald intervals of 1500 surveys of 200 sites with a covariate each, visited four times.
    #[test]
    fn recovers_the_truth() {
        let (sites, surveys) = (200, 1500);
        let truth = [0.3, 0.8, -0.2, 0.5];
        let mut design = OccupancyDesign {
            columns: 2,
            detection_columns: 2,
            ..OccupancyDesign::default()
        };
        let mut rng = Stream::new(5, 0);
        for _ in 0..sites {
            design.x.extend([1.0, rng.normal()]);
            design.z.extend([1.0, rng.normal()]);
        }
        let mut fitter = OccupancyFitter::new(design.clone()).unwrap();
        let mut covered = [0.0; 4];
        let mut sums = [0.0; 4];
        let mut variances = [0.0; 4];
        for survey in 0..surveys {
            let mut rng = Stream::new(5, 1 + survey);
            let (mut d, mut n) = (Vec::new(), Vec::new());
            for i in 0..sites {
                let psi = inverse(dot(design.x_row(i), &truth[..2]));
                let p = inverse(dot(design.z_row(i), &truth[2..]));
                let (found, visits) = draw(&mut rng, psi, p, 4, false);
                d.push(found);
                n.push(visits);
            }
            let fit = fitter.fit(&d, &n, None).unwrap();
            assert_eq!(fit.outcome, OccupancyOutcome::Converged);
            for (j, &truth) in truth.iter().enumerate() {
                let estimate = if j < 2 { fit.beta[j] } else { fit.gamma[j - 2] };
                covered[j] += f64::from(u8::from((estimate - truth).abs() < 1.959_964 * fit.se(j)));
                sums[j] += estimate - truth;
                variances[j] += fit.se(j) * fit.se(j);
            }
        }
        let of = surveys as f64;
        for j in 0..4 {
            // Three standard errors of the share, and the small sample's bias.
            assert!((covered[j] / of - 0.95).abs() < 0.02, "{j}: {covered:?}");
            let se = (variances[j] / of).sqrt();
            assert!((sums[j] / of).abs() < 0.12 * se, "{j}: {sums:?} {se}");
        }
    }

    /// Standard errors of psi, by the delta method, against MacKenzie & Royle (2005, J. Appl. Ecol. 42:1105-1114).
    #[test]
    fn standard_errors_of_both_designs() {
        for (removal, design) in [
            (false, SamplingDesign::Standard),
            (true, SamplingDesign::Removal),
        ] {
            let (psi, p, visits, sites, surveys) = (0.5, 0.5, 5, 400, 300);
            let mut fitter = constant(sites, DetectionKernel::Binomial);
            let (mut sum, mut total, mut squares) = (0.0, 0.0, 0.0);
            for survey in 0..surveys {
                let mut rng = Stream::new(6, survey);
                let (d, n): (Vec<u32>, Vec<u32>) = (0..sites)
                    .map(|_| draw(&mut rng, psi, p, visits, removal))
                    .unzip();
                let fit = fitter.fit(&d, &n, None).unwrap();
                assert_eq!(fit.outcome, OccupancyOutcome::Converged);
                let v = fit.psi(0);
                sum += v * (1.0 - v) * fit.se(0);
                total += v;
                squares += v * v;
            }
            let of = surveys as f64;
            let want = standard_error(psi, p, visits, sites as f64, design);
            let got = sum / of;
            assert!((got / want - 1.0).abs() < 0.02, "{design:?}: {got} {want}");
            let mean = total / of;
            let spread = (squares / of - mean * mean).sqrt();
            assert!((mean - psi).abs() < 4.0 * want / of.sqrt(), "{mean}");
            assert!(
                (spread / want - 1.0).abs() < 0.13,
                "{design:?}: {spread} {want}"
            );
        }
    }

    /// Where every site has the same visits, with a detection at some of them, the optimum solves: mean detections where
    /// there were any = K p/p*, and psi p* = share with any (MacKenzie et al. 2002, Ecology 83:2248).
    #[test]
    fn solves_the_likelihood_equations() {
        let d = [0, 0, 0, 0, 2, 1, 3, 1, 0, 1];
        let fit = constant(10, DetectionKernel::Binomial)
            .fit(&d, &[4; 10], None)
            .unwrap();
        assert_eq!(fit.outcome, OccupancyOutcome::Converged);
        let (psi, p) = (fit.psi(0), fit.p(0));
        let missed = (1.0 - p) * (1.0 - p) * (1.0 - p) * (1.0 - p);
        assert!((4.0 * p / (1.0 - missed) - 8.0 / 5.0).abs() < 1e-9);
        assert!((psi * (1.0 - missed) - 0.5).abs() < 1e-9);
    }

    /// The same optimum from everywhere, and never below that of the start or of a binomial kernel.
    #[test]
    fn the_same_optimum_from_everywhere() {
        let sites = 60;
        let mut x = Vec::new();
        for i in 0..sites {
            x.extend([1.0, f64::from(u8::from(i >= sites / 2))]);
        }
        let design = |kernel| OccupancyDesign {
            x: x.clone(),
            columns: 2,
            z: x.clone(),
            detection_columns: 2,
            kernel,
        };
        let mut plain = OccupancyFitter::new(design(DetectionKernel::Binomial)).unwrap();
        let mut correlated = OccupancyFitter::new(design(DetectionKernel::BetaBinomial)).unwrap();
        let (mut at_boundary, mut above) = (0, 0);
        for survey in 0..200 {
            let mut rng = Stream::new(7, survey);
            let (psi, p) = (0.15 + 0.7 * rng.uniform(), 0.08 + 0.5 * rng.uniform());
            let removal = survey % 2 == 0;
            let (d, n): (Vec<u32>, Vec<u32>) = (0..sites)
                .map(|_| draw(&mut rng, psi, p, 4, removal))
                .unzip();
            let half = sites / 2;
            if d[..half].iter().all(|d| *d == 0) || d[half..].iter().all(|d| *d == 0) {
                continue;
            }
            let own = plain.fit(&d, &n, None).unwrap();
            assert!(own.usable(), "{survey}: {:?}", own.outcome);
            at_boundary += usize::from(own.outcome == OccupancyOutcome::AtBoundary);
            for (beta, gamma) in [
                ([0.0, 0.0], [0.0, 0.0]),
                ([2.0, -3.0], [-2.0, 1.0]),
                ([-2.0, 1.0], [2.0, 0.5]),
            ] {
                let start = OccupancyStart {
                    beta: beta.to_vec(),
                    gamma: gamma.to_vec(),
                    rho: None,
                };
                let other = plain.fit(&d, &n, Some(&start)).unwrap();
                assert!(
                    (own.log_likelihood - other.log_likelihood).abs() < 1e-7,
                    "{survey}: {own:?} {other:?}"
                );
            }
            let wider = correlated.fit(&d, &n, None).unwrap();
            assert!(wider.log_likelihood >= own.log_likelihood - 1e-12);
            above += usize::from(wider.log_likelihood > own.log_likelihood + 1e-3);
        }
        assert!(at_boundary > 5 && above > 20, "{at_boundary} {above}");
    }

    /// Leaving the period out never gains, and its likelihood ratio has the chi-square's 5 % (one degree of freedom)
    /// when there is no difference.
    #[test]
    fn nested_models_compare() {
        let sites = 160;
        let mut x = Vec::new();
        for i in 0..sites {
            x.extend([1.0, f64::from(u8::from(i % 2 == 0))]);
        }
        let mut with = OccupancyFitter::new(OccupancyDesign {
            x,
            columns: 2,
            z: vec![1.0; sites],
            detection_columns: 1,
            ..OccupancyDesign::default()
        })
        .unwrap();
        let mut without = constant(sites, DetectionKernel::Binomial);
        let mut beyond = 0.0;
        for survey in 0..1000 {
            let mut rng = Stream::new(8, survey);
            let (d, n): (Vec<u32>, Vec<u32>) = (0..sites)
                .map(|_| draw(&mut rng, 0.6, 0.4, 4, false))
                .unzip();
            let a = with.fit(&d, &n, None).unwrap();
            let b = without.fit(&d, &n, None).unwrap();
            let ratio = 2.0 * (a.log_likelihood - b.log_likelihood);
            assert!(ratio > -1e-9, "{ratio}");
            beyond += f64::from(u8::from(ratio > 3.841_459));
        }
        assert!((beyond / 1000.0 - 0.05_f64).abs() < 0.021, "{beyond}");
    }

    /// Sites that differ: p from a beta distribution of mean .4 and intra-class correlation .25.
    #[test]
    fn recovers_the_correlation_of_detections() {
        let (sites, visits) = (1500, 6);
        let mut fitter = constant(sites, DetectionKernel::BetaBinomial);
        let (a, c) = (1.2, 1.8);
        let (mut covered, surveys) = ([0.0; 3], 60);
        for survey in 0..surveys {
            let mut rng = Stream::new(9, survey);
            let (d, n): (Vec<u32>, Vec<u32>) = (0..sites)
                .map(|_| {
                    let (g, h) = (
                        numerics::draws::gamma(&mut rng, a),
                        numerics::draws::gamma(&mut rng, c),
                    );
                    draw(&mut rng, 0.7, g / (g + h), visits, false)
                })
                .unzip();
            let fit = fitter.fit(&d, &n, None).unwrap();
            let rho = fit.rho.unwrap();
            let got = [fit.beta[0], fit.gamma[0], ln(rho / (1.0 - rho))];
            let want = [ln(0.7 / 0.3), ln(0.4 / 0.6), ln(0.25 / 0.75)];
            for j in 0..3 {
                covered[j] += f64::from(u8::from((got[j] - want[j]).abs() < 1.96 * fit.se(j)));
            }
        }
        // Four standard errors of a share of 60.
        for covered in covered {
            assert!(covered / surveys as f64 > 0.95 - 0.113, "{covered}");
        }
    }

    /// Detections more even than chance: no correlation, and the fit of the binomial kernel.
    #[test]
    fn without_correlation_the_binomial_fit() {
        let d = [2, 2, 2, 0, 0, 2, 2, 0, 1, 3];
        let plain = constant(10, DetectionKernel::Binomial)
            .fit(&d, &[4; 10], None)
            .unwrap();
        let fit = constant(10, DetectionKernel::BetaBinomial)
            .fit(&d, &[4; 10], None)
            .unwrap();
        assert_eq!(fit.outcome, OccupancyOutcome::AtBoundary);
        assert_eq!(fit.rho, Some(0.0));
        assert_eq!(fit.log_likelihood, plain.log_likelihood);
        assert_eq!((fit.se(0), fit.se(1)), (plain.se(0), plain.se(1)));
        assert!(fit.se(2).is_nan() && fit.evaluations > plain.evaluations);
    }

    /// Suprema by hand.
    #[test]
    fn boundaries_have_the_supremum() {
        let close = |got: f64, want: f64| assert!((got - want).abs() < 1e-8, "{got} {want}");
        // Detections so evenly spread that every site seems occupied: the binomial likelihood of all visits.
        let d = [1, 0, 1, 1, 0, 1, 1, 1];
        let fit = constant(8, DetectionKernel::Binomial)
            .fit(&d, &[3; 8], None)
            .unwrap();
        assert_eq!(fit.outcome, OccupancyOutcome::AtBoundary);
        close(fit.log_likelihood, binomial_ln(6.0, 24.0));
        close(fit.p(0), 0.25);
        assert!(fit.psi(0) > 0.999_99 && fit.se(0) > 100.0);
        // Found at every visit of an occupied site.
        let d = [3, 0, 3, 3, 0, 0, 0, 3];
        let fit = constant(8, DetectionKernel::Binomial)
            .fit(&d, &[3; 8], None)
            .unwrap();
        assert_eq!(fit.outcome, OccupancyOutcome::AtBoundary);
        close(fit.log_likelihood, binomial_ln(4.0, 8.0));
        close(fit.psi(0), 0.5);
        assert!((fit.se(0) - 0.5f64.sqrt()).abs() < 1e-6 && fit.p(0) > 0.999_99);
        // The same under removal: found at the first visit or not at all.
        let (d, n) = ([1, 0, 1, 1, 0, 0, 0, 1], [1, 3, 1, 1, 3, 3, 3, 1]);
        let fit = constant(8, DetectionKernel::Binomial)
            .fit(&d, &n, None)
            .unwrap();
        assert_eq!(fit.outcome, OccupancyOutcome::AtBoundary);
        close(fit.log_likelihood, binomial_ln(4.0, 8.0));
        // Found always and everywhere.
        let fit = constant(8, DetectionKernel::Binomial)
            .fit(&[3; 8], &[3; 8], None)
            .unwrap();
        assert_eq!(fit.outcome, OccupancyOutcome::AtBoundary);
        close(fit.log_likelihood, 0.0);
        // Nothing in the second period: the first one's likelihood, with p shared or each period's own.
        let d = [2, 0, 1, 0, 3, 0, 0, 0, 0, 0, 0, 0];
        let first = constant(6, DetectionKernel::Binomial)
            .fit(&d[..6], &[4; 6], None)
            .unwrap();
        assert_eq!(first.outcome, OccupancyOutcome::Converged);
        let mut x = Vec::new();
        for i in 0..12 {
            x.extend([1.0, f64::from(u8::from(i >= 6))]);
        }
        for (z, detection_columns) in [(vec![1.0; 12], 1), (x.clone(), 2)] {
            for kernel in [DetectionKernel::Binomial, DetectionKernel::BetaBinomial] {
                let fit = OccupancyFitter::new(OccupancyDesign {
                    x: x.clone(),
                    columns: 2,
                    z: z.clone(),
                    detection_columns,
                    kernel,
                })
                .unwrap()
                .fit(&d, &[4; 12], None)
                .unwrap();
                assert_eq!(fit.outcome, OccupancyOutcome::AtBoundary);
                if kernel == DetectionKernel::Binomial {
                    close(fit.log_likelihood, first.log_likelihood);
                    assert!((fit.beta[0] - first.beta[0]).abs() < 1e-5);
                    if detection_columns == 1 {
                        assert!((fit.se(0) / first.se(0) - 1.0).abs() < 1e-4);
                    }
                } else {
                    assert!(fit.log_likelihood > first.log_likelihood - 1e-8);
                }
                // With each period's own p, either psi or p may be what is 0.
                assert!(fit.psi(11) * fit.p(11) < 1e-5);
                assert!(fit.se(1).is_nan() || fit.se(1) > 100.0, "{fit:?}");
            }
        }
    }

    #[test]
    fn what_cannot_be_told_is_told() {
        let mut fitter = constant(6, DetectionKernel::Binomial);
        for (d, n, reason) in [
            ([0; 6], [3; 6], "nothing was detected"),
            ([0; 6], [0; 6], "nothing was visited"),
            (
                [1, 0, 1, 0, 0, 0],
                [1; 6],
                "the visits do not tell occupancy from detection",
            ),
        ] {
            let fit = fitter.fit(&d, &n, None).unwrap();
            assert_eq!(fit.outcome, OccupancyOutcome::Failed(reason));
            assert!(!fit.usable() && fit.beta[0].is_nan() && fit.se(0).is_nan());
        }
        // One visit each: the likelihood is the share's all the same.
        let fit = fitter.fit(&[1, 0, 1, 0, 0, 0], &[1; 6], None).unwrap();
        assert!((fit.log_likelihood - binomial_ln(2.0, 6.0)).abs() < 1e-8);
        // A period without visits has no occupancy.
        let x = [1.0, 0.0, 1.0, 0.0, 1.0, 0.0, 1.0, 0.0, 1.0, 1.0, 1.0, 1.0];
        let fit = OccupancyFitter::new(OccupancyDesign {
            x: x.to_vec(),
            columns: 2,
            z: vec![1.0; 6],
            detection_columns: 1,
            ..OccupancyDesign::default()
        })
        .unwrap()
        .fit(&[2, 0, 1, 0, 0, 0], &[3, 3, 3, 3, 0, 0], None)
        .unwrap();
        assert!(!fit.usable(), "{fit:?}");
    }

    #[test]
    fn unsound_data_are_refused() {
        let mut fitter = constant(3, DetectionKernel::BetaBinomial);
        assert_eq!(
            fitter.fit(&[1, 4, 0], &[3; 3], None),
            Err(OccupancyError::Detections {
                row: 2,
                detections: 4,
                visits: 3
            })
        );
        assert!(matches!(
            fitter.fit(&[1, 0], &[3; 3], None),
            Err(OccupancyError::Length {
                got: 2,
                want: 3,
                ..
            })
        ));
        assert!(matches!(
            fitter.fit(&[1, 0, 0], &[3; 4], None),
            Err(OccupancyError::Length { .. })
        ));
        for (beta, gamma, rho) in [
            (vec![0.0, 0.0], vec![0.0], None),
            (vec![f64::NAN], vec![0.0], None),
            (vec![0.0], vec![0.0], Some(1.0)),
        ] {
            let start = OccupancyStart { beta, gamma, rho };
            assert_eq!(
                fitter.fit(&[1, 0, 2], &[3; 3], Some(&start)),
                Err(OccupancyError::Start)
            );
        }
    }

    /// With covariates in both predictors the likelihood can have several optima: few of 200 rows' fits are below the
    /// best of eight other starts, never is one that ended without an estimate, and the true coefficients, given as
    /// start, do no worse.
    #[test]
    fn seldom_another_optimum() {
        let (sites, surveys) = (200, 150);
        let (mut beaten, mut by_start) = (0, 0);
        for survey in 0..surveys {
            let mut rng = Stream::new(10, survey);
            let mut design = OccupancyDesign {
                columns: 3,
                detection_columns: 2,
                ..OccupancyDesign::default()
            };
            for i in 0..sites {
                let v = rng.normal();
                design.x.extend([1.0, v, f64::from(u8::from(i % 2 == 0))]);
                design.z.extend([1.0, rng.normal()]);
            }
            let beta = vec![rng.normal(), 0.5 * rng.normal(), rng.normal()];
            let gamma = vec![0.7 * rng.normal() - 0.5, 0.4 * rng.normal()];
            let (d, n): (Vec<u32>, Vec<u32>) = (0..sites)
                .map(|i| {
                    let psi = inverse(dot(design.x_row(i), &beta));
                    let p = inverse(dot(design.z_row(i), &gamma));
                    draw(&mut rng, psi, p, 2 + (survey % 5) as u32, survey % 2 == 0)
                })
                .unzip();
            let mut fitter = OccupancyFitter::new(design).unwrap();
            let mut best = f64::NEG_INFINITY;
            for _ in 0..8 {
                let mut far = || 2.0 * rng.normal();
                let start = OccupancyStart {
                    beta: vec![far(), far(), far()],
                    gamma: vec![far(), far()],
                    rho: None,
                };
                let fit = fitter.fit(&d, &n, Some(&start)).unwrap();
                best = best.max(fit.log_likelihood);
            }
            let truth = OccupancyStart {
                beta,
                gamma,
                rho: None,
            };
            for (start, beaten) in [(None, &mut beaten), (Some(&truth), &mut by_start)] {
                let fit = fitter.fit(&d, &n, start).unwrap();
                assert!(fit.usable(), "{survey}: {:?}", fit.outcome);
                *beaten += usize::from(fit.log_likelihood < best - 1e-6);
            }
        }
        assert!(beaten <= 6 && by_start <= 6, "{beaten} {by_start}");
    }
}
