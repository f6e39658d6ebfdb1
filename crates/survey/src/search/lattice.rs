//! The lattice of plans, slice by slice.

use super::weeks::week_sets;
use crate::scenario::{Checked, Plan, Scenario};
use std::borrow::Cow;

/// What plans of one slice have in common.
#[derive(Clone, Debug, PartialEq)]
pub struct Slice {
    /// Years.
    pub years: u32,
    /// Days a week.
    pub exposure_days: f64,
    /// The kind of trap; the premises' own when `None`.
    pub trap_option: Option<String>,
}

impl Slice {
    /// The plan with what the slice has; without looks, which are those of one number of years.
    pub fn on(&self, plan: &Plan) -> Plan {
        // With as many sites in a year.
        Plan {
            exposure_days: self.exposure_days,
            trap_option: self.trap_option.clone(),
            looks: None,
            ..plan.over_years(self.years)
        }
    }

    /// The scenario whose plan has what the slice has; `None` where such a plan is refused.
    pub fn scenario(&self, scenario: &Checked) -> Option<Checked> {
        let mut other = scenario.as_written().clone();
        other.plan = self.on(&other.plan);
        other.limits.years.clear();
        other.limits.exposure_days.clear();
        other.limits.trap_options.clear();
        other.check().ok()
    }
}

/// The scenario whose premises are those of the plan's kind of trap.
pub fn scenario_of<'a>(scenario: &'a Checked, plan: &Plan) -> Cow<'a, Checked> {
    if plan.trap_option == scenario.plan.trap_option {
        return Cow::Borrowed(scenario);
    }
    // The search takes no plan whose scenario does not stand.
    let other = scenario.with_option(plan.trap_option.as_deref());
    other.map_or(Cow::Borrowed(scenario), Cow::Owned)
}

/// All slices within the limits.
pub fn slices(scenario: &Scenario) -> Vec<Slice> {
    let (limits, plan) = (&scenario.limits, &scenario.plan);
    let mut all = Vec::new();
    for years in limits.years_or(plan.years) {
        for exposure_days in limits.exposure_or(plan.exposure_days) {
            for trap_option in limits.traps_or(plan.trap_option.as_deref()) {
                all.push(Slice {
                    years,
                    exposure_days,
                    trap_option,
                });
            }
        }
    }
    all
}

/// Number of plans of the lattice, those with too few sites for the question included.
pub fn size(scenario: &Scenario) -> u64 {
    let l = &scenario.limits;
    let sets = week_sets(scenario).len() as u64;
    slices(scenario).len() as u64 * u64::from(l.sites) * u64::from(l.traps_per_site) * sets
}
