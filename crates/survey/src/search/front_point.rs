//! The frontier of toll and power as it is told, and how far closed forms can be trusted.

use crate::cost::CostTotals;
use crate::scenario::Plan;
use crate::summary::Share;
use serde::Serialize;

/// A plan of the frontier.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FrontPoint {
    /// The plan.
    pub plan: Plan,
    /// Its power by closed form.
    pub preview_power: f64,
    /// Animals killed over all years, expected.
    pub expected_toll: f64,
    /// The same with what each group counts.
    pub weighted_toll: f64,
    /// Its expected costs; `null` when the scenario states none.
    pub cost: Option<CostTotals>,
    /// Its simulated power; `null` when it was not simulated.
    pub power: Option<Share>,
    /// Its simulated false alarms.
    pub false_alarm: Option<Share>,
    /// Whether it is the least plan.
    pub least: bool,
}

/// How far the closed forms can be trusted to have seen the least plan.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Missed {
    /// The most by which a simulated power exceeded its closed form, over all plans simulated in full; 0 when none did.
    pub most_too_low: f64,
    /// How many plans that is over.
    pub plans: usize,
    /// No plan of the frontier with a smaller weighted toll than this can answer, unless the closed form is further off for
    /// it than for any plan simulated.
    pub weighted_toll: f64,
    /// Animals killed by the plan whose weighted toll that is, expected.
    pub expected_toll: f64,
}
