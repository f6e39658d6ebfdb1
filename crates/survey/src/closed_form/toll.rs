//! The expected toll of a plan: no simulation needed for a mean.

use super::removal::Removal;
use super::visits::open_share;
use crate::generator::{Response, World, occupied_shares, rate};
use crate::scenario::{Checked, Plan, Reproductives, Scenario};
use crate::season::{self, Moving};
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

/// Sum over sites of the relative mean catch of what is asked about, in a world, for each year; `season` is what each
/// year's weeks catch over what they would if the season stayed.
pub(super) fn relative_by_year(
    scenario: &Checked,
    plan: &Plan,
    world: World,
    season: &[f64],
) -> Vec<f64> {
    let (response, grown) = (Response::of(scenario, plan), grown(scenario, plan.years));
    let of_year =
        |((y, g), s): ((usize, &f64), &f64)| response.sum_in(world, plan.sites as usize, y) * g * s;
    grown.iter().enumerate().zip(season).map(of_year).collect()
}

/// The same over all years.
fn relative(scenario: &Checked, plan: &Plan, world: World, season: &[f64]) -> f64 {
    relative_by_year(scenario, plan, world, season).iter().sum()
}

/// What each year's open weeks catch of a season on average, over what they would if it stayed where it is.
pub(super) fn moved(scenario: &Checked, plan: &Plan, peak: f64, width: f64) -> Vec<f64> {
    let Some(moving) = Moving::of(&scenario.premises.departures) else {
        return vec![1.0; plan.years as usize];
    };
    let still = season::total(&season::classes(plan, peak, width)).max(f64::MIN_POSITIVE);
    let totals = moving.totals(plan, peak, width);
    totals.into_iter().map(|total| total / still).collect()
}

/// Mean kill of another species that is asked about in the world without the change, over that in the other.
pub(crate) fn still_share(scenario: &Checked, plan: &Plan) -> f64 {
    let even = vec![1.0; plan.years as usize];
    relative(scenario, plan, World::Still, &even) / relative(scenario, plan, World::Change, &even)
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
    let (peak, width) = (t.season_peak_week.value, t.season_width_weeks.value);
    let season = moved(scenario, plan, peak, width);
    let caught = Removal::of(scenario, plan).map(|r| r.caught(plan.years));
    let of_year = |y: usize| {
        let open = open.target * caught.as_ref().map_or(1.0, |c| c[y]);
        let share = occupied.as_ref().map_or(1.0, |o| o[y]);
        response.sum(sites, y) * grown[y] * share * open * season[y]
    };
    let of_target: f64 = (0..years).map(of_year).sum();
    let target = rate(scenario)
        * trap_weeks(peak, width)
        * of_target
        * mean_factor(&spread_of_catch(scenario));
    let bycatch = p
        .killed_besides()
        .iter()
        .enumerate()
        .map(|(i, killed)| {
            let g = &killed.group;
            let (peak, width) = (g.season_peak_week.value, g.season_width_weeks.value);
            let season = moved(scenario, plan, peak, width);
            let site_years = if killed.asked_about {
                relative(scenario, plan, World::Change, &season)
            } else {
                f64::from(plan.sites) * season.iter().sum::<f64>()
            };
            g.catch_per_trap_week.value
                * trap_weeks(peak, width)
                * site_years
                * mean_factor(&[g.site_sd.value, g.year_sd.value])
                * open.bycatch[i]
        })
        .collect();
    ExpectedToll { target, bycatch }
}

/// Which share of what is killed in each year is reproductive: of the target, then of each group besides it; `None`
/// where no such premise is given.
pub(crate) fn reproductive_shares(scenario: &Checked, plan: &Plan) -> Vec<Option<Vec<f64>>> {
    let p = &scenario.premises;
    let moving = Moving::of(&p.departures);
    let open = open_share(scenario, plan);
    let of = |r: Option<&Reproductives>, peak: f64, width: f64, kept: &[f64]| {
        r.map(|r| season::reproductive_shares(r, plan, (peak, width), moving, kept))
    };
    let t = &p.target;
    let (peak, width) = (t.season_peak_week.value, t.season_width_weeks.value);
    let target = of(t.reproductives.as_ref(), peak, width, &open.by_week.0);
    let besides = p.killed_besides().into_iter().map(|k| {
        let (peak, width) = (
            k.group.season_peak_week.value,
            k.group.season_width_weeks.value,
        );
        of(k.reproductives, peak, width, &open.by_week.1)
    });
    std::iter::once(target).chain(besides).collect()
}
