//! Two groups of sites: a difference, and a change of the one against the other.

use super::{Kind, direction, errors, number, target};
use crate::state::Model;
use engine::scenario::{BeforeAfter, Difference, Effect, Groups, Scenario};
use leptos::prelude::*;

pub(super) const DIFFERENCE: Kind = Kind {
    key: "difference",
    label: "Detect a difference between two groups of sites",
    begin: |s| {
        s.question.effect = Effect::Difference(Difference {
            difference_percent: 50.0,
        });
        divide(s, 0);
    },
    part: difference,
    aside: "Treated are the sites of either group: mown late, with a flower strip, not sprayed. Sites that are not divided by lot may differ for other reasons than the treatment.",
};

pub(super) const BEFORE_AFTER: Kind = Kind {
    key: "before_after",
    label: "Detect what a treatment changes, before and after, with control sites",
    begin: |s| {
        s.question.effect = Effect::BeforeAfter(BeforeAfter {
            change_percent: 50.0,
        });
        divide(s, (s.plan.years / 2).max(1));
    },
    part: before_after,
    aside: "The change of the treated sites against that of the control sites: what all sites have in common, good and bad years above all, drops out.",
};

fn divide(s: &mut Scenario, before_years: u32) {
    s.plan.groups = Some(Groups {
        treated_share: 0.5,
        paired: false,
        before_years,
    });
}

fn difference(model: Model) -> AnyView {
    view! {
        ": treated sites catch "
        {number(model, "question.effect.difference.difference_percent", "difference in per cent, below 0 for fewer", 1.0)}
        " % more (below 0: fewer) "
        {target(model)}
        " than the others, where "
        {direction(model, "a difference either way counts", "only one this way counts")}
        ","
        {errors(model)}
    }
    .into_any()
}

fn before_after(model: Model) -> AnyView {
    view! {
        ": treated sites catch "
        {number(model, "question.effect.before_after.change_percent", "change in per cent, below 0 for fewer", 1.0)}
        " % more (below 0: fewer) "
        {target(model)}
        " than without the treatment, which begins after "
        {number(model, "plan.groups.before_years", "years before the treatment", 1.0)}
        " years, where "
        {direction(model, "a change either way counts", "only one this way counts")}
        ","
        {errors(model)}
    }
    .into_any()
}
