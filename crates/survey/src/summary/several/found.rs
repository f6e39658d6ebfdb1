//! Which species are found survey by survey, under one control.

use super::{MeanNumber, OverList};
use crate::scenario::Control;
use crate::summary::p_values::PValues;
use crate::summary::share::Share;
use models::multiplicity::adjusted;
use numerics::interval::{wilson, wilson_of};

/// Which species each survey finds: surveys by species.
type Finds = Vec<Vec<bool>>;

/// What is found under one control.
pub(super) struct Found {
    pub change: Finds,
    /// For each species the same were its p-values two standard errors of their ranks smaller, and larger; none where
    /// p-values are no ranks.
    moved: Vec<(Finds, Finds)>,
    pub still: Finds,
}

impl Found {
    pub fn of(species: &[PValues], control: Control, level: f64) -> Self {
        let finds = |p: &dyn Fn(usize, usize) -> f64, surveys: usize| -> Finds {
            let of_survey = |r: usize| {
                let p: Vec<f64> = (0..species.len()).map(|i| p(i, r)).collect();
                let p = match control.adjustment() {
                    Some(adjustment) => adjusted(&p, adjustment),
                    None => p,
                };
                p.into_iter().map(|p| p <= level).collect()
            };
            (0..surveys).map(of_survey).collect()
        };
        // The surveys that every species has.
        let changes = species.iter().map(|s| s.change.len()).min().unwrap_or(0);
        let stills = species.iter().map(|s| s.still.len()).min().unwrap_or(0);
        let change = |i: usize, r: usize| species[i].change[r];
        let moved = |one: usize, by: f64| {
            let p = |i: usize, r: usize| match change(i, r) {
                p if i == one => species[i].moved(p, by),
                p => p,
            };
            finds(&p, changes)
        };
        let ranked = (0..species.len()).filter(|&i| species[i].ranked_among.is_some());
        Self {
            change: finds(&change, changes),
            moved: ranked.map(|i| (moved(i, -2.0), moved(i, 2.0))).collect(),
            still: finds(&|i, r| species[i].still[r], stills),
        }
    }

    /// The share of surveys of the world of change of which `holds` is true, with what ranks leave open.
    pub fn share(&self, holds: impl Fn(&[bool]) -> bool) -> Share {
        let of = |finds: &Finds| finds.iter().filter(|f| holds(f)).count() as u64;
        let n = self.change.len() as u64;
        Share::of(of(&self.change), n).with_extra(self.extra_se(|finds| of(finds) as f64))
    }

    /// Standard error that p-values' ranks alone bring to a mean over surveys of the world of change, from its sum: each
    /// species is ranked among surveys of its own, independently of the others.
    fn extra_se(&self, sum: impl Fn(&Finds) -> f64) -> f64 {
        let n = self.change.len().max(1) as f64;
        let each = self.moved.iter().map(|(smaller, larger)| {
            let se = (sum(smaller) - sum(larger)) / n / 4.0;
            se * se
        });
        each.sum::<f64>().sqrt()
    }

    pub fn of_species(&self, i: usize) -> Share {
        self.share(|found| found[i])
    }

    pub fn told(&self, needed: u32) -> OverList {
        let any = self.still.iter().filter(|f| f.contains(&true)).count();
        OverList {
            answered: self.share(|found| count(found) >= f64::from(needed)),
            expected_found: mean(
                &self.change,
                self.extra_se(|finds| finds.iter().map(|f| count(f)).sum()),
            ),
            expected_false_alarms: mean(&self.still, 0.0),
            any_false_alarm: Share::of(any as u64, self.still.len() as u64),
        }
    }
}

fn count(found: &[bool]) -> f64 {
    found.iter().filter(|&&f| f).count() as f64
}

/// The mean number found with its interval: Wilson's for the share of all species, as if from as many independent ones as give
/// its mean the standard error it has. `extra_se` is added to that of the luck of the surveys.
fn mean(finds: &Finds, extra_se: f64) -> MeanNumber {
    let n = finds.len() as f64;
    let Some(m) = finds.first().map(|f| f.len() as f64) else {
        let (estimate, low, high) = (f64::NAN, f64::NAN, f64::NAN);
        return MeanNumber {
            estimate,
            low,
            high,
        };
    };
    let estimate = finds.iter().map(|f| count(f)).sum::<f64>() / n;
    let squares = finds
        .iter()
        .map(|f| (count(f) - estimate) * (count(f) - estimate));
    let variance = squares.sum::<f64>() / (n - 1.0).max(1.0) / n + extra_se * extra_se;
    let share = estimate / m;
    let (low, high) = if variance > 0.0 {
        wilson_of(share, share * (1.0 - share) * m * m / variance, 0.95)
    } else {
        // All surveys alike, of which there may be others: as of one species.
        let (low, high) = wilson((share * n).round() as u64, n as u64, 0.95);
        (low.min(share), high.max(share))
    };
    MeanNumber {
        estimate,
        low: low * m,
        high: high * m,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use numerics::random::Stream;

    /// Independent species found with chances of their own: the intervals of mean and shares hold the truth about 19
    /// times in 20.
    #[test]
    fn intervals_hold_the_truth() {
        let chances = [0.05, 0.4, 0.9];
        let (runs, n) = (1000, 200);
        let mut held = 0;
        for run in 0..runs {
            let mut rng = Stream::new(run, 5);
            let finds: Finds = (0..n)
                .map(|_| chances.iter().map(|c| rng.uniform() < *c).collect())
                .collect();
            let told = mean(&finds, 0.0);
            held += u64::from(told.low < 1.35 && 1.35 < told.high);
        }
        let share = held as f64 / runs as f64;
        assert!((0.93..0.97).contains(&share), "{share}");
        let none = mean(&vec![vec![false; 4]; 100], 0.0);
        assert!(none.estimate == 0.0 && none.low == 0.0 && none.high > 0.1 && none.high < 0.2);
        assert!(mean(&Vec::new(), 0.0).estimate.is_nan());
    }
}
