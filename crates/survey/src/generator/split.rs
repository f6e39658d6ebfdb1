//! The trap-weeks of a site-year: which are lost, and what the others add up to.

use super::world::Generator;
use crate::season::WeekClass;
use numerics::draws::gamma;
use numerics::maths::pow;
use numerics::random::Stream;

/// Sums over the trap-weeks of a site-year of season times trap point times gamma number.
#[derive(Default)]
pub(super) struct Split {
    /// Over trap-weeks counted.
    pub counted: f64,
    /// Over trap-weeks lost.
    pub lost: f64,
    /// Trap-weeks counted.
    pub trap_weeks: f64,
    /// What `counted` is made of, when asked for.
    pub parts: Option<Vec<Part>>,
}

/// Trap-weeks of one law that add up to one number.
pub(super) struct Part {
    /// Place of the weeks' class in the list of classes.
    pub class: usize,
    /// Equal traps.
    pub traps: u32,
    /// Trap-weeks counted, of `traps` in each of the class' weeks.
    pub kept: u32,
    /// Their share of `counted`.
    pub sum: f64,
}

impl Split {
    fn keep(&mut self, class: usize, traps: u32, kept: u32, sum: f64) {
        self.counted += sum;
        self.trap_weeks += f64::from(kept);
        if let Some(parts) = &mut self.parts {
            parts.push(Part {
                class,
                traps,
                kept,
                sum,
            });
        }
    }
}

impl Generator {
    /// The trap-weeks of a site-year whose trap points have these effects (none: all equal). `base` is the expected
    /// catch of a trap-week at the season's peak over the typical one.
    pub(super) fn split(
        &self,
        rng: &mut Stream,
        points: &[f64],
        classes: &[WeekClass],
        base: f64,
        split: &mut Split,
    ) {
        if self.loss_power != 0.0 && self.loss > 0.0 {
            for t in 0..self.traps as usize {
                let point = points.get(t).copied().unwrap_or(1.0);
                self.one_by_one(rng, point, classes, base, split);
            }
        } else if points.is_empty() {
            self.add(rng, self.traps, 1.0, classes, split);
        } else {
            for &effect in points {
                self.add(rng, 1, effect, classes, split);
            }
        }
    }

    /// Adds `traps` equal traps with the given effect over all weeks; trap-weeks are lost at random.
    fn add(
        &self,
        rng: &mut Stream,
        traps: u32,
        effect: f64,
        classes: &[WeekClass],
        split: &mut Split,
    ) {
        let k = self.target.k;
        for (i, class) in classes.iter().enumerate() {
            let set = traps * class.weeks;
            let lost = if self.loss > 0.0 {
                binomial(rng, set, self.loss)
            } else {
                0
            };
            let kept = set - lost;
            let scale = class.weight * effect / k;
            if kept > 0 {
                split.keep(i, traps, kept, scale * gamma(rng, k * f64::from(kept)));
            }
            if lost > 0 {
                split.lost += scale * gamma(rng, k * f64::from(lost));
            }
        }
    }

    /// Adds one trap whose trap-weeks are lost the more often the more they caught: the odds of loss are those of the
    /// typical catch times (catch / typical)^power, where the catch is the Poisson mean with its gamma number.
    fn one_by_one(
        &self,
        rng: &mut Stream,
        effect: f64,
        classes: &[WeekClass],
        base: f64,
        split: &mut Split,
    ) {
        let k = self.target.k;
        let odds = self.loss / (1.0 - self.loss);
        for (i, class) in classes.iter().enumerate() {
            let scale = class.weight * effect / k;
            for _ in 0..class.weeks {
                let sum = scale * gamma(rng, k);
                let share = 1.0 / (1.0 + 1.0 / (odds * pow(base * sum, self.loss_power)));
                if rng.uniform() < share {
                    split.lost += sum;
                } else {
                    split.keep(i, 1, 1, sum);
                }
            }
        }
    }
}

/// A binomial number of successes in `n` trials by inversion of the distribution function: one uniform.
pub(super) fn binomial(rng: &mut Stream, n: u32, p: f64) -> u32 {
    let u = rng.uniform();
    let q = 1.0 - p;
    let mut mass = 1.0;
    for _ in 0..n {
        mass *= q;
    }
    if mass < 1e-290 {
        // Too many trials for the mass at 0: by halves, which are independent.
        return binomial(rng, n / 2, p) + binomial(rng, n - n / 2, p);
    }
    let mut below = mass;
    let mut count = 0;
    while u > below && count < n {
        count += 1;
        mass *= f64::from(n - count + 1) / f64::from(count) * p / q;
        below += mass;
    }
    count
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn binomial_moments() {
        for (i, (n, p)) in [(1u32, 0.1), (24, 0.3), (5300, 0.4)]
            .into_iter()
            .enumerate()
        {
            let mut rng = Stream::new(3, i as u64);
            let m = 20_000;
            let draws: Vec<f64> = (0..m)
                .map(|_| f64::from(binomial(&mut rng, n, p)))
                .collect();
            let mean = draws.iter().sum::<f64>() / f64::from(m);
            let var = draws.iter().map(|d| (d - mean) * (d - mean)).sum::<f64>() / f64::from(m);
            let (want, spread) = (f64::from(n) * p, f64::from(n) * p * (1.0 - p));
            assert!((mean - want).abs() < 4.0 * (spread / f64::from(m)).sqrt());
            assert!((var / spread - 1.0).abs() < 0.05, "{n} {p}: {var} {spread}");
        }
    }
}
