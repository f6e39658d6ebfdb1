//! Costs over many plans of one scenario that differ in sites, traps and weeks alone: what hangs on one of these is
//! worked out once. Equal to the costs of one plan but for rounding.

use super::calendar::Calendar;
use super::grid::{Animals, Grid};
use super::money::Bill;
use super::rates::Rates;
use super::season::Season;
use super::{CostTotals, cost_totals};
use crate::closed_form::{ExpectedToll, Timing, expected_toll};
use crate::generator::Closing;
use crate::scenario::{Checked, Plan};
use crate::search::WeekSet;
use crate::season::Moving;

/// Costs over all plans in some sets of weeks.
pub struct CostOver<'a> {
    scenario: &'a Checked,
    rates: Rates,
    calendar: Calendar,
    sets: Vec<WeekSet>,
    /// For the target and each other group: whether it is asked about.
    asked_about: Vec<bool>,
    /// By sets of weeks; `None` where plans are worked out one by one: sites are closed early, animals have
    /// an end, the season moves, or a toll is too small to be shared out.
    by_weeks: Option<Vec<OfWeeks>>,
}

struct OfWeeks {
    season: Season,
    /// Kill of one trap in these weeks over that in the last set, for the target and each other group.
    share: Vec<f64>,
}

/// Costs of plans with the same number of sites.
pub struct CostAt<'a> {
    all: &'a CostOver<'a>,
    sites: u32,
    timing: Timing,
    /// Kill of one trap at each site in the last set of weeks.
    kill: Vec<f64>,
    /// Room for the kill of a plan, and for its months.
    grid: Grid,
}

fn all_of(toll: &ExpectedToll) -> Vec<f64> {
    std::iter::once(toll.target)
        .chain(toll.bycatch.iter().copied())
        .collect()
}

impl<'a> CostOver<'a> {
    /// For plans in one of the sets of weeks, and of sites like `sites`; `None` when the scenario states no costs.
    pub fn new(scenario: &'a Checked, sites: u32, sets: Vec<WeekSet>) -> Option<Self> {
        let rates = Rates::of(scenario)?;
        let plan = |w: &WeekSet| w.on(&scenario.plan, sites, 1);
        let most = all_of(&expected_toll(scenario, &plan(sets.last()?)));
        let besides = scenario.premises.killed_besides();
        let none = |g: usize| g > 0 && besides[g - 1].group.catch_per_trap_week.value == 0.0;
        let of_weeks = |w: &WeekSet| {
            let plan = plan(w);
            let toll = all_of(&expected_toll(scenario, &plan));
            let pairs = toll.iter().zip(&most).enumerate();
            OfWeeks {
                season: Season::new(&rates, &plan, &Timing::of(scenario, &plan)),
                share: pairs
                    .map(|(g, (t, m))| if none(g) { 0.0 } else { t / m })
                    .collect(),
            }
        };
        let shared = Closing::of(scenario, &scenario.plan).is_none()
            && scenario.premises.local_population.is_none()
            && Moving::of(&scenario.premises.departures).is_none()
            && (0..most.len()).all(|g| none(g) || most[g] > f64::MIN_POSITIVE);
        let by_weeks = shared.then(|| sets.iter().map(of_weeks).collect());
        Some(Self {
            scenario,
            calendar: Calendar::of(scenario, scenario.plan.years),
            sets,
            asked_about: std::iter::once(true)
                .chain(besides.iter().map(|k| k.asked_about))
                .collect(),
            by_weeks,
            rates,
        })
    }

    /// The plans with this number of sites.
    pub fn at(&'a self, sites: u32) -> CostAt<'a> {
        let last = self.sets.last();
        let own = || self.scenario.plan.clone();
        let plan = last.map_or_else(own, |w| w.on(&self.scenario.plan, sites, 1));
        CostAt {
            all: self,
            sites,
            timing: Timing::of(self.scenario, &plan),
            kill: all_of(&expected_toll(self.scenario, &plan)),
            grid: Grid::new(&self.calendar),
        }
    }
}

impl CostAt<'_> {
    fn plan(&self, traps: u32, set: usize) -> Plan {
        self.all.sets[set].on(&self.all.scenario.plan, self.sites, traps)
    }

    /// The sums of a plan's costs.
    pub fn totals(&mut self, traps: u32, set: usize) -> CostTotals {
        let all = self.all;
        let Some(of_weeks) = all.by_weeks.as_ref().and_then(|b| b.get(set)) else {
            let plan = self.plan(traps, set);
            return cost_totals(all.scenario, &plan).unwrap_or_default();
        };
        let years = std::iter::once(&self.timing.target).chain(&self.timing.besides);
        let traps = f64::from(traps);
        let animals: Vec<Animals> = years
            .zip(self.kill.iter().zip(&of_weeks.share))
            .zip(&all.asked_about)
            .map(|((shares, (kill, share)), &asked_about)| Animals {
                kill: traps * kill * share,
                years: &shares.years,
                asked_about,
            })
            .collect();
        let season = &of_weeks.season;
        self.grid.fill(
            &all.rates,
            &all.calendar,
            season,
            &self.timing.sites,
            traps,
            &animals,
        );
        Bill::of(&all.rates, &all.calendar, &self.grid).totals
    }
}
