//! Plans of other sizes.

use crate::scenario::Plan;

/// The plan with other numbers of sites, traps and weeks; the weeks keep the middle of the plan's own run.
pub fn resized(plan: &Plan, sites: u32, traps_per_site: u32, weeks: u32) -> Plan {
    // Twice the middle, so that it stays a whole number.
    let middle = 2 * plan.first_week + plan.weeks - 1;
    let first = (middle + 1).saturating_sub(weeks) / 2;
    let first_week = first.clamp(1, 54u32.saturating_sub(weeks).max(1));
    Plan {
        sites,
        traps_per_site,
        weeks,
        first_week,
        ..plan.clone()
    }
}
