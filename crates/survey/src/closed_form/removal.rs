//! An end of animals by closed form: what is caught of them, what is left, and how that dampens the scatter.
//!
//! The hazard x of a site-year is taken for a gamma number with its mean and relative variance v, so that E exp(-x) =
//! (1 + v mean)^(-1/v) exactly; with it the relative variance of the caught share 1 - exp(-x) is known too. The share
//! that is there in a year follows by its mean: hazards of different years are independent but for trap points that stay
//! where they are, whose part in that is left out.

use super::toll::mean_factor;
use crate::generator::Depletion;
use crate::scenario::{Checked, Known, Plan, TrapPoints};
use crate::season;
use numerics::maths::{exp, exp_m1, ln, ln_1p};
use serde::{Deserialize, Serialize};

/// The share of a site's animals that its traps take.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Removed {
    /// Of those that are there in the first year, 0 to 1.
    pub share_removed: f64,
    /// Caught over what the same traps would catch were there no end of animals, in the first year.
    pub kept_of_catch: f64,
    /// Share of the first year's animals that is there at the beginning of the last year; 1 with full recovery.
    pub present_in_last_year: f64,
    /// Change of the catch by the traps' own taking, per cent a year: the slope of a line through the logs of what is
    /// there. It looks like a decline.
    pub apparent_change_percent_a_year: f64,
}

/// What traps take of the animals in their reach; `None` where animals have no end.
pub fn removed(scenario: &Checked, plan: &Plan) -> Option<Removed> {
    let r = Removal::of(scenario, plan)?;
    let present = r.of_years(plan, |_| 1.0);
    Some(Removed {
        share_removed: 1.0 - r.left(0),
        kept_of_catch: r.kept(0),
        present_in_last_year: present.last().copied().unwrap_or(1.0),
        apparent_change_percent_a_year: 100.0 * exp_m1(slope(&trapped_alone(plan, &present))),
    })
}

/// Hazards of a plan's site-years.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Removal {
    depletion: Depletion,
    /// Mean hazard of a site-year in the first year.
    mean: f64,
    /// Its relative variance over all sites and years.
    spread: f64,
    /// The part of it that differs from year to year at a site.
    within: f64,
    /// Change of the log hazard a year.
    drift: f64,
}

impl Removal {
    pub fn of(scenario: &Checked, plan: &Plan) -> Option<Self> {
        let depletion = Depletion::of(scenario, plan)?;
        let (t, d) = (&scenario.premises.target, &scenario.premises.departures);
        let classes = season::classes(plan, t.season_peak_week.value, t.season_width_weeks.value);
        let (traps, weeks) = (
            f64::from(plan.traps_per_site),
            season::effective_weeks(&classes),
        );
        let square = |sd: f64| exp_m1(sd * sd);
        let (points, weather) = (
            square(t.trap_sd.value) / traps,
            square(d.shared_week_sd.value) / weeks,
        );
        let gammas = (1.0 + points) * (1.0 + weather) / (t.dispersion_k.value * traps * weeks);
        let moving = gammas + weather;
        let new = plan.trap_points == TrapPoints::NewEachYear;
        Some(Self {
            depletion,
            mean: depletion.hazard
                * mean_factor(&[t.trap_sd.value, d.shared_week_sd.value])
                * traps
                * season::total(&classes),
            spread: moving + points,
            within: if new { moving + points } else { moving },
            drift: d.log_drift(),
        })
    }

    fn hazard(&self, year: u32) -> f64 {
        self.mean * exp(self.drift * f64::from(year))
    }

    /// Mean share of those present that is not caught.
    fn left(&self, year: u32) -> f64 {
        exp(-ln_1p(self.spread * self.hazard(year)) / self.spread)
    }

    /// Mean catch of a year over that without an end of animals, of animals as many as in the first year.
    fn kept(&self, year: u32) -> f64 {
        let v = self.spread;
        let x = self.hazard(year);
        if x > 0.0 {
            -exp_m1(-ln_1p(v * x) / v) / x
        } else {
            1.0
        }
    }

    /// Share of the animals without trapping that is there at the beginning of each year at a site that is trapped in
    /// some years; in the others nothing is taken and animals come back.
    fn present(&self, years: u32, traps: impl Fn(u32) -> bool) -> Vec<f64> {
        let mut present = 1.0;
        (0..years)
            .map(|y| {
                let now = present;
                let left = if traps(y) { self.left(y) } else { 1.0 };
                present = self.depletion.next(now, left);
                now
            })
            .collect()
    }

    /// The mean over the sites visited in each year of what is there times `times`; over all sites in a year without
    /// visits.
    fn of_years(&self, plan: &Plan, times: impl Fn(u32) -> f64) -> Vec<f64> {
        let years = plan.years;
        if plan.all_every_year() {
            let each = self.present(years, |_| true).into_iter().zip(0..);
            return each.map(|(present, y)| present * times(y)).collect();
        }
        let mut all = vec![(0.0, 0.0); years as usize];
        let mut visited = all.clone();
        for s in 0..plan.sites {
            let present = self.present(years, |y| plan.visited(s, y));
            for (y, present) in (0..years).zip(present) {
                let add = |to: &mut (f64, f64)| {
                    to.0 += present;
                    to.1 += 1.0;
                };
                add(&mut all[y as usize]);
                if plan.visited(s, y) {
                    add(&mut visited[y as usize]);
                }
            }
        }
        let each = all.into_iter().zip(visited).zip(0..);
        each.map(|((all, visited), y)| {
            let (sum, number) = if visited.1 > 0.0 { visited } else { all };
            sum / number * times(y)
        })
        .collect()
    }

    /// Mean catch of each year over that without an end of animals, of the sites visited in it.
    pub fn caught(&self, plan: &Plan) -> Vec<f64> {
        self.of_years(plan, |y| self.kept(y))
    }

    /// The same of one site, whether it is visited or not: a site that dropped out catches nothing, and before it did
    /// it was trapped as planned.
    pub fn caught_at(&self, plan: &Plan, site: u32) -> Vec<f64> {
        let each = self.present(plan.years, |y| plan.visited(site, y));
        let each = each.into_iter().zip(0..);
        each.map(|(present, y)| present * self.kept(y)).collect()
    }

    /// How much of the relative variance of the first year's hazard is left in the catch: its elasticity squared, on
    /// average.
    pub fn dampened(&self) -> f64 {
        let (x, v) = (self.hazard(0), self.within);
        if x <= 0.0 {
            return 1.0;
        }
        // Var exp(-x) over (1 - E exp(-x))^2 over v, for a gamma number x.
        let once = ln_1p(v * x) / v;
        let excess = exp_m1(ln_1p(v * v * x * x / (1.0 + 2.0 * v * x)) / v);
        let share = exp_m1(-once);
        exp(-2.0 * once) * excess / (share * share) / v
    }

    /// Mean catch of the first year over that without an end of animals.
    pub fn first(&self) -> f64 {
        self.kept(0)
    }
}

/// The years with trapping and their shares.
fn trapped_alone(plan: &Plan, shares: &[f64]) -> Vec<(f64, f64)> {
    let years = plan.years_of_trapping();
    let each = years.into_iter();
    each.map(|y| (f64::from(y), shares[y as usize])).collect()
}

/// Least-squares slope a year of the logs of shares, by year.
fn slope(shares: &[(f64, f64)]) -> f64 {
    let middle = shares.iter().map(|s| s.0).sum::<f64>() / shares.len() as f64;
    let (mut up, mut down) = (0.0, 0.0);
    for (year, share) in shares {
        let t = year - middle;
        // Over the first, so that equal shares have no slope to the last digit.
        up += t * ln((share / shares[0].1).max(f64::MIN_POSITIVE));
        down += t * t;
    }
    if down > 0.0 { up / down } else { 0.0 }
}

/// What a drift of the traps, and what they take from one year for the next, add to the slope a year on the log scale
/// beyond what the analysis is told of.
pub(super) fn unforeseen_slope(scenario: &Checked, plan: &Plan) -> f64 {
    let drift = scenario.premises.departures.log_drift();
    let told = scenario.analysis.knows.contains(&Known::DetectionDrift);
    match Removal::of(scenario, plan) {
        None if told => 0.0,
        None => drift,
        Some(r) => slope(&trapped_alone(plan, &r.caught(plan))) + if told { 0.0 } else { drift },
    }
}

/// 1/share of each year's catch over the first year's, where animals are fewer year by year; `None` otherwise.
pub(super) fn thinner(scenario: &Checked, plan: &Plan) -> Option<Vec<f64>> {
    let r = Removal::of(scenario, plan)?;
    let caught = r.caught(plan);
    let first = caught[0];
    Some(caught.into_iter().map(|c| first / c).collect())
}
