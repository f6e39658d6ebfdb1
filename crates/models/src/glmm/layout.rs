//! Which row belongs to which site, year and site-year cell, in the order the elimination walks them.

use super::family::Family;
use super::kinds::Kinds;
use thiserror::Error;

/// Why no model can be made of the data.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum DataError {
    /// There is nothing to fit.
    #[error("no rows to fit: give at least one count")]
    Empty,
    /// A vector is not as long as the counts.
    #[error("{what} has {got} values, the counts have {want}: give one for each row")]
    Length {
        /// The vector.
        what: &'static str,
        /// Its length.
        got: usize,
        /// The number of rows.
        want: usize,
    },
    /// A number is out of its bounds.
    #[error("row {row}: {what} is {value}, it must be {bound}")]
    Value {
        /// Row, from 1.
        row: usize,
        /// The quantity.
        what: &'static str,
        /// Its value.
        value: f64,
        /// What it may be.
        bound: &'static str,
    },
    /// A random term is not sound.
    #[error("random term {name:?}: {why}")]
    Grouping {
        /// Its name.
        name: String,
        /// What is wrong with it.
        why: &'static str,
    },
    /// Starting values do not belong to the model.
    #[error(
        "the start must have a finite number for each fixed effect and each random term, and k above 0"
    )]
    Start,
}

/// What is known of each row before any count: groups, covariates and offset.
#[derive(Clone, Debug, Default)]
pub struct Design {
    /// Site of each row, 0-based.
    pub site: Vec<usize>,
    /// Year of each row, 0-based.
    pub year: Vec<usize>,
    /// Fixed-effect covariates, row-major, `columns` for each row (with a column of ones for the intercept).
    pub x: Vec<f64>,
    /// Number of fixed effects.
    pub columns: usize,
    /// Offset of each row on the link scale.
    pub offset: Vec<f64>,
    /// Trials of each row (binomial only; empty otherwise).
    pub trials: Vec<f64>,
}

/// One site-year with its rows `start..end` in sorted order.
#[derive(Clone, Copy, Debug)]
pub(super) struct Cell {
    pub site: usize,
    pub year: usize,
    pub start: usize,
    pub end: usize,
}

/// A design in elimination order.
#[derive(Clone, Debug)]
pub struct Layout {
    /// `order[i]` is the caller's row at sorted place i.
    pub(super) order: Vec<usize>,
    pub(super) cells: Vec<Cell>,
    /// Cells of each site: `start..end`.
    pub(super) sites: Vec<(usize, usize)>,
    pub(super) years: usize,
    pub(super) columns: usize,
    pub(super) x: Vec<f64>,
    pub(super) offset: Vec<f64>,
    pub(super) trials: Vec<f64>,
    pub(super) kinds: Kinds,
}

impl Layout {
    /// Sorts and checks a design.
    ///
    /// # Errors
    /// When there are no rows, a vector has the wrong length, or a number is not finite.
    pub fn new(design: &Design) -> Result<Self, DataError> {
        let n = design.site.len();
        if n == 0 {
            return Err(DataError::Empty);
        }
        let length = |what, got, want| {
            if got == want {
                Ok(())
            } else {
                Err(DataError::Length { what, got, want })
            }
        };
        length("year", design.year.len(), n)?;
        length("offset", design.offset.len(), n)?;
        length("x", design.x.len(), n * design.columns)?;
        if !design.trials.is_empty() {
            length("trials", design.trials.len(), n)?;
        }
        let finite = |what, row: usize, value: f64| {
            if value.is_finite() {
                Ok(())
            } else {
                Err(DataError::Value {
                    row: row + 1,
                    what,
                    value,
                    bound: "a finite number",
                })
            }
        };
        for row in 0..n {
            finite("offset", row, design.offset[row])?;
            for j in 0..design.columns {
                finite("a covariate", row, design.x[row * design.columns + j])?;
            }
        }
        let mut order: Vec<usize> = (0..n).collect();
        order.sort_by_key(|&r| (design.site[r], design.year[r], r));
        let mut cells: Vec<Cell> = Vec::new();
        let mut sites: Vec<(usize, usize)> = Vec::new();
        let mut years = 0;
        let mut last = None;
        for (i, &r) in order.iter().enumerate() {
            let key = (design.site[r], design.year[r]);
            years = years.max(key.1 + 1);
            match (last, cells.last_mut()) {
                (Some(l), Some(cell)) if l == key => cell.end = i + 1,
                _ => {
                    if last.is_none_or(|l: (usize, usize)| l.0 != key.0) {
                        sites.push((cells.len(), cells.len()));
                    }
                    let site = sites.len() - 1;
                    cells.push(Cell {
                        site,
                        year: key.1,
                        start: i,
                        end: i + 1,
                    });
                    sites[site].1 = cells.len();
                }
            }
            last = Some(key);
        }
        let p = design.columns;
        let x: Vec<f64> = order
            .iter()
            .flat_map(|&r| design.x[r * p..(r + 1) * p].iter().copied())
            .collect();
        let kinds = Kinds::new(&cells, &x, p);
        let offset = order.iter().map(|&r| design.offset[r]).collect();
        let trials = if design.trials.is_empty() {
            vec![1.0; n]
        } else {
            order.iter().map(|&r| design.trials[r]).collect()
        };
        Ok(Self {
            order,
            cells,
            sites,
            years,
            columns: p,
            x,
            offset,
            trials,
            kinds,
        })
    }

    /// Number of rows.
    pub fn rows(&self) -> usize {
        self.order.len()
    }

    /// Number of sites that have rows.
    pub fn site_count(&self) -> usize {
        self.sites.len()
    }

    /// Rows of a site, in sorted order.
    #[inline(always)]
    pub(super) fn rows_of(&self, site: usize) -> std::ops::Range<usize> {
        let (first, last) = self.sites[site];
        self.cells[first].start..self.cells[last - 1].end
    }

    /// Puts the caller's counts into sorted order, checking them.
    pub(super) fn sorted(
        &self,
        counts: &[f64],
        family: Family,
        into: &mut Vec<f64>,
    ) -> Result<(), DataError> {
        let want = self.order.len();
        if counts.len() != want {
            return Err(DataError::Length {
                what: "counts",
                got: counts.len(),
                want,
            });
        }
        into.clear();
        for (&r, &trials) in self.order.iter().zip(&self.trials) {
            let y = counts[r];
            check_count(r, y, trials, family)?;
            into.push(y);
        }
        Ok(())
    }
}

/// Checks the count of a row (from 0) against its law.
pub(super) fn check_count(
    row: usize,
    count: f64,
    trials: f64,
    family: Family,
) -> Result<(), DataError> {
    let bound = if !(count >= 0.0 && count.is_finite() && count.fract() == 0.0) {
        "a whole number of 0 or more"
    } else if family == Family::Binomial && count > trials {
        "no more than its trials"
    } else {
        return Ok(());
    };
    Err(DataError::Value {
        row: row + 1,
        what: "the count",
        value: count,
        bound,
    })
}
