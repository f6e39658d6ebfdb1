//! What is known of each row before any count, and where a fit starts.

use super::super::layout::DataError;
use super::super::{Family, MISSING};
use numerics::maths::{exp, ln};

/// One random term: row i gets `sd * weight_i * sum_j loadings[level_i, j] z_j`, with independent z_j ~ N(0, 1).
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Grouping {
    /// What it is called in messages.
    pub name: String,
    /// Level of each row, 0-based. Groups nested in others get numbers of their own (site-year, not year within site).
    pub level: Vec<usize>,
    /// A covariate of each row that the effect is multiplied by, as centred years for a random slope; `None` for 1.
    pub weight: Option<Vec<f64>>,
    /// Lower triangular Cholesky factor of the levels' given correlation, levels by levels, row-major; `None` for
    /// independent levels. With it, levels without rows count too (a year without a survey).
    pub loadings: Option<Vec<f64>>,
}

/// Everything known of the rows: fixed effects, offsets, trials and random terms.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct GeneralDesign {
    /// Fixed-effect covariates, row-major, `columns` for each row (with a column of ones for the intercept).
    pub x: Vec<f64>,
    /// Number of fixed effects.
    pub columns: usize,
    /// Offset of each row on the link scale; [`MISSING`] takes a row (with count 0) out.
    pub offset: Vec<f64>,
    /// Trials of each row (binomial only; empty otherwise, or for one trial each).
    pub trials: Vec<f64>,
    /// Random terms.
    pub groupings: Vec<Grouping>,
}

/// Starting values. A simulated fit starts at the truth.
#[derive(Clone, Debug, PartialEq)]
pub struct GeneralStart {
    /// Fixed effects.
    pub beta: Vec<f64>,
    /// Standard deviation of each grouping.
    pub sd: Vec<f64>,
    /// Dispersion k (NB2).
    pub k: f64,
}

fn length(what: &'static str, got: usize, want: usize) -> Result<(), DataError> {
    if got == want {
        Ok(())
    } else {
        Err(DataError::Length { what, got, want })
    }
}

fn every(
    what: &'static str,
    values: &[f64],
    columns: usize,
    bound: &'static str,
    holds: impl Fn(f64) -> bool,
) -> Result<(), DataError> {
    match values.iter().position(|&v| !holds(v)) {
        None => Ok(()),
        Some(i) => Err(DataError::Value {
            row: i / columns.max(1) + 1,
            what,
            value: values[i],
            bound,
        }),
    }
}

const FINITE: &str = "a finite number";

impl GeneralDesign {
    /// Number of rows.
    pub fn rows(&self) -> usize {
        self.offset.len()
    }

    pub(super) fn check(&self) -> Result<(), DataError> {
        let n = self.rows();
        if n == 0 {
            return Err(DataError::Empty);
        }
        length("x", self.x.len(), n * self.columns)?;
        every("offset", &self.offset, 1, FINITE, f64::is_finite)?;
        every("a covariate", &self.x, self.columns, FINITE, f64::is_finite)?;
        if !self.trials.is_empty() {
            length("trials", self.trials.len(), n)?;
            let number = |v: f64| v > 0.0 && v.is_finite();
            every("the number of trials", &self.trials, 1, "above 0", number)?;
        }
        self.groupings.iter().try_for_each(|g| g.check(n))
    }
}

impl Grouping {
    fn check(&self, rows: usize) -> Result<(), DataError> {
        length("the level of a random term", self.level.len(), rows)?;
        let wrong = |why| {
            Err(DataError::Grouping {
                name: self.name.clone(),
                why,
            })
        };
        if let Some(weight) = &self.weight {
            length("the weight of a random term", weight.len(), rows)?;
            every(
                "the weight of a random term",
                weight,
                1,
                FINITE,
                f64::is_finite,
            )?;
            if weight.iter().all(|&w| w == 0.0) {
                return wrong("its weight is 0 in every row");
            }
        }
        let Some(loadings) = &self.loadings else {
            return Ok(());
        };
        let levels = loadings.len().isqrt();
        if levels * levels != loadings.len() {
            return wrong("its loadings are not a square matrix");
        }
        if self.level.iter().any(|&l| l >= levels) {
            return wrong("a level has no row in its loadings");
        }
        for (i, row) in loadings.chunks_exact(levels).enumerate() {
            let (lower, upper) = row.split_at(i + 1);
            let sound = lower.iter().all(|v| v.is_finite()) && lower[i] > 0.0;
            if !sound || upper.iter().any(|&v| v != 0.0) {
                return wrong(
                    "its loadings must be lower triangular, finite, and above 0 on the diagonal",
                );
            }
        }
        Ok(())
    }
}

impl GeneralStart {
    pub(super) fn check(&self, columns: usize, groupings: usize) -> Result<(), DataError> {
        let finite = self.beta.iter().chain(&self.sd).all(|v| v.is_finite()) && self.k > 0.0;
        if finite && self.beta.len() == columns && self.sd.len() == groupings {
            Ok(())
        } else {
            Err(DataError::Start)
        }
    }

    /// Plain values from the overall mean; the intercept is the first column that is all ones. Standard deviations are
    /// those of the predictor.
    pub(super) fn plain(design: &GeneralDesign, y: &[f64], family: Family) -> Self {
        let (n, p) = (design.rows(), design.columns);
        let total: f64 = y.iter().sum();
        let mut beta = vec![0.0; p];
        let ones = |j: &usize| (0..n).all(|i| design.x[i * p + j] == 1.0);
        if let Some(j) = (0..p).find(ones) {
            beta[j] = if family == Family::Binomial {
                let there = |i: &usize| design.offset[*i] > MISSING;
                let trials: f64 = (0..n).filter(there).map(|i| design.trials[i]).sum();
                ln((total + 0.5) / (trials - total + 0.5))
            } else {
                let effort: f64 = design.offset.iter().map(|&o| exp(o)).sum();
                ln((total + 0.5) / effort)
            };
        }
        Self {
            beta,
            sd: vec![0.3; design.groupings.len()],
            k: 1.5,
        }
    }
}
