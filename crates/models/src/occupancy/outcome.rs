//! What a fit gives back.

/// How a fit ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OccupancyOutcome {
    /// An optimum with every probability inside its range.
    Converged,
    /// The likelihood rises without end as some row's psi or p, or rho, goes to 0 or 1. The log likelihood is its
    /// supremum, so that likelihood-ratio tests hold; coefficients that run off are large, with standard errors larger
    /// still or NaN.
    AtBoundary,
    /// No estimate, with the reason.
    Failed(&'static str),
}

/// A fitted occupancy model.
#[derive(Clone, Debug, PartialEq)]
pub struct OccupancyFit {
    /// How it ended; when failed, estimates are NaN.
    pub outcome: OccupancyOutcome,
    /// Log likelihood at the optimum, without the constants of the orders of the visits: comparable between models of
    /// the same detections and visits. When nothing was detected 0, its supremum in any model with an intercept.
    pub log_likelihood: f64,
    /// Coefficients of logit psi.
    pub beta: Vec<f64>,
    /// Coefficients of logit p.
    pub gamma: Vec<f64>,
    /// Intra-class correlation of detections at an occupied site: with the beta-binomial kernel only. 0 when the
    /// binomial kernel fits as well.
    pub rho: Option<f64>,
    /// Covariance of (beta, gamma, logit rho), row-major, the inverse of the observed information. NaN where that is
    /// not positive definite, and for logit rho when rho is 0.
    pub covariance: Vec<f64>,
    /// Evaluations of the likelihood in all.
    pub evaluations: usize,
    pub(super) psi: Vec<f64>,
    pub(super) p: Vec<f64>,
}

impl OccupancyFit {
    /// Standard error of parameter j of (beta, gamma, logit rho).
    pub fn se(&self, j: usize) -> f64 {
        let m = self.beta.len() + self.gamma.len() + usize::from(self.rho.is_some());
        self.covariance[j * m + j].sqrt()
    }

    /// Fitted probability that the row's site is occupied, whatever was found there; NaN when failed.
    pub fn psi(&self, row: usize) -> f64 {
        self.psi[row]
    }

    /// Fitted (mean) probability of a detection at one visit of the row's site when occupied; NaN when failed.
    pub fn p(&self, row: usize) -> f64 {
        self.p[row]
    }

    /// Whether the estimates may be used.
    pub fn usable(&self) -> bool {
        !matches!(self.outcome, OccupancyOutcome::Failed(_))
    }
}
