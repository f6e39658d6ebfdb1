//! The law of a trend's statistic whose variance is estimated with a floor.
//!
//! In balanced normal data the years' scatter about the line has T - 2 degrees of freedom, and that of site-years within
//! years many more; restricted likelihood takes the first for the slope's variance as long as it is the larger, and both
//! pooled where it is not (the SD of shared years is then 0; Searle, Casella & McCulloch 1992, Variance Components,
//! section 4.7). Where years are much alike the statistic is therefore close to normal, where they are not it is
//! Student's t. The scatter within years, of many degrees of freedom, is taken at its expectation.

use numerics::maths::{exp, ln};
use numerics::root::rising;
use numerics::special::normal;

/// Steps of Simpson's rule over the chi distribution where degrees of freedom are many; the fewer they are, the more
/// hangs on small roots and the more steps there are. Errors below 1e-4.
const STEPS: usize = 240;
const MANY: f64 = 8.0;
/// Relative length of the last step of Newton's method; what is then left is about its square.
const LAST_STEP: f64 = 1e-5;

/// A normal estimate over a standard error that is so estimated.
#[derive(Clone, Debug, PartialEq)]
pub struct PooledStatistic {
    /// Root of the estimated variance over the true one, with its probability.
    scales: Vec<(f64, f64)>,
}

impl PooledStatistic {
    /// With `between` degrees of freedom of the scatter between years, `within` of that within years, and the expected
    /// mean square within years over that between years, from 0 (no floor: Student's t) to 1 (years are alike).
    pub fn new(between: f64, within: f64, ratio: f64) -> Self {
        // The root of a chi-square number: density u^(between - 1) e^(-u^2/2), its peak at sqrt(between - 1).
        let peak = (between - 1.0).max(0.0).sqrt();
        let (low, high) = ((peak - 9.0).max(0.0), peak + 9.0);
        let steps = STEPS * (MANY / between).ceil() as usize;
        let step = (high - low) / steps as f64;
        let top = (between - 1.0) * ln(peak.max(1e-300)) - 0.5 * peak * peak;
        let mut scales: Vec<(f64, f64)> = (0..=steps)
            .map(|i| {
                let u = low + step * i as f64;
                let weight = if i == 0 || i == steps {
                    1.0
                } else if i % 2 == 1 {
                    4.0
                } else {
                    2.0
                };
                let density = if between == 1.0 {
                    exp(-0.5 * u * u)
                } else if u > 0.0 {
                    exp((between - 1.0) * ln(u) - 0.5 * u * u - top)
                } else {
                    0.0
                };
                let square = u * u;
                let own = square / between;
                let variance = if own > ratio {
                    own
                } else {
                    (square + within * ratio) / (between + within)
                };
                (variance.sqrt(), weight * density)
            })
            .collect();
        let total: f64 = scales.iter().map(|(_, w)| w).sum();
        scales.iter_mut().for_each(|(_, w)| *w /= total);
        scales.retain(|(_, w)| *w > 1e-14);
        Self { scales }
    }

    /// Chance that the statistic exceeds `critical` (or, if `two_sided`, lies beyond it either way) when the estimate
    /// is expected `delta` of its standard deviations from 0.
    pub fn power(&self, critical: f64, delta: f64, two_sided: bool) -> f64 {
        let beyond = |scale: f64| {
            let up = normal::cdf(delta - critical * scale);
            if two_sided {
                up + normal::cdf(-delta - critical * scale)
            } else {
                up
            }
        };
        self.scales.iter().map(|(s, w)| w * beyond(*s)).sum()
    }

    /// What the share `level` of statistics exceed (or, if `two_sided`, lie beyond either way) that are expected at
    /// `delta`, at most 1000; if `two_sided` 0 where fewer lie beyond 0, else below 0 where the statistic itself is.
    pub fn critical(&self, level: f64, delta: f64, two_sided: bool) -> f64 {
        let falls = |c: f64| {
            let at = |(s, w): &(f64, f64)| {
                let up = normal::pdf(delta - c * s);
                let down = if two_sided {
                    normal::pdf(-delta - c * s)
                } else {
                    0.0
                };
                w * s * (up + down)
            };
            self.scales.iter().map(at).sum::<f64>()
        };
        let over = |c: f64| (level - self.power(c, delta, two_sided), falls(c));
        let tail = if two_sided { 0.5 * level } else { level };
        let (far, low) = if two_sided {
            (delta.abs(), 0.0)
        } else {
            (delta, -1e3)
        };
        rising(over, far - normal::quantile(tail), low, 1e3, LAST_STEP)
    }

    /// Where the statistic must be expected to exceed `critical` with this power, at most 1e6; if `two_sided` 0 when it
    /// does so anyway.
    pub fn delta_where(&self, critical: f64, two_sided: bool, power: f64) -> f64 {
        let rises = |delta: f64| {
            let at = |(s, w): &(f64, f64)| {
                let down = if two_sided {
                    normal::pdf(-delta - critical * s)
                } else {
                    0.0
                };
                w * (normal::pdf(delta - critical * s) - down)
            };
            self.scales.iter().map(at).sum::<f64>()
        };
        let short = |delta: f64| (self.power(critical, delta, two_sided) - power, rises(delta));
        let low = if two_sided { 0.0 } else { -1e6 };
        rising(
            short,
            critical + normal::quantile(power),
            low,
            1e6,
            LAST_STEP,
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use numerics::random::Stream;
    use numerics::root::bracketed;
    use numerics::special::{noncentral_t, student};

    /// What one statistic in twenty exceeds either way.
    fn critical(law: &PooledStatistic) -> f64 {
        bracketed(|c| 0.05 - law.power(c, 0.0, true), 0.0, 1e3, 1e-9)
    }

    /// Holds a root against the one that halving finds: with two sides at least 0.
    fn by_halving(f: impl Fn(f64) -> f64, two: bool, high: f64, got: f64, case: &str) {
        let want = match (two, f(0.0) >= 0.0) {
            (true, true) => 0.0,
            (true, false) => bracketed(f, 0.0, high, 1e-12),
            (false, _) => bracketed(f, -high, high, 1e-12),
        };
        assert!(
            (got - want).abs() < 1e-6 * (1.0 + want.abs()),
            "{case}: {got} {want}"
        );
    }

    /// The roots are those that halving finds, also where no value is exceeded so rarely, or nothing need be expected.
    #[test]
    fn roots_of_the_power() {
        for (df, within, ratio) in [(1.0, 40.0, 0.0), (3.0, 60.0, 1.0), (28.0, 800.0, 0.6)] {
            let law = PooledStatistic::new(df, within, ratio);
            for (level, two) in [(0.05, true), (0.05, false), (0.3, false), (0.001, true)] {
                for delta in [-40.0, -1.0, 0.0, 0.7, 4.0] {
                    let got = law.critical(level, delta, two);
                    let over = |c: f64| level - law.power(c, delta, two);
                    let case = format!("{df} {level} {two} {delta}");
                    by_halving(over, two, 1e3, got, &case);
                }
                let c = law.critical(level, 0.0, two);
                for power in [0.0005, 0.2, 0.8, 0.999] {
                    let got = law.delta_where(c, two, power);
                    let short = |d: f64| law.power(c, d, two) - power;
                    let case = format!("{df} {level} {two} {power}");
                    by_halving(short, two, 1e6, got, &case);
                }
            }
        }
    }

    /// Without a floor: Student's t, central and not.
    #[test]
    fn without_a_floor_students_t() {
        for df in [1.0, 3.0, 8.0, 28.0] {
            let law = PooledStatistic::new(df, 200.0, 0.0);
            let c = critical(&law);
            let t = student::quantile(0.975, df);
            assert!((c / t - 1.0).abs() < 2e-4, "{df}: {c} {t}");
            for delta in [0.5, 2.5] {
                let (got, want) = (
                    law.power(t, delta, true),
                    noncentral_t::power(t, df, delta, true),
                );
                assert!((got - want).abs() < 1e-4, "{df} {delta}: {got} {want}");
            }
        }
    }

    /// Mean squares drawn and pooled as restricted likelihood does.
    #[test]
    fn as_simulated() {
        let n = 40_000;
        for (between, within, ratio) in [(3.0, 60.0, 1.0), (8.0, 261.0, 0.5), (6.0, 203.0, 0.9)] {
            let law = PooledStatistic::new(between, within, ratio);
            let c = critical(&law);
            let mut rng = Stream::new(17, between as u64);
            let mut beyond = [0.0; 2];
            for _ in 0..n {
                let square = |rng: &mut Stream, df: f64| {
                    (0..df as usize)
                        .map(|_| rng.normal())
                        .map(|z| z * z)
                        .sum::<f64>()
                };
                let (a, b) = (square(&mut rng, between), ratio * square(&mut rng, within));
                let variance = if a / between > b / within {
                    a / between
                } else {
                    (a + b) / (between + within)
                };
                let z = rng.normal();
                for (beyond, delta) in beyond.iter_mut().zip([0.0, 2.6]) {
                    *beyond += f64::from(u8::from(((z + delta) / variance.sqrt()).abs() > c));
                }
            }
            for (beyond, delta) in beyond.into_iter().zip([0.0, 2.6]) {
                let (got, want) = (beyond / f64::from(n), law.power(c, delta, true));
                // Four standard errors, and what the scatter within years adds.
                assert!(
                    (got - want).abs() < 0.011,
                    "{between} {ratio} {delta}: {got} {want}"
                );
            }
        }
    }
}
