//! The least plan: closed forms over all plans, then simulation along their frontier.
//!
//! The frontier is sorted by toll and its closed-form power rises; the simulated power is taken to rise with it up to
//! Monte Carlo error. The search brackets the first plan whose simulated power reaches the wanted one, and shows the
//! next smaller plans beside it. A probed plan is raced: its simulation stops as soon as it is sure on which side of the
//! wanted power it lies, wrongly in at most [`RACE_ERROR`] of plans; the least plan itself is simulated in full.

mod around;
mod bracket;
mod shortfall;
mod stopped;

pub use shortfall::{Shortfall, shortfall};
pub use stopped::{Side, Stopped};

pub(crate) use around::{half_exposure, undecided_toll};
pub(crate) use bracket::Bracket;

use serde::Serialize;
use survey::cost::CostTotals;
use survey::scenario::Plan;
use survey::summary::{Answer, Fits, Share, TestTold, Toll};

/// Smaller plans shown beside the least one.
pub const SMALLER_SHOWN: usize = 3;

/// Largest chance that the simulation of one plan is stopped on the wrong side of the wanted power.
pub const RACE_ERROR: f64 = 1e-3;

/// A plan with what it achieves and kills.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PlanAnswer {
    /// The plan.
    pub plan: Plan,
    /// The test behind its power and false alarms.
    pub test: TestTold,
    /// Its simulated power.
    pub power: Share,
    /// Its simulated false alarms.
    pub false_alarm: Share,
    /// How its fits ended.
    pub fits: Fits,
    /// What it kills.
    pub toll: Option<Toll>,
    /// What it costs over all years, expected; `null` when the scenario states no costs.
    pub cost: Option<CostTotals>,
    /// How its simulation was stopped early; `null` when all replicates were simulated. The intervals of a stopped plan
    /// hold although its own results decided when to stop.
    pub stopped: Option<Stopped>,
}

impl From<Answer> for PlanAnswer {
    fn from(a: Answer) -> Self {
        Self {
            plan: a.plan,
            test: a.test,
            power: a.power,
            false_alarm: a.false_alarm,
            fits: a.fits,
            toll: a.toll,
            cost: a.cost.map(|c| c.total),
            stopped: None,
        }
    }
}

/// The least plan at half its exposure: what shorter trapping would kill and find, not simulated. It takes dispersion k
/// to stay as it is.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct HalfExposure {
    /// Days a week.
    pub exposure_days: f64,
    /// Power by closed form.
    pub preview_power: f64,
    /// Power of the least plan itself by closed form, to compare.
    pub preview_power_of_least: f64,
    /// Animals killed, all years, expected.
    pub expected_toll: f64,
}

/// The result of the search.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Least {
    /// The least plan, or `null` when no plan within the limits answers.
    pub plan: Option<Plan>,
    /// The test behind its power and false alarms.
    pub test: Option<TestTold>,
    /// Its power.
    pub power: Option<Share>,
    /// Its false alarms.
    pub false_alarm: Option<Share>,
    /// How its fits ended.
    pub fits: Option<Fits>,
    /// What it kills.
    pub toll: Option<Toll>,
    /// What it costs over all years, expected; `null` when the scenario states no costs.
    pub cost: Option<CostTotals>,
    /// The next smaller plans of the frontier, largest first, with their power.
    pub smaller: Vec<PlanAnswer>,
    /// When no plan answers: how far the surest one gets and what would help.
    pub shortfall: Option<Shortfall>,
    /// Smallest and largest expected toll of the frontier's plans that these simulated surveys cannot tell from the
    /// wanted power: more replicates narrow it.
    pub undecided_toll: Option<(f64, f64)>,
    /// The least plan at half its exposure, by closed form.
    pub half_exposure: Option<HalfExposure>,
    /// Plans looked at by closed form.
    pub screened: usize,
    /// Plans simulated.
    pub simulated: usize,
    /// Those of them whose simulation was stopped early.
    pub stopped: usize,
    /// Surveys simulated that the answer uses, both worlds and all plans together.
    pub surveys: u64,
}
