//! The chance that a survey catches none of a target that is there at a stated mean density.
//!
//! A trap-week with mean mu is empty with chance (1 + mu/k)^-k (negative binomial; e^-mu for Poisson: McArdle 1990, Oikos
//! 57:276; Green & Young 1993, Ecol. Appl. 3:351), and lost ones show nothing. Sites, years and trap points multiply mu by
//! lognormal numbers, which are averaged over by Gauss-Hermite quadrature: trap points by themselves, sites by themselves,
//! years for all sites at once. What differs between years is taken as one number with the variance of its mean over the
//! years (exact for one year, or where years are alike).

use super::mean_factor;
use crate::scenario::{Checked, Effect, Plan};
use crate::season;
use numerics::maths::{exp, exp_m1, ln, ln_1p, pow};
use numerics::quadrature::lognormal_points;
use numerics::root::bracketed;

const YEAR_POINTS: usize = 11;
const SITE_POINTS: usize = 15;
const TRAP_POINTS: usize = 9;

/// For each state of the years and of a site: its weight and the chance that one trap catches none in a year.
pub(super) struct OneTrap {
    years: f64,
    /// Weight of the years' state, and the site's weights with their chances.
    states: Vec<(f64, Vec<(f64, f64)>)>,
}

/// SD of the log of the mean over n years of a lognormal number of this SD (Fenton 1960, IRE Trans. Commun. Syst. 8:57).
fn of_mean(sd: f64, n: f64) -> f64 {
    ln_1p(exp_m1(sd * sd) / n).sqrt()
}

/// Points of a factor of mean 1.
fn points(sd: f64, n: usize) -> Vec<(f64, f64)> {
    let mean = mean_factor(&[sd]);
    let points = lognormal_points(sd, n).into_iter();
    points.map(|(v, w)| (v / mean, w)).collect()
}

impl OneTrap {
    /// At a mean density, under the weeks, years and exposure of a plan.
    pub fn new(scenario: &Checked, plan: &Plan, density: f64) -> Self {
        let (t, d) = (&scenario.premises.target, &scenario.premises.departures);
        let (k, loss) = (t.dispersion_k.value, scenario.premises.trap_loss.value);
        let years = f64::from(plan.years);
        let classes = season::classes(plan, t.season_peak_week.value, t.season_width_weeks.value);
        let weather = of_mean(d.shared_week_sd.value, season::effective_weeks(&classes));
        let square = |v: f64| v * v;
        let shared = of_mean((square(t.year_sd.value) + square(weather)).sqrt(), years);
        let own = of_mean(t.site_year_sd.value, years);
        let site = (square(t.site_sd.value) + square(own)).sqrt();
        let base = density * plan.exposure_days / 7.0;
        let traps = points(t.trap_sd.value, TRAP_POINTS);
        let sites = points(site, SITE_POINTS);
        let none = |factor: f64| {
            let empty = |mean: f64| loss + (1.0 - loss) * exp(-k * ln_1p(mean / k));
            let at = |point: f64| -> f64 {
                let each = classes.iter().map(|c| {
                    let one = empty(base * c.weight * factor * point);
                    (0..c.weeks).map(|_| one).product::<f64>()
                });
                each.product()
            };
            traps.iter().map(|&(p, w)| w * at(p)).sum()
        };
        let states = points(shared, YEAR_POINTS)
            .into_iter()
            .map(|(u, w)| (w, sites.iter().map(|&(a, v)| (v, none(u * a))).collect()))
            .collect();
        Self { years, states }
    }

    /// Chance that so many sites with so many traps each catch none in all years.
    pub fn none(&self, sites: u32, traps: u32) -> f64 {
        let (n, m) = (f64::from(sites), f64::from(traps) * self.years);
        let site = |s: &[(f64, f64)]| s.iter().map(|&(w, q)| w * pow(q, m)).sum::<f64>();
        let states = self.states.iter();
        states.map(|(w, s)| w * pow(site(s), n)).sum()
    }

    /// What plans are ranked by: -ln of that chance.
    pub fn delta(&self, sites: u32, traps: u32) -> f64 {
        -ln(self.none(sites, traps).max(f64::MIN_POSITIVE))
    }
}

/// The chance that a plan catches none at this density.
pub fn none(scenario: &Checked, plan: &Plan, density: f64) -> f64 {
    OneTrap::new(scenario, plan, density).none(plan.sites, plan.traps_per_site)
}

/// The density at which a plan catches some with this chance; `None` when it does at none within reason.
pub fn density_found(scenario: &Checked, plan: &Plan, chance: f64) -> Option<f64> {
    let Effect::Absence(a) = &scenario.question.effect else {
        return None;
    };
    // The log of the chance of none, against the log of the density: nearly a straight line.
    let short = |log: f64| ln(1.0 - chance) - ln(none(scenario, plan, exp(log)).max(1e-300));
    let start = ln(a.catch_per_trap_week);
    let (mut low, mut high) = (start - 1.0, start + 1.0);
    while short(low) > 0.0 {
        low -= 2.0;
        if low < start - 60.0 {
            return None;
        }
    }
    while short(high) < 0.0 {
        high += 2.0;
        if high > start + 60.0 {
            return None;
        }
    }
    Some(exp(bracketed(short, low, high, 1e-9)))
}
