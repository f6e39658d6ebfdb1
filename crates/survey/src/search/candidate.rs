//! A plan of the lattice with what closed forms say of it.

use super::lattice::scenario_of;
use crate::closed_form::{self, ExpectedToll, expected_toll};
use crate::cost::{CostTotals, cost_totals};
use crate::scenario::{Checked, Plan};
use serde::{Deserialize, Serialize};

/// A plan that stands out among those of the lattice.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Candidate {
    /// The plan.
    pub plan: Plan,
    /// Its power by closed form.
    pub preview: f64,
    /// Its noncentrality over the one that gives the wanted power to a t test: what plans are ranked by. It leaves out
    /// what a drift of the traps, and a standard error that knows nothing of departures, do to the test, and what a
    /// calibrated test gains where years are alike.
    pub margin: f64,
    /// Its expected toll.
    pub toll: ExpectedToll,
    /// Its expected toll with the weights of the limits: what plans are ranked by.
    pub weighted_toll: f64,
    /// Its expected costs; `null` when the scenario states none.
    pub cost: Option<CostTotals>,
}

impl Candidate {
    /// The candidate of any plan.
    pub fn alone(scenario: &Checked, plan: &Plan) -> Self {
        let scenario = &*scenario_of(scenario, plan);
        let df = closed_form::degrees_of_freedom(scenario, plan);
        let wanted = closed_form::wanted_delta(scenario, df).max(1e-9);
        let margin = closed_form::plan_delta(scenario, plan) / wanted;
        Self::new(scenario, plan.clone(), margin)
    }

    /// The candidate of a plan whose margin is known.
    pub(super) fn new(scenario: &Checked, plan: Plan, margin: f64) -> Self {
        let toll = expected_toll(scenario, &plan);
        Self {
            preview: if closed_form::is_plain(scenario) {
                let df = closed_form::degrees_of_freedom(scenario, &plan);
                let delta = margin * closed_form::wanted_delta(scenario, df);
                closed_form::power_at(scenario, df, delta)
            } else {
                closed_form::power_at_stated(scenario, &plan)
            },
            margin,
            cost: cost_totals(scenario, &plan),
            weighted_toll: weighted(&toll, &scenario.toll_weights()),
            toll,
            plan,
        }
    }
}

/// A toll with what each group counts.
pub fn weighted(toll: &ExpectedToll, weights: &[f64]) -> f64 {
    let each = std::iter::once(toll.target).chain(toll.bycatch.iter().copied());
    each.zip(weights).map(|(t, w)| t * w).sum()
}
