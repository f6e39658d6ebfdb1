//! A survey week by week.
//!
//! A site-year's count was drawn as one Poisson number. Given the sums of its parts, the counts of its weeks are
//! multinomial; given a part's sum, the shares of its trap-weeks are Dirichlet with the dispersion k each (gamma
//! numbers over their sum); given how many of its trap-weeks are left, any of them are equally likely. So the weeks
//! refine the very same survey, and have the model's law.

use super::losses::binomial;
use super::split::Split;
use super::world::Generator;
use crate::season::WeekClass;
use numerics::draws::gamma;
use numerics::random::Stream;

/// The target's catch by site, year and week: values stand at `(s * years + y) * weeks + w`, with `w` from 0 in the
/// plan's first week.
#[derive(Clone, Debug, Default)]
pub struct Weekly {
    /// Target animals counted (from trap-weeks that were not lost).
    pub counts: Vec<f64>,
    /// Trap-weeks counted; 0 when all were lost. Those set are [`Generator::weekly_effort`].
    pub effort: Vec<f64>,
}

impl Weekly {
    pub(super) fn clear(&mut self, rows: usize) {
        for list in [&mut self.counts, &mut self.effort] {
            list.clear();
            list.reserve(rows);
        }
    }
}

impl Generator {
    /// Appends the weeks of one site-year of which `counted` animals were counted.
    pub(super) fn share_out(
        &self,
        rng: &mut Stream,
        classes: &[WeekClass],
        split: &Split,
        counted: f64,
        weekly: &mut Weekly,
    ) {
        let weeks = self.season.len();
        let (mut sums, mut kept) = (vec![0.0; weeks], vec![0u32; weeks]);
        // Classes take their weeks in the order of the season.
        let starts: Vec<usize> = classes
            .iter()
            .scan(0, |next, class| {
                let start = *next;
                *next += class.weeks as usize;
                Some(start)
            })
            .collect();
        for part in split.parts.iter().flatten() {
            let own = &self.order[starts[part.class]..][..classes[part.class].weeks as usize];
            let left = spread_kept(rng, part.traps, own.len() as u32, part.kept);
            let shares = self.shares(rng, &left);
            for ((&w, n), share) in own.iter().zip(left).zip(shares) {
                kept[w] += n;
                sums[w] += part.sum * share;
            }
        }
        let counts = multinomial(rng, counted, &sums);
        weekly.counts.extend(counts);
        weekly
            .effort
            .extend(kept.iter().map(|&n| self.exposure * f64::from(n)));
    }

    /// Shares of weeks in a sum of equal gamma numbers, `left` of them in each week.
    fn shares(&self, rng: &mut Stream, left: &[u32]) -> Vec<f64> {
        if let [_] = left {
            return vec![1.0];
        }
        let mut draws: Vec<f64> = left
            .iter()
            .map(|&n| {
                if n == 0 {
                    0.0
                } else {
                    gamma(rng, self.target.k * f64::from(n))
                }
            })
            .collect();
        let mut total: f64 = draws.iter().sum();
        if total == 0.0 && left.iter().any(|&n| n > 0) {
            // All fell below the smallest number: with so small a k, one trap-week has it all, each as likely.
            let all: u32 = left.iter().sum();
            let mut chosen = (rng.uniform() * f64::from(all)) as u32;
            for (draw, &n) in draws.iter_mut().zip(left) {
                if chosen < n {
                    *draw = 1.0;
                    break;
                }
                chosen -= n;
            }
            total = 1.0;
        }
        if total > 0.0 {
            draws.iter_mut().for_each(|d| *d /= total);
        }
        draws
    }
}

/// How many of the `kept` trap-weeks fall into each of `weeks` weeks of `traps` trap-weeks, each choice as likely.
fn spread_kept(rng: &mut Stream, traps: u32, weeks: u32, kept: u32) -> Vec<u32> {
    let (mut left, mut units) = (kept, traps * weeks);
    if left == units {
        return vec![traps; weeks as usize];
    }
    (0..weeks)
        .map(|_| {
            let mut here = 0;
            for _ in 0..traps {
                if rng.uniform() * f64::from(units) < f64::from(left) {
                    here += 1;
                    left -= 1;
                }
                units -= 1;
            }
            here
        })
        .collect()
}

/// `n` animals over places with these expected numbers.
fn multinomial(rng: &mut Stream, n: f64, expected: &[f64]) -> Vec<f64> {
    let mut left = n;
    let mut total: f64 = expected.iter().sum();
    // The last place that can hold any takes what is left, so that rounding loses none.
    let last = expected.iter().rposition(|&e| e > 0.0);
    expected
        .iter()
        .enumerate()
        .map(|(i, &e)| {
            let here = if Some(i) == last {
                left
            } else if e > 0.0 && left > 0.0 {
                successes(rng, left, (e / total).min(1.0))
            } else {
                0.0
            };
            left -= here;
            total -= e;
            here
        })
        .collect()
}

/// A binomial number of successes in `n` trials, `n` of any size: the middle order statistic of n uniforms is a beta
/// number, on one side of which all trials are decided (Devroye 1986, Non-Uniform Random Variate Generation, X.4.3).
fn successes(rng: &mut Stream, mut n: f64, mut p: f64) -> f64 {
    let mut sure = 0.0;
    while n > 60.0 {
        let a = 1.0 + (0.5 * n).floor();
        let (x, y) = (gamma(rng, a), gamma(rng, n + 1.0 - a));
        let middle = x / (x + y);
        if middle > p {
            // The a-th smallest uniform is above p: so are all after it.
            n = a - 1.0;
            p /= middle;
        } else {
            sure += a;
            n -= a;
            p = (p - middle) / (1.0 - middle);
        }
    }
    if p >= 1.0 {
        return sure + n;
    }
    sure + f64::from(binomial(rng, n as u32, p))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn successes_have_binomial_moments() {
        for (i, (n, p)) in [(61.0, 0.02), (500.0, 0.3), (1e6, 0.7), (40.0, 0.5)]
            .into_iter()
            .enumerate()
        {
            let mut rng = Stream::new(8, i as u64);
            let m = 20_000;
            let draws: Vec<f64> = (0..m).map(|_| successes(&mut rng, n, p)).collect();
            let mean = draws.iter().sum::<f64>() / f64::from(m);
            let var = draws.iter().map(|d| (d - mean) * (d - mean)).sum::<f64>() / f64::from(m);
            let spread = n * p * (1.0 - p);
            assert!(
                (mean - n * p).abs() < 4.0 * (spread / f64::from(m)).sqrt(),
                "{n} {p}: {mean}"
            );
            assert!((var / spread - 1.0).abs() < 0.05, "{n} {p}: {var} {spread}");
        }
        let mut rng = Stream::new(8, 9);
        assert_eq!(successes(&mut rng, 1e4, 1.0), 1e4);
    }

    #[test]
    fn kept_trap_weeks_are_spread_evenly() {
        let mut rng = Stream::new(8, 20);
        let mut sums = [0u32; 3];
        for _ in 0..9_000 {
            let left = spread_kept(&mut rng, 4, 3, 7);
            assert!(left.iter().sum::<u32>() == 7 && left.iter().all(|&n| n <= 4));
            for (sum, n) in sums.iter_mut().zip(left) {
                *sum += n;
            }
        }
        // Variance of a week's number: 7 * (1/3)(2/3)(5/11).
        for sum in sums {
            let mean = f64::from(sum) / 9_000.0;
            assert!((mean - 7.0 / 3.0).abs() < 4.0 * (0.707f64 / 9_000.0).sqrt());
        }
    }
}
