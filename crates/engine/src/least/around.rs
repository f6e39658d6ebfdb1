//! What stands around the least plan: tolls that the simulation cannot tell apart, and shorter exposure.

use super::HalfExposure;
use survey::closed_form::{delta_for, expected_toll, power_at, preview_at_stated};
use survey::scenario::{Checked, Plan};
use survey::search::{Screen, scenario_of};
use survey::summary::Share;

/// Degrees of freedom and noncentrality of a plan by closed form.
pub(crate) fn stated(scenario: &Checked, plan: &Plan) -> (f64, f64) {
    let p = preview_at_stated(&scenario_of(scenario, plan), plan);
    (p.df, p.delta)
}

/// The smallest and largest expected toll of the plans of the frontier whose power lies within the Monte Carlo interval
/// around the wanted power, by closed forms scaled to the simulated power of the least plan, which is `own`;
/// `stated_at` gives [`stated`] of a place of the frontier.
pub(crate) fn undecided_toll(
    scenario: &Checked,
    screen: &Screen,
    own: &Plan,
    power: &Share,
    stated_at: impl Fn(usize) -> (f64, f64),
) -> (f64, f64) {
    let wanted = scenario.question.wanted_power;
    let half = 0.5 * (power.high - power.low);
    let (df, delta) = stated(scenario, own);
    let ratio = delta_for(scenario, df, power.estimate.clamp(0.0, 0.999)) / delta;
    let inside = |place: usize, plan: &Plan| {
        let (df, delta) = stated_at(place);
        (power_at(&scenario_of(scenario, plan), df, ratio * delta) - wanted).abs() <= half
    };
    let own = expected_toll(&scenario_of(scenario, own), own).total();
    let places = screen.frontier.iter().enumerate();
    let alike = places.filter(|(place, c)| inside(*place, &c.plan));
    // With weights, tolls do not rise along the frontier.
    alike.fold((own, own), |(low, high), (_, c)| {
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
