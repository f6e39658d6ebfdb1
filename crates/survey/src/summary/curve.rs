//! Power and toll along one axis.

use super::answer::Judged;
use super::{Evidence, Fits, PreviewAnswer, Share, TestTold, Toll};
use crate::axis::Axis;
use crate::cost::{CostTotals, cost_totals};
use crate::scenario::{Checked, Plan};
use serde::Serialize;

/// One plan of the curve.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Point {
    /// The number on the axis, under the axis' own key.
    #[serde(flatten)]
    pub at: std::collections::BTreeMap<&'static str, u32>,
    /// The test behind power and false alarms.
    pub test: TestTold,
    /// Power.
    pub power: Share,
    /// False alarms.
    pub false_alarm: Share,
    /// Closed forms.
    pub preview: PreviewAnswer,
    /// How the fits ended.
    pub fits: Fits,
    /// What the plan kills.
    pub toll: Option<Toll>,
    /// What the plan costs over all years, expected; `null` when the scenario states no costs.
    pub cost: Option<CostTotals>,
    /// Digest of the results.
    pub result_digest: String,
}

impl Point {
    /// What a curve tells of a plan: of its [answer](super::summarise) the part that is looked at time and again while
    /// the surveys come in. The toll year by year comes when they are complete. `preview` is what closed forms say of
    /// the plan.
    pub fn new(
        scenario: &Checked,
        plan: &Plan,
        axis: Axis,
        preview: PreviewAnswer,
        evidence: &Evidence,
    ) -> Self {
        let judged = Judged::of(scenario, plan, evidence);
        Self {
            at: [(axis.key(), axis.of(plan))].into(),
            test: judged.test(scenario),
            power: judged.power(),
            false_alarm: judged.false_alarm(),
            preview,
            fits: judged.fits(),
            toll: Toll::of(scenario, plan, evidence, evidence.complete),
            cost: cost_totals(scenario, plan),
            result_digest: evidence.digest(),
        }
    }

    /// The number on the axis.
    pub fn value(&self) -> u32 {
        self.at.values().next().copied().unwrap_or(0)
    }
}

/// A whole curve.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Curve {
    /// What it runs over.
    pub over: Axis,
    /// Its points in rising order.
    pub points: Vec<Point>,
}
