//! A fall of the catch.

use super::{Kind, direction, errors, number, target};
use crate::state::Model;
use crate::words::question::{self as shared, decline as words};
use engine::scenario::{Decline, Effect, Scenario};
use leptos::prelude::*;

pub(super) const KIND: Kind = Kind {
    key: "decline",
    label: words::LABEL,
    begin,
    part,
    aside: "",
};

fn begin(s: &mut Scenario) {
    s.question.effect = Effect::Decline(Decline {
        change_percent: 30.0,
        over_years: 10.0,
    });
}

pub(super) fn part(model: Model) -> AnyView {
    let yearly = move || {
        model.scenario.with(|s| match &s.question.effect {
            Effect::Decline(d) => paper::number::decimals(d.percent_a_year(), 2),
            _ => String::new(),
        })
    };
    view! {
        {shared::OF}
        {number(model, "question.effect.decline.change_percent", words::CHANGE, 1.0)}
        {words::PER_CENT_IN}
        {target(model)}
        {words::OVER}
        {number(model, "question.effect.decline.over_years", words::YEARS, 1.0)}
        {words::YEARS_AT} {yearly} {words::A_YEAR_WHERE}
        {direction(model, shared::EITHER_CHANGE, words::ONLY_A_FALL)}
        ","
        {errors(model)}
    }
    .into_any()
}
