//! What is known of each row before any visit, and what is refused.

use numerics::linalg::cholesky;
use thiserror::Error;

/// Why no model can be made of the data.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum OccupancyError {
    /// There is nothing to fit.
    #[error("no rows to fit: give at least one site")]
    Empty,
    /// A linear predictor has no columns.
    #[error("{what} has no columns: give at least an intercept")]
    NoColumns {
        /// The matrix.
        what: &'static str,
    },
    /// A vector is not as long as it must be.
    #[error("{what} has {got} values, it must have {want}")]
    Length {
        /// The vector.
        what: &'static str,
        /// Its length.
        got: usize,
        /// What it must be.
        want: usize,
    },
    /// A covariate is not a finite number.
    #[error("row {row}: {what} holds a value that is not a finite number")]
    Value {
        /// Row, from 1.
        row: usize,
        /// The matrix.
        what: &'static str,
    },
    /// One column is a combination of others.
    #[error("the columns of {what} are not independent: one is a combination of the others")]
    Dependent {
        /// The matrix.
        what: &'static str,
    },
    /// More visits with a detection than visits.
    #[error("row {row}: {detections} visits with a detection, but only {visits} visits")]
    Detections {
        /// Row, from 1.
        row: usize,
        /// Visits with a detection.
        detections: u32,
        /// Visits.
        visits: u32,
    },
    /// Starting values do not belong to the model.
    #[error("the start must have a finite number for each column, and rho between 0 and 1")]
    Start,
}

/// Whether occupied sites are alike in how easily the species is found there.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum DetectionKernel {
    /// They are, as far as the covariates do not tell them apart.
    #[default]
    Binomial,
    /// Their p is drawn from a beta distribution.
    BetaBinomial,
}

/// Covariates of each row.
#[derive(Clone, Debug, Default)]
pub struct OccupancyDesign {
    /// Covariates of occupancy, row-major, `columns` for each row (with a column of ones for the intercept).
    pub x: Vec<f64>,
    /// Number of coefficients of occupancy, 1 or more.
    pub columns: usize,
    /// Covariates of detection, row-major, `detection_columns` for each row.
    pub z: Vec<f64>,
    /// Number of coefficients of detection, 1 or more.
    pub detection_columns: usize,
    /// Whether occupied sites are alike.
    pub kernel: DetectionKernel,
}

/// Where a search begins: coefficients, and the intra-class correlation (looked at with the beta-binomial kernel only).
#[derive(Clone, Debug, PartialEq)]
pub struct OccupancyStart {
    /// Coefficients of logit psi.
    pub beta: Vec<f64>,
    /// Coefficients of logit p.
    pub gamma: Vec<f64>,
    /// Intra-class correlation, between 0 and 1; a tenth when not given.
    pub rho: Option<f64>,
}

impl OccupancyDesign {
    /// Number of rows, once checked.
    pub(super) fn rows(&self) -> usize {
        self.x.len() / self.columns
    }

    /// Number of coefficients of both predictors.
    pub(super) fn coefficients(&self) -> usize {
        self.columns + self.detection_columns
    }

    /// The covariates of occupancy of a row.
    pub(super) fn x_row(&self, row: usize) -> &[f64] {
        &self.x[row * self.columns..(row + 1) * self.columns]
    }

    /// The covariates of detection of a row.
    pub(super) fn z_row(&self, row: usize) -> &[f64] {
        &self.z[row * self.detection_columns..(row + 1) * self.detection_columns]
    }

    /// The coefficients of both predictors that come nearest to a predictor of 1 everywhere (its intercept, where there
    /// is one).
    pub(super) fn ones(&self) -> Result<Vec<f64>, OccupancyError> {
        if self.x.is_empty() {
            return Err(OccupancyError::Empty);
        }
        let mut out = Vec::with_capacity(self.coefficients());
        let rows = self.x.len() / self.columns.max(1);
        for (what, values, columns) in [
            ("the design of occupancy", &self.x, self.columns),
            ("the design of detection", &self.z, self.detection_columns),
        ] {
            if columns == 0 {
                return Err(OccupancyError::NoColumns { what });
            }
            if values.len() != rows * columns {
                return Err(OccupancyError::Length {
                    what,
                    got: values.len(),
                    want: rows * columns,
                });
            }
            if let Some(at) = values.iter().position(|v| !v.is_finite()) {
                let row = at / columns + 1;
                return Err(OccupancyError::Value { row, what });
            }
            out.extend(constant(values, columns).ok_or(OccupancyError::Dependent { what })?);
        }
        Ok(out)
    }
}

/// Least squares of 1 on the columns, which are taken to length 1 first; `None` when they are dependent.
fn constant(values: &[f64], columns: usize) -> Option<Vec<f64>> {
    /// What is left of a column's square beside the others.
    const LEFT: f64 = 1e-12;
    let scale: Vec<f64> = (0..columns)
        .map(|j| {
            let squares: f64 = values.chunks_exact(columns).map(|r| r[j] * r[j]).sum();
            squares.sqrt()
        })
        .collect();
    let mut a = vec![0.0; columns * columns];
    let mut b = vec![0.0; columns];
    for row in values.chunks_exact(columns) {
        for i in 0..columns {
            b[i] += row[i] / scale[i];
            for j in 0..columns {
                a[i * columns + j] += row[i] / scale[i] * row[j] / scale[j];
            }
        }
    }
    let sound = cholesky::factor(&mut a, columns)
        && (0..columns).all(|i| a[i * columns + i] * a[i * columns + i] > LEFT);
    if !sound {
        return None;
    }
    cholesky::solve(&a, columns, &mut b);
    b.iter_mut().zip(&scale).for_each(|(b, s)| *b /= s);
    Some(b)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn design(x: &[f64], columns: usize, z: &[f64], detection_columns: usize) -> OccupancyDesign {
        OccupancyDesign {
            x: x.to_vec(),
            columns,
            z: z.to_vec(),
            detection_columns,
            kernel: DetectionKernel::Binomial,
        }
    }

    #[test]
    fn nearest_to_a_constant() {
        let x = [1.0, 2019.0, 1.0, 2020.0, 1.0, 2021.0];
        let z = [1.0, 0.0, 1.0, 0.0, 0.0, 1.0];
        let ones = design(&x, 2, &z, 2).ones().unwrap();
        for (got, want) in ones.iter().zip([1.0, 0.0, 1.0, 1.0]) {
            assert!((got - want).abs() < 1e-6, "{ones:?}");
        }
    }

    #[test]
    fn unsound_designs_are_refused() {
        let one = [1.0; 3];
        assert_eq!(design(&[], 1, &[], 1).ones(), Err(OccupancyError::Empty));
        assert!(matches!(
            design(&one, 1, &one, 0).ones(),
            Err(OccupancyError::NoColumns { .. })
        ));
        assert!(matches!(
            design(&one, 0, &one, 1).ones(),
            Err(OccupancyError::NoColumns { .. })
        ));
        assert!(matches!(
            design(&one, 1, &one[..2], 1).ones(),
            Err(OccupancyError::Length {
                got: 2,
                want: 3,
                ..
            })
        ));
        assert!(matches!(
            design(&one, 2, &one, 1).ones(),
            Err(OccupancyError::Length { .. })
        ));
        assert!(matches!(
            design(&one, 1, &[1.0, f64::NAN, 1.0], 1).ones(),
            Err(OccupancyError::Value { row: 2, .. })
        ));
        assert!(matches!(
            design(&[1.0, 3.0, 1.0, 3.0, 1.0, 3.0], 2, &one, 1).ones(),
            Err(OccupancyError::Dependent { .. })
        ));
        assert!(matches!(
            design(&[1.0, 0.0, 1.0, 0.0, 1.0, 0.0], 2, &one, 1).ones(),
            Err(OccupancyError::Dependent { .. })
        ));
    }
}
