//! What stands around the least plan: tolls that the simulation cannot tell apart, and shorter exposure.

use super::HalfExposure;
use survey::closed_form::{delta_for, expected_toll, power_at, preview_at_stated};
use survey::scenario::{Checked, Plan};
use survey::search::{Screen, scenario_of};
use survey::summary::Share;

/// The smallest and largest expected toll of the plans of the frontier whose power lies within the Monte Carlo interval
/// around the wanted power, by closed forms scaled to the simulated power of the least plan, which is `own`.
pub(crate) fn undecided_toll(
    scenario: &Checked,
    screen: &Screen,
    own: &Plan,
    power: &Share,
) -> (f64, f64) {
    let wanted = scenario.question.wanted_power;
    let half = 0.5 * (power.high - power.low);
    let own_scenario = &*scenario_of(scenario, own);
    let p = preview_at_stated(own_scenario, own);
    let ratio = delta_for(scenario, p.df, power.estimate.clamp(0.0, 0.999)) / p.delta;
    let inside = |plan: &Plan| {
        let scenario = &*scenario_of(scenario, plan);
        let p = preview_at_stated(scenario, plan);
        (power_at(scenario, p.df, ratio * p.delta) - wanted).abs() <= half
    };
    let own = expected_toll(own_scenario, own).total();
    let alike = screen.frontier.iter().filter(|c| inside(&c.plan));
    // With weights, tolls do not rise along the frontier.
    alike.fold((own, own), |(low, high), c| {
        (low.min(c.toll.total()), high.max(c.toll.total()))
    })
}

/// The plan at half its exposure: by closed forms made right for the plan's simulated power.
pub(crate) fn half_exposure(scenario: &Checked, plan: &Plan, power: &Share) -> HalfExposure {
    let half = Plan {
        exposure_days: 0.5 * plan.exposure_days,
        ..plan.clone()
    };
    let (here, there) = (
        preview_at_stated(scenario, plan),
        preview_at_stated(scenario, &half),
    );
    let simulated = power.estimate.clamp(0.0, 0.999);
    let ratio = delta_for(scenario, here.df, simulated) / here.delta;
    HalfExposure {
        exposure_days: half.exposure_days,
        preview_power: power_at(scenario, there.df, ratio * there.delta),
        preview_power_of_least: power_at(scenario, here.df, ratio * here.delta),
        expected_toll: expected_toll(scenario, &half).total(),
    }
}
