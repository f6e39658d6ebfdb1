//! A fall of the catch.

use super::{Kind, direction, errors, number, target};
use crate::state::Model;
use engine::scenario::{Decline, Effect, Scenario};
use leptos::prelude::*;

pub(super) const KIND: Kind = Kind {
    key: "decline",
    label: "Detect a fall",
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

fn part(model: Model) -> AnyView {
    let yearly = move || {
        model.scenario.with(|s| match &s.question.effect {
            Effect::Decline(d) => paper::number::decimals(d.percent_a_year(), 2),
            _ => String::new(),
        })
    };
    view! {
        " of "
        {number(model, "question.effect.decline.change_percent", "fall in per cent", 1.0)}
        " % in "
        {target(model)}
        " over "
        {number(model, "question.effect.decline.over_years", "years over which it falls", 1.0)}
        " years (" {yearly} " % a year), where "
        {direction(model, "a change either way counts", "only a fall counts")}
        ","
        {errors(model)}
    }
    .into_any()
}
