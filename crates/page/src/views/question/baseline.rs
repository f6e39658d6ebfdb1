//! The catch known with a stated precision.

use super::{Kind, number, target};
use crate::state::Model;
use engine::scenario::{Baseline, Effect, Scenario};
use leptos::prelude::*;

pub(super) const KIND: Kind = Kind {
    key: "baseline",
    label: "Know how many are caught",
    begin,
    part,
    aside: "The mean catch of a trap-week over all sites of the region in the years trapped, good or bad as they are. Power is the share of surveys whose interval is as narrow as wanted; misses are intervals that do not hold the truth.",
};

fn begin(s: &mut Scenario) {
    s.question.effect = Effect::Baseline(Baseline {
        within_percent: 25.0,
    });
}

fn part(model: Model) -> AnyView {
    view! {
        " of "
        {target(model)}
        " per trap-week, to within "
        {number(model, "question.effect.baseline.within_percent", "half-width of the interval in per cent of the mean", 1.0)}
        " % of the mean, missing the truth in "
        {number(model, "question.significance", "accepted intervals that miss the truth, in per cent", 100.0)}
        " % of surveys, and as precise as that in "
        {number(model, "question.wanted_power", "wanted power in per cent", 100.0)}
        " %."
    }
    .into_any()
}
