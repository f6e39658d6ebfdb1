//! Plans of other sizes.

use crate::scenario::Plan;

/// The plan with other numbers of sites, traps and weeks. Chosen weeks stay where there are as many of them; any other
/// number is a run about the middle between the plan's first and last week.
pub fn resized(plan: &Plan, sites: u32, traps_per_site: u32, weeks: u32) -> Plan {
    // Twice the middle, so that it stays a whole number.
    if weeks == plan.weeks {
        return Plan {
            sites,
            traps_per_site,
            ..plan.clone()
        };
    }
    let open = plan.open_weeks();
    let middle = plan.first_week + open.last().copied().unwrap_or(plan.first_week);
    let first = (middle + 1).saturating_sub(weeks) / 2;
    let first_week = first.clamp(1, 54u32.saturating_sub(weeks).max(1));
    Plan {
        sites,
        traps_per_site,
        weeks,
        first_week,
        chosen_weeks: None,
        ..plan.clone()
    }
}
