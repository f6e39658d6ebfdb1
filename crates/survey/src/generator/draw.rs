//! One simulated survey of the target.

use super::place;
use super::world::{Generator, World};
use numerics::draws::{gamma, poisson};
use numerics::maths::exp;
use numerics::random::Stream;

/// One simulated survey. Site-year values stand at `s * years + y`.
#[derive(Clone, Debug, Default)]
pub struct Drawn {
    /// Target animals counted (from trap-weeks that were not lost).
    pub counts: Vec<f64>,
    /// Trap-weeks counted; 0 when all were lost.
    pub effort: Vec<f64>,
    /// Target animals killed each year, lost trap-weeks included.
    pub killed: Vec<f64>,
    /// By-catch killed, group by group, each year: `g * years + y`.
    pub bycatch: Vec<f64>,
}

/// Place of a cell's own draws: counted and lost mean of a site-year.
struct Split {
    counted: f64,
    lost: f64,
    trap_weeks: f64,
}

impl Generator {
    /// Draws replicate `replicate` of `seed` in a world; by-catch only when asked for.
    pub fn draw(
        &self,
        seed: u64,
        replicate: u64,
        world: World,
        with_bycatch: bool,
        out: &mut Drawn,
    ) {
        let stream = replicate * 2 + u64::from(world == World::Still);
        let mut rng = Stream::new(seed, stream);
        let (sites, years) = (self.sites, self.years);
        out.counts.clear();
        out.effort.clear();
        out.killed.clear();
        out.killed.resize(years, 0.0);
        rng.go_to(place::SITES, 0, 0);
        let site: Vec<f64> = (0..sites)
            .map(|_| self.target.site_sd * rng.normal())
            .collect();
        rng.go_to(place::YEARS, 0, 0);
        let year: Vec<f64> = (0..years)
            .map(|_| self.target.year_sd * rng.normal())
            .collect();
        let slope = if world == World::Change {
            self.slope
        } else {
            0.0
        };
        let mut traps = Vec::new();
        for s in 0..sites {
            if self.trap_sd > 0.0 {
                rng.go_to(place::TRAPS, s as u32, 0);
                traps.clear();
                traps.extend((0..self.traps).map(|_| exp(self.trap_sd * rng.normal())));
            }
            for y in 0..years {
                rng.go_to(place::CELLS, s as u32, y as u32);
                let own = self.site_year_sd * rng.normal();
                let response = self
                    .response
                    .as_ref()
                    .map_or(slope * y as f64, |r| r.log(s, y, world));
                let base =
                    self.target.rate * self.exposure * exp(site[s] + year[y] + own + response);
                let split = self.split(&mut rng, &traps);
                let counted = poisson(&mut rng, base * split.counted);
                let lost = if split.lost > 0.0 {
                    poisson(&mut rng, base * split.lost)
                } else {
                    0.0
                };
                out.counts.push(counted);
                out.effort.push(split.trap_weeks * self.exposure);
                out.killed[y] += counted + lost;
            }
        }
        out.bycatch.clear();
        if with_bycatch {
            for (g, group) in self.groups.iter().enumerate() {
                group.draw(&mut rng, g, sites, years, &mut out.bycatch);
            }
        }
    }

    /// Sum over trap-weeks of season times trap effect times gamma number, counted and lost apart.
    fn split(&self, rng: &mut Stream, traps: &[f64]) -> Split {
        let mut split = Split {
            counted: 0.0,
            lost: 0.0,
            trap_weeks: 0.0,
        };
        if traps.is_empty() {
            self.add(rng, self.traps, 1.0, &mut split);
        } else {
            for &effect in traps {
                self.add(rng, 1, effect, &mut split);
            }
        }
        split
    }

    /// Adds `traps` equal traps with the given effect over all weeks.
    fn add(&self, rng: &mut Stream, traps: u32, effect: f64, split: &mut Split) {
        let k = self.target.k;
        for class in &self.classes {
            let set = traps * class.weeks;
            let lost = if self.loss > 0.0 {
                binomial(rng, set, self.loss)
            } else {
                0
            };
            let kept = set - lost;
            let scale = class.weight * effect / k;
            if kept > 0 {
                split.counted += scale * gamma(rng, k * f64::from(kept));
                split.trap_weeks += f64::from(kept);
            }
            if lost > 0 {
                split.lost += scale * gamma(rng, k * f64::from(lost));
            }
        }
    }
}

/// A binomial number of successes in `n` trials by inversion of the distribution function: one uniform.
fn binomial(rng: &mut Stream, n: u32, p: f64) -> u32 {
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
