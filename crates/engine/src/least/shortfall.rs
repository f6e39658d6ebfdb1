//! When no plan within the limits answers: which limit binds, and what would help.

use super::PlanAnswer;
use serde::Serialize;
use survey::closed_form::preview;
use survey::frontier::resized;
use survey::scenario::{Checked, MOST_SITE_YEARS, Plan, Scenario};

/// Why no plan answers.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Shortfall {
    /// One sentence.
    pub reason: String,
    /// Limits that bind: raising this one alone, within the format's bounds, would give an answer by closed form.
    pub binding: Vec<String>,
    /// What would help, in words, each by closed form.
    pub would_help: Vec<String>,
    /// The surest plan within the limits.
    pub surest: PlanAnswer,
}

/// Explains why the surest plan within the limits falls short.
pub fn shortfall(scenario: &Checked, surest: PlanAnswer) -> Shortfall {
    let l = &scenario.limits;
    let wanted = scenario.question.wanted_power;
    let full = resized(&scenario.plan, l.sites, l.traps_per_site, l.weeks);
    let enough = |plan: &Plan| {
        let fits = Scenario {
            plan: plan.clone(),
            ..(**scenario).clone()
        }
        .check()
        .is_ok();
        fits && preview(scenario, plan).power >= wanted
    };
    let mut binding = Vec::new();
    let mut would_help = Vec::new();
    // Doubling, then halving the gap: the power rises with each of these numbers.
    let least = |from: u32, most: u32, plan: &dyn Fn(u32) -> Plan| -> Option<u32> {
        let mut high = from.max(1);
        while high < most && !enough(&plan(high)) {
            high = (high * 2).min(most);
        }
        if !enough(&plan(high)) {
            return None;
        }
        let mut low = from;
        while low + 1 < high {
            let mid = (low + high) / 2;
            if enough(&plan(mid)) {
                high = mid;
            } else {
                low = mid;
            }
        }
        Some(high)
    };
    let sites = |n| resized(&scenario.plan, n, l.traps_per_site, l.weeks);
    let traps = |n| resized(&scenario.plan, l.sites, n, l.weeks);
    let weeks = |n| resized(&scenario.plan, l.sites, l.traps_per_site, n);
    let years = |n| Plan {
        years: n,
        ..full.clone()
    };
    let most_sites = (MOST_SITE_YEARS as u32 / scenario.plan.years).min(2000);
    for (key, found, words) in [
        ("limits.sites", least(l.sites, most_sites, &sites), "sites"),
        (
            "limits.traps_per_site",
            least(l.traps_per_site, 100, &traps),
            "traps per site",
        ),
        ("limits.weeks", least(l.weeks, 30, &weeks), "weeks in a row"),
        (
            "plan.years",
            least(scenario.plan.years, 60, &years),
            "years",
        ),
    ] {
        if let Some(n) = found {
            binding.push(key.to_string());
            would_help.push(format!("{n} {words} with everything else at its limit"));
        }
    }
    let change = preview(scenario, &full).smallest_change;
    if change.is_finite() {
        let unit = match scenario.question.effect {
            survey::scenario::Effect::Decline(_) => "% over the question's horizon",
            survey::scenario::Effect::RangeShift(_) => "gradient units a decade",
        };
        would_help.push(format!("asking for a change of {change:.1} {unit} or more"));
    }
    let reason = if binding.is_empty() {
        format!(
            "No plan within the limits reaches the wanted power, and raising no single limit would: shared good and \
             bad years (SD {}) set a floor that more traps cannot lower.",
            scenario.premises.target.year_sd.value
        )
    } else {
        format!(
            "No plan within the limits reaches the wanted power; what binds: {}.",
            binding.join(", ")
        )
    };
    Shortfall {
        reason,
        binding,
        would_help,
        surest,
    }
}
