//! The plan as a phrase.

use crate::number::{count, plain};
use survey::scenario::Plan;

fn plural(n: u32, one: &str, many: &str) -> String {
    format!("{n} {}", if n == 1 { one } else { many })
}

/// The plan as a phrase.
pub fn plan(plan: &Plan) -> String {
    let trap_weeks = f64::from(plan.sites)
        * f64::from(plan.traps_per_site)
        * f64::from(plan.weeks)
        * f64::from(plan.years);
    let set = if plan.exposure_days == 7.0 {
        format!("{} trap-weeks set", count(trap_weeks))
    } else {
        let whole = trap_weeks * plan.exposure_days / 7.0;
        format!(
            "traps set {} times, {} trap-weeks",
            count(trap_weeks),
            count(whole)
        )
    };
    let last = plan.first_week + plan.weeks - 1;
    let weeks = if plan.weeks == 1 {
        format!("week {last}")
    } else {
        format!("week {} to {last}", plan.first_week)
    };
    let mut text = format!(
        "{} with {} each, {} ({weeks}) at {}, in each of {} years: {set}",
        plural(plan.sites, "site", "sites"),
        plural(plan.traps_per_site, "trap", "traps"),
        plural(plan.weeks, "week", "weeks"),
        days_a_week(plan.exposure_days),
        plan.years,
    );
    if let Some(t) = &plan.transect {
        text.push_str(&format!(
            ", sites evenly from {} to {}",
            plain(t.lowest),
            plain(t.highest)
        ));
    }
    if !plan.trap_points.is_same() {
        text.push_str(", traps at new points every year");
    }
    text
}

/// An exposure in words.
pub(super) fn days_a_week(days: f64) -> String {
    format!(
        "{} {} a week",
        plain(days),
        if days == 1.0 { "day" } else { "days" }
    )
}
