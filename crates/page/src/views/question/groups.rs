//! Two groups of sites: a difference, and a change of the one against the other.

use super::{Kind, direction, errors, number, target};
use crate::state::Model;
use crate::words::question::{self as shared, groups as words};
use engine::scenario::{BeforeAfter, Difference, Effect, Groups, Scenario};
use leptos::prelude::*;

pub(super) const DIFFERENCE: Kind = Kind {
    key: "difference",
    label: words::DIFFERENCE,
    begin: |s| {
        s.question.effect = Effect::Difference(Difference {
            difference_percent: 50.0,
        });
        divide(s, 0);
    },
    part: difference,
    aside: words::DIFFERENCE_ASIDE,
};

pub(super) const BEFORE_AFTER: Kind = Kind {
    key: "before_after",
    label: words::BEFORE_AFTER,
    begin: |s| {
        s.question.effect = Effect::BeforeAfter(BeforeAfter {
            change_percent: 50.0,
        });
        divide(s, (s.plan.years / 2).max(1));
    },
    part: before_after,
    aside: words::BEFORE_AFTER_ASIDE,
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
        {words::TREATED_CATCH}
        {number(model, "question.effect.difference.difference_percent", words::DIFFERENCE_NUMBER, 1.0)}
        {words::PER_CENT_MORE}
        {target(model)}
        {words::THAN_OTHERS}
        {direction(model, words::EITHER_DIFFERENCE, words::ONLY_THIS_WAY)}
        ","
        {errors(model)}
    }
    .into_any()
}

fn before_after(model: Model) -> AnyView {
    view! {
        {words::TREATED_CATCH}
        {number(model, "question.effect.before_after.change_percent", words::CHANGE_NUMBER, 1.0)}
        {words::PER_CENT_MORE}
        {target(model)}
        {words::THAN_WITHOUT}
        {number(model, "plan.groups.before_years", words::YEARS_BEFORE, 1.0)}
        {shared::YEARS_WHERE}
        {direction(model, shared::EITHER_CHANGE, words::ONLY_THIS_WAY)}
        ","
        {errors(model)}
    }
    .into_any()
}
