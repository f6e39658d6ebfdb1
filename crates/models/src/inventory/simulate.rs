//! Inventories drawn from a known community: how sure a plan is to cover it.
//!
//! Counts are drawn a species at a time, so that an inventory costs about one random number a species.

mod community;

pub use community::Community;

use super::{coverage, place};
use numerics::draws::{GammaTable, binomial, multinomial, poisson};
use numerics::interval::wilson;
use numerics::maths::{exp, exp_m1, ln_1p, pow};
use numerics::random::Stream;
use thiserror::Error;

/// Rounding noise of a sum of shares.
const ROUNDING: f64 = 1e-9;

/// Why there is nothing to draw.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum SimulationError {
    /// No species.
    #[error("a community needs at least one species with a weight above 0")]
    NoSpecies,
    /// A weight that is no share.
    #[error("species {species} has the weight {weight}: give finite weights of 0 or more")]
    Weight {
        /// Place of the species, the first is 0.
        species: usize,
        /// Its weight.
        weight: f64,
    },
    /// A number of a community or plan out of its range.
    #[error("{what} is {value}: give {allowed}")]
    Range {
        /// The number.
        what: &'static str,
        /// What was given.
        value: f64,
        /// What can be given.
        allowed: &'static str,
    },
}

fn range(
    what: &'static str,
    value: f64,
    holds: bool,
    allowed: &'static str,
) -> Result<(), SimulationError> {
    if holds {
        Ok(())
    } else {
        Err(SimulationError::Range {
            what,
            value,
            allowed,
        })
    }
}

/// How a community is sampled.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Sampling {
    /// So many individuals, each drawn at random.
    Individuals(u64),
    /// Traps that run for an effort: the count of a species with share p is Poisson with mean rate p effort, or negative
    /// binomial with that mean and dispersion k.
    Catch {
        /// Individuals of all species caught in a trap-week.
        rate: f64,
        /// Trap-weeks.
        effort: f64,
        /// Dispersion k of a species' count in the whole effort (variance mu + mu^2/k); trap-weeks apart from each
        /// other, each with its own k, make a sum with k times their number. `None` for Poisson counts.
        clumping: Option<f64>,
    },
    /// Samples of which only the species present are told; a species is in one unless its count there, as of `Catch`,
    /// is 0.
    Samples {
        /// Samples taken.
        samples: u64,
        /// Individuals of all species caught in a sample.
        rate: f64,
        /// Dispersion k of a species' count in one sample. `None` for Poisson counts.
        clumping: Option<f64>,
    },
}

impl Sampling {
    fn check(&self) -> Result<(), SimulationError> {
        let positive = |what, value: f64| {
            range(
                what,
                value,
                value.is_finite() && value > 0.0,
                "a finite number above 0",
            )
        };
        match *self {
            Sampling::Individuals(n) => range(
                "the number of individuals",
                n as f64,
                (1..=1 << 53).contains(&n),
                "1 to 2^53",
            ),
            Sampling::Catch {
                rate,
                effort,
                clumping,
            } => {
                positive("the catch of a trap-week", rate)?;
                positive("the effort in trap-weeks", effort)?;
                positive("the catch of the whole effort", rate * effort)?;
                positive("the dispersion k", clumping.unwrap_or(1.0))
            }
            Sampling::Samples {
                samples,
                rate,
                clumping,
            } => {
                range(
                    "the number of samples",
                    samples as f64,
                    (1..=1 << 53).contains(&samples),
                    "1 to 2^53",
                )?;
                positive("the catch of a sample", rate)?;
                positive("the dispersion k", clumping.unwrap_or(1.0))
            }
        }
    }
}

/// Chance that a count with this mean, Poisson or negative binomial, is 0.
fn none_caught(mean: f64, clumping: Option<f64>) -> f64 {
    match clumping {
        None => exp(-mean),
        Some(k) => exp(-k * ln_1p(mean / k)),
    }
}

/// What one drawn inventory found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Outcome {
    /// Individuals, or incidences of all species.
    pub total: f64,
    /// Species seen.
    pub species: f64,
    /// Their share of the community's species.
    pub species_share: f64,
    /// True coverage: what the species seen have of all shares (of all chances to be in a sample, for samples).
    pub coverage: f64,
    /// Coverage as the inventory itself estimates it (Chao & Jost 2012); from individuals that are caught in clumps it is
    /// too high, from samples it is not.
    pub estimated_coverage: f64,
}

/// Draws inventories of one community in one way.
#[derive(Clone, Debug)]
pub struct Simulator {
    sampling: Sampling,
    /// Of each species with a share: what it counts for in coverage, and its mean count, chance or share.
    species: Vec<(f64, f64)>,
    clumps: Option<(f64, GammaTable)>,
}

impl Simulator {
    /// For a community and a way of sampling with all its numbers in their ranges.
    pub fn new(community: &Community, sampling: Sampling) -> Result<Self, SimulationError> {
        sampling.check()?;
        let present = || community.shares.iter().copied().filter(|&p| p > 0.0);
        let (species, clumps) = match sampling {
            Sampling::Individuals(_) => (present().map(|p| (p, p)).collect(), None),
            Sampling::Catch {
                rate,
                effort,
                clumping,
            } => (
                present().map(|p| (p, rate * effort * p)).collect(),
                clumping.map(|k| (k, GammaTable::new(k))),
            ),
            Sampling::Samples { rate, clumping, .. } => {
                let chances = || {
                    present().map(|p| match clumping {
                        None => -exp_m1(-rate * p),
                        Some(k) => -exp_m1(-k * ln_1p(rate * p / k)),
                    })
                };
                let sum: f64 = chances().sum();
                (chances().map(|c| (c / sum, c)).collect(), None)
            }
        };
        Ok(Self {
            sampling,
            species,
            clumps,
        })
    }

    /// Coverage expected, by closed form: the shares times the chances to be seen.
    pub fn expected_coverage(&self) -> f64 {
        self.species
            .iter()
            .map(|&(share, of)| share * (1.0 - self.missed(of)))
            .sum()
    }

    /// Species expected, by closed form.
    pub fn expected_species(&self) -> f64 {
        self.species
            .iter()
            .map(|&(_, of)| 1.0 - self.missed(of))
            .sum()
    }

    fn missed(&self, of: f64) -> f64 {
        match self.sampling {
            Sampling::Individuals(n) => pow(1.0 - of, n as f64),
            Sampling::Catch { clumping, .. } => none_caught(of, clumping),
            Sampling::Samples { samples, .. } => pow(1.0 - of, samples as f64),
        }
    }

    /// The inventory numbered `replicate` of the seed.
    pub fn outcome(&self, seed: u64, replicate: u64) -> Outcome {
        let mut stream = Stream::new(seed, replicate);
        stream.go_to(place::INVENTORY, 0, 0);
        let mut seen = Seen::default();
        match self.sampling {
            Sampling::Individuals(n) => {
                let counts = multinomial(&mut stream, n, self.species.iter().map(|s| s.1));
                for (&(share, _), count) in self.species.iter().zip(counts) {
                    seen.add(share, count as f64);
                }
                seen.size = n as f64;
            }
            Sampling::Catch { .. } => {
                for &(share, mean) in &self.species {
                    let mean = match &self.clumps {
                        None => mean,
                        Some((k, table)) => mean / k * table.draw(&mut stream),
                    };
                    seen.add(share, poisson(&mut stream, mean));
                }
                seen.size = seen.total;
            }
            Sampling::Samples { samples, .. } => {
                for &(share, chance) in &self.species {
                    seen.add(share, binomial(&mut stream, samples, chance) as f64);
                }
                seen.size = samples as f64;
            }
        }
        Outcome {
            total: seen.total,
            species: seen.species,
            species_share: seen.species / self.species.len() as f64,
            coverage: seen.coverage,
            estimated_coverage: coverage::from_counts(seen.size, seen.total, seen.once, seen.twice),
        }
    }

    /// How many of `replicates` inventories truly cover at least `wanted` (a share), with Wilson's interval at `level`. A
    /// coverage that is short of it by no more than rounding noise (1e-9) covers it.
    pub fn chance_of_coverage(
        &self,
        wanted: f64,
        seed: u64,
        replicates: u64,
        level: f64,
    ) -> Chance {
        let reached = (0..replicates)
            .filter(|&r| self.outcome(seed, r).coverage >= wanted - ROUNDING)
            .count() as u64;
        Chance {
            reached,
            replicates,
            share: reached as f64 / replicates as f64,
            interval: wilson(reached, replicates, level),
        }
    }
}

/// A chance found by simulation.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Chance {
    /// Inventories that reached what was wanted.
    pub reached: u64,
    /// Inventories drawn.
    pub replicates: u64,
    /// Their share; NaN when none was drawn.
    pub share: f64,
    /// Interval of the share, low and high.
    pub interval: (f64, f64),
}

/// What an inventory comes to while its species are drawn.
#[derive(Default)]
struct Seen {
    size: f64,
    total: f64,
    species: f64,
    once: f64,
    twice: f64,
    coverage: f64,
}

impl Seen {
    fn add(&mut self, share: f64, count: f64) {
        if count > 0.0 {
            self.total += count;
            self.species += 1.0;
            self.coverage += share;
            self.once += f64::from(u8::from(count == 1.0));
            self.twice += f64::from(u8::from(count == 2.0));
        }
    }
}

#[cfg(test)]
mod tests;
