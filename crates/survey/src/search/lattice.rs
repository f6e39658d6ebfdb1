//! The lattice of plans, slice by slice.

use super::weeks::week_sets;
use crate::scenario::{Checked, Plan, Revisit, Scenario, Scheme, Visits};
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
    /// The pattern of revisits; every site in every year when `None`.
    pub revisit: Option<Revisit>,
    /// The scheme of visits; `None` where the question has none.
    pub scheme: Option<Scheme>,
}

impl Slice {
    /// The plan with what the slice has; without looks, which are those of one number of years.
    pub fn on(&self, plan: &Plan) -> Plan {
        // With as many sites in a year.
        let plan = plan.over_years(self.years).with_revisit(self.revisit);
        Plan {
            exposure_days: self.exposure_days,
            trap_option: self.trap_option.clone(),
            looks: None,
            visits: with_scheme(plan.visits.as_ref(), self.scheme),
            ..plan
        }
    }

    /// The scenario whose plan has what the slice has; `None` where such a plan is refused.
    pub fn scenario(&self, scenario: &Checked) -> Option<Checked> {
        let mut other = scenario.as_written().clone();
        other.plan = self.on(&other.plan);
        other.limits.clear_lists();
        other.check().ok()
    }
}

/// The visits under another scheme; as they are where none is given.
pub(super) fn with_scheme(visits: Option<&Visits>, scheme: Option<Scheme>) -> Option<Visits> {
    visits.map(|visits| Visits {
        scheme: scheme.unwrap_or(visits.scheme),
        seasons: visits.seasons,
    })
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
    let revisits = limits.revisits_or(plan.revisit);
    let schemes = limits.schemes_or(plan.visits.as_ref().map(|v| v.scheme));
    let mut all = Vec::new();
    for years in limits.years_or(plan.years) {
        for exposure_days in limits.exposure_or(plan.exposure_days) {
            for trap_option in limits.traps_or(plan.trap_option.as_deref()) {
                for &revisit in &revisits {
                    for &scheme in &schemes {
                        all.push(Slice {
                            years,
                            exposure_days,
                            trap_option: trap_option.clone(),
                            revisit,
                            scheme,
                        });
                    }
                }
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
