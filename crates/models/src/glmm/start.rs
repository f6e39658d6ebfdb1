//! Where a fit starts.

use super::family::Family;
use super::layout::Layout;
use numerics::maths::ln;

/// Starting values. A simulated fit starts at the truth.
#[derive(Clone, Debug, PartialEq)]
pub struct Start {
    /// Fixed effects.
    pub beta: Vec<f64>,
    /// Standard deviation of sites.
    pub site_sd: f64,
    /// Standard deviation of years.
    pub year_sd: f64,
    /// Standard deviation of site-years.
    pub site_year_sd: f64,
    /// Dispersion k (NB2).
    pub k: f64,
}

impl Start {
    /// Plain values from the overall mean; the intercept is the first column that is all ones.
    pub(super) fn plain(layout: &Layout, y: &[f64], family: Family) -> Self {
        let p = layout.columns;
        let total: f64 = y.iter().sum();
        let mut beta = vec![0.0; p];
        let intercept = (0..p).find(|&j| (0..layout.rows()).all(|i| layout.x[i * p + j] == 1.0));
        if let Some(j) = intercept {
            beta[j] = if family == Family::Binomial {
                let trials: f64 = layout.trials.iter().sum();
                ln((total + 0.5) / (trials - total + 0.5))
            } else {
                let effort: f64 = layout.offset.iter().map(|&o| numerics::maths::exp(o)).sum();
                ln((total + 0.5) / effort)
            };
        }
        Self {
            beta,
            site_sd: 0.5,
            year_sd: 0.2,
            site_year_sd: 0.3,
            k: 1.5,
        }
    }
}
