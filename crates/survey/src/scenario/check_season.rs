//! Weeks that are chosen one by one.

use super::Scenario;
use super::check::Fault;

/// Last week of a year.
const LAST_WEEK: u32 = 53;

/// Adds the faults of chosen weeks.
pub(super) fn check(s: &Scenario, faults: &mut Vec<Fault>) {
    let plan = &s.plan;
    let Some(chosen) = &plan.chosen_weeks else {
        return;
    };
    let mut fault = |path: String, value: String, bound: String| {
        faults.push(Fault::Bound { path, value, bound });
    };
    if chosen.len() != plan.weeks as usize {
        fault(
            "plan.chosen_weeks".into(),
            format!("{} weeks", chosen.len()),
            format!(
                "as many as plan.weeks, which is {}, or leave it out",
                plan.weeks
            ),
        );
    }
    if let Some(&first) = chosen.first().filter(|f| **f != plan.first_week) {
        fault(
            "plan.chosen_weeks[0]".into(),
            first.to_string(),
            format!("plan.first_week, which is {}, first", plan.first_week),
        );
    }
    let mut before = 0;
    for (i, &week) in chosen.iter().enumerate() {
        if week <= before || week > LAST_WEEK {
            let low = before + 1;
            let bound = if low > LAST_WEEK {
                format!("at most {LAST_WEEK} weeks, each once and rising")
            } else {
                format!("a whole number from {low} to {LAST_WEEK}: weeks rise, each once")
            };
            fault(format!("plan.chosen_weeks[{i}]"), week.to_string(), bound);
            return;
        }
        before = week;
    }
}
