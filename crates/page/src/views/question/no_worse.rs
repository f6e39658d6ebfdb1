//! The claim that the catch falls by no more than a margin.

use super::{Kind, number, target};
use crate::state::Model;
use engine::scenario::{Effect, NoWorse, Scenario};
use leptos::prelude::*;

pub(super) const KIND: Kind = Kind {
    key: "no_worse",
    label: "Show that there is no worse fall",
    begin,
    part,
    aside: "A test of non-inferiority. To find no significant fall is not this claim: a poor survey finds none either. Written afterwards it would read: “with the stated confidence, the fall is less than the margin”.",
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
        " of "
        {target(model)}
        " than "
        {number(model, "question.effect.no_worse.margin_percent", "margin: fall in per cent", 1.0)}
        " % over "
        {number(model, "question.effect.no_worse.over_years", "years of the margin", 1.0)}
        " years, when in truth they fall by "
        {number(model, "question.effect.no_worse.change_percent", "fall believed in, in per cent", 1.0)}
        " %, making the claim falsely in "
        {number(model, "question.significance", "accepted false claims in per cent", 100.0)}
        " % of surveys when the fall is just the margin, and rightly in "
        {number(model, "question.wanted_power", "wanted power in per cent", 100.0)}
        " %."
    }
    .into_any()
}
