//! The claim that the catch falls by no more than a margin.

use super::{Kind, number, target};
use crate::state::Model;
use crate::words::question::{self as shared, no_worse as words};
use engine::scenario::{Effect, NoWorse, Scenario};
use leptos::prelude::*;

pub(super) const KIND: Kind = Kind {
    key: "no_worse",
    label: words::LABEL,
    begin,
    part,
    aside: words::ASIDE,
};

fn begin(s: &mut Scenario) {
    s.question.effect = Effect::NoWorse(NoWorse {
        margin_percent: 30.0,
        over_years: 10.0,
        change_percent: 0.0,
    });
}

fn part(model: Model) -> AnyView {
    view! {
        {shared::OF}
        {target(model)}
        {words::THAN}
        {number(model, "question.effect.no_worse.margin_percent", words::MARGIN, 1.0)}
        {shared::PER_CENT_OVER}
        {number(model, "question.effect.no_worse.over_years", words::YEARS, 1.0)}
        {words::IN_TRUTH}
        {number(model, "question.effect.no_worse.change_percent", words::FALL, 1.0)}
        {words::CLAIM}
        {number(model, "question.significance", shared::FALSE_CLAIMS, 100.0)}
        {words::RIGHTLY}
        {number(model, "question.wanted_power", shared::WANTED_POWER, 100.0)}
        {shared::PER_CENT_END}
    }
    .into_any()
}
