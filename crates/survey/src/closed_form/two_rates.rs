//! What a published sample size for two rates says of a difference, which knows no sites that differ.

use super::kept::scatter;
use super::signed;
use crate::scenario::{Checked, Direction, Effect, Plan};
use models::two_rates::Risks;
use models::two_rates::negative_binomial_rates::{NullVariance, TwoGroups};
use numerics::maths::exp;

/// Sites in the group without treatment that Zhu & Lakkis 2014 (Stat. Med. 33:376, third variance) ask for, when each site
/// is one count of all its trap-weeks and sites differ by the catches' dispersion alone; `None` but for a difference of
/// sites that are not in pairs, asked two-sided.
pub fn sites_by_rates(scenario: &Checked, plan: &Plan) -> Option<f64> {
    let (Effect::Difference(_), Some(groups)) = (&scenario.question.effect, &plan.groups) else {
        return None;
    };
    if groups.paired || scenario.question.direction == Direction::Stated {
        return None;
    }
    let scatter = scatter(scenario, plan);
    let years = f64::from(plan.years);
    let ratio = exp(signed(scenario, super::effect_size(scenario)));
    let treated = f64::from(groups.treated_of(plan.sites));
    let two = TwoGroups {
        first: 1.0 / scatter.inverse_mean * years,
        second: ratio / scatter.inverse_mean * years,
        exposure: 1.0,
        kappa: scatter.dispersion / years,
        allocation: treated / (f64::from(plan.sites) - treated),
        null: NullVariance::CommonRate,
    };
    let risks = Risks {
        level: scenario.question.significance,
        power: scenario.question.wanted_power,
    };
    let sites = two.samples(risks);
    sites.is_finite().then_some(sites)
}
