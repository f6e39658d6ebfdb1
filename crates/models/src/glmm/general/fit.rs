//! A model with any random terms, fitted to many sets of counts over one layout.

use super::super::family::{Family, Law};
use super::super::fit::Likelihood;
use super::super::layout::{DataError, check_count};
use super::super::outcome::Fit;
use super::super::search::{Learned, Trail, fit};
use super::design::{GeneralDesign, GeneralStart};
use super::gradient::Gradient;
use super::incidence::Incidence;
use super::state::State;
use numerics::optimise::Bfgs;

/// Fits one model to many sets of counts over one layout, keeping its work space.
#[derive(Clone, Debug)]
pub struct GeneralFitter {
    pub(super) incidence: Incidence,
    pub(super) family: Family,
    pub(super) state: State,
    pub(super) gradient: Gradient,
    pub(super) constant: f64,
    pub(super) trail: Trail,
    learned: Option<Learned>,
    pub(super) optimiser: Bfgs,
}

/// A fitted general model: a standard deviation for each grouping, per unit of its weight.
pub type GeneralFit = Fit<Vec<f64>>;

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
            trail: Trail::default(),
            learned: None,
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
        self.trail.at = None;
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
            check_count(row, y, trials, self.family)?;
        }
        self.trail.at = None;
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
        self.learned = Some(Learned::at(self, &start));
        Ok(())
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
        let learned = self.learned.take();
        let fit = fit(self, start.as_ref(), learned.as_ref());
        self.learned = learned;
        Ok(fit)
    }
}
