//! What the scenario says of the things that the mistakes are about.

use super::knob::Origin;
use crate::closed_form::{site_year_variance, trap_total_variance};
use crate::scenario::{Checked, Effect, Plan};
use crate::season;

/// Years of an example where the plan has too few.
const YEARS: f64 = 10.0;
/// Fewest years a trend has a test with.
const FEWEST_YEARS: u32 = 3;
/// Fewest sites that two groups are tested with.
const FEWEST_SITES: u32 = 4;
/// Sites of an example where the plan has too few.
const SITES: f64 = 10.0;
/// Fall in per cent a decade of an example.
const FALL: f64 = 30.0;

/// Numbers of the scenario; variances are of logs.
#[derive(Clone, Debug, PartialEq)]
pub struct Base {
    /// Accepted false alarms.
    pub level: f64,
    /// Sites, and whether the plan has so many.
    pub sites: (f64, Origin),
    /// Traps at a site.
    pub traps: f64,
    /// Years, and whether the plan has so many.
    pub years: (f64, Origin),
    /// SD of sites.
    pub site_sd: f64,
    /// SD of years shared by all sites.
    pub year_sd: f64,
    /// Variance of one site's yearly total about its site and year: own year and counting.
    pub own: f64,
    /// Variance between the sites of one year: site and own year.
    pub between_sites: f64,
    /// Variance of one trap's yearly total about its site: trap point and counting.
    pub within_site: f64,
    /// Catch of one trap in one open week, on average over the open weeks, at a typical site and in a typical year.
    pub visit_catch: f64,
    /// Dispersion of one trap-week's count.
    pub k: f64,
    /// Fall in per cent a decade that is asked about, and whether the scenario asks so.
    pub fall: (f64, Origin),
    /// Days a decade by which the season comes earlier, and whether the scenario says so.
    pub days_a_decade: (f64, Origin),
    /// The season's peak, in weeks of the year.
    pub peak: f64,
    /// SD of the season in weeks.
    pub width: f64,
    /// Species that are asked about.
    pub species: (f64, Origin),
    /// The plan, for its weeks.
    pub plan: Plan,
}

impl Base {
    /// Of a scenario.
    pub fn of(scenario: &Checked) -> Self {
        let (p, plan) = (&scenario.premises, &scenario.plan);
        let t = &p.target;
        let square = |v: f64| v * v;
        let (peak, width) = (t.season_peak_week.value, t.season_width_weeks.value);
        let weights = season::weights(plan, peak, width);
        let mean_weight = weights.iter().sum::<f64>() / weights.len() as f64;
        let enough = |n: u32, fewest: u32, example: f64| {
            if n >= fewest {
                (f64::from(n), Origin::Scenario)
            } else {
                (example, Origin::Example)
            }
        };
        let slope = match &scenario.question.effect {
            Effect::Decline(d) => Some(d.log_slope()),
            Effect::NoWorse(n) => Some(n.margin_slope()),
            _ => None,
        };
        let fall = slope.map(super::fall_a_decade).filter(|f| *f > 0.0);
        let trend = p.departures.season_trend.value;
        Self {
            level: scenario.question.significance,
            sites: enough(plan.sites, FEWEST_SITES, SITES),
            traps: f64::from(plan.traps_per_site),
            years: enough(plan.years, FEWEST_YEARS, YEARS),
            site_sd: t.site_sd.value,
            year_sd: t.year_sd.value,
            own: site_year_variance(scenario, plan),
            between_sites: square(t.site_sd.value) + square(t.site_year_sd.value),
            within_site: trap_total_variance(scenario, plan),
            visit_catch: t.catch_per_trap_week.value * (plan.exposure_days / 7.0) * mean_weight,
            k: t.dispersion_k.value,
            fall: fall.map_or((FALL, Origin::Example), |f| (f, Origin::Scenario)),
            days_a_decade: if trend == 0.0 {
                // Mean of many spring events (Parmesan & Yohe 2003, Nature 421:37; cited from memory).
                (2.3, Origin::Example)
            } else {
                (trend, Origin::Scenario)
            },
            peak,
            width,
            species: if p.others.is_empty() {
                (20.0, Origin::Example)
            } else {
                (1.0 + p.others.len() as f64, Origin::Scenario)
            },
            plan: plan.clone(),
        }
    }

    /// Variance of the slope a year of a survey with these sites, years and SD of years.
    pub(super) fn slope_variance(&self, sites: f64, years: f64, year_sd: f64) -> f64 {
        crate::closed_form::slope_variance(year_sd * year_sd, self.own, sites, years)
    }
}
