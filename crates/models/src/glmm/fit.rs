//! The outer problem: variance parameters (and, by maximum likelihood, the fixed effects).

use super::family::{Family, Law};
use super::gradient::Gradient;
use super::layout::{DataError, Layout};
use super::outcome::Fit;
use super::search::{Learned, Trail, fit};
use super::start::Start;
use super::state::State;
use numerics::maths::{ln, slices};
use numerics::optimise::Bfgs;

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
/// The largest dispersion k that a search begins at: the likelihood is nearly level at larger ones, and shows no way
/// back to an optimum among the smaller.
const LARGEST_START: f64 = 100.0;

/// Where a search that is to begin at dispersion `k` begins.
pub(super) fn ln_start(k: f64) -> f64 {
    ln(k.clamp(K_RANGE.0, LARGEST_START))
}

/// Fits one model to many sets of counts over one layout, keeping its work space.
#[derive(Clone, Debug)]
pub struct Fitter {
    pub(super) layout: Layout,
    pub(super) model: Model,
    pub(super) state: State,
    pub(super) gradient: Gradient,
    pub(super) constant: f64,
    pub(super) trail: Trail,
    learned: Option<Learned>,
    pub(super) optimiser: Bfgs,
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
            trail: Trail::default(),
            learned: None,
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

    pub(super) fn pack(&self, start: &Start) -> Vec<f64> {
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
            ln_start(start.k),
        );
        theta
    }

    fn load(&mut self, counts: &[f64]) -> Result<(), DataError> {
        let mut y = std::mem::take(&mut self.state.y);
        let loaded = self.layout.sorted(counts, self.model.family, &mut y);
        self.state.y = y;
        loaded?;
        self.state.rising.set(&self.state.y);
        self.state.total = slices::sum(&self.state.y);
        let law = Law {
            family: self.model.family,
            k: 1.0,
        };
        self.constant = if law.family == Family::Binomial {
            let rows = self.state.y.iter().zip(&self.layout.trials);
            rows.map(|(&y, &n)| law.constant(y, n)).sum()
        } else {
            let factorials = &mut self.state.terms;
            for (f, y) in factorials.iter_mut().zip(&self.state.y) {
                *f = y + 1.0;
            }
            slices::ln_gamma(factorials);
            -slices::sum(factorials)
        };
        Ok(())
    }

    /// Learns the shape of the likelihood from one typical set of counts, for fits that start at `start`: the
    /// metric is then shared by all later fits, so that they need few steps and do not depend on each other.
    ///
    /// # Errors
    /// When the counts do not belong to the layout.
    pub fn learn(&mut self, counts: &[f64], start: &Start) -> Result<(), DataError> {
        self.load(counts)?;
        self.learned = Some(Learned::at(self, start));
        Ok(())
    }

    /// Fits the counts (in the caller's row order), from `start` or from plain values.
    ///
    /// # Errors
    /// When the counts do not belong to the layout, or are not whole numbers of 0 or more (and no more than their
    /// trials). A fit that does not converge is an outcome, not an error.
    pub fn fit(&mut self, counts: &[f64], start: Option<&Start>) -> Result<Fit, DataError> {
        self.load(counts)?;
        let learned = self.learned.take();
        let fit = fit(self, start, learned.as_ref());
        self.learned = learned;
        Ok(fit)
    }
}
