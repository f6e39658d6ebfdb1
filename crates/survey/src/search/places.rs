//! Which of the places there are a plan takes, along a gradient.
//!
//! Sites leave one by one, from all of them: next the one without which the plan's closed form stays surest (the last of
//! the list among equals). The order in which they left, turned round, is the one in which they are taken, so that a
//! smaller plan's sites are among those of a larger one. It is worked out for the plan's own traps, weeks and years with
//! all sites in every year.

use crate::closed_form::plan_delta;
use crate::scenario::{Checked, Effect, Place, Plan};
use std::borrow::Cow;

/// The places of the limits in the order in which they are taken; as they are listed where there is no gradient.
pub fn order_of_places(scenario: &Checked) -> Vec<Place> {
    let mut left = scenario.limits.places.clone();
    if !matches!(scenario.question.effect, Effect::RangeShift(_)) {
        return left;
    }
    let whole = Plan {
        revisit: None,
        gap_years: Vec::new(),
        ..scenario.plan.clone()
    };
    let fewest = scenario.fewest_sites() as usize;
    let mut gone = Vec::new();
    while left.len() > fewest {
        let mut best = (f64::NEG_INFINITY, left.len() - 1);
        for i in (0..left.len()).rev() {
            let mut others = left.clone();
            others.remove(i);
            let plan = Plan {
                sites: others.len() as u32,
                ..whole.clone()
            };
            let delta = plan_delta(scenario, &plan.at_places(&others)).abs();
            // Beyond what rounding does.
            if delta > best.0 * (1.0 + 1e-12) {
                best = (delta, i);
            }
        }
        gone.push(left.remove(best.1));
    }
    left.extend(gone.into_iter().rev());
    left
}

/// The scenario whose plan's sites stand at the places of the limits; as it is where they list none.
pub(super) fn placed(scenario: &Checked) -> Cow<'_, Checked> {
    if scenario.limits.places.is_empty() {
        return Cow::Borrowed(scenario);
    }
    let mut other = scenario.as_written().clone();
    other.plan = other.plan.at_places(&order_of_places(scenario));
    other.limits.places.clear();
    // The check of the limits has seen that it stands.
    other.check().map_or(Cow::Borrowed(scenario), Cow::Owned)
}
