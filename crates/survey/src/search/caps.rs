//! What the limits forbid whatever it tells: kills of groups, money, hours, days with travel.

use crate::closed_form::expected_toll;
use crate::cost::cost_totals;
use crate::scenario::{Checked, Plan};

/// How much above a cap is rounding.
const ROUNDING: f64 = 1e-9;

/// The caps on the tolls of groups.
pub(super) struct Caps(Vec<(Vec<usize>, f64)>);

impl Caps {
    pub fn of(scenario: &Checked) -> Self {
        let each = scenario.limits.toll.iter();
        Self(
            each.map(|t| (scenario.tolls_of(t.group.as_deref(), t.class), t.most))
                .collect(),
        )
    }

    /// Whether a toll, the target's first and then the groups', stays within them.
    pub fn hold(&self, tolls: &[f64]) -> bool {
        self.0.iter().all(|(places, most)| {
            places.iter().map(|&p| tolls[p]).sum::<f64>() <= most * (1.0 + ROUNDING)
        })
    }
}

/// Whether a plan's expected toll and costs stay within the caps of the limits.
pub fn within_caps(scenario: &Checked, plan: &Plan) -> bool {
    let toll = expected_toll(scenario, plan);
    let each: Vec<f64> = std::iter::once(toll.target).chain(toll.bycatch).collect();
    let afforded = cost_totals(scenario, plan).is_none_or(|c| scenario.limits.affords(&c));
    afforded && Caps::of(scenario).hold(&each)
}
