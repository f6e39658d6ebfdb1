//! Variance of the log ratio of two groups of sites, and of its change when a treatment begins.
//!
//! With n1 treated and n0 other sites over T years, sites of variance s2_A and site-years of variance v about them:
//! difference (1/n1 + 1/n0)(s2_A + v/T); before and after (1/n1 + 1/n0) v (1/T_before + 1/T_after), where sites drop out
//! (Underwood 1994, Ecol. Appl. 4:3, for the design; the variance is that of a contrast of means). Years shared by all sites drop out of both, and so does a drift of
//! the traps. Of paired sites only what they do not have in common counts. v is that of a total on the log scale, by the
//! delta method, as for a decline; it is larger where the catch is smaller. For one year without spread between sites
//! the difference is Zhu & Lakkis 2014 (Stat. Med. 33:376), second variance.

use super::Variances;
use super::kept::scatter;
use super::removal::thinner;
use crate::generator::{pairs, site_places};
use crate::scenario::{Checked, Effect, Groups, Known, Plan, TrapPoints};
use numerics::maths::exp;

/// The variances when the log ratio is `ratio`.
pub fn variances(scenario: &Checked, plan: &Plan, ratio: f64) -> Variances {
    let Some(groups) = &plan.groups else {
        return Variances::same(f64::INFINITY);
    };
    let treated = f64::from(groups.treated_of(plan.sites));
    let others = f64::from(plan.sites) - treated;
    if treated < 1.0 || others < 1.0 {
        return Variances::same(f64::INFINITY);
    }
    let t = &scenario.premises.target;
    let d = &scenario.premises.departures;
    let square = |v: f64| v * v;
    let scatter = scatter(scenario, plan);
    let apart = 1.0 - pairs(scenario, plan).unwrap_or(0.0);
    let space = Space::of(scenario, plan, groups);
    let (own, slopes) = (
        square(t.site_year_sd.value) * apart,
        square(d.site_slope_sd.value),
    );
    let fewer = thinner(scenario, plan);
    // Mean over some years of what a site-year's count scatters, where the log ratio acts or does not.
    let counted = |years: std::ops::Range<u32>, ratio: f64| {
        let n = f64::from(years.len() as u32);
        let of_year = |y: u32| {
            let thin = exp(-d.log_drift() * f64::from(y) - ratio);
            fewer.as_ref().map_or(thin, |f| thin * f[y as usize])
        };
        let thin = years.map(of_year).sum::<f64>() / n;
        (scatter.points + scatter.inverse_mean * thin + scatter.dispersion) / scatter.seen / n
    };
    let (years, mid) = (f64::from(plan.years), 0.5 * (f64::from(plan.years) - 1.0));
    let told_slopes = scenario.analysis.knows.contains(&Known::SiteSlopes) || slopes == 0.0;
    match scenario.question.effect {
        Effect::Difference(_) => {
            let points = if plan.trap_points == TrapPoints::Same {
                square(t.trap_sd.value) / f64::from(plan.traps_per_site)
            } else {
                0.0
            };
            let by_chance =
                counted(0..plan.years, ratio) / treated + counted(0..plan.years, 0.0) / others;
            let placed = square(t.site_sd.value) * apart + slopes * mid * mid + own / years;
            let fixed = points * (1.0 / treated + 1.0 / others);
            Variances {
                truth: by_chance + fixed + placed * space.truth,
                believed: by_chance + fixed + placed * space.believed,
                floor: 0.0,
            }
        }
        _ => {
            let (before, after) = (0..groups.before_years, groups.before_years..plan.years);
            let (b, a) = (
                f64::from(groups.before_years),
                f64::from(plan.years - groups.before_years),
            );
            let by_chance = (counted(before.clone(), 0.0) + counted(after.clone(), ratio))
                / treated
                + (counted(before, 0.0) + counted(after, 0.0)) / others;
            let own = own * (1.0 / b + 1.0 / a);
            let moved = slopes * square(0.5 * years);
            // The analysis takes what sites' own changes do within a period for scatter of site-years.
            let within = if years > 2.0 {
                slopes * (b * (b * b - 1.0) + a * (a * a - 1.0)) / 12.0 / (years - 2.0)
            } else {
                0.0
            };
            let seen = if told_slopes {
                moved
            } else {
                within * (1.0 / b + 1.0 / a)
            };
            Variances {
                truth: by_chance + (own + moved) * space.truth,
                believed: by_chance + (own + seen) * space.believed,
                floor: 0.0,
            }
        }
    }
}

/// What an effect of variance 1 of each site adds to the variance of the difference between the groups' means.
struct Space {
    truth: f64,
    /// As the analysis believes from how much sites of a group differ.
    believed: f64,
}

impl Space {
    /// 1/n1 + 1/n0 where sites are independent; else by the correlations of all pairs of sites.
    fn of(scenario: &Checked, plan: &Plan, groups: &Groups) -> Self {
        let n1 = f64::from(groups.treated_of(plan.sites));
        let n0 = f64::from(plan.sites) - n1;
        let independent = 1.0 / n1 + 1.0 / n0;
        let length = scenario.premises.departures.correlation_length_km.value;
        let Some(places) = site_places(scenario, plan).filter(|_| length > 0.0) else {
            return Self {
                truth: independent,
                believed: independent,
            };
        };
        let treats: Vec<bool> = (0..plan.sites).map(|s| groups.treats(s)).collect();
        let weight = |s: usize| if treats[s] { 1.0 / n1 } else { -1.0 / n0 };
        let mut truth = independent;
        // Sums of correlations within the treated and within the others.
        let mut within = [0.0; 2];
        for (s, a) in places.iter().enumerate() {
            for (r, b) in places.iter().enumerate().take(s) {
                let (x, y) = (a.0 - b.0, a.1 - b.1);
                let alike = exp(-(x * x + y * y).sqrt() / length);
                truth += 2.0 * weight(s) * weight(r) * alike;
                if treats[s] == treats[r] {
                    within[usize::from(treats[s])] += 2.0 * alike;
                }
            }
        }
        let left = |n: f64, sum: f64| {
            if n > 1.0 {
                1.0 - sum / (n * (n - 1.0))
            } else {
                1.0
            }
        };
        let told = scenario.analysis.knows.contains(&Known::SiteCorrelation) || groups.paired;
        let believed = if told {
            truth
        } else {
            left(n1, within[1]) / n1 + left(n0, within[0]) / n0
        };
        Self { truth, believed }
    }
}
