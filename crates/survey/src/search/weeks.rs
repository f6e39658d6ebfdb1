//! Which weeks a plan of the lattice traps in.

use crate::frontier::resized;
use crate::scenario::{Plan, Scenario, WeekChoice};

/// Some weeks of the year.
#[derive(Clone, Debug, PartialEq)]
pub struct WeekSet {
    /// First open week.
    pub first_week: u32,
    /// Number of open weeks.
    pub weeks: u32,
}

impl WeekSet {
    /// The plan with these weeks, and other numbers of sites and traps.
    pub fn on(&self, plan: &Plan, sites: u32, traps_per_site: u32) -> Plan {
        Plan {
            sites,
            traps_per_site,
            first_week: self.first_week,
            weeks: self.weeks,
            ..plan.clone()
        }
    }
}

/// The sets of weeks within the limits, fewest weeks first; the last one has the most.
pub fn week_sets(scenario: &Scenario) -> Vec<WeekSet> {
    let (plan, most) = (&scenario.plan, scenario.limits.weeks);
    match scenario.limits.week_choice {
        WeekChoice::Around => (1..=most)
            .map(|weeks| WeekSet {
                first_week: resized(plan, plan.sites, plan.traps_per_site, weeks).first_week,
                weeks,
            })
            .collect(),
        WeekChoice::AnyRun => (1..=most)
            .flat_map(|weeks| {
                (1..=54u32.saturating_sub(weeks))
                    .map(move |first_week| WeekSet { first_week, weeks })
            })
            .collect(),
    }
}
