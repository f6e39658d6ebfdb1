//! A t test whose standard error comes from two kinds of scatter pooled, of which only one belongs to the effect.
//!
//! Normal data with a mean square `between` (expected value B, the larger units: sites, years) and one `within` (W: traps
//! of a site, sites of a year). The effect's estimate has the variance of B; the naive analysis pools both with all their
//! degrees of freedom, as if every small unit were one of its own. Pseudoreplication: Hurlbert 1984, Ecol. Monogr.
//! 54:187-211. With no degrees of freedom between it is Scariano & Davenport 1987, Am. Stat. 41:123-129, for two groups.

use numerics::maths::{exp, ln};
use numerics::quadrature::normal_points;
use numerics::special::{normal, student};
use serde::Serialize;

/// Steps of Simpson's rule over the root of the chi-square number between.
const STEPS: usize = 96;
/// Points of quadrature over that within, where it has many degrees of freedom.
const POINTS: usize = 9;
/// Fewer degrees of freedom are few.
const FEW: f64 = 10.0;

/// Expected mean squares with their degrees of freedom.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Strata {
    /// Expected mean square of the larger units.
    pub between: f64,
    /// Its degrees of freedom, 0 or more.
    pub between_df: f64,
    /// Expected mean square of the smaller ones.
    pub within: f64,
    /// Its degrees of freedom, 0 or more.
    pub within_df: f64,
}

impl Strata {
    /// Degrees of freedom that the naive analysis takes for its own.
    pub fn pooled_df(&self) -> f64 {
        self.between_df + self.within_df
    }

    /// Expected pooled mean square.
    pub fn pooled(&self) -> f64 {
        (self.between * self.between_df + self.within * self.within_df) / self.pooled_df()
    }

    /// The naive standard error over the true one (roots of the expected squares).
    pub fn believed(&self) -> f64 {
        if self.between > 0.0 {
            (self.pooled() / self.between).sqrt()
        } else {
            1.0
        }
    }

    /// Share of surveys without an effect in which the naive two-sided t test at `level` finds one.
    ///
    /// The mean over both chi-square numbers of the normal chance beyond; within .0001 where tested.
    pub fn false_alarm(&self, level: f64) -> f64 {
        let df = self.pooled_df();
        if self.between <= 0.0 || df <= 0.0 {
            return level;
        }
        let critical = student::quantile(1.0 - 0.5 * level, df);
        let ratio = self.within / self.between;
        let within = squares(self.within_df);
        roots(self.between_df)
            .into_iter()
            .map(|(u, p)| {
                let beyond =
                    |w: f64| 2.0 * normal::cdf(-critical * ((u * u + ratio * w) / df).sqrt());
                p * within.iter().map(|&(w, q)| q * beyond(w)).sum::<f64>()
            })
            .sum()
    }
}

/// A chi-square number with its probabilities: by its density where degrees of freedom are few, else by the cube of
/// Wilson & Hilferty (1931, Proc. Natl. Acad. Sci. 17:684-688).
fn squares(df: f64) -> Vec<(f64, f64)> {
    if df < FEW {
        return roots(df).into_iter().map(|(u, p)| (u * u, p)).collect();
    }
    let c = 2.0 / (9.0 * df);
    let square = |z: f64| {
        let root = (1.0 - c + z * c.sqrt()).max(0.0);
        df * root * root * root
    };
    let points = normal_points(POINTS).iter();
    points.map(|&(z, p)| (square(z), p)).collect()
}

/// Roots of a chi-square number with their probabilities: density u^(df - 1) e^(-u^2/2).
fn roots(df: f64) -> Vec<(f64, f64)> {
    if df <= 0.0 {
        return vec![(0.0, 1.0)];
    }
    let peak = (df - 1.0).max(0.0).sqrt();
    let low = (peak - 6.5).max(0.0);
    let step = (peak + 6.5 - low) / STEPS as f64;
    let log_density = |u: f64| {
        let power = if df == 1.0 { 0.0 } else { (df - 1.0) * ln(u) };
        power - 0.5 * u * u
    };
    let top = if peak > 0.0 { log_density(peak) } else { 0.0 };
    let mut points: Vec<(f64, f64)> = (0..=STEPS)
        .map(|i| {
            let u = low + step * i as f64;
            let weight = match i {
                0 | STEPS => 1.0,
                i if i % 2 == 1 => 4.0,
                _ => 2.0,
            };
            let density = if u > 0.0 || df == 1.0 {
                exp(log_density(u) - top)
            } else {
                0.0
            };
            (u, weight * density)
        })
        .collect();
    let total: f64 = points.iter().map(|(_, w)| w).sum();
    points.iter_mut().for_each(|(_, w)| *w /= total);
    points.retain(|(_, w)| *w > 1e-12);
    points
}
