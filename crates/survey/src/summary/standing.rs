//! How a plan stands while its replicates are still coming in.

use super::answer::Test;
use crate::closed_form;
use crate::evaluate::Replicate;
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
/// without, each in order of their numbers.
pub fn standing(
    scenario: &Checked,
    plan: &Plan,
    change: &[&Replicate],
    still: &[&Replicate],
) -> Standing {
    let test = Test::new(scenario, closed_form::degrees_of_freedom(scenario, plan));
    let both = change.iter().zip(still);
    let hits = both.clone().filter(|(c, _)| test.rejects(c.estimate, c.se));
    Standing {
        hits: hits.count() as u64,
        n: both.count() as u64,
        extra_se: 0.0,
    }
}
