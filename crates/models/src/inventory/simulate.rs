//! Inventories drawn from a known community: how sure a plan is to cover it.
//!
//! Counts are drawn a species at a time, so that an inventory costs about one random number a species.

use super::{coverage, place};
use numerics::draws::{GammaTable, binomial, multinomial, poisson};
use numerics::interval::wilson;
use numerics::maths::{exp, exp_m1, ln_1p, pow};
use numerics::random::Stream;
use numerics::special::normal;
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

/// The shares of individuals that belong to each species of a community.
#[derive(Clone, Debug, PartialEq)]
pub struct Community {
    shares: Vec<f64>,
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
mod tests {
    use super::*;

    fn ways() -> [Sampling; 5] {
        [
            Sampling::Individuals(300),
            Sampling::Catch {
                rate: 15.0,
                effort: 20.0,
                clumping: None,
            },
            Sampling::Catch {
                rate: 15.0,
                effort: 20.0,
                clumping: Some(0.7),
            },
            Sampling::Samples {
                samples: 20,
                rate: 15.0,
                clumping: None,
            },
            Sampling::Samples {
                samples: 20,
                rate: 15.0,
                clumping: Some(0.7),
            },
        ]
    }

    #[test]
    fn communities() {
        let even = Community::log_normal(40, 0.0).unwrap();
        assert!(even.shares().iter().all(|p| (p - 0.025).abs() < 1e-15));
        let c = Community::log_normal(201, 1.5).unwrap();
        assert!((c.shares().iter().sum::<f64>() - 1.0).abs() < 1e-12);
        assert!(c.shares().windows(2).all(|w| w[0] > w[1]));
        // The middle species is the median, and one at a quantile q is exp(1.5 q) from it.
        let ratio = c.shares()[0] / c.shares()[100];
        assert!((ratio / exp(-1.5 * normal::quantile(0.5 / 201.0)) - 1.0).abs() < 1e-12);
        let g = Community::geometric(5, 0.5).unwrap();
        for (p, want) in g.shares().iter().zip([16.0, 8.0, 4.0, 2.0, 1.0]) {
            assert!((p - want / 31.0).abs() < 1e-15);
        }
        let w = Community::from_weights(&[3.0, 0.0, 1.0]).unwrap();
        assert_eq!((w.shares(), w.species()), (&[0.75, 0.0, 0.25][..], 2));
    }

    #[test]
    fn errors_say_what_is_wrong() {
        assert_eq!(
            Community::from_weights(&[0.0]),
            Err(SimulationError::NoSpecies)
        );
        assert_eq!(
            Community::log_normal(0, 1.0),
            Err(SimulationError::NoSpecies)
        );
        for bad in [f64::NAN, -1.0, f64::INFINITY] {
            let e = Community::from_weights(&[1.0, bad]).unwrap_err();
            assert!(e.to_string().contains("species 1"), "{e}");
        }
        assert!(Community::log_normal(5, f64::NAN).is_err());
        assert!(Community::geometric(5, 0.0).is_err() && Community::geometric(5, 1.1).is_err());
        let c = Community::geometric(5, 0.5).unwrap();
        for (rate, effort, clumping, what) in [
            (0.0, 1.0, None, "trap-week"),
            (1.0, f64::NAN, None, "effort"),
            (1e300, 1e300, None, "whole effort"),
            (1.0, 1.0, Some(0.0), "dispersion"),
        ] {
            let e = Simulator::new(
                &c,
                Sampling::Catch {
                    rate,
                    effort,
                    clumping,
                },
            );
            assert!(e.unwrap_err().to_string().contains(what));
        }
        assert!(Simulator::new(&c, Sampling::Individuals(0)).is_err());
    }

    /// Mean coverage and species of many inventories are those of the closed forms, however sampled; the estimate of
    /// coverage is right in the mean where individuals are caught apart from each other (Chao & Jost 2012, Ecology
    /// 93:2533-2547), and by samples even where they are not.
    #[test]
    fn means_by_closed_form() {
        let c = Community::log_normal(120, 1.3).unwrap();
        for (i, sampling) in ways().into_iter().enumerate() {
            let s = Simulator::new(&c, sampling).unwrap();
            let n = 4000;
            let outcomes: Vec<Outcome> = (0..n).map(|r| s.outcome(5, r)).collect();
            let mean = |of: &dyn Fn(&Outcome) -> f64| {
                let m = outcomes.iter().map(of).sum::<f64>() / n as f64;
                let v = outcomes
                    .iter()
                    .map(|o| (of(o) - m) * (of(o) - m))
                    .sum::<f64>();
                (m, v.sqrt() / n as f64)
            };
            let (m, se) = mean(&|o| o.coverage);
            let want = s.expected_coverage();
            assert!((m - want).abs() < 4.0 * se, "{i}: {m} {want} {se}");
            let (m, se) = mean(&|o| o.species);
            let want = s.expected_species();
            assert!((m - want).abs() < 4.0 * se, "{i}: {m} {want} {se}");
            let (bias, se) = mean(&|o| o.estimated_coverage - o.coverage);
            if i == 2 {
                // Individuals that come in clumps feign coverage.
                assert!(bias > 0.1, "{bias} {se}");
            } else {
                assert!(bias.abs() < 4.0 * se + 0.002, "{i}: {bias} {se}");
            }
            for o in &outcomes {
                assert!((o.species_share - o.species / 120.0).abs() < 1e-15);
            }
        }
    }

    /// Fixed effort gives a Poisson total, clumped catches a wider one: total variance is the sum of mu + mu^2/k.
    #[test]
    fn variance_of_the_catch() {
        let c = Community::geometric(12, 0.7).unwrap();
        for clumping in [None, Some(0.7)] {
            let sampling = Sampling::Catch {
                rate: 10.0,
                effort: 8.0,
                clumping,
            };
            let s = Simulator::new(&c, sampling).unwrap();
            let n = 20_000;
            let totals: Vec<f64> = (0..n).map(|r| s.outcome(6, r).total).collect();
            let m = totals.iter().sum::<f64>() / n as f64;
            let v = totals.iter().map(|t| (t - m) * (t - m)).sum::<f64>() / n as f64;
            let want: f64 = c
                .shares()
                .iter()
                .map(|p| 80.0 * p)
                .map(|mu| mu + clumping.map_or(0.0, |k| mu * mu / k))
                .sum();
            assert!((m - 80.0).abs() < 4.0 * (want / n as f64).sqrt(), "{m}");
            assert!((v / want - 1.0).abs() < 0.08, "{v} {want}");
        }
    }

    #[test]
    fn seed_and_replicate_determine_it() {
        let c = Community::log_normal(60, 1.0).unwrap();
        for sampling in ways() {
            let s = Simulator::new(&c, sampling).unwrap();
            assert_eq!(s.outcome(3, 8), s.outcome(3, 8));
            assert_ne!(s.outcome(3, 8), s.outcome(3, 9));
            assert_ne!(s.outcome(3, 8), s.outcome(4, 8));
        }
    }

    /// Nine of ten like species are nine tenths, though ten shares of .1 do not add up so in floating point.
    #[test]
    fn a_share_just_reached_is_reached() {
        let c = Community::from_weights(&[1.0; 10]).unwrap();
        let s = Simulator::new(&c, Sampling::Individuals(20)).unwrap();
        let n = 200;
        let nine = (0..n).filter(|&r| s.outcome(1, r).species >= 9.0).count() as u64;
        assert!(nine > 20 && nine < n);
        assert_eq!(s.chance_of_coverage(0.9, 1, n, 0.95).reached, nine);
    }

    /// One species: covered as soon as one is caught, with chance 1 - exp(-mean).
    #[test]
    fn chance_by_closed_form() {
        let c = Community::from_weights(&[1.0]).unwrap();
        let sampling = Sampling::Catch {
            rate: 0.5,
            effort: 2.0,
            clumping: None,
        };
        let s = Simulator::new(&c, sampling).unwrap();
        let chance = s.chance_of_coverage(0.9, 2, 10_000, 0.9999);
        let want = 1.0 - exp(-1.0);
        assert!(
            chance.interval.0 < want && want < chance.interval.1,
            "{chance:?}"
        );
        assert_eq!(chance.share, chance.reached as f64 / 10_000.0);
        assert!(s.chance_of_coverage(0.9, 2, 0, 0.95).share.is_nan());
    }
}
