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
mod tests {
    use super::*;
    use numerics::draws::poisson;
    use numerics::random::Stream;

    fn stratum(counts: &[u64], trap_weeks: f64, killed: f64) -> Stratum {
        Stratum {
            counts: counts.to_vec(),
            trap_weeks,
            killed_per_trap_week: killed,
        }
    }

    /// Three strata with common, own and shared species: mean catch of each species a trap-week.
    fn rates() -> Vec<[f64; 3]> {
        let mut stream = Stream::new(12, 0);
        (0..150)
            .map(|i| {
                let base = 0.06 * exp(1.6 * stream.normal());
                match i % 5 {
                    0 => [base, 0.0, 0.0],
                    1 => [0.0, base, 0.0],
                    2 => [0.2 * base, base, 2.0 * base],
                    _ => [base, 0.5 * base, base],
                }
            })
            .collect()
    }

    const EFFORT: [f64; 3] = [12.0, 20.0, 8.0];

    fn draw(rates: &[[f64; 3]], stream: &mut Stream) -> Vec<Stratum> {
        let mut strata: Vec<Stratum> = EFFORT.iter().map(|&e| stratum(&[], e, 1.0)).collect();
        for rate in rates {
            for (s, r) in strata.iter_mut().zip(rate) {
                s.counts.push(poisson(stream, r * s.trap_weeks) as u64);
            }
        }
        strata
    }

    /// New species truly expected of further trap-weeks, given what was caught.
    fn truth(rates: &[[f64; 3]], strata: &[Stratum], weeks: &[f64; 3]) -> f64 {
        rates
            .iter()
            .enumerate()
            .filter(|(i, _)| strata.iter().all(|s| s.counts[*i] == 0))
            .map(|(_, rate)| {
                let further: f64 = rate.iter().zip(weeks).map(|(r, w)| r * w).sum();
                -exp_m1(-further)
            })
            .sum()
    }

    /// Over 6000 catches of one fauna the gain of one more trap-week in each stratum is right in the mean; of half the
    /// past effort, where the model of unseen species comes in, within a twentieth.
    #[test]
    fn the_gain_is_unbiased() {
        let rates = rates();
        let plans = [
            [1.0, 0.0, 0.0],
            [0.0, 1.0, 0.0],
            [0.0, 0.0, 1.0],
            [6.0, 0.0, 0.0],
            [0.0, 10.0, 0.0],
            [0.0, 0.0, 4.0],
            [6.0, 10.0, 4.0],
        ];
        let n = 6000;
        let mut sums = [[0.0; 3]; 7];
        for r in 0..n {
            let mut stream = Stream::new(41, r);
            let strata = draw(&rates, &mut stream);
            let gain = Gain::new(&strata).unwrap();
            for (sum, plan) in sums.iter_mut().zip(&plans) {
                let (told, true_) = (gain.new_species(plan), truth(&rates, &strata, plan));
                let error = told - true_;
                sum[0] += error;
                sum[1] += error * error;
                sum[2] += true_;
            }
        }
        let n = n as f64;
        for (i, (sum, plan)) in sums.iter().zip(&plans).enumerate() {
            let (bias, true_) = (sum[0] / n, sum[2] / n);
            let se = ((sum[1] / n - bias * bias) / n).sqrt();
            let model = if i < 3 { 0.01 } else { 0.05 };
            assert!(
                bias.abs() < 4.0 * se + model * true_,
                "{plan:?}: {bias} {se} of {true_}"
            );
        }
    }

    /// By hand: pooled 2, 1, 1, 1, 4, 2: f1 = 3 (two in the first stratum, one in the second), f2 = 2, n = 11.
    #[test]
    fn a_small_case() {
        let strata = [
            stratum(&[2, 1, 1, 0, 1, 1], 4.0, 10.0),
            stratum(&[0, 0, 0, 1, 3, 1], 2.0, 100.0),
        ];
        let gain = Gain::new(&strata).unwrap();
        let f0 = 10.0 / 11.0 * 9.0 / 4.0;
        assert!((gain.unseen() - f0).abs() < 1e-14);
        // One of two doubletons is of one stratum; by chance it would be 2/(3 2) = 1/3.
        assert!((gain.apart() - 0.25).abs() < 1e-14);
        let rate = 3.0 / f0;
        let own = 2.0 / 3.0 * (1.0 - exp(-0.25 * rate));
        let want = f0 * (0.25 * own + 0.75 * (1.0 - exp(-0.25 * 2.0 / 3.0 * rate)));
        let next = gain.next_trap_week(0.95);
        assert_eq!(next[0].stratum, 0);
        assert!((next[0].new_species - want).abs() < 1e-14);
        assert!((next[0].species_per_animal - want / 10.0).abs() < 1e-15);
        assert_eq!((next[1].stratum, next[1].killed), (1, 100.0));
        // The start is Good's f1j/Ej, and equal shares of effort give the pooled curve.
        let h = 1e-7;
        assert!((gain.new_species(&[h, 0.0]) / h - 0.5).abs() < 1e-6);
        assert!((gain.new_species(&[0.0, h]) / h - 0.5).abs() < 1e-6);
        let all = gain.new_species(&[2.0, 1.0]);
        assert!((all - f0 * (1.0 - exp(-0.5 * rate))).abs() < 1e-14);
        assert!((gain.new_species(&[1e9, 1e9]) - f0).abs() < 1e-12);
    }

    /// Against the best of all allocations, and steps that add up.
    #[test]
    fn greedy_allocation() {
        let mut stream = Stream::new(41, 5);
        let mut strata = draw(&rates(), &mut stream);
        for (s, k) in strata.iter_mut().zip([30.0, 12.0, 80.0]) {
            s.killed_per_trap_week = k;
        }
        let gain = Gain::new(&strata).unwrap();
        let weeks = 9;
        let a = gain.allocate(weeks, By::TrapWeek);
        assert_eq!(a.trap_weeks.iter().sum::<u32>(), weeks);
        let plan: Vec<f64> = a.trap_weeks.iter().map(|&w| f64::from(w)).collect();
        let last = a.steps.last().unwrap();
        assert!((last.new_species - gain.new_species(&plan)).abs() < 1e-12);
        let mut best: f64 = 0.0;
        for i in 0..=weeks {
            for j in 0..=weeks - i {
                let plan = [i, j, weeks - i - j].map(f64::from);
                best = best.max(gain.new_species(&plan));
            }
        }
        assert!(last.new_species > 0.99 * best && last.new_species <= best + 1e-12);
        // For each animal: every step takes the best ratio, so that ratios fall along the steps.
        let a = gain.allocate(weeks, By::Animal);
        let (mut species, mut killed, mut ratio) = (0.0, 0.0, f64::INFINITY);
        for s in &a.steps {
            let now = (s.new_species - species) / (s.killed - killed);
            assert!(now <= ratio + 1e-12);
            (species, killed, ratio) = (s.new_species, s.killed, now);
        }
        assert_eq!(a.steps[0].stratum, gain.next_trap_week(0.95)[0].stratum);
        assert!(!a.beyond_double && gain.allocate(60, By::Animal).beyond_double);
        assert!(gain.allocate(0, By::Animal).steps.is_empty());
    }

    #[test]
    fn special_cases() {
        // Nothing seen once: no gain, whatever the kills; the interval says what is not excluded.
        let none = Gain::new(&[stratum(&[3, 2], 10.0, 0.0)]).unwrap();
        let next = none.next_trap_week(0.95)[0];
        assert_eq!((next.new_species, next.species_per_animal), (0.0, 0.0));
        assert!((next.interval.1 - -ln(0.025) / 10.0).abs() < 1e-9);
        // One singleton, none twice: still Good's 1/E at the start.
        let one = Gain::new(&[stratum(&[3, 1], 10.0, 0.0)]).unwrap();
        assert_eq!((one.unseen(), one.apart()), (1.0, 1.0));
        let next = one.next_trap_week(0.95)[0];
        assert!((next.new_species - (1.0 - exp(-0.1))).abs() < 1e-14);
        assert_eq!(next.species_per_animal, f64::INFINITY);
    }

    /// Garwood (1936): 95 % limits of 10 are 4.795 and 18.390, of 0 they are 0 and 3.689 (from memory).
    #[test]
    fn exact_poisson_limits() {
        let (low, high) = poisson_interval(10.0, 0.95);
        assert!((low - 4.795).abs() < 1e-3 && (high - 18.390).abs() < 1e-3);
        let (low, high) = poisson_interval(0.0, 0.95);
        assert!(low == 0.0 && (high - 3.689).abs() < 1e-3);
        let (low, high) = poisson_interval(2000.0, 0.95);
        assert!(low > 1910.0 && low < 1915.0 && high > 2088.0 && high < 2092.0);
    }

    #[test]
    fn errors_say_what_is_wrong() {
        let e = Gain::new(&[stratum(&[1, 2], 1.0, 1.0), stratum(&[1], 1.0, 1.0)]).unwrap_err();
        assert!(
            e.to_string()
                .contains("stratum 1 has 1 species, the first has 2")
        );
        for (effort, killed) in [
            (0.0, 1.0),
            (f64::NAN, 1.0),
            (1.0, -1.0),
            (1.0, f64::INFINITY),
        ] {
            let e = Gain::new(&[stratum(&[1], effort, killed)]).unwrap_err();
            assert!(matches!(e, GainError::Range { stratum: 0, .. }), "{e}");
        }
        assert_eq!(
            Gain::new(&[stratum(&[0], 1.0, 1.0)]),
            Err(GainError::Inventory(InventoryError::Empty))
        );
        assert_eq!(Gain::new(&[]), Err(GainError::NoStrata));
    }
}
