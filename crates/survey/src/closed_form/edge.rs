//! Variance of the move a decade of an edge of a range.
//!
//! By presence as [`presence`] says, by detection as [`detection`] does.

mod detection;
mod presence;

pub(crate) use presence::working_site_sd;

use super::Variances;
use super::detection::Detection;
use crate::evaluate::{EDGE_COLUMNS, EDGE_SHIFT, EdgeAxis};
use crate::generator::{EdgeSites, World};
use crate::scenario::{self, Checked, Plan};
use numerics::linalg::cholesky;
use numerics::maths::{exp, pow};

/// Most sites that are worked out one by one; the information of more is that of so many, placed the same way, times
/// their number.
const MOST_SITES: u32 = 64;
/// Step in the log catch by which detection is differentiated.
const STEP: f64 = 0.05;

/// Sites and what they show, worked out once for both analyses.
struct Seen {
    axis: EdgeAxis,
    /// Chance of being occupied, `s * years + y`.
    psi: Vec<f64>,
    /// For each year: detection at the catch of that year.
    detection: Vec<Detection>,
    /// For each year: the chance that an occupied site shows itself; by presence where not all its trap-weeks are lost.
    found: Vec<f64>,
    /// For each year: slope of that chance in the log catch.
    slope: Vec<f64>,
    /// Chance that a site's liking is not drawn anew from one year to the next.
    kept: f64,
    sites: usize,
    years: usize,
    /// Sites of the plan for each of these; by presence those of which not the whole year is lost.
    each: f64,
}

impl Seen {
    fn new(scenario: &Checked, plan: &Plan, per_decade: f64) -> Option<Self> {
        let shown = Plan {
            sites: plan.sites.min(MOST_SITES),
            ..plan.clone()
        };
        let edge = EdgeSites::of(scenario, &shown, per_decade)?;
        let (sites, years) = (shown.sites as usize, plan.years as usize);
        let chances = (0..sites).flat_map(|s| (0..years).map(move |y| (s, y)));
        let psi = chances
            .map(|(s, y)| edge.chance(s, y, World::Change))
            .collect();
        let drift = scenario.premises.departures.log_drift();
        let different = if drift == 0.0 { 1 } else { years };
        let at = |log: f64| Detection::scaled(scenario, plan, exp(log));
        let of_year = |y: usize| {
            let log = drift * y as f64;
            let apart = at(log + STEP).of_a_year() - at(log - STEP).of_a_year();
            (at(log), apart / (2.0 * STEP))
        };
        let each: Vec<_> = (0..different).map(of_year).collect();
        let (detection, slope): (Vec<Detection>, Vec<f64>) =
            each.into_iter().cycle().take(years).unzip();
        // By presence a site-year that is lost as a whole is left out. By detection lost visits are visits that show
        // nothing, which is in their chance (see `occupancy`).
        let made = if scenario.by_occupancy() {
            1.0
        } else {
            let trap_weeks = f64::from(plan.traps_per_site * plan.weeks);
            1.0 - pow(scenario.premises.trap_loss.value, trap_weeks)
        };
        Some(Self {
            axis: EdgeAxis::new(scenario, &shown),
            psi,
            found: detection.iter().map(|d| d.of_a_year() / made).collect(),
            detection,
            slope: slope.into_iter().map(|s| s / made).collect(),
            kept: 1.0 - edge.redrawn,
            sites,
            years,
            each: made * f64::from(plan.sites) / f64::from(shown.sites),
        })
    }

    fn row(&self, i: usize) -> &[f64] {
        &self.axis.x[i * EDGE_COLUMNS..(i + 1) * EDGE_COLUMNS]
    }

    /// Covariance of a site's being occupied in two different years.
    fn occupied(&self, i: usize, j: usize) -> f64 {
        let (a, b) = (self.psi[i], self.psi[j]);
        powi(self.kept, i.abs_diff(j)) * (a.min(b) - a * b)
    }

    /// Chance that a site shows itself in a year when it is occupied.
    fn found(&self, i: usize) -> f64 {
        self.found[i % self.years]
    }

    /// Covariance of a site's showing itself in two different years.
    fn shown(&self, i: usize, j: usize) -> f64 {
        self.found(i) * self.found(j) * self.occupied(i, j)
    }

    /// Variance of the move a decade, from the coefficients and their covariance of so many columns.
    fn of_move(&self, beta: &[f64], covariance: &[f64], width: usize) -> f64 {
        let se = EDGE_SHIFT.estimate(beta, covariance, width).se;
        let per_decade = 10.0 * self.axis.scale * se;
        per_decade * per_decade / self.each
    }
}

fn powi(v: f64, n: usize) -> f64 {
    (0..n).fold(1.0, |p, _| p * v)
}

/// The variances when the edge moves by so much a decade.
pub fn variances(scenario: &Checked, plan: &Plan, per_decade: f64) -> Variances {
    let never = Variances::same(f64::INFINITY);
    let Some(seen) = Seen::new(scenario, plan, per_decade) else {
        return never;
    };
    let beta = seen.axis.coefficients(scenario, plan, per_decade);
    let found = if scenario.by_occupancy() {
        let each_year = scenario.analysis.detection != scenario::Detection::Constant;
        detection::variances(&seen, &beta, plan.weeks, each_year)
    } else {
        presence::variances(&seen, beta, scenario.premises.target.year_sd.value)
    };
    let finite = |v: &Variances| v.truth.is_finite() && v.believed.is_finite();
    found.filter(finite).unwrap_or(never)
}

fn times(a: &[f64], b: &[f64], n: usize) -> Vec<f64> {
    let cell = |i: usize| (0..n).map(|m| a[i / n * n + m] * b[m * n + i % n]).sum();
    (0..n * n).map(cell).collect()
}

fn inverse(mut a: Vec<f64>, n: usize) -> Option<Vec<f64>> {
    if !cholesky::factor(&mut a, n) {
        return None;
    }
    let mut out = vec![0.0; n * n];
    cholesky::inverse(&a, n, &mut out);
    Some(out)
}

#[cfg(test)]
mod tests;
