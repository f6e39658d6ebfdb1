//! The next smaller plans in every direction.

use super::candidate::weighted;
use super::caps::within_caps;
use super::lattice::{scenario_of, with_scheme};
use crate::closed_form::expected_toll;
use crate::frontier::resized;
use crate::scenario::{Checked, Plan, Scenario};
use crate::season;
use serde::Serialize;

/// A plan with one number smaller.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Neighbour {
    /// Which number: `sites`, `traps`, `weeks`, `exposure` or `years`; `revisit` for another pattern of revisits, `scheme`
    /// for another scheme of visits.
    pub fewer: &'static str,
    /// The plan.
    pub plan: Plan,
    /// Whether the search may choose it: its years and exposure are listed in the limits, or the plan's own, and no cap
    /// forbids it.
    pub within_limits: bool,
}

/// The next smaller plans of `plan`: one site (with a revisit pattern, one in each panel), trap, week or year fewer, and
/// the next shorter exposure; those only that stand as plans. Of weeks chosen one by one the one that catches least of
/// the target goes. Years and exposure step to the next listed number, or else by one year and one day. Patterns and schemes
/// have no order of their own: of the other listed ones, all else being equal, the one that kills the most among those
/// that kill less.
pub fn neighbours(scenario: &Checked, plan: &Plan) -> Vec<Neighbour> {
    let limits = &scenario.limits;
    let mut all = Vec::new();
    // By whole panels: those of this plan's own years.
    let own = Scenario {
        plan: plan.clone(),
        ..scenario.as_written().clone()
    };
    let sites = (own.fewest_sites()..plan.sites)
        .rev()
        .find(|&n| own.fits_sites(n));
    if let Some(sites) = sites {
        all.push((
            "sites",
            Plan {
                sites,
                ..plan.clone()
            },
            true,
        ));
    }
    if plan.traps_per_site > 1 {
        let traps_per_site = plan.traps_per_site - 1;
        all.push((
            "traps",
            Plan {
                traps_per_site,
                ..plan.clone()
            },
            true,
        ));
    }
    if plan.weeks > 1 {
        all.push(("weeks", a_week_fewer(scenario, plan), true));
    }
    let listed = limits.exposure_or(scenario.plan.exposure_days);
    let shorter = listed.iter().rev().find(|d| **d < plan.exposure_days);
    let exposure_days = shorter.copied().unwrap_or(plan.exposure_days - 1.0);
    if exposure_days > 0.0 {
        let fewer = Plan {
            exposure_days,
            ..plan.clone()
        };
        all.push(("exposure", fewer, shorter.is_some()));
    }
    let listed = limits.years_or(scenario.plan.years);
    let shorter = listed.iter().rev().find(|y| **y < plan.years);
    let years = shorter.copied().unwrap_or(plan.years.saturating_sub(1));
    all.push(("years", plan.over_years(years), shorter.is_some()));
    let revisits = limits.revisits.iter().filter(|r| **r != plan.revisit);
    let others = revisits.map(|r| plan.with_revisit(*r)).collect();
    let scheme = plan.visits.as_ref().map(|v| v.scheme);
    let schemes = limits.schemes.iter().filter(|s| Some(**s) != scheme);
    let closing = schemes.map(|s| Plan {
        visits: with_scheme(plan.visits.as_ref(), Some(*s)),
        ..plan.clone()
    });
    let closing = closing.collect();
    let stands = |plan: &Plan| {
        let mut other: Scenario = scenario.as_written().clone();
        other.plan = plan.clone();
        other.limits.clear_lists();
        other.check().is_ok()
    };
    for (fewer, others) in [("revisit", others), ("scheme", closing)] {
        let next = next_below(scenario, plan, others, &stands);
        all.extend(next.map(|plan| (fewer, plan, true)));
    }
    all.into_iter()
        .filter(|(_, plan, _)| stands(plan))
        .map(|(fewer, plan, listed)| Neighbour {
            fewer,
            within_limits: listed && within_caps(&scenario_of(scenario, &plan), &plan),
            plan,
        })
        .collect()
}

/// Of other plans that stand the one that kills the most, weighted, among those that kill less than `plan`.
fn next_below(
    scenario: &Checked,
    plan: &Plan,
    others: Vec<Plan>,
    stands: &impl Fn(&Plan) -> bool,
) -> Option<Plan> {
    let weights = scenario.toll_weights();
    let toll = |plan: &Plan| weighted(&expected_toll(&scenario_of(scenario, plan), plan), &weights);
    let own = toll(plan) * (1.0 - 1e-9);
    let below = others.into_iter().filter(|other| stands(other));
    let each = below.map(|other| (toll(&other), other));
    each.filter(|(toll, _)| *toll < own)
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, other)| other)
}

/// Without its poorest week where weeks are chosen one by one; otherwise a shorter run about the same middle.
fn a_week_fewer(scenario: &Checked, plan: &Plan) -> Plan {
    if plan.chosen_weeks.is_none() {
        return resized(plan, plan.sites, plan.traps_per_site, plan.weeks - 1);
    }
    let t = &scenario.premises.target;
    let (peak, width) = (t.season_peak_week.value, t.season_width_weeks.value);
    let catch = season::weights(plan, peak, width);
    let mut weeks = plan.open_weeks();
    if let Some(&poorest) = season::heaviest_first(&catch).last() {
        weeks.remove(poorest);
    }
    plan.in_weeks(&weeks)
}
