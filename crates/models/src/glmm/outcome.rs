//! What a fit gives back.

use super::satterthwaite::Conditional;

/// How a fit ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// An optimum with every standard deviation above 0.
    Converged,
    /// An optimum at which a standard deviation is 0: an answer, not an error.
    Singular,
    /// The dispersion k ran to the end of its range.
    AtBound,
    /// No optimum.
    Failed(&'static str),
}

/// Standard deviations on the link scale; absent terms are 0.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Sds {
    /// Sites.
    pub site: f64,
    /// Years.
    pub year: f64,
    /// Site-years.
    pub site_year: f64,
}

/// A fitted model with its standard deviations by term: [`Sds`], or of the general model a number for each grouping
/// (for a random slope: per unit of its weight). Standard errors are NaN where the information is not positive definite
/// or the SD is 0.
#[derive(Clone, Debug, PartialEq)]
pub struct Fit<S = Sds> {
    /// How it ended; when failed, the numbers below are not to be used.
    pub outcome: Outcome,
    /// Laplace log likelihood (restricted or not) at the optimum.
    pub log_likelihood: f64,
    /// Fixed effects.
    pub beta: Vec<f64>,
    /// Their covariance from the full observed information, row-major.
    pub covariance: Vec<f64>,
    /// Standard deviations of the random terms.
    pub sd: S,
    /// Their standard errors.
    pub sd_se: S,
    /// Dispersion k (infinite for Poisson and binomial).
    pub k: f64,
    /// Standard error of log k.
    pub ln_k_se: f64,
    /// For degrees of freedom of contrasts: restricted likelihood, and only where the information is definite.
    pub conditional: Option<Conditional>,
    /// Evaluations of the likelihood in all.
    pub evaluations: usize,
}

impl<S> Fit<S> {
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
