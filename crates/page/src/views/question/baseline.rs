//! The catch known with a stated precision.

use super::{Kind, number, target};
use crate::state::Model;
use crate::words::question::{self as shared, baseline as words};
use engine::scenario::{Baseline, Effect, Scenario};
use leptos::prelude::*;

pub(super) const KIND: Kind = Kind {
    key: "baseline",
    label: words::LABEL,
    begin,
    part,
    aside: words::ASIDE,
};

fn begin(s: &mut Scenario) {
    s.question.effect = Effect::Baseline(Baseline {
        within_percent: 25.0,
    });
}

fn part(model: Model) -> AnyView {
    view! {
        {shared::OF}
        {target(model)}
        {words::TO_WITHIN}
        {number(model, "question.effect.baseline.within_percent", words::WITHIN, 1.0)}
        {words::MISSING}
        {number(model, "question.significance", words::MISSES, 100.0)}
        {words::AS_PRECISE}
        {number(model, "question.wanted_power", shared::WANTED_POWER, 100.0)}
        {shared::PER_CENT_END}
    }
    .into_any()
}
