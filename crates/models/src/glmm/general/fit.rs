//! A model with any random terms, fitted to many sets of counts over one layout.

use super::super::covariance::standard_errors;
use super::super::family::{Family, Law};
use super::super::fit::Likelihood;
use super::super::layout::DataError;
use super::super::outcome::Outcome;
use super::super::satterthwaite::Conditional;
use super::super::search::{Search, find, metric_at, outcome, reason};
use super::design::{GeneralDesign, GeneralStart};
use super::gradient::Gradient;
use super::incidence::Incidence;
use super::state::State;
use numerics::maths::exp;
use numerics::optimise::Bfgs;

/// Fits one model to many sets of counts over one layout, keeping its work space.
#[derive(Clone, Debug)]
pub struct GeneralFitter {
    pub(super) incidence: Incidence,
    pub(super) family: Family,
    pub(super) state: State,
    pub(super) gradient: Gradient,
    pub(super) constant: f64,
    pub(super) evaluations: usize,
    /// Where the state's mode, factor and gradient belong, and minus the log likelihood there.
    pub(super) at: Option<(Vec<f64>, f64)>,
    metric: Option<Vec<f64>>,
    pub(super) optimiser: Bfgs,
}

/// A fitted model. Standard errors are NaN where the information is not positive definite or the SD is 0.
#[derive(Clone, Debug, PartialEq)]
pub struct GeneralFit {
    /// How it ended; when failed, the numbers below are not to be used.
    pub outcome: Outcome,
    /// Laplace log likelihood (restricted or not) at the optimum.
    pub log_likelihood: f64,
    /// Fixed effects.
    pub beta: Vec<f64>,
    /// Their covariance from the full observed information, p by p, row-major.
    pub covariance: Vec<f64>,
    /// Standard deviation of each grouping, on the link scale (for a random slope: per unit of its weight).
    pub sd: Vec<f64>,
    /// Their standard errors.
    pub sd_se: Vec<f64>,
    /// Dispersion k (infinite for Poisson and binomial).
    pub k: f64,
    /// Standard error of log k.
    pub ln_k_se: f64,
    /// For degrees of freedom of contrasts: restricted likelihood, and only where the information is definite.
    pub conditional: Option<Conditional>,
    /// Evaluations of the likelihood in all.
    pub evaluations: usize,
}

impl GeneralFit {
    /// Standard error of fixed effect j.
    pub fn se(&self, j: usize) -> f64 {
        self.covariance[j * self.beta.len() + j].sqrt()
    }

    /// Whether the estimates may be used.
    pub fn usable(&self) -> bool {
        !matches!(self.outcome, Outcome::Failed(_))
    }

    /// Satterthwaite's degrees of freedom of a contrast (p weights of the fixed effects), see
    /// [`Conditional::degrees_of_freedom`]. `None` by maximum likelihood and where the fit does not allow an answer.
    pub fn satterthwaite(&self, contrast: &[f64]) -> Option<f64> {
        let usable = self.usable() && contrast.len() == self.beta.len();
        let conditional = self.conditional.as_ref().filter(|_| usable)?;
        conditional.degrees_of_freedom(contrast)
    }
}

impl GeneralFitter {
    /// A fitter of a model over a layout: checks it, and works out the order of elimination.
    ///
    /// # Errors
    /// When there are no rows, a vector has the wrong length, a number is not finite, or a grouping's weight or loadings
    /// are not sound.
    pub fn new(
        design: &GeneralDesign,
        family: Family,
        likelihood: Likelihood,
    ) -> Result<Self, DataError> {
        let incidence = Incidence::new(design.clone(), likelihood == Likelihood::Restricted)?;
        let state = State::new(&incidence);
        Ok(Self {
            incidence,
            family,
            state,
            gradient: Gradient::default(),
            constant: 0.0,
            evaluations: 0,
            at: None,
            metric: None,
            optimiser: Bfgs::default(),
        })
    }

    /// Sets when the search stops: the gain in log likelihood still promised (1e-11 unless told).
    pub fn set_tolerance(&mut self, tolerance: f64) {
        self.optimiser.tolerance = tolerance;
    }

    /// Changes the offsets, as when effort was lost; [`super::super::MISSING`] takes a row (with count 0) out.
    ///
    /// # Errors
    /// When there is not one finite offset for each row.
    pub fn set_offset(&mut self, offset: &[f64]) -> Result<(), DataError> {
        let want = self.incidence.rows();
        if offset.len() != want {
            return Err(DataError::Length {
                what: "offset",
                got: offset.len(),
                want,
            });
        }
        if let Some(row) = offset.iter().position(|o| !o.is_finite()) {
            return Err(DataError::Value {
                row: row + 1,
                what: "offset",
                value: offset[row],
                bound: "a finite number",
            });
        }
        self.incidence.design.offset.copy_from_slice(offset);
        self.at = None;
        Ok(())
    }

    fn load(&mut self, counts: &[f64]) -> Result<(), DataError> {
        let want = self.incidence.rows();
        if counts.len() != want {
            return Err(DataError::Length {
                what: "counts",
                got: counts.len(),
                want,
            });
        }
        let trials = &self.incidence.design.trials;
        for (row, (&y, &trials)) in counts.iter().zip(trials).enumerate() {
            let binomial = self.family == Family::Binomial;
            let bound = if !(y >= 0.0 && y.is_finite() && y.fract() == 0.0) {
                "a whole number of 0 or more"
            } else if binomial && y > trials {
                "no more than its trials"
            } else {
                continue;
            };
            return Err(DataError::Value {
                row: row + 1,
                what: "the count",
                value: y,
                bound,
            });
        }
        self.at = None;
        self.state.y.copy_from_slice(counts);
        self.state.rising.set(counts);
        let law = Law {
            family: self.family,
            k: 1.0,
        };
        let rows = counts.iter().zip(trials);
        self.constant = rows.map(|(&y, &n)| law.constant(y, n)).sum();
        Ok(())
    }

    /// A caller's start with the standard deviations of the predictor.
    fn own_start(&self, start: &GeneralStart) -> Result<GeneralStart, DataError> {
        let scale = &self.incidence.scale;
        start.check(self.incidence.design.columns, scale.len())?;
        let sd = start.sd.iter().zip(scale).map(|(sd, s)| sd * s);
        Ok(GeneralStart {
            sd: sd.collect(),
            ..start.clone()
        })
    }

    /// Learns the shape of the likelihood from one typical set of counts, for fits that start at `start`: the
    /// metric is then shared by all later fits, so that they need few steps and do not depend on each other.
    ///
    /// # Errors
    /// When the counts or the start do not belong to the layout.
    pub fn learn(&mut self, counts: &[f64], start: &GeneralStart) -> Result<(), DataError> {
        let start = self.own_start(start)?;
        self.load(counts)?;
        let theta = self.begin(&start);
        self.metric = Some(metric_at(self, &theta));
        Ok(())
    }

    fn failed(&self, why: &'static str) -> GeneralFit {
        let (p, groups) = (self.incidence.design.columns, self.incidence.groups);
        GeneralFit {
            outcome: Outcome::Failed(why),
            log_likelihood: f64::NAN,
            beta: vec![f64::NAN; p],
            covariance: vec![f64::NAN; p * p],
            sd: vec![f64::NAN; groups],
            sd_se: vec![f64::NAN; groups],
            k: f64::NAN,
            ln_k_se: f64::NAN,
            conditional: None,
            evaluations: self.evaluations,
        }
    }

    /// Fits the counts, from `start` or from plain values.
    ///
    /// # Errors
    /// When the counts or the start do not belong to the layout, or the counts are not whole numbers of 0 or more (and
    /// no more than their trials). A fit that does not converge is an outcome, not an error.
    pub fn fit(
        &mut self,
        counts: &[f64],
        start: Option<&GeneralStart>,
    ) -> Result<GeneralFit, DataError> {
        let start = start.map(|s| self.own_start(s)).transpose()?;
        self.load(counts)?;
        self.evaluations = 0;
        if counts.iter().all(|&y| y == 0.0) {
            return Ok(self.failed("every count is 0"));
        }
        if self.incidence.rows() <= self.incidence.design.columns {
            return Ok(self.failed("fewer counts than fixed effects"));
        }
        let metric = self.metric.clone();
        let found = find(self, start.as_ref(), metric);
        Ok(match reason(found.ending) {
            None => self.finish(&found.x),
            Some(why) => self.failed(why),
        })
    }

    fn finish(&mut self, theta: &[f64]) -> GeneralFit {
        let mut gradient = vec![0.0; theta.len()];
        let value = self.value_and_gradient(theta, &mut gradient);
        let errors = standard_errors(self, theta);
        let shape = self.shape();
        let outcome = outcome(self, theta, &errors);
        let beta = if shape.inner_fixed {
            errors.beta
        } else {
            theta[..shape.columns].to_vec()
        };
        let per_unit = |values: &[f64]| {
            let scale = &self.incidence.scale;
            values.iter().zip(scale).map(|(v, s)| v.abs() / s).collect()
        };
        GeneralFit {
            outcome,
            log_likelihood: -value,
            beta,
            covariance: errors.covariance,
            sd: per_unit(&theta[shape.sds()]),
            sd_se: per_unit(&errors.sd),
            k: if shape.dispersion {
                exp(theta[theta.len() - 1])
            } else {
                f64::INFINITY
            },
            ln_k_se: errors.ln_k,
            conditional: errors.conditional,
            evaluations: self.evaluations,
        }
    }
}
