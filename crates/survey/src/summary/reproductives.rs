//! Reproductive animals among those killed.

use crate::closed_form::reproductive_shares;
use crate::scenario::{Checked, Plan};
use serde::{Deserialize, Serialize};

/// Reproductive animals killed over all years when the stated change happens: the mean kill of each year times the share
/// that its open weeks are expected to catch. Of those groups alone whose share is given.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ReproductiveToll {
    /// Of the target; `null` when its share is not given.
    pub target: Option<f64>,
    /// Of other species that are asked about, where it is given.
    pub others: Vec<ReproductivesOfGroup>,
    /// All of these.
    pub total: f64,
}

/// Of one group.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct ReproductivesOfGroup {
    /// The group.
    pub group: String,
    /// Mean number killed.
    pub mean: f64,
}

impl ReproductiveToll {
    /// From the mean kill of each year: of the target, then of each group besides it. `None` when nothing is given.
    pub(super) fn of(scenario: &Checked, plan: &Plan, killed: &[Vec<f64>]) -> Option<Self> {
        let shares = reproductive_shares(scenario, plan);
        let mut each = shares.iter().zip(killed).map(|(shares, killed)| {
            let shares = shares.as_ref()?;
            Some(shares.iter().zip(killed).map(|(s, k)| s * k).sum::<f64>())
        });
        let target = each.next().flatten();
        let besides = scenario.premises.killed_besides();
        let others: Vec<ReproductivesOfGroup> = besides
            .iter()
            .zip(each)
            .filter_map(|(k, mean)| {
                let group = k.group.name.clone();
                Some(ReproductivesOfGroup { group, mean: mean? })
            })
            .collect();
        (target.is_some() || !others.is_empty()).then(|| Self {
            total: target.unwrap_or(0.0) + others.iter().map(|o| o.mean).sum::<f64>(),
            target,
            others,
        })
    }
}
