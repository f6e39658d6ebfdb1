//! The expected toll of a plan: no simulation needed for a mean.

use super::panels::presence;
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
    let grown = grown(scenario, plan.years);
    let sums = Sums::of(scenario, plan);
    let of_year = |(y, g): (usize, &f64)| sums.of_year(world, y) * g;
    grown.iter().enumerate().map(of_year).sum()
}

/// Sums of the response over the sites that are expected to be trapped in a year.
struct Sums {
    response: Response,
    sites: usize,
    years: usize,
    presence: Vec<f64>,
}

impl Sums {
    fn of(scenario: &Checked, plan: &Plan) -> Self {
        Self {
            response: Response::of(scenario, plan),
            sites: plan.sites as usize,
            years: plan.years as usize,
            presence: presence(scenario, plan),
        }
    }

    fn of_year(&self, world: World, y: usize) -> f64 {
        if self.presence.is_empty() {
            return self.response.sum_in(world, self.sites, y);
        }
        let there = |s: &usize| self.presence[s * self.years + y] > 0.0;
        (0..self.sites)
            .filter(there)
            .map(|s| self.presence[s * self.years + y] * exp(self.response.log(s, y, world)))
            .sum()
    }

    /// Site-years expected to be trapped.
    fn site_years(&self) -> f64 {
        if self.presence.is_empty() {
            (self.sites * self.years) as f64
        } else {
            self.presence.iter().sum()
        }
    }
}

/// Mean kill of another species that is asked about in the world without the change, over that in the other.
pub(crate) fn still_share(scenario: &Checked, plan: &Plan) -> f64 {
    relative(scenario, plan, World::Still) / relative(scenario, plan, World::Change)
}

/// Expected kill of a plan when the stated change happens; every trap-week that is set kills, counted or lost.
pub fn expected_toll(scenario: &Checked, plan: &Plan) -> ExpectedToll {
    let p = &scenario.premises;
    let t = &p.target;
    let trap_weeks = |peak: f64, width: f64| {
        let classes = season::classes(plan, peak, width);
        season::total(&classes) * f64::from(plan.traps_per_site) * plan.exposure_days / 7.0
    };
    let years = plan.years as usize;
    let grown = grown(scenario, plan.years);
    // Sum over sites and years of the relative catch.
    let sums = Sums::of(scenario, plan);
    let occupied = occupied_shares(scenario, plan);
    let open = open_share(scenario, plan);
    let of_year = |y: usize| {
        let share = occupied.as_ref().map_or(1.0, |o| o[y]);
        sums.of_year(World::Change, y) * grown[y] * share * open.target
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
                sums.site_years()
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
