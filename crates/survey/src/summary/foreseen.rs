//! What an answer says of a plan that hangs on none of its simulated surveys.

use super::answer::{PreviewAnswer, told};
use super::occupied::OccupancyTold;
use super::range_shift::RangeShiftTold;
use crate::closed_form;
use crate::cost::{PlanCost, expected_cost};
use crate::scenario::{Checked, Plan};

/// What is said of a plan whatever its surveys come to: worked out once for all the answers given while they come in.
#[derive(Clone, Debug)]
pub struct Foreseen {
    pub(super) preview: PreviewAnswer,
    pub(super) sites_by_rates: Option<f64>,
    /// Without what its surveys say.
    pub(super) range_shift: Option<RangeShiftTold>,
    pub(super) occupancy: Option<OccupancyTold>,
    pub(super) cost: Option<PlanCost>,
}

impl Foreseen {
    /// Of a plan, whose preview is known already.
    pub fn of(scenario: &Checked, plan: &Plan, preview: PreviewAnswer) -> Self {
        Self {
            preview,
            sites_by_rates: closed_form::sites_by_rates(scenario, plan),
            range_shift: RangeShiftTold::of(scenario, plan),
            occupancy: OccupancyTold::of(scenario, plan),
            cost: expected_cost(scenario, plan),
        }
    }
}

/// What closed forms say of a plan.
pub fn foresee(scenario: &Checked, plan: &Plan) -> PreviewAnswer {
    told(scenario, &closed_form::preview(scenario, plan))
}
