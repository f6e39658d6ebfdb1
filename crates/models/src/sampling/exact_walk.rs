//! Exact properties of sequential sampling: the law of the number of samples, the decision and the estimate.
//!
//! Totals are taken from sample to sample by their law: the chance of each total between the lines after n samples is
//! that after n - 1 samples, spread by the law of one count; what is on or beyond a line is absorbed. This is the
//! direct method of Armitage, McPherson & Rowe (1969), Journal of the Royal Statistical Society A 132:235-244, for
//! counts. Unlike Wald's approximations it knows that totals overshoot the lines and that a largest number of samples
//! ends the walk. Moments of totals beyond the upper line follow from those before the step and those that stay below
//! it.
//!
//! Exact but for rounding: chances below 1e-40 at the ends of the range of totals are dropped. The cost is the number
//! of products, that is for each sample the totals between the lines times the counts that one sample can hold;
//! it grows with the square of the distance of the lines.

use super::CountLaw;
use super::stop_lines::{StopLines, at_least, at_most};
use thiserror::Error;

/// Most products of a walk, about a second of one core.
pub const MOST_PRODUCTS: u64 = 10_000_000_000;
/// Most samples of a walk.
pub const MOST_SAMPLES: u64 = 1_000_000;
/// Most totals that are followed at a time, and most counts of one sample.
pub const MOST_TOTALS: u64 = 4_000_000;

const NEGLIGIBLE: f64 = 1e-40;

/// When the lines are looked at, and what happens when they were not met.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Course {
    /// Samples taken before the first look at the lines, 1 or more.
    pub fewest: u64,
    /// Samples after which the walk ends anyway, `fewest` or more and at most [`MOST_SAMPLES`].
    pub most: u64,
    /// What is decided then.
    pub at_end: AtEnd,
}

/// The decision on a total still between the lines after the last sample.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum AtEnd {
    /// Low up to this total, high above it.
    LowUpTo(f64),
    /// None.
    Undecided,
}

/// Why a walk has no result.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum WalkError {
    /// The count's law, or that of the largest total, has a parameter out of its bounds.
    #[error("the law of the counts is out of its bounds")]
    Law,
    /// No samples, or the walk ends before the lines are looked at.
    #[error("the walk ends after {most} samples, but the first look at the lines is after {first}")]
    NoLook {
        /// Samples before the first look.
        first: u64,
        /// Largest number of samples.
        most: u64,
    },
    /// Without an upper line totals have no bound.
    #[error("there is no upper line after {samples} samples")]
    NoUpperLine {
        /// Number of samples.
        samples: u64,
    },
    /// More samples than [`MOST_SAMPLES`].
    #[error("{0} samples, more than the {MOST_SAMPLES} that are followed")]
    TooManySamples(u64),
    /// More totals than [`MOST_TOTALS`].
    #[error("{0} different totals or counts, more than the {MOST_TOTALS} that are followed")]
    TooManyTotals(u64),
    /// More products than allowed.
    #[error("more than {0} steps: the lines are too far apart or the samples too many")]
    TooManyProducts(u64),
}

/// The walks that end after one number of samples.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stop {
    /// Number of samples.
    pub samples: u64,
    /// Chance to stop here and decide low.
    pub low: f64,
    /// Chance to stop here and decide high (at Green's or Kuno's line: to stop).
    pub high: f64,
    /// Chance to end here, after the last sample, without a decision.
    pub undecided: f64,
    /// Mean of the total over the walks that end here, times their chance.
    pub total: f64,
    /// Mean of the squared total over the walks that end here, times their chance.
    pub square: f64,
}

impl Stop {
    /// Chance to end here.
    pub fn chance(&self) -> f64 {
        self.low + self.high + self.undecided
    }
}

/// Everything about the end of a walk.
#[derive(Clone, Debug, PartialEq)]
pub struct Ends {
    /// By number of samples, rising, from the first look on; up to the last number that has a chance.
    pub stops: Vec<Stop>,
    /// True mean per sample.
    pub mean: f64,
}

impl Ends {
    /// Chance to decide low: the operating characteristic.
    pub fn low(&self) -> f64 {
        self.stops.iter().map(|s| s.low).sum()
    }

    /// Chance to decide high (at Green's or Kuno's line: to meet it).
    pub fn high(&self) -> f64 {
        self.stops.iter().map(|s| s.high).sum()
    }

    /// Chance to reach the last sample without a decision.
    pub fn undecided(&self) -> f64 {
        self.stops.iter().map(|s| s.undecided).sum()
    }

    /// Average sample number.
    pub fn mean_samples(&self) -> f64 {
        self.sum(|s| s.samples as f64 * s.chance())
    }

    /// Standard deviation of the number of samples.
    pub fn sd_samples(&self) -> f64 {
        let mean = self.mean_samples();
        self.sum(|s| {
            let gap = s.samples as f64 - mean;
            gap * gap * s.chance()
        })
        .sqrt()
    }

    /// The number of samples that is enough with chance `p` (0 to 1): the smallest n with P(N <= n) >= p.
    pub fn samples_quantile(&self, p: f64) -> u64 {
        let mut below = 0.0;
        for stop in &self.stops {
            below += stop.chance();
            if below >= p - 1e-12 {
                return stop.samples;
            }
        }
        self.stops.last().map_or(0, |s| s.samples)
    }

    /// Mean of the total at the end.
    pub fn mean_total(&self) -> f64 {
        self.sum(|s| s.total)
    }

    /// Mean of the estimate total/n.
    pub fn mean_estimate(&self) -> f64 {
        self.sum(|s| s.total / s.samples as f64)
    }

    /// Standard deviation of the estimate total/n about its mean.
    pub fn sd_estimate(&self) -> f64 {
        // About the true mean, which is near, so that little cancels.
        let square = self.sum(|s| {
            let n = s.samples as f64;
            s.square / n / n - 2.0 * self.mean * (s.total / n) + self.mean * self.mean * s.chance()
        });
        let bias = self.mean_estimate() - self.mean;
        (square - bias * bias).max(0.0).sqrt()
    }

    /// Bias of the estimate over the true mean.
    pub fn relative_bias(&self) -> f64 {
        self.mean_estimate() / self.mean - 1.0
    }

    /// Standard deviation of the estimate over the true mean: the precision reached, to be held against the one wanted.
    pub fn relative_error(&self) -> f64 {
        self.sd_estimate() / self.mean
    }

    fn sum(&self, of: impl Fn(&Stop) -> f64) -> f64 {
        self.stops.iter().map(of).sum()
    }
}

/// Follows the totals of counts with this law between the lines, until they are met or the course ends. Where the lines
/// cross, the lower one is looked at first.
///
/// # Errors
/// Numbers out of bounds, lines without an upper one, and walks that are too large, see [`WalkError`].
pub fn walk(law: CountLaw, lines: &impl StopLines, course: Course) -> Result<Ends, WalkError> {
    walk_within(law, lines, course, MOST_PRODUCTS)
}

/// The same with at most so many products (and never more than [`MOST_PRODUCTS`]), for those who cannot wait.
///
/// # Errors
/// As for [`walk`].
pub fn walk_within(
    law: CountLaw,
    lines: &impl StopLines,
    course: Course,
    most_products: u64,
) -> Result<Ends, WalkError> {
    let most_products = most_products.min(MOST_PRODUCTS);
    if !law.is_valid() {
        return Err(WalkError::Law);
    }
    let most = course.most;
    let first = course.fewest.max(lines.first()).max(1);
    if first > most {
        return Err(WalkError::NoLook { first, most });
    }
    if most > MOST_SAMPLES {
        return Err(WalkError::TooManySamples(most));
    }
    if !law.total(most).is_valid() {
        return Err(WalkError::Law);
    }
    let (mean, variance) = (law.mean(), law.variance());
    let one = Chances::of(law, u64::MAX)?;
    let mut products = 0;
    let mut between = Chances::of(law.total(first), below(lines, first)?)?;
    let n = first as f64;
    let mut came = Moments {
        chance: 1.0,
        total: n * mean,
        square: n * variance + n * mean * (n * mean),
    };
    let mut stops = Vec::new();
    for samples in first..=most {
        let low = between.take(at_most(lines.lower(samples)));
        let left = between.moments();
        let mut stop = Stop {
            samples,
            low: low.chance,
            high: (came.chance - low.chance - left.chance).max(0.0),
            undecided: 0.0,
            total: came.total - left.total,
            square: came.square - left.square,
        };
        if samples == most {
            match course.at_end {
                AtEnd::LowUpTo(cut) => {
                    stop.low += between.take(at_most(cut)).chance;
                    stop.high += between.moments().chance;
                }
                AtEnd::Undecided => stop.undecided = left.chance,
            }
            stop.total = came.total;
            stop.square = came.square;
        }
        stops.push(stop);
        if samples == most || between.mass.is_empty() {
            break;
        }
        came = Moments {
            chance: left.chance,
            total: left.total + mean * left.chance,
            square: left.square + 2.0 * mean * left.total + (variance + mean * mean) * left.chance,
        };
        between = between.then(
            &one,
            below(lines, samples + 1)?,
            &mut products,
            most_products,
        )?;
    }
    Ok(Ends { stops, mean })
}

/// The smallest total that the upper line absorbs.
fn below(lines: &impl StopLines, samples: u64) -> Result<u64, WalkError> {
    let line = at_least(lines.upper(samples));
    if line.is_nan() || line == f64::INFINITY {
        return Err(WalkError::NoUpperLine { samples });
    }
    Ok(line.max(0.0) as u64)
}

/// Chance, mean and mean square of totals, the latter two times the chance.
struct Moments {
    chance: f64,
    total: f64,
    square: f64,
}

/// Chances of the totals from `lowest` on.
struct Chances {
    lowest: u64,
    mass: Vec<f64>,
}

impl Chances {
    /// Those of a law, below `end`.
    fn of(law: CountLaw, end: u64) -> Result<Self, WalkError> {
        let (lowest, highest) = law.range(NEGLIGIBLE);
        let end = end.min(highest + 1);
        let size = end.saturating_sub(lowest);
        if size > MOST_TOTALS {
            return Err(WalkError::TooManyTotals(size));
        }
        Ok(Self {
            lowest,
            mass: (lowest..end).map(|y| law.chance(y)).collect(),
        })
    }

    /// Takes out the totals up to `line`.
    fn take(&mut self, line: f64) -> Moments {
        let size = (line + 1.0 - self.lowest as f64).clamp(0.0, self.mass.len() as f64) as usize;
        let taken = Self {
            lowest: self.lowest,
            mass: self.mass.drain(..size).collect(),
        };
        self.lowest += size as u64;
        taken.moments()
    }

    fn moments(&self) -> Moments {
        let mut sum = Moments {
            chance: 0.0,
            total: 0.0,
            square: 0.0,
        };
        for (i, p) in self.mass.iter().enumerate() {
            let total = self.lowest as f64 + i as f64;
            sum.chance += p;
            sum.total += total * p;
            sum.square += total * total * p;
        }
        sum
    }

    /// After one more sample, totals below `end`.
    fn then(&self, one: &Self, end: u64, products: &mut u64, most: u64) -> Result<Self, WalkError> {
        let lowest = self.lowest + one.lowest;
        let size = (self.mass.len() + one.mass.len() - 1) as u64;
        let size = size.min(end.saturating_sub(lowest));
        if size > MOST_TOTALS {
            return Err(WalkError::TooManyTotals(size));
        }
        *products += pairs_below(self.mass.len() as u64, one.mass.len() as u64, size);
        if *products > most {
            return Err(WalkError::TooManyProducts(most));
        }
        let mut mass = vec![0.0; size as usize];
        for (i, p) in self.mass.iter().enumerate().take(size as usize) {
            for (sum, q) in mass[i..].iter_mut().zip(&one.mass) {
                *sum += p * q;
            }
        }
        let large = |p: &f64| *p >= NEGLIGIBLE;
        let keep = mass.iter().rposition(large).map_or(0, |i| i + 1);
        mass.truncate(keep);
        let skip = mass.iter().position(large).unwrap_or(0);
        mass.drain(..skip);
        Ok(Self {
            lowest: lowest + skip as u64,
            mass,
        })
    }
}

/// Pairs (i, j) with i below `a`, j below `b` and i + j below `size`; each at most [`MOST_TOTALS`].
fn pairs_below(a: u64, b: u64, size: u64) -> u64 {
    let rows = a.min(size);
    // Rows whose b pairs all count, then rows of size - i.
    let whole = (size + 1).saturating_sub(b).min(rows);
    let cut = rows - whole;
    whole * b + cut * (size - whole) - cut * cut.saturating_sub(1) / 2
}

#[cfg(test)]
mod tests;
