//! Communities with known shares of their species.

use super::{SimulationError, range};
use numerics::draws::multinomial;
use numerics::maths::{exp, pow};
use numerics::random::Stream;
use numerics::special::normal;

/// The shares of individuals that belong to each species of a community.
#[derive(Clone, Debug, PartialEq)]
pub struct Community {
    pub(super) shares: Vec<f64>,
}

impl Community {
    /// From weights (0 or more) of each species, such as mean catches.
    pub fn from_weights(weights: &[f64]) -> Result<Self, SimulationError> {
        let bad = |w: f64| !(w.is_finite() && w >= 0.0);
        if let Some((species, &weight)) = weights.iter().enumerate().find(|&(_, &w)| bad(w)) {
            return Err(SimulationError::Weight { species, weight });
        }
        let most = weights.iter().fold(0.0, |a: f64, &b| a.max(b));
        if most <= 0.0 {
            return Err(SimulationError::NoSpecies);
        }
        let sum: f64 = weights.iter().map(|w| w / most).sum();
        Ok(Self {
            shares: weights.iter().map(|w| w / most / sum).collect(),
        })
    }

    /// Log-normal abundances (Preston 1948, Ecology 29:254-283) of `species` species with the standard deviation `sd` of
    /// the natural logarithm, 0 (all alike) to 10. The species stand at the quantiles (i - 1/2)/S, most common first, so
    /// that the community is the same each time.
    pub fn log_normal(species: u32, sd: f64) -> Result<Self, SimulationError> {
        range(
            "the standard deviation of log abundance",
            sd,
            (0.0..=10.0).contains(&sd),
            "0 to 10",
        )?;
        let n = f64::from(species);
        let weights: Vec<f64> = (0..species)
            .map(|i| exp(-sd * normal::quantile((f64::from(i) + 0.5) / n)))
            .collect();
        Self::from_weights(&weights)
    }

    /// Geometric abundances (Motomura 1932, Zool. Mag. 44:379-383): each species `ratio` (above 0, up to 1) times as common
    /// as the one before.
    pub fn geometric(species: u32, ratio: f64) -> Result<Self, SimulationError> {
        range(
            "the ratio of a species to the one before",
            ratio,
            ratio > 0.0 && ratio <= 1.0,
            "a number above 0, up to 1",
        )?;
        let weights: Vec<f64> = (0..species).map(|i| pow(ratio, f64::from(i))).collect();
        Self::from_weights(&weights)
    }

    /// Share of each species; they add up to 1.
    pub fn shares(&self) -> &[f64] {
        &self.shares
    }

    /// Species with a share above 0.
    pub fn species(&self) -> usize {
        self.shares.iter().filter(|&&p| p > 0.0).count()
    }

    /// Counts of each species among `n` individuals, multinomial.
    pub fn individuals(&self, stream: &mut Stream, n: u64) -> Vec<u64> {
        multinomial(stream, n, self.shares.iter().copied())
    }
}
