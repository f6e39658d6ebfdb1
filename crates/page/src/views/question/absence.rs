//! The claim that the target is not there.

use super::{Kind, number, target};
use crate::state::Model;
use crate::words::question::{self as shared, absence as words};
use engine::scenario::{Absence, Effect, Scenario};
use leptos::prelude::*;

pub(super) const KIND: Kind = Kind {
    key: "absence",
    label: words::LABEL,
    begin,
    part,
    aside: words::ASIDE,
};

fn begin(s: &mut Scenario) {
    let usual = s.premises.target.catch_per_trap_week.value;
    s.question.effect = Effect::Absence(Absence {
        // A hundredth of the usual catch.
        catch_per_trap_week: (usual / 100.0).clamp(0.000_001, 100_000.0),
    });
}

fn part(model: Model) -> AnyView {
    view! {
        {shared::OF}
        {target(model)}
        {words::AT_DENSITY}
        {number(model, "question.effect.absence.catch_per_trap_week", words::DENSITY, 1.0)}
        {words::WITH_CONFIDENCE}
        {number(model, "question.wanted_power", words::CONFIDENCE, 100.0)}
        {shared::PER_CENT_END}
    }
    .into_any()
}
