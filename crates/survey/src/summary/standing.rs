//! How a plan stands while its replicates are still coming in.

use super::judge::{Judge, alternative};
use crate::evaluate::{Finding, Replicate};
use crate::scenario::{Checked, Plan};

/// Significant results so far: what a decision to stop is made from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Standing {
    /// Replicates of the world of change that are significant.
    pub hits: u64,
    /// Replicates counted in each world.
    pub n: u64,
    /// Standard error that the estimated critical value alone brings to the share; 0 when the reference distribution
    /// gives the critical value.
    pub extra_se: f64,
}

/// The standing after the replicates that both worlds have: `change` from the world of change, `still` from the one
/// without, each in order of their numbers. `None` as long as the planned test lacks nulls.
pub fn standing(
    scenario: &Checked,
    plan: &Plan,
    change: &[&Replicate],
    still: &[&Replicate],
) -> Option<Standing> {
    let both = change.len().min(still.len());
    let findings =
        |of: &[&Replicate]| -> Vec<Finding> { of[..both].iter().map(|r| r.finding).collect() };
    let (found, nulls) = (findings(change), findings(still));
    let (test, side) = (scenario.analysis.test, alternative(scenario));
    let judge = Judge::new(scenario, plan, test, side, &nulls, 0.0)?;
    Some(Standing {
        hits: judge.hits(&found, 0.0),
        n: both as u64,
        extra_se: judge.extra_se(&found),
    })
}
