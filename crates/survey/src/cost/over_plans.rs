//! Costs over many plans of one scenario that differ in sites, traps and weeks alone: what hangs on one of these is
//! worked out once. Equal to the costs of one plan but for rounding.

use super::calendar::Calendar;
use super::grid::{Animals, Grid};
use super::money::Bill;
use super::rates::Rates;
use super::season::Season;
use super::{CostTotals, cost_totals};
use crate::closed_form::{ExpectedToll, Timing, expected_toll};
use crate::frontier::resized;
use crate::generator::Closing;
use crate::scenario::{Checked, Plan};

/// Costs over all plans up to some number of weeks.
pub struct CostOver<'a> {
    scenario: &'a Checked,
    rates: Rates,
    calendar: Calendar,
    most_weeks: u32,
    /// For the target and each other group: whether it is asked about.
    asked_about: Vec<bool>,
    /// By weeks; `None` where plans are worked out one by one, since sites are closed early or a toll is too small to be
    /// shared out.
    by_weeks: Option<Vec<OfWeeks>>,
}

struct OfWeeks {
    season: Season,
    /// Kill of one trap in these weeks over that in the most weeks, for the target and each other group.
    share: Vec<f64>,
}

/// Costs of plans with the same number of sites.
pub struct CostAt<'a> {
    all: &'a CostOver<'a>,
    sites: u32,
    timing: Timing,
    /// Kill of one trap at each site in the most weeks.
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
    /// For plans of at most so many weeks, and of sites like `sites`; `None` when the scenario states no costs.
    pub fn new(scenario: &'a Checked, sites: u32, weeks: u32) -> Option<Self> {
        let rates = Rates::of(scenario)?;
        let plan = |w| resized(&scenario.plan, sites, 1, w);
        let most = all_of(&expected_toll(scenario, &plan(weeks)));
        let besides = scenario.premises.killed_besides();
        let none = |g: usize| g > 0 && besides[g - 1].group.catch_per_trap_week.value == 0.0;
        let of_weeks = |w| {
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
            && (0..most.len()).all(|g| none(g) || most[g] > f64::MIN_POSITIVE);
        let by_weeks = shared.then(|| (1..=weeks).map(of_weeks).collect());
        Some(Self {
            scenario,
            calendar: Calendar::of(scenario, scenario.plan.years),
            most_weeks: weeks,
            asked_about: std::iter::once(true)
                .chain(besides.iter().map(|k| k.asked_about))
                .collect(),
            by_weeks,
            rates,
        })
    }

    /// The plans with this number of sites.
    pub fn at(&'a self, sites: u32) -> CostAt<'a> {
        let plan = resized(&self.scenario.plan, sites, 1, self.most_weeks);
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
    fn plan(&self, traps: u32, weeks: u32) -> Plan {
        resized(&self.all.scenario.plan, self.sites, traps, weeks)
    }

    /// The sums of a plan's costs.
    pub fn totals(&mut self, traps: u32, weeks: u32) -> CostTotals {
        let all = self.all;
        let place = (weeks as usize).wrapping_sub(1);
        let Some(of_weeks) = all.by_weeks.as_ref().and_then(|b| b.get(place)) else {
            let plan = self.plan(traps, weeks);
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
        let sites = f64::from(self.sites);
        self.grid
            .fill(&all.rates, &all.calendar, season, sites, traps, &animals);
        Bill::of(&all.rates, &all.calendar, &self.grid).totals
    }
}
