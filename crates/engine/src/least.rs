//! The least plan: closed forms over all plans, then simulation along their frontier and around the plan found.
//!
//! The frontier is sorted by toll and its closed-form power rises; the simulated power is taken to rise with it up to
//! Monte Carlo error. The search brackets the first plan whose simulated power reaches the wanted one. A probed plan is
//! raced: its simulation stops as soon as it is sure on which side of the wanted power it lies, wrongly in at most
//! [`RACE_ERROR`] of plans; the least plan itself is simulated in full. Then it is put to the proof: the next smaller
//! plans of the frontier, those with one site, trap, week, day or year fewer or another pattern or scheme, and the surest
//! plans of other slices that kill less; one that answers after all takes its place. Last, points of the whole frontier are
//! simulated with fewer surveys.

mod around;
mod bracket;
mod front;
mod proof;
mod shortfall;
mod stopped;

pub use shortfall::{Shortfall, shortfall};
pub use stopped::{Side, Stopped};
pub use survey::search::{FrontPoint, Missed, Relaxed};

pub(crate) use around::{half_exposure, stated, undecided_toll};
pub(crate) use bracket::Bracket;
pub(crate) use front::{front, missed, thrifty, thrifty_to_confirm, to_confirm};
pub(crate) use proof::Proof;

use serde::Serialize;
use survey::closed_form::expected_toll;
use survey::cost::CostTotals;
use survey::scenario::{Checked, Plan};
use survey::search::scenario_of;
use survey::summary::{Answer, Fits, Share, Significant, SmallestChange, TestTold, Toll};

/// Smaller plans of the frontier shown beside the least one.
pub const SMALLER_SHOWN: usize = 3;

/// Largest chance that the simulation of one plan is stopped on the wrong side of the wanted power.
pub const RACE_ERROR: f64 = 1e-3;

/// Most plans of other slices (years, exposures, kinds of trap, patterns, schemes) that the plan found is held against.
pub const CHALLENGERS: usize = 6;

/// Surveys of each world of the frontier's points that nothing but the picture asks for.
pub const FRONT_REPLICATES: u64 = 250;

/// A plan with what it achieves and kills.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PlanAnswer {
    /// The plan.
    pub plan: Plan,
    /// Which number is one step smaller than the least plan's: `sites`, `traps`, `weeks`, `exposure` or `years`;
    /// `revisit` for another pattern of revisits and `scheme` for another scheme of visits that kill less, `frontier` for
    /// the next smaller plans of the frontier, `challenger` for those of other years, exposures, kinds of trap, patterns
    /// and schemes.
    pub fewer: &'static str,
    /// The test behind its power and false alarms.
    pub test: TestTold,
    /// Its simulated power.
    pub power: Share,
    /// Its simulated false alarms.
    pub false_alarm: Share,
    /// The smallest change it finds with the wanted power.
    pub smallest_change: Option<SmallestChange>,
    /// What its significant results are worth: share with the wrong sign, exaggeration.
    pub significant: Significant,
    /// How its fits ended.
    pub fits: Fits,
    /// What it kills.
    pub toll: Option<Toll>,
    /// Animals it spares against the least plan, expected over all years; `null` when there is no least plan.
    pub spared: Option<f64>,
    /// Whether it is one the search may choose. One that is not, and answers, is told: its number may be listed in the
    /// limits.
    pub within_limits: bool,
    /// What it costs over all years, expected; `null` when the scenario states no costs.
    pub cost: Option<CostTotals>,
    /// How its simulation was stopped early; `null` when all replicates were simulated. The intervals of a stopped plan
    /// hold although its own results decided when to stop.
    pub stopped: Option<Stopped>,
}

impl PlanAnswer {
    pub(crate) fn of(a: Answer, fewer: &'static str) -> Self {
        Self {
            plan: a.plan,
            fewer,
            test: a.test,
            power: a.power,
            false_alarm: a.false_alarm,
            smallest_change: a.smallest_change,
            significant: a.significant,
            fits: a.fits,
            toll: a.toll,
            spared: None,
            within_limits: true,
            cost: a.cost.map(|c| c.total),
            stopped: None,
        }
    }

    /// With what it spares against the least plan.
    pub(crate) fn against(mut self, scenario: &Checked, least: &Plan) -> Self {
        let toll = |plan| expected_toll(&scenario_of(scenario, plan), plan).total();
        self.spared = Some(toll(least) - toll(&self.plan));
        self
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
    /// The question's key, as in the scenario.
    pub question: &'static str,
    /// Whether the search is over; what is told before is what was found so far.
    pub complete: bool,
    /// The least plan, or `null` when no plan within the limits answers.
    pub plan: Option<Plan>,
    /// The test behind its power and false alarms.
    pub test: Option<TestTold>,
    /// Its power.
    pub power: Option<Share>,
    /// Its false alarms.
    pub false_alarm: Option<Share>,
    /// The smallest change it finds with the wanted power.
    pub smallest_change: Option<SmallestChange>,
    /// What its significant results are worth.
    pub significant: Option<Significant>,
    /// How its fits ended.
    pub fits: Option<Fits>,
    /// What it kills.
    pub toll: Option<Toll>,
    /// What it costs over all years, expected; `null` when the scenario states no costs.
    pub cost: Option<CostTotals>,
    /// Why not fewer: the next smaller plans in every direction, then those of the frontier and of other years and
    /// exposures, each with its power.
    pub smaller: Vec<PlanAnswer>,
    /// The frontier of toll and power, smallest toll first: as many plans as a picture shows, those simulated among them.
    pub frontier: Vec<FrontPoint>,
    /// Plans that reach the wanted power by closed form and cost less money for a larger toll, down to the cheapest;
    /// empty without costs.
    pub thrifty: Vec<FrontPoint>,
    /// The limits that bind: giving way in this one alone leads to a plan that kills less, or to one that answers.
    pub binding_limits: Vec<Relaxed>,
    /// What the closed forms may have missed; `null` until the search is over.
    pub missed: Option<Missed>,
    /// When no plan answers: how far the surest one gets and what would help.
    pub shortfall: Option<Shortfall>,
    /// Smallest and largest expected toll of the frontier's plans that these simulated surveys cannot tell from the
    /// wanted power: more replicates narrow it.
    pub undecided_toll: Option<(f64, f64)>,
    /// The least plan at half its exposure, by closed form; `null` where the search has tried exposures.
    pub half_exposure: Option<HalfExposure>,
    /// Plans looked at by closed form.
    pub screened: usize,
    /// How many of them no cap of the limits forbids.
    pub allowed: usize,
    /// Plans simulated.
    pub simulated: usize,
    /// Those of them whose simulation was stopped early.
    pub stopped: usize,
    /// Surveys simulated that the answer uses, both worlds and all plans together.
    pub surveys: u64,
}
