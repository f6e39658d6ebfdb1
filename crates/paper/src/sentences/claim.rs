//! What may be written after a survey that makes a claim.

use crate::number::{count, percent, plain};
use survey::scenario::{Effect, Scenario};
use survey::summary::Answer;

/// The sentence that a survey may write afterwards, and what it may not; `None` for questions that make no claim.
pub fn claim(scenario: &Scenario, answer: &Answer) -> Option<String> {
    let target = &scenario.premises.target.name;
    let q = &scenario.question;
    match &q.effect {
        Effect::NoWorse(n) => Some(format!(
            "A survey that makes the claim may write: “With {} confidence, {target} have fallen by less than {} % over {} years.” One that does not make it may not write the contrary.",
            percent(1.0 - q.significance),
            plain(n.margin_percent),
            plain(n.over_years)
        )),
        Effect::Absence(_) => {
            let smallest = super::smallest(scenario, answer)?;
            let plan = &answer.plan;
            let trap_weeks = f64::from(plan.sites)
                * f64::from(plan.traps_per_site)
                * f64::from(plan.weeks)
                * f64::from(plan.years)
                * plan.exposure_days
                / 7.0;
            Some(format!(
                "A survey by this plan that catches none may write: “In {} trap-weeks (take off those that were lost) at {} sites, in {}, no {target} were caught; with {} confidence their mean catch is {} a trap-week at the season's peak.” It rests on the premises of how catches clump and sites differ.",
                count(trap_weeks),
                plan.sites,
                super::in_weeks(&plan.open_weeks()),
                percent(q.wanted_power),
                smallest.value
            ))
        }
        _ => None,
    }
}
