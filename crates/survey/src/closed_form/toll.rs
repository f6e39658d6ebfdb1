//! The expected toll of a plan: no simulation needed for a mean.

use super::removal::Removal;
use super::visits::open_share;
use crate::generator::{Response, World, occupied_shares, rate};
use crate::scenario::{Checked, Plan, Scenario};
use crate::season;
use numerics::maths::exp;

/// Mean kill of a plan over all its years.
#[derive(Clone, Debug, PartialEq, serde::Serialize, serde::Deserialize)]
pub struct ExpectedToll {
    /// Target animals.
    pub target: f64,
    /// By-catch, in the scenario's order of groups, then the other species that are asked about.
    pub bycatch: Vec<f64>,
}

impl ExpectedToll {
    /// All animals.
    pub fn total(&self) -> f64 {
        self.target + self.bycatch.iter().sum::<f64>()
    }
}

/// Mean of the product of independent lognormal effects with these SDs: exp(sum s^2 / 2).
pub fn mean_factor(sds: &[f64]) -> f64 {
    exp(0.5 * sds.iter().map(|s| s * s).sum::<f64>())
}

/// SDs of all that makes a trap-week's expected catch differ from that of the median.
pub fn spread_of_catch(scenario: &Scenario) -> [f64; 5] {
    let (t, d) = (&scenario.premises.target, &scenario.premises.departures);
    [
        t.site_sd.value,
        t.year_sd.value,
        t.site_year_sd.value,
        t.trap_sd.value,
        d.shared_week_sd.value,
    ]
}

/// What departures do to the mean catch of each year, over that of the first: the traps' drift, and sites whose own
/// slopes take them apart.
pub(crate) fn grown(scenario: &Checked, years: u32) -> Vec<f64> {
    let d = &scenario.premises.departures;
    let (slope_sd, drift) = (d.site_slope_sd.value, d.log_drift());
    (0..years)
        .map(|y| exp(drift * f64::from(y)) * mean_factor(&[slope_sd * f64::from(y)]))
        .collect()
}

/// Sum over sites and years of the relative mean catch of what is asked about, in a world.
fn relative(scenario: &Checked, plan: &Plan, world: World) -> f64 {
    let (response, grown) = (Response::of(scenario, plan), grown(scenario, plan.years));
    let of_year = |(y, g): (usize, &f64)| response.sum_in(world, plan.sites as usize, y) * g;
    grown.iter().enumerate().map(of_year).sum()
}

/// Mean kill of another species that is asked about in the world without the change, over that in the other.
pub(crate) fn still_share(scenario: &Checked, plan: &Plan) -> f64 {
    relative(scenario, plan, World::Still) / relative(scenario, plan, World::Change)
}

/// Expected kill of a plan when the stated change happens; every trap-week that is set kills, counted or lost.
pub fn expected_toll(scenario: &Checked, plan: &Plan) -> ExpectedToll {
    debug_assert_eq!(plan.trap_option, scenario.plan.trap_option);
    let p = &scenario.premises;
    let t = &p.target;
    let trap_weeks = |peak: f64, width: f64| {
        let classes = season::classes(plan, peak, width);
        season::total(&classes) * f64::from(plan.traps_per_site) * plan.exposure_days / 7.0
    };
    let years = plan.years as usize;
    let grown = grown(scenario, plan.years);
    // Sum over sites and years of the relative catch.
    let response = Response::of(scenario, plan);
    let sites = plan.sites as usize;
    let occupied = occupied_shares(scenario, plan);
    let open = open_share(scenario, plan);
    let caught = Removal::of(scenario, plan).map(|r| r.caught(plan.years));
    let of_year = |y: usize| {
        let open = open.target * caught.as_ref().map_or(1.0, |c| c[y]);
        let share = occupied.as_ref().map_or(1.0, |o| o[y]);
        response.sum(sites, y) * grown[y] * share * open
    };
    let of_target: f64 = (0..years).map(of_year).sum();
    let target = rate(scenario)
        * trap_weeks(t.season_peak_week.value, t.season_width_weeks.value)
        * of_target
        * mean_factor(&spread_of_catch(scenario));
    let bycatch = p
        .killed_besides()
        .iter()
        .enumerate()
        .map(|(i, killed)| {
            let g = &killed.group;
            let site_years = if killed.asked_about {
                relative(scenario, plan, World::Change)
            } else {
                f64::from(plan.sites * plan.years)
            };
            g.catch_per_trap_week.value
                * trap_weeks(g.season_peak_week.value, g.season_width_weeks.value)
                * site_years
                * mean_factor(&[g.site_sd.value, g.year_sd.value])
                * open.bycatch[i]
        })
        .collect();
    ExpectedToll { target, bycatch }
}
