//! How a site-year's total scatters when traps differ and some trap-weeks are lost: delta-method means.

use super::removal::Removal;
use super::toll::mean_factor;
use crate::scenario::{Checked, Plan, TrapPoints};
use crate::season::{self, Moving};
use numerics::maths::{exp, exp_m1, ln_1p, pow};

/// Relative variance of the counted total of a site-year, given its site and year effects, in two parts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Scatter {
    /// 1/mean of the total at the first year's rate (on a gradient: at the optimum).
    pub inverse_mean: f64,
    /// The part of the dispersion k.
    pub dispersion: f64,
    /// Share of site-years with any trap-week left.
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
pub(super) fn scatter(scenario: &Checked, plan: &Plan) -> Scatter {
    let p = &scenario.premises;
    let t = &p.target;
    let classes = season::classes(plan, t.season_peak_week.value, t.season_width_weeks.value);
    let traps = f64::from(plan.traps_per_site);
    let n = traps * f64::from(plan.weeks);
    let loss = p.trap_loss.value;
    let thinner = (1.0 + loss / (n * (1.0 - loss))) / (1.0 - loss);
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
    if let Some(removal) = Removal::of(scenario, plan) {
        // What makes the hazard scatter makes the catch scatter less, but for how it falls on lost trap-weeks.
        let less = removal.dampened();
        let dispersion = uneven / (t.dispersion_k.value * ((weeks + weather) / (1.0 + weather)));
        let skew = (1.0 + less * (square - 1.0) / traps) * (1.0 + less * weather / weeks);
        return Scatter {
            inverse_mean: thinner * skew / (full * removal.first()),
            dispersion: dispersion * (less + thinner - 1.0),
            seen: 1.0 - pow(loss, n),
            weeks: less * ln_1p(weather / weeks),
            points: if plan.trap_points == TrapPoints::NewEachYear {
                less * ln_1p((square - 1.0) / traps)
            } else {
                0.0
            },
        };
    }
    Scatter {
        inverse_mean: moved.map_or(1.0, |m| m.thinner)
            * thinner
            * (1.0 + (square - 1.0) / traps)
            * (1.0 + weather / weeks)
            / full,
        dispersion: thinner * uneven
            / (t.dispersion_k.value * ((weeks + weather) / (1.0 + weather))),
        seen: 1.0 - pow(loss, n),
        weeks: ln_1p(weather / weeks) + moved.map_or(0.0, |m| m.variance),
        points: if plan.trap_points == TrapPoints::NewEachYear {
            ln_1p((square - 1.0) / traps)
        } else {
            0.0
        },
    }
}
