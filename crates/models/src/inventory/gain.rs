//! What one more trap-week in each stratum would add to the list, and what it would kill.
//!
//! A stratum is a trap type, a week of the season or the like. A species is new when it is in no stratum's catch yet. With
//! Poisson catches the expected number of new species a trap-week, at the start, is f1j/Ej: species with one individual in
//! all strata together whose individual is from stratum j, over the trap-weeks there. This is Good's (1953, Biometrika
//! 40:237-264) estimate of new species an individual, f1j/nj, times the stratum's individuals a trap-week, nj/Ej; it is
//! unbiased whatever the strata have in common.
//!
//! As trap-weeks are added, new species run out. The unseen species are the f0 of the pooled inventory (Chao1), equal to
//! each other, at least one where there are species seen once; in all strata together they are caught at the rate f1/f0 of
//! the past efforts (Colwell et al. 2012, J. Plant Ecol. 5:3-21, the Poisson model, from memory). How they lie in the strata
//! is our own addition: a part `apart` of them keeps to one stratum each (as many as there are singletons), the rest are
//! caught everywhere as the singletons are. With uj the further trap-weeks over the past ones, and pj = f1j/f1,
//!
//! gain(u) = f0 (apart sum_j pj (1 - exp(-uj f1/f0)) + (1 - apart) (1 - exp(-sum_j uj pj f1/f0))).
//!
//! When all uj are the same it is the pooled curve, whatever `apart` is. `apart` comes from the species seen twice: the
//! share whose two individuals are from one stratum, against what chance would give; without any it is 1, which promises
//! the least of much more effort in one stratum.
//!
//! Assumed: the same season, places and catches a trap-week as before, and individuals caught apart from each other. Where
//! catches come in clumps, give for each species the trap-weeks with it instead of its individuals: singletons are then
//! species in one trap-week, and the formulas hold for rare species.

use super::frequencies::{Abundances, InventoryError};
use super::richness;
use numerics::maths::{exp, exp_m1, ln, ln_gamma};
use numerics::root::bracketed;
use std::cmp::Ordering;
use thiserror::Error;

/// What was caught in a stratum.
#[derive(Clone, Debug, PartialEq)]
pub struct Stratum {
    /// Individuals of each species (or trap-weeks with it), the same species in the same order in every stratum.
    pub counts: Vec<u64>,
    /// Effort in trap-weeks, above 0.
    pub trap_weeks: f64,
    /// Animals of all kinds killed in a trap-week, 0 or more.
    pub killed_per_trap_week: f64,
}

/// Why no gain can be told.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum GainError {
    /// There is no stratum.
    #[error("no strata: give the catch of at least one")]
    NoStrata,
    /// A stratum with another number of species than the first.
    #[error(
        "stratum {stratum} has {got} species, the first has {want}: list the same in every stratum, with 0"
    )]
    Species {
        /// Place of the stratum, the first is 0.
        stratum: usize,
        /// Its species.
        got: usize,
        /// Species of the first stratum.
        want: usize,
    },
    /// A number out of its range.
    #[error("{what} of stratum {stratum} is {value}: give {allowed}")]
    Range {
        /// The number.
        what: &'static str,
        /// Place of the stratum, the first is 0.
        stratum: usize,
        /// What was given.
        value: f64,
        /// What can be given.
        allowed: &'static str,
    },
    /// The pooled counts make no inventory.
    #[error(transparent)]
    Inventory(#[from] InventoryError),
}

/// One more trap-week in a stratum.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NextTrapWeek {
    /// Place of the stratum among those given.
    pub stratum: usize,
    /// New species expected.
    pub new_species: f64,
    /// Interval of the new species expected: what the number of singletons leaves open (a Poisson number's exact
    /// interval, Garwood 1936, Biometrika 28:437-442).
    pub interval: (f64, f64),
    /// Animals of all kinds killed.
    pub killed: f64,
    /// New species for each animal killed: infinite when none is killed, but 0 when no new species is expected.
    pub species_per_animal: f64,
}

/// What further trap-weeks are chosen by.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum By {
    /// New species for each animal killed.
    Animal,
    /// New species for each trap-week.
    TrapWeek,
}

/// Further trap-weeks over the strata.
#[derive(Clone, Debug, PartialEq)]
pub struct Allocation {
    /// Further trap-weeks in each stratum, in the order given.
    pub trap_weeks: Vec<u32>,
    /// Strata in the order in which trap-weeks were added, with the new species and animals killed so far.
    pub steps: Vec<Step>,
    /// Whether a stratum gets more trap-weeks than it had: more than doubling is beyond what the curve can be trusted in.
    pub beyond_double: bool,
}

/// One trap-week of an [`Allocation`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Step {
    /// Stratum the trap-week goes to.
    pub stratum: usize,
    /// New species expected of all trap-weeks so far.
    pub new_species: f64,
    /// Animals killed by all trap-weeks so far.
    pub killed: f64,
}

/// Expected gain of further trap-weeks.
#[derive(Clone, Debug, PartialEq)]
pub struct Gain {
    /// f1j, trap-weeks and animals killed a trap-week of each stratum.
    strata: Vec<(f64, f64, f64)>,
    once: f64,
    unseen: f64,
    apart: f64,
}

impl Gain {
    /// From the catches of each stratum.
    pub fn new(strata: &[Stratum]) -> Result<Self, GainError> {
        let Some(first) = strata.first() else {
            return Err(GainError::NoStrata);
        };
        let want = first.counts.len();
        for (stratum, s) in strata.iter().enumerate() {
            if s.counts.len() != want {
                return Err(GainError::Species {
                    stratum,
                    got: s.counts.len(),
                    want,
                });
            }
            let range = |what, value: f64, holds: bool, allowed| {
                if holds {
                    Ok(())
                } else {
                    Err(GainError::Range {
                        what,
                        stratum,
                        value,
                        allowed,
                    })
                }
            };
            let (effort, killed) = (s.trap_weeks, s.killed_per_trap_week);
            range(
                "the effort in trap-weeks",
                effort,
                effort.is_finite() && effort > 0.0,
                "a finite number above 0",
            )?;
            range(
                "the number of animals killed a trap-week",
                killed,
                killed.is_finite() && killed >= 0.0,
                "a finite number of 0 or more",
            )?;
        }
        let table: Vec<u64> = (0..want)
            .flat_map(|i| strata.iter().map(move |s| s.counts[i]))
            .collect();
        let pooled = Abundances::from_table(&table, strata.len())?;
        let mut once = vec![0.0; strata.len()];
        let mut together = 0.0;
        for (i, &count) in pooled.counts().iter().enumerate() {
            for (once, s) in once.iter_mut().zip(strata) {
                if count == 1 && s.counts[i] == 1 {
                    *once += 1.0;
                }
                if count == 2 && s.counts[i] == 2 {
                    together += 1.0;
                }
            }
        }
        let (f1, f2) = (pooled.f1(), pooled.f2());
        // The chance that two are from one stratum when all species lie alike, without bias.
        let by_chance: f64 = once.iter().map(|f| f * (f - 1.0)).sum::<f64>() / (f1 * (f1 - 1.0));
        let apart = if f2 > 0.0 && f1 > 1.0 && by_chance < 1.0 {
            ((together / f2 - by_chance) / (1.0 - by_chance)).clamp(0.0, 1.0)
        } else {
            1.0
        };
        let unseen = richness::unseen(pooled.frequencies());
        Ok(Self {
            strata: once
                .into_iter()
                .zip(strata)
                .map(|(f, s)| (f, s.trap_weeks, s.killed_per_trap_week))
                .collect(),
            once: f1,
            unseen: if f1 > 0.0 { unseen.max(1.0) } else { 0.0 },
            apart,
        })
    }

    /// Species of the pooled inventory reckoned unseen: Chao1's, at least 1 where there are species seen once, 0 otherwise.
    pub fn unseen(&self) -> f64 {
        self.unseen
    }

    /// The share of them taken to keep to one stratum.
    pub fn apart(&self) -> f64 {
        self.apart
    }

    /// New species expected of these further trap-weeks (0 or more, whole or not) in each stratum, one for each in order;
    /// strata without one get none. NaN where a number is.
    pub fn new_species(&self, trap_weeks: &[f64]) -> f64 {
        if self.once <= 0.0 {
            return 0.0;
        }
        let rate = self.once / self.unseen;
        let (mut own, mut everywhere) = (0.0, 0.0);
        for (&(once, effort, _), weeks) in self.strata.iter().zip(trap_weeks) {
            let (u, p) = (weeks / effort, once / self.once);
            own -= p * exp_m1(-u * rate);
            everywhere += u * p;
        }
        self.unseen * (self.apart * own - (1.0 - self.apart) * exp_m1(-everywhere * rate))
    }

    /// One more trap-week in each stratum, the most new species for each animal killed first (then the most new species),
    /// with intervals at `level` (such as 0.95).
    pub fn next_trap_week(&self, level: f64) -> Vec<NextTrapWeek> {
        let mut weeks = vec![0.0; self.strata.len()];
        let mut next: Vec<NextTrapWeek> = self
            .strata
            .iter()
            .enumerate()
            .map(|(stratum, &(once, effort, killed))| {
                weeks[stratum] = 1.0;
                let new_species = self.new_species(&weeks);
                weeks[stratum] = 0.0;
                // What one singleton stands for.
                let each = if once > 0.0 {
                    new_species / once
                } else {
                    1.0 / effort
                };
                let (low, high) = poisson_interval(once, level);
                NextTrapWeek {
                    stratum,
                    new_species,
                    interval: (low * each, high * each),
                    killed,
                    species_per_animal: per_animal(new_species, killed),
                }
            })
            .collect();
        next.sort_by(|a, b| {
            b.species_per_animal
                .total_cmp(&a.species_per_animal)
                .then(b.new_species.total_cmp(&a.new_species))
                .then(a.stratum.cmp(&b.stratum))
        });
        next
    }

    /// Spreads so many further trap-weeks over the strata, each to where it then adds most; ties to the larger gain, the
    /// smaller kill, the first stratum.
    ///
    /// New species only become fewer as trap-weeks are added, so that for [`By::TrapWeek`] the gain is at least 1 - 1/e of
    /// the best allocation's (Nemhauser, Wolsey & Fisher 1978, Math. Program. 14:265-294). For [`By::Animal`] it is the
    /// order of work that gets most from each kill, not the best for a set number of kills.
    pub fn allocate(&self, trap_weeks: u32, by: By) -> Allocation {
        let mut given = vec![0u32; self.strata.len()];
        let mut weeks = vec![0.0; self.strata.len()];
        let (mut so_far, mut killed) = (0.0, 0.0);
        let mut steps = Vec::new();
        for _ in 0..trap_weeks {
            let mut best: Option<(usize, f64, f64)> = None;
            for (stratum, &(_, _, kills)) in self.strata.iter().enumerate() {
                weeks[stratum] += 1.0;
                let gain = (self.new_species(&weeks) - so_far).max(0.0);
                weeks[stratum] -= 1.0;
                let worth = match by {
                    By::Animal => per_animal(gain, kills),
                    By::TrapWeek => gain,
                };
                let better = best.is_none_or(|(other, best_worth, best_gain)| {
                    worth
                        .total_cmp(&best_worth)
                        .then(gain.total_cmp(&best_gain))
                        .then(self.strata[other].2.total_cmp(&kills))
                        == Ordering::Greater
                });
                if better {
                    best = Some((stratum, worth, gain));
                }
            }
            let Some((stratum, _, _)) = best else { break };
            given[stratum] += 1;
            weeks[stratum] += 1.0;
            so_far = self.new_species(&weeks);
            killed += self.strata[stratum].2;
            steps.push(Step {
                stratum,
                new_species: so_far,
                killed,
            });
        }
        let beyond_double = weeks.iter().zip(&self.strata).any(|(w, s)| *w > s.1);
        Allocation {
            trap_weeks: given,
            steps,
            beyond_double,
        }
    }
}

fn per_animal(species: f64, killed: f64) -> f64 {
    if species > 0.0 { species / killed } else { 0.0 }
}

/// Exact interval of a Poisson mean of which `count` came up (Garwood 1936): low and high.
fn poisson_interval(count: f64, level: f64) -> (f64, f64) {
    let tail = 0.5 - 0.5 * level;
    // Chance of at most `most`.
    let up_to = |most: f64, mean: f64| {
        let (mut sum, mut k) = (0.0, 0.0);
        while k <= most {
            sum += exp(k * ln(mean) - mean - ln_gamma(k + 1.0));
            k += 1.0;
        }
        sum
    };
    let low = if count > 0.0 {
        bracketed(
            |mean| 1.0 - up_to(count - 1.0, mean) - tail,
            1e-300,
            count,
            1e-10,
        )
    } else {
        0.0
    };
    // Beyond this the chance is below `tail` (Chernoff's bound).
    let spread = -ln(tail);
    let far = count + spread + (spread * (spread + 2.0 * count)).sqrt() + 1.0;
    let high = bracketed(
        |mean| up_to(count, mean) - tail,
        count.max(1e-9),
        far,
        1e-10,
    );
    (low, high)
}

#[cfg(test)]
mod tests;
