//! What surveys that may stop early cost in money and hours.

use super::{End, Spared, shares};
use crate::cost::cost_totals;
use crate::looks::{LooksPlan, after};
use crate::scenario::Checked;
use serde::Serialize;

/// Expected costs with and without looks. Of each end it is the cost of the plan of so many years with the stated change,
/// in both worlds: what is sorted of animals that do not become fewer is left out of the other one.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct LooksCost {
    /// Money, in the scenario's currency.
    pub money: Spared,
    /// Person-hours.
    pub hours: Spared,
}

/// Of surveys that end as `ends`; `None` without costs or surveys.
pub(super) fn of(scenario: &Checked, plan: &LooksPlan, ends: &[End]) -> Option<LooksCost> {
    let shares = shares(plan.years.len(), ends)?;
    let each = plan
        .years
        .iter()
        .map(|&years| cost_totals(scenario, &after(&scenario.plan, years)))
        .collect::<Option<Vec<_>>>()?;
    let last = each.last()?;
    let mean = |of: &[f64]| shares.iter().zip(of).map(|(s, v)| s * v).sum::<f64>();
    let money: Vec<f64> = each.iter().map(|c| c.money).collect();
    let hours: Vec<f64> = each.iter().map(|c| c.all_hours).collect();
    Some(LooksCost {
        money: Spared::new(last.money, mean(&money)),
        hours: Spared::new(last.all_hours, mean(&hours)),
    })
}
