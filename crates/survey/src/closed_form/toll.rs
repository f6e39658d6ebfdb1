//! The expected toll of a plan: no simulation needed for a mean.

use super::panels::presence;
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
    let (sums, grown) = (Sums::of(scenario, plan), grown(scenario, plan.years));
    let of_year = |((y, g), s): ((usize, &f64), &f64)| sums.of_year(world, y) * g * s;
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

/// Sums of the response over the sites that are expected to be trapped in a year.
pub(super) struct Sums {
    response: Response,
    sites: usize,
    years: usize,
    presence: Vec<f64>,
    /// Of the target, what an end of animals leaves of the catch.
    caught: Caught,
}

/// Catch over that without an end of animals.
enum Caught {
    All,
    ByYear(Vec<f64>),
    /// `site * years + year`.
    BySiteYear(Vec<f64>),
}

impl Caught {
    fn of(scenario: &Checked, plan: &Plan) -> Self {
        match Removal::of(scenario, plan) {
            None => Self::All,
            Some(r) if plan.all_every_year() => Self::ByYear(r.caught(plan)),
            Some(r) => {
                Self::BySiteYear((0..plan.sites).flat_map(|s| r.caught_at(plan, s)).collect())
            }
        }
    }
}

impl Sums {
    pub(super) fn of(scenario: &Checked, plan: &Plan) -> Self {
        Self {
            caught: Caught::of(scenario, plan),
            response: Response::of(scenario, plan),
            sites: plan.sites as usize,
            years: plan.years as usize,
            presence: presence(scenario, plan),
        }
    }

    pub(super) fn of_year(&self, world: World, y: usize) -> f64 {
        if self.presence.is_empty() {
            return self.response.sum_in(world, self.sites, y);
        }
        self.over_sites(world, y, |_| 1.0)
    }

    fn over_sites(&self, world: World, y: usize, times: impl Fn(usize) -> f64) -> f64 {
        let there = |s: &usize| self.presence[s * self.years + y] > 0.0;
        (0..self.sites)
            .filter(there)
            .map(|s| {
                let at = s * self.years + y;
                self.presence[at] * times(at) * exp(self.response.log(s, y, world))
            })
            .sum()
    }

    /// Of the target, in two factors: with a site's own share of what an end of animals leaves, and the share that is the
    /// same at all sites.
    pub(super) fn of_target(&self, y: usize) -> (f64, f64) {
        match &self.caught {
            Caught::All => (self.of_year(World::Change, y), 1.0),
            Caught::ByYear(caught) => (self.of_year(World::Change, y), caught[y]),
            Caught::BySiteYear(caught) => (self.over_sites(World::Change, y, |at| caught[at]), 1.0),
        }
    }

    /// Sites expected to be trapped in a year.
    pub(super) fn sites(&self, y: usize) -> f64 {
        if self.presence.is_empty() {
            self.sites as f64
        } else {
            let own = self.presence.iter().skip(y).step_by(self.years);
            own.sum()
        }
    }

    /// Site-years expected to be trapped, with what each year's season counts.
    fn site_years(&self, season: &[f64]) -> f64 {
        if self.is_even() {
            return self.sites as f64 * season.iter().sum::<f64>();
        }
        let each = season.iter().enumerate();
        each.map(|(y, s)| self.sites(y) * s).sum()
    }

    /// Whether as many are in every year.
    pub(super) fn is_even(&self) -> bool {
        self.presence.is_empty()
    }
}

/// Mean kill of another species that is asked about in the world without the change, over that in the other.
pub(crate) fn still_share(scenario: &Checked, plan: &Plan) -> f64 {
    let even = vec![1.0; plan.years as usize];
    relative(scenario, plan, World::Still, &even) / relative(scenario, plan, World::Change, &even)
}

/// The same year by year; 1 in a year in which nobody traps.
pub(crate) fn still_shares(scenario: &Checked, plan: &Plan) -> Vec<f64> {
    let even = vec![1.0; plan.years as usize];
    let still = relative_by_year(scenario, plan, World::Still, &even);
    let change = relative_by_year(scenario, plan, World::Change, &even);
    let share = |(s, c): (&f64, &f64)| if *c > 0.0 { s / c } else { 1.0 };
    still.iter().zip(&change).map(share).collect()
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
    let sums = Sums::of(scenario, plan);
    let occupied = occupied_shares(scenario, plan);
    let open = open_share(scenario, plan);
    let (peak, width) = (t.season_peak_week.value, t.season_width_weeks.value);
    let season = moved(scenario, plan, peak, width);
    let of_year = |y: usize| {
        let (sum, caught) = sums.of_target(y);
        let open = open.target * caught;
        let share = occupied.as_ref().map_or(1.0, |o| o[y]);
        sum * grown[y] * share * open * season[y]
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
                sums.site_years(&season)
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
