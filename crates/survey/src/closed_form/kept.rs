//! How a site-year's total scatters when traps differ and some trap-weeks are lost: delta-method means.

use super::removal::Removal;
use super::toll::mean_factor;
use crate::scenario::{Checked, Plan, TrapPoints};
use crate::season::{self, Moving};
use numerics::maths::{exp, exp_m1, ln, ln_1p, pow};

/// Relative variance of the counted total of a site-year, given its site and year effects, in two parts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Scatter {
    /// 1/mean of the total at the first year's rate (on a gradient: at the optimum).
    pub inverse_mean: f64,
    /// The part of the dispersion k.
    pub dispersion: f64,
    /// Share of site-years with any trap-week left, and back before the cut-off date.
    pub seen: f64,
    /// Variance of the log total by the weather of its weeks and by the season's own shift: the same at all sites of a
    /// year.
    pub weeks: f64,
    /// Variance of the log total by trap points that are new each year: by itself in each site-year.
    pub points: f64,
}

/// The scatter under a plan. With c the trap effects (lognormal, SD t, m traps), E[sum c^2/(sum c)^2] is taken as
/// e^(t^2)/(m + e^(t^2) - 1) and E[1/sum c] as (1 + (e^(t^2) - 1)/m)/(m e^(t^2/2)); with K of n trap-weeks kept,
/// E[n/K | K > 0] to second order, 1 + loss/(n (1 - loss)) over 1 - loss.
/// Weather of SD r shared in a week acts on the season's W effective weeks as trap points do on traps; the log of its
/// mean over weeks has the variance ln(1 + (e^(r^2) - 1)/W) (Fenton 1960, IRE Trans. Commun. Syst. 8:57, for sums of
/// lognormal numbers), as new trap points have ln(1 + (e^(t^2) - 1)/m).
/// Where losses cluster, by the beta-binomial law of the trap-weeks left.
pub(super) fn scatter(scenario: &Checked, plan: &Plan) -> Scatter {
    let p = &scenario.premises;
    let t = &p.target;
    let classes = season::classes(plan, t.season_peak_week.value, t.season_width_weeks.value);
    let traps = f64::from(plan.traps_per_site);
    let n = traps * f64::from(plan.weeks);
    let loss = p.trap_loss.value;
    let alike = p.departures.loss_clustering.value;
    let clustered = (loss > 0.0 && alike > 0.0).then(|| Clustered::new(n as u32, loss, alike));
    let week_sd = p.departures.shared_week_sd.value;
    let square = exp(t.trap_sd.value * t.trap_sd.value);
    let full = t.catch_per_trap_week.value
        * mean_factor(&[t.trap_sd.value, week_sd])
        * (plan.exposure_days / 7.0)
        * traps
        * season::total(&classes);
    let weeks = season::effective_weeks(&classes);
    let weather = exp_m1(week_sd * week_sd);
    let moved = Moving::of(&p.departures)
        .map(|m| m.of_log(plan, t.season_peak_week.value, t.season_width_weeks.value));
    let uneven = square / (traps + square - 1.0);
    let points = if plan.trap_points == TrapPoints::NewEachYear {
        ln_1p((square - 1.0) / traps)
    } else {
        0.0
    };
    let dispersion = uneven / (t.dispersion_k.value * ((weeks + weather) / (1.0 + weather)));
    let any = clustered
        .as_ref()
        .map_or_else(|| 1.0 - pow(loss, n), |c| c.any);
    let seen = any * (1.0 - p.late_share.value);
    // By how much thinner counts are by lost trap-weeks, of a whole site-year's points and counts.
    let thinned = |points: f64, counted: f64| match &clustered {
        Some(c) => c.thinner(
            t.site_year_sd.value * t.site_year_sd.value + points,
            counted,
        ),
        None => (1.0 + loss / (n * (1.0 - loss))) / (1.0 - loss),
    };
    if let Some(removal) = Removal::of(scenario, plan) {
        // What makes the hazard scatter makes the catch scatter less, but for how it falls on lost trap-weeks.
        let less = removal.dampened();
        let skew = (1.0 + less * (square - 1.0) / traps) * (1.0 + less * weather / weeks);
        let full = full * removal.first();
        let points = if plan.trap_points == TrapPoints::NewEachYear {
            less * ln_1p((square - 1.0) / traps)
        } else {
            0.0
        };
        let thinner = thinned(points, skew / full + dispersion * less);
        return Scatter {
            inverse_mean: thinner * skew / full,
            dispersion: dispersion * (less + thinner - 1.0),
            seen,
            weeks: less * ln_1p(weather / weeks),
            points,
        };
    }
    let one_count = moved.as_ref().map_or(1.0, |m| m.thinner)
        * (1.0 + (square - 1.0) / traps)
        * (1.0 + weather / weeks)
        / full;
    let thinner = thinned(points, one_count + dispersion);
    Scatter {
        inverse_mean: moved.map_or(1.0, |m| m.thinner)
            * thinner
            * (1.0 + (square - 1.0) / traps)
            * (1.0 + weather / weeks)
            / full,
        dispersion: thinner * uneven
            / (t.dispersion_k.value * ((weeks + weather) / (1.0 + weather))),
        seen,
        weeks: ln_1p(weather / weeks) + moved.map_or(0.0, |m| m.variance),
        points,
    }
}

/// Variance of the log of one site's yearly total about its site and its year: the site's own year, trap points that are
/// new each year, and counting; at the first year's catch.
pub(crate) fn site_year_variance(scenario: &Checked, plan: &Plan) -> f64 {
    let own = scenario.premises.target.site_year_sd.value;
    let s = scatter(scenario, plan);
    own * own + s.points + s.inverse_mean + s.dispersion
}

/// Variance of the log of one trap's yearly total about its site in that year: its point and counting, the counting as
/// the lognormal number of the same relative variance (Nakagawa, Johnson & Schielzeth 2017, J. R. Soc. Interface
/// 14:20170213).
pub(crate) fn trap_total_variance(scenario: &Checked, plan: &Plan) -> f64 {
    let point = scenario.premises.target.trap_sd.value;
    let alone = Plan {
        traps_per_site: 1,
        ..plan.clone()
    };
    let s = scatter(scenario, &alone);
    point * point + ln_1p(s.inverse_mean + s.dispersion)
}

/// Trap-weeks left of a site-year whose losses cluster: a beta-binomial number of all but the lost.
struct Clustered {
    /// Chance of each number of trap-weeks left, from 0.
    left: Vec<f64>,
    /// Chance that any is left.
    any: f64,
}

impl Clustered {
    /// Of `n` trap-weeks, the share `loss` of which is lost with this intra-class correlation.
    fn new(n: u32, loss: f64, alike: f64) -> Self {
        let rest = (1.0 - alike) / alike;
        let (kept, lost) = ((1.0 - loss) * rest, loss * rest);
        let up_to = f64::from(n);
        // By the ratio of each chance to the one before it, on the log scale, which starts at that of none left.
        let mut log = (0..n)
            .map(|i| ln((lost + f64::from(i)) / (rest + f64::from(i))))
            .sum::<f64>();
        let mut left = vec![exp(log)];
        for j in 1..=n {
            let j = f64::from(j);
            log += ln((up_to - j + 1.0) / j * (kept + j - 1.0) / (lost + up_to - j));
            left.push(exp(log));
        }
        let any = 1.0 - left[0];
        Self { left, any }
    }

    /// By how much thinner the counts are, seen from what a site-year tells: `own` is the variance that effort does not
    /// lessen, `counted` that of a whole site-year's count. 1/(own + thinner counted) is the mean of 1/(own + (n/left)
    /// counted) over the numbers left, where any is.
    fn thinner(&self, own: f64, counted: f64) -> f64 {
        let n = self.left.len() as f64 - 1.0;
        let told: f64 = (1..self.left.len())
            .map(|j| self.left[j] / (own + n / j as f64 * counted))
            .sum();
        (self.any / told - own) / counted
    }
}
