//! The proof of a plan found: what it is held against.

use survey::scenario::Plan;
use survey::search::{Candidate, Neighbour};

/// What the plan found is held against, once known.
#[derive(Clone, Debug)]
pub(crate) struct Proof {
    /// The plan.
    pub plan: Candidate,
    /// The plans with one number smaller.
    pub neighbours: Vec<Neighbour>,
    /// The surest plans of other years and exposures that kill less; `None` as long as they are not known.
    pub challengers: Option<Vec<Candidate>>,
    /// Whether they have been asked for.
    pub asked: bool,
}

impl Proof {
    /// Every plan that could take the found one's place.
    pub fn rivals(&self) -> Vec<Plan> {
        let near = self.neighbours.iter().filter(|n| n.within_limits);
        let near = near.map(|n| n.plan.clone());
        let far = self.challengers.iter().flatten().map(|c| c.plan.clone());
        near.chain(far).collect()
    }
}
