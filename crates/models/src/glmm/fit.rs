//! The outer problem: variance parameters (and, by maximum likelihood, the fixed effects).

use super::family::{Family, Law};
use super::gradient::Gradient;
use super::layout::{DataError, Layout};
use super::outcome::{Fit, Outcome, Sds};
use super::start::Start;
use super::state::State;
use numerics::maths::ln;
use numerics::optimise::{Bfgs, Ending, Minimum};

/// Which random terms are in the model.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Terms {
    /// A level for each site.
    pub site: bool,
    /// A level for each year, shared by all sites.
    pub year: bool,
    /// A level for each site in each year.
    pub site_year: bool,
}

/// Which likelihood is maximised.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Likelihood {
    /// Maximum likelihood: shrinks the year SD when years are few.
    Maximum,
    /// Restricted likelihood: the fixed effects are integrated out.
    Restricted,
}

/// A model to fit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Model {
    /// Law of a count.
    pub family: Family,
    /// Random terms.
    pub terms: Terms,
    /// Likelihood.
    pub likelihood: Likelihood,
}

/// The offset of a row without a count (given as 0): its mean is then e^-700, and it says nothing.
pub const MISSING: f64 = -700.0;
/// Smallest and largest dispersion k tried.
pub const K_RANGE: (f64, f64) = (1e-3, 1e6);
/// Fits one model to many sets of counts over one layout, keeping its work space.
#[derive(Clone, Debug)]
pub struct Fitter {
    pub(super) layout: Layout,
    pub(super) model: Model,
    pub(super) state: State,
    pub(super) gradient: Gradient,
    pub(super) constant: f64,
    pub(super) evaluations: usize,
    /// Where the state's mode, factor and gradient belong, and minus the log likelihood there.
    pub(super) at: Option<(Vec<f64>, f64)>,
    metric: Option<Vec<f64>>,
    optimiser: Bfgs,
}

impl Fitter {
    /// A fitter of `model` over `layout`.
    pub fn new(layout: Layout, model: Model) -> Self {
        let inner = model.likelihood == Likelihood::Restricted;
        let columns = layout.columns;
        let state = State::new(&layout, inner, model.terms.year, model.terms.site_year);
        Self {
            layout,
            model,
            state,
            gradient: Gradient {
                beta: vec![0.0; columns],
                ..Gradient::default()
            },
            constant: 0.0,
            evaluations: 0,
            at: None,
            metric: None,
            optimiser: Bfgs::default(),
        }
    }

    /// Sets when the search stops: the gain in log likelihood still promised (1e-11 unless told).
    pub fn set_tolerance(&mut self, tolerance: f64) {
        self.optimiser.tolerance = tolerance;
    }

    /// Changes the offsets (in the caller's row order), as when effort was lost. [`MISSING`] takes a row out.
    ///
    /// # Errors
    /// When there is not one finite offset for each row.
    pub fn set_offset(&mut self, offset: &[f64]) -> Result<(), DataError> {
        let want = self.layout.order.len();
        if offset.len() != want {
            return Err(DataError::Length {
                what: "offset",
                got: offset.len(),
                want,
            });
        }
        for (i, &r) in self.layout.order.iter().enumerate() {
            if !offset[r].is_finite() {
                let bound = "a finite number";
                return Err(DataError::Value {
                    row: r + 1,
                    what: "offset",
                    value: offset[r],
                    bound,
                });
            }
            self.layout.offset[i] = offset[r];
        }
        Ok(())
    }

    /// The layout it works over.
    pub fn layout(&self) -> &Layout {
        &self.layout
    }

    /// Number of fixed effects among the outer parameters.
    pub(super) fn outer_beta(&self) -> usize {
        if self.state.inner_fixed {
            0
        } else {
            self.layout.columns
        }
    }

    fn pack(&self, start: &Start) -> Vec<f64> {
        let t = self.model.terms;
        let mut theta = if self.state.inner_fixed {
            Vec::new()
        } else {
            start.beta.clone()
        };
        let mut add = |on: bool, v: f64| {
            if on {
                theta.push(v);
            }
        };
        add(t.site, start.site_sd);
        add(t.year, start.year_sd);
        add(t.site_year, start.site_year_sd);
        add(
            self.model.family == Family::NegativeBinomial,
            ln(start.k.clamp(K_RANGE.0, K_RANGE.1)),
        );
        theta
    }

    fn load(&mut self, counts: &[f64]) -> Result<(), DataError> {
        let mut y = std::mem::take(&mut self.state.y);
        let loaded = self.layout.sorted(counts, &mut y);
        self.state.y = y;
        loaded?;
        self.state.rising.set(&self.state.y);
        let law = Law {
            family: self.model.family,
            k: 1.0,
        };
        self.constant = self
            .state
            .y
            .iter()
            .zip(&self.layout.trials)
            .map(|(&y, &n)| law.constant(y, n))
            .sum();
        Ok(())
    }

    fn begin(&mut self, start: &Start) -> Vec<f64> {
        self.at = None;
        self.state.z.clear();
        if self.state.inner_fixed {
            let years = self.state.years;
            self.state.z.dense[years..].copy_from_slice(&start.beta);
        }
        self.pack(start)
    }

    /// Learns the shape of the likelihood from one typical set of counts, for fits that start at `start`: the
    /// metric is then shared by all later fits, so that they need few steps and do not depend on each other.
    ///
    /// # Errors
    /// When the counts do not belong to the layout.
    pub fn learn(&mut self, counts: &[f64], start: &Start) -> Result<(), DataError> {
        self.load(counts)?;
        let theta = self.begin(start);
        self.metric = Some(self.metric_at(&theta));
        Ok(())
    }

    fn failed(&self, why: &'static str) -> Fit {
        let p = self.layout.columns;
        let nan = Sds {
            site: f64::NAN,
            year: f64::NAN,
            site_year: f64::NAN,
        };
        Fit {
            outcome: Outcome::Failed(why),
            log_likelihood: f64::NAN,
            beta: vec![f64::NAN; p],
            covariance: vec![f64::NAN; p * p],
            sd: nan,
            sd_se: nan,
            k: f64::NAN,
            ln_k_se: f64::NAN,
            conditional: None,
            evaluations: self.evaluations,
        }
    }

    /// Fits the counts (in the caller's row order), from `start` or from plain values.
    ///
    /// # Errors
    /// When the counts do not belong to the layout or are not whole numbers of 0 or more. A fit that does not
    /// converge is an outcome, not an error.
    pub fn fit(&mut self, counts: &[f64], start: Option<&Start>) -> Result<Fit, DataError> {
        self.load(counts)?;
        self.evaluations = 0;
        if self.state.y.iter().all(|&y| y == 0.0) {
            return Ok(self.failed("every count is 0"));
        }
        if self.layout.rows() <= self.layout.columns {
            return Ok(self.failed("fewer counts than fixed effects"));
        }
        let plain;
        let start = match start {
            Some(s) => s,
            None => {
                plain = Start::plain(&self.layout, &self.state.y, self.model.family);
                &plain
            }
        };
        let theta = self.begin(start);
        let metric = match &self.metric {
            Some(m) => m.clone(),
            None => self.metric_at(&theta),
        };
        let mut found = self.minimise(&theta, &metric);
        if found.ending == Ending::Undefined || found.ending == Ending::Stalled {
            let plain = Start::plain(&self.layout, &self.state.y, self.model.family);
            let theta = self.begin(&plain);
            let metric = self.metric_at(&theta);
            found = self.minimise(&theta, &metric);
        }
        self.settle(&mut found);
        match found.ending {
            Ending::Converged => Ok(self.finish(&found.x)),
            Ending::Stalled => {
                Ok(self.failed("the likelihood could not be raised further, but is not level"))
            }
            Ending::Exhausted => Ok(self.failed("no optimum within the allowed steps")),
            Ending::Undefined => Ok(self.failed("the likelihood is not defined at the start")),
        }
    }

    pub(super) fn minimise(&mut self, theta: &[f64], metric: &[f64]) -> Minimum {
        let n = theta.len();
        let mut bounds = vec![(-1e3, 1e3); n];
        for b in &mut bounds[self.outer_beta()..] {
            *b = (-20.0, 20.0);
        }
        if self.model.family == Family::NegativeBinomial {
            bounds[n - 1] = (ln(K_RANGE.0), ln(K_RANGE.1));
        }
        let optimiser = self.optimiser.clone();
        optimiser.minimise(|x, g| self.evaluate(x, g), theta, &bounds, metric)
    }

    fn finish(&mut self, theta: &[f64]) -> Fit {
        let mut gradient = vec![0.0; theta.len()];
        let value = self.evaluate(theta, &mut gradient);
        let errors = self.standard_errors(theta);
        let p = self.outer_beta();
        let beta = if self.state.inner_fixed {
            errors.beta.clone()
        } else {
            theta[..p].to_vec()
        };
        self.unpack(theta);
        let t = self.model.terms;
        let s = self.state.scales;
        let sd = Sds {
            site: s.site.abs(),
            year: s.year.abs(),
            site_year: s.cell.abs(),
        };
        let nb = self.model.family == Family::NegativeBinomial;
        let singular = (t.site && sd.site < 1e-3)
            || (t.year && sd.year < 1e-3)
            || (t.site_year && sd.site_year < 1e-3);
        let k = if nb { self.state.k } else { f64::INFINITY };
        let at_bound = nb && (k > 0.99 * K_RANGE.1 || k < 1.01 * K_RANGE.0);
        let outcome = if !errors.covariance.iter().all(|v| v.is_finite()) {
            Outcome::Failed("the information matrix is not positive definite")
        } else if at_bound {
            Outcome::AtBound
        } else if singular {
            Outcome::Singular
        } else {
            Outcome::Converged
        };
        Fit {
            outcome,
            log_likelihood: -value,
            beta,
            covariance: errors.covariance,
            sd,
            sd_se: errors.sd,
            k,
            ln_k_se: errors.ln_k,
            conditional: errors.conditional,
            evaluations: self.evaluations,
        }
    }
}
